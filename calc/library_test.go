package calc_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"workings/calc/model"
	"workings/calc/unit"
)

// The library as a sheet sees it: every model is called with named arguments
// with units, and what it gives is compared with its own formula lines, which
// are in the language of the sheets. A line of an argument or result must hold
// with the values of the call, so that lines which the model solves are
// compared too; all other lines define a symbol for those that follow.

// A variant is a way to call a model, for the formula lines that hold only then.
type variant struct {
	model string
	set   map[string]any // arguments in SI; nil leaves an optional one out
	given string         // what captions say in words, as definitions parted by ";"; "k@2" is the k of line 2
	lines []int          // formula lines that hold; all that are not in others if nil
}

// with sets arguments.
type with = map[string]any

var variants = []variant{
	{model: "beam_sag", set: with{"ends": "pinned-pinned"}, lines: []int{0, 2}},
	{model: "beam_sag", set: with{"ends": "fixed-fixed"}, lines: []int{0, 3}},
	{model: "beam_sag", set: with{"ends": "fixed-free"}, lines: []int{0, 4}},
	{model: "shaft_sag", set: with{"ends": "pinned-pinned"}, lines: []int{0, 1, 3, 6}},
	{model: "shaft_sag", set: with{"ends": "fixed-fixed"}, lines: []int{0, 1, 4, 6}},
	{model: "shaft_sag", set: with{"ends": "fixed-free"}, lines: []int{0, 1, 5, 6}},
	{model: "blackbody_band", set: with{"short": 0., "long": 12e-6}, given: "n = steps(1, 60, 60); x = c2 / (long * temperature); F_long = F; F_short = 0"},
	{model: "blade_deflection", set: with{"ends": "pinned-pinned"}, given: "k = 5/384; c = 1/8"},
	{model: "blade_deflection", set: with{"ends": "fixed-fixed"}, given: "k = 1/384; c = 1/12"},
	{model: "blade_deflection", set: with{"ends": "fixed-free"}, given: "k = 1/8; c = 1/2"},
	{model: "blade_frequency", set: with{"ends": "pinned-pinned"}, given: "lambda@2 = pi; lambda@3 = 2 * pi; lambda@4 = 3 * pi"},
	{model: "blade_frequency", set: with{"ends": "fixed-free"}, given: "lambda@2 = 1.875104068711961; lambda@3 = 4.694091132974175; lambda@4 = 7.854757438237613"},
	{model: "blade_frequency", set: with{"ends": "free-free"}, given: "lambda@2 = 4.730040744862704; lambda@3 = 7.853204624095838; lambda@4 = 10.995607838001671"},
	{model: "blade_frequency", set: with{"ends": "fixed-pinned"}, given: "lambda@2 = 3.926602312047919; lambda@3 = 7.068582745628732; lambda@4 = 10.210176122813031"},
	{model: "blade_separation", set: with{"first": 50., "speed": 0.1, "pitch": 0.002, "pulley_teeth": 16., "steps_per_turn": 400.}},
	{model: "column", set: with{"ends": "fixed-free"}, given: "k = 0.25"},
	{model: "column", set: with{"ends": "pinned-pinned"}, given: "k = 1"},
	{model: "column", set: with{"ends": "fixed-fixed", "length": 2.5}, given: "k = 4"},
	{model: "screw_buckling", set: with{"ends": "fixed-guided"}, given: "k = 1"},
	{model: "screw_buckling", set: with{"ends": "fixed-fixed"}, given: "k = 4"},
	{model: "conductor", set: with{"cross_section": 1.5e-6}, given: "t = (temperature - 273.15 K) / 1 K"},
	{model: "error_budget", set: with{"rectangular": []float64{.5, .2}, "triangular": []float64{.3}, "resolution": []float64{.1}, "standard": []float64{.15, .1}}},
	{model: "infrared_error", set: with{"band_short": nil, "band_long": nil}, given: "S_reading = reading^4; S_reflected = reflected^4; S_true = temperature^4; slope = 4 * reading^3"},
	{model: "interlock", set: with{"edition": "2015", "category": "1", "b10d": []float64{2e6, 1e7}, "coverage": []float64{0.6, 0.9}, "days": 220., "daily": 28800., "cycle": 60.,
		"b10d_2": nil, "coverage_2": nil, "other": nil, "coverage_other": nil, "ccf_score": nil}, given: "channel_of_one = C", lines: []int{0, 1, 2, 4, 6}},
	{model: "interlock", set: with{"edition": "2015", "category": "3", "b10d": []float64{2e6, 1e7}, "coverage": 0.9, "b10d_2": []float64{3e6}, "coverage_2": []float64{0.6}, "days": 220., "daily": 28800., "cycle": 60.,
		"other": nil, "coverage_other": nil, "ccf_score": 70.}, given: "C_1 = min(C, 100 a); C_2 = min(sum(b10d_2) / (0.1 * operations) * 1 a, 100 a)", lines: []int{0, 1, 2, 3}},
	{model: "interlock", set: with{"edition": "2015", "category": "1", "b10d": []float64{2e4, 1e7}, "coverage": 0., "days": 220., "daily": 28800., "cycle": 600.,
		"b10d_2": nil, "coverage_2": nil, "other": nil, "coverage_other": nil, "ccf_score": nil}, lines: []int{0, 7}},
	{model: "lamp_field", set: lamps(with{"law": "diffuse", "bed_x": .2, "bed_y": .15, "nodes": 21.}), given: "corners = [corner, corner]", lines: []int{5, 6, 8, 10, 11}},
	{model: "lamp_irradiance", set: lamps(with{"law": "diffuse", "x": []float64{.02}, "y": []float64{-.01}, "angle": 0., "length": []float64{.3}, "power": []float64{300}, "height": []float64{.1}}), given: levelLamp + diffuse("E_above", "h_i", "d_i"), lines: []int{0, 2, 3}},
	{model: "lamp_irradiance", set: lamps(with{"law": "isotropic", "x": []float64{.02}, "y": []float64{-.01}, "angle": 0., "length": []float64{.3}, "power": []float64{300}, "height": []float64{.1}}), given: levelLamp + isotropic("E_above", "h_i", "d_i"), lines: []int{1, 2, 3}},
	{model: "lamp_overhang", set: with{"x": []float64{0, .05}, "y": []float64{-.1, .1}, "height": []float64{.1, .12}, "length": []float64{.3, .2}, "angle": 0., "tilt": nil},
		given: "x_low = min(x - length / 2); x_high = max(x + length / 2); y_low = min(y); y_high = max(y)"},
	{model: "lamp_powers", set: lamps(with{"law": "diffuse", "bed_x": .2, "bed_y": .15, "nodes": 21.}), lines: []int{2, 6}},
	{model: "lamp_inrush", lines: []int{0, 1, 3, 4}},
	{model: "laser_exposure_limit", set: with{"wavelength": 480e-9, "time": 0.25}, lines: []int{0, 1, 4, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 852e-9, "time": 5.}, lines: []int{0, 1, 4, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 1175e-9, "time": 5.}, lines: []int{0, 2, 5, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 1310e-9, "time": 20.}, lines: []int{0, 1, 2, 6, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 470e-9, "time": 50.}, lines: []int{0, 3, 7, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 440e-9, "time": 5000.}, lines: []int{0, 3, 7, 11, 12, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 1450e-9, "time": 0.3}, lines: []int{8, 11, 13, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 1550e-9, "time": 5.}, lines: []int{9, 11, 14, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 10.6e-6, "time": 100.}, lines: []int{10, 11, 14, 16}},
	{model: "laser_exposure_limit", set: with{"wavelength": 0.3e-3, "time": 5.}, lines: []int{8, 11, 15, 16}},
	{model: "linear_bearing_life", set: with{"elements": "balls"}, given: "p = 3"},
	{model: "linear_bearing_life", set: with{"elements": "rollers"}, given: "p = 10/3"},
	{model: "rotary_bearing_life", set: with{"elements": "balls"}, lines: []int{0, 1, 2, 3}},
	{model: "rotary_bearing_life", set: with{"elements": "rollers"}, lines: []int{0, 3, 4, 5}},
	{model: "powder_fill", given: "g = g_n"},
	{model: "powder_flow", set: with{"bulk": 460., "tapped": 530.}, given: "n = if hausner > 1.11 then (if hausner > 1.18 then 2 else 1) else 0"},
	{model: "pt_error", set: with{"class": "B", "element": "wire", "temperature": 273.15 + 50}, given: "t = (temperature - 273.15 K) / 1 K; base = 0.3 K; slope = 0.005 K; " +
		"S = nominal * (3.9083e-3 - 2 * 5.775e-7 * t) / 1 K; R = nominal * (1 + 3.9083e-3 * t - 5.775e-7 * t^2)"},
	{model: "pt_resistance", set: with{"temperature": 273.15 + 50}, given: ptGiven + "; C = 0; slope = nominal * (A + 2 * B * t) / 1 K"},
	{model: "pt_resistance", set: with{"temperature": 273.15 - 50}, given: ptGiven + "; C = -4.183e-12; slope = nominal * (A + 2 * B * t + C * (4 * t^3 - 300 * t^2)) / 1 K"},
	{model: "pt_temperature", set: with{"nominal": 100., "resistance": 138.5, "leads": .1}, given: "A = 3.9083e-3; B = -5.775e-7", lines: []int{0, 1}},
	{model: "risk_graph", set: with{"severity": "S2", "exposure": "F1", "avoidance": "P2"}, given: "S = 1; F = 0; P = 1"},
	{model: "risk_graph", set: with{"severity": "S1", "exposure": "F2", "avoidance": "P2"}, given: "S = 0; F = 1; P = 1"},
	{model: "screw_length", set: with{"grip": .0123, "engagement": .009, "depth": .014}, lines: []int{1, 2}},
	{model: "screw_preload", set: with{"size": "M6", "property_class": "8.8", "head": "socket", "torque": 8.}, given: sizeM6},
	{model: "screw_tightening", set: with{"size": "M6", "property_class": "8.8", "head": "socket"}, given: sizeM6},
	{model: "screw_strength", set: with{"size": "M6", "property_class": "8.8"}, given: sizeM6},
	{model: "thread_engagement", set: with{"size": "M6", "property_class": "8.8", "engagement": .008, "tapped": "aluminium", "shear_strength": 170e6}, given: sizeM6 +
		"; d_s = 5.794 mm; D_2 = 5.5 mm; D_1 = 5.153 mm; d_2 = 5.212 mm; stress_area = pi / 4 * (d - 13 / 24 * sqrt(3) * pitch)^2"},
	{model: "screw_stiffness", set: with{"axially_fixed": "one end"}, lines: []int{0, 1, 3}},
	{model: "screw_stiffness", set: with{"axially_fixed": "both ends"}, lines: []int{0, 2, 3}},
	{model: "screw_whirl", set: with{"ends": "pinned-pinned", "length": .6, "mass_at": .3}, given: "lambda = pi; flexibility = length^3 / (48 * modulus * pi * diameter^4 / 64)"},
	{model: "screw_whirl", set: with{"ends": "fixed-free", "length": .6, "mass_at": .6}, given: "lambda = 1.875104068711961; flexibility = length^3 / (3 * modulus * pi * diameter^4 / 64)"},
	{model: "screw_wobble", set: with{"nut": "rigid", "nut_stiffness": nil, "friction": nil, "axial_load": nil}, lines: []int{0, 2, 4}},
	{model: "screw_wobble", set: with{"nut": "flexure", "friction": nil, "axial_load": nil}, lines: []int{1, 2, 4}},
	{model: "screw_wobble", set: with{"nut": "sliding", "nut_stiffness": nil, "friction": .01, "axial_load": .5, "eccentricity": 1e-3}, given: "free = eccentricity * screw_stiffness / (screw_stiffness + guide_stiffness)", lines: []int{3, 4}},
	{model: "section_rectangle", set: with{"width": .03, "height": .03}, given: "c = 0.14057701495515"},
	{model: "thermocouple_k_tolerance", set: with{"class": "1", "temperature": 273.15 + 500}, given: "t = (temperature - 273.15 K) / 1 K; base = 1.5 K; slope = 0.004 K"},
	{model: "steinhart_hart", given: "r = resistance / 1 ohm"},
	{model: "heated_wire", set: with{"diameter": .5e-3, "length": .6, "resistivity": 1.1e-6, "resistivity_slope": 1e-4, "current": 3.}, lines: []int{0, 1, 2, 3, 4, 5, 7, 8}},
	{model: "view_factor_panel", given: "A = [a / 2 - at_x, a / 2 - at_x, -a / 2 - at_x, -a / 2 - at_x] / gap; B = [b / 2 - at_y, -b / 2 - at_y, b / 2 - at_y, -b / 2 - at_y] / gap; s = [1, -1, -1, 1]"},
	{model: "voltage_drop", set: with{"system": "single-phase"}, given: "n = 2; m = 2"},
	{model: "voltage_drop", set: with{"system": "three-phase"}, given: "n = sqrt(3); m = 3"},
}

