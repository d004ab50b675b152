package content

import (
	"fmt"
	"math"

	"workings/calc"
	"workings/calc/diag"
)

// A Scene is a drawing with its numbers: everything in metres, y upward.
type Scene struct {
	Shapes   []*Shape
	Min, Max Vec // of all shapes, dimensions and labels
}

// A Vec is a place or a shift, in m.
type Vec struct{ X, Y float64 }

// Add, Sub, Scale and Len are those of vectors in a plane.
func (a Vec) Add(b Vec) Vec       { return Vec{a.X + b.X, a.Y + b.Y} }
func (a Vec) Sub(b Vec) Vec       { return Vec{a.X - b.X, a.Y - b.Y} }
func (a Vec) Scale(k float64) Vec { return Vec{a.X * k, a.Y * k} }
func (a Vec) Len() float64        { return math.Hypot(a.X, a.Y) }
func polar(r, angle float64) Vec  { return Vec{r * math.Cos(angle), r * math.Sin(angle)} }

func (a Vec) turn(angle float64) Vec {
	s, c := math.Sincos(angle)
	return Vec{a.X*c - a.Y*s, a.X*s + a.Y*c}
}

// A Shape is one shape of a scene. Those of one line of the drawing stand one
// after the other; the first has Count.
type Shape struct {
	Line   *DrawLine
	First  bool // of its line
	Count  int  // how many its line draws
	At     Vec  // its middle, or where it is
	W, H   float64
	Radius float64 // of a circle, an arc or corners
	Start  Vec     // of the outline
	Segs   []Seg   // the outline
	Closed bool
	To     Vec     // the other end of a dimension; its first is At
	Offset float64 // of a dimension, to the left of the way from At to To
	Length float64 // what its figure stands for
	Lead   Vec     // where a leader points
}

// A Seg is a stretch of an outline: straight, or an arc about Centre.
type Seg struct {
	To     Vec
	Centre Vec
	R      float64
	Sweep  float64 // rad, counter-clockwise; 0 for a straight stretch
}

// Points is the outline as a row of points, arcs in steps of at most 5°.
func (s *Shape) Points() []Vec {
	out := []Vec{s.Start}
	at := s.Start
	for _, g := range s.Segs {
		if g.Sweep != 0 {
			n := int(math.Ceil(math.Abs(g.Sweep) / (math.Pi / 36)))
			from := at.Sub(g.Centre)
			for i := 1; i < n; i++ {
				out = append(out, g.Centre.Add(from.turn(g.Sweep*float64(i)/float64(n))))
			}
		}
		out = append(out, g.To)
		at = g.To
	}
	return out
}

// The most that a drawing holds.
const (
	maxShapes = 2000
	maxReach  = 1e4 // m
)

// Scene puts the numbers of a release into a drawing. What cannot be drawn is
// reported where it is written: sizes that are not above zero, shapes outside
// the outline that they belong to, figures that are not what is drawn. What is
// not available has been reported and is left out.
func (p *Drawing) Scene(shown func(int) *calc.Shown) (*Scene, diag.List) {
	b := &sceneMaker{shown: shown, scene: &Scene{}, outlines: map[string]*Shape{}}
	for _, l := range p.Lines {
		b.line(l)
	}
	if len(b.list) == 0 {
		b.inside()
		b.bounds(p)
	}
	return b.scene, b.list
}

type sceneMaker struct {
	shown    func(int) *calc.Shown
	scene    *Scene
	list     diag.List
	outlines map[string]*Shape
}

// values is what an expression gives, as a list; nil if it is not available.
func (b *sceneMaker) values(i int) []float64 {
	s := b.shown(i)
	if s == nil {
		return nil
	}
	switch v := s.Value.(type) {
	case float64:
		return []float64{v}
	case []float64:
		return v
	}
	return nil
}

func (b *sceneMaker) at(i int) diag.Span {
	if s := b.shown(i); s != nil && s.Expr != nil && s.Expr.X != nil {
		return s.Expr.X.Span()
	}
	return diag.Span{}
}

