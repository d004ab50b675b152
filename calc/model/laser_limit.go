package model

import "math"

// LaserLimit returns how much of a continuous laser beam an eye may meet, for a
// small source (the beam itself, seen as a point), and the circle over which
// the beam is averaged before it is compared,
//
//	400 nm to 1050 nm   H = 18 C₄ t^0.75       t < 10 s    7 mm
//	1050 nm to 1400 nm  H = 90 C₇ t^0.75       t < 10 s    7 mm
//	400 nm to 1400 nm   E = 10 C₄ C₇           t ≥ 10 s    7 mm
//	400 nm to 600 nm    H = 100 C₃, E = C₃     10 s to 100 s, longer; the less counts
//	1400 nm to 1500 nm  H = 5600 t^0.25        t ≤ 10 s
//	1500 nm to 1800 nm  H = 10 000             t ≤ 10 s
//	1800 nm to 1 mm     H = 5600 t^0.25        t ≤ 10 s
//	1400 nm to 1 mm     E = 1000               t > 10 s
//
//	C₄ = 10^(0.002 (λ - 700)) from 700 nm to 1050 nm, then 5
//	C₇ = 10^(0.018 (λ - 1150)) from 1150 nm to 1200 nm, then 8
//	C₃ = 10^(0.02 (λ - 450)) from 450 nm on
//
//	wavelength  4e-7 to 1e-3                    m
//	t           exposure, 1e-3 to 3e4           s
//	E           irradiance, over the exposure   W/m²
//	H           radiant exposure, E t           J/m²
//	aperture    diameter of the circle          m
//
// Where two rows meet, the lower limit counts. From 1200 nm to 1400 nm the
// third edition of IEC 60825-1 allows 8 + 10^(0.04 (λ - 1250)) for C₇ and adds a
// limit for the cornea; 8, of the European directive, keeps below both. Beyond
// 1400 nm the circle is 1 mm up to 0.35 s, then 1.5 t^(3/8) mm, 3.5 mm from 10 s
// on, and 11 mm from 0.1 mm of wavelength on.
//
// Pulses, scanned beams, sources larger than 1.5 mrad, skin, and eyes behind
// magnifiers or telescopes are other limits.
// Errors: *ArgError outside of 400 nm to 1 mm and of 1 ms to 30 000 s.
// Source: directive 2006/25/EC, annex II, tables 2.2, note b, and 2.5, in the
// French labour code, book IV, title V, annex II (seen: below 10 s, factors);
// ICNIRP, Health Physics 105 (2013) 271, tables 5 and 8, and IEC 60825-1:2014,
// table A.1, in a note that copies them (seen; its rows for 400 nm to
// 1400 nm say of themselves that they come from memory and were checked for
// consistency); blue light from 10 s on from memory.
func LaserLimit(wavelength, t float64) (E, H, aperture float64, err error) {
	n := math.Round(wavelength*1e15) / 1e6 // nm; what is meant as 1800 nm is 1800 nm
	switch {
	case !(n >= 400 && n <= 1e6):
		return 0, 0, 0, Bad("wavelength", "%s is outside of 400 nm to 1 mm, for which limits are known here", show(wavelength, "m"))
	case !(t >= 1e-3 && t <= 3e4):
		return 0, 0, 0, Bad("time", "%s is outside of 1 ms to 30 000 s: shorter exposures are pulses, with limits of their own", show(t, "s"))
	}
	c4 := 1.0
	if n > 700 {
		c4 = math.Pow(10, 0.002*(n-700))
	}
	if n >= 1050 {
		c4 = 5
	}
	c7 := 1.0
	if n > 1150 {
		c7 = math.Pow(10, 0.018*(n-1150))
	}
	if n >= 1200 {
		c7 = 8
	}
	if n <= 1400 {
		aperture = 7e-3
		switch {
		case t >= 10:
			E = 10 * c4 * c7
			if n <= 600 {
				c3 := math.Pow(10, 0.02*(max(n, 450)-450))
				E = min(E, 100*c3*max(1, t/100)/t)
			}
			return E, E * t, aperture, nil
		case n < 1050:
			H = 18 * c4 * math.Pow(t, 0.75)
		default:
			H = 90 * c7 * math.Pow(t, 0.75)
		}
		return H / t, H, aperture, nil
	}
	switch {
	case n >= 1e5:
		aperture = 11e-3
	case t <= 0.35:
		aperture = 1e-3
	default:
		aperture = min(1.5e-3*math.Pow(t, 0.375), 3.5e-3)
	}
	switch {
	case t > 10:
		return 1000, 1000 * t, aperture, nil
	case n > 1500 && n < 1800:
		H = 1e4
	default:
		H = 5600 * math.Pow(t, 0.25)
	}
	return H / t, H, aperture, nil
}

