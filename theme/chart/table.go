package chart

import (
	"math"
	"slices"
)

// tableRows is how many rows a chart's table has at most.
const tableRows = 13

// Table gives the numbers of a chart: the heads of its columns, the first for
// the horizontal axis, and at most 13 rows from one end to the other. Where a
// line has no value there is a dash.
func Table(c *Chart, o Options) (head []string, rows [][]string) {
	head = []string{c.X.title()}
	at := map[float64]bool{}
	for _, l := range c.Lines {
		h := l.Label
		if h == "" {
			h = c.Y.Label
		}
		head = append(head, quantityIn(h, c.Y.Unit))
		for i, x := range l.X {
			if i < len(l.Y) && finite(x) {
				at[x] = true
			}
		}
	}
	var xs []float64
	for x := range at {
		xs = append(xs, x)
	}
	slices.Sort(xs)
	xs = spaced(xs, tableRows)
	digits := make([]int, len(head))
	digits[0] = exact(xs)
	values := make([][]float64, len(c.Lines))
	for k, l := range c.Lines {
		values[k] = make([]float64, len(xs))
		for j, x := range xs {
			values[k][j] = math.NaN()
			if i := slices.Index(l.X, x); i >= 0 && i < len(l.Y) {
				values[k][j] = l.Y[i]
			}
		}
		digits[k+1] = enough(values[k])
	}
	for j, x := range xs {
		row := []string{shown(x, digits[0], o.decimal())}
		for k := range c.Lines {
			row = append(row, shown(values[k][j], digits[k+1], o.decimal()))
		}
		rows = append(rows, row)
	}
	return head, rows
}

// spaced keeps at most n of a list, evenly, with both ends.
func spaced(xs []float64, n int) []float64 {
	if len(xs) <= n {
		return xs
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = xs[(i*(len(xs)-1)+(n-1)/2)/(n-1)]
	}
	return out
}

// exact is the number of decimals that tells what is written on the axis: as
// many as its values have, four digits over its range at most.
func exact(xs []float64) int {
	if len(xs) == 0 {
		return 0
	}
	span := xs[len(xs)-1] - xs[0]
	if span == 0 {
		span = math.Abs(xs[0])
	}
	for n := range 12 {
		ok := true
		for _, x := range xs {
			p := math.Pow10(n)
			ok = ok && math.Abs(math.Round(x*p)/p-x) <= 2e-5*span
		}
		if ok {
			return n
		}
	}
	return 12
}

// enough is the number of decimals that gives the largest value four digits.
func enough(v []float64) int {
	big := 0.0
	for _, x := range v {
		if finite(x) {
			big = math.Max(big, math.Abs(x))
		}
	}
	if big == 0 {
		return 0
	}
	return max(0, min(12, 3-int(math.Floor(math.Log10(big)))))
}

func shown(v float64, places int, decimal rune) string {
	if !finite(v) {
		return "–"
	}
	if a := math.Abs(v); a >= 1e7 || a > 0 && a < 1e-4 {
		e := math.Floor(math.Log10(a))
		m := v / math.Pow(10, e)
		return number(m, 3, decimal) + "\u00a0×\u00a010" + superscript.Replace(number(e, 0, decimal))
	}
	return number(v, places, decimal)
}
