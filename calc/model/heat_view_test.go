package model

import (
	"fmt"
	"math"
	"testing"
)

func TestViewPublished(t *testing.T) {
	rect := func(a, b, gap float64) float64 {
		return value(t, called(t, "view_factor_rectangles", map[string]any{"a": a, "b": b, "gap": gap}), "factor")
	}
	check(t, "view_factor_rectangles", "RA6", "Siegel & Howell, Thermal Radiation Heat Transfer, 4th ed., p. 843 (value seen second-hand)", rect(1, 1.5, .5), .4756, 1e-4)
	check(t, "view_factor_rectangles", "RA7", "Incropera et al., table 13.2, as in an open test suite (seen)", rect(1, 1, 1), .1998, 3e-4)
	check(t, "view_factor_rectangles", "RA8", "Incropera et al., table 13.2, as in an open test suite (seen)", rect(10, 10, 1), .827, 6e-4)
	disks := called(t, "view_factor_disks", map[string]any{"radius": .1, "radius_to": .2, "gap": .5})
	check(t, "view_factor_disks", "RA10", "Siegel & Howell, 4th ed., p. 845 (value seen second-hand)", value(t, disks, "factor"), .1339, 4e-4)
	corner := called(t, "view_factor_corner", map[string]any{"edge": 1.0, "depth": 1.0, "rise": 1.0})
	check(t, "view_factor_corner", "RA12", "open test suite of view factors, perpendicular squares (seen)", value(t, corner, "factor"), .20004, 5e-5)

	// the mean of the element's factor over an equal rectangle
	mean := integrate(t, func(x float64) float64 {
		return integrate(t, func(y float64) float64 { return ViewElement(.1, .1, .05, x, y) }, -.05, .05, 1e-9)
	}, -.05, .05, 1e-8) / .01
	check(t, "view_factor_panel", "RA9", "Howell, Catalog, C-13: squares 0.1 m, gap 0.05 m (value seen second-hand), as the mean of the point's factor", mean, .4153, 2e-4)
	edge := integrate(t, func(y float64) float64 {
		o := called(t, "view_factor_panel", map[string]any{"a": 3.0, "b": 2.0, "gap": .5, "at_x": 1.5, "at_y": y})
		return value(t, o, "factor")
	}, -1, 1, 1e-9) / 2
	check(t, "view_factor_panel", "RA11", "Siegel & Howell, 4th ed., p. 842: strip below an edge, rectangle 3 x 2 m, gap 0.5 m (value seen second-hand), as the mean of the point's factor", edge, .3886, 2e-4)
	check(t, "view_factor_rectangles", "by points", "mean of the point's factor over the other rectangle (independent recomputation)",
		rect(3, 2, .5), integrate(t, func(x float64) float64 {
			return integrate(t, func(y float64) float64 { return ViewElement(3, 2, .5, x, y) }, -1, 1, 1e-9)
		}, -1.5, 1.5, 1e-8)/6, 1e-7)
	strip := called(t, "view_factor_strip", map[string]any{"edge_1": -.1, "edge_2": .1, "height": .1})
	check(t, "view_factor_strip", "45 degrees", "a strip seen under a right angle takes a quarter (derived)", value(t, strip, "factor"), .25, 1e-14)
}

