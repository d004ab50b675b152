package unit

import (
	"math"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		s, sym, dim string
		factor      float64
	}{
		{"mm", "mm", "m", 1e-3},
		{"g/cm^3", "g/cm^3", "kg*m^-3", 1000},
		{"kJ/(kg*K)", "kJ/(kg*K)", "m^2*s^-2*K^-1", 1000},
		{"W/m²", "W/m^2", "kg*s^-3", 1},
		{"um", "µm", "m", 1e-6},
		{"rpm", "rpm", "s^-1*rad", math.Pi / 30},
		{"lbf*in", "lbf*in", "kg*m^2*s^-2", 4.4482216152605 * 0.0254},
		{"min", "min", "s", 60},
		{"ohm/m", "Ω/m", "kg*m*s^-3*A^-2", 1},
		{"Pa*m^(1/2)", "Pa*m^(1/2)", "kg*m^(-1/2)*s^-2", 1},
		{"1/K", "1/K", "K^-1", 1},
		{"kWh", "kWh", "kg*m^2*s^-2", 3.6e6},
		{"psi", "psi", "kg*m^-1*s^-2", 6894.757293168362},
		{"deg", "°", "rad", math.Pi / 180},
	} {
		u, err := Parse(c.s)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.s, err)
			continue
		}
		if u.Symbol != c.sym || u.Dim.String() != c.dim || math.Abs(u.Factor/c.factor-1) > 1e-15 {
			t.Errorf("Parse(%q) = %q %s %v, want %q %s %v", c.s, u.Symbol, u.Dim, u.Factor, c.sym, c.dim, c.factor)
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Errorf("Parse(%q) = %v, %v; want %v again", u.Symbol, v, err, u)
		}
	}
	for _, bad := range []string{"xyz", "W/m/K", "W/m*K", "J/(kg*K", "W/(m*°C)", "m^x", "m m", "°C^2", "m^99"} {
		if u, err := Parse(bad); err == nil {
			t.Errorf("Parse(%q) = %v, want an error", bad, u)
		}
	}
}

// Every symbol of the table reads back as itself.
func TestAtomsReadBack(t *testing.T) {
	for s := range atoms {
		u, err := Parse(s)
		if err != nil {
			t.Errorf("%s: %v", s, err)
			continue
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Errorf("%s: %v reads back as %v, %v", s, u, v, err)
		}
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct {
		x    float64
		r    Rounding
		want string
	}{
		// ISO 80000-1 annex B rule A, and the vectors of a published standard's annex on rounding.
		{12.25, Rounding{Places, 1, Nearest}, "12.2"},
		{12.35, Rounding{Places, 1, Nearest}, "12.4"},
		{1.655, Rounding{Sig, 3, Nearest}, "1.66"},
		{1.625, Rounding{Sig, 3, Nearest}, "1.62"},
		{-2.5, Rounding{Places, 0, Nearest}, "-2"},
		{0.5, Rounding{Places, 0, Nearest}, "0"},
		{9.96, Rounding{Sig, 2, Nearest}, "10"},
		{9.96, Rounding{Sig, 3, Nearest}, "9.96"},
		{9.996, Rounding{Sig, 3, Nearest}, "10.0"},
		{2.5, Rounding{Sig, 3, Nearest}, "2.50"},
		{1.2000000000000002, Rounding{Sig, 2, Up}, "1.2"},
		{1.21, Rounding{Sig, 2, Up}, "1.3"},
		{-1.21, Rounding{Sig, 2, Up}, "-1.2"},
		{1.29, Rounding{Sig, 2, Down}, "1.2"},
		{-1.21, Rounding{Sig, 2, Down}, "-1.3"},
		{1384, Rounding{}, "1384"},
		{61.7654, Rounding{}, "61.8"},
		{0.00123456, Rounding{}, "0.00123"},
		{1234.56, Rounding{}, "1230"},
		{0, Rounding{}, "0"},
		{0, Rounding{Places, 2, Nearest}, "0.00"},
		{1.234e-9, Rounding{}, "1.23e-9"},
		{0.1 + 0.2, Rounding{Sig, 1, Up}, "0.3"},
		{99.99, Rounding{Sig, 2, Up}, "100"},
		{0.004, Rounding{Places, 2, Up}, "0.01"},
	} {
		if got := Round(c.x, c.r); got != c.want {
			t.Errorf("Round(%v, %+v) = %q, want %q", c.x, c.r, got, c.want)
		}
	}
}

func TestTypeset(t *testing.T) {
	for _, c := range [][2]string{
		{"1384", "1384"}, {"12345.678", "12\u202f345.678"}, {"-2.50", "−2.50"}, {"1.2e-9", "1.2\u202f×\u202f10⁻⁹"}, {"0.12345", "0.123\u202f45"},
	} {
		if got := Typeset(c[0], '.'); got != c[1] {
			t.Errorf("Typeset(%q) = %q, want %q", c[0], got, c[1])
		}
	}
}

func TestSensible(t *testing.T) {
	for _, c := range []struct {
		sym  string
		si   float64
		want string
	}{
		{"m", 1.384, "m"}, {"m", 0.25, "mm"}, {"N/m", 25000, "kN/m"}, {"Pa", 69e9, "GPa"}, {"N*m", 0.02, "mN*m"}, {"m^3", 0.0035, "L"},
		{"kg", 0.3, "g"}, {"W/m^2", 1700, "kW/m^2"}, {"J", 0.5, "J"}, {"s", 7300, "h"}, {"°C", 300, "°C"}, {"m^2", 0.035, "cm^2"},
	} {
		u, _ := Parse(c.sym)
		if got := Sensible(u, c.si); got.Symbol != c.want {
			t.Errorf("Sensible(%s, %v) = %s, want %s", c.sym, c.si, got.Symbol, c.want)
		}
	}
}
