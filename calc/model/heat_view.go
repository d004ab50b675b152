package model

import "math"

// ViewRectangles returns the share of the diffuse radiation of a rectangle
// that falls on an equal one directly opposite,
//
//	F = 2/(π X Y) { ½ ln[(1+X²)(1+Y²)/(1+X²+Y²)] + X √(1+Y²) atan(X/√(1+Y²))
//	    + Y √(1+X²) atan(Y/√(1+X²)) - X atan X - Y atan Y },  X = a/c, Y = b/c
//
//	a, b  sides, > 0                       m
//	c     distance of the planes, > 0      m
//	F     view factor, 0 to 1
//
// Exact for diffuse, uniform surfaces, to 1e-12 at any ratio of the sides: the
// differences of the formula are taken before they cancel, with √(1+Y²) = s by
// s - 1 = Y²/(s+1) and atan(X/s) - atan X = -atan((s-1)/(s/X+X)).
// Errors: none; the arguments must be positive.
// Source: Howell, A Catalog of Radiation Configuration Factors, C-11 (index
// seen); Incropera et al., Fundamentals of Heat and Mass Transfer, table 13.2.
func ViewRectangles(a, b, c float64) float64 {
	X, Y := a/c, b/c
	bracket := func(X, Y float64) float64 { // √(1+Y²) atan(X/√(1+Y²)) - atan X
		s := math.Hypot(1, Y)
		more := Y * (Y / (s + 1)) // s - 1
		return more*math.Atan(X/s) - math.Atan(more/(s/X+X))
	}
	r := X / math.Hypot(math.Hypot(1, X), Y) * Y
	return 2 / math.Pi * (0.5*math.Log1p(r*r)/X/Y + bracket(X, Y)/Y + bracket(Y, X)/X)
}

// ViewDisks returns the share of the diffuse radiation of a disk that falls on
// a coaxial, parallel one,
//
//	F = ½ {S - √(S² - 4 (r₂/r₁)²)},  S = 1 + (1 + R₂²)/R₁²,  R = r/h
//
//	r1, r2  radii, > 0                        m
//	h       distance of the planes, > 0       m
//	F       view factor from 1 to 2, 0 to 1
//
// Exact for diffuse, uniform surfaces.
// Errors: none; the arguments must be positive.
// Source: Howell, A Catalog of Radiation Configuration Factors, C-41 (index
// seen); Incropera et al., table 13.2.
func ViewDisks(r1, r2, h float64) float64 {
	R1, R2 := r1/h, r2/h
	S := 1 + (1+R2*R2)/(R1*R1)
	q := r2 / r1
	// ½(S - √(S²-4q²)) without its cancellation for a far disk
	return 2 * q * q / (S + math.Sqrt(S*S-4*q*q))
}

// ViewElement returns the share of the diffuse radiation of a small element
// that falls on a parallel rectangle, the element lying at (x, y) from the
// point opposite the rectangle's middle: the signed sum over the four corners of
//
//	F = 1/(2π) {A/√(1+A²) atan(B/√(1+A²)) + B/√(1+B²) atan(A/√(1+B²))},  A = a/c, B = b/c
//
// which belongs to a rectangle a by b with one corner opposite the element.
//
//	a, b  sides of the rectangle, > 0         m
//	c     distance of the planes, > 0         m
//	x, y  place of the element                m
//	F     view factor, 0 to 1; also the irradiance of the element by a panel of exitance 1
//
// Exact for diffuse, uniform surfaces; what is below 1e-12 loses its figures.
// Errors: none; a, b and c must be positive.
// Source: Howell, A Catalog of Radiation Configuration Factors, B-3 (index seen).
func ViewElement(a, b, c, x, y float64) float64 {
	corner := func(a, b float64) float64 {
		A, B := a/c, b/c
		sa, sb := math.Sqrt(1+A*A), math.Sqrt(1+B*B)
		return (A/sa*math.Atan(B/sa) + B/sb*math.Atan(A/sb)) / (2 * math.Pi)
	}
	x1, x2, y1, y2 := -a/2-x, a/2-x, -b/2-y, b/2-y // corner is odd in both
	return max(0, corner(x2, y2)-corner(x1, y2)-corner(x2, y1)+corner(x1, y1))
}

// ViewStrip returns the share of the radiation of an infinitely long cylinder
// that falls on a parallel strip,
//
//	F = [atan(b₂/h) - atan(b₁/h)]/(2π)
//
//	b1, b2  edges of the strip from the point below the axis, b1 < b2  m
//	h       height of the axis above the strip's plane, > 0            m
//	F       view factor, 0 to ½
//
// Exact for any radius that stays above the plane.
// Errors: none.
// Source: Siegel & Howell, Thermal Radiation Heat Transfer, app. C (from memory).
func ViewStrip(b1, b2, h float64) float64 {
	return math.Atan2((b2-b1)*h, h*h+b1*b2) / (2 * math.Pi) // the difference of the two, taken before it cancels
}

