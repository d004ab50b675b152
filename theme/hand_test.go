package theme

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/content"
)

// A small manual made by hand: no part of calc runs, so that these tests speak
// of the theme alone. All values are invented.

type fakeResults struct {
	figures []*calc.Figure
	limits  []*calc.Limit
	checks  []*calc.CrossCheck
	shown   []*calc.Shown
}

func (r *fakeResults) Figures() []*calc.Figure         { return r.figures }
func (r *fakeResults) Limits() []*calc.Limit           { return r.limits }
func (r *fakeResults) CrossChecks() []*calc.CrossCheck { return r.checks }
func (r *fakeResults) Shown(i int) *calc.Shown {
	if i < 0 || i >= len(r.shown) {
		return nil
	}
	return r.shown[i]
}
func (r *fakeResults) Ref(x syntax.Expr) *calc.Figure {
	switch x := x.(type) {
	case *syntax.Name:
		if f := r.Figure("belt." + x.Name); f != nil {
			return f
		}
		return r.Figure(x.Name)
	case *syntax.Field:
		if n, ok := x.X.(*syntax.Name); ok {
			return r.Figure(n.Name + "." + x.Name.Name)
		}
	}
	return nil
}
func (r *fakeResults) Call(*syntax.Call) *calc.ModelCall { return nil }
func (r *fakeResults) Rework(syntax.Expr, map[string]float64) (float64, bool) {
	return 0, false
}
func (r *fakeResults) Sweep(_ string, at []float64, exprs []int) ([][]float64, diag.List) {
	out := make([][]float64, len(exprs))
	for i := range exprs {
		for _, t := range at {
			out[i] = append(out[i], 28+(t-293.15)*0.688/float64(1+10*i))
		}
	}
	return out, nil
}
func (r *fakeResults) Figure(name string) *calc.Figure {
	for _, f := range r.figures {
		if f.Name == name {
			return f
		}
	}
	return nil
}

var (
	newton = unit.Unit{Symbol: "N", Factor: 1}
	mm     = unit.Unit{Symbol: "mm", Factor: 1e-3}
	degC   = unit.Unit{Symbol: "°C", Factor: 1, Offset: 273.15, Point: true}
	kg     = unit.Unit{Symbol: "kg", Factor: 1}
	plain  = unit.Unit{Factor: 1}
	hertz  = unit.Unit{Symbol: "Hz", Factor: 1}
)

// ex parses an expression.
func ex(s string) syntax.Expr {
	f := diag.NewFile("design.calc", []byte(s))
	x, list := syntax.ParseExpr(f, []syntax.Seg{{Start: 0, End: len(s)}})
	if list.HasErrors() {
		panic(list.Error())
	}
	return x
}

func ident(s string) syntax.Ident { return syntax.Ident{Name: s} }

type handFigure struct{ parser.InlineParser }

func (handFigure) Trigger() []byte { return []byte{'{'} }

var figureMark = regexp.MustCompile(`^\{=(\d+)\}`)

func (handFigure) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, _ := block.PeekLine()
	m := figureMark.FindSubmatch(line)
	if m == nil {
		return nil
	}
	block.Advance(len(m[0]))
	n, _ := strconv.Atoi(string(m[1]))
	return &content.FigureNode{Expr: n}
}

