package theme

import (
	"html/template"
	"sort"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
	"workings/content"
)

// A register is a sheet that collects something from all pages of a release.
// Each is one template over one struct.

func (t *Theme) register(v *view, tmpl, file, sheet, title, lead string, data any) ([]byte, error) {
	main, err := t.execute(tmpl, struct {
		W     *words
		Title string
		Lead  string
		D     any
	}{v.w, title, lead, data})
	if err != nil {
		return nil, err
	}
	return t.registerOf(v, file, sheet, title, lead, string(main))
}

// registerOf is register for one that is written already.
func (t *Theme) registerOf(v *view, file, sheet, title, lead string, main ...string) ([]byte, error) {
	return t.shell(v, shell{File: file, Sheet: sheet, Title: title, Description: firstOf(lead, v.in.Site.Summary), Main: main, Wide: true})
}

// limitRow is one limit in the register.
type limitRow struct {
	ID, Name, Caption string
	Signal, Word      string
	Condition         template.HTML
	Sides, Place      string // in the worst case, and where that is
	State             template.HTML
	Class             string
	Broken            string // where a broken one breaks, and by what values
	Doubt             string // what else is to be said of its state
	Accepted, Source  string
	Message           template.HTML
	Where             place
}

// messageRow is a safety message of a page.
type messageRow struct {
	Signal, Word, Text string
	Where              place
}

// Limits renders the register of limits and warnings.
func (t *Theme) Limits(in *Input) ([]byte, error) {
	v := t.view(in)
	var d struct {
		Rows     []limitRow
		Messages []messageRow
		Broken   int
		Searched int
	}
	for _, l := range in.Result.Limits() {
		row := limitRow{
			ID: limitID(l), Name: l.Name, Signal: l.Signal, Word: v.w.signal(l.Signal),
			Sides: v.sides(l), Place: v.worstPlace(l), State: template.HTML(v.stateHTML(l)), Class: stateClass(l), Accepted: l.Accepted,
			Where: v.limitPlace(l), Message: v.messageHTML(l),
		}
		if l.Stmt != nil {
			row.Condition = v.formula(nil, l.Stmt.Cond)
			row.Caption = l.Stmt.Caption
			if l.Stmt.From != nil {
				row.Source = l.Stmt.From.Value
			}
		}
		switch l.Verdict {
		case calc.Broken:
			d.Broken++
			if l.Nominal {
				row.Doubt = v.w.HoldsNominal
			}
		case calc.Searched:
			d.Searched++
		}
		if l.Doubtful {
			row.Doubt = v.w.Doubtful
		}
		d.Rows = append(d.Rows, row)
	}
	// The broken ones first, by the weight of their word.
	sort.SliceStable(d.Rows, func(i, j int) bool { return limitRank(d.Rows[i]) < limitRank(d.Rows[j]) })
	for _, p := range in.Manual.Pages {
		for _, m := range p.Panels {
			where := v.placeOf(m.Page, m.Step)
			if m.ID != "" {
				where.Href = m.Page.ID + ".html#" + m.ID
			}
			d.Messages = append(d.Messages, messageRow{m.Signal, v.w.signal(m.Signal), v.fill(m.Parts, m.Text), where})
		}
	}
	sort.SliceStable(d.Messages, func(i, j int) bool {
		return signalRank(d.Messages[i].Signal) < signalRank(d.Messages[j].Signal)
	})
	return t.register(v, "limits.html", "limits.html", "L", v.w.LimitsTitle, v.w.LimitsLead, d)
}

func limitRank(r limitRow) int {
	state := map[string]int{"broken": 0, "unknown": 1, "searched": 2, "held": 3}[r.Class]
	return 10*state + signalRank(r.Signal)
}

func signalRank(s string) int {
	switch s {
	case "danger":
		return 0
	case "warning":
		return 1
	case "caution":
		return 2
	case "notice":
		return 3
	}
	return 4
}

