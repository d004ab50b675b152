package model

import "math"

// A Section is what bending, twisting and pressing see of a bar's section. The
// axis of bending is the horizontal one through the centroid.
type Section struct {
	Area     float64 // m²
	I        float64 // second moment of area, m⁴
	Modulus  float64 // section modulus, I over the distance of the outer fibre, m³
	Torsion  float64 // torsion constant, m⁴
	Gyration float64 // radius of gyration, m
}

func section(area, I, outer, torsion float64) Section {
	return Section{area, I, I / outer, torsion, math.Sqrt(I / area)}
}

// Rectangle returns the properties of a rectangle,
//
//	A = b h,  I = b h³/12,  J = a t³/3 (1 - 192/π⁵ t/a Σ tanh(n π a/(2 t))/n⁵), n odd
//
//	b  width, along the axis of bending, > 0     m
//	h  height, across it, > 0                    m
//	a, t  longer and shorter of the two          m
//
// Errors: none.
// Source: Gere, Mechanics of Materials, App. D; torsion: Saint-Venant's series,
// Timoshenko and Goodier, Theory of Elasticity, art. 109 (from memory).
func Rectangle(b, h float64) Section {
	a, t := max(b, h), min(b, h)
	sum := 1.00452376279513961613 // Σ n⁻⁵ = 31/32 ζ(5); what the tanh take from it falls as exp(-n π a/t)
	for k := 1.0; k <= 11; k += 2 {
		sum -= 2 / (1 + math.Exp(k*math.Pi*a/t)) / (k * k * k * k * k) // 1 - tanh
	}
	J := a * t * t * t / 3 * (1 - 192/math.Pow(math.Pi, 5)*t/a*sum)
	return section(b*h, b*h*h*h/12, h/2, J)
}

// RectangularTube returns the properties of a rectangular tube with sharp
// corners and one wall thickness,
//
//	A = B H - b h,  I = (B H³ - b h³)/12,  J = 4 A_m² t/u_m
//
//	B, H  outer width and height, > 0                       m
//	t     wall, 0 < t < half the smaller of B and H         m
//	b, h  inner width and height, B - 2 t and H - 2 t       m
//	A_m, u_m  area within, and length of, the wall's midline  m², m
//
// J holds for thin walls, t below a tenth of the smaller side. Rounded corners
// and slots make the true values smaller: for slotted profiles use the I stated
// for them, never the envelope.
// Errors: *ArgError for wall if nothing is left inside.
// Source: Gere, Mechanics of Materials, App. D and sec. 3.11 (from memory).
func RectangularTube(B, H, t float64) (Section, error) {
	b, h := B-2*t, H-2*t
	if b <= 0 || h <= 0 {
		return Section{}, Bad("wall", "%s leaves nothing open in a tube of %s by %s", show(t, "m"), show(B, "m"), show(H, "m"))
	}
	Am, um := (B-t)*(H-t), 2*(B+H-2*t)
	return section(B*H-b*h, (B*H*H*H-b*h*h*h)/12, H/2, 4*Am*Am*t/um), nil
}

// Round returns the properties of a round bar,
//
//	A = π d²/4,  I = π d⁴/64,  J = 2 I
//
//	d  diameter, > 0    m
//
// Errors: none.
// Source: Gere, Mechanics of Materials, App. D (from memory).
func Round(d float64) Section {
	I := math.Pi * math.Pow(d, 4) / 64
	return section(math.Pi*d*d/4, I, d/2, 2*I)
}

// RoundTube returns the properties of a round tube,
//
//	A = π (D² - d²)/4,  I = π (D⁴ - d⁴)/64,  J = 2 I,  d = D - 2 t
//
//	D  outer diameter, > 0       m
//	t  wall, 0 < t < D/2         m
//
// Errors: *ArgError for wall if nothing is left inside.
// Source: as Round.
func RoundTube(D, t float64) (Section, error) {
	d := D - 2*t
	if d <= 0 {
		return Section{}, Bad("wall", "%s leaves nothing open in a tube of %s", show(t, "m"), show(D, "m"))
	}
	I := math.Pi * (math.Pow(D, 4) - math.Pow(d, 4)) / 64
	return section(math.Pi*(D*D-d*d)/4, I, D/2, 2*I), nil
}

// RoundedRectangle returns area and perimeter of a rectangle with round corners,
//
//	A = W H - (4 - π) r²,  P = 2 (W + H) - (8 - 2 π) r
//
//	W, H  sides, > 0                                        m
//	r     radius of the corners, 0 ≤ r ≤ half the smaller   m
//
// Errors: *ArgError for corner_radius if it is larger than half the smaller side.
// Source: geometry; MathWorld, "Rounded Rectangle" (seen).
func RoundedRectangle(W, H, r float64) (area, perimeter float64, err error) {
	if 2*r > min(W, H) {
		return 0, 0, Bad("corner_radius", "%s is more than half of %s", show(r, "m"), show(min(W, H), "m"))
	}
	return W*H - (4-math.Pi)*r*r, 2*(W+H) - (8-2*math.Pi)*r, nil
}

// bucklingFactors holds k = (π/effective length)², over π², of a column of
// length 1 for each kind of ends. fixed-pinned is (x/π)² for the first root of
// tan x = x.
// Source: Gere, Mechanics of Materials, ch. 11 (sol. 11.4-8 seen).
var bucklingFactors = map[Ends]float64{
	FixedFree:    0.25,
	PinnedPinned: 1,
	FixedGuided:  1,
	FixedPinned:  (4.493409457909064 / math.Pi) * (4.493409457909064 / math.Pi),
	FixedFixed:   4,
}

// A Buckling is what a column carries before it bows.
type Buckling struct {
	Critical    float64 // load at which it gives way, by Euler or Johnson, N
	Euler       float64 // load by Euler's formula alone, N
	Slenderness float64 // effective length over radius of gyration
	Limit       float64 // slenderness above which Euler's formula holds
}

// Buckle returns the critical load of a column loaded through its centre,
//
//	P = k π² E I/L²                          s > s_c   (Euler)
//	P = A (S - (S s/(2 π))²/E)               else      (Johnson)
//	s = L/(i √k),  s_c = √(2 π² E/S)
//
//	L     length between the ends, > 0                m
//	A, I  area and smallest second moment, > 0        m², m⁴
//	i     radius of gyration √(I/A)                   m
//	E, S  Young's modulus, yield strength, > 0        Pa
//	k     1 pinned-pinned and fixed-guided, 4 fixed-fixed, 2.046 fixed-pinned, 0.25 fixed-free
//	P     critical load                               N
//
// Loads are kept below it by a safety factor of 2 to 4 (common practice).
// Errors: NaN for ends it does not know.
// Source: Shigley, Mechanical Engineering Design, 9th ed., sec. 4-12, 4-13 (from
// memory); end conditions as bucklingFactors.
func Buckle(ends Ends, L, A, I, E, S float64) Buckling {
	k, ok := bucklingFactors[ends]
	if !ok {
		k = math.NaN()
	}
	b := Buckling{
		Euler:       k * math.Pi * math.Pi * E * I / (L * L),
		Slenderness: L / math.Sqrt(k*I/A),
		Limit:       math.Sqrt(2 * math.Pi * math.Pi * E / S),
	}
	b.Critical = b.Euler
	if b.Slenderness <= b.Limit {
		q := S * b.Slenderness / (2 * math.Pi)
		b.Critical = A * (S - q*q/E)
	}
	return b
}
