package build

import (
	"bytes"
	"html"
	"net/url"
	"path"
	"slices"
	"strings"

	"workings/calc/diag"
	"workings/content"
)

// A siteLink is a reference of a published page to something of the site.
type siteLink struct {
	attr   string // href, src …
	target string // as written
	path   string // the file it leads to
	anchor string
}

// A sitePage is what the audit needs of a published page. Its texts lie in the
// page itself as long as that is held.
type sitePage struct {
	ids    [][]byte // sorted
	double [][]byte // those that stand there again
	links  []rawLink
}

// A rawLink is a reference as it is written.
type rawLink struct {
	attr   string
	target []byte // "&" still as &amp;
}

// keep gives the texts a place of their own, so that the page may go, each
// link once.
func (p *sitePage) keep() {
	seen := make(map[string]bool, len(p.links))
	p.links = slices.Clip(slices.Clone(slices.DeleteFunc(p.links, func(l rawLink) bool {
		again := seen[string(l.target)]
		if !again {
			seen[string(l.target)] = true
		}
		return again
	})))
	p.ids = slices.Clip(slices.Clone(p.ids))
	size := 0
	each := func(f func(s *[]byte)) {
		for _, list := range [][][]byte{p.ids, p.double} {
			for i := range list {
				f(&list[i])
			}
		}
		for i := range p.links {
			f(&p.links[i].target)
		}
	}
	each(func(s *[]byte) { size += len(*s) })
	own := make([]byte, 0, size)
	each(func(s *[]byte) {
		from := len(own)
		own = append(own, *s...)
		*s = own[from:len(own):len(own)]
	})
}

// has reports whether a page has a place of a name.
func (p *sitePage) has(id []byte) bool {
	_, ok := slices.BinarySearchFunc(p.ids, id, bytes.Compare)
	return ok
}

// A linkFault is a link that leads nowhere.
type linkFault struct{ attr, target, why string }

// auditLinks follows every link of the site: between its pages, to their
// places, to its files, and from release to release. A fault is reported on
// the page of the manual that it comes from, where it has one.
func auditLinks(site *Site, releases []*Release, list *diag.List) {
	// What a page says twice, as the whole manual on one page does, is told
	// once a release; the pages of the manual come first.
	paths := slices.DeleteFunc(site.Paths(), func(p string) bool { return !strings.HasSuffix(p, ".html") })
	slices.SortStableFunc(paths, func(a, b string) int {
		return btoi(path.Base(a) == "whole.html") - btoi(path.Base(b) == "whole.html")
	})
	read, faults := make([]*sitePage, len(paths)), make([][]linkFault, len(paths))
	inParallel(len(paths), func(i int) { read[i] = site.files[paths[i]].read() })
	pages := make(map[string]*sitePage, len(paths))
	for i, p := range paths {
		pages[p] = read[i]
	}
	inParallel(len(paths), func(i int) { faults[i] = faultsOf(site, paths[i], pages) })
	told := map[string]bool{}
	for i, p := range paths {
		once := func(what string) bool {
			key := path.Dir(p) + " " + what
			first := !told[key]
			told[key] = true
			return first
		}
		for _, id := range read[i].double {
			id := unescape(id)
			if !once("id " + id) {
				continue
			}
			list.Warn(sourcePlace(p, id, releases), "same-id", "%s has two places called %s", p, id).
				Hint = "give one of them another name: {#name}"
		}
		for _, l := range faults[i] {
			if once(l.target) {
				list.Warn(sourcePlace(p, l.target, releases), "broken-link", "on %s, %s=%q leads nowhere: %s", p, l.attr, l.target, l.why).
					Hint = "link to a page, a picture or a heading that is published"
			}
		}
	}
}

