// Package chart draws plots as SVG that stands inside a page: lines against a
// parameter, and maps of a field. gonum.org/v1/plot does the drawing; its
// canvas here writes classes in place of colours, so that a plot follows the
// light and the dark scheme and prints.
//
// The same input gives the same bytes, also from many goroutines.
package chart

// Width is a layout: the lettering keeps its size, the plot takes the room.
type Width int

// The layouts.
const (
	Wide   Width = iota // about 640 px, for a column of text
	Narrow              // about 340 px, for a phone
)

// Options are what a page decides about its plots.
type Options struct {
	Decimal rune // decimal sign; 0 means '.'
	Width   Width
}

func (o Options) decimal() rune {
	if o.Decimal == 0 {
		return '.'
	}
	return o.Decimal
}

// An Axis says what is counted along it. Min and Max are in Unit; if they are
// equal, the axis fits the data.
type Axis struct {
	Label    string // the quantity: "bay temperature"
	Unit     string // as shown: "°C"; "" for a plain number
	Min, Max float64
}

// title is the text at an axis: "bay temperature in °C".
func (a Axis) title() string { return quantityIn(a.Label, a.Unit) }

func quantityIn(label, unit string) string {
	switch {
	case unit == "":
		return label
	case label == "":
		return unit
	}
	return label + " in\u00a0" + unit
}

// CSS styles the plots. It uses the page's variables --paper, --ink, --soft,
// --hair, --accent, --bad and --label. A page that shows each plot in both
// widths gets the one that fits. What lies over the colours of a map keeps its own ink
// as attributes: a page may forbid style attributes.
//
//	ax  axes and ticks            gr  grid
//	c1 … c6  lines, each with its own stroke, so that colour is not needed
//	mk  mark, a limit across      vm  the release's own value, upright
//	bd  band                      pt  point on a line
//	ld  leader to a label         ol  outline of the bed
//	sg  segment in plan           sc  its casing
//	ta  text of an axis, tn numbers, tl label of a line, tm of a mark,
//	tv of the own value, tb of a band, ts of a segment, tc on a contour
const CSS = `.plot{display:block;width:100%;height:auto;overflow:visible}
.plot.narrow{display:none}
@media (max-width:34rem){.plot.wide{display:none}.plot.narrow{display:block}}
@media print{.plot.wide{display:block}.plot.narrow{display:none}}
.plot text{font:400 13px var(--label,"Liberation Sans",Arial,sans-serif);font-variant-numeric:lining-nums tabular-nums}
.plot text:where(:not([fill])){fill:var(--ink)}
.plot path,.plot circle{stroke-linejoin:round}
.plot :where(path,circle):where(:not([fill])){fill:none}
.plot :where(path,circle):where(:not([stroke])){stroke:var(--ink)}
.plot .ax{stroke-width:1.2}
.plot .gr{stroke:var(--hair);stroke-width:1}
.plot .c1{stroke-width:2.2}
.plot .c2{stroke:var(--accent);stroke-width:2.2;stroke-dasharray:9 5}
.plot .c3{stroke-width:2.6;stroke-dasharray:.1 5.4;stroke-linecap:round}
.plot .c4{stroke:var(--accent);stroke-width:2.2;stroke-dasharray:13 4 2 4}
.plot .c5{stroke:var(--soft);stroke-width:2;stroke-dasharray:20 5}
.plot .c6{stroke:var(--soft);stroke-width:1.3}
.plot .mk{stroke:var(--bad);stroke-width:1.2;stroke-dasharray:14 3 2 3 2 3}
.plot .vm{stroke:var(--soft);stroke-width:1;stroke-dasharray:14 3 2 3}
.plot .bd{fill:var(--ink);fill-opacity:.08;stroke:none}
.plot .pt{fill:var(--paper);stroke-width:1.5}
.plot .ld{stroke:var(--soft);stroke-width:1}
.plot .ol{stroke-width:1.6}
.plot .sg{stroke-width:5}
.plot .sc{stroke:var(--paper);stroke-width:8}
.plot .ta,.plot .tn{fill:var(--soft)}
.plot .tl,.plot .tm,.plot .tv,.plot .ts{stroke:var(--paper);stroke-width:3.5;stroke-linejoin:round;paint-order:stroke}
.plot .tl{font-weight:500}
.plot .tm{fill:var(--bad)}
.plot .tv,.plot .tb{fill:var(--soft)}
.plot .tc{font-size:11.5px}
@media print{.plot .bd{print-color-adjust:exact}}
@media (forced-colors:active){.plot.plot path:where(:not([stroke])),.plot.plot circle{stroke:CanvasText}.plot.plot text:where(:not([fill])){fill:CanvasText}.plot.plot.plot .gr{stroke:GrayText;stroke-width:.5}.plot.plot.plot .bd{fill:GrayText;stroke:none}.plot.plot.plot .pt,.plot.plot.plot .sc{fill:Canvas}.plot.plot.plot .sc{stroke:Canvas;fill:none}}
`

// DrawingCSS styles the drawings. Strokes are thick for visible outlines and
// half as thick for everything else (ISO 128-2: 2 to 1).
//
//	dv  visible outline    dh  hidden outline      dc  centre line
//	dp  another part or position                   dt  thin: dimension, leader
//	dx  hatching           da  arrow head          dd  dot of a leader
//	do  balloon            dn  figure of a dimension
//	dl  other lettering    db  letter in a balloon
const DrawingCSS = `.drawing .dv{stroke-width:1.9;stroke-linejoin:round}
.drawing .dh{stroke-width:1;stroke-dasharray:7 3.5}
.drawing .dc{stroke:var(--soft);stroke-width:.9;stroke-dasharray:13 3 2 3}
.drawing .dp{stroke:var(--soft);stroke-width:1;stroke-dasharray:13 3 2 3 2 3}
.drawing .dt{stroke-width:.9}
.drawing .dx{stroke:var(--soft);stroke-width:.8}
.drawing .da,.drawing .dd{fill:var(--ink);stroke:none}
.drawing .do{fill:var(--paper);stroke-width:1}
.drawing .dn,.drawing .dl{stroke:var(--paper);stroke-width:3.5;stroke-linejoin:round;paint-order:stroke}
.drawing .dn{font-weight:500}
.drawing .db{font-weight:600;font-size:12px}
.drawing a{text-decoration:none}
.drawing a:hover text{fill:var(--accent)}
@media (forced-colors:active){.plot.drawing .da,.plot.drawing .dd{fill:CanvasText}.plot.drawing .do{fill:Canvas}.plot.drawing a text:where(:not([fill])){fill:LinkText}}
`
