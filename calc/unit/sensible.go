package unit

import (
	"math"
	"strings"
)

// Sensible chooses the unit for a computed quantity, given the unit u that
// follows from the author's own units and the SI value. Where u itself gives a
// number of at least 0.1 and below 1000 it is kept, except that lengths, areas,
// volumes, times and masses change within their family:
//
//	nm µm mm m km     mm^2 cm^2 m^2     mm^3 cm^3 L m^3     mm^4 cm^4 m^4
//	ns µs ms s min h d     µg mg g kg t     µL mL L m^3 (where u is a litre)
//
// cm stands only in powers; litres fill the gap between 1000 cm³ and 0.1 m³. A
// unit that is, or begins with, an atom to the first power that takes prefixes
// (N, J/(kg*K), N*m) gets another prefix, the smaller of two that would serve;
// of powers, those of the metre in mm^2/s and cm^3/s. W^-1, °C, %, psi and
// EUR/kg stay as they are. No prefix is chosen that people do not use: kelvins
// and radians are not made larger, and there is no Mg. Zero, and what is not
// finite, gives u.
func Sensible(u Unit, si float64) Unit {
	abs := math.Abs(si)
	if abs == 0 || u.Point || u.IsNone() || math.IsNaN(abs) || math.IsInf(abs, 0) {
		return u
	}
	if f := familyOf(u); f != nil {
		return f.choose(abs)
	}
	best, least := u, strain(abs/u.Factor)
	if least == 0 {
		return u
	}
	for _, s := range alternatives(u) {
		v, err := Parse(s)
		if err != nil || v.Dim != u.Dim {
			continue
		}
		if x := strain(abs / v.Factor); x < least-1e-6 { // and not by noise
			best, least = v, x
		}
	}
	return best
}

// strain is 0 for a number of at least 0.1 and below 1000; outside it grows
// with the powers of ten that are missing. What is a border but for noise is
// that border: 1e-6 kg*m^2 is 1 mg*m^2 and not 999.9999999999999 µg*m^2.
func strain(x float64) float64 {
	switch {
	case x < 0.1*(1-noise):
		return math.Log10(0.1/x) + 1e-3
	case x >= 1000*(1-noise):
		return math.Log10(max(x/1000, 1)) + 1e-3
	}
	return 0
}

// A family is a row of units, the smallest first, and the SI value from which
// each is used.
type family []member

type member struct {
	from float64
	unit Unit
}

func (f family) choose(abs float64) Unit {
	u := f[0].unit
	for _, m := range f[1:] {
		if abs >= m.from*(1-noise) {
			u = m.unit
		}
	}
	return u
}

func newFamily(rows ...any) family {
	var f family
	for i := 0; i < len(rows); i += 2 {
		u, err := Parse(rows[i+1].(string))
		if err != nil {
			panic("unit: " + err.Error())
		}
		f = append(f, member{rows[i].(float64), u})
	}
	return f
}

var (
	lengths = newFamily(0., "nm", 1e-7, "µm", 1e-4, "mm", 1., "m", 1e3, "km")
	areas   = newFamily(0., "mm^2", 1e-4, "cm^2", 1e-1, "m^2")
	volumes = newFamily(0., "mm^3", 1e-7, "cm^3", 1e-3, "L", 1., "m^3")
	litres  = newFamily(0., "µL", 1e-6, "mL", 1e-3, "L", 1., "m^3")
	moments = newFamily(0., "mm^4", 1e-9, "cm^4", 1e-5, "m^4")
	times   = newFamily(0., "ns", 1e-7, "µs", 1e-4, "ms", 1e-1, "s", 120., "min", 7200., "h", 172800., "d")
	masses  = newFamily(0., "µg", 1e-7, "mg", 1e-4, "g", 1., "kg", 1e3, "t")
)

// familyOf gives the family of a single metric unit, or nil.
func familyOf(u Unit) family {
	t := u.terms()
	if len(t) != 1 || t[0].den != 1 {
		return nil
	}
	switch sym, n := t[0].atom.row.sym, t[0].num; {
	case sym == "m" && n == 1:
		return lengths
	case sym == "m" && n == 2:
		return areas
	case sym == "m" && n == 3:
		return volumes
	case sym == "m" && n == 4:
		return moments
	case n != 1:
		return nil
	case sym == "L" || sym == "l":
		return litres
	case sym == "s" || sym == "min" || sym == "h" || sym == "d":
		return times
	case sym == "g" || sym == "t":
		return masses
	}
	return nil
}

// alternatives are the spellings of a unit with other prefixes on its first atom.
func alternatives(u Unit) (list []string) {
	head, tail := u.Symbol, ""
	if i := strings.IndexAny(u.Symbol, "*/^()"); i >= 0 {
		head, tail = u.Symbol[:i], u.Symbol[i:]
	}
	a := atoms[head]
	if a == nil {
		return nil
	}
	if strings.HasPrefix(tail, "^") {
		// Of powers only those of the metre change, as in mm^2/s.
		if a.row.sym == "m" && (strings.HasPrefix(tail, "^2/") || strings.HasPrefix(tail, "^2*")) {
			return []string{"mm" + tail, "m" + tail}
		}
		if a.row.sym == "m" && (strings.HasPrefix(tail, "^3/") || strings.HasPrefix(tail, "^3*")) {
			return []string{"mm" + tail, "cm" + tail, "m" + tail}
		}
		return nil
	}
	if a.row.prefix != anyPrefix {
		return nil
	}
	prefixes := []string{"p", "n", "µ", "m", "", "k", "M", "G", "T"}
	switch a.row.sym {
	case "K", "rad", "sr":
		prefixes = []string{"n", "µ", "m", ""}
	case "g":
		prefixes = []string{"µ", "m", "", "k"}
	case "m":
		prefixes = []string{"n", "µ", "m", "", "k"}
	case "L", "l":
		prefixes = []string{"µ", "m", ""}
	case "Wh", "Ah":
		prefixes = []string{"m", "", "k", "M", "G"}
	}
	for _, p := range prefixes {
		list = append(list, p+a.row.sym+tail)
	}
	return list
}