// handPage parses a page and puts our nodes where a fence names them.
func handPage(id, src string, nodes map[string]ast.Node) *content.Page {
	md := goldmark.New(goldmark.WithExtensions(extension.GFM, extension.Footnote), goldmark.WithParserOptions(
		parser.WithInlineParsers(util.Prioritized(handFigure{}, 50))))
	p := &content.Page{ID: id, File: diag.NewFile("pages/"+id+".md", []byte(src))}
	p.Doc = md.Parser().Parse(text.NewReader(p.File.Text))
	for n := p.Doc.FirstChild(); n != nil; {
		next := n.NextSibling()
		switch x := n.(type) {
		case *ast.Heading:
			title := string(x.Text(p.File.Text)) //nolint:staticcheck
			if x.Level == 1 {
				p.Title = title
			} else {
				h := &content.Heading{ID: "s" + strconv.Itoa(len(p.Headings)+1), Level: x.Level, Text: title, Node: x}
				p.Headings = append(p.Headings, h)
				if x.Level == 2 {
					p.Steps = append(p.Steps, &content.Step{ID: h.ID, Number: len(p.Steps) + 1, Title: title, Heading: x})
				}
			}
		case *ast.FencedCodeBlock:
			if ours := nodes[string(x.Info.Segment.Value(p.File.Text))]; ours != nil {
				p.Doc.ReplaceChild(p.Doc, n, ours)
			}
		case *ast.Blockquote:
			panel := &content.PanelNode{Panel: &content.Panel{Signal: "warning", ID: "hot", Page: p, Text: "Hot lamp tubes"}}
			for c := x.FirstChild(); c != nil; {
				nx := c.NextSibling()
				panel.AppendChild(panel, c)
				c = nx
			}
			p.Doc.ReplaceChild(p.Doc, n, panel)
			p.Panels = append(p.Panels, panel.Panel)
		}
		n = next
	}
	return p
}

