package model

import (
	"math"
	"testing"
)

func TestThreadsPublished(t *testing.T) {
	const (
		iso898  = "EN ISO 898-1, table of stress areas (seen in reprints)"
		bick    = "Bickford, Introduction to the Design and Behavior of Bolted Joints, 4th ed., table of stress and shear areas, engineersedge.com 15797 (seen)"
		proofs  = "ISO 898-1, proof loads of coarse threads (seen in a reprint)"
		tensile = "ISO 898-1, minimum tensile loads of coarse threads (seen in a reprint)"
	)
	for _, c := range []struct {
		size             string
		area             float64 // mm², three figures
		fine, screw, nut float64 // mm², five figures, strip areas at an engagement of one diameter; 0: not in the table
		p88, p109, p129  float64 // N
		t88, t109, t129  float64 // N
		sloppy           float64 // rounding of the standard's own table, relative
		proofTol         float64
	}{
		{"M3", 5.03, 0, 0, 0, 2920, 4180, 4880, 4020, 5230, 6140, 0.001, 0.004},
		{"M4", 8.78, 0, 0, 0, 5100, 7290, 8520, 7020, 9130, 10700, 0.001, 0.004},
		{"M5", 14.2, 14.183, 35.366, 49.994, 8230, 11800, 13800, 11350, 14800, 17300, 0.002, 0.005},
		{"M6", 20.1, 20.123, 51.875, 73.145, 11600, 16700, 19500, 16100, 20900, 24500, 0.002, 0.0065},
		{"M8", 36.6, 36.609, 97.290, 134.63, 21200, 30400, 35500, 29200, 38100, 44600, 0.001, 0.004},
		{"M10", 58.0, 57.990, 155.80, 214.77, 33700, 48100, 56300, 46400, 60300, 70800, 0.001, 0.003},
		{"M12", 84.3, 84.267, 227.72, 313.41, 48900, 70000, 81800, 67400, 87700, 103000, 0.001, 0.003},
		{"M14", 115, 115.44, 313.94, 434.47, 66700, 95500, 112000, 92000, 120000, 140000, 0.004, 0.007},
		{"M16", 157, 156.67, 417.55, 569.12, 91000, 130000, 152000, 125000, 163000, 192000, 0.003, 0.005},
	} {
		th := FindThread(c.size)
		A := th.StressArea() * 1e6
		check(t, "screw_strength", "stress area "+c.size, iso898, A, c.area, max(0.5/1000, c.sloppy))
		if c.fine > 0 {
			check(t, "screw_strength", "stress area to five figures "+c.size, bick, A, c.fine, 4e-5)
			nut, screw := th.ShearAreas(th.D)
			check(t, "thread_engagement", "strip area of the screw "+c.size, bick, screw*1e6, c.screw, 3e-3)
			check(t, "thread_engagement", "strip area of the nut "+c.size, bick, nut*1e6, c.nut, 3e-3)
		}
		for _, p := range []struct {
			class         string
			proof, strong float64
		}{{"8.8", c.p88, c.t88}, {"10.9", c.p109, c.t109}, {"12.9", c.p129, c.t129}} {
			n, _ := numbers(t, "screw_strength", given{"size": c.size, "property_class": p.class})
			check(t, "screw_strength", "proof load "+c.size+" "+p.class, proofs, n("proof_load"), p.proof, c.proofTol)
			check(t, "screw_strength", "tensile load "+c.size+" "+p.class, tensile, n("tensile_load"), p.strong, 0.007)
		}
	}
}

