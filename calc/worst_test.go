package calc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"workings/calc"
)

// limitOf finds a limit of a result.
func limitOf(t testing.TB, r *calc.Result, name string) *calc.Limit {
	t.Helper()
	for _, l := range r.Limits() {
		if l.Name == name {
			return l
		}
	}
	t.Fatalf("there is no limit %s", name)
	return nil
}

// worstPlace is where a limit is least favourable: an input that At does not
// list is at its nominal value. SI, by name.
func worstPlace(r *calc.Result, l *calc.Limit) func(name string) float64 {
	at := map[string]float64{}
	for _, s := range l.At {
		at[s.Name] = s.SI
	}
	return func(name string) float64 {
		if x, ok := at[name]; ok {
			return x
		}
		x, _ := r.Figure(name).Value.(float64)
		return x
	}
}

// A span is the least and greatest value of an input over its tolerance and
// its range, SI, as the sheet states them.
type span struct{ low, high float64 }

// holdsWithin reports whether a place lies within the spans, but for noise.
func holdsWithin(at func(string) float64, box map[string]span) error {
	for name, s := range box {
		noise := 1e-12 * math.Max(math.Abs(s.low), math.Abs(s.high))
		if x := at(name); !(x >= s.low-noise && x <= s.high+noise) {
			return fmt.Errorf("%s = %.17g is outside %.17g to %.17g", name, x, s.low, s.high)
		}
	}
	return nil
}

