package chart

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// class is a colour for gonum/plot that is a class of the style sheet: what it
// looks like is decided by the page.
type class string

// RGBA makes class a color.Color; nothing ever looks at the value.
func (class) RGBA() (r, g, b, a uint32) { return 0, 0, 0, 0xffff }

// A canvas is a vg.Canvas that writes SVG. One point of gonum/plot is one unit
// of the view box. Strokes of one class that follow each other become one path.
type canvas struct {
	w, h   float64
	buf    bytes.Buffer
	now    state
	stack  []state
	open   string // class or attributes of the path being collected
	path   strings.Builder
	places int     // decimals of coordinates
	smooth float64 // how far a line may be off when points are left out
	err    error
}

type state struct {
	m     [6]float64 // x' = m0 x + m2 y + m4, y' = m1 x + m3 y + m5, y down
	ink   color.Color
	width float64
}

func newCanvas(w, h float64) *canvas {
	c := &canvas{w: w, h: h, places: 1, smooth: 0.06}
	c.now.m = [6]float64{1, 0, 0, -1, 0, h}
	return c
}

// Size makes the canvas a vg.CanvasSizer.
func (c *canvas) Size() (x, y vg.Length) { return vg.Length(c.w), vg.Length(c.h) }

// SetLineWidth and SetLineDash matter only for colours that are no class: the
// style sheet decides about the others.
func (c *canvas) SetLineWidth(w vg.Length)           { c.now.width = float64(w) }
func (c *canvas) SetLineDash([]vg.Length, vg.Length) {}
func (c *canvas) SetColor(ink color.Color)           { c.now.ink = ink }

func (c *canvas) Push() { c.stack = append(c.stack, c.now) }

func (c *canvas) Pop() {
	c.now = c.stack[len(c.stack)-1]
	c.stack = c.stack[:len(c.stack)-1]
}

func (c *canvas) Rotate(rad float64) {
	s, k := math.Sincos(rad)
	c.apply([6]float64{k, s, -s, k, 0, 0})
}

func (c *canvas) Translate(p vg.Point) { c.apply([6]float64{1, 0, 0, 1, float64(p.X), float64(p.Y)}) }

func (c *canvas) Scale(x, y float64) { c.apply([6]float64{x, 0, 0, y, 0, 0}) }

func (c *canvas) apply(t [6]float64) {
	m := c.now.m
	c.now.m = [6]float64{
		m[0]*t[0] + m[2]*t[1], m[1]*t[0] + m[3]*t[1],
		m[0]*t[2] + m[2]*t[3], m[1]*t[2] + m[3]*t[3],
		m[0]*t[4] + m[2]*t[5] + m[4], m[1]*t[4] + m[3]*t[5] + m[5],
	}
}

// at gives a point of the drawing in units of the view box, y down.
func (c *canvas) at(p vg.Point) point {
	m, x, y := c.now.m, float64(p.X), float64(p.Y)
	return point{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]}
}

// back is the inverse of at for the untransformed canvas.
func (c *canvas) back(p point) vg.Point { return vg.Point{X: vg.Length(p.x), Y: vg.Length(c.h - p.y)} }

func (c *canvas) Stroke(p vg.Path) { c.draw(p, false) }
func (c *canvas) Fill(p vg.Path)   { c.draw(p, true) }

func (c *canvas) draw(p vg.Path, fill bool) {
	attrs := ""
	switch ink := c.now.ink.(type) {
	case class:
		attrs = `class="` + string(ink) + `"`
	case nil:
		return
	default:
		if fill {
			attrs = `fill="` + hex(ink) + `" stroke="none"`
		} else {
			attrs = `fill="none" stroke="` + hex(ink) + `" stroke-width="` + c.num(c.now.width) + `"`
		}
	}
	if r, ok := circle(p); ok {
		c.flush()
		m := c.at(p[len(p)-1-closed(p)].Pos)
		fmt.Fprintf(&c.buf, `<circle %s cx="%s" cy="%s" r="%s"/>`, attrs, c.num(m.x), c.num(m.y), c.num(r))
		return
	}
	if attrs != c.open {
		c.flush()
		c.open = attrs
	}
	c.outline(p)
}

