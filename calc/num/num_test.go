package num

import (
	"errors"
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.17g, want %.17g", what, got, want)
	}
}

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name   string
		f      func(float64) float64
		a, b   float64
		want   float64
		source string
	}{
		{"wallis", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265, "Wallis's cubic, as in every textbook (from memory)"},
		{"dottie", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, "OEIS A003957 (from memory)"},
		{"omega", func(x float64) float64 { return x*math.Exp(x) - 1 }, 0, 2, 0.5671432904097838, "OEIS A030178 (from memory)"},
		{"wien", func(x float64) float64 { return x - 5*(1-math.Exp(-x)) }, 1, 10, 4.965114231744276, "Wien displacement, OEIS A094090 (from memory)"},
		{"flat", func(x float64) float64 { return math.Pow(x-1, 9) }, 0, 3, 1, "exact"},
		{"step", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3, "exact"},
		{"steep", func(x float64) float64 { return math.Tanh(1e6 * (x - 0.7)) }, -5, 40, 0.7, "exact"},
		{"end a", func(x float64) float64 { return x }, 0, 1, 0, "exact"},
		{"end b", func(x float64) float64 { return x - 1 }, 0, 1, 1, "exact"},
		{"reversed", func(x float64) float64 { return x - 0.25 }, 1, 0, 0.25, "exact"},
	} {
		got, err := Root(c.name, c.f, c.a, c.b, 0)
		tol := 1e-14
		if c.name == "flat" {
			tol = 1e-2 // (x-1)^9 is below the smallest sensible number long before: any sign change there will do
		}
		if err != nil || !(math.Abs(got-c.want) <= tol) {
			t.Errorf("%s: got %.17g, %v, want %.17g (%s)", c.name, got, err, c.want, c.source)
		}
	}
	for name, f := range map[string]func(float64) float64{
		"no change": func(x float64) float64 { return x*x + 1 },
		"nan":       func(x float64) float64 { return math.Sqrt(x - 5) },
		"inner nan": func(x float64) float64 {
			if x > 0.2 && x < 0.8 {
				return math.NaN()
			}
			return x - 0.5
		},
	} {
		if _, err := Root(name, f, 0, 1, 0); !errors.Is(err, ErrDomain) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestLoopNamesItself(t *testing.T) {
	l := loop{what: "settling", limit: 2}
	var err error
	for i := 0; err == nil; i++ {
		err = l.next(float64(i))
	}
	var n *NoConvergence
	if !errors.As(err, &n) || err.Error() != "settling did not converge in 2 steps: 1, then 2" {
		t.Errorf("got %v", err)
	}
}

func TestRulesAreExact(t *testing.T) {
	for deg := range 23 {
		want := 0.0
		if deg%2 == 0 {
			want = 2 / float64(deg+1)
		}
		k, g := gaussKronrod(func(x float64) float64 { return math.Pow(x, float64(deg)) }, -1, 1)
		if math.Abs(k-want) > 1e-15 || deg <= 13 && math.Abs(g-want) > 1e-15 {
			t.Errorf("x^%d: %.17g, %.17g, want %.17g", deg, k, g, want)
		}
	}
	if _, g := gaussKronrod(func(x float64) float64 { return math.Pow(x, 14) }, -1, 1); math.Abs(g-2./15) < 1e-7 {
		t.Error("a seven point rule exact to degree 14 cannot be")
	}
}

func TestIntegrate(t *testing.T) {
	for _, c := range []struct {
		name       string
		f          func(float64) float64
		a, b, want float64
	}{
		{"pi", func(x float64) float64 { return 4 / (1 + x*x) }, 0, 1, math.Pi},
		{"log", math.Log, 0, 1, -1}, // the nodes never touch the end
		{"root", math.Sqrt, 0, 1, 2. / 3},
		{"inverse root", func(x float64) float64 { return 1 / math.Sqrt(x) }, 0, 1, 2},
		{"peak", func(x float64) float64 { return 1 / (x*x + 1e-8) }, -1, 1, 2e4 * math.Atan(1e4)},
		{"kink", func(x float64) float64 { return math.Abs(x - 0.3) }, 0, 1, 0.045 + 0.245},
		{"oscillation", func(x float64) float64 { return math.Sin(100 * x) }, 0, 2, (1 - math.Cos(200)) / 100},
		{"reversed", math.Exp, 1, 0, 1 - math.E},
		{"empty", math.Exp, 1, 1, 0},
	} {
		tol := 1e-10
		got, err := Integrate(c.name, c.f, c.a, c.b, tol)
		if err != nil || !(math.Abs(got-c.want) <= 2*tol*math.Max(math.Abs(c.want), 0.01)) {
			t.Errorf("%s: got %.17g, %v, want %.17g", c.name, got, err, c.want)
		}
	}
	if v, err := Integrate("odd", func(x float64) float64 { return x * x * x }, -1, 1, 1e-12); err != nil || math.Abs(v) > 1e-14 {
		t.Errorf("odd: %g, %v", v, err)
	}
	if _, err := Integrate("pole", func(x float64) float64 { return 1 / x }, 0, 1, 1e-10); err == nil {
		t.Error("1/x has no integral from 0")
	}
	if _, err := Integrate("nan", math.Sqrt, -1, 1, 1e-10); !errors.Is(err, ErrDomain) {
		t.Errorf("nan: %v", err)
	}
	if _, err := Integrate("infinite", math.Exp, 0, math.Inf(1), 1e-10); !errors.Is(err, ErrDomain) {
		t.Errorf("infinite: %v", err)
	}
}

func TestStat(t *testing.T) {
	// NIST StRD, univariate summary statistics: certified values (from memory)
	acc1 := []float64{10000001, 10000003, 10000002}
	acc2 := []float64{1.2}
	acc3, acc4 := []float64{1000000.2}, []float64{10000000.2}
	for range 500 {
		acc2 = append(acc2, 1.1, 1.3)
		acc3 = append(acc3, 1000000.1, 1000000.3)
		acc4 = append(acc4, 10000000.1, 10000000.3)
	}
	for _, c := range []struct {
		name           string
		x              []float64
		mean, std, tol float64
	}{
		{"NumAcc1", acc1, 10000002, 1, 1e-15},
		{"NumAcc2", acc2, 1.2, 0.1, 1e-14},
		{"NumAcc3", acc3, 1000000.2, 0.1, 2e-9}, // the data themselves are rounded
		{"NumAcc4", acc4, 10000000.2, 0.1, 2e-8},
	} {
		m, err := Mean(c.x, nil)
		s, err2 := SampleStd(c.x)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		near(t, c.name+" mean", m, c.mean, 1e-15)
		near(t, c.name+" std", s, c.std, c.tol)
	}
	if m, _ := Mean([]float64{1, 2, 5}, []float64{1, 1, 2}); m != 13./4 {
		t.Errorf("weighted mean %g", m)
	}
	s, err := Spread([]float64{1, 3}, []float64{3, 1}) // mean 1.5: (3*0.25+2.25)/4
	if err != nil {
		t.Error(err)
	}
	near(t, "spread", s, math.Sqrt(0.75), 1e-15)
	var sum Sum
	for _, x := range []float64{1, 1e100, 1, -1e100} {
		sum.Add(x)
	}
	if sum.Value() != 2 { // Neumaier's example
		t.Errorf("sum %g", sum.Value())
	}
	for _, w := range [][]float64{{0, 0}, {1}, {-1, 2}, {math.NaN(), 1}} {
		if _, err := Mean([]float64{1, 2}, w); !errors.Is(err, ErrDomain) {
			t.Errorf("weights %v: %v", w, err)
		}
	}
	if _, err := SampleStd([]float64{1}); !errors.Is(err, ErrDomain) {
		t.Error("the spread of one value")
	}
}

func TestInterpolate(t *testing.T) {
	xs, ys := []float64{0, 1, 4}, []float64{2, 0, 0.3}
	for x, want := range map[float64]float64{0: 2, 0.25: 1.5, 1: 0, 2: 0.1, 4: 0.3} {
		got, err := Interpolate(xs, ys, x)
		if err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("at %g: %g, %v, want %g", x, got, err, want)
		}
	}
	for _, x := range []float64{-1e-12, 4.0000001, math.NaN(), math.Inf(1)} {
		if _, err := Interpolate(xs, ys, x); !errors.Is(err, ErrDomain) {
			t.Errorf("at %g: %v", x, err)
		}
	}
	for _, bad := range [][]float64{{0}, {0, 0, 1}, {0, 2, 1}, {0, math.NaN(), 1}} {
		if _, err := Interpolate(bad, ys[:len(bad)], 0); !errors.Is(err, ErrDomain) {
			t.Errorf("table %v: %v", bad, err)
		}
	}
}

