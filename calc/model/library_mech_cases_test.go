package model

import (
	"math"
	"testing"
)

// Further comparisons of the mechanical models: published ones through the
// table row, and other routes to the same number where nothing is published.

func TestBeltInverses(t *testing.T) {
	n, _ := numbers(t, "belt_tension", given{"frequency": 394.0, "mass_per_length": 2.0e-3 / 0.81, "span": 0.81})
	check(t, "belt_tension", "piano wire, 394 Hz", "physics exercise, chegg q3575477 (seen)", n("tension"), 1005.929, 1e-6)
	n, _ = numbers(t, "belt_tension", given{"frequency": 221.5, "mass_per_length": 0.11, "span": 0.17})
	check(t, "belt_tension", "0.11 kg/m, 0.17 m, 221 Hz", "tension by frequency, application note of an instrument, example 2, frequency cut not rounded (seen)", n("tension"), 624, 2*0.5/221.5)
	C, err := BeltCentres(1.6, 0.5, 27.32)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "belt_centres", "pulleys of 1.6 m and 0.5 m, 27.32 m", "open belt, sarthaks.com 509872 (seen)", C, 12, 0.0025/12)
}

func TestScrewRoutes(t *testing.T) {
	// A sliding screw is a ball screw of its own efficiency.
	s, err := SlidingScrew{Load: 100, PitchDiameter: 0.0072, Lead: 0.008, Friction: 0.1}.Torque()
	if err != nil {
		t.Fatal(err)
	}
	n, _ := numbers(t, "ball_screw_torque", given{"load": 100.0, "lead": 0.008, "efficiency": s.Efficiency})
	check(t, "ball_screw_torque", "screw of known friction", "independent: torque of the incline at the efficiency it has", n("drive"), s.Raise, 1e-12)
	// Work over a turn: what the load gives is what drag and the lost part take.
	n, _ = numbers(t, "ball_screw_torque", given{"load": 100.0, "lead": 0.004, "efficiency": 0.9})
	lossBothWays := 100*0.004/0.9 - 100*0.004
	check(t, "ball_screw_torque", "driven by the load", "independent: work of a turn, the same loss as when driving", n("back_drive")*2*math.Pi, 100*0.004-lossBothWays, 1e-12)

	for _, ratio := range []float64{1, 4} {
		b, _ := numbers(t, "screw_backdrive", given{"load_torque": 0.05, "drag_torque": 0.01, "detent_torque": 0.02, "gear_ratio": ratio})
		work := 2*math.Pi*0.01 + 2*math.Pi*ratio*0.02 - 2*math.Pi*0.05 // the motor turns ratio times
		check(t, "screw_backdrive", "surplus, gear "+show(ratio, "1"), "independent: work of one turn of the screw", b("surplus"), work/(2*math.Pi), 1e-12)
	}

	// Euler's load asks for the second moment alone: the pipe of the solution as a rod of that.
	const gere = "Gere, Mechanics of Materials, sol. 11.4-8, as a rod of the pipe's second moment (seen)"
	rod := math.Pow(64*1688e-9/math.Pi, 0.25)
	for _, c := range []struct {
		ends      string
		want, rel float64
	}{{"fixed-pinned", 447e3, 0.5 / 447}, {"fixed-fixed", 875e3, 0.5 / 875}, {"fixed-free", 54.7e3, 0.05 / 54.7}, {"fixed-guided", 219e3, 0.5 / 219}} {
		b, _ := numbers(t, "screw_buckling", given{"length": 4.0, "root_diameter": rod, "modulus": 210e9, "yield_strength": 250e6, "ends": c.ends})
		check(t, "screw_buckling", c.ends, gere, b("euler"), c.want, c.rel)
	}

	l, _ := numbers(t, "screw_life", given{"dynamic_rating": 16e3, "loads": 2e3, "speeds": 100 * rpm, "shares": 1.0, "lead": 0.005})
	check(t, "screw_life", "16 to 2 kN, as a ball bearing", "sarthaks.com 2642436 (seen)", l("revolutions"), 512e6, 1e-12)
	l, _ = numbers(t, "screw_life", given{"dynamic_rating": 35e3, "loads": []float64{5400, 2000, 1000}, "speeds": []float64{150 * rpm, 200 * rpm, 750 * rpm}, "shares": []float64{0.3, 0.5, 0.2}, "lead": 0.005})
	check(t, "screw_life", "three parts of a duty, as a ball bearing", "Analysis and Design of Machine Elements, ex. 11.4 (seen)", l("life")/hours, 88924, 6e-6)

	e, _ := numbers(t, "lead_error", given{"variation": 23e-6, "travel": 0.3, "expansion": 11.7e-6, "rise": 40.64 - 15})
	check(t, "lead_error", "grade 5 over 300 mm", "ISO 3408-3, v300p (from memory)", e("accuracy"), 23e-6, 1e-12)
	check(t, "lead_error", "growth, as a rail of 10 m", "Singer and Pytel, Strength of Materials, prob. 263 (statement seen, answer from memory)", e("thermal")/0.3*10, 3e-3, 2e-4)
}

