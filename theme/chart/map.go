package chart

import (
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"
	"sort"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Field is a quantity over a rectangle, drawn as a map.
type Field struct {
	ID          string // begins the ids in the SVG; unique on its page
	Title, Desc string
	Label, Unit string    // of the values: "irradiance", "kW/m²"
	X, Y        []float64 // mm, rising; at least two each
	Z           []float64 // Z[j*len(X)+i] is the value at X[i], Y[j]
	XAxis       Axis      // its Label; "x" if empty. The unit is mm
	YAxis       Axis      // "y" if empty
	Outline     *Outline  // of the bed; nil: none
	Segments    []Segment // what else is seen in plan, such as lamps
}

// An Outline is a rectangle with rounded corners, in mm.
type Outline struct {
	X0, Y0, X1, Y1 float64
	Corner         float64
}

// A Segment is a straight thing in plan, in mm.
type Segment struct {
	X0, Y0, X1, Y1 float64
	Label          string
}

// bandsWanted is how many steps of colour a map has, about.
const bandsWanted = 8

// pixels is the longer side of the picture of a map.
const pixels = 360

// Map draws a field as an svg element: steps of colour, a line with its number
// where one step meets the next, and a scale. It fails if the field's lists do
// not fit together or hold what is not finite.
func Map(w io.Writer, f *Field, o Options) error {
	if err := f.check(); err != nil {
		return err
	}
	d := &fieldMap{Field: f, o: o}
	d.levels()
	id := f.ID
	if o.Width == Narrow {
		id += "-n"
	}
	d.id = id
	cv := d.draw()
	if cv.err != nil {
		return cv.err
	}
	_, err := w.Write(cv.svg(id, f.Title, f.Desc, o.Width))
	return err
}

func (f *Field) check() error {
	if len(f.X) < 2 || len(f.Y) < 2 {
		return errors.New("chart: a map needs two values each way")
	}
	if len(f.Z) != len(f.X)*len(f.Y) {
		return fmt.Errorf("chart: a map of %d by %d has %d values", len(f.X), len(f.Y), len(f.Z))
	}
	for _, l := range [][]float64{f.X, f.Y, f.Z} {
		for _, v := range l {
			if !finite(v) {
				return errors.New("chart: a map holds a value that is not a number")
			}
		}
	}
	for _, l := range [][]float64{f.X, f.Y} {
		for i := 1; i < len(l); i++ {
			if l[i] <= l[i-1] {
				return errors.New("chart: the places of a map do not rise")
			}
		}
	}
	if b := f.Outline; b != nil {
		for _, v := range []float64{b.X0, b.Y0, b.X1, b.Y1, b.Corner} {
			if !finite(v) {
				return errors.New("chart: the outline of a map is not a number")
			}
		}
		if b.X1 <= b.X0 || b.Y1 <= b.Y0 || b.Corner < 0 {
			return errors.New("chart: the outline of a map has no size")
		}
	}
	for _, s := range f.Segments {
		for _, v := range []float64{s.X0, s.Y0, s.X1, s.Y1} {
			if !finite(v) {
				return fmt.Errorf("chart: segment %q is not a number", s.Label)
			}
		}
	}
	return nil
}

// fieldMap is one drawing of a field.
type fieldMap struct {
	*Field
	o      Options
	id     string
	scale  ticks     // of the values
	edges  []float64 // between the steps of colour, with both ends
	colour []color.Color
	err    error
}

// levels chooses clean numbers at which one colour meets the next.
func (d *fieldMap) levels() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, z := range d.Z {
		lo, hi = math.Min(lo, z), math.Max(hi, z)
	}
	lo, hi = apart(lo, hi)
	d.scale = newTicks(lo, hi, bandsWanted, true, d.o.decimal())
	d.edges = d.scale.values()
	d.colour = ramp(len(d.edges) - 1)
}

// band is the number of the step that holds a value.
func (d *fieldMap) band(z float64) int {
	k := 0
	for k < len(d.colour)-1 && z >= d.edges[k+1] {
		k++
	}
	return k
}

// A grid is the field on even steps, fine enough to draw.
type grid struct {
	nx, ny int
	x0, y0 float64
	dx, dy float64
	values []float64
}

func (g *grid) Dims() (c, r int)   { return g.nx, g.ny }
func (g *grid) X(c int) float64    { return g.x0 + float64(c)*g.dx }
func (g *grid) Y(r int) float64    { return g.y0 + float64(r)*g.dy }
func (g *grid) Z(c, r int) float64 { return g.values[r*g.nx+c] }

