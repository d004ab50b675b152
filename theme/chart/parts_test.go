package chart

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		min, max float64
		n        int
		round    bool
		want     string
		power    int
	}{
		{20, 68, 6, false, "20 30 40 50 60", 0},
		{0, 61, 4, true, "0 20 40 60 80", 0},
		{-0.13, 0.12, 4, true, "−0.15 −0.10 −0.05 0.00 0.05 0.10 0.15", 0},
		{1200, 2400, 5, true, "1000 1250 1500 1750 2000 2250 2500", 0},
		{0, 2e6, 4, true, "0.0 0.5 1.0 1.5 2.0", 6},
		{0, 3e-5, 3, true, "0 10 20 30", -6},
		{0, 1, 4, true, "0.00 0.25 0.50 0.75 1.00", 0},
	} {
		k := newTicks(c.min, c.max, c.n, c.round, '.')
		var got []string
		for _, v := range k.Ticks(0, 0) {
			got = append(got, v.Label)
		}
		s := strings.ReplaceAll(strings.Join(got, " "), "\u202f", " ")
		if s != c.want || k.power != c.power {
			t.Errorf("%g to %g: %s (power %d), want %s (power %d)", c.min, c.max, s, k.power, c.want, c.power)
		}
	}
	if s := newTicks(0, 2e6, 4, true, ',').title(Axis{Label: "force", Unit: "N"}); s != "force in\u00a010⁶\u00a0N" {
		t.Error(s)
	}
	if s := number(-1234567.891, 2, ','); s != "−1\u202f234\u202f567,89" {
		t.Error(s)
	}
	if s := number(-0.0001, 2, '.'); s != "0.00" {
		t.Error(s)
	}
}

// TestColours compares with colours that CSS Color Module Level 4 states:
// red is oklab(0.62796 0.22486 0.12585), white has L = 1, and lime is
// oklab(0.86644 -0.23389 0.17950) (from memory).
func TestColours(t *testing.T) {
	for _, c := range []struct {
		lab  oklab
		want color.NRGBA
	}{
		{oklab{0.62796, 0.22486, 0.12585}, color.NRGBA{255, 0, 0, 255}},
		{oklab{0.86644, -0.23389, 0.17950}, color.NRGBA{0, 255, 0, 255}},
		{oklab{1, 0, 0}, color.NRGBA{255, 255, 255, 255}},
		{oklab{0, 0, 0}, color.NRGBA{0, 0, 0, 255}},
	} {
		if got := c.lab.rgb(); got != c.want {
			t.Errorf("%v is %v, want %v", c.lab, got, c.want)
		}
	}
	// Every colour of the ramp is brighter than the one before, and what is
	// written on it has the contrast of WCAG 2 for graphics, 3 to 1.
	last := -1.0
	for i, k := range ramp(24) {
		y := luminance(k)
		if y <= last {
			t.Errorf("colour %d is not brighter", i)
		}
		last = y
		ink := luminance(overColour(float64(i) / 23))
		if r := (math.Max(y, ink) + 0.05) / (math.Min(y, ink) + 0.05); r < 3 {
			t.Errorf("colour %d: contrast %.2f", i, r)
		}
	}
}

// luminance is the relative luminance of WCAG 2.
func luminance(k color.Color) float64 {
	n := color.NRGBAModel.Convert(k).(color.NRGBA)
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(n.R) + 0.7152*lin(n.G) + 0.0722*lin(n.B)
}

// plane is a drawing of a field over -1 … 1 each way, 200 px wide.
func plane(f func(x, y float64) float64) (*fieldMap, draw.Canvas) {
	d := &fieldMap{Field: &Field{X: sweep(-1, 1, 41), Y: sweep(-1, 1, 41)}, o: Options{}}
	for _, y := range d.Y {
		for _, x := range d.X {
			d.Z = append(d.Z, f(x, y))
		}
	}
	d.levels()
	return d, draw.NewCanvas(newCanvas(200, 200), 200, 200)
}

// TestContour finds lines whose place is known: the straight lines of a slope,
// a circle, and the four branches of a saddle.
func TestContour(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     func(x, y float64) float64
		level float64
		lines int
		long  float64 // in all, px
		off   func(x, y float64) float64
	}{
		{"slope", func(x, y float64) float64 { return x + 2*y }, 0.5, 1, 100 * math.Hypot(2, 1),
			func(x, y float64) float64 { return (x + 2*y - 0.5) / math.Sqrt(5) }},
		{"circle", func(x, y float64) float64 { return x*x + y*y }, 0.49, 1, 2 * math.Pi * 70,
			func(x, y float64) float64 { return math.Hypot(x, y) - 0.7 }},
		{"saddle", func(x, y float64) float64 { return x * y }, 0.25, 2, 0,
			func(x, y float64) float64 { return (x*y - 0.25) / math.Hypot(x, y) }},
	} {
		d, cv := plane(c.f)
		p := newPlot(newTicks(-1, 1, 4, false, '.'), newTicks(-1, 1, 4, false, '.'))
		lines, err := contour(d.nodes(), c.level, cv, p)
		if err != nil {
			t.Fatal(err)
		}
		long := 0.0
		for _, l := range lines {
			long += length(l)
			for _, q := range l {
				if off := c.off(q.x/100-1, 1-q.y/100); math.Abs(off) > 0.004 {
					t.Errorf("%s: %v is off by %.4f", c.name, q, off)
				}
			}
		}
		if len(lines) != c.lines {
			t.Errorf("%s: %d lines, want %d", c.name, len(lines), c.lines)
		}
		if c.long > 0 && math.Abs(long/c.long-1) > 0.005 {
			t.Errorf("%s: %.1f px long, want %.1f", c.name, long, c.long)
		}
	}
}