// worstSheets are four small sheets whose worst case is known by hand, with
// what breaks their limit, worked out here with numbers and not by the program.
// Source: own arithmetic, in the remarks; common practice.
var worstSheets = []struct {
	name, text string
	box        map[string]span
	limits     []worstLimit
}{
	{
		// A heater: the most power is 26.4^2 / 9 = 696.96 / 9 = 77.44 W, at the
		// high voltage and the low resistance. Deviations taken one at a time and
		// added give 69.696 - 57.6 + 64 - 57.6 + 57.6 = 76.096 W: too little.
		"heater",
		"u = 24 V ± 2.4 V\nr = 10 ohm ± 1 ohm\np = u^2 / r in W\n",
		map[string]span{"u": {21.6, 26.4}, "r": {9, 11}},
		[]worstLimit{
			{"heat", "p < 77 W", calc.Broken, func(at func(string) float64) bool { return at("u")*at("u")/at("r") >= 77 }},
			{"near", "p <= 77.439999 W", calc.Broken, func(at func(string) float64) bool { return at("u")*at("u")/at("r") > 77.439999 }},
			// Met exactly: no room is left, and one may ask no more.
			{"edge", "p <= 77.44 W", calc.Proved, nil},
			{"strict", "p < 77.44 W", calc.Broken, func(at func(string) float64) bool {
				return at("u")*at("u")/at("r") >= 77.44*(1-1e-12)
			}},
			{"room", "p < 77.4401 W", calc.Proved, nil},
			// The least is 21.6^2 / 11 = 42.4145... W.
			{"cold", "p > 42.5 W", calc.Broken, func(at func(string) float64) bool { return at("u")*at("u")/at("r") <= 42.5 }},
			{"warm", "p > 42.41 W", calc.Proved, nil},
			{"both", "p >= 42.41 W and p <= 77.44 W", calc.Proved, nil},
			{"inverse", "not (p > 77.44 W)", calc.Proved, nil},
		},
	},
	{
		// A gap in the middle of a range, away from its ends and its nominal value.
		"gap",
		"c = 0 mm to 10 mm nominal 5 mm\n",
		map[string]span{"c": {0, 10e-3}},
		[]worstLimit{
			{"gap", "c < 6 mm or c > 7 mm", calc.Broken, func(at func(string) float64) bool { c := at("c") * 1e3; return c >= 6 && c <= 7 }},
			{"narrow", "c < 6 mm or c > 6.01 mm", calc.Broken, func(at func(string) float64) bool {
				c := at("c") * 1e3
				return c >= 6*(1-1e-12) && c <= 6.01*(1+1e-12)
			}},
			{"touch", "c <= 6 mm or c >= 6 mm", calc.Proved, nil},
			{"lap", "c < 7 mm or c > 6 mm", calc.Proved, nil},
			{"ends", "c >= 0 mm and c <= 10 mm", calc.Proved, nil},
			{"inverse", "not (c > 6 mm and c < 7 mm)", calc.Broken, func(at func(string) float64) bool { c := at("c") * 1e3; return c > 6 && c < 7 }},
			{"choice", "if c < 5 mm then true else c < 6 mm or c > 7 mm", calc.Broken, func(at func(string) float64) bool { c := at("c") * 1e3; return c >= 6 && c <= 7 }},
		},
	},
	{
		// Seven plates: 7 * 1.1 mm = 7.7 mm. A condition with `or` has its worst
		// case at a corner that no plate alone reaches.
		"stack",
		"p1 = 1 mm ± 0.1 mm\np2 = 1 mm ± 0.1 mm\np3 = 1 mm ± 0.1 mm\np4 = 1 mm ± 0.1 mm\n" +
			"p5 = 1 mm ± 0.1 mm\np6 = 1 mm ± 0.1 mm\np7 = 1 mm ± 0.1 mm\nb = 4 mm\ns = p1 + p2 + p3 + p4 + p5 + p6 + p7\n",
		map[string]span{"p1": {.9e-3, 1.1e-3}, "p2": {.9e-3, 1.1e-3}, "p3": {.9e-3, 1.1e-3}, "p4": {.9e-3, 1.1e-3}, "p5": {.9e-3, 1.1e-3}, "p6": {.9e-3, 1.1e-3}, "p7": {.9e-3, 1.1e-3}},
		[]worstLimit{
			{"stack", "s < 7.5 mm or b > 5 mm", calc.Broken, func(at func(string) float64) bool { return plates(at) >= 7.5 }},
			{"near", "s <= 7.6999 mm or b > 5 mm", calc.Broken, func(at func(string) float64) bool { return plates(at) > 7.6999 }},
			{"strict", "s < 7.7 mm or b > 5 mm", calc.Broken, func(at func(string) float64) bool { return plates(at) >= 7.7*(1-1e-12) }},
			{"edge", "s <= 7.7 mm or b > 5 mm", calc.Proved, nil},
			{"wide", "s < 7.5 mm or b < 5 mm", calc.Proved, nil},
			{"low", "s >= 6.3 mm", calc.Proved, nil},
			{"none", "s < 6.5 mm or s > 6.9 mm", calc.Broken, func(at func(string) float64) bool { s := plates(at); return s >= 6.5*(1-1e-12) && s <= 6.9*(1+1e-12) }},
		},
	},
	{
		// More ranges than a grid is laid over, and the best of each alone leads
		// away: f is 6 at a = b = -1 and the others 1 (-1 + 2 + 3 + 2), and 4 at a = 1.
		"ranges",
		"a = -1 to 1 nominal 0\nb = -1 to 1 nominal 0\nc = -1 to 1 nominal 0\nd = -1 to 1 nominal 0\n" +
			"e = -1 to 1 nominal 0\ng = -1 to 1 nominal 0\nh = -1 to 1 nominal 0\nf = a*(1+2*b) - 3*b + 0.4*(c+d+e+g+h)\n",
		map[string]span{"a": {-1, 1}, "b": {-1, 1}, "c": {-1, 1}, "d": {-1, 1}, "e": {-1, 1}, "g": {-1, 1}, "h": {-1, 1}},
		[]worstLimit{
			{"top", "f < 5.5", calc.Broken, func(at func(string) float64) bool { return seven(at) >= 5.5 }},
			{"near", "f <= 5.999999", calc.Broken, func(at func(string) float64) bool { return seven(at) > 5.999999 }},
			{"strict", "f < 6", calc.Broken, func(at func(string) float64) bool { return seven(at) >= 6*(1-1e-12) }},
			{"edge", "f <= 6", calc.Proved, nil},
			// The least is -8, at a = -1, b = 1 (-3 - 3 - 2).
			{"low", "f > -7.9", calc.Broken, func(at func(string) float64) bool { return seven(at) <= -7.9 }},
			{"floor", "f >= -8", calc.Proved, nil},
		},
	},
}

type worstLimit struct {
	name, cond string
	want       calc.Verdict
	breaks     func(at func(string) float64) bool // of a broken one: it is broken at this place
}

// plates is the height of the stack in millimetres.
func plates(at func(string) float64) float64 {
	return (at("p1") + at("p2") + at("p3") + at("p4") + at("p5") + at("p6") + at("p7")) * 1e3
}

func seven(at func(string) float64) float64 {
	a, b := at("a"), at("b")
	return a*(1+2*b) - 3*b + 0.4*(at("c")+at("d")+at("e")+at("g")+at("h"))
}

func worstText(text string, limits []worstLimit) string {
	var b strings.Builder
	b.WriteString(text)
	for _, l := range limits {
		fmt.Fprintf(&b, "limit %s: %s\n", l.name, l.cond)
	}
	return b.String()
}

