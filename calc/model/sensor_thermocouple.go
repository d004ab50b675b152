package model

import (
	"math"

	"workings/calc/num"
)

// Coefficients of the electromotive force of a type K thermocouple, mV for
// temperatures in °C: below 0 °C, above it, and of the exponential above it.
// Source: NIST Monograph 175, ITS-90 (short digits seen at its90.nist.gov, full
// digits seen in several open programs).
var (
	typeKBelow = [...]float64{0, 3.94501280250e-2, 2.36223735980e-5, -3.28589067840e-7, -4.99048287770e-9, -6.75090591730e-11,
		-5.74103274280e-13, -3.10888728940e-15, -1.04516093650e-17, -1.98892668780e-20, -1.63226974860e-23}
	typeKAbove = [...]float64{-1.76004136860e-2, 3.89212049750e-2, 1.85587700320e-5, -9.94575928740e-8, 3.18409457190e-10,
		-5.60728448890e-13, 5.60750590590e-16, -3.20207200030e-19, 9.71511471520e-23, -1.21047212750e-26}
	typeKBump = [...]float64{0.118597600000, -1.183432e-4, 126.9686}
)

// TypeKVoltage returns the electromotive force of a type K thermocouple whose
// cold end is at 0 °C, and its slope,
//
//	E = Σ c_i tⁱ  (+ a₀ exp(a₁ (t - a₂)²) above 0 °C)
//
//	t  temperature, -270 to 1372 (°C, not kelvins)
//	E  electromotive force                           V
//	s  dE/dt                                         V/K
//
// Errors: none; meaningless outside -270 to 1372 °C.
// Source: NIST Monograph 175, ITS-90, see the coefficients.
func TypeKVoltage(t float64) (E, s float64) {
	c := typeKAbove[:]
	if t <= 0 {
		c = typeKBelow[:]
	}
	for i := len(c) - 1; i >= 0; i-- {
		s = s*t + E
		E = E*t + c[i]
	}
	if t > 0 {
		d := t - typeKBump[2]
		bump := typeKBump[0] * math.Exp(typeKBump[1]*d*d)
		E += bump
		s += bump * 2 * typeKBump[1] * d
	}
	return E * 1e-3, s * 1e-3
}

// TypeKTemperature returns the temperature, °C, of a type K thermocouple from
// its voltage, V, and the temperature of its cold end, °C: the reference
// function solved for the temperature, after the cold end's own force is added.
// Errors: a voltage outside -200 to 1372 °C. Source: as TypeKVoltage.
func TypeKTemperature(voltage, cold float64) (float64, error) {
	ec, _ := TypeKVoltage(cold)
	E := voltage + ec
	lo, _ := TypeKVoltage(-200)
	hi, _ := TypeKVoltage(1372)
	if E < lo-1e-12 || E > hi+1e-12 {
		return 0, Bad("voltage", "%s with its cold end added: type K gives %s to %s between -200 and 1372 °C", show(E, "V"), show(lo, "V"), show(hi, "V"))
	}
	return num.Root("temperature of a type K thermocouple", func(t float64) float64 {
		e, _ := TypeKVoltage(t)
		return e - E
	}, -200.001, 1372.001, 1e-9)
}

const typeKSource = "NIST Monograph 175, ITS-90 (short digits seen at its90.nist.gov, full digits seen in several open programs)"

