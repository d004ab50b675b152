package model

import (
	"math"

	"workings/calc/num"
)

// conductorRow is the greatest resistance of a plain copper conductor at 20 °C.
type conductorRow struct{ area, solid, flexible float64 } // m², Ω/m (0: not in the table)

// conductors: IEC 60228, class 1 and 2 (solid, stranded) and class 5 (flexible).
// Source: IEC 60228 (seen in three reprints).
var conductors = []conductorRow{
	{0.5e-6, 36.0e-3, 39.0e-3}, {0.75e-6, 24.5e-3, 26.0e-3}, {1e-6, 18.1e-3, 19.5e-3}, {1.5e-6, 12.1e-3, 13.3e-3},
	{2.5e-6, 7.41e-3, 7.98e-3}, {4e-6, 4.61e-3, 4.95e-3}, {6e-6, 3.08e-3, 3.30e-3}, {10e-6, 0, 1.91e-3},
}

// ConductorResistance returns the greatest resistance per length of a plain
// copper conductor,
//
//	R = R₂₀ (230 + θ)/250
//
//	area      cross-section, one of 0.5 to 10 mm²          m²
//	flexible  class 5, else class 1 or 2
//	θ         temperature of the conductor (°C, not kelvins)
//	r20, r    at 20 °C and at θ                            Ω/m
//
// Errors: a cross-section that is not in the table (for class 1 and 2 it ends at 6 mm²).
// Source: IEC 60228, tables 1 to 3 and the simplified factor of annex A (seen in reprints).
func ConductorResistance(area float64, flexible bool, theta float64) (r20, r float64, err error) {
	for _, c := range conductors {
		if math.Abs(area/c.area-1) > 1e-6 {
			continue
		}
		r20 = c.solid
		if flexible {
			r20 = c.flexible
		}
	}
	if r20 == 0 {
		return 0, 0, Bad("cross_section", "%.6g mm^2 is no size of the table: 0.5, 0.75, 1, 1.5, 2.5, 4, 6 mm^2, and 10 mm^2 for flexible conductors", area*1e6)
	}
	return r20, r20 * (230 + theta) / 250, nil
}

// VoltageDrop returns the drop along a line,
//
//	ΔU = b L I (r cos φ + x sin φ),  b = 2 for one phase or direct current, √3 for three
//
//	L    length one way, ≥ 0                 m
//	I    current in each line, ≥ 0           A
//	r,x  resistance, reactance per length    Ω/m
//	cos  power factor, 0 to 1
//	ΔU   between the lines                   V
//
// Inductive load; the usual approximation for small drops.
// Errors: none. Source: IEC 60364-5-52, annex G (seen in pages that quote it).
func VoltageDrop(L, I, r, x, cos float64, three bool) float64 {
	b := 2.0
	if three {
		b = math.Sqrt(3)
	}
	return b * L * I * (r*cos + x*math.Sqrt(1-cos*cos))
}

// Tungsten: resistance at a temperature to that at 300 K, every 100 K from
// 300 K on. Source: Jones & Langmuir, General Electric Review 30 (1927), as in
// the CRC Handbook; the whole table seen in open programs that carry it.
var tungsten = []float64{
	1.00, 1.43, 1.87, 2.34, 2.85, 3.36, 3.88, 4.41, 4.95, 5.48, 6.03, 6.58, 7.14, 7.71, 8.28, 8.86, 9.44,
	10.03, 10.63, 11.24, 11.84, 12.46, 13.08, 13.72, 14.34, 14.99, 15.63, 16.29, 16.95, 17.62, 18.28,
}

// TungstenRatio returns the resistance of a tungsten filament at T to that at
// 300 K, 300 K ≤ T ≤ 3300 K, by straight lines between the table's values.
// Errors: a temperature outside the table. Source: see tungsten.
func TungstenRatio(T float64) (float64, error) {
	x := make([]float64, len(tungsten))
	for i := range x {
		x[i] = 300 + 100*float64(i)
	}
	return num.Interpolate(x, tungsten, T)
}

const localCode = "the electrical code of the place decides and a competent person does mains work"

