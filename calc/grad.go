package calc

import (
	"cmp"
	"slices"
)

// A term is the derivative of a number by one input, in SI.
type term struct {
	in int32
	d  float64
}

// combine gives the gradient of a function with partial derivatives a and b at
// two numbers with the gradients x and y. Both are sorted by input, and so is
// the result: inputs shared by both add up exactly.
func combine(a float64, x []term, b float64, y []term) []term {
	if len(x) == 0 && len(y) == 0 {
		return nil
	}
	if len(y) == 0 {
		return scale(a, x)
	}
	if len(x) == 0 {
		return scale(b, y)
	}
	out := make([]term, 0, len(x)+len(y))
	i, j := 0, 0
	for i < len(x) || j < len(y) {
		switch {
		case j == len(y) || i < len(x) && x[i].in < y[j].in:
			out = append(out, term{x[i].in, a * x[i].d})
			i++
		case i == len(x) || y[j].in < x[i].in:
			out = append(out, term{y[j].in, b * y[j].d})
			j++
		default:
			out = append(out, term{x[i].in, float64(a*x[i].d) + float64(b*y[j].d)})
			i++
			j++
		}
	}
	return out
}

// A gterm is one of several gradients that are added up, with its factor.
type gterm struct {
	by float64
	g  []term
}

// gather adds up gradients, so that a long sum does not copy all that is behind
// it for every term.
func gather(gs []gterm) []term {
	n := 0
	for _, x := range gs {
		n += len(x.g)
	}
	if n == 0 {
		return nil
	}
	all := make([]term, 0, n)
	for _, x := range gs {
		for _, t := range x.g {
			all = append(all, term{t.in, x.by * t.d})
		}
	}
	slices.SortStableFunc(all, func(a, b term) int { return cmp.Compare(a.in, b.in) })
	out := all[:0]
	for _, t := range all {
		if k := len(out) - 1; k >= 0 && out[k].in == t.in {
			out[k].d += t.d
		} else {
			out = append(out, t)
		}
	}
	return out
}

func scale(a float64, x []term) []term {
	if a == 1 || len(x) == 0 {
		return x
	}
	out := make([]term, len(x))
	for i, t := range x {
		out[i] = term{t.in, a * t.d}
	}
	return out
}

// A vterm is the derivative of a list or field by one input, element by element.
type vterm struct {
	in int32
	d  []float64
}

// vec is a list of numbers, or the values of a field, with its gradient,
// sorted by input.
type vec struct {
	v []float64
	g []vterm
}

// at gives one element.
func (l *vec) at(i int) val {
	x := val{n: l.v[i]}
	for _, t := range l.g {
		if t.d[i] != 0 {
			x.g = append(x.g, term{t.in, t.d[i]})
		}
	}
	return x
}

// vecOf gathers elements.
func vecOf(items []val) *vec {
	l := &vec{v: make([]float64, len(items))}
	index := map[int32]int{}
	for i, it := range items {
		l.v[i] = it.n
		for _, t := range it.g {
			k, ok := index[t.in]
			if !ok {
				k = len(l.g)
				index[t.in] = k
				l.g = append(l.g, vterm{t.in, make([]float64, len(items))})
			}
			l.g[k].d[i] = t.d
		}
	}
	sortTerms(l.g)
	return l
}

func sortTerms(g []vterm) {
	for i := 1; i < len(g); i++ {
		for j := i; j > 0 && g[j].in < g[j-1].in; j-- {
			g[j], g[j-1] = g[j-1], g[j]
		}
	}
}