// messageHTML is a limit's message with its figures as plain values.
func (v *view) messageHTML(l *calc.Limit) template.HTML {
	var b strings.Builder
	for _, m := range l.Message {
		b.WriteString(esc(m.Text))
		if m.Shown != nil {
			b.WriteString(setQuantity(v.shownText(m.Shown)))
		}
	}
	return template.HTML(b.String())
}

type figureGroup struct {
	title, id string
	page      *sheetRef
	rows      []string // there are thousands on the sheet, too many for a template
}

// head is what stands above the entries of a group.
func (g *figureGroup) head(w *words) string {
	b := newHTML()
	id := esc(g.id)
	b.put(`<section aria-labelledby="`, id, `"><h2 id="`, id, `">`, esc(g.title))
	if p := g.page; p != nil {
		b.put(` <a class="at" href="`, escHref(p.Href), `">`, esc(w.Sheet), `&nbsp;`, esc(p.Mark), `, `, esc(p.Title), `</a>`)
	}
	b.put("</h2>\n<div class=\"entries\">")
	return b.take()
}

// write writes an entry, which leads to the figure's derivation.
func (g *figureGroup) write(v *view, f *calc.Figure) {
	b, class := newHTML(), ""
	if f.Parent != nil {
		class = " field"
	}
	b.put(`<div class="entry-row`, class, `" id="`, esc(figureID(f.Name)), `"><span class="name">`, esc(f.Name),
		`</span><span class="value">`, figLink(v.workingsHref(f), v.figureText(f)), `</span><span class="cap">`, esc(joinNotes(f.Caption, f.From)), `</span>`)
	if on := v.shownOn[f.Name]; len(on) > 0 {
		b.put(`<span class="on">`, esc(v.w.Sheet), ` `)
		for i, p := range on {
			b.comma(i)
			b.link(p.ID+".html", strconv.Itoa(v.sheet[p.ID]))
		}
		b.put(`</span>`)
	}
	b.put("</div>\n")
	g.rows = append(g.rows, b.take())
}

// Figures renders the index of figures and parameters, each of which leads to
// its derivation.
func (t *Theme) Figures(in *Input) ([]byte, error) {
	v := t.view(in)
	groups := map[string]*figureGroup{}
	var order []string
	group := func(key string) *figureGroup {
		g := groups[key]
		if g == nil {
			g = &figureGroup{id: "g/" + key}
			groups[key] = g
			order = append(order, key)
		}
		return g
	}
	// The design sheet first, its parameters apart from what it computes, then
	// the blocks in page order.
	group(".parameters").title = v.w.Parameters
	group(".sheet").title = v.w.ComputedOnSheet
	for _, p := range in.Manual.Pages {
		for _, b := range p.Blocks {
			g := group(b)
			if g.page == nil {
				ref := v.pageRef(p)
				g.page, g.title = &ref, b
			}
		}
	}
	for _, f := range in.Result.Figures() {
		key := f.Block
		if key == "" {
			key = ".sheet"
			if f.Parameter {
				key = ".parameters"
			}
		}
		g := group(key)
		if g.title == "" {
			g.title = f.Block
		}
		g.write(v, f)
	}
	head, err := t.execute("figures.html", struct {
		W           *words
		Title, Lead string
	}{v.w, v.w.FiguresTitle, v.w.FiguresLead})
	if err != nil {
		return nil, err
	}
	main := []string{string(head)}
	for _, key := range order {
		if g := groups[key]; len(g.rows) > 0 {
			main = append(append(append(main, g.head(v.w)), g.rows...), "</div></section>\n")
		}
	}
	return t.registerOf(v, "figures.html", "F", v.w.FiguresTitle, v.w.FiguresLead, main...)
}

