package unit

import "math"

// A Unit is a unit of measurement as an author wrote it.
type Unit struct {
	Symbol string // ASCII-stable spelling that Parse reads back: "kJ/(kg*K)", "°C", "" for a plain number
	Dim    Dim
	Factor float64 // SI value of one unit: x unit = x*Factor + Offset in SI
	Offset float64 // only for points on a temperature scale (°C 273.15, °F 459.67*5/9), else 0
	Point  bool    // the unit names points on a temperature scale (°C, °F)
}

// ToSI converts a number in this unit to SI.
func (u Unit) ToSI(x float64) float64 { return x*u.Factor + u.Offset }

// FromSI converts an SI value to a number in this unit. Near the zero of a
// temperature scale the subtraction would bring out the noise of the kelvins
// (0.1 °C as 0.10000000000002274): a result that is a whole number of
// millionths of a degree within 1e-12 of its kelvins is that number.
func (u Unit) FromSI(si float64) float64 {
	x := (si - u.Offset) / u.Factor
	if u.Point {
		if r := math.Round(x*1e6) / 1e6; math.Abs(r-x)*u.Factor <= noise*math.Abs(si) {
			return r
		}
	}
	return x
}

// IsNone reports whether the unit is that of a plain number.
func (u Unit) IsNone() bool { return u.Symbol == "" }
