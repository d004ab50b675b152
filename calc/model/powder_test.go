package model

import (
	"fmt"
	"math"
	"testing"
)

func TestRoundedChamber(t *testing.T) {
	a := map[string]any{"width": .22, "depth": .16, "corner_radius": .014, "height": .2}
	o := called(t, "rounded_chamber", a)
	check(t, "rounded_chamber", "RD3", "Machinery's Handbook: four corners of radius r lack 0.858 r^2 (from memory)", (.22*.16-value(t, o, "area"))/(.014*.014), .858, 2e-3)
	// the area by adding up strips
	strip := 2 * integrate(t, func(y float64) float64 {
		w := .22
		if d := y - (.08 - .014); d > 0 {
			w -= 2 * (.014 - math.Sqrt(max(.014*.014-d*d, 0)))
		}
		return w
	}, 0, .08, 1e-9)
	check(t, "rounded_chamber", "strips", "quadrature over the width (independent recomputation)", value(t, o, "area"), strip, 1e-8)
	near(t, "volume", value(t, o, "volume"), strip*.2, 1e-8)
	o = called(t, "rounded_chamber", map[string]any{"width": 1.0, "depth": 1.0, "corner_radius": .5, "height": 2.0})
	check(t, "rounded_chamber", "round", "a circle of 1 m (exact)", value(t, o, "area"), math.Pi/4, 1e-14)
	check(t, "rounded_chamber", "girth", "a circle of 1 m (exact)", value(t, o, "perimeter"), math.Pi, 1e-14)
	near(t, "wall", value(t, o, "wall"), 2*math.Pi, 1e-14)
	refused(t, "rounded_chamber", "corner_radius", with(a, "corner_radius", .081))
	refused(t, "rounded_chamber", "corner_radius", with(a, "corner_radius", -.001))
	refused(t, "rounded_chamber", "height", with(a, "height", 0.0))
}

func TestPowderFlow(t *testing.T) {
	o := called(t, "powder_flow", map[string]any{"bulk": 370.0, "tapped": 455.0})
	check(t, "powder_flow", "RD1", "Powders 4 (2025) 26, mdpi.com/2674-0516/4/3/26 (seen)", value(t, o, "hausner"), 1.230, 5e-4)
	for i, c := range []struct{ hr, ci float64 }{{1.11, 10}, {1.18, 15}, {1.25, 20}, {1.34, 25}, {1.45, 31}, {1.59, 37}} {
		o := called(t, "powder_flow", map[string]any{"bulk": 1.0, "tapped": c.hr})
		checkAbs(t, "powder_flow", fmt.Sprintf("RD2 %g", c.hr), "USP <1174> scale (seen in a reprint)", 100*value(t, o, "carr"), c.ci, 0.5)
		if got := value(t, o, "class"); got != float64(i+1) {
			t.Errorf("Hausner %g: class %g, want %d", c.hr, got, i+1)
		}
		near(t, "1 - 1/HR", value(t, o, "carr"), 1-1/value(t, o, "hausner"), 1e-14)
	}
	if c := value(t, called(t, "powder_flow", map[string]any{"bulk": 1.0, "tapped": 1.61}), "class"); c != 7 {
		t.Errorf("class %g", c)
	}
	refused(t, "powder_flow", "tapped", map[string]any{"bulk": 500.0, "tapped": 450.0})
	refused(t, "powder_flow", "bulk", map[string]any{"bulk": 0.0, "tapped": 450.0})
}

func TestPowderFill(t *testing.T) {
	a := map[string]any{"volume": .005, "bulk": 460.0, "tapped": 530.0}
	o := called(t, "powder_fill", a)
	const by = "by hand: 5 L of 0.46 and 0.53 g/cm3 (derived)"
	check(t, "powder_fill", "mass", by, value(t, o, "mass"), 2.3, 1e-12)
	check(t, "powder_fill", "tapped", by, value(t, o, "mass_tapped"), 2.65, 1e-12)
	check(t, "powder_fill", "weight", by, value(t, o, "weight"), 2.65*9.80665, 1e-12)
	check(t, "powder_fill", "settling", by, value(t, o, "settling"), 7./53, 1e-12)
	refused(t, "powder_fill", "tapped", with(a, "tapped", 400.0))
	found(t, "powder_fill", "bulk", with(a, "bulk", 50.0))
}

func TestPowderLayers(t *testing.T) {
	a := map[string]any{"part_height": .012, "layer": .0001, "base": .005, "cover": .00325}
	o := called(t, "powder_layers", a)
	const by = "by hand: 12, 5 and 3.25 mm in layers of 0.1 mm (derived)"
	check(t, "powder_layers", "parts", by, value(t, o, "part_layers"), 120, 0)
	check(t, "powder_layers", "all", by, value(t, o, "layers"), 203, 0)
	check(t, "powder_layers", "depth", by, value(t, o, "build_depth"), .0203, 1e-12)
	// every height of whole layers, whatever the binary rounding
	for n := 1; n < 3000; n++ {
		if got := wholeLayers(float64(n)*1e-4, 1e-4); got != float64(n) {
			t.Fatalf("%d layers: %g", n, got)
		}
		if got := wholeLayers((float64(n)+.01)*1e-4, 1e-4); got != float64(n+1) {
			t.Fatalf("%d layers and a bit: %g", n, got)
		}
	}
	refused(t, "powder_layers", "layer", with(a, "layer", 0.0))
	refused(t, "powder_layers", "base", with(a, "base", -1.0))
	found(t, "powder_layers", "layer", with(a, "layer", 1e-3))
}

