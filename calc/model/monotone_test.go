package model

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// What a result declares in Rises, Falls and Only, by brute force: an argument
// is raised alone, by little and by much, and the result may not go the other
// way; and within a box of arguments the result stays between the values at the
// two corners that the declarations name. The sets of arguments are drawn over
// the magnitudes below and the bounds of the table, and far beyond what is
// plausible in their ratios.

// magnitudes are the ranges of the draw, by model and argument, by argument or
// by unit; others go from 0.01 to 10. Where an argument has both Low and High
// those count.
var magnitudes = map[string][2]float64{
	"m": {1e-3, 1}, "N": {1, 1000}, "W": {1, 1000}, "K^-1": {1e-6, 1e-4}, "K": {0.1, 300}, "°C": {200, 900}, "Pa": {1e6, 1e9}, "kg/m^3": {50, 9000},
	"W/m^2": {1, 1e5}, "N/m": {10, 1e6}, "m/N": {1e-7, 1e-4}, "m^4": {1e-12, 1e-7}, "V": {1, 500}, "s": {1, 1e5}, "J/(kg*K)": {100, 5000}, "Hz": {1, 1000},
	"modulus": {1e9, 3e11}, "nodes": {5, 9}, "teeth_1": {5, 60}, "teeth_2": {5, 60}, "belt_teeth": {30, 400}, "steps_per_turn": {10, 400}, "microsteps": {1, 64},
	"pulley_teeth": {5, 60}, "pitch": {1e-3, 1e-2}, "lamps": {1, 9}, "shields": {0, 4}, "height": {0.05, 0.3}, "reflector_height": {0.2, 1}, "wavelength": {2e-7, 1e-3},
	"friction": {0.01, 1}, "b10d": {1e5, 1e8}, "b10d_2": {1e5, 1e8}, "other": {1e7, 1e11}, "interlock.cycle": {10, 1e6},
	"coverage": {0.4, 1}, "coverage_2": {0.4, 1}, "coverage_other": {0.4, 1}, "days": {1, 366}, "daily": {60, 86400}, "power_factor": {0.1, 1},
	"ccf_score": {30, 100}, "builds": {0.5, 50}, "layers": {1, 1000}, "part_height": {0.01, 0.3},

	"belt_drift.loop_length": {0.5, 3}, "belt_drift.centre_distance": {0.1, 1}, "belt_drift.stiffness": {1e4, 1e6}, "belt_drift.other_growth": {1e-5, 1e-2},
	"belt_frequency.bending_stiffness": {1e-4, 10}, "belt_tension.bending_stiffness": {1e-5, 0.1},
	"blade_frequency.density": {500, 9000}, "blade_separation.first": {10, 1000}, "blade_separation.steps_per_turn": {2, 200},
	"heated_wire.current": {0.1, 30}, "heated_wire.diameter": {1e-4, 3e-3}, "heated_wire.resistivity": {1e-7, 2e-6}, "heated_wire.resistivity_slope": {1e-5, 5e-3},
	"gap_leak.viscosity": {1e-5, 1}, "gap_leak.pressure": {1, 1e5}, "gap_leak.gap": {1e-6, 1e-2},
	"infrared_error.band_short": {1e-6, 1e-5}, "infrared_error.band_long": {2e-6, 3e-5}, "blackbody_band.short": {5e-7, 1e-5}, "blackbody_band.long": {1e-6, 1e-4},
	"laser_hazard_distance.diameter": {1e-4, 1e-2}, "laser_hazard_distance.aperture": {1e-3, 1e-2}, "laser_hazard_lens.aperture": {1e-3, 1e-2}, "laser_hazard_distance.distance": {0.01, 100},
	"laser_exposure_limit.wavelength": {4e-7, 1e-3}, "laser_exposure_limit.time": {1e-3, 3e4},
	"layer_steps.layer": {1e-5, 1e-3}, "layer_steps.lead": {1e-3, 1e-2}, "powder_layers.layer": {1e-4, 1e-2}, "powder_layers.base": {1e-3, 0.02}, "powder_layers.cover": {1e-3, 0.02},
	"lead_error.variation": {1e-6, 1e-3}, "lead_error.travel": {0.05, 2},
	"ntc_resistance.b": {500, 6000}, "ntc_temperature.b": {500, 6000}, "ntc_temperature.resistance": {1, 100}, "ntc_temperature.nominal": {1, 100},
	"pt_temperature.nominal": {50, 200}, "pt_temperature.resistance": {20, 500}, "pt_temperature.leads": {0.1, 20}, "pt_error.nominal": {50, 1000}, "pt_error.current": {1e-4, 1e-1},
	"screw_length.grip": {1e-3, 0.1}, "screw_length.engagement": {1e-3, 0.03}, "screw_length.depth": {1e-3, 0.1}, "thread_engagement.engagement": {1e-3, 0.1},
	"screw_torque.lead": {1e-3, 0.05}, "screw_torque.pitch_diameter": {5e-3, 0.05}, "screw_torque.collar_friction": {1e-3, 0.3}, "screw_torque.collar_diameter": {5e-3, 0.1},
	"screw_backdrive.gear_ratio": {0.2, 10}, "screw_wobble.friction": {1e-3, 1}, "screw_wobble.eccentricity": {1e-6, 1e-3}, "screw_wobble.axial_load": {0.1, 100}, "supply_margin.efficiency": {0.3, 1},
	"thermocouple_k_temperature.voltage": {1e-5, 0.05}, "thermocouple_k_temperature.cold_end": {200, 500},
	"voltage_drop.length": {1, 100}, "voltage_drop.current": {0.1, 30}, "voltage_drop.per_length": {1e-3, 4e-2}, "voltage_drop.reactance": {1e-5, 1e-2},
	"wall_near_heat.gap": {1e-3, 0.1}, "wall_behind_shield.gap": {1e-3, 0.1}, "warm_up.loss": {1e-3, 1}, "counterbalance.mass": {0.1, 50}, "counterbalance.friction": {1, 1000},
	"joint_drift.rise": {1, 300}, "joint_drift.grip": {1e-3, 0.1}, "joint_drift.screw_stiffness": {1e6, 1e9}, "joint_drift.part_stiffness": {1e6, 1e9}, "powder_flow.bulk": {200, 600}, "powder_flow.tapped": {200, 1000}, "powder_gap.d10": {1e-3, 0.3}, "powder_gap.d90": {1e-3, 0.3},
	"beam_sag.own_weight": {0.1, 1000}, "axis_load.acceleration": {0.01, 30}, "screw_stiffness.nut_stiffness": {1e5, 1e9},
}