// fill computes the values, from the field between its nodes (bilinear).
func (g *grid) fill(d *fieldMap) {
	type at struct {
		i int
		u float64
	}
	cols := make([]at, g.nx)
	for c := range cols {
		cols[c].i, cols[c].u = place(d.X, g.X(c))
	}
	n := len(d.X)
	g.values = make([]float64, 0, g.nx*g.ny)
	for r := range g.ny {
		j, v := place(d.Y, g.Y(r))
		low, high := d.Z[j*n:(j+1)*n], d.Z[(j+1)*n:(j+2)*n]
		for _, k := range cols {
			a := low[k.i] + float64(k.u*(low[k.i+1]-low[k.i]))
			b := high[k.i] + float64(k.u*(high[k.i+1]-high[k.i]))
			g.values = append(g.values, a+float64(v*(b-a)))
		}
	}
}

// place finds a value in a rising list: between which two, and how far.
func place(l []float64, x float64) (int, float64) {
	i := max(0, min(len(l)-2, sort.SearchFloat64s(l, x)-1))
	return i, math.Max(0, math.Min(1, (x-l[i])/(l[i+1]-l[i])))
}

// picture has the numbers of the colours, in the middle of pixels that fill the field.
func (d *fieldMap) picture() *grid {
	w, h := d.X[len(d.X)-1]-d.X[0], d.Y[len(d.Y)-1]-d.Y[0]
	side := math.Max(w, h) / pixels
	g := &grid{nx: max(2, int(math.Round(w/side))), ny: max(2, int(math.Round(h/side)))}
	g.dx, g.dy = w/float64(g.nx), h/float64(g.ny)
	g.x0, g.y0 = d.X[0]+g.dx/2, d.Y[0]+g.dy/2
	g.fill(d)
	for i, z := range g.values {
		g.values[i] = float64(d.band(z))
	}
	return g
}

// nodes has its values from edge to edge, for contours.
func (d *fieldMap) nodes() *grid {
	g := &grid{nx: 97, ny: 97, x0: d.X[0], y0: d.Y[0]}
	g.dx = (d.X[len(d.X)-1] - d.X[0]) / float64(g.nx-1)
	g.dy = (d.Y[len(d.Y)-1] - d.Y[0]) / float64(g.ny-1)
	g.fill(d)
	return g
}

type palette []color.Color

func (p palette) Colors() []color.Color { return p }

// extent is what the axes must hold.
func (d *fieldMap) extent() (x0, x1, y0, y1 float64) {
	x0, x1 = d.X[0], d.X[len(d.X)-1]
	y0, y1 = d.Y[0], d.Y[len(d.Y)-1]
	fit := func(x, y float64) {
		x0, x1 = math.Min(x0, x), math.Max(x1, x)
		y0, y1 = math.Min(y0, y), math.Max(y1, y)
	}
	if b := d.Outline; b != nil {
		fit(b.X0, b.Y0)
		fit(b.X1, b.Y1)
	}
	for _, s := range d.Segments {
		fit(s.X0, s.Y0)
		fit(s.X1, s.Y1)
	}
	if d.Outline != nil || len(d.Segments) > 0 {
		m := 0.03 * math.Max(x1-x0, y1-y0)
		x0, x1, y0, y1 = x0-m, x1+m, y0-m, y1+m
	}
	return x0, x1, y0, y1
}

// planAxis gives an axis of the plan its unit and, if it has none, a name.
func planAxis(a Axis, name string) Axis {
	if a.Label == "" {
		a.Label = name
	}
	return Axis{Label: a.Label, Unit: "mm"}
}

