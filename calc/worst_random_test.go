package calc_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
)

// Random sheets, each written twice from one drawing: as text for the program,
// and as functions in Go that compute the same at any place, which is what the
// worst cases are held against (in worst_property_test.go).

// A quality is what a number of a random sheet measures.
type quality int

const (
	plain quality = iota
	length
	angle
	point // on the temperature scale
	kelvins
	qualities
)

// A measure is a unit with its factor and offset to SI.
type measure struct {
	symbol         string
	factor, offset float64
}

var measures = [qualities][]measure{
	plain:   {{"", 1, 0}},
	length:  {{"mm", 1e-3, 0}, {"mm", 1e-3, 0}, {"cm", 1e-2, 0}},
	angle:   {{"°", math.Pi / 180, 0}},
	point:   {{"°C", 1, 273.15}},
	kelvins: {{"K", 1, 0}},
}

var percent = measure{"%", 0.01, 0}

func (u measure) si(x float64) float64 { return x*u.factor + u.offset }

func (u measure) text(x float64) string {
	return strings.TrimSpace(strconv.FormatFloat(x, 'g', -1, 64) + " " + u.symbol)
}

// A drawn expression: its text, and its value at a place; ok false where it
// has none. A bool is 1 or 0, a text its place among the ids of the table.
type drawn struct {
	text string
	f    func(w *world) (x float64, ok bool)
}

type drawnList struct {
	text string
	f    func(w *world) ([]float64, bool)
}

// A condition has a margin besides: how far it is from turning, as a share of
// the range its comparisons have; positive where it holds.
type condition struct {
	text string
	f    func(w *world) (holds bool, margin float64, ok bool)
}

// A world is one place at which a sheet is evaluated, and what was seen there.
type world struct {
	in    []float64
	value []float64
	list  [][]float64
	state []uint8 // by definition: 0 not computed, 1 computed, 2 no value
	marks []mark  // by definition
	frame [2]float64
	mark

	record bool
	guards []reach // by guard
	diffs  []reach // by comparison: left minus right
	scale  []float64
}

// A mark is what was met while something was computed.
type mark struct {
	tie  bool // two sides are so nearly equal that noise may turn the comparison
	edge bool // a slope has no bound here, and the spread cannot be carried on
}

// A reach is the least and greatest value seen.
type reach struct{ low, high float64 }

var nothing = reach{math.Inf(1), math.Inf(-1)}

func (r *reach) add(x float64) { r.low, r.high = math.Min(r.low, x), math.Max(r.high, x) }

func (r reach) width() float64 { return math.Max(0, r.high-r.low) }

// A guard is what an operation wants of its argument: to be positive, or not 0.
type guard struct {
	owner   int // the definition; of a limit, the negative of its number from 1
	nonzero bool
}

type randomInput struct {
	name, text    string
	q             quality
	nominal       float64
	all, tol, rng span // over everything, over the tolerance at the nominal value, over the range
	moved, ranged bool // has a tolerance or a range; a range
}

// A definition of a random sheet is a number, a condition, a text, a list or a
// function of two plain numbers, whichever is set.
type definition struct {
	name, text string
	q          quality
	num        func(w *world) (float64, bool)
	list       func(w *world) ([]float64, bool)
	isCond     bool
	isText     bool
	isFunc     bool
	uses       []int // definitions
	inputs     []int
}

type randomLimit struct {
	name, text  string
	cond        condition
	left, right *drawn // of a single comparison
	diff        int    // its number
	uses        []int
	inputs      []int
}

type randomSheet struct {
	seed   uint64
	shape  shape
	inputs []randomInput
	defs   []definition
	figs   []int // definitions that are numbers and no functions
	limits []randomLimit
	guards []guard
	diffs  int
}

// A shape is how large a random sheet is.
type shape struct{ inputs, defs, depth int }

func shapeOf(n uint16) shape {
	return shape{1 + int(n%12), 1 + int(n/12%5), 1 + int(n/60%3)}
}

const worstTable = "id,len (mm),factor,at\nleft,12.5,0.7,1\nright,20,1.3,2.5\nspare,7.25,-2,4\n"

var (
	tableIDs    = []string{"left", "right", "spare"}
	tableLen    = []float64{12.5 * 1e-3, 20 * 1e-3, 7.25 * 1e-3}
	tableFactor = []float64{0.7, 1.3, -2}
	tableAt     = []float64{1, 2.5, 4}
)

func (s *randomSheet) world() *world {
	w := &world{in: make([]float64, len(s.inputs)), value: make([]float64, len(s.defs)), list: make([][]float64, len(s.defs)), state: make([]uint8, len(s.defs)), marks: make([]mark, len(s.defs))}
	w.guards, w.diffs = slices.Repeat([]reach{nothing}, len(s.guards)), slices.Repeat([]reach{nothing}, s.diffs)
	w.scale = slices.Repeat([]float64{1}, s.diffs)
	s.nominal(w)
	return w
}

func (s *randomSheet) nominal(w *world) {
	for i := range s.inputs {
		w.in[i] = s.inputs[i].nominal
	}
	w.begin()
}

// begin forgets what was computed at another place.
func (w *world) begin() {
	clear(w.state)
	w.mark = mark{}
}

