package calc

import (
	"math"
	"sort"
)

// spread gives what is known of a number beside its nominal value: by the law
// of propagation of JCGM 100 (5.1.2) with the derivatives of its gradient, so
// that inputs used twice correlate exactly. deps are the ranged inputs it
// depends on; sample evaluates it with inputs set.
func (r *run) spread(v val, deps []*def, sample func(set map[*def]float64) (float64, bool)) *Spread {
	if !v.isNum() {
		return nil
	}
	p := r.prog
	s := &Spread{DOF: math.Inf(1), K: 2}
	known := false
	var u2, ws, t2 float64
	shares := make([]Share, 0, len(v.g))
	for _, t := range v.g {
		in := p.inputs[t.in]
		sp := in.spread
		share := Share{Name: in.name(), Slope: t.d}
		if sp.std > 0 {
			known = true
			c := t.d * sp.std
			u2 += c * c
			if !math.IsInf(sp.dof, 1) {
				ws += c * c * c * c / sp.dof
			}
			share.Part = c * c
		}
		if sp.hasTol {
			known = true
			hi, lo := t.d*sp.tolHi, t.d*sp.tolLo
			if t.d < 0 {
				hi, lo = -t.d*sp.tolLo, -t.d*sp.tolHi
			}
			s.TolHi += math.Abs(hi)
			s.TolLo += math.Abs(lo)
			w := t.d * (sp.tolHi + sp.tolLo) / 2
			t2 += w * w
			if sp.std == 0 {
				share.Part = -w * w // sorted out below
			}
		}
		shares = append(shares, share)
	}
	s.Std = math.Sqrt(u2)
	s.TolRSS = math.Sqrt(t2)
	if ws > 0 {
		s.DOF = u2 * u2 / ws // Welch–Satterthwaite, JCGM 100 G.4.1
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
	s.Shares = shares
	if len(deps) > 0 {
		known = true
		r.extremes(s, v.n, deps, sample)
	}
	if !known {
		return nil
	}
	return s
}

// extremes finds the least and greatest value over the operating ranges: at
// all corners and on a grid inside, then by narrowing in around an inner
// extreme, one range at a time. With more than six ranges only each range by
// itself and the two corners that the slopes point to are tried.
func (r *run) extremes(s *Spread, nominal float64, deps []*def, sample func(map[*def]float64) (float64, bool)) {
	s.Ranged = true
	s.Low, s.High = nominal, nominal
	try := func(set map[*def]float64) (float64, bool) {
		x, ok := sample(set)
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
	place := func(d *def, f float64) float64 { return d.spread.low + f*(d.spread.high-d.spread.low) }
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
			width := (d.spread.high - d.spread.low) * 0.25
			mid := set[d]
			if mid <= d.spread.low || mid >= d.spread.high || width == 0 {
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
			set[d] = golden(f, math.Max(d.spread.low, mid-width), math.Min(d.spread.high, mid+width))
		}
	}
	refine(-1, s.LowAt)
	refine(1, s.HighAt)
}

// golden finds the place of the greatest value of f between a and b by golden
// section, to 1e-6 of the interval.
func golden(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	width := b - a
	x, y := b-g*(b-a), a+g*(b-a)
	fx, fy := f(x), f(y)
	for b-a > 1e-6*width {
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
		out[i] = Setting{d.name(), set[d]}
	}
	return out
}