// ViewCorner returns the share of the diffuse radiation of a rectangle that
// falls on one that stands on its edge at a right angle,
//
//	F = 1/(πW) { W atan(1/W) + H atan(1/H) - √(H²+W²) atan(1/√(H²+W²))
//	    + ¼ ln[ (1+W²)(1+H²)/(1+W²+H²) · (W²(1+W²+H²)/((1+W²)(W²+H²)))^W²
//	    · (H²(1+H²+W²)/((1+H²)(H²+W²)))^H² ] },  H = h/l, W = w/l
//
//	l  common edge, > 0                     m
//	w  other side of the sender, > 0        m
//	h  other side of the receiver, > 0      m
//	F  view factor, 0 to ½
//
// Exact for diffuse, uniform surfaces.
// Errors: none; the arguments must be positive.
// Source: Howell, A Catalog of Radiation Configuration Factors, C-14 (from
// memory); Incropera et al., table 13.2.
func ViewCorner(l, w, h float64) float64 {
	H, W := h/l, w/l
	h2, w2 := H*H, W*W
	s := math.Sqrt(h2 + w2)
	log := math.Log((1+w2)*(1+h2)/(1+w2+h2)) +
		w2*math.Log(w2*(1+w2+h2)/((1+w2)*(w2+h2))) +
		h2*math.Log(h2*(1+h2+w2)/((1+h2)*(h2+w2)))
	return (W*math.Atan(1/W) + H*math.Atan(1/H) - s*math.Atan(1/s) + log/4) / (math.Pi * W)
}

const viewRange = "diffuse surfaces, each of one temperature, nothing between them"

