package chart

import (
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// labels writes a name at each thing drawn: a reader need not go to a legend
// and back. Lines are named first, then the own value, marks and bands.
func (d *lineChart) labels(c draw.Canvas, p *plot.Plot) {
	cv := under(c)
	x, y := p.Transforms(&c)
	a, b := cv.at(vg.Point{X: c.Min.X, Y: c.Max.Y}), cv.at(vg.Point{X: c.Max.X, Y: c.Min.Y})
	area := box{a.x, a.y, b.x, b.y}
	if !d.key {
		for _, i := range d.linesBeside(cv, area) {
			if cost := d.write(cv, "tl", d.names[i], d.alongLine(i, area), area); cost >= crossing {
				d.crowded = true
			}
		}
	}
	if v := d.Own; v != nil && v.Label != "" && v.X >= p.X.Min && v.X <= p.X.Max {
		at := cv.at(vg.Point{X: x(v.X)}).x
		var spots []spot
		for k, h := range []float64{0, 1, 0.15, 0.85, 0.3, 0.7, 0.5} {
			yy := area.y0 + 3 + h*(area.y1-area.y0-line-4)
			spots = append(spots, spot{at + 5, yy, start, float64(k) / 4}, spot{at - 5, yy, end, float64(k)/4 + 0.1})
		}
		d.write(cv, "tv", wrap(v.Label, 0.4*d.w), spots, area)
	}
	for _, m := range d.Marks {
		if m.Label != "" && m.Y >= p.Y.Min && m.Y <= p.Y.Max {
			d.write(cv, "tm", []string{m.Label}, across(cv.at(vg.Point{Y: y(m.Y)}).y, area), area)
		}
	}
	for _, bd := range d.Bands {
		lo, hi := math.Max(bd.Low, p.Y.Min), math.Min(bd.High, p.Y.Max)
		if bd.Label == "" || lo >= hi {
			continue
		}
		y0, y1 := cv.at(vg.Point{Y: y(hi)}).y, cv.at(vg.Point{Y: y(lo)}).y
		var spots []spot
		for k, h := range []float64{0, 1, 0.5} {
			for _, s := range across(0, area) {
				if s.y < 0 { // those above, moved into the band
					s.y = y0 + 3 + h*(y1-y0-line-3)
					s.cost += float64(k) / 3
					spots = append(spots, s)
				}
			}
		}
		d.write(cv, "tb", []string{bd.Label}, spots, area)
	}
}

// A spot is a place for a label: its upper edge and its left, middle or right.
// Cost says how much worse it is than the best place, if all else is equal.
type spot struct {
	x, y   float64
	anchor string
	cost   float64
}

func (s spot) box(lines []string) box {
	w := widest(lines)
	b := box{s.x, s.y, s.x + w, s.y + line*float64(len(lines)-1) + above + below}
	switch s.anchor {
	case middle:
		b.x0, b.x1 = s.x-w/2, s.x+w/2
	case end:
		b.x0, b.x1 = s.x-w, s.x
	}
	return b
}

// What it costs a spot to lie across a line, on another label, or outside.
const (
	crossing = 5
	covering = 100
	outside  = 1000
)

// choose finds the spot that costs a label least, and says how much that is.
func (d *lineChart) choose(lines []string, spots []spot, area box) (spot, float64) {
	var best spot
	least := math.Inf(1)
	for _, s := range spots {
		b, cost := s.box(lines), s.cost
		if !b.within(area.grow(0.5)) {
			cost += outside
		}
		for _, o := range d.put {
			if b.meets(o) {
				cost += covering
			}
		}
		for _, w := range d.walls {
			for j := 1; j < len(w); j++ {
				if b.crossed(w[j-1], w[j]) {
					cost += crossing
				}
			}
		}
		if cost < least {
			best, least = s, cost
		}
	}
	d.put = append(d.put, best.box(lines).grow(1))
	return best, least
}

// write puts a label at the best of the spots, and says what it costs there.
func (d *lineChart) write(cv *canvas, k class, lines []string, spots []spot, area box) float64 {
	s, cost := d.choose(lines, spots, area)
	s.write(cv, k, lines)
	return cost
}

func (s spot) write(cv *canvas, k class, lines []string) {
	for i, l := range lines {
		cv.text(point{s.x, s.y + above + line*float64(i)}, s.anchor, 0, k, l)
	}
}

// across lists the spots above and below a line across.
func across(y float64, area box) []spot {
	var out []spot
	w := area.x1 - area.x0
	for i, t := range []float64{0, 0.15, 0.3, 0.5, 0.7, 0.85, 1} {
		x, anchor := area.x0+8+t*(w-16), middle
		switch t {
		case 0:
			anchor = start
		case 1:
			anchor = end
		}
		out = append(out,
			spot{x, y - 4 - above - below + 1, anchor, 0.3 * float64(i)},
			spot{x, y + 3, anchor, 0.3*float64(i) + 0.2})
	}
	return out
}

// alongLine lists the spots above and below line i, from its end backward. A
// label is lifted until it clears its own line.
func (d *lineChart) alongLine(i int, area box) []spot {
	var out []spot
	lines := d.names[i]
	w, h := widest(lines), line*float64(len(lines)-1)+above+below
	last := d.paths[i][len(d.paths[i])-1]
	lo, hi := last[0].x, last[len(last)-1].x
	if hi < lo {
		lo, hi = hi, lo
	}
	for k := 0; k <= 16; k++ {
		x := math.Min(hi, area.x1-2) - float64(k)/16*(hi-lo)
		b := box{x - w, 0, x, 0}
		if b.x0 < area.x0+2 {
			b.x0, b.x1 = area.x0+2, area.x0+2+w
		}
		top, bottom := math.Inf(1), math.Inf(-1)
		for _, run := range d.paths[i] {
			for j, p := range run {
				if j > 0 {
					lo, hi := cut(run[j-1], p, b.x0-2, b.x1+2)
					top, bottom = math.Min(top, lo), math.Max(bottom, hi)
				}
			}
		}
		if math.IsInf(top, 0) {
			p := last[len(last)-1]
			top, bottom = p.y-4, p.y+4
		}
		steep := (bottom - top) / 12 // far from the line at its other end
		cost := float64(k)/8 + steep
		out = append(out, spot{b.x0, top - 4 - h, start, cost}, spot{b.x0, bottom + 5, start, cost + 0.1})
	}
	return out
}

// cut gives the upper and lower y of a stretch between x0 and x1; an empty
// range (+Inf, -Inf) if it does not reach there.
func cut(p, q point, x0, x1 float64) (lo, hi float64) {
	if p.x > q.x {
		p, q = q, p
	}
	if q.x < x0 || p.x > x1 {
		return math.Inf(1), math.Inf(-1)
	}
	at := func(x float64) float64 {
		if q.x == p.x {
			return p.y
		}
		t := math.Max(0, math.Min(1, (x-p.x)/(q.x-p.x)))
		return p.y + float64(t*(q.y-p.y))
	}
	a, b := at(x0), at(x1)
	if q.x == p.x {
		a, b = p.y, q.y
	}
	return math.Min(a, b), math.Max(a, b)
}

// linesBeside writes the names of the lines in the margin, at their ends, moved
// apart where they would overlap. It gives back the lines that do not end at
// the margin.
func (d *lineChart) linesBeside(cv *canvas, area box) (rest []int) {
	type name struct {
		i    int
		end  point
		h, y float64 // height, and middle
	}
	var names []name
	for i := range d.Lines {
		last := d.paths[i][len(d.paths[i])-1]
		e := last[len(last)-1]
		if d.Lines[i].Label == "" {
			continue
		}
		if !d.beside || e.x < area.x1-12 || e.x > area.x1+1 || e.y < area.y0-1 || e.y > area.y1+1 {
			rest = append(rest, i)
			continue
		}
		names = append(names, name{i, e, line*float64(len(d.names[i])-1) + above + below, e.y})
	}
	slices.SortStableFunc(names, func(a, b name) int {
		switch {
		case a.end.y < b.end.y:
			return -1
		case a.end.y > b.end.y:
			return 1
		}
		return 0
	})
	// Push overlapping neighbours apart by equal parts until all stand free.
	const gap = 4
	for range 60 {
		moved := false
		for k := 1; k < len(names); k++ {
			a, b := &names[k-1], &names[k]
			if need := (a.h+b.h)/2 + gap - (b.y - a.y); need > 0.01 {
				a.y -= need / 2
				b.y += need / 2
				moved = true
			}
		}
		for k := range names {
			n := &names[k]
			n.y = math.Max(area.y0-8+n.h/2, math.Min(area.y1+2-n.h/2, n.y))
		}
		if !moved {
			break
		}
	}
	for _, n := range names {
		x := area.x1 + 6
		if off := n.y - n.end.y; math.Abs(off) > 5 {
			p := cv.back(point{n.end.x + 2, n.end.y})
			q := cv.back(point{x + 5, n.y})
			cv.SetColor(class("ld"))
			cv.Stroke(vg.Path{{Type: vg.MoveComp, Pos: p}, {Type: vg.LineComp, Pos: q}})
			x += 8
		}
		s := spot{x, n.y - n.h/2, start, 0}
		d.put = append(d.put, s.box(d.names[n.i]))
		for j, l := range d.names[n.i] {
			cv.text(point{x, s.y + above + line*float64(j)}, start, 0, class("tl"), l)
		}
	}
	return rest
}

// The key below a plot whose lines lie too close for names beside them.
const (
	keySample = 34.0 // room for a piece of the line
	keyRow    = 19.0
)

// keyColumns is 2 if the names are short enough.
func (d *lineChart) keyColumns() int {
	w := 0.0
	for _, l := range d.Lines {
		w = math.Max(w, width(l.Label))
	}
	if keySample+0.95*w+8 < (d.w-8)/2 {
		return 2
	}
	return 1
}

func (d *lineChart) keyHeight() float64 {
	n := d.keyColumns()
	return keyRow*float64((len(d.Lines)+n-1)/n) + 8
}

// writeKey writes the key at the foot of the drawing.
func (d *lineChart) writeKey(cv *canvas) {
	n := d.keyColumns()
	rows := (len(d.Lines) + n - 1) / n
	for i, l := range d.Lines {
		x := 8 + float64(i/rows)*(d.w-8)/float64(n)
		y := d.h - 6 - keyRow*float64(rows-1-i%rows)
		cv.SetColor(curve(i))
		cv.Stroke(vg.Path{{Type: vg.MoveComp, Pos: cv.back(point{x, y - 4.5})}, {Type: vg.LineComp, Pos: cv.back(point{x + keySample - 8, y - 4.5})}})
		cv.text(point{x + keySample, y}, start, 0, class("tl"), l.Label)
	}
}