func TestLayerStepsByCounting(t *testing.T) {
	const source = "independent: steps counted one by one until the layer is reached"
	for _, c := range []struct{ layer, lead float64 }{{0.1e-3, 0.004}, {0.1e-3, 0.003}, {0.15e-3, 0.002}, {0.08e-3, 0.005}} {
		n, _ := numbers(t, "layer_steps", given{"layer": c.layer, "lead": c.lead, "steps_per_turn": 200.0, "microsteps": 16.0})
		step, best := c.lead/3200, 0
		for k := 0; float64(k)*step < 2*c.layer; k++ {
			if math.Abs(float64(k)*step-c.layer) < math.Abs(float64(best)*step-c.layer) {
				best = k
			}
		}
		check(t, "layer_steps", show(c.layer, "m")+" on "+show(c.lead, "m"), source, n("nearest"), float64(best)*step, 1e-12)
	}
}

// TestAxisLoadByWork moves the platform in small steps and adds up energies.
func TestAxisLoadByWork(t *testing.T) {
	const m, a, friction, n = 3.5, 0.8, 14.0, 1000
	f, _ := numbers(t, "axis_load", given{"platform_mass": 1.5, "powder_mass": 2.0, "seal_friction": 12.0, "guide_friction": 2.0, "acceleration": a})
	for _, c := range []struct {
		name string
		sign float64 // of the motion, up positive
	}{{"up", 1}, {"down", -1}} {
		v, x, heat := 0.0, 0.0, 0.0
		for range n { // from rest with constant acceleration
			dt := 1e-3
			dx := v*dt + a*dt*dt/2
			v += a * dt
			x += dx
			heat += friction * dx
		}
		work := c.sign*m*9.80665*x + m*v*v/2 + heat // of the screw on the platform
		check(t, "axis_load", "force "+c.name, "independent: work on the way is potential and kinetic energy and the heat of friction", f(c.name), c.sign*work/x, 1e-12)
	}
}

