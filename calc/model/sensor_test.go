package model

import (
	"fmt"
	"math"
	"testing"
)

func TestPtPublished(t *testing.T) {
	ohm := func(c float64) float64 {
		return value(t, called(t, "pt_resistance", map[string]any{"nominal": 100.0, "temperature": c + zeroCelsius}), "resistance")
	}
	for _, c := range []struct {
		id, source string
		t, R       []float64
	}{
		{"RC1", "IEC 60751 table (seen in reprints)", []float64{-200, -100, 0, 100, 200, 400, 600, 850}, []float64{18.52, 60.26, 100.00, 138.51, 175.86, 247.09, 313.71, 390.48}},
		{"RC2", "IEC 60751 table (seen in a reprint)", []float64{10, 50, 150, 300, 500}, []float64{103.90, 119.40, 157.33, 212.05, 280.98}},
	} {
		for i, x := range c.t {
			checkAbs(t, "pt_resistance", fmt.Sprintf("%s %g", c.id, x), c.source, ohm(x), c.R[i], 0.005)
			if x == -200 {
				continue // 18.52, rounded, lies below the range
			}
			o := called(t, "pt_temperature", map[string]any{"nominal": 100.0, "resistance": c.R[i], "leads": 0.0})
			checkAbs(t, "pt_temperature", fmt.Sprintf("%s %g", c.id, x), c.source, value(t, o, "temperature")-zeroCelsius, x, 0.018) // 0.005 ohm at the least slope
		}
	}
	class := func(c float64, class, elem string) *Out {
		return called(t, "pt_error", map[string]any{"nominal": 100.0, "temperature": c + zeroCelsius, "class": class, "element": elem, "leads": 0.0, "current": 0.0, "self_heating": 0.0})
	}
	const y95 = "IEC 60751:1995, scribd 602071032 (seen)"
	for i, x := range []float64{0, 100, 200, 400, 600} {
		o := class(x, "A", "wire")
		checkAbs(t, "pt_error", fmt.Sprintf("RC3 %g K", x), y95, value(t, o, "tolerance"), []float64{.15, .35, .55, .95, 1.35}[i], 1e-9)
		checkAbs(t, "pt_error", fmt.Sprintf("RC3 %g ohm", x), y95, value(t, o, "tolerance_ohm"), []float64{.06, .13, .20, .33, .43}[i], .005)
	}
	for i, x := range []float64{-200, 0, 200, 500} {
		o := class(x, "B", "wire")
		checkAbs(t, "pt_error", fmt.Sprintf("RC4 %g K", x), y95, value(t, o, "tolerance"), []float64{1.3, .3, 1.3, 2.8}[i], 1e-9)
		checkAbs(t, "pt_error", fmt.Sprintf("RC4 %g ohm", x), y95, value(t, o, "tolerance_ohm"), []float64{.56, .12, .48, .93}[i], .005)
	}
	checkAbs(t, "pt_error", "RC4 850 ohm", y95, value(t, class(850, "B", "wire"), "tolerance_ohm"), 1.34, .01) // the table rounds 4.55 K up to 4.6 K first
}

