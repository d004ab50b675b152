package unit

import (
	"math"
	"testing"
)

// Names and coherent units after the SI brochure, table 4 and 5.
func TestCoherent(t *testing.T) {
	for _, c := range []struct{ unit, coherent, base, name string }{
		{"", "", "1", "plain number"},
		{"mm", "m", "m", "length"},
		{"kgf", "N", "kg*m*s^-2", "force"},
		{"psi", "Pa", "kg*m^-1*s^-2", "pressure or stress"},
		{"lbf*in", "J", "kg*m^2*s^-2", "energy or torque"},
		{"kWh/h", "W", "kg*m^2*s^-3", "power"},
		{"s^-1", "Hz", "s^-1", "frequency"},
		{"rpm", "rad/s", "s^-1*rad", "angular speed"},
		{"W/A", "V", "kg*m^2*s^-3*A^-1", "voltage"},
		{"V/A", "Ω", "kg*m^2*s^-3*A^-2", "resistance"},
		{"A*s", "C", "s*A", "electric charge"},
		{"C/V", "F", "kg^-1*m^-2*s^4*A^2", "capacitance"},
		{"V*s/A", "H", "kg*m^2*s^-2*A^-2", "inductance"},
		{"A/V", "S", "kg^-1*m^-2*s^3*A^2", "conductance"},
		{"V*s", "Wb", "kg*m^2*s^-2*A^-1", "magnetic flux"},
		{"Wb/m^2", "T", "kg*s^-2*A^-1", "magnetic flux density"},
		{"N/mm", "N/m", "kg*s^-2", "stiffness or force per length"},
		{"W/m^2", "W/m^2", "kg*s^-3", "irradiance or heat flux"},
		{"W/(m^2*K)", "W/(m^2*K)", "kg*s^-3*K^-1", "heat transfer coefficient"},
		{"W/(m*K)", "W/(m*K)", "kg*m*s^-3*K^-1", "thermal conductivity"},
		{"1/K", "K^-1", "K^-1", "coefficient of expansion"},
		{"mPa*s", "Pa*s", "kg*m^-1*s^-1", "dynamic viscosity"},
		{"kJ/(kg*K)", "J/(kg*K)", "m^2*s^-2*K^-1", "specific heat capacity"},
		{"g/cm^3", "kg/m^3", "kg*m^-3", "density"},
		{"MPa*m^(1/2)", "Pa*m^(1/2)", "kg*m^(-1/2)*s^-2", "fracture toughness"},
		{"cd*sr", "lm", "cd*rad^2", "luminous flux"},
		{"lm/m^2", "lx", "m^-2*cd*rad^2", "illuminance"},
		{"mol/s", "kat", "s^-1*mol", "catalytic activity"},
		{"JPY", "JPY", "JPY", "cost"},
		{"CAD/g", "CAD/kg", "kg^-1*CAD", "price per mass"},
		{"EUR*m/kg", "m*EUR/kg", "kg^-1*m*EUR", ""},
		{"kg^2*m/s^5", "kg^2*m/s^5", "kg^2*m*s^-5", ""},
		{"1/(kg^2*s)", "1/(kg^2*s)", "kg^-2*s^-1", ""},
		{"kg/(m*s*K)", "kg/(m*s*K)", "kg*m^-1*s^-1*K^-1", ""},
	} {
		u, err := Parse(c.unit)
		if err != nil {
			t.Error(err)
			continue
		}
		got := Coherent(u.Dim)
		if got.Symbol != c.coherent || u.Dim.String() != c.base || u.Dim.Name() != c.name {
			t.Errorf("%s: %s, %s, %q; want %s, %s, %q", c.unit, got.Symbol, u.Dim, u.Dim.Name(), c.coherent, c.base, c.name)
		}
	}
}

// Coherent succeeds for every dimension, with a factor of one, in a spelling
// that reads back.
func TestCoherentAlways(t *testing.T) {
	check := func(d Dim) {
		u := Coherent(d)
		if v, err := Parse(u.Symbol); err != nil || v != u || u.Dim != d || u.Factor != 1 {
			t.Errorf("Coherent(%v) = %v; reads as %v, %v", [NumBase]int8(d), u, v, err)
		}
		if v, err := Parse(d.String()); err != nil || v.Dim != d {
			t.Errorf("%s reads as %v, %v", d, v, err)
		}
	}
	for i := range NumBase {
		for _, e := range []int8{-127, -126, -6, -3, -2, -1, 1, 2, 3, 6, 7, 126, 127} {
			var d Dim
			d[i] = e
			check(d)
			d[(i+1)%NumBase] = -e
			check(d)
			for j := range d {
				d[j] = e
			}
			check(d)
		}
	}
}

