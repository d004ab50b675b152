package calc_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"workings/calc"
)

// A worstFunction is a function of the literature on global optimisation whose
// least value over a box is known: as lines of a sheet, and once more in Go.
type worstFunction struct {
	name, source, status string
	low, high            []float64 // the domain; moved where the optimum would lie in its middle
	sheet                string    // lines that define f of x1, x2 …
	f                    func(x []float64) float64
	least                float64
	at                   []float64 // where, to the digits known
	scale                float64   // what "a little" is a thousandth of: the range of f over the domain, or less
}

// Where a definition or a minimum comes from.
const (
	dixon    = "Dixon and Szegö, Towards Global Optimisation 2 (1978)"
	jamil    = "Jamil and Yang, A literature survey of benchmark functions (2013), arXiv:1308.4008"
	hock     = "Hock and Schittkowski, Test Examples for Nonlinear Programming Codes (1981)"
	recalled = "not checked: from memory; the value at the place is recomputed by this test"
)

// sumText joins terms made of the numbers 1 to n.
func sumText(n int, sep string, term func(i int) string) string {
	t := make([]string, n)
	for i := range t {
		t[i] = term(i + 1)
	}
	return strings.Join(t, sep)
}

func same(n int, x float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = x
	}
	return s
}

func sq(x float64) float64 { return x * x }

var (
	hartmannC = []float64{1, 1.2, 3, 3.2}
	hartmann3 = [2][][]float64{
		{{3, 10, 30}, {.1, 10, 35}, {3, 10, 30}, {.1, 10, 35}},
		{{.3689, .1170, .2673}, {.4699, .4387, .7470}, {.1091, .8732, .5547}, {.0381, .5743, .8828}},
	}
	hartmann6 = [2][][]float64{
		{{10, 3, 17, 3.5, 1.7, 8}, {.05, 10, 17, .1, 8, 14}, {3, 3.5, 1.7, 10, 17, 8}, {17, 8, .05, 10, .1, 14}},
		{{.1312, .1696, .5569, .0124, .8283, .5886}, {.2329, .4135, .8307, .3736, .1004, .9991}, {.2348, .1451, .3522, .2883, .3047, .6650}, {.4047, .8828, .8732, .5743, .1091, .0381}},
	}
	// Row 7 is (5, 5, 3, 3) in the original; copies with (5, 3, 5, 3) have other minima.
	shekelA = [][]float64{{4, 4, 4, 4}, {1, 1, 1, 1}, {8, 8, 8, 8}, {6, 6, 6, 6}, {3, 7, 3, 7}, {2, 9, 2, 9}, {5, 5, 3, 3}, {8, 1, 8, 1}, {6, 2, 6, 2}, {7, 3.6, 7, 3.6}}
	shekelC = []float64{.1, .2, .2, .4, .4, .6, .3, .7, .5, .5}
)

func hartmannText(d [2][][]float64) string {
	return "f = -(" + sumText(4, " + ", func(i int) string {
		return fmt.Sprintf("%v*exp(-(%s))", hartmannC[i-1], sumText(len(d[0][0]), " + ", func(j int) string {
			return fmt.Sprintf("%v*(x%d - %v)^2", d[0][i-1][j-1], j, d[1][i-1][j-1])
		}))
	}) + ")\n"
}

func hartmann(d [2][][]float64) func([]float64) float64 {
	return func(x []float64) float64 {
		s := 0.0
		for i, c := range hartmannC {
			q := 0.0
			for j := range x {
				q += d[0][i][j] * sq(x[j]-d[1][i][j])
			}
			s -= c * math.Exp(-q)
		}
		return s
	}
}

func shekel(m int, least float64) worstFunction {
	return worstFunction{
		fmt.Sprintf("Shekel %d", m), dixon, recalled, same(4, 0), same(4, 10),
		"f = -(" + sumText(m, " + ", func(i int) string {
			return fmt.Sprintf("1/(%s + %v)", sumText(4, " + ", func(j int) string { return fmt.Sprintf("(x%d - %v)^2", j, shekelA[i-1][j-1]) }), shekelC[i-1])
		}) + ")\n",
		func(x []float64) float64 {
			s := 0.0
			for i := range m {
				q := shekelC[i]
				for j := range x {
					q += sq(x[j] - shekelA[i][j])
				}
				s -= 1 / q
			}
			return s
		},
		least, []float64{4, 4, 4, 4}, 10,
	}
}

