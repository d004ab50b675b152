package calc_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"workings/calc"
)

// What is asked of the worst cases of random sheets.
const (
	randomSheets = 10_000
	clear5       = 0.05 // of the range of the margin: what no search may miss
	provedShare  = 0.90 // of the limits that hold with that room
)

// visitBox visits corners of a box, all of them up to 2^10, and n places within
// it, some coordinates of them at an end.
func visitBox(rng *rand.Rand, box []span, n int, visit func(x []float64)) {
	var moved []int
	x := make([]float64, len(box))
	for i, b := range box {
		x[i] = b.low
		if b.low < b.high {
			moved = append(moved, i)
		}
	}
	corner := func(bits int) {
		for k, i := range moved {
			x[i] = box[i].low
			if bits>>k&1 == 1 {
				x[i] = box[i].high
			}
		}
		visit(x)
	}
	if len(moved) <= 10 {
		for bits := range 1 << len(moved) {
			corner(bits)
		}
	} else {
		for range 1 << 9 {
			corner(rng.IntN(1 << len(moved)))
		}
	}
	for range n {
		for _, i := range moved {
			switch x[i] = box[i].low + rng.Float64()*(box[i].high-box[i].low); rng.IntN(8) {
			case 0:
				x[i] = box[i].low
			case 1:
				x[i] = box[i].high
			}
		}
		visit(x)
	}
}

func (s *randomSheet) box(of func(in *randomInput) span) []span {
	box := make([]span, len(s.inputs))
	for i := range s.inputs {
		box[i] = of(&s.inputs[i])
	}
	return box
}

func everything(in *randomInput) span { return in.all }

func (w *world) goTo(x []float64) {
	copy(w.in, x)
	w.begin()
}

// What an oracle has seen of a limit. A place where noise decides is not seen.
type seen struct {
	margin  float64   // the least
	at      []float64 // where
	broken  []float64 // a place where it does not hold; nil: none
	missing []float64 // a place where it has no value; nil: none
}

func (o *seen) look(w *world, c *condition) {
	w.mark = mark{}
	holds, m, ok := c.f(w)
	switch {
	case w.tie:
	case !ok:
		if o.missing == nil {
			o.missing = append([]float64(nil), w.in...)
		}
	case o.at == nil || m < o.margin:
		o.margin, o.at = m, append(o.at[:0], w.in...)
		fallthrough
	default:
		if !holds && o.broken == nil {
			o.broken = append([]float64(nil), w.in...)
		}
	}
}

// refine walks downhill from the worst place seen.
func (s *randomSheet) refine(w *world, o *seen, c *condition, box []span) {
	for _, step := range []float64{0.25, 0.08, 0.02, 0.004} {
		for range 3 {
			if o.at == nil {
				return
			}
			before := o.margin
			for i, b := range box {
				if b.low == b.high {
					continue
				}
				for _, d := range []float64{-step, step} {
					x := append([]float64(nil), o.at...)
					x[i] = math.Min(b.high, math.Max(b.low, x[i]+d*(b.high-b.low)))
					w.goTo(x)
					o.look(w, c)
				}
			}
			if o.margin >= before {
				break
			}
		}
	}
}

// doubtful reports whether an operation among the definitions may have no
// value somewhere: what it guards was seen to come near to where that begins.
func (s *randomSheet) doubtful(guards []reach, defs map[int]bool, limit int, near float64) bool {
	for i, g := range s.guards {
		if !defs[g.owner] && g.owner != -1-limit {
			continue
		}
		r := guards[i]
		room := near * r.width()
		if r.low <= room && (!g.nonzero || r.high >= -room) {
			return true
		}
	}
	return false
}

// tally is what the sheets came to.
type tally struct {
	limits, held, proved    atomic.Int64 // held and proved of those that clearly hold
	verdicts                [4]atomic.Int64
	clearlyBroken           atomic.Int64
	figures, bounded, loose atomic.Int64
}

