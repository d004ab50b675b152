package theme

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"workings/content"
	"workings/theme/chart"
)

// A drafter draws a scene to scale as SVG. Kinds of line after ISO 128-2:
// thick continuous for visible outlines (01.2), thin continuous for dimensions,
// leaders and hatching (01.1), thin dashed for hidden outlines (02.1), thin
// chain for centre lines (04.1), thin double chain for other parts and
// positions (05.1). Dimensions after ISO 129-1: extension lines, closed arrow
// heads, the figure above its line, read from below or from the right. Colours
// are classes, so that a drawing follows the scheme of its page.
type drafter struct {
	v      *view
	s      *content.Scene
	narrow bool
	w, h   float64 // px
	k      float64 // px a metre
	ox, oy float64 // px of the left and upper edge of the scene
	dims   []*dimLine
	leads  []*leader
	column float64 // px of the left edge of the leaders' texts
	put    []rect
	b      strings.Builder
}

// px is a place on the sheet, y downward.
type px struct{ x, y float64 }

type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) meets(o rect) bool { return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1 }

// A dimLine is a dimension that stands outside the scene, in a row.
type dimLine struct {
	x    *content.Shape
	text string
	a, z float64 // px along the row
	row  int
	past float64 // room of the text beyond the end, where it does not fit between
}

// A leader is a text with a line to a place.
type leader struct {
	x            *content.Shape
	before, text string // the sign before the figure and the figure
	lines        []string
	y            float64
	mark         string // letter, where the text stands in a key
}

const (
	dimFirst = 24.0 // from the scene to the first row of dimensions, px
	dimRow   = 25.0 // from row to row
	letter   = 15.0 // from line to line of text
	arrow    = 8.0
)

func newDrafter(v *view, s *content.Scene, width chart.Width) *drafter {
	d := &drafter{v: v, s: s, narrow: width == chart.Narrow, w: 640}
	if d.narrow {
		d.w = 340
	}
	for _, x := range s.Shapes {
		switch {
		case x.Line.Word == "dimension" && x.Line.Side != "":
			d.dims = append(d.dims, &dimLine{x: x, text: v.dimText(x)})
		case x.Line.Word == "note" || x.First && x.Line.Value >= 0 && x.Line.Word != "dimension":
			d.leads = append(d.leads, d.leaderTo(x))
		}
	}
	d.layout()
	return d
}

// dimText is a dimension's figure, with its label behind it.
func (v *view) dimText(x *content.Shape) string {
	_, value := v.figureParts(x)
	if label := v.fill(x.Line.Parts, x.Line.Label); label != "" {
		return value + " " + label
	}
	return value
}

func (d *drafter) leaderTo(x *content.Shape) *leader {
	l := &leader{x: x}
	l.before, l.text = d.v.figureParts(x)
	for _, o := range d.s.Shapes { // of several, the one that is nearest to the texts
		if o.Line == x.Line && (o.Lead.X > l.x.Lead.X+1e-9 || math.Abs(o.Lead.X-l.x.Lead.X) <= 1e-9 && o.Lead.Y > l.x.Lead.Y+1e-9) {
			l.x = o
		}
	}
	if x.Line.Word == "note" {
		l.x = x
	}
	return l
}

// layout finds the scale. The rows of dimensions depend on it and take room
// from it, so it is found in a few rounds.
func (d *drafter) layout() {
	wide, high := math.Max(d.s.Max.X-d.s.Min.X, 1e-9), math.Max(d.s.Max.Y-d.s.Min.Y, 1e-9)
	tall := 400.0
	if d.narrow {
		tall = 330
	}
	column := 0.0
	if len(d.leads) > 0 && !d.narrow {
		for _, l := range d.leads {
			l.lines = chart.Wrap(d.leadText(l), 150)
			for _, s := range l.lines {
				column = math.Max(column, chart.TextWidth(s))
			}
		}
		column += 34
	}
	d.k = math.Min((d.w-80-column)/wide, tall/high)
	var left, right, top, bottom float64
	for range 6 {
		rows := map[string]int{}
		for _, side := range []string{"above", "below", "left", "right"} {
			rows[side] = d.rows(side)
		}
		room := func(side string) float64 {
			if rows[side] == 0 {
				return 8
			}
			return dimFirst + dimRow*float64(rows[side]-1) + 6
		}
		left, right, top, bottom = room("left"), room("right"), room("above")+6, room("below")
		if rows["above"] > 0 {
			top += 12
		}
		for _, l := range d.dims { // texts beyond the end of their line
			switch l.x.Line.Side {
			case "above", "below":
				right = math.Max(right, l.z+l.past-wide*d.k+4)
			default:
				bottom = math.Max(bottom, l.z+l.past-high*d.k+4)
			}
		}
		if d.narrow && len(d.leads) > 0 {
			left, right, top = math.Max(left, 20), math.Max(right, 20), math.Max(top, 22)
		}
		d.k = math.Min((d.w-left-right-column)/wide, tall/high)
	}
	d.ox = left + (d.w-left-right-column-wide*d.k)/2
	d.oy = top
	d.column = d.ox + wide*d.k + right + 22
	d.h = top + high*d.k + bottom + 40
	d.stack()
}