// once computes a definition if it has not been computed at this place, and
// reports whether it has a value.
func (w *world) once(i int, compute func() bool) bool {
	before := w.mark
	if w.state[i] == 0 {
		w.mark, w.state[i] = mark{}, 2
		if compute() {
			w.state[i] = 1
		}
		w.marks[i] = w.mark
	}
	w.mark = mark{before.tie || w.marks[i].tie, before.edge || w.marks[i].edge}
	return w.state[i] == 1
}

// eval gives the value of a definition that is no list.
func (w *world) eval(s *randomSheet, i int) (float64, bool) {
	ok := w.once(i, func() (ok bool) {
		w.value[i], ok = s.defs[i].num(w)
		return ok
	})
	return w.value[i], ok
}

// write gives the text of the sheet: all of it, or of a finding, what some
// limits and definitions need.
func (s *randomSheet) write(all bool, defs, limits []int) string {
	needDef, needIn := s.reached(defs, nil)
	for _, l := range limits {
		d, in := s.reached(s.limits[l].uses, s.limits[l].inputs)
		maps.Copy(needDef, d)
		maps.Copy(needIn, in)
	}
	var b strings.Builder
	for i, in := range s.inputs {
		if all || needIn[i] {
			fmt.Fprintf(&b, "%s = %s\n", in.name, in.text)
		}
	}
	b.WriteString("t = table \"t.csv\"\n")
	for i, d := range s.defs {
		if all || needDef[i] {
			fmt.Fprintf(&b, "%s = %s\n", d.name, d.text)
		}
	}
	for i, l := range s.limits {
		if all || slices.Contains(limits, i) {
			fmt.Fprintf(&b, "limit %s: %s\n", l.name, l.text)
		}
	}
	return b.String()
}

// reached gives the definitions and inputs behind what is named.
func (s *randomSheet) reached(uses, inputs []int) (defs, ins map[int]bool) {
	defs, ins = map[int]bool{}, map[int]bool{}
	var walk func(uses, inputs []int)
	walk = func(uses, inputs []int) {
		for _, i := range inputs {
			ins[i] = true
		}
		for _, d := range uses {
			if !defs[d] {
				defs[d] = true
				walk(s.defs[d].uses, s.defs[d].inputs)
			}
		}
	}
	walk(uses, inputs)
	return defs, ins
}

// A drawer draws a sheet.
type drawer struct {
	*rand.Rand
	s      *randomSheet
	locals bool // within a function: a and b stand for its arguments
	owner  int
	uses   []int
	inputs []int
}

// drawSheet draws the inputs and definitions of a sheet; its limits are drawn
// when the values of its figures are known.
func drawSheet(seed uint64, sh shape) (*randomSheet, *drawer) {
	s := &randomSheet{seed: seed, shape: sh}
	d := &drawer{Rand: rand.New(rand.NewPCG(seed, uint64(sh.inputs*100+sh.defs*10+sh.depth))), s: s}
	for range sh.inputs {
		d.input()
	}
	for range sh.defs {
		d.define(d.odds(0.1), sh.depth)
	}
	d.define(false, sh.depth) // at least one number
	return s, d
}

func (d *drawer) odds(p float64) bool { return d.Float64() < p }

// digits draws a number of three digits or fewer.
func (d *drawer) digits(low, high float64) float64 {
	x := low + d.Float64()*(high-low)
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 1+d.IntN(3), 64), 64)
	return math.Min(high, math.Max(low, x))
}

// input draws a literal with one or more spreads, or none.
func (d *drawer) input() {
	in := randomInput{name: fmt.Sprintf("x%d", len(d.s.inputs)+1)}
	if d.odds(0.4) {
		in.q = quality(1 + d.IntN(int(qualities)-1))
	}
	u := measures[in.q][d.IntN(len(measures[in.q]))]
	if in.q == plain && d.odds(0.1) {
		u = percent
	}
	least, most := -5.0, 10.0
	if d.odds(0.5) {
		least = 0.5
	}
	if in.q == angle || in.q == point || u == percent {
		least, most = least*6, most*6
	}
	v := d.digits(least, most)
	nominal := v
	form := d.IntN(10)
	var b strings.Builder
	b.WriteString(u.text(v))
	hasTol, hasRange := form < 5 || form == 9, form >= 5 && form < 8 || form == 9
	if u == percent { // a share of a share needs care; it has a range
		hasTol, hasRange = false, true
	}
	lo, hi := 0.0, 0.0 // the tolerance, SI
	diff := measure{u.symbol, u.factor, 0}
	if in.q == point {
		diff = measures[kelvins][0]
	}
	if hasTol {
		width := d.digits(0.01, 0.2) * math.Max(1, math.Abs(v))
		width, _ = strconv.ParseFloat(strconv.FormatFloat(width, 'g', 2, 64), 64)
		switch {
		case d.odds(0.1) && v > 0 && in.q != point: // down to 0 exactly
			fmt.Fprintf(&b, " ± %s", diff.text(v))
			lo, hi = diff.si(v), diff.si(v)
		case d.odds(0.25) && in.q != point && !hasRange:
			p := d.digits(1, 20)
			fmt.Fprintf(&b, " ± %v %%", p)
			lo = math.Abs(u.si(v)) * p * 0.01
			hi = lo
		case d.odds(0.3):
			other := width * float64(d.IntN(3))
			other, _ = strconv.ParseFloat(strconv.FormatFloat(other, 'g', 3, 64), 64)
			fmt.Fprintf(&b, " +%s -%s", diff.text(width), diff.text(other))
			lo, hi = diff.si(other), diff.si(width)
		default:
			fmt.Fprintf(&b, " ± %s", diff.text(width))
			lo, hi = diff.si(width), diff.si(width)
		}
	}
	if d.odds(0.15) && !hasRange {
		fmt.Fprintf(&b, " uncertain %s", diff.text(d.digits(0.01, 0.5)))
	}
	low, high := u.si(v), u.si(v)
	if hasRange {
		w, _ := strconv.ParseFloat(strconv.FormatFloat(v+0.5+(most-least)*d.Float64(), 'g', 4, 64), 64)
		high = u.si(w)
		fmt.Fprintf(&b, " to %s", u.text(w))
		if d.odds(0.6) {
			nominal = d.digits(v, w)
			fmt.Fprintf(&b, " nominal %s", u.text(nominal))
		}
	}
	in.nominal = u.si(nominal)
	in.text, in.moved, in.ranged = b.String(), hasTol || hasRange, hasRange
	in.tol = span{in.nominal - lo, in.nominal + hi}
	in.rng = span{low, high}
	in.all = span{low - lo, high + hi}
	d.s.inputs = append(d.s.inputs, in)
}

