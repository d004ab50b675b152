package model

import (
	"math"

	"workings/calc/num"
)

// A Surface says how a heated surface gives off heat.
type Surface struct {
	Absorptance  float64 // of the heater's radiation, 0 to 1
	Emissivity   float64 // 0 to 1
	HAir         float64 // convection to the air, ≥ 0, W/(m²·K)
	Air          float64 // temperature of the air, > 0, K
	Surroundings float64 // temperature of what the surface faces, > 0, K
	UBase        float64 // conduction to the base, ≥ 0, W/(m²·K)
	Base         float64 // temperature of the base, > 0 if UBase > 0, K
}

// loss returns the heat that a surface at T gives off, W/m², and its slope.
func (s Surface) loss(T float64) (q, slope float64) {
	T3 := T * T * T
	ts := s.Surroundings
	q = s.HAir*(T-s.Air) + s.UBase*(T-s.Base) + s.Emissivity*stefanBoltzmann*(T*T3-ts*ts*ts*ts)
	return q, s.HAir + s.UBase + 4*s.Emissivity*stefanBoltzmann*T3
}

// near looks for the steady temperature of a surface by Newton's method from a
// guess, and reports whether it was found to within 1e-9 K: the loss is convex
// in T, so one step from anywhere lands above and the rest fall to it.
func (s Surface) near(E, guess float64, T *float64) bool {
	t := guess
	for range 8 {
		q, slope := s.loss(t)
		step := (s.Absorptance*E - q) / slope
		t += step
		if math.Abs(step) < 1e-9 {
			*T = t
			return t > 0
		}
	}
	return false // also where the slope is 0 and t no number
}

// Temperature returns the steady temperature of a surface under an irradiance,
//
//	α E = h (T - T_air) + ε σ (T⁴ - T_sur⁴) + U (T - T_base)
//	H   = h + U + 4 ε σ T³,  dT/dE = α/H
//
//	E  irradiance, ≥ 0                              W/m²
//	α, ε, h, T_air, T_sur, U, T_base  the Surface
//	T  temperature of the surface                   K
//	H  loss coefficient at T                        W/(m²·K)
//
// One-dimensional, grey, opaque; the base is reached by conduction only.
// Errors: no way to lose heat (h, ε and U all 0).
// Source: Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 1 and
// 12 (from memory); the slope is derived.
func (s Surface) Temperature(E float64) (T, H float64, err error) {
	in := s.Absorptance * E
	lo, hi := math.Inf(1), math.Inf(-1)
	ref := func(on bool, t float64) {
		if on {
			lo, hi = min(lo, t), max(hi, t)
		}
	}
	ref(s.HAir > 0, s.Air)
	ref(s.Emissivity > 0, s.Surroundings)
	ref(s.UBase > 0, s.Base)
	if math.IsInf(lo, 1) {
		return 0, 0, Bad("h_air", "the surface has no way to lose heat: h_air, emissivity and the conduction to the base are all 0")
	}
	// At lo no heat is lost, so the surface is at least that hot. Above hi it
	// is lost everywhere: each way by itself bounds the temperature.
	if linear := s.HAir + s.UBase; linear > 0 {
		hi += in / linear
	} else {
		hi = math.Pow(math.Pow(hi, 4)+in/(s.Emissivity*stefanBoltzmann), 0.25)
	}
	T, err = num.Root("temperature of the surface", func(T float64) float64 {
		q, _ := s.loss(T)
		return q - in
	}, lo, hi*(1+1e-12), 0)
	if err != nil {
		return 0, 0, err
	}
	_, H = s.loss(T)
	return T, H, nil
}
