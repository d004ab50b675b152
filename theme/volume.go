package theme

import (
	"strings"

	"workings/calc"
	"workings/content"
)

// The workings of sheets stand in files of their own beside them: a sheet weighs
// a fraction of what its derivations do, and a builder reads it on a phone. Each
// figure is a link to its derivation there; a script opens it in place. The
// derivation of a figure stands with every sheet that shows it, and at its home
// with all that can be said of it.

// A Volume is a file of workings: those of one page, or of several that follow
// one another and show few figures.
type Volume struct {
	File  string // "recoater.workings.html"
	pages []*content.Page
}

const (
	// WorkingsSuffix ends the names of files that hold workings.
	WorkingsSuffix = ".workings.html"

	// volumeSize is how many derivations a volume of several pages has at most.
	volumeSize = 64
)

// Volumes lists the files that hold the workings of a release.
func (t *Theme) Volumes(in *Input) []*Volume { return t.view(in).volumes }

// bind puts the pages into volumes. What a page will show can be guessed from
// its expressions and blocks, without rendering it.
func (v *view) bind() {
	size := 0
	var last *Volume
	for _, p := range v.in.Manual.Pages {
		n := len(p.Exprs)
		for _, b := range p.Blocks {
			n += len(v.inBlock[b])
		}
		if n == 0 {
			continue
		}
		if size += n; last == nil || size > volumeSize {
			size, last = n, &Volume{File: p.ID + WorkingsSuffix}
			v.volumes = append(v.volumes, last)
		}
		last.pages = append(last.pages, p)
		v.volumeOf[p] = last
	}
	v.rest = &Volume{File: "figures" + WorkingsSuffix}
	v.volumes = append(v.volumes, v.rest)
}

// workingsFile is where the workings of a page stand.
func (v *view) workingsFile(p *content.Page) string {
	if x := v.volumeOf[p]; x != nil {
		return x.File
	}
	return v.rest.File
}

// homes says which volume a figure belongs to: that of the page whose calc
// block gives it, else of the first page that shows it.
type homes struct {
	of map[string]*Volume // by the names of figures
	in map[*Volume][]shownWorkings
}

func (v *view) findHomes() *homes {
	figures := v.in.Result.Figures()
	h := &homes{of: make(map[string]*Volume, len(figures)), in: make(map[*Volume][]shownWorkings, len(v.volumes))}
	settle := func(f *calc.Figure, x *Volume) {
		if h.of[f.Name] == nil && x != nil {
			h.of[f.Name] = x
			h.in[x] = append(h.in[x], shownWorkings{id: workingsID(f), figure: f})
		}
	}
	for _, f := range figures {
		if p := v.blockOn[f.Block]; p != nil {
			settle(f, v.volumeOf[p])
		}
	}
	for _, p := range v.in.Manual.Pages {
		for _, i := range p.Exprs {
			if s := v.in.Result.Shown(i); s != nil && s.Figure != nil {
				settle(s.Figure, v.volumeOf[p])
			}
		}
	}
	for _, f := range figures {
		settle(f, v.rest)
	}
	return h
}

func workingsID(f *calc.Figure) string { return "w/" + f.Name }

// workingsHref leads to the derivation of a figure at its home.
func (v *view) workingsHref(f *calc.Figure) string {
	return v.homes().of[f.Name].File + "#" + workingsID(f)
}

// opened gives the derivations that a page shows, in the order of their first
// mention. A page that was rendered has left them.
func (v *view) opened(p *content.Page) ([]shownWorkings, error) {
	if open, ok := v.open.Load(p); ok {
		return open.([]shownWorkings), nil
	}
	r := newPageWriter(v, p, false)
	_, body, err := r.sheet()
	if err != nil {
		return nil, err
	}
	body.drop()
	return r.toOpen, nil
}

// Workings renders a volume.
func (t *Theme) Workings(in *Input, x *Volume) ([]byte, error) {
	v := t.view(in)
	s, lead := v.volumeHead(x)
	var list []shownWorkings
	has := map[string]bool{}
	add := func(open []shownWorkings) {
		for _, w := range open {
			if !has[w.id] {
				has[w.id] = true
				list = append(list, w)
			}
		}
	}
	for _, p := range x.pages {
		open, err := v.opened(p)
		if err != nil {
			return nil, err
		}
		add(open)
	}
	add(v.homes().in[x])
	s.Main = append([]string{"<header class=\"head\"><h1>", esc(v.w.Workings), "</h1>\n<p class=\"lead\">", lead, "</p></header>\n"}, v.workings(x, list)...)
	s.Title = v.w.Workings + ": " + s.Title
	s.Bare = true
	return t.shell(v, s)
}