func handInput() *Input {
	r := &fakeResults{}
	fig := func(name, block, caption string, val float64, u unit.Unit, x syntax.Expr) *calc.Figure {
		local := name
		if block != "" {
			local = name[len(block)+1:]
		}
		f := &calc.Figure{Name: name, Block: block, Local: local, Caption: caption, Value: val, Unit: u,
			Def: &syntax.Def{Name: ident(local), X: x, Caption: caption}}
		r.figures = append(r.figures, f)
		return f
	}
	bay := fig("bay_hot", "", "air around the belt after two hours", 341.15, degC, ex("68 °C"))
	bay.Parameter, bay.Fixed, bay.From, bay.Because = true, true, "measured, three runs", "the bay stays below the belt's rating"
	fig("belt.growth_frame", "belt", "growth of the frame", 0.000766, mm, ex("expansion * span * (bay_hot - 20 °C)"))
	fig("belt.growth_belt", "belt", "growth of the belt", 0.00012, mm, ex("0.12 mm"))
	fig("belt.span", "belt", "free span", 0.642, mm, ex("642 mm"))
	cold := fig("belt.cold", "belt", "tension at room temperature", 28, newton, ex("28 N"))
	cold.Fixed = true
	loop := fig("belt.loop", "belt", "length of the loop", 1.384, mm, ex("2 * centre * cos(wrap) + pi * (pulley_d + pulley_D) / 2"))
	loop.Spread = &calc.Spread{Std: 0.00035, U: 0.0007, K: 2, TolLo: .0004, TolHi: .0004, Shares: []calc.Share{{Name: "bay_hot", Part: .92}}}
	hot := fig("belt.hot", "belt", "tension with fixed centres", 61.04, newton, ex("cold + (growth_frame - growth_belt) / (span / stiffness + gain^2 / k_spring)"))
	hot.Uses = []*calc.Figure{cold, bay}
	hot.Spread = &calc.Spread{Ranged: true, Low: 55, High: 68}
	spec := &model.Spec{Name: "belt_drift", Title: "Tension of a belt over a warming frame", Topic: "belt",
		Args: []model.Arg{{Name: "length", Unit: "m", Doc: "free span"}}, Results: []model.Res{{Name: "hot", Unit: "N", Doc: "tension hot"}},
		Formula: []string{"hot = cold + k * growth"}, Source: "derived; from memory", Range: "spans from 0.1 m to 3 m"}
	hot.Models = []*calc.ModelCall{{Spec: spec, Args: []calc.ModelArg{{Name: "length", Value: 1.384, Unit: mm}}, Out: []model.Outside{{Arg: "length", Msg: "length 3.2 m is above 3 m"}}}}
	mass := fig("mass", "", "mass of a full reservoir", 4.82, kg, ex("fill * bulk in kg"))
	bay.UsedBy, cold.UsedBy = []*calc.Figure{hot}, []*calc.Figure{hot}

	show := func(f *calc.Figure, number string) int {
		r.shown = append(r.shown, &calc.Shown{Expr: &calc.Expr{X: f.Def.X}, Figure: f, Uses: []*calc.Figure{f}, Value: f.Value, Unit: f.Unit, Number: number, Spread: f.Spread})
		return len(r.shown) - 1
	}
	eLoop, eCold, eHot, eBay := show(loop, "1384"), show(cold, "28"), show(hot, "61"), show(bay, "68")
	lit := func(n string, v float64, u unit.Unit) int {
		r.shown = append(r.shown, &calc.Shown{Expr: &calc.Expr{X: ex(n)}, Value: v, Unit: u, Number: n})
		return len(r.shown) - 1
	}
	eOne, eFour := lit("1", 1, plain), lit("4", 4, plain)
	eFreq := lit("64.8", 64.8, hertz)
	r.shown[eFreq].Plus, r.shown[eFreq].Minus = "3", "3"
	r.shown[eFreq].Expr.Own.Tol = &syntax.Tolerance{}
	eSpread := show(loop, "1384")
	r.shown[eSpread].Expr.Spread = true
	r.shown[eSpread].Uncertain = "0.7"
	eMass := show(mass, "4.8")

	eFrom, eTo := lit("20", 293.15, degC), lit("68", 341.15, degC)
	eIdler, eRated := lit("31", 31, newton), lit("55", 55, newton)
	lim := &syntax.Limit{Name: ident("shaft"), Cond: ex("2 * hot <= 110 N"), Caption: "load on the idler shaft"}
	bad := &syntax.Limit{Name: ident("load"), Cond: ex("mass <= 4.5 kg"), Caption: "one person lifts it"}
	limitSide := func(n string, u unit.Unit) *calc.Shown { return &calc.Shown{Number: n, Unit: u, Value: 1.0} }
	r.limits = []*calc.Limit{
		{Name: "load", Stmt: bad, Signal: "caution", Verdict: calc.Broken, Op: syntax.OpLE, Left: limitSide("4.82", kg), Right: limitSide("4.5", kg), Margin: -.32, Ratio: .933,
			Message: []calc.MessagePart{{Text: "A full reservoir weighs "}, {Shown: r.shown[eMass]}, {Text: ": lift it with both hands."}}, Uses: []*calc.Figure{mass}, Accepted: "lifted once a year, by two people"},
		{Name: "belt.shaft", Block: "belt", Stmt: lim, Signal: "warning", Verdict: calc.Searched, Nominal: true, Op: syntax.OpLE, Left: limitSide("62.4", newton), Right: limitSide("110", newton), Margin: 47.6, Ratio: 1.7628, Uses: []*calc.Figure{hot}},
	}
	// Figures come sorted by name.
	sortFigures(r.figures)

	sheet := &syntax.Sheet{Stmts: []syntax.Stmt{
		&syntax.Remark{Text: "Belt tension, cold and hot"},
		cold.Def, r.Figure("belt.growth_frame").Def, loop.Def, hot.Def, lim,
	}}
	m := &content.Manual{
		Config: content.Config{Title: "Fenbank bench sinterer", Language: "en", Publisher: "Fenbank Tool Library",
			Licence: content.Licence{Design: "CERN-OHL-S-2.0", Text: "CC-BY-SA-4.0"}, Release: "2.0-rc1", Report: "https://example.org/report?r={release}&p={page}&s={step}"},
	}
	blade := &content.Part{ID: "blade", Name: "Blade", Specification: "10 mm plate, 180 mm long", Kind: "made", Material: "EN AW-6082"}
	screw := &content.Part{ID: "m4x16", Name: "Screw M4 × 16", Specification: "ISO 4762, 8.8", Kind: "standard", Pack: 50, Spare: 2}
	key := &content.Part{ID: "hex3", Name: "hex key 3 mm", Kind: "tool"}
	m.Parts = []*content.Part{blade, screw, key}
	uses := &content.UsesNode{}
	measure := &content.MeasureNode{}
	start := handPage("start", "# Start here and safety\n\nRead this first.\n\n> **Hot lamp tubes.** Wait until they read below {="+strconv.Itoa(eBay)+"}.\n", nil)
	start.Exprs = []int{eBay}
	plot := &content.Plot{ID: "rise", Title: "Belt tension against bay temperature", Caption: "Fixed centres pass the allowable tension; the sprung idler never does.",
		Lines: []content.PlotLine{{Expr: eHot, Label: "fixed centres"}, {Expr: eIdler, Label: "sprung idler"}}, Against: eBay, Param: "bay_hot", AgainstLabel: "bay temperature",
		From: eFrom, To: eTo, Marks: []content.PlotLine{{Expr: eRated, Label: "allowable 55 N"}}, Map: -1}
	page := handPage("recoater", `# Recoater and belt

The loop is {=`+strconv.Itoa(eLoop)+`} long. Set it to {=`+strconv.Itoa(eCold)+`} at room temperature. With fixed centres it would reach {=`+strconv.Itoa(eHot)+`} once the bay is at {=`+strconv.Itoa(eBay)+`}; known as {=`+strconv.Itoa(eSpread)+`}. It weighs {=`+strconv.Itoa(eMass)+`}.

## Fit the blade between the carriages

`+"```uses\n```"+`

> **Hot lamp tubes.** Touching them burns the skin. Wait until the clamps read below {=`+strconv.Itoa(eBay)+`}.

Tighten the four screws crosswise.[^1] See [the start](start.md).

- [ ] blade slides freely
- [x] screws marked

[^1]: Twice, a minute apart.

## Set the belt tension

`+"```belt\n```"+`

| bay | tension |
|---|---:|
| cold | {=`+strconv.Itoa(eCold)+`} |
| hot | {=`+strconv.Itoa(eHot)+`} |

`+"```rise\n```\n\n```measure\n```\n\n```go\nfunc main() { println(\"hi\") } // say it\n```\n",
		map[string]ast.Node{"rise": &content.PlotNode{Plot: plot}, "uses": uses, "measure": measure, "belt": &content.CalcNode{Name: "belt", Sheet: sheet, Title: "Belt tension, cold and hot"}})
	page.Data = content.PageData{Summary: "The blade spreads each layer. It rides on two guides and is pulled by one belt.", Time: "1 h 40 min", People: "1", Skill: "careful fitting", Needs: []string{"start"}}
	page.Exprs = []int{eLoop, eCold, eHot, eBay, eMass}
	page.Blocks = []string{"belt"}
	step := page.Steps[0]
	step.Uses = []*content.Use{
		{Part: blade, ID: "blade", Expr: eOne, Page: page, Step: step},
		{Part: screw, ID: "m4x16", Expr: eFour, Page: page, Step: step, Note: "oiled"},
	}
	step.Tools = []*content.Use{{Part: key, ID: "hex3", Tool: true, Expr: -1, Page: page, Step: step}}
	page.Uses = append(append([]*content.Use(nil), step.Uses...), step.Tools...)
	uses.Uses = append(append([]*content.Use(nil), step.Uses...), step.Tools...)
	measure.Checks = []*content.Check{
		{ID: "recoater.span", What: "Free span, plucked", Expr: eFreq, With: "tuner, at 20 °C", Page: page, Step: page.Steps[1], Number: "C 2.1"},
		{ID: "recoater.bind", What: "The blade slides without binding", Expr: -1, With: "by hand", Page: page, Step: page.Steps[1], Number: "C 2.2"},
	}
	page.Checks = measure.Checks
	m.Pages = []*content.Page{start, page}
	_ = ast.Walk(page.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if l, ok := n.(*ast.Link); ok && entering {
			page.Links = append(page.Links, &content.Link{Node: l, Target: string(l.Destination), Page: start})
		}
		return ast.WalkContinue, nil
	})
	site := &Site{Title: "Fenbank bench sinterer", Summary: "A bench machine that sinters powder.", Notice: "Invented data: not a machine to build.", Language: "en", Publisher: "Fenbank Tool Library",
		Releases: []*Release{
			{Name: "2.0-rc1", Dir: "2.0-rc1", Date: "2026-11-25", Status: Candidate, Summary: "A sprung idler keeps the belt's tension.", Pages: map[string]string{"start": "Start", "recoater": "Recoater"}, Tell: "The idler has a spring."},
			{Name: "1.1", Dir: "1.1", Date: "2026-08-01", Status: Current, Pages: map[string]string{"start": "Start", "recoater": "Recoater"}, Errata: []Erratum{{Page: "recoater", Text: "The tension is too high.", Fixed: "2.0"}}},
			{Name: "1.0", Dir: "1.0", Date: "2026-03-01", Status: Earlier, Pages: map[string]string{"start": "Start"}},
		}}
	return &Input{Site: site, Release: site.Releases[0], Manual: m, Result: r, Checksum: "8f3a 91c2 07de", Tool: "Workings 0.1",
		Changes: func() *Changes {
			return &Changes{From: site.Releases[1], Figures: []FigureChange{
				{Name: "bay_hot", Caption: bay.Caption, Kind: Changed, Parameter: true, Old: "64", New: "68", Unit: "°C", Because: "measured again with the lid closed"},
				{Name: "belt.hot", Caption: hot.Caption, Kind: Changed, Old: "57.2", New: "61.0", Unit: "N", Delta: "3.8", DeltaUnit: "N",
					Causes: []Cause{{Kind: CauseValue, Names: []string{"bay_hot"}, Measured: true, Part: 1, Percent: "100", Amount: "3.8", Chain: []string{"bay_hot", "belt.hot"}, Ways: 1}}},
				{Name: "old", Kind: Removed, Old: "3", Unit: "mm"},
			}, Redo: []Redo{{Page: "recoater", PageTitle: "Recoater and belt", Step: "s2", StepTitle: "Set the belt tension",
				Why: []Why{{Kind: WhyFigure, Name: "belt.hot", Old: Amount{Text: "57.2", Unit: "N"}, New: Amount{Text: "61.0", Unit: "N"}}}}}}
		},
	}
}

