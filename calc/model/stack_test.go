package model

import (
	"math"
	"testing"
)

func TestStackPublished(t *testing.T) {
	const fic = "ficientdesign.com, tolerance stack-up analysis (seen)"
	n, _ := numbers(t, "stack_up", given{"lengths": []float64{4.020, 2.000, 1.500, 0.500}, "signs": []float64{1, -1, -1, -1}, "tolerances": []float64{0.005, 0.005, 0.003, 0.002}})
	check(t, "stack_up", "four blocks, nominal", fic, n("nominal"), 0.020, 1e-9)
	check(t, "stack_up", "four blocks, worst", fic, n("worst"), 0.015, 1e-9)
	check(t, "stack_up", "four blocks, low", fic, n("low"), 0.005, 1e-9)
	check(t, "stack_up", "four blocks, high", fic, n("high"), 0.035, 1e-9)
	check(t, "stack_up", "four blocks, statistical", fic, n("rss"), 0.00794, 0.000005/0.00794)

	const ten = "ten equal parts of ±0.1 mm, rss tolerance analysis page (seen)"
	ones := make([]float64, 10)
	for i := range ones {
		ones[i] = 1
	}
	n, _ = numbers(t, "stack_up", given{"lengths": 5e-3, "signs": ones, "tolerances": 0.1e-3})
	check(t, "stack_up", "ten parts, worst", ten, n("worst"), 1.0e-3, 1e-9)
	check(t, "stack_up", "ten parts, statistical", ten, n("rss"), 0.316e-3, 0.0005/0.316)

	n, _ = numbers(t, "stack_up", given{"lengths": []float64{40, 25, 2, 10}, "signs": []float64{1, -1, -1, -1}, "tolerances": []float64{0.10, 0.05, 0.03, 0.05}})
	check(t, "stack_up", "housing, nominal", "metricmech.com, worked example (nominal seen)", n("nominal"), 3.00, 1e-9)

	// Rails touch when each has grown into the gap of 3 mm.
	n, _ = numbers(t, "stack_up", given{"lengths": []float64{10.003, 10}, "signs": []float64{1, -1}, "tolerances": 0.0, "expansions": []float64{0, 11.7e-6}, "rises": 40.64 - 15})
	checkAbs(t, "stack_up", "rails of 10 m touch at 40.64 °C", "Singer and Pytel, Strength of Materials, prob. 263 (statement seen, answer from memory)", n("hot"), 0, 1e-6)
}

func TestStack(t *testing.T) {
	a := given{"lengths": []float64{0.1, 0.06, 0.03}, "signs": []float64{1, -1, -1}, "tolerances": []float64{0.2e-3, 0.1e-3, 0.1e-3}}
	n, _ := numbers(t, "stack_up", a)
	near(t, "nominal", n("nominal"), 0.01, 1e-12)
	near(t, "inflated", n("inflated"), 1.5*n("rss"), 1e-12)
	if n("rss") > n("worst") {
		t.Error("the statistical limit is wider than the worst case")
	}
	if n("thermal") != 0 || n("hot") != n("nominal") {
		t.Error("a stack at one temperature does not grow")
	}
	out, _, err := Call(Find("stack_up"), a)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, s := range out.Get("shares").([]float64) {
		sum += s
	}
	near(t, "shares", sum, 1, 1e-12)

	// Worst case and spread by trying: all corners, and a regular sample of uniform lengths.
	lo, hi := math.Inf(1), math.Inf(-1)
	for c := range 8 {
		g := 0.0
		for i := range 3 {
			d := a["tolerances"].([]float64)[i]
			if c>>i&1 == 1 {
				d = -d
			}
			g += a["signs"].([]float64)[i] * (a["lengths"].([]float64)[i] + d)
		}
		lo, hi = min(lo, g), max(hi, g)
	}
	check(t, "stack_up", "low", "independent: all corners of three tolerances", n("low"), lo, 1e-12)
	check(t, "stack_up", "high", "independent: all corners of three tolerances", n("high"), hi, 1e-12)

	warm := a.with("expansions", 23e-6, "rises", 50.0)
	w, _ := numbers(t, "stack_up", warm)
	near(t, "one material: the gap grows like a length of it", w("hot"), 0.01*(1+23e-6*50), 1e-12)
	cool, _ := numbers(t, "stack_up", warm.with("rises", -50.0))
	near(t, "and shrinks alike", cool("thermal"), -w("thermal"), 1e-12)
	near(t, "hot low", w("hot_low"), w("hot")-w("worst"), 1e-12)

	exact, _ := numbers(t, "stack_up", a.with("tolerances", 0.0))
	if exact("worst") != 0 || exact("rss") != 0 {
		t.Error("exact lengths make an exact gap")
	}
	refused(t, "stack_up", "tolerances", a.with("tolerances", -0.1e-3))
	refused(t, "stack_up", "signs", a.with("signs", []float64{1, -1}))
	refused(t, "stack_up", "expansions", a.with("expansions", 23e-6))
	refused(t, "stack_up", "lengths", a.with("lengths", []float64{1, math.NaN(), 1}))
}
