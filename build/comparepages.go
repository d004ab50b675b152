package build

import (
	"encoding/csv"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/unit"
	"workings/content"
	"workings/theme"
)

// pages lists the pages that came, went or were rewritten.
func (c *comparison) pages() []theme.PageChange {
	old := pagesByID(c.old)
	var out []theme.PageChange
	for _, p := range c.new.Manual.Pages {
		before := old[p.ID]
		if before == nil {
			out = append(out, theme.PageChange{ID: p.ID, Title: fillText(c.new, p.TitleParts, p.Title), Kind: theme.Added})
			continue
		}
		if words(string(before.File.Text)) != words(string(p.File.Text)) {
			out = append(out, theme.PageChange{ID: p.ID, Title: fillText(c.new, p.TitleParts, p.Title), Kind: theme.Changed, Steps: c.steps(before, p)})
		}
	}
	now := pagesByID(c.new)
	for _, p := range c.old.Manual.Pages {
		if now[p.ID] == nil {
			out = append(out, theme.PageChange{ID: p.ID, Title: fillText(c.old, p.TitleParts, p.Title), Kind: theme.Removed})
		}
	}
	return out
}

func pagesByID(r *Release) map[string]*content.Page {
	m := map[string]*content.Page{}
	for _, p := range r.Manual.Pages {
		m[p.ID] = p
	}
	return m
}

func stepsByID(p *content.Page) map[string]*content.Step {
	m := map[string]*content.Step{}
	for _, s := range p.Steps {
		m[s.ID] = s
	}
	return m
}

// steps lists the steps of a page that came, went or were rewritten.
func (c *comparison) steps(before, now *content.Page) (out []theme.StepChange) {
	old, new := stepsByID(before), stepsByID(now)
	add := func(r *Release, s *content.Step, kind string) {
		out = append(out, theme.StepChange{ID: s.ID, Title: fillText(r, s.Parts, s.Title), Kind: kind})
	}
	for _, s := range now.Steps {
		switch was := old[s.ID]; {
		case was == nil:
			add(c.new, s, theme.Added)
		case words(stepText(before, was)) != words(stepText(now, s)):
			add(c.new, s, theme.Changed)
		}
	}
	for _, s := range before.Steps {
		if new[s.ID] == nil {
			add(c.old, s, theme.Removed)
		}
	}
	return out
}

// stepText is the source of a step: from its heading to the next step's.
func stepText(p *content.Page, s *content.Step) string {
	start, end := stepSpan(p, s)
	return string(p.File.Text[start:end])
}

func stepSpan(p *content.Page, s *content.Step) (start, end int) {
	start, end = s.Pos.Start, len(p.File.Text)
	if i := slices.Index(p.Steps, s); i+1 < len(p.Steps) {
		end = p.Steps[i+1].Pos.Start
	}
	return min(start, end), end
}

// redo lists the steps that a builder of the earlier release must do again, in
// the order of the newer manual, with the reasons.
func (c *comparison) redo() (out []theme.Redo) {
	old := pagesByID(c.old)
	for _, p := range c.new.Manual.Pages {
		before := old[p.ID]
		for _, s := range p.Steps {
			var why []theme.Why
			if before == nil {
				why = []theme.Why{{Kind: theme.WhyNewPage}}
			} else if was := stepsByID(before)[s.ID]; was == nil {
				why = []theme.Why{{Kind: theme.WhyNewStep}}
			} else {
				why = c.why(stepOf{c.old, before, was}, stepOf{c.new, p, s})
			}
			if why != nil {
				out = append(out, theme.Redo{
					Page: p.ID, PageTitle: fillText(c.new, p.TitleParts, p.Title),
					Step: s.ID, StepTitle: fillText(c.new, s.Parts, s.Title), Why: why,
				})
			}
		}
	}
	return out
}

// A stepOf is a step in its release.
type stepOf struct {
	r *Release
	p *content.Page
	s *content.Step
}

