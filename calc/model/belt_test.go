package model

import (
	"errors"
	"math"
	"strings"
	"testing"
)

var aramidOnAluminium = given{
	"loop_length": 0.8, "set_tension": 40.0, "stiffness": 15e3, "cord_expansion": -2e-6, "frame_expansion": 23e-6,
	"centre_distance": 0.37, "set_at": 293.15, "belt_hot": 333.15, "frame_hot": 333.15,
}

func TestBeltPublished(t *testing.T) {
	const (
		singer  = "Singer and Pytel, Strength of Materials, prob. 262, MATHalino (seen)"
		shigley = "Shigley, Mechanical Engineering Design, sol. 17-3 (seen)"
	)
	// A rod between rigid walls is a belt of one strand on a frame that does not
	// grow: strand and loop differ by a factor that cancels in EA/S.
	rod := func(force, E, area, alpha, dT float64) float64 {
		s, err := BeltDrift{LoopLength: 1, SetTension: force, Stiffness: E * area, CordExpansion: alpha, CentreDistance: 0.4, BeltRise: dT}.State()
		if err != nil {
			t.Fatal(err)
		}
		return s.Hot
	}
	area := math.Pi / 4 * 0.01322 * 0.01322
	check(t, "belt_drift", "rod, stress after cooling by 40 K", singer, rod(5000, 200e9, area, 11.7e-6, -40)/area, 130e6, 5e-4)
	check(t, "belt_drift", "rod of 150 mm²", "steel rod between fixed points, tardigrade.in (seen)", rod(5000, 200e9, 150e-6, 11.7e-6, -40)/150e-6, 127e6, 0.5/127)

	check(t, "belt_frequency", "piano wire, tension from 394 Hz", "physics exercise, chegg q3575477 (seen)",
		must(SpanTension(394, 2.0e-3/0.81, 0.81, 0)), 1005.929, 1e-6)
	check(t, "belt_frequency", "0.11 kg/m, 0.17 m, 624 N", "tension by frequency, application note of an instrument, example 2, result cut not rounded (seen)",
		SpanFrequency(624, 0.11, 0.17, 0), 221, 1.0/221)

	l, err := BeltLength(6*inch, 18*inch, 96*inch)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "belt_length", "wrap on the small pulley", shigley, l.Small, 3.016511, 2e-7)
	check(t, "belt_length", "wrap on the large pulley", shigley, l.Large, 3.266674, 2e-7)
	check(t, "belt_length", "length", shigley, l.Length/inch, 230.074, 3e-6)
	C, err := BeltCentres(18*inch, 6*inch, 230.074*inch)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "belt_centres", "the same, the other way round", shigley, C/inch, 96, 5e-6)
	l, _ = BeltLength(0.5, 1.6, 12)
	check(t, "belt_length", "pulleys of 1.6 m and 0.5 m at 12 m", "open belt, sarthaks.com 509872 (seen)", l.Length, 27.32, 0.005/27.32)

	// Tight 147, slack 57 lbf; the centrifugal share is part of the rest tension there.
	tight, slack, _ := Strands(102*lbf, 90*lbf)
	const p17 = "Shigley, Mechanical Engineering Design, prob. 17-1 (seen)"
	check(t, "belt_drive", "tight strand", p17, tight/lbf, 147, 1e-9)
	check(t, "belt_drive", "slack strand", p17, slack/lbf, 57, 1e-9)
	check(t, "belt_drive", "rest tension from the strands, less the centrifugal 0.913 lbf", p17, (tight+slack)/2/lbf-0.913, 101.1, 0.05/101.1)

	for _, c := range []struct {
		name, source  string
		k, force, rel float64
		want          float64
		stretch       bool
	}{
		{"1200 and 1800 N/m", "springs in series, jiskha 1361044416 (seen)", Series(1200, 1800), 1, 1e-12, 720, false},
		{"175 and 270 N/m under 4.9 N", "springs in series, jiskha 1558524 (seen)", Series(175, 270), 4.9, 0.00005 / 0.0461, 0.0461, true},
	} {
		got := c.k
		if c.stretch {
			got = c.force / c.k
		}
		check(t, "belt_drift", c.name, c.source, got, c.want, c.rel)
	}
}

