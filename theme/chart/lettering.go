package chart

import (
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The lettering's size and its room above and below the baseline, in px.
const (
	size  = 13.0
	above = 10.5
	below = 3.5
	line  = 15.0 // from baseline to baseline
)

// lettering measures text in a sans that is wider than the condensed one pages
// use, so that what it makes room for always fits.
var lettering = font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}

// handler is gonum/plot's plain text handler, but for the anchor: text is
// written with the anchor of its alignment, so that it stays aligned in
// whatever font the page has.
type handler struct{ text.Plain }

func newHandler() handler { return handler{text.Plain{Fonts: font.DefaultCache}} }

// Draw writes the text of axes.
func (h handler) Draw(c vg.Canvas, txt string, sty text.Style, pt vg.Point) {
	if txt == "" {
		return
	}
	cv := under(c)
	anchor := middle
	switch sty.XAlign {
	case draw.XLeft:
		anchor = start
	case draw.XRight:
		anchor = end
	}
	p := cv.at(pt)
	switch sty.YAlign {
	case draw.YTop:
		p.y += above + 5 // clear of the ticks
	case draw.YCenter:
		p.y += (above - below) / 2
		p.y += float64(sty.FontExtents().Descent) // gonum raises its labels by this much
	}
	cv.text(p, anchor, 0, sty.Color, txt)
}

// under finds the canvas below gonum/plot's clippings of it.
func under(c vg.Canvas) *canvas {
	for {
		switch d := c.(type) {
		case draw.Canvas:
			c = d.Canvas
		case *draw.Canvas:
			c = d.Canvas
		default:
			return d.(*canvas)
		}
	}
}

func style(h text.Handler, k class) text.Style {
	return text.Style{Color: k, Font: lettering, Handler: h}
}

// width measures a line of text, in px.
func width(s string) float64 {
	f := font.DefaultCache.Lookup(lettering, size)
	return float64(f.Width(strings.ReplaceAll(strings.ReplaceAll(s, "\u202f", "\u00a0"), "\u2212", "–")))
}

// wrap breaks a text into lines no wider than max, as far as its spaces allow.
func wrap(s string, max float64) []string {
	var lines []string
	now := ""
	for _, w := range strings.Fields(strings.ReplaceAll(s, "\u00a0", "\x00")) {
		w = strings.ReplaceAll(w, "\x00", "\u00a0")
		if now != "" && width(now+" "+w) > max {
			lines = append(lines, now)
			now = w
			continue
		}
		if now != "" {
			now += " "
		}
		now += w
	}
	return append(lines, now)
}

func widest(lines []string) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, width(l))
	}
	return w
}

// newPlot is a plot with the axes of this package's look.
func newPlot(x, y ticks) *plot.Plot {
	p := plot.New()
	h := newHandler()
	p.BackgroundColor = nil
	p.TextHandler = h
	p.Title.TextStyle.Handler = h
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Padding = 0
		a.LineStyle = draw.LineStyle{Color: class("ax"), Width: 1}
		a.Tick.LineStyle = a.LineStyle
		a.Tick.Length = 5
		xa, ya := a.Tick.Label.XAlign, a.Tick.Label.YAlign
		a.Tick.Label = style(h, "tn")
		a.Tick.Label.XAlign, a.Tick.Label.YAlign = xa, ya
		a.Label.TextStyle = style(h, "ta")
	}
	p.X.Label.TextStyle.XAlign = draw.XCenter
	p.X.Label.Padding = 6
	p.X.Min, p.X.Max, p.X.Tick.Marker = x.min, x.max, x
	p.Y.Min, p.Y.Max, p.Y.Tick.Marker = y.min, y.max, y
	return p
}
