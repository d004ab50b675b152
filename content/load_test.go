package content

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/syntax"
)

// bench is a small manual without mistakes that uses everything.
var bench = map[string]string{
	"manual.toml": `title = "Bench"
release = "1.1"
date = 2026-11-25
authors = ["the makers"]
report = "mailto:bench@example.org?subject={release} {page} {step}"

[licence]
design = "CERN-OHL-S-2.0"

[[releases]]
name = "1.0"
zip = "releases/1.0.zip"
`,
	"design.calc": "bay_hot = 68 °C\nloop = 2400 mm\npull = 40 N\n",
	"parts.csv": "\"id\",\"name\",\"mass (g)\",\"price (EUR)\",\"kind\",\"pack\",\"by length\",\"shop shelf\"\n" +
		"screw_m4x16,\"Screw, M4 x 16\",1.9,0.08,bought,50,,A3\n" +
		"cord,Cord,,1.20,bought,,yes,\n" +
		"hex_key_3,Hex key 3 mm,,,tool,,,\n",
	"pictures/frame.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="2in" viewBox="0 0 200 50"></svg>`,
	"tables/lamps.csv":   "id,length (mm)\na,3\n",
	"pages/10-start.md": `# Start at {= bay_hot }

` + "```page" + `
summary = "What to do first"
needs = ["frame-top"]

[reasons]
loop = "quieter"
` + "```" + `

Read [the frame](frame-top.md#cut-the-cord-long) and [its *{= loop }* cord](20-frame-top.md).
`,
	"pages/20-frame-top.md": `# Frame

Before the steps.

` + "```measure" + `
flat "the bench is flat"
` + "```" + `

## Cut the cord {= loop } long

> **WARNING** The cord whips at {= pull }.
>
> - Wear *goggles*.

1. Cut it:

   ` + "```uses" + `
   cord: loop + 40 mm in mm  "cut square"
   tool hex_key_3
   screw_m4x16: 4   # two spare
   ` + "```" + `

   > ` + "```measure" + `
   > length "cord, stretched": loop with "tape" note "twice"
   > ` + "```" + `

## Ångström & "größe" ` + "`code`" + ` {#own}

| a | b |
|---|---|
| {= loop } | ` + "`{= loop }`" + ` and \{= |

![frame {= loop }](../pictures/frame.svg "At {= bay_hot }")

` + "```calc hidden" + `
own = loop
` + "```" + `

` + "```calc cords results \"Cords\"" + `
two = loop
` + "```" + `

` + "```plot pulls" + `
title "Pull at {= pull }"
line pull "cord"
against bay_hot from 20 °C to 80 °C "air"
mark 60 N "limit"
band 20 N to 40 N "good"
` + "```" + `

` + "```gcode filled" + `
G1 X{= loop } ; \{= stays
` + "```" + `

Noted[^a] and **{= loop }**[^a].

[^a]: At {= pull } *{= pull }*.

## Cut the cord {= pull } long
`,
}

func written(m *Manual, i int) string {
	if i < 0 {
		return ""
	}
	return strings.TrimSpace(m.Exprs[i].X.Span().Text())
}

func benchManual(t *testing.T) *Manual {
	t.Helper()
	m, list := testManual(t, bench)
	if len(list) != 0 {
		t.Fatalf("a good manual is reported:\n%s", list.Error())
	}
	checkSpans(t, m, list)
	return m
}