// TestPicture compares the steps of colour with the field.
func TestPicture(t *testing.T) {
	d, _ := plane(func(x, y float64) float64 { return 10 * x })
	g := d.picture()
	for i := range g.nx {
		x := 10 * g.X(i)
		k := int(g.Z(i, 3))
		if x < d.edges[k]-1e-9 || x > d.edges[k+1]+1e-9 {
			t.Fatalf("%.3f has the colour of %g to %g", x, d.edges[k], d.edges[k+1])
		}
	}
	d, _ = plane(func(x, y float64) float64 { return 3 + x - 2*y + 5*x*y }) // bilinear all over
	n := d.nodes()
	for r := range n.ny {
		for c := range n.nx {
			x, y := n.X(c), n.Y(r)
			if want := 3 + x - 2*y + 5*x*y; math.Abs(n.Z(c, r)-want) > 1e-12 {
				t.Fatalf("%g at %g, %g, want %g", n.Z(c, r), x, y, want)
			}
		}
	}
}

func TestThin(t *testing.T) {
	var p []point
	for i := range 1000 {
		a := float64(i) / 999 * math.Pi
		p = append(p, point{100 * math.Cos(a), 100 * math.Sin(a)})
	}
	q := thin(p, 0.1)
	if len(q) > 70 || q[0] != p[0] || q[len(q)-1] != p[999] {
		t.Errorf("%d points left", len(q))
	}
	for _, a := range p {
		near := math.Inf(1)
		for i := 1; i < len(q); i++ {
			near = math.Min(near, distance(a, q[i-1], q[i]))
		}
		if near > 0.1+1e-9 {
			t.Errorf("off by %g", near)
		}
	}
	// What goes forth and back over itself keeps its turning point.
	if q := thin([]point{{0, 0}, {5, 0}, {10, 0}, {2, 0}}, 0.1); len(q) != 3 {
		t.Error(q)
	}
}

func TestCrossed(t *testing.T) {
	b := box{0, 0, 10, 10}
	for _, c := range []struct {
		p, q point
		want bool
	}{
		{point{-5, 5}, point{15, 5}, true},
		{point{2, 2}, point{3, 3}, true},
		{point{-5, 0}, point{5, -10}, false},
		{point{-5, 5}, point{-1, 5}, false},
		{point{5, 20}, point{5, -20}, true},
		{point{11, -20}, point{11, 20}, false},
	} {
		if b.crossed(c.p, c.q) != c.want || b.crossed(c.q, c.p) != c.want {
			t.Errorf("%v to %v: want %v", c.p, c.q, c.want)
		}
	}
}

// TestCanvas checks the transformations against points worked out by hand.
func TestCanvas(t *testing.T) {
	c := newCanvas(100, 50)
	c.Push()
	c.Translate(vg.Point{X: 10, Y: 5})
	c.Rotate(math.Pi / 2)
	c.Scale(2, 3)
	if p := c.at(vg.Point{X: 4, Y: 1}); math.Hypot(p.x-7, p.y-37) > 1e-12 {
		t.Errorf("%v, want 7, 37", p) // (8, 3) turned is (-3, 8); moved (7, 13); down from 50: 37
	}
	c.Pop()
	if p := c.at(vg.Point{X: 4, Y: 1}); p != (point{4, 49}) {
		t.Error(p)
	}
	c.SetColor(class("ax"))
	var path vg.Path
	path.Move(vg.Point{X: 0, Y: 0})
	path.Line(vg.Point{X: 10, Y: 0})
	path.Arc(vg.Point{X: 10, Y: 10}, 10, -math.Pi/2, math.Pi/2)
	path.Line(vg.Point{X: 20, Y: 30})
	path.QuadTo(vg.Point{X: 21, Y: 31}, vg.Point{X: 22, Y: 30})
	path.CubeTo(vg.Point{X: 1, Y: 2}, vg.Point{X: 3, Y: 4}, vg.Point{X: 5, Y: 6})
	path.Close()
	c.Stroke(path)
	c.flush()
	want := `<path class="ax" d="M0 50H10A10 10 0 0 0 20 40L20 20Q21 19 22 20C1 48 3 46 5 44Z"/>`
	if got := c.buf.String(); got != want {
		t.Errorf("\n%s\n%s", got, want)
	}
}