// volumeHead is the sheet a volume belongs to, the first of several, and a
// line that leads back to them.
func (v *view) volumeHead(x *Volume) (s shell, lead string) {
	if x == v.rest {
		return shell{File: "figures.html", Sheet: "F", Title: v.w.FiguresTitle},
			esc(v.w.WorkingsRest) + ` <a href="figures.html">` + esc(v.w.FiguresTitle) + "</a>"
	}
	var back []string
	for _, p := range x.pages {
		r := v.pageRef(p)
		back = append(back, `<a href="`+escHref(r.Href)+`">`+esc(r.Mark+" "+r.Title)+"</a>")
	}
	first, last := v.pageRef(x.pages[0]), v.pageRef(x.pages[len(x.pages)-1])
	s = shell{File: first.Href, Page: x.pages[0], With: x.pages[1:], Sheet: first.Mark, Title: first.Title}
	if last != first {
		s.Sheet, s.Title = s.Sheet+"–"+last.Mark, s.Title+" – "+last.Title
	}
	return s, esc(v.w.WorkingsOf) + " " + strings.Join(back, ", ")
}

// workings are the derivations listed, with those of their records. A result
// of a model has all of it where it is the only one. Where several are shown,
// or their record is, the record has it all and each result a short one that
// leads there: a model's formulas and what was put in stand once for a call of it.
func (v *view) workings(x *Volume, open []shownWorkings) []string {
	results, has := map[*calc.Figure]int{}, make(map[string]bool, len(open))
	for _, s := range open {
		results[s.record()]++
		has[s.id] = true
	}
	list := make([]string, 0, len(open))
	full := func(f *calc.Figure) {
		list = append(list, v.entry(workingsID(f), f, x, "", func() derivation { return v.deriveFigure(f) }))
	}
	for _, s := range open {
		record := s.record()
		switch {
		case s.figure == nil:
			list = append(list, v.entryHTML(s.id, v.deriveShown(s.value)))
		case record == nil || results[record] == 1 && !has[workingsID(record)]:
			full(s.figure)
		default:
			id := workingsID(record)
			list = append(list, v.entry(s.id, s.figure, x, "short", func() derivation {
				return v.deriveField(s.figure, recordRef{Name: record.Name, Href: "#" + id})
			}))
			if !has[id] {
				has[id] = true
				full(record)
			}
		}
	}
	return list
}

// entry is the derivation of a figure as it stands in a volume. It is the same
// in every one but at its home, where it names all its users, so it is written
// once for all of them.
func (v *view) entry(id string, f *calc.Figure, x *Volume, variant string, make func() derivation) string {
	few := len(v.shownOn[f.Name]) <= mostRefs && len(f.UsedBy) <= mostRefs
	home := v.homes().of[f.Name] == x
	if home && !few {
		d := make()
		d.Entry = ""
		return v.entryHTML(id, d)
	}
	write := func() string {
		d := make()
		if few {
			d.Entry = ""
		}
		d.ShownOn, d.UsedBy = d.ShownOn[:min(len(d.ShownOn), mostRefs)], d.UsedBy[:min(len(d.UsedBy), mostRefs)]
		return v.entryHTML(id, d)
	}
	if len(v.shownOn[f.Name]) < 2 {
		return write()
	}
	return v.cached("w "+variant+" "+id, write)
}

// entryHTML is a derivation under an id, with its head.
func (v *view) entryHTML(id string, d derivation) string {
	b := newHTML()
	id = esc(id)
	b.put(`<div class="workings" id="`, id, `"><h2 id="`, id, `-h">`)
	if d.Name != "" {
		b.put(`<span class="name">`, string(breakable(d.Name)), `</span> `)
	}
	b.put(`<span class="value">`, esc(d.Value), "</span></h2>\n")
	v.derivationBody(b, d)
	b.put("</div>\n")
	return b.take()
}

// figLink writes the value of a figure like a dimension, which leads to its
// derivation.
func figLink(href, text string) string {
	return `<a class="fig" href="` + escHref(href) + `">` + esc(text) + `</a>`
}