// TestBeltExact compares the linear law with the exact one: the belt's
// unstretched length grows, its strain is path over length, less one, and the
// spring's force is that of its travel.
func TestBeltExact(t *testing.T) {
	b := BeltDrift{LoopLength: 0.8, SetTension: 40, Stiffness: 15e3, CordExpansion: -2e-6, FrameExpansion: 23e-6, CentreDistance: 0.37,
		BeltRise: 40, FrameRise: 40, PulleyExpansion: 23e-6, PulleyRise: 40}
	for _, spring := range []float64{0, 2000} {
		b.SpringRate, b.IdlerWrap = spring, 2*math.Pi/3
		s, err := b.State()
		if err != nil {
			t.Fatal(err)
		}
		free := b.LoopLength / (1 + b.SetTension/b.Stiffness) * (1 + b.CordExpansion*b.BeltRise)
		growth := 2*b.CentreDistance*b.FrameExpansion*b.FrameRise + (b.LoopLength-2*b.CentreDistance)*b.PulleyExpansion*b.PulleyRise
		lo, hi := 0.0, 1000.0
		for range 100 {
			T := (lo + hi) / 2
			path := b.LoopLength + growth
			if spring > 0 {
				g := 2 * math.Sin(b.IdlerWrap/2)
				path -= g * g * (T - b.SetTension) / spring
			}
			if b.Stiffness*(path/free-1) > T {
				lo = T
			} else {
				hi = T
			}
		}
		name := "fixed centres"
		if spring > 0 {
			name = "sprung idler"
		}
		check(t, "belt_drift", "exact against linear, "+name, "independent: strain referred to the grown belt, solved by bisection; differs by the strain", s.Hot, lo, 0.004)
	}
}

func TestBeltDrift(t *testing.T) {
	cold := aramidOnAluminium
	n, out := numbers(t, "belt_drift", cold)
	if len(out) > 0 {
		t.Errorf("findings: %v", out)
	}
	near(t, "hand value", n("hot"), 40+(2*0.37*23e-6*40+0.8*2e-6*40)*15e3/0.8, 1e-12)
	near(t, "per kelvin", n("per_kelvin")*40, n("change"), 1e-12)
	near(t, "sensitivity", n("sensitivity"), 1, 1e-15)
	if n("idler_travel") != 0 || n("slack") != 0 || n("cold") != 40 {
		t.Error("a rigid drive has no idler and does not hang slack")
	}

	// A sprung idler takes the change down by its sensitivity, and moves.
	sprung := cold.with("spring_rate", 2000.0, "idler_wrap", math.Pi)
	m, _ := numbers(t, "belt_drift", sprung)
	near(t, "sprung change", m("change"), n("change")*m("sensitivity"), 1e-12)
	near(t, "sensitivity", m("sensitivity"), 1/(1+4*15e3/(0.8*2000)), 1e-12)
	near(t, "travel against force", m("idler_travel")*2000, 2*m("change"), 1e-12)
	// Limits of the spring: stiff is rigid, soft keeps the tension.
	stiff, _ := numbers(t, "belt_drift", sprung.with("spring_rate", 1e12))
	near(t, "stiff spring", stiff("change"), n("change"), 1e-6)
	soft, _ := numbers(t, "belt_drift", sprung.with("spring_rate", 1e-3))
	if soft("change") > 1e-4 {
		t.Errorf("a soft spring changes the tension by %g N", soft("change"))
	}

	// No change of temperature, no change of tension; one material, no change either.
	same, _ := numbers(t, "belt_drift", cold.with("belt_hot", 293.15, "frame_hot", 293.15))
	if same("change") != 0 {
		t.Errorf("change %g at the temperature of setting", same("change"))
	}
	one, _ := numbers(t, "belt_drift", cold.with("cord_expansion", 23e-6, "pulley_expansion", 23e-6, "pulley_hot", 333.15))
	if math.Abs(one("change")) > 1e-9 {
		t.Errorf("one material for all changes the tension by %g N", one("change"))
	}
	// A hot belt on a cold frame loosens if it expands.
	loose, _ := numbers(t, "belt_drift", cold.with("cord_expansion", 12e-6, "frame_hot", 293.15))
	if loose("change") >= 0 {
		t.Error("a steel belt hotter than its frame should loosen")
	}
	// Other growth counts at both strands; compliance adds.
	other, _ := numbers(t, "belt_drift", cold.with("other_growth", 10e-6))
	near(t, "other growth", other("hot")-n("hot"), 20e-6*15e3/0.8, 1e-9)
	bent, _ := numbers(t, "belt_drift", cold.with("extra_compliance", 0.8/15e3))
	near(t, "as compliant as the belt", bent("change"), n("change")/2, 1e-12)

	found(t, "belt_drift", "set_tension", cold.with("cord_expansion", 200e-6))
	slack, _ := numbers(t, "belt_drift", cold.with("cord_expansion", 200e-6))
	if slack("hot") != 0 || slack("slack") != 1 || slack("change") != -40 {
		t.Error("a slack belt has no tension")
	}
	found(t, "belt_drift", "belt_hot", cold.with("belt_hot", 393.15))
	found(t, "belt_drift", "stiffness", cold.with("stiffness", 5e3))

	refused(t, "belt_drift", "centre_distance", cold.with("centre_distance", 0.4))
	refused(t, "belt_drift", "stiffness", cold.with("stiffness", 0.0))
	refused(t, "belt_drift", "loop_length", cold.with("loop_length", -0.8))
	refused(t, "belt_drift", "cord_expansion", cold.with("cord_expansion", math.NaN()))
	refused(t, "belt_drift", "spring_rate", cold.with("spring_rate", 2000.0))
	refused(t, "belt_drift", "pulley_hot", cold.with("pulley_hot", 333.15))
	refused(t, "belt_drift", "idler_wrap", sprung.with("idler_wrap", 2*math.Pi))
	refused(t, "belt_drift", "frame_expansion", cold.with("frame_expansion", nil))
}

