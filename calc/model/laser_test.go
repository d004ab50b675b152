package model

import (
	"math"
	"testing"
)

var sinter = map[string]any{"power": 10.0, "absorptance": .9, "speed": 2.0, "hatch": .2e-3, "layer": .1e-3, "spot": .4e-3, "bulk": 460.0, "specific_heat": 2500.0, "rise": 12.0, "melting_enthalpy": 100e3}

func TestLaserEnergy(t *testing.T) {
	o := called(t, "laser_energy", sinter)
	// RE3: whatever the beam, the lines add up to P/(v h)
	for _, w := range []float64{.1e-3, .2e-3, .5e-3} {
		mean := integrate(t, func(y float64) float64 {
			sum := 0.0
			for i := -30; i <= 30; i++ {
				sum += LineFluence(9, 2, w, y-float64(i)*.2e-3)
			}
			return sum
		}, 0, .2e-3, 1e-11) / .2e-3
		check(t, "laser_energy", "RE3 w "+show(w, "m"), "identity: hatch lines of a Gaussian beam average to P/(v h), by quadrature (independent recomputation)", value(t, o, "areal"), mean, 1e-9)
	}
	// a line's fluence is the power swept past
	all := integrate(t, func(y float64) float64 { return LineFluence(9, 2, .2e-3, y) }, -2e-3, 2e-3, 1e-11)
	check(t, "laser_energy", "line", "conservation of energy: P/v for each metre of a line", all, 4.5, 1e-9)
	const by = "by hand: 9 W over 2 m/s and 0.2 mm; 460 kg/m3 of 130 kJ/kg (derived)"
	check(t, "laser_energy", "areal", by, value(t, o, "areal"), 22500, 1e-12)
	check(t, "laser_energy", "volumetric", by, value(t, o, "volumetric"), 2.25e8, 1e-12)
	check(t, "laser_energy", "demand", by, value(t, o, "demand"), 5.98e7, 1e-12)
	near(t, "overlap", value(t, o, "overlap"), 2, 1e-12)
	near(t, "peak", value(t, o, "peak"), LineFluence(9, 2, .2e-3, 0), 1e-12)
	near(t, "ratio", value(t, o, "ratio"), 2.25e8/5.98e7, 1e-12)
	found(t, "laser_energy", "power", with(sinter, "power", 1.0))
	found(t, "laser_energy", "power", with(sinter, "power", 100.0))
	refused(t, "laser_energy", "melting_enthalpy", with(sinter, "rise", 0.0, "melting_enthalpy", 0.0))
	refused(t, "laser_energy", "speed", with(sinter, "speed", 0.0))
}

func TestLaserSpot(t *testing.T) {
	a := map[string]any{"wavelength": 1064e-9, "beam_quality": 1.0, "focal_length": .1, "beam_diameter": .01, "off_focus": 0.0}
	o := called(t, "laser_spot", a)
	const page = "public worked example on laser spot size (seen)"
	check(t, "laser_spot", "RE1 d0", page, value(t, o, "focus"), 13.5e-6, 5e-3)
	check(t, "laser_spot", "RE1 zR", page, value(t, o, "rayleigh_length"), 135e-6, 5e-3)
	if value(t, o, "spot") != value(t, o, "focus") {
		t.Error("in focus the spot is the focus")
	}
	zR := value(t, o, "rayleigh_length")
	check(t, "laser_spot", "root two", "definition of the Rayleigh length, ISO 11146-1 (from memory)", value(t, called(t, "laser_spot", with(a, "off_focus", -zR)), "spot")/value(t, o, "focus"), math.Sqrt2, 1e-12)
	// far off, the cone of the lens comes back: d = D z/f
	check(t, "laser_spot", "far", "geometrical optics, cone of the lens (derived)", value(t, called(t, "laser_spot", with(a, "off_focus", .1)), "spot"), .01, 1e-5)
	refused(t, "laser_spot", "beam_quality", with(a, "beam_quality", .9))
	found(t, "laser_spot", "focal_length", with(a, "focal_length", .03))
	found(t, "laser_spot", "wavelength", with(a, "wavelength", 1e-4))
}

func TestScanTime(t *testing.T) {
	a := map[string]any{"area": .002, "width": .05, "hatch": .2e-3, "speed": 2.0, "turn_time": .001, "contour": .4, "contour_speed": 1.0, "recoat": 12.0, "layers": 600.0}
	o := called(t, "scan_time", a)
	const by = "by hand: 20 cm2 in 250 lines of 0.2 mm at 2 m/s (derived)"
	for name, want := range map[string]float64{"lines": 250, "scan": 5 + .25 + .4, "per_layer": 17.65, "build": 10590, "share": 5 / 17.65} {
		check(t, "scan_time", name, by, value(t, o, name), want, 1e-12)
	}
	// line by line
	sum := 0.0
	for range 250 {
		sum += .002/.05/2 + .001
	}
	check(t, "scan_time", "lines added", "line by line (independent recomputation)", value(t, o, "scan"), sum+.4, 1e-9)
	refused(t, "scan_time", "area", with(a, "area", 0.0, "width", 0.0, "contour", 0.0, "recoat", 0.0))
	refused(t, "scan_time", "layers", with(a, "layers", .5))
}
