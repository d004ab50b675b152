package unit

import (
	"math"
	"strconv"
	"strings"
)

// Thin is the narrow no-break space, U+202F: between a number and its unit and
// between groups of three digits (ISO 80000-1; SI brochure 5.4.3, 5.4.4).
const Thin = "\u202f"

// Display gives the unit as a page shows it: N·m, kJ/(kg·K), m², s⁻¹.
func (u Unit) Display() string {
	var b strings.Builder
	s := u.Symbol
	for i := 0; i < len(s); {
		switch c := s[i]; {
		case c == '*':
			b.WriteString("·")
			i++
		case c == '^':
			i++
			if i < len(s) && s[i] == '(' {
				j := strings.IndexByte(s[i:], ')')
				b.WriteString(super(strings.NewReplacer("(", "", "/", "⁄").Replace(s[i : i+j])))
				i += j + 1
				continue
			}
			j := i
			for j < len(s) && (s[j] == '-' || s[j] >= '0' && s[j] <= '9') {
				j++
			}
			b.WriteString(super(s[i:j]))
			i = j
		default:
			b.WriteByte(c)
			i++
		}
	}
	return b.String()
}

var superscript = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "-", "⁻")

func super(s string) string { return superscript.Replace(s) }

// NeedsSpace reports whether a space stands between a number and the unit: not
// before the degree of plane angle (SI brochure 5.4.3).
func NeedsSpace(u Unit) bool { return u.Symbol != "°" && u.Symbol != "" }

// Join sets a typeset number and its unit side by side.
func Join(number string, u Unit) string {
	if u.Symbol == "" {
		return number
	}
	if !NeedsSpace(u) {
		return number + u.Display()
	}
	return number + Thin + u.Display()
}

// known maps dimensions to the coherent SI unit by which people know them.
var known = []struct {
	sym, name string
}{
	{"", "plain number"}, {"m", "length"}, {"kg", "mass"}, {"s", "time"}, {"A", "electric current"}, {"K", "temperature"},
	{"mol", "amount of substance"}, {"cd", "luminous intensity"}, {"rad", "angle"},
	{"m^2", "area"}, {"m^3", "volume"}, {"m^4", "second moment of area"}, {"m^-1", "curvature"},
	{"m/s", "speed"}, {"m/s^2", "acceleration"}, {"rad/s", "angular speed"}, {"rad/s^2", "angular acceleration"}, {"Hz", "frequency"},
	{"N", "force"}, {"Pa", "pressure or stress"}, {"J", "energy or torque"}, {"W", "power"}, {"N/m", "stiffness or force per length"},
	{"kg/m", "mass per length"}, {"kg/m^2", "mass per area"}, {"kg/m^3", "density"}, {"kg/s", "mass flow"}, {"m^3/s", "volume flow"}, {"m^2/s", "diffusivity"},
	{"kg*m^2", "moment of inertia"}, {"N*m^2", "bending stiffness"}, {"Pa*s", "dynamic viscosity"}, {"N*m/rad", "torsional stiffness"},
	{"V", "voltage"}, {"Ω", "resistance"}, {"Ω/m", "resistance per length"}, {"Ω*m", "resistivity"}, {"C", "electric charge"}, {"F", "capacitance"}, {"H", "inductance"}, {"S", "conductance"},
	{"W/m", "power per length"}, {"W/m^2", "irradiance or heat flux"}, {"J/m^2", "energy per area"}, {"J/kg", "energy per mass"}, {"J/(kg*K)", "specific heat capacity"}, {"J/K", "heat capacity"},
	{"W/(m*K)", "thermal conductivity"}, {"W/(m^2*K)", "heat transfer coefficient"}, {"K/W", "thermal resistance"}, {"W/K", "heat loss per kelvin"}, {"K*m^2/W", "thermal insulance"},
	{"K^-1", "coefficient of expansion"}, {"K/s", "heating rate"}, {"K/m", "temperature gradient"}, {"V/K", "thermoelectric sensitivity"}, {"Ω/K", "resistance per kelvin"},
	{"lm", "luminous flux"}, {"T", "magnetic flux density"}, {"Wb", "magnetic flux"},
	{"EUR", "cost"}, {"USD", "cost"}, {"GBP", "cost"}, {"CHF", "cost"}, {"JPY", "cost"}, {"SEK", "cost"}, {"AUD", "cost"}, {"CAD", "cost"},
	{"EUR/kg", "price per mass"}, {"EUR/m", "price per length"},
}

