package build

import (
	"slices"
	"strings"

	"workings/calc"
	"workings/calc/syntax"
	"workings/content"
	"workings/theme"
)

// limits lists the limits that came, went, or are not what they were.
func (c *comparison) limits() []theme.LimitChange {
	old, new := limitsByName(c.old), limitsByName(c.new)
	var names []string
	for _, m := range []map[string]int{old, new} {
		for n := range m {
			names = append(names, n)
		}
	}
	slices.Sort(names)
	var out []theme.LimitChange
	for _, n := range slices.Compact(names) {
		i, before := old[n]
		k, now := new[n]
		ch := theme.LimitChange{Name: n, Kind: theme.Changed}
		if before {
			ch.Old = limitText(c.old, i)
		}
		if now {
			ch.New = limitText(c.new, k)
			ch.Why = ch.New.Limit.Accepted
		}
		switch {
		case !before:
			ch.Kind = theme.Added
		case !now:
			ch.Kind = theme.Removed
		default:
			ch.What = limitDiffers(ch.Old, ch.New, boundMoved(c.old, i, c.new, k))
			if ch.What == nil {
				continue
			}
		}
		out = append(out, ch)
	}
	return out
}

func limitsByName(r *Release) map[string]int {
	m := map[string]int{}
	for i, l := range r.Result.Limits() {
		if _, twice := m[l.Name]; !twice {
			m[l.Name] = i
		}
	}
	return m
}

func limitText(r *Release, i int) *theme.LimitText {
	l := r.Result.Limits()[i]
	return &theme.LimitText{
		Limit: l, Condition: words(condition(l.Stmt)), Signal: l.Signal, Message: words(limitMessage(l)), State: limitState(l),
	}
}

func limitState(l *calc.Limit) string {
	accepted := l.Accepted != ""
	switch l.Verdict {
	case calc.Proved:
		return theme.Proved
	case calc.Searched:
		if accepted {
			return theme.SearchedAccepted
		}
		return theme.Searched
	case calc.Broken:
		if accepted {
			return theme.BrokenAccepted
		}
		return theme.Broken
	}
	return theme.Unknown
}

// limitDiffers says in what ways a limit is not what it was. A message whose
// figures alone have moved is as it was.
func limitDiffers(a, b *theme.LimitText, bound bool) (what []string) {
	if a.Condition != b.Condition {
		what = append(what, theme.LimitCondition)
	} else if bound {
		what = append(what, theme.LimitBound)
	}
	if a.Signal != b.Signal {
		what = append(what, theme.LimitSignal)
	}
	if messageSource(a.Limit) != messageSource(b.Limit) {
		what = append(what, theme.LimitMessage)
	}
	if a.State != b.State {
		what = append(what, theme.LimitState)
	}
	if a.Limit.Accepted != b.Limit.Accepted {
		what = append(what, theme.LimitAccepted)
	}
	return what
}

// messageSource is the message of a limit as it is written.
func messageSource(l *calc.Limit) string {
	if l.Stmt == nil || l.Stmt.Message == nil {
		return ""
	}
	return words(l.Stmt.Message.Pos.Text())
}

// boundMoved reports whether what a limit asks has another value although it
// is written as before.
func boundMoved(old *Release, i int, new *Release, k int) bool {
	a, b := old.Result.Bounds(i), new.Result.Bounds(k)
	if len(a) != len(b) {
		return true
	}
	for j := range a {
		x, okx := boundOf(a[j])
		y, oky := boundOf(b[j])
		if okx != oky || okx && !same(x.value, y.value) {
			return true
		}
	}
	return false
}

// A bound is the side of a comparison that says what is allowed.
type bound struct {
	value float64
	most  bool // the other side is at most this; else at least
	other string
	x     syntax.Expr // the bound
	of    syntax.Expr // what is bounded
}

// boundOf finds the bound of a comparison: the side that is given where the
// other is computed, else the right one. ok is false if it has no value.
func boundOf(b calc.Bound) (out bound, ok bool) {
	less := b.Op.String() == "<" || b.Op.String() == "<="
	if b.LeftFixed && !b.RightFixed {
		return bound{b.Left, !less, words(b.RightX.Span().Text()), b.LeftX, b.RightX}, !b.LeftUnknown
	}
	return bound{b.Right, less, words(b.LeftX.Span().Text()), b.RightX, b.LeftX}, !b.RightUnknown
}

// fillText is a text of a page with its figures as the page shows them.
func fillText(r *Release, parts []content.FilledPart, plain string) string {
	if parts == nil {
		return words(plain)
	}
	return words(content.Fill(parts, func(e int) string {
		if s := r.Result.Shown(e); s != nil {
			return s.String()
		}
		return ""
	}))
}

// signalUp is a signal word as it is printed.
func signalUp(s string) string { return strings.ToUpper(s) }