func TestKnownUnits(t *testing.T) {
	for _, k := range knownUnits {
		u, err := Parse(k.sym)
		if err != nil || u.Factor != 1 || u.Point || u.Symbol != k.sym {
			t.Errorf("%s: %v, %v; want a coherent unit in its kept spelling", k.sym, u, err)
		}
	}
}

func TestDim(t *testing.T) {
	big := Dim{Length: 127}
	if _, ok := big.Mul(Base(Length)); ok {
		t.Error("an exponent of 22 is kept")
	}
	if _, ok := big.Pow(2, 1); ok {
		t.Error("an exponent of 42 is kept")
	}
	if _, ok := Base(Length).Pow(1, 4); ok {
		t.Error("a fourth root is kept")
	}
	if _, ok := Base(Length).Pow(1, 0); ok {
		t.Error("an exponent of 1/0 is kept")
	}
	if d, ok := Base(Length).Pow(1, 3); !ok || d.String() != "m^(1/3)" {
		t.Errorf("cube root of a length: %s", d)
	}
	if d, ok := Base(Length).Div(Base(Time)); !ok || d != dimSpeed {
		t.Errorf("length by time: %s", d)
	}
}

func TestPerAndProduct(t *testing.T) {
	for _, c := range [][2]string{
		{"K", "K^-1"}, {"K^-1", "K"}, {"1/K", "K"}, {"m^2", "m^-2"}, {"W/(m*K)", "m*K/W"}, {"W/m^2", "m^2/W"}, {"kg*m", "1/(kg*m)"},
		{"", ""}, {"m^(1/2)", "m^(-1/2)"}, {"1/(m*K)", "m*K"}, {"(m/s)^2", "s^2/m^2"}, {"rpm", "rpm^-1"}, {"%", "%^-1"},
	} {
		u, err := Parse(c[0])
		if err != nil {
			t.Fatal(err)
		}
		p, err := u.Per()
		if err != nil || p.Symbol != c[1] || math.Abs(p.Factor*u.Factor-1) > 1e-15 {
			t.Errorf("per %s = %v, %v; want %s", c[0], p, err, c[1])
		}
	}
	for _, c := range [][3]string{
		{"m", "K^-1", "m/K"}, {"µm", "1/(m*K)", "µm/(m*K)"}, {"m", "m", "m^2"}, {"m", "m^-1", ""}, {"mm", "m", "mm*m"}, {"", "K", "K"}, {"K", "", "K"},
		{"W/m^2", "K^-1", "W/(m^2*K)"}, {"m^(1/2)", "m^(1/2)", "m"}, {"m^(1/2)", "m^(1/3)", "m^(5/6)"}, {"", "°C", "°C"},
	} {
		u, _ := Parse(c[0])
		v, _ := Parse(c[1])
		w, err := Product(u, v)
		if err != nil || w.Symbol != c[2] || math.Abs(w.Factor/(u.Factor*v.Factor)-1) > 1e-15 {
			t.Errorf("%s by %s = %v, %v; want %s", c[0], c[1], w, err, c[2])
		}
		if x := Mul(u, v); x != w {
			t.Errorf("Mul(%s, %s) = %v, Product %v", c[0], c[1], x, w)
		}
	}
	celsius, _ := Parse("°C")
	metre, _ := Parse("m")
	if u, err := celsius.Per(); err == nil {
		t.Errorf("per °C = %v", u)
	}
	if u, err := Product(celsius, metre); err == nil {
		t.Errorf("°C by m = %v", u)
	}
	if u := Mul(metre, celsius); !math.IsNaN(u.Factor) {
		t.Errorf("m by °C can be computed with: %v", u)
	}
	far, _ := Parse("m^20")
	if u, err := Product(far, far); err == nil {
		t.Errorf("m^40 = %v", u)
	}
}
