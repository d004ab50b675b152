package model

import (
	"math"
	"testing"
)

func TestScrewPublished(t *testing.T) {
	const shigley = "Shigley, Mechanical Engineering Design, sol. 8-4 (seen)"
	s, err := SlidingScrew{Load: 6000, PitchDiameter: 0.0225, Lead: 0.005, Friction: 0.08, CollarFriction: 0.05, CollarDiameter: 0.040}.Torque()
	if err != nil {
		t.Fatal(err)
	}
	check(t, "screw_torque", "raise, with collar", shigley, s.Raise, 16.23, 0.005/16.23)
	check(t, "screw_torque", "lower, with collar", shigley, s.Lower, 6.622, 0.0005/6.622)
	check(t, "screw_torque", "efficiency, with collar", shigley, s.Efficiency, 0.294, 0.0005/0.294)
	s, _ = SlidingScrew{Load: 20e3, PitchDiameter: 0.027, Lead: 0.006, Friction: 0.2, CollarFriction: 0.15, CollarDiameter: 0.024}.Torque()
	check(t, "screw_torque", "square thread of 30 mm", "Jindal, Machine Design, ex. 16-1 (recomputed companion, seen)", s.Raise, 110.148, 5e-6)
	s, _ = SlidingScrew{Load: 12500 * lbf, PitchDiameter: 1.3429 * inch, Lead: 0.25 * inch, Friction: 0.15, FlankAngle: 14.5 * deg}.Torque()
	check(t, "screw_torque", "Acme thread", "Mott, Machine Elements in Mechanical Design, ex. 17-1, which rounds cosine and tangent (seen)", s.Raise/(lbf*inch), 1809, 0.0035)

	drive, _, _ := BallScrewTorque(20e3, 0.010, 0.70, 0)
	check(t, "ball_screw_torque", "20 kN, lead 10 mm, 70 %", "engineeringprep.com problem 516 (seen)", drive, 45.5, 0.05/45.5)

	const gere = "Gere, Mechanics of Materials, sol. 11.4-8 (seen)"
	tube, err := RoundTube(0.100, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		ends Ends
		want float64
		rel  float64
	}{{FixedPinned, 447e3, 0.5 / 447}, {FixedFixed, 875e3, 0.5 / 875}, {FixedFree, 54.7e3, 0.05 / 54.7}, {FixedGuided, 219e3, 0.5 / 219}} {
		b := Buckle(c.ends, 4.0, tube.Area, tube.I, 210e9, 250e6)
		check(t, "column", "pipe 100/90 mm, "+string(c.ends), gere, b.Euler, c.want, c.rel)
	}
	b := Buckle(FixedFixed, 5, 1e-3, 400e-8, 10e9, 1e12)
	check(t, "column", "effective length half of 5 m", "engineeringprep.com problem 410 (seen)", b.Euler, 63.1655e3, 1e-6)

	const factors = "critical speed of ball screws, engineersedge.com (seen)"
	for _, c := range []struct {
		ends      Ends
		want, rel float64
	}{{FixedFree, 3.4, 0.05 / 3.4}, {PinnedPinned, 9.7, 0.05 / 9.7}, {FixedPinned, 15.1, 0.05 / 15.1}, {FixedFixed, 21.9, 0.05 / 21.9}} {
		// n = factor d/L² 1e7, in mm and turns a minute, eight tenths of the critical speed
		f := Whirl(c.ends, 1, 0.01, steel, 7850, 0, 0)
		check(t, "screw_whirl", "factor, "+string(c.ends), factors, 0.8*f*60*1e6/10/1e7, c.want, c.rel)
	}
	f := Whirl(PinnedPinned, 0.6, 0.020, 200e9, 40e3, 1, 0.3)
	const bissoy = "shaft with a mass in the middle, bissoy.com 376154 (seen)"
	check(t, "screw_whirl", "frequency", bissoy, f, 43.3, 0.05/43.3)
	check(t, "screw_whirl", "turns a minute", bissoy, f*60, 2598, 0.001)

	n, _ := numbers(t, "screw_life", given{"dynamic_rating": 150.0, "loads": 80 * 1.25, "speeds": 75 * rpm, "shares": 1.0, "lead": 0.005})
	check(t, "screw_life", "150 to 80 times 1.25, 75 turns a minute", "calculatorfriend.com, ball screw life (seen)", n("life")/hours, 750, 1e-9)

	n, _ = numbers(t, "screw_stiffness", given{"root_diameter": 0.375 * inch, "modulus": 30e6 * psi, "length": 14 * inch, "nut_at": 13.5 * inch, "axially_fixed": "one end"})
	check(t, "screw_stiffness", "rod of 3/8 in", "Shigley, Mechanical Engineering Design, sol. 8-38 (seen)", n("shaft")/(lbf/inch), 0.245e6, 0.5/245)
	n, _ = numbers(t, "screw_stiffness", given{"root_diameter": 0.016, "modulus": 200e9, "length": 0.6, "nut_at": 0.5, "axially_fixed": "one end"})
	check(t, "screw_stiffness", "elongation of a rod under 40 kN", "Bhavikatti, Strength of Materials, ex. 8.1 (seen)", 40e3/n("total"), 0.497e-3, 0.001)
}

