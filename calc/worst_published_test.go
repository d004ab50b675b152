package calc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"workings/calc"
)

// worstStacks are chains of dimensions as textbooks and standards work them.
var worstStacks = []struct {
	name, source, status string
	text, figure, unit   string
	nominal, low, high   float64 // in the unit, as published
	digit                float64 // half of the last digit published
	exact                func(x []float64) float64
	inputs               [][2]float64 // low and high of each argument of exact
}{
	{
		"blocks in a frame", "Budynas and Nisbett, Shigley's Mechanical Engineering Design, a problem on a gap w = d - a - b - c", "checked against a secondary source",
		"a = 1.500 in ± 0.001 in\nb = 2.000 in ± 0.003 in\nc = 3.000 in ± 0.004 in\nd = 6.520 in ± 0.010 in\nw = d - a - b - c in in\n",
		"w", "in", 0.020, 0.002, 0.038, 0.0005,
		func(x []float64) float64 { return x[3] - x[0] - x[1] - x[2] },
		[][2]float64{{1.499, 1.501}, {1.997, 2.003}, {2.996, 3.004}, {6.510, 6.530}},
	},
	{
		// The same with the d that leaves 0.010 in at worst.
		"blocks in a frame, d chosen", "the same problem, its answer d = 6.528 in for w of at least 0.010 in", "checked against a secondary source",
		"a = 1.500 in ± 0.001 in\nb = 2.000 in ± 0.003 in\nc = 3.000 in ± 0.004 in\nd = 6.528 in ± 0.010 in\nw = d - a - b - c in in\n",
		"w", "in", 0.028, 0.010, 0.046, 0.0005,
		func(x []float64) float64 { return x[3] - x[0] - x[1] - x[2] },
		[][2]float64{{1.499, 1.501}, {1.997, 2.003}, {2.996, 3.004}, {6.518, 6.538}},
	},
	{
		"plate, spacer and cap in a pocket", "a course page on tolerance stacks", "checked against the text",
		"pocket = 20.20 mm ± 0.05 mm\nplate = 6.00 mm ± 0.10 mm\nspacer = 9.00 mm ± 0.12 mm\ncap = 5.00 mm ± 0.08 mm\ngap = pocket - plate - spacer - cap in mm\n",
		"gap", "mm", 0.20, -0.15, 0.55, 0.005,
		func(x []float64) float64 { return x[0] - x[1] - x[2] - x[3] },
		[][2]float64{{20.15, 20.25}, {5.90, 6.10}, {8.88, 9.12}, {4.92, 5.08}},
	},
	{
		"shaft, two bearings, housing and ring", "Chase, Tolerance allocation methods for designers (1999), the shaft and bearing assembly; numbers from memory", "not checked",
		"A = 0.0505 in ± 0.0015 in\nB = 8.000 in ± 0.008 in\nC = 0.5093 in ± 0.0025 in\nD = 0.400 in ± 0.002 in\nE = 7.711 in ± 0.006 in\nF = 0.400 in ± 0.002 in\nG = 0.5093 in ± 0.0025 in\nplay = -A + B - C + D - E + F - G in in\n",
		"play", "in", 0.0199, 0.0199 - 0.0245, 0.0199 + 0.0245, 0.00005,
		func(x []float64) float64 { return -x[0] + x[1] - x[2] + x[3] - x[4] + x[5] - x[6] },
		[][2]float64{{.049, .052}, {7.992, 8.008}, {.5068, .5118}, {.398, .402}, {7.705, 7.717}, {.398, .402}, {.5068, .5118}},
	},
	{
		// The worst case is not symmetric: slopes alone give 0.53396° both ways.
		// Nominal and case from memory; the ends recomputed at the corners below.
		"one-way clutch", "Fortini, Dimensioning for Interchangeable Manufacture (1967); Chase, Gao and Magleby (1995); tolerances vary between copies", "not checked",
		"a = 27.645 mm ± 0.0125 mm\nc = 11.43 mm ± 0.01 mm\ne = 50.8 mm ± 0.0125 mm\nphi = acos((a + c) / (e - c))\n",
		"phi", "°", 7.01839, 6.46218, 7.53326, 0.000005,
		clutch, [][2]float64{{27.6325, 27.6575}, {11.42, 11.44}, {50.7875, 50.8125}},
	},
	{
		"one-way clutch, wide", "the same", "not checked",
		"a = 27.645 mm ± 0.05 mm\nc = 11.43 mm ± 0.01 mm\ne = 50.8 mm ± 0.05 mm\nphi = acos((a + c) / (e - c))\n",
		"phi", "°", 7.01839, 5.40837, 8.32013, 0.000005,
		clutch, [][2]float64{{27.595, 27.695}, {11.42, 11.44}, {50.75, 50.85}},
	},
	{
		// Both limits of a g6 lie on one side of 30 mm: it is written from its lower one.
		"fit 30 H7/g6", "ISO 286-2: H7 +21/0, g6 -7/-20 µm; from memory", "not checked",
		"hole = 30 mm +0.021 mm -0 mm\nshaft = 29.980 mm +0.013 mm -0 mm\nclear = hole - shaft in um\n",
		"clear", "µm", 20, 7, 41, 0.5,
		func(x []float64) float64 { return (x[0] - x[1]) * 1e3 }, [][2]float64{{30, 30.021}, {29.980, 29.993}},
	},
	{
		"fit 30 H7/p6", "ISO 286-2: H7 +21/0, p6 +35/+22 µm; from memory", "not checked",
		"hole = 30 mm +0.021 mm -0 mm\nshaft = 30.022 mm +0.013 mm -0 mm\nclear = hole - shaft in um\n",
		"clear", "µm", -22, -35, -1, 0.5,
		func(x []float64) float64 { return (x[0] - x[1]) * 1e3 }, [][2]float64{{30, 30.021}, {30.022, 30.035}},
	},
	{
		"bushing in a housing", "a course page on tolerance stacks", "checked against a secondary source",
		"housing = 20.0 mm ± 0.1 mm\nflange = 15.0 mm ± 0.05 mm\nbush = 4.8 mm ± 0.08 mm\nring = 0.2 mm ± 0.02 mm\ngap = housing - flange - bush - ring in mm\n",
		"gap", "mm", 0, -0.25, 0.25, 0.005,
		func(x []float64) float64 { return x[0] - x[1] - x[2] - x[3] },
		[][2]float64{{19.9, 20.1}, {14.95, 15.05}, {4.72, 4.88}, {.18, .22}},
	},
}