var knownByDim = func() map[Dim]int {
	m := map[Dim]int{}
	for i, k := range known {
		u, err := Parse(k.sym)
		if err != nil {
			panic("unit: " + k.sym + ": " + err.Error())
		}
		if _, dup := m[u.Dim]; !dup {
			m[u.Dim] = i
		}
	}
	return m
}()

// Coherent gives the coherent SI unit of a dimension: with the special name by
// which people know it where there is one, otherwise from base units.
func Coherent(d Dim) Unit {
	if i, ok := knownByDim[d]; ok {
		u, _ := Parse(known[i].sym)
		return u
	}
	u, err := Parse(d.String())
	if err != nil {
		return Unit{Symbol: d.String(), Dim: d, Factor: 1}
	}
	return u
}

var baseSymbols = [NumBase]string{"m", "kg", "s", "A", "K", "mol", "cd", "rad", "EUR", "USD", "GBP", "CHF", "JPY", "SEK", "AUD", "CAD"}

// String gives the dimension in base units: "kg*m*s^-2"; "1" for a plain number.
func (d Dim) String() string {
	order := []int{Mass, Length, Time, Current, Temperature, Amount, Intensity, Angle, EUR, USD, GBP, CHF, JPY, SEK, AUD, CAD}
	var parts []string
	for _, i := range order {
		switch d[i] {
		case 0:
		case Sixths:
			parts = append(parts, baseSymbols[i])
		default:
			parts = append(parts, baseSymbols[i]+"^"+exponent(d[i]))
		}
	}
	if len(parts) == 0 {
		return "1"
	}
	return strings.Join(parts, "*")
}

// Name gives what people call a quantity of this dimension, or "".
func (d Dim) Name() string {
	if i, ok := knownByDim[d]; ok {
		return known[i].name
	}
	return ""
}

// Sensible chooses a prefix for a computed quantity so that its number is easy
// to read: for units that are, or begin with, a single atom that takes
// prefixes, the number comes to lie between 0.1 and 1000. Lengths keep to mm
// and m, areas and volumes to the powers of mm, cm and m. Units that take no
// prefix, and zero, stay as they are.
func Sensible(u Unit, si float64) Unit {
	if si == 0 || u.Point || u.Symbol == "" || math.IsNaN(si) || math.IsInf(si, 0) {
		return u
	}
	abs := math.Abs(si)
	try := func(symbols ...string) Unit {
		var best Unit
		for _, s := range symbols {
			v, err := Parse(s)
			if err != nil || v.Dim != u.Dim {
				continue
			}
			if best.Symbol == "" {
				best = v
			}
			if x := abs / v.Factor; x < 1000 {
				return v
			}
			best = v
		}
		if best.Symbol == "" {
			return u
		}
		return best
	}
	switch u.Dim {
	case Base(Length):
		if u.Symbol == "m" || strings.HasSuffix(u.Symbol, "m") && isAtom(u.Symbol) {
			switch {
			case abs < 0.1e-3:
				return try("nm", "µm")
			case abs < 10:
				return try("mm", "m", "m")
			}
			return try("m", "km")
		}
		return u
	case dims(2, 0, 0, 0, 0):
		return byReach(abs, try, []string{"mm^2", "cm^2", "m^2"}, []float64{1e-4, 1e-1})
	case dimVolume:
		return byReach(abs, try, []string{"mm^3", "cm^3", "L", "m^3"}, []float64{1e-6, 1e-3, 1})
	case dims(4, 0, 0, 0, 0):
		return byReach(abs, try, []string{"mm^4", "cm^4", "m^4"}, []float64{1e-6, 1e-4})
	case Base(Time):
		return byReach(abs, try, []string{"µs", "ms", "s", "min", "h", "d"}, []float64{1e-3, 0.1, 120, 7200, 172800})
	case Base(Mass):
		return byReach(abs, try, []string{"mg", "g", "kg", "t"}, []float64{1e-3, 1, 1e4})
	}
	head, tail := splitHead(u.Symbol)
	a := atoms[head]
	if a == nil || a.row.prefix != anyPrefix || strings.HasPrefix(tail, "^") {
		return u
	}
	best, bestScore := u, score(abs/u.Factor)
	for _, p := range []string{"n", "µ", "m", "", "k", "M", "G"} {
		v, err := Parse(p + a.row.sym + tail)
		if err != nil || v.Dim != u.Dim {
			continue
		}
		if s := score(abs / v.Factor); s < bestScore {
			best, bestScore = v, s
		}
	}
	return best
}

