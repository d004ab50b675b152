package model

import (
	"math"
	"testing"
)

func TestEigenvalues(t *testing.T) {
	const table = "IIT Delhi virtual laboratory, free vibration of beams, theory (seen)"
	for _, c := range []struct {
		ends Ends
		want [3]float64
	}{
		{FixedFixed, [3]float64{4.7300, 7.8532, 10.9956}},
		{FixedFree, [3]float64{1.8751, 4.6940, 7.8547}}, // the table cuts 4.69409
		{FixedPinned, [3]float64{3.9266, 7.0685, 10.2101}},
	} {
		for i, want := range c.want {
			check(t, "blade_frequency", string(c.ends)+" λ"+show(float64(i+1), "1"), table, eigenvalues[c.ends][i], want, 3e-5)
		}
	}
	// They solve their equations; scaled, so that cosh does not drown the residue.
	for ends, f := range map[Ends]func(x float64) float64{
		PinnedPinned: math.Sin,
		FixedFixed:   func(x float64) float64 { return math.Cos(x) - 1/math.Cosh(x) },
		FreeFree:     func(x float64) float64 { return math.Cos(x) - 1/math.Cosh(x) },
		FixedFree:    func(x float64) float64 { return math.Cos(x) + 1/math.Cosh(x) },
		FixedPinned:  func(x float64) float64 { return math.Sin(x) - math.Cos(x)*math.Tanh(x) },
		PinnedFree:   func(x float64) float64 { return math.Sin(x) - math.Cos(x)*math.Tanh(x) },
	} {
		for i, x := range eigenvalues[ends] {
			if r := math.Abs(f(x)); r > 1e-13 {
				t.Errorf("%s mode %d: residue %g", ends, i+1, r)
			}
			if i > 0 && x <= eigenvalues[ends][i-1] {
				t.Errorf("%s: modes out of order", ends)
			}
		}
	}
}

func TestBladePublished(t *testing.T) {
	c := eigenvalues[FixedFree][0]
	check(t, "blade_frequency", "tuning fork, λ²", "tuning fork, encyclopedia after Han et al., J. Sound Vib. 225 (1999) 935 (seen)", c*c, 3.516015, 2e-7)
	// f = 0.162 t v/L² with v the speed of sound in the prong
	f := BeamFrequency(FixedFree, 1, 1./12, 1, 1)
	check(t, "blade_frequency", "tuning fork, rectangular prong", "oxnardfilmfest.com, calculation of a tuning fork (seen)", f, 0.162, 0.0005/0.162)
	// ASTM E1876 for a slender free bar: E = 0.9465 (m f²/b)(L³/t³)
	L, h, b, E, rho := 0.3, 0.004, 0.03, 210e9, 7850.0
	f = BeamFrequency(FreeFree, 1, E*b*h*h*h/12, rho*b*h, L)
	check(t, "blade_frequency", "free bar", "ASTM E1876, eq. 1, slender (from memory)", 0.9465*rho*b*h*L*f*f/b*math.Pow(L/h, 3), E, 0.0001)
	// One beam element with consistent mass overestimates: exactly by √(120)/π² and √(2520)/(4 π²).
	w1 := 2 * math.Pi * BeamFrequency(PinnedPinned, 1, 210e9*0.185*1e-3/12, 7850*0.0185, 3)
	w2 := 2 * math.Pi * BeamFrequency(PinnedPinned, 2, 210e9*0.185*1e-3/12, 7850*0.0185, 3)
	const element = "one beam element, transtutors 13366224 (seen), less the known excess of a single element"
	check(t, "blade_frequency", "simply supported, first mode", element, w1, 181.7*math.Pi*math.Pi/math.Sqrt(120), 0.0003)
	check(t, "blade_frequency", "simply supported, second mode", element, w2, 832.8*4*math.Pi*math.Pi/math.Sqrt(2520), 0.0003)
}