// slack is by how much a result may go the wrong way: 1e-9 of its size, which
// is rounding, and what the iteration of bed_spread leaves, which ends at 1e-7 K.
func slack(s *Spec, r *Res, x, y float64) float64 {
	tol := 1e-9 * max(math.Abs(x), math.Abs(y))
	if s.Name == "bed_spread" && (r.Unit == "K" || r.Unit == "°C") {
		tol += 1e-6
	}
	return tol
}

// sets is how many sets are drawn for a model: 250, but fewer for those that
// take their time, more where an answer seldom jumps.
var sets = map[string]int{"lamp_field": 30, "lamp_powers": 30, "bed_spread": 30, "wall_behind_shield": 60, "interlock": 1500, "screw_torque": 1500}

// drawer draws the arguments of a model.
type drawer struct {
	draw
	s *Spec
}

func (d *drawer) chance(p float64) bool { return d.next() < p }

// whole returns the step of an argument that counts, 0 for others.
func whole(name string) float64 {
	switch name {
	case "lamps", "shields", "teeth_1", "teeth_2", "belt_teeth", "pulley_teeth", "steps_per_turn", "microsteps":
		return 1
	case "nodes": // an odd number
		return 2
	}
	return 0
}

func (d *drawer) number(a *Arg) float64 {
	if a.Name == "cross_section" {
		return conductors[int(d.next()*float64(len(conductors)))].area
	}
	switch {
	case a.AtLeast != nil && d.chance(0.08):
		return *a.AtLeast
	case a.AtMost != nil && a.Name != "nodes" && d.chance(0.08):
		return *a.AtMost
	}
	lo, hi, ok := 0.01, 10.0, false
	for _, key := range []string{d.s.Name + "." + a.Name, a.Name, a.Unit} {
		if m, found := magnitudes[key]; found {
			lo, hi, ok = m[0], m[1], key != a.Unit
			break
		}
	}
	if !ok && a.Low != nil && a.High != nil {
		lo, hi = *a.Low-(*a.High-*a.Low)/5, *a.High+(*a.High-*a.Low)/5
	}
	floor := math.Inf(-1)
	for _, b := range []*float64{a.Above, a.AtLeast} {
		if b != nil {
			floor = max(floor, *b)
		}
	}
	if !math.IsInf(floor, -1) && lo < floor {
		lo = floor
	}
	if a.AtMost != nil && hi > *a.AtMost {
		hi = *a.AtMost
	}
	v := d.between(lo, hi)
	if lo > 0 && a.Unit != "°C" {
		v = lo * math.Pow(hi/lo, d.next())
	}
	if step := whole(a.Name); step > 0 {
		v = math.Ceil(lo/step)*step + step*math.Floor((hi-lo)/step*d.next())
		if step == 2 {
			v = lo + 2*math.Floor((hi-lo+2)/2*d.next())
		}
	}
	if floor < 0 && a.Unit != "°C" && d.chance(0.4) {
		v = -v
	}
	if a.Above != nil && v <= *a.Above { // the very end of a range
		v = *a.Above + (hi-*a.Above)/2
	}
	return v
}