func TestLoad(t *testing.T) {
	m := benchManual(t)
	if got := m.Config; got.Title != "Bench" || got.Release != "1.1" || got.Language != "en" ||
		!got.Date.Equal(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)) || got.Licence.Design != "CERN-OHL-S-2.0" ||
		len(got.Releases) != 1 || got.Releases[0].Zip != "releases/1.0.zip" || got.Releases[0].Pos.Text() != "releases" {
		t.Errorf("Config = %+v", got)
	}
	var blocks []string
	for _, b := range m.Blocks {
		blocks = append(blocks, b.Name)
	}
	if want := []string{"", "frame_top", "cords"}; !reflect.DeepEqual(blocks, want) {
		t.Errorf("blocks %q, want %q", blocks, want)
	}
	if len(m.Pages) != 2 || m.Pages[0].ID != "start" || m.Pages[1].ID != "frame-top" {
		t.Fatalf("pages %v", m.Pages)
	}
	start, frame := m.Pages[0], m.Pages[1]
	if start.Title != "Start at {= bay_hot }" || Fill(start.TitleParts, func(i int) string { return "<" + written(m, i) + ">" }) != "Start at <bay_hot>" {
		t.Errorf("title %q, parts %v", start.Title, start.TitleParts)
	}
	if start.Summary != "What to do first" || start.Data.Reasons["loop"] != "quieter" {
		t.Errorf("page data %+v", start.Data)
	}
	if start.Scope != "" || frame.Scope != "frame_top" || !reflect.DeepEqual(frame.Blocks, []string{"frame_top", "cords"}) {
		t.Errorf("scopes %q %q, blocks %q", start.Scope, frame.Scope, frame.Blocks)
	}
	for _, p := range m.Pages {
		for _, i := range p.Exprs {
			if m.Exprs[i].Scope != p.Scope {
				t.Errorf("%s: %s is looked up in %q", p.ID, written(m, i), m.Exprs[i].Scope)
			}
		}
	}
	if len(start.Links) != 2 || start.Links[0].Page != frame || start.Links[0].Anchor != "cut-the-cord-long" {
		t.Errorf("links %+v", start.Links)
	}
	figures := 0
	_ = ast.Walk(frame.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if _, ok := n.(*FigureNode); ok && entering {
			figures++
		}
		if f, ok := n.(*FigureNode); ok && entering && strings.Trim(f.At.Text(), "{=} ") != written(m, f.Expr) {
			t.Errorf("figure %s has the expression %s", f.At.Text(), written(m, f.Expr))
		}
		return ast.WalkContinue, nil
	})
	// Two in headings and one each in panel, table, picture's text, bold text; two in the footnote.
	if figures != 8 {
		t.Errorf("%d figures in the tree, want 8", figures)
	}
}

