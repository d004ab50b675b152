package calc_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

func trials(t testing.TB, r *calc.Result, name string, opt calc.TrialOptions) *calc.Trials {
	t.Helper()
	if opt.N == 0 {
		opt.N = 1_000_000
	}
	out, err := r.Trials(name, opt)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// JCGM 101:2008 9.2.2 to 9.2.4, additive model, from memory (tables 2 to 4).
func TestAdditiveModel(t *testing.T) {
	four := func(spread ...string) string {
		var b strings.Builder
		for i, s := range spread {
			fmt.Fprintf(&b, "x%d = 0 mm uncertain %s\n", i+1, s)
		}
		return b.String() + "y = x1 + x2 + x3 + x4\n"
	}
	const normal, rect = "1 mm k 1", "1.7320508075688772 mm rectangular"
	const wide = "17.320508075688772 mm rectangular" // standard deviation 10
	for _, c := range []struct {
		name, sheet    string
		u, half, guf   float64 // mm: u, half width of the 95 % interval by trials and by the law of propagation
		tolU, tolWidth float64
	}{
		{"9.2.2 normal", four(normal, normal, normal, normal), 2.00, 3.92, 3.92, 0.01, 0.02},
		{"9.2.3 rectangular", four(rect, rect, rect, rect), 2.00, 3.88, 3.92, 0.01, 0.02},
		{"9.2.4 one wide", four(rect, rect, rect, wide), 10.15, 17.0, 19.9, 0.03, 0.05},
	} {
		r, list := sheet(t, c.sheet, nil)
		if len(list) > 0 {
			t.Fatal(list)
		}
		m := trials(t, r, "y", calc.TrialOptions{Level: 0.95, Seed: 1})
		if math.Abs(m.Std*1e3-c.u) > c.tolU || math.Abs((m.High-m.Low)/2*1e3-c.half) > c.tolWidth {
			t.Errorf("%s: u %v, ± %v, published %v, ± %v", c.name, m.Std*1e3, (m.High-m.Low)/2*1e3, c.u, c.half)
		}
		if guf := r.Figure("y").Spread.Std * 1e3 * 1.959964; math.Abs(guf-c.guf) > 0.05 {
			t.Errorf("%s: law of propagation ± %v, published ± %v", c.name, guf, c.guf)
		}
		if found := r.Curvature(); len(found) > 0 {
			t.Errorf("%s: a sum has no curvature: %v", c.name, found)
		}
	}
}

// JCGM 101:2008 9.3, mass calibration, from memory (table 6 and table 8): the
// law of propagation gives u = 0.0539 mg, trials 0.0754 mg and the interval
// 1.0834 mg to 1.3825 mg; the curvature lies in a product of two inputs.
const massCalibration = `
m_c  = 100000 mg uncertain 0.050 mg k 1
dm_c = 1.234 mg uncertain 0.020 mg k 1
air  = 1.20 kg/m^3 uncertain 0.10 kg/m^3 rectangular
rho_w = 8000 kg/m^3 uncertain 1000 kg/m^3 rectangular
rho_r = 8000 kg/m^3 uncertain 50 kg/m^3 rectangular
dm = (m_c + dm_c) * (1 + (air - 1.2 kg/m^3) * (1 / rho_w - 1 / rho_r)) - 100000 mg in mg
limit heavy: dm <= 2 mg
  else notice "too heavy"
`

func TestMassCalibration(t *testing.T) {
	r, list := sheet(t, massCalibration, nil)
	if len(list) > 0 {
		t.Fatal(list)
	}
	f := r.Figure("dm")
	if got := f.Value.(float64) * 1e6; math.Abs(got-1.2340) > 0.00005 {
		t.Errorf("dm = %v mg", got)
	}
	if got := f.Spread.Std * 1e6; math.Abs(got-0.0539) > 0.00005 {
		t.Errorf("law of propagation: %v mg, published 0.0539", got)
	}
	m := trials(t, r, "dm", calc.TrialOptions{Level: 0.95, Seed: 1})
	for _, c := range []struct{ got, want, tol float64 }{
		{m.Mean * 1e6, 1.2340, 0.0005}, {m.Std * 1e6, 0.0754, 0.0005}, // Printed are the ends of a shortest interval, which the standard's own
		// adaptive procedure knows to 0.005 mg.
		{m.Low * 1e6, 1.0834, 0.002}, {m.High * 1e6, 1.3825, 0.002},
		// The shortest interval of a flat-topped distribution is less sure of its place.
		{(m.ShortHigh - m.ShortLow) * 1e6, 1.3825 - 1.0834, 0.002},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("trials: %v, published %v", c.got, c.want)
		}
	}
	found := r.Curvature()
	if len(found) != 1 || found[0].Code != "curved" || !strings.HasPrefix(found[0].Msg, "dm curves") {
		t.Errorf("the second order term was not found: %v", found)
	}
}

