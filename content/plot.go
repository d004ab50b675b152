package content

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

var plotWords = []string{"line", "against", "mark", "band", "map", "outline", "title", "caption"}

// readPlot reads a plot block. A chart has one line or several against one
// thing, a map has a field:
//
//	title "Cord tension"
//	line belt.cold "cold"
//	line belt.hot "after two hours"
//	against bay_hot from 20 °C to 80 °C "air in the bay"
//	mark 60 N "limit"
//	band 20 N to 40 N "good"
func (d *draft) readPlot(f *ast.FencedCodeBlock, words []infoPart) ast.Node {
	p := &Plot{Against: -1, From: -1, To: -1, Map: -1, Page: d.page, Pos: d.fenceSpan(f)}
	if len(words) > 1 {
		p.ID = words[1].text
		if c := d.cursor(words[1].at.Start, words[1].at.End); words[1].quoted {
			d.list.Add(words[1].at, "block-head", "the id of a plot has no quotes").Hint = `a title is written in the block: title "…"`
			p.ID = ""
		} else if w, _ := c.word(); w != p.ID {
			d.list.Add(words[1].at, "block-head", "%q cannot be the id of a plot", p.ID).
				Hint = "it begins with a letter and holds letters, digits, _ and -"
		}
		if len(words) > 2 {
			d.list.Add(words[2].at, "block-head", "a plot block takes an id and no further words")
		}
	}
	first := map[string]diag.Span{}
	var against syntax.Expr
	var againstAt diag.Span
	outline := diag.Span{}
	entries, whole := d.entries(f.Lines())
	strange := !whole // a line is not understood
	for _, c := range entries {
		word, at := c.word()
		switch word {
		case "title", "caption", "against", "map", "outline":
			if old, ok := first[word]; ok {
				d.list.Add(at, "plot", "a plot has one %s, this is a second", word).
					Also = []diag.Note{{Span: old, Msg: "the first is here"}}
				continue
			}
		}
		if _, ok := first[word]; !ok {
			first[word] = at
		}
		switch word {
		case "title":
			p.Title, p.TitleParts = c.filled(word)
		case "caption":
			p.Caption, p.CaptionParts = c.filled(word)
		case "line", "mark":
			l := PlotLine{Pos: at, Label: c.label()}
			want := calc.WantSeries
			if word == "mark" {
				want = calc.WantNumber
			}
			if l.Expr, _ = c.expr(c.end, want, "what the "+word+" shows"); l.Expr < 0 {
				continue
			}
			if word == "line" {
				p.Lines = append(p.Lines, l)
			} else {
				p.Marks = append(p.Marks, l)
			}
		case "band":
			b := PlotBand{Pos: at, Label: c.label()}
			to := c.find("to", false)
			if to < 0 {
				d.list.Add(c.rest(), "plot", "a band goes from one value to another").Hint = `write band 20 N to 40 N "label"`
				continue
			}
			end := c.end
			b.Low, _ = c.expr(to, calc.WantNumber, "the low end of the band")
			c.pos = to + len("to")
			b.High, _ = c.expr(end, calc.WantNumber, "the high end of the band")
			if b.Low >= 0 && b.High >= 0 {
				p.Bands = append(p.Bands, b)
			}
		case "against":
			againstAt = at
			p.AgainstLabel = c.label()
			from := c.find("from", false)
			if from < 0 {
				p.Against, against = c.expr(c.end, calc.WantSeries, "what the lines are drawn against")
				continue
			}
			end := c.end
			p.Against, against = c.expr(from, calc.WantNumber, "the parameter that is varied")
			c.pos = from + len("from")
			to := c.find("to", false)
			if to < 0 {
				d.list.Add(c.rest(), "plot", "the end of the range is missing").Hint = "write against parameter from 20 °C to 80 °C"
				continue
			}
			p.From, _ = c.expr(to, calc.WantNumber, "the beginning of the range")
			c.pos = to + len("to")
			p.To, _ = c.expr(end, calc.WantNumber, "the end of the range")
			if name, ok := unparen(against).(*syntax.Name); ok {
				p.Param = name.Name
				d.swept = append(d.swept, p)
			} else if against != nil {
				d.list.Add(against.Span(), "plot", "only a parameter can be varied").
					Hint = "name a value of the design sheet, or give a list without from and to"
			}
		case "map":
			p.MapLabel = c.label()
			p.Map, _ = c.expr(c.end, calc.WantGrid, "the field of the map")
		case "outline":
			outline = at
			if c.space(); !c.done() {
				d.list.Add(c.rest(), "plot", "outline stands alone")
			}
			p.Outline = true
		default:
			strange = true
			at = at.Join(c.here())
			if word != "" {
				at.End = at.Start + len(word)
			}
			e := d.list.Add(at, "plot", "got %s, want a word such as line or against", firstWord(at.Text()))
			if e.Hint = didYouMean(word, plotWords); e.Hint == "" {
				e.Hint = "the words are line, against, mark, band, map, outline, title, caption"
			}
		}
	}
	_, hasLine := first["line"]
	_, hasMap := first["map"]
	switch {
	case hasLine && hasMap:
		d.list.Add(first["map"], "plot", "a plot is a chart of lines or a map, not both").
			Also = []diag.Note{{Span: first["line"], Msg: "a line is here"}}
	case hasMap:
		for _, w := range []string{"against", "mark", "band"} {
			if at, ok := first[w]; ok {
				d.list.Add(at, "plot", "a map has no %s", w)
			}
		}
	case strange: // what is missing may be what was not understood
	case !hasLine:
		d.list.Add(p.Pos, "plot", "there is nothing to plot").Hint = "write line and against, or map"
	case againstAt.File == nil:
		d.list.Add(p.Pos, "plot", "it is not said what the lines are drawn against").
			Hint = "write against parameter from 20 °C to 80 °C, or against and a list"
	}
	if outline.File != nil && !hasMap {
		d.list.Add(outline, "plot", "only a map has an outline")
	}
	if p.Param != "" {
		for _, l := range p.Lines {
			d.exprs[l.Expr].Sweep = p.Param
		}
	}
	d.page.Plots = append(d.page.Plots, p)
	return &PlotNode{Plot: p}
}