// Checks renders the check sheet: all checks in the order of the pages, to be
// filled in on screen or on paper.
func (t *Theme) Checks(in *Input) ([]byte, error) {
	v := t.view(in)
	type group struct {
		Ref  sheetRef
		Rows template.HTML
	}
	type note struct{ Key, Word string }
	var d struct {
		Groups         []group
		Notes          []note
		Checksum, File string
	}
	d.Checksum, d.File = in.Checksum, FileName(in)+"-checks"
	d.Notes = []note{{"by", v.w.BuiltBy}, {"serial", v.w.Serial}, {"date", v.w.Date}}
	for _, p := range in.Manual.Pages {
		r := newPageWriter(v, p, false)
		var b strings.Builder
		for _, c := range p.Checks {
			r.checkRow(&b, c, true)
		}
		if b.Len() > 0 {
			d.Groups = append(d.Groups, group{v.pageRef(p), template.HTML(b.String())})
		}
	}
	return t.register(v, "checks.html", "checks.html", "C", v.w.ChecksTitle, v.w.ChecksLead, d)
}

// methodRow is one model with the figures that call it.
type methodRow struct {
	modelView
	ID      string
	ArgDocs []argRow
	Results []argRow
	UsedBy  []nameRef
}

// Methods renders the models that the release uses.
func (t *Theme) Methods(in *Input) ([]byte, error) {
	v := t.view(in)
	type entry struct {
		spec *model.Spec
		by   []nameRef
		out  []string
	}
	used := map[string]*entry{}
	note := func(c *calc.ModelCall, by nameRef) {
		if c.Spec == nil {
			return
		}
		e := used[c.Spec.Name]
		if e == nil {
			e = &entry{spec: c.Spec}
			used[c.Spec.Name] = e
		}
		if by.Name != "" {
			e.by = append(e.by, by)
		}
		for _, o := range c.Out {
			e.out = append(e.out, firstOf(by.Name, "…")+": "+o.Msg)
		}
	}
	for _, f := range in.Result.Figures() {
		if f.Parent != nil {
			continue // counted at its record
		}
		for _, c := range f.Models {
			note(c, nameRef{f.Name, v.workingsHref(f)})
		}
	}
	for _, p := range in.Manual.Pages {
		for _, i := range p.Exprs {
			if s := in.Result.Shown(i); s != nil && s.Figure == nil {
				for _, c := range s.Models {
					note(c, nameRef{v.title(p), p.ID + ".html"})
				}
			}
		}
	}
	var rows []methodRow
	for _, name := range sortedKeys(used) {
		e := used[name]
		row := methodRow{modelView: v.modelOf(e.spec), ID: "m/" + name, UsedBy: e.by}
		row.Outside = e.out
		for _, a := range e.spec.Args {
			row.ArgDocs = append(row.ArgDocs, argRow{Name: a.Name, Doc: a.Doc, Value: unitWord(a.Unit)})
		}
		for _, r := range e.spec.Results {
			row.Results = append(row.Results, argRow{Name: r.Name, Doc: r.Doc, Value: unitWord(r.Unit)})
		}
		rows = append(rows, row)
	}
	return t.register(v, "methods.html", "methods.html", "M", v.w.MethodsTitle, v.w.MethodsLead, rows)
}

func unitWord(u string) string {
	if u == "" || u == "1" {
		return "1"
	}
	return unitNamed(u).Display()
}

