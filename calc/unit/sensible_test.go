package unit

import (
	"math"
	"testing"
)

func TestSensible(t *testing.T) {
	for _, c := range []struct {
		sym  string
		si   float64
		want string
	}{
		{"m", 1.384, "m"}, {"m", 0.25, "mm"}, {"mm", 1.384, "m"}, {"m", 0.0001, "mm"}, {"m", 25e-6, "µm"}, {"m", 40e-9, "nm"}, {"m", 2500, "km"}, {"m", -0.25, "mm"},
		{"m^2", 0.035, "cm^2"}, {"m^2", 2.5e-5, "mm^2"}, {"mm^2", 0.5, "m^2"},
		{"m^3", 0.0035, "L"}, {"m^3", 2e-8, "mm^3"}, {"m^3", 5e-5, "cm^3"}, {"m^3", 3, "m^3"}, {"L", 5e-5, "mL"}, {"mL", 0.02, "L"},
		{"m^4", 5e-11, "mm^4"}, {"m^4", 5e-8, "cm^4"},
		{"s", 7300, "h"}, {"s", 300, "min"}, {"s", 90, "s"}, {"s", 0.004, "ms"}, {"s", 2e-8, "ns"}, {"h", 30, "s"}, {"s", 400000, "d"},
		{"kg", 0.3, "g"}, {"kg", 2e-5, "mg"}, {"kg", 1500, "t"}, {"g", 4.5, "kg"},
		{"N", 25000, "kN"}, {"N", 0.02, "mN"}, {"N", 0.5, "N"}, {"kN", 200, "kN"}, {"N", 999, "N"}, {"N", 1000, "kN"},
		{"N/m", 25000, "kN/m"}, {"N/mm^2", 2.1e11, "kN/mm^2"}, {"Pa", 69e9, "GPa"}, {"Pa", 500e3, "kPa"}, {"N*m", 0.02, "mN*m"},
		{"W/m^2", 1700, "kW/m^2"}, {"J", 0.5, "J"}, {"W", 1500, "kW"}, {"Wh", 7.2e6, "kWh"}, {"Pa*s", 2e-3, "mPa*s"}, {"J/(kg*K)", 1700, "kJ/(kg*K)"},
		{"Ω/m", 0.04, "mΩ/m"}, {"A", 0.03, "mA"}, {"F", 1e-10, "pF"},
		{"m^2/s", 1.4e-7, "mm^2/s"}, {"m^3/s", 2e-5, "cm^3/s"}, {"mm/s", 2, "m/s"},
		{"kg/m^3", 7850, "kg/m^3"}, {"kg/s", 0.02, "g/s"}, {"K", 1500, "K"}, {"K/W", 0.02, "mK/W"}, {"rad/s", 3000, "rad/s"}, {"rad", 0.002, "mrad"},
		{"°C", 300, "°C"}, {"%", 1e-9, "%"}, {"", 1e9, ""}, {"K^-1", 2e-5, "K^-1"}, {"1/K", 2e-5, "1/K"}, {"EUR", 5e4, "EUR"}, {"EUR/kg", 5e4, "EUR/kg"},
		{"in", 25, "in"}, {"in^2", 25, "in^2"}, {"lb", 0.001, "lb"}, {"psi", 1e9, "psi"}, {"lbf*in", 1e6, "lbf*in"}, {"bar", 1e9, "bar"},
		{"N", 0, "N"}, {"m", math.NaN(), "m"}, {"m", math.Inf(1), "m"}, {"N", 1e30, "TN"},
	} {
		u, err := Parse(c.sym)
		if err != nil {
			t.Fatal(err)
		}
		if got := Sensible(u, c.si); got.Symbol != c.want {
			t.Errorf("Sensible(%s, %v) = %s, want %s", c.sym, c.si, got.Symbol, c.want)
		}
	}
}

