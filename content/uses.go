package content

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/syntax"
)

// readUses reads a uses block, one part or tool a line:
//
//	screw_m4x16: 4
//	belt: loop + 40 mm in mm  "cut square"
//	profile: 4 of frame_x  "cut square"     four pieces, each of that length
//	tool hex_key_3  "ball end"
//	tool clamp: 2
func (d *draft) readUses(f *ast.FencedCodeBlock) ast.Node {
	n := &UsesNode{}
	if d.step == nil {
		// The parts list adds up what steps take; this would be left out of it.
		e := d.list.Add(d.fenceSpan(f), "uses", "this uses block stands in no step")
		e.Hint = "put it below a level-2 heading: ## Join the corners"
		if s := d.page.Data.Steps; s != nil && !*s {
			e.Hint = "the page block says steps = false"
		}
	}
	entries, _ := d.entries(f.Lines())
	for _, c := range entries {
		if u := d.readUse(c); u != nil {
			n.Uses = append(n.Uses, u)
			d.page.Uses = append(d.page.Uses, u)
			if d.step != nil {
				if u.Tool {
					d.step.Tools = append(d.step.Tools, u)
				} else {
					d.step.Uses = append(d.step.Uses, u)
				}
			}
		}
	}
	return n
}

func (d *draft) readUse(c *cursor) *Use {
	u := &Use{Expr: -1, Page: d.page, Step: d.step}
	line := c.rest()
	id, at := c.word()
	if id == "tool" {
		c.space()
		if c.peek() != ':' && !c.done() {
			u.Tool = true
			id, at = c.word()
		}
	}
	if id == "" {
		d.list.Add(c.here(), "uses", "the id of a part or tool should stand here").
			Hint = `write "part_id: quantity" or "tool tool_id"`
		return nil
	}
	u.ID, u.Pos = id, at
	u.Note = c.label()
	u.Part = d.part(id)
	if u.Part == nil {
		var ids []string
		for _, p := range d.m.Parts {
			if u.Tool == (p.Kind == "tool") {
				ids = append(ids, p.ID)
			}
		}
		what := "part"
		if u.Tool {
			what = "tool"
		}
		e := d.list.Add(at, "unknown-part", "there is no %s %s in %s", what, id, partsName)
		if e.Hint = didYouMean(id, ids); e.Hint == "" {
			e.Hint = "add a line for it to " + partsName
		}
	} else if tool := u.Part.Kind == "tool"; tool != u.Tool {
		if tool {
			d.list.Add(at, "uses", "%s is a tool, not a part", id).Hint = "write tool " + id
			u.Tool = true
		} else {
			d.list.Add(at, "uses", "%s is a part, not a tool", id).Hint = "write " + id + ": and the quantity"
		}
	}
	c.space()
	if c.done() {
		if !u.Tool {
			d.list.Add(line, "uses", "how many of %s are used is missing", id).Hint = "write " + id + ": 1"
		}
		return u
	}
	if c.peek() != ':' {
		d.list.Add(c.here(), "uses", "got %s, want a colon and the quantity", firstWord(c.rest().Text())).
			Hint = `write "` + id + `: quantity", and a note in quotes behind it`
		return u
	}
	c.pos++
	want := calc.WantCount
	if u.Part == nil || u.Part.Length {
		want = calc.WantNumber // of an unknown part it is not known what to ask for
	}
	if of := c.find("of", false); of >= 0 && want == calc.WantNumber {
		d.readCut(u, c, of)
		return u
	}
	u.Expr, _ = c.expr(c.end, want, "the quantity of "+id)
	return u
}

// readCut reads "4 of frame_x": the quantity is the product.
func (d *draft) readCut(u *Use, c *cursor, of int) {
	end, at := c.end, d.span(of, of+len("of"))
	pieces, x := c.expr(of, calc.WantCount, "how many pieces of "+u.ID)
	c.pos = of + len("of")
	each, y := c.expr(end, calc.WantLength, "the length of a piece of "+u.ID)
	if pieces < 0 || each < 0 {
		return
	}
	u.Cut = &Cut{Pieces: pieces, Each: each}
	all := x.Span()
	all.End = y.Span().End
	u.Expr = d.expr(&syntax.Binary{Op: syntax.OpMul, X: x, Y: y, OpPos: at, Pos: all}, exprForm{want: calc.WantNumber})
}

func (d *draft) part(id string) *Part {
	for _, p := range d.m.Parts {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// firstWord is the beginning of s up to a space, for messages.
func firstWord(s string) string {
	if f := strings.Fields(s); len(f) > 0 {
		return f[0]
	}
	return "nothing"
}