func TestSteps(t *testing.T) {
	m := benchManual(t)
	p := m.Pages[1]
	var got []string
	for _, s := range p.Steps {
		got = append(got, fmt.Sprintf("%d %s %q", s.Number, s.ID, s.Title))
	}
	want := []string{
		`1 cut-the-cord-long "Cut the cord {= loop } long"`,
		`2 own "Ångström & \"größe\" code"`,
		`3 cut-the-cord-long-2 "Cut the cord {= pull } long"`,
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("steps\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if len(m.Pages[0].Steps) != 0 {
		t.Error("a page without uses and checks has steps")
	}
	s := p.Steps[0]
	if len(s.Uses) != 2 || len(s.Tools) != 1 || len(s.Checks) != 1 || len(p.Uses) != 3 || len(p.Checks) != 2 {
		t.Fatalf("step %+v of page %+v", s, p)
	}
	cord, screw := s.Uses[0], s.Uses[1]
	if cord.Part.ID != "cord" || written(m, cord.Expr) != "loop + 40 mm in mm" || cord.Note != "cut square" || m.Exprs[cord.Expr].Want != calc.WantNumber {
		t.Errorf("cord: %+v %q", cord, written(m, cord.Expr))
	}
	if written(m, screw.Expr) != "4" || m.Exprs[screw.Expr].Want != calc.WantCount || screw.Step != s || screw.Page != p {
		t.Errorf("screw: %+v %q", screw, written(m, screw.Expr))
	}
	if tool := s.Tools[0]; tool.Part.ID != "hex_key_3" || tool.Expr != -1 {
		t.Errorf("tool: %+v", tool)
	}
	if c := p.Checks[0]; c.ID != "frame_top.flat" || c.Expr != -1 || c.Step != nil || c.Number != "C 2.1" {
		t.Errorf("check: %+v", c)
	}
	if c := s.Checks[0]; c.ID != "frame_top.length" || written(m, c.Expr) != "loop" || c.With != "tape" || c.Note != "twice" ||
		c.Number != "C 2.2" || c.Step != s || m.Exprs[c.Expr].Want != calc.WantNumber || !m.Exprs[c.Expr].Spread {
		t.Errorf("check: %+v", c)
	}
}

func TestPanel(t *testing.T) {
	m := benchManual(t)
	p := m.Pages[1]
	if len(p.Panels) != 1 {
		t.Fatalf("%d panels", len(p.Panels))
	}
	a := p.Panels[0]
	if a.Signal != "warning" || a.ID != "warning-1" || a.Step != p.Steps[0] || a.Text != "The cord whips at {= pull }. Wear goggles." {
		t.Errorf("panel %+v", a)
	}
	if s := Fill(a.Parts, func(i int) string { return written(m, i) }); s != "The cord whips at pull. Wear goggles." {
		t.Errorf("panel with its figure: %q", s)
	}
	if a.Node.ChildCount() != 2 || a.Node.LastChild().Kind() != ast.KindList || a.Node.Kind() != KindPanel {
		t.Error("the panel does not hold its paragraph and its list")
	}
}

func TestPlotBlock(t *testing.T) {
	m := benchManual(t)
	p := m.Pages[1].Plots[0]
	if p.ID != "pulls" || p.Title != "Pull at {= pull }" || len(p.TitleParts) != 2 || p.TitleParts[1].Expr < 0 || p.CaptionParts != nil {
		t.Errorf("plot %+v", p)
	}
	if len(p.Lines) != 1 || written(m, p.Lines[0].Expr) != "pull" || p.Lines[0].Label != "cord" || m.Exprs[p.Lines[0].Expr].Sweep != "bay_hot" {
		t.Errorf("lines %+v", p.Lines)
	}
	if p.Param != "bay_hot" || written(m, p.Against) != "bay_hot" || written(m, p.From) != "20 °C" || written(m, p.To) != "80 °C" || p.AgainstLabel != "air" || p.Map != -1 {
		t.Errorf("plot %+v: %q %q %q", p, written(m, p.Against), written(m, p.From), written(m, p.To))
	}
	if len(p.Marks) != 1 || written(m, p.Marks[0].Expr) != "60 N" || len(p.Bands) != 1 || written(m, p.Bands[0].Low) != "20 N" || written(m, p.Bands[0].High) != "40 N" {
		t.Errorf("marks %+v bands %+v", p.Marks, p.Bands)
	}
}

func TestNodes(t *testing.T) {
	m := benchManual(t)
	p := m.Pages[1]
	var got []string
	_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *CalcNode:
			got = append(got, fmt.Sprintf("calc %s %s %q", n.Name, n.Mode, n.Title))
		case *FilledNode:
			got = append(got, fmt.Sprintf("%s %q", n.Language, Fill(n.Parts, func(i int) string { return "<" + written(m, i) + ">" })))
		case *ast.FencedCodeBlock:
			got = append(got, "fence "+string(n.Language(p.File.Text)))
		}
		return ast.WalkContinue, nil
	})
	want := []string{
		`calc frame_top hidden ""`,
		`calc cords results "Cords"`,
		`gcode "G1 X<loop> ; {= stays\n"`,
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("nodes\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if pic := m.Pictures["pictures/frame.svg"]; pic == nil || pic.Width != 192 || pic.Height != 48 {
		t.Errorf("picture %+v, want 192 x 48: 2 in of 96 pixels, as high as the viewBox says", pic)
	}
	if len(p.Captions) != 1 {
		t.Fatalf("%d captions", len(p.Captions))
	}
	for _, parts := range p.Captions {
		if s := Fill(parts, func(i int) string { return written(m, i) }); s != "At bay_hot" {
			t.Errorf("caption %q", s)
		}
	}
}

func TestParts(t *testing.T) {
	m := benchManual(t)
	p := m.Parts[0]
	if p.ID != "screw_m4x16" || p.Name != "Screw, M4 x 16" || p.Mass == nil || *p.Mass != 1.9*1e-3 || p.Price == nil ||
		*p.Price != 0.08 || p.Currency != "EUR" || p.Pack != 50 || p.Length || p.Extra["shop shelf"] != "A3" {
		t.Errorf("part %+v", p)
	}
	if c := m.Parts[1]; c.Mass != nil || !c.Length || c.Extra != nil {
		t.Errorf("part %+v", c)
	}
}