func TestTighteningPublished(t *testing.T) {
	const source = "torques of class 8.8, hexagon head, friction 0.12, two to three figures, 51dongshi.net (seen)"
	for _, c := range []struct {
		size      string
		want, tol float64
	}{{"M3", 1.27, 0.015}, {"M4", 3.0, 0.017}, {"M5", 5.9, 0.011}, {"M6", 10.1, 0.006}, {"M8", 24.6, 0.003}, {"M10", 48, 0.011}, {"M12", 84, 0.006}} {
		n, _ := numbers(t, "screw_tightening", given{"size": c.size, "property_class": "8.8", "head": "hexagon", "thread_friction": 0.12, "head_friction": 0.12, "use": 0.9})
		check(t, "screw_tightening", c.size, source, n("torque"), c.want, c.tol)
	}
	// The exact torque of a screw with a flank angle of 30° and a collar of 1.25 d.
	// The book takes the mean of d and the root diameter, whose area is 0.351 in².
	d, p, root := 0.75*inch, inch/16, math.Sqrt(4*0.351/math.Pi)*inch
	s, err := SlidingScrew{Load: 25e3 * lbf, PitchDiameter: (d + root) / 2, Lead: p, Friction: 0.15, FlankAngle: 30 * deg, CollarFriction: 0.15, CollarDiameter: 1.25 * d}.Torque()
	if err != nil {
		t.Fatal(err)
	}
	check(t, "screw_tightening", "3/4-16 UNF to 25 kip", "Shigley, Mechanical Engineering Design, ex. 8-3 (inputs seen, answer from memory)", s.Raise/(lbf*inch), 3551, 0.0005)
	// The short formula of the torque against the exact one.
	for _, th := range threads {
		j := Joint{Thread: &th, Class: FindClass("8.8"), Face: th.Hex, FricT: 0.12, FricH: 0.12}
		s, err := SlidingScrew{Load: 1000, PitchDiameter: th.PitchDiameter(), Lead: th.P, Friction: 0.12, FlankAngle: 30 * deg, CollarFriction: 0.12, CollarDiameter: (th.Hex + th.Hole) / 2}.Torque()
		if err != nil {
			t.Fatal(err)
		}
		check(t, "screw_tightening", "short torque formula, "+th.Size, "independent: balance of forces on the thread, SlidingScrew, with flanks of 30°", j.Torque(1000), s.Raise, 0.011)
	}
}

func TestTightening(t *testing.T) {
	a := given{"size": "M5", "property_class": "8.8", "head": "socket", "thread_friction": 0.12, "head_friction": 0.12, "use": 0.9}
	n, _ := numbers(t, "screw_tightening", a)
	b := a.with("use", nil, "torque", n("torque"))
	back, _ := numbers(t, "screw_preload", b)
	near(t, "there and back", back("preload"), n("preload"), 1e-12)
	near(t, "use", back("use"), 0.9, 1e-12)
	near(t, "bearing", back("bearing_pressure"), n("bearing_pressure"), 1e-12)
	near(t, "ring of 8.03 by 5.5 mm", n("bearing_pressure"), n("preload")/(math.Pi*(4.015*4.015-2.75*2.75)*1e-6), 1e-12)
	if k := back("nut_factor"); k < 0.12 || k > 0.2 {
		t.Errorf("nut factor %g at a friction of 0.12", k)
	}
	slick, _ := numbers(t, "screw_preload", b.with("thread_friction", 0.08, "head_friction", 0.08))
	if !(slick("preload") > 1.3*back("preload")) {
		t.Error("less friction turns the same torque into more preload")
	}
	found(t, "screw_preload", "torque", b.with("torque", 20.0))
	found(t, "screw_preload", "thread_friction", b.with("thread_friction", 0.02))
	refused(t, "screw_preload", "torque", b.with("torque", 0.0))
	refused(t, "screw_preload", "size", b.with("size", "M7"))
	refused(t, "screw_tightening", "use", a.with("use", 1.1))
	refused(t, "screw_tightening", "property_class", a.with("property_class", "9.9"))
	refused(t, "screw_tightening", "head_friction", a.with("head_friction", -0.1))
	// without friction all torque lifts: M = F P/(2 π), within the rounding of 0.16
	j := Joint{Thread: FindThread("M8"), Class: FindClass("8.8")}
	near(t, "no friction", j.Torque(1000), 1000*0.00125/(2*math.Pi), 0.006)
	near(t, "no twist without friction and pitch", Joint{Thread: &Thread{D: 0.01, P: 1e-12}, Class: j.Class}.Stress(1), 1/(math.Pi/4*1e-4), 1e-6)
}

func TestThreadEngagement(t *testing.T) {
	a := given{"size": "M5", "property_class": "8.8", "engagement": 0.010, "shear_strength": 150e6, "tapped": "aluminium"}
	n, _ := numbers(t, "thread_engagement", a)
	near(t, "rule", n("rule"), 0.010, 1e-12)
	m, _ := numbers(t, "thread_engagement", a.with("engagement", n("needed")))
	near(t, "needed", m("ratio"), 1, 1e-12)
	// Nominal threads, a handbook's shortcut: 7/8 π d L and 3/4 π D1 L, a good third more than the worst pairing.
	for _, th := range threads {
		nominal := th
		nominal.tolD, nominal.tolD2, nominal.nutD2, nominal.nutD1 = th.D, th.PitchDiameter(), th.PitchDiameter(), th.D-minorDepth*th.P
		nut, screw := nominal.ShearAreas(0.01)
		check(t, "thread_engagement", "nominal nut, "+th.Size, "independent: profile of ISO 68-1 on the nominal cylinder, 7/8 π d L", nut, 7./8*math.Pi*th.D*0.01, 1e-9)
		check(t, "thread_engagement", "nominal screw, "+th.Size, "independent: profile of ISO 68-1 on the nominal cylinder, 3/4 π D1 L", screw, 3./4*math.Pi*nominal.nutD1*0.01, 1e-9)
		worst, _ := th.ShearAreas(0.01)
		if r := nut / worst; r < 1.15 || r > 1.5 {
			t.Errorf("%s: nominal over worst %g", th.Size, r)
		}
		// limits lie where tolerances put them
		if !(th.tolD < th.D && th.tolD2 < th.PitchDiameter() && th.nutD2 > th.PitchDiameter() && th.nutD1 > th.D-minorDepth*th.P && th.tolD > th.nutD1) {
			t.Errorf("%s: limits out of order", th.Size)
		}
	}
	found(t, "thread_engagement", "engagement", a.with("engagement", 0.002))
	refused(t, "thread_engagement", "engagement", a.with("engagement", 0.0))
	refused(t, "thread_engagement", "tapped", a.with("tapped", "wood"))
}

