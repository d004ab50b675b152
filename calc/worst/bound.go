package worst

import (
	"math"

	"workings/calc/interval"
)

// A bounds is what a slot comes to over a box.
type bounds struct {
	interval.I
	truth tri  // of a condition
	gap   bool // somewhere in the box it may have no value, or none that is known
	jump  bool // a small change of an operand may move it by more than its slopes say
}

// tri is the truth of a condition over a box.
type tri uint8

const (
	maybe tri = iota
	never
	always
)

func (t tri) not() tri {
	switch t {
	case never:
		return always
	case always:
		return never
	}
	return maybe
}

// over bounds an operation from the bounds of its operands.
func over(o *op, v []bounds) (r bounds) {
	switch o.kind {
	case constant:
		if math.IsNaN(o.k) {
			return bounds{I: interval.All, gap: true}
		}
		r.I = interval.Point(o.k)
		if o.k > 0 {
			r.truth = always
		} else {
			r.truth = never
		}
		return r
	case choice:
		return choose(v[o.a], v[o.args[0]], v[o.args[1]])
	case and:
		return both(v[o.a], v[o.b])
	case or:
		return negated(both(negated(v[o.a]), negated(v[o.b])))
	case not:
		return negated(v[o.a])
	case open:
		return bounds{I: interval.All, gap: true, jump: true}
	}
	ok := true
	var a, b interval.I
	switch {
	case o.args != nil:
		for _, s := range o.args {
			r.gap = r.gap || v[s].gap
		}
	case o.binary():
		a, b = v[o.a].I, v[o.b].I
		r.gap = v[o.a].gap || v[o.b].gap
	default:
		a, r.gap = v[o.a].I, v[o.a].gap
	}
	switch o.kind {
	case given, givenTruth:
		gap := r.gap
		r = v[o.args[0]]
		r.gap, r.jump = gap, false
		return r
	case neg:
		r.I = interval.Neg(a)
	case add:
		r.I = interval.Add(a, b)
	case sub:
		r.I = interval.Sub(a, b)
	case mul:
		if o.a == o.b {
			r.I = interval.Sqr(a)
		} else {
			r.I = interval.Mul(a, b)
		}
	case div:
		r.I, ok = interval.Div(a, b)
	case powFixed:
		r.I, ok = interval.Pow(a, o.k)
		ok = ok && !(o.k < 0 && a.Contains(0))
	case pow:
		r.I, ok = interval.PowI(a, b)
	case sqrt:
		r.I, ok = interval.Sqrt(a)
	case abs:
		r.I = interval.Abs(a)
	case exp:
		r.I = interval.Exp(a)
	case ln:
		r.I, ok = interval.Log(a)
	case log10:
		r.I, ok = interval.Log10(a)
	case sin:
		r.I = interval.Sin(a)
	case cos:
		r.I = interval.Cos(a)
	case tan:
		r.I, ok = interval.Tan(a)
	case asin:
		r.I, ok = interval.Asin(a)
	case acos:
		r.I, ok = interval.Acos(a)
	case atan:
		r.I = interval.Atan(a)
	case atan2:
		var smooth bool
		r.I, ok, smooth = interval.Atan2(a, b)
		r.jump = !smooth
	case hypot:
		r.I = interval.Hypot(a, b)
	case least:
		r.I = interval.Min(a, b)
	case greatest:
		r.I = interval.Max(a, b)
	case sum:
		r.I = v[o.args[0]].I
		for _, s := range o.args[1:] {
			r.I = interval.Add(r.I, v[s].I)
		}
	case floor:
		r.I, ok, r.jump = steps(math.Floor, a, b)
	case ceil:
		r.I, ok, r.jump = steps(math.Ceil, a, b)
	case round:
		r.I, ok, r.jump = steps(math.RoundToEven, a, b)
	case table:
		p := o.more.(*points)
		r.I, ok = line(p, a)
	case lookup:
		r.I, ok = segments(o, v)
		r.jump = true
	case result:
		r.I, ok = outcome(o, v)
	case le, lt, eq:
		return compared(o, a, b, r)
	}
	if r.Mag() >= huge {
		ok = false
	}
	r.gap = r.gap || !ok
	return r
}

func negated(x bounds) bounds {
	x.I, x.truth = interval.Neg(x.I), x.truth.not()
	return x
}

