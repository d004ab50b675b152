package calc_test

import (
	"testing"

	"workings/calc/model"
)

// TestMonotone moves one argument of a model up by a little at a time and
// expects a result to rise (+) or fall (-), as the physics has it.
func TestMonotone(t *testing.T) {
	rows := []struct {
		model, arg, sign, result string
		set                      map[string]any
	}{
		{"bed_temperature", "irradiance", "+", "temperature", nil},
		{"bed_temperature", "h_air", "-", "temperature", with{"irradiance": 5000., "air": 300., "surroundings": 310., "base_conductance": nil, "base": nil}},
		{"bed_spread", "conductivity", "-", "spread", nil},
		{"bed_spread", "conductivity", "+", "healing_length", nil},
		{"plate_radiation", "hot", "+", "flux", with{"cold": 290.}},
		{"plate_radiation", "shields", "-", "flux", with{"hot": 380., "cold": 300., "shields": 1.}},
		{"wall_near_heat", "gap", "-", "inner", with{"hot": 400., "ambient": 300.}},
		{"wall_near_heat", "hot", "+", "inner", with{"hot": 380., "ambient": 300.}},
		{"warm_up", "power", "-", "time", nil},
		{"heater_power", "capture", "-", "needed", nil},
		{"view_factor_rectangles", "gap", "-", "factor", nil},
		{"view_factor_disks", "radius_to", "+", "factor", nil},
		{"belt_drift", "frame_expansion", "+", "hot", with{"set_at": 293., "frame_hot": 330.}},
		{"belt_drift", "cord_expansion", "-", "hot", with{"set_at": 293., "belt_hot": 330., "set_tension": 300.}},
		{"belt_frequency", "tension", "+", "frequency", nil},
		{"belt_length", "centre_distance", "+", "length", nil},
		{"belt_centres", "belt_teeth", "+", "centre_distance", nil},
		{"screw_torque", "friction", "+", "raise", nil},
		{"screw_torque", "friction", "-", "efficiency", nil},
		{"screw_buckling", "length", "-", "critical", nil},
		{"screw_whirl", "length", "-", "critical", nil},
		{"screw_life", "dynamic_rating", "+", "life", nil},
		{"screw_stiffness", "root_diameter", "+", "total", nil},
		{"screw_wobble", "guide_stiffness", "-", "amplitude", with{"nut": "rigid", "nut_stiffness": nil, "friction": nil, "axial_load": nil}},
		{"shaft_sag", "diameter", "-", "maximum", nil},
		{"shaft_sag", "load", "+", "maximum", nil},
		{"linear_bearing_life", "load", "-", "distance", nil},
		{"racking", "friction", "+", "binding", nil},
		{"blade_frequency", "thickness", "+", "first", with{"strip_mass": nil}},
		{"blade_frequency", "length", "-", "first", nil},
		{"blade_deflection", "drag", "+", "deflection", nil},
		{"seal_friction", "gap", "-", "running", with{"thickness": .01, "gap": .0085, "width": .2, "depth": .2}},
		{"corner_radius_min", "strain", "-", "radius", nil},
		{"gap_leak", "gap", "+", "flow", nil},
		{"powder_use", "overdose", "+", "fed", nil},
		{"powder_refresh", "virgin", "-", "mean_age", nil},
		{"laser_energy", "speed", "-", "areal", nil},
		{"laser_spot", "beam_diameter", "-", "focus", nil},
		{"laser_exposure_limit", "time", "-", "irradiance", with{"wavelength": 852e-9, "time": 2.}},
		{"laser_exposure_limit", "time", "+", "exposure", with{"wavelength": 10.6e-6, "time": 2.}},
		{"laser_hazard_distance", "power", "+", "hazard_distance", nil},
		{"laser_hazard_distance", "divergence", "-", "hazard_distance", nil},
		{"laser_hazard_distance", "permitted", "-", "hazard_distance", nil},
		{"laser_hazard_distance", "diameter", "-", "worst_density", nil},
		{"laser_hazard_lens", "beam_diameter", "-", "hazard_distance", nil},
		{"laser_hazard_lens", "focal_length", "+", "hazard_distance", nil},
		{"laser_hazard_lens", "power", "+", "worst_density", nil},
		{"laser_diffuse", "distance", "-", "irradiance", nil},
		{"laser_diffuse", "reflectance", "+", "hazard_distance", nil},
		{"scan_time", "speed", "-", "build", nil},
		{"pt_resistance", "temperature", "+", "resistance", nil},
		{"thermocouple_k_voltage", "temperature", "+", "voltage", nil},
		{"ntc_resistance", "temperature", "-", "resistance", with{"b_from": 280., "b_to": 390.}},
		{"infrared_error", "emissivity_set", "-", "reading", with{"temperature": 400., "reflected": 300.}},
		{"voltage_drop", "length", "+", "drop", nil},
		{"conductor", "temperature", "+", "resistance", with{"cross_section": 1.5e-6}},
		{"lamp_inrush", "source_impedance", "-", "inrush", nil},
		{"heated_wire", "current", "+", "temperature", with{"diameter": .5e-3, "resistivity": 1.1e-6, "resistivity_slope": 1e-4, "current": 2.}},
		{"interlock", "cycle", "+", "replace_after", with{"edition": "2015", "category": "1", "b10d": []float64{2e4}, "coverage": 0., "days": 220., "daily": 28800., "cycle": 300.,
			"b10d_2": nil, "coverage_2": nil, "other": nil, "coverage_other": nil, "ccf_score": nil}},
		{"screw_tightening", "use", "+", "preload", nil},
		{"thread_engagement", "engagement", "+", "nut_strip", nil},
		{"section_rectangle", "height", "+", "torsion", nil},
		{"column", "length", "-", "critical", nil},
	}
	d := draw(31)
	for _, row := range rows {
		s := model.Find(row.model)
		if s == nil {
			t.Errorf("no model %s", row.model)
			continue
		}
		for range 5 {
			args := d.good(t, s, row.set)
			if args == nil {
				break
			}
			last, moved := 0.0, 0
			for step := range 6 {
				at, _ := args[row.arg].(float64)
				if step > 0 && counts[row.arg] {
					args[row.arg] = at + 1
				} else if step > 0 {
					args[row.arg] = at * 1.01
					if s.Args[slot(s, row.arg)].Unit == "°C" {
						args[row.arg] = at + 1
					}
				}
				out, _, err := model.Call(s, args)
				if err != nil { // beyond what the model takes
					break
				}
				v, _ := out.Get(row.result).(float64)
				if step > 0 {
					moved++
					if row.sign == "+" && v <= last || row.sign == "-" && v >= last {
						t.Errorf("%s: %s %s with %s: from %g to %g at %v", s.Name, row.result, row.sign, row.arg, last, v, args)
						break
					}
				}
				last = v
			}
			if moved == 0 {
				t.Errorf("%s: %s was never moved: %v", s.Name, row.arg, args)
			}
		}
	}
}

// slot is the place of an argument.
func slot(s *model.Spec, name string) int {
	for i := range s.Args {
		if s.Args[i].Name == name {
			return i
		}
	}
	panic(s.Name + " takes no " + name)
}
