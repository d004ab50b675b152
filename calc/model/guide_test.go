package model

import (
	"math"
	"testing"
)

func TestBeamPublished(t *testing.T) {
	for _, c := range []struct{ F, want, rel float64 }{{1000, 1.60e-3, 0.005 / 1.60}, {9375, 15.04e-3, 0.005 / 15.04}} {
		b := Beam{Length: 3, Stiffness: 210e9 * 167e-8, Ends: PinnedPinned, Load: c.F, At: 1.5}
		_, w := b.LargestDeflection()
		check(t, "beam_sag", "simply supported, "+show(c.F, "N")+" in the middle", "beam calculator, pickedshares.com (seen)", w, c.want, c.rel)
	}
	const exam = "cantilever of a licence examination, 2018, MATHalino (options seen, not the key)"
	cant := Beam{Length: 3.5, Stiffness: 200e9 * 60.8e-6, Ends: FixedFree, Load: 200e3, At: 1.75}
	check(t, "beam_sag", "cantilever, at a load in the middle", exam, cant.Deflection(1.75), 29.40e-3, 0.001)
	tip := cant
	tip.Load, tip.At = 1, 3.5
	check(t, "beam_sag", "cantilever, tip force that cancels the tip's deflection", exam, cant.Deflection(3.5)/tip.Deflection(3.5), 62.5e3, 0.05/62.5)
	check(t, "beam_sag", "cantilever, tip force that limits the middle to 9.5 mm", exam, (cant.Deflection(1.75)-9.5e-3)/tip.Deflection(1.75), 54.1e3, 0.05/54.1)

	// Frequencies of a light shaft with one mass, 0.4985/√δ Hz.
	for _, c := range []struct {
		name         string
		ends         Ends
		d, L, a, m   float64
		want, rel, E float64
	}{
		{"ill. 11.2, simply supported", PinnedPinned, 0.060, 0.9, 0.6, 100, 51.9, 0.0015, 200e9},
		{"ill. 11.3, fixed-fixed", FixedFixed, 0.050, 1.5, 0.9, 450, 14.916, 0.001, 200e9},
		{"ill. 11.1, cantilever", FixedFree, 0.100, 1.1, 1.1, 450 / 9.81, 34.99, 0.001, 200e9},
	} {
		b := Beam{Length: c.L, Stiffness: c.E * Round(c.d).I, Ends: c.ends, Load: c.m * 9.81, At: c.a}
		check(t, "shaft_sag", c.name, "Sarkar, Theory of Machines, recomputed companion, which takes π as 3.147 (seen)", 0.4985/math.Sqrt(b.Deflection(c.a)), c.want, c.rel)
	}
}

