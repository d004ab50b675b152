package calc

import (
	"math"
	"strconv"
	"strings"

	"workings/calc/diag"
	"workings/calc/interval"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/calc/worst"
)

// A builtin is a function of the language that takes its arguments by place.
type builtin struct {
	name     string
	params   string // as shown in messages and the reference page
	min, max int    // number of arguments
	doc      string
	check    func(c *checker, x *syntax.Call, t []Type) (Type, bool)
	eval     func(m *machine, x *syntax.Call, a []val) (val, bool)
	tape     func(t *taper, a []taped) taped // of values that depend on inputs; nil: cannot be bounded
}

const many = 1 << 16

// constants are the names that stand for numbers of mathematics and physics.
var constants = map[string]struct {
	si     float64
	typ    Type
	source string
}{
	"pi":  {math.Pi, plainNumber, "ratio of a circle's circumference to its diameter"},
	"g_n": {9.80665, accel(), "standard acceleration of free fall, 3rd CGPM 1901"},
}

func accel() Type {
	u, _ := parsedUnit("m/s^2")
	t := quantity(u)
	t.Chosen = true
	return t
}

var builtinByName map[string]*builtin

func init() {
	// The table names functions that use the table (in messages), so the index
	// is filled here and not in its declaration.
	builtinByName = make(map[string]*builtin, len(builtins))
	for i := range builtins {
		builtinByName[builtins[i].name] = &builtins[i]
	}
}