func (d *drafter) at(v content.Vec) px {
	return px{d.ox + (v.X-d.s.Min.X)*d.k, d.oy + (d.s.Max.Y-v.Y)*d.k}
}

// rows puts the dimensions of a side into rows, the shorter ones nearer to the
// outline, so that no line crosses another's extension lines without need.
func (d *drafter) rows(side string) int {
	var list []*dimLine
	for _, l := range d.dims {
		if l.x.Line.Side != side {
			continue
		}
		if side == "above" || side == "below" {
			l.a, l.z = (l.x.At.X-d.s.Min.X)*d.k, (l.x.To.X-d.s.Min.X)*d.k
		} else {
			l.a, l.z = (d.s.Max.Y-l.x.At.Y)*d.k, (d.s.Max.Y-l.x.To.Y)*d.k
		}
		if l.a > l.z {
			l.a, l.z = l.z, l.a
		}
		l.past = 0
		if t := chart.TextWidth(l.text) + 4; t > l.z-l.a {
			l.past = t + 2*arrow + 2
		} else if l.z-l.a < 3*arrow {
			l.past = 2 * arrow
		}
		list = append(list, l)
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].z-list[i].a < list[j].z-list[j].a-1e-6 })
	n := 0
	for i, l := range list {
		l.row = 0
		for again := true; again; {
			again = false
			for _, o := range list[:i] {
				if o.row == l.row && l.a-o.before() < o.z+o.past+1 && o.a-o.before() < l.z+l.past+1 && !touch(l, o) {
					l.row++
					again = true
				}
			}
		}
		n = max(n, l.row+1)
	}
	return n
}

func (l *dimLine) before() float64 {
	if l.past > 0 {
		return 2 * arrow
	}
	return 0
}

// touch reports two dimensions in a chain: one ends where the other begins.
func touch(a, b *dimLine) bool {
	return a.past == 0 && b.past == 0 && (math.Abs(a.z-b.a) < 1 || math.Abs(b.z-a.a) < 1)
}

// leadText is all that stands at a leader.
func (d *drafter) leadText(l *leader) string {
	return strings.TrimSpace(l.before + l.text + " " + d.v.fill(l.x.Line.Parts, l.x.Line.Label))
}

// stack puts the leaders' texts below each other, each near its place.
func (d *drafter) stack() {
	sort.SliceStable(d.leads, func(i, j int) bool { return d.at(d.leads[i].x.Lead).y < d.at(d.leads[j].x.Lead).y-1e-6 })
	if d.narrow {
		y := d.h + 6
		for i, l := range d.leads {
			l.mark = string(rune('A' + i%26))
			l.lines = chart.Wrap(d.leadText(l), d.w-40)
			l.y = y
			y += letter*float64(len(l.lines)) + 4
		}
		if len(d.leads) > 0 {
			d.h = y
		}
		return
	}
	if len(d.leads) == 0 {
		return
	}
	y := 2.0
	for _, l := range d.leads {
		l.y = math.Max(y, d.at(l.x.Lead).y-letter*float64(len(l.lines))-10)
		y = l.y + letter*float64(len(l.lines)) + 9
	}
	// Those that run out at the foot are pushed up again.
	foot := math.Max(d.h-8, 0)
	for i := len(d.leads) - 1; i >= 0; i-- {
		l := d.leads[i]
		size := letter*float64(len(l.lines)) + 4
		if l.y+size <= foot {
			break
		}
		l.y = foot - size
		foot = l.y - 5
	}
	if first := d.leads[0].y; first < 2 { // no room: a taller sheet
		d.h += 2 - first
		for _, l := range d.leads {
			l.y += 2 - first
		}
	}
}