// others are the formula lines that are no closed expression, and why.
var others = map[string]string{
	"beam_sag 1":                   "the elastic line is integrated; the three lines after it are compared",
	"shaft_sag 2":                  "as beam_sag",
	"bed_spread 2":                 "holds at each node of a field",
	"bed_spread 3":                 "solved over a field by finite volumes",
	"interlock 5":                  "a table of the standard",
	"lamp_field 0":                 "holds at each node; compared in lamp_irradiance",
	"lamp_field 1":                 "as line 0",
	"lamp_field 2":                 "as line 0",
	"lamp_field 3":                 "as line 0",
	"lamp_field 4":                 "a sum over the nodes",
	"lamp_field 7":                 "the figures of the field under names that are also functions",
	"lamp_field 9":                 "a sum over the nodes",
	"lamp_powers 0":                "holds at each node",
	"lamp_powers 1":                "least squares over the nodes",
	"lamp_powers 3":                "a sum over the nodes",
	"lamp_powers 4":                "the least of the nodes",
	"lamp_powers 5":                "the least and greatest of the nodes",
	"lamp_inrush 2":                "a table",
	"heated_wire 6":                "h by a correlation with the air's properties",
	"screw_length 0":               "a table",
	"screw_length 3":               "a table",
	"thermocouple_k_temperature 0": "needs the reference function, a polynomial of ten terms",
	"thermocouple_k_temperature 1": "the inverse of the reference function",
	"thermocouple_k_voltage 0":     "a polynomial of ten terms",
	"thermocouple_k_voltage 1":     "needs the reference function",
	"thermocouple_k_voltage 2":     "its derivative",
}

