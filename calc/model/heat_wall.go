package model

import (
	"math"

	"workings/calc/num"
)

// A Wall is a plastic wall beside a hot surface, seen from the hot side: a gap
// of air (two if a sheet hangs in it), the wall, and the air of the room.
type Wall struct {
	Hot, HotEmissivity      float64 // K
	Gap                     float64 // between hot surface and sheet, or wall if there is none, > 0, m
	Shield                  bool
	ShieldEmissivity        float64 // both sides
	ShieldGap               float64 // between sheet and wall, > 0, m
	AirConductivity         float64 // > 0, W/(m·K)
	Emissivity              float64 // of the wall's inner side
	Thickness, Conductivity float64 // of the wall, > 0, m, W/(m·K)
	HOutside, Ambient       float64 // W/(m²·K), K
}

// gapFlux is what crosses a gap of still air from T1 to T2, W/m².
func gapFlux(T1, T2, e1, e2, gap, k float64) float64 {
	return k/gap*(T1-T2) + PlateRadiation(T1, T2, e1, e2, 0, 0)
}

// A WallState is the answer of Wall.Steady.
type WallState struct {
	Inner, Outer, Shield float64 // temperatures, K; Shield only if there is one
	Flux                 float64 // W/m²
	Rayleigh             float64 // of the gap with the larger one
}

// Steady returns the temperatures of a wall beside a hot surface,
//
//	q = k_air/gap (T₁ - T₂) + σ (T₁⁴ - T₂⁴)/(1/ε₁ + 1/ε₂ - 1)   each gap
//	q = (T_inner - T_outer) k/t = h_o (T_outer - T_ambient)
//
// with the Wall's values; q is the same everywhere.
//
// Still air (Rayleigh number below 1708), large parallel surfaces.
// Errors: no convergence.
// Source: series of resistances, Incropera et al., Fundamentals of Heat and
// Mass Transfer, ch. 3 and 13 (from memory).
func (w Wall) Steady() (WallState, error) {
	if w.Hot == w.Ambient { // nothing flows
		s := WallState{Inner: w.Hot, Outer: w.Hot}
		if w.Shield {
			s.Shield = w.Hot
		}
		return s, nil
	}
	shield := func(inner float64) (float64, error) { // temperature of the sheet
		if inner == w.Hot {
			return inner, nil
		}
		return num.Root("temperature of the shield", func(T float64) float64 {
			return gapFlux(w.Hot, T, w.HotEmissivity, w.ShieldEmissivity, w.Gap, w.AirConductivity) -
				gapFlux(T, inner, w.ShieldEmissivity, w.Emissivity, w.ShieldGap, w.AirConductivity)
		}, w.Hot, inner, 0)
	}
	through := func(inner float64) (float64, error) { // flux into the wall
		if !w.Shield {
			return gapFlux(w.Hot, inner, w.HotEmissivity, w.Emissivity, w.Gap, w.AirConductivity), nil
		}
		T, err := shield(inner)
		return gapFlux(w.Hot, T, w.HotEmissivity, w.ShieldEmissivity, w.Gap, w.AirConductivity), err
	}
	resistance := w.Thickness/w.Conductivity + 1/w.HOutside
	var inside error
	inner, err := num.Root("temperature of the wall", func(T float64) float64 {
		q, err := through(T)
		if err != nil {
			inside = err
		}
		return q - (T-w.Ambient)/resistance
	}, w.Hot, w.Ambient, 0)
	if inside != nil {
		return WallState{}, inside
	}
	if err != nil {
		return WallState{}, err
	}
	s := WallState{Inner: inner, Flux: (inner - w.Ambient) / resistance}
	s.Outer = w.Ambient + s.Flux/w.HOutside
	if w.Shield {
		if s.Shield, err = shield(inner); err != nil {
			return WallState{}, err
		}
		s.Rayleigh = max(GapRayleigh(w.Hot, s.Shield, w.Gap), GapRayleigh(s.Shield, inner, w.ShieldGap))
	} else {
		s.Rayleigh = GapRayleigh(w.Hot, inner, w.Gap)
	}
	return s, nil
}

// GapRayleigh returns the Rayleigh number of a gap of air at one atmosphere,
//
//	Ra = g β |T₁ - T₂| s³/(ν a),  β = 1/T_m, a = ν/Pr
//
//	T1, T2  temperatures of its sides, > 0   K
//	s       width of the gap, > 0            m
//	Ra      below 1708 the air of a level gap stands still
//
// Viscosity by Sutherland's formula, Prandtl number 0.70: within about 3 %
// between 250 and 600 K.
// Errors: none. Source: Incropera et al., ch. 9 and table A.4 (from memory).
func GapRayleigh(T1, T2, s float64) float64 {
	const prandtl, gasConstant, pressure = 0.70, 287.05, 101325.0
	T := (T1 + T2) / 2
	viscosity := 1.458e-6 * math.Pow(T, 1.5) / (T + 110.4)
	nu := viscosity * gasConstant * T / pressure
	return standardGravity / T * math.Abs(T1-T2) * s * s * s * prandtl / (nu * nu)
}