func TestPtProperties(t *testing.T) {
	for c := -200.0; c <= 850; c += 7.3 {
		R, s := PtResistance(1000, c)
		back, err := PtTemperature(1000, R)
		if err != nil || math.Abs(back-c) > 1e-9 {
			t.Errorf("there and back: %g, %g, %v", c, back, err)
		}
		hi, _ := PtResistance(1000, c+1e-3)
		lo, _ := PtResistance(1000, c-1e-3)
		if c < -0.01 || c > 0.01 {
			near(t, "slope", s, (hi-lo)/2e-3, 1e-6)
		}
	}
	a := map[string]any{"nominal": 100.0, "temperature": 445.15, "class": "B", "element": "film", "leads": .38, "current": .001, "self_heating": 200.0}
	o := called(t, "pt_error", a)
	R, s := PtResistance(100, 172)
	near(t, "class B at 172 °C", value(t, o, "tolerance"), 1.16, 1e-12)
	near(t, "leads", value(t, o, "lead_error"), .38/s, 1e-12)
	near(t, "self", value(t, o, "self_error"), 1e-6*R*200, 1e-12)
	// leads taken off give the same as no leads
	x := called(t, "pt_temperature", map[string]any{"nominal": 100.0, "resistance": R + .38, "leads": .38})
	near(t, "leads off", value(t, x, "temperature"), 445.15, 1e-12)
	refused(t, "pt_temperature", "resistance", map[string]any{"nominal": 100.0, "resistance": 17.0, "leads": 0.0})
	refused(t, "pt_temperature", "resistance", map[string]any{"nominal": 100.0, "resistance": 391.0, "leads": 0.0})
	refused(t, "pt_resistance", "temperature", map[string]any{"nominal": 100.0, "temperature": 850.1 + zeroCelsius})
	refused(t, "pt_error", "class", with(a, "class", "D"))
	found(t, "pt_error", "temperature", with(a, "class", "AA"))
	called(t, "pt_resistance", map[string]any{"nominal": 100.0, "temperature": -200 + zeroCelsius}) // the very end is inside
}

