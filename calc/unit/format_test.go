package unit

import (
	"math"
	"math/big"
	"math/rand"
	"strings"
	"testing"
)

func TestRound(t *testing.T) {
	const (
		rule  = "ISO 80000-1 annex B rule A"
		annex = "ASME A112.18.1-2018 annex A"
		hand  = "by hand"
		noise = "by hand: floating-point noise"
	)
	for _, c := range []struct {
		x      float64
		r      Rounding
		want   string
		source string
	}{
		{12.25, Rounding{Places, 1, Nearest}, "12.2", rule},
		{12.35, Rounding{Places, 1, Nearest}, "12.4", rule},
		{1.655, Rounding{Sig, 3, Nearest}, "1.66", annex},
		{1.625, Rounding{Sig, 3, Nearest}, "1.62", annex},
		{-2.5, Rounding{Places, 0, Nearest}, "-2", rule},
		{0.5, Rounding{Places, 0, Nearest}, "0", rule},
		{-0.5, Rounding{Places, 0, Nearest}, "0", rule},
		{1.5, Rounding{Places, 0, Nearest}, "2", rule},
		{9.96, Rounding{Places, 1, Nearest}, "10.0", rule},
		{9.96, Rounding{Sig, 2, Nearest}, "10", hand},
		{9.96, Rounding{Sig, 3, Nearest}, "9.96", hand},
		{9.996, Rounding{Sig, 3, Nearest}, "10.0", hand},
		{2.675, Rounding{Places, 2, Nearest}, "2.68", "by hand: a half as a decimal, though the float64 lies below"},
		{2.665, Rounding{Places, 2, Nearest}, "2.66", "by hand: a half as a decimal, though the float64 lies above"},
		{1.005, Rounding{Places, 2, Nearest}, "1.00", rule},
		{2.5, Rounding{Sig, 3, Nearest}, "2.50", hand},
		{250, Rounding{Sig, 1, Nearest}, "200", rule},
		{350, Rounding{Sig, 1, Nearest}, "400", rule},
		{1250, Rounding{Places, -2, Nearest}, "1200", rule},
		{1384, Rounding{Places, -5, Nearest}, "0", hand},
		{1384, Rounding{Places, -5, Up}, "100000", hand},

		{1.2000000000000002, Rounding{Sig, 2, Up}, "1.2", noise},
		{1.1999999999999997, Rounding{Sig, 2, Down}, "1.2", noise},
		{0.1 + 0.2, Rounding{Sig, 1, Up}, "0.3", noise},
		{0.285 * 100, Rounding{Places, 0, Nearest}, "28", noise},
		{1.000000000002, Rounding{Sig, 2, Up}, "1.1", "by hand: 2e-12 is no noise"},
		{0.9876543210987654, Rounding{Sig, 16, Nearest}, "0.9876543210987654", "by hand: all digits asked for"},
		{0.9876543210987, Rounding{Sig, 13, Nearest}, "0.9876543210987", hand},

		{1.21, Rounding{Sig, 2, Up}, "1.3", hand},
		{-1.21, Rounding{Sig, 2, Up}, "-1.2", hand},
		{1.29, Rounding{Sig, 2, Down}, "1.2", hand},
		{-1.21, Rounding{Sig, 2, Down}, "-1.3", hand},
		{99.99, Rounding{Sig, 2, Up}, "100", hand},
		{-99.99, Rounding{Sig, 3, Down}, "-100", hand},
		{0.004, Rounding{Places, 2, Up}, "0.01", hand},
		{-0.004, Rounding{Places, 2, Up}, "0.00", hand},
		{-0.004, Rounding{Places, 2, Down}, "-0.01", hand},
		{1e-9, Rounding{Places, 2, Up}, "0.01", hand},

		{1384, Rounding{}, "1384", hand},
		{220, Rounding{}, "220", hand},
		{219.99999999999997, Rounding{}, "220", noise},
		{999999, Rounding{}, "999999", hand},
		{1234567, Rounding{}, "1230000", hand},
		{61.7654, Rounding{}, "61.8", hand},
		{2.5, Rounding{}, "2.50", hand},
		{0.00123456, Rounding{}, "0.00123", hand},
		{1234.56, Rounding{}, "1230", hand},
		{61.7154, Rounding{Dir: Up}, "61.8", hand},
		{61.7954, Rounding{Dir: Down}, "61.7", hand},
		{0, Rounding{}, "0", hand},
		{math.Copysign(0, -1), Rounding{}, "0", hand},
		{math.Copysign(0, -1), Rounding{Places, 1, Down}, "0.0", hand},
		{0, Rounding{Places, 2, Nearest}, "0.00", hand},
		{0, Rounding{Sig, 3, Nearest}, "0.00", hand},
		{1.25, Rounding{Sig, 0, Nearest}, "1", "by hand: at least one figure"},

		{1.234e-9, Rounding{}, "1.23e-9", hand},
		{0.000123456, Rounding{}, "0.000123", hand},
		{0.0000999999, Rounding{Sig, 3, Nearest}, "0.000100", hand},
		{0.0000123456, Rounding{}, "1.23e-5", hand},
		{-1.5e-7, Rounding{Sig, 1, Nearest}, "-2e-7", hand},
		{999e12, Rounding{}, "999000000000000", hand},
		{1e15, Rounding{}, "1.00e15", hand},
		{1.2345e20, Rounding{Places, 2, Nearest}, "1.2345e20", hand},
		{5e-324, Rounding{}, "5.00e-324", hand},
		{math.MaxFloat64, Rounding{}, "1.80e308", hand},
		{math.NaN(), Rounding{}, "", hand},
		{math.Inf(-1), Rounding{Places, 2, Up}, "", hand},
	} {
		if got := Round(c.x, c.r); got != c.want {
			t.Errorf("Round(%v, %+v) = %q, want %q (%s)", c.x, c.r, got, c.want, c.source)
		}
	}
}