// WallResistance returns the thermal resistance of layers in series with a
// film of air on either side, times area: R = 1/h_i + Σ t/k + 1/h_o, m²·K/W;
// h 0 leaves the film out.
// Errors: none. Source: Incropera et al., ch. 3 (from memory).
func WallResistance(thickness, conductivity []float64, hi, ho float64) float64 {
	r := 0.0
	for i, t := range thickness {
		r += t / conductivity[i]
	}
	if hi > 0 {
		r += 1 / hi
	}
	if ho > 0 {
		r += 1 / ho
	}
	return r
}

var wallArgs = []Arg{
	{Name: "hot", Unit: "°C", Above: kelvin, Doc: "temperature of the hot surface"},
	{Name: "hot_emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the hot surface"},
	{Name: "wall_emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the wall's inner side"},
	{Name: "air_conductivity", Unit: "W/(m*K)", Above: at(0), Low: at(0.02), High: at(0.05), RangeOf: "air between -20 and 400 °C, Incropera et al., table A.4 (from memory)", Doc: "of the air in the gap, at its mean temperature"},
	{Name: "wall_thickness", Unit: "m", Above: at(0), Doc: "of the wall"},
	{Name: "wall_conductivity", Unit: "W/(m*K)", Above: at(0), Doc: "of its plastic"},
	{Name: "h_outside", Unit: "W/(m^2*K)", Above: at(0), Low: at(5), High: at(15), RangeOf: "still air with radiation 5 to 10, common practice", Doc: "from the outside of the wall to the room, radiation included"},
	{Name: "ambient", Unit: "°C", Above: kelvin, Doc: "temperature of the room"},
	{Name: "deflection", Unit: "°C", Above: kelvin, Doc: "temperature of deflection under load of the wall's plastic (ISO 75, method A), from its data sheet"},
}

var wallResults = []Res{
	{Name: "inner", Unit: "°C", Doc: "hottest side of the wall", Rises: "hot ambient deflection", Falls: "deflection"},
	{Name: "outer", Unit: "°C", Doc: "side that people can touch", Rises: "hot ambient deflection", Falls: "deflection"},
	{Name: "flux", Unit: "W/m^2", Doc: "heat through the wall", Rises: "hot deflection", Falls: "ambient deflection"},
	{Name: "margin", Unit: "K", Doc: "inner side below the temperature of deflection; at least 20 K for a loaded part", Rises: "deflection", Falls: "hot ambient"},
	{Name: "rayleigh", Unit: "1", Doc: "Rayleigh number of the gap: below 1708 its air stands still", Rises: "deflection", Falls: "deflection"},
}

var wallFormula = []string{
	"flux = wall_conductivity / wall_thickness * (inner - outer)",
	"flux = h_outside * (outer - ambient)",
	"margin = deflection - inner",
}

const (
	wallSource = "resistances in series, Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 3 and 13 (from memory); margin: ISO 75-1 says that its data do not predict end use (seen), 20 K is common practice"
	wallRange  = "steady; large parallel surfaces, air of the gap at rest (Rayleigh number below 1708); says nothing of creep under lasting load"
)

func wallOf(in *In) Wall {
	return Wall{
		Hot: in.Num("hot"), HotEmissivity: in.Num("hot_emissivity"), AirConductivity: in.Num("air_conductivity"),
		Emissivity: in.Num("wall_emissivity"), Thickness: in.Num("wall_thickness"), Conductivity: in.Num("wall_conductivity"),
		HOutside: in.Num("h_outside"), Ambient: in.Num("ambient"),
	}
}

func wallOut(in *In, out *Out, s WallState) {
	if s.Rayleigh > 1708 {
		in.Outside("gap", "the air of the gap moves (Rayleigh number %.0f, above 1708) and carries more heat than was counted: the wall gets hotter (Incropera et al., ch. 9, from memory)", s.Rayleigh)
	}
	out.Num("inner", s.Inner)
	out.Num("outer", s.Outer)
	out.Num("flux", s.Flux)
	out.Num("margin", in.Num("deflection")-s.Inner)
	out.Num("rayleigh", s.Rayleigh)
}