// define draws one definition, and a function, a condition, a text or a list
// now and then.
func (d *drawer) define(other bool, depth int) {
	n := len(d.s.defs)
	d.owner, d.uses, d.inputs = n, nil, nil
	def := definition{name: fmt.Sprintf("y%d", n+1)}
	if other {
		switch d.IntN(4) {
		case 0:
			d.locals = true
			body := d.num(plain, depth)
			d.locals = false
			def.name, def.text, def.num, def.isFunc = fmt.Sprintf("f%d(a, b)", n+1), body.text, body.f, true
		case 1:
			c := d.cond(depth)
			def.text, def.isCond = c.text, true
			def.num = c.asNumber().f
		case 2:
			x := d.word(depth)
			def.text, def.num, def.isText = x.text, x.f, true
		case 3:
			l := d.listOf(plain, depth, 2+d.IntN(3))
			def.text, def.list = l.text, l.f
		}
	} else {
		if d.odds(0.4) {
			def.q = quality(1 + d.IntN(int(qualities)-1))
		}
		x := d.num(def.q, depth)
		def.text, def.num = x.text, x.f
		d.s.figs = append(d.s.figs, n)
	}
	def.uses, def.inputs = d.uses, d.inputs
	d.s.defs = append(d.s.defs, def)
}

// named makes a reference to a definition; its value is computed once a place.
func (d *drawer) named(i int) drawn {
	d.uses = append(d.uses, i)
	s := d.s
	return drawn{s.defs[i].name, func(w *world) (float64, bool) { return w.eval(s, i) }}
}

// some gives a definition for which is true, or -1.
func (d *drawer) some(which func(*definition) bool) int {
	if len(d.s.defs) == 0 {
		return -1
	}
	for range 3 {
		if i := d.IntN(len(d.s.defs)); which(&d.s.defs[i]) {
			return i
		}
	}
	return -1
}

func number(x float64, u measure) drawn {
	v := u.si(x)
	text := u.text(x)
	if x < 0 || u.symbol == "" && strings.Contains(text, "e") {
		text = "(" + text + ")"
	}
	return drawn{text, func(*world) (float64, bool) { return v, true }}
}

// leaf draws a name or a literal.
func (d *drawer) leaf(q quality) drawn {
	if d.locals && q == plain && d.odds(0.7) {
		i := d.IntN(2)
		return drawn{[]string{"a", "b"}[i], func(w *world) (float64, bool) { return w.frame[i], true }}
	}
	if i := d.some(func(e *definition) bool {
		return e.num != nil && e.q == q && !e.isCond && !e.isText && !e.isFunc
	}); i >= 0 && d.odds(0.5) {
		return d.named(i)
	}
	if d.odds(0.85) {
		for range 8 {
			if i := d.IntN(len(d.s.inputs)); d.s.inputs[i].q == q {
				d.inputs = append(d.inputs, i)
				return drawn{d.s.inputs[i].name, func(w *world) (float64, bool) { return w.in[i], true }}
			}
		}
	}
	u := measures[q][d.IntN(len(measures[q]))]
	if q == plain && d.odds(0.1) {
		u = percent
	}
	return number(d.digits(-4, 9), u)
}

// sound is the program's rule for a number too large.
func sound(x float64) (float64, bool) { return x, math.Abs(x) < 1e280 }

// guard makes a note of what an operation wants of its argument.
func (d *drawer) guard(nonzero bool) func(w *world, x float64) {
	i := len(d.s.guards)
	d.s.guards = append(d.s.guards, guard{d.owner, nonzero})
	return func(w *world, x float64) {
		if w.record {
			w.guards[i].add(x)
		}
	}
}

func join(x drawn, op string, y drawn, f func(w *world, a, b float64) (float64, bool)) drawn {
	return drawn{"(" + x.text + " " + op + " " + y.text + ")", func(w *world) (float64, bool) {
		a, ok := x.f(w)
		if !ok {
			return 0, false
		}
		b, ok := y.f(w)
		if !ok {
			return 0, false
		}
		r, ok := f(w, a, b)
		if !ok {
			return 0, false
		}
		return sound(r)
	}}
}