// args draws a set, which the model may still refuse.
func (d *drawer) args() map[string]any {
	args := map[string]any{}
	items := 1 + int(3*d.next())
	optional := d.next() // how likely one is given: often none or all are
	if d.chance(0.3) {
		optional = math.Round(optional)
	}
	for k := range d.s.Args {
		a := &d.s.Args[k]
		if a.Optional && !d.chance(optional) {
			continue
		}
		switch a.Shape {
		case Scalar:
			args[a.Name] = d.number(a)
		case List:
			n := items
			if d.chance(0.2) {
				n = 1
			}
			list := make([]float64, n)
			for j := range list {
				list[j] = d.number(a)
			}
			args[a.Name] = list
		case Text:
			args[a.Name] = a.Choices[int(d.next()*float64(len(a.Choices)))]
		case Grid:
			m := &Map{X: nodes(d.between(.05, .5), 5), Y: nodes(d.between(.05, .5), 7)}
			for range 35 {
				m.Z = append(m.Z, d.number(a))
			}
			args[a.Name] = m
		}
	}
	return args
}

// raised returns a value of the argument above another, by little or by much.
func (d *drawer) raised(a *Arg, v float64, much bool) float64 {
	if a.Name == "cross_section" {
		for _, c := range conductors {
			if c.area > v*(1+1e-6) && (!much || d.chance(0.3)) {
				return c.area
			}
		}
		return v * (1 + 5e-7)
	}
	up := v + math.Abs(v)*math.Pow(10, d.between(-5, -2))
	if much {
		up = v + math.Abs(v)*math.Pow(10, d.between(-2, 1))
	}
	if a.Unit == "°C" {
		up = v + d.between(1e-3, 1)
		if much {
			up = v + d.between(1, 200)
		}
	}
	if v == 0 {
		up = math.Abs(d.number(a)) // from nothing
	}
	if much && v < 0 && d.chance(0.5) {
		up = -v // through zero
	}
	if step := whole(a.Name); step > 0 {
		up = v + step
		if much {
			up = v + step*math.Ceil(4*d.next())
		}
	}
	if a.AtMost != nil && up > *a.AtMost {
		up = *a.AtMost
		if !much {
			up = v + (up-v)*d.next()
		}
	}
	return up
}

// raise returns an argument's value with its numbers raised: all of them, or
// of a list or field some.
func (d *drawer) raise(a *Arg, v any, much bool) any {
	list := func(x []float64) []float64 {
		y := slices.Clone(x)
		some := d.chance(0.5)
		for i, v := range x {
			if !some || d.chance(0.5) {
				y[i] = d.raised(a, v, much)
			}
		}
		return y
	}
	switch v := v.(type) {
	case float64:
		return d.raised(a, v, much)
	case []float64:
		return list(v)
	case *Map:
		return &Map{v.X, v.Y, list(v.Z)}
	}
	return v
}

// inside returns a value of an argument between two.
func (d *drawer) inside(a *Arg, lo, hi any) any {
	list := func(x, y []float64) []float64 {
		z := make([]float64, len(x))
		for i := range x {
			z[i] = d.between(x[i], y[i])
			if whole(a.Name) > 0 || a.Name == "cross_section" {
				z[i] = x[i]
			}
		}
		return z
	}
	switch lo := lo.(type) {
	case float64:
		return list([]float64{lo}, []float64{hi.(float64)})[0]
	case []float64:
		return list(lo, hi.([]float64))
	case *Map:
		return &Map{lo.X, lo.Y, list(lo.Z, hi.(*Map).Z)}
	}
	return lo
}

// values returns the numbers of a result.
func values(o *Out, r *Res) []float64 {
	switch v := o.Get(r.Name).(type) {
	case float64:
		return []float64{v}
	case []float64:
		return v
	case *Map:
		return v.Z
	}
	return nil
}

