package model

import "math"

// PitchDiameter returns the diameter of the circle on which the cords of a
// synchronous belt run,
//
//	d = p z / π
//
//	p  pitch of the teeth, > 0        m
//	z  number of teeth, > 0           1
//	d  pitch diameter                 m
//
// Errors: none.
// Source: definition; ISO 5294 uses the same pitch line (from memory).
func PitchDiameter(p, z float64) float64 { return p * z / math.Pi }

// A BeltLoop is an open belt around two pulleys: two straight spans and two arcs.
type BeltLoop struct {
	Length float64 // along the pitch line, m
	Span   float64 // free span from tangent point to tangent point, m
	Small  float64 // wrap on the smaller pulley, rad
	Large  float64 // wrap on the larger pulley, rad
}

// BeltLength returns the loop around two pulleys,
//
//	φ = asin((D - d)/(2 C))
//	S = 2 C cos φ + π (D + d)/2 + φ (D - d)
//
//	d, D  pitch diameters, > 0, in any order       m
//	C     centre distance                          m
//	S     pitch length of the loop                 m
//
// The wraps are π ∓ 2 φ and the free span is C cos φ. Exact for a thin,
// inextensible belt.
// Errors: *ArgError for centre_distance if the pulleys would overlap, 2 C ≤ D + d.
// Source: Shigley, Mechanical Engineering Design, 9th ed., eq. 17-1 and 17-2
// (seen through a published solution).
func BeltLength(d, D, C float64) (BeltLoop, error) {
	if 2*C <= D+d {
		return BeltLoop{}, Bad("centre_distance", "%s: pulleys of %s and %s would overlap", show(C, "m"), show(d, "m"), show(D, "m"))
	}
	if D < d {
		d, D = D, d
	}
	s, c := (D-d)/(2*C), 0.0
	phi := math.Asin(s)
	c = math.Sqrt((1 - s) * (1 + s))
	return BeltLoop{
		Length: 2*C*c + math.Pi*(D+d)/2 + phi*(D-d),
		Span:   C * c,
		Small:  math.Pi - 2*phi,
		Large:  math.Pi + 2*phi,
	}, nil
}

// BeltCentres returns the centre distance at which a loop of given length is
// just stretched around two pulleys: the C of BeltLength.
//
//	d, D  pitch diameters, > 0, in any order       m
//	S     pitch length of the loop                 m
//	C     centre distance                          m
//
// Solved by Newton's method, dS/dC = 2 cos φ, from the root of the
// approximation S ≈ 2 C + π (D + d)/2 + (D - d)²/(4 C), to rounding.
// Errors: *ArgError for belt_teeth if the loop is too short to go around both.
// Source: as BeltLength; derived.
func BeltCentres(d, D, S float64) (float64, error) {
	if D < d {
		d, D = D, d
	}
	touching := math.Nextafter((D+d)/2, math.Inf(1)) * (1 + 1e-12)
	shortest, err := BeltLength(d, D, touching)
	if err != nil {
		return 0, err
	}
	if S <= shortest.Length {
		return 0, Bad("belt_teeth", "a loop of %s is too short for pulleys of %s and %s: they touch at %s", show(S, "m"), show(d, "m"), show(D, "m"), show(shortest.Length, "m"))
	}
	K := S - math.Pi*(D+d)/2
	C := (K + math.Sqrt(max(0, K*K-2*(D-d)*(D-d)))) / 4
	C = max(C, touching)
	for range 50 {
		l, err := BeltLength(d, D, C)
		if err != nil {
			return 0, err
		}
		step := (l.Length - S) / (2 * l.Span / C)
		next := max(C-step, (C+touching)/2) // stay where the pulleys are apart
		if math.Abs(next-C) <= 1e-15*C {
			return next, nil
		}
		C = next
	}
	return C, nil // S is convex in C: the steps have long shrunk to rounding
}

