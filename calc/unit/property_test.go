package unit

import (
	"math"
	"math/big"
	"math/rand"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// compound writes a random product of atoms and computes, apart from the
// parser, what it means.
// ok is false where exponents leave the range that is kept.
func compound(r *rand.Rand, symbols []string) (text string, d Dim, factor float64, ok bool) {
	ok = true
	mul := func(d, e Dim) Dim {
		p, good := d.Mul(e)
		ok = ok && good
		return p
	}
	one := func() (string, Dim, float64) {
		s := symbols[r.Intn(len(symbols))]
		u := atoms[s].unit
		e := []int{1, 1, 1, 2, 3, -1, -2}[r.Intn(7)]
		d, _ := u.Dim.Pow(e, 1)
		return s + power(e, 1), d, math.Pow(u.Factor, float64(e))
	}
	times := func(n int) (string, Dim, float64) {
		var parts []string
		var d Dim
		f := 1.
		for range n {
			s, e, g := one()
			parts = append(parts, s)
			d = mul(d, e)
			f *= g
		}
		return strings.Join(parts, "*"), d, f
	}
	text, d, factor = times(1 + r.Intn(3))
	if n := r.Intn(3); n > 0 {
		s, e, f := times(n)
		if n > 1 || r.Intn(2) == 0 {
			s = "(" + s + ")"
		}
		text += "/" + s
		e, _ = e.Pow(-1, 1)
		d = mul(d, e)
		factor /= f
	}
	return text, d, factor, ok
}

func near(x, y, rel float64) bool { return math.Abs(x-y) <= rel*math.Abs(y) }

// Products of any atoms mean what their parts mean, read back as themselves,
// and have reciprocals and products that agree with them.
func TestCompounds(t *testing.T) {
	var symbols []string
	for s, a := range atoms {
		if usual(a.exp) && !a.unit.Point && s != "mK" { // mK does not stand below a bar
			symbols = append(symbols, s)
		}
	}
	slices.Sort(symbols)
	r := rand.New(rand.NewSource(2))
	var last Unit
	refused := 0
	for range 5000 {
		text, d, factor, ok := compound(r, symbols)
		u, err := Parse(text)
		if !ok {
			if err == nil {
				t.Fatalf("Parse(%q) = %v, with exponents out of range", text, u)
			}
			continue
		}
		if err != nil {
			t.Fatalf("Parse(%q): %v", text, err)
		}
		if u.Dim != d || !near(u.Factor, factor, 1e-14) {
			t.Fatalf("Parse(%q) = %s %v, want %s %v", text, u.Dim, u.Factor, d, factor)
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Fatalf("%q is kept as %q, which reads as %v, %v", text, u.Symbol, v, err)
		}
		// As displayed, a page's reader can write it back.
		if v, err := Parse(u.Display()); err != nil || v != u {
			t.Fatalf("%q is displayed as %q, which reads as %v, %v", text, u.Display(), v, err)
		}
		p, err := u.Per()
		if err != nil {
			t.Fatalf("per %s: %v", text, err)
		}
		if one, _ := u.Dim.Mul(p.Dim); one != None || !near(p.Factor*u.Factor, 1, 1e-14) {
			t.Fatalf("per %s = %v", text, p)
		}
		if q, err := p.Per(); err != nil || q.Dim != u.Dim || !near(q.Factor, u.Factor, 1e-14) {
			t.Fatalf("per per %s = %v, %v", text, q, err)
		}
		if w := Mul(u, p); w.Dim != None || !near(w.Factor, 1, 1e-14) {
			t.Fatalf("%s by its reciprocal = %v", text, w)
		}
		if last.Factor != 0 {
			w, err := Product(u, last)
			d, ok := u.Dim.Mul(last.Dim)
			switch {
			case err != nil:
				refused++ // exponents that leave the range, if only on the way
			case !ok:
				t.Fatalf("%s by %s = %v, with exponents out of range", text, last.Symbol, w)
			case err == nil && (w.Dim != d || !near(w.Factor, u.Factor*last.Factor, 1e-13)):
				t.Fatalf("%s by %s = %v", text, last.Symbol, w)
			case err == nil:
				if v, err := Parse(w.Symbol); err != nil || v != w {
					t.Fatalf("%s by %s = %q, which reads as %v, %v", text, last.Symbol, w.Symbol, v, err)
				}
			}
		}
		last = u
	}
	if refused > 250 {
		t.Errorf("%d products are refused", refused)
	}
}

// What is computed with millikelvins is spelled so that it reads back, though a
// division by mK is refused.
func TestMillikelvin(t *testing.T) {
	parse := func(s string) Unit {
		u, err := Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return u
	}
	p, err := parse("mK/W").Per()
	if want := parse("W*mK^-1"); err != nil || p != want || want.Factor != 1000 {
		t.Errorf("per mK/W = %v, %v; want %v", p, err, want)
	}
	if q := Mul(parse("W"), parse("mK^-1")); q != p {
		t.Errorf("W by mK^-1 = %v, want %v", q, p)
	}
	for _, s := range []string{"W/mK", "W/(mK)", "1/mK", "J/((mK))"} {
		if u, err := Parse(s); err == nil {
			t.Errorf("Parse(%q) = %v, want an error", s, u)
		}
	}
	for _, s := range []string{"W/K", "W/mK^2", "W/(mK*m)", "mK/s", "mK", "W/(m*K)"} {
		parse(s)
	}
}

// The unit that Sensible chooses shows the same quantity, for every atom and
// for compounds, and choosing again changes nothing.
func TestSensibleKeepsValue(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	var symbols []string
	for s := range atoms {
		symbols = append(symbols, s)
	}
	slices.Sort(symbols)
	for _, k := range knownUnits {
		symbols = append(symbols, k.sym)
	}
	for _, s := range symbols {
		u, err := Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			si := math.Pow(10, r.Float64()*30-15) * float64(1-2*r.Intn(2))
			v := Sensible(u, si)
			if v.Dim != u.Dim || v.Point != u.Point {
				t.Fatalf("Sensible(%s, %g) = %v", s, si, v)
			}
			if back := v.ToSI(v.FromSI(si)); !u.Point && !near(back, si, 1e-15) {
				t.Fatalf("Sensible(%s, %g) = %s, which holds %g", s, si, v.Symbol, back)
			}
			if again := Sensible(v, si); again != v {
				t.Fatalf("Sensible(%s, %g) = %s, and of that %s", s, si, v.Symbol, again.Symbol)
			}
		}
	}
}

