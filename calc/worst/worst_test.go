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
	_ = rand.Int
}