// BeltDrift is a synchronous belt around two near-equal pulleys whose centres a
// frame holds, set to a tension at one temperature and then warmed.
type BeltDrift struct {
	LoopLength     float64 // pitch length of the loop, m
	SetTension     float64 // tension of each strand as set, N
	Stiffness      float64 // EA of one strand: force per unit strain, N
	CordExpansion  float64 // of the belt along its cords, 1/K
	FrameExpansion float64 // of the frame between the centres, 1/K
	CentreDistance float64 // length of frame between the centres, m
	BeltRise       float64 // of temperature since setting, K
	FrameRise      float64 // K

	PulleyExpansion float64 // 0: growth of the pulleys neglected, 1/K
	PulleyRise      float64 // K
	OtherGrowth     float64 // of the centre distance, by other pieces than the frame, m
	SpringRate      float64 // of a sprung idler, N/m; 0: no idler, the centres are fixed
	IdlerWrap       float64 // of the belt on that idler, rad
	ExtraCompliance float64 // lengthening of the path per newton of strand tension: bent shafts, brackets, m/N
}

// A BeltState is what warming does to the belt.
type BeltState struct {
	PathGrowth  float64 // of the path the frame and pulleys offer, m
	BeltGrowth  float64 // of the belt if it were free, m
	Compliance  float64 // of belt, idler and the rest: path per strand tension, m/N
	Free        float64 // tension after warming as the linear law gives it, negative when slack, N
	Hot         float64 // tension after warming, never negative, N
	Change      float64 // Hot less the tension set, N
	IdlerTravel float64 // positive towards more spring force, 0 without an idler, m
	Sensitivity float64 // change against that of a belt with rigid centres, 0 to 1
	PerKelvin   float64 // change of tension for each kelvin that belt, frame and pulleys warm together, N/K
	Slack       bool
}

// TakeUp returns by how much the path of a belt shortens for each unit that an
// idler moves along the bisector of its wrap, g = 2 sin(w/2); 2 at half a turn.
//
//	w  wrap of the belt on the idler, 0 to 2π   rad
//
// Errors: none.
// Source: derived from the geometry.
func TakeUp(w float64) float64 { return 2 * math.Sin(w/2) }

// State returns the belt's tension after warming,
//
//	ΔS = 2 (C α_f ΔT_f + x) + (S - 2 C) α_p ΔT_p
//	ΔB = S α_b ΔT_b
//	c  = S/EA + g²/k + c_x
//	T  = T₀ + (ΔS - ΔB)/c, or 0 where that is negative
//
//	S, C           loop length and centre distance                    m
//	α_f, α_p, α_b  expansion of frame, pulleys, belt                  1/K
//	ΔT             rise of each                                       K
//	x              growth of the centre distance by other pieces      m
//	EA             stiffness of one strand                            N
//	k              rate of the idler's spring, g = 2 sin(wrap/2)      N/m
//	c_x            other compliance of the path                       m/N
//	T₀, T          tension as set, tension after warming              N
//
// A sprung idler moves by g (T - T₀)/k and leaves S/EA/c of the change that
// rigid centres would see.
//
// Valid for linear elastic cords at strains below 0.5 %, pulleys of nearly the
// same size, each part at one temperature, and no tooth jumped. Taken exactly
// (the strain referred to the grown belt) the tension differs by no more than
// its own fraction of the strain: 0.3 % at a strain of 0.3 %.
// Errors: *ArgError for centre_distance if the loop is not longer than twice
// the centre distance; for idler_wrap if the idler takes nothing up.
// Source: compatibility of two bodies under heat, e.g. Singer and Pytel,
// Strength of Materials, ch. 2 (from memory); its use on a belt is derived.
func (b BeltDrift) State() (BeltState, error) {
	if b.LoopLength <= 2*b.CentreDistance {
		return BeltState{}, Bad("centre_distance", "%s there and back is no shorter than the loop of %s", show(b.CentreDistance, "m"), show(b.LoopLength, "m"))
	}
	var s BeltState
	arcs := b.LoopLength - 2*b.CentreDistance
	s.PathGrowth = 2*(b.CentreDistance*b.FrameExpansion*b.FrameRise+b.OtherGrowth) + arcs*b.PulleyExpansion*b.PulleyRise
	s.BeltGrowth = b.LoopLength * b.CordExpansion * b.BeltRise
	own := b.LoopLength / b.Stiffness
	s.Compliance = own + b.ExtraCompliance
	g := TakeUp(b.IdlerWrap)
	if b.SpringRate > 0 {
		if g < 1e-6 {
			return BeltState{}, Bad("idler_wrap", "%s: an idler with no wrap takes nothing up", show(b.IdlerWrap, "rad"))
		}
		s.Compliance += g * g / b.SpringRate
	}
	s.Sensitivity = own / s.Compliance
	s.Free = b.SetTension + (s.PathGrowth-s.BeltGrowth)/s.Compliance
	s.PerKelvin = (2*b.CentreDistance*b.FrameExpansion + arcs*b.PulleyExpansion - b.LoopLength*b.CordExpansion) / s.Compliance
	s.Slack = s.Free <= 0
	s.Hot = max(0, s.Free)
	s.Change = s.Hot - b.SetTension
	if b.SpringRate > 0 {
		s.IdlerTravel = g * s.Change / b.SpringRate
	}
	return s, nil
}