func (d *fieldMap) draw() *canvas {
	x0, x1, y0, y1 := d.extent()
	w, side, n := 640.0, 0.0, 6
	legend := d.legend()
	if d.o.Width == Narrow {
		w, n = 340, 4
	} else {
		side = 36 + widest(legend)
	}
	xt := newTicks(x0, x1, n, false, d.o.decimal())
	yt := newTicks(y0, y1, n, false, d.o.decimal())
	xa, ya := planAxis(d.XAxis, "x"), planAxis(d.YAxis, "y")
	p := newPlot(xt, yt)
	p.X.Label.Text = xt.title(xa)

	// One millimetre is as long upright as across: find what the axes take, and
	// give the rest to the plan.
	const left, bottom, head = 2, 4, 24
	trial := p.DataCanvas(draw.NewCanvas(newCanvas(w, w), vg.Length(w), vg.Length(w)))
	axisX, axisY := float64(trial.Min.X), float64(trial.Min.Y)
	right := math.Max(side, w-float64(trial.Max.X)+2)
	up := w - float64(trial.Max.Y)
	planW := w - left - axisX - right
	planH := planW * (y1 - y0) / (x1 - x0)
	if most := 1.15 * (w - side) * 0.72; planH > most {
		planH = most
		planW = planH * (x1 - x0) / (y1 - y0)
	}
	foot := 0.0
	if d.o.Width == Narrow {
		foot = 54
	}
	h := math.Ceil(head + up + planH + axisY + bottom + foot)
	cv := newCanvas(w, h)
	d.add(p)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = xt.min, xt.max, yt.min, yt.max
	padR := w - float64(trial.Max.X)
	outer := draw.NewCanvas(cv, vg.Length(w), vg.Length(h))
	outer.Min = vg.Point{X: left, Y: vg.Length(bottom + foot)}
	outer.Max = vg.Point{X: vg.Length(left + axisX + planW + padR), Y: vg.Length(bottom + foot + axisY + planH + up)}
	cv.text(point{2, 13}, start, 0, class("ta"), yt.title(ya))
	p.Draw(outer)
	area := box{left + axisX, head + up, left + axisX + planW, head + up + planH}
	if d.o.Width == Narrow {
		d.scaleAcross(cv, area, h-foot+6, legend)
	} else {
		d.scaleUpright(cv, area, w, legend)
	}
	if cv.err == nil {
		cv.err = d.err
	}
	return cv
}

// legend gives the numbers of the scale.
func (d *fieldMap) legend() []string {
	out := make([]string, len(d.edges))
	for i, e := range d.edges {
		out[i] = d.scale.text(e)
	}
	return out
}

func (d *fieldMap) add(p *plot.Plot) {
	pic := d.picture()
	heat := plotter.NewHeatMap(pic, palette(d.colour))
	heat.Min, heat.Max, heat.Rasterized = 0, float64(len(d.colour)-1), true
	if len(d.colour) == 1 { // gonum/plot divides by the range
		heat.Max, heat.Palette = 1, palette{d.colour[0], d.colour[0]}
	}
	p.Add(part(func(c draw.Canvas, p *plot.Plot) {
		cv := under(c)
		if d.Outline != nil {
			cv.raw(`<clipPath id="` + esc(d.id) + `-c">`)
			cv.SetColor(class("cp"))
			cv.Fill(d.Outline.path(c, p))
			cv.raw(`</clipPath><g clip-path="url(#` + esc(d.id) + `-c)">`)
		}
		heat.Plot(c, p)
		names, put := d.segments(c, p)
		numbers := d.contours(c, p, put)
		if d.Outline != nil {
			cv.raw(`</g>`)
			cv.SetColor(class("ol"))
			cv.Stroke(d.Outline.path(c, p))
		}
		numbers()
		names()
	}))
}

// contours draws the lines and gives back what writes their numbers, which keep
// clear of put.
func (d *fieldMap) contours(c draw.Canvas, p *plot.Plot, put []box) func() {
	cv := under(c)
	x, y := p.Transforms(&c)
	g := d.nodes()
	a := cv.at(vg.Point{X: x(d.X[0]), Y: y(d.Y[len(d.Y)-1])})
	b := cv.at(vg.Point{X: x(d.X[len(d.X)-1]), Y: y(d.Y[0])})
	area := box{a.x, a.y, b.x, b.y}.grow(-3)
	type numeral struct {
		g   gap
		s   string
		ink color.Color
	}
	var all []numeral
	for k := 1; k < len(d.edges)-1; k++ {
		// A hair above the number, so that the line does not run through nodes
		// that have just that value, where it would fork.
		z := d.edges[k] + 1e-7*(d.edges[1]-d.edges[0])
		lines, err := contour(g, z, c, p)
		if err != nil {
			d.err = err
			return func() {}
		}
		ink := overColour((float64(k) - 0.5) / float64(len(d.colour)-1))
		cv.SetColor(ink)
		cv.SetLineWidth(1)
		s := d.scale.text(d.edges[k])
		w := width(s) * 11.5 / size
		longest := 0
		for i := range lines {
			if length(lines[i]) > length(lines[longest]) {
				longest = i
			}
		}
		for i, l := range lines {
			parts := [][]point{l}
			// The longest line has its number, and others that are as long as half of it.
			if i == longest || length(l) > 0.5*length(lines[longest]) {
				if g, ok := gapIn(l, w, area, put); ok {
					put = append(put, box{g.at.x - w/2, g.at.y - w/2, g.at.x + w/2, g.at.y + w/2})
					all = append(all, numeral{g, s, ink})
					parts = [][]point{stretchOf(l, 0, g.from), stretchOf(l, g.to, length(l))}
				}
			}
			for _, part := range parts {
				path := make(vg.Path, len(part))
				for j, q := range part {
					path[j] = vg.PathComp{Type: vg.LineComp, Pos: cv.back(q)}
				}
				path[0].Type = vg.MoveComp
				cv.Stroke(path)
			}
		}
	}
	return func() {
		for _, n := range all {
			t := n.g.deg * math.Pi / 180
			base := point{n.g.at.x - 4*math.Sin(t), n.g.at.y + 4*math.Cos(t)}
			cv.text(base, middle, n.g.deg, n.ink, n.s)
		}
	}
}

