package chart

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"

	"workings/calc/unit"
)

// ticks are the clean numbers of an axis: multiples of 1, 2, 2.5 or 5 times a
// power of ten.
type ticks struct {
	min, max float64
	step     float64
	power    int // the numbers are shown divided by 10^power
	decimal  rune
}

// newTicks chooses a step for about n stretches between min and max. With
// round, the axis is widened to whole steps.
func newTicks(min, max float64, n int, round bool, decimal rune) ticks {
	t := ticks{min: min, max: max, decimal: decimal, step: niceStep((max - min) / float64(n))}
	if round {
		t.min = t.step * math.Floor(min/t.step+1e-6)
		t.max = t.step * math.Ceil(max/t.step-1e-6)
	}
	if big := math.Max(math.Abs(t.min), math.Abs(t.max)); big >= 1e5 || big < 1e-2 {
		t.power = 3 * int(math.Floor(math.Log10(big)/3+1e-9))
	}
	return t
}

// niceStep is the clean number next to x, by ratio.
func niceStep(x float64) float64 {
	e := math.Floor(math.Log10(x))
	p := math.Pow10(int(e))
	best, least := 0.0, math.Inf(1)
	for _, f := range []float64{1, 2, 2.5, 5, 10} {
		if off := math.Abs(math.Log(x / (f * p))); off < least {
			best, least = f*p, off
		}
	}
	return best
}

// values lists the multiples of the step on the axis, computed afresh from
// whole numbers so that no error adds up.
func (t ticks) values() []float64 {
	lo, hi := math.Ceil(t.min/t.step-1e-6), math.Floor(t.max/t.step+1e-6)
	var v []float64
	for k := lo; k <= hi; k++ {
		v = append(v, k*t.step)
	}
	return v
}

func (t ticks) text(v float64) string {
	scale := math.Pow10(t.power)
	return number(v/scale, places(t.step/scale), t.decimal)
}

// Ticks makes ticks a plot.Ticker.
func (t ticks) Ticks(_, _ float64) []plot.Tick {
	var out []plot.Tick
	for _, v := range t.values() {
		out = append(out, plot.Tick{Value: v, Label: t.text(v)})
	}
	return out
}

// title is the text at the axis with its power of ten.
func (t ticks) title(a Axis) string {
	if t.power == 0 {
		return a.title()
	}
	p := "10" + superscript.Replace(strconv.Itoa(t.power))
	if a.Unit == "" {
		return quantityIn(a.Label, p)
	}
	return quantityIn(a.Label, p+"\u00a0"+a.Unit)
}

var superscript = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "-", "⁻", "\u2212", "⁻")

// places is the number of decimals that a clean step needs.
func places(step float64) int {
	for n := range 9 {
		if v := step * math.Pow10(n); math.Abs(v-math.Round(v)) < 1e-6*v {
			return n
		}
	}
	return 9
}

// number typesets a number with so many decimals.
func number(v float64, places int, decimal rune) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" { // no minus before a zero
		s = strings.TrimPrefix(s, "-")
	}
	return unit.Typeset(s, decimal)
}