// samples are numbers of all sizes: plain decimals, what computing leaves
// beside them, and any bits.
func samples(n int) []float64 {
	r := rand.New(rand.NewSource(1))
	var list []float64
	for range n {
		x := float64(r.Intn(2000000)-1000000) / math.Pow(10, float64(r.Intn(8)))
		list = append(list, x, x*(1+float64(r.Intn(9)-4)*2.3e-16), x/3, x*math.Pi*math.Pow(10, float64(r.Intn(40)-20)))
	}
	return list
}

func exactRat(s string) *big.Rat {
	x, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return x
}

// Up is never below, Down never above, but for noise; Nearest is as near as
// either; and each is a number of the digits asked for.
func TestRoundSides(t *testing.T) {
	for _, x := range samples(500) {
		exact := new(big.Rat).SetFloat64(x)
		slack := new(big.Rat).Abs(exact)
		slack.Mul(slack, exactRat("1e-12"))
		for _, mode := range []Rounding{{Mode: Auto}, {Sig, 1, 0}, {Sig, 2, 0}, {Sig, 5, 0}, {Places, 0, 0}, {Places, 3, 0}} {
			at := func(d Direction) (*big.Rat, string) {
				r := mode
				r.Dir = d
				s := Round(x, r)
				return exactRat(s), s
			}
			up, us := at(Up)
			down, ds := at(Down)
			near, ns := at(Nearest)
			if new(big.Rat).Sub(exact, up).Cmp(slack) > 0 || new(big.Rat).Sub(down, exact).Cmp(slack) > 0 {
				t.Fatalf("%v with %+v: %s up, %s down", x, mode, us, ds)
			}
			if near.Cmp(up) != 0 && near.Cmp(down) != 0 {
				t.Fatalf("%v with %+v: %s is neither %s nor %s", x, mode, ns, us, ds)
			}
			dist := func(y *big.Rat) *big.Rat { d := new(big.Rat).Sub(y, exact); return d.Abs(d) }
			a, b := dist(near), dist(up)
			if c := dist(down); c.Cmp(b) < 0 {
				b = c
			}
			if new(big.Rat).Sub(a, b).Cmp(slack.Add(slack, slack)) > 0 {
				t.Fatalf("%v with %+v: %s is not the nearest of %s and %s", x, mode, ns, us, ds)
			}
			slack.Mul(slack, exactRat("1/2"))
			if neg := Round(-x, Rounding{mode.Mode, mode.N, Down}); exactRat(neg).Cmp(up.Neg(up)) != 0 {
				t.Fatalf("%v with %+v: %s up, but %s down of its negative", x, mode, us, neg)
			}
			if strings.HasPrefix(ns, "-") && near.Sign() == 0 {
				t.Fatalf("%v with %+v: %s", x, mode, ns)
			}
		}
	}
}

// A second, plain way to half to even on the printed decimal agrees.
func TestRoundHalfEven(t *testing.T) {
	half := big.NewRat(1, 2)
	for i := -30000; i <= 30000; i += 5 {
		x := float64(i) / 1000 // printed with three places at most
		for places, scale := range []int64{1, 10, 100} {
			n := new(big.Rat).Mul(big.NewRat(int64(i), 1000), new(big.Rat).SetInt64(scale))
			floor := new(big.Int).Div(n.Num(), n.Denom()) // Euclidean: towards minus infinity
			rest := new(big.Rat).Sub(n, new(big.Rat).SetInt(floor))
			if c := rest.Cmp(half); c > 0 || c == 0 && floor.Bit(0) == 1 {
				floor.Add(floor, big.NewInt(1))
			}
			want := new(big.Rat).SetFrac(floor, big.NewInt(scale))
			if got := Round(x, Rounding{Places, places, Nearest}); exactRat(got).Cmp(want) != 0 {
				t.Fatalf("Round(%v) to %d places = %s, want %s", x, places, got, want.FloatString(places))
			}
		}
	}
}

