package model

import (
	"math"

	"workings/calc/num"
)

// Ends says how the ends of a beam, shaft or column are held, the left one
// first: fixed (no turning), pinned (free to turn), guided (free to move
// sideways, not to turn), free.
type Ends string

// The ends that the models know.
const (
	PinnedPinned Ends = "pinned-pinned" // simply supported
	FixedPinned  Ends = "fixed-pinned"
	FixedFixed   Ends = "fixed-fixed"
	FixedFree    Ends = "fixed-free" // cantilever
	FixedGuided  Ends = "fixed-guided"
	FreeFree     Ends = "free-free"
	PinnedFree   Ends = "pinned-free"
)

// A Beam is straight and of one section, under a force at one place and a
// uniform load. Loads and deflections point the same way, "down".
type Beam struct {
	Length    float64 // between the supports, > 0, m
	Stiffness float64 // E I about the axis of bending, > 0, N·m²
	Ends      Ends    // PinnedPinned, FixedPinned, FixedFixed, FixedFree
	Load      float64 // force, N
	At        float64 // its distance from the left end, 0 to Length, m
	Uniform   float64 // load per length, N/m
}

// curve returns the constants of the elastic line
//
//	E I w = c₃ x³/6 + c₂ x²/2 + c₁ x + F ⟨x - a⟩³/6 + q x⁴/24
//
// which follow from what the ends allow; the left end does not move.
func (b Beam) curve() (c1, c2, c3 float64) {
	L, r := b.Length, b.Length-b.At
	// The particular part and its derivatives at the right end.
	p0 := b.Load*r*r*r/6 + b.Uniform*L*L*L*L/24
	p1 := b.Load*r*r/2 + b.Uniform*L*L*L/6
	p2 := b.Load*r + b.Uniform*L*L/2
	p3 := b.Load + b.Uniform*L
	switch b.Ends {
	case PinnedPinned:
		return -p0/L + p2*L/6, 0, -p2 / L
	case FixedPinned:
		c3 = 3 * (p0 - p2*L*L/2) / (L * L * L)
		return 0, -p2 - c3*L, c3
	case FixedFixed:
		c3 = 12 * (p0 - p1*L/2) / (L * L * L)
		return 0, -p1/L - c3*L/2, c3
	case FixedFree:
		return 0, -p2 + p3*L, -p3
	}
	return math.NaN(), math.NaN(), math.NaN()
}

// Deflection returns the deflection at a distance x from the left end, m,
// under both loads together:
//
//	E I w⁗ = q + F δ(x - a)
//
// with w = w′ = 0 at a fixed end, w = w″ = 0 at a pinned one, w″ = w‴ = 0 at a
// free one.
//
// Valid for small slopes (below about 0.1), linear elastic material, lengths
// above about 10 depths (shear is left out).
// Errors: NaN for ends that are none of PinnedPinned, FixedPinned, FixedFixed,
// FixedFree.
// Source: Gere, Mechanics of Materials, ch. 9 (ex. 9.3 seen); agrees with the
// cases of Roark, Formulas for Stress and Strain, Table 8.1 (from memory).
func (b Beam) Deflection(x float64) float64 {
	c1, c2, c3 := b.curve()
	r := max(0, x-b.At)
	return (((b.Uniform*x/24+c3/6)*x+c2/2)*x*x + c1*x + b.Load*r*r*r/6) / b.Stiffness
}

// Slope returns the derivative of Deflection.
func (b Beam) Slope(x float64) float64 {
	c1, c2, c3 := b.curve()
	r := max(0, x-b.At)
	return (((b.Uniform*x/6+c3/2)*x+c2)*x + c1 + b.Load*r*r/2) / b.Stiffness
}

// Moment returns the bending moment at x, N·m, positive where the beam sags.
func (b Beam) Moment(x float64) float64 {
	_, c2, c3 := b.curve()
	return -((b.Uniform*x/2+c3)*x + c2 + b.Load*max(0, x-b.At))
}