// Longley's data; certified values of NIST StRD, linear regression (from memory).
func TestLeastSquaresLongley(t *testing.T) {
	one := make([]float64, 16)
	year := make([]float64, 16)
	for i := range one {
		one[i], year[i] = 1, float64(1947+i)
	}
	A := Matrix{one,
		{83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
		{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894},
		{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
		{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
		{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081},
		year}
	b := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551}
	x, cond, err := LeastSquares(A, b)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683, -1.03322686717359, -0.511041056535807e-01, 1829.15146461355} {
		near(t, "Longley", x[i], want, 1e-9)
	}
	if cond < 1e3 {
		t.Errorf("condition %g: this problem is known to be ill-conditioned", cond)
	}
}

func TestLeastSquaresRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		A Matrix
		b []float64
	}{
		"wide":      {Matrix{{1}, {2}}, []float64{1}},
		"empty":     {nil, []float64{1}},
		"zero":      {Matrix{{0, 0}}, []float64{1, 2}},
		"ragged":    {Matrix{{1, 2}, {1}}, []float64{1, 2}},
		"dependent": {Matrix{{1, 2, 3}, {2, 4, 6}}, []float64{1, 2, 3}},
		"nan":       {Matrix{{1, math.NaN()}}, []float64{1, 2}},
	} {
		if _, _, err := LeastSquares(c.A, c.b); !errors.Is(err, ErrDomain) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestNNLS(t *testing.T) {
	for _, c := range []struct {
		name string
		A    Matrix
		b    []float64
		want []float64
		tol  float64
	}{
		// a widely reproduced documentation example (from memory)
		{"RA16", Matrix{{.0372, .6861, .6233, .6344}, {.2869, .7071, .6245, .6170}}, []float64{.8587, .1781, .0747, .8405}, []float64{0, 0.6929}, 1e-4},
		// documentation example of a numerical library (from memory)
		{"RA17a", Matrix{{1, 1, 0}, {0, 0, 1}}, []float64{2, 1, 1}, []float64{1.5, 1}, 1e-9},
		{"RA17b", Matrix{{1, 1, 0}, {0, 0, 1}}, []float64{-1, -1, -1}, []float64{0, 0}, 1e-9},
	} {
		x, _, err := NNLS(c.A, c.b)
		if err != nil {
			t.Fatal(c.name, err)
		}
		for j := range x {
			if math.Abs(x[j]-c.want[j]) > c.tol {
				t.Errorf("%s: got %v, want %v", c.name, x, c.want)
			}
		}
	}
	x, _, err := LeastSquares(Matrix{{.0372, .6861, .6233, .6344}, {.2869, .7071, .6245, .6170}}, []float64{.8587, .1781, .0747, .8405})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RA16 unconstrained", x[0], -2.5627, 1e-4)
	near(t, "RA16 unconstrained", x[1], 3.1108, 1e-4)
}

// Against trying every set of unknowns that may be positive.
func TestNNLSBruteForce(t *testing.T) {
	seed := uint64(1)
	next := func() float64 { // xorshift; the same numbers each time
		seed ^= seed << 13
		seed ^= seed >> 7
		seed ^= seed << 17
		return float64(seed>>11)/(1<<53)*2 - 1
	}
	size := func(A Matrix, b, x []float64) float64 {
		r := append([]float64(nil), b...)
		for j := range A {
			axpy(-x[j], A[j], r)
		}
		return norm(r)
	}
	for trial := range 200 {
		n := 1 + trial%6
		m := n + trial%4
		A := make(Matrix, n)
		for j := range A {
			for range m {
				A[j] = append(A[j], next())
			}
		}
		var b []float64
		for range m {
			b = append(b, next())
		}
		x, g, err := NNLS(A, b)
		if err != nil {
			t.Fatal(trial, err)
		}
		best := norm(b)
		for set := 1; set < 1<<n; set++ {
			passive := make([]bool, n)
			for j := range passive {
				passive[j] = set>>j&1 == 1
			}
			s, err := solvePassive(A, b, passive)
			if err != nil {
				continue
			}
			ok := true
			for _, v := range s {
				ok = ok && v >= 0
			}
			if ok {
				best = min(best, size(A, b, s))
			}
		}
		if d := size(A, b, x) - best; math.Abs(d) > 1e-12 {
			t.Errorf("trial %d: residual larger than the best by %g", trial, d)
		}
		for j := range x {
			if x[j] < 0 || x[j] == 0 && g[j] < -1e-9 || x[j] > 0 && math.Abs(g[j]) > 1e-9 {
				t.Errorf("trial %d: x %g with gradient %g", trial, x[j], g[j])
			}
		}
	}
}

func TestNNLSRefuses(t *testing.T) {
	for name, A := range map[string]Matrix{"none": nil, "zero": {{0, 0}}, "ragged": {{1}}, "nan": {{math.NaN(), 1}}} {
		if _, _, err := NNLS(A, []float64{1, 2}); !errors.Is(err, ErrDomain) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestConjugateGradient(t *testing.T) {
	const n = 200 // -u″ = 2 between zeros: u = x(1-x), exact at the nodes
	h := 1 / float64(n+1)
	product := func(dst, x []float64) {
		for i := range x {
			s := 2 * x[i]
			if i > 0 {
				s -= x[i-1]
			}
			if i < n-1 {
				s -= x[i+1]
			}
			dst[i] = s
		}
	}
	diag, b, x := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range b {
		diag[i], b[i] = 2, 2*h*h
	}
	if err := ConjugateGradient("string", product, diag, b, x, 1e-13); err != nil {
		t.Fatal(err)
	}
	for i := range x {
		p := float64(i+1) * h
		near(t, "string", x[i], p*(1-p), 1e-9)
	}
	minus := func(dst, x []float64) {
		for i := range x {
			dst[i] = -x[i]
		}
	}
	if err := ConjugateGradient("negative", minus, []float64{1}, []float64{1}, []float64{0}, 1e-9); !errors.Is(err, ErrDomain) {
		t.Errorf("negative: %v", err)
	}
}
