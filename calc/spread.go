package calc

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	numeric "workings/calc/num"
	"workings/calc/worst"
)

// A quantified is a number that can be computed with inputs set, and bounded.
type quantified struct {
	at   func(m *machine) (float64, bool)
	tape func(t *taper) taped
}

// mostShares is how many shares of a spread are kept: one of half a per cent,
// the least that is shown, has its place.
const mostShares = 200

// spread gives what is known of a number beside its nominal value: by the law
// of propagation of JCGM 100 (5.1.2) with the derivatives of its gradient, so
// that inputs used twice correlate exactly; and its worst cases over tolerances
// and operating ranges. from are the inputs it depends on.
//
// fault says what keeps it from being known: that there is no value at some
// place within the ranges and tolerances, or that a spread is too large to be
// computed. There is no spread then.
func (r *run) spread(v val, from []int32, q quantified) (s *Spread, fault string) {
	if !v.isNum() {
		return nil, ""
	}
	s = r.prog.uncertainty(v)
	s.Least, s.Greatest = v.n, v.n
	known := s.Std > 0 || s.TolRSS > 0
	tolerated, ranged := len(r.prog.toleranced(from)) > 0, len(r.prog.ranged(from)) > 0
	if tolerated || ranged {
		root := r.onTape().root(q.tape)
		input := r.tape.input(root)
		if input != nil {
			s.itself(input)
			tolerated, ranged = false, false
		}
		if tolerated {
			lo, hi, fault := r.ends(root, from, tolerancesOnly, q.at)
			if fault != "" {
				return nil, fault
			}
			s.TolLo, s.TolHi = math.Max(0, v.n-lo.Value), math.Max(0, hi.Value-v.n)
			s.Least, s.Greatest = math.Min(v.n, lo.Value), math.Max(v.n, hi.Value)
			s.Searched = !lo.Sharp || !hi.Sharp
		}
		if ranged {
			lo, hi, fault := r.ends(root, from, rangesOnly, q.at)
			if fault != "" {
				return nil, fault
			}
			s.Ranged, s.Low, s.High = true, math.Min(v.n, lo.Value), math.Max(v.n, hi.Value)
			s.LowAt, s.HighAt = r.tape.settings(lo, from, isRanged), r.tape.settings(hi, from, isRanged)
			s.Searched = s.Searched || !lo.Sharp || !hi.Sharp
			// What a range moves by no more than the noise of arithmetic it does not move.
			if s.High-s.Low <= worst.Tie(s.Low, s.High) {
				s.Ranged, s.Low, s.High, s.LowAt, s.HighAt = false, 0, 0, nil, nil
			} else {
				s.Least, s.Greatest = math.Min(s.Least, s.Low), math.Max(s.Greatest, s.High)
			}
		}
		if tolerated && ranged {
			lo, hi, fault := r.ends(root, from, together, q.at)
			if fault != "" {
				return nil, fault
			}
			s.Least, s.Greatest = math.Min(s.Least, lo.Value), math.Max(s.Greatest, hi.Value)
			s.Searched = s.Searched || !lo.Sharp || !hi.Sharp
		}
		known = known || s.TolLo > 0 || s.TolHi > 0 || s.Ranged || s.Least < s.Greatest
	}
	switch {
	case !known:
		return nil, ""
	case !s.finite():
		return nil, "has a spread too large to be computed"
	}
	return s, ""
}

