package calc

import (
	"math"
	"math/rand/v2"
	"strconv"
	"sync"

	"workings/calc/diag"
	"workings/calc/unit"
)

const (
	curvaturePairs = 6    // of moves to either side
	curvatureEven  = 0.3  // curvature, as a share of the standard uncertainty, that makes it 5 % too small
	curvatureOdd   = 0.15 // difference from the slope on either side that is no rounding
)

// Curvature reports the published figures whose uncertainty the slopes at the
// nominal values do not describe (JCGM 101, 5.10 and JCGM 100, 5.1.2 note): all
// inputs are moved together by one standard uncertainty, each up or down, and
// the figure is compared with what its slopes say, in several such moves and
// their opposites. The half sum of a move and its opposite shows curvature,
// products of inputs included, the half difference a fold.
func (r *Result) Curvature() (list diag.List) {
	p := r.prog
	var all []int32
	for i := range p.inputs {
		all = append(all, int32(i))
	}
	s := newSampling(p, all, p.order, func(sp *spreadIn) bool { return sp.std > 0 })
	if len(s.inputs) == 0 {
		return nil
	}
	figs := r.uncertain()
	moves := make([][]float64, 2*curvaturePairs) // by figure; NaN: no value
	var wg sync.WaitGroup
	free := make(chan struct{}, 2)
	for k := range moves {
		wg.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			m := s.machine()
			for i, up := range signs(k/2, len(s.inputs)) {
				in := s.inputs[i]
				h := in.spread.std
				if up == (k%2 == 1) {
					h = -h
				}
				m.set[in] = in.spread.nominal + h
			}
			moves[k] = make([]float64, len(figs))
			for i, f := range figs {
				moves[k][i] = math.NaN()
				d, fields := p.definition(f.Name)
				v, ok := m.value(d)
				if v, ok = takeFields(v, ok, fields); ok && v.isNum() {
					moves[k][i] = v.n
				}
			}
		})
	}
	wg.Wait()
	curved := map[*Figure]*diag.Diag{}
	for i, f := range figs {
		if d := r.curved(s, f, i, moves); d != nil {
			curved[f] = d
		}
	}
	// Where several figures of a chain are curved, the first of the chain is
	// reported, once for all that follow from it.
	followers := map[*Figure]int{}
	var root func(f *Figure, seen map[*Figure]bool)
	root = func(f *Figure, seen map[*Figure]bool) {
		if seen[f] {
			return
		}
		seen[f] = true
		deeper := false
		for _, u := range f.behind() {
			if curved[u] != nil {
				deeper = true
				root(u, seen)
			}
		}
		if !deeper {
			followers[f]++
		}
	}
	published := r.published()
	for _, f := range figs {
		if curved[f] != nil && published[f] {
			root(f, map[*Figure]bool{})
		}
	}
	for _, f := range figs {
		n := followers[f]
		if n == 0 {
			continue
		}
		d := curved[f]
		if n > 1 {
			d.Msg += ", and so do " + strconv.Itoa(n-1) + " more that follow from it"
		}
		list = append(list, d)
	}
	return list.Sorted()
}

// behind gives the figures that a figure follows from directly.
func (f *Figure) behind() []*Figure {
	if f.Parent != nil {
		return f.Parent.Uses
	}
	return f.Uses
}

// signs gives a repeatable choice of up and down for n inputs.
func signs(k, n int) []bool {
	src := rand.New(rand.NewPCG(101, uint64(k)))
	out := make([]bool, n)
	for i := range out {
		out[i] = src.Uint64()&1 == 1
	}
	return out
}

// uncertain gives the numbers that depend on inputs with an uncertainty.
func (r *Result) uncertain() []*Figure {
	var out []*Figure
	for _, f := range r.figures {
		if f.Type.Kind != Quantity || f.Value == nil || f.Fixed {
			continue
		}
		d, _ := r.prog.definition(f.Name)
		if len(r.prog.some(d.from, func(s *spreadIn) bool { return s.std > 0 })) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// published gives the figures that a page shows or a limit judges.
func (r *Result) published() map[*Figure]bool {
	out := map[*Figure]bool{}
	for _, s := range r.exprs {
		for _, f := range s.Uses {
			out[f] = true
		}
	}
	for _, l := range r.limits {
		for _, f := range l.Uses {
			out[f] = true
		}
	}
	return out
}

// curved judges one figure; nil if its slopes describe it well.
func (r *Result) curved(s *sampling, f *Figure, i int, moves [][]float64) *diag.Diag {
	v, ok := r.number(f.Name)
	if !ok {
		return nil
	}
	slope := make(map[int32]float64, len(v.g))
	std := 0.0
	for _, t := range v.g {
		slope[t.in] = t.d
		c := t.d * r.prog.inputs[t.in].spread.std
		std += c * c
	}
	std = math.Sqrt(std)
	var even, odd float64
	none := false
	for k := range curvaturePairs {
		up, down := moves[2*k][i], moves[2*k+1][i]
		if math.IsNaN(up) || math.IsNaN(down) {
			none = true
			break
		}
		lin := 0.0
		for j, plus := range signs(k, len(s.inputs)) {
			c := slope[s.inputs[j].input] * s.inputs[j].spread.std
			if !plus {
				c = -c
			}
			lin += c
		}
		e, o := (up+down)/2-v.n, (up-down)/2-lin
		even += e * e / curvaturePairs
		odd += o * o / curvaturePairs
	}
	even, odd = math.Sqrt(even), math.Sqrt(odd)
	var list diag.List
	switch seen := math.Max(math.Abs(v.n)*1e-6, 1e-300); {
	case none:
		list.Warn(f.Pos, "curved", "%s has no value within the standard uncertainty of what it depends on", f.Name).
			Hint = "a narrower input, or a limit on it, keeps it where it is defined"
	case even > curvatureEven*std && even > seen, odd > curvatureOdd*std && odd > seen:
		u := f.Unit
		show := func(si float64) string {
			diff := unit.Unit{Symbol: u.Symbol, Dim: u.Dim, Factor: u.Factor}
			if u.Point {
				diff = kelvin
			}
			return plainText(unit.Round(si/diff.Factor, unit.Rounding{Mode: unit.Sig, N: 2}), diff)
		}
		list.Warn(f.Pos, "curved", "%s curves within the uncertainty of what it depends on: its slopes give a standard uncertainty of %s and miss about %s", f.Name, show(std), show(math.Max(even, odd))).
			Hint = "trials give its distribution: workings explain " + f.Name + " --trials 100000"
	default:
		return nil
	}
	return list[0]
}