// score is 0 for numbers from 0.1 to 1000, and grows outside.
func score(x float64) float64 {
	switch {
	case x < 0.1:
		return math.Log10(0.1/x) + 0.001
	case x >= 1000:
		return math.Log10(x/1000) + 0.001
	}
	return 0
}

func byReach(abs float64, try func(...string) Unit, symbols []string, limits []float64) Unit {
	for i, l := range limits {
		if abs < l {
			return try(symbols[i])
		}
	}
	return try(symbols[len(symbols)-1])
}

// splitHead splits a unit's text after its first atom.
func splitHead(s string) (head, tail string) {
	for i, r := range s {
		if strings.ContainsRune("*/^()", r) {
			return s[:i], s[i:]
		}
	}
	return s, ""
}

// ProductHint gives the unit to show a product or quotient in, from the units
// in which its factors were written, where that is simple: lengths multiply to
// areas and volumes; a force times a length is a torque, N*m, and not J; power
// times time is J, or Wh if the time is in hours; force per area is Pa, MPa for
// N/mm². ok is false where the coherent unit serves best.
func ProductHint(a, b Unit, divide bool) (u Unit, ok bool) {
	pick := func(s string) (Unit, bool) {
		u, err := Parse(s)
		return u, err == nil
	}
	d, good := a.Dim.Mul(b.Dim)
	if divide {
		d, good = a.Dim.Div(b.Dim)
	}
	if !good {
		return Unit{}, false
	}
	length := Base(Length)
	switch {
	case !divide && (a.Dim == dimForce && b.Dim == length || a.Dim == length && b.Dim == dimForce):
		return pick("N*m")
	case d == dimEnergy && !divide && (a.Symbol == "h" || b.Symbol == "h"):
		return pick("Wh")
	case d == dimEnergy && strings.HasPrefix(a.Symbol, "N*"), d == dimEnergy && strings.HasPrefix(b.Symbol, "N*"):
		return pick("N*m")
	case d == dimPressure && divide && b.Symbol == "mm^2":
		return pick("MPa")
	case d == dimPower:
		return pick("W")
	case d == Base(Time) && divide:
		return pick("s")
	case d == dims(1, 0, -1, 0, 0):
		for _, l := range []string{"mm", "m", "km"} {
			for _, t := range []string{"s", "min", "h"} {
				if !divide && (a.Symbol == l || b.Symbol == l) {
					return pick("mm/s")
				}
				if divide && a.Symbol == l && b.Symbol == t {
					return pick(l + "/" + t)
				}
			}
		}
	}
	return Unit{}, false
}

// DigitsFor gives the decimal place to which a value with this uncertainty is
// given: two significant digits of the uncertainty (JCGM 100, 7.2.6). Places
// left of the decimal point are negative.
func DigitsFor(u float64) int {
	if u <= 0 || math.IsInf(u, 0) || math.IsNaN(u) {
		return 15
	}
	s := strconv.FormatFloat(u, 'e', 1, 64)
	e, _ := strconv.Atoi(s[strings.IndexByte(s, 'e')+1:])
	return 1 - e
}
