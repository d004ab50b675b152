package calc

import (
	"math"

	"workings/calc/syntax"
	"workings/calc/unit"
)

// show rounds a value for output. written is the literal behind it, whose
// digits are kept as the author wrote them unless the place asks otherwise.
func show(s *Shown, round syntax.Round, stepSI float64, written string) {
	switch v := s.Value.(type) {
	case bool:
		s.Text = "no"
		if v {
			s.Text = "yes"
		}
	case string:
		s.Text = v
	case float64:
		if x, ok := s.safeSide(round); ok {
			v, s.Worst, s.rangeOnly = x, true, false
		}
		u := s.Type.Unit
		if !s.Type.Chosen {
			u = unit.Sensible(u, v)
		}
		s.Unit = u
		s.Number = rounded(v, u, round, stepSI, s.Spread, written)
		s.showSpread(round)
	}
}

// safeSide gives the greatest or least value that a rounding up or down is of:
// who writes a maximum means the greatest that tolerances and operating ranges
// allow. ok is false where the nominal value is meant, or nothing moves it, and
// where the spread stands beside the value.
func (s *Shown) safeSide(r syntax.Round) (x float64, ok bool) {
	sp := s.Spread
	if r.Nominal || sp == nil || !sp.Moves() || s.Expr.Spread || s.Expr.Own != (syntax.Spread{}) {
		return 0, false
	}
	switch r.Dir {
	case syntax.Up:
		return sp.Greatest, true
	case syntax.Down:
		return sp.Least, true
	}
	return 0, false
}

// Moves reports that a tolerance or an operating range moves the figure, by more
// than the noise of arithmetic: it has a least and a greatest value.
func (sp *Spread) Moves() bool {
	most := math.Max(math.Abs(sp.Least), math.Abs(sp.Greatest))
	return sp.Greatest-sp.Least > 1e-12*most && !math.IsInf(most, 0)
}

func rounding(r syntax.Round) unit.Rounding {
	out := unit.Rounding{N: r.N, Dir: unit.Nearest}
	switch r.Kind {
	case syntax.RoundSig:
		out.Mode = unit.Sig
	case syntax.RoundPlaces:
		out.Mode = unit.Places
	default:
		out.Mode = unit.Auto
	}
	switch r.Dir {
	case syntax.Up:
		out.Dir = unit.Up
	case syntax.Down:
		out.Dir = unit.Down
	}
	return out
}

// rounded gives the digits of an SI value in a unit.
func rounded(si float64, u unit.Unit, r syntax.Round, stepSI float64, sp *Spread, written string) string {
	x := u.FromSI(si)
	if r.Kind == syntax.RoundStep && stepSI > 0 {
		dir := unit.Nearest
		switch r.Dir {
		case syntax.Up:
			dir = unit.Up
		case syntax.Down:
			dir = unit.Down
		}
		_, s := unit.RoundStep(x, stepSI/u.Factor, dir)
		return s
	}
	if r.Kind == syntax.RoundAuto && r.Dir == syntax.Nearest {
		if written != "" {
			return written
		}
		if sp != nil && sp.Std > 0 {
			// No more digits than the expanded uncertainty keeps (JCGM 100, 7.2.6),
			// and no more than three significant figures.
			place := unit.DigitsFor(sp.U / u.Factor)
			three := sigPlaces(x, 3)
			if place >= 0 && place <= three {
				return unit.Round(x, unit.Rounding{Mode: unit.Places, N: place})
			}
		}
	}
	return unit.Round(x, rounding(r))
}

// sigPlaces gives the decimal places that keep n significant figures of x.
func sigPlaces(x float64, n int) int {
	if x == 0 {
		return n - 1
	}
	return n - 1 - int(math.Floor(math.Log10(math.Abs(x))))
}

// showSpread gives the spread in the unit of the number. Deviations are
// rounded up, low ends down and high ends up: the reader gets the safe side.
func (s *Shown) showSpread(round syntax.Round) {
	sp := s.Spread
	if sp == nil {
		return
	}
	u := s.Unit
	dev := func(si float64, dir unit.Direction) string {
		x := si / u.Factor
		return unit.Round(x, unit.Rounding{Mode: unit.Sig, N: 2, Dir: dir})
	}
	if sp.TolHi > 0 || sp.TolLo > 0 {
		s.Plus, s.Minus = dev(sp.TolHi, unit.Up), dev(sp.TolLo, unit.Up)
	}
	if sp.U > 0 {
		s.Uncertain = dev(sp.U, unit.Up)
	}
	if sp.Ranged {
		r := round
		if r.Kind == syntax.RoundStep {
			r = syntax.Round{}
		}
		r.Dir = syntax.Down
		lo := rounding(r)
		r.Dir = syntax.Up
		hi := rounding(r)
		s.Low = unit.Round(u.FromSI(sp.Low), lo)
		s.High = unit.Round(u.FromSI(sp.High), hi)
	}
}

// String gives the figure in plain text: "1384 mm", "28 N to 61 N".
func (s *Shown) String() string {
	switch {
	case s.Value == nil:
		return "not available"
	case s.Number == "":
		return s.Text
	case s.Spread != nil && s.Spread.Ranged && s.Low != s.High && s.Expr != nil && (s.Expr.Spread || s.RangeOnly()):
		return plainText(s.Low, s.Unit) + " to " + plainText(s.High, s.Unit)
	}
	return plainText(s.Number, s.Unit)
}

// RangeOnly reports that a single number would hide a choice: the figure
// depends on an operating range that states no nominal value, so that it is
// shown from low to high.
func (s *Shown) RangeOnly() bool { return s.rangeOnly && s.Low != s.High }
