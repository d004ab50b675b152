package model

import (
	"math"
	"testing"
)

// What the models do at the ends of their ranges and beyond, against other
// computations.

func TestSteepThreads(t *testing.T) {
	// Square to the thread: tan α_n = tan α cos λ, M = F d/2 tan(ρ ± λ).
	a := given{"load": 1000.0, "pitch_diameter": 0.01, "lead": 0.0, "friction": 0.15, "flank_angle": 0.0}
	for _, lambda := range []float64{5, 10, 20, 35, 45} {
		for _, flank := range []float64{0, 15, 30, 45} {
			l, alpha := lambda*deg, flank*deg
			c := a.with("lead", math.Pi*0.01*math.Tan(l), "flank_angle", alpha)
			n, out := numbers(t, "screw_torque", c)
			rho := math.Atan(0.15 / math.Cos(math.Atan(math.Tan(alpha)*math.Cos(l))))
			want := 1000 * 0.01 / 2 * math.Tan(rho-l)
			name := "lowering at " + show(lambda, "1") + "° and flanks of " + show(flank, "1") + "°"
			if off := math.Abs(n("lower") - want); off > 0.03*1000*0.01/2*math.Tan(rho) && len(out) == 0 {
				t.Errorf("%s: %g, square to the thread %g, and no finding", name, n("lower"), want)
			}
			if steep := math.Cos(math.Atan(math.Tan(alpha)*math.Cos(l)))/math.Cos(alpha) > 1.01; steep != (len(out) > 0) {
				t.Errorf("%s: findings %v", name, out)
			}
			if len(out) == 0 {
				checkAbs(t, "screw_torque", name, "independent: balance square to the flank, M = F d/2 tan(ρ - λ)", n("lower"), want, 0.01*5*math.Tan(rho)+0.002*5)
			}
		}
	}
}

func TestShortShaft(t *testing.T) {
	a := given{"length": 0.2, "diameter": 0.01, "modulus": steel, "density": 7850.0, "ends": "fixed-fixed"}
	if _, out := numbers(t, "screw_whirl", a); len(out) > 0 {
		t.Errorf("20 diameters: %v", out)
	}
	found(t, "screw_whirl", "length", a.with("length", 0.099))
	// Elements of Timoshenko's beam, 40 of them, consistent mass, shear 0.886.
	for _, c := range []struct {
		ends string
		want float64 // Hz
	}{{"pinned-pinned", 501.78598}, {"fixed-pinned", 780.79707}, {"fixed-fixed", 1127.34344}, {"fixed-free", 178.97294}} {
		n, _ := numbers(t, "screw_whirl", a.with("ends", c.ends))
		check(t, "screw_whirl", "20 diameters "+c.ends, "independent: 40 elements of a beam with shear (computed)", n("frequency"), c.want, 0.012)
	}
}

func TestLeadErrorOfTravel(t *testing.T) {
	a := given{"variation": 12e-6, "travel": 0.9, "expansion": 12e-6, "rise": 0.0}
	n, _ := numbers(t, "lead_error", a)
	check(t, "lead_error", "900 mm of grade P3, cumulated", "a maker's page on lead error: 3 × 300 mm × 12 µm, were it cumulated, are 36 µm (seen)", n("accuracy"), 36e-6, 1e-9)
	n, _ = numbers(t, "lead_error", a.with("multiple", 2.0, "variation", 52e-6, "travel", 0.3))
	check(t, "lead_error", "300 mm of grade T7", "ISO 3408-3: e_p = 2 l_u/300 mm v300p for transport screws (half of it seen as a maker's improved value, yumpu.com 16321794)", n("accuracy"), 104e-6, 1e-9)
	refused(t, "lead_error", "multiple", a.with("multiple", 0.5))
}

func TestLagOfSlab(t *testing.T) {
	// First terms of the exact series of a slab: after time and film_time
	// together its far side has taken most of the change.
	for _, biot := range []float64{0.01, 0.1, 1, 10, 1000} {
		n, _ := numbers(t, "heat_lag", given{"thickness": 0.05, "conductivity": 0.1, "density": 460.0, "specific_heat": 2174.0, "h": biot * 2})
		near(t, "Biot number", n("biot"), biot, 1e-12)
		fourier := (n("time") + n("film_time")) / n("time")
		left := 0.0
		for k := range 40 { // roots of z tan z = Bi
			lo, hi := float64(k)*math.Pi, float64(k)*math.Pi+math.Pi/2
			for range 200 {
				if mid := (lo + hi) / 2; mid*math.Tan(mid) < biot {
					lo = mid
				} else {
					hi = mid
				}
			}
			z := lo
			left += 4 * math.Sin(z) / (2*z + math.Sin(2*z)) * math.Exp(-z*z*fourier)
		}
		if left > 0.37 || left < 0 {
			t.Errorf("Biot number %g: %g of the change are left", biot, left)
		}
	}
}

