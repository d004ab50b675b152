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

// Compare says what differs between a release and the one before it, what
// caused it, and what a builder of the earlier one has to do.
func Compare(old, new *Release) *theme.Changes {
	c := &comparison{old: old, new: new, mix: calc.NewMix(old.Result, new.Result), moved: map[string]*theme.FigureChange{}, named: map[string][]string{}}
	c.figures()
	ch := &theme.Changes{
		Safety:  SafetyLosses(old, new),
		Figures: c.changes,
		Limits:  c.limits(),
		Tables:  c.tables(),
		Checks:  c.checks(),
		Pages:   c.pages(),
		Parts:   c.parts(),
	}
	ch.Redo = c.redo()
	ch.Again = c.again(ch.Checks, ch.Redo)
	ch.Buy, ch.Left = c.supply()
	return ch
}

type comparison struct {
	old, new *Release
	mix      *calc.Mix
	changes  []theme.FigureChange // parameters first, then by name
	moved    map[string]*theme.FigureChange
	named    map[string][]string // see names
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
			c.changes[i].Causes = c.causes(&c.changes[i])
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
		return plainNumber(toDigits(si/u.Factor, 9)) // a difference, with the noise of its making
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

// words is a text with all white space made single spaces.
func words(s string) string { return strings.Join(strings.Fields(s), " ") }

func condition(l *syntax.Limit) string {
	if l == nil || l.Cond == nil {
		return ""
	}
	return l.Cond.Span().Text()
}