// why compares a step with itself in the earlier release.
func (c *comparison) why(a, b stepOf) (why []theme.Why) {
	why = append(why, c.cautions(a, b)...)
	why = append(why, c.uses(a, b)...)
	why = append(why, c.numbers(a, b)...)
	why = append(why, stepChecks(a, b)...)
	if len(why) == 0 && words(stepText(a.p, a.s)) != words(stepText(b.p, b.s)) {
		why = append(why, theme.Why{Kind: theme.WhyText})
	}
	return why
}

// cautions compares the safety messages of a step. One that stands elsewhere in
// the new release now is not gone.
func (c *comparison) cautions(a, b stepOf) (why []theme.Why) {
	elsewhere := func(source string) bool {
		for _, p := range c.new.Manual.Pages {
			for _, q := range p.Panels {
				if q.Signal+" "+words(q.Text) == source {
					return true
				}
			}
		}
		return false
	}
	type panel struct{ signal, text, source string }
	list := func(s stepOf) (out []panel, keys map[panel]bool, sources map[string]bool) {
		keys, sources = map[panel]bool{}, map[string]bool{}
		for _, p := range s.p.Panels {
			if p.Step == s.s {
				k := panel{signal: p.Signal, text: fillText(s.r, p.Parts, p.Text)}
				keys[k] = true
				k.source = p.Signal + " " + words(p.Text)
				sources[k.source] = true
				out = append(out, k)
			}
		}
		return out, keys, sources
	}
	was, old, _ := list(a)
	is, new, sources := list(b)
	for _, p := range is {
		if !old[panel{p.signal, p.text, ""}] {
			why = append(why, theme.Why{Kind: theme.WhyCaution, Name: p.signal, New: theme.Amount{Text: p.text}})
		}
	}
	for _, p := range was { // one in which a figure alone has moved is told as it is now
		if !new[panel{p.signal, p.text, ""}] && !sources[p.source] && !elsewhere(p.source) {
			why = append(why, theme.Why{Kind: theme.WhyCaution, Name: p.signal, Old: theme.Amount{Text: p.text}})
		}
	}
	return why
}

// uses compares what a step takes.
func (c *comparison) uses(a, b stepOf) (why []theme.Why) {
	type take struct {
		name string
		spec string
		n    theme.Amount
		sum  float64
	}
	list := func(s stepOf) (m map[string]*take, ids []string) {
		m = map[string]*take{}
		for _, u := range append(append([]*content.Use(nil), s.s.Uses...), s.s.Tools...) {
			t := m[u.ID]
			if t == nil {
				t = &take{name: u.ID}
				if u.Part != nil {
					t.name, t.spec = u.Part.Name, partSpec(s.r, u.Part)
				}
				m[u.ID] = t
				ids = append(ids, u.ID)
			}
			if u.Expr < 0 {
				continue
			}
			if sh := s.r.Result.Shown(u.Expr); sh != nil {
				x, _ := sh.Value.(float64)
				t.sum += x
				t.n = theme.Amount{Text: pieces(t.sum, sh.Unit), Unit: sh.Unit.Symbol}
			}
		}
		return m, ids
	}
	old, oldIDs := list(a)
	new, ids := list(b)
	for _, id := range ids {
		was, is := old[id], new[id]
		switch {
		case was == nil:
			why = append(why, theme.Why{Kind: theme.WhyPart, Name: is.name, New: orText(is.n, is.spec)})
		case !same(was.sum, is.sum):
			why = append(why, theme.Why{Kind: theme.WhyPart, Name: is.name, Old: was.n, New: is.n})
		case was.spec != is.spec || was.name != is.name:
			why = append(why, theme.Why{
				Kind: theme.WhyPart, Name: is.name,
				Old: theme.Amount{Text: named(was.name, was.spec, is.name)}, New: theme.Amount{Text: named(is.name, is.spec, is.name)},
			})
		}
	}
	for _, id := range oldIDs {
		if new[id] == nil {
			why = append(why, theme.Why{Kind: theme.WhyPart, Name: old[id].name, Old: orText(old[id].n, old[id].spec)})
		}
	}
	return why
}