// line draws a line of the block: once, or once for each value of its lists,
// and each of those as often as it is repeated.
func (b *sceneMaker) line(l *DrawLine) {
	exprs := map[string][]int{}
	for k, v := range l.Clauses {
		exprs[k] = v
	}
	for i, pt := range l.Points {
		exprs[fmt.Sprint("point ", i)] = pt
	}
	n, first := 1, -1
	vals := map[int][]float64{}
	for _, k := range sortedKeys(exprs) {
		for _, i := range exprs[k] {
			v := b.values(i)
			if len(v) == 0 {
				return // reported where it is computed
			}
			vals[i] = v
			if len(v) == 1 {
				continue
			}
			if n > 1 && len(v) != n {
				b.list.Add(b.at(i), "drawing", "this list has %d values, another of the same shape has %d", len(v), n).
					Also = []diag.Note{{Span: b.at(first), Msg: "the other is here"}}
				return
			}
			n, first = len(v), i
		}
	}
	shifts, ok := b.repeats(l)
	if !ok {
		return
	}
	if l.Word == "dimension" && n > 1 {
		b.list.Add(b.at(first), "drawing", "a dimension stands for one place, this list has %d values", n)
		return
	}
	if len(b.scene.Shapes)+n*len(shifts) > maxShapes {
		b.list.Add(l.Pos, "drawing", "a drawing of more than %d shapes is no help to anybody", maxShapes)
		return
	}
	count := 0
	for i := range n {
		get := func(x int) float64 {
			if v := vals[x]; len(v) > 1 {
				return v[i]
			} else {
				return v[0]
			}
		}
		for _, shift := range shifts {
			s := b.shape(l, get)
			if s == nil {
				return
			}
			s.move(shift)
			s.Line, s.First, s.Count = l, count == 0, n*len(shifts)
			b.scene.Shapes = append(b.scene.Shapes, s)
			if l.Name != "" && count == 0 {
				b.outlines[l.Name] = s
			}
			count++
		}
	}
	b.figure(l, b.scene.Shapes[len(b.scene.Shapes)-count])
}

// A shift moves a shape, or turns it about a point.
type shift struct {
	by    Vec
	about Vec
	angle float64
}

// repeats lists how the copies of a shape lie to the first.
func (b *sceneMaker) repeats(l *DrawLine) ([][]shift, bool) {
	all := [][]shift{nil}
	for _, r := range l.Repeats {
		v, x, y := b.values(r.Count), b.values(r.Step[0]), b.values(r.Step[1])
		if len(v) != 1 || len(x) == 0 || len(y) == 0 {
			return nil, false
		}
		if len(x) > 1 || len(y) > 1 {
			b.list.Add(l.Pos, "drawing", "a shape is repeated by one step, not by a list of them")
			return nil, false
		}
		n := int(v[0])
		if float64(n) != v[0] || n < 1 || n > maxShapes {
			b.list.Add(b.at(r.Count), "drawing", "a shape is repeated a whole number of times, 1 to %d, this is %g", maxShapes, v[0])
			return nil, false
		}
		if len(all)*n > maxShapes {
			b.list.Add(b.at(r.Count), "drawing", "a drawing of more than %d shapes is no help to anybody", maxShapes)
			return nil, false
		}
		step := Vec{x[0], y[0]}
		var more [][]shift
		for i := range n {
			s := shift{by: step.Scale(float64(i))}
			if r.Around {
				s = shift{about: step, angle: 2 * math.Pi * float64(i) / float64(n)}
			}
			for _, before := range all {
				more = append(more, append(append([]shift(nil), before...), s))
			}
		}
		all = more
	}
	return all, true
}

func (s *Shape) move(shifts []shift) {
	for _, m := range shifts {
		do := func(v *Vec) { *v = m.about.Add(v.Sub(m.about).turn(m.angle)).Add(m.by) }
		do(&s.At)
		do(&s.Start)
		do(&s.To)
		do(&s.Lead)
		for i := range s.Segs {
			do(&s.Segs[i].To)
			do(&s.Segs[i].Centre)
		}
	}
}

