package build

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme"
)

// Compare says what differs between a release and the one before it.
func Compare(old, new *Release) *theme.Changes {
	c := &comparison{old: old, new: new, moved: map[string]*theme.FigureChange{}}
	c.figures()
	pages := c.pages()
	return &theme.Changes{
		Figures: c.changes,
		Limits:  c.limits(),
		Pages:   pages,
		Parts:   c.parts(),
		Redo:    c.redo,
	}
}

type comparison struct {
	old, new *Release
	changes  []theme.FigureChange // parameters first, then by name
	moved    map[string]*theme.FigureChange
	redo     []theme.Redo
}

// noise is the relative difference below which two values are one: what the
// order of a sum may leave in the last digits.
const noise = 1e-12

func (c *comparison) figures() {
	var names []string
	for _, r := range []*Release{c.old, c.new} {
		for _, f := range r.Result.Figures() {
			if plain(f) {
				names = append(names, f.Name)
			}
		}
	}
	sort.Strings(names)
	names = slices.Compact(names)
	reasons := c.reasons()
	for _, name := range names {
		a, b := c.old.Result.Figure(name), c.new.Result.Figure(name)
		if a != nil && !plain(a) {
			a = nil
		}
		if b != nil && !plain(b) {
			b = nil
		}
		ch, ok := figureChange(a, b)
		if !ok {
			continue
		}
		ch.Name = name
		if ch.Because == "" {
			ch.Because = reasons[name]
		}
		c.changes = append(c.changes, ch)
	}
	sort.SliceStable(c.changes, func(i, j int) bool {
		return c.changes[i].Parameter && !c.changes[j].Parameter
	})
	for i := range c.changes {
		c.moved[c.changes[i].Name] = &c.changes[i]
	}
	for i := range c.changes {
		if !c.changes[i].Parameter {
			c.changes[i].Causes = c.causes(c.changes[i].Name)
		}
	}
}

// plain reports whether a figure has a single value that can be compared.
func plain(f *calc.Figure) bool {
	switch f.Value.(type) {
	case float64, bool, string:
		return true
	}
	return false
}

// reasons collects the design reasons that the pages of the newer release give.
func (c *comparison) reasons() map[string]string {
	out := map[string]string{}
	for _, p := range c.new.Manual.Pages {
		for name, why := range p.Data.Reasons {
			if out[name] == "" {
				out[name] = why
			}
		}
	}
	return out
}

// figureChange compares a figure of two releases; either may be nil.
func figureChange(a, b *calc.Figure) (ch theme.FigureChange, changed bool) {
	switch {
	case b == nil:
		ch = theme.FigureChange{Kind: theme.Removed, Caption: a.Caption, Parameter: a.Parameter}
		ch.Old, ch.Unit = valueText(a, a.Unit, 4), a.Unit.Symbol
		return ch, true
	case a == nil:
		ch = theme.FigureChange{Kind: theme.Added, Caption: b.Caption, Parameter: b.Parameter, Because: b.Because}
		ch.New, ch.Unit = valueText(b, b.Unit, 4), b.Unit.Symbol
		return ch, true
	}
	ch = theme.FigureChange{Kind: theme.Changed, Caption: b.Caption, Parameter: b.Parameter, Because: b.Because, Unit: b.Unit.Symbol}
	x, num := a.Value.(float64)
	y, num2 := b.Value.(float64)
	if !num || !num2 || a.Unit.Dim != b.Unit.Dim || a.Unit.Point != b.Unit.Point {
		ch.Old, ch.New = valueText(a, a.Unit, 4), valueText(b, b.Unit, 4)
		if a.Unit.Symbol != b.Unit.Symbol {
			ch.OldUnit = a.Unit.Symbol
		}
		return ch, ch.Old != ch.New || ch.OldUnit != ""
	}
	u := b.Unit
	if same(x, y) {
		ch.Old, ch.New = spreadText(a, u), spreadText(b, u)
		return ch, ch.Old != ch.New
	}
	// As many digits as it takes to see the difference.
	for digits := 4; digits <= 15; digits++ {
		ch.Old, ch.New = valueText(a, u, digits), valueText(b, u, digits)
		if ch.Old != ch.New {
			break
		}
	}
	return ch, true
}

func same(x, y float64) bool {
	return x == y || math.Abs(x-y) <= noise*math.Max(math.Abs(x), math.Abs(y))
}

// valueText is a value for the page of changes. A parameter keeps the digits
// it was written with.
func valueText(f *calc.Figure, u unit.Unit, digits int) string {
	switch v := f.Value.(type) {
	case float64:
		if f.Fixed {
			return plainNumber(inUnit(v, u))
		}
		return unit.Round(u.FromSI(v), unit.Rounding{Mode: unit.Sig, N: digits})
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case string:
		return v
	}
	return ""
}