// pieces is a number of pieces, or a length to the three digits that matter
// for getting it.
func pieces(si float64, u unit.Unit) string {
	if u.Symbol == "" {
		return plainNumber(toDigits(u.FromSI(si), 9))
	}
	return plainNumber(toDigits(u.FromSI(si), 3))
}

func orText(a theme.Amount, text string) theme.Amount {
	if a.Text == "" {
		a.Text = text
	}
	if a.Text == "" {
		a.Text = "1"
	}
	return a
}

// named is the specification of a part, with its name where that differs from
// the one it is listed under.
func named(name, spec, listed string) string {
	switch {
	case spec == "":
		return name
	case name == listed:
		return spec
	}
	return name + ", " + spec
}

// partSpec is what to ask for in the shop: specification and material.
func partSpec(r *Release, p *content.Part) string { return joined(specification(r, p), p.Material) }

func (t *partTotal) specified() string { return joined(t.spec, t.Material) }

func joined(s ...string) string {
	return strings.Join(slices.DeleteFunc(s, func(s string) bool { return s == "" }), ", ")
}

// numbers compares what a step shows: expressions that stand in it in both
// releases and read differently, and figures of its calculations. What a check
// expects or a part needs is told as such.
func (c *comparison) numbers(a, b stepOf) (why []theme.Why) {
	apart := func(s stepOf) map[int]bool {
		m := map[int]bool{}
		for _, u := range append(append([]*content.Use(nil), s.s.Uses...), s.s.Tools...) {
			m[u.Expr] = true
		}
		for _, k := range s.s.Checks {
			m[k.Expr] = true
		}
		for _, p := range s.p.Plots {
			for _, l := range append(append([]content.PlotLine(nil), p.Lines...), p.Marks...) {
				m[l.Expr] = true
			}
		}
		return m
	}
	shown := func(s stepOf) (m map[string]*calc.Shown) {
		m = map[string]*calc.Shown{}
		skip := apart(s)
		start, end := stepSpan(s.p, s.s)
		for _, e := range s.p.Exprs {
			x := s.r.Manual.Exprs[e].X
			if x == nil || skip[e] || x.Span().Start < start || x.Span().Start >= end {
				continue
			}
			if sh := s.r.Result.Shown(e); sh != nil && sh.Value != nil && (sh.Number != "" || sh.Text != "") {
				if key := words(x.Span().Text()); m[key] == nil {
					m[key] = sh
				}
			}
		}
		return m
	}
	old, new := shown(a), shown(b)
	var names []string
	for n := range new {
		names = append(names, n)
	}
	sort.Strings(names)
	stands := map[string]bool{} // figures that are told as they stand in the text
	for _, n := range names {
		x, y := old[n], new[n]
		name := n
		if y.Figure != nil {
			name = y.Figure.Name
			stands[name] = true
		}
		if x != nil && reads(x) != reads(y) {
			why = append(why, theme.Why{Kind: theme.WhyFigure, Name: name, Old: theme.Amount{Shown: x}, New: theme.Amount{Shown: y}})
		}
	}
	start, end := stepSpan(b.p, b.s)
	for _, f := range c.new.Result.Figures() {
		ch := c.moved[f.Name]
		if f.Block == "" || f.Pos.File != b.p.File || f.Pos.Start < start || f.Pos.Start >= end || ch == nil || ch.Kind != theme.Changed || f.Parent != nil || stands[f.Name] {
			continue
		}
		w := theme.Why{Kind: theme.WhyFigure, Name: f.Name, Old: theme.Amount{Text: ch.Old, Unit: ch.Unit}, New: theme.Amount{Text: ch.New, Unit: ch.Unit}}
		if ch.OldUnit != "" {
			w.Old.Unit = ch.OldUnit
		}
		why = append(why, w)
	}
	return why
}

// reads is all that a page shows of an expression.
func reads(s *calc.Shown) string {
	t := s.String()
	if s.Expr != nil && (s.Expr.Spread || s.Expr.Own.Tol != nil || s.Expr.Own.Range != nil) {
		t += " +" + s.Plus + " -" + s.Minus + " ±" + s.Uncertain + " " + s.Low + " " + s.High
	}
	return t
}