const (
	ptGiven = "t = (temperature - 273.15 K) / 1 K; A = 3.9083e-3; B = -5.775e-7"
	sizeM6  = "d = 6 mm; pitch = 1 mm; d_w = 9.38 mm; d_h = 6.6 mm; yield_stress = 640 MPa; proof_stress = 580 MPa; tensile_strength = 800 MPa"
	// a level lamp along x seen from a point of the bed
	levelLamp = "a_1 = x - length / 2 - at_x; a_2 = x + length / 2 - at_x; h = height - at_z; d = sqrt((at_y - y)^2 + h^2); n_e = h / d; n_u = 0; phi_1 = atan(a_1 / d); phi_2 = atan(a_2 / d); " +
		"h_i = 2 * reflector_height - height - at_z; d_i = sqrt((at_y - y)^2 + h_i^2); "
)

func diffuse(name, h, d string) string {
	return fmt.Sprintf("%s = radiant_efficiency * power / (2 * pi^2 * length * %[3]s) * %[2]s / %[3]s * ((atan(a_2 / %[3]s) - atan(a_1 / %[3]s)) / 1 rad + a_2 * %[3]s / (a_2^2 + %[3]s^2) - a_1 * %[3]s / (a_1^2 + %[3]s^2))", name, h, d)
}