func TestThermocouple(t *testing.T) {
	mv := func(c float64) float64 {
		return 1e3 * value(t, called(t, "thermocouple_k_voltage", map[string]any{"temperature": c + zeroCelsius, "cold_end": zeroCelsius}), "voltage")
	}
	for i, x := range []float64{-270, -200, -190, -150, -130} {
		checkAbs(t, "thermocouple_k_voltage", fmt.Sprintf("RC5 %g", x), "type K table, ASTM E230 values (seen in a reprint)", mv(x), []float64{-6.458, -5.891, -5.730, -4.913, -4.411}[i], 0.0005)
	}
	for i, x := range []float64{25, 100, 200, 300, 500, 1000, 1372} {
		checkAbs(t, "thermocouple_k_voltage", fmt.Sprintf("RC6 %g", x), "type K table of ITS-90, NIST SRD 60, as in open programs that hold it (seen)", mv(x), []float64{1.000, 4.096, 8.138, 12.209, 20.644, 41.276, 54.886}[i], 0.0005)
	}
	for i, e := range []float64{-3.554, 4.096, 8.138, 20.644, 41.276} {
		o := called(t, "thermocouple_k_temperature", map[string]any{"voltage": e * 1e-3, "cold_end": zeroCelsius})
		source := "type K table of ITS-90, NIST SRD 60, as in open programs that hold it (seen)"
		if e < 0 {
			source = "type K table of ITS-90, NIST SRD 60 (from memory)"
		}
		checkAbs(t, "thermocouple_k_temperature", fmt.Sprintf("RC7 %g mV", e), source, value(t, o, "temperature")-zeroCelsius, []float64{-100, 100, 200, 500, 1000}[i], 0.06)
	}
	// against NIST's separate inverse polynomial, 0 to 500 °C, good to 0.05 K
	inv := []float64{0, 25.08355, 7.860106e-2, -2.503131e-1, 8.315270e-2, -1.228034e-2, 9.804036e-4, -4.413030e-5, 1.057734e-6, -1.052755e-8}
	for e := 0.5; e < 20.6; e += 2.5 {
		poly := 0.0
		for i := len(inv) - 1; i >= 0; i-- {
			poly = poly*e + inv[i]
		}
		got, err := TypeKTemperature(e*1e-3, 0)
		if err != nil {
			t.Fatal(err)
		}
		checkAbs(t, "thermocouple_k_temperature", fmt.Sprintf("inverse %g mV", e), "NIST inverse polynomial, good to 0.05 K (seen in several open programs)", got, poly, 0.055)
	}
	// junctions in series: E(170, 30) + E(30, 0) = E(170, 0)
	v := value(t, called(t, "thermocouple_k_voltage", map[string]any{"temperature": 170 + zeroCelsius, "cold_end": 30 + zeroCelsius}), "voltage")
	near(t, "series", 1e3*v+mv(30), mv(170), 1e-12)
	back := called(t, "thermocouple_k_temperature", map[string]any{"voltage": v, "cold_end": 30 + zeroCelsius})
	near(t, "back", value(t, back, "temperature"), 170+zeroCelsius, 1e-10)
	check(t, "thermocouple_k_voltage", "slope", "reference table: 40.0 uV/K at 170 °C (computed)", 1e6*value(t, called(t, "thermocouple_k_voltage", map[string]any{"temperature": 170 + zeroCelsius, "cold_end": zeroCelsius}), "sensitivity"), 40.0, 2e-3)
	for c := -199.0; c < 1370; c += 13.7 {
		_, s := TypeKVoltage(c)
		hi, _ := TypeKVoltage(c + .01)
		lo, _ := TypeKVoltage(c - .01)
		near(t, "slope", s, (hi-lo)/.02, 1e-6)
	}
	below, _ := TypeKVoltage(-1e-9)
	above, _ := TypeKVoltage(1e-9)
	if math.Abs(above-below) > 1e-9 {
		t.Errorf("a step of %g V at 0 °C", above-below)
	}
	tol := func(c float64, class string) float64 {
		return value(t, called(t, "thermocouple_k_tolerance", map[string]any{"temperature": c + zeroCelsius, "class": class}), "tolerance")
	}
	const iec = "IEC 60584-2: class 1 the larger of 1.5 K and 0.004 t, class 2 2.5 K and 0.0075 t (seen in a reprint)"
	check(t, "thermocouple_k_tolerance", "class 1 at 172", iec, tol(172, "1"), 1.5, 1e-12)
	check(t, "thermocouple_k_tolerance", "class 1 at 1000", iec, tol(1000, "1"), 4, 1e-12)
	check(t, "thermocouple_k_tolerance", "class 2 at 172", iec, tol(172, "2"), 2.5, 1e-12)
	check(t, "thermocouple_k_tolerance", "class 3 at -200", iec, tol(-200, "3"), 3, 1e-12)
	refused(t, "thermocouple_k_temperature", "voltage", map[string]any{"voltage": .06, "cold_end": zeroCelsius})
	refused(t, "thermocouple_k_voltage", "temperature", map[string]any{"temperature": 1400 + zeroCelsius, "cold_end": zeroCelsius})
	found(t, "thermocouple_k_voltage", "cold_end", map[string]any{"temperature": 400.0, "cold_end": 400.0})
	found(t, "thermocouple_k_tolerance", "temperature", map[string]any{"temperature": 400.0, "class": "3"})
}