// stepChecks compares what is measured in a step.
func stepChecks(a, b stepOf) (why []theme.Why) {
	old := map[string]*content.Check{}
	for _, k := range a.s.Checks {
		old[k.ID] = k
	}
	for _, k := range b.s.Checks {
		w := theme.Why{Kind: theme.WhyCheck, Name: k.What, New: theme.Amount{Shown: expected(b.r, k)}}
		was := old[k.ID]
		if was != nil {
			w.Old.Shown = expected(a.r, was)
			if !checkDiffers(a.r, was, b.r, k) {
				continue
			}
		}
		why = append(why, w)
	}
	return why
}

func expected(r *Release, k *content.Check) *calc.Shown {
	if k.Expr < 0 {
		return nil
	}
	return r.Result.Shown(k.Expr)
}

// checkDiffers reports whether a check expects something else.
func checkDiffers(ra *Release, a *content.Check, rb *Release, b *content.Check) bool {
	x, y := expected(ra, a), expected(rb, b)
	if x == nil || y == nil {
		return x != y
	}
	return reads(x) != reads(y) || margin(x) != margin(y)
}

// margin is the tolerance that a check allows.
func margin(s *calc.Shown) string { return s.Plus + " " + s.Minus + " " + s.Low + " " + s.High }

// checks lists the checks that came, went or are not what they were.
func (c *comparison) checks() (out []theme.CheckChange) {
	old := map[string]*content.Check{}
	for _, p := range c.old.Manual.Pages {
		for _, k := range p.Checks {
			old[k.ID] = k
		}
	}
	now := map[string]bool{}
	for _, p := range c.new.Manual.Pages {
		for _, k := range p.Checks {
			now[k.ID] = true
			ch := theme.CheckChange{ID: k.ID, What: k.What, Kind: theme.Changed, Page: p.ID, New: expected(c.new, k)}
			was := old[k.ID]
			if was == nil {
				ch.Kind = theme.Added
				out = append(out, ch)
				continue
			}
			ch.Old = expected(c.old, was)
			ch.Note = words(was.What) != words(k.What) || was.With != k.With || words(was.Note) != words(k.Note)
			if ch.Note || checkDiffers(c.old, was, c.new, k) {
				out = append(out, ch)
			}
		}
	}
	for _, p := range c.old.Manual.Pages {
		for _, k := range p.Checks {
			if !now[k.ID] {
				out = append(out, theme.CheckChange{ID: k.ID, What: k.What, Kind: theme.Removed, Page: p.ID, Old: expected(c.old, k)})
			}
		}
	}
	return out
}

// again lists the checks to repeat: those that are new or expect something
// else, and those of steps that are done again.
func (c *comparison) again(changed []theme.CheckChange, redo []theme.Redo) (out []theme.CheckAgain) {
	kinds := map[string]string{}
	for _, k := range changed {
		kinds[k.ID] = k.Kind
	}
	steps := map[string]bool{}
	for _, r := range redo {
		steps[r.Page+"#"+r.Step] = true
	}
	for _, p := range c.new.Manual.Pages {
		for _, k := range p.Checks {
			a := theme.CheckAgain{ID: k.ID, What: k.What, Page: p.ID, Kind: kinds[k.ID]}
			if k.Step != nil {
				a.Step = k.Step.ID
			}
			if a.Kind != "" || a.Step != "" && steps[p.ID+"#"+a.Step] {
				out = append(out, a)
			}
		}
	}
	return out
}