func isotropic(name, h, d string) string {
	return fmt.Sprintf("%s = radiant_efficiency * power / (4 * pi * length * %[3]s) * %[2]s / %[3]s * (a_2 / sqrt(a_2^2 + %[3]s^2) - a_1 / sqrt(a_1^2 + %[3]s^2))", name, h, d)
}

// lamps adds what a bank of lamps needs.
func lamps(set with) with {
	w := with{"x": []float64{-.08, .08, 0, 0}, "y": []float64{0, 0, -.08, .08}, "height": []float64{.1, .1, .12, .12}, "length": []float64{.24, .24, .2, .2}, "angle": []float64{math.Pi / 2, math.Pi / 2, 0, 0},
		"power": []float64{200, 200, 150, 150}, "tilt": nil, "diameter": nil, "reflector_height": .2, "reflectance": .8, "driver": nil, "at_z": 0.}
	for k, v := range set {
		w[k] = v
	}
	return w
}

// usual values of a unit, SI; the bounds of the argument narrow them.
var usual = map[string][2]float64{
	"m": {.02, .4}, "m^2": {.01, .1}, "m^3": {1e-3, 5e-3}, "m^4": {1e-9, 1e-7}, "Pa": {1e8, 2e11}, "kg": {.5, 5}, "N": {5, 80}, "N/m": {1e4, 1e6}, "N*m": {.05, 2},
	"°C": {300, 380}, "K": {5, 60}, "K^-1": {5e-6, 25e-6}, "1": {.05, 3}, "Hz": {10, 60}, "rad": {.1, .7}, "s": {1, 100}, "W": {20, 500}, "V": {12, 230}, "A": {.5, 10},
	"ohm": {.1, 5}, "ohm/m": {1e-3, 1e-2}, "kg/m": {.01, .1}, "kg/m^3": {400, 8000}, "W/m^2": {500, 3000}, "W/(m*K)": {.05, 2}, "W/(m^2*K)": {5, 14}, "J/(kg*K)": {800, 2000},
	"J/K": {500, 5000}, "W/K": {1, 5}, "ohm*m": {5e-7, 1.5e-6}, "Pa*s": {1.7e-5, 3e-5}, "m/s": {.1, 2}, "m/s^2": {.1, 2}, "rad/s": {1, 50}, "kg/s": {1e-4, 1e-3}, "J/kg": {8e4, 1.2e5}, "N*m^2": {1e-4, 1e-2}, "m/N": {1e-6, 1e-5}, "K/W": {10, 50},
}