func TestViewIndependent(t *testing.T) {
	// reciprocity, and the limits of endless surfaces by crossed strings
	near(t, "disks", .1*.1*ViewDisks(.1, .2, .5), .2*.2*ViewDisks(.2, .1, .5), 1e-13)
	near(t, "corner", .3*ViewCorner(1, .3, .7), .7*ViewCorner(1, .7, .3), 1e-12)
	const strings = "Hottel's crossed strings, endless surfaces (from memory)"
	check(t, "view_factor_corner", "endless", strings, ViewCorner(1e5, 1, 2), (1+2-math.Sqrt(5))/2, 1e-4)
	check(t, "view_factor_rectangles", "endless", strings, ViewRectangles(1e6, 1, 2), math.Sqrt(1+4)-2, 1e-5)
	near(t, "far disks", ViewDisks(1e-4, 1e-4, 1), 1e-8, 1e-7)
	// ring by ring: a point's factor to a disk by Lambert's law, over the other disk
	ring := integrate(t, func(p float64) float64 {
		return 2 * p / (.1 * .1) * integrate(t, func(q float64) float64 {
			// the angle integral of 1/(u - v cos a)^2 is 2 pi u/(u^2 - v^2)^(3/2)
			u, v := .25+p*p+q*q, 2*p*q
			return .25 / math.Pi * q * 2 * math.Pi * u / math.Pow(u*u-v*v, 1.5)
		}, 0, .2, 1e-12)
	}, 0, .1, 1e-11)
	check(t, "view_factor_disks", "quadrature", "quadrature of cos cos/(pi rho^2) over both disks (independent recomputation)", ViewDisks(.1, .2, .5), ring, 1e-9)
	// an element below a wide panel sees nothing else
	check(t, "view_factor_panel", "endless", "an endless panel fills the view (exact)", ViewElement(1e6, 1e6, 1, 0, 0), 1, 1e-9)
	// a point's factor against the integral of cos cos/(pi rho^2)
	for i, p := range [][2]float64{{0, 0}, {.1, -.05}, {.3, .2}} {
		want := integrate(t, func(x float64) float64 {
			return integrate(t, func(y float64) float64 {
				r2 := (x-p[0])*(x-p[0]) + (y-p[1])*(y-p[1]) + .01
				return .01 / (math.Pi * r2 * r2)
			}, -.1, .1, 1e-10)
		}, -.15, .15, 1e-9)
		o := called(t, "view_factor_panel", map[string]any{"a": .3, "b": .2, "gap": .1, "at_x": p[0], "at_y": p[1]})
		check(t, "view_factor_panel", fmt.Sprintf("quadrature %d", i), "quadrature of cos cos/(pi rho^2) over the panel (independent recomputation)", value(t, o, "factor"), want, 1e-8)
	}
	// perpendicular squares by quadrature over both
	direct := integrate(t, func(x float64) float64 { // sender on the floor at distance x from the edge
		return integrate(t, func(z float64) float64 { // receiver at height z
			return integrate(t, func(u float64) float64 { // u: difference along the edge; 2(1-u) pairs
				r2 := x*x + z*z + u*u
				return 2 * (1 - u) * x * z / (math.Pi * r2 * r2)
			}, 0, 1, 1e-7)
		}, 0, 1, 1e-6)
	}, 0, 1, 1e-5)
	check(t, "view_factor_corner", "quadrature", "quadrature of cos cos/(pi rho^2) over both squares (independent recomputation)", ViewCorner(1, 1, 1), direct, 1e-4)
	check(t, "view_factor_strip", "half", "all that goes down (derived)", ViewStrip(-1e9, 1e9, 1), .5, 1e-8)
	const digits = "the formula with 80 digits (independent recomputation)"
	for _, c := range []struct{ a, b, want float64 }{
		{1e-3, 1e-3, 3.1830967397738027e-7}, {1e-6, 1e-2, 3.1829927649071941e-9}, {1e-6, 1e6, 4.9999968168998879e-7},
		{1e4, 1e4, 0.99980007097778849}, {.05, 2, 0.017608496008209736},
	} {
		check(t, "view_factor_rectangles", show(c.a, "m")+" by "+show(c.b, "m")+" at 1 m", digits, ViewRectangles(c.a, c.b, 1), c.want, 1e-12)
	}
	check(t, "view_factor_strip", "far away", digits, ViewStrip(1e8, 1e8+1, .1), 1.5915494150034594e-18, 1e-9)
	for x := 1.0; x < 1e9; x *= 3 { // rounding must not make a negative view of it
		if f := ViewElement(.2, .2, .1, x, 0); !(f >= 0) {
			t.Errorf("a panel %g m away fills %g of the view", x, f)
		}
	}
	refused(t, "view_factor_rectangles", "gap", map[string]any{"a": 1.0, "b": 1.0, "gap": 0.0})
	refused(t, "view_factor_strip", "edge_2", map[string]any{"edge_1": 1.0, "edge_2": 1.0, "height": 1.0})
	refused(t, "view_factor_disks", "radius", map[string]any{"radius": -1.0, "radius_to": 1.0, "gap": 1.0})
	refused(t, "view_factor_corner", "rise", map[string]any{"edge": 1.0, "depth": 1.0, "rise": 0.0})
	refused(t, "view_factor_panel", "a", map[string]any{"a": 0.0, "b": 1.0, "gap": 1.0, "at_x": 0.0, "at_y": 0.0})
}
