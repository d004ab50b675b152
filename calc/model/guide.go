package model

import "math"

// MeanLoad returns the constant load and speed that wear a rolling contact like
// a duty of several parts,
//
//	F_m = (Σ Fᵢ^p nᵢ qᵢ/Σ nᵢ qᵢ)^(1/p)
//	n_m = Σ nᵢ qᵢ/Σ qᵢ
//
//	F  loads, ≥ 0                          N
//	n  speeds, > 0                         rad/s (any one unit)
//	q  shares of the running time, > 0     1
//	p  exponent of life                    1
//
// The lists are of one length.
// Errors: none.
// Source: ISO 281, ISO 3408-5 (from memory).
func MeanLoad(F, n, q []float64, p float64) (Fm, nm float64) {
	var wear, turns, time float64
	for i := range F {
		wear += math.Pow(F[i], p) * n[i] * q[i]
		turns += n[i] * q[i]
		time += q[i]
	}
	return math.Pow(wear/turns, 1/p), turns / time
}

// BearingLife returns the life that nine of ten rolling bearings reach,
//
//	L = (C/P)^p L₁
//
//	C   dynamic load rating, > 0                                       N
//	P   load, > 0                                                      N
//	p   3 for balls, 10/3 for rollers                                  1
//	L₁  life at P = C: 1e6 turns; for linear bearings 100 km or 50 km  1, m
//
// Errors: none.
// Source: ISO 281:2007; ISO 14728-1:2017 (from memory).
func BearingLife(C, P, p, L1 float64) float64 { return math.Pow(C/P, p) * L1 }

// lifeExponent gives p for each kind of rolling element.
var lifeExponent = map[string]float64{"balls": 3, "rollers": 10.0 / 3}

// A Racking is a carriage of two bearings on one guide, pulled along it beside
// the guide's axis.
type Racking struct {
	Spacing          float64 // of the bearings along the guide, > 0, m
	Friction         float64 // coefficient, > 0
	DriveOffset      float64 // of the driving force from the guide's axis, m
	Resistance       float64 // force against the motion, ≥ 0, N
	ResistanceOffset float64 // of that force, positive on the side of the drive, m
	AxisFriction     float64 // friction on the guide's axis itself, ≥ 0, N
}

// Binding returns how near a carriage is to jamming by its drive alone,
//
//	B = 2 f |h|/s,  h_jam = s/(2 f)
//
//	f  friction, > 0                          1
//	h  offset of the drive                    m
//	s  spacing of the bearings, > 0           m
//
// At B = 1, h = h_jam, no force moves it. The diameter of the guide does not
// enter: it cancels in the balance of moments.
// Errors: none.
// Source: Beer and Johnston, Vector Mechanics for Engineers, sample problem
// 8.3 (seen).
func (r Racking) Binding() (B, jamOffset float64) {
	return 2 * r.Friction * math.Abs(r.DriveOffset) / r.Spacing, r.Spacing / (2 * r.Friction)
}

// Force returns the force that drives the carriage and the force pressing each
// bearing sideways,
//
//	N = (P h - R h_R)/s
//	P = R + F₀ + 2 f |N|
//
//	P, h    driving force and its offset          N, m
//	R, h_R  resistance and its offset             N, m
//	F₀      friction on the axis of the guide     N
//	s, f    spacing and friction                  m, 1
//
// Errors: *ArgError for drive_offset if the carriage jams.
// Source: derived; friction as in Binding.
func (r Racking) Force() (P, N float64, err error) {
	// N > 0 when the drive turns the carriage more than the resistance does,
	// and the equation is linear on either side.
	for _, sign := range []float64{1, -1} {
		k := sign * 2 * r.Friction / r.Spacing
		den := 1 - k*r.DriveOffset
		if den <= 0 {
			continue
		}
		P = (r.Resistance*(1-k*r.ResistanceOffset) + r.AxisFriction) / den
		N = (P*r.DriveOffset - r.Resistance*r.ResistanceOffset) / r.Spacing
		if P >= 0 && N*sign >= 0 {
			return P, N, nil
		}
	}
	return 0, 0, Bad("drive_offset", "%s: the carriage jams, no force moves it", show(r.DriveOffset, "m"))
}