// TestScrewBalance compares the torque formulas with the balance of forces on
// the unrolled thread, in the plane normal to it for a square thread.
func TestScrewBalance(t *testing.T) {
	for _, f := range []float64{0.05, 0.1, 0.2} {
		for _, lead := range []float64{0.001, 0.002, 0.008} {
			s := SlidingScrew{Load: 100, PitchDiameter: 0.0072, Lead: lead, Friction: f}
			got, err := s.Torque()
			if err != nil {
				t.Fatal(err)
			}
			lambda, rho := math.Atan(lead/(math.Pi*s.PitchDiameter)), math.Atan(f)
			near(t, "raise: the load on an incline of lead angle plus friction angle", got.Raise, 100*0.0036*math.Tan(lambda+rho), 1e-12)
			near(t, "lower", got.Lower, 100*0.0036*math.Tan(rho-lambda), 1e-9)
			if got.SelfLocking && got.Efficiency >= 0.5 {
				t.Errorf("a self-locking screw has an efficiency of %g", got.Efficiency)
			}
			if got.SelfLocking != (got.Locking >= 1) {
				t.Errorf("without a collar the thread alone decides: %v %g", got.SelfLocking, got.Locking)
			}
			check(t, "screw_torque", "square thread as an incline, f "+show(f, "1")+", lead "+show(lead, "m"), "independent: balance on the unrolled thread, M = F d/2 tan(λ + ρ)",
				got.Raise, 100*0.0036*math.Tan(lambda+rho), 1e-12)
		}
	}
	// No friction: all work reaches the load.
	s, _ := SlidingScrew{Load: 100, PitchDiameter: 0.0072, Lead: 0.008}.Torque()
	near(t, "efficiency without friction", s.Efficiency, 1, 1e-12)
	near(t, "lower without friction", s.Lower, -s.Raise, 1e-12)
	d, b, e := BallScrewTorque(100, 0.008, 1, 0)
	near(t, "ball screw without loss", d, s.Raise, 1e-12)
	near(t, "and back", b, d, 1e-12)
	near(t, "and back", e, 1, 1e-12)
}

