package model

import (
	"math"
	"testing"
)

// Units of the sources.
const (
	inch  = 0.0254
	lbf   = 4.4482216152605
	psi   = lbf / (inch * inch)
	perF  = 1.8 // °F to a kelvin
	hours = 3600.0
	rpm   = 2 * math.Pi / 60
	deg   = math.Pi / 180
	steel = 206e9 // Young's modulus, Pa
)

// given holds the arguments of a call.
type given map[string]any

// with returns a copy with some arguments changed; nil takes one away.
func (a given) with(change ...any) given { return with(a, change...) }

// numbers calls a model that must succeed; num looks up a result.
func numbers(t *testing.T, name string, a given) (num func(string) float64, out []Outside) {
	t.Helper()
	s := Find(name)
	if s == nil {
		t.Fatalf("no model %s", name)
	}
	o, out, err := Call(s, a)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return func(r string) float64 {
		t.Helper()
		return value(t, o, r)
	}, out
}

// must drops an error that the comparison of a NaN will show.
func must(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}

// TestMechanicalHoldsOut calls every mechanical model with each of its numbers
// replaced by one that makes no sense or no physics. It must answer with an
// error or with finite results (Call sees to the latter), never panic.
func TestMechanicalHoldsOut(t *testing.T) {
	for i := range mechanical {
		s := &mechanical[i]
		base := given{}
		for _, a := range s.Args {
			switch {
			case a.Shape == Text:
				base[a.Name] = a.Choices[0]
			case a.Optional:
			case a.Name == "gap", a.Name == "wall", a.Name == "corner_radius", a.Name == "thickness": // smaller than what they are in
				base[a.Name] = 0.01
			case a.Unit == "°C":
				base[a.Name] = 300.0
			case a.Name == "at", a.Name == "nut_at", a.Name == "platform", a.Name == "centre_distance" && s.Name == "belt_drift":
				base[a.Name] = 0.3
			case a.Unit == "K^-1":
				base[a.Name] = 1e-5
			case a.Name == "microsteps", a.Name == "steps_per_turn", a.Name == "pulley_teeth", a.Name == "teeth_1", a.Name == "teeth_2", a.Name == "belt_teeth":
				base[a.Name] = 20.0
			case a.Name == "pitch":
				base[a.Name] = 0.01
			case a.Name == "lead", a.Name == "efficiency", a.Name == "friction", a.Name == "strain", a.Name == "grip", a.Name == "engagement", a.Name == "flank_angle":
				base[a.Name] = 0.05
			default:
				base[a.Name] = 1.0
			}
		}
		if s.Name == "belt_centres" {
			base["belt_teeth"] = 200.0
		}
		if s.Name == "screw_wobble" {
			base["nut"] = "rigid"
		}
		if _, _, err := Call(s, base); err != nil {
			t.Errorf("%s: the plain call fails: %v", s.Name, err)
			continue
		}
		for _, a := range s.Args {
			if a.Shape == Text {
				continue
			}
			for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, -1, 0, 5e-324, 1e-300, 1e300, math.MaxFloat64} {
				out, _, err := Call(s, base.with(a.Name, v))
				if err == nil && out == nil {
					t.Errorf("%s, %s = %g: neither error nor result", s.Name, a.Name, v)
				}
				if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
					t.Errorf("%s, %s = %g: accepted", s.Name, a.Name, v)
				}
			}
			_, _, err := Call(s, base.with(a.Name, nil))
			if (err == nil) != a.Optional {
				t.Errorf("%s without %s: error %v", s.Name, a.Name, err)
			}
		}
	}
}
