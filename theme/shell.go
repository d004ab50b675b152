package theme

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"workings/content"
)

// A shell is one sheet without its frame.
type shell struct {
	File        string // "frame.html", "parts.html", "index.html"
	Page        *content.Page
	Sheet       string // its number or letter in the index
	Title       string
	Description string
	Main        []string    // HTML, in parts: that of the whole manual is too large to be joined first
	Body        *htmlWriter // what comes behind it; nil for nothing
	Steps       []stepRef
	Wide        bool            // a register, which takes the width of the sheet
	With        []*content.Page // further pages whose workings it holds
	Bare        bool            // workings of the sheet File, without what leads elsewhere
}

// shellData is what the frame shows.
type shellData struct {
	shell
	W          *words
	Site       *Site
	Release    *Release
	Doc        string // title of the document
	Count      int    // number of pages
	Others     []releaseRef
	Current    *releaseRef // the current release, where this one is not it
	Previous   *sheetRef
	Next       *sheetRef
	Pred, Succ string // the sheet in the release before and after
	Status     string
	Errata     []erratumRow
	R          *releaseWords
	Publisher  string
	Licence    string
	Checksum   string
	Tool       string
	Script     string
	Report     string
}

// A releaseRef leads to the same sheet in another release, or to that
// release's cover if it has no such sheet.
type releaseRef struct {
	*Release
	Href       string
	Missing    bool
	StatusWord string
	Here       bool
}

func (t *Theme) shell(v *view, s shell) ([]byte, error) {
	in := v.in
	cfg := in.Manual.Config
	d := shellData{
		shell: s, W: v.w, Site: in.Site, Release: in.Release,
		Doc:       s.Title + " · " + in.Site.Title + " " + in.Release.Name,
		Count:     len(in.Manual.Pages),
		Status:    v.w.status(in.Release.Status),
		Publisher: firstOf(cfg.Publisher, in.Site.Publisher),
		Licence:   licenceText(cfg.Licence),
		Checksum:  in.Checksum, Tool: in.Tool, Script: t.opt.Script,
	}
	at := 0
	for i, r := range in.Site.Releases {
		if r == in.Release {
			at = i
		}
	}
	for i, r := range in.Site.Releases {
		ref := releaseRef{Release: r, StatusWord: v.w.status(r.Status), Here: r == in.Release}
		ref.Href, ref.Missing = sameSheet(s, r)
		d.Others = append(d.Others, ref)
		if r.Status == Current && r != in.Release {
			c := ref
			d.Current = &c
		}
		switch i {
		case at + 1:
			if !ref.Missing {
				d.Pred = ref.Href
			}
		case at - 1:
			if !ref.Missing {
				d.Succ = ref.Href
			}
		}
	}
	d.Errata, d.R = v.errataHere(s), v.w.releaseWords()
	if !s.Bare {
		d.Previous, d.Next = v.neighbours(s)
	}
	d.Report = v.reportHref(s.Sheet+" "+s.Title, s.Page, nil, nil)
	sheet, err := v.write(d, v.sheets().at(v, s), v.bar().at(v, s))
	if err != nil {
		return nil, fmt.Errorf("sheet %s: %w", s.File, err)
	}
	return sheet, nil
}

// sameSheet is the address of a sheet in another release, from a sheet of this one.
func sameSheet(s shell, r *Release) (href string, missing bool) {
	dir := "../" + r.Dir + "/"
	if s.Page == nil {
		return dir + s.File, false
	}
	if _, ok := r.Pages[s.Page.ID]; ok {
		return dir + s.File, false
	}
	if r.Status == Current {
		return "../current/" + s.File, true // where it is said what became of it
	}
	return dir + "index.html", true
}

// neighbours are the sheets before and after a page in reading order.
func (v *view) neighbours(s shell) (prev, next *sheetRef) {
	pages := v.in.Manual.Pages
	switch {
	case s.Page != nil:
		i := v.sheet[s.Page.ID] - 1
		if i > 0 {
			r := v.pageRef(pages[i-1])
			prev = &r
		} else {
			prev = &sheetRef{Mark: "0", Title: v.w.Cover, Href: "index.html"}
		}
		if i+1 < len(pages) {
			r := v.pageRef(pages[i+1])
			next = &r
		} else {
			r := v.registers()[1]
			next = &r
		}
	case s.File == "index.html" && len(pages) > 0:
		r := v.pageRef(pages[0])
		next = &r
	}
	return prev, next
}

func licenceText(l content.Licence) string {
	return joinNotes2(" · ", l.Design, l.Text, l.Software)
}

func joinNotes2(sep string, s ...string) string {
	out := ""
	for i, x := range s {
		dup := false
		for _, y := range s[:i] {
			dup = dup || y == x
		}
		if x == "" || dup {
			continue
		}
		if out != "" {
			out += sep
		}
		out += x
	}
	return out
}

// FileName names the release of a machine in the names of files that readers
// keep: "fenbank-bench-sinterer-2.0".
func FileName(in *Input) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, in.Site.Title)
	for strings.Contains(name, "--") {
		name = strings.ReplaceAll(name, "--", "-")
	}
	return strings.TrimPrefix(strings.Trim(name, "-")+"-", "-") + in.Release.Name
}

func itoa(n int) string { return strconv.Itoa(n) }