func michalewicz(n int, least float64, at []float64) worstFunction {
	return worstFunction{
		fmt.Sprintf("Michalewicz %d", n), jamil, recalled, same(n, 0), same(n, math.Pi),
		"f = -(" + sumText(n, " + ", func(i int) string { return fmt.Sprintf("sin(x%d)*sin(%d*x%d^2/pi)^20", i, i, i) }) + ")\n",
		func(x []float64) float64 {
			s := 0.0
			for i, t := range x {
				s -= math.Sin(t) * math.Pow(math.Sin(float64(i+1)*t*t/math.Pi), 20)
			}
			return s
		},
		least, at, 1,
	}
}

func trid(n int) worstFunction {
	at := make([]float64, n)
	for i := range at {
		at[i] = float64((i + 1) * (n - i))
	}
	return worstFunction{
		fmt.Sprintf("Trid %d", n), jamil, recalled, same(n, -float64(n*n)), same(n, float64(n*n)),
		"f = " + sumText(n, " + ", func(i int) string { return fmt.Sprintf("(x%d - 1)^2", i) }) + " - (" +
			sumText(n-1, " + ", func(i int) string { return fmt.Sprintf("x%d*x%d", i+1, i) }) + ")\n",
		func(x []float64) float64 {
			s := 0.0
			for i := range x {
				s += sq(x[i] - 1)
				if i > 0 {
					s -= x[i] * x[i-1]
				}
			}
			return s
		},
		-float64(n*(n+4)*(n-1)) / 6, at, float64(n * n * n * 10),
	}
}

func shubertSide(x float64) float64 {
	s := 0.0
	for i := 1.0; i <= 5; i++ {
		s += i * math.Cos((i+1)*x+i)
	}
	return s
}

func shubertText(x string) string {
	return "(" + sumText(5, " + ", func(i int) string { return fmt.Sprintf("%d*cos(%d*%s + %d)", i, i+1, x, i) }) + ")"
}

