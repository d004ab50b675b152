package worst

import (
	"math"
	"math/rand/v2"
	"testing"

	"workings/calc/interval"
)

func find(t *Tape, root Slot, most bool, b ...interval.I) *Worst {
	s := Search{Tape: t, Root: root, Most: most, Box: b, Steps: 4_000_000}
	return s.Run()
}

// Published minima of functions in which inputs are repeated. Definitions and
// values: Dixon and Szegö 1978, Jamil and Yang 2013 (arXiv:1308.4008), checked
// against a secondary source.
func TestKnownMinima(t *testing.T) {
	tp := &Tape{}
	x, y := tp.Var(0.3), tp.Var(0.4)
	c := tp.Const
	x2, y2 := tp.PowFixed(x, 2), tp.PowFixed(y, 2)
	camel := tp.Sum([]Slot{
		tp.Mul(tp.Add(tp.Sub(c(4), tp.Mul(c(2.1), x2)), tp.Div(tp.PowFixed(x, 4), c(3))), x2),
		tp.Mul(x, y), tp.Mul(tp.Sub(tp.Mul(c(4), y2), c(4)), y2)})
	w := find(tp, camel, false, interval.I{Lo: -3, Hi: 3}, interval.I{Lo: -2, Hi: 2})
	if math.Abs(w.Value+1.03162845348988) > 1e-5 || !w.Sharp || w.Bound > -1.03162845348988 {
		t.Errorf("six-hump camel: %+v", w)
	}
	mc := tp.Sum([]Slot{tp.Sin(tp.Add(x, y)), tp.PowFixed(tp.Sub(x, y), 2), tp.Mul(c(-1.5), x), tp.Mul(c(2.5), y), c(1)})
	w = find(tp, mc, false, interval.I{Lo: -1.5, Hi: 4}, interval.I{Lo: -3, Hi: 4})
	if math.Abs(w.Value+1.91322295498104) > 1e-5 || !w.Sharp || w.Bound > -1.91322295498104 {
		t.Errorf("McCormick: %+v", w)
	}
}

