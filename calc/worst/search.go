package worst

import (
	"container/heap"
	"math"
	"math/rand/v2"

	"workings/calc/interval"
)

// A Search looks for the least value of a number or a condition's margin on a
// tape over a box of the tape's variables.
type Search struct {
	Tape *Tape
	Root Slot
	Most bool         // the greatest is sought instead, of a number
	Box  []interval.I // by variable
	// Point computes the root at a place, by variable, where the tape cannot
	// (Open); nil if it always can. ok is false where there is no value; holds is
	// the truth of a condition.
	Point func(at []float64) (x float64, holds, ok bool)
	// PointCost is what asking Point costs in operations of the tape.
	PointCost int
	// Steps bounds the work, in operations of the tape; a few passes are always made.
	Steps int
}

// A Worst is what a search found.
type Worst struct {
	Value float64   // the least (greatest) value found
	At    []float64 // where, by variable
	Bound float64   // no value is less (greater); infinite if none is known
	Sharp bool      // bound and value are the same but for rounding
	Whole bool      // there is a value everywhere
	// Of a condition:
	Holds bool // it is true everywhere, for certain
	False bool // it is false at At
	// Without is a place where there is no value; nil if none was met.
	Without []float64
	Used    []bool // by variable: the root depends on it
}

// Run searches. The same search gives the same result.
func (s *Search) Run() *Worst {
	own := *s
	x := &searching{Search: &own, out: &Worst{Value: math.Inf(1), Bound: math.Inf(-1)}}
	x.extract()
	if !x.opaque {
		x.PointCost = x.cost
	}
	x.Search.Steps = max(s.Steps, 30*max(x.cost, x.PointCost))
	x.nominalFirst()
	x.boundAndBranch()
	if x.out.Without == nil {
		if !x.decided() {
			x.sample(x.Steps / 2)
		} else if x.cond && !x.close(x.out.Bound) {
			x.sample(0) // the verdict is known: how far it is from the limit is not yet
		} else if !x.opaque && !x.funcs {
			x.polish()
		}
	}
	x.finish()
	return x.out
}

// searching is a search under way. It minimises: a greatest value is the least
// of the negative.
type searching struct {
	*Search
	out           *Worst
	ops           []op // that the root depends on, with operands renumbered
	from          []Slot
	vars          []int  // of the tape, that the root depends on and that vary
	pos           []Slot // of each of vars
	vals          []bounds
	adj           []interval.I
	pts           []value
	sign          float64
	cond          bool
	opaque, funcs bool
	cost          int // of one pass
	steps         int
	points        int
	nom           float64
	full          []float64 // a place with the variables that do not vary
	queue         boxes
	held          boxes   // certainly true, of a condition
	rest          float64 // least bound of boxes given up
	left          bool    // boxes that are not certain were given up
	gap           bool    // somewhere there may be no value
	count         int
	width         []float64
}

// extract takes from the tape what the root depends on. What does not vary
// within the box is a constant.
func (x *searching) extract() {
	t := x.Tape
	x.sign = 1
	if x.Most {
		x.sign = -1
	}
	x.cond = t.ops[x.Root].kind >= le
	x.full = make([]float64, len(x.Box))
	for i, b := range x.Box {
		x.full[i] = b.Mid()
		if b.Thin() {
			x.full[i] = b.Lo
		}
	}
	x.out.Used = make([]bool, len(x.Box))
	need := make([]bool, x.Root+1)
	need[x.Root] = true
	for i := x.Root; i >= 0; i-- {
		if need[i] {
			t.ops[i].operands(func(s Slot) { need[s] = true })
		}
	}
	index := make([]Slot, x.Root+1)
	varies := make([]bool, x.Root+1)
	moved := make([]bool, x.Root+1) // a variable is fixed elsewhere than at its nominal value
	put := func(i Slot, o op) {
		index[i] = Slot(len(x.ops))
		x.ops = append(x.ops, o)
	}
	for i := Slot(0); i <= x.Root; i++ {
		if !need[i] {
			continue
		}
		o := t.ops[i]
		if o.kind == variable {
			v := int(o.k)
			if x.Box[v].Thin() {
				moved[i] = x.Box[v].Lo != t.nominal[i].x
				put(i, op{kind: constant, k: x.Box[v].Lo})
				continue
			}
			varies[i] = true
			x.out.Used[v] = true
			x.vars = append(x.vars, v)
			put(i, o)
			x.pos = append(x.pos, index[i])
			x.width = append(x.width, x.Box[v].Width())
			continue
		}
		o.operands(func(s Slot) { varies[i] = varies[i] || varies[s]; moved[i] = moved[i] || moved[s] })
		if !varies[i] && !moved[i] && o.kind != open {
			k := t.nominal[i].x
			if t.nominal[i].none {
				k = math.NaN()
			} else if o.kind >= le {
				k = math.Inf(-1)
				if t.nominal[i].yes {
					k = math.Inf(1)
				}
			}
			put(i, op{kind: constant, k: k})
			continue
		}
		if o.args != nil {
			args := make([]Slot, len(o.args))
			for j, s := range o.args {
				args[j] = index[s]
			}
			o.args = args
			o.a = index[o.a]
			x.cost += len(args)
		} else {
			o.a, o.b = index[o.a], index[o.b]
		}
		switch o.kind {
		case open:
			x.opaque = true
		case result:
			x.funcs = true
			x.cost += o.more.(*Function).Cost
		}
		put(i, o)
	}
	x.cost += len(x.ops)
	x.vals = make([]bounds, len(x.ops))
	x.adj = make([]interval.I, len(x.ops))
	x.pts = make([]value, len(x.ops))
}

