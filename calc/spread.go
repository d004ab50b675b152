package calc

import (
	"math"
	"sort"
	"strconv"
	"strings"

	numeric "workings/calc/num"
)

// spread gives what is known of a number beside its nominal value: by the law
// of propagation of JCGM 100 (5.1.2) with the derivatives of its gradient, so
// that inputs used twice correlate exactly. from are the inputs it depends on;
// sample evaluates it with inputs set.
//
// fault says what keeps it from being known: that there is no value at some
// place within the ranges and tolerances, or that a spread is too large to be
// computed. There is no spread then.
func (r *run) spread(v val, from []int32, sample sampler) (s *Spread, fault string) {
	if !v.isNum() {
		return nil, ""
	}
	missing := ""
	tried := func(m *machine) (float64, bool) {
		x, ok := sample(m)
		if !ok && missing == "" {
			missing = "has no value where " + r.where(m)
		}
		return x, ok
	}
	p := r.prog
	s = &Spread{DOF: math.Inf(1), K: 2}
	known := false
	var u2, ws, t2 float64
	shares := make([]Share, 0, len(v.g))
	rows := map[*readings]int{} // of repeated readings: the share of their rows together
	for _, t := range v.g {
		in := p.inputs[t.in]
		sp := in.spread
		share := Share{Name: in.name(), Slope: t.d}
		if sp.std > 0 {
			known = true
			c := t.d * sp.std
			u2 += c * c
			share.Part = c * c
			if sp.readings != nil {
				k, seen := rows[sp.readings]
				if !seen {
					k = len(shares)
					rows[sp.readings] = k
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
			known = true
			w := t.d * (sp.tolHi + sp.tolLo) / 2
			t2 += w * w
			if sp.std == 0 {
				share.Part = -w * w // sorted out below
			}
		}
		shares = append(shares, share)
	}
	for g, k := range rows { // readings taken together are one input of the formula
		ws += shares[k].Part * shares[k].Part / g.dof
	}
	s.Std = math.Sqrt(u2)
	s.TolRSS = math.Sqrt(t2)
	if ws > 0 {
		s.DOF = u2 * u2 / ws // Welch–Satterthwaite, JCGM 100 G.4.1
		s.K = coverage(s.DOF)
	}
	s.U = s.K * s.Std
	s.TolLo, s.TolHi = r.tolerances(v.n, v.g, from, nil, tried)
	known = known || s.TolLo > 0 || s.TolHi > 0
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
	s.Shares = shares
	if deps := p.ranged(from); len(deps) > 0 {
		r.extremes(s, v.n, deps, tried)
		// What a range moves by no more than the noise of arithmetic it does not move.
		if s.High-s.Low <= 1e-12*math.Max(math.Abs(s.Low), math.Abs(s.High)) {
			s.Ranged, s.Low, s.High, s.LowAt, s.HighAt = false, 0, 0, nil, nil
		}
		known = known || s.Ranged
	}
	s.Least, s.Greatest = v.n-s.TolLo, v.n+s.TolHi
	if s.Ranged {
		s.Least, s.Greatest = math.Min(v.n, s.Low)-s.TolLo, math.Max(v.n, s.High)+s.TolHi
	}
	switch {
	case missing != "":
		return nil, missing
	case !known:
		return nil, ""
	case !s.finite():
		return nil, "has a spread too large to be computed"
	}
	return s, ""
}

func (s *Spread) finite() bool {
	for _, x := range []float64{s.Std, s.U, s.TolLo, s.TolHi, s.TolRSS, s.Low, s.High} {
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
	deps := make([]*def, 0, len(m.set))
	for d := range m.set {
		deps = append(deps, d)
	}
	sort.Slice(deps, func(i, j int) bool { return deps[i].input < deps[j].input })
	var b strings.Builder
	for i, d := range deps {
		if i > 0 {
			b.WriteString(" and ")
		}
		u := d.typ.Unit
		b.WriteString(d.name() + " = " + plainText(strconv.FormatFloat(u.FromSI(m.set[d]), 'g', 6, 64), u))
	}
	return b.String()
}

// A sampler evaluates something with inputs set to other values.
type sampler func(m *machine) (float64, bool)

// coverage is the factor that covers 95.45 % (two standard deviations of a
// normal distribution) at the given degrees of freedom, cut to the whole
// number below (JCGM 100, G.4.1 and table G.2). With less than one there is
// no factor to be had; one is taken.
func coverage(dof float64) float64 {
	return numeric.StudentQuantile(0.97725, math.Max(1, math.Floor(dof+1e-9)))
}

// tolerances gives the worst case of the tolerances below and above a value:
// each input is put to both ends of its tolerance, one at a time, and the
// deviations are added; a deviation is never taken smaller than the slope
// says. at are inputs that are set all the while; nominal is the value there.
func (r *run) tolerances(nominal float64, g []term, from []int32, at map[*def]float64, sample sampler) (lo, hi float64) {
	k := 0
	for _, in := range from {
		d := r.prog.inputs[in]
		for k < len(g) && g[k].in < in {
			k++
		}
		if !d.spread.hasTol {
			continue
		}
		slope := 0.0
		if k < len(g) && g[k].in == in {
			slope = g[k].d
		}
		up, down := slope*d.spread.tolHi, -slope*d.spread.tolLo
		below, above := math.Max(0, -math.Min(up, down)), math.Max(0, math.Max(up, down))
		for _, x := range []float64{d.spread.nominal + d.spread.tolHi, d.spread.nominal - d.spread.tolLo} {
			m := r.alone(d, x)
			if len(at) > 0 {
				set := copySet(at)
				set[d] = x
				m = r.overlay(set)
			}
			if y, ok := sample(m); ok {
				below, above = math.Max(below, nominal-y), math.Max(above, y-nominal)
			}
		}
		lo, hi = lo+below, hi+above
	}
	return lo, hi
}

// extremes finds the least and greatest value over the operating ranges: at
// all corners and on a grid inside, then by narrowing in around an inner
// extreme, one range at a time. With more than six ranges only each range by
// itself and the two corners that the slopes point to are tried.
func (r *run) extremes(s *Spread, nominal float64, deps []*def, sample sampler) {
	s.Ranged = true
	s.Low, s.High = nominal, nominal
	try := func(set map[*def]float64) (float64, bool) {
		x, ok := sample(r.overlay(set))
		if !ok {
			return 0, false
		}
		if x < s.Low || s.LowAt == nil {
			s.Low = math.Min(x, s.Low)
			if x <= s.Low {
				s.LowAt = settings(deps, set)
			}
		}
		if x > s.High || s.HighAt == nil {
			s.High = math.Max(x, s.High)
			if x >= s.High {
				s.HighAt = settings(deps, set)
			}
		}
		return x, true
	}
	levels := []float64{0, 0.25, 0.5, 0.75, 1}
	switch {
	case len(deps) > 6:
		levels = []float64{0, 1}
	case len(deps) > 2:
		levels = []float64{0, 0.5, 1}
	}
	place := func(d *def, f float64) float64 {
		low, high := d.spread.ends()
		return low + f*(high-low)
	}
	if len(deps) <= 6 {
		set := map[*def]float64{}
		var grid func(i int)
		grid = func(i int) {
			if i == len(deps) {
				try(copySet(set))
				return
			}
			for _, f := range levels {
				set[deps[i]] = place(deps[i], f)
				grid(i + 1)
			}
		}
		grid(0)
	} else {
		base := map[*def]float64{}
		for _, d := range deps {
			base[d] = d.spread.nominal
		}
		for range 2 { // twice: the second pass starts from the first's best
			for _, sign := range []float64{-1, 1} {
				set := copySet(base)
				for _, d := range deps {
					best, at := math.Inf(-1), set[d]
					for _, f := range levels {
						set[d] = place(d, f)
						if x, ok := try(copySet(set)); ok && sign*x > best {
							best, at = sign*x, set[d]
						}
					}
					set[d] = at
				}
			}
		}
	}
	// An extreme inside a range: narrow in around it.
	refine := func(sign float64, at []Setting) {
		if at == nil {
			return
		}
		set := map[*def]float64{}
		for i, d := range deps {
			set[d] = at[i].SI
		}
		for _, d := range deps {
			low, high := d.spread.ends()
			width := (high - low) * 0.25
			mid := set[d]
			if mid <= low || mid >= high || width == 0 {
				continue
			}
			f := func(x float64) float64 {
				t := copySet(set)
				t[d] = x
				y, ok := try(t)
				if !ok {
					return math.Inf(-1)
				}
				return sign * y
			}
			set[d] = golden(f, math.Max(low, mid-width), math.Min(high, mid+width))
		}
	}
	refine(-1, s.LowAt)
	refine(1, s.HighAt)
}

// golden finds the place of the greatest value of f between a and b by golden
// section, to 1e-6 of the interval.
func golden(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	x, y := b-g*(b-a), a+g*(b-a)
	fx, fy := f(x), f(y)
	for range 30 { // to 5e-7 of the interval; a count, for an interval may be too narrow to halve
		if fx > fy {
			b, y, fy = y, x, fx
			x = b - g*(b-a)
			fx = f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + g*(b-a)
			fy = f(y)
		}
	}
	return (a + b) / 2
}

func copySet(s map[*def]float64) map[*def]float64 {
	t := make(map[*def]float64, len(s))
	for k, v := range s {
		t[k] = v
	}
	return t
}

func settings(deps []*def, set map[*def]float64) []Setting {
	out := make([]Setting, len(deps))
	for i, d := range deps {
		out[i] = Setting{d.name(), set[d], d.typ.Unit}
	}
	return out
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
