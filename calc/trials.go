package calc

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// TrialOptions say how trials are made.
type TrialOptions struct {
	N          int     // number of trials, 100 to MaxTrials
	Level      float64 // coverage probability of the interval; 0: 0.9545
	Seed       uint64  // the same seed gives the same trials on any number of cores
	Tolerances bool    // draws within the tolerances too, every value as likely as the next
	// Progress is told how many trials are done, from any goroutine; may be nil.
	// It returns false to give up.
	Progress func(done int) bool
}

// MaxTrials bounds the number of trials.
const MaxTrials = 10_000_000

// Trials is the distribution of a figure found by drawing its inputs again and
// again (JCGM 101, 5.9 and 7), in SI.
type Trials struct {
	N         int
	Mean, Std float64
	Low, High float64 // the probabilistically symmetric coverage interval
	ShortLow  float64 // the shortest coverage interval
	ShortHigh float64
	Level     float64
	Inputs    int // inputs that were drawn
}

// ErrStopped is given when Progress asked to give up.
var ErrStopped = errors.New("stopped")

// Trials draws the inputs of a figure from their distributions: normal,
// rectangular, triangular or arcsine as stated; Student's t where degrees of
// freedom are stated (JCGM 101, 6.4). Operating ranges stay at their nominal
// value. A figure that has no value in some of the trials is refused: its
// distribution is not known.
func (r *Result) Trials(name string, opt TrialOptions) (*Trials, error) {
	f := r.byName[name]
	d, fields := r.prog.definition(name)
	switch {
	case f == nil || d == nil:
		return nil, fmt.Errorf("there is no figure %s", name)
	case f.Type.Kind != Quantity || f.Value == nil:
		return nil, fmt.Errorf("%s is no single number", name)
	case opt.N < 100 || opt.N > MaxTrials:
		return nil, fmt.Errorf("the number of trials is from 100 to %d", MaxTrials)
	case opt.Level < 0 || opt.Level >= 1:
		return nil, fmt.Errorf("a coverage probability is between 0 and 1")
	}
	if opt.Level == 0 {
		opt.Level = 0.9545
	}
	s := newSampling(r.prog, d.from, []*def{d}, func(sp *spreadIn) bool {
		return sp.std > 0 || opt.Tolerances && sp.hasTol
	})
	if len(s.inputs) == 0 {
		return nil, fmt.Errorf("%s depends on no value with an uncertainty", name)
	}
	out := make([]float64, opt.N)
	var done, failed atomic.Int64
	var stopped atomic.Bool
	s.blocks(opt.N, opt.Seed, func(m *machine, i int, src *rand.Rand) bool {
		s.draw(m, src, opt.Tolerances)
		v, ok := m.value(d)
		v, ok = takeFields(v, ok, fields)
		if !ok || !v.isNum() {
			failed.Add(1)
		}
		out[i] = v.n
		if n := done.Add(1); n%1024 == 0 && opt.Progress != nil && !opt.Progress(int(n)) {
			stopped.Store(true)
		}
		return !stopped.Load()
	})
	if stopped.Load() {
		return nil, ErrStopped
	}
	if n := failed.Load(); n > 0 {
		return nil, fmt.Errorf("%s has no value in %d of %d trials: the stated uncertainties reach beyond what it is defined for", name, n, opt.N)
	}
	t := &Trials{N: opt.N, Level: opt.Level, Inputs: len(s.inputs)}
	t.Mean, t.Std = stat.MeanStdDev(out, nil)
	sort.Float64s(out)
	// JCGM 101, 7.7: q values lie in the interval.
	q := int(opt.Level*float64(opt.N) + 0.5)
	first := (opt.N - q) / 2
	t.Low, t.High = out[first], out[min(first+q, opt.N-1)]
	best := 0
	for i := 0; i+q < opt.N; i++ {
		if out[i+q]-out[i] < out[best+q]-out[best] {
			best = i
		}
	}
	t.ShortLow, t.ShortHigh = out[best], out[min(best+q, opt.N-1)]
	return t, nil
}

