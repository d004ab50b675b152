package content

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"golang.org/x/text/unicode/norm"

	"workings/calc/diag"
)

// enterHeading begins a step at a level-2 heading of a page of steps. Headings
// inside lists and quotes begin none.
func (d *draft) enterHeading(h *ast.Heading, isSteps bool) {
	if h.Parent() == nil || h.Parent().Kind() != ast.KindDocument || h.Level > 2 {
		return
	}
	d.step = nil
	if h.Level == 2 && isSteps {
		s := &Step{Number: len(d.page.Steps) + 1, Heading: h, Pos: d.headingSpan(h)}
		d.page.Steps = append(d.page.Steps, s)
		d.steps[h] = s
		d.step = s
	}
}

func (d *draft) headingSpan(h *ast.Heading) diag.Span {
	if h.Lines().Len() > 0 {
		s := h.Lines().At(0)
		at := d.span(s.Start, s.Stop)
		at.End = at.Start + len(strings.TrimRight(at.Text(), " \t\n"))
		return at
	}
	return d.span(h.Pos(), h.Pos()+1)
}

// finishHeadings gives every heading its id and text, the page its title and
// the steps theirs.
func (d *draft) finishHeadings(nodes []ast.Node) {
	p := d.page
	var title *Heading
	var titleAt diag.Span
	for _, n := range nodes {
		node, ok := n.(*ast.Heading)
		if !ok {
			continue
		}
		h := &Heading{Level: node.Level, Node: node, Parts: textParts(node, p.File.Text)}
		h.Text = strings.TrimSpace(Fill(h.Parts, nil))
		p.Headings = append(p.Headings, h)
		for _, a := range node.Attributes() {
			if string(a.Name) != "id" {
				d.list.Add(d.headingSpan(node), "heading", "a heading takes an id in braces and nothing else, got %s", a.Name).
					Hint = "write {#id}"
			}
		}
		if id, ok := node.AttributeString("id"); ok {
			if b, ok := id.([]byte); ok && len(b) > 0 {
				h.ID = string(b)
				at := d.headingSpan(node)
				if i, ok := place(p.File.Text, b); ok {
					at = d.span(i, i+len(b))
				}
				d.anchor(h.ID, at, "heading")
			}
		}
		if node.Level == 1 && node.Parent().Kind() == ast.KindDocument {
			if title == nil {
				title, titleAt = h, d.headingSpan(node)
			} else {
				d.list.Warn(d.headingSpan(node), "second-title", "a page has one title, this is a second").Also =
					[]diag.Note{{Span: titleAt, Msg: "the title is here"}}
			}
		}
	}
	for _, h := range p.Headings {
		if h.ID == "" {
			h.ID = d.freeAnchor(headingID(h.Parts), d.headingSpan(h.Node))
		}
		h.Node.SetAttributeString("id", []byte(h.ID))
		if s := d.steps[h.Node]; s != nil {
			s.ID, s.Title, s.Parts = h.ID, h.Text, h.Parts
			if h.Text == "" {
				d.list.Add(s.Pos, "heading", "step %d has no title", s.Number)
			}
		}
	}
	if title == nil || title.Text == "" {
		d.list.Add(d.span(0, 0), "no-title", "the page has no title").Hint = "its first level-1 heading is the title: # Frame"
		p.Title = p.ID
		return
	}
	p.Title, p.TitleParts = title.Text, title.Parts
}

// headingID makes an id of a heading's text: lower case, letters and digits of
// any script, words joined by -. Figures are left out, so that the id stays
// when the numbers move.
func headingID(parts []FilledPart) string {
	var b strings.Builder
	gap := false
	for _, p := range parts {
		if p.Expr >= 0 {
			gap = true
			continue
		}
		for _, r := range strings.ToLower(norm.NFC.String(p.Text)) {
			switch {
			case unicode.IsLetter(r), unicode.IsDigit(r), unicode.IsMark(r):
				if gap && b.Len() > 0 {
					b.WriteByte('-')
				}
				gap = false
				b.WriteRune(r)
			case unicode.IsSpace(r) || r == '-' || r == '_' || r == '/' || r == '–' || r == '—':
				gap = true
			}
		}
	}
	if b.Len() == 0 {
		return "section"
	}
	return b.String()
}

// anchor enters an id that the author wrote and reports a double.
func (d *draft) anchor(id string, at diag.Span, what string) {
	if first, ok := d.anchors[id]; ok {
		d.list.Add(at, "same-anchor", "the id %s is used twice on this page", id).
			Also = []diag.Note{{Span: first, Msg: "the first is here"}}
		return
	}
	d.anchors[id] = at
}

// freeAnchor enters an id, with -2, -3 … behind it if it is taken.
func (d *draft) freeAnchor(id string, at diag.Span) string {
	free := id
	n := max(d.next[id], 2) // those before are taken
	for ; ; n++ {
		if _, taken := d.anchors[free]; !taken {
			break
		}
		free = id + "-" + strconv.Itoa(n)
	}
	d.anchors[free] = at
	d.next[id] = n
	return free
}

// textParts gives what a reader sees of a node as plain text and figures.
func textParts(n ast.Node, src []byte) []FilledPart {
	var parts []FilledPart
	var plain strings.Builder
	add := func(s string) {
		plain.WriteString(s)
	}
	flush := func() {
		if plain.Len() > 0 {
			parts = append(parts, FilledPart{Text: plain.String(), Expr: -1})
			plain.Reset()
		}
	}
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			if c != n && c.Type() == ast.TypeBlock && len(parts)+plain.Len() > 0 {
				add(" ")
			}
			return ast.WalkContinue, nil
		}
		switch c := c.(type) {
		case *FigureNode:
			flush()
			parts = append(parts, FilledPart{Text: c.At.Text(), Expr: c.Expr})
		case *ast.Text:
			add(plainText(c, src))
			if c.SoftLineBreak() || c.HardLineBreak() {
				add(" ")
			}
		case *ast.String:
			add(string(c.Value))
		case *ast.AutoLink:
			add(string(c.Label(src)))
		case *ast.RawHTML, *ast.HTMLBlock, *CalcNode, *PlotNode, *UsesNode, *MeasureNode:
			return ast.WalkSkipChildren, nil
		case *ast.FencedCodeBlock, *ast.CodeBlock:
			add(string(c.Lines().Value(src)))
		case *FilledNode:
			flush()
			parts = append(parts, c.Parts...)
		}
		return ast.WalkContinue, nil
	})
	flush()
	return parts
}
