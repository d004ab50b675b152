package chart

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// contour gives the lines along which the field has one value, in units of the
// view box, in an order that is always the same: gonum/plot keeps them in a map
// and gives them in any order.
func contour(g plotter.GridXYZ, level float64, c draw.Canvas, p *plot.Plot) (lines [][]point, err error) {
	defer func() { // it panics on lines it cannot follow
		if r := recover(); r != nil {
			lines, err = nil, fmt.Errorf("chart: contour at %g: %v", level, r)
		}
	}()
	cv := under(c)
	k := plotter.NewContour(g, []float64{level}, nil)
	k.Min, k.Max = math.Inf(-1), math.Inf(1)
	k.LineStyles = []draw.LineStyle{{Color: color.Black, Width: 1}}
	var rec recorder.Canvas
	k.Plot(draw.Canvas{Canvas: &rec, Rectangle: c.Rectangle}, p)
	type keyed struct {
		key string
		pts []point
	}
	var all []keyed
	for _, a := range rec.Actions {
		s, ok := a.(*recorder.Stroke)
		if !ok {
			continue
		}
		var pts []point
		for _, q := range s.Path {
			if q.Type == vg.MoveComp || q.Type == vg.LineComp {
				pts = append(pts, cv.at(q.Pos))
			}
		}
		pts = thin(ordered(pts), 0.15)
		if length(pts) < 6 { // a speck
			continue
		}
		var b strings.Builder
		for _, q := range pts {
			b.WriteString(cv.pair(q) + " ")
		}
		all = append(all, keyed{b.String(), pts})
	}
	slices.SortFunc(all, func(a, b keyed) int { return strings.Compare(a.key, b.key) })
	for _, k := range all {
		lines = append(lines, k.pts)
	}
	return lines, nil
}

// ordered gives a line the direction that begins further left (then further
// up); a closed one begins at its leftmost point.
func ordered(p []point) []point {
	n := len(p)
	less := func(a, b point) bool { return a.x < b.x || a.x == b.x && a.y < b.y }
	if n > 3 && near(p[0], p[n-1]) {
		p = p[:n-1]
		n--
		first := 0
		for i := range p {
			if less(p[i], p[first]) {
				first = i
			}
		}
		p = append(slices.Clone(p[first:]), p[:first]...)
		if less(p[n-1], p[1]) {
			slices.Reverse(p[1:])
		}
		return append(p, p[0])
	}
	if n > 1 && less(p[n-1], p[0]) {
		slices.Reverse(p)
	}
	return p
}

func near(a, b point) bool { return math.Hypot(a.x-b.x, a.y-b.y) < 1e-6 }

func length(p []point) float64 {
	l := 0.0
	for i := 1; i < len(p); i++ {
		l += math.Hypot(p[i].x-p[i-1].x, p[i].y-p[i-1].y)
	}
	return l
}

// A gap is where the number of a contour stands in its line.
type gap struct {
	at       point
	deg      float64
	from, to float64 // along the line
}

// gapIn finds the place on a line where a number of width w stands best: where
// the line is straight and nothing else is near.
func gapIn(p []point, w float64, area box, put []box) (gap, bool) {
	total := length(p)
	best, least := gap{}, math.Inf(1)
	const n = 24
	for k := 1; k < n; k++ {
		s := total * float64(k) / n
		from, to := s-w/2-3, s+w/2+3
		if from < 0 || to > total {
			continue
		}
		a, m, b := along(p, from), along(p, s), along(p, to)
		chord := math.Hypot(b.x-a.x, b.y-a.y)
		if chord < 0.9*(to-from) {
			continue // bends too much
		}
		deg := math.Atan2(b.y-a.y, b.x-a.x) * 180 / math.Pi
		if deg > 90 {
			deg -= 180
		} else if deg < -90 {
			deg += 180
		}
		m = point{(a.x + b.x + 2*m.x) / 4, (a.y + b.y + 2*m.y) / 4}
		bx := box{m.x - w/2, m.y - w/2, m.x + w/2, m.y + w/2} // turned any way
		if !bx.within(area) {
			continue
		}
		cost := math.Abs(deg)/45 + 20*(1-chord/(to-from)) + math.Abs(float64(2*k-n))/n/2
		for _, o := range put {
			if bx.meets(o) {
				cost += 100
			}
		}
		if cost < least-1e-9 {
			best, least = gap{m, deg, from, to}, cost
		}
	}
	return best, least < 100
}

// along gives the point of a line at a distance from its beginning.
func along(p []point, s float64) point {
	for i := 1; i < len(p); i++ {
		l := math.Hypot(p[i].x-p[i-1].x, p[i].y-p[i-1].y)
		if s <= l && l > 0 {
			t := s / l
			return point{p[i-1].x + float64(t*(p[i].x-p[i-1].x)), p[i-1].y + float64(t*(p[i].y-p[i-1].y))}
		}
		s -= l
	}
	return p[len(p)-1]
}

// part of a line between two distances from its beginning.
func stretchOf(p []point, from, to float64) []point {
	out := []point{along(p, from)}
	s := 0.0
	for i := 1; i < len(p); i++ {
		s += math.Hypot(p[i].x-p[i-1].x, p[i].y-p[i-1].y)
		if s > from && s < to {
			out = append(out, p[i])
		}
	}
	return append(out, along(p, to))
}