func TestThermistor(t *testing.T) {
	a := map[string]any{"nominal": 10e3, "reference": 25 + zeroCelsius, "b": 3380.0, "b_from": 0 + zeroCelsius, "b_to": 50 + zeroCelsius}
	// The law of one B against a real thermistor: beyond its interval, 25 to
	// 100 °C, it is 5 % or 1.1 K off at 0 °C already, and says that it may be.
	real := map[string]any{"nominal": 10e3, "reference": 25 + zeroCelsius, "b": 3730.0, "b_from": 25 + zeroCelsius, "b_to": 100 + zeroCelsius, "temperature": zeroCelsius}
	check(t, "ntc_resistance", "10 kohm, B25/100 3730 K, at 0 °C", "table of a sensor's data sheet, hkdtupc.cn 16812034: 30029 ohm (seen), outside the interval of B", value(t, called(t, "ntc_resistance", real), "resistance"), 30029, 0.05)
	found(t, "ntc_resistance", "temperature", real)
	const cat = "common catalogue value of a 10 kohm thermistor of B25/50 3380 K (from memory)"
	ohm := func(c float64) float64 {
		return value(t, called(t, "ntc_resistance", with(a, "temperature", c+zeroCelsius)), "resistance")
	}
	check(t, "ntc_resistance", "RC8 50", cat, ohm(50), 4.16e3, 2e-3)
	// B is what its definition says
	check(t, "ntc_resistance", "definition of B", "IEC 60539-1: B = ln(R1/R2)/(1/T1 - 1/T2) (formula seen)", math.Log(ohm(0)/ohm(50))/(1/273.15-1/323.15), 3380, 1e-12)
	for _, c := range []float64{5, 25, 40} {
		o := called(t, "ntc_temperature", with(a, "resistance", ohm(c)))
		check(t, "ntc_temperature", fmt.Sprintf("back %g", c), "inverse of ntc_resistance, checked by itself (independent recomputation)", value(t, o, "temperature"), c+zeroCelsius, 1e-12)
	}
	o := called(t, "ntc_resistance", with(a, "temperature", 300.0))
	near(t, "slope", value(t, o, "sensitivity"), (ohm(300.01-zeroCelsius)-ohm(299.99-zeroCelsius))/.02, 1e-6)
	found(t, "ntc_resistance", "temperature", with(a, "temperature", 170+zeroCelsius))
	found(t, "ntc_temperature", "resistance", with(a, "resistance", 100.0))
	refused(t, "ntc_resistance", "b_to", with(a, "temperature", 300.0, "b_to", 270.0))
	refused(t, "ntc_temperature", "resistance", with(a, "resistance", 1e-3))

	sh := map[string]any{"a": 1.009249522e-3, "b": 2.378405444e-4, "c": 2.019202697e-7, "resistance": 10e3}
	checkAbs(t, "steinhart_hart", "RC9", "coefficients seen in an open forum listing, 24.68 °C computed from them", value(t, called(t, "steinhart_hart", sh), "temperature")-zeroCelsius, 24.68, 0.005)
	// a third coefficient of zero is a thermistor of one B value
	plain := called(t, "steinhart_hart", map[string]any{"a": 1/298.15 - math.Log(10e3)/3380, "b": 1 / 3380., "c": 0.0, "resistance": ohm(40)})
	check(t, "steinhart_hart", "one B", "with c = 0 it is the B formula (derived)", value(t, plain, "temperature"), 313.15, 1e-12)
	refused(t, "steinhart_hart", "a", with(sh, "a", -1.0))
	refused(t, "steinhart_hart", "resistance", with(sh, "resistance", 0.0))
}