func TestScrewModels(t *testing.T) {
	a := given{"load": 100.0, "pitch_diameter": 0.0072, "lead": 0.008, "friction": 0.1, "flank_angle": 15 * deg}
	n, _ := numbers(t, "screw_torque", a)
	if n("self_locking") != 0 || n("holding") != -n("lower") {
		t.Error("a steep lead screw does not hold by itself")
	}
	m, _ := numbers(t, "screw_torque", a.with("lead", 0.002))
	if m("self_locking") != 1 || m("holding") != 0 {
		t.Error("a flat lead screw holds by itself")
	}
	k, _ := numbers(t, "screw_torque", a.with("load", 200.0))
	near(t, "twice the load", k("raise"), 2*n("raise"), 1e-12)
	refused(t, "screw_torque", "friction", a.with("lead", 0.3))
	refused(t, "screw_torque", "load", a.with("load", -5.0))
	refused(t, "screw_torque", "collar_friction", a.with("collar_friction", 0.1))
	refused(t, "screw_torque", "lead", a.with("lead", math.NaN()))
	found(t, "screw_torque", "friction", a.with("friction", 0.5))

	b := given{"load": 100.0, "lead": 0.004, "efficiency": 0.9, "drag_torque": 0.02}
	n, _ = numbers(t, "ball_screw_torque", b)
	near(t, "hand", n("holding"), 100*0.004*(2-1/0.9)/(2*math.Pi)-0.02, 1e-12)
	low, _ := numbers(t, "ball_screw_torque", b.with("efficiency", 0.4))
	if low("back_drive") != 0 {
		t.Error("below a half the load does not drive the screw")
	}
	refused(t, "ball_screw_torque", "efficiency", b.with("efficiency", 1.1))
	found(t, "ball_screw_torque", "efficiency", b.with("efficiency", 0.6))

	c := given{"load_torque": 0.05, "drag_torque": 0.01, "detent_torque": 0.02}
	n, _ = numbers(t, "screw_backdrive", c)
	near(t, "surplus", n("surplus"), -0.02, 1e-12)
	if n("holds") != 0 {
		t.Error("the axis drops")
	}
	n, _ = numbers(t, "screw_backdrive", c.with("gear_ratio", 3.0))
	near(t, "geared", n("surplus"), 0.02, 1e-12)
	if n("holds") != 1 || n("brake") != 0 {
		t.Error("the axis stays")
	}
	refused(t, "screw_backdrive", "detent_torque", c.with("detent_torque", -1.0))

	d := given{"length": 0.3, "root_diameter": 0.0065, "modulus": steel, "yield_strength": 400e6, "ends": "fixed-free"}
	n, _ = numbers(t, "screw_buckling", d)
	near(t, "long: Euler", n("critical"), n("euler"), 0)
	near(t, "Euler by hand", n("critical"), math.Pow(math.Pi, 3)*steel*math.Pow(0.0065, 4)/64/4/0.09, 1e-12)
	n, _ = numbers(t, "screw_buckling", d.with("length", 0.02, "ends", "fixed-fixed"))
	if !(n("critical") < 400e6*math.Pi*0.0065*0.0065/4 && n("critical") < n("euler")) {
		t.Error("a stout column yields before Euler's load")
	}
	// Johnson's parabola meets Euler's curve with the same value at the limit.
	L := n("limit_slenderness") * 0.0065 / 4
	below, _ := numbers(t, "screw_buckling", d.with("length", L*(1-1e-9), "ends", "pinned-pinned"))
	above, _ := numbers(t, "screw_buckling", d.with("length", L*(1+1e-9), "ends", "pinned-pinned"))
	near(t, "where they meet", below("critical"), above("critical"), 1e-7)
	refused(t, "screw_buckling", "ends", d.with("ends", "loose"))
	refused(t, "screw_buckling", "yield_strength", d.with("yield_strength", 0.0))

	e := given{"length": 0.4, "diameter": 0.008, "modulus": steel, "density": 7850.0, "ends": "pinned-pinned"}
	n, _ = numbers(t, "screw_whirl", e)
	near(t, "steel, in turns a minute", n("critical")/rpm, 1.21e8*8/160000, 0.003)
	loaded, _ := numbers(t, "screw_whirl", e.with("mass", 0.1, "mass_at", 0.2))
	if !(loaded("critical") < n("critical")) {
		t.Error("a mass lowers the critical speed")
	}
	held, _ := numbers(t, "screw_whirl", e.with("mass", 0.1, "mass_at", 0.0))
	near(t, "a mass on a bearing does not count", held("critical"), n("critical"), 1e-9)
	refused(t, "screw_whirl", "mass_at", e.with("mass", 0.1, "mass_at", 0.5))
	refused(t, "screw_whirl", "mass", e.with("mass", 0.1))

	s := given{"root_diameter": 0.008, "modulus": steel, "length": 0.4, "nut_at": 0.1, "axially_fixed": "both ends"}
	n, _ = numbers(t, "screw_stiffness", s)
	mid, _ := numbers(t, "screw_stiffness", s.with("nut_at", 0.2))
	near(t, "least at mid", mid("shaft"), 4*steel*math.Pi*16e-6/0.4, 1e-12)
	far, _ := numbers(t, "screw_stiffness", s.with("nut_at", 0.3))
	near(t, "symmetric", far("shaft"), n("shaft"), 1e-12)
	soft, _ := numbers(t, "screw_stiffness", s.with("nut_stiffness", n("shaft")))
	near(t, "two equal springs", soft("total"), n("shaft")/2, 1e-12)
	refused(t, "screw_stiffness", "nut_at", s.with("nut_at", 0.4))

	l := given{"dynamic_rating": 3000.0, "loads": []float64{100, 300}, "speeds": []float64{30, 60}, "shares": []float64{0.5, 0.5}, "lead": 0.004}
	n, _ = numbers(t, "screw_life", l)
	near(t, "mean load", n("mean_load"), math.Cbrt((1e6*30+27e6*60)/90), 1e-12)
	near(t, "distance", n("distance"), n("revolutions")*0.004, 1e-12)
	refused(t, "screw_life", "loads", l.with("shares", []float64{1, 2, 3}))
	refused(t, "screw_life", "loads", l.with("loads", 0.0))
	found(t, "screw_life", "loads", l.with("loads", 2000.0))
}