// special are ranges of arguments that a model would not take otherwise, SI.
var special = map[string][2]float64{
	"belt_centres.pitch": {.002, .005}, "belt_centres.teeth_1": {15, 30}, "belt_centres.teeth_2": {15, 30}, "belt_centres.belt_teeth": {120, 300},
	"belt_drift.loop_length": {1, 2}, "belt_drift.centre_distance": {.2, .45}, "belt_drift.stiffness": {5e4, 2e5}, "belt_drift.other_growth": {0, 1e-4}, "belt_drift.set_at": {290, 300},
	"blade_deflection.thickness": {.002, .006}, "blade_deflection.width": {.02, .04}, "blade_deflection.length": {.2, .4},
	"blade_frequency.thickness": {.002, .006}, "blade_frequency.width": {.02, .04}, "blade_frequency.length": {.2, .4},
	"gap_leak.gap": {5e-5, 2e-4}, "gap_leak.pressure": {5, 50}, "gap_leak.density": {.6, 1.3}, "gap_leak.depth": {.01, .03},
	"counterbalance.rate":                {10, 200},
	"thermocouple_k_temperature.voltage": {.002, .03},
	"laser_hazard_distance.diameter":     {.002, .02}, "laser_hazard_distance.divergence": {1e-3, 1e-2}, "laser_hazard_distance.aperture": {.0035, .007}, "laser_hazard_distance.distance": {1, 20},
	"laser_hazard_lens.beam_diameter": {.002, .02}, "laser_hazard_lens.aperture": {.0035, .007}, "laser_hazard_lens.distance": {.5, 5},
	"wall_near_heat.gap": {.003, .006}, "wall_behind_shield.gap": {.003, .006}, "wall_behind_shield.shield_gap": {.003, .006},
}