// point computes the root at a place of the variables that vary, and keeps the
// best. ok is false where there is no value.
func (x *searching) point(at []float64) (v float64, ok bool) {
	holds := false
	for i, k := range x.vars {
		x.full[k] = at[i]
	}
	if x.opaque && x.Point != nil {
		v, holds, ok = x.Point(x.full)
		x.steps += x.PointCost
	} else {
		x.steps += x.cost
		for i := range x.ops {
			o := &x.ops[i]
			switch o.kind {
			case variable:
				x.pts[i] = value{x: x.full[int(o.k)]}
			case constant:
				x.pts[i] = value{x: o.k, yes: o.k > 0, none: math.IsNaN(o.k)}
			default:
				x.pts[i] = compute(o, x.pts)
			}
		}
		r := x.pts[len(x.pts)-1]
		v, holds, ok = r.x, r.yes, !r.none
	}
	if !ok {
		if x.out.Without == nil {
			x.out.Without = append([]float64(nil), x.full...)
		}
		return math.Inf(1), false
	}
	v *= x.sign
	worse := v < x.out.Value
	if x.cond && holds == x.out.False { // false beats true, whatever the margins
		worse = !holds && !x.out.False
	}
	if worse || x.out.At == nil {
		x.out.Value, x.out.At = v, append(x.out.At[:0], x.full...)
		x.out.False = x.cond && !holds
	}
	return v, true
}

// nominalFirst computes the root at the middle of everything.
func (x *searching) nominalFirst() {
	at := make([]float64, len(x.vars))
	for i, v := range x.vars {
		n := x.Tape.nominal[x.Tape.vars[v]].x
		at[i] = math.Min(math.Max(n, x.Box[v].Lo), x.Box[v].Hi)
	}
	x.nom, _ = x.point(at)
}

// A box is a part of the whole, with the least that the root can be in it.
type box struct {
	at    []interval.I // by vars
	bound float64
	sure  bool // of a condition: true all over it; of a number: there is a value all over it
	order int
	split int // the variable to cut; -1: it cannot be cut
}

// boxes are a heap: the least bound first, the older of equals.
type boxes []*box

func (b boxes) Len() int { return len(b) }
func (b boxes) Less(i, j int) bool {
	return b[i].bound < b[j].bound || b[i].bound == b[j].bound && b[i].order < b[j].order
}
func (b boxes) Swap(i, j int) { b[i], b[j] = b[j], b[i] }
func (b *boxes) Push(x any)   { *b = append(*b, x.(*box)) }
func (b *boxes) Pop() any {
	old := *b
	x := old[len(old)-1]
	*b = old[:len(old)-1]
	return x
}

// forward bounds every operation over a box.
func (x *searching) forward(at []interval.I) bounds {
	x.steps += x.cost
	k := 0
	for i := range x.ops {
		o := &x.ops[i]
		if o.kind == variable {
			x.vals[i] = bounds{I: at[k]}
			k++
			continue
		}
		x.vals[i] = over(o, x.vals)
	}
	r := x.vals[len(x.vals)-1]
	if x.sign < 0 {
		r.I = interval.Neg(r.I)
	}
	return r
}

