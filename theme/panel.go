package theme

import (
	"strconv"
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
		for _, m := range l.Message {
			b.WriteString(esc(m.Text))
			if m.Shown != nil {
				b.WriteString(r.shown(m.Shown))
			}
		}
		b.WriteString("</p>\n")
	}
	b.WriteString(`<p class="basis">` + esc(v.w.Limit) + ` <a href="limits.html#` + esc(limitID(l)) + `">` + esc(l.Name) + "</a>: " + esc(v.brokenText(l)))
	if l.Nominal {
		b.WriteString("; " + esc(v.w.HoldsNominal))
	}
	b.WriteString(".")
	if l.Accepted != "" {
		b.WriteString(" " + esc(v.w.Accepted) + " " + esc(l.Accepted))
	}
	b.WriteString("</p>\n" + panelClose)
	return b.String()
}

// brokenText says where a limit is broken and by what values: "broken at
// u = 26.4 V, r = 9 Ω: 77.4 W < 77 W is not true".
func (v *view) brokenText(l *calc.Limit) string {
	s := v.w.Broken
	if at := v.worstPlace(l); at != "" {
		s += " " + at
	}
	if sides := v.sides(l); sides != "" {
		s += ": " + fill(v.w.IsNotTrue, "condition", sides)
	}
	return s
}

// worstPlace is where a limit is least favourable: "at u = 26.4 V, r = 9 Ω";
// "" where nothing moves it.
func (v *view) worstPlace(l *calc.Limit) string {
	named, others := l.Told()
	if len(named) == 0 {
		return ""
	}
	texts := make([]string, len(named))
	for i, s := range named {
		texts[i] = s.Name + nbsp + "=" + nbsp + v.quantity(s.Number(), s.Unit)
	}
	place := strings.Join(texts, ", ")
	if others > 0 {
		place += " " + fill(v.w.AndMore, "n", strconv.Itoa(others))
	}
	return fill(v.w.AtPlace, "place", place)
}

// worstText is what a limit comes to in the worst case, "" where nothing moves
// it: the left side, or the right one where that alone moves.
func (v *view) worstText(l *calc.Limit) string {
	if l.WorstLeft == nil || l.WorstRight == nil {
		return ""
	}
	left, right := l.Sides()
	if l.Left != nil && l.Right != nil && l.Left.Value == l.WorstLeft.Value && l.Right.Value != l.WorstRight.Value {
		left = right
	}
	return v.w.AtWorst + " " + v.shownText(left)
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