// both bounds a condition that looks at its second part only where the first is true.
func both(x, y bounds) bounds {
	r := bounds{I: interval.Min(x.I, y.I), jump: x.jump || y.jump}
	switch {
	case x.truth == never:
		r.truth, r.gap = never, x.gap
	case x.truth == always:
		r.truth, r.gap = y.truth, x.gap || y.gap
	default:
		r.gap = x.gap || y.gap
		if y.truth == never && !y.gap {
			r.truth = never
		}
	}
	return r
}

func choose(c, a, b bounds) bounds {
	r := bounds{}
	switch {
	case c.truth == always && !c.gap:
		return a
	case c.truth == never && !c.gap:
		return b
	case a.truth == b.truth:
		r.truth = a.truth
	}
	r.I, r.jump, r.gap = interval.Hull(a.I, b.I), true, c.gap || a.gap || b.gap
	return r
}

// compared bounds the margin of a comparison.
func compared(o *op, a, b interval.I, r bounds) bounds {
	aa, ab := interval.Abs(a), interval.Abs(b)
	tie := interval.Mul(interval.Point(Slack), interval.Max(aa, ab))
	d := interval.Sub(b, a)
	if o.a == o.b {
		d = interval.Point(0)
	}
	switch o.kind {
	case le:
		r.I = interval.Add(d, tie)
	case lt:
		r.I = interval.Sub(d, tie)
	default:
		r.I = interval.Sub(tie, interval.Abs(d))
	}
	strict := o.kind == lt
	switch {
	case r.Lo > 0 || r.Lo >= 0 && !strict:
		r.truth = always
	case r.Hi < 0 || r.Hi <= 0 && strict:
		r.truth = never
	}
	r.I = interval.Mul(r.I, interval.Point(o.k))
	return r
}

// steps bounds a rounding to a multiple of a step; jump where the box holds
// more than one multiple.
func steps(f func(float64) float64, x, step interval.I) (r interval.I, ok, jump bool) {
	if !(step.Lo > 0) {
		return interval.All, false, true
	}
	q, _ := interval.Div(x, step)
	if math.IsInf(q.Lo, 0) || math.IsInf(q.Hi, 0) {
		return interval.All, true, true
	}
	n := interval.I{Lo: Step(f, q.Lo, 1), Hi: Step(f, q.Hi, 1)}
	return interval.Mul(n, step), true, !n.Thin()
}

// line bounds a table: its ends and the points between are its extremes.
func line(p *points, a interval.I) (interval.I, bool) {
	n := len(p.x)
	lo, hi := p.x[0], p.x[n-1]
	ok := a.Lo >= lo-Tie(lo, a.Lo) && a.Hi <= hi+Tie(hi, a.Hi)
	if a.Hi < lo || a.Lo > hi {
		if !ok {
			return interval.All, false
		}
	}
	from, to := math.Min(math.Max(a.Lo, lo), hi), math.Max(math.Min(a.Hi, hi), lo)
	r := interval.I{Lo: math.Inf(1), Hi: math.Inf(-1)}
	noise := 0.0
	take := func(at float64) {
		if y, found := Line(p.x, p.y, at); found {
			r = interval.Hull(r, interval.Point(y))
			k, _, _ := Segment(p.x, at)
			noise = math.Max(noise, math.Max(math.Abs(p.y[k]), math.Abs(p.y[min(k+1, n-1)])))
		}
	}
	take(from)
	take(to)
	for i, x := range p.x {
		if x > from && x < to {
			take(p.x[i])
		}
	}
	if !a.Thin() { // where it is one place, it is a point of the table's own arithmetic
		noise *= 4e-16
		r = interval.Add(r, interval.I{Lo: -noise, Hi: noise})
	}
	return r, ok
}

// segments bounds a lookup whose points move: within each stretch that the place
// can touch the value lies between those of the stretch's ends.
func segments(o *op, v []bounds) (r interval.I, ok bool) {
	n := (len(o.args) - 1) / 2
	at, x, y := v[o.args[0]].I, o.args[1:1+n], o.args[1+n:]
	ok = at.Lo >= v[x[0]].Hi && at.Hi <= v[x[n-1]].Lo
	r = interval.I{Lo: math.Inf(1), Hi: math.Inf(-1)}
	for i := range n {
		if i > 0 && !(v[x[i]].Lo > v[x[i-1]].Hi) {
			return interval.All, false
		}
		if i+1 < n && v[x[i+1]].Hi < at.Lo || i > 0 && v[x[i-1]].Lo > at.Hi {
			continue // neither of its stretches is touched
		}
		r = interval.Hull(r, v[y[i]].I)
	}
	if r.Lo > r.Hi {
		return interval.All, false
	}
	noise := 4e-16 * r.Mag()
	return interval.Add(r, interval.I{Lo: -noise, Hi: noise}), ok
}