func TestInfrared(t *testing.T) {
	a := map[string]any{"temperature": 172 + zeroCelsius, "emissivity": .93, "emissivity_set": .93, "reflected": 110 + zeroCelsius, "band_short": 8e-6, "band_long": 14e-6}
	o := called(t, "infrared_error", a)
	if e := value(t, o, "error"); math.Abs(e) > 1e-9 {
		t.Errorf("the right emissivity gives an error of %g K", e)
	}
	// the balance of signals by quadrature of Planck's law
	o = called(t, "infrared_error", with(a, "emissivity_set", .95))
	band := func(T float64) float64 {
		return integrate(t, func(l float64) float64 {
			return 1e-30 / (l * l * l * l * l) / math.Expm1(secondRadiation/(l*T))
		}, 8e-6, 14e-6, 1e-12)
	}
	read := value(t, o, "reading")
	const by = "balance of signals with Planck's law by quadrature (independent recomputation)"
	check(t, "infrared_error", "band", by, .95*band(read)+.05*band(383.15), .93*band(445.15)+.07*band(383.15), 1e-9)
	all := with(a, "band_short", nil, "band_long", nil, "reflected", 1.0)
	o = called(t, "infrared_error", with(all, "emissivity_set", .95))
	check(t, "infrared_error", "total", "T (eps/eps_set)^(1/4) where nothing is reflected (derived)", value(t, o, "reading"), 445.15*math.Pow(.93/.95, .25), 1e-9)
	checkAbs(t, "infrared_error", "per percent", "reference table: about 1.1 K for each percent at 172 °C, all wavelengths (computed)", value(t, called(t, "infrared_error", all), "per_percent"), 1.1, .02)
	// small errors: difference of two readings
	up := called(t, "infrared_error", with(a, "emissivity_set", .93*1.001))
	near(t, "per percent", value(t, called(t, "infrared_error", a), "per_percent")/10, -value(t, up, "error"), 2e-3)
	// surroundings as hot as the surface hide the emissivity
	same := called(t, "infrared_error", with(a, "reflected", 445.15, "emissivity_set", .5))
	if e := value(t, same, "error"); math.Abs(e) > 1e-9 {
		t.Errorf("an oven of one temperature shows an error of %g K", e)
	}
	refused(t, "infrared_error", "band_long", with(a, "band_long", nil))
	refused(t, "infrared_error", "band_short", with(a, "band_short", nil))
	refused(t, "infrared_error", "band_long", with(a, "band_long", 7e-6))
	refused(t, "infrared_error", "emissivity_set", with(a, "temperature", 300.0, "reflected", 600.0, "emissivity_set", .1))
	refused(t, "infrared_error", "emissivity", with(a, "emissivity", 0.0))
}

func TestErrorBudget(t *testing.T) {
	u := func(args map[string]any) float64 {
		return value(t, called(t, "error_budget", with(args, "coverage", 2.0)), "combined")
	}
	const gum = "JCGM 100:2008, 4.4.5 and 4.4.6: a = 4 °C (from memory)"
	checkAbs(t, "error_budget", "RI7 rectangular", gum, u(map[string]any{"rectangular": 4.0}), 2.3, .05)
	checkAbs(t, "error_budget", "RI7 triangular", gum, u(map[string]any{"triangular": 4.0}), 1.6, .05)
	// four rectangular errors, each of standard deviation 1
	check(t, "error_budget", "RI4", "JCGM 101:2008, 9.2.3, as in a test suite that quotes it (seen)", u(map[string]any{"rectangular": []float64{math.Sqrt(3), math.Sqrt(3), math.Sqrt(3), math.Sqrt(3)}}), 2, 1e-12)
	check(t, "error_budget", "RI5", "JCGM 101:2008, 9.2.4: 1, 1, 1 and 10 give 10.1 (from memory)", u(map[string]any{"rectangular": []float64{math.Sqrt(3), math.Sqrt(3), math.Sqrt(3), math.Sqrt(300)}}), 10.1, 5e-3)
	check(t, "error_budget", "resolution", "variance of an even spread over one step, by quadrature (independent recomputation)", u(map[string]any{"resolution": .1}), math.Sqrt(integrate(t, func(x float64) float64 { return x * x / .1 }, -.05, .05, 1e-12)), 1e-9)
	o := called(t, "error_budget", map[string]any{"rectangular": []float64{1.16, .3}, "standard": 1.2, "coverage": 2.0})
	want := math.Sqrt(1.16*1.16/3 + .03 + 1.44)
	near(t, "combined", value(t, o, "combined"), want, 1e-12)
	near(t, "expanded", value(t, o, "expanded"), 2*want, 1e-12)
	near(t, "largest", value(t, o, "largest"), 1.2, 1e-12)
	near(t, "share", value(t, o, "largest_share"), 1.44/(want*want), 1e-12)
	refused(t, "error_budget", "rectangular", map[string]any{"coverage": 2.0})
	refused(t, "error_budget", "standard", map[string]any{"coverage": 2.0, "standard": []float64{1, -1}})
	refused(t, "error_budget", "coverage", map[string]any{"standard": 1.0})
}
