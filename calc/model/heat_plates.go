package model

import "math"

// PlateRadiation returns the heat that one of two large, parallel, grey plates
// radiates to the other, with n thin shields between them,
//
//	q = σ (T₁⁴ - T₂⁴) / [1/ε₁ + 1/ε₂ - 1 + n (2/ε_s - 1)]
//
//	T1, T2  temperatures, > 0                                    K
//	e1, e2  emissivities of the facing sides, 0 < ε ≤ 1
//	n       shields, ≥ 0
//	es      emissivity of both sides of a shield, 0 < ε ≤ 1 if n > 0
//	q       heat flux from 1 to 2                                W/m²
//
// Diffuse, grey; gap much smaller than the plates.
// Errors: none. Source: Incropera et al., Fundamentals of Heat and Mass
// Transfer, 13.3 and radiation shields (from memory).
func PlateRadiation(T1, T2, e1, e2, n, es float64) float64 {
	resistance := 1/e1 + 1/e2 - 1
	if n > 0 {
		resistance += n * (2/es - 1)
	}
	return stefanBoltzmann * (math.Pow(T1, 4) - math.Pow(T2, 4)) / resistance
}

// BandFraction returns the share of a black body's radiation that lies below a
// wavelength,
//
//	F = (15/π⁴) Σ e^(-nx) (x³/n + 3x²/n² + 6x/n³ + 6/n⁴),  x = c₂/(λ T)
//
//	λ   wavelength, > 0                m
//	T   temperature, > 0               K
//	c₂  second radiation constant      m·K
//	F   share of the emissive power, 0 to 1
//
// Correct to 1e-12.
// Errors: none. Source: series of Planck's law, Siegel & Howell, Thermal
// Radiation Heat Transfer, ch. 1 (from memory).
func BandFraction(wavelength, T float64) float64 {
	x := secondRadiation / (wavelength * T)
	scale := 15 / math.Pow(math.Pi, 4)
	if x < longWave { // the series above converges slowly
		return 1 - longShare(x)
	}
	s := 0.0
	for n := 1.0; n <= 100; n++ {
		term := math.Exp(-n*x) * (x*x*x/n + 3*x*x/(n*n) + 6*x/(n*n*n) + 6/(n*n*n*n))
		s += term
		if term < 1e-17*s {
			break
		}
	}
	return scale * s
}

// longWave bounds the x at which longShare is good to rounding.
const longWave = 0.5

// longShare is 1 - F for x < longWave, by the series of x³/(e^x - 1).
func longShare(x float64) float64 {
	x2 := x * x
	return 15 / math.Pow(math.Pi, 4) * x * x2 * (1./3 - x/8 + x2/60 - x2*x2/5040 + x2*x2*x2/272160 - x2*x2*x2*x2/13305600)
}

// bandBetween is the share between two wavelengths, F(long) - F(short); short
// may be 0. Where both lie beyond nearly all of the spectrum it is the small
// difference of what is left, not that of two ones.
func bandBetween(short, long, T float64) float64 {
	if short == 0 {
		return BandFraction(long, T)
	}
	if xs, xl := secondRadiation/(short*T), secondRadiation/(long*T); xs < longWave {
		return longShare(xs) - longShare(xl)
	}
	return BandFraction(long, T) - BandFraction(short, T)
}