// backward bounds the slopes of the root by every variable over the box of the
// last forward.
func (x *searching) backward(g []interval.I) []interval.I {
	x.steps += x.cost
	clear(x.adj)
	last := len(x.ops) - 1
	x.adj[last] = interval.Point(x.sign)
	for i := last; i >= 0; i-- {
		d := x.adj[i]
		if d.Lo == 0 && d.Hi == 0 || x.ops[i].kind <= variable {
			continue
		}
		slopes(&x.ops[i], x.vals, &x.vals[i], func(s Slot, e interval.I) {
			x.adj[s] = interval.Add(x.adj[s], interval.Mul(d, e))
		})
	}
	g = g[:0]
	for _, p := range x.pos {
		g = append(g, x.adj[p])
	}
	return g
}

// weigh bounds the root over a box, narrows the box to where its least value
// lies, tries its most promising points and puts it in the queue.
func (x *searching) weigh(at []interval.I) {
	n := len(at)
	r := x.forward(at)
	b := &box{at: at, bound: r.Lo, order: x.count, split: -1}
	x.count++
	sure := !r.gap && (!x.cond || r.truth == always)
	g := x.backward(make([]interval.I, 0, n))
	narrowed := false
	if !r.gap {
		for i := range at {
			switch {
			case at[i].Thin():
			case g[i].Lo >= 0:
				at[i], narrowed = interval.Point(at[i].Lo), true
			case g[i].Hi <= 0:
				at[i], narrowed = interval.Point(at[i].Hi), true
			}
		}
	}
	mid, corner := make([]float64, n), make([]float64, n)
	wide := 0
	for i := range at {
		mid[i], corner[i] = at[i].Mid(), at[i].Lo
		if at[i].Thin() {
			continue
		}
		wide++
		if s := g[i].Lo + g[i].Hi; s < 0 || math.IsNaN(s) && g[i].Hi < math.Inf(1) {
			corner[i] = at[i].Hi
		}
	}
	// A place that is called false is asked of the ordinary evaluator; the most
	// promising places of a box are its middle and the corner against the slopes.
	if !x.exhausted() {
		x.point(corner)
		if r.gap && wide > 0 && !x.exhausted() { // it may have no value at the other end
			for i := range at {
				if corner[i] == at[i].Lo {
					corner[i] = at[i].Hi
				} else {
					corner[i] = at[i].Lo
				}
			}
			x.point(corner)
		}
		if wide > 0 && !x.exhausted() {
			x.point(mid)
		}
	}
	if narrowed {
		q := x.forward(at)
		b.bound = math.Max(b.bound, q.Lo)
		if x.cond {
			sure = sure || !q.gap && (q.Lo > 0 || q.truth == always && x.ops[len(x.ops)-1].kind == le)
			r.gap = r.gap || q.gap
		}
		if wide > 0 {
			g = x.backward(g)
		}
	}
	if wide > 0 && !r.gap {
		if m, ok := x.meanValue(at, mid, g); ok && m > b.bound {
			b.bound = m
			sure = sure || x.cond && m > 0
		}
	}
	b.sure = sure
	b.split = x.cut(at, g)
	switch {
	case !sure:
		heap.Push(&x.queue, b)
	case b.bound >= x.out.Value:
		x.rest = math.Min(x.rest, b.bound)
	default:
		heap.Push(&x.held, b)
	}
}

// meanValue bounds the root over a box by its value in the middle and its slopes.
func (x *searching) meanValue(at []interval.I, mid []float64, g []interval.I) (float64, bool) {
	for i := range at {
		if !at[i].Thin() && (math.IsInf(g[i].Lo, 0) || math.IsInf(g[i].Hi, 0)) {
			return 0, false
		}
	}
	pt := make([]interval.I, len(mid))
	for i, m := range mid {
		pt[i] = interval.Point(m)
	}
	c := x.forward(pt)
	if c.gap {
		return 0, false
	}
	for i := range at {
		if !at[i].Thin() {
			c.I = interval.Add(c.I, interval.Mul(g[i], interval.Sub(at[i], interval.Point(mid[i]))))
		}
	}
	return c.Lo, true
}