// svg gives the element. It is a group and no picture: its dimensions are links.
func (d *drafter) svg(id, title, desc string) string {
	kind := "wide"
	if d.narrow {
		kind, id = "narrow", id+"-n"
	}
	d.shapes()
	d.outside()
	d.aligned()
	d.leaders()
	d.labels()
	d.scaleBar()
	return fmt.Sprintf(`<svg class="plot drawing %s" viewBox="0 0 %s %s" role="group" aria-labelledby="%s-t" aria-describedby="%s-d"><title id="%s-t">%s</title><desc id="%s-d">%s</desc>%s</svg>`,
		kind, num(d.w), num(d.h), id, id, id, esc(title), id, esc(desc), d.b.String())
}

// num writes a coordinate to a tenth of a px.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

func xy(p px) string { return num(p.x) + " " + num(p.y) }

func (d *drafter) stroke(class string, pts ...px) {
	d.b.WriteString(`<path class="` + class + `" d="M` + xy(pts[0]))
	for _, p := range pts[1:] {
		d.b.WriteString("L" + xy(p))
	}
	d.b.WriteString(`"/>`)
}

// shapes draws the outlines: hatching first, thin lines over thick ones last.
func (d *drafter) shapes() {
	hatch := 0
	for _, x := range d.s.Shapes {
		if x.Line.Kind == "cut" {
			if x.First {
				hatch++
			}
			d.hatch(x, hatch)
		}
	}
	class := map[string]string{"": "dv", "cut": "dv", "hidden": "dh", "centre": "dc", "thin": "dt", "phantom": "dp"}
	// One path for each kind of line: a hundred holes are one element.
	paths := map[string]*strings.Builder{}
	for _, x := range d.s.Shapes {
		switch x.Line.Word {
		case "dimension", "label", "note":
			continue
		}
		k := class[x.Line.Kind]
		if paths[k] == nil {
			paths[k] = &strings.Builder{}
		}
		d.outline(paths[k], x)
		if x.Line.Word == "circle" && (k == "dv" || k == "dh") {
			if paths["dc"] == nil {
				paths["dc"] = &strings.Builder{}
			}
			c, r := d.at(x.At), x.Radius*d.k+4
			fmt.Fprintf(paths["dc"], "M%sH%sM%sV%s", xy(px{c.x - r, c.y}), num(c.x+r), xy(px{c.x, c.y - r}), num(c.y+r))
		}
	}
	for _, k := range []string{"dv", "dh", "dp", "dt", "dc"} {
		if p := paths[k]; p != nil {
			d.b.WriteString(`<path class="` + k + `" d="` + p.String() + `"/>`)
		}
	}
}

func (d *drafter) outline(b *strings.Builder, x *content.Shape) {
	b.WriteString("M" + xy(d.at(x.Start)))
	for _, g := range x.Segs {
		if g.Sweep == 0 {
			b.WriteString("L" + xy(d.at(g.To)))
			continue
		}
		large, sweep := "0", "0" // y is turned over: counter-clockwise is sweep 0
		if math.Abs(g.Sweep) > math.Pi+1e-9 {
			large = "1"
		}
		if g.Sweep < 0 {
			sweep = "1"
		}
		r := num(g.R * d.k)
		b.WriteString("A" + r + " " + r + " 0 " + large + " " + sweep + " " + xy(d.at(g.To)))
	}
	if x.Closed {
		b.WriteString("Z")
	}
}