func TestBeltFrequency(t *testing.T) {
	a := given{"tension": 40.0, "mass_per_length": 0.012, "span": 0.35}
	n, _ := numbers(t, "belt_frequency", a)
	near(t, "no stiffness", n("frequency"), n("string"), 0)
	twice, _ := numbers(t, "belt_frequency", a.with("tension", 160.0))
	near(t, "four times the tension", twice("string"), 2*n("string"), 1e-12)
	a = a.with("bending_stiffness", 0.01)
	b, _ := numbers(t, "belt_frequency", a)
	step, _ := numbers(t, "belt_frequency", a.with("tension", 40.001))
	near(t, "per newton", (step("frequency")-b("frequency"))/0.001, b("per_newton"), 1e-4)

	// A pinned beam without tension is the other limit of the formula.
	check(t, "belt_frequency", "no tension: a pinned beam", "independent: the eigenvalue of a pinned beam", SpanFrequency(1e-12, 0.012, 0.35, 0.01), BeamFrequency(PinnedPinned, 1, 0.01, 0.012, 0.35), 1e-9)

	back, _ := numbers(t, "belt_tension", given{"frequency": b("frequency"), "mass_per_length": 0.012, "span": 0.35, "bending_stiffness": 0.01})
	near(t, "there and back", back("tension"), 40, 1e-12)
	refused(t, "belt_tension", "frequency", given{"frequency": 1.0, "mass_per_length": 0.012, "span": 0.35, "bending_stiffness": 0.01})
	refused(t, "belt_frequency", "span", a.with("span", 0.0))
	refused(t, "belt_frequency", "tension", a.with("tension", math.Inf(1)))
}