// mostCorners is at how many varying arguments a function is asked at every
// corner whether it has a value there.
const mostCorners = 5

// outcome bounds a result of a function from what it says about its slopes.
func outcome(o *op, v []bounds) (interval.I, bool) {
	f, k := o.more.(*Function), int(o.k)
	lo, hi := make([]float64, len(o.args)), make([]float64, len(o.args))
	var wide []int
	for i, s := range o.args {
		x := v[s].I
		if math.IsInf(x.Lo, 0) || math.IsInf(x.Hi, 0) {
			return interval.All, false
		}
		lo[i], hi[i] = x.Lo, x.Hi
		if x.Thin() {
			continue
		}
		wide = append(wide, i)
		switch {
		case f.Rises[k][i]:
		case f.Falls[k][i]:
			lo[i], hi[i] = x.Hi, x.Lo
		default:
			return interval.All, false
		}
	}
	a, ok := f.Call(lo)
	if !ok {
		return interval.All, false
	}
	if len(wide) == 0 {
		return interval.Point(a[k]), true
	}
	b, ok := f.Call(hi)
	if !ok || len(wide) > mostCorners {
		return interval.All, false
	}
	// A value at both ends does not say that there is one between: a function
	// that refuses some arguments refuses them at a corner.
	corner := append([]float64(nil), lo...)
	for bits := range 1 << len(wide) {
		for j, i := range wide {
			corner[i] = lo[i]
			if bits>>j&1 == 1 {
				corner[i] = hi[i]
			}
		}
		if _, ok := f.Call(corner); !ok {
			return interval.All, false
		}
	}
	e := f.Noise * math.Max(math.Abs(a[k]), math.Abs(b[k]))
	return interval.I{Lo: math.Min(a[k], b[k]) - e, Hi: math.Max(a[k], b[k]) + e}, true
}