func closed(p vg.Path) int {
	if p[len(p)-1].Type == vg.CloseComp {
		return 1
	}
	return 0
}

// circle recognises a full circle.
func circle(p vg.Path) (r float64, ok bool) {
	for _, s := range p {
		switch s.Type {
		case vg.ArcComp:
			if ok || math.Abs(math.Abs(s.Angle)-2*math.Pi) > 1e-9 {
				return 0, false
			}
			r, ok = float64(s.Radius), true
		case vg.LineComp, vg.CurveComp:
			return 0, false
		}
	}
	return r, ok
}

// outline adds a path to the one being collected.
func (c *canvas) outline(p vg.Path) {
	var run []point
	end := func() {
		if len(run) > 0 {
			c.polyline(thin(run, c.smooth))
		}
		run = run[:0]
	}
	for _, s := range p {
		switch s.Type {
		case vg.MoveComp:
			end()
			run = append(run, c.at(s.Pos))
		case vg.LineComp:
			run = append(run, c.at(s.Pos))
		case vg.ArcComp:
			from := c.at(arcPoint(s, 0))
			run = append(run, from)
			last := c.at(arcPoint(s, s.Angle))
			end()
			large, sweep := "0", "0"
			if math.Abs(s.Angle) > math.Pi {
				large = "1"
			}
			if s.Angle < 0 { // the drawing's y points up, the view box's down
				sweep = "1"
			}
			r := c.num(float64(s.Radius))
			c.path.WriteString("A" + r + " " + r + " 0 " + large + " " + sweep + " " + c.pair(last))
		case vg.CurveComp:
			end()
			switch len(s.Control) {
			case 1:
				c.path.WriteString("Q" + c.pair(c.at(s.Control[0])) + " " + c.pair(c.at(s.Pos)))
			case 2:
				c.path.WriteString("C" + c.pair(c.at(s.Control[0])) + " " + c.pair(c.at(s.Control[1])) + " " + c.pair(c.at(s.Pos)))
			}
		case vg.CloseComp:
			if n := len(run); n > 2 && c.pair(run[0]) == c.pair(run[n-1]) {
				run = run[:n-1]
			}
			end()
			c.path.WriteString("Z")
		}
	}
	end()
}

func arcPoint(s vg.PathComp, angle float64) vg.Point {
	sin, cos := math.Sincos(s.Start + angle)
	return vg.Point{X: s.Pos.X + vg.Length(float64(s.Radius)*cos), Y: s.Pos.Y + vg.Length(float64(s.Radius)*sin)}
}

// polyline writes M, then L for what follows; upright and level stretches are
// shorter as V and H. A run that goes on after an arc begins where that ended.
func (c *canvas) polyline(pts []point) {
	var x, y string
	for i, p := range pts {
		nx, ny := c.num(p.x), c.num(p.y)
		switch {
		case i == 0 && c.continues():
			c.path.WriteString("L" + nx + " " + ny)
		case i == 0:
			c.path.WriteString("M" + nx + " " + ny)
		case nx == x && ny == y:
		case nx == x:
			c.path.WriteString("V" + ny)
		case ny == y:
			c.path.WriteString("H" + nx)
		default:
			c.path.WriteString("L" + nx + " " + ny)
		}
		x, y = nx, ny
	}
}

// continues reports whether the path ends in an arc, which a straight run continues.
func (c *canvas) continues() bool {
	s := c.path.String()
	return strings.LastIndexByte(s, 'A') > strings.LastIndexAny(s, "MLHVZ")
}

func (c *canvas) flush() {
	if c.path.Len() > 0 {
		c.buf.WriteString("<path " + c.open + ` d="` + c.path.String() + `"/>`)
	}
	c.path.Reset()
	c.open = ""
}

