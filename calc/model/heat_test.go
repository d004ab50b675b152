package model

import (
	"math"
	"testing"
)

func TestPlates(t *testing.T) {
	a := map[string]any{"hot": 800.0, "cold": 500.0, "hot_emissivity": .2, "cold_emissivity": .7, "shields": 0.0}
	flux := func(change ...any) float64 {
		return value(t, called(t, "plate_radiation", with(a, change...)), "flux")
	}
	checkAbs(t, "plate_radiation", "RF1", "Cengel, Heat and Mass Transfer, 5th ed., example 13-7 (seen)", flux(), 3625, 0.75)
	checkAbs(t, "plate_radiation", "RF2", "Cengel, Heat and Mass Transfer, 5th ed., example 13-11 (seen)", flux("shields", 1.0, "shield_emissivity", .1), 806, 0.5)
	const page = "published solution, answer.ya.guru 10269097 (seen; sigma 5.67e-8 there, 7e-5 less)"
	check(t, "plate_radiation", "RF3", page, flux("hot", 900.0, "cold", 300.0, "hot_emissivity", .3), 9766.75, 7e-5)
	check(t, "plate_radiation", "RF3 shield", page, flux("hot", 900.0, "cold", 300.0, "hot_emissivity", .3, "shields", 1.0, "shield_emissivity", .15), 2282.76, 7e-5)
	near(t, "reversed", flux("hot", 500.0, "cold", 800.0, "hot_emissivity", .7, "cold_emissivity", .2), -flux(), 1e-12)
	near(t, "black", flux("hot_emissivity", 1.0, "cold_emissivity", 1.0), stefanBoltzmann*(math.Pow(800, 4)-math.Pow(500, 4)), 1e-12)
	// the slope against a difference
	near(t, "coefficient", value(t, called(t, "plate_radiation", a), "coefficient"), (flux("hot", 800.1)-flux("hot", 799.9))/.2, 1e-6)
	refused(t, "plate_radiation", "shield_emissivity", with(a, "shields", 1.0))
	refused(t, "plate_radiation", "shields", with(a, "shields", 1.5, "shield_emissivity", .1))
	refused(t, "plate_radiation", "cold_emissivity", with(a, "cold_emissivity", 0.0))
	found(t, "plate_radiation", "shield_emissivity", with(a, "shields", 1.0, "shield_emissivity", .5))
}

func TestBand(t *testing.T) {
	const kreith = "Kreith, Manglik & Bohn, Principles of Heat Transfer, 7th ed., example 9.6, table 9.1 (seen)"
	band := func(T, short, long float64) float64 {
		return value(t, called(t, "blackbody_band", map[string]any{"temperature": T, "short": short, "long": long}), "fraction")
	}
	checkAbs(t, "blackbody_band", "RB5 2000 um K", kreith, band(1000, 0, 2e-6), .0667, 5e-5)
	checkAbs(t, "blackbody_band", "RB5 4000 um K", kreith, band(2000, 0, 2e-6), .4809, 5e-5)
	checkAbs(t, "blackbody_band", "RB6", "Holman, Heat Transfer, example 8.1 (seen)", band(7955.5, 0, 1e-6), .85443, 5e-5)
	// against Planck's law by quadrature, on both sides of the change of series
	for _, x := range []float64{20, 5, 1, .51, .5, .49, .1, .01} {
		lambdaT := secondRadiation / x
		want := 15 / math.Pow(math.Pi, 4) * integrate(t, func(u float64) float64 { // u = x/(1+...): 0 to 1 over x to infinity
			v := x + u/(1-u)
			return v * v * v / math.Expm1(v) / ((1 - u) * (1 - u))
		}, 0, 1-1e-3, 1e-12) // the rest is e^-1000
		check(t, "blackbody_band", "quadrature x "+show(x, "1"), "quadrature of Planck's law (independent recomputation)", BandFraction(lambdaT/1000, 1000), want, 1e-10)
	}
	near(t, "parts", band(1200, 0, 4e-6), band(1200, 0, 1.5e-6)+band(1200, 1.5e-6, 4e-6), 1e-14)
	checkAbs(t, "blackbody_band", "everything", "the whole (exact)", band(2000, 0, 1), 1, 1e-9)
	check(t, "blackbody_band", "wien", "Wien's displacement constant, CODATA 2018, as in scipy 1.10.1 (seen)", 1000*value(t, called(t, "blackbody_band", map[string]any{"temperature": 1000.0, "short": 0.0, "long": 1e-6}), "peak"), 2897.771955e-6, 1e-9)
	refused(t, "blackbody_band", "long", map[string]any{"temperature": 1000.0, "short": 2e-6, "long": 1e-6})
	refused(t, "blackbody_band", "temperature", map[string]any{"temperature": 0.0, "short": 0.0, "long": 1e-6})
}

