package model

import (
	"math"

	"workings/calc/num"
)

// An Infrared is a radiation thermometer that looks at a surface.
type Infrared struct {
	Short, Long float64 // its band, m; Long 0: all wavelengths
	Emissivity  float64 // of the surface, 0 < ε ≤ 1
	Set         float64 // emissivity set at the instrument, 0 < ε ≤ 1
	Reflected   float64 // temperature of what the surface reflects, > 0, K
}

// signal is what a black surface at T sends into the band, W/m².
func (r Infrared) signal(T float64) float64 {
	s := stefanBoltzmann * T * T * T * T
	if r.Long > 0 {
		s *= bandBetween(r.Short, r.Long, T)
	}
	return s
}

// slope is the derivative of signal by the temperature, W/(m²·K). The share of
// a band ends at x = c₂/(λ T) and grows with T by 15/π⁴ x⁴/(e^x - 1)/T.
func (r Infrared) slope(T float64) float64 {
	s := 4 * r.signal(T) / T
	end := func(wavelength float64) float64 {
		x := secondRadiation / (wavelength * T)
		return 15 / math.Pow(math.Pi, 4) * stefanBoltzmann * T * T * T * math.Pow(x, 4) / math.Expm1(x)
	}
	if r.Long > 0 {
		s += end(r.Long)
		if r.Short > 0 {
			s -= end(r.Short)
		}
	}
	return s
}

// Indicated returns what a radiation thermometer reads,
//
//	ε_set S(T_ind) + (1 - ε_set) S(T_refl) = ε S(T) + (1 - ε) S(T_refl)
//
//	S      radiation of a black body in the band   W/m²
//	T      temperature of the surface, > 0         K
//	T_ind  reading                                 K
//
// The instrument is taken to correct for the reflected radiation; grey surface.
// Errors: no temperature gives such a signal.
// Source: balance of signals, as ASTM E2758 describes (from memory).
func (r Infrared) Indicated(T float64) (float64, error) {
	refl := r.signal(r.Reflected)
	want := refl + r.Emissivity/r.Set*(r.signal(T)-refl)
	lo, hi := min(T, r.Reflected)/4, 4*max(T, r.Reflected)
	if r.signal(lo) > want || r.signal(hi) < want {
		return 0, Bad("emissivity_set", "%s: no temperature gives such a signal", show(r.Set, "1"))
	}
	return num.Root("reading of the infrared sensor", func(t float64) float64 { return r.signal(t) - want }, lo, hi, 0)
}