func call1(name string, x drawn, f func(w *world, a float64) (float64, bool)) drawn {
	return drawn{name + "(" + x.text + ")", func(w *world) (float64, bool) {
		a, ok := x.f(w)
		if !ok {
			return 0, false
		}
		r, ok := f(w, a)
		if !ok {
			return 0, false
		}
		return sound(r)
	}}
}

func call2(name string, x, y drawn, f func(w *world, a, b float64) (float64, bool)) drawn {
	r := join(x, ",", y, f)
	r.text = name + "(" + x.text + ", " + y.text + ")"
	return r
}

func add(x, y drawn) drawn {
	return join(x, "+", y, func(_ *world, a, b float64) (float64, bool) { return a + b, true })
}

func sub(x, y drawn) drawn {
	return join(x, "-", y, func(_ *world, a, b float64) (float64, bool) { return a - b, true })
}

func mul(x, y drawn) drawn {
	return join(x, "*", y, func(_ *world, a, b float64) (float64, bool) { return a * b, true })
}

func (d *drawer) div(x, y drawn) drawn {
	g := d.guard(true)
	return join(x, "/", y, func(w *world, a, b float64) (float64, bool) {
		g(w, b)
		return a / b, b != 0
	})
}

func abs(x drawn) drawn {
	return call1("abs", x, func(_ *world, a float64) (float64, bool) { return math.Abs(a), true })
}

func neg(x drawn) drawn {
	return drawn{"(-" + x.text + ")", func(w *world) (float64, bool) {
		a, ok := x.f(w)
		return -a, ok
	}}
}

// power raises to a written exponent. Of a negative number only whole powers
// are known, of 0 only positive ones.
func (d *drawer) power(x drawn, text string, e float64) drawn {
	whole := e == math.Trunc(e)
	g := func(*world, float64) {}
	if !whole || e < 0 {
		g = d.guard(whole)
	}
	r := call1("", x, func(w *world, a float64) (float64, bool) {
		g(w, a)
		if a == 0 && e < 1 {
			w.edge = true
		}
		return math.Pow(a, e), !(a == 0 && e <= 0 || a < 0 && !whole)
	})
	r.text = "((" + x.text + ")^" + text + ")"
	return r
}

// positive makes a number positive, most times.
func (d *drawer) positive(x drawn, q quality) drawn {
	if d.odds(0.1) {
		return x
	}
	return add(abs(x), number(d.digits(0.1, 2), measures[q][0]))
}

// per divides by one of its unit, so that a plain number is left.
func (d *drawer) per(x drawn, q quality) drawn {
	return d.div(x, number(d.digits(1, 5), measures[q][0]))
}

// either chooses between two values by a condition.
func (d *drawer) either(depth int, x, y drawn) drawn {
	c := d.cond(depth)
	return drawn{"(if " + c.text + " then " + x.text + " else " + y.text + ")", func(w *world) (float64, bool) {
		holds, _, ok := c.f(w)
		switch {
		case !ok:
			return 0, false
		case holds:
			return x.f(w)
		}
		return y.f(w)
	}}
}

// several applies a function to values given one by one.
func several(name string, xs []drawn, f func([]float64) float64) drawn {
	return drawn{name + "(" + commas(xs) + ")", overall(bracket(xs), f)}
}

// overall applies a function to a list.
func overall(l drawnList, f func([]float64) float64) func(w *world) (float64, bool) {
	return func(w *world) (float64, bool) {
		v, ok := l.f(w)
		if !ok {
			return 0, false
		}
		return sound(f(v))
	}
}

func meanOf(v []float64) float64 { return sumOf(v) / float64(len(v)) }