// shape makes one shape of a line; nil after a report.
func (b *sceneMaker) shape(l *DrawLine, get func(int) float64) *Shape {
	pair := func(w string) Vec { return Vec{get(l.Clauses[w][0]), get(l.Clauses[w][1])} }
	size := func(i int, what string) (float64, bool) {
		x := get(i)
		if x > 0 && x < maxReach {
			return x, true
		}
		b.list.Add(b.at(i), "drawing", "%s is more than zero, this is %s", what, b.text(i, x)).
			Hint = "say in the sheet what it depends on, and limit it there"
		return 0, false
	}
	switch l.Word {
	case "rectangle":
		w, ok := size(l.Clauses["size"][0], "a width")
		h, ok2 := size(l.Clauses["size"][1], "a height")
		if !ok || !ok2 {
			return nil
		}
		r := 0.0
		if c := l.Clauses["corner"]; c != nil {
			if r, ok = size(c[0], "a corner's radius"); !ok {
				return nil
			}
			if r > math.Min(w, h)/2*(1+1e-9) {
				b.list.Add(b.at(c[0]), "drawing", "corners of %s do not fit into a side of %s", b.text(c[0], r), b.text(c[0], math.Min(w, h)))
				return nil
			}
		}
		s := &Shape{W: w, H: h, Radius: r, Length: r, Closed: true}
		if l.Clauses["at"] != nil {
			s.At = pair("at")
		} else {
			s.At = pair("from").Add(Vec{w / 2, h / 2})
		}
		angle := 0.0
		if c := l.Clauses["angle"]; c != nil {
			angle = get(c[0])
		}
		s.round([]Vec{{-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, h / 2}, {-w / 2, h / 2}}, r)
		s.Lead = Vec{w / 2, 0}
		if r > 0 { // the middle of a corner
			s.Lead = Vec{w/2 - r, h/2 - r}.Add(polar(r, math.Pi/4))
		}
		middle := s.At
		s.At = Vec{}
		s.move([]shift{{angle: angle, by: middle}})
		return s
	case "circle":
		d, ok := size(l.Clauses["diameter"][0], "a diameter")
		if !ok {
			return nil
		}
		c, r := pair("at"), d/2
		s := &Shape{At: c, W: d, H: d, Radius: r, Length: d, Closed: true, Start: c.Add(Vec{r, 0}), Lead: c.Add(polar(r, math.Pi/4))}
		s.Segs = []Seg{{c.Sub(Vec{r, 0}), c, r, math.Pi}, {s.Start, c, r, math.Pi}}
		return s
	case "line", "slot":
		from, to := pair("from"), pair("to")
		long := to.Sub(from).Len()
		if long == 0 {
			b.list.Add(l.Pos, "drawing", "this %s begins and ends at one place", l.Word)
			return nil
		}
		s := &Shape{At: from.Add(to).Scale(0.5), W: long, Length: long, Start: from, Segs: []Seg{{To: to}}, To: to}
		s.Lead = s.At
		if l.Word == "line" {
			return s
		}
		w, ok := size(l.Clauses["width"][0], "a width")
		if !ok {
			return nil
		}
		n := to.Sub(from).Scale(w / 2 / long).turn(-math.Pi / 2)
		s.W, s.H, s.Length, s.Closed, s.Radius = long+w, w, w, true, w/2
		s.Start = from.Add(n)
		s.Segs = []Seg{{To: to.Add(n)}, {to.Sub(n), to, w / 2, math.Pi}, {To: from.Sub(n)}, {s.Start, from, w / 2, math.Pi}}
		s.Lead = s.At.Sub(n)
		return s
	case "path", "polygon":
		s := &Shape{Closed: l.Word == "polygon"}
		var lo, hi Vec
		for i, p := range l.Points {
			v := Vec{get(p[0]), get(p[1])}
			if i == 0 {
				s.Start, lo, hi = v, v, v
				continue
			}
			s.Segs = append(s.Segs, Seg{To: v})
			lo, hi = Vec{math.Min(lo.X, v.X), math.Min(lo.Y, v.Y)}, Vec{math.Max(hi.X, v.X), math.Max(hi.Y, v.Y)}
		}
		if s.Closed {
			s.Segs = append(s.Segs, Seg{To: s.Start})
		}
		s.At, s.W, s.H = lo.Add(hi).Scale(0.5), hi.X-lo.X, hi.Y-lo.Y
		s.Lead = s.Start
		return s
	case "arc":
		r, ok := size(l.Clauses["radius"][0], "a radius")
		if !ok {
			return nil
		}
		from, to := get(l.Clauses["from"][0]), get(l.Clauses["to"][0])
		sweep := math.Mod(to-from, 2*math.Pi)
		if sweep <= 0 {
			sweep += 2 * math.Pi
		}
		c := pair("at")
		return &Shape{At: c, W: 2 * r, H: 2 * r, Radius: r, Length: r, Start: c.Add(polar(r, from)), Lead: c.Add(polar(r, from+sweep/2)),
			Segs: []Seg{{c.Add(polar(r, from+sweep)), c, r, sweep}}}
	case "belt":
		return b.belt(l, get, size)
	case "dimension":
		s := &Shape{At: pair("from"), To: pair("to")}
		way := s.To.Sub(s.At)
		s.Length = way.Len()
		switch l.Side {
		case "above", "below":
			s.Length = math.Abs(way.X)
		case "left", "right":
			s.Length = math.Abs(way.Y)
		default:
			s.Offset = get(l.Clauses["offset"][0])
		}
		if s.Length == 0 {
			b.list.Add(l.Pos, "drawing", "both ends of this dimension are at one place").
				Hint = "above and below measure across, left and right measure upright"
			return nil
		}
		return s
	}
	at := pair("at")
	return &Shape{At: at, Lead: at}
}