// At the borders noise chooses no other unit: what is a power of ten of one unit
// is printed as such.
func TestSensibleBorders(t *testing.T) {
	for _, s := range []string{"N", "Pa", "W/m^2", "kg*m^2", "kg/s", "m^3/s", "m^2/s", "m/s", "V/K", "J/kg", "F", "A", "Ω"} {
		u, err := Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		for e := -9; e <= 6; e++ {
			x := math.Pow(10, float64(e))
			for _, si := range []float64{x, x * (1 + 4e-16), x * (1 - 4e-16)} {
				v, w := Sensible(u, x), Sensible(u, si)
				if v != w {
					t.Errorf("1e%d %s is shown in %s, %v in %s", e, s, v.Symbol, si, w.Symbol)
				}
			}
		}
	}
	for _, c := range []struct {
		unit string
		si   float64
		want string
	}{
		{"kg*m^2", 1e-6, "mg*m^2"}, {"m/s", 1e-6, "µm/s"}, {"m^3/s", 1e-6, "cm^3/s"}, {"Pa", 1e-3, "mPa"}, {"W", 1000, "kW"},
	} {
		u, _ := Parse(c.unit)
		if v := Sensible(u, c.si); v.Symbol != c.want {
			t.Errorf("%v %s is shown in %s, want %s", c.si, c.unit, v.Symbol, c.want)
		}
	}
}

var plainDecimal = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?(e-?[1-9][0-9]*)?$`)

var typesetDigits = strings.NewReplacer(Thin+"×"+Thin+"10", "e", Thin, "", "−", "-", ",", ".", "⁻", "-",
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9")

// FuzzRound: any number to any digits lies on its side but for noise, has the
// form that Typeset takes and keeps its digits there, and rounded again is the
// same number.
func FuzzRound(f *testing.F) {
	for _, x := range []float64{0, 2. / 45, 2.675, 12.25, -2.5, 9.996, 0.1 + 0.2, 1.2000000000000002, 1e-9, 999e12, 5e-324, math.MaxFloat64, 61.7654, -75.9544, 1e15 - 1, 9.9999999999995} {
		for _, n := range []int{-2, 0, 1, 2, 3, 13} {
			f.Add(x, n)
		}
	}
	f.Fuzz(func(t *testing.T, x float64, n int) {
		n %= 25
		if math.IsNaN(x) || math.IsInf(x, 0) {
			if s := Round(x, Rounding{Sig, n, Up}); s != "" {
				t.Fatalf("Round(%v) = %q", x, s)
			}
			return
		}
		exact := exactRat(strconv.FormatFloat(x, 'e', -1, 64)) // what x stands for: 5e-324 is 4.94e-324 in binary
		// The distance that counts as noise is itself taken in float64, to about 1e-4.
		slack := new(big.Rat).Mul(new(big.Rat).Abs(exact), big.NewRat(1001, 1e15))
		value := func(s string) *big.Rat {
			y, ok := new(big.Rat).SetString(s)
			if !ok || !plainDecimal.MatchString(s) || strings.HasPrefix(s, "-") && y.Sign() == 0 {
				t.Fatalf("%v is rounded to %q", x, s)
			}
			return y
		}
		for _, mode := range []Mode{Auto, Sig, Places} {
			for _, dir := range []Direction{Nearest, Up, Down} {
				r := Rounding{mode, n, dir}
				s := Round(x, r)
				y := value(s)
				off := new(big.Rat).Sub(y, exact)
				if dir == Up && new(big.Rat).Add(off, slack).Sign() < 0 || dir == Down && new(big.Rat).Sub(off, slack).Sign() > 0 {
					t.Fatalf("Round(%v, %+v) = %s lies on the wrong side", x, r, s)
				}
				for _, sign := range ".," {
					if back := typesetDigits.Replace(Typeset(s, sign)); back != s {
						t.Fatalf("Typeset(%q) = %q has other digits", s, Typeset(s, sign))
					}
				}
				z, _ := y.Float64()
				if math.IsInf(z, 0) {
					continue // MaxFloat64 rounded up
				}
				again := Round(z, r)
				if value(again).Cmp(y) != 0 || mode != Auto && again != s {
					t.Fatalf("Round(%v, %+v) = %s, and of that %s", x, r, s, again)
				}
			}
		}
	})
}
