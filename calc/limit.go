package calc

import (
	"math"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// limits judges every limit on the worst case of tolerances and operating ranges.
func (r *run) limits() (list diag.List) {
	for _, l := range r.prog.limits {
		out := &Limit{
			Name: fullName(l.block, l.stmt.Name.Name), Block: l.block, Stmt: l.stmt, Pos: l.stmt.Pos,
		}
		if l.stmt.Signal != nil {
			out.Signal = l.stmt.Signal.Name
		}
		if l.stmt.Accepted != nil {
			out.Accepted = l.stmt.Accepted.Value
		}
		for _, part := range l.text {
			mp := MessagePart{Text: part.text}
			if part.expr != nil {
				mp.Shown = r.shown(part.expr)
			}
			out.Message = append(out.Message, mp)
		}
		out.Uses, _ = r.mentions(l.stmt.Cond)
		if no := r.judge(l, out); no != "" && !r.anyFaulty(l.cond.refs) {
			list.Add(l.stmt.Cond.Span(), "limit-unknown", "the limit %s cannot be judged: it has no value where %s, within the ranges and tolerances of its inputs", out.Name, no).
				Hint = "extend what it is computed from, or state narrower ones"
		}
		if out.Holds() && out.Doubtful {
			list.Warn(l.stmt.Cond.Span(), "uncertain-limit", "the uncertainty of limit %s is larger than its margin", out.Name).
				Hint = "it holds as computed; a better measured input would settle it (JCGM 106)"
		}
		r.res.limits = append(r.res.limits, out)
	}
	return list
}

// judge judges one limit; no says where within the tolerances and ranges it has
// no value.
func (r *run) judge(l *limit, out *Limit) (no string) {
	if l.cond.node == nil {
		return ""
	}
	v, ok := l.cond.node.eval(r.base)
	if !ok {
		return "" // what it needs has been reported
	}
	out.Nominal = v.o.(bool)
	on := r.base
	if l.parts == nil {
		one := r.judged(l.cond)
		out.Verdict, out.At, no, on = one.Verdict, one.at, one.no, one.on
	}
	for i := range l.parts {
		one, found := r.compare(&l.parts[i])
		if !one.Known() {
			out.Verdict = Unknown
			return found.no
		}
		// The one that is broken or least certain speaks for all; of equals the tightest.
		if i > 0 {
			verdict := min(out.Verdict, one.Verdict)
			if one.Verdict > out.Verdict || one.Verdict == out.Verdict && relative(one) >= relative(out) {
				out.Verdict = verdict
				continue
			}
		}
		out.Verdict = one.Verdict
		out.Left, out.Right, out.Op, out.At = one.Left, one.Right, one.Op, one.At
		out.WorstLeft, out.WorstRight = one.WorstLeft, one.WorstRight
		out.Worst, out.Margin, out.Ratio, out.Doubtful = one.Worst, one.Margin, one.Ratio, one.Doubtful
		on = found.on
	}
	if out.Verdict == Broken && on != r.base {
		for i, part := range l.text {
			if part.expr != nil {
				out.Message[i].Shown = r.shownOn(on, part.expr)
			}
		}
	}
	return no
}

// relative is the margin as a share of the right side, to find the tightest of
// several comparisons.
func relative(l *Limit) float64 {
	ref, _ := l.Right.Value.(float64)
	if ref == 0 {
		ref = 1
	}
	return l.Margin / math.Abs(ref)
}

// compare judges one comparison.
func (r *run) compare(c *comparison) (*Limit, verdictOn) {
	out := &Limit{Op: c.op}
	x, ok1 := c.left.node.eval(r.base)
	y, ok2 := c.right.node.eval(r.base)
	if !ok1 || !ok2 {
		return out, verdictOn{}
	}
	found := r.judged(c.whole)
	if found.Verdict == Unknown {
		return out, found
	}
	out.Verdict, out.At = found.Verdict, found.at
	a, b := x.n, y.n
	if found.on != r.base {
		v, _ := c.left.node.eval(found.on)
		w, _ := c.right.node.eval(found.on)
		a, b = v.n, w.n
	}
	left, right := alike(c.left, c.right, a, b)
	out.Left, out.Right = r.shown(left), r.shown(right)
	if found.on != r.base {
		out.WorstLeft, out.WorstRight = r.shownOn(found.on, left), r.shownOn(found.on, right)
	}
	out.Worst = a - b
	out.Margin = out.Worst
	if c.op == syntax.OpLE || c.op == syntax.OpLT {
		out.Margin = -out.Worst
	}
	if !c.left.typ.Point && a > 0 && b > 0 {
		out.Ratio = a / b
		if c.op == syntax.OpLE || c.op == syntax.OpLT {
			out.Ratio = b / a
		}
	}
	if math.IsInf(out.Ratio, 0) {
		out.Ratio = 0 // of next to nothing, a share says nothing
	}
	u := r.prog.uncertainty(val{n: x.n - y.n, g: combine(1, x.g, -1, y.g)}).U
	out.Doubtful = u > 0 && u > math.Abs(out.Margin)
	return out, found
}

// alike has both sides of a comparison shown in one unit: that of the literal
// that one is held against, else one that the author chose, else a sensible one.
func alike(l, r *expr, a, b float64) (left, right *expr) {
	one, other := *l, *r
	u := one.typ.Unit
	switch {
	case isLiteral(other.src.X) || other.typ.Chosen && !one.typ.Chosen:
		u = other.typ.Unit
	case !one.typ.Chosen:
		u = unit.Sensible(u, math.Max(math.Abs(a), math.Abs(b)))
	}
	one.typ.Unit, other.typ.Unit = u, u
	one.typ.Chosen, other.typ.Chosen = true, true
	return &one, &other
}

func rangesStated(deps []*def) bool {
	for _, d := range deps {
		if !d.spread.stated {
			return false
		}
	}
	return true
}

func (r *run) crosschecks(list *diag.List) {
	for _, k := range r.prog.crosschecks {
		out := &CrossCheck{Stmt: k.stmt, Pos: k.stmt.Pos, Within: k.within}
		r.res.checks = append(r.res.checks, out)
		if k.first == nil || k.first.node == nil {
			continue
		}
		out.First, out.Second = r.shown(k.first), r.shown(k.second)
		out.Figure = out.First.Figure
		a, ok1 := out.First.Value.(float64)
		b, ok2 := out.Second.Value.(float64)
		if !ok1 || !ok2 {
			continue
		}
		out.Known = true
		if a != b {
			out.Off = 1 // of nothing, all of it
			if a != 0 {
				out.Off = math.Abs(b-a) / math.Abs(a)
			}
		}
		out.Agrees = a == b || a != 0 && out.Off <= k.within
		if !out.Agrees {
			list.Warn(k.stmt.Pos, "crosscheck", "the cross-check of %s disagrees: %s computed, %s estimated", clip(k.stmt.Target), out.First, out.Second).
				Hint = "one of the two is wrong, or the estimate is rougher than it says"
		}
	}
}
