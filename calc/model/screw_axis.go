package model

import "math"

// standardGravity is g_n in m/s², by definition. Source: 3rd CGPM (1901).
const standardGravity = 9.80665

// An AxisLoad is a platform that a screw lifts and lowers in a chamber.
type AxisLoad struct {
	Platform      float64 // mass of all that moves with an empty bed, > 0, kg
	Powder        float64 // mass of a full bed, ≥ 0, kg
	SealFriction  float64 // of the seal on the chamber's walls, ≥ 0, N
	GuideFriction float64 // ≥ 0, N
	Acceleration  float64 // largest, up as down, ≥ 0, m/s²
}

// AxisForces are the forces of the platform on the screw, positive downward.
type AxisForces struct {
	Up        float64 // full bed, accelerating upward, N
	UpEmpty   float64
	Hold      float64 // full bed at rest, friction taking nothing, N
	Down      float64 // full bed, accelerating downward; negative: the screw must pull it down, N
	DownEmpty float64 // the same with an empty bed: the case that tells whether it follows, N
	Surplus   float64 // weight of the empty platform less all friction, N
	Follows   bool    // the empty platform goes down by its own weight, slowly
}

// Forces returns the load of a vertical axis. Friction opposes motion: it adds
// going up and carries part of the weight going down,
//
//	F_up   = m (g + a) + F_s + F_g
//	F_hold = m g
//	F_down = m (g - a) - F_s - F_g
//
//	m         mass that moves                kg
//	a         acceleration                   m/s²
//	F_s, F_g  friction of seal and guides    N
//
// Errors: none.
// Source: derived, Newton's second law; g is the standard acceleration.
func (x AxisLoad) Forces() AxisForces {
	friction := x.SealFriction + x.GuideFriction
	up := func(m float64) float64 { return m*(standardGravity+x.Acceleration) + friction }
	down := func(m float64) float64 { return m*(standardGravity-x.Acceleration) - friction }
	full := x.Platform + x.Powder
	f := AxisForces{
		Up: up(full), UpEmpty: up(x.Platform),
		Hold: full * standardGravity,
		Down: down(full), DownEmpty: down(x.Platform),
		Surplus: x.Platform*standardGravity - friction,
	}
	f.Follows = f.Surplus > 0
	return f
}

// LayerSteps tells how a layer divides into the steps of a stepping motor.
type LayerSteps struct {
	FullStep float64 // travel of a full step, m
	Full     float64 // full steps per layer
	Micro    float64 // microsteps per layer
	Nearest  float64 // thickness made of a whole number of microsteps, m
	Rounding float64 // Nearest less the layer, m
	Whole    bool    // a layer is a whole number of full steps
}

// Steps returns the steps of a layer,
//
//	step = l/(N i),  full = h/step,  micro = u full
//
//	h  layer, > 0                                        m
//	l  lead, > 0                                         m
//	N  full steps per turn of the motor, whole, > 0      1
//	u  microsteps per full step, whole, > 0              1
//	i  turns of the motor per turn of the screw, > 0     1
//
// A layer is best a whole number of full steps: microsteps are unequal and
// carry little torque each (common practice).
// Errors: *ArgError for layer if it is smaller than half a microstep.
// Source: derived.
func Steps(h, l, N, u, i float64) (LayerSteps, error) {
	var s LayerSteps
	s.FullStep = l / (N * i)
	s.Full = h / s.FullStep
	s.Micro = s.Full * u
	n := math.RoundToEven(s.Micro)
	if n < 1 {
		return s, Bad("layer", "%s is less than half a microstep of %s", show(h, "m"), show(s.FullStep/u, "m"))
	}
	s.Nearest = n * s.FullStep / u
	s.Rounding = s.Nearest - h
	if math.Abs(s.Rounding) < 1e-9*h {
		s.Rounding = 0 // the binary fractions of lead and layer, not the axis
	}
	s.Whole = math.Abs(s.Full-math.Round(s.Full)) < 1e-9*s.Full && math.Round(s.Full) >= 1
	return s, nil
}

// LeadError returns by how much a screw's travel may be off,
//
//	e_l = k v₃₀₀ max(1, x/300 mm),  e_t = α x ΔT
//
//	v300   permitted variation of travel over 300 mm, ≥ 0   m
//	x      travel, > 0                                      m
//	k      1, or 2 for a transport screw                    1
//	alpha  expansion of the screw                           1/K
//	dT     its rise since it was measured                   K
//
// The first is a bound either way: the grade permits the whole variation within
// any travel of up to 300 mm, so a shorter one gains nothing, and a longer one
// is taken in proportion. The second has a sign and is the same every time at
// the same temperature.
// Errors: none.
// Source: ISO 3408-3 (from memory: v₃₀₀ is the variation within any 300 mm, and
// transport screws are permitted e_p = 2 l_u/300 mm v₃₀₀; both seen in makers'
// excerpts of it); the proportion for others is common practice.
func LeadError(v300, x, alpha, dT, k float64) (accuracy, thermal float64) {
	return k * v300 * max(1, x/0.3), alpha * x * dT
}