// SpanFrequency returns the frequency at which a belt span sounds when plucked,
//
//	f = 1/(2 L) √(T/m) √(1 + π² B/(T L²))
//
//	T  tension of the strand, > 0                             N
//	m  mass of the belt per length, > 0                       kg/m
//	L  free span, tangent point to tangent point, > 0         m
//	B  bending stiffness E I of the belt; 0: an ideal string  N·m²
//	f  frequency of the first mode                            Hz
//
// The correction for bending supposes ends free to turn; below 2 % of T L² it
// is lost in the measurement. A span shorter than about 20 belt thicknesses is
// no string (common practice).
// Errors: none.
// Source: law of the string, Young and Freedman, University Physics, ch. 15;
// tensioned beam, Rao, Mechanical Vibrations, ch. 8 (from memory).
func SpanFrequency(T, m, L, B float64) float64 {
	return math.Sqrt((T+math.Pi*math.Pi*B/(L*L))/m) / (2 * L)
}

// SpanTension is SpanFrequency the other way round: the tension of a span that
// sounds at f,
//
//	T = 4 m L² f² - π² B/L²
//
// Errors: *ArgError for frequency if the belt's own stiffness explains it alone.
// Source: as SpanFrequency.
func SpanTension(f, m, L, B float64) (float64, error) {
	T := 4*m*L*L*f*f - math.Pi*math.Pi*B/(L*L)
	if T <= 0 {
		return 0, Bad("frequency", "%s: the bending stiffness alone gives the span a higher note", show(f, "Hz"))
	}
	return T, nil
}

// Strands returns the tension of the tight and of the slack strand of a belt on
// fixed centres that transmits a force,
//
//	T₁ = T₀ + F/2,  T₂ = T₀ - F/2
//
//	T₀  tension at rest, ≥ 0                N
//	F   force transmitted, ≥ 0              N
//
// Where T₂ would be negative the strand hangs slack and T₁ = F. The halves hold
// for strands of equal length.
// Errors: none; hangs reports a slack strand.
// Source: Shigley, Mechanical Engineering Design, 9th ed., sec. 17-2 (from
// memory; prob. 17-1 seen).
func Strands(T0, F float64) (tight, slack float64, hangs bool) {
	if T0 < F/2 {
		return F, 0, true
	}
	return T0 + F/2, T0 - F/2, false
}

// ShaftLoad returns the force of two strands on the shaft of a pulley,
//
//	R = √(T₁² + T₂² - 2 T₁ T₂ cos w)
//
//	T₁, T₂  tensions                        N
//	w       wrap on the pulley              rad
//
// Errors: none.
// Source: resultant of two forces.
func ShaftLoad(T1, T2, w float64) float64 {
	return math.Sqrt(max(0, T1*T1+T2*T2-2*T1*T2*math.Cos(w)))
}