// checkSheet draws a sheet, looks at it by itself, has it judged, and compares.
// It gives what is wrong, each with the lines of the sheet that show it.
func checkSheet(t testing.TB, seed uint64, size uint16, twice bool, sum *tally) (wrong []string) {
	s, d := drawSheet(seed, shapeOf(size))
	rng := rand.New(rand.NewPCG(seed, 99))
	box := s.box(everything)
	// What values the figures have decides what the limits are.
	w := s.world()
	first := make([]reach, len(s.figs))
	for k := range first {
		first[k] = nothing
	}
	look := func(into []reach) func(x []float64) {
		return func(x []float64) {
			w.goTo(x)
			for k, i := range s.figs {
				w.mark = mark{}
				if v, ok := w.eval(s, i); ok && !w.tie {
					into[k].add(v)
				}
			}
		}
	}
	few := func(visit func(x []float64)) {
		x := make([]float64, len(box))
		for n := range 250 {
			for i, b := range box {
				x[i] = b.low + rng.Float64()*(b.high-b.low)
				if n%2 == 0 {
					x[i] = []float64{b.low, b.high}[rng.IntN(2)]
				}
			}
			visit(x)
		}
	}
	few(look(first))
	d.limits(first, 1+d.IntN(3))

	// The scale of each comparison, and what may have no value.
	w = s.world()
	w.record = true
	few(func(x []float64) {
		w.goTo(x)
		for l := range s.limits {
			s.limits[l].cond.f(w)
		}
	})
	for i, r := range w.diffs {
		switch {
		case r.width() > 0:
			w.scale[i] = r.width()
		case r.low < r.high || r.low == r.high && r.low != 0:
			w.scale[i] = math.Abs(r.low)
		}
	}
	saw := make([]seen, len(s.limits))
	figs := make([]reach, len(s.figs))
	gone := make([]bool, len(s.figs)) // a figure has no value somewhere
	for k := range figs {
		figs[k] = nothing
	}
	visitBox(rng, box, 400, func(x []float64) {
		w.goTo(x)
		for l := range s.limits {
			saw[l].look(w, &s.limits[l].cond)
		}
		for k, i := range s.figs {
			w.mark = mark{}
			if v, ok := w.eval(s, i); !ok {
				gone[k] = true
			} else if !w.tie {
				figs[k].add(v)
			}
		}
	})
	for l := range s.limits {
		s.refine(w, &saw[l], &s.limits[l].cond, box)
	}

	text := s.write(true, nil, nil)
	r, list := sheet(t, text, map[string]string{"t.csv": worstTable})
	fail := func(defs, limits []int, format string, args ...any) {
		wrong = append(wrong, fmt.Sprintf("seed %d, size %d: ", seed, size)+fmt.Sprintf(format, args...)+"\n"+s.write(false, defs, limits))
	}
	for _, e := range list {
		switch e.Code {
		case "division-by-zero", "domain", "out-of-table", "overflow", "no-spread", "limit-unknown":
		default:
			if !e.Warn {
				wrong = append(wrong, fmt.Sprintf("seed %d, size %d: %s\n%s", seed, size, e.Report(), text))
				return wrong
			}
		}
	}
	where := func(x []float64) string {
		var b strings.Builder
		for i, in := range s.inputs {
			fmt.Fprintf(&b, " %s=%.17g", in.name, x[i])
		}
		return b.String()
	}
	for l := range s.limits {
		lim, o, got := &s.limits[l], &saw[l], r.Limits()[l]
		defs, _ := s.reached(lim.uses, lim.inputs)
		doubt := o.missing != nil || s.doubtful(w.guards, defs, l, 0.1)
		s.nominal(w)
		lim.cond.f(w)
		doubt = doubt || w.edge
		sum.limits.Add(1)
		sum.verdicts[got.Verdict].Add(1)
		if o.broken != nil && o.margin <= -clear5 {
			sum.clearlyBroken.Add(1)
		}
		if got.Verdict != calc.Unknown {
			if why := s.wrongPlace(w, lim, got); why != "" {
				fail(nil, []int{l}, "limit %s is said to be %s at %+v: %s", lim.name, got.Verdict, got.At, why)
			}
		}
		switch got.Verdict {
		case calc.Proved:
			if o.broken == nil && o.missing == nil && (o.margin < clear5 || doubt) {
				visitBox(rng, box, 3000, func(x []float64) {
					w.goTo(x)
					o.look(w, &lim.cond)
				})
				s.refine(w, o, &lim.cond, box)
			}
			if o.broken != nil {
				fail(nil, []int{l}, "limit %s is proved, and broken at%s", lim.name, where(o.broken))
			} else if o.missing != nil {
				fail(nil, []int{l}, "limit %s is proved, and has no value at%s", lim.name, where(o.missing))
			} else if lim.left != nil && o.at != nil {
				if m := o.margin * w.scale[lim.diff]; got.Margin > m+1e-4*(math.Abs(m)+w.scale[lim.diff]) {
					fail(nil, []int{l}, "limit %s is proved with a margin of %.12g, and it is %.12g at%s", lim.name, got.Margin, m, where(o.at))
				}
			}
		case calc.Searched:
			if o.broken != nil && o.margin <= -clear5 {
				fail(nil, []int{l}, "limit %s is said to hold, and is broken by %.3g of its range at%s", lim.name, -o.margin, where(o.at))
			}
		case calc.Unknown:
			if doubt {
				break
			}
			visitBox(rng, box, 5000, func(x []float64) {
				w.goTo(x)
				o.look(w, &lim.cond)
			})
			if o.missing == nil && !s.doubtful(w.guards, defs, l, 0.3) {
				fail(nil, []int{l}, "limit %s is unknown, and has a value everywhere: %v", lim.name, list)
			}
		}
		if o.broken == nil && o.margin >= clear5 && !doubt {
			sum.held.Add(1)
			if got.Verdict == calc.Proved {
				sum.proved.Add(1)
			}
		}
	}

	// The spreads of the figures, over three boxes.
	around := func(of func(in *randomInput) span) []reach {
		into := make([]reach, len(s.figs))
		for k := range into {
			into[k] = nothing
		}
		b := s.box(of)
		x := make([]float64, len(b))
		for n := range 120 {
			for i := range b {
				x[i] = b[i].low + rng.Float64()*(b[i].high-b[i].low)
				if n%3 > 0 {
					x[i] = []float64{b[i].low, b[i].high}[rng.IntN(2)]
				}
			}
			look(into)(x)
		}
		return into
	}
	tols := around(func(in *randomInput) span { return in.tol })
	ranges := around(func(in *randomInput) span {
		if in.ranged {
			return in.rng
		}
		return span{in.nominal, in.nominal}
	})
	for k, i := range s.figs {
		f := r.Figure(s.defs[i].name)
		defs, ins := s.reached([]int{i}, nil)
		s.nominal(w)
		v, ok := w.eval(s, i)
		doubt := gone[k] || s.doubtful(w.guards, defs, -1, 0.1) || w.edge
		got, has := f.Value.(float64)
		size := math.Max(math.Abs(v), math.Max(math.Abs(figs[k].low), math.Abs(figs[k].high)))
		eps := math.Max(1e-6*size, 1e-14) // a worst case is found to a millionth of the spread
		for in := range ins {             // what cancels leaves the noise of what it came from
			eps = math.Max(eps, 1e-13*math.Abs(s.inputs[in].all.high))
		}
		switch {
		case w.tie:
			continue
		case !has:
			if ok && !w.edge {
				fail([]int{i}, nil, "%s has no value, and is %v", f.Name, v)
			}
			continue
		case !ok || math.Abs(got-v) > eps:
			fail([]int{i}, nil, "%s is %v, want %v (%v)", f.Name, got, v, ok)
			continue
		}
		moved := false
		for in := range ins {
			moved = moved || s.inputs[in].moved
		}
		if !moved || size > 1e100 { // no figure of a machine; its square may be too large for a number
			continue
		}
		sp := f.Spread
		if sp == nil {
			if figs[k].width() > eps && !doubt {
				fail([]int{i}, nil, "%s has no spread, and goes from %v to %v", f.Name, figs[k].low, figs[k].high)
			}
			continue
		}
		sum.figures.Add(1)
		if sp.Searched {
			continue
		}
		sum.bounded.Add(1)
		low, high := v, v
		if sp.Ranged {
			low, high = sp.Low, sp.High
		}
		for _, c := range []struct {
			what      string
			low, high float64
			saw       reach
		}{
			{"the tolerances", v - sp.TolLo, v + sp.TolHi, tols[k]},
			{"the ranges", low, high, ranges[k]},
			{"everything", sp.Least, sp.Greatest, figs[k]},
		} {
			if c.saw.low < c.low-eps || c.saw.high > c.high+eps {
				fail([]int{i}, nil, "over %s, %s is bounded by %.12g and %.12g, and goes from %.12g to %.12g", c.what, f.Name, c.low, c.high, c.saw.low, c.saw.high)
				break
			}
			if c.what == "everything" && (c.high-c.low) > 1.2*c.saw.width()+2*eps {
				sum.loose.Add(1)
			}
		}
	}

	if twice {
		again, _ := sheet(t, text, map[string]string{"t.csv": worstTable})
		for l, a := range r.Limits() {
			b := again.Limits()[l]
			if a.Verdict != b.Verdict || a.Worst != b.Worst || a.Margin != b.Margin || a.Ratio != b.Ratio || !reflect.DeepEqual(a.At, b.At) {
				fail(nil, []int{l}, "limit %s is %s at %v, once more %s at %v", a.Name, a.Verdict, a.At, b.Verdict, b.At)
			}
		}
		for _, i := range s.figs {
			a, b := r.Figure(s.defs[i].name), again.Figure(s.defs[i].name)
			if !reflect.DeepEqual(a.Value, b.Value) || !reflect.DeepEqual(a.Spread, b.Spread) {
				fail([]int{i}, nil, "%s has the spread %+v, once more %+v", a.Name, a.Spread, b.Spread)
			}
		}
	}
	return wrong
}