// TestBladeByRayleigh bounds the first frequency from above by the energy of a
// trial shape: the deflection under a uniform load.
func TestBladeByRayleigh(t *testing.T) {
	for _, ends := range beamEnds {
		const L, B, m, n = 0.25, 30.0, 0.4, 20000
		b := Beam{Length: L, Stiffness: B, Ends: ends, Uniform: 1}
		var strain, kinetic float64
		for i := range n {
			x := L * (float64(i) + 0.5) / n
			M, w := b.Moment(x), b.Deflection(x)
			strain += M * M / B
			kinetic += m * w * w
		}
		upper := math.Sqrt(strain/kinetic) / (2 * math.Pi)
		f := BeamFrequency(ends, 1, B, m, L)
		check(t, "blade_frequency", "Rayleigh's bound, "+string(ends), "independent: Rayleigh's quotient of the static shape, an upper bound close by 1 %", f, upper, 0.0085)
		if f > upper {
			t.Errorf("%s: above the bound", ends)
		}
	}
}

var blade = given{"length": 0.25, "thickness": 0.003, "width": 0.03, "modulus": steel, "density": 7850.0, "ends": "fixed-fixed"}

func TestBlade(t *testing.T) {
	n, out := numbers(t, "blade_frequency", blade)
	if len(out) > 0 {
		t.Errorf("findings: %v", out)
	}
	near(t, "modes", n("second")/n("first"), math.Pow(7.853204624/4.730040745, 2), 1e-9)
	thick, _ := numbers(t, "blade_frequency", blade.with("thickness", 0.006))
	near(t, "frequency goes with thickness", thick("first"), 2*n("first"), 1e-12)
	wide, _ := numbers(t, "blade_frequency", blade.with("width", 0.06))
	near(t, "and not with width", wide("first"), n("first"), 1e-12)
	strip, _ := numbers(t, "blade_frequency", blade.with("strip_mass", 7850*0.003*0.03))
	near(t, "twice the mass", strip("first"), n("first")/math.Sqrt2, 1e-12)
	free, _ := numbers(t, "blade_frequency", blade.with("ends", "free-free"))
	near(t, "free as fixed", free("first"), n("first"), 1e-12)
	found(t, "blade_frequency", "length", blade.with("thickness", 0.02))
	refused(t, "blade_frequency", "ends", blade.with("ends", "fixed-guided"))
	refused(t, "blade_frequency", "thickness", blade.with("thickness", -0.003))
	refused(t, "blade_frequency", "density", blade.with("density", math.NaN()))
	if !math.IsNaN(BeamFrequency(FixedFree, 4, 1, 1, 1)) || !math.IsNaN(BeamFrequency(FixedGuided, 1, 1, 1, 1)) {
		t.Error("a mode or ends unknown to the table")
	}

	d := given{"drag": 5.0, "length": 0.25, "thickness": 0.003, "width": 0.03, "modulus": steel, "ends": "fixed-fixed"}
	n, _ = numbers(t, "blade_deflection", d)
	I := 0.03 * 27e-9 / 12
	near(t, "deflection", n("deflection"), 5*math.Pow(0.25, 4)/(384*steel*I), 1e-9)
	near(t, "stress", n("stress"), 5*0.0625/12*0.0015/I, 1e-9)
	near(t, "stiffness", n("stiffness")*n("deflection"), 5, 1e-12)
	thin, _ := numbers(t, "blade_deflection", d.with("thickness", 0.0015))
	near(t, "half as thick", thin("deflection"), 8*n("deflection"), 1e-12)
	none, _ := numbers(t, "blade_deflection", d.with("drag", 0.0))
	if none("deflection") != 0 {
		t.Error("no drag, no deflection")
	}
	found(t, "blade_deflection", "length", d.with("thickness", 0.02))
	refused(t, "blade_deflection", "drag", d.with("drag", -1.0))
	refused(t, "blade_deflection", "modulus", d.with("modulus", 0.0))

	s := given{"first": 500.0, "speed": 0.1, "pitch": 0.002, "pulley_teeth": 20.0, "steps_per_turn": 200.0, "damping": 0.01}
	n, _ = numbers(t, "blade_separation", s)
	near(t, "teeth", n("tooth"), 50, 1e-12)
	near(t, "steps", n("step"), 500, 1e-12)
	near(t, "turns", n("turn"), 2.5, 1e-12)
	near(t, "gain at resonance", n("gain"), 1/(2*0.01), 1e-9)
	if n("margin") > 1e-12 {
		t.Error("steps at the blade's own frequency leave no margin")
	}
	off, _ := numbers(t, "blade_separation", s.with("first", 1000.0))
	near(t, "half as fast", off("margin"), 0.5, 1e-12)
	near(t, "gain", off("gain"), 1/math.Hypot(0.75, 0.01), 1e-12)
	refused(t, "blade_separation", "damping", s.with("damping", 0.0))
	refused(t, "blade_separation", "pulley_teeth", s.with("pulley_teeth", 20.5))
	found(t, "blade_separation", "damping", s.with("damping", 0.5))

	n, _ = numbers(t, "blade_bow", given{"length": 0.25, "thickness": 0.003, "expansion": 12e-6, "across": 2.0})
	R := 0.003 / (12e-6 * 2)
	check(t, "blade_bow", "sagitta of the arc", "independent: an arc whose faces differ in length by α ΔT, R - √(R² - L²/4)", n("bow"), R-math.Sqrt(R*R-0.25*0.25/4), 1e-4)
	refused(t, "blade_bow", "thickness", given{"length": 0.25, "thickness": 0.0, "expansion": 12e-6, "across": 2.0})
}