func TestBeltGeometry(t *testing.T) {
	// Length by summing straight pieces along the outline, an independent route.
	d, D, C := 0.02, 0.05, 0.2
	l, err := BeltLength(d, D, C)
	if err != nil {
		t.Fatal(err)
	}
	s := (D - d) / (2 * C)
	outline := func(theta float64) (x, y float64) { // support point of the hull in direction theta
		c := math.Cos(theta)
		if c > -s { // the larger pulley, at C, lies further out: C cos + D/2 > d/2
			return C + D/2*c, D / 2 * math.Sin(theta)
		}
		return d / 2 * c, d / 2 * math.Sin(theta)
	}
	const n = 400000
	sum := 0.0
	px, py := outline(0)
	for i := 1; i <= n; i++ {
		x, y := outline(2 * math.Pi * float64(i) / n)
		sum += math.Hypot(x-px, y-py)
		px, py = x, y
	}
	check(t, "belt_length", "unequal pulleys", "independent: length of the hull of two circles, summed in 400 000 pieces", l.Length, sum, 1e-6)
	near(t, "wraps make a turn", l.Small+l.Large, 2*math.Pi, 1e-15)
	m, _ := BeltLength(D, d, C)
	if m != l {
		t.Error("the order of the pulleys matters")
	}
	for _, C := range []float64{0.0351, 0.04, 0.2, 3} {
		l, _ := BeltLength(d, D, C)
		back, err := BeltCentres(d, D, l.Length)
		if err != nil {
			t.Error(err)
		}
		near(t, "centres", back, C, 1e-12)
	}

	a := given{"pitch": 2e-3, "teeth_1": 20.0, "teeth_2": 20.0, "belt_teeth": 400.0}
	c, _ := numbers(t, "belt_centres", a)
	near(t, "equal pulleys", c("centre_distance"), 0.38, 1e-14)
	near(t, "wrap", c("wrap"), math.Pi, 1e-15)
	more, _ := numbers(t, "belt_centres", a.with("belt_teeth", 401.0))
	near(t, "per tooth", more("centre_distance")-c("centre_distance"), c("per_tooth"), 1e-9)
	length, _ := numbers(t, "belt_length", given{"pitch": 2e-3, "teeth_1": 20.0, "teeth_2": 20.0, "centre_distance": 0.3803})
	near(t, "teeth", length("teeth"), 400.3, 1e-12)
	near(t, "whole teeth", length("whole_teeth"), 400, 0)

	refused(t, "belt_centres", "belt_teeth", a.with("belt_teeth", 30.0))
	refused(t, "belt_centres", "belt_teeth", a.with("belt_teeth", 400.5))
	refused(t, "belt_centres", "teeth_1", a.with("teeth_1", 0.0))
	refused(t, "belt_length", "centre_distance", given{"pitch": 2e-3, "teeth_1": 20.0, "teeth_2": 20.0, "centre_distance": 0.012})
	found(t, "belt_centres", "teeth_1", a.with("teeth_1", 8.0))
}

func TestBeltDrive(t *testing.T) {
	a := given{"drive_force": 20.0, "set_tension": 40.0, "hot_tension": 60.0, "pitch": 2e-3, "teeth_1": 20.0, "teeth_2": 20.0, "centre_distance": 0.38, "allowable_tension": 140.0}
	n, out := numbers(t, "belt_drive", a)
	if len(out) > 0 {
		t.Errorf("findings: %v", out)
	}
	near(t, "equal pulleys: twice the rest tension", n("shaft_cold"), 80, 1e-12)
	near(t, "hot", n("shaft_hot"), 120, 1e-12)
	near(t, "use", n("utilisation"), 0.5, 1e-12)
	near(t, "mesh", n("teeth_in_mesh"), 10, 1e-12)
	near(t, "torque", n("torque"), 20*0.02*2/math.Pi/2, 1e-12)
	near(t, "torque balance", (n("tight_hot")-n("slack_hot"))*2e-3*20/(2*math.Pi), n("torque"), 1e-12)
	found(t, "belt_drive", "set_tension", a.with("drive_force", 90.0))
	found(t, "belt_drive", "teeth_1", a.with("teeth_1", 10.0))
	over, _ := numbers(t, "belt_drive", a.with("drive_force", 200.0))
	if over("slack_cold") != 0 || over("tight_cold") != 200 {
		t.Error("a hanging strand leaves the drive force to the other")
	}
	// wraps of both pulleys make a turn
	small, _ := numbers(t, "belt_drive", a.with("teeth_2", 40.0))
	large, _ := numbers(t, "belt_drive", a.with("teeth_1", 40.0))
	near(t, "wraps", small("wrap")+large("wrap"), 2*math.Pi, 1e-12)
	if !(small("wrap") < math.Pi) {
		t.Error("the smaller pulley has the smaller wrap")
	}
	refused(t, "belt_drive", "allowable_tension", a.with("allowable_tension", 0.0))
	refused(t, "belt_drive", "drive_force", a.with("drive_force", -1.0))
}

// TestScaling changes all lengths of a model alike: results must follow their
// dimensions.
func TestScaling(t *testing.T) {
	l, _ := BeltLength(0.02, 0.05, 0.2)
	k, _ := BeltLength(20, 50, 200)
	near(t, "length", k.Length, 1000*l.Length, 1e-12)
	near(t, "angle", k.Small, l.Small, 1e-15)
}

func TestRefusalsAreArgumentErrors(t *testing.T) {
	_, err := BeltLength(1, 1, 0.5)
	var e *ArgError
	if !errors.As(err, &e) || !strings.Contains(err.Error(), "overlap") {
		t.Errorf("got %v", err)
	}
}
