package content

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc/diag"
)

// The signal words of ANSI Z535.6 and ISO 3864-2, the gravest first.
var signalWords = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

// readQuote turns a quote that begins with a bold signal word into a safety
// panel, and reports a word that is nearly one.
func (d *draft) readQuote(q *ast.Blockquote) {
	src := d.page.File.Text
	para, ok := q.FirstChild().(*ast.Paragraph)
	if !ok {
		return
	}
	strong, ok := para.FirstChild().(*ast.Emphasis)
	if !ok || strong.Level != 2 {
		if t, ok := para.FirstChild().(*ast.Text); ok {
			word := strings.TrimRight(firstWord(string(t.Segment.Value(src))), ":.!,")
			if contains(signalWords, word) {
				d.list.Warn(d.span(t.Segment.Start, t.Segment.Start+len(word)), "signal-word", "this quote is no safety panel: its signal word is not bold").
					Hint = "write **" + word + "**"
			}
		}
		return
	}
	at := d.span(strong.Pos(), strong.Pos()+1)
	word := Fill(textParts(strong, src), nil)
	if t, ok := strong.FirstChild().(*ast.Text); ok {
		at = d.span(t.Segment.Start, t.Segment.Stop)
	}
	if !contains(signalWords, word) {
		bare := strings.Trim(word, " :.!")
		near := ""
		for _, s := range signalWords {
			if strings.EqualFold(bare, s) || nearWord(bare, []string{s}) != "" {
				near = s
			}
		}
		if near == "" && len(strings.Fields(bare)) == 1 {
			if n := diag.Nearest(bare, signalWords); n != "" && len(bare) >= len(n)-1 {
				near = n
			}
		}
		if f := strings.Fields(word); near == "" && len(f) > 1 && contains(signalWords, strings.TrimRight(f[0], ":.!")) {
			near = strings.TrimRight(f[0], ":.!")
		}
		if near != "" {
			d.list.Warn(at, "signal-word", "this quote is no safety panel: %q is no signal word", word).
				Hint = "write **" + near + "**, in capitals, and all else behind it"
		}
		return
	}
	p := &Panel{Signal: strings.ToLower(word), Page: d.page, Step: d.step, Pos: at}
	para.RemoveChild(para, strong)
	if t, ok := para.FirstChild().(*ast.Text); ok {
		t.Segment = t.Segment.TrimLeftSpace(src)
		if t.Segment.Start >= t.Segment.Stop {
			para.RemoveChild(para, t)
		}
	}
	if para.FirstChild() == nil {
		q.RemoveChild(q, para)
	}
	n := &PanelNode{Panel: p}
	n.SetPos(q.Pos())
	n.SetBlankPreviousLines(q.HasBlankPreviousLines())
	for c := q.FirstChild(); c != nil; c = q.FirstChild() {
		n.AppendChild(n, c)
	}
	q.Parent().ReplaceChild(q.Parent(), q, n)
	p.Node = n
	d.page.Panels = append(d.page.Panels, p)
	if n.FirstChild() == nil {
		d.list.Add(at, "empty-panel", "this %s says nothing", word).Hint = "name the hazard, what it does and how to avoid it"
	}
}

// finishPanels gives the panels their ids and texts.
func (d *draft) finishPanels() {
	count := map[string]int{}
	for _, p := range d.page.Panels {
		count[p.Signal]++
		p.ID = d.freeAnchor(p.Signal+"-"+strconv.Itoa(count[p.Signal]), p.Pos)
		p.Parts = textParts(p.Node, d.page.File.Text)
		if n := len(p.Parts); n > 0 && p.Parts[n-1].Expr < 0 {
			p.Parts[n-1].Text = strings.TrimRight(p.Parts[n-1].Text, " \n")
		}
		p.Text = Fill(p.Parts, nil)
	}
}