// faultsOf follows the links of a page.
func faultsOf(site *Site, name string, pages map[string]*sitePage) (faults []linkFault) {
	dir := name[:strings.LastIndexByte(name, '/')+1]
	var file []byte
	for _, raw := range pages[name].links {
		// Most lead to a place on the sheet or on one beside it: there are too
		// many of them to make texts of each.
		if plainLink(raw.target) {
			to, id, _ := bytes.Cut(raw.target, []byte("#"))
			page := pages[name]
			if len(to) > 0 {
				file = append(append(file[:0], dir...), to...)
				page = pages[string(file)]
			}
			if page != nil && (len(id) == 0 || string(id) == "top" || page.has(id)) {
				continue
			}
		}
		l, ok := localLink(name, raw.attr, unescape(raw.target))
		if !ok {
			continue
		}
		why := ""
		if !site.Has(l.path) {
			why = "there is no " + l.path
		} else if to := pages[l.path]; to != nil && l.anchor != "" && l.anchor != "top" && !to.has([]byte(html.EscapeString(l.anchor))) {
			why = "there is no place #" + l.anchor + " in " + l.path
		}
		if why != "" {
			faults = append(faults, linkFault{l.attr, l.target, why})
		}
	}
	return faults
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// readPage finds the places and the links of a page. It knows just so much of
// HTML as our own pages and what is let through of an author's hold: tags with
// their attributes, and comments.
func readPage(data []byte) *sitePage {
	page := &sitePage{links: make([]rawLink, 0, 16+len(data)/600)}
	for {
		i := bytes.IndexByte(data, '<')
		if i < 0 {
			page.sort()
			return page
		}
		data = data[i+1:]
		switch {
		case bytes.HasPrefix(data, []byte("!--")):
			_, data, _ = bytes.Cut(data, []byte("-->"))
			continue
		case len(data) == 0 || !isLetter(data[0]):
			continue
		}
		if data = data[nameLen(data):]; len(data) > 0 && data[0] == '>' {
			continue
		}
		var key, val []byte
		for {
			if key, val, data = nextAttribute(data); len(key) == 0 {
				break
			}
			switch attr := lower(key); attr {
			case "id":
				page.ids = append(page.ids, val)
			case "href", "src", "xlink:href", "poster", "data":
				page.links = append(page.links, rawLink{attr, val})
			}
		}
	}
}

// sort puts the places in order, those that come again apart.
func (p *sitePage) sort() {
	// They are compared as our pages write them.
	for i, id := range p.ids {
		if bytes.ContainsAny(id, "&<>\"'") {
			p.ids[i] = []byte(html.EscapeString(unescape(id)))
		}
	}
	slices.SortFunc(p.ids, bytes.Compare)
	ids := p.ids[:0]
	for i, id := range p.ids {
		if i > 0 && bytes.Equal(id, ids[len(ids)-1]) {
			p.double = append(p.double, id)
		} else {
			ids = append(ids, id)
		}
	}
	p.ids = ids
}

// lower is the name of an attribute that is looked for; "" for another.
func lower(key []byte) string {
	var s string
	switch len(key) {
	case len("id"):
		s = "id"
	case len("src"):
		s = "src"
	case len("href"): // and "data"
		if s = "href"; key[0]|0x20 == 'd' {
			s = "data"
		}
	case len("poster"):
		s = "poster"
	case len("xlink:href"):
		s = "xlink:href"
	}
	if s == "" || !strings.EqualFold(string(key), s) {
		return ""
	}
	return s
}

func isLetter(b byte) bool { return 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z' }

// nameLen is the length of the name of a tag or an attribute.
func nameLen(s []byte) int {
	for i, c := range s {
		if c <= ' ' && isSpace(c) || c == '/' || c == '>' || c == '=' {
			return i
		}
	}
	return len(s)
}

// nextAttribute takes the next attribute off the inside of a tag; the key is empty
// at its end.
func nextAttribute(s []byte) (key, val, rest []byte) {
	for len(s) > 0 && (isSpace(s[0]) || s[0] == '/') {
		s = s[1:]
	}
	n := nameLen(s)
	key, s = s[:n], s[n:]
	if n == 0 && len(s) > 0 && s[0] == '=' { // nonsense, which must not end the tag
		return s[:1], nil, s[1:]
	}
	after := trimSpace(s)
	if n == 0 || len(after) == 0 || after[0] != '=' {
		return key, nil, s
	}
	s = trimSpace(after[1:])
	if len(s) > 0 && (s[0] == '"' || s[0] == '\'') {
		val, rest, _ = bytes.Cut(s[1:], s[:1])
		return key, val, rest
	}
	n = bytes.IndexAny(s, " \t\n\f\r>")
	if n < 0 {
		n = len(s)
	}
	return key, s[:n], s[n:]
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\f' || c == '\r' }

func trimSpace(s []byte) []byte {
	for len(s) > 0 && isSpace(s[0]) {
		s = s[1:]
	}
	return s
}

func unescape(val []byte) string {
	if bytes.IndexByte(val, '&') < 0 {
		return string(val)
	}
	return html.UnescapeString(string(val))
}

// localLink resolves an address against the file it stands in (RFC 3986,
// section 5). Addresses elsewhere are none of the site.
func localLink(name, attr, target string) (siteLink, bool) {
	u, err := url.Parse(target)
	if err != nil {
		return siteLink{attr, target, target, ""}, true
	}
	if u.Scheme != "" || u.Host != "" {
		return siteLink{}, false
	}
	l := siteLink{attr: attr, target: target, path: name, anchor: u.Fragment}
	if u.Path != "" {
		l.path = path.Join(path.Dir(name), u.Path)
		if strings.HasSuffix(u.Path, "/") {
			l.path = path.Join(l.path, "index.html")
		}
	}
	return l, true
}

// plainLink reports whether an address leads to a place on the sheet, or to a
// file beside it: what most links do, and all of it as it is written.
func plainLink(target []byte) bool {
	anchor := false
	for i := range len(target) {
		switch c := target[i]; {
		case isLetter(c), '0' <= c && c <= '9', c == '-', c == '_':
		case c == '.':
			if !anchor && (i == 0 || target[i-1] == '.') {
				return false
			}
		case c == '/':
			if !anchor {
				return false
			}
		case c == '#' && !anchor:
			anchor = true
		default:
			return false
		}
	}
	return len(target) > 0
}

// sourcePlace is where the source of a published page names something: the
// link itself, else its first mention, else the page; for a sheet that has no
// page in the manual, manual.toml.
func sourcePlace(published, what string, releases []*Release) diag.Span {
	dir, file := path.Split(published)
	for _, r := range releases {
		if r.Name+"/" != dir {
			continue
		}
		for _, p := range r.Manual.Pages {
			if p.ID+".html" == file {
				return inSource(p, what)
			}
		}
		return diag.Span{File: r.Manual.Config.File}
	}
	return diag.Span{File: releases[0].Manual.Config.File}
}

func inSource(p *content.Page, what string) diag.Span {
	for _, l := range p.Links {
		if l.Pos.Text() == what {
			return l.Pos
		}
	}
	if i := bytes.Index(p.File.Text, []byte(what)); i >= 0 && what != "" {
		return diag.Span{File: p.File, Start: i, End: i + len(what)}
	}
	return diag.Span{File: p.File}
}