// path of the outline on the drawing, corners as arcs.
func (b *Outline) path(c draw.Canvas, p *plot.Plot) vg.Path {
	x, y := p.Transforms(&c)
	x0, x1, y0, y1 := x(b.X0), x(b.X1), y(b.Y0), y(b.Y1)
	r := x(b.X0+math.Min(b.Corner, math.Min(b.X1-b.X0, b.Y1-b.Y0)/2)) - x0
	var path vg.Path
	path.Move(vg.Point{X: x0 + r, Y: y0})
	path.Line(vg.Point{X: x1 - r, Y: y0})
	corner := func(cx, cy vg.Length, from float64) {
		if r > 0 {
			path.Arc(vg.Point{X: cx, Y: cy}, r, from, math.Pi/2)
		}
	}
	corner(x1-r, y0+r, -math.Pi/2)
	path.Line(vg.Point{X: x1, Y: y1 - r})
	corner(x1-r, y1-r, 0)
	path.Line(vg.Point{X: x0 + r, Y: y1})
	corner(x0+r, y1-r, math.Pi/2)
	path.Line(vg.Point{X: x0, Y: y0 + r})
	corner(x0+r, y0+r, math.Pi)
	path.Close()
	return path
}

// segments finds the places of the names of the segments, and gives back what
// draws both and what they cover. They are thick lines with a casing of paper,
// so that they stand out from any colour.
func (d *fieldMap) segments(c draw.Canvas, p *plot.Plot) (write func(), put []box) {
	cv := under(c)
	x, y := p.Transforms(&c)
	l := &lineChart{}
	a, b := cv.at(vg.Point{X: c.Min.X, Y: c.Max.Y}), cv.at(vg.Point{X: c.Max.X, Y: c.Min.Y})
	area := box{a.x, a.y, b.x, b.y}
	for _, s := range d.Segments {
		ends := []point{cv.at(vg.Point{X: x(s.X0), Y: y(s.Y0)}), cv.at(vg.Point{X: x(s.X1), Y: y(s.Y1)})}
		l.walls = append(l.walls, ends)
		n := math.Ceil(length(ends) / 8)
		for k := 0.0; k <= n && n > 0; k++ {
			m := along(ends, length(ends)*k/n)
			put = append(put, box{m.x, m.y, m.x, m.y}.grow(6))
		}
	}
	names := make([]spot, len(d.Segments))
	for i, s := range d.Segments {
		if s.Label == "" {
			continue
		}
		p, q := l.walls[i][0], l.walls[i][1]
		m := point{(p.x + q.x) / 2, (p.y + q.y) / 2}
		in, h := 6.0, above+below
		names[i], _ = l.choose([]string{s.Label}, []spot{
			{m.x, m.y + in, middle, 0}, {m.x, m.y - in - h, middle, 0.1},
			{m.x + in, m.y - h/2, start, 0.2}, {m.x - in, m.y - h/2, end, 0.3},
		}, area)
	}
	put = append(put, l.put...)
	return func() {
		for _, k := range []class{"sc", "sg"} {
			for _, s := range d.Segments {
				c.StrokeLine2(draw.LineStyle{Color: k, Width: 5}, x(s.X0), y(s.Y0), x(s.X1), y(s.Y1))
			}
		}
		for i, s := range d.Segments {
			names[i].write(cv, "ts", []string{s.Label})
		}
	}, put
}
