package theme

import (
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"workings/calc"
	"workings/calc/syntax"
	"workings/content"
)

// A view is what all sheets of one release share: its words, where each figure
// is shown, the index of sheets, and the derivations written so far.
type view struct {
	t     *Theme
	in    *Input
	w     *words
	sheet map[string]int // number of a page, from 1

	shownOn  map[string][]*content.Page // by full name of a figure, in page order
	limits   map[string][]*calc.Limit   // limits of the design sheet by the figures they use
	blockOn  map[string]*content.Page   // page that holds a calc block
	children map[string][]*calc.Figure  // fields of a record by its name
	inBlock  map[string][]*calc.Figure  // figures of a calc block, by name
	byStmt   map[*syntax.Limit]*calc.Limit
	judged   map[string]bool          // figures that a limit or cross-check names
	judging  map[string][]*calc.Limit // limits by the figures they use
	links    map[any]*content.Link
	parts    []*partTotal

	sheets, bar func() index // links on every sheet
	volumes     []*Volume
	volumeOf    map[*content.Page]*Volume
	rest        *Volume // of the figures that stand on no page
	homes       func() *homes
	open        sync.Map // page → []shownWorkings, once it is rendered
	derivations sync.Map // id → string; the same with every sheet
	plots       sync.Map // plot → what is drawn of it, once
	formulas    sync.Map // expression with its name → template.HTML
	worked      sync.Map // expression and printed number → digits of a worked line
}

type viewOnce struct {
	sync.Once
	v *view
}

// view returns the shared data of a release, made on first use.
func (t *Theme) view(in *Input) *view {
	in.once.Do(func() { in.once.v = newView(t, in) })
	return in.once.v
}

func newView(t *Theme, in *Input) *view {
	// A preview makes a view with every save: the maps have their sizes at once.
	figures, pages, limits := len(in.Result.Figures()), len(in.Manual.Pages), len(in.Result.Limits())
	links := 0
	for _, p := range in.Manual.Pages {
		links += len(p.Links)
	}
	v := &view{
		t: t, in: in, w: wordsFor(language(in)),
		sheet:    make(map[string]int, pages),
		shownOn:  make(map[string][]*content.Page, figures),
		limits:   map[string][]*calc.Limit{},
		blockOn:  make(map[string]*content.Page, pages),
		volumeOf: make(map[*content.Page]*Volume, pages),
		links:    make(map[any]*content.Link, links),
		children: map[string][]*calc.Figure{},
		inBlock:  make(map[string][]*calc.Figure, pages),
		byStmt:   make(map[*syntax.Limit]*calc.Limit, limits),
		judged:   make(map[string]bool, limits),
		judging:  make(map[string][]*calc.Limit, limits),
	}
	for _, c := range in.Result.CrossChecks() {
		if c.Figure != nil {
			v.judged[c.Figure.Name] = true
		}
		if c.Second != nil {
			for _, f := range c.Second.Uses {
				v.judged[f.Name] = true
			}
		}
	}
	for _, f := range in.Result.Figures() {
		if f.Parent != nil {
			v.children[f.Parent.Name] = append(v.children[f.Parent.Name], f)
		}
		if f.Block != "" {
			v.inBlock[f.Block] = append(v.inBlock[f.Block], f)
		}
	}
	for i, p := range in.Manual.Pages {
		v.sheet[p.ID] = i + 1
		for _, b := range p.Blocks {
			v.blockOn[b] = p
		}
		for _, l := range p.Links {
			v.links[l.Node] = l
		}
		for _, name := range v.figuresOn(p) {
			v.shownOn[name] = append(v.shownOn[name], p)
		}
	}
	for _, l := range in.Result.Limits() {
		v.byStmt[l.Stmt] = l
		for _, f := range l.Uses {
			v.judged[f.Name] = true
			v.judging[f.Name] = append(v.judging[f.Name], l)
		}
		for _, m := range l.Message {
			if m.Shown != nil {
				for _, f := range m.Shown.Uses {
					v.judged[f.Name] = true
				}
			}
		}
		if l.Block != "" {
			continue
		}
		for _, f := range l.Uses {
			v.limits[f.Name] = append(v.limits[f.Name], l)
		}
	}
	v.parts = in.Manual.Totals(in.Result.Shown)
	v.sheets, v.bar = sync.OnceValue(v.writeSheets), sync.OnceValue(v.writeBar)
	v.bind()
	v.homes = sync.OnceValue(v.findHomes) // no page needs them
	return v
}

func language(in *Input) string {
	if l := in.Manual.Config.Language; l != "" {
		return l
	}
	return in.Site.Language
}

