package model

import "math"

// Series returns the stiffness of springs one after the other,
//
//	1/k = Σ 1/kᵢ
//
//	k  stiffnesses, > 0   N/m (any one unit)
//
// Errors: none; no springs at all are rigid, +Inf.
// Source: statics.
func Series(k ...float64) float64 {
	sum := 0.0
	for _, ki := range k {
		sum += 1 / ki
	}
	return 1 / sum
}

// Whirl returns the frequency at which a turning round shaft whips, its first
// natural frequency in bending,
//
//	f₀ = λ²/(2 π L²) √(E (d/4)²/ρ)
//	f₁ = 1/(2 π √(m δ))
//	1/f² = 1/f₀² + 1/f₁²
//
//	L, d  length and diameter, > 0                             m
//	E, ρ  Young's modulus, density, > 0                        Pa, kg/m³
//	m, x  mass of a body on the shaft, 0 for none; its place   kg, m
//	δ     deflection at x per newton                           m/N
//	λ     see eigenvalues                                      1
//	f     frequency: turns per second of the critical speed    Hz
//
// The sum (Dunkerley's) is a lower bound, close when one term rules. A body
// right at a support does not count. The polar inertia of the body, which
// raises the critical speed, is left out.
// Errors: NaN for ends it does not know.
// Source: Blevins, Formulas for Natural Frequency and Mode Shape, Table 8-1;
// Khurmi, Theory of Machines, transverse vibration (from memory).
func Whirl(ends Ends, L, d, E, rho, m, x float64) float64 {
	s := Round(d)
	f := BeamFrequency(ends, 1, E*s.I, rho*s.Area, L)
	if m == 0 {
		return f
	}
	delta := Beam{Length: L, Stiffness: E * s.I, Ends: ends, At: x}.Flexibility()
	w := 2 * math.Pi
	return 1 / math.Sqrt(1/(f*f)+w*w*m*delta)
}

// Wobble returns which part of a screw's eccentricity reaches a guided bed,
//
//	y/e = k/(k + k_g)
//
//	k    sideways stiffness from the screw's axis to the bed, > 0   N/m
//	k_g  sideways stiffness of the guides, > 0                      N/m
//
// Errors: none.
// Source: derived, two springs in series between the axis and the ground.
func Wobble(k, kg float64) float64 { return k / (k + kg) }