func TestWallLoss(t *testing.T) {
	glass := map[string]any{"thickness": .008, "conductivity": .78, "area": 1.2, "inside": 293.15, "outside": 263.15, "h_inside": 10.0, "h_outside": 40.0}
	o := called(t, "wall_loss", glass)
	const c2 = "Cengel, Heat and Mass Transfer, 5th ed., example 3-2 (seen)"
	check(t, "wall_loss", "RF4 R", c2, value(t, o, "resistance"), .1127, 1e-3)
	check(t, "wall_loss", "RF4 Q", c2, value(t, o, "flow"), 266, 1e-3)
	checkAbs(t, "wall_loss", "RF4 face", c2, value(t, o, "inner_face")-273.15, -2.2, 0.05)
	o = called(t, "wall_loss", with(glass, "thickness", []float64{.004, .010, .004}, "conductivity", []float64{.78, .026, .78}))
	const c3 = "Cengel, Heat and Mass Transfer, 5th ed., example 3-3 (seen)"
	check(t, "wall_loss", "RF5 R", c3, value(t, o, "resistance"), .4332, 1e-3)
	check(t, "wall_loss", "RF5 Q", c3, value(t, o, "flow"), 69.2, 1e-3)
	checkAbs(t, "wall_loss", "RF5 face", c3, value(t, o, "inner_face")-273.15, 14.2, 0.05)
	const inc = "Incropera et al., problem 1.9, published solution (seen)"
	bare := map[string]any{"thickness": .010, "conductivity": .024, "area": 2.0, "inside": 298.15, "outside": 273.15}
	check(t, "wall_loss", "RF6 air", inc, value(t, called(t, "wall_loss", bare), "flow"), 120, 1e-12)
	check(t, "wall_loss", "RF6 glass", inc, value(t, called(t, "wall_loss", with(bare, "thickness", .005, "conductivity", 1.4, "inside", 308.15)), "flow"), 19600, 1e-12)
	o = called(t, "wall_loss", bare)
	if value(t, o, "inner_face") != 298.15 || value(t, o, "outer_face") != 273.15 {
		t.Error("without films the faces are the given temperatures")
	}
	refused(t, "wall_loss", "thickness", with(glass, "thickness", []float64{.004, .010}, "conductivity", []float64{1, 1, 1}))
	refused(t, "wall_loss", "conductivity", with(glass, "conductivity", 0.0))
}

var nearHeat = map[string]any{
	"gap": .010, "hot": 443.15, "hot_emissivity": .9, "wall_emissivity": .9, "air_conductivity": .034, "wall_thickness": .004, "wall_conductivity": .2,
	"h_outside": 8.0, "ambient": 296.15, "deflection": 363.15,
}