// TestBeamTable compares the elastic line with the closed formulas of the
// tables of beams.
func TestBeamTable(t *testing.T) {
	const (
		L, EI, F, q = 0.4, 66.0, 20.0, 5.0
		roark       = "Roark, Formulas for Stress and Strain, Table 8.1 (from memory; fixed-fixed seen at engineeringtoolbox.com, d 809)"
	)
	for _, a := range []float64{0.05, 0.2, 0.3} {
		b := L - a
		far, nearEnd := max(a, b), min(a, b)
		at := func(ends Ends) Beam { return Beam{Length: L, Stiffness: EI, Ends: ends, Load: F, At: a} }
		name := ", load at " + show(a, "m")
		check(t, "beam_sag", "pinned-pinned at the load"+name, roark, at(PinnedPinned).Deflection(a), F*a*a*b*b/(3*EI*L), 1e-12)
		_, w := at(PinnedPinned).LargestDeflection()
		check(t, "beam_sag", "pinned-pinned largest"+name, roark, w, F*nearEnd*math.Pow(L*L-nearEnd*nearEnd, 1.5)/(9*math.Sqrt(3)*EI*L), 1e-12)
		check(t, "beam_sag", "fixed-fixed at the load"+name, roark, at(FixedFixed).Deflection(a), F*math.Pow(a*b/L, 3)/(3*EI), 1e-12)
		_, w = at(FixedFixed).LargestDeflection()
		check(t, "beam_sag", "fixed-fixed largest"+name, roark, w, 2*F*math.Pow(far, 3)*nearEnd*nearEnd/(3*EI*math.Pow(3*far+nearEnd, 2)), 1e-12)
		check(t, "beam_sag", "cantilever tip"+name, roark, at(FixedFree).Deflection(L), F*a*a*(3*L-a)/(6*EI), 1e-12)
		check(t, "beam_sag", "cantilever moment"+name, roark, at(FixedFree).LargestMoment(), -F*a, 1e-12)
	}
	for _, c := range []struct {
		ends   Ends
		w, rel float64
		m      float64
	}{
		{PinnedPinned, 5. / 384, 1e-12, 1. / 8},
		{FixedFixed, 1. / 384, 1e-12, -1. / 12},
		{FixedFree, 1. / 8, 1e-12, -1. / 2},
		{FixedPinned, 1. / 184.6, 0.05 / 184.6, -1. / 8},
	} {
		b := Beam{Length: L, Stiffness: EI, Ends: c.ends, Uniform: q}
		x, w := b.LargestDeflection()
		check(t, "beam_sag", "uniform load, "+string(c.ends), roark, w/(q*math.Pow(L, 4)/EI), c.w, c.rel)
		check(t, "beam_sag", "moment of a uniform load, "+string(c.ends), roark, b.LargestMoment()/(q*L*L), c.m, 1e-12)
		if c.ends == FixedPinned {
			check(t, "beam_sag", "its place, from the pinned end", roark, 1-x/L, 0.4215, 2e-4)
		}
	}
}

// TestBeamByDifferences solves E I w”” = q + F δ(x - a) on a grid, without the
// closed solution.
func TestBeamByDifferences(t *testing.T) {
	const n = 400
	for _, ends := range beamEnds {
		b := Beam{Length: 1, Stiffness: 2, Ends: ends, Load: 3, At: 0.3, Uniform: 4}
		h := 1.0 / n
		// Unknown is w at the nodes 0…n and two ghosts beyond either end.
		N := n + 5 // index i+2 is node i, i from -2 to n+2
		A := make([][]float64, N)
		for i := range A {
			A[i] = make([]float64, N+1)
		}
		row := func(r int, at int, c ...float64) {
			for k, v := range c {
				A[r][at+2+k] = v
			}
		}
		// The ends: two conditions each, and the field equation at every node
		// but those held; a ghost that nothing needs is set to zero.
		held := func(r, node, inward int, fixed bool) { // w = 0 and w' or w'' = 0
			A[r][node+2] = 1
			if fixed {
				A[r+1][node+2+inward], A[r+1][node+2-inward] = 1, -1
			} else {
				A[r+1][node+2+inward], A[r+1][node+2], A[r+1][node+2-inward] = 1, -2, 1
			}
			A[r+2][node+2-2*inward] = 1
		}
		held(0, 0, 1, ends != PinnedPinned)
		if ends == FixedFree {
			row(3, n-1, 1, -2, 1)
			row(4, n-2, -1, 2, 0, -2, 1)
		} else {
			held(3, n, -1, ends == FixedFixed)
		}
		r := 6
		last := n - 1
		if ends == FixedFree {
			r, last = 5, n
		}
		for i := 1; i <= last; i++ {
			row(r, i-2, 1, -4, 6, -4, 1)
			load := b.Uniform
			if i == int(math.Round(b.At*n)) {
				load += b.Load / h
			}
			A[r][N] = load * h * h * h * h / b.Stiffness
			r++
		}
		if r != N {
			t.Fatalf("%d rows for %d unknowns", r, N)
		}
		w := eliminate(A)
		for _, i := range []int{n / 4, n / 2, 3 * n / 4} {
			check(t, "beam_sag", string(ends)+" by differences, at "+show(float64(i)*h, "m"), "independent: E I w'''' = q solved by finite differences, 400 nodes",
				b.Deflection(float64(i)*h), w[i+2], 1e-4)
		}
	}
}