// The bounds of values and slopes hold at every place of a box (a property),
// for every operation, over boxes that reach across their zeros and poles.
func TestBoundsHoldEverywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	c := func(tp *Tape, x float64) Slot { return tp.Const(x) }
	ops := map[string]func(tp *Tape, x, y Slot) Slot{
		"neg":  func(tp *Tape, x, y Slot) Slot { return tp.Neg(x) },
		"add":  func(tp *Tape, x, y Slot) Slot { return tp.Add(x, y) },
		"sub":  func(tp *Tape, x, y Slot) Slot { return tp.Sub(x, y) },
		"mul":  func(tp *Tape, x, y Slot) Slot { return tp.Mul(x, y) },
		"sqr":  func(tp *Tape, x, y Slot) Slot { return tp.Mul(x, x) },
		"div":  func(tp *Tape, x, y Slot) Slot { return tp.Div(x, y) },
		"sqrt": func(tp *Tape, x, y Slot) Slot { return tp.Sqrt(x) },
		"abs":  func(tp *Tape, x, y Slot) Slot { return tp.Abs(x) },
		"exp":  func(tp *Tape, x, y Slot) Slot { return tp.Exp(x) },
		"ln":   func(tp *Tape, x, y Slot) Slot { return tp.Ln(x) },
		"log":  func(tp *Tape, x, y Slot) Slot { return tp.Log10(x) },
		"sin":  func(tp *Tape, x, y Slot) Slot { return tp.Sin(x) },
		"cos":  func(tp *Tape, x, y Slot) Slot { return tp.Cos(x) },
		"tan":  func(tp *Tape, x, y Slot) Slot { return tp.Tan(x) },
		"asin": func(tp *Tape, x, y Slot) Slot { return tp.Asin(x) },
		"acos": func(tp *Tape, x, y Slot) Slot { return tp.Acos(x) },
		"atan": func(tp *Tape, x, y Slot) Slot { return tp.Atan(x) },
		"ata2": func(tp *Tape, x, y Slot) Slot { return tp.Atan2(y, x) },
		"hyp":  func(tp *Tape, x, y Slot) Slot { return tp.Hypot(x, y) },
		"min":  func(tp *Tape, x, y Slot) Slot { return tp.Min(x, y) },
		"max":  func(tp *Tape, x, y Slot) Slot { return tp.Max(x, y) },
		"pow":  func(tp *Tape, x, y Slot) Slot { return tp.Pow(x, y) },
		"flr":  func(tp *Tape, x, y Slot) Slot { return tp.Floor(x, c(tp, 0.7)) },
		"ceil": func(tp *Tape, x, y Slot) Slot { return tp.Ceil(x, tp.Abs(y)) },
		"rnd":  func(tp *Tape, x, y Slot) Slot { return tp.Round(x, c(tp, 1)) },
		"if":   func(tp *Tape, x, y Slot) Slot { return tp.Choice(tp.LT(x, y), tp.Mul(x, y), tp.Neg(y)) },
		"tab":  func(tp *Tape, x, y Slot) Slot { return tp.Table([]float64{-3, -1, 0, 4}, []float64{1, 5, -2, 2}, x) },
		"look": func(tp *Tape, x, y Slot) Slot {
			return tp.Lookup([]Slot{c(tp, -4), c(tp, 0), c(tp, 4)}, []Slot{y, x, c(tp, 1)}, x)
		},
		"le": func(tp *Tape, x, y Slot) Slot { return tp.LE(x, y) },
		"eq": func(tp *Tape, x, y Slot) Slot { return tp.EQ(x, y) },
		"or": func(tp *Tape, x, y Slot) Slot { return tp.Or(tp.LT(x, c(tp, -1)), tp.Not(tp.LE(y, c(tp, 1)))) },
	}
	for _, p := range []float64{-3, -2, -1, -0.5, 0, 1. / 3, 0.5, 1, 1.5, 2, 3, 4} {
		ops["^"+string(rune('a'+int(2*p+6)))] = func(tp *Tape, x, y Slot) Slot { return tp.PowFixed(x, p) }
	}
	for name, f := range ops {
		tp := &Tape{}
		root := f(tp, tp.Var(1), tp.Var(2))
		if tp.Fixed(root) {
			continue
		}
		for range 3000 {
			var b [2]interval.I
			for i := range b {
				lo := 8*rng.Float64() - 4
				b[i] = interval.I{Lo: lo, Hi: lo + math.Pow(10, -4+5*rng.Float64())}
			}
			for _, most := range []bool{false, true} {
				s := Search{Tape: tp, Root: root, Most: most, Box: b[:], Steps: 200}
				w := s.Run()
				for range 10 {
					at := []float64{b[0].Lo + rng.Float64()*b[0].Width(), b[1].Lo + rng.Float64()*b[1].Width()}
					if rng.IntN(3) == 0 {
						at[rng.IntN(2)] = b[0].Lo
					}
					at[0], at[1] = math.Min(math.Max(at[0], b[0].Lo), b[0].Hi), math.Min(math.Max(at[1], b[1].Lo), b[1].Hi)
					v := place(tp, root, at)
					switch {
					case v.none && w.Whole && w.Without == nil:
						t.Fatalf("%s over %v is said to have a value everywhere, and has none at %v", name, b, at)
					case !v.none && w.Without == nil && (!most && v.x < w.Bound || most && v.x > w.Bound):
						t.Fatalf("%s over %v is said to be bounded by %v (most: %v), and is %v at %v", name, b, w.Bound, most, v.x, at)
					case !most && w.Holds && !v.yes:
						t.Fatalf("%s over %v is said to hold, and does not at %v", name, b, at)
					}
				}
			}
		}
	}
}

// place computes a slot at a place.
func place(tp *Tape, root Slot, at []float64) value {
	v := make([]value, len(tp.ops))
	for i := range v {
		if o := &tp.ops[i]; o.kind == variable {
			v[i] = value{x: at[int(o.k)]}
		} else {
			v[i] = compute(o, v)
			if o.kind == constant {
				v[i] = tp.nominal[i]
			}
		}
	}
	return v[root]
}

// Of a function that nothing is known of, every corner is asked: what happens
// only where all inputs are at their ends is met.
func TestCornersAreAsked(t *testing.T) {
	for corner := range 8 {
		end := func(i int) float64 { return float64(2*(corner>>i&1) - 1) }
		tp := &Tape{}
		f := &Function{Cost: 1000, Rises: [][]bool{make([]bool, 3)}, Falls: [][]bool{make([]bool, 3)}}
		f.Call = func(x []float64) ([]float64, bool) {
			if x[0] == end(0) && x[1] == end(1) && x[2] == end(2) {
				return []float64{-1}, true
			}
			return []float64{1}, true
		}
		root := tp.Result(f, 0, []Slot{tp.Var(0), tp.Var(0), tp.Var(0)})
		one := interval.I{Lo: -1, Hi: 1}
		if w := find(tp, root, false, one, one, one); w.Value != -1 || w.Sharp {
			t.Errorf("corner %d: %+v", corner, w)
		}
	}
}