// TestLineEnds reads the same manual as other systems write it: with a byte
// order mark, and with other line ends. All that is read and every place stays.
func TestLineEnds(t *testing.T) {
	plain := benchManual(t)
	other := map[string]string{}
	for name, s := range bench {
		other[name] = "\uFEFF" + strings.ReplaceAll(s, "\n", "\r\n")
	}
	m, list := testManual(t, other)
	if len(list) != 0 {
		t.Fatalf("reported:\n%s", list.Error())
	}
	if len(m.Exprs) != len(plain.Exprs) {
		t.Fatalf("%d expressions, want %d", len(m.Exprs), len(plain.Exprs))
	}
	for i := range m.Exprs {
		a, b := plain.Exprs[i].X.Span(), m.Exprs[i].X.Span()
		al, ac := a.File.Position(a.Start)
		bl, bc := b.File.Position(b.Start)
		if al != bl || ac != bc || a.Text() != b.Text() {
			t.Errorf("%q at %d:%d became %q at %d:%d", a.Text(), al, ac, b.Text(), bl, bc)
		}
	}
	if !reflect.DeepEqual(plain.Pages[1].Steps[1].Title, m.Pages[1].Steps[1].Title) {
		t.Errorf("title %q", m.Pages[1].Steps[1].Title)
	}
}

// TestPlaces finds one unknown part in every kind of container.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		name, page string
		line, col  int
	}{
		{"plain", "# T\n## S\n```uses\nnope: 1\n```\n", 4, 1},
		{"byte order mark", "\uFEFF# T\n## S\n```uses\nnope: 1\n```\n", 4, 1},
		{"other line ends", "# T\r\n## S\r\n```uses\r\n# c\r\nnope: 1\r\n```\r\n", 5, 1},
		{"list", "# T\n## S\n- a\n\n  ```uses\n  nope: 1\n  ```\n", 6, 3},
		{"quote", "# T\n## S\n> ```uses\n> nope: 1\n> ```\n", 4, 3},
		{"quote in list", "# T\n## S\n1. a\n   > ```uses\n   > nope: 1\n   > ```\n", 5, 6},
		{"tab", "# T\n## S\n-\ta\n\n\t```uses\n\tnope: 1\n\t```\n", 6, 2},
		{"after others", "# T\n## S\nGröße ☃\n\n```uses\n  nope: 1\n```\n", 6, 3},
		{"no last line end", "# T\n## S\n```uses\nnope: 1\n```", 4, 1},
	} {
		_, list := testManual(t, map[string]string{"pages/1-t.md": c.page})
		if len(list) != 1 || list[0].Code != "unknown-part" {
			t.Errorf("%s: reported\n%s", c.name, list.Error())
			continue
		}
		if line, col := list[0].Span.File.Position(list[0].Span.Start); line != c.line || col != c.col || list[0].Span.Text() != "nope" {
			t.Errorf("%s: at %d:%d over %q, want %d:%d", c.name, line, col, list[0].Span.Text(), c.line, c.col)
		}
	}
}

// TestTableBar writes a | inside a figure in a table as tables demand it, and
// outside as it is.
func TestTableBar(t *testing.T) {
	m, list := testManual(t, map[string]string{
		"pages/1-t.md": "# T\n\n| a | b |\n|---|---|\n| *{= \"x\\|y\" }* | {= \"z\" } |\n\n{= \"x|y\" }\n",
	})
	if len(list) != 0 {
		t.Fatal(list.Error())
	}
	var got []string
	for _, e := range m.Exprs {
		if s, ok := e.X.(*syntax.String); ok {
			got = append(got, s.Value)
		}
	}
	if want := []string{"x|y", "z", "x|y"}; !reflect.DeepEqual(got, want) {
		t.Errorf("texts %q, want %q", got, want)
	}
}

func TestHeadingIDs(t *testing.T) {
	for _, c := range []struct{ heading, id string }{
		{"Größe und Maß", "größe-und-maß"},
		{"中文 标题", "中文-标题"},
		{"Gro\u0308ße", "größe"}, // NFD becomes NFC
		{"Bolt M4 × 16", "bolt-m4-16"},
		{"  The `code` & *more*  ", "the-code-more"},
		{"{= x } alone", "alone"},
		{"{= x }", "section"},
		{"Pull {= x } up {#here}", "here"},
		{"A [link](#a-link) inside", "a-link-inside"},
		{"Half-way / third_way", "half-way-third-way"},
		{"&amp; and \\*", "and"},
	} {
		m, _ := testManual(t, map[string]string{"pages/1-t.md": "## " + c.heading + "\n", "design.calc": "x = 1\n"})
		if hs := m.Pages[0].Headings; len(hs) != 1 || hs[0].ID != c.id {
			t.Errorf("%s: %q, want %q", c.heading, hs[0].ID, c.id)
		}
	}
}