// spreadText is a value with its stated spread, for figures whose nominal
// value is as it was.
func spreadText(f *calc.Figure, u unit.Unit) string {
	s := valueText(f, u, 4)
	sp := f.Spread
	if sp == nil || !f.Fixed {
		return s
	}
	short := func(si float64) string {
		return plainNumber(inUnit(si, unit.Unit{Symbol: u.Symbol, Dim: u.Dim, Factor: u.Factor}))
	}
	switch {
	case sp.TolLo == sp.TolHi && sp.TolHi > 0:
		s += " ± " + short(sp.TolHi)
	case sp.TolLo > 0 || sp.TolHi > 0:
		s += " +" + short(sp.TolHi) + " -" + short(sp.TolLo)
	}
	if sp.U > 0 {
		s += " uncertain " + short(sp.U)
	}
	if sp.Ranged {
		s += " (" + plainNumber(inUnit(sp.Low, u)) + " to " + plainNumber(inUnit(sp.High, u)) + ")"
	}
	if u.Symbol != "" && s != plainNumber(inUnit(f.Value.(float64), u)) {
		s += " " + u.Symbol // a text, to which the page adds no unit
	}
	return s
}

func plainNumber(x float64) string {
	if a := math.Abs(x); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.FormatFloat(x, 'e', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// causes gives the parameters that moved a figure: those among its inputs, in
// either release, which changed themselves; and the figures on the way whose
// formula is another.
func (c *comparison) causes(name string) []string {
	var out []string
	seen := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		a, b := c.old.Result.Figure(name), c.new.Result.Figure(name)
		ch := c.moved[name]
		switch {
		case ch != nil && ch.Parameter:
			out = append(out, name)
		case a != nil && b != nil && formula(a) != formula(b):
			out = append(out, name)
		}
		for _, f := range []*calc.Figure{a, b} {
			if f == nil {
				continue
			}
			if f.Parent != nil {
				visit(f.Parent.Name)
			}
			for _, u := range f.Uses {
				visit(u.Name)
			}
		}
	}
	visit(name)
	sort.Strings(out)
	return out
}

// formula is what is written to the right of a computed figure's name; "" for
// a literal, whose change is one of its value.
func formula(f *calc.Figure) string {
	switch {
	case f.Def != nil && !f.Fixed:
		return words(f.Def.X.Span().Text())
	case f.Func != nil:
		return words(f.Func.X.Span().Text())
	}
	return ""
}

// words is a text with all white space made single spaces.
func words(s string) string { return strings.Join(strings.Fields(s), " ") }

// limits lists the limits that came, went, or are not what they were.
func (c *comparison) limits() []theme.LimitChange {
	index := func(r *Release) (map[string]*calc.Limit, []string) {
		m, names := map[string]*calc.Limit{}, []string(nil)
		for _, l := range r.Result.Limits() {
			if m[l.Name] == nil {
				m[l.Name] = l
				names = append(names, l.Name)
			}
		}
		return m, names
	}
	old, oldNames := index(c.old)
	new, names := index(c.new)
	for _, n := range oldNames {
		if new[n] == nil {
			names = append(names, n)
		}
	}
	sort.Strings(names)
	var out []theme.LimitChange
	for _, n := range names {
		a, b := old[n], new[n]
		ch := theme.LimitChange{Name: n, Kind: theme.Changed}
		switch {
		case a == nil:
			ch.Kind, ch.New = theme.Added, limitText(b)
		case b == nil:
			ch.Kind, ch.Old = theme.Removed, limitText(a)
		default:
			if ch.Old, ch.New = limitText(a), limitText(b); ch.Old == ch.New {
				continue
			}
		}
		if b != nil {
			ch.Why = b.Accepted
		}
		out = append(out, ch)
	}
	return out
}

// limitText says in words what a limit asks and whether it holds.
func limitText(l *calc.Limit) string {
	state := "holds"
	switch {
	case !l.Known:
		state = "not computed"
	case !l.Holds && l.Accepted != "":
		state = "broken, accepted"
	case !l.Holds:
		state = "broken"
	}
	s := words(condition(l.Stmt)) + ": " + state
	if l.Signal != "" {
		s = strings.ToUpper(l.Signal) + ", " + s
	}
	return s
}

func condition(l *syntax.Limit) string {
	if l == nil || l.Cond == nil {
		return ""
	}
	return l.Cond.Span().Text()
}