// wrongPlace says what is wrong with the worst place of a limit: that it lies
// outside the box, that a broken limit holds there or has no value there, or
// that the sides there are other ones. "" if nothing is.
func (s *randomSheet) wrongPlace(w *world, lim *randomLimit, got *calc.Limit) string {
	s.nominal(w)
	for _, at := range got.At {
		i := slices.IndexFunc(s.inputs, func(in randomInput) bool { return in.name == at.Name })
		if i < 0 {
			return at.Name + " is no input"
		}
		b := s.inputs[i].all
		noise := 1e-12 * math.Max(math.Abs(b.low), math.Abs(b.high))
		if !(at.SI >= b.low-noise && at.SI <= b.high+noise) {
			return fmt.Sprintf("%s goes from %.17g to %.17g only", at.Name, b.low, b.high)
		}
		w.in[i] = at.SI
	}
	at := append([]float64(nil), w.in...)
	holds, m, ok := lim.cond.f(w)
	if w.tie {
		return "" // noise decides here
	}
	if lim.left != nil && ok {
		a, _ := lim.left.f(w)
		b, _ := lim.right.f(w)
		eps := 1e-9 * math.Max(math.Abs(a), math.Abs(b))
		if math.Abs(got.Worst-(a-b)) > eps || math.Abs(got.Margin-m*w.scale[lim.diff]) > eps {
			return fmt.Sprintf("the sides are %.12g and %.12g, and their difference is said to be %.12g, the margin %.12g", a, b, got.Worst, got.Margin)
		}
		if got.WorstLeft != nil && got.WorstRight != nil {
			x, _ := got.WorstLeft.Value.(float64)
			y, _ := got.WorstRight.Value.(float64)
			if math.Abs(x-a) > eps || math.Abs(y-b) > eps {
				return fmt.Sprintf("the sides are %.12g and %.12g, not %.12g and %.12g", a, b, x, y)
			}
		} else if len(got.At) > 0 {
			return "its sides are not given"
		}
	}
	if got.Verdict != calc.Broken || ok && !holds {
		return ""
	}
	// A jump may lie between two neighbouring numbers, which the program and
	// this test may round to one and the other.
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		for i := range at {
			w.in[i] = at[i] + (rng.Float64()-0.5)*1e-11*math.Abs(at[i])
		}
		w.begin()
		if holds, _, ok := lim.cond.f(w); ok && !holds || w.tie {
			return ""
		}
	}
	if !ok {
		return "it has no value there"
	}
	return fmt.Sprintf("it holds there, by %.3g of its range", m)
}