// hatch fills an outline with thin lines at 45° (ISO 128-3); parts that lie
// beside each other lean to opposite sides.
func (d *drafter) hatch(x *content.Shape, no int) {
	var pts []px
	for _, v := range x.Points() {
		pts = append(pts, d.at(v))
	}
	lean := 1.0
	if no%2 == 0 {
		lean = -1
	}
	const gap = 7.0
	lo, hi := math.Inf(1), math.Inf(-1) // of x + lean*y
	for _, p := range pts {
		lo, hi = math.Min(lo, p.x+lean*p.y), math.Max(hi, p.x+lean*p.y)
	}
	var b strings.Builder
	for c := (math.Floor(lo/gap) + 0.5) * gap; c < hi; c += gap {
		var cuts []float64 // y where the hatch line crosses the outline
		for i, p := range pts {
			q := pts[(i+1)%len(pts)]
			u, v := p.x+lean*p.y-c, q.x+lean*q.y-c
			if (u > 0) != (v > 0) {
				cuts = append(cuts, p.y+(q.y-p.y)*u/(u-v))
			}
		}
		sort.Float64s(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			b.WriteString("M" + xy(px{c - lean*cuts[i], cuts[i]}) + "L" + xy(px{c - lean*cuts[i+1], cuts[i+1]}))
		}
	}
	if b.Len() > 0 {
		d.b.WriteString(`<path class="dx" d="` + b.String() + `"/>`)
	}
}

// head is a closed arrow head with its point at p, from the direction of q.
func (d *drafter) head(p, q px) {
	dx, dy := q.x-p.x, q.y-p.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	dx, dy = dx/l*arrow, dy/l*arrow
	d.b.WriteString(`<path class="da" d="M` + xy(p) + "L" + xy(px{p.x + dx - dy*0.19, p.y + dy + dx*0.19}) + "L" + xy(px{p.x + dx + dy*0.19, p.y + dy - dx*0.19}) + `Z"/>`)
}

// dimension draws a dimension line from a to z with its figure above it. Where
// there is no room between the heads they point inward from outside, and a
// figure that is longer stands beyond z.
func (d *drafter) dimension(a, z px, text string, x *content.Shape) {
	dx, dy := z.x-a.x, z.y-a.y
	l := math.Hypot(dx, dy)
	dx, dy = dx/l, dy/l
	tw := chart.TextWidth(text) + 4
	mid := px{(a.x + z.x) / 2, (a.y + z.y) / 2}
	switch {
	case tw <= l && l >= 3*arrow:
		d.stroke("dt", a, z)
		d.head(a, z)
		d.head(z, a)
	default:
		out := 2 * arrow
		if tw > l {
			out += tw
			mid = px{z.x + dx*(arrow+8+tw/2), z.y + dy*(arrow+8+tw/2)}
		}
		d.stroke("dt", px{a.x - dx*2*arrow, a.y - dy*2*arrow}, px{z.x + dx*out, z.y + dy*out})
		d.head(a, px{a.x - dx, a.y - dy})
		d.head(z, px{z.x + dx, z.y + dy})
	}
	// Above the line, as it is read from below or from the right.
	deg := math.Atan2(dy, dx) * 180 / math.Pi
	up := px{dy, -dx}
	if deg > 90-1e-6 || deg <= -90-1e-6 {
		deg -= 180
		up = px{-dy, dx}
	}
	if deg < -180 {
		deg += 360
	}
	d.text(px{mid.x + up.x*4, mid.y + up.y*4}, "middle", deg, "dn", text, d.v.figureHref(x))
	r := tw / 2
	if math.Abs(deg) > 45 {
		d.put = append(d.put, rect{mid.x - 16, mid.y - r, mid.x, mid.y + r})
	} else {
		d.put = append(d.put, rect{mid.x - r, mid.y - 16, mid.x + r, mid.y})
	}
}

// figureHref leads to the derivation of the figure of a shape.
func (v *view) figureHref(x *content.Shape) string {
	if x.Line.Value < 0 {
		return ""
	}
	if s := v.in.Result.Shown(x.Line.Value); s != nil && s.Figure != nil {
		return v.workingsHref(s.Figure)
	}
	return ""
}

// text writes a line; with an address, as a link.
func (d *drafter) text(p px, anchor string, deg float64, class, s, href string) {
	if href != "" {
		d.b.WriteString(`<a href="` + esc(href) + `">`)
	}
	d.b.WriteString(`<text class="` + class + `" x="` + num(p.x) + `" y="` + num(p.y) + `"`)
	if anchor != "" {
		d.b.WriteString(` text-anchor="` + anchor + `"`)
	}
	if t := math.Round(deg); t != 0 {
		d.b.WriteString(` transform="rotate(` + num(t) + " " + xy(p) + `)"`)
	}
	d.b.WriteString(">" + esc(s) + "</text>")
	if href != "" {
		d.b.WriteString("</a>")
	}
}