// filled reads a title or caption: the text as it is written, and its parts if
// it holds figures.
func (c *cursor) filled(what string) (string, []FilledPart) {
	c.space()
	if c.peek() != '"' {
		c.d.list.Add(c.here(), "plot", "the %s should stand here in quotes", what)
		return "", nil
	}
	q := c.quoted()
	if q == nil {
		return "", nil
	}
	if c.space(); !c.done() {
		c.d.list.Add(c.rest(), "plot", "got %s behind the %s, want the end of the line", firstWord(c.rest().Text()), what)
	}
	parts := c.d.fill(q.Pos.Start+1, q.Pos.End-1)
	if !hasFigure(parts) {
		return q.Value, nil
	}
	for i := range parts {
		if parts[i].Expr < 0 {
			parts[i].Text = escapes.Replace(parts[i].Text)
		}
	}
	return q.Value, parts
}

// escapes are what stands for signs in a quoted text.
var escapes = strings.NewReplacer(`\"`, `"`, `\\`, `\`)

func unparen(x syntax.Expr) syntax.Expr {
	for {
		p, ok := x.(*syntax.Paren)
		if !ok {
			return x
		}
		x = p.X
	}
}

// finishPlots gives ids to the plots that have none and reports doubles.
func (d *draft) finishPlots() {
	for _, p := range d.page.Plots {
		if p.ID != "" {
			d.anchor(p.ID, p.Pos, "plot")
		}
	}
	for i, p := range d.page.Plots {
		if p.ID == "" {
			p.ID = d.freeAnchor("plot-"+strconv.Itoa(i+1), p.Pos)
		}
	}
}