func TestLayerSteps(t *testing.T) {
	a := given{"layer": 0.1e-3, "lead": 0.004, "steps_per_turn": 200.0, "microsteps": 16.0}
	n, _ := numbers(t, "layer_steps", a)
	near(t, "full steps", n("full_steps"), 5, 1e-12)
	if n("whole") != 1 || n("rounding") != 0 {
		t.Errorf("0.1 mm on a lead of 4 mm is five full steps: %g, rounding %g", n("whole"), n("rounding"))
	}
	n, _ = numbers(t, "layer_steps", a.with("lead", 0.008, "layer", 0.12e-3))
	near(t, "three full steps", n("full_steps"), 3, 1e-12)
	n, _ = numbers(t, "layer_steps", a.with("lead", 0.003))
	if n("whole") != 0 {
		t.Error("0.1 mm on a lead of 3 mm is no whole number of steps")
	}
	near(t, "106.67 microsteps round to 107", n("nearest"), 107*0.003/3200, 1e-12)
	near(t, "rounding", n("rounding"), 107*0.003/3200-0.1e-3, 1e-9)
	refused(t, "layer_steps", "layer", a.with("layer", 0.1e-6))
	refused(t, "layer_steps", "microsteps", a.with("microsteps", 1.5))
	found(t, "layer_steps", "microsteps", a.with("microsteps", 256.0))

	n, _ = numbers(t, "lead_error", given{"variation": 23e-6, "travel": 0.15, "expansion": 12e-6, "rise": 20.0})
	near(t, "accuracy over half of 300 mm is no better", n("accuracy"), 23e-6, 1e-12)
	near(t, "thermal", n("thermal"), 36e-6, 1e-12)
	refused(t, "lead_error", "travel", given{"variation": 23e-6, "travel": 0.0, "expansion": 12e-6, "rise": 20.0})
}

func TestWobble(t *testing.T) {
	a := given{"eccentricity": 50e-6, "screw_stiffness": 2e4, "guide_stiffness": 2e5, "nut": "rigid"}
	n, _ := numbers(t, "screw_wobble", a)
	near(t, "rigid", n("amplitude"), 50e-6/11, 1e-12)
	flex, _ := numbers(t, "screw_wobble", a.with("nut", "flexure", "nut_stiffness", 1e3))
	if !(flex("amplitude") < n("amplitude")/10) {
		t.Error("a soft nut keeps the wobble from the bed")
	}
	slide, _ := numbers(t, "screw_wobble", a.with("nut", "sliding", "friction", 0.1, "axial_load", 5.0))
	near(t, "sliding, bound by friction", slide("amplitude"), 0.5/2e5, 1e-12)
	stuck, _ := numbers(t, "screw_wobble", a.with("nut", "sliding", "friction", 0.2, "axial_load", 500.0))
	near(t, "stuck", stuck("amplitude"), n("amplitude"), 1e-12)
	still, _ := numbers(t, "screw_wobble", a.with("eccentricity", 0.0, "nut", "sliding", "friction", 0.0, "axial_load", 0.0))
	if still("amplitude") != 0 {
		t.Error("a true screw does not wobble")
	}
	refused(t, "screw_wobble", "nut_stiffness", a.with("nut", "flexure"))
	refused(t, "screw_wobble", "friction", a.with("friction", 0.1))
	refused(t, "screw_wobble", "guide_stiffness", a.with("guide_stiffness", 0.0))
}

func TestAxisLoad(t *testing.T) {
	a := given{"platform_mass": 1.5, "powder_mass": 2.0, "seal_friction": 12.0, "guide_friction": 2.0, "acceleration": 0.2}
	n, _ := numbers(t, "axis_load", a)
	near(t, "up", n("up"), 3.5*(9.80665+0.2)+14, 1e-12)
	near(t, "hold", n("hold"), 3.5*9.80665, 1e-12)
	near(t, "down empty", n("down_empty"), 1.5*(9.80665-0.2)-14, 1e-12)
	if n("follows") != 1 {
		t.Error("14.7 N overcome 14 N")
	}
	tight, _ := numbers(t, "axis_load", a.with("seal_friction", 20.0))
	if tight("follows") != 0 || tight("down_empty") >= 0 || tight("surplus") >= 0 {
		t.Error("14.7 N do not overcome 22 N")
	}
	if tight("down") <= 0 {
		t.Error("the full bed still follows")
	}
	// Without friction and acceleration all cases are the weight.
	free, _ := numbers(t, "axis_load", a.with("seal_friction", 0.0, "guide_friction", 0.0, "acceleration", 0.0))
	near(t, "up is hold", free("up"), free("hold"), 1e-15)
	near(t, "down is hold", free("down"), free("hold"), 1e-15)
	refused(t, "axis_load", "platform_mass", a.with("platform_mass", 0.0))
	refused(t, "axis_load", "seal_friction", a.with("seal_friction", -1.0))
}