var worstFunctions = []worstFunction{
	{
		"Branin", dixon, recalled, []float64{-5, 0}, []float64{10, 15},
		"f = (x2 - 5.1*x1^2/(4*pi^2) + 5*x1/pi - 6)^2 + 10*(1 - 1/(8*pi))*cos(x1) + 10\n",
		func(x []float64) float64 {
			return sq(x[1]-5.1*x[0]*x[0]/4/math.Pi/math.Pi+5/math.Pi*x[0]-6) + 10*(1-1/8./math.Pi)*math.Cos(x[0]) + 10
		},
		0.397887357729738, []float64{math.Pi, 2.275}, 300,
	},
	{
		"six-hump camel", dixon, recalled, []float64{-3, -2}, []float64{3, 2},
		"f = (4 - 2.1*x1^2 + x1^4/3)*x1^2 + x1*x2 + (4*x2^2 - 4)*x2^2\n",
		func(x []float64) float64 {
			a, b := x[0]*x[0], x[1]*x[1]
			return (4-2.1*a+a*a/3)*a + x[0]*x[1] + (4*b-4)*b
		},
		-1.03162845348988, []float64{0.0898420, -0.7126564}, 160,
	},
	{
		"Goldstein-Price", dixon, recalled, []float64{-2, -2}, []float64{2, 2},
		"p = 1 + (x1 + x2 + 1)^2*(19 - 14*x1 + 3*x1^2 - 14*x2 + 6*x1*x2 + 3*x2^2)\n" +
			"q = 30 + (2*x1 - 3*x2)^2*(18 - 32*x1 + 12*x1^2 + 48*x2 - 36*x1*x2 + 27*x2^2)\nf = p*q\n",
		func(z []float64) float64 {
			x, y := z[0], z[1]
			return (1 + sq(x+y+1)*(19-14*x+3*x*x-14*y+6*x*y+3*y*y)) * (30 + sq(2*x-3*y)*(18-32*x+12*x*x+48*y-36*x*y+27*y*y))
		},
		3, []float64{0, -1}, 1000,
	},
	{"Hartmann 3", dixon, recalled, same(3, 0), same(3, 1), hartmannText(hartmann3), hartmann(hartmann3), -3.862779787, []float64{0.1145889, 0.5556489, 0.8525470}, 3.8},
	{
		"Hartmann 6", dixon, recalled, same(6, 0), same(6, 1), hartmannText(hartmann6), hartmann(hartmann6),
		-3.32236801141551, []float64{0.2016895, 0.1500107, 0.4768740, 0.2753324, 0.3116516, 0.6573005}, 3.3,
	},
	shekel(5, -10.1531996790582), shekel(7, -10.4029405668187), shekel(10, -10.5364098166920),
	{
		"McCormick (problem 5)", hock, "checked against the text of a test suite: domain and place", []float64{-1.5, -3}, []float64{4, 4},
		"f = sin(x1 + x2) + (x1 - x2)^2 - 1.5*x1 + 2.5*x2 + 1\n",
		func(x []float64) float64 { return math.Sin(x[0]+x[1]) + sq(x[0]-x[1]) - 1.5*x[0] + 2.5*x[1] + 1 },
		-1.91322295498104, []float64{-0.547197553, -1.547197553}, 45,
	},
	{
		"Styblinski-Tang 4", jamil, recalled, same(4, -5), same(4, 5),
		"h(x) = (x^4 - 16*x^2 + 5*x)/2\nf = " + sumText(4, " + ", func(i int) string { return fmt.Sprintf("h(x%d)", i) }) + "\n",
		func(x []float64) float64 {
			s := 0.0
			for _, t := range x {
				s += math.Pow(t, 4) - 16*t*t + 5*t
			}
			return s / 2
		},
		4 * -39.1661657037714, same(4, -2.90353403), 400,
	},
	michalewicz(2, -1.80130341009856, []float64{2.20290552, math.Pi / 2}),
	michalewicz(5, -4.68765817908815, nil),
	{
		"Eggholder", jamil, recalled, same(2, -512), same(2, 512),
		"f = -(x2 + 47)*sin(sqrt(abs(x2 + x1/2 + 47))) - x1*sin(sqrt(abs(x1 - (x2 + 47))))\n",
		func(x []float64) float64 {
			y := x[1] + 47
			return -y*math.Sin(math.Sqrt(math.Abs(y+x[0]/2))) - x[0]*math.Sin(math.Sqrt(math.Abs(x[0]-y)))
		},
		-959.640662720851, []float64{512, 404.231805}, 2000,
	},
	{
		"Easom", jamil, recalled, same(2, -100), same(2, 100),
		"f = -cos(x1)*cos(x2)*exp(-(x1 - pi)^2 - (x2 - pi)^2)\n",
		func(x []float64) float64 {
			return -math.Cos(x[0]) * math.Cos(x[1]) * math.Exp(-sq(x[0]-math.Pi)-sq(x[1]-math.Pi))
		},
		-1, []float64{math.Pi, math.Pi}, 1,
	},
	{
		"Shubert", jamil, recalled, same(2, -10), same(2, 10),
		"f = " + shubertText("x1") + "*" + shubertText("x2") + "\n",
		func(x []float64) float64 { return shubertSide(x[0]) * shubertSide(x[1]) },
		-186.730908831024, nil, 390,
	},
	{
		"cross in tray", jamil, recalled, same(2, -10), same(2, 10),
		"f = -0.0001*(abs(sin(x1)*sin(x2)*exp(abs(100 - hypot(x1, x2)/pi))) + 1)^0.1\n",
		func(x []float64) float64 {
			return -1e-4 * math.Pow(math.Abs(math.Sin(x[0])*math.Sin(x[1])*math.Exp(math.Abs(100-math.Hypot(x[0], x[1])/math.Pi)))+1, .1)
		},
		-2.06261187082274, []float64{1.34940661, 1.34940661}, 2,
	},
	{
		"Holder table", jamil, recalled, same(2, -10), same(2, 10),
		"f = -abs(sin(x1)*cos(x2)*exp(abs(1 - hypot(x1, x2)/pi)))\n",
		func(x []float64) float64 {
			return -math.Abs(math.Sin(x[0]) * math.Cos(x[1]) * math.Exp(math.Abs(1-math.Hypot(x[0], x[1])/math.Pi)))
		},
		-19.2085025678868, []float64{8.05502348, 9.66459002}, 19,
	},
	{
		"Bukin 6", jamil, recalled, []float64{-15, -3}, []float64{-5, 3},
		"f = 100*sqrt(abs(x2 - 0.01*x1^2)) + 0.01*abs(x1 + 10)\n",
		func(x []float64) float64 { return 100*math.Sqrt(math.Abs(x[1]-.01*x[0]*x[0])) + .01*math.Abs(x[0]+10) },
		0, []float64{-10, 1}, 200,
	},
	{
		"Schwefel 3", jamil, recalled, same(3, -500), same(3, 500),
		"f = 3*418.9828872724338 - (" + sumText(3, " + ", func(i int) string { return fmt.Sprintf("x%d*sin(sqrt(abs(x%d)))", i, i) }) + ")\n",
		func(x []float64) float64 {
			s := 0.0
			for _, t := range x {
				s += 418.9828872724338 - t*math.Sin(math.Sqrt(math.Abs(t)))
			}
			return s
		},
		0, same(3, 420.96874636), 2500,
	},
	{
		"drop wave", jamil, recalled, same(2, -3.1), same(2, 5.12),
		"r = hypot(x1, x2)\nf = -(1 + cos(12*r))/(r^2/2 + 2)\n",
		func(x []float64) float64 {
			r := math.Hypot(x[0], x[1])
			return -(1 + math.Cos(12*r)) / (.5*r*r + 2)
		},
		-1, []float64{0, 0}, 1,
	},
	{
		"Ackley 3", jamil, recalled, same(3, -20), same(3, 32.768),
		"f = -20*exp(-0.2*sqrt((x1^2 + x2^2 + x3^2)/3)) - exp((cos(2*pi*x1) + cos(2*pi*x2) + cos(2*pi*x3))/3) + 20 + exp(1)\n",
		func(x []float64) float64 {
			a, b := 0.0, 0.0
			for _, t := range x {
				a += t * t / 3
				b += math.Cos(2*math.Pi*t) / 3
			}
			return 20*(1-math.Exp(-.2*math.Sqrt(a))) + math.E - math.Exp(b)
		},
		0, same(3, 0), 22,
	},
	{
		"Rastrigin 3", jamil, recalled, same(3, -3.3), same(3, 5.12),
		"f = 30 + " + sumText(3, " + ", func(i int) string { return fmt.Sprintf("x%d^2 - 10*cos(2*pi*x%d)", i, i) }) + "\n",
		func(x []float64) float64 {
			s := 0.0
			for _, t := range x {
				s += t*t + 10*(1-math.Cos(2*math.Pi*t))
			}
			return s
		},
		0, same(3, 0), 120,
	},
	{
		"Griewank 2", jamil, recalled, same(2, -410), same(2, 600),
		"f = 1 + (x1^2 + x2^2)/4000 - cos(x1)*cos(x2/sqrt(2))\n",
		func(x []float64) float64 {
			return (x[0]*x[0]+x[1]*x[1])/4000 - math.Cos(x[0])*math.Cos(x[1]/math.Sqrt2) + 1
		},
		0, same(2, 0), 180,
	},
	{
		"Levy 2", jamil, recalled, same(2, -10), same(2, 10),
		"w1 = 1 + (x1 - 1)/4\nw2 = 1 + (x2 - 1)/4\nf = sin(pi*w1)^2 + (w1 - 1)^2*(1 + 10*sin(pi*w1 + 1)^2) + (w2 - 1)^2*(1 + sin(2*pi*w2)^2)\n",
		func(x []float64) float64 {
			u, v := 1+(x[0]-1)/4, 1+(x[1]-1)/4
			return sq(math.Sin(math.Pi*u)) + sq(u-1)*(1+10*sq(math.Sin(math.Pi*u+1))) + sq(v-1)*(1+sq(math.Sin(2*math.Pi*v)))
		},
		0, same(2, 1), 90,
	},
	{
		"Rosenbrock 2 (problem 1)", hock, recalled, same(2, -5), same(2, 10),
		"f = 100*(x2 - x1^2)^2 + (1 - x1)^2\n",
		func(x []float64) float64 { return 100*sq(x[1]-x[0]*x[0]) + sq(1-x[0]) },
		0, same(2, 1), 1000,
	},
	{
		"Beale", jamil, recalled, same(2, -4.5), same(2, 4.5),
		"f = (1.5 - x1 + x1*x2)^2 + (2.25 - x1 + x1*x2^2)^2 + (2.625 - x1 + x1*x2^3)^2\n",
		func(x []float64) float64 {
			return sq(1.5-x[0]*(1-x[1])) + sq(2.25-x[0]*(1-x[1]*x[1])) + sq(2.625-x[0]*(1-x[1]*x[1]*x[1]))
		},
		0, []float64{3, .5}, 1000,
	},
	{
		"Booth", jamil, recalled, same(2, -10), same(2, 10),
		"f = (x1 + 2*x2 - 7)^2 + (2*x1 + x2 - 5)^2\n",
		func(x []float64) float64 { return sq(x[0]+2*x[1]-7) + sq(2*x[0]+x[1]-5) },
		0, []float64{1, 3}, 1000,
	},
	{
		"Matyas", jamil, recalled, same(2, -7), same(2, 10),
		"f = 0.26*(x1^2 + x2^2) - 0.48*x1*x2\n",
		func(x []float64) float64 { return .26*(x[0]*x[0]+x[1]*x[1]) - .48*x[0]*x[1] },
		0, same(2, 0), 80,
	},
	{
		"three-hump camel", jamil, recalled, same(2, -4), same(2, 5),
		"f = 2*x1^2 - 1.05*x1^4 + x1^6/6 + x1*x2 + x2^2\n",
		func(x []float64) float64 {
			a := x[0] * x[0]
			return a*(2-a*(1.05-a/6)) + x[0]*x[1] + x[1]*x[1]
		},
		0, same(2, 0), 1000,
	},
	trid(6), trid(10),
	{
		"step 3", jamil, recalled, same(3, -80), same(3, 100),
		"f = " + sumText(3, " + ", func(i int) string { return fmt.Sprintf("floor(x%d + 0.5)^2", i) }) + "\n",
		func(x []float64) float64 {
			s := 0.0
			for _, t := range x {
				s += sq(math.Floor(t + .5))
			}
			return s
		},
		0, same(3, 0), 1000,
	},
	{
		"Colville (problem 38)", hock, recalled, same(4, -10), same(4, 10),
		"f = 100*(x2 - x1^2)^2 + (1 - x1)^2 + 90*(x4 - x3^2)^2 + (1 - x3)^2 + 10.1*((x2 - 1)^2 + (x4 - 1)^2) + 19.8*(x2 - 1)*(x4 - 1)\n",
		func(x []float64) float64 {
			return 100*sq(x[1]-x[0]*x[0]) + sq(1-x[0]) + 90*sq(x[3]-x[2]*x[2]) + sq(1-x[2]) + 10.1*(sq(x[1]-1)+sq(x[3]-1)) + 19.8*(x[1]-1)*(x[3]-1)
		},
		0, same(4, 1), 10000,
	},
	{
		"problem 45", hock, recalled, same(5, 0), []float64{1, 2, 3, 4, 5},
		"f = 2 - x1*x2*x3*x4*x5/120\n",
		func(x []float64) float64 { return 2 - x[0]*x[1]*x[2]*x[3]*x[4]/120 },
		1, []float64{1, 2, 3, 4, 5}, 1,
	},
	{
		"problem 110", hock, recalled, same(10, 2.001), same(10, 9.999),
		"f = " + sumText(10, " + ", func(i int) string { return fmt.Sprintf("ln(x%d - 2)^2 + ln(10 - x%d)^2", i, i) }) +
			" - (" + sumText(10, "*", func(i int) string { return fmt.Sprintf("x%d", i) }) + ")^0.2\n",
		func(x []float64) float64 {
			s, p := 0.0, 1.0
			for _, t := range x {
				s += sq(math.Log(t-2)) + sq(math.Log(10-t))
				p *= t
			}
			return s - math.Pow(p, .2)
		},
		-45.77846971, same(10, 9.350266), 100,
	},
}