func TestWallNearHeat(t *testing.T) {
	o := called(t, "wall_near_heat", nearHeat)
	inner, outer, flux := value(t, o, "inner"), value(t, o, "outer"), value(t, o, "flux")
	// every layer carries the same heat: the gap by Cengel's plates and Fourier's law
	gap := .034/.010*(443.15-inner) + value(t, called(t, "plate_radiation", map[string]any{"hot": 443.15, "cold": inner, "hot_emissivity": .9, "cold_emissivity": .9, "shields": 0.0}), "flux")
	const by = "the same heat through each layer, with the models checked against Cengel (independent recomputation)"
	check(t, "wall_near_heat", "gap", by, gap, flux, 1e-10)
	check(t, "wall_near_heat", "wall", by, .2/.004*(inner-outer), flux, 1e-10)
	check(t, "wall_near_heat", "room", by, 8*(outer-296.15), flux, 1e-10)
	near(t, "margin", value(t, o, "margin"), 363.15-inner, 1e-12)

	s := with(nearHeat, "gap", .005, "shield_gap", .005, "shield_emissivity", .1)
	o2 := called(t, "wall_behind_shield", s)
	sheet, in2 := value(t, o2, "shield"), value(t, o2, "inner")
	check(t, "wall_behind_shield", "first gap", by, gapFlux(443.15, sheet, .9, .1, .005, .034), value(t, o2, "flux"), 1e-10)
	check(t, "wall_behind_shield", "second gap", by, gapFlux(sheet, in2, .1, .9, .005, .034), value(t, o2, "flux"), 1e-10)
	if !(in2 < inner && in2 < sheet && sheet < 443.15) {
		t.Errorf("wall %g K bare, %g K behind a sheet of %g K", inner, in2, sheet)
	}
	// in a vacuum the sheet works as Cengel's formula says
	vac := called(t, "wall_behind_shield", with(s, "air_conductivity", 1e-12))
	check(t, "wall_behind_shield", "vacuum", "Cengel's formula for a shield, example 13-11 (seen)", value(t, vac, "flux"), PlateRadiation(443.15, value(t, vac, "inner"), .9, .9, 1, .1), 1e-8)

	checkAbs(t, "wall_near_heat", "Rayleigh", "reference table: 10 mm of air at 170/120 °C has a Rayleigh number of about 1100 (computed)", GapRayleigh(443.15, 393.15, .01), 1100, 60)
	check(t, "wall_near_heat", "Rayleigh 300 K", "Incropera et al., table A.4: air at 300 K, nu 15.89e-6, a 22.5e-6 m2/s, as in open programs (seen)", GapRayleigh(301, 299, .02), 9.80665/300*2*8e-6/(15.89e-6*22.5e-6), 0.03)
	found(t, "wall_near_heat", "gap", with(nearHeat, "gap", .03))
	found(t, "wall_behind_shield", "shield_emissivity", with(s, "shield_emissivity", .3))
	// nothing flows between equals; cold outside in, heat flows in
	o = called(t, "wall_near_heat", with(nearHeat, "hot", 296.15))
	if value(t, o, "inner") != 296.15 || value(t, o, "flux") != 0 {
		t.Error("heat flows between equals")
	}
	if f := value(t, called(t, "wall_near_heat", with(nearHeat, "hot", 250.0)), "flux"); f >= 0 {
		t.Errorf("flux %g from the cold side", f)
	}
	refused(t, "wall_near_heat", "gap", with(nearHeat, "gap", 0.0))
	refused(t, "wall_near_heat", "hot", with(nearHeat, "hot", -10.0))
	refused(t, "wall_behind_shield", "shield_gap", with(s, "shield_gap", nil))
	for arg, v := range map[string]float64{"hot": 453.15, "ambient": 303.15, "wall_thickness": .006, "hot_emissivity": .95} {
		if value(t, called(t, "wall_near_heat", with(nearHeat, arg, v)), "inner") <= inner {
			t.Errorf("a higher %s must make the wall hotter", arg)
		}
	}
}

