package theme

import (
	"strconv"

	"workings/calc"
	"workings/content"
)

// The workings of a sheet stand in a file of their own beside it: a sheet
// weighs a fraction of what its derivations do, and a builder reads it on a
// phone. Each figure is a link to its derivation there; a script opens it in
// place. The derivation of a figure stands with every sheet that shows it, and
// at its home with all that can be said of it.

// workingsFile is where the workings of a page stand.
func workingsFile(p *content.Page) string { return p.ID + WorkingsSuffix }

const (
	// WorkingsSuffix ends the names of files that hold workings.
	WorkingsSuffix = ".workings.html"
	restFile       = "figures" + WorkingsSuffix
)

// HasWorkings reports whether a page has a file of workings.
func HasWorkings(p *content.Page) bool { return len(p.Exprs)+len(p.Blocks) > 0 }

// homes says which workings a figure belongs to: those of the page whose calc
// block gives it, else of the first page that shows it.
type homes struct {
	of   map[string]string                 // files by the names of figures
	on   map[*content.Page][]shownWorkings // the figures at home on a page
	rest []shownWorkings                   // those at home on no page
}

func (v *view) findHomes() *homes {
	figures := v.in.Result.Figures()
	h := &homes{of: make(map[string]string, len(figures)), on: map[*content.Page][]shownWorkings{}}
	settle := func(f *calc.Figure, p *content.Page) {
		if h.of[f.Name] == "" {
			h.of[f.Name] = workingsFile(p)
			h.on[p] = append(h.on[p], shownWorkings{id: workingsID(f), figure: f})
		}
	}
	for _, f := range figures {
		if p := v.blockOn[f.Block]; p != nil {
			settle(f, p)
		}
	}
	for _, p := range v.in.Manual.Pages {
		for _, i := range p.Exprs {
			if s := v.in.Result.Shown(i); s != nil && s.Figure != nil {
				settle(s.Figure, p)
			}
		}
	}
	for _, f := range figures {
		if h.of[f.Name] == "" {
			h.of[f.Name] = restFile
			h.rest = append(h.rest, shownWorkings{id: workingsID(f), figure: f})
		}
	}
	return h
}

func workingsID(f *calc.Figure) string { return "w/" + f.Name }

// workingsHref leads to the derivation of a figure at its home.
func (v *view) workingsHref(f *calc.Figure) string { return v.workingsNamed(f.Name) }

func (v *view) workingsNamed(name string) string { return v.homes().of[name] + "#w/" + name }

// opened gives the derivations that a page shows, in the order of their first
// mention. A page that was rendered has left them.
func (v *view) opened(p *content.Page) ([]shownWorkings, error) {
	if open, ok := v.open.Load(p); ok {
		return open.([]shownWorkings), nil
	}
	r := newPageWriter(v, p, false)
	if _, err := r.sheet(); err != nil {
		return nil, err
	}
	return r.toOpen, nil
}

// Workings renders the workings of a page that HasWorkings.
func (t *Theme) Workings(in *Input, p *content.Page) ([]byte, error) {
	v := t.view(in)
	list, err := v.opened(p)
	if err != nil {
		return nil, err
	}
	has := make(map[string]bool, len(list))
	for _, s := range list {
		has[s.id] = true
	}
	list = list[:len(list):len(list)]
	for _, s := range v.homes().on[p] {
		if !has[s.id] {
			list = append(list, s)
		}
	}
	n, title := strconv.Itoa(v.sheet[p.ID]), v.title(p)
	back := `<a href="` + escHref(p.ID+".html") + `">` + esc(n+" "+title) + "</a>"
	return t.volume(v, shell{File: p.ID + ".html", Page: p, Sheet: n, Title: title}, workingsFile(p), v.w.WorkingsOf+" "+back, list)
}

// OtherWorkings renders the workings of the figures that stand on no page.
func (t *Theme) OtherWorkings(in *Input) ([]byte, error) {
	v := t.view(in)
	back := `<a href="figures.html">` + esc(v.w.FiguresTitle) + "</a>"
	return t.volume(v, shell{File: "figures.html", Sheet: "F", Title: v.w.FiguresTitle}, restFile, v.w.WorkingsRest+" "+back, v.homes().rest)
}

// volume writes the derivations listed, below a line that leads back.
func (t *Theme) volume(v *view, s shell, file, lead string, list []shownWorkings) ([]byte, error) {
	s.Main = append([]string{"<header class=\"head\"><h1>", esc(v.w.Workings), "</h1>\n<p class=\"lead\">", lead, "</p></header>\n"}, v.workings(file, list)...)
	s.Title = v.w.Workings + ": " + s.Title
	s.Bare = true
	return t.shell(v, s)
}

// workings are the derivations listed, with those of their records. A result
// of a model has all of it where it is the only one. Where several are shown,
// or their record is, the record has it all and each result a short one that
// leads there: a model's formulas and what was put in stand once for a call of it.
func (v *view) workings(file string, open []shownWorkings) []string {
	results, has := map[*calc.Figure]int{}, make(map[string]bool, len(open))
	for _, s := range open {
		results[s.record()]++
		has[s.id] = true
	}
	list := make([]string, 0, len(open))
	full := func(f *calc.Figure) {
		list = append(list, v.entry(workingsID(f), f, file, "", func() derivation { return v.deriveFigure(f) }))
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
			list = append(list, v.entry(s.id, s.figure, file, "short", func() derivation {
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

// entry is the derivation of a figure as it stands in a file. It is the same in
// every file but at its home, where it names all its users, so it is written
// once for all of them.
func (v *view) entry(id string, f *calc.Figure, file, variant string, make func() derivation) string {
	few := len(v.shownOn[f.Name]) <= mostRefs && len(f.UsedBy) <= mostRefs
	home := v.homes().of[f.Name] == file
	if home && !few {
		d := make()
		d.Entry = ""
		return v.entryHTML(id, d)
	}
	return v.cached("w "+variant+" "+id, func() string {
		d := make()
		if few {
			d.Entry = ""
		}
		d.ShownOn, d.UsedBy = d.ShownOn[:min(len(d.ShownOn), mostRefs)], d.UsedBy[:min(len(d.UsedBy), mostRefs)]
		return v.entryHTML(id, d)
	})
}

// entryHTML is a derivation under an id, with its head.
func (v *view) entryHTML(id string, d derivation) string {
	b := newHTML()
	id = esc(id)
	b.put(`<section class="workings" id="`, id, `" aria-labelledby="`, id, `-h"><h2 id="`, id, `-h">`)
	if d.Name != "" {
		b.put(`<span class="name">`, string(breakable(d.Name)), `</span> `)
	}
	b.put(`<span class="value">`, esc(d.Value), "</span></h2>\n")
	v.derivationBody(b, d)
	b.put("</section>\n")
	return b.take()
}

// figLink writes the value of a figure like a dimension, which leads to its
// derivation.
func figLink(href, html string) string {
	return `<a class="fig" href="` + escHref(href) + `">` + html + `</a>`
}