// TestWorstByHand judges the four sheets. What is broken is broken where the
// program says; what holds, were it with nothing to spare, is proved to.
func TestWorstByHand(t *testing.T) {
	for _, c := range worstSheets {
		t.Run(c.name, func(t *testing.T) {
			r, list := sheet(t, worstText(c.text, c.limits), nil)
			if list.HasErrors() {
				t.Fatal(list)
			}
			for _, want := range c.limits {
				l := limitOf(t, r, want.name)
				if l.Verdict != want.want {
					t.Errorf("limit %s: %s is %s, want %s", want.name, want.cond, l.Verdict, want.want)
					continue
				}
				at := worstPlace(r, l)
				if err := holdsWithin(at, c.box); err != nil {
					t.Errorf("limit %s: its place: %v", want.name, err)
				}
				if want.want == calc.Broken && !want.breaks(at) {
					t.Errorf("limit %s: %s is not broken at %+v", want.name, want.cond, l.At)
				}
			}
		})
	}
}

// A limit that fails at one place alone, or by a jump of no width, is a trap
// for any search. It must not be proved.
func TestWorstNeedle(t *testing.T) {
	for _, c := range []struct{ text, cond string }{
		{"c = 0 to 10 nominal 5\n", "c < 6 or c > 6"},
		{"c = 0 to 10 nominal 5\n", "c != 3.7"},
		{"c = 0 to 10 nominal 5\n", "abs(c - 7.3) > 0"},
		{"c = 0 to 10 nominal 5\nx = if c == 7 then 2 else 1\n", "x < 2"},
		{"c = 0 to 10 nominal 5\nx = if c < 7.3 then 1 else if c > 7.3 then 1 else 3\n", "x <= 1"},
		{"a = -1 to 1 nominal 0.5\nb = -1 to 1 nominal 0.5\n", "hypot(a - 0.3, b + 0.7) > 0"},
		{"a = -1 to 1 nominal 0.5\nb = -1 to 1 nominal 0.5\n", "a^2 + b^2 > 0"},
	} {
		r, list := sheet(t, c.text+"limit l: "+c.cond+"\n", nil)
		if v := r.Limits()[0].Verdict; v == calc.Proved || v == calc.Unknown {
			t.Errorf("%slimit %s is %s: %v", c.text, c.cond, v, list)
		}
	}
}

// The place of a broken comparison carries both sides: they are what the
// formulas give there.
func TestWorstSides(t *testing.T) {
	r, list := sheet(t, "u = 24 V ± 2.4 V\nr = 10 ohm ± 1 ohm\nmost = 60 W ± 1 W\nlimit heat: u^2 / r <= most\nlimit none: 3 W <= 4 W\n", nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	l := limitOf(t, r, "heat")
	if l.Verdict != calc.Broken || l.WorstLeft == nil || l.WorstRight == nil {
		t.Fatalf("heat: %s, its sides %v and %v", l.Verdict, l.WorstLeft, l.WorstRight)
	}
	at := worstPlace(r, l)
	left, right := l.WorstLeft.Value.(float64), l.WorstRight.Value.(float64)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"left side at its place", left, at("u") * at("u") / at("r")},
		{"right side at its place", right, at("most")},
		{"left side", left, 77.44}, // 26.4^2 / 9
		{"right side", right, 59},
		{"difference", l.Worst, 18.44},
		{"margin", l.Margin, -18.44},
		{"ratio", l.Ratio, 59 / 77.44},
	} {
		if math.Abs(c.got-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("%s: %.12g, want %.12g", c.what, c.got, c.want)
		}
	}
	if l := limitOf(t, r, "none"); l.Verdict != calc.Proved || l.WorstLeft != nil || l.WorstRight != nil || len(l.At) > 0 {
		t.Errorf("a limit that nothing moves: %s, sides %v and %v, at %v", l.Verdict, l.WorstLeft, l.WorstRight, l.At)
	}
}

