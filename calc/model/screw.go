package model

import "math"

// A SlidingScrew is a lead screw with a plain nut that carries an axial load.
type SlidingScrew struct {
	Load           float64 // along the axis, against raising, > 0, N
	PitchDiameter  float64 // mean diameter of the thread, > 0, m
	Lead           float64 // travel per turn: starts times pitch, > 0, m
	Friction       float64 // coefficient in the thread, ≥ 0
	FlankAngle     float64 // half the thread angle: 0 square, 15° trapezoidal, 30° ISO metric, rad
	CollarFriction float64 // coefficient under a plain thrust collar; 0: a rolling bearing carries the load
	CollarDiameter float64 // mean diameter of that collar, m
}

// ScrewTorque is what it takes to turn such a screw.
type ScrewTorque struct {
	Raise       float64 // torque that lifts the load, N·m
	Lower       float64 // torque that lets it down; negative: the load drives the screw, N·m
	Holding     float64 // torque that keeps the load from driving the screw, 0 if friction does, N·m
	Efficiency  float64 // work done on the load by each work put in, lifting
	LeadAngle   float64 // rad
	Locking     float64 // thread friction over what just holds, f π d/(l cos α); above 1 the thread holds by itself
	SelfLocking bool    // the load does not drive the screw, collar included
}

// Torque returns the torques of a sliding screw,
//
//	s  = 1/cos α
//	Tu = F d/2 (l + π f d s)/(π d - f l s) + F f_c d_c/2
//	Td = F d/2 (π f d s - l)/(π d + f l s) + F f_c d_c/2
//	η  = F l/(2 π Tu)
//
//	F         load                            N
//	d, l      pitch diameter and lead         m
//	f, α      friction and flank half angle   1, rad
//	f_c, d_c  friction and diameter of a collar
//	Tu, Td    to raise and to lower           N·m
//
// The flank angle enters in the axial plane, which counts the friction too high
// by √((1 + tan² α)/(1 + tan² α cos² λ)): 0.1 % for a flank of 15° and a lead
// angle λ of 10°, 1 % at 35°; for a flank of 30° 1 % at 17°. That makes raising
// heavier, but holding easier than it is: FlankExcess tells.
// Friction is the static one for holding and the kinetic one for driving;
// vibration can release a screw that holds by itself at rest.
// Errors: *ArgError for friction if the thread jams (π d ≤ f l s).
// Source: Shigley, Mechanical Engineering Design, 9th ed., sec. 8-2, eq. 8-1 to
// 8-6 (derivation seen).
func (s SlidingScrew) Torque() (ScrewTorque, error) {
	F, d, l := s.Load, s.PitchDiameter, s.Lead
	fs := s.Friction / math.Cos(s.FlankAngle)
	if math.Pi*d <= fs*l {
		return ScrewTorque{}, Bad("friction", "%s: the thread jams, no torque lifts the load", show(s.Friction, "1"))
	}
	collar := F * s.CollarFriction * s.CollarDiameter / 2
	var t ScrewTorque
	t.Raise = F*d/2*(l+math.Pi*d*fs)/(math.Pi*d-l*fs) + collar
	t.Lower = F*d/2*(math.Pi*d*fs-l)/(math.Pi*d+l*fs) + collar
	t.Holding = max(0, -t.Lower)
	t.Efficiency = F * l / (2 * math.Pi * t.Raise)
	t.LeadAngle = math.Atan(l / (math.Pi * d))
	t.Locking = math.Pi * d * fs / l
	t.SelfLocking = t.Lower >= 0
	return t, nil
}

// FlankExcess returns by how much the friction of the thread is counted too
// high by taking the flank angle in the axial plane instead of square to the
// thread, where tan α_n = tan α cos λ. Errors: none. Source: derived.
func (s SlidingScrew) FlankExcess() float64 {
	l := math.Atan(s.Lead / (math.Pi * s.PitchDiameter))
	return math.Hypot(1, math.Tan(s.FlankAngle))/math.Hypot(1, math.Tan(s.FlankAngle)*math.Cos(l)) - 1
}

// BallScrewTorque returns the torque that drives a load by a ball screw and the
// torque by which the load drives the screw,
//
//	Tu = F l/(2 π η) + T_p
//	η' = 2 - 1/η, or 0 where that is negative
//	Tb = F l η'/(2 π)
//
//	F    load, ≥ 0                                          N
//	l    lead, > 0                                          m
//	η    efficiency, driving, 0 to 1                        1
//	T_p  drag of preload and seals, always against motion   N·m
//	η'   efficiency, driven by the load                     1
//
// Errors: none.
// Source: energy balance; Tu as in University of Utah, ME EN 7960, lecture 4
// (seen); η' supposes the same loss at the same force both ways (common practice).
func BallScrewTorque(F, l, eta, Tp float64) (drive, back, etaBack float64) {
	etaBack = max(0, 2-1/eta)
	return F*l/(2*math.Pi*eta) + Tp, F * l * etaBack / (2 * math.Pi), etaBack
}