// eliminate is Gaussian elimination with pivoting on an augmented matrix.
func eliminate(A [][]float64) []float64 {
	n := len(A)
	for k := range n {
		p := k
		for i := k; i < n; i++ {
			if math.Abs(A[i][k]) > math.Abs(A[p][k]) {
				p = i
			}
		}
		A[k], A[p] = A[p], A[k]
		for i := k + 1; i < n; i++ {
			if f := A[i][k] / A[k][k]; f != 0 {
				for j := k; j <= n; j++ {
					A[i][j] -= f * A[k][j]
				}
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		s := A[i][n]
		for j := i + 1; j < n; j++ {
			s -= A[i][j] * x[j]
		}
		x[i] = s / A[i][i]
	}
	return x
}

func TestBeamProperties(t *testing.T) {
	for _, ends := range beamEnds {
		b := Beam{Length: 0.4, Stiffness: 66, Ends: ends, Load: 20, At: 0.13, Uniform: 5}
		// Maxwell: the deflection at y of a load at x is that at x of a load at y.
		x, y := 0.13, 0.31
		p, q := b, b
		p.Uniform, q.Uniform, q.At = 0, 0, y
		near(t, "reciprocity, "+string(ends), p.Deflection(y), q.Deflection(x), 1e-12)
		// superposition
		u := b
		u.Load = 0
		near(t, "superposition, "+string(ends), b.Deflection(0.2), p.Deflection(0.2)+u.Deflection(0.2), 1e-12)
		// twice the stiffness, half the deflection; all lengths doubled, eight times
		d := b
		d.Stiffness *= 2
		near(t, "stiffness, "+string(ends), d.Deflection(0.2), b.Deflection(0.2)/2, 1e-12)
		k := p
		k.Length, k.At = 0.8, 0.26
		near(t, "scale, "+string(ends), k.Deflection(0.4), 8*p.Deflection(0.2), 1e-12)
		// slope and moment are the derivatives
		h := 1e-5
		near(t, "slope, "+string(ends), (b.Deflection(0.2+h)-b.Deflection(0.2-h))/(2*h), b.Slope(0.2), 1e-6)
		near(t, "moment, "+string(ends), -66*(b.Slope(0.2+h)-b.Slope(0.2-h))/(2*h), b.Moment(0.2), 1e-6)
		// nothing deflects more than the largest
		_, w := b.LargestDeflection()
		for i := range 1001 {
			if b.Deflection(0.4*float64(i)/1000) > w*(1+1e-12) {
				t.Fatalf("%s: more than the largest at %d", ends, i)
			}
		}
	}
	// Work done by the load is the energy of bending.
	b := Beam{Length: 0.4, Stiffness: 66, Ends: FixedPinned, Load: 20, At: 0.13}
	energy := 0.0
	const n = 100000
	for i := range n {
		m := b.Moment(0.4 * (float64(i) + 0.5) / n)
		energy += m * m / (2 * 66) * 0.4 / n
	}
	check(t, "beam_sag", "fixed-pinned at the load", "independent: work of the load equals the energy of bending, summed in 100 000 pieces", b.Deflection(0.13), 2*energy/20, 1e-6)
	if !math.IsNaN((Beam{Length: 1, Stiffness: 1, Ends: FreeFree, Load: 1}).Deflection(0.5)) {
		t.Error("a beam held nowhere has a deflection")
	}
}

func TestShaftSag(t *testing.T) {
	a := given{"length": 0.35, "diameter": 0.010, "modulus": steel, "ends": "pinned-pinned", "load": 15.0, "at": 0.175, "density": 7850.0}
	n, out := numbers(t, "shaft_sag", a)
	if len(out) > 0 {
		t.Errorf("findings: %v", out)
	}
	I := math.Pi * 1e-8 / 64
	own := 5 * 7850 * 9.80665 * math.Pi * 25e-6 * math.Pow(0.35, 4) / (384 * steel * I)
	near(t, "own weight", n("own"), own, 1e-12)
	near(t, "in the middle all add", n("maximum"), own+15*math.Pow(0.35, 3)/(48*steel*I), 1e-12)
	near(t, "its place", n("maximum_at"), 0.175, 1e-9)
	near(t, "stiffness", n("stiffness"), 48*steel*I/math.Pow(0.35, 3), 1e-12)
	near(t, "stress", n("stress"), n("moment")*0.005/I, 1e-12)
	plain, _ := numbers(t, "shaft_sag", a.with("density", nil))
	if plain("own") != 0 {
		t.Error("own weight without a density")
	}
	beam, _ := numbers(t, "beam_sag", given{"length": 0.35, "modulus": steel, "second_moment": I, "ends": "pinned-pinned", "load": 15.0, "at": 0.175})
	near(t, "as a beam", beam("maximum"), plain("maximum"), 1e-12)
	thick, _ := numbers(t, "shaft_sag", a.with("diameter", 0.016, "density", nil))
	r, _ := numbers(t, "stiffness_ratio", given{"diameter_1": 0.010, "diameter_2": 0.016})
	near(t, "ratio", thick("stiffness")/plain("stiffness"), r("stiffness"), 1e-12)
	near(t, "16 mm against 10 mm", r("stiffness"), 6.5536, 1e-12)
	near(t, "mass", r("mass"), 2.56, 1e-12)
	refused(t, "stiffness_ratio", "diameter_1", given{"diameter_1": 0.0, "diameter_2": 0.016})

	found(t, "shaft_sag", "length", a.with("length", 0.09, "at", 0.05))
	found(t, "shaft_sag", "load", a.with("load", 1e4))
	refused(t, "shaft_sag", "at", a.with("at", 0.36))
	refused(t, "shaft_sag", "at", a.with("at", 0.35))
	refused(t, "shaft_sag", "length", a.with("length", -0.35))
	refused(t, "shaft_sag", "modulus", a.with("modulus", 0.0))
	refused(t, "shaft_sag", "load", a.with("load", math.NaN()))
	tip, _ := numbers(t, "shaft_sag", a.with("ends", "fixed-free", "at", 0.35))
	if !(tip("maximum") > n("maximum")) {
		t.Error("a cantilever sags more")
	}
}

func TestBearingLife(t *testing.T) {
	a := given{"dynamic_rating": 16e3, "loads": 2e3, "speeds": 100 * rpm, "shares": 1.0, "elements": "balls"}
	n, _ := numbers(t, "rotary_bearing_life", a)
	check(t, "rotary_bearing_life", "16 to 2 kN", "sarthaks.com 2642436 (seen)", n("revolutions"), 512e6, 1e-12)
	n, _ = numbers(t, "rotary_bearing_life", a.with("dynamic_rating", 41e3, "loads", 20e3, "speeds", 720*rpm))
	check(t, "rotary_bearing_life", "41 to 20 kN at 720 turns a minute", "Jindal, Machine Design, ex. 18-4 (recomputed companion, seen)", n("life")/hours, 199.424, 2e-6)
	n, _ = numbers(t, "rotary_bearing_life", a.with("dynamic_rating", 35e3, "loads", []float64{5400, 2000, 1000}, "speeds", []float64{150 * rpm, 200 * rpm, 750 * rpm}, "shares", []float64{0.3, 0.5, 0.2}))
	check(t, "rotary_bearing_life", "three parts of a duty", "Analysis and Design of Machine Elements, ex. 11.4 (seen)", n("life")/hours, 88924, 6e-6)
	n, _ = numbers(t, "rotary_bearing_life", a.with("dynamic_rating", 5590.0, "loads", 0.56*1250+1.2*625))
	check(t, "rotary_bearing_life", "radial and axial load", "Jindal, Machine Design, ex. 18-2 (recomputed companion, seen)", n("revolutions"), 57.3e6, 0.05/57.3)
	r, _ := numbers(t, "rotary_bearing_life", a.with("elements", "rollers"))
	near(t, "rollers", r("revolutions"), math.Pow(8, 10.0/3)*1e6, 1e-12)
	found(t, "rotary_bearing_life", "loads", a.with("loads", 9e3))
	refused(t, "rotary_bearing_life", "speeds", a.with("speeds", 0.0))

	l := given{"dynamic_rating": 500.0, "rating_distance": 100e3, "load": 50.0, "elements": "balls", "stroke": 0.3, "cycles": 0.1}
	n, _ = numbers(t, "linear_bearing_life", l)
	near(t, "distance", n("distance"), 1e8, 1e-12)
	near(t, "life", n("life"), 1e8/0.06, 1e-12)
	// The same bearing rated for half the distance has a rating larger by the cube root of two.
	m, _ := numbers(t, "linear_bearing_life", l.with("rating_distance", 50e3, "dynamic_rating", 500*math.Cbrt(2)))
	near(t, "rated for 50 km", m("distance"), n("distance"), 1e-12)
	found(t, "linear_bearing_life", "load", l.with("load", 300.0))
	found(t, "linear_bearing_life", "rating_distance", l.with("rating_distance", 1e6))
	refused(t, "linear_bearing_life", "load", l.with("load", 0.0))

	b, _ := numbers(t, "bearing_moment", given{"force": 20.0, "offset": 0.06, "spacing": 0.04, "direct": 10.0})
	near(t, "moment", b("first")*0.02-b("second")*0.02, b("moment"), 1e-12)
	near(t, "sum", b("first")+b("second"), 10, 1e-12)
	near(t, "largest", b("largest"), 35, 1e-12)
	refused(t, "bearing_moment", "spacing", given{"force": 20.0, "offset": 0.06, "spacing": 0.0})
}

func TestRacking(t *testing.T) {
	_, jam := Racking{Spacing: 6 * inch, Friction: 0.25}.Binding()
	check(t, "racking", "bracket on a pipe", "Beer and Johnston, Vector Mechanics for Engineers, bracket on a 3 in pipe (seen)", jam/inch, 12, 1e-12)
	_, jam = Racking{Spacing: 1 * inch, Friction: 0.1}.Binding()
	check(t, "racking", "slider", "chegg q3459574 (seen)", jam/inch, 5, 1e-12)

	a := given{"spacing": 0.05, "friction": 0.2, "drive_offset": 0.1, "clearance": 0.05e-3, "arm": 0.3}
	n, _ := numbers(t, "racking", a)
	near(t, "binding", n("binding"), 0.8, 1e-12)
	near(t, "side", n("side_error"), 0.3e-3, 1e-12)
	if n("jams") != 0 {
		t.Error("0.8 does not jam")
	}
	m, _ := numbers(t, "racking", a.with("drive_offset", -0.13))
	if m("jams") != 1 {
		t.Error("1.04 jams, on either side")
	}
	refused(t, "racking", "friction", a.with("friction", 0.0))

	f := given{"spacing": 0.05, "friction": 0.2, "drive_offset": 0.1, "resistance": 4.0, "resistance_offset": 0.0, "axis_friction": 1.0}
	n, _ = numbers(t, "racking_force", f)
	near(t, "amplified by 1/(1 - B)", n("force"), 5/(1-0.8), 1e-12)
	near(t, "balance", n("force"), 5+0.4*n("bearing_load"), 1e-12)
	n, _ = numbers(t, "racking_force", f.with("resistance_offset", 0.1, "axis_friction", 0.0))
	near(t, "pulled where it resists: no moment", n("force"), 4, 1e-12)
	// The resistance turns the carriage more than the drive does, on either side.
	for _, side := range []float64{0.1, -0.1} {
		n, _ = numbers(t, "racking_force", f.with("drive_offset", 0.0, "resistance_offset", side))
		near(t, "pulled in the axis", n("force"), 5+0.4*4*0.1/0.05, 1e-12)
	}
	refused(t, "racking_force", "drive_offset", f.with("drive_offset", 0.125))
	refused(t, "racking_force", "drive_offset", f.with("drive_offset", -0.2))
	smooth, _ := numbers(t, "racking_force", f.with("friction", 0.0))
	near(t, "no friction", smooth("force"), 5, 1e-12)
}