var infraredModels = []Spec{{
	Name: "infrared_error", Topic: "sensor",
	Title: "Error of an infrared sensor from a wrong emissivity and from reflected radiation",
	Args: []Arg{
		{Name: "temperature", Unit: "°C", Above: kelvin, Doc: "true temperature of the surface"},
		{Name: "emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "true emissivity of the surface in the sensor's band"},
		{Name: "emissivity_set", Unit: "1", Above: at(0), AtMost: at(1), Doc: "emissivity set at the sensor"},
		{Name: "reflected", Unit: "°C", Above: kelvin, Doc: "temperature of what the surface mirrors"},
		{Name: "band_short", Unit: "m", Optional: true, Above: at(0), Doc: "shorter end of the sensor's band, 8 um for most; with band_long, or both left out: all wavelengths"},
		{Name: "band_long", Unit: "m", Optional: true, Above: at(0), Doc: "longer end of the sensor's band, 14 um for most"},
	},
	Results: []Res{
		{Name: "reading", Unit: "°C", Doc: "what the sensor shows", Rises: "temperature"},
		{Name: "error", Unit: "K", Doc: "reading less the true temperature"},
		{Name: "per_percent", Unit: "K", Doc: "fall of the reading for one percent more emissivity_set, at the reading"},
	},
	Formula: []string{
		"S_reading = S_reflected + emissivity / emissivity_set * (S_true - S_reflected) # S_reading, S_reflected and S_true are the radiation of a black body in the band at reading, reflected and temperature; solved for reading",
		"error = reading - temperature",
		"per_percent = (S_reading - S_reflected) / (100 * slope) # slope is the derivative of S at reading; S_reading, S_reflected as above",
	},
	Source: "balance of signals, as ASTM E2758 describes (from memory); band by Planck's law, see blackbody_band",
	Range:  "grey surface in the band; the sensor sees nothing else; lamps that shine into its band must be off or screened while it reads",
	Fn: func(in *In, out *Out) error {
		if in.Has("band_short") != in.Has("band_long") {
			missing := "band_long"
			if in.Has(missing) {
				missing = "band_short"
			}
			return Bad(missing, "is missing: band_short and band_long go together")
		}
		r := Infrared{in.Num("band_short"), in.Num("band_long"), in.Num("emissivity"), in.Num("emissivity_set"), in.Num("reflected")}
		if r.Long > 0 && r.Long <= r.Short {
			return Bad("band_long", "%s: must be longer than band_short, %s", show(r.Long, "m"), show(r.Short, "m"))
		}
		T := in.Num("temperature")
		reading, err := r.Indicated(T)
		if err != nil {
			return err
		}
		out.Num("reading", reading)
		out.Num("error", reading-T)
		out.Num("per_percent", (r.signal(reading)-r.signal(r.Reflected))/(100*r.slope(reading)))
		return nil
	},
}, {
	Name: "error_budget", Topic: "sensor",
	Title: "Combined uncertainty of a temperature from its separate errors",
	Args: []Arg{
		{Name: "rectangular", Unit: "K", Shape: List, Optional: true, AtLeast: at(0), Doc: "half widths of errors that may lie anywhere within: tolerance classes, limits of a data sheet"},
		{Name: "triangular", Unit: "K", Shape: List, Optional: true, AtLeast: at(0), Doc: "half widths of errors that are likelier in the middle"},
		{Name: "resolution", Unit: "K", Shape: List, Optional: true, AtLeast: at(0), Doc: "smallest steps of displays and converters"},
		{Name: "standard", Unit: "K", Shape: List, Optional: true, AtLeast: at(0), Doc: "standard uncertainties, from readings or certificates"},
		{Name: "coverage", Unit: "1", AtLeast: at(1), AtMost: at(4), Doc: "coverage factor, 2 for about 95 %"},
	},
	Results: []Res{
		{Name: "combined", Unit: "K", Doc: "combined standard uncertainty", Rises: "rectangular triangular resolution standard", Only: true},
		{Name: "expanded", Unit: "K", Doc: "times the coverage factor", Rises: "rectangular triangular resolution standard coverage"},
		{Name: "largest", Unit: "K", Doc: "largest standard uncertainty among the parts", Rises: "rectangular triangular resolution standard", Only: true},
		{Name: "largest_share", Unit: "1", Doc: "its share of the variance", Rises: "coverage", Falls: "coverage"},
	},
	Formula: []string{
		"combined = sqrt(sum(rectangular^2) / 3 + sum(triangular^2) / 6 + sum(resolution^2) / 12 + sum(standard^2))",
		"expanded = coverage * combined",
		"largest_share = largest^2 / combined^2",
	},
	Source: "JCGM 100:2008, 4.3 and 5.1 (from memory)",
	Range:  "errors independent of one another and of similar size, or many of them; with one dominant rectangular error a factor of 2 is more than 95 %",
	Fn: func(in *In, out *Out) error {
		sum, largest := 0.0, 0.0
		for _, part := range []struct {
			name    string
			divisor float64
		}{{"rectangular", 3}, {"triangular", 6}, {"resolution", 12}, {"standard", 1}} {
			for _, a := range in.List(part.name) {
				v := a * a / part.divisor
				sum += v
				largest = max(largest, v)
			}
		}
		if sum == 0 {
			return Bad("rectangular", "no error is given: at least one of rectangular, triangular, resolution and standard must be above 0")
		}
		out.Num("combined", math.Sqrt(sum))
		out.Num("expanded", in.Num("coverage")*math.Sqrt(sum))
		out.Num("largest", math.Sqrt(largest))
		out.Num("largest_share", largest/sum)
		return nil
	},
}}