func TestBeyondTheRange(t *testing.T) {
	for _, c := range []struct {
		model, arg string
		args       given
	}{
		{"thread_engagement", "engagement", given{"size": "M5", "property_class": "8.8", "engagement": 0.0126, "shear_strength": 200e6, "tapped": "steel"}},
		{"thread_engagement", "engagement", given{"size": "M5", "property_class": "8.8", "engagement": 0.0126, "shear_strength": 150e6, "tapped": "aluminium"}},
		{"gap_leak", "pressure", given{"perimeter": 1.0, "gap": 20e-6, "depth": 0.02, "pressure": 6000.0, "viscosity": 1.8e-5, "density": 1.2}},
		{"gap_leak", "gap", given{"perimeter": 1.0, "gap": 5e-6, "depth": 0.02, "pressure": 60.0, "viscosity": 1.8e-5, "density": 1.2}},
		{"steinhart_hart", "resistance", given{"a": 1.009249522e-3, "b": 2.378405444e-4, "c": 2.019202697e-7, "resistance": 10.0}},
		{"racking_force", "drive_offset", given{"spacing": 0.05, "friction": 0.25, "drive_offset": 0.2, "resistance": 10.0, "resistance_offset": 0.5}},
		{"rotary_bearing_life", "loads", given{"dynamic_rating": 1000.0, "loads": []float64{10, 600}, "speeds": 10.0, "shares": []float64{0.999, 0.001}, "elements": "balls"}},
		{"laser_energy", "power", given(with(sinter, "absorptance", 0.5, "power", 60.0))},
	} {
		found(t, c.model, c.arg, c.args)
	}
	if _, out := numbers(t, "laser_energy", given(with(sinter, "absorptance", 0.3))); len(out) > 0 {
		t.Errorf("the literature's range is that of the energy sent, whatever the absorptance: %v", out)
	}
	if _, out := numbers(t, "thread_engagement", given{"size": "M5", "property_class": "8.8", "engagement": 0.01, "shear_strength": 150e6, "tapped": "aluminium"}); len(out) > 0 {
		t.Errorf("2 d in aluminium are the rule: %v", out)
	}
	liquid := given{"perimeter": 1.0, "gap": 5e-6, "depth": 0.02, "pressure": 60000.0, "viscosity": 0.05, "density": 900.0}
	if _, out := numbers(t, "gap_leak", liquid); len(out) > 0 {
		t.Errorf("oil neither expands nor slips: %v", out)
	}
	refused(t, "steinhart_hart", "b", given{"a": 1e-3, "b": -2e-4, "c": 0.0, "resistance": 1.0 / 1000 * 1e3})
	refused(t, "voltage_drop", "current", given{"length": 100.0, "current": 100.0, "per_length": 0.04, "reactance": 0.0, "power_factor": 1.0, "system": "single-phase", "voltage": 230.0})
	refused(t, "scan_time", "width", given{"area": .002, "width": 0.0, "hatch": .2e-3, "speed": 2.0, "turn_time": .001, "contour": .4, "contour_speed": 1.0, "recoat": 12.0, "layers": 600.0})
}

func TestLongWaves(t *testing.T) {
	// Rayleigh and Jeans: beyond nearly all of the spectrum the radiance goes
	// with the temperature, 15/π⁴ (x₁³ - x₂³)/3 of the whole.
	n, _ := numbers(t, "blackbody_band", given{"temperature": 400.0, "short": 0.2777803815192732, "long": 0.2981814756057085})
	xs, xl := secondRadiation/(400*0.2777803815192732), secondRadiation/(400*0.2981814756057085)
	check(t, "blackbody_band", "0.28 to 0.30 m", "Rayleigh's and Jeans's law for long waves (derived)", n("fraction"), 15/math.Pow(math.Pi, 4)*(xs*xs*xs-xl*xl*xl)/3, 1e-4)
	last := math.Inf(1)
	for set := 0.9; set < 1; set += 0.001 {
		r, _ := numbers(t, "infrared_error", given{"temperature": 400.0, "emissivity": .265, "emissivity_set": set, "reflected": 300.0, "band_short": 0.2777803815192732, "band_long": 0.2981814756057085})
		if r("reading") >= last {
			t.Errorf("emissivity %g: the reading does not fall", set)
		}
		last = r("reading")
	}
}