// draw sets every input to a value of its distribution.
func (s *sampling) draw(m *machine, src *rand.Rand, tolerances bool) {
	var together *readings
	factor := 1.0
	for _, in := range s.inputs {
		g := in.spread.readings
		if g == nil {
			m.set[in] = in.spread.draw(src, tolerances)
			continue
		}
		// Readings taken together are drawn from the multivariate t distribution:
		// one factor for all rows of a table.
		if g != together {
			together = g
			factor = math.Sqrt(g.dof / distuv.ChiSquared{K: g.dof, Src: src}.Rand())
		}
		m.set[in] = factor * src.NormFloat64()
	}
}

// draw gives a value of an input (JCGM 101, 6.4).
func (s *spreadIn) draw(src *rand.Rand, tolerances bool) float64 {
	if s.std == 0 {
		if tolerances && s.hasTol {
			return s.nominal - s.tolLo + (s.tolLo+s.tolHi)*src.Float64()
		}
		return s.nominal
	}
	switch s.shape {
	case "rectangular":
		return s.nominal + s.std*math.Sqrt(3)*(2*src.Float64()-1)
	case "triangular":
		return s.nominal + s.std*math.Sqrt(6)*(src.Float64()-src.Float64())
	case "arcsine":
		return s.nominal + s.std*math.Sqrt2*math.Sin(2*math.Pi*src.Float64())
	}
	if !math.IsInf(s.dof, 1) {
		return s.nominal + s.std*distuv.StudentsT{Mu: 0, Sigma: 1, Nu: s.dof, Src: src}.Rand()
	}
	return s.nominal + s.std*src.NormFloat64()
}

// A sampling evaluates some definitions over and over with inputs set.
type sampling struct {
	p      *Program
	inputs []*def // that are set
	again  []*def // definitions that depend on them and are needed
}

// newSampling prepares to evaluate the wanted definitions with those inputs
// set, among from, that use picks.
func newSampling(p *Program, from []int32, wanted []*def, use func(*spreadIn) bool) *sampling {
	s := &sampling{p: p, inputs: p.some(from, use)}
	sort.Slice(s.inputs, func(i, j int) bool { return s.inputs[i].input < s.inputs[j].input })
	needed := make([]bool, len(p.defs))
	for _, d := range wanted {
		needed[d.id] = true
	}
	for i := len(p.order) - 1; i >= 0; i-- {
		if d := p.order[i]; needed[d.id] {
			for _, ref := range d.refs {
				needed[ref.id] = true
			}
		}
	}
	dirty := p.dependents(s.inputs)
	for _, d := range p.order {
		if needed[d.id] && dirty.place[d.id] > 0 {
			s.again = append(s.again, d)
		}
	}
	return s
}

// machine gives a machine for trials, one a goroutine.
func (s *sampling) machine() *machine {
	m := newMachine(s.p)
	m.room()
	m.quiet = true
	m.set = make(map[*def]float64, len(s.inputs))
	return m
}

// reset makes a machine forget what depends on the inputs.
func (s *sampling) reset(m *machine) {
	for _, d := range s.again {
		m.state[d.id] = 0
	}
	m.left, m.spent = maxSteps, false
}

// blocks calls one for every trial, a block of trials at a time, on all cores.
// Each block has a random source of its own, so that the trials are the same
// however the blocks are shared out.
func (s *sampling) blocks(n int, seed uint64, one func(m *machine, i int, src *rand.Rand) bool) {
	const size = 1000
	blocks := (n + size - 1) / size
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), blocks) {
		wg.Go(func() {
			m := s.machine()
			for {
				b := int(next.Add(1)) - 1
				if b >= blocks {
					return
				}
				src := rand.New(rand.NewPCG(seed, uint64(b)))
				for i := b * size; i < min((b+1)*size, n); i++ {
					s.reset(m)
					if !one(m, i, src) {
						return
					}
				}
			}
		})
	}
	wg.Wait()
}