// moves reports whether a result goes up and whether it goes down somewhere, by
// more than its slack.
func moves(s *Spec, r *Res, a, b *Out) (up, down bool) {
	from, to := values(a, r), values(b, r)
	if len(from) != len(to) {
		return true, true
	}
	for i, x := range from {
		y := to[i]
		tol := slack(s, r, x, y)
		up, down = up || y-x > tol, down || x-y > tol
	}
	return up, down
}

func TestMonotone(t *testing.T) {
	declared, calls, boxes := 0, 0, 0
	for i := range Library() {
		s := &Library()[i]
		d := &drawer{draw(7 + i), s}
		rises, falls, declares := map[string]map[string]bool{}, map[string]map[string]bool{}, map[string]bool{}
		for k := range s.Results {
			r := &s.Results[k]
			for _, side := range []struct {
				names string
				all   map[string]map[string]bool
			}{{r.Rises, rises}, {r.Falls, falls}} {
				m := map[string]bool{}
				side.all[r.Name] = m
				for _, name := range strings.Fields(side.names) {
					if a := s.arg(name); a == nil || a.Shape == Text || m[name] {
						t.Errorf("%s.%s: %q is no argument that it can rise or fall with, or named twice", s.Name, r.Name, name)
					}
					m[name], declares[name] = true, true
				}
			}
		}
		type triple struct{ result, arg string }
		tried, moved, wrong := map[triple]int{}, map[triple]bool{}, map[triple]bool{}
		want := 250
		if n, ok := sets[s.Name]; ok {
			want = n
		}
		for try, good := 0, 0; good < want && try < 100*want; try++ {
			args := d.args()
			out, _, err := Call(s, args)
			if err != nil {
				continue
			}
			good++
			for k := range s.Args {
				a := &s.Args[k]
				v, given := args[a.Name]
				if !given || !declares[a.Name] {
					continue
				}
				for _, much := range []bool{false, true} {
					other := with(args, a.Name, d.raise(a, v, much))
					to, _, err := Call(s, other)
					if err != nil {
						continue
					}
					calls++
					for j := range s.Results {
						r := &s.Results[j]
						key := triple{r.Name, a.Name}
						tried[key]++
						up, down := moves(s, r, out, to)
						moved[key] = moved[key] || up || down
						if (down && rises[r.Name][a.Name] || up && falls[r.Name][a.Name]) && !wrong[key] {
							wrong[key] = true
							t.Errorf("%s.%s goes the other way with %s = %v: from %v to %v; arguments %v", s.Name, r.Name, a.Name, other[a.Name], out.Get(r.Name), to.Get(r.Name), args)
						}
					}
				}
			}
			// A box from these arguments upward.
			top := map[string]any{}
			for k := range s.Args {
				if a := &s.Args[k]; args[a.Name] != nil {
					top[a.Name] = d.raise(a, args[a.Name], d.chance(0.5))
				}
			}
			for j := range s.Results {
				r := &s.Results[j]
				least, most, within := with(args), with(args), with(args)
				for k := range s.Args {
					a := &s.Args[k]
					lo, hi := args[a.Name], top[a.Name]
					up, down := rises[r.Name][a.Name], falls[r.Name][a.Name]
					switch {
					case lo == nil || !up && !down:
						continue
					case up:
						most[a.Name] = hi
					default:
						least[a.Name] = hi
					}
					within[a.Name] = d.inside(a, lo, hi)
				}
				low, _, err1 := Call(s, least)
				mid, _, err2 := Call(s, within)
				high, _, err3 := Call(s, most)
				if err1 != nil || err2 != nil || err3 != nil {
					continue
				}
				boxes++
				_, below := moves(s, r, low, mid)
				_, above := moves(s, r, mid, high)
				if key := (triple{r.Name, ""}); (below || above) && !wrong[key] {
					wrong[key] = true
					t.Errorf("%s.%s leaves its corners: %v, %v, %v at %v", s.Name, r.Name, low.Get(r.Name), mid.Get(r.Name), high.Get(r.Name), within)
				}
			}
		}
		for _, r := range s.Results {
			for _, a := range s.Args {
				up, down := rises[r.Name][a.Name], falls[r.Name][a.Name]
				if !up && !down {
					continue
				}
				declared++
				key := triple{r.Name, a.Name}
				switch {
				case tried[key] == 0:
					t.Errorf("%s.%s: never tried with another %s", s.Name, r.Name, a.Name)
				case up != down && !moved[key]:
					t.Errorf("%s.%s never moved with %s in %d trials: it does not matter, or is not drawn where it does", s.Name, r.Name, a.Name, tried[key])
				}
			}
		}
	}
	t.Logf("%d declarations of a result and an argument, %d arguments raised, %d boxes", declared, calls, boxes)
}