var thermocoupleModels = []Spec{
	{
		Name: "thermocouple_k_voltage", Topic: "sensor",
		Title: "Voltage of a type K thermocouple",
		Args: []Arg{
			{Name: "temperature", Unit: "°C", AtLeast: celsius(-270), AtMost: celsius(1372), Doc: "of the hot end"},
			{Name: "cold_end", Unit: "°C", AtLeast: celsius(-270), AtMost: celsius(1372), Low: celsius(-20), High: celsius(100), RangeOf: "common practice", Doc: "of the end at the instrument"},
		},
		Results: []Res{
			{Name: "voltage", Unit: "V", Doc: "at the instrument", Rises: "temperature", Falls: "cold_end"},
			{Name: "sensitivity", Unit: "V/K", Doc: "rise of it for each kelvin of the hot end", Rises: "cold_end", Falls: "cold_end"},
		},
		Formula: []string{
			"E = c(t) # c is the reference function of type K: a polynomial in t, the temperature's number in °C, with an exponential above 0 °C",
			"voltage = E_hot - E_cold # E_hot and E_cold are E at temperature and at cold_end",
			"sensitivity = slope # slope is the derivative of E at temperature",
		},
		Source: typeKSource, Range: "-270 °C to 1372 °C; homogeneous wires",
		Fn: func(in *In, out *Out) error {
			hot, s := TypeKVoltage(in.Num("temperature") - zeroCelsius)
			cold, _ := TypeKVoltage(in.Num("cold_end") - zeroCelsius)
			out.Num("voltage", hot-cold)
			out.Num("sensitivity", s)
			return nil
		},
	},
	{
		Name: "thermocouple_k_temperature", Topic: "sensor",
		Title: "Temperature from the voltage of a type K thermocouple",
		Args: []Arg{
			{Name: "voltage", Unit: "V", Doc: "at the instrument"},
			{Name: "cold_end", Unit: "°C", AtLeast: celsius(-270), AtMost: celsius(1372), Low: celsius(-20), High: celsius(100), RangeOf: "common practice", Doc: "of the end at the instrument"},
		},
		Results: []Res{{Name: "temperature", Unit: "°C", Doc: "of the hot end", Rises: "voltage cold_end"}},
		Formula: []string{
			"E_hot = voltage + E_cold # E_cold is the reference function of type K at cold_end, see thermocouple_k_voltage",
			"temperature = inverse # inverse is the temperature at which the reference function gives E_hot",
		},
		Source: typeKSource, Range: "-200 °C to 1372 °C; homogeneous wires",
		Fn: func(in *In, out *Out) error {
			t, err := TypeKTemperature(in.Num("voltage"), in.Num("cold_end")-zeroCelsius)
			if err != nil {
				return err
			}
			out.Num("temperature", t+zeroCelsius)
			return nil
		},
	},
	{
		Name: "thermocouple_k_tolerance", Topic: "sensor",
		Title: "Tolerance of a type K thermocouple",
		Args: []Arg{
			{Name: "temperature", Unit: "°C", AtLeast: celsius(-270), AtMost: celsius(1372), Doc: "of the hot end"},
			{Name: "class", Shape: Text, Choices: []string{"1", "2", "3"}, Doc: "tolerance class of IEC 60584"},
		},
		Results: []Res{{Name: "tolerance", Unit: "K", Doc: "half width"}},
		Formula: []string{"tolerance = max(base, slope * abs(t)) # t is the temperature's number in °C; base and slope: class 1 1.5 K, 0.004; class 2 2.5 K, 0.0075; class 3 2.5 K, 0.015"},
		Source:  "IEC 60584-2 (seen in a reprint)",
		Range:   "class 1 -40 to 1000 °C, class 2 -40 to 1200 °C, class 3 -200 to 40 °C; new wires",
		Fn: func(in *In, out *Out) error {
			t := in.Num("temperature") - zeroCelsius
			c := map[string]struct{ base, slope, lo, hi float64 }{
				"1": {1.5, .004, -40, 1000}, "2": {2.5, .0075, -40, 1200}, "3": {2.5, .015, -200, 40},
			}[in.Text("class")]
			if t < c.lo || t > c.hi {
				in.Outside("temperature", "%.4g °C lies outside the range of class %s, %g °C to %g °C (IEC 60584-2, seen)", t, in.Text("class"), c.lo, c.hi)
			}
			out.Num("tolerance", max(c.base, c.slope*math.Abs(t)))
			return nil
		},
	},
}