// cut chooses the variable that moves the root most over a box; -1 if there is
// none that can be cut.
func (x *searching) cut(at, g []interval.I) int {
	best, which, endless := 0.0, -1, false
	for i := range at {
		m := at[i].Mid()
		if !(m > at[i].Lo && m < at[i].Hi) || g[i].Lo == 0 && g[i].Hi == 0 {
			continue
		}
		share := at[i].Width() / x.width[i]
		smear := at[i].Width() * g[i].Mag()
		if math.IsInf(smear, 1) {
			if !endless || share > best {
				best, which, endless = share, i, true
			}
		} else if !endless && (which < 0 || smear > best) {
			best, which = smear, i
		}
	}
	if endless { // a finite smear says nothing beside an endless one: the widest
		for i := range at {
			if m := at[i].Mid(); m > at[i].Lo && m < at[i].Hi && (g[i].Lo != 0 || g[i].Hi != 0) && at[i].Width()/x.width[i] > 2*best {
				best, which = at[i].Width()/x.width[i], i
			}
		}
	}
	return which
}

func (x *searching) exhausted() bool {
	return x.steps > x.Steps
}

// close reports whether a bound is as good as the best value found.
func (x *searching) close(bound float64) bool {
	v := x.out.Value
	tol := 1e-12 * math.Max(math.Abs(v), math.Abs(x.nom))
	if math.IsInf(tol, 1) {
		tol = 0
	}
	if d := 1e-6 * math.Abs(v-x.nom); d < math.Inf(1) {
		tol += d
	}
	if x.cond { // the verdict counts, the worst value is read to a few digits
		tol += 1e-5*math.Abs(v-x.nom) + 1e-9
	}
	return bound >= v-tol
}

// polishing is which part of the work may go into how much a condition of known
// verdict is true or false by.
const polishing = 15

// next is the heap whose first box is cut next; nil when enough is known. What
// is not sure comes first, for the verdict hangs on it; then the least value is
// sought among the rest.
func (x *searching) next() *boxes {
	sure := len(x.held) > 0 && !x.close(x.held[0].bound)
	switch {
	case x.cond && x.out.False: // the verdict is known: only how bad it gets is sought
		switch {
		case x.steps > x.Steps/polishing:
			return nil
		case len(x.queue) > 0 && !x.close(x.queue[0].bound) && !(sure && x.held[0].bound < x.queue[0].bound):
			return &x.queue
		case sure:
			return &x.held
		}
		return nil
	case len(x.queue) > 0 && (x.cond || !sure || x.queue[0].bound <= x.held[0].bound):
		return &x.queue
	case sure && !(x.cond && x.steps > x.Steps/polishing): // that it holds is known; the rest is polish
		return &x.held
	}
	return nil
}

// boundAndBranch cuts boxes until the least value is known or the work is spent.
func (x *searching) boundAndBranch() {
	x.rest = math.Inf(1)
	at := make([]interval.I, len(x.vars))
	for i, v := range x.vars {
		at[i] = x.Box[v]
	}
	x.weigh(at)
	// What cannot be bounded as a whole because of what is outside the tape cannot
	// be bounded in parts; its places are better spent on an even search.
	lost := (x.opaque || x.funcs) && len(x.queue) > 0 && math.IsInf(x.queue[0].bound, -1)
	for !lost && !x.exhausted() && x.out.Without == nil {
		from := x.next()
		if from == nil {
			break
		}
		b := (*from)[0]
		heap.Pop(from)
		if b.split < 0 {
			x.rest = math.Min(x.rest, b.bound)
			if !b.sure {
				x.left = true
			}
			continue
		}
		i := b.split
		m := b.at[i].Mid()
		for _, half := range [2]interval.I{{Lo: b.at[i].Lo, Hi: m}, {Lo: m, Hi: b.at[i].Hi}} {
			part := append([]interval.I(nil), b.at...)
			part[i] = half
			x.weigh(part)
		}
	}
	for _, b := range x.queue {
		x.rest = math.Min(x.rest, b.bound)
		x.left = x.left || !b.sure
	}
	for _, b := range x.held {
		x.rest = math.Min(x.rest, b.bound)
	}
	x.out.Bound = math.Min(x.rest, x.out.Value)
}

// decided reports whether bounds settle what was asked.
func (x *searching) decided() bool {
	if x.cond {
		return !x.left || x.out.False
	}
	return !x.left && x.close(x.out.Bound)
}

func (x *searching) finish() {
	x.out.Whole = !x.left
	x.out.Holds = x.cond && !x.left && !x.out.False
	x.out.Sharp = x.out.Whole && x.close(x.out.Bound)
	x.out.Value *= x.sign
	x.out.Bound *= x.sign
}