// Why the factors rise and fall as they say. A receiver that grows keeps what
// it had. Equal rectangles: F is the mean over pairs of points of a kernel that
// is positive, with weights (1 - |u|/a) (1 - |v|/b) that rise with a and b, and a
// larger gap is smaller sides. Disks: F = 2 R₂²/(w + √(w² - 4 R₁² R₂²)) with w =
// 1 + R₁² + R₂², whose denominator rises with R₁; at given radii S rises with the
// gap. Corner: of each wave of the weight 1 - |x|/l along the edge, none negative
// in its spectrum, a strip at y gets e^(-ky) - y e^(-ks)/s, s² = y² + h², which
// falls with y; and the weight rises with l.
var viewModels = []Spec{
	{
		Name: "view_factor_rectangles", Topic: "heat",
		Title: "View factor of two equal rectangles that face each other",
		Args: []Arg{
			{Name: "a", Unit: "m", Above: at(0), Doc: "one side"},
			{Name: "b", Unit: "m", Above: at(0), Doc: "other side"},
			{Name: "gap", Unit: "m", Above: at(0), Doc: "distance of their planes"},
		},
		Results: []Res{{Name: "factor", Unit: "1", Doc: "share of the radiation of one that falls on the other", Rises: "a b", Falls: "gap"}},
		Formula: []string{
			"X = a / gap", "Y = b / gap",
			"factor = 2 / (pi * X * Y) * (ln((1 + X^2) * (1 + Y^2) / (1 + X^2 + Y^2)) / 2 + (X * sqrt(1 + Y^2) * atan(X / sqrt(1 + Y^2)) + Y * sqrt(1 + X^2) * atan(Y / sqrt(1 + X^2)) - X * atan(X) - Y * atan(Y)) / 1 rad)",
		},
		Source: "Howell, A Catalog of Radiation Configuration Factors, C-11 (index seen); Incropera et al., Fundamentals of Heat and Mass Transfer, table 13.2 (from memory)",
		Range:  viewRange,
		Fn: func(in *In, out *Out) error {
			out.Num("factor", ViewRectangles(in.Num("a"), in.Num("b"), in.Num("gap")))
			return nil
		},
	},
	{
		Name: "view_factor_disks", Topic: "heat",
		Title: "View factor of two coaxial disks that face each other",
		Args: []Arg{
			{Name: "radius", Unit: "m", Above: at(0), Doc: "radius of the disk that radiates"},
			{Name: "radius_to", Unit: "m", Above: at(0), Doc: "radius of the disk that receives"},
			{Name: "gap", Unit: "m", Above: at(0), Doc: "distance of their planes"},
		},
		Results: []Res{{Name: "factor", Unit: "1", Doc: "share of the radiation of the first that falls on the second", Rises: "radius_to", Falls: "radius gap"}},
		Formula: []string{
			"S = 1 + (1 + (radius_to / gap)^2) / (radius / gap)^2",
			"factor = (S - sqrt(S^2 - 4 * (radius_to / radius)^2)) / 2",
		},
		Source: "Howell, A Catalog of Radiation Configuration Factors, C-41 (index seen); Incropera et al., table 13.2 (from memory)",
		Range:  viewRange,
		Fn: func(in *In, out *Out) error {
			out.Num("factor", ViewDisks(in.Num("radius"), in.Num("radius_to"), in.Num("gap")))
			return nil
		},
	},
	{
		Name: "view_factor_panel", Topic: "heat",
		Title: "View factor of a point of the bed to a parallel rectangular panel; times the panel's exitance it is the irradiance",
		Args: []Arg{
			{Name: "a", Unit: "m", Above: at(0), Doc: "panel's side along x"},
			{Name: "b", Unit: "m", Above: at(0), Doc: "panel's side along y"},
			{Name: "gap", Unit: "m", Above: at(0), Doc: "distance of panel and bed"},
			{Name: "at_x", Unit: "m", Doc: "place of the point, from below the panel's middle"},
			{Name: "at_y", Unit: "m", Doc: "place of the point, from below the panel's middle"},
		},
		Results: []Res{{Name: "factor", Unit: "1", Doc: "share of the point's view that the panel fills", Rises: "a b"}},
		Formula: []string{
			"f = (A / sqrt(1 + A^2) * atan(B / sqrt(1 + A^2)) + B / sqrt(1 + B^2) * atan(A / sqrt(1 + B^2))) / (2 * pi * 1 rad) # A and B are the distances along x and y from the point to a corner of the panel, with their sign, divided by gap",
			"factor = sum(s * f) # s is the sign of each corner: 1 where A and B lie on the far side both or neither, else -1; A and B as above",
		},
		Source: "Howell, A Catalog of Radiation Configuration Factors, B-3 (index seen)",
		Range:  viewRange,
		Fn: func(in *In, out *Out) error {
			out.Num("factor", ViewElement(in.Num("a"), in.Num("b"), in.Num("gap"), in.Num("at_x"), in.Num("at_y")))
			return nil
		},
	},
	{
		Name: "view_factor_strip", Topic: "heat",
		Title: "View factor of a very long cylinder to a parallel strip",
		Args: []Arg{
			{Name: "edge_1", Unit: "m", Doc: "first edge of the strip, from the point below the axis"},
			{Name: "edge_2", Unit: "m", Doc: "second edge, greater than the first"},
			{Name: "height", Unit: "m", Above: at(0), Doc: "height of the axis above the strip"},
		},
		Results: []Res{{Name: "factor", Unit: "1", Doc: "share of the cylinder's radiation that falls on the strip", Rises: "edge_2", Falls: "edge_1"}},
		Formula: []string{"factor = (atan(edge_2 / height) - atan(edge_1 / height)) / (2 * pi * 1 rad)"},
		Source:  "Siegel & Howell, Thermal Radiation Heat Transfer, app. C (from memory)",
		Range:   viewRange + "; cylinder much longer than it lies high",
		Fn: func(in *In, out *Out) error {
			b1, b2 := in.Num("edge_1"), in.Num("edge_2")
			if b2 <= b1 {
				return Bad("edge_2", "must be greater than edge_1")
			}
			out.Num("factor", ViewStrip(b1, b2, in.Num("height")))
			return nil
		},
	},
	{
		Name: "view_factor_corner", Topic: "heat",
		Title: "View factor of a rectangle to one that stands on its edge at a right angle",
		Args: []Arg{
			{Name: "edge", Unit: "m", Above: at(0), Doc: "common edge"},
			{Name: "depth", Unit: "m", Above: at(0), Doc: "other side of the rectangle that radiates"},
			{Name: "rise", Unit: "m", Above: at(0), Doc: "other side of the rectangle that receives"},
		},
		Results: []Res{{Name: "factor", Unit: "1", Doc: "share of the radiation of the first that falls on the second", Rises: "edge rise", Falls: "depth"}},
		Formula: []string{
			"H = rise / edge", "W = depth / edge", "S = sqrt(H^2 + W^2)",
			"G = ln((1 + W^2) * (1 + H^2) / (1 + S^2)) + W^2 * ln(W^2 * (1 + S^2) / ((1 + W^2) * S^2)) + H^2 * ln(H^2 * (1 + S^2) / ((1 + H^2) * S^2))",
			"factor = ((W * atan(1 / W) + H * atan(1 / H) - S * atan(1 / S)) / 1 rad + G / 4) / (pi * W)",
		},
		Source: "Howell, A Catalog of Radiation Configuration Factors, C-14 (from memory); Incropera et al., table 13.2 (from memory)",
		Range:  viewRange,
		Fn: func(in *In, out *Out) error {
			out.Num("factor", ViewCorner(in.Num("edge"), in.Num("depth"), in.Num("rise")))
			return nil
		},
	},
}