// Rounding a rounded number changes nothing (but that Auto, which made 76.0 of
// 75.95, shows 76 as the whole number it then is), and Typeset loses nothing.
func TestRoundStable(t *testing.T) {
	back := strings.NewReplacer(Thin+"×"+Thin+"10", "e", Thin, "", "−", "-", ",", ".", "⁻", "-",
		"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9")
	for _, x := range samples(500) {
		for _, r := range []Rounding{{Sig, 3, Nearest}, {Sig, 2, Nearest}, {Sig, 7, Up}, {Places, 2, Down}} {
			s := Round(x, r)
			y, _ := exactRat(s).Float64()
			if again := Round(y, r); again != s {
				t.Fatalf("Round(%v, %+v) = %s, and of that %s", x, r, s, again)
			}
			for _, point := range ".," {
				if got := back.Replace(Typeset(s, point)); got != s {
					t.Fatalf("Typeset(%q) = %q", s, Typeset(s, point))
				}
			}
		}
	}
}

func TestRoundStep(t *testing.T) {
	for _, c := range []struct {
		x, step float64
		dir     Direction
		v       float64
		s       string
	}{
		{1381, 5, Up, 1385, "1385"},
		{1381, 5, Down, 1380, "1380"},
		{1381, 5, Nearest, 1380, "1380"},
		{1382.5, 5, Nearest, 1380, "1380"}, // 276.5 steps: to the even
		{1387.5, 5, Nearest, 1390, "1390"},
		{1385, 5, Up, 1385, "1385"},
		{1385.0000000000002, 5, Up, 1385, "1385"}, // noise
		{1385.00001, 5, Up, 1390, "1390"},
		{-1381, 5, Up, -1380, "-1380"},
		{-1381, 5, Down, -1385, "-1385"},
		{-1, 5, Up, 0, "0"},
		{0.1 + 0.2, 0.1, Up, 0.3, "0.3"},
		{1.0000000000000002, 0.1, Up, 1, "1.0"},
		{2.31, 0.25, Up, 2.5, "2.50"},
		{2.31, 0.25, Down, 2.25, "2.25"},
		{7, 5.000000000000001, Up, 10, "10"}, // a step that was divided by a factor
		{1234567, 1000, Up, 1235000, "1235000"},
		{0.7, 2, Down, 0, "0"},
		{1e18, 7e15, Up, 1.001e18, "1.001e18"},
	} {
		v, s := RoundStep(c.x, c.step, c.dir)
		if v != c.v || s != c.s {
			t.Errorf("RoundStep(%v, %v, %v) = %v %q, want %v %q", c.x, c.step, c.dir, v, s, c.v, c.s)
		}
	}
	for _, c := range [][2]float64{{1, 0}, {1, -1}, {1, math.NaN()}, {1, math.Inf(1)}, {math.NaN(), 1}, {math.Inf(1), 1}} {
		if v, s := RoundStep(c[0], c[1], Up); !math.IsNaN(v) || s != "" {
			t.Errorf("RoundStep(%v, %v) = %v %q", c[0], c[1], v, s)
		}
	}
	for _, x := range samples(2000) {
		if math.Abs(x) > 1e12 {
			continue
		}
		for _, step := range []float64{0.05, 0.1, 0.5, 1, 5, 25} {
			up, _ := RoundStep(x, step, Up)
			down, _ := RoundStep(x, step, Down)
			slack := 1e-12 * math.Abs(x)
			if up < x-slack || down > x+slack || up-down > step*(1+1e-12)+2e-16*math.Abs(up) {
				t.Fatalf("%v in steps of %v: %v up, %v down", x, step, up, down)
			}
		}
	}
}

// JCGM 100:2008, 7.2.6: two significant digits of the uncertainty.
func TestDigitsFor(t *testing.T) {
	for _, c := range []struct {
		u    float64
		want int
	}{
		{2.5, 1}, {0.25, 2}, {25, 0}, {250, -1}, {0.0996, 2}, {0.0994, 3}, {9.96, 0}, {1, 1}, {0.1, 2}, {0.1 + 0.2, 2},
		{0.00035, 5}, {99.6, -1}, {0, 15}, {-1, 15}, {math.NaN(), 15}, {math.Inf(1), 15},
	} {
		if got := DigitsFor(c.u); got != c.want {
			t.Errorf("DigitsFor(%v) = %d, want %d", c.u, got, c.want)
		}
	}
}

func BenchmarkRound(b *testing.B) {
	for b.Loop() {
		Round(61.76543, Rounding{})
	}
}
