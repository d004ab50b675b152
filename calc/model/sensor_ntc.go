package model

import "math"

// NTCResistance returns the resistance of a thermistor by its B value,
//
//	R = R_ref exp[B (1/T - 1/T_ref)]
//
//	Rref, Tref  a known point, > 0                     Ω, K
//	B           between the two temperatures of the data sheet, > 0  K
//	T           temperature, > 0                       K
//
// Errors: none. Source: IEC 60539-1, definition of B (formula seen).
func NTCResistance(Rref, Tref, B, T float64) float64 { return Rref * math.Exp(B*(1/T-1/Tref)) }

// SteinhartHart returns the temperature, K, of a thermistor,
// 1/T = a + b ln R + c (ln R)³, R in Ω.
// Errors: coefficients that give no positive temperature, or one that rises
// with the resistance, as no NTC thermistor's does.
// Source: Steinhart & Hart, Deep-Sea Research 15 (1968) 497 (from memory).
func SteinhartHart(a, b, c, R float64) (float64, error) {
	l := math.Log(R)
	inv := a + l*(b+c*l*l)
	if inv <= 0 {
		return 0, Bad("a", "the coefficients give no temperature for %s", show(R, "ohm"))
	}
	if b+3*c*l*l <= 0 {
		return 0, Bad("b", "with these coefficients the temperature rises with the resistance: they are none of an NTC thermistor")
	}
	return 1 / inv, nil
}

var ntcArgs = []Arg{
	{Name: "nominal", Unit: "ohm", Above: at(0), Doc: "resistance at the reference temperature"},
	{Name: "reference", Unit: "°C", Above: kelvin, Doc: "reference temperature, mostly 25 °C"},
	{Name: "b", Unit: "K", Above: at(0), Doc: "B value"},
	{Name: "b_from", Unit: "°C", Above: kelvin, Doc: "lower temperature of the B value: 25 °C for B25/85"},
	{Name: "b_to", Unit: "°C", Above: kelvin, Doc: "upper temperature of the B value: 85 °C for B25/85"},
}

// ntcRange reports a temperature outside the interval of B.
func ntcRange(in *In, arg string, T float64) error {
	lo, hi := in.Num("b_from"), in.Num("b_to")
	if hi <= lo {
		return Bad("b_to", "%s: must be above b_from, %s", show(hi, "°C"), show(lo, "°C"))
	}
	if T < lo || T > hi {
		in.Outside(arg, "%s lies outside the interval of the B value, %s to %s: the error may be 5 K or more (IEC 60539-1)", show(T, "°C"), show(lo, "°C"), show(hi, "°C"))
	}
	return nil
}

// fitRange: 1/b lies between the B values of 2000 and 10 000 K.
const fitRange = "thermistors of 10 ohm to 10 Mohm and their fits, common practice"

var ntcModels = []Spec{
	{
		Name: "ntc_resistance", Topic: "sensor",
		Title: "Resistance of an NTC thermistor by its B value",
		Args:  args(ntcArgs, Arg{Name: "temperature", Unit: "°C", Above: kelvin, Doc: "of the thermistor"}),
		Results: []Res{
			{Name: "resistance", Unit: "ohm", Doc: "of the thermistor", Rises: "nominal reference b_from b_to", Falls: "temperature b_from b_to"},
			{Name: "sensitivity", Unit: "ohm/K", Doc: "change for each kelvin, negative", Rises: "temperature b_from b_to", Falls: "nominal reference b_from b_to"},
		},
		Formula: []string{
			"resistance = nominal * exp(b * (1 / temperature - 1 / reference)) # temperatures in kelvins",
			"sensitivity = -b / temperature^2 * resistance",
		},
		Source: "IEC 60539-1, definition of B (formula seen)", Range: "within the interval of the B value",
		Fn: func(in *In, out *Out) error {
			T, B := in.Num("temperature"), in.Num("b")
			if err := ntcRange(in, "temperature", T); err != nil {
				return err
			}
			r := NTCResistance(in.Num("nominal"), in.Num("reference"), B, T)
			out.Num("resistance", r)
			out.Num("sensitivity", -B/(T*T)*r)
			return nil
		},
	},
	{
		Name: "ntc_temperature", Topic: "sensor",
		Title: "Temperature of an NTC thermistor by its B value",
		Args:  args(ntcArgs, Arg{Name: "resistance", Unit: "ohm", Above: at(0), Doc: "as measured"}),
		Results: []Res{
			{Name: "temperature", Unit: "°C", Doc: "of the thermistor", Rises: "nominal reference b_from b_to", Falls: "resistance b_from b_to"},
		},
		Formula: []string{"temperature = 1 / (1 / reference + ln(resistance / nominal) / b) # temperatures in kelvins"},
		Source:  "IEC 60539-1, definition of B (formula seen)", Range: "within the interval of the B value",
		Fn: func(in *In, out *Out) error {
			inv := 1/in.Num("reference") + math.Log(in.Num("resistance")/in.Num("nominal"))/in.Num("b")
			if inv <= 0 {
				return Bad("resistance", "%s: no temperature has such a resistance", show(in.Num("resistance"), "ohm"))
			}
			if err := ntcRange(in, "resistance", 1/inv); err != nil {
				return err
			}
			out.Num("temperature", 1/inv)
			return nil
		},
	},
	{
		Name: "steinhart_hart", Topic: "sensor",
		Title: "Temperature of an NTC thermistor by three coefficients",
		Args: []Arg{
			{Name: "a", Unit: "K^-1", Low: at(3e-4), High: at(3e-3), RangeOf: fitRange, Doc: "first coefficient, resistances in ohm"},
			{Name: "b", Unit: "K^-1", Low: at(1e-4), High: at(5e-4), RangeOf: fitRange, Doc: "second coefficient"},
			{Name: "c", Unit: "K^-1", Low: at(0), High: at(1e-6), RangeOf: fitRange, Doc: "third coefficient"},
			{Name: "resistance", Unit: "ohm", Above: at(0), Low: at(10), High: at(10e6), RangeOf: fitRange, Doc: "as measured"},
		},
		// with coefficients of both signs there are two stretches of resistance
		Results: []Res{{Name: "temperature", Unit: "°C", Doc: "of the thermistor", Falls: "a"}},
		Formula: []string{
			"L = ln(r) # r is the number of resistance in ohm",
			"temperature = 1 / (a + b * L + c * L^3) # in kelvins",
		},
		Source: "Steinhart & Hart, Deep-Sea Research 15 (1968) 497 (from memory)", Range: "between the temperatures that the coefficients were fitted to, which the formula does not know: thermistors work from -100 to 350 °C at most",
		Fn: func(in *In, out *Out) error {
			T, err := SteinhartHart(in.Num("a"), in.Num("b"), in.Num("c"), in.Num("resistance"))
			if err != nil {
				return err
			}
			if T < zeroCelsius-100 || T > zeroCelsius+350 {
				in.Outside("resistance", "%s is no temperature that a thermistor measures, -100 to 350 °C (common practice): check the coefficients and the unit of the resistance", show(T, "°C"))
			}
			out.Num("temperature", T)
			return nil
		},
	},
}