// TestStaticsByElimination solves balances of forces as linear equations.
func TestStaticsByElimination(t *testing.T) {
	const source = "independent: balances of forces and moments solved as linear equations"
	// Screw axis displaced by e, spring to the nut, spring to the bed, spring to ground.
	const e, ks, kd, kg = 50e-6, 2e4, 3e4, 2e5
	x := eliminate([][]float64{
		{ks + kd, -kd, ks * e}, // nut
		{-kd, kd + kg, 0},      // bed
	})
	n, _ := numbers(t, "screw_wobble", given{"eccentricity": e, "screw_stiffness": ks, "guide_stiffness": kg, "nut": "flexure", "nut_stiffness": kd})
	check(t, "screw_wobble", "flexure nut", source, n("amplitude"), x[1], 1e-12)
	check(t, "screw_wobble", "force on the guides", source, n("side_force"), kd*(x[0]-x[1]), 1e-9)

	// Two bearings at ±s/2 under a force across and a force beside.
	x = eliminate([][]float64{{1, 1, 10}, {0.02, -0.02, 20 * 0.06}})
	n, _ = numbers(t, "bearing_moment", given{"force": 20.0, "offset": 0.06, "spacing": 0.04, "direct": 10.0})
	check(t, "bearing_moment", "first", source, n("first"), x[0], 1e-12)
	check(t, "bearing_moment", "second", source, n("second"), x[1], 1e-12)

	// Traverse: unknown pull P and bearing load N; along the rails, and moments about the driven rail.
	x = eliminate([][]float64{{1, -2 * 0.15, 2 + 0.8*1 + 0.5}, {0, 0.06, (2+0.8*1)*0.15 + 0.5*0.3}})
	n, _ = numbers(t, "one_sided_pull", given{"rails": 0.3, "spacing": 0.06, "friction": 0.15, "mass": 0.8, "acceleration": 1.0, "drag": 2.0, "far_friction": 0.5, "clearance": 0.03e-3})
	check(t, "one_sided_pull", "pull as unknown", source, n("pull"), x[0], 1e-12)
	check(t, "one_sided_pull", "bearing load", source, n("bearing_load"), x[1], 1e-12)

	// Carriage: the force that balances, searched.
	for _, c := range []struct{ h, hr float64 }{{0.1, 0}, {0, 0.1}, {0.05, 0.2}, {-0.1, 0.05}, {0.1, 0.08}} {
		lack := func(P float64) float64 {
			return P - 4 - 1 - 2*0.2*math.Abs(P*c.h-4*c.hr)/0.05
		}
		lo, hi := 0.0, 1e4
		for range 200 {
			if mid := (lo + hi) / 2; lack(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		n, _ := numbers(t, "racking_force", given{"spacing": 0.05, "friction": 0.2, "drive_offset": c.h, "resistance": 4.0, "resistance_offset": c.hr, "axis_friction": 1.0})
		check(t, "racking_force", "drive at "+show(c.h, "m")+", resistance at "+show(c.hr, "m"), "independent: balance of forces searched by bisection", n("force"), lo, 1e-9)
	}
}

func TestGuideRoutes(t *testing.T) {
	sag := func(d float64) float64 {
		n, _ := numbers(t, "shaft_sag", given{"length": 0.35, "diameter": d, "modulus": steel, "ends": "fixed-fixed", "load": 15.0, "at": 0.1})
		return n("maximum")
	}
	whirl := func(d float64) float64 {
		n, _ := numbers(t, "screw_whirl", given{"length": 0.35, "diameter": d, "modulus": steel, "density": 7850.0, "ends": "fixed-fixed"})
		return n("frequency")
	}
	r, _ := numbers(t, "stiffness_ratio", given{"diameter_1": 0.010, "diameter_2": 0.016})
	check(t, "stiffness_ratio", "16 mm against 10 mm, stiffness", "independent: deflections of both shafts", r("stiffness"), sag(0.010)/sag(0.016), 1e-12)
	check(t, "stiffness_ratio", "16 mm against 10 mm, frequency", "independent: frequencies of both shafts", r("frequency"), whirl(0.016)/whirl(0.010), 1e-12)

	a := given{"dynamic_rating": 16e3, "rating_distance": 100e3, "load": 2e3, "elements": "balls", "stroke": 0.3, "cycles": 0.1}
	n, _ := numbers(t, "linear_bearing_life", a)
	check(t, "linear_bearing_life", "16 to 2 kN, in units of the rated life", "sarthaks.com 2642436, the same law for a rotary bearing (seen)", n("distance")/100e3, 512, 1e-12)
	m, _ := numbers(t, "linear_bearing_life", a.with("rating_distance", 50e3, "dynamic_rating", 16e3*1.26))
	check(t, "linear_bearing_life", "rating for 50 km is 1.26 of that for 100 km", "ISO 14728-1 (from memory)", m("distance"), n("distance"), 0.005)
}

func TestBladeRoutes(t *testing.T) {
	const roark = "Roark, Formulas for Stress and Strain, Table 8.1 (from memory)"
	a := given{"drag": 5.0, "length": 0.25, "thickness": 0.003, "width": 0.03, "modulus": steel}
	EI := steel * 0.03 * 27e-9 / 12
	for _, c := range []struct {
		ends string
		k    float64
	}{{"pinned-pinned", 5. / 384}, {"fixed-fixed", 1. / 384}, {"fixed-free", 1. / 8}} {
		n, _ := numbers(t, "blade_deflection", a.with("ends", c.ends))
		check(t, "blade_deflection", c.ends, roark, n("deflection"), c.k*5*math.Pow(0.25, 4)/EI, 1e-9)
	}
	// Bow: the curvature α ΔT/t integrated twice from end to end.
	n, _ := numbers(t, "blade_bow", given{"length": 0.25, "thickness": 0.003, "expansion": 12e-6, "across": 2.0})
	const steps = 10000
	h, kappa := 0.25/steps, 12e-6*2/0.003
	w, slope := 0.0, kappa*0.25/2
	top := 0.0
	for range steps {
		w += h*slope - kappa*h*h/2
		slope -= kappa * h
		top = max(top, w)
	}
	check(t, "blade_bow", "curvature", "independent: curvature integrated twice from end to end", n("bow"), top, 1e-9)
}

func TestSealRoutes(t *testing.T) {
	// Friction added up along the outline, piece by piece of 0.1 mm or less.
	n, _ := numbers(t, "seal_friction", given{"width": 0.22, "depth": 0.16, "corner_radius": 0.014, "thickness": 0.005, "gap": 0.004, "contact": 0.008, "modulus": 150e3, "friction": 0.22, "breakaway_ratio": 1.5})
	sum := 0.0
	const pieces = 10000
	for _, side := range []float64{0.22 - 0.028, 0.16 - 0.028, 0.22 - 0.028, 0.16 - 0.028} {
		for range pieces {
			sum += 0.22 * 150e3 * (1 - 0.004/0.005) * 0.008 * side / pieces
		}
	}
	for range 4 * pieces { // chords of the four corners
		c := 2 * 0.014 * math.Sin(math.Pi/2/pieces/2)
		sum += 0.22 * 150e3 * (1 - 0.004/0.005) * 0.008 * c
	}
	check(t, "seal_friction", "running friction", "independent: friction added up along the outline", n("running"), sum, 1e-8)

	// The gap as a tolerance stack of half the chamber and half the platform.
	g, _ := numbers(t, "seal_gap", given{"chamber": 0.22, "platform": 0.212, "thickness": 0.005, "chamber_expansion": 16e-6, "platform_expansion": 23e-6, "chamber_rise": 100.0, "platform_rise": 120.0})
	s, _ := numbers(t, "stack_up", given{"lengths": []float64{0.22, 0.212}, "signs": []float64{0.5, -0.5}, "tolerances": 0.0, "expansions": []float64{16e-6, 23e-6}, "rises": []float64{100, 120}})
	check(t, "seal_gap", "cold", "independent: stack_up of half the chamber less half the platform", g("cold"), s("nominal"), 1e-12)
	check(t, "seal_gap", "hot", "independent: stack_up of half the chamber less half the platform", g("hot"), s("hot"), 1e-12)
}

func TestFastenerRoutes(t *testing.T) {
	for _, size := range []string{"M3", "M5", "M8"} {
		th := FindThread(size)
		s, err := SlidingScrew{Load: 1000, PitchDiameter: th.PitchDiameter(), Lead: th.P, Friction: 0.14, FlankAngle: 30 * deg, CollarFriction: 0.1, CollarDiameter: (th.Cap + th.Hole) / 2}.Torque()
		if err != nil {
			t.Fatal(err)
		}
		n, _ := numbers(t, "screw_preload", given{"size": size, "property_class": "8.8", "head": "socket", "thread_friction": 0.14, "head_friction": 0.1, "torque": s.Raise})
		check(t, "screw_preload", size, "independent: torque of SlidingScrew with flanks of 30° for 1 kN", n("preload"), 1000, 0.012)
	}
	// Twist and tension together: principal stresses and the distortion energy.
	n, _ := numbers(t, "screw_preload", given{"size": "M6", "property_class": "8.8", "head": "socket", "thread_friction": 0.12, "head_friction": 0.12, "torque": 8.0})
	th := FindThread("M6")
	F, d0 := n("preload"), th.StressDiameter()
	lambda, rho := math.Atan(th.P/(math.Pi*th.PitchDiameter())), math.Atan(0.12/math.Cos(30*deg))
	M := F * th.PitchDiameter() / 2 * math.Tan(lambda+rho)
	sigma, tau := F/(math.Pi/4*d0*d0), M/(math.Pi*d0*d0*d0/12) // wholly plastic twist
	s1, s2 := sigma/2+math.Hypot(sigma/2, tau), sigma/2-math.Hypot(sigma/2, tau)
	check(t, "screw_preload", "stress of an M6", "independent: principal stresses of tension and plastic twist, distortion energy", n("stress"), math.Sqrt(s1*s1-s1*s2+s2*s2), 0.01)

	const steps = "Mechanical Engineer's Data Handbook, 8.2.4, standard bolt lengths (seen)"
	for _, c := range []struct{ need, want float64 }{{20.5, 25}, {41, 45}, {64, 65}, {81, 90}, {101, 110}, {141, 150}} {
		l, err := ScrewLength((c.need-8)*mm, 8*mm)
		if err != nil {
			t.Error(err)
		}
		check(t, "screw_length", "next after "+show(c.need, "1")+" mm", steps, l/mm, c.want, 1e-12)
	}
}
