package calc

import (
	"math"

	"workings/calc/diag"
)

// MaxSweep is the greatest number of points of a sweep.
const MaxSweep = 2000

// Sweep evaluates expressions of the input over values of a parameter:
// out[i][j] is the value of expression exprs[i] in SI with the parameter at
// at[j] (SI, kelvins for a temperature on a scale), NaN where it cannot be
// computed. Only what depends on the parameter is evaluated again.
func (r *Result) Sweep(param string, at []float64, exprs []int) (out [][]float64, list diag.List) {
	out = make([][]float64, len(exprs))
	for i := range out {
		out[i] = make([]float64, len(at))
		for j := range out[i] {
			out[i][j] = math.NaN()
		}
	}
	d := r.prog.byName[param]
	if d == nil || d.spread == nil || len(at) > MaxSweep {
		list.Add(diag.Span{}, "sweep", "%s is no parameter that can be swept", param)
		return out, list
	}
	dirty := r.prog.dependents([]*def{d})
	for j, x := range at {
		m := newOverlay(r.base, dirty, map[*def]float64{d: x})
		for i, k := range exprs {
			e := r.prog.exprs[k]
			if e.node == nil {
				continue
			}
			if v, ok := e.node.eval(m); ok && v.isNum() {
				out[i][j] = v.n
			}
		}
	}
	return out, list
}