// Where a unit takes prefixes the number is easy to read over the whole range
// of a workshop, and the dimension is always kept.
func TestSensibleRange(t *testing.T) {
	for _, s := range []string{"N", "Pa", "J", "W", "V", "A", "Ω", "F", "Hz", "N/m", "N*m", "W/m^2", "J/kg", "W/(m*K)"} {
		u, _ := Parse(s)
		for e := -11.9; e < 14; e += 0.1 {
			si := math.Pow(10, e)
			v := Sensible(u, si)
			if x := v.FromSI(si); v.Dim != u.Dim || x < 0.1*(1-1e-12) || x >= 1000 {
				t.Errorf("%g %s is shown as %g %s", si, s, x, v.Symbol)
			}
		}
	}
	for _, s := range []string{"m", "s", "g"} { // up to days and tonnes
		u, _ := Parse(s)
		for e := -9.9; e < 5.9; e += 0.1 {
			si := math.Pow(10, e)
			v := Sensible(u, si)
			if x := v.FromSI(si); v.Dim != u.Dim || x < 0.1*(1-1e-12) || x >= 1000 {
				t.Errorf("%g %s is shown as %g %s", si, s, x, v.Symbol)
			}
		}
	}
	for s := range atoms {
		u, _ := Parse(s)
		for _, si := range []float64{1e-20, 1e-3, 5, 1e7} {
			if v := Sensible(u, si); v.Dim != u.Dim || v.Point != u.Point || !(v.Factor > 0) {
				t.Errorf("Sensible(%s, %g) = %v", s, si, v)
			}
		}
	}
}

func TestProductHint(t *testing.T) {
	for _, c := range []struct{ a, op, b, want string }{
		{"mm", "*", "mm", "mm^2"}, {"mm^2", "*", "mm", "mm^3"}, {"mm^3", "/", "mm", "mm^2"}, {"mm^2", "/", "mm", "mm"}, {"in", "*", "in", "in^2"}, {"m", "*", "mm", ""},
		{"N", "*", "mm", "N*m"}, {"m", "*", "kN", "N*m"}, {"lbf", "*", "in", "lbf*in"}, {"in", "*", "lbf", "lbf*in"}, {"ft", "*", "lbf", "lbf*ft"}, {"lbf", "*", "mm", "N*m"},
		{"N*m/rad", "*", "rad", "N*m"}, {"kN*m/rad", "*", "°", "N*m"},
		{"N", "/", "mm^2", "MPa"}, {"N", "/", "m^2", "Pa"}, {"kN", "/", "cm^2", "Pa"}, {"lbf", "/", "in^2", "psi"},
		{"V", "*", "A", "W"}, {"mV", "*", "mA", "W"}, {"V", "/", "A", "Ω"}, {"W", "/", "V", "A"},
		{"W", "*", "s", "J"}, {"kW", "*", "h", "Wh"}, {"h", "*", "W", "Wh"}, {"J", "/", "s", "W"}, {"W", "*", "min", "J"},
		{"m/s", "*", "s", "m"}, {"min", "*", "mm/min", "mm"}, {"ft/s", "*", "s", "ft"},
		{"mm", "/", "s", "mm/s"}, {"m", "/", "min", "m/min"}, {"km", "/", "h", "km/h"}, {"m", "/", "m/s", "s"},
		{"g", "/", "cm^3", "g/cm^3"}, {"kg", "/", "m^3", ""}, {"kg", "/", "mm^3", ""}, {"g/cm^3", "*", "cm^3", "kg"},
		{"m/s", "*", "mm/s", "m^2/s^2"}, {"km/h", "*", "km/h", "m^2/s^2"},
		{"J", "/", "mm^2", "J/m^2"}, {"N*m", "/", "m^2", ""},
		{"kg", "*", "m/s^2", "N"}, {"N", "/", "mm", ""}, {"N/mm", "*", "mm", "N"}, {"W", "/", "m^2", ""}, {"EUR/kg", "*", "g", "EUR"},
		{"m", "/", "m", ""}, {"°C", "*", "m", ""}, {"m^20", "*", "m^20", ""},
	} {
		a, err1 := Parse(c.a)
		b, err2 := Parse(c.b)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		u, ok := ProductHint(a, b, c.op == "/")
		if ok != (c.want != "") || u.Symbol != c.want {
			t.Errorf("%s %s %s is shown in %q, %v; want %q", c.a, c.op, c.b, u.Symbol, ok, c.want)
		}
		if !ok {
			continue
		}
		d, _ := a.Dim.Mul(b.Dim)
		if c.op == "/" {
			d, _ = a.Dim.Div(b.Dim)
		}
		if u.Dim != d {
			t.Errorf("%s %s %s: dimension %s, want %s", c.a, c.op, c.b, u.Dim, d)
		}
	}
	// Of any two units the hint has the dimension of the product.
	for i := range table {
		for j := range table {
			a, b := atoms[table[i].sym].unit, atoms[table[j].sym].unit
			for _, divide := range []bool{false, true} {
				d, _ := a.Dim.Mul(b.Dim)
				if divide {
					d, _ = a.Dim.Div(b.Dim)
				}
				if u, ok := ProductHint(a, b, divide); ok && u.Dim != d {
					t.Errorf("%s and %s, divide %v: %s", a.Symbol, b.Symbol, divide, u.Symbol)
				}
			}
		}
	}
}