var wallModels = []Spec{
	{
		Name: "wall_near_heat", Topic: "heat",
		Title:   "Temperature of a plastic wall beside a hot surface, against its temperature of deflection",
		Args:    args(Arg{Name: "gap", Unit: "m", Above: at(0), Doc: "air between the hot surface and the wall"}, wallArgs),
		Results: wallResults,
		Formula: append([]string{"flux = air_conductivity / gap * (hot - inner) + sigma * (hot^4 - inner^4) / (1 / hot_emissivity + 1 / wall_emissivity - 1) # temperatures in kelvins, sigma is the Stefan-Boltzmann constant; the three lines for flux are solved for inner and outer"}, wallFormula...),
		Source:  wallSource, Range: wallRange,
		Fn: func(in *In, out *Out) error {
			w := wallOf(in)
			w.Gap = in.Num("gap")
			s, err := w.Steady()
			if err != nil {
				return err
			}
			wallOut(in, out, s)
			return nil
		},
	},
	{
		Name: "wall_behind_shield", Topic: "heat",
		Title: "Temperature of a plastic wall beside a hot surface with a thin sheet between them",
		Args: args(
			Arg{Name: "gap", Unit: "m", Above: at(0), Doc: "air between the hot surface and the sheet"},
			Arg{Name: "shield_gap", Unit: "m", Above: at(0), Doc: "air between the sheet and the wall"},
			Arg{Name: "shield_emissivity", Unit: "1", Above: at(0), AtMost: at(1), High: at(0.2), RangeOf: "common practice: dust and oxide raise it, compute with 0.3 as well", Doc: "of both sides of the sheet"},
			wallArgs),
		Results: append(wallResults[:len(wallResults):len(wallResults)], Res{Name: "shield", Unit: "°C", Doc: "temperature of the sheet", Rises: "hot ambient deflection", Falls: "deflection"}),
		Formula: append([]string{
			"flux = air_conductivity / gap * (hot - shield) + sigma * (hot^4 - shield^4) / (1 / hot_emissivity + 1 / shield_emissivity - 1) # temperatures in kelvins, sigma is the Stefan-Boltzmann constant; the four lines for flux are solved for shield, inner and outer",
			"flux = air_conductivity / shield_gap * (shield - inner) + sigma * (shield^4 - inner^4) / (1 / shield_emissivity + 1 / wall_emissivity - 1) # sigma as above",
		}, wallFormula...),
		Source: wallSource, Range: wallRange,
		Fn: func(in *In, out *Out) error {
			w := wallOf(in)
			w.Gap, w.Shield, w.ShieldGap, w.ShieldEmissivity = in.Num("gap"), true, in.Num("shield_gap"), in.Num("shield_emissivity")
			s, err := w.Steady()
			if err != nil {
				return err
			}
			wallOut(in, out, s)
			out.Num("shield", s.Shield)
			return nil
		},
	},
	{
		Name: "wall_loss", Topic: "heat",
		Title: "Heat through a wall of layers, and the temperatures of its two sides",
		Args: []Arg{
			{Name: "thickness", Unit: "m", Shape: List, Above: at(0), Doc: "of each layer, from the inside"},
			{Name: "conductivity", Unit: "W/(m*K)", Shape: List, Above: at(0), Doc: "of each layer"},
			{Name: "area", Unit: "m^2", Above: at(0), Doc: "of the wall"},
			{Name: "inside", Unit: "°C", Above: kelvin, Doc: "temperature inside: of the air if h_inside is given, else of the wall's face"},
			{Name: "outside", Unit: "°C", Above: kelvin, Doc: "temperature outside: of the air if h_outside is given, else of the wall's face"},
			{Name: "h_inside", Unit: "W/(m^2*K)", Optional: true, Above: at(0), Doc: "from the air inside to the wall; left out: no film of air"},
			{Name: "h_outside", Unit: "W/(m^2*K)", Optional: true, Above: at(0), Doc: "from the wall to the air outside; left out: no film of air"},
		},
		Results: []Res{
			{Name: "resistance", Unit: "K/W", Doc: "of the wall with its films", Rises: "thickness", Falls: "conductivity area h_inside h_outside", Only: true},
			{Name: "flow", Unit: "W", Doc: "heat through it", Rises: "inside", Falls: "outside"},
			{Name: "flux", Unit: "W/m^2", Doc: "heat through each square metre", Rises: "inside area", Falls: "outside area"},
			{Name: "inner_face", Unit: "°C", Doc: "temperature of the inner face", Rises: "inside outside area", Falls: "area"},
			{Name: "outer_face", Unit: "°C", Doc: "temperature of the outer face", Rises: "inside outside area", Falls: "area"},
		},
		Formula: []string{
			"resistance = (1 / h_inside + sum(thickness / conductivity) + 1 / h_outside) / area",
			"flow = (inside - outside) / resistance",
			"flux = flow / area",
			"inner_face = inside - flux / h_inside",
			"outer_face = outside + flux / h_outside",
		},
		Source: "Cengel, Heat and Mass Transfer, 5th ed., ch. 3, resistances in series (seen)",
		Range:  "steady, flat layers in close contact; no edges",
		Fn: func(in *In, out *Out) error {
			_, cols, err := in.columns("thickness", "conductivity")
			if err != nil {
				return err
			}
			hi, ho, a := in.Num("h_inside"), in.Num("h_outside"), in.Num("area")
			r := WallResistance(cols[0], cols[1], hi, ho)
			q := (in.Num("inside") - in.Num("outside")) / r
			out.Num("resistance", r/a)
			out.Num("flow", q*a)
			out.Num("flux", q)
			inner, outer := in.Num("inside"), in.Num("outside")
			if hi > 0 {
				inner -= q / hi
			}
			if ho > 0 {
				outer += q / ho
			}
			out.Num("inner_face", inner)
			out.Num("outer_face", outer)
			return nil
		},
	},
}
