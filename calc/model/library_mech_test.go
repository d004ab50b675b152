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

// plain returns arguments with which a mechanical model works.
func plain(s *Spec) given {
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
		case a.Name == "microsteps", a.Name == "steps_per_turn", a.Name == "pulley_teeth", a.Name == "teeth_1", a.Name == "teeth_2":
			base[a.Name] = 20.0
		case a.Name == "belt_teeth":
			base[a.Name] = 200.0
		case a.Name == "pitch":
			base[a.Name] = 0.01
		case a.Name == "lead", a.Name == "efficiency", a.Name == "friction", a.Name == "strain", a.Name == "grip", a.Name == "engagement", a.Name == "flank_angle":
			base[a.Name] = 0.05
		default:
			base[a.Name] = 1.0
		}
	}
	return base
}

// TestMechanicalHoldsOut calls every mechanical model with each of its numbers
// replaced by one that makes no sense or no physics. It must answer with an
// error or with finite results (Call sees to the latter), never panic.
func TestMechanicalHoldsOut(t *testing.T) {
	for i := range mechanical {
		s := &mechanical[i]
		base := plain(s)
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

// units gives the exponents of m, kg, s and K in the units of the tables.
var units = map[string][4]float64{
	"1": {}, "rad": {}, "m": {1}, "m^2": {2}, "m^3": {3}, "m^4": {4}, "kg": {0, 1}, "s": {0, 0, 1}, "Hz": {0, 0, -1}, "rad/s": {0, 0, -1},
	"K": {0, 0, 0, 1}, "°C": {0, 0, 0, 1}, "K^-1": {0, 0, 0, -1}, "m/s": {1, 0, -1}, "m/s^2": {1, 0, -2}, "kg/m": {-1, 1}, "kg/m^3": {-3, 1},
	"N": {1, 1, -2}, "N*m": {2, 1, -2}, "N*m^2": {3, 1, -2}, "N/m": {0, 1, -2}, "N/m^2": {-1, 1, -2}, "Pa": {-1, 1, -2},
	"Pa*s": {-1, 1, -1}, "kg/s": {0, 1, -1}, "m^3/s": {3, 0, -1}, "m^2/s": {2, 0, -1},
	"m/N": {0, -1, 2}, "Hz/N": {-1, -1, 1}, "N/K": {1, 1, -2, -1},
}

// TestMechanicalDimensions measures all arguments in other units of length,
// mass, time and temperature: every result must come out in them too. A slip of
// a dimension, or a number with a hidden unit, shows here.
func TestMechanicalDimensions(t *testing.T) {
	hidden := map[string]string{ // what has its own scale
		"axis_load": "free fall", "counterbalance": "free fall", "shaft_sag": "free fall with a density", "lead_error": "300 mm", "screw_length": "preferred lengths",
		"screw_strength": "sizes", "screw_tightening": "sizes", "screw_preload": "sizes", "thread_engagement": "sizes",
	}
	scale := [4]float64{2, 3, 5, 7}
	factor := func(unit string) float64 {
		d, ok := units[unit]
		if !ok {
			t.Fatalf("unit %q is not in the test's table", unit)
		}
		f := 1.0
		for i, e := range d {
			f *= math.Pow(scale[i], e)
		}
		return f
	}
	count := 0
	for i := range mechanical {
		s := &mechanical[i]
		if hidden[s.Name] != "" {
			continue
		}
		for _, optional := range []bool{false, true} {
			base := plain(s)
			if optional {
				if s.Name == "screw_wobble" { // its options exclude one another
					base["nut"] = "flexure"
					base["nut_stiffness"] = 1.0
				} else {
					for _, a := range s.Args {
						if a.Optional && a.Unit == "°C" {
							base[a.Name] = 310.0
						} else if a.Optional {
							base[a.Name] = 0.1
						}
					}
				}
			}
			other := given{}
			for _, a := range s.Args {
				switch v := base[a.Name].(type) {
				case float64:
					other[a.Name] = v * factor(a.Unit)
				case string:
					other[a.Name] = v
				}
			}
			want, _, err := Call(s, base)
			if err != nil {
				t.Errorf("%s: %v", s.Name, err)
				continue
			}
			got, _, err := Call(s, other)
			if err != nil {
				t.Errorf("%s in other units: %v", s.Name, err)
				continue
			}
			for _, r := range s.Results {
				g, w := got.Get(r.Name), want.Get(r.Name)
				if list, ok := g.([]float64); ok {
					g, w = list[0], w.([]float64)[0]
				}
				near(t, s.Name+"."+r.Name+" in other units", g.(float64), w.(float64)*factor(r.Unit), 1e-9)
				count++
			}
		}
	}
	if count < 200 {
		t.Errorf("only %d results compared", count)
	}
}