// round makes a closed outline of corners, each rounded by r.
func (s *Shape) round(p []Vec, r float64) {
	n := len(p)
	for i := range p {
		a, c, z := p[(i+n-1)%n], p[i], p[(i+1)%n]
		if r == 0 {
			if i == 0 {
				s.Start = c
			} else {
				s.Segs = append(s.Segs, Seg{To: c})
			}
			continue
		}
		in := c.Sub(a).Scale(r / c.Sub(a).Len())
		out := z.Sub(c).Scale(r / z.Sub(c).Len())
		from, to := c.Sub(in), c.Add(out)
		if i == 0 {
			s.Start = from
		} else {
			s.Segs = append(s.Segs, Seg{To: from})
		}
		s.Segs = append(s.Segs, Seg{to, c.Sub(in).Add(out), r, math.Pi / 2})
	}
	s.Segs = append(s.Segs, Seg{To: s.Start})
}

// belt lays a belt round pulleys that all stand on its inside: from each to the
// next along their outer tangent. The outward normal n of a tangent at both
// circles gives p1 = c1 + r1*n and p2 = c2 + r2*n; (p2 - p1)*n = 0, so the angle
// between n and c2 - c1 has the cosine (r1 - r2)/d (plane geometry).
func (b *sceneMaker) belt(l *DrawLine, get func(int) float64, size func(int, string) (float64, bool)) *Shape {
	n := len(l.Points)
	c, r := make([]Vec, n), make([]float64, n)
	area := 0.0
	for i, p := range l.Points {
		var ok bool
		if r[i], ok = size(p[2], "a pulley's radius"); !ok {
			return nil
		}
		c[i] = Vec{get(p[0]), get(p[1])}
	}
	for i := range c {
		k := (i + 1) % n
		area += c[i].X*c[k].Y - c[k].X*c[i].Y
	}
	if area < 0 { // clockwise
		for i, k := 0, n-1; i < k; i, k = i+1, k-1 {
			c[i], c[k] = c[k], c[i]
			r[i], r[k] = r[k], r[i]
		}
	}
	normal := make([]float64, n) // of the tangent from i to the next
	for i := range c {
		way := c[(i+1)%n].Sub(c[i])
		d := way.Len()
		if d <= r[i]+r[(i+1)%n] {
			b.list.Add(l.Pos, "drawing", "two pulleys of this belt overlap")
			return nil
		}
		normal[i] = math.Atan2(way.Y, way.X) - math.Acos((r[i]-r[(i+1)%n])/d)
	}
	s := &Shape{Closed: true, Start: c[0].Add(polar(r[0], normal[0]))}
	turned := 0.0
	lo, hi := Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	at := s.Start
	for i := range c {
		k := (i + 1) % n
		end := c[k].Add(polar(r[k], normal[i]))
		sweep := math.Mod(normal[k]-normal[i], 2*math.Pi)
		if sweep < 0 {
			sweep += 2 * math.Pi
		}
		turned += sweep
		s.Length += end.Sub(at).Len() + sweep*r[k]
		at = c[k].Add(polar(r[k], normal[k]))
		s.Segs = append(s.Segs, Seg{To: end}, Seg{at, c[k], r[k], sweep})
		lo = Vec{math.Min(lo.X, c[k].X-r[k]), math.Min(lo.Y, c[k].Y-r[k])}
		hi = Vec{math.Max(hi.X, c[k].X+r[k]), math.Max(hi.Y, c[k].Y+r[k])}
	}
	if math.Abs(turned-2*math.Pi) > 1e-6 {
		b.list.Add(l.Pos, "drawing", "a pulley of this belt stands inside the path round the others").
			Hint = "name the pulleys in their order round the belt; all stand on its inside"
		return nil
	}
	s.At, s.W, s.H = lo.Add(hi).Scale(0.5), hi.X-lo.X, hi.Y-lo.Y
	s.Lead = s.Start.Add(s.Segs[0].To).Scale(0.5)
	return s
}