// TestWorstRandom compares the worst cases of random sheets with what places
// of them show.
func TestWorstRandom(t *testing.T) {
	n := randomSheets
	if testing.Short() {
		n /= 10
	}
	found := make([][]string, n)
	var sum tally
	var next atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for k := int(next.Add(1)) - 1; k < n; k = int(next.Add(1)) - 1 {
				found[k] = checkSheet(t, uint64(k), uint16(k*7919%180), k%8 == 0, &sum)
			}
		}()
	}
	wait.Wait()
	wrong, sheets := 0, 0
	for _, f := range found {
		if len(f) > 0 {
			sheets++
		}
		for _, s := range f {
			if wrong++; wrong <= 5 {
				t.Error(s)
			}
		}
	}
	if wrong > 5 {
		t.Errorf("%d findings on %d of %d sheets; the first five are shown", wrong, sheets, n)
	}
	t.Logf("%d sheets, %d limits: %d unknown, %d broken, %d searched, %d proved; %d clearly broken", n, sum.limits.Load(),
		sum.verdicts[calc.Unknown].Load(), sum.verdicts[calc.Broken].Load(), sum.verdicts[calc.Searched].Load(), sum.verdicts[calc.Proved].Load(), sum.clearlyBroken.Load())
	held, proved := sum.held.Load(), sum.proved.Load()
	t.Logf("%d limits hold with %v of their range to spare, of them %d are proved (%.1f %%)", held, clear5, proved, 100*float64(proved)/float64(max(held, 1)))
	t.Logf("%d figures with a spread, %d bounded, %d of them by more than 1.2 times what samples show", sum.figures.Load(), sum.bounded.Load(), sum.loose.Load())
	if float64(proved) < provedShare*float64(held) {
		t.Errorf("%d of %d limits that clearly hold are proved, want %v of them", proved, held, provedShare)
	}
	if held < sum.limits.Load()/5 || sum.clearlyBroken.Load() < sum.limits.Load()/10 {
		t.Errorf("of %d limits only %d clearly hold and %d are clearly broken", sum.limits.Load(), held, sum.clearlyBroken.Load())
	}
}

// FuzzWorst does the same for any seed and size.
func FuzzWorst(f *testing.F) {
	for k := range 20 {
		f.Add(uint64(k*31), uint16(k*9))
	}
	f.Fuzz(func(t *testing.T, seed uint64, size uint16) {
		for _, s := range checkSheet(t, seed, size, true, new(tally)) {
			t.Error(s)
		}
	})
}
