package theme

import (
	"math"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/content"
)

// A safety panel is laid out following the principles of ANSI Z535.6 and
// ISO 3864-2: the word in a band of its colour with the general warning sign
// (never for NOTICE, which is not about injury), the message on paper below.
// Word, sign and border carry it without colour.

func panelOpen(id, signal, word string) string {
	var b strings.Builder
	b.WriteString(`<div class="panel ` + esc(firstOf(signal, "plainlimit")) + `" role="note"`)
	if id != "" {
		b.WriteString(` id="` + esc(id) + `"`)
	}
	b.WriteString(` aria-label="` + esc(word) + `"><p class="word">`)
	if signal != "notice" && signal != "" {
		b.WriteString(sign)
	}
	b.WriteString(esc(word) + "</p><div>\n")
	return b.String()
}

const panelClose = "</div></div>\n"

// sign is a general warning sign: a triangle with an exclamation mark, drawn
// here after the form that ISO 7010 gives W001. It keeps its yellow in every
// colour scheme, with a dark outline.
const sign = `<svg class="sign" viewBox="0 0 36 32" aria-hidden="true" focusable="false">` +
	`<path class="sign-edge" d="M18 1.2a2.6 2.6 0 0 1 2.3 1.3l14.2 24.4a2.6 2.6 0 0 1-2.3 3.9H3.8a2.6 2.6 0 0 1-2.3-3.9L15.7 2.5A2.6 2.6 0 0 1 18 1.2z"/>` +
	`<path class="sign-field" d="M18 5.4 31.6 28.3H4.4z"/>` +
	`<path class="sign-mark" d="M16.1 12.2h3.8l-.7 8.6h-2.4zM18 22.3a2.1 2.1 0 1 1 0 4.2 2.1 2.1 0 0 1 0-4.2z"/></svg>`

func (r *pageWriter) panelNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	p := n.(*content.PanelNode).Panel
	if entering {
		w.WriteString(panelOpen(r.panelID(p), p.Signal, r.v.w.signal(p.Signal)))
	} else {
		w.WriteString(panelClose)
	}
	return ast.WalkContinue, nil
}

func (r *pageWriter) panelID(p *content.Panel) string {
	if p.ID == "" {
		return ""
	}
	return r.id(p.ID)
}

// limitPanel shows the message of a broken limit, what broke it, and what the
// designer says to it.
func (r *pageWriter) limitPanel(l *calc.Limit, anchor bool) string {
	v := r.v
	word := v.w.signal(l.Signal)
	if word == "" {
		word = v.w.LimitBroken
	}
	var b strings.Builder
	id := ""
	if anchor {
		id = limitID(l)
	}
	b.WriteString(panelOpen(id, l.Signal, word))
	if len(l.Message) > 0 {
		b.WriteString("<p>")
		figures := false
		for _, m := range l.Message {
			b.WriteString(esc(m.Text))
			if m.Shown != nil {
				figures = true
				b.WriteString(r.shown(m.Shown))
			}
		}
		if worst := v.worstText(l); worst != "" && figures {
			b.WriteString(` <span class="note">(` + esc(fill(v.w.NominalAbove, "worst", worst)) + `)</span>`)
		}
		b.WriteString("</p>\n")
	}
	b.WriteString(`<p class="basis">` + esc(v.w.Limit) + ` <a href="limits.html#` + esc(limitID(l)) + `">` + esc(l.Name) + "</a>: " + esc(v.w.Broken))
	if worst := v.worstText(l); worst != "" {
		b.WriteString(" (" + esc(fill(v.w.InWorstCase, "worst", worst, "condition", v.sides(l))) + ")")
	} else if s := v.sides(l); s != "" {
		b.WriteString(" (" + esc(fill(v.w.IsNotTrue, "condition", s)) + ")")
	}
	b.WriteString(".")
	if l.Accepted != "" {
		b.WriteString(" " + esc(v.w.Accepted) + " " + esc(l.Accepted))
	}
	b.WriteString("</p>\n" + panelClose)
	return b.String()
}

// worstText is what a limit that holds on the nominal values comes to in the
// worst case, "" for any other limit: the value that is judged, where the limit
// it is held against is fixed and the two differ as printed, else by how much
// it is broken.
func (v *view) worstText(l *calc.Limit) string {
	if !l.Known() || l.Holds() || !l.Nominal || l.Left == nil || l.Right == nil || l.Left.Number == "" {
		return ""
	}
	if held, ok := l.Right.Value.(float64); ok && l.Right.Spread == nil {
		if s := v.si(held+l.Worst, l.Left.Unit); s != v.si(held, l.Left.Unit) {
			return s
		}
	}
	if l.Margin == 0 {
		return ""
	}
	return fill(v.w.BrokenBy, "by", v.siDiff(math.Abs(l.Margin), l.Left.Unit))
}

// shown writes a value that is not one of the page's own expressions: it opens
// the derivation of its figure, if it is one.
func (r *pageWriter) shown(s *calc.Shown) string {
	text := r.v.shownText(s)
	if s.Figure == nil || r.inLink > 0 {
		return setQuantity(text)
	}
	return r.open(r.wantFigure(s.Figure), text)
}