// supply says which parts a builder of the earlier release must get, and which
// are left over: the difference of what the steps of both releases take. A
// part of another specification or material is another part.
func (c *comparison) supply() (buy, left []theme.PartAmount) {
	type side struct{ old, new *partTotal }
	m := map[string]*side{}
	var ids []string
	at := func(id string) *side {
		if m[id] == nil {
			m[id] = &side{}
			ids = append(ids, id)
		}
		return m[id]
	}
	for _, t := range totals(c.new) {
		at(t.ID).new = t
	}
	for _, t := range totals(c.old) {
		at(t.ID).old = t
	}
	amount := func(t *partTotal, si float64, other bool) theme.PartAmount {
		a := theme.PartAmount{ID: t.ID, Name: t.Name, Spec: t.specified(), Tool: t.Kind == "tool", Other: other}
		u := t.unit
		if !t.known {
			return a
		}
		if u.Factor == 0 {
			u.Factor = 1
		}
		a.Number, a.Unit = pieces(si, u), u.Symbol
		if a.Tool && si == 0 {
			a.Number = ""
		}
		return a
	}
	needed := func(t *partTotal) bool {
		return t != nil && (t.quantity > 0 || !t.known || t.Kind == "tool" && len(t.places) > 0)
	}
	for _, id := range ids {
		s := m[id]
		other := s.old != nil && s.new != nil && s.old.specified() != s.new.specified()
		switch {
		case needed(s.new) && (!needed(s.old) || other):
			buy = append(buy, amount(s.new, s.new.quantity, other && needed(s.old)))
			if needed(s.old) {
				left = append(left, amount(s.old, s.old.quantity, other))
			}
		case needed(s.old) && !needed(s.new):
			left = append(left, amount(s.old, s.old.quantity, false))
		case !needed(s.old), !s.old.known, !s.new.known, same(s.old.quantity, s.new.quantity):
		case s.new.quantity > s.old.quantity:
			buy = append(buy, amount(s.new, s.new.quantity-s.old.quantity, false))
		default:
			left = append(left, amount(s.old, s.old.quantity-s.new.quantity, false))
		}
	}
	return buy, left
}

// tables lists the tables of the sheets that differ.
func (c *comparison) tables() (out []theme.TableChange) {
	names := append(c.old.Result.Tables(), c.new.Result.Tables()...)
	slices.Sort(names)
	for _, n := range slices.Compact(names) {
		a, b := c.old.Result.TableFile(n), c.new.Result.TableFile(n)
		switch {
		case a == nil && b == nil:
		case a == nil:
			out = append(out, theme.TableChange{Name: n, Kind: theme.Added, RowsAdded: len(tableRows(b))})
		case b == nil:
			out = append(out, theme.TableChange{Name: n, Kind: theme.Removed, RowsRemoved: len(tableRows(a))})
		default:
			ch := theme.TableChange{Name: n, Kind: theme.Changed}
			if string(a.Text) == string(b.Text) {
				continue
			}
			count := map[string]int{}
			for _, r := range tableRows(b) {
				count[r]++
			}
			for _, r := range tableRows(a) {
				count[r]--
			}
			for _, k := range count {
				if k > 0 {
					ch.RowsAdded += k
				} else {
					ch.RowsRemoved -= k
				}
			}
			if ch.RowsAdded+ch.RowsRemoved > 0 || tableHead(a) != tableHead(b) {
				out = append(out, ch)
			}
		}
	}
	return out
}

// tableLines gives the lines of a table, cells without the space around them.
func tableLines(f *diag.File) (lines []string) {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(f.Text), "\uFEFF")))
	r.FieldsPerRecord = -1
	records, err := r.ReadAll()
	if err != nil {
		return nil // it has been reported where it was read
	}
	for _, rec := range records {
		var cells []string
		for _, cell := range rec {
			cell = strings.TrimSpace(cell)
			if x, err := strconv.ParseFloat(cell, 64); err == nil && !math.IsInf(x, 0) {
				cell = plainNumber(x) // 1.50 is 1.5
			}
			cells = append(cells, strconv.Quote(cell))
		}
		lines = append(lines, strings.Join(cells, ","))
	}
	return lines
}

func tableRows(f *diag.File) []string {
	if l := tableLines(f); len(l) > 0 {
		return l[1:]
	}
	return nil
}

func tableHead(f *diag.File) string {
	if l := tableLines(f); len(l) > 0 {
		return l[0]
	}
	return ""
}
