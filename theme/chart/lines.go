package chart

import (
	"errors"
	"fmt"
	"io"
	"math"
	"sort"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Chart is lines against one quantity. All numbers are in the units of the axes.
type Chart struct {
	ID    string // begins the ids in the SVG; unique on its page
	Title string // names the plot for those who do not see it
	Desc  string // says what it shows
	X, Y  Axis
	Lines []Line
	Marks []Mark
	Bands []Band
	Own   *VMark // the release's own value of the swept parameter; nil if it has none
}

// A Line is one curve. A NaN breaks it.
type Line struct {
	Label string
	X, Y  []float64
}

// A Mark is a value of Y drawn across, such as a limit.
type Mark struct {
	Label string
	Y     float64
}

// A Band is a shaded stretch of Y. An end that is infinite leaves it open.
type Band struct {
	Label     string
	Low, High float64
}

// A VMark is a value of X drawn upright.
type VMark struct {
	Label string
	X     float64
}

// MaxLines is how many lines of one chart can be told apart without colour.
const MaxLines = 6

// fewPoints is up to how many points of a line are drawn as points: with more,
// they would only thicken the line.
const fewPoints = 12

// Lines draws a chart as an svg element. It fails if there is nothing to draw,
// if a line's lists differ in length, or if there are more than MaxLines lines.
func Lines(w io.Writer, c *Chart, o Options) error {
	if err := c.check(); err != nil {
		return err
	}
	d := &lineChart{Chart: c, o: o, key: o.Width == Narrow && len(c.Lines) > 3}
	cv := d.draw()
	if d.crowded {
		d = &lineChart{Chart: c, o: o, key: true}
		cv = d.draw()
	}
	if cv.err != nil {
		return cv.err
	}
	id := c.ID
	if o.Width == Narrow {
		id += "-n"
	}
	_, err := w.Write(cv.svg(id, c.Title, c.Desc, o.Width))
	return err
}

func (d *lineChart) draw() *canvas {
	d.size()
	d.axes()
	foot := 4.0
	if d.key {
		foot += d.keyHeight()
		d.h += d.keyHeight()
	}
	cv := newCanvas(d.w, d.h)
	p := newPlot(d.x, d.y)
	p.X.Label.Text = d.x.title(d.X)
	p.Add(part(d.bands))
	grid := plotter.NewGrid()
	grid.Vertical = draw.LineStyle{Color: class("gr"), Width: 1}
	grid.Horizontal = grid.Vertical
	p.Add(grid, part(d.marks), part(d.curves), part(d.labels))
	for i, l := range d.head {
		cv.text(point{2, 13 + line*float64(i)}, start, 0, class("ta"), l)
	}
	top := line*float64(len(d.head)) + 8
	p.Draw(draw.Crop(draw.NewCanvas(cv, vg.Length(d.w), vg.Length(d.h)), 2, vg.Length(-d.right), vg.Length(foot), vg.Length(-top)))
	if d.key {
		d.writeKey(cv)
	}
	return cv
}

// curve is the class of line i.
func curve(i int) class { return class(fmt.Sprintf("c%d", i+1)) }

func (c *Chart) check() error {
	if len(c.Lines) == 0 {
		return errors.New("chart: no lines")
	}
	if len(c.Lines) > MaxLines {
		return fmt.Errorf("chart: %d lines, at most %d can be told apart", len(c.Lines), MaxLines)
	}
	for _, l := range c.Lines {
		if len(l.X) != len(l.Y) {
			return fmt.Errorf("chart: line %q has %d values across and %d upright", l.Label, len(l.X), len(l.Y))
		}
		if len(runs(l)) == 0 {
			return fmt.Errorf("chart: line %q has no values", l.Label)
		}
	}
	for _, m := range c.Marks {
		if !finite(m.Y) {
			return fmt.Errorf("chart: mark %q has no value", m.Label)
		}
	}
	for _, b := range c.Bands {
		if math.IsNaN(b.Low) || math.IsNaN(b.High) || b.Low > b.High {
			return fmt.Errorf("chart: band %q has no values", b.Label)
		}
	}
	if c.Own != nil && !finite(c.Own.X) {
		return fmt.Errorf("chart: %q has no value", c.Own.Label)
	}
	for _, a := range []Axis{c.X, c.Y} {
		if !finite(a.Min) || !finite(a.Max) || a.Min > a.Max {
			return fmt.Errorf("chart: the axis of %q has no range", a.Label)
		}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// runs cuts a line at what is not finite.
func runs(l Line) []plotter.XYs {
	var out []plotter.XYs
	open := false
	for i := range l.X {
		if !finite(l.X[i]) || !finite(l.Y[i]) {
			open = false
			continue
		}
		if !open {
			out = append(out, nil)
			open = true
		}
		last := &out[len(out)-1]
		*last = append(*last, plotter.XY{X: l.X[i], Y: l.Y[i]})
	}
	return out
}

// lineChart is one drawing of a chart.
type lineChart struct {
	*Chart
	o     Options
	w, h  float64
	head  []string // the upright axis's text, above it
	right float64  // margin for labels at line ends
	x, y  ticks

	key     bool // lines are named in a key below the plot
	crowded bool // a name has found no free place
	beside  bool // names stand in the right margin
	names   [][]string
	paths   [][][]point // of the lines, as drawn
	put     []box       // what labels must not cover
	walls   [][]point   // lines they should not cross
}

func (d *lineChart) size() {
	d.w, d.h = 640, 320
	d.right = 12
	room := 170.0
	if d.o.Width == Narrow {
		d.w, d.h, room = 340, 300, 0
	}
	d.names = make([][]string, len(d.Lines))
	most := 0.0
	for i, l := range d.Lines {
		d.names[i] = []string{l.Label}
		if room > 0 {
			d.names[i] = wrap(l.Label, room)
		}
		most = max(most, widest(d.names[i]))
	}
	if d.beside = !d.key && most > 0 && most <= room; d.beside {
		d.right = most*0.9 + 14
	} else {
		for i, l := range d.Lines {
			d.names[i] = wrap(l.Label, 0.6*d.w)
		}
	}
}

// axes chooses the ranges: across as far as the data goes, upright in whole
// steps, from zero where that wastes little room.
func (d *lineChart) axes() {
	xlo, xhi, ylo, yhi := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, l := range d.Lines {
		for _, r := range runs(l) {
			for _, p := range r {
				xlo, xhi = math.Min(xlo, p.X), math.Max(xhi, p.X)
				ylo, yhi = math.Min(ylo, p.Y), math.Max(yhi, p.Y)
			}
		}
	}
	for _, m := range d.Marks {
		ylo, yhi = math.Min(ylo, m.Y), math.Max(yhi, m.Y)
	}
	for _, b := range d.Bands {
		for _, v := range []float64{b.Low, b.High} {
			if finite(v) {
				ylo, yhi = math.Min(ylo, v), math.Max(yhi, v)
			}
		}
	}
	if d.Own != nil {
		xlo, xhi = math.Min(xlo, d.Own.X), math.Max(xhi, d.Own.X)
	}
	nx, ny := 6, 4
	if d.o.Width == Narrow {
		nx, ny = 4, 4
	}
	if d.X.Min < d.X.Max {
		xlo, xhi = d.X.Min, d.X.Max
	}
	xlo, xhi = apart(xlo, xhi)
	d.x = newTicks(xlo, xhi, nx, false, d.o.decimal())
	fixed := d.Y.Min < d.Y.Max
	if fixed {
		ylo, yhi = d.Y.Min, d.Y.Max
	} else if ylo > 0 && ylo < 0.4*yhi {
		ylo = 0
	} else if yhi < 0 && yhi > 0.4*ylo {
		yhi = 0
	}
	ylo, yhi = apart(ylo, yhi)
	d.y = newTicks(ylo, yhi, ny, !fixed, d.o.decimal())
	d.head = wrap(d.y.title(d.Y), d.w-10)
}

// apart widens a range that is a single value, or nearly one: what differs
// only by the rounding of its computation must not fill the plot.
func apart(lo, hi float64) (float64, float64) {
	if size := math.Max(math.Abs(lo), math.Abs(hi)); hi-lo <= 1e-9*size {
		if size == 0 {
			return -1, 1
		}
		mid := lo/2 + hi/2
		return mid - 0.1*size, mid + 0.1*size
	}
	return lo, hi
}

// A part draws a part of the chart when gonum/plot knows where the data goes.
type part func(c draw.Canvas, p *plot.Plot)

// Plot makes it a plot.Plotter.
func (f part) Plot(c draw.Canvas, p *plot.Plot) { f(c, p) }

func (d *lineChart) bands(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	for _, b := range d.Bands {
		lo, hi := y(math.Max(b.Low, p.Y.Min)), y(math.Min(b.High, p.Y.Max))
		if hi > lo {
			c.FillPolygon(class("bd"), []vg.Point{{X: c.Min.X, Y: lo}, {X: c.Max.X, Y: lo}, {X: c.Max.X, Y: hi}, {X: c.Min.X, Y: hi}})
		}
	}
}

func (d *lineChart) marks(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	cv := under(c)
	straight := func(k class, a, b vg.Point) {
		c.StrokeLine2(draw.LineStyle{Color: k, Width: 1}, a.X, a.Y, b.X, b.Y)
		d.walls = append(d.walls, []point{cv.at(a), cv.at(b)})
	}
	for _, m := range d.Marks {
		if m.Y >= p.Y.Min && m.Y <= p.Y.Max {
			straight("mk", vg.Point{X: c.Min.X, Y: y(m.Y)}, vg.Point{X: c.Max.X, Y: y(m.Y)})
		}
	}
	if d.Own != nil && d.Own.X >= p.X.Min && d.Own.X <= p.X.Max {
		straight("vm", vg.Point{X: x(d.Own.X), Y: c.Min.Y}, vg.Point{X: x(d.Own.X), Y: c.Max.Y})
	}
}

func (d *lineChart) curves(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	cv := under(c)
	cv.places = 2
	var rings plotter.XYs
	d.paths = make([][][]point, len(d.Lines))
	for i, l := range d.Lines {
		for _, r := range runs(l) {
			pl, _ := plotter.NewLine(r) // cannot fail: runs are finite and not empty
			pl.LineStyle = draw.LineStyle{Color: curve(i), Width: 2}
			pl.Plot(c, p)
			var pts []point
			for _, q := range r {
				pts = append(pts, cv.at(vg.Point{X: x(q.X), Y: y(q.Y)}))
				if len(l.X) <= fewPoints || len(r) == 1 {
					rings = append(rings, q)
				}
			}
			d.paths[i] = append(d.paths[i], pts)
			d.walls = append(d.walls, pts)
			if d.Own != nil && len(l.X) > fewPoints {
				if v, ok := valueAt(r, d.Own.X); ok {
					rings = append(rings, plotter.XY{X: d.Own.X, Y: v})
				}
			}
		}
	}
	cv.flush()
	cv.places = 1
	sc := &plotter.Scatter{XYs: rings, GlyphStyle: draw.GlyphStyle{Color: class("pt"), Radius: 3, Shape: draw.RingGlyph{}}}
	sc.Plot(c, p)
	for _, q := range rings {
		m := cv.at(vg.Point{X: x(q.X), Y: y(q.Y)})
		d.put = append(d.put, box{m.x, m.y, m.x, m.y}.grow(3))
	}
}

// valueAt interpolates a run whose X rises.
func valueAt(r plotter.XYs, x float64) (float64, bool) {
	i := sort.Search(len(r), func(i int) bool { return r[i].X >= x })
	switch {
	case i == len(r):
		return 0, false
	case r[i].X == x:
		return r[i].Y, true
	case i == 0 || r[i].X <= r[i-1].X:
		return 0, false
	}
	t := (x - r[i-1].X) / (r[i].X - r[i-1].X)
	return r[i-1].Y + float64(t*(r[i].Y-r[i-1].Y)), true
}
