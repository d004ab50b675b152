package content

import (
	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/syntax"
)

// readMeasure reads a measure block, one check a line:
//
//	tension "cord tension, cold": belt.cold ± 2 N with "spring balance" note "at mid span"
//	square "the frame's diagonals are equal"
func (d *draft) readMeasure(f *ast.FencedCodeBlock) ast.Node {
	n := &MeasureNode{}
	entries, _ := d.entries(f.Lines())
	for _, c := range entries {
		if k := d.readCheck(c); k != nil {
			n.Checks = append(n.Checks, k)
			d.page.Checks = append(d.page.Checks, k)
			if d.step != nil {
				d.step.Checks = append(d.step.Checks, k)
			}
		}
	}
	return n
}

func (d *draft) readCheck(c *cursor) *Check {
	const form = `write id "what to measure": expected value with "instrument" note "…"`
	id, at := c.word()
	if id == "" {
		d.list.Add(c.here(), "measure", "the id of a check should stand here").Hint = form
		return nil
	}
	k := &Check{ID: scopeOf(d.page.ID) + "." + id, Expr: -1, Page: d.page, Step: d.step, Pos: at}
	c.space()
	if c.peek() != '"' {
		d.list.Add(c.here(), "measure", "got %s, want what is measured, in quotes", firstWord(c.rest().Text())).Hint = form
		return nil
	}
	if k.What = c.plain(); k.What == "" {
		return nil
	}
	// The parts behind the expected value, the last first.
	end := c.end
	for _, tail := range []struct {
		word string
		into *string
	}{{"note", &k.Note}, {"with", &k.With}} {
		at := c.find(tail.word, true)
		if at < 0 {
			continue
		}
		t := d.cursor(at+len(tail.word), end)
		t.space()
		*tail.into = t.plain()
		t.space()
		if !t.done() {
			d.list.Add(t.rest(), "measure", "got %s behind the %s, want the end of the line", firstWord(t.rest().Text()), tail.word).Hint = form
		}
		c.end, end = at, at
	}
	c.space()
	if c.done() {
		return k
	}
	if c.peek() != ':' {
		d.list.Add(c.here(), "measure", "got %s, want a colon and the expected value", firstWord(c.rest().Text())).Hint = form
		return k
	}
	c.pos++
	c.space()
	for c.end > c.pos && (c.src()[c.end-1] == ' ' || c.src()[c.end-1] == '\t') {
		c.end--
	}
	if c.done() {
		d.list.Add(d.span(c.pos-1, c.pos), "missing-expression", "the expected value of %s is missing", id).
			Hint = "leave out the colon for a check that is answered by yes or no"
		return k
	}
	q, errs := syntax.ParseQuantity(d.page.File, []syntax.Seg{{Start: c.pos, End: c.end}})
	d.list = append(d.list, errs...)
	if !errs.HasErrors() && q != nil && q.X != nil {
		k.Expr = d.expr(q.X, exprForm{round: q.Round, spread: true, own: q.Spread, want: calc.WantNumber})
	}
	return k
}
