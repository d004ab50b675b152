package model

import (
	"math"

	"workings/calc/num"
)

// AirConductivity returns the thermal conductivity of air, W/(m·K),
//
//	k = 2.64638e-3 T^1.5/(T + 245.4·10^(-12/T))
//
//	T  temperature, > 0   K
//
// Within 3 % of tables from 200 to 1000 K. Errors: none.
// Source: U.S. Standard Atmosphere 1976, eq. 53 (from memory).
func AirConductivity(T float64) float64 {
	return 2.64638e-3 * math.Pow(T, 1.5) / (T + 245.4*math.Pow(10, -12/T))
}

// CylinderConvection returns the coefficient of free convection of a level
// cylinder in air at one atmosphere,
//
//	Nu = (0.60 + 0.387 Ra^(1/6)/(1 + (0.559/Pr)^(9/16))^(8/27))²,  h = Nu k/d
//
//	d      diameter, > 0                          m
//	T, Ta  of its surface, of the air, > 0        K
//	h      coefficient, at the mean temperature   W/(m²·K)
//
// For Rayleigh numbers from 1e-5 to 1e12, to some 15 %.
// Errors: none.
// Source: Churchill & Chu, as Incropera et al., Fundamentals of Heat and Mass
// Transfer, 6th ed., eq. 9.34 (from memory).
func CylinderConvection(d, T, Ta float64) float64 {
	const prandtl = 0.70
	ra := GapRayleigh(T, Ta, d)
	nu := 0.60 + 0.387*math.Pow(ra, 1./6)/math.Pow(1+math.Pow(0.559/prandtl, 9./16), 8./27)
	return nu * nu * AirConductivity((T+Ta)/2) / d
}

// A Wire is a level, bare wire that a current heats, in still air.
type Wire struct {
	Diameter    float64 // > 0, m
	Resistivity float64 // at 20 °C, > 0, Ω·m
	Slope       float64 // rise of the resistivity per kelvin, of its value at 20 °C, ≥ 0, 1/K
	Emissivity  float64 // > 0
	Ambient     float64 // temperature of air and walls, > 0, K
}

// PerLength returns the resistance per length at a temperature, Ω/m:
// ρ (1 + β (T - 20 °C))/(π d²/4).
// Errors: none. Source: definition of resistivity and its linear rise.
func (w Wire) PerLength(T float64) float64 {
	return w.Resistivity * (1 + w.Slope*(T-zeroCelsius-20)) / (math.Pi / 4 * w.Diameter * w.Diameter)
}

// Loss returns what a metre of the wire gives off at T by convection and by
// radiation, W/m.
// Errors: none. Source: CylinderConvection; Stefan and Boltzmann's law.
func (w Wire) Loss(T float64) (convection, radiation float64) {
	ring := math.Pi * w.Diameter
	return ring * CylinderConvection(w.Diameter, T, w.Ambient) * (T - w.Ambient),
		ring * w.Emissivity * stefanBoltzmann * (math.Pow(T, 4) - math.Pow(w.Ambient, 4))
}

// Temperature returns the steady temperature of the wire, K, at which
//
//	I² R'(T) = π d (h (T - T_a) + ε σ (T⁴ - T_a⁴))
//
//	I  current, > 0   A
//
// It is one only: the losses rise faster than the resistance, and radiation
// bounds it.
// Errors: no convergence.
// Source: balance of energy.
func (w Wire) Temperature(I float64) (float64, error) {
	excess := func(T float64) float64 {
		c, r := w.Loss(T)
		return c + r - I*I*w.PerLength(T)
	}
	hot := 2 * w.Ambient
	for range 40 {
		if excess(hot) > 0 {
			break
		}
		hot *= 1.5
	}
	return num.Root("temperature of the wire", excess, w.Ambient, hot, 0)
}

