package model

import (
	"math"

	"workings/calc/num"
)

// Coefficients of the platinum resistance, IEC 60751 (seen in reprints).
const (
	ptA = 3.9083e-3  // 1/K
	ptB = -5.775e-7  // 1/K²
	ptC = -4.183e-12 // 1/K⁴, below 0 °C only
)

// PtResistance returns the resistance of an industrial platinum thermometer
// and its slope,
//
//	R = R₀ (1 + A t + B t²)                   t ≥ 0 °C
//	R = R₀ (1 + A t + B t² + C (t - 100) t³)  t < 0 °C
//
//	R0  resistance at 0 °C, > 0                     Ω
//	t   temperature, -200 to 850 (°C, not kelvins)
//	R   resistance                                  Ω
//	s   dR/dt                                       Ω/K
//
// Errors: none; meaningless outside -200 to 850 °C.
// Source: IEC 60751 (coefficients seen in reprints).
func PtResistance(R0, t float64) (R, s float64) {
	R, s = 1+ptA*t+ptB*t*t, ptA+2*ptB*t
	if t < 0 {
		R += ptC * (t - 100) * t * t * t
		s += ptC * (4*t - 300) * t * t
	}
	return R0 * R, R0 * s
}

// PtTemperature returns the temperature, °C, at which a platinum thermometer
// has the resistance R: the inverse of PtResistance, to rounding.
// Errors: a resistance outside -200 to 850 °C. Source: as PtResistance.
func PtTemperature(R0, R float64) (float64, error) {
	lo, _ := PtResistance(R0, -200)
	hi, _ := PtResistance(R0, 850)
	const slack = 1e-12 // the ends themselves
	if R < lo*(1-slack) || R > hi*(1+slack) {
		return 0, Bad("resistance", "%s: a thermometer of %s has %s to %s between -200 and 850 °C", show(R, "ohm"), show(R0, "ohm"), show(lo, "ohm"), show(hi, "ohm"))
	}
	if R >= R0 {
		return (-ptA + math.Sqrt(ptA*ptA-4*ptB*(1-R/R0))) / (2 * ptB), nil
	}
	return num.Root("temperature of a platinum thermometer", func(t float64) float64 {
		r, _ := PtResistance(R0, t)
		return r - R
	}, -200.001, 0, 0)
}

// ptClass is a tolerance class: half width base + slope |t|, and where it holds
// for wire-wound and film elements. Source: IEC 60751:2008, tables 2 and 3 (A
// and B seen in a reprint; AA, C and the ranges seen in texts that quote them).
type ptClass struct {
	base, slope float64 // K, K/K
	wire, film  [2]float64
}

var ptClasses = map[string]ptClass{
	"AA": {0.1, 0.0017, [2]float64{-50, 250}, [2]float64{0, 150}},
	"A":  {0.15, 0.002, [2]float64{-100, 450}, [2]float64{-30, 300}},
	"B":  {0.3, 0.005, [2]float64{-196, 600}, [2]float64{-50, 500}},
	"C":  {0.6, 0.01, [2]float64{-196, 600}, [2]float64{-50, 600}},
}

// celsius is a bound given in °C, in kelvins as a call gives them.
func celsius(t float64) *float64 { return at(t + zeroCelsius) }

var ptNominal = Arg{Name: "nominal", Unit: "ohm", Above: at(0), Doc: "resistance at 0 °C: 100 ohm for Pt100, 1000 ohm for Pt1000"}

const ptSource = "IEC 60751 (coefficients and tables seen in reprints)"