var plateModels = []Spec{
	{
		Name: "plate_radiation", Topic: "heat",
		Title: "Radiation between two large parallel plates, with shields between them or none",
		Args: []Arg{
			{Name: "hot", Unit: "°C", Above: kelvin, Doc: "temperature of the first plate"},
			{Name: "cold", Unit: "°C", Above: kelvin, Doc: "temperature of the second plate"},
			{Name: "hot_emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the side of the first that faces the second"},
			{Name: "cold_emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the side of the second that faces the first"},
			{Name: "shields", Unit: "1", AtLeast: at(0), Doc: "number of thin sheets between them, 0 for none"},
			{Name: "shield_emissivity", Unit: "1", Optional: true, Above: at(0), AtMost: at(1), High: at(0.2), RangeOf: "common practice: dust and oxide raise it, compute with 0.3 as well", Doc: "of both sides of each sheet; needed if there is one"},
		},
		Results: []Res{
			{Name: "flux", Unit: "W/m^2", Doc: "heat from the first to the second", Rises: "hot", Falls: "cold"},
			{Name: "flux_bare", Unit: "W/m^2", Doc: "the same without shields", Rises: "hot shields shield_emissivity", Falls: "cold shields shield_emissivity"},
			{Name: "coefficient", Unit: "W/(m^2*K)", Doc: "slope of the flux by the temperature of the first plate, without shields", Rises: "hot hot_emissivity cold_emissivity", Only: true},
		},
		Formula: []string{
			"R = 1 / hot_emissivity + 1 / cold_emissivity - 1",
			"flux_bare = sigma * (hot^4 - cold^4) / R # temperatures in kelvins, sigma is the Stefan-Boltzmann constant",
			"flux = sigma * (hot^4 - cold^4) / (R + shields * (2 / shield_emissivity - 1)) # sigma as above",
			"coefficient = 4 * sigma * hot^3 / R # sigma as above",
		},
		Source: "Cengel, Heat and Mass Transfer, 5th ed., ch. 13, eq. 13-38 and shields (seen)",
		Range:  "grey, diffuse surfaces; gap much smaller than the plates; no conduction",
		Fn: func(in *In, out *Out) error {
			n := in.Num("shields")
			if n != math.Trunc(n) {
				return Bad("shields", "%s: must be a whole number", show(n, "1"))
			}
			if n > 0 && !in.Has("shield_emissivity") {
				return Bad("shield_emissivity", "is missing: there is a shield")
			}
			T1, T2, e1, e2 := in.Num("hot"), in.Num("cold"), in.Num("hot_emissivity"), in.Num("cold_emissivity")
			out.Num("flux", PlateRadiation(T1, T2, e1, e2, n, in.Num("shield_emissivity")))
			out.Num("flux_bare", PlateRadiation(T1, T2, e1, e2, 0, 0))
			out.Num("coefficient", 4*stefanBoltzmann*T1*T1*T1/(1/e1+1/e2-1))
			return nil
		},
	},
	{
		Name: "blackbody_band", Topic: "heat",
		Title: "Share of a heater's radiation between two wavelengths, if it is black",
		Args: []Arg{
			{Name: "temperature", Unit: "°C", Above: kelvin, Doc: "of the heater's filament or surface"},
			{Name: "short", Unit: "m", AtLeast: at(0), Doc: "shorter wavelength, 0 for everything below the longer one"},
			{Name: "long", Unit: "m", Above: at(0), Doc: "longer wavelength"},
		},
		Results: []Res{
			{Name: "fraction", Unit: "1", Doc: "share of the radiant power between the two", Rises: "long", Falls: "short"},
			{Name: "peak", Unit: "m", Doc: "wavelength of the greatest power per wavelength", Falls: "temperature", Only: true},
		},
		Formula: []string{
			"F = 15 / pi^4 * sum(exp(-n * x) * (x^3 / n + 3 * x^2 / n^2 + 6 * x / n^3 + 6 / n^4)) # for each of the two wavelengths, over n from 1; x is c2 / (wavelength * temperature), temperature in kelvins, c2 the second radiation constant",
			"fraction = F_long - F_short # F_long and F_short are F at the two wavelengths",
			"peak = c2 / (4.965114231744276 * temperature) # c2 as above",
		},
		Source: "series of Planck's law, Siegel & Howell, Thermal Radiation Heat Transfer, ch. 1 (from memory)",
		Range:  "black or grey heater of one temperature; a quartz tube cuts off what lies above about 4 um",
		Fn: func(in *In, out *Out) error {
			T, short, long := in.Num("temperature"), in.Num("short"), in.Num("long")
			if long <= short {
				return Bad("long", "%s: must be longer than %s", show(long, "m"), show(short, "m"))
			}
			out.Num("fraction", bandBetween(short, long, T))
			out.Num("peak", secondRadiation/(wienRoot*T))
			return nil
		},
	},
}

// wienRoot is the root of x = 5 (1 - e^(-x)), at which the power per
// wavelength is greatest. Source: OEIS A094090 (from memory).
const wienRoot = 4.965114231744276