// outside draws the dimensions beside the scene, with their extension lines.
func (d *drafter) outside() {
	low, high := d.at(d.s.Min), d.at(d.s.Max) // low: left and bottom
	for _, l := range d.dims {
		a, z := d.at(l.x.At), d.at(l.x.To)
		out := dimFirst + dimRow*float64(l.row)
		var p, q px
		switch l.x.Line.Side {
		case "below":
			p, q = px{a.x, low.y + out}, px{z.x, low.y + out}
		case "above":
			p, q = px{a.x, high.y - out + 6}, px{z.x, high.y - out + 6}
		case "left":
			p, q = px{low.x - out + 6, a.y}, px{low.x - out + 6, z.y}
		default:
			p, q = px{high.x + out, a.y}, px{high.x + out, z.y}
		}
		d.extension(a, p)
		d.extension(z, q)
		if p.x > q.x {
			p, q = q, p
		}
		if p.x == q.x && p.y > q.y {
			p, q = q, p // a text that does not fit stands below
		}
		d.dimension(p, q, l.text, l.x)
	}
}

// extension is the line from a place to a dimension line: it begins clear of
// the outline and goes a little beyond.
func (d *drafter) extension(from, to px) {
	dx, dy := to.x-from.x, to.y-from.y
	l := math.Hypot(dx, dy)
	if l < 4 {
		return
	}
	dx, dy = dx/l, dy/l
	d.stroke("dt", px{from.x + dx*3, from.y + dy*3}, px{to.x + dx*3, to.y + dy*3})
}

// aligned draws the dimensions that stand within the scene, along their line.
func (d *drafter) aligned() {
	for _, x := range d.s.Shapes {
		if x.Line.Word != "dimension" || x.Line.Side != "" {
			continue
		}
		way := x.To.Sub(x.At)
		n := content.Vec{X: -way.Y, Y: way.X}.Scale(x.Offset / way.Len())
		a, z := d.at(x.At), d.at(x.To)
		p, q := d.at(x.At.Add(n)), d.at(x.To.Add(n))
		d.extension(a, p)
		d.extension(z, q)
		if p.x > q.x+0.05 || math.Abs(p.x-q.x) <= 0.05 && p.y > q.y {
			p, q = q, p
		}
		d.dimension(p, q, d.v.dimText(x), x)
	}
}

// leaders draws the texts with lines to their places: in a column beside the
// drawing, or on a phone as letters with a key below.
func (d *drafter) leaders() {
	for _, l := range d.leads {
		at := d.at(l.x.Lead)
		if d.narrow {
			d.balloon(l)
			d.text(px{9, l.y + 11}, "middle", 0, "db", l.mark, "")
			d.leadLines(l, 22)
			continue
		}
		from := px{d.column - 5, l.y + 7}
		bend := px{d.column - 13, l.y + 7}
		if l.x.Line.Word == "circle" { // to the rim, in the direction of the text
			c := d.at(l.x.At)
			far := math.Hypot(bend.x-c.x, bend.y-c.y)
			r := l.x.Radius * d.k
			at = px{c.x + (bend.x-c.x)/far*r, c.y + (bend.y-c.y)/far*r}
		}
		d.stroke("dt", from, bend, at)
		d.tip(l, at, bend)
		d.leadLines(l, d.column)
	}
}

// tip ends a leader: a head on an outline, a dot inside one (ISO 128-2).
func (d *drafter) tip(l *leader, at, from px) {
	if l.x.Line.Word == "note" {
		d.b.WriteString(`<circle class="dd" cx="` + num(at.x) + `" cy="` + num(at.y) + `" r="2.2"/>`)
	} else {
		d.head(at, from)
	}
}

func (d *drafter) leadLines(l *leader, x float64) {
	href := d.v.figureHref(l.x)
	for i, s := range l.lines {
		d.text(px{x, l.y + 11 + letter*float64(i)}, "", 0, "dl", s, href)
	}
	if !d.narrow {
		w := 0.0
		for _, s := range l.lines {
			w = math.Max(w, chart.TextWidth(s))
		}
		d.put = append(d.put, rect{x - 4, l.y, x + w, l.y + letter*float64(len(l.lines))})
	}
}

