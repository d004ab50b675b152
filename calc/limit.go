package calc

import (
	"math"

	"workings/calc/diag"
	"workings/calc/syntax"
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
		if !r.judge(l, out) && l.cond.node != nil && !r.anyFaulty(l.cond.refs) {
			list.Add(l.stmt.Cond.Span(), "limit-unknown", "the limit %s cannot be judged: it has no value at some place within the ranges and tolerances of its inputs", out.Name).
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

// judge judges one limit; ok is false if it could be computed as it stands and
// not on its worst case.
func (r *run) judge(l *limit, out *Limit) (ok bool) {
	if l.cond.node == nil {
		return true
	}
	v, ok := l.cond.node.eval(r.base)
	if !ok {
		return true // what it needs has been reported
	}
	out.Nominal = v.o.(bool)
	if l.parts == nil {
		// No comparison that has a margin: the condition itself is tried at the
		holds := out.Nominal
		// ends and inside of the ranges, and at the ends of the tolerances.
		deps := append(r.prog.ranged(l.cond.from), r.prog.toleranced(l.cond.from)...)
		known := true
		if len(deps) > 0 {
			r.extremes(&Spread{}, 1, deps, func(m *machine) (float64, bool) {
				x, ok := l.cond.node.eval(m)
				if !ok {
					known = false
					return 0, false
				}
				if !x.o.(bool) {
					holds = false
					return 0, true
				}
				return 1, true
			})
		}
		out.Verdict = verdict(known, holds)
		return known
	}
	out.Verdict = Searched
	first := true
	for _, c := range l.parts {
		one := r.compare(c)
		if !one.Known() {
			out.Verdict = Unknown
			return false
		}
		out.Verdict = min(out.Verdict, one.Verdict)
		if first || relative(one) < relative(out) {
			out.Left, out.Right, out.Op = one.Left, one.Right, one.Op
			out.Worst, out.Margin, out.Ratio, out.Doubtful = one.Worst, one.Margin, one.Ratio, one.Doubtful
		}
		first = false
	}
	return true
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
func (r *run) compare(c comparison) *Limit {
	out := &Limit{Op: c.op}
	x, ok1 := c.left.node.eval(r.base)
	y, ok2 := c.right.node.eval(r.base)
	if !ok1 || !ok2 {
		return out
	}
	out.Left, out.Right = r.shown(c.left), r.shown(c.right)
	diff := val{n: x.n - y.n, g: combine(1, x.g, -1, y.g)}
	from := union(c.left.from, c.right.from)
	known := true
	sample := func(m *machine) (float64, bool) {
		a, ok1 := c.left.node.eval(m)
		b, ok2 := c.right.node.eval(m)
		if !ok1 || !ok2 {
			known = false
			return 0, false
		}
		return a.n - b.n, true
	}
	sp, fault := r.spread(diff, from, sample)
	known = known && fault == ""
	if !known { // a value inside the range cannot be computed: nothing can be promised
		return out
	}
	lo, hi, u := diff.n, diff.n, 0.0
	if sp != nil {
		if sp.Ranged {
			lo, hi = math.Min(sp.Low, diff.n), math.Max(sp.High, diff.n)
			if !rangesStated(r.prog.ranged(from)) {
				lo, hi = sp.Low, sp.High
			}
		}
		tolLo, tolHi := sp.TolLo, sp.TolHi
		if sp.Ranged && len(r.prog.toleranced(from)) > 0 {
			// A tolerance may weigh more at the end of a range than in its middle.
			low, _ := r.tolerances(sp.Low, diff.g, from, r.prog.at(sp.LowAt, from), sample)
			_, high := r.tolerances(sp.High, diff.g, from, r.prog.at(sp.HighAt, from), sample)
			tolLo, tolHi = math.Max(tolLo, low), math.Max(tolHi, high)
			if !known {
				return out
			}
		}
		lo -= tolLo
		hi += tolHi
		u = sp.U
	}
	// The noise of floating point must not break a limit that is met exactly.
	eps := 1e-12 * math.Max(math.Abs(x.n), math.Abs(y.n))
	switch c.op {
	case syntax.OpLE, syntax.OpLT:
		out.Worst, out.Margin = hi, -hi
	default:
		out.Worst, out.Margin = lo, lo
	}
	holds := out.Margin >= -eps
	if c.op == syntax.OpLT || c.op == syntax.OpGT {
		holds = out.Margin > eps
	}
	out.Verdict = verdict(true, holds)
	if !c.left.typ.Point {
		worst := y.n + out.Worst // the left side on the worst case, the right side as it is
		switch {
		case (c.op == syntax.OpLE || c.op == syntax.OpLT) && worst > 0 && y.n > 0:
			out.Ratio = y.n / worst
		case (c.op == syntax.OpGE || c.op == syntax.OpGT) && worst > 0 && y.n > 0:
			out.Ratio = worst / y.n
		}
	}
	if math.IsInf(out.Ratio, 0) {
		out.Ratio = 0 // of next to nothing, a share says nothing
	}
	out.Doubtful = u > 0 && u > math.Abs(out.Margin)
	return out
}

func verdict(known, holds bool) Verdict {
	switch {
	case !known:
		return Unknown
	case holds:
		return Searched
	}
	return Broken
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
