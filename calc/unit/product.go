package unit

// ProductHint gives the unit in which to show a product (or quotient, if
// divide) of quantities written in a and b. In this order:
//
//  1. powers of one unit of length: mm * mm is mm^2, in^3 / in is in^2;
//  2. a force times a length is a torque, N*m and not J, and so is what comes of
//     a torque such as N*m/rad; pounds-force keep lbf*in;
//  3. a power times a time in h is an energy in Wh, in any other unit in J;
//  4. N/mm^2 is MPa, lbf/in^2 is psi;
//  5. a length by a time is a speed as written (mm/s, m/min, km/h), a mass by a
//     volume a density as written in g/cm^3, g/mL, kg/L or in pounds, and a
//     speed times a time is a length in the unit of the speed, and a squared
//     speed is m^2/s^2, not J/kg;
//  6. an energy by an area is J/m^2, not N/m;
//  7. what has a coherent unit of one symbol is in that: V * A in W.
//
// ok is false for all else, where Coherent serves. The unit only sets how the
// number is shown; Sensible may change its prefix.
func ProductHint(a, b Unit, divide bool) (u Unit, ok bool) {
	d, good := a.Dim.Mul(b.Dim)
	if divide {
		d, good = a.Dim.Div(b.Dim)
	}
	if !good || a.Point || b.Point {
		return Unit{}, false
	}
	s, t := a.terms(), b.terms()
	as := func(symbol string) (Unit, bool) {
		u, err := Parse(symbol)
		return u, err == nil && u.Dim == d
	}
	written := func() (Unit, bool) {
		if !divide {
			return as(spell(append(s, t...)))
		}
		v, err := b.Per()
		if err != nil {
			return Unit{}, false
		}
		return as(spell(append(s, v.terms()...)))
	}
	one := len(s) == 1 && len(t) == 1
	switch {
	case one && s[0].atom == t[0].atom && s[0].atom.row.dim == Base(Length) && d != None:
		return written()

	case !divide && (a.Dim == dimForce && b.Dim == Base(Length) || a.Dim == Base(Length) && b.Dim == dimForce):
		if one && inchPound(s[0]) && inchPound(t[0]) {
			if a.Dim != dimForce {
				s, t = t, s
			}
			return written()
		}
		return as("N*m")
	case d == dimEnergy && (torque(s) || torque(t)):
		return as("N*m")

	case !divide && a.Dim == dimPower && b.Symbol == "h", !divide && b.Dim == dimPower && a.Symbol == "h":
		return as("Wh")

	case divide && d == dimPressure && b.Symbol == "mm^2":
		return as("MPa")
	case divide && d == dimPressure && a.Symbol == "lbf" && b.Symbol == "in^2":
		return as("psi")

	case divide && one && d == dimSpeed && s[0].whole(s[0].atom.row.sym, 1),
		divide && one && d == dimDensity && usualDensity(a, b):
		return written()
	case !divide && a.Dim == dimSpeed && b.Dim == dimSpeed:
		return as("m^2/s^2") // of the same dimension as J/kg
	case !divide && d == Base(Length) && (a.Dim == dimSpeed || b.Dim == dimSpeed):
		for _, t := range append(s, t...) {
			if t.atom.row.dim == Base(Length) && t.whole(t.atom.row.sym, 1) {
				return t.atom.unit, true
			}
		}
	}
	if divide && a.Dim == dimEnergy && b.Dim == dimArea && !torque(s) {
		return as("J/m^2")
	}
	if c := Coherent(d); !c.IsNone() && atoms[c.Symbol] != nil {
		return c, true
	}
	return Unit{}, false
}

// torque reports whether a unit begins as a torque is written: N*m, kN*m/rad,
// lbf*in.
func torque(t []term) bool {
	force := func(t term) bool { return t.atom.row.dim == dimForce && t.num == 1 && t.den == 1 }
	length := func(t term) bool { return t.atom.row.dim == Base(Length) && t.num == 1 && t.den == 1 }
	return len(t) >= 2 && (force(t[0]) && length(t[1]) || length(t[0]) && force(t[1]))
}

func inchPound(t term) bool {
	switch t.atom.row.sym {
	case "in", "inch", "mil", "ft", "yd", "lb", "oz", "lbf", "ozf":
		return true
	}
	return false
}

func usualDensity(mass, volume Unit) bool {
	switch mass.Symbol + "/" + volume.Symbol {
	case "g/cm^3", "g/mL", "kg/L", "g/L", "lb/in^3", "lb/ft^3":
		return true
	}
	return false
}