// sample looks where no bound is known: at the corners, in the middle and at
// places that fill the box evenly, and narrows in around the best.
func (x *searching) sample(steps int) {
	n := len(x.vars)
	if n == 0 {
		return
	}
	outside := x.opaque || x.funcs
	budget := x.steps + max(steps, 16*max(x.cost, x.PointCost)) // a field is asked 16 times at least
	some, fill := 3, 4+2*n                                      // of how many variables all corners are tried; how many places fill the box
	if !outside {
		budget = x.steps + max(steps, 3000*x.cost)
		some, fill = 8, 200
	}
	spent := func() bool { return x.out.Without != nil || x.steps > budget }
	place := func(part func(i int) float64) []float64 {
		at := make([]float64, n)
		for i, v := range x.vars {
			at[i] = x.Box[v].Lo + part(i)*(x.Box[v].Hi-x.Box[v].Lo)
			at[i] = math.Min(math.Max(at[i], x.Box[v].Lo), x.Box[v].Hi)
		}
		return at
	}
	try := func(at []float64) {
		if !spent() {
			x.point(at)
		}
	}
	try(place(func(int) float64 { return 0.5 }))
	for c := range 1 << min(n, some) {
		if n > some { // some of them, drawn
			src := rand.New(rand.NewPCG(uint64(c), 7))
			try(place(func(int) float64 { return float64(src.IntN(2)) }))
			continue
		}
		try(place(func(i int) float64 { return float64(c >> i & 1) }))
	}
	// An additive sequence fills a box evenly (Roberts' R sequence, a
	// generalisation of the golden section; from memory).
	phi := 2.0
	for range 40 {
		phi = math.Pow(1+phi, 1/float64(n+1))
	}
	even := func(k int) []float64 {
		return place(func(i int) float64 {
			_, f := math.Modf(0.5 + float64(k)*math.Pow(phi, -float64(i+1)))
			return f
		})
	}
	for k := 1; k <= fill; k++ {
		try(even(k))
	}
	if spent() || x.out.At == nil {
		return
	}
	x.descend(0.25, 1e-5, x.best(), spent)
	for k := 1; !outside && !spent() && k <= fill; k++ { // and from other places
		x.descend(0.1, 1e-4, even(k), spent)
	}
}

// polish moves the best place to the last digits that are read. At a corner there is nothing to be gained.
func (x *searching) polish() {
	inner := false
	for _, v := range x.vars {
		if at := x.out.At; at != nil && at[v] != x.Box[v].Lo && at[v] != x.Box[v].Hi {
			inner = true
		}
	}
	if inner {
		budget := x.steps + 2000*x.cost
		x.descend(0.01, 1e-9, x.best(), func() bool { return x.out.Without != nil || x.steps > budget })
	}
}

// descend narrows in around a place, one variable after the other by steps from
// one share of the box to another, and on along the line of what was gained
// (pattern search: Hooke and Jeeves 1961, from memory).
func (x *searching) descend(from, to float64, place []float64, spent func() bool) {
	n := len(x.vars)
	inside := func(i int, v float64) float64 {
		b := x.Box[x.vars[i]]
		return math.Min(math.Max(v, b.Lo), b.Hi)
	}
	cur := append([]float64(nil), place...)
	best, ok := x.point(cur)
	if !ok {
		return
	}
	last, at := append([]float64(nil), cur...), make([]float64, n)
	for step := from; step > to; {
		moved := false
		for i, v := range x.vars {
			for _, dir := range [2]float64{-step, step} {
				if spent() {
					return
				}
				copy(at, cur)
				at[i] = inside(i, at[i]+dir*x.Box[v].Width())
				if y, ok := x.point(at); ok && y < best {
					cur[i], best, moved = at[i], y, true
				}
			}
		}
		if !moved {
			step /= 4
			copy(last, cur)
			continue
		}
		for !spent() { // as long as it gets better
			for i := range at {
				at[i] = inside(i, 2*cur[i]-last[i])
			}
			y, ok := x.point(at)
			if !ok || y >= best {
				break
			}
			copy(last, cur)
			copy(cur, at)
			best = y
		}
		copy(last, cur)
	}
}

// best is the best place found, by the variables that vary.
func (x *searching) best() []float64 {
	at := make([]float64, len(x.vars))
	for i, v := range x.vars {
		at[i] = x.out.At[v]
	}
	return at
}