var electricModels = []Spec{
	{
		Name: "circuit_load", Topic: "electric",
		Title: "Current of a circuit against its protective device",
		Args: []Arg{
			{Name: "power", Unit: "W", Shape: List, AtLeast: at(0), Doc: "of each load that may run at the same time"},
			{Name: "power_factor", Unit: "1", Shape: List, Above: at(0), AtMost: at(1), Doc: "of each load, 1 for heaters; a single number stands for all"},
			{Name: "voltage", Unit: "V", Above: at(0), Doc: "of the single-phase circuit"},
			{Name: "rating", Unit: "A", Above: at(0), Doc: "of its fuse or circuit breaker"},
			{Name: "cable_rating", Unit: "A", Above: at(0), Doc: "current that its cable may carry as laid"},
			{Name: "continuous_share", Unit: "1", Above: at(0), AtMost: at(1), Doc: "share of the rating allowed for hours on end, 0.8 is common; " + localCode},
		},
		Results: []Res{
			{Name: "current", Unit: "A", Doc: "of all loads together", Rises: "power", Falls: "voltage power_factor", Only: true},
			{Name: "share", Unit: "1", Doc: "of the rating", Rises: "power", Falls: "voltage power_factor rating", Only: true},
			{Name: "allowed", Unit: "A", Doc: "for hours on end", Rises: "rating continuous_share", Only: true},
			{Name: "spare", Unit: "A", Doc: "left of what is allowed; negative: too much", Rises: "rating continuous_share voltage power_factor", Falls: "power", Only: true},
			{Name: "cable_spare", Unit: "A", Doc: "cable above the protective device; negative: the cable is not protected; behind a gG fuse the cable needs 1.1 times the fuse's rating, 1.31 times below 16 A", Rises: "cable_rating", Falls: "rating", Only: true},
		},
		Formula: []string{
			"current = sum(power / (voltage * power_factor))",
			"share = current / rating",
			"allowed = continuous_share * rating",
			"spare = allowed - current",
			"cable_spare = cable_rating - rating",
		},
		Source: "definition of the power factor; a load of at most 0.8 of the rating as NEC 210.20 (from memory); protective device below the cable as IEC 60364-4-43 (from memory)",
		Range:  "single phase; currents added as numbers, which is at most a little too much; cable_spare for circuit breakers, which trip for certain at 1.45 times their rating: fuses do at 1.6 to 1.9 times (IEC 60364-4-43, I2 below 1.45 Iz; factors of a help text on cables, seen); " + localCode,
		Fn: func(in *In, out *Out) error {
			_, cols, err := in.columns("power", "power_factor")
			if err != nil {
				return err
			}
			I := 0.0
			for i, p := range cols[0] {
				I += p / (in.Num("voltage") * cols[1][i])
			}
			allowed := in.Num("continuous_share") * in.Num("rating")
			out.Num("current", I)
			out.Num("share", I/in.Num("rating"))
			out.Num("allowed", allowed)
			out.Num("spare", allowed-I)
			out.Num("cable_spare", in.Num("cable_rating")-in.Num("rating"))
			return nil
		},
	},
	{
		Name: "conductor", Topic: "electric",
		Title: "Resistance of a copper conductor of a standard size",
		Args: []Arg{
			{Name: "cross_section", Unit: "m^2", Above: at(0), Doc: "0.5 mm^2 to 10 mm^2, a standard size"},
			{Name: "kind", Shape: Text, Choices: []string{"solid", "flexible"}, Doc: "solid: class 1 or 2, for fixed wiring; flexible: class 5, for cords"},
			{Name: "temperature", Unit: "°C", Above: kelvin, Low: celsius(5), High: celsius(100), RangeOf: "IEC 60228, annex A (seen in a reprint)", Doc: "of the conductor in use"},
			{Name: "length", Unit: "m", AtLeast: at(0), Doc: "of the conductor, one way"},
		},
		Results: []Res{
			{Name: "per_length_cold", Unit: "ohm/m", Doc: "greatest resistance at 20 °C", Falls: "cross_section", Only: true},
			// below -230 °C, far outside of its range, the factor is negative
			{Name: "per_length", Unit: "ohm/m", Doc: "at its temperature", Rises: "temperature length", Falls: "length"},
			{Name: "resistance", Unit: "ohm", Doc: "of the length at its temperature", Rises: "temperature"},
		},
		Formula: []string{
			"per_length = per_length_cold * (230 + t) / 250 # t is the temperature's number in °C; per_length_cold is a value of the table",
			"resistance = per_length * length",
		},
		Source: "IEC 60228 (table and factor of annex A seen in reprints)",
		Range:  "plain copper, 5 °C to 100 °C; the greatest resistance that the standard allows; " + localCode,
		Fn: func(in *In, out *Out) error {
			cold, hot, err := ConductorResistance(in.Num("cross_section"), in.Text("kind") == "flexible", in.Num("temperature")-zeroCelsius)
			if err != nil {
				return err
			}
			out.Num("per_length_cold", cold)
			out.Num("per_length", hot)
			out.Num("resistance", hot*in.Num("length"))
			return nil
		},
	},
	{
		Name: "voltage_drop", Topic: "electric",
		Title: "Voltage lost along a cable",
		Args: []Arg{
			{Name: "length", Unit: "m", AtLeast: at(0), Doc: "of the cable, one way"},
			{Name: "current", Unit: "A", AtLeast: at(0), Doc: "in each line"},
			{Name: "per_length", Unit: "ohm/m", Above: at(0), Doc: "resistance of a conductor in use, as conductor gives it"},
			{Name: "reactance", Unit: "ohm/m", AtLeast: at(0), Doc: "reactance for each length, 8e-5 ohm/m is common; 0 for direct current"},
			{Name: "power_factor", Unit: "1", AtLeast: at(0), AtMost: at(1), Doc: "of the load, 1 for heaters and direct current"},
			{Name: "system", Shape: Text, Choices: []string{"single-phase", "three-phase", "direct"}, Doc: "kind of supply"},
			{Name: "voltage", Unit: "V", Above: at(0), Doc: "of the supply, between the lines"},
		},
		Results: []Res{
			{Name: "drop", Unit: "V", Doc: "lost along the cable", Rises: "length current per_length reactance voltage", Falls: "voltage"},
			{Name: "share", Unit: "1", Doc: "of the supply; 3 % to 5 % is a common limit, " + localCode, Rises: "length current per_length reactance", Falls: "voltage"},
			{Name: "at_load", Unit: "V", Doc: "left at the load", Rises: "voltage", Falls: "length current per_length reactance"},
			{Name: "loss", Unit: "W", Doc: "heat in the cable", Rises: "length current per_length", Only: true},
		},
		Formula: []string{
			"drop = n * length * current * (per_length * power_factor + reactance * sqrt(1 - power_factor^2)) # n is 2 for single-phase and direct current, the root of 3 for three-phase",
			"share = drop / voltage",
			"at_load = voltage - drop",
			"loss = m * length * current^2 * per_length # m is the number of lines that carry current, 2 or 3",
		},
		Source: "IEC 60364-5-52, annex G (formula seen in pages that quote it)",
		Range:  "small drops, balanced three-phase load, inductive power factor; " + localCode,
		Fn: func(in *In, out *Out) error {
			three := in.Text("system") == "three-phase"
			if in.Text("system") == "direct" && in.Num("power_factor") != 1 {
				return Bad("power_factor", "%s: must be 1 for direct current", show(in.Num("power_factor"), "1"))
			}
			L, I, r := in.Num("length"), in.Num("current"), in.Num("per_length")
			d := VoltageDrop(L, I, r, in.Num("reactance"), in.Num("power_factor"), three)
			U := in.Num("voltage")
			lines := 2.0
			if three {
				lines = 3
			}
			if d >= U {
				return Bad("current", "the drop would be %s, the whole supply of %s: no such current flows", show(d, "V"), show(U, "V"))
			}
			if d > 0.1*U {
				in.Outside("current", "the drop of %s is more than a tenth of the supply: the approximation does not hold (common practice)", show(d, "V"))
			}
			out.Num("drop", d)
			out.Num("share", d/U)
			out.Num("at_load", U-d)
			out.Num("loss", lines*L*I*I*r)
			return nil
		},
	},
	{
		Name: "lamp_inrush", Topic: "electric",
		Title: "Current of tungsten lamps as they are switched on cold",
		Args: []Arg{
			{Name: "power", Unit: "W", Above: at(0), Doc: "rated power of one lamp"},
			{Name: "voltage", Unit: "V", Above: at(0), Doc: "rated voltage"},
			{Name: "lamps", Unit: "1", AtLeast: at(1), Doc: "lamps in parallel that are switched together"},
			{Name: "filament", Unit: "°C", AtLeast: at(300), AtMost: at(3300), Low: at(1800), RangeOf: "short-wave heaters 2400 to 2700 K, common practice", Doc: "temperature of the filament at rated power"},
			{Name: "source_impedance", Unit: "ohm", AtLeast: at(0), Doc: "of the supply and its wiring, 0 if not known (gives the upper bound)"},
		},
		Results: []Res{
			{Name: "current", Unit: "A", Doc: "rated, all lamps", Rises: "lamps power", Falls: "voltage", Only: true},
			{Name: "hot", Unit: "ohm", Doc: "resistance of one lamp at rated power", Rises: "voltage", Falls: "power", Only: true},
			{Name: "cold", Unit: "ohm", Doc: "resistance of one lamp at 27 °C", Rises: "voltage", Falls: "power filament", Only: true},
			{Name: "ratio", Unit: "1", Doc: "hot to cold", Rises: "filament", Only: true},
			{Name: "inrush", Unit: "A", Doc: "first current, root mean square; its crest is 1.41 times that", Rises: "lamps power filament", Falls: "source_impedance"},
		},
		Formula: []string{
			"current = lamps * power / voltage",
			"hot = voltage^2 / power",
			"ratio = tabulated # tabulated: the resistance of tungsten at filament to that at 300 K",
			"cold = hot / ratio",
			"inrush = voltage / (cold / lamps + source_impedance)",
		},
		Source: "resistance of tungsten: Jones & Langmuir, General Electric Review 30 (1927), as in the CRC Handbook (table seen in open programs)",
		Range:  "filament 300 K to 3300 K; lamp at 27 °C, a twentieth more current for each 12 K that it is colder; the first half cycle, before the filament warms; " + localCode,
		Fn: func(in *In, out *Out) error {
			n := in.Num("lamps")
			if n != math.Trunc(n) {
				return Bad("lamps", "%s: must be a whole number", show(n, "1"))
			}
			ratio, err := TungstenRatio(in.Num("filament"))
			if err != nil {
				return err
			}
			U, P := in.Num("voltage"), in.Num("power")
			hot := U * U / P
			out.Num("current", n*P/U)
			out.Num("hot", hot)
			out.Num("cold", hot/ratio)
			out.Num("ratio", ratio)
			out.Num("inrush", U/(hot/ratio/n+in.Num("source_impedance")))
			return nil
		},
	},
	{
		Name: "supply_margin", Topic: "electric",
		Title: "Load of a power supply, and the heat it gives off",
		Args: []Arg{
			{Name: "loads", Unit: "W", Shape: List, AtLeast: at(0), Doc: "power of each load that may run at the same time"},
			{Name: "rating", Unit: "W", Above: at(0), Doc: "of the supply at the temperature where it sits"},
			{Name: "efficiency", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the supply"},
		},
		Results: []Res{
			{Name: "load", Unit: "W", Doc: "all loads", Rises: "loads", Only: true},
			{Name: "share", Unit: "1", Doc: "of the rating; at most 0.8 is common", Rises: "loads", Falls: "rating", Only: true},
			{Name: "spare", Unit: "W", Doc: "left of the rating", Rises: "rating", Falls: "loads", Only: true},
			{Name: "input", Unit: "W", Doc: "taken from the mains", Rises: "loads", Falls: "efficiency", Only: true},
			{Name: "heat", Unit: "W", Doc: "given off by the supply", Rises: "loads", Falls: "efficiency", Only: true},
		},
		Formula: []string{
			"load = sum(loads)",
			"share = load / rating",
			"spare = rating - load",
			"input = load / efficiency",
			"heat = input - load",
		},
		Source: "derived (sums); at most 0.8 of the rating is common practice",
		Range:  "steady loads; motors and lamps draw more when they start; " + localCode,
		Fn: func(in *In, out *Out) error {
			sum := 0.0
			for _, p := range in.List("loads") {
				sum += p
			}
			eta := in.Num("efficiency")
			out.Num("load", sum)
			out.Num("share", sum/in.Num("rating"))
			out.Num("spare", in.Num("rating")-sum)
			out.Num("input", sum/eta)
			out.Num("heat", sum/eta-sum)
			return nil
		},
	},
}
