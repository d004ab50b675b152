package model

// A Seal is a soft strip around a platform that rubs on a chamber's walls.
type Seal struct {
	Perimeter float64 // length of the line of contact, > 0, m
	Thickness float64 // of the strip, free, > 0, m
	Gap       float64 // it is squeezed into, > 0, m
	Contact   float64 // width of its contact along the motion, > 0, m
	Modulus   float64 // in compression, > 0, Pa
	Friction  float64 // coefficient on the wall, running, ≥ 0
}

// Force returns compression, force per length and friction of the strip,
//
//	ε = (t - gap)/t,  q = E ε b,  F = μ q P
//
//	t, gap  free and squeezed thickness            m
//	E       modulus in compression                 Pa
//	b, P    width and length of the contact        m
//	μ       friction                               1
//	q, F    force per length, friction             N/m, N
//
// Felt and foam stiffen: E holds near the compression at which it was
// measured, at most 0.25. A strip wider than its gap touches nowhere: q = 0.
// Errors: none.
// Source: derived; no published values of felt were found: measure E and μ.
func (s Seal) Force() (compression, line, friction float64) {
	compression = (s.Thickness - s.Gap) / s.Thickness
	line = s.Modulus * max(0, compression) * s.Contact
	return compression, line, s.Friction * line * s.Perimeter
}

// CornerRadius returns the smallest inside radius around which a strip bends
// without folding inside or opening outside,
//
//	R = t (1 - ε)/(2 ε)
//
//	t  thickness of the strip, > 0                             m
//	ε  strain its face may take, 0 to 1: 0.1 to 0.2 for felt   1
//	R  inside radius of the bent strip                         m
//
// Valid for a neutral axis in the middle of the strip.
// Errors: none.
// Source: bending strain y/ρ, Gere, Mechanics of Materials, ch. 5 (sol. 5.4-4
// seen) with y = t/2, ρ = R + t/2.
func CornerRadius(t, strain float64) float64 { return t * (1 - strain) / (2 * strain) }

// BendingStrain is the strain of the faces of a strip of thickness t around an
// inside radius R, ε = t/(2 R + t): the inverse of CornerRadius.
// Errors: none.
// Source: as CornerRadius.
func BendingStrain(t, R float64) float64 { return t / (2*R + t) }

// SealGap returns the gap between chamber and platform on each side,
//
//	gap = (W (1 + α_c ΔT_c) - w (1 + α_p ΔT_p))/2
//
//	W, w  inside width of the chamber, width of the platform   m
//	α     expansion of each                                    1/K
//	ΔT    rise of each                                         K
//
// Errors: none; a negative gap means that they touch.
// Source: derived.
func SealGap(W, w, ac, ap, dTc, dTp float64) float64 {
	return (W*(1+ac*dTc) - w*(1+ap*dTp)) / 2
}