// The same seed gives the same trials, another seed others, and a figure that
// has no value in some trials has no distribution.
func TestTrialsRepeat(t *testing.T) {
	r, _ := sheet(t, "a = 2 mm uncertain 0.5 mm dof 4\nb = 3 mm ± 0.1 mm\nroot = sqrt(a - 1 mm)\ny = a * b\nc = 1 mm\n", nil)
	opt := calc.TrialOptions{N: 20000, Seed: 7}
	one, two := trials(t, r, "y", opt), trials(t, r, "y", opt)
	if *one != *two {
		t.Errorf("%v and %v", one, two)
	}
	opt.Seed = 8
	if three := trials(t, r, "y", opt); *one == *three {
		t.Error("another seed gave the same")
	}
	// Student's t with 4 degrees of freedom has the variance 4/(4-2).
	if got, want := one.Std, 0.25e-3*math.Sqrt2*3e-3; math.Abs(got/want-1) > 0.05 {
		t.Errorf("std %v, want %v", got, want)
	}
	opt.Tolerances = true
	if wide := trials(t, r, "y", opt); wide.Inputs != 2 || wide.Std <= one.Std {
		t.Errorf("with tolerances %v, without %v", wide, one)
	}
	for name, want := range map[string]string{"root": "has no value in", "c": "depends on no value", "none": "there is no figure"} {
		if _, err := r.Trials(name, opt); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := r.Trials("y", calc.TrialOptions{N: 5000, Progress: func(int) bool { return false }}); err != calc.ErrStopped {
		t.Errorf("not stopped: %v", err)
	}
}

// Folds and products are found, and reported where they begin.
func TestCurvatureIsFound(t *testing.T) {
	r, list := sheet(t, strings.Join([]string{
		"a = 0 mm uncertain 1 mm",
		"b = 5 mm uncertain 0.1 mm",
		"fold = abs(a)",
		"next = fold * 2 + b",
		"flat = b^2",
		"peak = max(a, 0 mm)",
		"square = a^2",
		"limit l: next <= 1 m and flat <= 1 m^2 and peak <= 1 m and square <= 1 m^2",
		"  else notice \"no\"",
		"",
	}, "\n"), nil)
	if len(list) > 0 {
		t.Fatal(list)
	}
	var names []string
	for _, d := range r.Curvature() {
		names = append(names, strings.Fields(d.Msg)[0])
	}
	if got := strings.Join(names, " "); got != "fold peak square" {
		t.Errorf("found %s", got)
	}
}

// Random expressions of several uncertain inputs, some of them used more than
// once: the standard uncertainty by the law of propagation agrees with trials
// wherever the audit finds no curvature.
func TestRandomExpressions(t *testing.T) {
	src := rand.New(rand.NewPCG(3, 3))
	var gen func(depth int) string
	gen = func(depth int) string {
		if depth == 0 || src.IntN(6) == 0 {
			return fmt.Sprintf("x%d", src.IntN(5))
		}
		a, b := gen(depth-1), gen(depth-1)
		switch src.IntN(9) {
		case 0, 1:
			return "(" + a + " + " + b + ")"
		case 2:
			return "(" + a + " - " + b + ")"
		case 3, 4:
			return "(" + a + " * " + b + ")"
		case 5:
			return "(" + a + " / (1 + " + b + "^2))"
		case 6:
			return "sqrt(1 + " + a + "^2)"
		case 7:
			return "(atan(" + a + ") / 1 rad)"
		}
		return "ln(2 + abs(" + a + ")) * exp(-abs(" + b + ") / 3)"
	}
	compared := 0
	for range 120 {
		var b strings.Builder
		for i := range 5 {
			fmt.Fprintf(&b, "x%d = %.3f uncertain %.2f %%\n", i, 0.5+2*src.Float64(), 0.2+2*src.Float64())
		}
		fmt.Fprintf(&b, "y = %s\nlimit l: y < 1e9\n  else notice \"no\"\n", gen(4))
		r, list := sheet(t, b.String(), nil)
		if list.HasErrors() {
			t.Fatalf("%s%v", b.String(), list)
		}
		f := r.Figure("y")
		if f.Spread == nil || f.Spread.Std < 1e-6*math.Abs(f.Value.(float64)) || len(r.Curvature()) > 0 {
			continue
		}
		m := trials(t, r, "y", calc.TrialOptions{N: 40000, Seed: 5})
		if off := math.Abs(m.Std/f.Spread.Std - 1); off > 0.06 {
			t.Errorf("%sstd %v by slopes, %v by trials", b.String(), f.Spread.Std, m.Std)
		}
		compared++
	}
	t.Logf("%d of 120 compared", compared)
	if compared < 80 {
		t.Errorf("only %d compared", compared)
	}
}

func BenchmarkTrials(b *testing.B) {
	sh, _ := syntax.Parse(diag.NewFile("design.calc", []byte(massCalibration)), nil)
	p, _ := calc.Compile(calc.Input{Blocks: []calc.Block{{Sheet: sh}}})
	r, _ := p.Run()
	for b.Loop() {
		trials(b, r, "dm", calc.TrialOptions{N: 100_000})
	}
}

// A hundred chains of a hundred lines; one of them hangs on the parameter.
func chains() string {
	var s strings.Builder
	for c := range 100 {
		fmt.Fprintf(&s, "p%d = 1 mm ± 0.01 mm\nx%d_0 = p%d\n", c, c, c)
		for i := 1; i < 99; i++ {
			fmt.Fprintf(&s, "x%d_%d = x%d_%d * 0.9999 + 0.001 mm\n", c, i, c, i-1)
		}
	}
	return s.String()
}

func TestVary(t *testing.T) {
	r, list := sheet(t, "a = 2 mm\nb = a * 3\nc = section_rectangle(width: a, height: b)\nd = 5 mm\ns = 1 mm / (a - 3 mm)\n", nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	out, err := r.Vary("a", []float64{1e-3, 4e-3}, "b")
	if err != nil || math.Abs(out[0]-3e-3) > 1e-15 || math.Abs(out[1]-12e-3) > 1e-15 {
		t.Error(out, err)
	}
	area := "c.area"
	if out, err = r.Vary("a", []float64{1e-3}, area); err != nil || math.Abs(out[0]/3e-6-1) > 1e-12 {
		t.Error(out, err)
	}
	if out, err = r.Vary("a", []float64{1e-3, 3e-3}, "s"); err != nil || math.IsNaN(out[0]) || !math.IsNaN(out[1]) {
		t.Error(out, err)
	}
	if out, err = r.Vary("d", []float64{1e-3}, "b"); err != nil || math.Abs(out[0]-6e-3) > 1e-15 {
		t.Error(out, err)
	}
	for _, p := range []string{"b", "none"} {
		if _, err := r.Vary(p, []float64{1}, "b"); err == nil {
			t.Errorf("%s was varied", p)
		}
	}
}

// One parameter of a sheet of 10,000 lines changes: 100 lines depend on it.
func BenchmarkOneParameter(b *testing.B) {
	r, list := sheet(b, chains(), nil)
	if list.HasErrors() {
		b.Fatal(list)
	}
	b.ReportAllocs()
	for b.Loop() {
		if out, err := r.Vary("p50", []float64{2e-3}, "x50_98"); err != nil || math.IsNaN(out[0]) {
			b.Fatal(out, err)
		}
	}
}