func TestScrewLength(t *testing.T) {
	a := given{"grip": 0.006, "engagement": 0.0075, "depth": 0.012}
	n, _ := numbers(t, "screw_length", a)
	near(t, "13.5 mm wanted", n("length"), 0.016, 1e-12)
	near(t, "spare", n("spare"), 0.002, 1e-9)
	near(t, "at most 18 mm", n("longest"), 0.016, 1e-12)
	if n("bottoms") != 0 {
		t.Error("10 mm fit into 12 mm")
	}
	n, _ = numbers(t, "screw_length", a.with("grip", 0.0095))
	near(t, "17 mm wanted", n("length"), 0.020, 1e-12)
	n, _ = numbers(t, "screw_length", a.with("depth", 0.0095))
	if n("bottoms") != 1 || n("spare") >= 0 {
		t.Error("10 mm do not fit into 9.5 mm")
	}
	near(t, "at most 15.5 mm", n("longest"), 0.012, 1e-12) // too short: no length serves
	n, _ = numbers(t, "screw_length", given{"grip": 0.1, "engagement": 0.02, "depth": 0.02})
	near(t, "just long enough", n("length"), 0.12, 1e-12)
	if n("bottoms") != 0 || n("spare") != 0 {
		t.Errorf("a screw that fits exactly does not bottom: %g", n("spare"))
	}
	refused(t, "screw_length", "grip", a.with("grip", 0.2))
	refused(t, "screw_length", "depth", a.with("depth", 0.005))
	refused(t, "screw_length", "engagement", a.with("engagement", -0.001))
	for i := 1; i < len(preferredLengths); i++ {
		if preferredLengths[i] <= preferredLengths[i-1] {
			t.Error("lengths must rise")
		}
	}
}

func TestJointDrift(t *testing.T) {
	// A steel bar through a bronze sleeve: what both grow together, and the bar beyond.
	const source = "Gere, Mechanics of Materials, sol. 2.5-7 (seen)"
	L, dT := 12*inch, 500/perF
	as, ab := 6.5e-6*perF, 11e-6*perF
	ks := 30e6 * psi * Round(1*inch).Area / L
	sleeve, err := RoundTube(1.25*inch, 0.125*inch)
	if err != nil {
		t.Fatal(err)
	}
	kb := 15e6 * psi * sleeve.Area / L
	growth := as*dT*L + JointDrift(L, as, ab, ks, kb, dT)/ks
	check(t, "joint_drift", "growth of the sleeved length", source, growth/inch, 0.04493, 1e-4)
	check(t, "joint_drift", "growth of the whole bar", source, (growth+as*dT*24*inch)/inch, 0.123, 0.004)

	a := given{"preload": 3000.0, "grip": 0.02, "screw_expansion": 12e-6, "part_expansion": 23e-6, "screw_stiffness": 1e8, "part_stiffness": 4e8, "rise": 50.0}
	n, _ := numbers(t, "joint_drift", a)
	near(t, "aluminium under steel tightens", n("change"), 11e-6*0.02*50*0.8e8, 1e-12)
	m, _ := numbers(t, "joint_drift", a.with("part_expansion", 1e-6))
	near(t, "reversed", m("change"), -n("change"), 1e-12)
	open, _ := numbers(t, "joint_drift", a.with("rise", -500.0))
	if open("opens") != 1 || open("hot") != 0 {
		t.Error("a cold joint of aluminium opens")
	}
	same, _ := numbers(t, "joint_drift", a.with("part_expansion", 12e-6))
	if same("change") != 0 {
		t.Error("one material keeps its preload")
	}
	refused(t, "joint_drift", "screw_stiffness", a.with("screw_stiffness", 0.0))
}