// slopes calls f with every operand and the bounds of the derivative by it.
func slopes(o *op, v []bounds, r *bounds, f func(s Slot, d interval.I)) {
	if r.gap || r.jump && o.kind != choice && o.kind < le {
		o.operands(func(s Slot) { f(s, interval.All) })
		return
	}
	one, zero := interval.Point(1), interval.Point(0)
	var a, b interval.I
	if o.args == nil {
		a = v[o.a].I
		if o.binary() {
			b = v[o.b].I
		}
	}
	// times is d divided by x; anything where x can be 0.
	per := func(d, x interval.I) interval.I { q, _ := interval.Div(d, x); return q }
	switch o.kind {
	case given, givenTruth:
		f(o.args[0], one)
	case neg, not:
		f(o.a, interval.Point(-1))
	case add:
		f(o.a, one)
		f(o.b, one)
	case sub:
		f(o.a, one)
		f(o.b, interval.Point(-1))
	case mul:
		f(o.a, b)
		f(o.b, a)
	case div:
		f(o.a, per(one, b))
		f(o.b, interval.Neg(per(r.I, b)))
	case powFixed:
		p, _ := interval.Pow(a, o.k-1)
		if o.k == 0 {
			p = zero
		} else if o.k > 0 && o.k < 1 && a.Lo <= 0 { // as steep as can be at 0
			p = interval.I{Lo: 0, Hi: math.Inf(1)}
		}
		f(o.a, interval.Mul(interval.Point(o.k), p))
	case pow: // a is positive, or there would be a gap
		l, _ := interval.Log(a)
		f(o.a, interval.Mul(b, per(r.I, a)))
		f(o.b, interval.Mul(r.I, l))
	case sqrt:
		f(o.a, per(interval.Point(0.5), r.I))
	case abs:
		f(o.a, sign(a))
	case exp:
		f(o.a, r.I)
	case ln:
		f(o.a, per(one, a))
	case log10:
		f(o.a, per(interval.I{Lo: 0.43429448190325176, Hi: 0.43429448190325187}, a))
	case sin:
		f(o.a, interval.Cos(a))
	case cos:
		f(o.a, interval.Neg(interval.Sin(a)))
	case tan:
		f(o.a, interval.Add(one, interval.Sqr(r.I)))
	case asin, acos:
		w, _ := interval.Sqrt(interval.Sub(one, interval.Sqr(a)))
		d := per(one, w)
		if o.kind == acos {
			d = interval.Neg(d)
		}
		f(o.a, d)
	case atan:
		f(o.a, per(one, interval.Add(one, interval.Sqr(a))))
	case atan2:
		q := interval.Add(interval.Sqr(a), interval.Sqr(b))
		f(o.a, per(b, q))
		f(o.b, interval.Neg(per(a, q)))
	case hypot:
		unit := interval.I{Lo: -1, Hi: 1}
		f(o.a, interval.Meet(unit, per(a, r.I)))
		f(o.b, interval.Meet(unit, per(b, r.I)))
	case least, and:
		d, e := either(a, b)
		f(o.a, d)
		f(o.b, e)
	case greatest, or:
		d, e := either(interval.Neg(a), interval.Neg(b))
		f(o.a, d)
		f(o.b, e)
	case sum:
		for _, s := range o.args {
			f(s, one)
		}
	case floor, ceil, round: // of one multiple all over the box
		f(o.a, zero)
		f(o.b, per(r.I, b))
	case table:
		f(o.a, lineSlopes(o.more.(*points), a))
	case choice:
		switch c := v[o.a].truth; {
		case c == always:
			f(o.args[0], one)
		case c == never:
			f(o.args[1], one)
		default:
			f(o.a, interval.All)
			f(o.args[0], interval.I{Lo: 0, Hi: 1})
			f(o.args[1], interval.I{Lo: 0, Hi: 1})
		}
	case result:
		fn, k := o.more.(*Function), int(o.k)
		for i, s := range o.args {
			switch d := interval.All; {
			case fn.Rises[k][i] && fn.Falls[k][i]:
			case fn.Rises[k][i]:
				f(s, interval.I{Lo: 0, Hi: d.Hi})
			case fn.Falls[k][i]:
				f(s, interval.I{Lo: d.Lo, Hi: 0})
			default:
				f(s, d)
			}
		}
	case le, lt:
		f(o.a, interval.I{Lo: -(1 + 2*Slack) * o.k, Hi: -(1 - 2*Slack) * o.k})
		f(o.b, interval.I{Lo: (1 - 2*Slack) * o.k, Hi: (1 + 2*Slack) * o.k})
	case eq:
		d := interval.Mul(sign(interval.Sub(b, a)), interval.I{Lo: (1 - 2*Slack) * o.k, Hi: (1 + 2*Slack) * o.k})
		f(o.a, d)
		f(o.b, interval.Neg(d))
	}
}

// sign bounds the slope of the amount of x.
func sign(x interval.I) interval.I {
	switch {
	case x.Lo >= 0:
		return interval.Point(1)
	case x.Hi <= 0:
		return interval.Point(-1)
	}
	return interval.I{Lo: -1, Hi: 1}
}

// either bounds the slopes of the lesser of a and b.
func either(a, b interval.I) (d, e interval.I) {
	switch {
	case a.Hi < b.Lo:
		return interval.Point(1), interval.Point(0)
	case b.Hi < a.Lo:
		return interval.Point(0), interval.Point(1)
	}
	return interval.I{Lo: 0, Hi: 1}, interval.I{Lo: 0, Hi: 1}
}

// lineSlopes bounds the slope of a table.
func lineSlopes(p *points, a interval.I) interval.I {
	r := interval.I{Lo: math.Inf(1), Hi: math.Inf(-1)}
	for i := 0; i+1 < len(p.x); i++ {
		if p.x[i+1] < a.Lo || p.x[i] > a.Hi {
			continue
		}
		d, _ := interval.Div(interval.Sub(interval.Point(p.y[i+1]), interval.Point(p.y[i])), interval.Sub(interval.Point(p.x[i+1]), interval.Point(p.x[i])))
		r = interval.Hull(r, d)
	}
	if r.Lo > r.Hi {
		return interval.Point(0)
	}
	return r
}
