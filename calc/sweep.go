package calc

import (
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

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
	inParallel(len(at), func(j int) {
		m := newOverlay(r.base, dirty, map[*def]float64{d: at[j]})
		for i, k := range exprs {
			e := r.prog.exprs[k]
			if e.node == nil {
				continue
			}
			if v, ok := e.node.eval(m); ok && v.isNum() {
				out[i][j] = v.n
			}
		}
	})
	return out, list
}

// inParallel calls f for 0 to n-1 on all processors: a model may solve a field
// at each point of a sweep.
func inParallel(n int, f func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wg.Wait()
}

// Vary computes a figure with one parameter set to other values, in SI: out[i]
// is its value with the parameter at at[i], NaN where it has none. Only what
// depends on the parameter, and is needed, is evaluated again.
func (r *Result) Vary(param string, at []float64, figure string) (out []float64, err error) {
	d := r.prog.byName[param]
	target, fields := r.prog.definition(figure)
	switch f := r.byName[figure]; {
	case d == nil || !d.fig.Parameter || d.spread == nil:
		return nil, fmt.Errorf("%s is no parameter that can be varied", param)
	case target == nil || f == nil || f.Type.Kind != Quantity:
		return nil, fmt.Errorf("%s is no single number", figure)
	case len(at) > MaxSweep:
		return nil, fmt.Errorf("a sweep has at most %d points", MaxSweep)
	}
	dirty := r.prog.dependents([]*def{d})
	out = make([]float64, len(at))
	inParallel(len(at), func(i int) {
		m := newOverlay(r.base, dirty, map[*def]float64{d: at[i]})
		v, ok := m.value(target)
		if v, ok = takeFields(v, ok, fields); ok && v.isNum() {
			out[i] = v.n
		} else {
			out[i] = math.NaN()
		}
	})
	return out, nil
}