func TestWarmUp(t *testing.T) {
	// a sphere in a stream, as a body of heat capacity C and loss G
	sphere := func(rho, c, h, d float64) (C, G float64) {
		return rho * c * math.Pi * d * d * d / 6, h * math.Pi * d * d
	}
	C, G := sphere(8500, 320, 210, .001)
	o := called(t, "warm_up", map[string]any{"heat_capacity": C, "loss": G, "power": G * 100, "set_point": 399.0, "ambient": 300.0})
	check(t, "warm_up", "RB10", "Cengel, Heat and Mass Transfer, 5th ed., example 4-1 (seen)", value(t, o, "time"), 10, 0.01)
	lag := called(t, "heat_lag", map[string]any{"thickness": .001 / 6, "conductivity": 35.0, "density": 8500.0, "specific_heat": 320.0, "h": 210.0})
	check(t, "heat_lag", "RB10 Biot", "Cengel, Heat and Mass Transfer, 5th ed., example 4-1 (seen)", value(t, lag, "biot"), .001, 0.01)
	// time constant of 1 s fixes the sphere of RB11
	d := 6 * 400 / (8500 * 400.)
	check(t, "warm_up", "RB11 D", "Incropera et al., 6th ed., example 5.1 (recomputed companion, seen)", d, .706e-3, 5e-3)
	C, G = sphere(8500, 400, 400, d)
	near(t, "time constant", C/G, 1, 1e-12)
	o = called(t, "warm_up", map[string]any{"heat_capacity": C, "loss": G, "power": G * 175, "set_point": 199 + 273.15, "ambient": 25 + 273.15})
	checkAbs(t, "warm_up", "RB11 t", "Incropera et al., 6th ed., example 5.1 (recomputed companion, seen)", value(t, o, "time"), 5.2, 0.05)
	// powder: the reference says about 7 h for 50 mm
	lag = called(t, "heat_lag", map[string]any{"thickness": .05, "conductivity": .1, "density": 460.0, "specific_heat": 2174.0, "h": 20.0})
	check(t, "heat_lag", "powder", "reference table: 50 mm of powder of 1e-7 m2/s take about 7 h (computed)", value(t, lag, "time")/3600, 7, 0.02)

	a := map[string]any{"heat_capacity": 5000.0, "loss": 3.0, "power": 900.0, "set_point": 443.15, "ambient": 293.15}
	o = called(t, "warm_up", a)
	// step by step
	T, n := 293.15, 0
	for ; T < 443.15; n++ {
		T += (900 - 3*(T-293.15)) / 5000 * .01
	}
	check(t, "warm_up", "steps", "Euler's method in steps of 10 ms (independent recomputation)", value(t, o, "time"), float64(n)*.01, 1e-4)
	if value(t, o, "time_lossless") >= value(t, o, "time") {
		t.Error("losses must cost time")
	}
	if v, err := WarmUp(5000, 0, 900, 150); err != nil || v != 5000*150/900. {
		t.Errorf("without loss: %g, %v", v, err)
	}
	refused(t, "warm_up", "loss", with(a, "loss", 0.0))
	near(t, "hardly any loss", value(t, called(t, "warm_up", with(a, "loss", 1e-9)), "time"), value(t, o, "time_lossless"), 1e-9)
	refused(t, "warm_up", "power", with(a, "power", 450.0))
	refused(t, "warm_up", "set_point", with(a, "set_point", 290.0))
	refused(t, "heat_lag", "thickness", map[string]any{"thickness": 0.0, "conductivity": 1.0, "density": 1.0, "specific_heat": 1.0, "h": 1.0})
}

func TestHeaterPower(t *testing.T) {
	a := map[string]any{"bed_area": .04, "bed_loss": 3000.0, "wall_loss": 50.0, "powder_rate": 1e-4, "specific_heat": 2000.0, "powder_rise": 100.0,
		"absorptance": .8, "radiant_efficiency": .85, "capture": .25, "installed": 1500.0}
	o := called(t, "heater_power", a)
	const by = "by hand: 120 W bed, 50 W walls, 20 W powder; 0.17 of the power arrives (derived)"
	check(t, "heater_power", "bed", by, value(t, o, "bed"), 120, 1e-12)
	check(t, "heater_power", "recoat", by, value(t, o, "recoat"), 20, 1e-12)
	check(t, "heater_power", "needed", by, value(t, o, "needed"), 190/.17, 1e-12)
	check(t, "heater_power", "ratio", by, value(t, o, "ratio"), 1500*.17/190, 1e-12)
	refused(t, "heater_power", "bed_loss", with(a, "bed_loss", 0.0, "wall_loss", 0.0, "powder_rate", 0.0))
	refused(t, "heater_power", "capture", with(a, "capture", 0.0))
}