func TestPowderUse(t *testing.T) {
	a := map[string]any{"build_area": .035, "reservoir_area": .04, "layer": .0001, "layers": 1000.0, "overdose": 1.6, "reserve": .1,
		"reservoir_depth": .2, "overflow_capacity": .002, "bulk": 460.0}
	o := called(t, "powder_use", a)
	const by = "by hand: 350 cm2, 1000 layers of 0.1 mm, 1.6 times the powder (derived)"
	for name, want := range map[string]float64{
		"per_layer": 3.5e-6, "fed": 5.6e-3, "fed_mass": 2.576, "overflow": 2.1e-3, "overflow_mass": .966, "overflow_spare": -1e-4,
		"feed_step": .00014, "depth_needed": .154, "depth_spare": .046, "ratio": 1.4,
	} {
		check(t, "powder_use", name, by, value(t, o, name), want, 1e-9)
	}
	// what is fed is built or overflows
	check(t, "powder_use", "conserved", "conservation of volume", value(t, o, "fed"), value(t, o, "per_layer")*1000+value(t, o, "overflow"), 1e-12)
	refused(t, "powder_use", "overdose", with(a, "overdose", .9))
	refused(t, "powder_use", "layers", with(a, "layers", 0.0))
	refused(t, "powder_use", "overflow_capacity", with(a, "overflow_capacity", nil))
	found(t, "powder_use", "reserve", with(a, "reserve", .05))
	found(t, "powder_use", "overdose", with(a, "overdose", 4.0))
}

func TestPowderRefresh(t *testing.T) {
	a := map[string]any{"virgin": .3, "builds": 5.0, "mix": 4.0}
	o := called(t, "powder_refresh", a)
	// the stock built up build by build
	ages := []float64{1} // share of each age
	for range 400 {
		next := make([]float64, len(ages)+1)
		next[0] = .3
		for i, s := range ages {
			next[i+1] = .7 * s
		}
		ages = next
	}
	mean := 0.0
	for i, s := range ages {
		mean += float64(i) * s
	}
	check(t, "powder_refresh", "mean age", "stock followed through 400 builds (independent recomputation)", value(t, o, "mean_age"), mean, 1e-9)
	check(t, "powder_refresh", "never replaced", "0.7^5 by hand (derived)", value(t, o, "never_replaced"), .16807, 1e-12)
	near(t, "mix", value(t, o, "virgin_mass")+value(t, o, "used_mass"), 4, 1e-15)
	refused(t, "powder_refresh", "virgin", with(a, "virgin", 0.0))
	found(t, "powder_refresh", "virgin", with(a, "virgin", .1))
	if v := value(t, called(t, "powder_refresh", with(a, "virgin", 1.0, "builds", 0.0)), "never_replaced"); v != 1 {
		t.Errorf("before the first build %g of the first stock is left", v)
	}
}

func TestPowderGap(t *testing.T) {
	a := map[string]any{"gap": 100e-6, "d10": 40e-6, "d90": 85e-6, "outer_length": .11, "outer_expansion": 17e-6, "inner_expansion": 23e-6, "outer_rise": 100.0, "inner_rise": 120.0}
	o := called(t, "powder_gap", a)
	const by = "by hand: 187.0 um outwards, 303.3 um inwards (derived)"
	checkAbs(t, "powder_gap", "hot", by, value(t, o, "hot_gap"), 100e-6+187e-6-303.324e-6, 1e-12)
	check(t, "powder_gap", "sieve", by, value(t, o, "sieve_ratio"), 2.5, 1e-12)
	for gap, want := range map[float64]float64{30e-6: 1, 100e-6: 2, 300e-6: 3} {
		if c := value(t, called(t, "powder_gap", with(a, "gap", gap)), "class"); c != want {
			t.Errorf("gap %g: class %g, want %g", gap, c, want)
		}
	}
	refused(t, "powder_gap", "d90", with(a, "d90", 30e-6))
	refused(t, "powder_gap", "gap", with(a, "gap", .2))
}

func TestDust(t *testing.T) {
	a := map[string]any{"layer": .001, "bulk": 500.0, "cloud_height": 5.0, "explosive_from": .03}
	const eckhoff = "Eckhoff, Dust Explosions in the Process Industries, ch. 1: 1 mm of 500 kg/m3 (from memory)"
	check(t, "dust_concentration", "RD4 5 m", "iab-ingenieurs.nl, dust explosion: 1 mm of 500 kg/m3 under 5 m gives 100 g/m3 (seen)", value(t, called(t, "dust_concentration", a), "concentration"), .1, 1e-9)
	check(t, "dust_concentration", "RD4 1 m", eckhoff, value(t, called(t, "dust_concentration", with(a, "cloud_height", 1.0)), "concentration"), .5, 1e-9)
	o := called(t, "dust_concentration", a)
	back := called(t, "dust_concentration", with(a, "layer", value(t, o, "layer_allowed")))
	near(t, "a quarter", value(t, back, "share"), .25, 1e-12)
	refused(t, "dust_concentration", "explosive_from", with(a, "explosive_from", 0.0))
}