func sumOf(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

func commas(xs []drawn) string {
	t := make([]string, len(xs))
	for i, x := range xs {
		t[i] = x.text
	}
	return strings.Join(t, ", ")
}

func bracket(xs []drawn) drawnList {
	return drawnList{"[" + commas(xs) + "]", func(w *world) ([]float64, bool) {
		v := make([]float64, len(xs))
		for i, x := range xs {
			var ok bool
			if v[i], ok = x.f(w); !ok {
				return nil, false
			}
		}
		return v, true
	}}
}

// listOf draws a list of n plain numbers or lengths.
func (d *drawer) listOf(q quality, depth, n int) drawnList {
	form := d.IntN(6)
	switch {
	case form == 0 && n == 3:
		col, name := tableFactor, "t.factor"
		if q == length {
			col, name = tableLen, "t.len"
		}
		return drawnList{name, func(*world) ([]float64, bool) { return col, true }}
	case form == 1:
		x, y := d.num(q, depth-1), d.num(q, depth-1)
		return drawnList{fmt.Sprintf("steps(%s, %s, %d)", x.text, y.text, n), func(w *world) ([]float64, bool) {
			a, ok := x.f(w)
			if !ok {
				return nil, false
			}
			b, ok := y.f(w)
			v := make([]float64, n)
			for i := range v {
				s := float64(i) / float64(n-1)
				v[i] = a*(1-s) + b*s
			}
			return v, ok
		}}
	case form == 2 && depth > 0:
		l, x := d.listOf(q, depth-1, n), d.num(plain, depth-1)
		return drawnList{"(" + l.text + " * " + x.text + ")", func(w *world) ([]float64, bool) {
			v, ok := l.f(w)
			if !ok {
				return nil, false
			}
			a, ok := x.f(w)
			out := make([]float64, n)
			for i := range v {
				out[i] = v[i] * a
				if _, fine := sound(out[i]); !fine {
					return nil, false
				}
			}
			return out, ok
		}}
	}
	xs := make([]drawn, n)
	for i := range xs {
		xs[i] = d.num(q, min(depth-1, 1))
	}
	return bracket(xs)
}

// anyList draws a list, or names one.
func (d *drawer) anyList(q quality, depth int) drawnList {
	if i := d.some(func(e *definition) bool { return e.list != nil }); i >= 0 && q == plain && d.odds(0.5) {
		d.uses = append(d.uses, i)
		s := d.s
		return drawnList{s.defs[i].name, func(w *world) ([]float64, bool) {
			ok := w.once(i, func() (ok bool) {
				w.list[i], ok = s.defs[i].list(w)
				return ok
			})
			return w.list[i], ok
		}}
	}
	return d.listOf(q, depth, 2+d.IntN(3))
}

// lookup draws a value of a table at a place, which now and then may be
// outside it; the last list may vary.
func (d *drawer) lookup(q quality, depth int) drawn {
	places, text := tableAt, "t.at"
	if d.odds(0.6) {
		places = []float64{-3, -1, 0.5, 2, 6}[:2+d.IntN(4)]
		text = bracketText(places)
	}
	values := d.listOf(q, depth, len(places))
	at := d.num(plain, depth-1)
	low, high := places[0], places[len(places)-1]
	if !d.odds(0.15) {
		at = call2("max", bare(low), call2("min", bare(high), at, least), most)
	}
	g := d.guard(false)
	return drawn{"lookup(" + text + ", " + values.text + ", " + at.text + ")", func(w *world) (float64, bool) {
		ys, ok := values.f(w)
		if !ok {
			return 0, false
		}
		x, ok := at.f(w)
		if !ok {
			return 0, false
		}
		if x < low || x > high {
			g(w, -1)
			return 0, false
		}
		if x > low && x < high { // at the ends themselves it was put there
			g(w, math.Min(x-low, high-x))
		}
		k := 0
		for k < len(places)-2 && x > places[k+1] {
			k++
		}
		return sound(ys[k] + (x-places[k])/(places[k+1]-places[k])*(ys[k+1]-ys[k]))
	}}
}

// bare is a plain number.
func bare(x float64) drawn { return number(x, measures[plain][0]) }

func least(_ *world, a, b float64) (float64, bool) { return math.Min(a, b), true }
func most(_ *world, a, b float64) (float64, bool)  { return math.Max(a, b), true }

func bracketText(v []float64) string {
	t := make([]string, len(v))
	for i, x := range v {
		t[i] = strconv.FormatFloat(x, 'g', -1, 64)
	}
	return "[" + strings.Join(t, ", ") + "]"
}

// rounded draws a rounding to whole numbers or to a step. A multiple but for
// noise counts as that multiple; next to where that begins, and at a half, the
// noise decides.
func (d *drawer) rounded(q quality, x drawn) drawn {
	names := []string{"floor", "ceil", "round"}
	f := []func(float64) float64{math.Floor, math.Ceil, math.RoundToEven}
	i := d.IntN(3)
	step, text := 1.0, ""
	if q != plain || d.odds(0.5) {
		v := d.digits(0.2, 3)
		step, text = measures[q][0].si(v), ", "+measures[q][0].text(v)
	}
	return drawn{names[i] + "(" + x.text + text + ")", func(w *world) (float64, bool) {
		a, ok := x.f(w)
		if !ok {
			return 0, false
		}
		t := a / step
		n := math.Round(t)
		off, noise := math.Abs(t-n), 1e-12*math.Max(math.Abs(t), math.Abs(n)) // the slack that the language states
		if off > 0.9*noise && off < 1.1*noise && noise > 0 || math.Abs(off-0.5) < noise {
			w.tie = true
		}
		if off < noise {
			return sound(n * step)
		}
		return sound(f[i](t) * step)
	}}
}

// num draws a number.
func (d *drawer) num(q quality, depth int) drawn {
	if depth <= 0 || d.odds(0.12) {
		return d.leaf(q)
	}
	sub1 := func() drawn { return d.num(q, depth-1) }
	of := func(p quality) drawn { return d.num(p, depth-1) }
	// What every number can be.
	switch d.IntN(9) {
	case 0:
		return d.either(depth-1, sub1(), sub1())
	case 1:
		n := 2 + d.IntN(2)
		xs := make([]drawn, n)
		for i := range xs {
			xs[i] = sub1()
		}
		switch d.IntN(3) {
		case 0:
			return several("min", xs, slices.Min)
		case 1:
			return several("max", xs, slices.Max)
		}
		return several("mean", xs, meanOf)
	}
	switch q {
	case length:
		switch d.IntN(13) {
		case 0:
			return neg(sub1())
		case 1:
			return abs(sub1())
		case 2:
			return d.rounded(length, sub1())
		case 3:
			return d.hypot(sub1(), sub1())
		case 4:
			return d.root(mul(d.positive(sub1(), length), d.positive(sub1(), length)))
		case 5:
			return d.power(d.power(sub1(), "2", 2), "(1/2)", 0.5)
		case 6:
			return d.lookup(length, depth-1)
		case 7:
			return d.pick("len", tableLen, depth-1)
		case 8:
			l := d.anyList(length, depth-1)
			return drawn{"sum(" + l.text + ")", overall(l, sumOf)}
		case 9, 10:
			return mul(of(plain), sub1())
		case 11:
			x := sub1()
			return drawn{"(" + x.text + " in mm)", x.f}
		}
		return []func(x, y drawn) drawn{add, sub}[d.IntN(2)](sub1(), sub1())
	case angle:
		switch d.IntN(7) {
		case 0, 1:
			return d.arc(of(plain))
		case 2:
			g := d.guard(true)
			return call2("atan2", of(length), d.positive(of(length), length), func(w *world, y, x float64) (float64, bool) {
				if x != 0 {
					g(w, x)
				} else {
					g(w, y)
				}
				return math.Atan2(y, x), x != 0 || y != 0
			})
		case 3:
			return mul(of(plain), number(d.digits(1, 30), measures[angle][0]))
		}
		return []func(x, y drawn) drawn{add, sub}[d.IntN(2)](sub1(), sub1())
	case point:
		switch d.IntN(4) {
		case 0:
			x := d.positive(of(kelvins), kelvins)
			return call1("point", x, func(_ *world, a float64) (float64, bool) { return a, true })
		case 1:
			return sub(sub1(), of(kelvins))
		}
		return add(sub1(), of(kelvins))
	case kelvins:
		switch d.IntN(6) {
		case 0:
			return call1("kelvin", of(point), func(_ *world, a float64) (float64, bool) { return a, true })
		case 1:
			return abs(sub1())
		case 2, 3:
			return sub(of(point), of(point))
		}
		return mul(of(plain), number(d.digits(1, 10), measures[kelvins][0]))
	}
	// Plain numbers.
	switch d.IntN(34) {
	case 0, 1, 2, 3:
		return add(sub1(), sub1())
	case 4, 5, 6:
		return sub(sub1(), sub1())
	case 7, 8, 9, 10:
		return mul(sub1(), sub1())
	case 11, 12:
		return d.div(sub1(), d.positive(sub1(), plain))
	case 13, 14:
		switch d.IntN(6) {
		case 0:
			return d.power(sub1(), "2", 2)
		case 1:
			return d.power(sub1(), "3", 3)
		case 2:
			return d.power(d.positive(sub1(), plain), "-2", -2)
		case 3:
			return d.power(d.positive(sub1(), plain), "0.7", 0.7)
		case 4:
			return d.power(d.positive(sub1(), plain), "(-1/3)", -1.0/3)
		}
		// An exponent that varies.
		base, e := d.positive(sub1(), plain), d.leaf(plain)
		g := d.guard(false)
		r := call2("", base, e, func(w *world, a, b float64) (float64, bool) {
			g(w, a)
			if a <= 0 {
				w.edge = true
			}
			return math.Pow(a, b), !(a < 0 && b != math.Trunc(b) || a == 0 && b <= 0)
		})
		r.text = "((" + base.text + ")^(" + e.text + "))"
		return r
	case 15:
		return neg(sub1())
	case 16:
		return abs(sub1())
	case 17:
		return d.root(d.positive(sub1(), plain))
	case 18:
		x := several("min", []drawn{d.div(sub1(), bare(4)), bare(6)}, slices.Min)
		return call1("exp", x, func(_ *world, a float64) (float64, bool) { return math.Exp(a), true })
	case 19:
		g := d.guard(false)
		name, f := "ln", math.Log
		if d.odds(0.4) {
			name, f = "log10", math.Log10
		}
		return call1(name, d.positive(sub1(), plain), func(w *world, a float64) (float64, bool) {
			g(w, a)
			return f(a), a > 0
		})
	case 20, 21:
		x := sub1()
		if d.odds(0.5) {
			x = of(angle)
		}
		if d.odds(0.5) {
			return call1("sin", x, func(_ *world, a float64) (float64, bool) { return math.Sin(a), true })
		}
		return call1("cos", x, func(_ *world, a float64) (float64, bool) { return math.Cos(a), true })
	case 22:
		x := call1("atan", sub1(), func(_ *world, a float64) (float64, bool) { return math.Atan(a), true })
		if d.odds(0.2) {
			x = of(angle)
		} else {
			x = mul(bare(0.9), x)
		}
		g := d.guard(true)
		return call1("tan", x, func(w *world, a float64) (float64, bool) {
			g(w, math.Cos(a))
			return math.Tan(a), math.Abs(math.Cos(a)) > 1e-15
		})
	case 23:
		return d.rounded(plain, sub1())
	case 24:
		return d.hypot(sub1(), sub1())
	case 25:
		l := d.anyList(plain, depth-1)
		switch d.IntN(5) {
		case 0:
			return drawn{"min(" + l.text + ")", overall(l, slices.Min)}
		case 1:
			return drawn{"max(" + l.text + ")", overall(l, slices.Max)}
		case 2:
			return drawn{"mean(" + l.text + ")", overall(l, meanOf)}
		case 3:
			return drawn{"count(" + l.text + ")", overall(l, func(v []float64) float64 { return float64(len(v)) })}
		}
		return drawn{"sum(" + l.text + ")", overall(l, sumOf)}
	case 26, 27:
		return d.lookup(plain, depth-1)
	case 28:
		if d.odds(0.1) {
			return drawn{"readings(t.factor)", func(*world) (float64, bool) { return meanOf(tableFactor), true }}
		}
		return d.pick("factor", tableFactor, depth-1)
	case 29:
		return d.per(of(length), length)
	case 30:
		return d.per(of(kelvins), kelvins)
	case 31:
		return d.per(of(angle), angle)
	case 32, 33:
		i := d.some(func(e *definition) bool { return e.isFunc })
		if i < 0 || d.locals {
			return mul(sub1(), sub1())
		}
		d.uses = append(d.uses, i)
		body := d.s.defs[i].num
		r := call2("", sub1(), sub1(), func(w *world, a, b float64) (float64, bool) {
			saved := w.frame
			w.frame = [2]float64{a, b}
			x, ok := body(w)
			w.frame = saved
			return x, ok
		})
		r.text = strings.TrimSuffix(d.s.defs[i].name, "(a, b)") + r.text
		return r
	}
	panic("unreachable")
}

func (d *drawer) hypot(x, y drawn) drawn {
	return call2("hypot", x, y, func(w *world, a, b float64) (float64, bool) {
		if a == 0 && b == 0 {
			w.edge = true
		}
		return math.Hypot(a, b), true
	})
}

func (d *drawer) root(x drawn) drawn {
	g := d.guard(false)
	return call1("sqrt", x, func(w *world, a float64) (float64, bool) {
		g(w, a)
		if a == 0 {
			w.edge = true
		}
		return math.Sqrt(a), a >= 0
	})
}

// arc draws an inverse of a trigonometric function.
func (d *drawer) arc(x drawn) drawn {
	if d.odds(0.4) {
		return call1("atan", x, func(_ *world, a float64) (float64, bool) { return math.Atan(a), true })
	}
	if !d.odds(0.15) {
		x = call1("sin", x, func(_ *world, a float64) (float64, bool) { return math.Sin(a), true })
		x = mul(bare(d.digits(0.3, 0.95)), x)
	}
	g := d.guard(false)
	name, f := "asin", math.Asin
	if d.odds(0.5) {
		name, f = "acos", math.Acos
	}
	return call1(name, x, func(w *world, a float64) (float64, bool) {
		g(w, 1-math.Abs(a))
		if math.Abs(a) == 1 {
			w.edge = true
		}
		return f(a), a >= -1 && a <= 1
	})
}

// pick draws a value of a row that a text names.
func (d *drawer) pick(column string, values []float64, depth int) drawn {
	id := d.word(depth)
	return drawn{"pick(t, " + id.text + ")." + column, func(w *world) (float64, bool) {
		i, ok := id.f(w)
		if !ok {
			return 0, false
		}
		return values[int(i)], true
	}}
}

// word draws a text: the id of a row.
func (d *drawer) word(depth int) drawn {
	if i := d.some(func(e *definition) bool { return e.isText }); i >= 0 && d.odds(0.6) {
		return d.named(i)
	}
	lit := func() drawn {
		i := d.IntN(len(tableIDs))
		return drawn{strconv.Quote(tableIDs[i]), func(*world) (float64, bool) { return float64(i), true }}
	}
	if depth < 0 || d.odds(0.1) {
		return lit()
	}
	return d.either(depth, lit(), lit())
}

// compared draws a comparison. Sides within some 1e-11 of each other are a tie.
func (d *drawer) compared(op string, x, y drawn) condition {
	i := d.s.diffs
	d.s.diffs++
	return condition{x.text + " " + op + " " + y.text, func(w *world) (bool, float64, bool) {
		a, ok := x.f(w)
		if !ok {
			return false, 0, false
		}
		b, ok := y.f(w)
		if !ok {
			return false, 0, false
		}
		if math.Abs(a-b) <= 1e-11*math.Max(math.Abs(a), math.Abs(b)) {
			w.tie = true
		}
		if w.record {
			w.diffs[i].add(a - b)
		}
		m := (b - a) / w.scale[i]
		switch op {
		case "<":
			return a < b, m, true
		case "<=":
			return a <= b, m, true
		case ">":
			return a > b, -m, true
		}
		return a >= b, -m, true
	}}
}

func sure(holds bool) float64 {
	if holds {
		return 1
	}
	return -1
}

func (c condition) asNumber() drawn {
	return drawn{c.text, func(w *world) (float64, bool) {
		holds, _, ok := c.f(w)
		return (1 + sure(holds)) / 2, ok
	}}
}

func (c condition) inverse() condition {
	return condition{"not (" + c.text + ")", func(w *world) (bool, float64, bool) {
		holds, m, ok := c.f(w)
		return !holds, -m, ok
	}}
}

func (c condition) and(o condition) condition {
	return condition{"(" + c.text + ") and (" + o.text + ")", func(w *world) (bool, float64, bool) {
		holds, m, ok := c.f(w)
		if !ok || !holds {
			return holds, m, ok
		}
		other, n, ok := o.f(w)
		return other, math.Min(m, n), ok
	}}
}

func (c condition) or(o condition) condition {
	return condition{"(" + c.text + ") or (" + o.text + ")", func(w *world) (bool, float64, bool) {
		holds, m, ok := c.f(w)
		if !ok || holds {
			return holds, m, ok
		}
		other, n, ok := o.f(w)
		return other, math.Max(m, n), ok
	}}
}

// choose is an `if` between conditions.
func (c condition) choose(x, y condition) condition {
	return condition{"(if " + c.text + " then " + x.text + " else " + y.text + ")", func(w *world) (bool, float64, bool) {
		holds, _, ok := c.f(w)
		switch {
		case !ok:
			return false, 0, false
		case holds:
			return x.f(w)
		}
		return y.f(w)
	}}
}

var orders = []string{"<", "<=", ">", ">="}

// cond draws a condition.
func (d *drawer) cond(depth int) condition {
	if i := d.some(func(e *definition) bool { return e.isCond }); i >= 0 && d.odds(0.4) {
		x := d.named(i)
		return condition{x.text, func(w *world) (bool, float64, bool) {
			v, ok := x.f(w)
			return v == 1, sure(v == 1), ok
		}}
	}
	if depth > 0 {
		switch d.IntN(8) {
		case 0:
			return d.cond(depth - 1).and(d.cond(depth - 1))
		case 1:
			return d.cond(depth - 1).or(d.cond(depth - 1))
		case 2:
			return d.cond(depth - 1).inverse()
		case 3:
			return d.cond(depth-1).choose(d.cond(depth-1), d.cond(depth-1))
		case 4: // of texts
			x, i, op := d.word(depth-1), d.IntN(len(tableIDs)), d.IntN(2)
			return condition{x.text + []string{" == ", " != "}[op] + strconv.Quote(tableIDs[i]), func(w *world) (bool, float64, bool) {
				v, ok := x.f(w)
				holds := (v == float64(i)) == (op == 0)
				return holds, sure(holds), ok
			}}
		case 5: // of whole numbers
			x, n, op := d.rounded(plain, d.num(plain, depth-1)), float64(d.IntN(4)), d.IntN(2)
			return condition{x.text + []string{" == ", " != "}[op] + strconv.FormatFloat(n, 'g', -1, 64), func(w *world) (bool, float64, bool) {
				v, ok := x.f(w)
				if v != n && math.Abs(v-n) < 1e-9 {
					w.tie = true
				}
				holds := (v == n) == (op == 0)
				return holds, sure(holds), ok
			}}
		}
	}
	q := plain
	if d.odds(0.3) && !d.locals {
		q = quality(d.IntN(int(qualities)))
	}
	return d.compared(orders[d.IntN(4)], d.num(q, depth-1), d.leaf(q))
}

// limits draws limits about the figures, whose values were seen between low
// and high: some that hold with room, some that are broken, some near the edge.
func (d *drawer) limits(seen []reach, n int) {
	s := d.s
	for k := range n {
		d.owner, d.uses, d.inputs = -1-k, nil, nil
		l := randomLimit{name: fmt.Sprintf("l%d", k+1)}
		one := func() condition {
			j := d.IntN(len(s.figs))
			if d.odds(0.5) {
				j = len(s.figs) - 1 // the last, which has the most behind it
			}
			i, r := s.figs[j], seen[j]
			x := d.named(i)
			if other := d.some(func(e *definition) bool {
				return e.num != nil && e.q == s.defs[i].q && !e.isCond && !e.isText && !e.isFunc
			}); other >= 0 && other != i && d.odds(0.15) {
				y := d.named(other)
				l.left, l.right, l.diff = &x, &y, s.diffs
				return d.compared(orders[d.IntN(4)], x, y)
			}
			width := r.width()
			if !(width > 1e-6*math.Max(math.Abs(r.low), math.Abs(r.high))) { // nothing moves it, or it has no value
				r.low, r.high = math.Min(r.low, 1e6), math.Max(r.high, -1e6)
				width = 0.1*math.Max(math.Abs(r.low), math.Abs(r.high)) + 1e-3
			}
			out := 0.06 + 0.8*d.Float64()*d.Float64()
			share := []float64{-out, 1 + out, 1 + out, -out, 0.3 * d.Float64(), 1 - 0.3*d.Float64(), d.Float64()}[d.IntN(7)]
			u := measures[s.defs[i].q][0]
			v, _ := strconv.ParseFloat(strconv.FormatFloat((r.low+share*width-u.offset)/u.factor, 'g', 6, 64), 64)
			y := number(v, u)
			op := orders[d.IntN(4)]
			if d.odds(0.7) { // the side on which it holds
				op = orders[d.IntN(2)]
				if share < 0.5 {
					op = orders[2+d.IntN(2)]
				}
			}
			l.left, l.right, l.diff = &x, &y, s.diffs
			return d.compared(op, x, y)
		}
		form := d.IntN(12)
		switch form {
		case 0:
			l.cond = one().and(one())
		case 1:
			l.cond = one().or(one())
		case 2:
			l.cond = one().inverse()
		case 3:
			l.cond = d.cond(1).choose(one(), one())
		case 4:
			l.cond = d.cond(1).or(one())
		case 5:
			l.cond = one().and(one().or(one()).inverse())
		default:
			l.cond = one()
		}
		if form < 6 {
			l.left, l.right = nil, nil
		}
		l.text, l.uses, l.inputs = l.cond.text, d.uses, d.inputs
		s.limits = append(s.limits, l)
	}
}
