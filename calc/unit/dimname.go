package unit

import "strings"

// knownUnits are the coherent SI units by which people know a dimension, with
// what they call the quantity (after ISO 80000, parts 3 to 7, in plain words).
// Of two with one dimension (Hz and Bq, J and N*m) the one used in a workshop
// is here.
var knownUnits = []struct{ sym, name string }{
	{"", "plain number"}, {"m", "length"}, {"kg", "mass"}, {"s", "time"}, {"A", "electric current"}, {"K", "temperature"},
	{"mol", "amount of substance"}, {"cd", "luminous intensity"}, {"rad", "angle"}, {"sr", "solid angle"},

	{"m^2", "area"}, {"m^3", "volume"}, {"m^4", "second moment of area"}, {"m^-1", "curvature"}, {"rad/m", "twist"},
	{"m/s", "speed"}, {"m/s^2", "acceleration"}, {"m/s^3", "jerk"}, {"rad/s", "angular speed"}, {"rad/s^2", "angular acceleration"}, {"Hz", "frequency"},

	{"N", "force"}, {"Pa", "pressure or stress"}, {"J", "energy or torque"}, {"W", "power"}, {"N/m", "stiffness or force per length"},
	{"N/m^3", "force per volume"}, {"kg/m", "mass per length"}, {"kg/m^2", "mass per area"}, {"kg/m^3", "density"}, {"m^3/kg", "specific volume"},
	{"kg/s", "mass flow"}, {"m^3/s", "volume flow"}, {"m^2/s", "diffusivity"}, {"kg*m/s", "momentum"}, {"kg*m^2", "moment of inertia"},
	{"N*m^2", "bending stiffness"}, {"Pa*s", "dynamic viscosity"}, {"N*m/rad", "torsional stiffness"},
	{"Pa*m^(1/2)", "fracture toughness"}, {"Pa^-1", "compressibility"},

	{"V", "voltage"}, {"Ω", "resistance"}, {"Ω/m", "resistance per length"}, {"Ω*m", "resistivity"}, {"C", "electric charge"},
	{"F", "capacitance"}, {"H", "inductance"}, {"S", "conductance"}, {"S/m", "conductivity"}, {"A/m", "magnetic field strength"}, {"A/m^2", "current density"},
	{"V/m", "electric field strength"}, {"Wb", "magnetic flux"}, {"T", "magnetic flux density"},

	{"W/m", "power per length"}, {"W/m^2", "irradiance or heat flux"}, {"W/m^3", "power per volume"}, {"J/kg", "energy per mass"},
	{"W/kg", "power per mass"}, {"J/(kg*K)", "specific heat capacity"}, {"J/K", "heat capacity"}, {"J/(m^3*K)", "heat capacity per volume"},
	{"W/(m*K)", "thermal conductivity"}, {"W/(m^2*K)", "heat transfer coefficient"}, {"K/W", "thermal resistance"}, {"W/K", "heat loss per kelvin"},
	{"K*m^2/W", "thermal insulance"}, {"W/(m^2*K^4)", "radiation constant"}, {"K^-1", "coefficient of expansion"}, {"K/s", "heating rate"}, {"K/m", "temperature gradient"},
	{"V/K", "thermoelectric sensitivity"}, {"Ω/K", "resistance per kelvin"},

	{"lm", "luminous flux"}, {"lx", "illuminance"}, {"lm/W", "luminous efficacy"}, {"kat", "catalytic activity"},
	{"kg/mol", "molar mass"}, {"mol/m^3", "concentration"}, {"J/mol", "energy per amount"}, {"J/(mol*K)", "molar heat capacity"},
}

// costs are known for each currency.
var costs = []struct{ per, name string }{
	{"", "cost"}, {"/kg", "price per mass"}, {"/m", "price per length"}, {"/m^2", "price per area"}, {"/m^3", "price per volume"},
	{"/J", "price per energy"}, {"/s", "cost per time"},
}

type knownDim struct {
	unit Unit
	name string
}

var known = func() map[Dim]knownDim {
	m := map[Dim]knownDim{}
	add := func(sym, name string) {
		u, err := Parse(sym)
		if err != nil {
			panic("unit: " + sym + ": " + err.Error())
		}
		if _, twice := m[u.Dim]; twice {
			panic("unit: a second unit for the dimension of " + sym)
		}
		m[u.Dim] = knownDim{u, name}
	}
	for _, k := range knownUnits {
		add(k.sym, k.name)
	}
	for _, c := range baseSymbols[EUR:] {
		for _, k := range costs {
			add(c+k.per, k.name)
		}
	}
	return m
}()

// Coherent gives the coherent SI unit of a dimension, whose factor is 1: the
// one by which people know it where there is one (N, Pa, J, W/(m*K)), otherwise
// a product of base units such as kg*m/s^4.
func Coherent(d Dim) Unit {
	if k, ok := known[d]; ok {
		return k.unit
	}
	return Unit{Symbol: spell(d.terms()), Dim: d, Factor: 1}
}

// Name gives what people call a quantity of this dimension: "force", "energy or
// torque", "plain number"; "" if it has no name.
func (d Dim) Name() string { return known[d].name }

var baseSymbols = [NumBase]string{"m", "kg", "s", "A", "K", "mol", "cd", "rad", "EUR", "USD", "GBP", "CHF", "JPY", "SEK", "AUD", "CAD"}

// baseOrder is the order in which base units are written.
var baseOrder = [NumBase]int{Mass, Length, Time, Current, Temperature, Amount, Intensity, Angle, EUR, USD, GBP, CHF, JPY, SEK, AUD, CAD}

// terms gives the dimension as base units with their exponents.
func (d Dim) terms() (t []term) {
	for _, i := range baseOrder {
		if d[i] != 0 {
			t = append(t, term{atoms[baseSymbols[i]], 1, 1}.pow(int(d[i]), Sixths))
		}
	}
	return t
}

// String gives the dimension in base units: "kg*m*s^-2"; "1" for a plain number.
func (d Dim) String() string {
	var parts []string
	for _, t := range d.terms() {
		parts = append(parts, t.atom.unit.Symbol+power(t.num, t.den))
	}
	if len(parts) == 0 {
		return "1"
	}
	return strings.Join(parts, "*")
}