// polish walks downhill from a place within the box by steps along each axis.
func (w *worstFunction) polish(x []float64) float64 {
	best := w.f(x)
	for step := 0.1; step > 1e-12; {
		moved := false
		for i := range x {
			for _, d := range []float64{-step, step} {
				old := x[i]
				x[i] = math.Min(w.high[i], math.Max(w.low[i], old+d*(w.high[i]-w.low[i])))
				if y := w.f(x); y < best {
					best, moved = y, true
				} else {
					x[i] = old
				}
			}
		}
		if !moved {
			step /= 3
		}
	}
	return best
}

// sampled gives the range of the function where a few thousand random places,
// and a walk downhill from the best of them, have found it.
func (w *worstFunction) sampled() (low, high float64) {
	rng := rand.New(rand.NewPCG(1, uint64(len(w.name))))
	low, high = math.Inf(1), math.Inf(-1)
	x, best := make([]float64, len(w.low)), make([]float64, len(w.low))
	for range 5000 {
		for i := range x {
			x[i] = w.low[i] + rng.Float64()*(w.high[i]-w.low[i])
		}
		y := w.f(x)
		if y < low {
			low = y
			copy(best, x)
		}
		high = math.Max(high, y)
	}
	return math.Min(low, w.polish(best)), high
}