// figure sees that the figure at a shape is what is drawn.
func (b *sceneMaker) figure(l *DrawLine, s *Shape) {
	if l.Value < 0 {
		return
	}
	v := b.values(l.Value)
	if len(v) != 1 {
		return
	}
	if math.Abs(v[0]-s.Length) > 1e-6*s.Length {
		b.list.Add(b.at(l.Value), "drawing", "this is %s, but %s is drawn", b.text(l.Value, v[0]), b.text(l.Value, s.Length)).
			Hint = "draw with the figure that stands there"
	}
}

// text writes a length in the unit of expression i.
func (b *sceneMaker) text(i int, si float64) string {
	if s := b.shown(i); s != nil && s.Unit.Factor != 0 {
		return fmt.Sprintf("%.6g %s", s.Unit.FromSI(si), s.Unit.Symbol)
	}
	return fmt.Sprintf("%.6g m", si)
}

// inside reports shapes that leave the outline that they belong to.
func (b *sceneMaker) inside() {
	told := map[*DrawLine]bool{}
	for _, s := range b.scene.Shapes {
		out := b.outlines[s.Line.Inside]
		if s.Line.Inside == "" || out == nil || told[s.Line] {
			continue
		}
		edge := out.Points()
		far := 0.0
		for _, p := range s.Points() {
			if d := distanceTo(edge, p); d > far && !within(edge, p) {
				far = d
			}
		}
		if far > 1e-6*math.Max(out.W, out.H) {
			told[s.Line] = true
			b.list.Add(s.Line.inside, "drawing", "this %s leaves %s by %.3g mm", s.Line.Word, s.Line.Inside, 1e3*far).
				Also = []diag.Note{{Span: out.Line.Pos, Msg: "the outline is here"}}
		}
	}
}

// within reports a point inside a closed row of points, by the even-odd rule.
func within(edge []Vec, p Vec) bool {
	in := false
	for i, a := range edge {
		z := edge[(i+1)%len(edge)]
		if (a.Y > p.Y) != (z.Y > p.Y) && p.X < (z.X-a.X)*(p.Y-a.Y)/(z.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

func distanceTo(edge []Vec, p Vec) float64 {
	least := math.Inf(1)
	for i := 1; i < len(edge); i++ {
		a, way := edge[i-1], edge[i].Sub(edge[i-1])
		t := 0.0
		if l := way.X*way.X + way.Y*way.Y; l > 0 {
			t = math.Max(0, math.Min(1, ((p.X-a.X)*way.X+(p.Y-a.Y)*way.Y)/l))
		}
		least = math.Min(least, p.Sub(a.Add(way.Scale(t))).Len())
	}
	return least
}

// bounds finds what the drawing covers.
func (b *sceneMaker) bounds(p *Drawing) {
	s := b.scene
	s.Min, s.Max = Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	for _, x := range s.Shapes {
		pts := x.Points()
		switch x.Line.Word {
		case "dimension":
			pts = []Vec{x.At, x.To}
		case "label", "note":
			pts = []Vec{x.At}
		}
		for _, v := range pts {
			s.Min = Vec{math.Min(s.Min.X, v.X), math.Min(s.Min.Y, v.Y)}
			s.Max = Vec{math.Max(s.Max.X, v.X), math.Max(s.Max.Y, v.Y)}
		}
	}
	size := math.Max(s.Max.X-s.Min.X, s.Max.Y-s.Min.Y)
	if len(s.Shapes) > 0 && !(size > 0 && math.Abs(s.Min.X) < maxReach && math.Abs(s.Min.Y) < maxReach && size < maxReach) {
		b.list.Add(p.Pos, "drawing", "this drawing has no size that can be drawn: its shapes span %.3g m", size)
	}
}