func sortFigures(f []*calc.Figure) {
	for i := range f {
		for j := i; j > 0 && f[j].Name < f[j-1].Name; j-- {
			f[j], f[j-1] = f[j-1], f[j]
		}
	}
}

// sheets renders every sheet of an input, by file name.
func sheets(t testing.TB, in *Input) map[string][]byte {
	t.Helper()
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	put := func(name string, b []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = b
	}
	dir := in.Release.Dir + "/"
	for _, p := range in.Manual.Pages {
		b, err := th.Page(in, p)
		put(dir+p.ID+".html", b, err)
	}
	for _, x := range th.Volumes(in) {
		b, err := th.Workings(in, x)
		put(dir+x.File, b, err)
	}
	for name, f := range map[string]func(*Input) ([]byte, error){
		"limits": th.Limits, "figures": th.Figures, "parts": th.Parts, "checks": th.Checks,
		"errata": th.Errata, "which": th.Which, "reasons": th.Reasons,
		"changes": th.Changes, "methods": th.Methods, "index": th.Index, "whole": th.Whole,
	} {
		b, err := f(in)
		put(dir+name+".html", b, err)
	}
	b, err := th.Cover(in.Site, in.Tool)
	put("index.html", b, err)
	out[dir+"offline.zip"] = []byte("made by build")
	return out
}