// Index renders the cover sheet of a release.
func (t *Theme) Index(in *Input) ([]byte, error) {
	v := t.view(in)
	type pageRow struct {
		sheetRef
		Summary string
		Counts  string // "2 steps · 4 checks · 2 h"
	}
	var d struct {
		Site      *Site
		Release   *Release
		Summary   string
		Status    string
		Pages     []pageRow
		Registers []sheetRef
		Broken    []limitRow
		Proved    int
		Searched  int
		Figures   int
		Safety    *sheetRef
		Redo      bool
		Manifest  bool // there is one, for indexers of open hardware
		File      string
	}
	d.Site, d.Release, d.File = in.Site, in.Release, FileName(in)
	d.Summary = firstOf(in.Manual.Config.Summary, in.Site.Summary)
	d.Status = v.w.status(in.Release.Status)
	d.Registers = v.registers()
	d.Manifest = in.Manifest
	if c := in.changes(); c != nil {
		d.Redo = len(c.Redo) > 0
	}
	for _, p := range in.Manual.Pages {
		d.Pages = append(d.Pages, pageRow{v.pageRef(p), firstOf(p.Data.Summary, p.Summary), v.countsOf(p)})
	}
	for _, l := range in.Result.Limits() {
		switch l.Verdict {
		case calc.Proved:
			d.Proved++
		case calc.Searched:
			d.Searched++
		case calc.Broken:
			d.Broken = append(d.Broken, limitRow{Name: l.Name, Signal: l.Signal, Word: v.w.signal(l.Signal), Message: v.messageHTML(l), Broken: v.brokenText(l)})
		}
	}
	for _, f := range in.Result.Figures() {
		if f.Func == nil {
			d.Figures++
		}
	}
	if len(in.Manual.Pages) > 0 {
		ref := v.pageRef(in.Manual.Pages[0])
		d.Safety = &ref
	}
	return t.register(v, "index.html", "index.html", "0", in.Site.Title, "", d)
}

// countsOf says how much there is to do on a page.
func (v *view) countsOf(p *content.Page) string {
	steps, checks := "", ""
	if n := len(p.Steps); n > 0 {
		steps = v.w.Count(n, v.w.StepOne, v.w.StepMany)
	}
	if n := len(p.Checks); n > 0 {
		checks = v.w.Count(n, v.w.CheckOne, v.w.CheckMany)
	}
	return joinNotes2(" · ", steps, checks, p.Data.Time)
}

// Cover renders the root of the site: all releases, and which is current.
func (t *Theme) Cover(site *Site, tool string) ([]byte, error) {
	w := wordsFor(site.Language)
	type rel struct {
		*Release
		StatusWord string
	}
	var d struct {
		W        *words
		Site     *Site
		Releases []rel
		Current  *Release
		Tool     string
		Pages    int
	}
	d.W, d.Site, d.Current, d.Tool = w, site, site.Current(), tool
	for _, r := range site.Releases {
		d.Releases = append(d.Releases, rel{r, w.status(r.Status)})
	}
	s, err := t.execute("cover.html", d)
	return []byte(s), err
}

// Errors gives reports as HTML, each with its line and caret, for the preview.
func (t *Theme) Errors(list diag.List, lang string) (template.HTML, error) {
	w := wordsFor(lang)
	type report struct {
		Warn           bool
		Kind, Message  string
		Place, Picture string
		Code, Hint     string
		Also           []report
	}
	var reports []report
	for _, e := range list.Sorted() {
		r := report{Warn: e.Warn, Kind: w.ErrorWord, Message: e.Msg, Code: e.Code, Hint: e.Hint}
		if e.Warn {
			r.Kind = w.FindingWord
		}
		r.Place, r.Picture = placeAndPicture(e.Span)
		for _, n := range e.Also {
			p, pic := placeAndPicture(n.Span)
			r.Also = append(r.Also, report{Message: n.Msg, Place: p, Picture: pic})
		}
		reports = append(reports, r)
	}
	return t.execute("errors.html", struct {
		W       *words
		Reports []report
	}{w, reports})
}

// placeAndPicture takes the place and the caret picture from the printed
// report, so that page and terminal show the same.
func placeAndPicture(s diag.Span) (place, picture string) {
	if s.File == nil {
		return "", ""
	}
	d := diag.Diag{Span: s, Msg: "x"}
	first, rest, _ := strings.Cut(d.Report(), "\n")
	place, _, _ = strings.Cut(first, ": error: ")
	return place, strings.TrimRight(rest, "\n")
}