// balloon puts a letter beside a place, where it covers least.
func (d *drafter) balloon(l *leader) {
	at := d.at(l.x.Lead)
	var best, tip px
	least := math.Inf(1)
	for i := range 16 {
		s, c := math.Sincos(2*math.Pi*float64(i)/16 + 0.6)
		for _, far := range []float64{24, 38} {
			p, t := px{at.x + c*far, at.y - s*far}, at
			if l.x.Line.Word == "circle" {
				m := d.at(l.x.At)
				r := l.x.Radius * d.k
				p, t = px{m.x + c*(r+far-6), m.y - s*(r+far-6)}, px{m.x + c*r, m.y - s*r}
			}
			cost := far / 10
			box := rect{p.x - 9, p.y - 9, p.x + 9, p.y + 9}
			if box.x0 < 0 || box.y0 < 0 || box.x1 > d.w || box.y1 > d.h {
				cost += 1000
			}
			for _, o := range d.put {
				if box.meets(o) {
					cost += 100
				}
			}
			cost += 3 * float64(d.crossings(box))
			if cost < least {
				least, best, tip = cost, p, t
			}
		}
	}
	far := math.Hypot(best.x-tip.x, best.y-tip.y)
	edge := px{best.x + (tip.x-best.x)/far*8.5, best.y + (tip.y-best.y)/far*8.5}
	d.stroke("dt", edge, tip)
	d.tip(l, tip, edge)
	d.b.WriteString(`<circle class="do" cx="` + num(best.x) + `" cy="` + num(best.y) + `" r="8.5"/>`)
	d.text(px{best.x, best.y + 4.5}, "middle", 0, "db", l.mark, "")
	d.put = append(d.put, rect{best.x - 10, best.y - 10, best.x + 10, best.y + 10})
}

// crossings counts the outlines that run through a box.
func (d *drafter) crossings(r rect) int {
	n := 0
	for _, x := range d.s.Shapes {
		pts := x.Points()
		if x.Line.Word == "dimension" {
			pts = []content.Vec{x.At, x.To}
		}
		for _, v := range pts {
			if p := d.at(v); p.x > r.x0 && p.x < r.x1 && p.y > r.y0 && p.y < r.y1 {
				n++
				break
			}
		}
		for i := 1; i < len(pts); i++ {
			if cutsBox(d.at(pts[i-1]), d.at(pts[i]), r) {
				n++
				break
			}
		}
	}
	return n
}

// cutsBox reports a line that touches a box (Liang and Barsky's rule).
func cutsBox(p, q px, r rect) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := q.x-p.x, q.y-p.y
	for _, e := range [4][2]float64{{-dx, p.x - r.x0}, {dx, r.x1 - p.x}, {-dy, p.y - r.y0}, {dy, r.y1 - p.y}} {
		switch k, s := e[0], e[1]; {
		case k == 0 && s < 0:
			return false
		case k < 0:
			t0 = math.Max(t0, s/k)
		case k > 0:
			t1 = math.Min(t1, s/k)
		}
	}
	return t0 <= t1
}

// labels writes the texts that have a place of their own.
func (d *drafter) labels() {
	for _, x := range d.s.Shapes {
		if x.Line.Word != "label" {
			continue
		}
		p := d.at(x.At)
		lines := chart.Wrap(d.v.fill(x.Line.Parts, x.Line.Label), 0.5*d.w)
		for i, s := range lines {
			d.text(px{p.x, p.y + 4.5 + letter*(float64(i)-float64(len(lines)-1)/2)}, "middle", 0, "dl", s, "")
		}
	}
}

// scaleBar shows a length below the drawing: a sheet is printed and shown in
// any size, so no ratio would be true.
func (d *drafter) scaleBar() {
	long := niceLength(130 / d.k)
	y := d.oy + (d.s.Max.Y-d.s.Min.Y)*d.k
	foot := d.h - 14
	if d.narrow && len(d.leads) > 0 {
		foot = d.leads[0].y - 20
	}
	y = math.Max(y+10, foot)
	x, w := 6.0, long*d.k
	d.b.WriteString(`<path class="dt" d="M` + xy(px{x, y - 5}) + "h" + num(w) + "v5h" + num(-w) + `z"/><path class="da" d="M` + xy(px{x, y - 5}) + "h" + num(w/2) + "v5h" + num(-w/2) + `z"/>`)
	d.text(px{x + w + 7, y}, "", 0, "dl", d.v.millimetres(long), "")
}
