package calc_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
)

// What a page shows is checked here against exact decimals: a rounding up never
// undercuts the exact value, a rounding down never exceeds it, and a rounding to
// the nearest goes to the even neighbour where two are as near (ISO 80000-1,
// annex B, rule A), all judged on the decimal value and not on its neighbour in
// binary.

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("no decimal: " + s)
	}
	return r
}

// multiple gives the multiple of step to which x goes, and is written apart
// from the program's own rounding, over fractions.
func multiple(x, step *big.Rat, dir string) *big.Rat {
	q := new(big.Rat).Quo(x, step)
	floor := new(big.Int).Div(q.Num(), q.Denom()) // rounds down for a positive divisor
	rest := new(big.Rat).Sub(q, new(big.Rat).SetInt(floor))
	half := rest.Cmp(big.NewRat(1, 2))
	up := false
	switch dir {
	case "up":
		up = rest.Sign() > 0
	case "":
		up = half > 0 || half == 0 && floor.Bit(0) == 1
	}
	if up {
		floor.Add(floor, big.NewInt(1))
	}
	return new(big.Rat).Mul(new(big.Rat).SetInt(floor), step)
}

// lastPlace gives the step 10^k with which n significant figures of x go.
func lastPlace(x *big.Rat, n int) *big.Rat {
	ten := big.NewRat(10, 1)
	abs := new(big.Rat).Abs(x)
	place := big.NewRat(1, 1) // of the first figure
	for abs.Cmp(place) < 0 {
		place.Quo(place, ten)
	}
	for abs.Cmp(new(big.Rat).Mul(place, ten)) >= 0 {
		place.Mul(place, ten)
	}
	return places(place, n-1)
}

// places divides by 10^n.
func places(x *big.Rat, n int) *big.Rat {
	for range n {
		x = new(big.Rat).Quo(x, big.NewRat(10, 1))
	}
	return x
}

// decimals makes a random decimal other than zero, of at most digits figures;
// one in three ends in a 5, so that halves come up.
func decimals(r *rand.Rand, digits int) string {
	n := 1 + r.IntN(digits)
	b := []byte{byte('1' + r.IntN(9))}
	for len(b) < n {
		b = append(b, byte('0'+r.IntN(10)))
	}
	if r.IntN(3) == 0 {
		b[n-1] = '5'
	}
	s := string(b)
	switch k := r.IntN(n + 4); {
	case k < n && k > 0:
		s = s[:k] + "." + s[k:]
	case k >= n:
		s = "0." + strings.Repeat("0", k-n) + s
	}
	return s
}

// A roundedCase is a figure with the decimal that it stands for, in the unit in
// which it is shown.
type roundedCase struct {
	line  string // of the sheet
	name  string
	exact *big.Rat
	unit  string
	// As it is shown:
	round string
	want  *big.Rat // nil for nearest to what is no multiple of one thing
	dir   string
}

func (c *roundedCase) chooseRounding(r *rand.Rand) {
	c.dir = []string{"", "up", "down"}[r.IntN(3)]
	word := c.dir
	if word != "" {
		word = " " + word
	}
	switch r.IntN(3) {
	case 0:
		n := 1 + r.IntN(6)
		c.round = fmt.Sprintf("to %d sf%s", n, word)
		c.want = multiple(c.exact, lastPlace(c.exact, n), c.dir)
	case 1:
		n := r.IntN(6)
		c.round = fmt.Sprintf("to %d dp%s", n, word)
		c.want = multiple(c.exact, places(big.NewRat(1, 1), n), c.dir)
	default:
		if c.unit == "" && c.dir == "" { // "to 5" might be digits, and is refused
			c.dir = "down"
		}
		step := decimals(r, 2)
		c.round = strings.TrimSpace(fmt.Sprintf("%s to %s %s", c.dir, step, c.unit))
		c.want = multiple(c.exact, rat(step), c.dir)
	}
}

