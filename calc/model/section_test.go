package model

import (
	"math"
	"testing"
)

func TestSectionPublished(t *testing.T) {
	check(t, "section_round", "20 mm, second moment", "bissoy.com 376154 (seen)", Round(0.020).I, 7.855e-9, 2e-4)
	check(t, "section_rectangle", "2 by 1 in, weak axis", "Gere, Mechanics of Materials, sol. 11.5-1 (seen)", Rectangle(2*inch, 1*inch).I/math.Pow(inch, 4), 0.16667, 3e-5)
	tube, err := RoundTube(0.100, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "section_round_tube", "100/90 mm, second moment", "Gere, Mechanics of Materials, sol. 11.4-8 (seen)", tube.I*1e12, 1688e3, 0.5/1688)
	// Torsion of rectangles: the table of coefficients in every textbook.
	const coefficients = "Timoshenko and Goodier, Theory of Elasticity, art. 109, table of k₁ (from memory)"
	for _, c := range []struct{ ratio, want float64 }{{1, 0.1406}, {1.5, 0.196}, {2, 0.229}, {3, 0.263}, {5, 0.291}, {10, 0.312}} {
		check(t, "section_rectangle", "torsion, sides 1 to "+show(c.ratio, "1"), coefficients, Rectangle(c.ratio, 1).Torsion/c.ratio, c.want, 0.003)
	}
	near(t, "torsion does not know which way is up", Rectangle(3, 1).Torsion, Rectangle(1, 3).Torsion, 1e-15)
}

// grid integrates over a section given as a test of points.
func grid(inside func(x, y float64) bool, w, h float64) (area, I float64) {
	const n = 2000
	da := w * h / (n * n)
	for i := range n {
		y := h * ((float64(i)+0.5)/n - 0.5)
		for j := range n {
			x := w * ((float64(j)+0.5)/n - 0.5)
			if inside(x, y) {
				area += da
				I += y * y * da
			}
		}
	}
	return area, I
}

func TestSectionsByCounting(t *testing.T) {
	const source = "independent: section counted on a grid of 2000 by 2000"
	rect, err := RectangularTube(0.03, 0.05, 0.003)
	if err != nil {
		t.Fatal(err)
	}
	round, err := RoundTube(0.02, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		model  string
		s      Section
		w, h   float64
		inside func(x, y float64) bool
	}{
		{"section_rectangle", Rectangle(0.03, 0.05), 0.03, 0.05, func(x, y float64) bool { return true }},
		{"section_rectangular_tube", rect, 0.03, 0.05, func(x, y float64) bool { return math.Abs(x) > 0.012 || math.Abs(y) > 0.022 }},
		{"section_round", Round(0.02), 0.02, 0.02, func(x, y float64) bool { return x*x+y*y < 1e-4 }},
		{"section_round_tube", round, 0.02, 0.02, func(x, y float64) bool { r := x*x + y*y; return r < 1e-4 && r > 64e-6 }},
	} {
		A, I := grid(c.inside, c.w, c.h)
		check(t, c.model, "area", source, c.s.Area, A, 1e-4)
		check(t, c.model, "second moment", source, c.s.I, I, 1e-4)
		near(t, "modulus", c.s.Modulus*c.h/2, c.s.I, 1e-12)
		near(t, "gyration", c.s.Gyration*c.s.Gyration*c.s.Area, c.s.I, 1e-12)
	}
	// Torsion of a square tube: t a³ for a midline of side a; of an oblong one,
	// the membrane's volume over the hole and the walls.
	square, err := RectangularTube(0.041, 0.041, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "square tube", square.Torsion, 0.001*math.Pow(0.040, 3), 1e-12)
	Am, um := 0.027*0.047, 2*(0.027+0.047)
	near(t, "oblong tube", rect.Torsion, 4*Am*Am*0.003/um, 1e-12)
	// A thin tube: Bredt's formula meets the exact one.
	thin, _ := RoundTube(0.1, 0.0005)
	near(t, "thin tube", thin.Torsion, math.Pi*math.Pow(0.0995, 3)*0.0005/4, 1e-4)
}

func TestSections(t *testing.T) {
	n, _ := numbers(t, "section_round_tube", given{"diameter": 0.02, "wall": 0.002})
	solid, _ := numbers(t, "section_round", given{"diameter": 0.02})
	bore, _ := numbers(t, "section_round", given{"diameter": 0.016})
	near(t, "a tube is a bar less a bar", n("second_moment"), solid("second_moment")-bore("second_moment"), 1e-12)
	refused(t, "section_round_tube", "wall", given{"diameter": 0.02, "wall": 0.01})
	refused(t, "section_rectangular_tube", "wall", given{"width": 0.02, "height": 0.04, "wall": 0.01})
	refused(t, "section_rectangle", "height", given{"width": 0.02, "height": -0.04})
	refused(t, "section_round", "diameter", given{"diameter": math.NaN()})
	q, _ := numbers(t, "section_rectangular_tube", given{"width": 0.02, "height": 0.04, "wall": 0.002})
	r, _ := numbers(t, "section_rectangle", given{"width": 0.02, "height": 0.04})
	if q("second_moment") >= r("second_moment") {
		t.Error("a tube is softer than the bar of its size")
	}
	refused(t, "rounded_rectangle", "corner_radius", given{"width": 0.2, "depth": 0.1, "corner_radius": 0.06})
	p, _ := numbers(t, "rounded_rectangle", given{"width": 0.2, "depth": 0.1, "corner_radius": 0.0})
	near(t, "sharp", p("area"), 0.02, 1e-12)

	c := given{"length": 0.5, "area": 0.0004, "second_moment": 0.02 * 8e-6 / 12, "modulus": 70e9, "yield_strength": 150e6, "ends": "pinned-pinned"}
	col, _ := numbers(t, "column", c)
	free, _ := numbers(t, "column", c.with("ends", "fixed-free"))
	near(t, "a quarter", free("euler"), col("euler")/4, 1e-12)
	refused(t, "column", "second_moment", c.with("second_moment", 0.0))

	// Buckling by differences: the smallest P for which E I w⁗ + P w″ = 0 has a
	// shape, found by stepping along the column (shooting) for a fixed-pinned one.
	shoot := func(P float64) float64 { // w at the pinned end of a column fixed at 0, with zero moment there
		const n = 20000
		h := 1.0 / n
		// w″ = -P w - V x + M with E I = 1; by superposition of M = 1, V = 0 and M = 0, V = 1
		end := func(M, V float64) (w, m float64) {
			var y, s float64
			for i := range n {
				x := float64(i) * h
				a := M - V*x - P*y
				ym, sm := y+h/2*s, s+h/2*a
				am := M - V*(x+h/2) - P*ym
				y, s = y+h*sm, s+h*am
			}
			return y, M - V - P*y
		}
		w1, m1 := end(1, 0)
		w2, m2 := end(0, 1)
		return w1*m2 - w2*m1
	}
	lo, hi := 15.0, 25.0
	for range 50 {
		mid := (lo + hi) / 2
		if shoot(lo)*shoot(mid) <= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	check(t, "column", "fixed-pinned factor", "independent: bending equation of a column integrated and its load searched", bucklingFactors[FixedPinned]*math.Pi*math.Pi, lo, 1e-6)
}
