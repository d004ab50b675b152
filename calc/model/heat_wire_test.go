package model

import (
	"math"
	"testing"
)

func TestWireConvection(t *testing.T) {
	const incropera = "Incropera et al., 6th ed., example 9.4: pipe of 0.1 m, 165 °C in air of 23 °C, emissivity 0.85 (recomputed companion, seen; table and formula of air differ by 1 %)"
	w := Wire{Diameter: .1, Emissivity: .85, Ambient: 296.15}
	conv, rad := w.Loss(438.15)
	check(t, "heated_wire", "pipe, heat", incropera, conv+rad, 763, 0.01)
	check(t, "heated_wire", "pipe, radiation", incropera, rad, 441, 0.003)
	const cengel = "Cengel, Heat and Mass Transfer, 5th ed., example 9-1: pipe of 8 cm and 6 m, 70 °C in air of 20 °C (seen)"
	check(t, "heated_wire", "Cengel, coefficient", cengel, CylinderConvection(.08, 343.15, 293.15), 5.867, 0.02)
	c, _ := Wire{Diameter: .08, Ambient: 293.15}.Loss(343.15)
	check(t, "heated_wire", "Cengel, convection", cengel, 6*c, 442, 0.02)
	const air = "Incropera et al., table A.4, air, as in open programs (seen)"
	for _, p := range [][2]float64{{250, .0223}, {300, .0263}, {350, .0300}, {400, .0338}, {500, .0407}, {600, .0469}, {700, .0524}, {800, .0573}} {
		check(t, "heated_wire", "air at "+show(p[0], "K"), air, AirConductivity(p[0]), p[1], 0.03)
	}
}

func TestAirOfAtmosphere(t *testing.T) {
	const library = "fluids 1.0.22, U.S. Standard Atmosphere 1976 (reference library)"
	for _, p := range [][3]float64{
		{250, .02227003207853601, 1.599126258506346e-5}, {300, .026252000780938648, 1.8460015185931457e-5},
		{400, .033657148617592114, 2.2852664576802505e-5}, {600, .04661526037942234, 3.0163480109610423e-5},
	} {
		check(t, "heated_wire", "conductivity of air at "+show(p[0], "K"), library, AirConductivity(p[0]), p[1], 1e-12)
		nu := p[2] * 287.05 * p[0] / 101325
		check(t, "wall_near_heat", "Rayleigh number at "+show(p[0], "K"), library+", Prandtl number 0.70", GapRayleigh(p[0]+1, p[0]-1, .01), 9.80665/p[0]*2*1e-6*.70/(nu*nu), 1e-12)
	}
}

func TestHeatedWire(t *testing.T) {
	base := given{"current": 3.0, "diameter": .5e-3, "length": .6, "resistivity": 1.09e-6, "resistivity_slope": 1e-4, "emissivity": .8, "ambient": 293.15}
	n, out := numbers(t, "heated_wire", base)
	if len(out) != 0 {
		t.Error(out)
	}
	// the balance by itself, stepping the temperature up until the loss exceeds the power
	T := 293.15
	for step := 64.0; step > 1e-10; {
		next := T + step
		loss := math.Pi * .5e-3 * (CylinderConvection(.5e-3, next, 293.15)*(next-293.15) + .8*stefanBoltzmann*(math.Pow(next, 4)-math.Pow(293.15, 4)))
		if loss > 9*1.09e-6*(1+1e-4*(next-293.15))/(math.Pi*.25e-3*.25e-3) {
			step /= 2
			continue
		}
		T = next
	}
	check(t, "heated_wire", "stepping", "independent: the temperature raised in steps until the loss exceeds the power", n("temperature"), T, 1e-9)
	check(t, "heated_wire", "cold", "by hand: 1.09e-6 ohm m, 0.6 m, 0.19635 mm2 (derived)", n("cold_resistance"), 3.330789, 5e-6)
	near(t, "power", n("power"), n("voltage")*3, 1e-12)
	if got := n("temperature") - zeroCelsius; got < 300 || got > 700 {
		t.Errorf("3 A through 0.5 mm: %g °C", got) // tables of such wire give about this
	}
	// hotter with current, cooler if thicker, nearly all radiated when thick and hot
	last := 0.0
	for _, i := range []float64{.1, .5, 1, 2, 3, 4} {
		n, _ := numbers(t, "heated_wire", base.with("current", i))
		if n("temperature") <= last {
			t.Errorf("%g A: no hotter", i)
		}
		last = n("temperature")
	}
	thick, _ := numbers(t, "heated_wire", base.with("diameter", .8e-3))
	if thick("temperature") >= n("temperature") {
		t.Error("a thicker wire is no cooler")
	}
	short, _ := numbers(t, "heated_wire", base.with("length", .3))
	near(t, "half the length", short("voltage"), n("voltage")/2, 1e-12)
	near(t, "the same temperature", short("temperature"), n("temperature"), 1e-12)
	if _, out := numbers(t, "heated_wire", base.with("current", 20.0)); len(out) == 0 || out[0].Arg != "current" {
		t.Errorf("20 A melt it: %v", out)
	}
	for _, bad := range []string{"current", "diameter", "length", "resistivity", "emissivity"} {
		refused(t, "heated_wire", bad, base.with(bad, -1.0))
	}
}
