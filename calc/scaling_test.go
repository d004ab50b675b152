package calc_test

import (
	"math"
	"testing"

	"workings/calc/model"
	"workings/calc/unit"
)

// ownScale are the models with a size, time or temperature of their own, so
// that they do not look alike in other units.
var ownScale = map[string]string{
	"axis_load": "free fall", "counterbalance": "free fall", "shaft_sag": "free fall with a density", "powder_fill": "free fall",
	"lead_error": "300 mm", "screw_length": "preferred lengths", "conductor": "sizes of a table",
	"screw_strength": "sizes", "screw_tightening": "sizes", "screw_preload": "sizes", "thread_engagement": "sizes",
	"bed_temperature": "Stefan and Boltzmann's constant", "bed_spread": "Stefan and Boltzmann's constant", "plate_radiation": "Stefan and Boltzmann's constant",
	"wall_near_heat": "Stefan and Boltzmann's constant", "wall_behind_shield": "Stefan and Boltzmann's constant", "heated_wire": "air",
	"infrared_error": "Planck's constants", "blackbody_band": "Planck's constants", "lamp_inrush": "tungsten",
	"pt_error": "platinum", "pt_resistance": "platinum", "pt_temperature": "platinum", "steinhart_hart": "the ohm",
	"thermocouple_k_temperature": "type K", "thermocouple_k_voltage": "type K", "thermocouple_k_tolerance": "classes in kelvins",
	"interlock": "years", "laser_exposure_limit": "limits of the eye",
}

// TestScaling measures the arguments of every model in other units of length,
// mass, time, current and temperature: every result comes out in those too.
// This holds each model to the scaling laws of its dimensions, and shows a slip
// of a dimension or a number with a unit of its own.
func TestScaling(t *testing.T) {
	by := map[int]float64{unit.Length: 2, unit.Mass: 3, unit.Time: 5, unit.Current: 7, unit.Temperature: 1.1}
	factor := func(symbol string) float64 {
		if symbol == "1" {
			return 1
		}
		u, err := unit.Parse(symbol)
		if err != nil {
			t.Fatal(err)
		}
		f := 1.0
		for i := range unit.NumBase {
			if by[i] != 0 {
				f *= math.Pow(by[i], float64(u.Dim[i])/unit.Sixths)
			}
		}
		return f
	}
	scaled := func(v any, f float64) any {
		switch v := v.(type) {
		case float64:
			return v * f
		case []float64:
			w := make([]float64, len(v))
			for i := range v {
				w[i] = v[i] * f
			}
			return w
		case *model.Map:
			return scaledMap(v, f, by[unit.Length])
		}
		return v
	}
	d := draw(8)
	count := 0
	for i := range model.Library() {
		s := &model.Library()[i]
		if ownScale[s.Name] != "" {
			continue
		}
		sets := []map[string]any{nil}
		for _, v := range variants {
			if v.model == s.Name {
				sets = append(sets, v.set)
			}
		}
		if len(sets) > 1 {
			sets = sets[1:]
		}
		for _, set := range sets {
			args := d.good(t, s, set)
			if args == nil {
				continue
			}
			other := map[string]any{}
			for k := range s.Args {
				a := &s.Args[k]
				if v, ok := args[a.Name]; ok && a.Shape != model.Text {
					other[a.Name] = scaled(v, factor(a.Unit))
				} else if ok {
					other[a.Name] = v
				}
			}
			want, _, err := model.Call(s, args)
			if err != nil {
				t.Errorf("%s: %v", s.Name, err)
				continue
			}
			got, _, err := model.Call(s, other)
			if err != nil {
				t.Errorf("%s in other units: %v", s.Name, err)
				continue
			}
			for _, r := range s.Results {
				g, w := flat(got.Get(r.Name)), flat(scaled(want.Get(r.Name), factor(r.Unit)))
				for k := range w {
					count++
					noise := 0.0
					if r.Unit == "1" {
						noise = 1e-14 // of a difference of two that are alike
					}
					if !(math.Abs(g[k]-w[k]) <= noise+1e-9*max(math.Abs(g[k]), math.Abs(w[k]))) {
						t.Errorf("%s.%s in other units: %.12g, want %.12g", s.Name, r.Name, g[k], w[k])
						break
					}
				}
			}
		}
	}
	for name := range ownScale {
		if model.Find(name) == nil {
			t.Errorf("no model %s", name)
		}
	}
	if count < 500 {
		t.Errorf("only %d results compared", count)
	}
	t.Logf("%d results compared", count)
}

func scaledMap(m *model.Map, f, length float64) *model.Map {
	n := &model.Map{}
	for _, x := range m.X {
		n.X = append(n.X, x*length)
	}
	for _, y := range m.Y {
		n.Y = append(n.Y, y*length)
	}
	for _, z := range m.Z {
		n.Z = append(n.Z, z*f)
	}
	return n
}

func flat(v any) []float64 {
	if m, ok := v.(*model.Map); ok {
		return m.Z
	}
	return numbersOf(v)
}