func TestRoundedToTheSafeSide(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	units := []string{"mm", "N", "kW", "m/s", "W/(m^2*K)", "L", "rpm", ""}
	var cases []*roundedCase
	for i := range 3000 {
		c := &roundedCase{name: fmt.Sprintf("x%d", i), unit: units[r.IntN(len(units))]}
		sign := ""
		if r.IntN(4) == 0 {
			sign = "-"
		}
		unit := c.unit
		if unit != "" {
			unit = " " + unit
		}
		in := unit
		if in != "" {
			in = " in" + in
		}
		switch r.IntN(4) {
		case 0: // a literal
			a := decimals(r, 9)
			c.exact = rat(sign + a)
			c.line = fmt.Sprintf("%s = %s%s%s", c.name, sign, a, unit)
		case 1: // a product
			a, b := decimals(r, 5), decimals(r, 4)
			c.exact = new(big.Rat).Mul(rat(sign+a), rat(b))
			c.line = fmt.Sprintf("%s = %s%s%s * %s%s", c.name, sign, a, unit, b, in)
		case 2: // a sum of one sign
			a, b := decimals(r, 4), decimals(r, 4)
			c.exact = new(big.Rat).Add(rat(sign+a), rat(sign+b))
			c.line = fmt.Sprintf("%s = %s%s%s + %s%s%s%s", c.name, sign, a, unit, sign, b, unit, in)
		default: // a quotient, mostly without an end
			a, b := decimals(r, 4), decimals(r, 3)
			c.exact = new(big.Rat).Quo(rat(sign+a), rat(b))
			c.line = fmt.Sprintf("%s = %s%s%s / %s%s", c.name, sign, a, unit, b, in)
		}
		c.chooseRounding(r)
		cases = append(cases, c)
	}
	// Slips of the pen among decimals that are halves in decimal and none in
	// binary, and the noise of what is computed.
	for i, s := range []struct{ x, round, want, dir string }{
		{"2.675 mm", "to 3 sf", "2.68", ""}, {"2.665 mm", "to 3 sf", "2.66", ""}, {"1.005 mm", "to 2 dp", "1.00", ""},
		{"0.125 mm", "to 2 dp", "0.12", ""}, {"-2.5 mm", "to 0 dp", "-2", ""}, {"0.5 mm", "to 0 dp", "0", ""},
		{"0.1 mm + 0.2 mm", "to 1 sf up", "0.3", "up"}, {"0.7 mm + 0.1 mm", "to 1 sf down", "0.8", "down"},
		{"3 * 0.1 mm", "up to 0.1 mm", "0.3", "up"}, {"1.1 mm * 1.1", "to 2 dp up", "1.21", "up"}, {"9.996 mm", "to 3 sf up", "10.0", "up"},
		{"1380.0001 mm", "up to 5 mm", "1385", "up"}, {"1384.9999 mm", "down to 5 mm", "1380", "down"}, {"-1384.9999 mm", "up to 5 mm", "-1380", "up"},
	} {
		c := &roundedCase{name: fmt.Sprintf("slip%d", i), unit: "mm", round: s.round, want: rat(s.want), dir: s.dir}
		c.line = c.name + " = " + s.x
		cases = append(cases, c)
	}
	w := wrongCase{"rounding", map[string]string{}}
	for _, c := range cases {
		w.files["design.calc"] += c.line + "\n"
		w.files["figures.txt"] += c.name + " " + c.round + "\n"
	}
	res, list := w.report()
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	ties := 0
	for i, c := range cases {
		s := res.Shown(i)
		if s.Unit.Symbol != c.unit && strings.ReplaceAll(s.Unit.Symbol, " ", "") != c.unit {
			t.Fatalf("%s is shown in %s", c.line, s.Unit.Symbol)
		}
		got := rat(s.Number)
		if got.Cmp(c.want) != 0 {
			t.Errorf("%s, %s: shown as %s, want %s", c.line, c.round, s.Number, c.want.FloatString(12))
		}
		if c.exact == nil {
			continue
		}
		off := new(big.Rat).Sub(got, c.exact)
		if c.dir == "up" && off.Sign() < 0 || c.dir == "down" && off.Sign() > 0 {
			t.Errorf("%s, %s: shown as %s, which is on the wrong side", c.line, c.round, s.Number)
		}
		if c.dir == "" && off.Sign() != 0 {
			ties++
		}
	}
	if ties < 500 {
		t.Errorf("only %d cases go to the nearest", ties)
	}
}

// Of a spread the reader gets the safe side: low ends are rounded down, high
// ends and deviations up.
func TestSpreadToTheSafeSide(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	type spreadCase struct {
		lines              string
		low, high, dev     *big.Rat
		name, round, shown string
	}
	var cases []spreadCase
	w := wrongCase{"spreads", map[string]string{}}
	for i := range 600 {
		c := spreadCase{name: fmt.Sprintf("y%d", i), round: fmt.Sprintf("to %d sf", 1+r.IntN(4))}
		gain := decimals(r, 3)
		if i%2 == 0 {
			a, b := decimals(r, 4), decimals(r, 4)
			c.low, c.high = rat(a), new(big.Rat).Add(rat(a), rat(b))
			c.lines = fmt.Sprintf("x%d = %s mm to %s mm\n%s = x%d * %s in mm\n", i, a, c.high.FloatString(12), c.name, i, gain)
			c.low, c.high = new(big.Rat).Mul(c.low, rat(gain)), new(big.Rat).Mul(c.high, rat(gain))
		} else {
			dev := decimals(r, 4)
			c.lines = fmt.Sprintf("x%d = %s mm ± %s mm\n%s = x%d * %s in mm\n", i, decimals(r, 4), dev, c.name, i, gain)
			c.dev = new(big.Rat).Mul(rat(dev), rat(gain))
		}
		w.files["design.calc"] += c.lines
		w.files["figures.txt"] += c.name + " " + c.round + " with spread\n"
		cases = append(cases, c)
	}
	res, list := w.report()
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	// The worst case is computed with the gradient, so that its noise of 1e-12 is allowed for.
	below := func(a, b *big.Rat) bool {
		slack := new(big.Rat).Mul(new(big.Rat).Abs(b), big.NewRat(1, 1e12))
		return a.Cmp(new(big.Rat).Sub(b, slack)) < 0
	}
	for i, c := range cases {
		s := res.Shown(i)
		if c.dev != nil {
			for _, n := range []string{s.Plus, s.Minus} {
				if got := rat(n); below(got, c.dev) {
					t.Errorf("%s%s: a deviation of %s is shown as %s", c.lines, c.round, c.dev.FloatString(12), n)
				} else if got.Cmp(new(big.Rat).Mul(c.dev, big.NewRat(11, 10))) > 0 {
					t.Errorf("%s%s: a deviation of %s is shown as %s, more than two figures ask for", c.lines, c.round, c.dev.FloatString(12), n)
				}
			}
			continue
		}
		if low := rat(s.Low); below(c.low, low) {
			t.Errorf("%s%s: the low end %s is shown as %s", c.lines, c.round, c.low.FloatString(12), s.Low)
		}
		if high := rat(s.High); below(high, c.high) {
			t.Errorf("%s%s: the high end %s is shown as %s", c.lines, c.round, c.high.FloatString(12), s.High)
		}
	}
}