var counts = map[string]bool{"teeth_1": true, "teeth_2": true, "belt_teeth": true, "pulley_teeth": true, "steps_per_turn": true, "microsteps": true,
	"layers": true, "shields": true, "builds": true, "lamps": true, "nodes": true}

type draw uint64

func (d *draw) next() float64 {
	*d ^= *d << 13
	*d ^= *d >> 7
	*d ^= *d << 17
	return float64(uint64(*d)>>11) / (1 << 53)
}

// number draws a value within the bounds and the range of an argument.
func (d *draw) number(s *model.Spec, a *model.Arg) float64 {
	r, ok := special[s.Name+"."+a.Name]
	if !ok {
		r, ok = usual[a.Unit]
	}
	if !ok {
		panic("no usual values in " + a.Unit)
	}
	lo, hi := r[0], r[1]
	least, most := math.Inf(-1), math.Inf(1)
	for _, b := range []*float64{a.Above, a.AtLeast, a.Low} {
		if b != nil {
			least = max(least, *b)
		}
	}
	for _, b := range []*float64{a.AtMost, a.High} {
		if b != nil {
			most = min(most, *b)
		}
	}
	if hi <= least {
		hi = min(most, 3*math.Abs(least)+1)
	}
	if lo >= most {
		lo = max(least, most/4)
	}
	lo, hi = max(lo, least), min(hi, most)
	v := lo + (hi-lo)*(.02+.96*d.next())
	if counts[a.Name] {
		v = math.Ceil(v)
	}
	return v
}

// good draws arguments that a model takes without a finding.
func (d *draw) good(t *testing.T, s *model.Spec, set map[string]any) map[string]any {
	t.Helper()
	var last any
	for range 4000 {
		args := map[string]any{}
		for i := range s.Args {
			a := &s.Args[i]
			if v, ok := set[a.Name]; ok {
				if v != nil {
					args[a.Name] = v
				}
				continue
			}
			switch a.Shape {
			case model.Scalar:
				args[a.Name] = d.number(s, a)
			case model.List:
				args[a.Name] = []float64{d.number(s, a), d.number(s, a), d.number(s, a)}
			case model.Text:
				args[a.Name] = a.Choices[int(d.next()*float64(len(a.Choices)))]
			case model.Grid:
				args[a.Name] = ramp
			}
		}
		_, out, err := model.Call(s, args)
		if err == nil && len(out) == 0 {
			return args
		}
		last = err
		if err == nil {
			last = out
		}
	}
	t.Errorf("%s: no arguments within its range were found; the last were refused: %v", s.Name, last)
	return nil
}

// ramp is a field, of one lamp, as fieldSheet writes it.
var ramp = func() *model.Map {
	out, _, err := model.Call(model.Find("lamp_field"), fieldArgs)
	if err != nil {
		panic(err)
	}
	return out.Get("field").(*model.Map)
}()

var fieldArgs = map[string]any{"x": 0., "y": 0., "height": .1, "length": .3, "angle": 0., "power": 200., "radiant_efficiency": .8, "law": "diffuse", "bed_x": .02, "bed_y": .02, "nodes": 21.}

// written is an SI value as a sheet writes it.
func written(v any, u string) string {
	switch v := v.(type) {
	case float64:
		if u == "°C" {
			v -= 273.15
		}
		s := strconv.FormatFloat(v, 'g', -1, 64)
		if u == "1" {
			return s
		}
		return s + " " + u
	case []float64:
		var l []string
		for _, x := range v {
			l = append(l, written(x, u))
		}
		return "[" + strings.Join(l, ", ") + "]"
	case string:
		return strconv.Quote(v)
	}
	panic(fmt.Sprintf("%T", v))
}

// callText is the call of a model.
func callText(s *model.Spec, value func(a *model.Arg) string) string {
	var l []string
	for i := range s.Args {
		if v := value(&s.Args[i]); v != "" {
			l = append(l, s.Args[i].Name+": "+v)
		}
	}
	return s.Name + "(" + strings.Join(l, ", ") + ")"
}

