package model

import "math"

// A BladeLine is a frequency at which a traverse shakes its blade.
type BladeLine struct {
	Frequency float64 // Hz
	Margin    float64 // distance from the blade's own frequency, as a part of it
	Gain      float64 // amplitude over that of a slow push
}

// Shaking returns one excitation line of a traverse against a blade,
//
//	r = f/f₁,  margin = |1 - r|,  gain = 1/√((1 - r²)² + (2 ζ r)²)
//
//	f   frequency of the line, > 0               Hz
//	f₁  first frequency of the blade, > 0        Hz
//	ζ   damping ratio, > 0                       1
//
// Valid for one mode, small damping and steady excitation.
// Errors: none.
// Source: oscillator of one degree of freedom, Rao, Mechanical Vibrations, ch. 3
// (from memory).
func Shaking(f, f1, zeta float64) BladeLine {
	r := f / f1
	return BladeLine{f, math.Abs(1 - r), 1 / math.Hypot(1-r*r, 2*zeta*r)}
}

// A Traverse is a blade carried by two rails and pulled at one of them.
type Traverse struct {
	Rails        float64 // distance of the rails, > 0, m
	Spacing      float64 // of the two bearings on the driven side, > 0, m
	Friction     float64 // coefficient of those bearings, ≥ 0
	Mass         float64 // of the whole, its middle between the rails, > 0, kg
	Acceleration float64 // ≥ 0, m/s²
	Drag         float64 // on the blade, in the middle, ≥ 0, N
	FarFriction  float64 // friction at the far rail, ≥ 0, N
	Clearance    float64 // play of the bearings on the driven side, ≥ 0, m
}

// A Pull is what one-sided driving does.
type Pull struct {
	Force   float64 // pull, N
	Moment  float64 // that turns the traverse about the driven rail, N·m
	Bearing float64 // load of each bearing by it, N
	Share   float64 // part of the pull that friction of these loads takes
	Lag     float64 // of the far end by the play, m
}

// Pull returns the pull and the turning moment at the driven side,
//
//	M = (D + m a) w/2 + R w,  N = M/s
//	P = D + m a + R + 2 f N
//	lag = c w/s
//
//	D     drag of the blade, in the middle          N
//	m, a  mass and acceleration                     kg, m/s²
//	R     friction at the far rail                  N
//	w, s  distance of rails, of bearings            m
//	f, c  friction and play of the bearings         1, m
//
// The pull acts in the axis of the driven rail, so friction of the turning
// moment adds to it but cannot jam it.
// Errors: none.
// Source: statics; derived.
func (t Traverse) Pull() Pull {
	load := t.Drag + t.Mass*t.Acceleration
	var p Pull
	p.Moment = load*t.Rails/2 + t.FarFriction*t.Rails
	p.Bearing = p.Moment / t.Spacing
	p.Force = load + t.FarFriction + 2*t.Friction*p.Bearing
	p.Share = 2 * t.Friction * p.Bearing / p.Force
	p.Lag = t.Clearance * t.Rails / t.Spacing
	return p
}