// builtins is the one table of the functions of the language.
var builtins = []builtin{
	{"sqrt", "x", 1, 1, "square root; of an area, a length", checkSqrt, evalSqrt, tapeEach((*worst.Tape).Sqrt)},
	{"abs", "x", 1, 1, "amount without sign", checkAny, elementwise(func(x float64) (float64, float64, bool) {
		if x < 0 {
			return -x, -1, true
		}
		return x, 1, true
	}), tapeEach((*worst.Tape).Abs)},
	{"exp", "x", 1, 1, "e to the power x", checkPlain, elementwise(func(x float64) (float64, float64, bool) { e := math.Exp(x); return e, e, true }), tapeEach((*worst.Tape).Exp)},
	{"ln", "x", 1, 1, "natural logarithm, x > 0", checkPlain, elementwise(func(x float64) (float64, float64, bool) { return math.Log(x), 1 / x, x > 0 }), tapeEach((*worst.Tape).Ln)},
	{"log10", "x", 1, 1, "logarithm to base 10, x > 0", checkPlain, elementwise(func(x float64) (float64, float64, bool) {
		return math.Log10(x), 1 / (x * math.Ln10), x > 0
	}), tapeEach((*worst.Tape).Log10)},
	{"sin", "x", 1, 1, "sine of an angle; a plain number is in radians", checkAngle, elementwise(func(x float64) (float64, float64, bool) { return math.Sin(x), math.Cos(x), true }), tapeEach((*worst.Tape).Sin)},
	{"cos", "x", 1, 1, "cosine of an angle", checkAngle, elementwise(func(x float64) (float64, float64, bool) { return math.Cos(x), -math.Sin(x), true }), tapeEach((*worst.Tape).Cos)},
	{"tan", "x", 1, 1, "tangent of an angle", checkAngle, elementwise(func(x float64) (float64, float64, bool) {
		t := math.Tan(x)
		return t, 1 + t*t, math.Abs(math.Cos(x)) > 1e-15
	}), tapeEach((*worst.Tape).Tan)},
	// At -1 and 1 the slope has no bound: a number without a spread has its angle
	// there, one with a spread is refused.
	{"asin", "x", 1, 1, "angle whose sine is x, -1 to 1", checkArc, elementwise(func(x float64) (float64, float64, bool) {
		return math.Asin(x), 1 / math.Sqrt(1-x*x), x >= -1 && x <= 1
	}), tapeEach((*worst.Tape).Asin)},
	{"acos", "x", 1, 1, "angle whose cosine is x, -1 to 1", checkArc, elementwise(func(x float64) (float64, float64, bool) {
		return interval.ArcCos(x), -1 / math.Sqrt(1-x*x), x >= -1 && x <= 1
	}), tapeEach((*worst.Tape).Acos)},
	{"atan", "x", 1, 1, "angle whose tangent is x", checkArc, elementwise(func(x float64) (float64, float64, bool) { return math.Atan(x), 1 / (1 + x*x), true }), tapeEach((*worst.Tape).Atan)},
	{"atan2", "y, x", 2, 2, "angle of the point x, y from the x axis", checkAtan2, evalAtan2, tapePair((*worst.Tape).Atan2)},
	{"hypot", "a, b", 2, 2, "length of the diagonal", checkSame, evalHypot, tapePair((*worst.Tape).Hypot)},
	{"min", "a, b, …", 1, many, "least of several values or of a list", checkExtreme, evalExtreme(func(a, b float64) bool { return a < b }), tapeFold((*worst.Tape).Min)},
	{"max", "a, b, …", 1, many, "greatest of several values or of a list", checkExtreme, evalExtreme(func(a, b float64) bool { return a > b }), tapeFold((*worst.Tape).Max)},
	{"mean", "a, b, …", 1, many, "arithmetic mean of several values or of a list", checkExtreme, evalMean, tapeMean},
	{"sum", "list", 1, 1, "sum of a list", checkSum, evalSum, tapeSum},
	{"count", "list", 1, 1, "number of elements of a list, or of rows of a table", checkCount, evalCount, tapeCount},
	{"floor", "x, step", 1, 2, "rounded down to a whole number, or to a multiple of step", checkStep, evalStep(math.Floor), tapeStep((*worst.Tape).Floor)},
	{"ceil", "x, step", 1, 2, "rounded up to a whole number, or to a multiple of step", checkStep, evalStep(math.Ceil), tapeStep((*worst.Tape).Ceil)},
	{"round", "x, step", 1, 2, "rounded to the nearest whole number, or multiple of step; halves to even", checkStep, evalStep(math.RoundToEven), tapeStep((*worst.Tape).Round)},
	{"kelvin", "T", 1, 1, "thermodynamic temperature of a point on a scale, in K", checkKelvin, first, tapeFirst},
	{"point", "x", 1, 1, "the temperature on the scale whose thermodynamic temperature is x", checkPoint, first, tapeFirst},
	{"lookup", "xs, ys, at", 3, 3, "value of ys at a place of xs, on straight lines between the points; refuses to go beyond them", checkLookup, evalLookup, tapeLookup},
	{"pick", "table, id", 2, 2, "the row of a table whose id column holds the text", checkPick, evalPick, nil},
	{"readings", "table.column", 1, 1, "mean of repeated readings, with its uncertainty (JCGM 100, 4.2); columns of one table were read together", checkReadings, evalReadings, nil},
	{"steps", "from, to, n", 3, 3, "n values at equal distances from one value to another", checkSteps, evalSteps, tapeSteps},
}

func first(m *machine, x *syntax.Call, a []val) (val, bool) { return a[0], true }

// elementwise makes the evaluation of a function of one number, given with its
// derivative; ok false says that the number is outside its domain.
func elementwise(f func(x float64) (n, d float64, ok bool)) func(*machine, *syntax.Call, []val) (val, bool) {
	return func(m *machine, x *syntax.Call, a []val) (val, bool) {
		bad, at := false, 0.0
		v := lift1(a[0], func(t float64) (float64, float64) {
			n, d, ok := f(t)
			if !ok && !bad {
				bad, at = true, t
			}
			return n, d
		})
		if bad {
			name := x.Fun.Span().Text()
			if name == "tan" { // the only one of an angle
				return m.fail(x.Pos, "domain", "tan is not defined for %.6g°", at*180/math.Pi)
			}
			return m.fail(x.Pos, "domain", "%s is not defined for %.6g", name, at)
		}
		return v, true
	}
}

