package content

import (
	"github.com/yuin/goldmark/ast"

	"workings/calc/diag"
)

// pageTOML is a page block as it is written.
type pageTOML struct {
	Summary string            `toml:"summary"`
	Time    string            `toml:"time"`
	People  string            `toml:"people"`
	Skill   string            `toml:"skill"`
	Needs   []string          `toml:"needs"`
	Order   int               `toml:"order"`
	Steps   *bool             `toml:"steps"`
	Reasons map[string]string `toml:"reasons"`
}

// readData reads a page block and takes it out of the page.
func (d *draft) readData(f *ast.FencedCodeBlock) {
	at := d.fenceSpan(f)
	d.checkClosed(f)
	t := &tomlText{file: d.page.File}
	for i := range f.Lines().Len() {
		s := f.Lines().At(i)
		t.lines = append(t.lines, s.Start)
		t.text = append(t.text, s.Value(d.page.File.Text)...)
	}
	if len(t.lines) == 0 {
		t.lines = []int{at.Start}
	}
	if words := d.info(f); len(words) > 1 {
		d.list.Add(words[1].at, "block-head", "a page block takes no further words")
	}
	f.Parent().RemoveChild(f.Parent(), f)
	if d.data != nil {
		d.list.Add(at, "page-data", "a page has one page block, this is a second").
			Also = []diag.Note{{Span: d.data.span(0, 0), Msg: "the first begins here"}}
		return
	}
	d.data = t
	var raw pageTOML
	t.decode(&raw, &d.list)
	t.noFigures(&d.list)
	d.page.Data = PageData(raw)
}