func TestOrder(t *testing.T) {
	page := func(order string) string {
		if order != "" {
			order = "```page\norder = " + order + "\n```\n"
		}
		return "# T\n\n" + order
	}
	files := map[string]string{
		"pages/last.md":    page(""),
		"pages/10-a.md":    page(""),
		"pages/9-b.md":     page(""),
		"pages/20-c.md":    page("5"),
		"pages/30-d.md":    page("10"),
		"pages/.hidden.md": "",
	}
	ids := func() (s []string) {
		m, list := testManual(t, files)
		if len(list) != 0 {
			t.Error(list.Error())
		}
		for _, p := range m.Pages {
			s = append(s, p.ID)
		}
		return s
	}
	if got, want := ids(), []string{"c", "b", "a", "d", "last"}; !reflect.DeepEqual(got, want) {
		t.Errorf("order %q, want %q", got, want)
	}
	files[configName] = "title = \"T\"\nrelease = \"1\"\npages = [\"last\", \"d\", \"c\", \"b\", \"a\"]\n"
	if got, want := ids(), []string{"last", "d", "c", "b", "a"}; !reflect.DeepEqual(got, want) {
		t.Errorf("order %q, want %q", got, want)
	}
}

func TestTable(t *testing.T) {
	fsys := fstest.MapFS{
		"manual.toml":      {Data: []byte("title = \"T\"\nrelease = \"1\"\n")},
		"pages/1-t.md":     {Data: []byte("# T\n")},
		"tables/lamps.csv": {Data: []byte("\uFEFFid\r\na\r\n")},
		"tables/latin.csv": {Data: []byte("Gr\xf6\xdfe\n")},
		"tables/big.csv":   {Data: make([]byte, maxTable+1)},
	}
	m, _ := Load(fsys, Options{})
	f, err := m.Table("tables/lamps.csv")
	if err != nil || string(f.Text) != "id\na\n" || m.Files["tables/lamps.csv"] != f {
		t.Errorf("Table = %v, %v", f, err)
	}
	if g, _ := m.Table("tables/lamps.csv"); g != f {
		t.Error("the second reading gives another file")
	}
	for name, want := range map[string]string{
		"../secret.csv":         "not a path inside the manual",
		"/etc/hosts":            "not a path inside the manual",
		"tables/../../x":        "not a path inside the manual",
		"tables\\lamps.csv":     "no such file",
		"tables":                "it is a folder",
		"tables/lamp.csv":       "no such file, did you mean tables/lamps.csv?",
		"tables/latin.csv":      "not UTF-8 at this place (line 1, column 3)",
		"tables/big.csv":        "more than the 16 MiB",
		"":                      "not a path inside the manual",
		"elsewhere/nothing.csv": "no such file",
	} {
		if _, err := m.Table(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Table(%q): %v, want %q", name, err, want)
		}
	}
}