// TestShaking solves the motion itself and measures its amplitude.
func TestShaking(t *testing.T) {
	for _, r := range []float64{0.5, 0.9, 1.3} {
		const zeta, dt = 0.05, 1e-3
		x, v := 0.0, 0.0
		acc := func(time, x, v float64) float64 { return math.Sin(r*time) - 2*zeta*v - x }
		top := 0.0
		for i := range 400000 { // 64 periods; the start has died away by half of it
			time := float64(i) * dt
			k1x, k1v := v, acc(time, x, v)
			k2x, k2v := v+dt/2*k1v, acc(time+dt/2, x+dt/2*k1x, v+dt/2*k1v)
			k3x, k3v := v+dt/2*k2v, acc(time+dt/2, x+dt/2*k2x, v+dt/2*k2v)
			k4x, k4v := v+dt*k3v, acc(time+dt, x+dt*k3x, v+dt*k3v)
			x += dt / 6 * (k1x + 2*k2x + 2*k3x + k4x)
			v += dt / 6 * (k1v + 2*k2v + 2*k3v + k4v)
			if time > 250 {
				top = max(top, math.Abs(x))
			}
		}
		check(t, "blade_separation", "gain at r = "+show(r, "1"), "independent: equation of motion integrated in time (Runge-Kutta)", Shaking(r, 1, zeta).Gain, top, 1e-4)
	}
}

func TestOneSidedPull(t *testing.T) {
	a := given{"rails": 0.3, "spacing": 0.06, "friction": 0.15, "mass": 0.8, "acceleration": 1.0, "drag": 2.0, "far_friction": 0.5, "clearance": 0.03e-3}
	n, _ := numbers(t, "one_sided_pull", a)
	near(t, "moment", n("moment"), 2.8*0.15+0.5*0.3, 1e-12)
	near(t, "pull", n("pull"), 2.8+0.5+0.3*n("bearing_load"), 1e-12)
	near(t, "lag", n("lag"), 0.15e-3, 1e-12)
	// The same as the force on a carriage whose resistance lies beside its guide.
	r, _ := numbers(t, "racking_force", given{"spacing": 0.06, "friction": 0.15, "drive_offset": 0.0, "resistance": 3.3, "resistance_offset": n("moment") / 3.3})
	check(t, "one_sided_pull", "pull", "independent: racking_force with the resistance at its lever", n("pull"), r("force"), 1e-12)
	smooth, _ := numbers(t, "one_sided_pull", a.with("friction", 0.0))
	near(t, "no friction", smooth("pull"), 3.3, 1e-12)
	wide, _ := numbers(t, "one_sided_pull", a.with("spacing", 0.12))
	near(t, "bearings further apart", wide("bearing_load"), n("bearing_load")/2, 1e-12)
	refused(t, "one_sided_pull", "drag", a.with("acceleration", 0.0, "drag", 0.0, "far_friction", 0.0))
	refused(t, "one_sided_pull", "spacing", a.with("spacing", 0.0))
}