// A tolerance and a range of one input work together, and a tolerance weighs
// more at one end of another's range. An uncertainty is no part of it.
func TestWorstTogether(t *testing.T) {
	for _, c := range []struct {
		text, cond string
		want       calc.Verdict
	}{
		// From 10 - 0.5 to 20 + 0.5: common practice, a range of the setting and
		// the tolerance of what is set.
		{"x = 10 mm ± 0.5 mm to 20 mm nominal 15 mm\n", "x <= 20.5 mm", calc.Proved},
		{"x = 10 mm ± 0.5 mm to 20 mm nominal 15 mm\n", "x <= 20.49 mm", calc.Broken},
		{"x = 10 mm ± 0.5 mm to 20 mm nominal 15 mm\n", "x >= 9.5 mm", calc.Proved},
		{"x = 10 mm ± 0.5 mm to 20 mm nominal 15 mm\n", "x >= 9.51 mm", calc.Broken},
		{"x = 10 mm +0.5 mm -0.1 mm to 20 mm\n", "x >= 9.9 mm and x <= 20.5 mm", calc.Proved},
		{"x = 10 mm +0.5 mm -0.1 mm to 20 mm\n", "x >= 9.91 mm and x <= 20.5 mm", calc.Broken},
		{"x = 10 mm +0.5 mm -0.1 mm to 20 mm\n", "x >= 9.9 mm and x <= 20.49 mm", calc.Broken},
		// 10 * 1.1 at the end, 1.1 at the start.
		{"x = 1 to 10 nominal 1\nk = 1 ± 10 %\n", "k * x <= 11", calc.Proved},
		{"x = 1 to 10 nominal 1\nk = 1 ± 10 %\n", "k * x <= 10.99", calc.Broken},
		{"m = 5 kg uncertain 1 kg\nk = 1 ± 10 %\n", "k * m <= 5.5 kg", calc.Proved},
		// x - x is nothing, wherever x lies; that it holds need not be proved.
		{"x = 10 mm ± 0.5 mm to 20 mm\n", "x - x <= 0 mm", calc.Searched},
		{"x = 10 mm ± 0.5 mm to 20 mm\n", "x / x <= 1", calc.Searched},
	} {
		r, list := sheet(t, c.text+"limit l: "+c.cond+"\n", nil)
		if v := r.Limits()[0].Verdict; v != c.want && !(v == calc.Proved && c.want == calc.Searched) {
			t.Errorf("%slimit %s is %s, want %s: %v", c.text, c.cond, v, c.want, list)
		}
	}
}

// Where a value is missing somewhere within the box, nothing is promised.
func TestWorstMissing(t *testing.T) {
	for _, c := range []struct{ text, cond string }{
		{"x = -1 to 1 nominal 0.5\n", "1 / x > -1e9"},
		{"x = -1 to 1 nominal 0.3\n", "1 / x^2 > 0"},
		{"x = 0 to 10 nominal 5\n", "1 / (x - 6.543) != 2"},
		{"x = 0 to 10 nominal 5\ny = 0 to 10 nominal 5\n", "sqrt(x * y - 0.001) >= 0"},
		{"x = 1 ± 1.001\n", "ln(x) < 5"},
		{"x = 0 to 10 nominal 5\n", "lookup([0, 5, 9.99], [1, 2, 3], x) < 4"},
		{"x = 0 to 10 nominal 5\n", "asin(x / 9.99) < 180 °"},
		{"x = 0 to 3 nominal 1\n", "(x - 2.5)^0.5 < 5 or x < 2.499"},
		{"x = 0 ± 10\n", "tan(x) < 1e30"},
		{"x = 0.5 to 2 nominal 1\n", "exp(x * 400) > 0"},
	} {
		r, list := sheet(t, c.text+"limit l: "+c.cond+"\n", nil)
		if l := r.Limits()[0]; l.Verdict == calc.Proved {
			t.Errorf("%slimit %s is %s: %v", c.text, c.cond, l.Verdict, list)
		}
	}
	// What stands in the branch that is not taken is not asked for.
	for _, c := range []struct{ text, cond string }{
		{"x = 0 to 3 nominal 1\n", "x < 2.5 or sqrt(x - 2.4) < 5"},
		{"x = -1 to 1 nominal 0.5\ny = if x > 0.1 then 1 / x else 3\n", "y <= 10"},
		{"x = 0 to 1 nominal 0.5\n", "sqrt(x) <= 1"},
		{"x = 0 to 1 nominal 0.5\n", "x^0.5 <= 1"},
		{"x = -1 to 1 nominal 0.5\n", "asin(x) <= 90 °"},
		{"x = 0 to 10 nominal 5\n", "lookup([0, 5, 10], [1, 2, 3], x) <= 3"},
	} {
		r, list := sheet(t, c.text+"limit l: "+c.cond+"\n", nil)
		if l := r.Limits()[0]; !l.Holds() {
			t.Errorf("%slimit %s is %s: %v", c.text, c.cond, l.Verdict, list)
		}
	}
}