func TestUnreadable(t *testing.T) {
	fsys := fstest.MapFS{
		"manual.toml":  {Data: []byte("title = \"T\"\nrelease = \"1\"\n")},
		"pages/1-t.md": {Data: []byte("# T\n\nGr\xf6\xdfe [a](2-u.md#x)\n")},
		"pages/2-u.md": {Data: []byte{0xff, 0xfe, '#', 0}},
		"pages/3-v.md": {Data: []byte("# V\n\n[a](1-t.md#any)\n")},
		"parts.csv":    {Data: []byte("id,name\nx,\x00\n")},
	}
	m, list := Load(fsys, Options{})
	checkSpans(t, m, list)
	var got []string
	for _, d := range list {
		got = append(got, d.Error())
	}
	want := []string{
		"pages/1-t.md:3:3: error: the file is not UTF-8 at this place [not-text]",
		"pages/2-u.md:1:1: error: the file is UTF-16, not UTF-8 [not-text]",
		"parts.csv:2:3: error: the file holds a zero byte, so it is no text [not-text]",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestRawHTML(t *testing.T) {
	_, list := testManual(t, map[string]string{
		configName:     "title = \"T\"\nrelease = \"1\"\nhtml = \"sanitised\"\n",
		"pages/1-t.md": "# T\n\n<div>\n</div>\n\na <b>b</b>\n",
	})
	if len(list) != 0 {
		t.Error(list.Error())
	}
}

func TestPrefix(t *testing.T) {
	_, list := Load(fstest.MapFS{
		"manual.toml":  {Data: []byte("title = \"T\"\nrelease = \"1\"\n")},
		"pages/1-t.md": {Data: []byte("no title\n")},
	}, Options{Prefix: "1.0:"})
	if len(list) != 1 || !strings.HasPrefix(list[0].Error(), "1.0:pages/1-t.md:1:1: ") {
		t.Error(list.Error())
	}
}

// TestExtent loads many pages with many workers: the same, in order, as with one.
func TestExtent(t *testing.T) {
	fsys := fstest.MapFS{"manual.toml": {Data: []byte("title = \"T\"\nrelease = \"1\"\n")}}
	for i := range 60 {
		fsys[fmt.Sprintf("pages/%d-p%d.md", 100+i, i)] = &fstest.MapFile{Data: fmt.Appendf(nil,
			"# P{= %d }\n\n{= %d } and {= %d }\n\n```calc\nx%d = %d\n```\n\n[n](nowhere.md)\n", i, i, i, i, i)}
	}
	one, first := Load(fsys, Options{Workers: 1})
	many, second := Load(fsys, Options{Workers: 8})
	if first.Error() != second.Error() || len(first) != 60 {
		t.Error("reports differ")
	}
	if len(one.Exprs) != 180 || len(many.Exprs) != 180 {
		t.Fatalf("%d and %d expressions", len(one.Exprs), len(many.Exprs))
	}
	for i := range one.Exprs {
		if written(one, i) != fmt.Sprint(i/3) || written(many, i) != fmt.Sprint(i/3) || one.Exprs[i].Scope != many.Exprs[i].Scope {
			t.Errorf("expression %d: %q and %q", i, written(one, i), written(many, i))
		}
	}
}

// BenchmarkLoad reads 200 pages of some 6 kB each.
func BenchmarkLoad(b *testing.B) {
	fsys := fstest.MapFS{}
	for name, s := range bench {
		fsys[name] = &fstest.MapFile{Data: []byte(s)}
	}
	prose := strings.Repeat("Lay the *long* rail on the [bench](frame-top.md) and turn it until the `mark` of {= loop } shows.\n\n", 60)
	for i := range 200 {
		fsys[fmt.Sprintf("pages/%d-p%d.md", 100+i, i)] = &fstest.MapFile{Data: []byte("# Page\n\n" + prose)}
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, list := Load(fsys, Options{}); len(list) != 0 {
			b.Fatal(list.Error())
		}
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(bench["manual.toml"], bench["parts.csv"], bench["pages/20-frame-top.md"])
	f.Add(bench["manual.toml"], bench["parts.csv"], bench["pages/10-start.md"])
	f.Add("title=1\n[[releases]]\n[a.b]\nc={d=[1]}\n", "id;name\n\"", "\uFEFF> - ```uses\r\n> - x: \"\n```page\n[a]\n```\n{= \"} }\n")
	f.Add("", "", "- ```plot\n\tline\tx\n\tband 1 to\n![a](b \"{= c }\")\n[^1]: ```calc\n## {= a }{#b}\n")
	for _, name := range brokenSources(f) {
		f.Add(name[configName], name[partsName], name["pages/10-start.md"])
	}
	f.Fuzz(func(t *testing.T, config, parts, page string) {
		fsys := fstest.MapFS{
			configName:           {Data: []byte(config)},
			sheetName:            {Data: []byte(bench[sheetName])},
			partsName:            {Data: []byte(parts)},
			"pages/1-start.md":   {Data: []byte(page)},
			"pages/2-other.md":   {Data: []byte(bench["pages/10-start.md"])},
			"pictures/frame.svg": {Data: []byte(page)},
		}
		m, list := Load(fsys, Options{})
		checkSpans(t, m, list)
		for _, d := range list {
			if d.Report() == "" {
				t.Error("an empty report")
			}
		}
		for _, p := range m.Pages {
			_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
				if f, ok := n.(*FigureNode); ok && entering && (f.Expr < 0 || f.Expr >= len(m.Exprs)) {
					t.Errorf("figure %s has the number %d", f.At.Text(), f.Expr)
				}
				return ast.WalkContinue, nil
			})
		}
	})
}
