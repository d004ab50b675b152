package content

import (
	"bytes"
	"io/fs"
	"path"
	"regexp"
	"sort"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/calc/diag"
)

var scheme = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9+.-]*):`)

// plainText is what a Text node says: entities and backslashes resolved, as a
// renderer would.
func plainText(t *ast.Text, src []byte) string {
	v := t.Segment.Value(src)
	if t.IsRaw() {
		return string(v)
	}
	return resolve(v)
}

func resolve(v []byte) string {
	v = util.UnescapePunctuations(v)
	v = util.ResolveNumericReferences(v)
	return string(util.ResolveEntityNames(v))
}

// readLink notes a link; where it leads is checked when all pages are read.
func (d *draft) readLink(n ast.Node) {
	l := &Link{Node: n}
	switch n := n.(type) {
	case *ast.Link:
		l.Pos = d.destination(n, n.Destination, n.Reference)
		if !d.refer(l.Pos, n.Reference, n.Destination, n.Title) {
			return
		}
		if len(n.Title) > 0 {
			if i, ok := d.titlePlace(n.Destination, n.Title); ok {
				d.noFigure(d.span(i, i+len(n.Title)))
			} else if bytes.Contains(n.Title, []byte("{=")) {
				d.list.Add(l.Pos, "figure-place", "a figure cannot stand in the title of a link")
			}
		}
		l.Target = resolve(n.Destination)
	case *ast.AutoLink:
		label := n.Label(d.page.File.Text)
		l.Target = string(n.URL(d.page.File.Text))
		if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(l.Target), "mailto:") {
			l.Target = "mailto:" + l.Target
		}
		l.Pos = d.span(n.Pos(), n.Pos()+1)
		if i, ok := place(d.page.File.Text, label); ok {
			l.Pos = d.span(i, i+len(label))
		}
	}
	d.page.Links = append(d.page.Links, l)
}

// destination is the place of a link's or picture's address.
func (d *draft) destination(n ast.Node, dest []byte, ref *ast.ReferenceLink) diag.Span {
	if i, ok := place(d.page.File.Text, dest); ok && (ref == nil || n.Pos() < 0) {
		return d.span(i, i+len(dest))
	}
	return d.span(n.Pos(), n.Pos()+1)
}

// titlePlace is where the title behind an address begins. ok is false for a
// title on another line than its address, or of a link by reference.
func (d *draft) titlePlace(dest, title []byte) (at int, ok bool) {
	src := d.page.File.Text
	at, ok = place(src, dest)
	if !ok {
		return 0, false
	}
	at += len(dest)
	for at < len(src) && strings.IndexByte("> \t", src[at]) >= 0 {
		at++
	}
	at++ // the quote or bracket
	return at, at <= len(src) && bytes.HasPrefix(src[at:], title)
}

// checkLink finds what a link leads to.
func (m *Manual) checkLink(d *draft, l *Link, byFile map[string]*draft, list *diag.List) {
	target := l.Target
	if strings.Contains(target, "{=") {
		list.Add(l.Pos, "figure-place", "a figure cannot stand in the address of a link")
		return
	}
	if s := scheme.FindStringSubmatch(target); s != nil {
		switch strings.ToLower(s[1]) {
		case "http", "https", "mailto":
		default:
			list.Add(l.Pos, "link", "links to %s: are not allowed", s[1]).
				Hint = "link to a page of the manual, or to an address with https: or mailto:"
		}
		return
	}
	file, anchor, hasAnchor := strings.Cut(target, "#")
	file, anchor = unpercent(file), unpercent(anchor)
	to := d
	if file != "" {
		if strings.HasPrefix(file, "/") {
			list.Add(l.Pos, "link", "a link of the manual does not begin with /").
				Hint = "write it from the page's folder, as in frame.md or ../tables/lamps.csv"
			return
		}
		name := path.Join(pagesDir, file)
		if strings.HasPrefix(name, "..") {
			list.Add(l.Pos, "link", "this link leads out of the manual")
			return
		}
		to = byFile[name]
		switch {
		case to != nil:
		case path.Dir(name) == pagesDir && strings.HasSuffix(name, ".md"):
			var names []string
			for n := range byFile {
				names = append(names, path.Base(n))
			}
			sort.Strings(names)
			list.Add(l.Pos, "link", "there is no page %s", path.Base(name)).Hint = didYouMean(path.Base(name), names)
			return
		default:
			l.Target = name
			if hasAnchor {
				list.Add(l.Pos, "link", "only a page has places to link to").Hint = "leave out #" + anchor
			}
			m.mustExist(name, l.Pos, "link", list)
			return
		}
	}
	l.Page, l.Anchor = to.page, anchor
	l.Target = to.path
	if !hasAnchor || to.broken {
		return
	}
	if _, ok := to.anchors[anchor]; !ok {
		ids := to.places()
		where := "this page"
		if to != d {
			where = to.path
		}
		e := list.Add(l.Pos, "link", "there is no place #%s on %s", anchor, where)
		if e.Hint = didYouMean(anchor, ids); e.Hint == "" && len(ids) > 0 {
			if len(ids) > 8 {
				ids = append(ids[:8], "…")
			}
			e.Hint = "its places are " + strings.Join(ids, ", ")
		}
	}
}

// places lists the ids of a page for a hint; none if they are too many to be
// looked through for each link that is wrong.
func (d *draft) places() []string {
	if len(d.anchors) > 1000 {
		return nil
	}
	return sortedKeys(d.anchors)
}

// mustExist reports a file of the manual that is not there.
func (m *Manual) mustExist(name string, at diag.Span, code string, list *diag.List) bool {
	if !fs.ValidPath(name) {
		list.Add(at, code, "%q is no path inside the manual", name)
		return false
	}
	info, err := fs.Stat(m.FS, name)
	switch {
	case err != nil:
		e := list.Add(at, code, "there is no file %s", name)
		e.Hint = m.nearFile(name)
		return false
	case info.IsDir():
		list.Add(at, code, "%s is a folder, not a file", name)
		return false
	}
	return true
}

// nearFile gives a hint for a path that leads nowhere: a file of a similar name
// in the same folder, or of the same name in another of the manual's folders.
// It is written as a page has to write it.
func (m *Manual) nearFile(name string) string {
	base := path.Base(name)
	found := ""
	if n := diag.Nearest(base, m.siblings(name)); n != "" {
		found = join(name, n)
	}
	for _, folder := range []string{picturesDir, tablesDir, "."} {
		other := path.Join(folder, base)
		if _, err := fs.Stat(m.FS, other); err == nil && other != name {
			found = other
			break
		}
	}
	if found == "" {
		return ""
	}
	if in, ok := strings.CutPrefix(found, pagesDir+"/"); ok {
		return "did you mean " + in + "?"
	}
	return "did you mean ../" + found + "?"
}

// join puts a file name into the folder of name.
func join(name, file string) string { return path.Join(path.Dir(name), file) }

// unpercent resolves %20 and the like (RFC 3986, section 2.1); what is no such
// triplet stays.
func unpercent(s string) string {
	if !strings.Contains(s, "%") {
		return s
	}
	const hex = "0123456789abcdef"
	var b bytes.Buffer
	for i := 0; i < len(s); i++ {
		if s[i] == '%' && i+2 < len(s) {
			h := strings.IndexByte(hex, s[i+1]|0x20)
			l := strings.IndexByte(hex, s[i+2]|0x20)
			if h >= 0 && l >= 0 {
				b.WriteByte(byte(h<<4 | l))
				i += 2
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}