// clutch is the contact angle in degrees.
func clutch(x []float64) float64 {
	return math.Acos((x[0]+x[1])/(x[2]-x[1])) * 180 / math.Pi
}

// corners gives the least and greatest value of f at the corners of a box. All
// the stacks rise or fall with each of their dimensions, so that is all.
func corners(f func([]float64) float64, box [][2]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	x := make([]float64, len(box))
	for k := range 1 << len(box) {
		for i := range box {
			x[i] = box[i][k>>i&1]
		}
		y := f(x)
		low, high = math.Min(low, y), math.Max(high, y)
	}
	return low, high
}

// TestWorstStacks compares worst cases with published ones to their last digit,
// with the corners worked out here to nine figures of the width, and sets
// limits just within and just beyond.
func TestWorstStacks(t *testing.T) {
	for _, c := range worstStacks {
		low, high := corners(c.exact, c.inputs)
		if math.Abs(low-c.low) > c.digit*1.0001 || math.Abs(high-c.high) > c.digit*1.0001 {
			t.Errorf("%s: %.8g to %.8g at the corners, published %.8g to %.8g (%s, %s)", c.name, low, high, c.low, c.high, c.source, c.status)
		}
		step := 1e-6 * (high - low)
		lit := func(x float64) string { return fmt.Sprintf("%.12g %s", x, c.unit) }
		text := c.text + strings.Join([]string{
			"limit below: " + c.figure + " >= " + lit(low-step),
			"limit above: " + c.figure + " <= " + lit(high+step),
			"limit not_below: " + c.figure + " >= " + lit(low+step),
			"limit not_above: " + c.figure + " <= " + lit(high-step),
			"limit between: " + c.figure + " >= " + lit(low-step) + " and " + c.figure + " <= " + lit(high+step),
			"limit not_between: " + c.figure + " >= " + lit(low+step) + " and " + c.figure + " <= " + lit(high-step), "",
		}, "\n")
		r, list := sheet(t, text, nil)
		if list.HasErrors() {
			t.Errorf("%s: %v", c.name, list)
			continue
		}
		f := r.Figure(c.figure)
		nominal := f.Unit.FromSI(f.Value.(float64))
		if f.Unit.Symbol != c.unit || math.Abs(nominal-c.nominal) > c.digit*1.0001 {
			t.Errorf("%s: %v %s, published %v %s (%s, %s)", c.name, nominal, f.Unit.Symbol, c.nominal, c.unit, c.source, c.status)
		}
		for _, end := range []struct {
			what      string
			got, want float64
		}{
			{"least", nominal - f.Spread.TolLo/f.Unit.Factor, low},
			{"greatest", nominal + f.Spread.TolHi/f.Unit.Factor, high},
			{"least of all", f.Unit.FromSI(f.Spread.Least), low},
			{"greatest of all", f.Unit.FromSI(f.Spread.Greatest), high},
		} {
			if math.Abs(end.got-end.want) > 1e-9*(high-low) {
				t.Errorf("%s: the %s is %.10g %s, want %.10g", c.name, end.what, end.got, c.unit, end.want)
			}
		}
		if f.Spread.Searched {
			t.Errorf("%s: its spread is only searched", c.name)
		}
		for _, l := range r.Limits() {
			want := calc.Proved
			if strings.HasPrefix(l.Name, "not_") {
				want = calc.Broken
			}
			if l.Verdict != want {
				t.Errorf("%s: limit %s is %s, want %s", c.name, l.Name, l.Verdict, want)
			}
		}
	}
}

