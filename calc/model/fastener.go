package model

import "math"

// A Joint is a screw to be tightened by torque.
type Joint struct {
	Thread *Thread
	Class  *PropertyClass
	Face   float64 // outer diameter of the bearing face of head or nut, m
	FricT  float64 // friction in the thread, ≥ 0
	FricH  float64 // friction under the head, ≥ 0
}

// Torque returns the torque that gives a preload,
//
//	M = F (0.16 P + 0.58 d2 μ_G + μ_K (d_W + d_h)/4)
//
//	F         preload                                           N
//	P, d2     pitch, pitch diameter                             m
//	d_W, d_h  outer diameter of the bearing face, its hole      m
//	μ_G, μ_K  friction in the thread, under the head            1
//	M         torque                                            N·m
//
// Errors: none.
// Source: VDI 2230-1:2015 (from memory; its torques seen in a table).
func (j Joint) Torque(F float64) float64 {
	return F * j.arm()
}

// Preload is Torque the other way round.
func (j Joint) Preload(M float64) float64 { return M / j.arm() }

func (j Joint) arm() float64 {
	return 0.16*j.Thread.P + 0.58*j.Thread.PitchDiameter()*j.FricT + j.FricH*(j.Face+j.Thread.Hole)/4
}

// Stress returns the equivalent stress in the screw while it is tightened,
// tension and twist together by the distortion energy,
//
//	σ = F/A √(1 + 3 (3/2 d2/d0 (P/(π d2) + 1.155 μ_G))²)
//
//	A, d0  stress area and its diameter     m², m
//	σ      stress                           Pa
//
// The thread friction in it twists the screw; it goes once tightening stops.
// Errors: none.
// Source: as Torque.
func (j Joint) Stress(F float64) float64 {
	t := j.Thread
	twist := 1.5 * t.PitchDiameter() / t.StressDiameter() * (t.P/(math.Pi*t.PitchDiameter()) + 1.155*j.FricT)
	return F / t.StressArea() * math.Sqrt(1+3*twist*twist)
}

// FacePressure returns the pressure under the head, Pa: preload over the ring
// between the bearing face and its hole.
func (j Joint) FacePressure(F float64) float64 {
	return F / (math.Pi / 4 * (j.Face*j.Face - j.Thread.Hole*j.Thread.Hole))
}

// ScrewLength returns the shortest preferred length of a screw that clamps a
// grip and still engages its thread,
//
//	l ≥ grip + engagement
//
//	grip        thickness that is clamped, with washers, > 0   m
//	engagement  least length of thread engaged, > 0            m
//	l           length, m
//
// Errors: *ArgError for grip if it is longer than the longest of the table.
// Source: lengths of ISO 888 (from memory).
func ScrewLength(grip, engagement float64) (float64, error) {
	need := grip + engagement
	for _, l := range preferredLengths {
		if l*mm >= need*(1-1e-9) { // a sum of millimetres is a binary fraction or two off
			return l * mm, nil
		}
	}
	longest := preferredLengths[len(preferredLengths)-1] * mm
	return 0, Bad("grip", "%s with its thread needs a screw of %s: the table ends at %s", show(grip, "m"), show(need, "m"), show(longest, "m"))
}

// JointDrift returns the change of preload when a joint warms evenly,
//
//	ΔF = (α_p - α_s) L ΔT/(1/k_s + 1/k_p)
//
//	L         grip                                        m
//	α_s, α_p  expansion of screw and parts                1/K
//	k_s, k_p  stiffness of screw and parts, > 0           N/m
//	ΔT        rise                                        K
//
// Errors: none.
// Source: compatibility of two bodies under heat, Gere, Mechanics of Materials,
// sec. 2.5 (solution 2.5-7 seen).
func JointDrift(L, as, ap, ks, kp, dT float64) float64 {
	return (ap - as) * L * dT * Series(ks, kp)
}