var wireModels = []Spec{{
	Name: "heated_wire", Topic: "heat",
	Title: "Temperature, voltage and power of a bare level wire that a current heats in still air",
	Args: []Arg{
		{Name: "current", Unit: "A", Above: at(0), Doc: "effective value"},
		{Name: "diameter", Unit: "m", Above: at(0), Low: at(5e-5), High: at(0.02), RangeOf: "from finer wires the air does not rise freely; common practice", Doc: "of the wire"},
		{Name: "length", Unit: "m", Above: at(0), Doc: "heated length"},
		{Name: "resistivity", Unit: "ohm*m", Above: at(0), Doc: "of its alloy at 20 °C"},
		{Name: "resistivity_slope", Unit: "K^-1", AtLeast: at(0), High: at(0.007), RangeOf: "pure metals have 0.004 to 0.0065, heating alloys below 0.0003 (handbooks, from memory)", Doc: "rise of the resistivity per kelvin; 0 if it hardly rises"},
		{Name: "emissivity", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of its surface: 0.2 bright, 0.7 to 0.9 oxidised"},
		{Name: "ambient", Unit: "°C", Above: kelvin, Low: at(200), High: at(600), RangeOf: "air as the formulas know it, U.S. Standard Atmosphere 1976 (from memory)", Doc: "temperature of the air and of the walls"},
	},
	// That the wire has one temperature, which rises with the current, is not
	// proved for every slope and emissivity: nothing is declared on it.
	Results: []Res{
		{Name: "temperature", Unit: "°C", Doc: "of the wire, away from its ends", Rises: "length", Falls: "length"},
		{Name: "per_length", Unit: "W/m", Doc: "power per length", Rises: "length", Falls: "length"},
		{Name: "resistance", Unit: "ohm", Doc: "hot", Rises: "length"},
		{Name: "cold_resistance", Unit: "ohm", Doc: "at 20 °C, as a meter shows it before", Rises: "length resistivity", Falls: "diameter", Only: true},
		{Name: "voltage", Unit: "V", Doc: "across the heated length", Rises: "length"},
		{Name: "power", Unit: "W", Doc: "of the heated length", Rises: "length"},
		{Name: "h", Unit: "W/(m^2*K)", Doc: "coefficient of convection", Rises: "length", Falls: "length"},
		{Name: "radiated", Unit: "1", Doc: "share of the power that is radiated", Rises: "length", Falls: "length"},
		{Name: "current_density", Unit: "A/m^2", Doc: "current by cross section", Rises: "current", Falls: "diameter", Only: true},
	},
	Formula: []string{
		"cold_resistance = resistivity * length / (pi / 4 * diameter^2)",
		"resistance = cold_resistance * (1 + resistivity_slope * (temperature - 293.15 K)) # temperature in kelvins",
		"voltage = current * resistance",
		"power = current * voltage",
		"per_length = power / length",
		"per_length = pi * diameter * (h * (temperature - ambient) + emissivity * sigma * (temperature^4 - ambient^4)) # solved for temperature, in kelvins; sigma is the Stefan-Boltzmann constant",
		"h = Nu * k / diameter # Nu is the Nusselt number of a level cylinder after Churchill and Chu, k the conductivity of the air, both at the mean temperature",
		"radiated = pi * diameter * emissivity * sigma * (temperature^4 - ambient^4) / per_length # sigma as above",
		"current_density = current / (pi / 4 * diameter^2)",
	},
	Source: "balance of energy; convection: Churchill & Chu, as Incropera et al., Fundamentals of Heat and Mass Transfer, 6th ed., eq. 9.34 (seen in a recomputed companion); air: U.S. Standard Atmosphere 1976 (formula from memory, compared with a reference library)",
	Range:  "steady, still air, straight level wire much longer than thick; makers' tables ask for up to 18 % more current for a temperature, as rooms are never still: the wire is seldom hotter than computed; a draught, a coil or the material that is cut changes it: measure, and begin with half of the current",
	Fn: func(in *In, out *Out) error {
		w := Wire{in.Num("diameter"), in.Num("resistivity"), in.Num("resistivity_slope"), in.Num("emissivity"), in.Num("ambient")}
		I, L := in.Num("current"), in.Num("length")
		T, err := w.Temperature(I)
		if err != nil {
			return err
		}
		if T > 1700 {
			in.Outside("current", "the wire would be at %s: the heating alloys end at 1700 K, and so does what is known of them (handbooks, from memory)", show(T, "°C"))
		}
		if ra := GapRayleigh(T, w.Ambient, w.Diameter); ra < 1e-5 {
			in.Outside("diameter", "a Rayleigh number of %.2g: the formula holds from 1e-5 (Incropera et al., eq. 9.34, from memory)", ra)
		}
		convected, radiated := w.Loss(T)
		R := w.PerLength(T) * L
		out.Num("temperature", T)
		out.Num("per_length", I*I*w.PerLength(T))
		out.Num("resistance", R)
		out.Num("cold_resistance", w.PerLength(zeroCelsius+20)*L)
		out.Num("voltage", I*R)
		out.Num("power", I*I*R)
		out.Num("h", CylinderConvection(w.Diameter, T, w.Ambient))
		out.Num("radiated", radiated/(convected+radiated))
		out.Num("current_density", I/(math.Pi/4*w.Diameter*w.Diameter))
		return nil
	},
}}
