package prose

import (
	"math"
	"slices"

	"workings/calc/unit"
)

// A Figure is a figure that a typed number may stand for.
type Figure struct {
	Name   string
	Dim    unit.Dim
	Point  bool    // a point on a temperature scale
	SI     float64 // its value; of a range, the nominal
	Ranged bool    // it varies from Low to High
	Low    float64
	High   float64
	Unit   string // in which it is shown
	Rank   int    // of two that fit equally well, the one of lower rank is named first
}

// Match gives the figures that round to what was typed, the likeliest first.
// The figure must be of the dimension typed, and equal the number after
// rounding to the digits typed. Two numbers joined as a range are looked up
// among the figures that have one; of a size or a tolerance the first counts.
func Match(h Hit, figures []Figure) []Figure {
	type found struct {
		Figure
		off float64
	}
	var all []found
	if len(h.Quantities) == 0 {
		return nil
	}
	for _, f := range figures {
		off, ok := math.Inf(1), false
		if h.Link == "to" && len(h.Quantities) == 2 {
			if f.Ranged {
				a, okLow := h.Quantities[0].near(f, f.Low)
				b, okHigh := h.Quantities[1].near(f, f.High)
				off, ok = a+b, okLow && okHigh
			}
		} else {
			off, ok = h.Quantities[0].near(f, f.SI)
		}
		if ok {
			all = append(all, found{f, off})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int {
		switch {
		case a.off < b.off-1e-9:
			return -1
		case b.off < a.off-1e-9:
			return 1
		}
		return a.Rank - b.Rank
	})
	var out []Figure
	for _, f := range all {
		out = append(out, f.Figure)
	}
	return out
}

// near reports whether an SI value of a figure rounds to a typed number, and
// how far it is from it, in parts of it.
func (q Quantity) near(f Figure, si float64) (off float64, ok bool) {
	if f.Dim != q.Unit.Dim || f.Point != q.Unit.Point || math.IsNaN(si) || math.IsInf(si, 0) {
		return 0, false
	}
	x := q.Unit.FromSI(si)
	for i, v := range q.Values {
		d := math.Abs(x - v)
		noise := 1e-9 * math.Max(math.Abs(v), math.Abs(x))
		half := noise
		if q.Places[i] != Exact {
			half += math.Pow(10, float64(-q.Places[i])) / 2
		}
		if d <= half {
			return d / math.Max(math.Abs(v), 1e-300), true
		}
	}
	return 0, false
}