var token = regexp.MustCompile(`[\pL_][\pL\pN_']*`)

// renamed gives an expression with its names replaced: not functions, nor
// units, which stand behind a number.
func renamed(x string, to func(string) string) string {
	var b strings.Builder
	last := 0
	for _, at := range token.FindAllStringIndex(x, -1) {
		b.WriteString(x[last:at[0]])
		w := x[at[0]:at[1]]
		before, after := strings.TrimRight(x[:at[0]], " "), x[at[1]:]
		digit := before != "" && before[len(before)-1] >= '0' && before[len(before)-1] <= '9'
		if strings.HasSuffix(x[:at[0]], "°") {
			digit = true
		}
		name := regexp.MustCompile(`[\pL_][\pL\pN_]*$`).MatchString(before) // a_1 is no number
		if !strings.HasPrefix(after, "(") && !(digit && !name) && !inUnit(x[:at[0]]) {
			w = to(w)
		}
		b.WriteString(w)
		last = at[1]
	}
	b.WriteString(x[last:])
	return b.String()
}

// inUnit reports whether a text ends within a unit such as N*m or W/m^2.
func inUnit(before string) bool {
	return regexp.MustCompile(`(^|[^\pL_\pN])[0-9.]+ [\pL]+[*/]$`).MatchString(before)
}

var keywords = strings.Fields("pi g_n if then else and or not in true false")