// uncertainty gives what follows from the slopes of a number at its nominal value.
func (p *Program) uncertainty(v val) *Spread {
	s := &Spread{DOF: math.Inf(1), K: 2}
	var u2, ws, t2 float64
	shares := make([]Share, 0, len(v.g))
	rows := map[*readings]int{} // of repeated readings: the share of their rows together
	var together []*readings    // the same, in the order of their shares
	for _, t := range v.g {
		in := p.inputs[t.in]
		sp := in.spread
		share := Share{Name: in.name(), Slope: t.d}
		if sp.std > 0 {
			c := t.d * sp.std
			u2 += c * c
			share.Part = c * c
			if sp.readings != nil {
				k, seen := rows[sp.readings]
				if !seen {
					k = len(shares)
					rows[sp.readings] = k
					together = append(together, sp.readings)
					shares = append(shares, Share{Name: sp.readings.name})
				}
				shares[k].Part += c * c
				continue
			}
			if !math.IsInf(sp.dof, 1) {
				ws += c * c * c * c / sp.dof
			}
		}
		if sp.hasTol {
			w := t.d * (sp.tolHi + sp.tolLo) / 2
			t2 += w * w
			if sp.std == 0 {
				share.Part = -w * w // sorted out below
			}
		}
		shares = append(shares, share)
	}
	for _, g := range together { // readings taken together are one input of the formula
		part := shares[rows[g]].Part
		ws += part * part / g.dof
	}
	s.Std = math.Sqrt(u2)
	s.TolRSS = math.Sqrt(t2)
	if ws > 0 {
		s.DOF = u2 * u2 / ws // Welch–Satterthwaite, JCGM 100 G.4.1
		s.K = coverage(s.DOF)
	}
	s.U = s.K * s.Std
	for i := range shares {
		switch part := shares[i].Part; {
		case part > 0 && u2 > 0:
			shares[i].Part = part / u2
		case part < 0 && u2 == 0 && t2 > 0:
			shares[i].Part = -part / t2
		default:
			shares[i].Part = 0
		}
	}
	sort.SliceStable(shares, func(i, j int) bool { return shares[i].Part > shares[j].Part })
	if len(shares) > mostShares {
		shares = slices.Clone(shares[:mostShares])
	}
	s.Shares = shares
	return s
}

func (s *Spread) finite() bool {
	for _, x := range []float64{s.Std, s.U, s.TolLo, s.TolHi, s.TolRSS, s.Low, s.High, s.Least, s.Greatest} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	for _, sh := range s.Shares {
		if math.IsNaN(sh.Part) || math.IsInf(sh.Slope, 0) || math.IsNaN(sh.Slope) {
			return false
		}
	}
	return !math.IsNaN(s.DOF) && !math.IsNaN(s.K) && !math.IsInf(s.K, 0)
}

// where names the values that inputs are set to on a machine: "bay = 68 °C".
func (r *run) where(m *machine) string {
	var b strings.Builder
	for i, d := range inputsOf(m.set) {
		if i > 0 {
			b.WriteString(" and ")
		}
		u := d.typ.Unit
		b.WriteString(d.name() + " = " + plainText(strconv.FormatFloat(u.FromSI(m.set[d]), 'g', 6, 64), u))
	}
	return b.String()
}

// coverage is the factor that covers 95.45 % (two standard deviations of a
// normal distribution) at the given degrees of freedom, cut to the whole
// number below (JCGM 100, G.4.1 and table G.2). With less than one there is
// no factor to be had; one is taken.
func coverage(dof float64) float64 {
	return numeric.StudentQuantile(0.97725, math.Max(1, math.Floor(dof+1e-9)))
}

// Correlation gives the correlation coefficient of two figures, from the
// inputs that they share (JCGM 100, 5.2.2 and F.1.2.3); NaN where one of them
// has no uncertainty.
func (r *Result) Correlation(a, b string) float64 {
	x, okA := r.number(a)
	y, okB := r.number(b)
	if !okA || !okB {
		return math.NaN()
	}
	var xx, yy, xy float64
	i := 0
	for _, t := range x.g {
		c := t.d * r.prog.inputs[t.in].spread.std
		xx += c * c
		for i < len(y.g) && y.g[i].in < t.in {
			i++
		}
		if i < len(y.g) && y.g[i].in == t.in {
			xy += c * y.g[i].d * r.prog.inputs[t.in].spread.std
		}
	}
	for _, t := range y.g {
		c := t.d * r.prog.inputs[t.in].spread.std
		yy += c * c
	}
	return xy / math.Sqrt(xx*yy)
}

// number gives the nominal value and gradient of a figure that is a quantity.
func (r *Result) number(name string) (val, bool) {
	f := r.byName[name]
	if f == nil || f.Type.Kind != Quantity || f.Value == nil {
		return val{}, false
	}
	var path []string
	for f.Parent != nil {
		path = append(path, f.Local[strings.LastIndexByte(f.Local, '.')+1:])
		f = f.Parent
	}
	v, ok := r.base.value(r.prog.byName[f.Name])
	for i := len(path) - 1; ok && i >= 0; i-- {
		rec, isRec := v.o.(*record)
		if !isRec {
			return val{}, false
		}
		v, ok = rec.get(path[i])
	}
	return v, ok && v.isNum()
}
