package chart

import "math"

// A point is in units of the view box, y down.
type point struct{ x, y float64 }

// A box is upright, y down: y0 is its upper edge.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) within(o box) bool { return b.x0 >= o.x0 && b.x1 <= o.x1 && b.y0 >= o.y0 && b.y1 <= o.y1 }

func (b box) grow(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

// crossed reports whether a stretch from p to q touches the box: it is clipped
// against the four edges (Liang and Barsky's rule).
func (b box) crossed(p, q point) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := q.x-p.x, q.y-p.y
	for _, e := range [4][2]float64{{-dx, p.x - b.x0}, {dx, b.x1 - p.x}, {-dy, p.y - b.y0}, {dy, b.y1 - p.y}} {
		switch d, r := e[0], e[1]; {
		case d == 0 && r < 0:
			return false
		case d < 0:
			t0 = math.Max(t0, r/d)
		case d > 0:
			t1 = math.Min(t1, r/d)
		}
	}
	return t0 <= t1
}

// thin leaves out the points of a line that are no further than tol from the
// line without them (Douglas and Peucker's rule). The ends stay.
func thin(p []point, tol float64) []point {
	if len(p) < 3 {
		return p
	}
	keep := make([]bool, len(p))
	keep[0], keep[len(p)-1] = true, true
	type stretch struct{ i, j int }
	todo := []stretch{{0, len(p) - 1}}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		far, at := tol, -1
		for k := s.i + 1; k < s.j; k++ {
			if d := distance(p[k], p[s.i], p[s.j]); d > far {
				far, at = d, k
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, stretch{s.i, at}, stretch{at, s.j})
		}
	}
	out := make([]point, 0, len(p))
	for i, k := range keep {
		if k {
			out = append(out, p[i])
		}
	}
	return out
}

// distance of p from the stretch between a and b.
func distance(p, a, b point) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, ((p.x-a.x)*dx+(p.y-a.y)*dy)/l))
	}
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}
