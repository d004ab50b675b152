package build

import (
	"math"
	"strings"

	"workings/build/prose"
	"workings/calc"
	"workings/calc/diag"
	"workings/content"
)

// A typedNumber is a number with its unit that was typed into a page.
type typedNumber struct {
	at  diag.Span
	hit prose.Hit
	on  string // the scope of the page
}

// typedNumbers finds the numbers with units that were typed into the pages.
func typedNumbers(m *content.Manual) (list []typedNumber) {
	names := partNames(m)
	for _, page := range m.Pages {
		for _, p := range prose.Pieces(page) {
			for _, h := range prose.Find(p.Text, names) {
				from, to := p.Place(h.Start, h.End)
				list = append(list, typedNumber{diag.Span{File: page.File, Start: from, End: to}, h, scopeOf(page)})
			}
		}
	}
	return list
}

// typedNumbers are those of the release, found now or while it was computed.
func (r *Release) typedNumbers() []typedNumber {
	if r.typed == nil {
		return typedNumbers(r.Manual)
	}
	return r.typed()
}

func partNames(m *content.Manual) (names []string) {
	for _, p := range m.Parts {
		names = append(names, p.Name)
	}
	return names
}

// auditProse reports numbers with units that were typed into the pages and
// into the messages of limits, and names the figures that they probably are.
func auditProse(r *Release, list *diag.List) {
	report := func(n typedNumber) {
		d := list.Warn(n.at, "typed-number", "%s is typed by hand and will stay when the design moves", n.hit.Text)
		d.Hint = figureHint(n.hit, prose.Match(n.hit, knownFigures(r, n.on)), n.on)
	}
	for _, n := range r.typedNumbers() {
		report(n)
	}
	names := partNames(r.Manual)
	for _, l := range r.Result.Limits() {
		if l.Stmt == nil || l.Stmt.Message == nil {
			continue
		}
		at := l.Stmt.Message.Pos
		text := at.Text()
		for _, h := range prose.Find(prose.MaskFigures(strings.ReplaceAll(text, `"`, " ")), names) {
			h.Text = text[h.Start:h.End]
			report(typedNumber{diag.Span{File: at.File, Start: at.Start + h.Start, End: at.Start + h.End}, h, l.Block})
		}
	}
}

func scopeOf(p *content.Page) string { return strings.ReplaceAll(p.ID, "-", "_") }

// knownFigures are the figures that a number on a page may stand for. Those of
// the page's own block come before the parameters, and both before all others.
func knownFigures(r *Release, scope string) []prose.Figure {
	var out []prose.Figure
	for _, f := range r.Result.Figures() {
		v, ok := f.Value.(float64)
		if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		k := prose.Figure{Name: calledHere(f, scope), Dim: f.Type.Dim, Point: f.Type.Point, SI: v, Unit: f.Unit.Symbol}
		switch {
		case f.Block == scope && scope != "":
		case f.Parameter:
			k.Rank = 1
		case f.Parent == nil:
			k.Rank = 2
		default:
			k.Rank = 3
		}
		if s := f.Spread; s != nil && s.Ranged {
			k.Ranged, k.Low, k.High = true, s.Low, s.High
		}
		out = append(out, k)
	}
	return out
}

// calledHere is the name of a figure as a page writes it.
func calledHere(f *calc.Figure, scope string) string {
	if f.Block == scope && scope != "" {
		return strings.TrimPrefix(f.Name, scope+".")
	}
	return f.Name
}

// figureHint says what to write in the place of a typed number.
func figureHint(h prose.Hit, found []prose.Figure, scope string) string {
	if len(found) == 0 {
		fixed := make([]string, len(h.Quantities))
		for i, q := range h.Quantities {
			fixed[i] = "{= " + number(q) + " }"
		}
		return "no figure has this value: give it a line of the sheet, or write " + strings.Join(fixed, " and ") + " if it is fixed"
	}
	write := func(f prose.Figure) string {
		s := "{= " + f.Name
		if h.Link == "to" || h.Link == "±" {
			s += " with spread"
		} else if u := h.Quantities[0].Unit.Symbol; u != f.Unit {
			s += " in " + u
		}
		return s + " }"
	}
	hint := "it is probably " + write(found[0])
	if len(found) > 1 {
		hint += " or " + write(found[1])
	}
	return hint
}

// number writes a typed quantity as a literal of the sheet language.
func number(q prose.Quantity) string {
	if len(q.Values) == 0 {
		return "…"
	}
	s := plainNumber(toDigits(q.Values[0], 9))
	if q.Unit.Symbol != "" {
		s += " " + q.Unit.Symbol
	}
	return s
}