// laserBeyond is what no model of the hazard of a laser replaces.
const laserBeyond = "no pulses or scanned beams, no extended sources, no skin, no magnifiers or telescopes; an interlocked enclosure comes first, and the class of the laser and the eyewear are chosen by a competent person after IEC 60825-1, EN 207 or ANSI Z136.1"

var limitModels = []Spec{{
	Name: "laser_exposure_limit", Topic: "laser",
	Title: "Greatest exposure of an eye to a continuous laser beam (maximum permissible exposure)",
	Args: []Arg{
		{Name: "wavelength", Unit: "m", AtLeast: at(400e-9), AtMost: at(1e-3), Doc: "of the laser"},
		{Name: "time", Unit: "s", AtLeast: at(1e-3), AtMost: at(3e4), Low: at(0.25), RangeOf: "nothing turns an eye away sooner than 0.25 s, IEC 60825-1 (from memory)", Doc: "that the eye is exposed: 0.25 s for an unexpected visible beam, 10 s or 100 s for an invisible one, 30 000 s for a working day"},
	},
	Results: []Res{
		// where rows of the table meet, at 10 s, limits jump up or down
		{Name: "irradiance", Unit: "W/m^2", Doc: "greatest irradiance of the eye during that time"},
		{Name: "exposure", Unit: "J/m^2", Doc: "greatest energy per area in that time"},
		{Name: "aperture", Unit: "m", Doc: "diameter of the circle over which the beam is averaged; beyond 1400 nm a beam narrower than 1 mm is not averaged below 0.35 s: then its own diameter", Rises: "time"},
		{Name: "through", Unit: "W", Doc: "power through that circle at the limit: a beam of less power keeps below it"},
	},
	Formula: []string{
		"n = wavelength / 1 nm",
		"C_4 = if n > 700 then (if n < 1050 then 10^(0.002 * (n - 700)) else 5) else 1",
		"C_7 = if n > 1150 then (if n < 1200 then 10^(0.018 * (n - 1150)) else 8) else 1",
		"C_3 = if n > 450 then 10^(0.02 * (n - 450)) else 1",
		"exposure = 18 J/m^2 * C_4 * (time / 1 s)^0.75 # 400 nm to 1050 nm, below 10 s",
		"exposure = 90 J/m^2 * C_7 * (time / 1 s)^0.75 # 1050 nm to 1400 nm, below 10 s",
		"exposure = 10 W/m^2 * C_4 * C_7 * time # 400 nm to 1400 nm, 10 s and longer",
		"exposure = min(10 W/m^2 * time, 100 J/m^2 * C_3 * max(1, time / 100 s)) # instead up to 600 nm, 10 s and longer",
		"exposure = 5600 J/m^2 * (time / 1 s)^0.25 # 1400 nm to 1500 nm and 1800 nm to 1 mm, up to 10 s",
		"exposure = 10000 J/m^2 # 1500 nm to 1800 nm, up to 10 s",
		"exposure = 1000 W/m^2 * time # beyond 1400 nm, longer than 10 s",
		"irradiance = exposure / time",
		"aperture = 7 mm # up to 1400 nm",
		"aperture = 1 mm # 1400 nm to 0.1 mm, up to 0.35 s",
		"aperture = min(1.5 mm * (time / 1 s)^0.375, 3.5 mm) # 1400 nm to 0.1 mm, longer",
		"aperture = 11 mm # from 0.1 mm on",
		"through = irradiance * pi / 4 * aperture^2",
	},
	Source: "directive 2006/25/EC, annex II, tables 2.2 and 2.5 in the French labour code (seen); ICNIRP 2013, tables 5 and 8, and IEC 60825-1:2014, table A.1, in a note that copies them (seen); blue light from 10 s on from memory",
	Range:  "one continuous beam, straight into the eye; from 1200 nm to 1400 nm the lower factor 8 of the directive stays, where the third edition of IEC 60825-1 allows more; " + laserBeyond,
	Fn: func(in *In, out *Out) error {
		wavelength, t := in.Num("wavelength"), in.Num("time")
		E, H, aperture, err := LaserLimit(wavelength, t)
		if err != nil {
			return err
		}
		if wavelength > 700e-9*(1+1e-9) && t <= 0.25*(1+1e-9) {
			in.Outside("time", "0.25 s is the time in which a visible beam turns the eye away; this one is not seen: 10 s or longer (common practice)")
		}
		out.Num("irradiance", E)
		out.Num("exposure", H)
		out.Num("aperture", aperture)
		out.Num("through", E*math.Pi/4*aperture*aperture)
		return nil
	},
}}