// The two stacks whose published verdict is that they fail: the clip wants 0.10
// to 0.50 mm and has neither, and the bushing asks for ± 0.2 mm and has ± 0.25 mm.
func TestWorstStackVerdicts(t *testing.T) {
	for _, c := range []struct {
		stack, cond string
		want        calc.Verdict
	}{
		{"plate, spacer and cap in a pocket", "gap >= 0.10 mm", calc.Broken},
		{"plate, spacer and cap in a pocket", "gap <= 0.50 mm", calc.Broken},
		{"plate, spacer and cap in a pocket", "gap >= -0.15 mm and gap <= 0.55 mm", calc.Proved},
		{"bushing in a housing", "abs(gap) <= 0.2 mm", calc.Broken},
		{"bushing in a housing", "abs(gap) <= 0.25 mm", calc.Proved},
		{"blocks in a frame", "w >= 0.010 in", calc.Broken},
		{"blocks in a frame, d chosen", "w >= 0.010 in", calc.Proved},
		// At its very edge the noise of 30 mm is as large as the slack: it holds, and no more is asked.
		{"fit 30 H7/g6", "clear >= 7 um and clear <= 41 um", calc.Searched},
		{"fit 30 H7/g6", "clear >= 6.9999 um and clear <= 41.0001 um", calc.Proved},
		{"fit 30 H7/p6", "clear < 0 um", calc.Proved},
		{"fit 30 H7/p6", "clear < -1.0001 um", calc.Broken},
	} {
		for _, s := range worstStacks {
			if s.name != c.stack {
				continue
			}
			r, list := sheet(t, s.text+"limit l: "+c.cond+"\n", nil)
			if list.HasErrors() {
				t.Errorf("%s: %v", c.stack, list)
			} else if v := r.Limits()[0].Verdict; v != c.want && !(v == calc.Proved && c.want == calc.Searched) {
				t.Errorf("%s: %s is %s, want %s", c.stack, c.cond, v, c.want)
			}
		}
	}
}
