package chart

import (
	"image/color"
	"math"
)

// The colours of maps go from a dark blue to a pale yellow on a straight line
// in OKLab, the space of CSS Color Module Level 4 in which equal steps look
// equal. Lightness alone carries the order, so that it survives a copier; blue
// and yellow are the pair that red-green blind readers tell apart; and bright
// is high on light and on dark pages.
var (
	low  = oklab{0.40, -0.012, -0.085}
	high = oklab{0.95, -0.012, 0.085}
)

type oklab struct{ l, a, b float64 }

// ramp gives n colours from low to high.
func ramp(n int) []color.Color {
	out := make([]color.Color, n)
	for i := range out {
		t := 0.5
		if n > 1 {
			t = float64(i) / float64(n-1)
		}
		out[i] = between(t).rgb()
	}
	return out
}

func between(t float64) oklab {
	mix := func(p, q float64) float64 { return p + float64(t*(q-p)) }
	return oklab{mix(low.l, high.l), mix(low.a, high.a), mix(low.b, high.b)}
}

// overColour is the ink for what is drawn over a colour of the ramp.
func overColour(t float64) color.Color {
	if between(t).l < 0.68 {
		return color.NRGBA{0xff, 0xff, 0xff, 0xff}
	}
	return color.NRGBA{0x10, 0x18, 0x20, 0xff}
}

// rgb converts to sRGB. The matrices are those of CSS Color Module Level 4,
// section "Sample code for Color Conversions" (from memory; checked in the
// test against colours that the module states).
func (o oklab) rgb() color.NRGBA {
	cube := func(x float64) float64 { return x * x * x }
	l := cube(o.l + float64(0.3963377773761749*o.a) + float64(0.2158037573099136*o.b))
	m := cube(o.l - float64(0.1055613458156586*o.a) - float64(0.0638541728258133*o.b))
	s := cube(o.l - float64(0.0894841775298119*o.a) - float64(1.2914855480194092*o.b))
	return color.NRGBA{
		channel(float64(4.0767416360759583*l) - float64(3.3077115392580629*m) + float64(0.2309699031821043*s)),
		channel(float64(-1.2684379732850315*l) + float64(2.6097573492876882*m) - float64(0.3413193760026570*s)),
		channel(float64(-0.0041960761386756*l) - float64(0.7034186179359362*m) + float64(1.7076146940746117*s)),
		0xff,
	}
}

// channel applies the transfer curve of sRGB (IEC 61966-2-1).
func channel(x float64) uint8 {
	if x <= 0.0031308 {
		x *= 12.92
	} else {
		x = float64(1.055*math.Pow(x, 1/2.4)) - 0.055
	}
	return uint8(math.Round(255 * math.Max(0, math.Min(1, x))))
}