// LargestDeflection returns the place and size of the deflection that is
// largest without regard to its sign, m.
func (b Beam) LargestDeflection() (x, w float64) {
	return b.largest(b.Deflection, b.Slope)
}

// LargestMoment returns the bending moment that is largest without regard to
// its sign, N·m: at an end, under the load, or where the shear force vanishes.
func (b Beam) LargestMoment() float64 {
	_, m := b.largest(b.Moment, func(x float64) float64 { // shear force
		_, _, c3 := b.curve()
		v := -(b.Uniform*x + c3)
		if x > b.At {
			v -= b.Load
		}
		return v
	})
	return m
}

// largest returns where f is largest without regard to sign, and f there: at
// an end, at the load, or between two of 200 points where d, its derivative,
// changes sign.
func (b Beam) largest(f, d func(float64) float64) (x, y float64) {
	try := func(at float64) {
		if v := f(at); math.Abs(v) > math.Abs(y) {
			x, y = at, v
		}
	}
	const n = 200
	try(0)
	try(b.At)
	last := 0.0
	for i := 1; i <= n; i++ {
		at := b.Length * float64(i) / n
		try(at)
		if d(last)*d(at) < 0 {
			if r, err := num.Root("turning point", d, last, at, 0); err == nil {
				try(r)
			}
		}
		last = at
	}
	return x, y
}

// Flexibility returns the deflection at the place of the load for each newton
// of it, the uniform load left out, m/N; its inverse is the stiffness there.
func (b Beam) Flexibility() float64 {
	b.Load, b.Uniform = 1, 0
	return b.Deflection(b.At)
}

// eigenvalues holds the first three roots λ of the frequency equation of a
// beam of length 1, f = λ²/(2π) √(E I/(ρ A)). The modes of a free beam that do
// not bend it are left out.
//
//	pinned-pinned            sin λ = 0
//	fixed-fixed, free-free   cos λ cosh λ = 1
//	fixed-free               cos λ cosh λ = -1
//	fixed-pinned, pinned-free  tan λ = tanh λ
//
// Source: Blevins, Formulas for Natural Frequency and Mode Shape, Table 8-1
// (from memory; IIT Delhi virtual laboratory, free vibration of beams, seen, to
// five figures); the digits are roots of these equations.
var eigenvalues = map[Ends][3]float64{
	PinnedPinned: {math.Pi, 2 * math.Pi, 3 * math.Pi},
	FixedFixed:   {4.730040744862704, 7.853204624095838, 10.995607838001671},
	FreeFree:     {4.730040744862704, 7.853204624095838, 10.995607838001671},
	FixedFree:    {1.875104068711961, 4.694091132974175, 7.854757438237613},
	FixedPinned:  {3.926602312047919, 7.068582745628732, 10.210176122813031},
	PinnedFree:   {3.926602312047919, 7.068582745628732, 10.210176122813031},
}

// BeamFrequency returns the natural frequency of a mode of bending,
//
//	f = λ²/(2 π L²) √(B/m)
//
//	mode  1, 2 or 3
//	B     bending stiffness E I, > 0         N·m²
//	m     mass per length, > 0               kg/m
//	L     length, > 0                        m
//	λ     see eigenvalues                    1
//	f     frequency                          Hz
//
// Valid for slender beams (length above 20 thicknesses) and ideal ends; real
// clamps lower fixed-fixed by 5 to 20 % (common practice).
// Errors: NaN for a mode or ends it does not know.
// Source: as eigenvalues.
func BeamFrequency(ends Ends, mode int, B, m, L float64) float64 {
	e, ok := eigenvalues[ends]
	if !ok || mode < 1 || mode > len(e) {
		return math.NaN()
	}
	lambda := e[mode-1]
	return lambda * lambda / (2 * math.Pi * L * L) * math.Sqrt(B/m)
}
