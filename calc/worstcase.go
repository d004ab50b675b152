package calc

import (
	"math"

	"workings/calc/interval"
	"workings/calc/syntax"
	"workings/calc/worst"
)

// How much work a worst case may take, in operations of a tape. A limit is a
// promise and worth more than a figure.
const (
	figureSteps = 60_000
	limitSteps  = 3_000_000
)

// onTape gives the tape of the run.
func (r *run) onTape() *taper {
	if r.tape == nil {
		r.tape = newTaper(r)
	}
	return r.tape
}

// root puts a number on the tape.
func (t *taper) root(tape func(*taper) taped) worst.Slot {
	t.frame = nil
	return t.number(tape(t))
}

// Which inputs move in a worst case.
type moving int

const (
	tolerancesOnly moving = iota
	rangesOnly
	together // a tolerance lies around every place of a range
)

// box gives the interval of every input of the tape.
func (t *taper) box(from []int32, which moving) []interval.I {
	box := make([]interval.I, len(t.vars))
	k := 0
	for i, d := range t.vars { // both in the order of the inputs
		sp := d.spread
		box[i] = interval.Point(sp.nominal)
		for k < len(from) && from[k] < d.input {
			k++
		}
		if k == len(from) || from[k] != d.input {
			continue
		}
		lo, hi := sp.nominal, sp.nominal
		if sp.ranged && which != tolerancesOnly {
			lo, hi = sp.low, sp.high
		}
		if sp.hasTol && which != rangesOnly {
			lo, hi = lo-sp.tolLo, hi+sp.tolHi
		}
		box[i] = interval.I{Lo: lo, Hi: hi}
	}
	return box
}

// itself fills in the worst cases of an input.
func (s *Spread) itself(d *def) {
	sp := d.spread
	s.TolLo, s.TolHi = sp.tolLo, sp.tolHi
	s.Least, s.Greatest = sp.nominal-sp.tolLo, sp.nominal+sp.tolHi
	if sp.ranged && sp.low < sp.high {
		s.Ranged, s.Low, s.High = true, sp.low, sp.high
		s.LowAt = []Setting{{d.name(), sp.low, d.typ.Unit}}
		s.HighAt = []Setting{{d.name(), sp.high, d.typ.Unit}}
		s.Least, s.Greatest = sp.low-sp.tolLo, sp.high+sp.tolHi
	}
}

// ends finds the least and the greatest value of a number. fault says where it
// has none.
func (r *run) ends(root worst.Slot, from []int32, which moving, at func(*machine) (float64, bool)) (lo, hi *worst.Worst, fault string) {
	t := r.tape
	s := worst.Search{Tape: &t.t, Root: root, Box: t.box(from, which), Steps: figureSteps, PointCost: heavyCall}
	s.Point = func(x []float64) (v float64, holds, ok bool) {
		v, ok = at(r.overlay(t.setting(x, s.Box)))
		return v, false, ok
	}
	lo = s.Run()
	if lo.Without == nil {
		s.Most = true
		hi = s.Run()
		if hi.Without == nil {
			return lo, hi, ""
		}
		lo = hi
	}
	return nil, nil, "has no value where " + r.where(r.overlay(t.setting(lo.Without, s.Box)))
}

// setting gives the inputs of a place of the tape that differ from their nominal
// value, or that vary.
func (t *taper) setting(at []float64, box []interval.I) map[*def]float64 {
	set := map[*def]float64{}
	for i, d := range t.vars {
		if !box[i].Thin() {
			set[d] = at[i]
		}
	}
	return set
}

func isRanged(d *def) bool { return d.spread.ranged }

// settings names where a worst case occurs: the inputs that matter and that are
// asked for, in the order of their lines.
func (t *taper) settings(w *worst.Worst, from []int32, want func(*def) bool) []Setting {
	if w.At == nil {
		return nil
	}
	var out []Setting
	for _, d := range t.r.prog.some(from, func(*spreadIn) bool { return true }) {
		for i, v := range t.vars {
			if v == d && w.Used[i] && want(d) {
				out = append(out, Setting{d.name(), w.At[i], d.typ.Unit})
			}
		}
	}
	return out
}

// A verdictOn is what was found of a condition.
type verdictOn struct {
	Verdict
	on *machine  // with the inputs where it is least favourable
	at []Setting // these inputs
	no string    // where it has no value
}

// judged finds the worst case of a condition. It is broken only where the
// ordinary evaluator finds it false.
func (r *run) judged(e *expr) verdictOn {
	v, ok := e.node.eval(r.base)
	if !ok {
		return verdictOn{}
	}
	nominal := v.o.(bool)
	out := verdictOn{Verdict: Broken, on: r.base}
	if nominal {
		out.Verdict = Proved
	}
	if len(r.prog.toleranced(e.from))+len(r.prog.ranged(e.from)) == 0 {
		return out
	}
	t := r.onTape()
	t.frame = nil
	root := t.truth(e.tape(t))
	if t.t.Fixed(root) {
		return out
	}
	s := worst.Search{Tape: &t.t, Root: root, Box: t.box(e.from, together), Steps: limitSteps, PointCost: heavyCall}
	s.Point = func(x []float64) (m float64, holds, ok bool) {
		v, ok := e.node.eval(r.overlay(t.setting(x, s.Box)))
		if !ok {
			return 0, false, false
		}
		holds = v.o.(bool)
		return margin(r, e, t.setting(x, s.Box), holds), holds, true
	}
	w := s.Run()
	if w.Without != nil {
		out.Verdict = Unknown
		out.no = r.where(r.overlay(t.setting(w.Without, s.Box)))
		return out
	}
	out.on = r.overlay(t.setting(w.At, s.Box))
	v, ok = e.node.eval(out.on)
	switch {
	case !ok:
		out.Verdict = Unknown
		out.no = r.where(out.on)
		return out
	case !v.o.(bool):
		out.Verdict = Broken
	case !nominal:
		out.Verdict, out.on = Broken, r.base
		return out
	case w.Holds:
		out.Verdict = Proved
	default:
		out.Verdict = Searched
	}
	out.at = t.settings(w, e.from, func(d *def) bool {
		return d.spread.ranged || out.on.set[d] != d.spread.nominal
	})
	return out
}

// margin is how far a condition is from being false, where a tape cannot tell.
func margin(r *run, e *expr, set map[*def]float64, holds bool) float64 {
	if e.sides != nil {
		m := r.overlay(set)
		a, ok1 := e.sides.left.node.eval(m)
		b, ok2 := e.sides.right.node.eval(m)
		if ok1 && ok2 && a.isNum() && b.isNum() {
			d := b.n - a.n
			if e.sides.op == syntax.OpGE || e.sides.op == syntax.OpGT {
				d = -d
			}
			return d / math.Max(1e-300, math.Max(math.Abs(a.n), math.Abs(b.n)))
		}
	}
	if holds {
		return 1
	}
	return -1
}