// TestWorstFunctions looks for the least value of each function, once in a
// limit that just holds and once in one that is just broken, and in the spread
// of the figure.
func TestWorstFunctions(t *testing.T) {
	proved, bounded := 0, 0
	for _, w := range worstFunctions {
		low, high := w.sampled()
		if w.at != nil { // the formula in Go is the one that has this minimum
			x := append([]float64(nil), w.at...)
			if y := w.f(x); math.Abs(w.polish(x)-w.least) > 1e-8*math.Max(1, math.Abs(w.least)) || y > w.least+1e-3*w.scale {
				t.Errorf("%s: %.15g at its place, and %.15g beside it, published %.15g (%s; %s)", w.name, y, w.f(x), w.least, w.source, w.status)
			}
		}
		if low < w.least-1e-8*math.Max(1, math.Abs(w.least)) || w.scale > 2*(high-w.least) {
			t.Errorf("%s: from %.15g to %.6g in samples, published least %.15g, scale %v (%s; %s)", w.name, low, high, w.least, w.scale, w.source, w.status)
		}
		little := 1e-3 * w.scale
		var b strings.Builder
		for i := range w.low {
			fmt.Fprintf(&b, "x%d = %v to %v nominal %v\n", i+1, w.low[i], w.high[i], w.low[i]+(w.high[i]-w.low[i])*0.37)
		}
		b.WriteString(w.sheet)
		fmt.Fprintf(&b, "limit holds: f > %.17g\nlimit broken: f > %.17g\n", w.least-little, w.least+little)
		r, list := sheet(t, b.String(), nil)
		if list.HasErrors() {
			t.Errorf("%s: %v", w.name, list)
			continue
		}
		x := make([]float64, len(w.low))
		for i := range x {
			x[i] = r.Figure(fmt.Sprintf("x%d", i+1)).Value.(float64)
		}
		if y, _ := r.Figure("f").Value.(float64); math.Abs(y-w.f(x)) > 1e-9*w.scale {
			t.Errorf("%s: the sheet and this test have different functions: %.12g and %.12g", w.name, y, w.f(x))
		}
		holds, broken := limitOf(t, r, "holds"), limitOf(t, r, "broken")
		if !holds.Holds() {
			t.Errorf("%s: f > %.9g is %s, and %.9g is the least", w.name, w.least-little, holds.Verdict, w.least)
		}
		if holds.Verdict == calc.Proved {
			proved++
		}
		if broken.Verdict != calc.Broken {
			t.Errorf("%s: f > %.9g is %s, and %.9g is the least", w.name, w.least+little, broken.Verdict, w.least)
		} else {
			at := worstPlace(r, broken)
			for i := range x {
				x[i] = at(fmt.Sprintf("x%d", i+1))
				if !(x[i] >= w.low[i] && x[i] <= w.high[i]) {
					t.Errorf("%s: broken at x%d = %v, outside its range", w.name, i+1, x[i])
				}
			}
			if y := w.f(x); !(y <= (w.least+little)*(1+1e-9)+1e-9) {
				t.Errorf("%s: f > %.9g is not broken at %v, where f is %.9g", w.name, w.least+little, x, y)
			}
		}
		sp := r.Figure("f").Spread
		if sp == nil || !sp.Ranged {
			t.Errorf("%s: f has no range", w.name)
			continue
		}
		if !sp.Searched {
			bounded++
		}
		if !(sp.Low <= w.least+little && sp.Low >= w.least-1e-6*math.Max(1, math.Abs(w.least))) {
			t.Errorf("%s: the least f is %.9g, searched %v, want %.9g", w.name, sp.Low, sp.Searched, w.least)
		}
		if sp.High < high-1e-9*math.Abs(high) && (!sp.Searched || sp.High < high-0.1*(high-low)) {
			t.Errorf("%s: the greatest f is %.9g, searched %v, and a sample has %.9g", w.name, sp.High, sp.Searched, high)
		}
		t.Logf("%-24s holds: %-9s broken: %-9s spread searched: %v", w.name, holds.Verdict, broken.Verdict, sp.Searched)
	}
	t.Logf("%d functions: %d limits proved, %d spreads with a bound", len(worstFunctions), proved, bounded)
	if len(worstFunctions) < 20 {
		t.Errorf("only %d functions", len(worstFunctions))
	}
}