// raw writes SVG as it is.
func (c *canvas) raw(s string) {
	c.flush()
	c.buf.WriteString(s)
}

// FillString is text from its left end; the text handler of this package
// writes its text itself, so that it keeps its alignment in any font.
func (c *canvas) FillString(_ font.Face, p vg.Point, s string) {
	c.text(c.at(p), start, 0, c.now.ink, s)
}

// The anchors of text.
const (
	start  = ""
	middle = "middle"
	end    = "end"
)

// text writes one line with its baseline at p, turned by deg.
func (c *canvas) text(p point, anchor string, deg float64, ink color.Color, s string) {
	if strings.TrimSpace(s) == "" {
		return
	}
	c.flush()
	b := &c.buf
	b.WriteString("<text")
	switch ink := ink.(type) {
	case class:
		if ink != "" {
			b.WriteString(` class="` + string(ink) + `"`)
		}
	case nil:
	default:
		b.WriteString(` class="tc" fill="` + hex(ink) + `"`)
	}
	b.WriteString(` x="` + c.num(p.x) + `" y="` + c.num(p.y) + `"`)
	if anchor != start {
		b.WriteString(` text-anchor="` + anchor + `"`)
	}
	if t := math.Round(deg); t != 0 {
		b.WriteString(` transform="rotate(` + c.num(t) + " " + c.num(p.x) + " " + c.num(p.y) + `)"`)
	}
	b.WriteString(">" + html.EscapeString(s) + "</text>")
}

// DrawImage writes a picture as a PNG of at most 256 colours.
func (c *canvas) DrawImage(r vg.Rectangle, img image.Image) {
	c.flush()
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(&b, paletted(img)); err != nil {
		c.err = err
		return
	}
	p, q := c.at(vg.Point{X: r.Min.X, Y: r.Max.Y}), c.at(vg.Point{X: r.Max.X, Y: r.Min.Y})
	fmt.Fprintf(&c.buf, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/png;base64,%s"/>`,
		c.num(p.x), c.num(p.y), c.num(q.x-p.x), c.num(q.y-p.y), base64.StdEncoding.EncodeToString(b.Bytes()))
}

// paletted gives the picture with a palette in the order in which its colours
// first occur.
func paletted(img image.Image) image.Image {
	b := img.Bounds()
	seen := map[color.NRGBA]uint8{}
	out := image.NewPaletted(image.Rect(0, 0, b.Dx(), b.Dy()), nil)
	for y := range b.Dy() {
		for x := range b.Dx() {
			k := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
			i, ok := seen[k]
			if !ok {
				if len(seen) == 256 {
					return img
				}
				i = uint8(len(seen))
				seen[k] = i
				out.Palette = append(out.Palette, k)
			}
			out.Pix[y*out.Stride+x] = i
		}
	}
	return out
}

func hex(k color.Color) string {
	n := color.NRGBAModel.Convert(k).(color.NRGBA)
	return fmt.Sprintf("#%02x%02x%02x", n.R, n.G, n.B)
}

// num writes a coordinate.
func (c *canvas) num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.err = fmt.Errorf("chart: a coordinate is not a number")
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', c.places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func (c *canvas) pair(p point) string { return c.num(p.x) + " " + c.num(p.y) }

// svg gives the element: title and description name it for those who do not see it.
func (c *canvas) svg(id, title, desc string, width Width) []byte {
	c.flush()
	kind := "wide"
	if width == Narrow {
		kind = "narrow"
	}
	id = html.EscapeString(id)
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg class="plot %s" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-t`, kind, c.num(c.w), c.num(c.h), id)
	if desc != "" {
		fmt.Fprintf(&b, ` %s-d`, id)
	}
	fmt.Fprintf(&b, `"><title id="%s-t">%s</title>`, id, html.EscapeString(title))
	if desc != "" {
		fmt.Fprintf(&b, `<desc id="%s-d">%s</desc>`, id, html.EscapeString(desc))
	}
	b.Write(c.buf.Bytes())
	b.WriteString("</svg>")
	return b.Bytes()
}