// TestFormulasHold calls every model from a sheet and compares its results with
// its formula lines.
func TestFormulasHold(t *testing.T) {
	d := draw(20)
	held := map[string]bool{}
	compared := 0
	run := func(s *model.Spec, v variant) {
		args := d.good(t, s, v.set)
		if args == nil {
			return
		}
		var b strings.Builder
		b.WriteString("e = " + callText(model.Find("lamp_field"), func(a *model.Arg) string {
			if v, ok := fieldArgs[a.Name]; ok {
				return written(v, a.Unit)
			}
			return ""
		}) + "\n")
		known := map[string]string{} // a name of the formula and what stands for it
		plain := func(name string, u string, shape model.Shape) {
			switch {
			case shape == model.Text || shape == model.Grid:
			case u == "°C" && shape == model.Scalar:
				fmt.Fprintf(&b, "k_%s = kelvin(%s)\n", name, known[name])
				known[name] = "k_" + name
			}
		}
		for i := range s.Args {
			a := &s.Args[i]
			v, ok := args[a.Name]
			if !ok {
				continue
			}
			known[a.Name] = "x_" + a.Name
			if a.Shape == model.Grid {
				fmt.Fprintf(&b, "x_%s = e.field\n", a.Name)
			} else {
				fmt.Fprintf(&b, "x_%s = %s\n", a.Name, written(v, a.Unit))
			}
			plain(a.Name, a.Unit, a.Shape)
		}
		fmt.Fprintf(&b, "m = %s\n", callText(s, func(a *model.Arg) string {
			if _, ok := args[a.Name]; !ok {
				return ""
			}
			return "x_" + a.Name
		}))
		for _, r := range s.Results {
			known[r.Name] = "m." + r.Name
			plain(r.Name, r.Unit, r.Shape)
		}
		known["sigma"], known["c2"] = "x_sigma", "x_c2"
		b.WriteString("x_sigma = 5.670374419e-8 W/(m^2*K^4)\nx_c2 = 0.01438776877 m*K\n")
		value := map[string]bool{} // arguments and results: the rest are symbols
		for n := range known {
			value[n] = true
		}
		to := func(line int) func(string) string {
			return func(w string) string {
				if k, ok := known[fmt.Sprintf("%s@%d", w, line)]; ok {
					return k
				}
				if k, ok := known[w]; ok {
					return k
				}
				if slices.Contains(keywords, w) {
					return w
				}
				return "s_" + w
			}
		}
		for _, g := range strings.Split(v.given, ";") {
			name, _, ok := strings.Cut(g, " = ")
			if name = strings.TrimSpace(name); ok {
				known[name] = "z_" + strings.ReplaceAll(name, "@", "_")
			}
		}
		for _, g := range strings.Split(v.given, ";") {
			if name, x, ok := strings.Cut(g, " = "); ok {
				fmt.Fprintf(&b, "%s = %s\n", known[strings.TrimSpace(name)], renamed(x, to(-1)))
			}
		}
		type comparison struct {
			line       int
			name, want string
		}
		var list []comparison
		symbols := map[string]bool{}
		for i, line := range s.Formula {
			if v.lines != nil && !slices.Contains(v.lines, i) || v.lines == nil && others[fmt.Sprint(s.Name, " ", i)] != "" {
				continue
			}
			held[fmt.Sprint(s.Name, " ", i)] = true
			body, _, _ := strings.Cut(line, "#")
			left, x, _ := strings.Cut(strings.TrimSpace(body), " = ")
			if value[left] || symbols[left] {
				if !value[left] {
					known[left] = "s_" + left // a second line for the same symbol
				}
				name := fmt.Sprintf("line_%d", i)
				fmt.Fprintf(&b, "%s = %s\n", name, renamed(x, to(i)))
				list = append(list, comparison{i, name, known[left]})
			} else {
				fmt.Fprintf(&b, "s_%s = %s\n", left, renamed(x, to(i)))
				symbols[left] = true
			}
		}
		r, errs := sheet(t, b.String(), nil)
		if errs.HasErrors() {
			t.Errorf("%s:\n%v", s.Name, errs)
			return
		}
		for _, res := range s.Results {
			f := r.Figure("m." + res.Name)
			u, _ := unit.Parse(res.Unit)
			if f == nil || f.Value == nil {
				t.Errorf("%s gives no %s", s.Name, res.Name)
				continue
			}
			if f.Type.Dim != u.Dim || f.Type.Point != u.Point {
				t.Errorf("%s.%s: dimension %v, declared %s", s.Name, res.Name, f.Type, res.Unit)
			}
		}
		for _, c := range list {
			got, want := r.Figure(c.name), r.Figure(c.want)
			if got == nil || want == nil {
				t.Errorf("%s line %d: nothing to compare: %s", s.Name, c.line, s.Formula[c.line])
				continue
			}
			if got.Type.Dim != want.Type.Dim {
				t.Errorf("%s line %d: dimension %v, of the result %v: %s", s.Name, c.line, got.Type.Dim, want.Type.Dim, s.Formula[c.line])
			}
			x, y := numbersOf(got.Value), numbersOf(want.Value)
			if len(x) != len(y) || len(x) == 0 {
				t.Errorf("%s line %d: %v beside %v", s.Name, c.line, got.Value, want.Value)
				continue
			}
			for i := range x {
				compared++
				if !(math.Abs(x[i]-y[i]) <= 1e-9*max(math.Abs(x[i]), math.Abs(y[i]))) {
					t.Errorf("%s line %d: the model gives %.12g, its formula %.12g: %s\n%v", s.Name, c.line, y[i], x[i], s.Formula[c.line], args)
				}
			}
		}
	}
	for i := range model.Library() {
		s := &model.Library()[i]
		own := false
		for _, v := range variants {
			if v.model == s.Name {
				own = true
				run(s, v)
				run(s, v)
			}
		}
		for range 3 {
			if !own {
				run(s, variant{})
			}
		}
		for k := range s.Formula {
			id := fmt.Sprint(s.Name, " ", k)
			if held[id] == (others[id] != "") {
				t.Errorf("%s is compared: %v; the reason why it cannot be: %q", id, held[id], others[id])
			}
		}
	}
	for _, v := range variants {
		if model.Find(v.model) == nil {
			t.Errorf("no model %s", v.model)
		}
	}
	t.Logf("%d values compared in %d formula lines; %d lines have no closed form", compared, len(held), len(others))
}

func numbersOf(v any) []float64 {
	switch v := v.(type) {
	case float64:
		return []float64{v}
	case []float64:
		return v
	}
	return nil
}