// figuresOn gives the names of the figures that a page shows, each once: those
// in its text, in its checks and quantities, and those its calc blocks define.
func (v *view) figuresOn(p *content.Page) []string {
	var names []string
	seen := map[string]bool{}
	add := func(f *calc.Figure) {
		if f != nil && !seen[f.Name] {
			seen[f.Name] = true
			names = append(names, f.Name)
		}
	}
	for _, i := range p.Exprs {
		s := v.in.Result.Shown(i)
		if s == nil {
			continue
		}
		add(s.Figure)
		for _, f := range s.Uses {
			add(f)
		}
	}
	if len(p.Blocks) == 1 {
		for _, f := range v.inBlock[p.Blocks[0]] {
			add(f)
		}
		return names
	}
	var figures []*calc.Figure
	for i, b := range p.Blocks {
		if !slices.Contains(p.Blocks[:i], b) {
			figures = append(figures, v.inBlock[b]...)
		}
	}
	slices.SortFunc(figures, func(a, b *calc.Figure) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range figures {
		add(f)
	}
	return names
}

// A sheetRef is a link to a sheet.
type sheetRef struct {
	Mark  string // "4", "P"
	Title string
	Short string // for the bar
	Href  string
}

// registers lists the registers of a release, in the order of its index.
func (v *view) registers() []sheetRef {
	return []sheetRef{
		{"P", v.w.PartsTitle, v.w.PartsShort, "parts.html"},
		{"C", v.w.ChecksTitle, v.w.ChecksShort, "checks.html"},
		{"L", v.w.LimitsTitle, v.w.LimitsShort, "limits.html"},
		{"F", v.w.FiguresTitle, v.w.FiguresShort, "figures.html"},
		{"M", v.w.MethodsTitle, v.w.MethodsShort, "methods.html"},
		{"R", v.w.ReasonsTitle, "", "reasons.html"},
		{"Δ", v.w.ChangesTitle, v.w.ChangesShort, "changes.html"},
		{"E", v.w.releaseWords().ErrataTitle, "", "errata.html"},
		{"?", v.w.releaseWords().WhichTitle, "", "which.html"},
		{"W", v.w.WholeTitle, "", "whole.html"},
	}
}

// indexAll is up to how many pages the index on every sheet lists them all.
// That of a larger manual lists those near the sheet, and the cover, which lists
// all: the whole list on each of n pages would take n squared.
const (
	indexAll  = 120
	indexNear = 30 // before and after the sheet
)

// An index is a list of links that stands on every sheet, written once.
type index struct {
	head  string
	cover string   // a link to the cover, for an index that is cut
	pages []string // a link each
	tail  string
}

// at is the list as it stands on a sheet, which it marks.
func (x index) at(v *view, here shell) string {
	links, cover := x.pages, ""
	if len(links) > indexAll {
		at := 0
		if here.Page != nil {
			at = v.sheet[here.Page.ID] - 1
		}
		// As many on each side as are missing on the other.
		from := max(0, min(at-indexNear, len(links)-2*indexNear-1))
		links, cover = links[from:min(len(links), from+2*indexNear+1)], x.cover
	}
	s := x.head + cover + strings.Join(links, "") + x.tail
	link := `<a href="` + escHref(here.File) + `"`
	return strings.Replace(s, link, link+` aria-current="page"`, 1)
}

// writeSheets writes the index of sheets. A preview writes it with every save.
func (v *view) writeSheets() index {
	item := func(r sheetRef) string {
		return `<li><a href="` + escHref(r.Href) + `"><span>` + esc(r.Mark) + `</span> ` + esc(r.Title) + `</a></li>`
	}
	x := index{
		head:  "<h2>" + esc(v.w.Sheets) + "</h2>\n<ol>",
		cover: item(sheetRef{Mark: "0", Title: v.w.Cover, Href: "index.html"}),
		tail:  "</ol>\n<h2>" + esc(v.w.Registers) + "</h2>\n<ol>",
	}
	for _, p := range v.in.Manual.Pages {
		x.pages = append(x.pages, item(v.pageRef(p)))
	}
	for _, r := range v.registers() {
		x.tail += item(r)
	}
	x.tail += "</ol>\n"
	return x
}

// writeBar writes the links to registers in the bar.
func (v *view) writeBar() index {
	var x index
	for _, r := range v.registers() {
		if r.Short != "" {
			x.head += `<a href="` + escHref(r.Href) + `">` + esc(r.Short) + `</a>`
		}
	}
	return x
}

func (v *view) pageRef(p *content.Page) sheetRef {
	return sheetRef{Mark: strconv.Itoa(v.sheet[p.ID]), Title: v.title(p), Href: p.ID + ".html"}
}

// fill is a text with its figures as values; plain is the text where it has none.
func (v *view) fill(parts []content.FilledPart, plain string) string {
	if len(parts) == 0 {
		return plain
	}
	return content.Fill(parts, func(expr int) string { return v.shownText(v.in.Result.Shown(expr)) })
}

func (v *view) title(p *content.Page) string { return v.fill(p.TitleParts, p.Title) }

func (v *view) refsOf(pages []*content.Page) []sheetRef {
	refs := make([]sheetRef, len(pages))
	for i, p := range pages {
		refs[i] = v.pageRef(p)
	}
	return refs
}

func (v *view) page(id string) *content.Page {
	if n := v.sheet[id]; n > 0 {
		return v.in.Manual.Pages[n-1]
	}
	return nil
}

// picture finds a picture that a page shows by the address written there, and
// gives its address from a sheet of the release.
func (v *view) picture(dest string) (*content.Picture, string) {
	p := v.in.Manual.Pictures[path.Join("pages", dest)]
	if p == nil {
		p = v.in.Manual.Pictures[path.Clean(dest)]
	}
	if p == nil {
		return nil, dest
	}
	return p, p.Path
}

// A place is where something stands: a sheet and a step on it.
type place struct {
	Href, Text string
}

func (v *view) placeOf(p *content.Page, s *content.Step) place {
	if p == nil {
		return place{}
	}
	n := strconv.Itoa(v.sheet[p.ID])
	if s != nil {
		return place{p.ID + ".html#" + s.ID, v.w.Sheet + nbsp + n + ", " + v.w.Step + nbsp + strconv.Itoa(s.Number)}
	}
	return place{p.ID + ".html", v.w.Sheet + nbsp + n}
}

func figureID(name string) string     { return "f/" + name }
func limitID(l *calc.Limit) string    { return "l/" + l.Name }
func checkID(c *content.Check) string { return "c/" + c.ID }