func (c *checker) wantNumeric(x *syntax.Call, i int, t Type) bool {
	if t.isNumeric() || t.Kind == Grid {
		return true
	}
	c.bad(x.Args[i].X.Span(), "wrong-kind", "%s wants a number, got %s", x.Fun.Span().Text(), operand(x.Args[i].X, t))
	return false
}

func checkAny(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !c.wantNumeric(x, 0, t[0]) {
		return invalid, false
	}
	if t[0].Point {
		c.pointMisuse(x.Pos, x.Args[0].X, x.Fun.Span().Text()+" of")
		return invalid, false
	}
	return t[0], true
}

func checkPlain(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !c.wantNumeric(x, 0, t[0]) {
		return invalid, false
	}
	if t[0].Dim != unit.None {
		e := c.p.errs.Add(x.Args[0].X.Span(), "unit-mismatch", "%s wants a plain number, got %s", x.Fun.Span().Text(), operand(x.Args[0].X, t[0]))
		e.Hint = "divide it by a reference value of the same kind"
		return invalid, false
	}
	r := plainNumber
	r.Kind = t[0].Kind
	r.Unit = unit.Unit{Factor: 1}
	return r, true
}

func checkAngle(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !c.wantNumeric(x, 0, t[0]) {
		return invalid, false
	}
	if t[0].Dim != unit.None && t[0].Dim != unit.Base(unit.Angle) {
		name := x.Fun.Span().Text()
		c.badHint(x.Args[0].X.Span(), "such as "+name+"(30°); a plain number is taken in radians",
			"unit-mismatch", "%s wants an angle, got %s", name, operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	r := plainNumber
	r.Kind = t[0].Kind
	r.Unit = unit.Unit{Factor: 1}
	return r, true
}

var degree, _ = parsedUnit("°")

func checkArc(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	r, ok := checkPlain(c, x, t)
	if !ok {
		return invalid, false
	}
	r.Dim, r.Unit, r.Chosen = unit.Base(unit.Angle), degree, true
	return r, true
}

func (c *checker) sameKind(x *syntax.Call, i int, a, b Type) bool {
	if a.Dim == b.Dim && a.Point == b.Point {
		return true
	}
	c.bad(x.Args[i].X.Span(), "unit-mismatch", "%s wants values of one kind: %s and %s", x.Fun.Span().Text(), operand(x.Args[0].X, a), operand(x.Args[i].X, b))
	return false
}

func checkSame(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	for i := range t {
		if t[i].Kind != Quantity {
			c.bad(x.Args[i].X.Span(), "wrong-kind", "%s wants a number, got %s", x.Fun.Span().Text(), operand(x.Args[i].X, t[i]))
			return invalid, false
		}
		if t[i].Point {
			c.pointMisuse(x.Pos, x.Args[i].X, x.Fun.Span().Text()+" of")
			return invalid, false
		}
		if !c.sameKind(x, i, t[0], t[i]) {
			return invalid, false
		}
	}
	return t[0], true
}

func checkAtan2(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	r, ok := checkSame(c, x, t)
	if !ok {
		return invalid, false
	}
	r.Dim, r.Unit, r.Chosen = unit.Base(unit.Angle), degree, true
	return r, true
}

func evalAtan2(m *machine, x *syntax.Call, a []val) (val, bool) {
	q := a[0].n*a[0].n + a[1].n*a[1].n
	if q == 0 {
		return m.fail(x.Pos, "domain", "atan2 is not defined at 0, 0")
	}
	return val{n: math.Atan2(a[0].n, a[1].n), g: combine(a[1].n/q, a[0].g, -a[0].n/q, a[1].g)}, true
}

func evalHypot(m *machine, x *syntax.Call, a []val) (val, bool) {
	h := math.Hypot(a[0].n, a[1].n)
	if h == 0 {
		if len(a[0].g)+len(a[1].g) > 0 {
			return m.fail(x.Pos, "domain", "the spread of hypot cannot be carried on at 0, 0")
		}
		return num(0), true
	}
	return val{n: h, g: combine(a[0].n/h, a[0].g, a[1].n/h, a[1].g)}, true
}

func checkSqrt(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	r, ok := checkAny(c, x, t)
	if !ok {
		return invalid, false
	}
	d, ok := r.Dim.Pow(1, 2)
	if !ok {
		c.bad(x.Pos, "unit-mismatch", "the root of %s has no dimension that can be kept", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	r.Chosen = d == unit.None
	r.Dim, r.Unit = d, unit.Coherent(d)
	return r, true
}

func evalSqrt(m *machine, x *syntax.Call, a []val) (val, bool) {
	bad := 0
	v := lift1(a[0], func(t float64) (float64, float64) {
		if t < 0 {
			bad = 1
			return 0, 0
		}
		s := math.Sqrt(t)
		if s == 0 {
			if len(a[0].g) > 0 {
				bad = 2
			}
			return 0, 0
		}
		return s, 0.5 / s
	})
	switch bad {
	case 1:
		return m.fail(x.Pos, "domain", "the root of a negative number: %s is %s in SI units", clip(x.Args[0].X), short(a[0]))
	case 2:
		return m.fail(x.Pos, "domain", "the spread of a root cannot be carried on at 0: %s", clip(x.Args[0].X))
	}
	return v, true
}

func checkExtreme(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	for i := range t {
		ok := t[i].Kind == Quantity || len(t) == 1 && (t[i].Kind == List && !t[i].Texts || t[i].Kind == Grid)
		if !ok {
			hint := columnHint(x.Args[i].X, t[i])
			if len(t) > 1 && t[i].isNumeric() {
				hint = "of a list alone, or of single values: " + x.Fun.Span().Text() + "(" + clip(x.Args[i].X) + ")"
			}
			c.badHint(x.Args[i].X.Span(), hint, "wrong-kind", "%s wants numbers, or one list, got %s", x.Fun.Span().Text(), operand(x.Args[i].X, t[i]))
			return invalid, false
		}
		if !c.sameKind(x, i, t[0], t[i]) {
			return invalid, false
		}
	}
	r := t[0]
	r.Kind = Quantity
	return r, true
}

// spreadOut gives the elements of the one list argument, or the arguments.
func spreadOut(a []val) []val {
	if len(a) == 1 {
		if l := a[0].numbers(); l != nil {
			items := make([]val, len(l.v))
			for i := range items {
				items[i] = l.at(i)
			}
			return items
		}
	}
	return a
}

func evalExtreme(better func(a, b float64) bool) func(*machine, *syntax.Call, []val) (val, bool) {
	return func(m *machine, x *syntax.Call, a []val) (val, bool) {
		items := spreadOut(a)
		if len(items) == 0 {
			return m.fail(x.Pos, "empty", "%s of an empty list", x.Fun.Span().Text())
		}
		best := items[0]
		for _, it := range items[1:] {
			if better(it.n, best.n) {
				best = it
			}
		}
		return best, true
	}
}

func evalMean(m *machine, x *syntax.Call, a []val) (val, bool) {
	items := spreadOut(a)
	if len(items) == 0 {
		return m.fail(x.Pos, "empty", "mean of an empty list")
	}
	s := total(items)
	return val{n: s.n / float64(len(items)), g: scale(1/float64(len(items)), s.g)}, true
}

// total adds up; the slopes of all by one input are gathered at once.
func total(items []val) val {
	ns := make([]float64, len(items))
	gs := make([]gterm, len(items))
	for i, it := range items {
		ns[i] = it.n
		gs[i] = gterm{1, it.g}
	}
	return val{n: worst.Total(ns), g: gather(gs)}
}

func checkSum(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if t[0].Kind != List || t[0].Texts {
		c.badHint(x.Args[0].X.Span(), columnHint(x.Args[0].X, t[0]), "wrong-kind", "sum wants a list of numbers, got %s", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	if t[0].Point {
		s := clip(x.Args[0].X)
		c.badHint(x.Pos, "their mean is mean("+s+")", "temperature-point", "the sum of temperatures on a scale (%s) has no meaning", s)
		return invalid, false
	}
	return t[0].scalar(), true
}

// columnHint helps where a list of numbers is wanted and something else is given.
func columnHint(x syntax.Expr, t Type) string {
	switch {
	case t.Kind == List && t.Texts:
		return "a column is one of texts if a single cell of it is no number; a unit in its head makes that a mistake at the cell"
	case t.Kind == Table:
		for _, f := range t.Fields {
			if f.Type.isNumeric() {
				return "name a column of it, such as " + clip(x) + "." + f.Name
			}
		}
	}
	return ""
}

func evalSum(m *machine, x *syntax.Call, a []val) (val, bool) { return total(spreadOut(a)), true }

func checkCount(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if t[0].Kind != List && t[0].Kind != Table {
		c.bad(x.Args[0].X.Span(), "wrong-kind", "count wants a list or a table, got %s", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	r := plainNumber
	r.Unit = unit.Unit{Factor: 1}
	return r, true
}

func evalCount(m *machine, x *syntax.Call, a []val) (val, bool) {
	switch o := a[0].o.(type) {
	case *vec:
		return num(float64(len(o.v))), true
	case []string:
		return num(float64(len(o))), true
	case *table:
		return num(float64(o.rows)), true
	}
	return val{}, false
}

func checkStep(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !c.wantNumeric(x, 0, t[0]) {
		return invalid, false
	}
	if t[0].Point {
		c.pointMisuse(x.Pos, x.Args[0].X, "rounding")
		return invalid, false
	}
	if len(t) == 1 {
		if t[0].Dim != unit.None {
			e := c.p.errs.Add(x.Pos, "wrong-argument", "%s of %s wants a step", x.Fun.Span().Text(), operand(x.Args[0].X, t[0]))
			e.Hint = "write " + x.Fun.Span().Text() + "(" + clip(x.Args[0].X) + ", 1 " + t[0].Unit.Symbol + ")"
			return invalid, false
		}
		return t[0], true
	}
	if t[1].Kind != Quantity || t[1].Dim != t[0].Dim || t[1].Point {
		c.bad(x.Args[1].X.Span(), "unit-mismatch", "the step must be of the same kind as the value: %s and %s", operand(x.Args[0].X, t[0]), operand(x.Args[1].X, t[1]))
		return invalid, false
	}
	return t[0], true
}

// evalStep rounds to a multiple of a step. The result does not move with its
// inputs but jumps, so it carries no gradient.
func evalStep(f func(float64) float64) func(*machine, *syntax.Call, []val) (val, bool) {
	return func(m *machine, x *syntax.Call, a []val) (val, bool) {
		step := 1.0
		if len(a) == 2 {
			step = a[1].n
			if step <= 0 {
				return m.fail(x.Args[1].X.Span(), "domain", "the step must be greater than 0")
			}
		}
		return lift1(a[0], func(t float64) (float64, float64) {
			return worst.Step(f, t, step), 0
		}), true
	}
}

func checkKelvin(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !t[0].isNumeric() && t[0].Kind != Grid || !t[0].Point {
		e := c.p.errs.Add(x.Args[0].X.Span(), "temperature-point", "kelvin wants a temperature on a scale, got %s", operand(x.Args[0].X, t[0]))
		e.Hint = "such as kelvin(20 °C)"
		return invalid, false
	}
	r := t[0]
	r.Point, r.Unit, r.Chosen = false, kelvin, true
	return r, true
}

func checkPoint(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if !t[0].isNumeric() && t[0].Kind != Grid || t[0].Point || t[0].Dim != unit.Base(unit.Temperature) {
		hint := "such as point(300 K)"
		if t[0].Point {
			hint = clip(x.Args[0].X) + " is on the scale already"
		}
		c.badHint(x.Args[0].X.Span(), hint, "temperature-point", "point wants a thermodynamic temperature in K, got %s", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	r := t[0]
	r.Point, r.Unit, r.Chosen = true, celsius, true
	return r, true
}

func checkLookup(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	for i := 0; i < 2; i++ {
		if t[i].Kind != List || t[i].Texts {
			c.badHint(x.Args[i].X.Span(), columnHint(x.Args[i].X, t[i]), "wrong-kind", "lookup wants two lists of numbers and a place, got %s", operand(x.Args[i].X, t[i]))
			return invalid, false
		}
	}
	if t[2].Kind != Quantity {
		c.bad(x.Args[2].X.Span(), "wrong-kind", "the place to look up is a number, got %s", operand(x.Args[2].X, t[2]))
		return invalid, false
	}
	if t[2].Dim != t[0].Dim || t[2].Point != t[0].Point {
		c.bad(x.Args[2].X.Span(), "unit-mismatch", "the place must be of the same kind as the first list: %s and %s", operand(x.Args[0].X, t[0]), operand(x.Args[2].X, t[2]))
		return invalid, false
	}
	if c.p.places == nil {
		c.p.places = map[*syntax.Call]unit.Unit{}
	}
	c.p.places[x] = t[0].Unit
	return t[1].scalar(), true
}

func evalLookup(m *machine, x *syntax.Call, a []val) (val, bool) {
	xs, ys := a[0].numbers(), a[1].numbers()
	if len(xs.v) != len(ys.v) || len(xs.v) == 0 {
		return m.fail(x.Pos, "length-mismatch", "lookup wants two lists of the same length, got %d and %d", len(xs.v), len(ys.v))
	}
	i, ok := rising(xs.v)
	if !ok {
		return m.failHint(x.Args[0].X.Span(), "sort the rows by this column, each place once",
			"domain", "the places of a lookup must rise from row to row (row %d does not)", i+1)
	}
	at := a[2]
	lo, hi := xs.v[0], xs.v[len(xs.v)-1]
	k, s, ok := worst.Segment(xs.v, at.n)
	if !ok {
		u := m.p.places[x] // of a call in a function, of its last check; only words depend on it
		text := func(si float64) string {
			return plainText(strconv.FormatFloat(u.FromSI(si), 'g', 6, 64), u)
		}
		where := text(at.n)
		if src := clip(x.Args[2].X); src != where {
			where = src + " = " + where
		}
		return m.failHint(x.Args[2].X.Span(), "nothing is guessed beyond a table: add a row to it, or keep the place within it",
			"out-of-table", "%s is outside the table, which runs from %s to %s", where, text(lo), text(hi))
	}
	if len(xs.v) == 1 {
		return ys.at(0), true
	}
	x0, x1, y0, y1 := xs.at(k), xs.at(k+1), ys.at(k), ys.at(k+1)
	dx, dy := x1.n-x0.n, y1.n-y0.n
	slope := dy / dx
	g := combine(slope, at.g, 1-s, y0.g)
	g = combine(1, g, s, y1.g)
	g = combine(1, g, -slope*(1-s), x0.g)
	g = combine(1, g, -slope*s, x1.g)
	return val{n: y0.n + s*dy, g: g}, true
}

// rising checks that places rise strictly; i is the first that does not.
func rising(xs []float64) (i int, ok bool) {
	for i := 1; i < len(xs); i++ {
		if !(xs[i] > xs[i-1]) {
			return i, false
		}
	}
	return 0, true
}

func checkPick(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if t[0].Kind != Table {
		c.bad(x.Args[0].X.Span(), "wrong-kind", "pick wants a table, got %s", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	if t[1].Kind != Text {
		e := c.p.errs.Add(x.Args[1].X.Span(), "wrong-kind", "pick wants a text, got %s", operand(x.Args[1].X, t[1]))
		e.Hint = `write the id in quotes, as in pick(lamps, "left")`
		return invalid, false
	}
	if keyColumn(t[0]) == "" {
		c.badHint(x.Args[0].X.Span(), "add a column id that names the rows",
			"wrong-kind", "%s has no column of texts to pick from", clip(x.Args[0].X))
		return invalid, false
	}
	r := Type{Kind: Record}
	for _, f := range t[0].Fields {
		r.Fields = append(r.Fields, TypeField{f.Name, f.Doc, f.Type.scalar()})
	}
	return r, true
}

// keyColumn is the column that names the rows: id, or else the first column of texts.
func keyColumn(t Type) string {
	if f := t.field("id"); f != nil && f.Type.Texts {
		return "id"
	}
	for _, f := range t.Fields {
		if f.Type.Texts {
			return f.Name
		}
	}
	return ""
}

func evalPick(m *machine, x *syntax.Call, a []val) (val, bool) {
	t := a[0].o.(*table)
	want := a[1].o.(string)
	var key []string
	if v, ok := t.get("id"); ok {
		key, _ = v.o.([]string)
	}
	for i := 0; key == nil && i < len(t.vals); i++ {
		key, _ = t.vals[i].o.([]string)
	}
	for row, k := range key {
		if k != want {
			continue
		}
		r := &record{names: t.cols}
		for _, col := range t.vals {
			switch o := col.o.(type) {
			case *vec:
				r.vals = append(r.vals, o.at(row))
			case []string:
				r.vals = append(r.vals, val{o: o[row]})
			}
		}
		return val{o: r}, true
	}
	hint := ""
	if near := nearest(want, key); near != "" {
		hint = "did you mean \"" + near + "\"?"
	} else if len(key) > 0 && len(key) <= 12 {
		hint = "its rows are \"" + strings.Join(key, "\", \"") + "\""
	}
	return m.failHint(x.Args[1].X.Span(), hint, "unknown-row", "the table has no row %q", want)
}

// failHint is fail with something to try.
func (m *machine) failHint(pos diag.Span, hint, code, format string, args ...any) (val, bool) {
	if !m.quiet {
		m.errs.Add(pos, code, format, args...).Hint = hint
	}
	return val{}, false
}

func checkSteps(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	for i := range t[:2] {
		if t[i].Kind != Quantity {
			c.bad(x.Args[i].X.Span(), "wrong-kind", "steps wants numbers, got %s", operand(x.Args[i].X, t[i]))
			return invalid, false
		}
	}
	if !c.sameKind(x, 1, t[0], t[1]) {
		return invalid, false
	}
	if !t[2].plain() {
		c.bad(x.Args[2].X.Span(), "unit-mismatch", "the number of steps is a plain number, got %s", operand(x.Args[2].X, t[2]))
		return invalid, false
	}
	r := t[0]
	r.Kind = List
	return r, true
}

func evalSteps(m *machine, x *syntax.Call, a []val) (val, bool) {
	n := a[2].n
	if n != math.Trunc(n) || n < 2 || n > maxList {
		return m.fail(x.Args[2].X.Span(), "domain", "the number of steps is a whole number from 2 to %d, got %.6g", maxList, n)
	}
	items := make([]val, int(n))
	if !m.steps(len(items), x.Pos) {
		return val{}, false
	}
	for i := range items {
		s := float64(i) / (n - 1)
		items[i] = val{n: a[0].n*(1-s) + a[1].n*s, g: combine(1-s, a[0].g, s, a[1].g)}
	}
	return val{o: vecOf(items)}, true
}

// A Function is a function of the language, for a reference.
type Function struct {
	Name   string
	Params string
	Doc    string
}

// Functions returns the functions of the language, in the order of their table.
func Functions() []Function {
	out := make([]Function, 0, len(builtins)+1)
	for _, b := range builtins {
		out = append(out, Function{b.name, b.params, b.doc})
	}
	return append(out, Function{"material", `"name"`, "properties of a material of the table, each with its source and spread"})
}