var ptModels = []Spec{
	{
		Name: "pt_resistance", Topic: "sensor",
		Title: "Resistance of a platinum thermometer (Pt100, Pt1000)",
		Args:  []Arg{ptNominal, {Name: "temperature", Unit: "°C", AtLeast: celsius(-200), AtMost: celsius(850), Doc: "of the element"}},
		Results: []Res{
			{Name: "resistance", Unit: "ohm", Doc: "of the element", Rises: "nominal temperature"},
			{Name: "sensitivity", Unit: "ohm/K", Doc: "rise of it for each kelvin", Rises: "nominal", Falls: "temperature"},
		},
		Formula: []string{
			"resistance = nominal * (1 + A * t + B * t^2 + C * (t - 100) * t^3) # t is the temperature's number in °C; A is 3.9083e-3, B -5.775e-7, C -4.183e-12 below 0 °C and 0 above",
			"sensitivity = slope # slope is the derivative of resistance by temperature",
		},
		Source: ptSource, Range: "-200 °C to 850 °C; elements to IEC 60751:1995 or later (older tables follow another scale)",
		Fn: func(in *In, out *Out) error {
			r, s := PtResistance(in.Num("nominal"), in.Num("temperature")-zeroCelsius)
			out.Num("resistance", r)
			out.Num("sensitivity", s)
			return nil
		},
	},
	{
		Name: "pt_temperature", Topic: "sensor",
		Title: "Temperature of a platinum thermometer from its resistance",
		Args: []Arg{ptNominal,
			{Name: "resistance", Unit: "ohm", Above: at(0), Doc: "as measured"},
			{Name: "leads", Unit: "ohm", AtLeast: at(0), Doc: "resistance of both leads, included in the measurement; 0 for four wires, or three that are compensated"}},
		Results: []Res{{Name: "temperature", Unit: "°C", Doc: "of the element", Rises: "resistance", Falls: "nominal leads"}},
		Formula: []string{
			"r = (resistance - leads) / nominal",
			"temperature = 0 °C + (-A + sqrt(A^2 - 4 * B * (1 - r))) / (2 * B) * 1 K # A is 3.9083e-3, B -5.775e-7; where r is below 1, the polynomial of pt_resistance is solved instead",
		},
		Source: ptSource, Range: "-200 °C to 850 °C; elements to IEC 60751:1995 or later (older tables follow another scale)",
		Fn: func(in *In, out *Out) error {
			t, err := PtTemperature(in.Num("nominal"), in.Num("resistance")-in.Num("leads"))
			if err != nil {
				return err
			}
			out.Num("temperature", t+zeroCelsius)
			return nil
		},
	},
	{
		Name: "pt_error", Topic: "sensor",
		Title: "Error of a platinum thermometer: its class, its leads, its own warmth",
		Args: []Arg{ptNominal,
			{Name: "temperature", Unit: "°C", AtLeast: celsius(-200), AtMost: celsius(850), Doc: "of the element"},
			{Name: "class", Shape: Text, Choices: []string{"AA", "A", "B", "C"}, Doc: "tolerance class"},
			{Name: "element", Shape: Text, Choices: []string{"wire", "film"}, Doc: "wire-wound or film element"},
			{Name: "leads", Unit: "ohm", AtLeast: at(0), Doc: "resistance of both leads that is not compensated"},
			{Name: "current", Unit: "A", AtLeast: at(0), Doc: "measuring current"},
			{Name: "self_heating", Unit: "K/W", AtLeast: at(0), Doc: "rise for each watt in the element, from its data sheet; 50 to 500 K/W in still air"},
		},
		Results: []Res{
			{Name: "tolerance", Unit: "K", Doc: "half width of the class", Rises: "nominal leads current self_heating", Falls: "nominal leads current self_heating"},
			{Name: "tolerance_ohm", Unit: "ohm", Doc: "the same as a resistance", Rises: "nominal leads current self_heating", Falls: "leads current self_heating"},
			{Name: "lead_error", Unit: "K", Doc: "reads too high by this for its leads", Rises: "leads temperature", Falls: "nominal", Only: true},
			{Name: "self_error", Unit: "K", Doc: "reads too high by this for its own warmth", Rises: "nominal temperature current self_heating", Only: true},
		},
		Formula: []string{
			"tolerance = base + slope * abs(t) # t is the temperature's number in °C; base and slope: AA 0.1 K, 0.0017; A 0.15 K, 0.002; B 0.3 K, 0.005; C 0.6 K, 0.01",
			"tolerance_ohm = tolerance * S # S is the slope of the resistance at temperature, see pt_resistance",
			"lead_error = leads / S # S as above",
			"self_error = current^2 * R * self_heating # R is the resistance at temperature, see pt_resistance",
		},
		Source: "IEC 60751, tables 2 and 3 (classes A and B seen in a reprint; AA, C and ranges seen in texts that quote them); self-heating: derived",
		Range:  "wire: AA -50 to 250, A -100 to 450, B and C -196 to 600 °C; film: AA 0 to 150, A -30 to 300, B -50 to 500, C -50 to 600 °C",
		Fn: func(in *In, out *Out) error {
			t := in.Num("temperature") - zeroCelsius
			c := ptClasses[in.Text("class")]
			holds := c.wire
			if in.Text("element") == "film" {
				holds = c.film
			}
			if t < holds[0] || t > holds[1] {
				in.Outside("temperature", "%.4g °C lies outside the range of class %s for %s elements, %g °C to %g °C (IEC 60751, table 3, seen in a text that quotes it)", t, in.Text("class"), in.Text("element"), holds[0], holds[1])
			}
			R, s := PtResistance(in.Num("nominal"), t)
			tol := c.base + c.slope*math.Abs(t)
			i := in.Num("current")
			out.Num("tolerance", tol)
			out.Num("tolerance_ohm", tol*s)
			out.Num("lead_error", in.Num("leads")/s)
			out.Num("self_error", i*i*R*in.Num("self_heating"))
			return nil
		},
	},
}
