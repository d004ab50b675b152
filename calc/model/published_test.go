package model

import (
	"math"
	"testing"
)

// Examples and tables that were looked up to check what had come from memory.

func TestColumnsPublished(t *testing.T) {
	const shigley = "Shigley, Mechanical Engineering Design, 9th ed., ex. 4-17, digilib.universitaspertamina.ac.id p. 212 (seen)"
	a := given{"length": 1.5, "root_diameter": 0.03748, "modulus": 207e9, "yield_strength": 500e6, "ends": "pinned-pinned"}
	n, _ := numbers(t, "screw_buckling", a)
	check(t, "screw_buckling", "37.48 mm for 88 kN", shigley, n("critical"), 88e3, 1e-3)
	n, _ = numbers(t, "screw_buckling", a.with("root_diameter", 0.04))
	check(t, "screw_buckling", "slenderness of 40 mm", shigley, n("slenderness"), 150, 1e-9)
	check(t, "screw_buckling", "limit of the slenderness", shigley, n("limit_slenderness"), 90.4, 1e-3)

	// A stout one, after Johnson.
	n, _ = numbers(t, "screw_buckling", given{"length": 25 * inch, "root_diameter": 1.23 * inch, "modulus": 30e6 * psi, "yield_strength": 30e3 * psi, "ends": "pinned-pinned"})
	const mott = "Mott, Machine Elements in Mechanical Design, link of SAE 1020 by Johnson's formula, holooly.com 464409 (seen)"
	check(t, "screw_buckling", "1.23 in for 29 400 lbf", mott, n("critical"), 3*9800*lbf, 0.011) // the diameter has three figures
	check(t, "screw_buckling", "slenderness of 1.23 in", mott, n("slenderness"), 81.3, 1e-3)
	check(t, "screw_buckling", "transition of SAE 1020, read from a graph", mott, n("limit_slenderness"), 138, 0.03)

	const hibbeler = "Hibbeler, Mechanics of Materials, ex. 13.1 and 13.2, scribd 505697168 (seen)"
	tube, err := RoundTube(0.15, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	c := given{"length": 7.2, "area": tube.Area, "second_moment": tube.I, "modulus": 200e9, "yield_strength": 250e6, "ends": "pinned-pinned"}
	n, _ = numbers(t, "column", c)
	check(t, "column", "tube of 7.2 m", hibbeler, n("critical"), 228.2e3, 1e-3)
	n, _ = numbers(t, "column", c.with("length", 4.0, "area", 5890e-6, "second_moment", 15.3e-6))
	check(t, "column", "W200x46 of 4 m, Euler", hibbeler, n("euler"), 1887.6e3, 1e-4)
	if n("critical") >= 250e6*5890e-6 {
		t.Error("no column carries more than its yield load")
	}
}

func TestHeatPublished(t *testing.T) {
	const incropera = "Incropera et al., Fundamentals of Heat and Mass Transfer, 6th ed., example "
	const companion = " (recomputed companion, seen)"
	// 1.7 b: the coefficient that cools the coating to 50 °C, and the coating with it.
	coat := map[string]any{"irradiance": 2000.0, "absorptance": .8, "emissivity": .5, "h_air": 51.01, "air": 293.0, "surroundings": 303.0}
	checkAbs(t, "bed_temperature", "coating held at 50 °C", incropera+"1.7"+companion, value(t, called(t, "bed_temperature", coat), "temperature")-273, 50, 0.01)
	checkAbs(t, "bed_temperature", "coating under a lamp", incropera+"1.7"+companion, value(t, called(t, "bed_temperature", with(coat, "h_air", 15.0)), "temperature")-273, 104.30, 0.01)

	disks := func(r1, r2, gap float64) float64 {
		return value(t, called(t, "view_factor_disks", map[string]any{"radius": r1, "radius_to": r2, "gap": gap}), "factor")
	}
	check(t, "view_factor_disks", "ends of a tube of two radii", incropera+"13.2, read from a chart"+companion, disks(1, 1, 2), .172, 5e-3)
	check(t, "view_factor_disks", "ends of a furnace", incropera+"13.4"+companion, disks(.0375, .0375, .15), .056, 1e-2)
	check(t, "view_factor_rectangles", "heater of 1 by 10 m at 1 m", incropera+"13.3, read from a chart"+companion, ViewRectangles(10, 1, 1), .39, 1.3e-2)
	shut := given{"thickness": 0.04, "conductivity": 63.9, "density": 7832.0, "specific_heat": 434.0, "h": 500.0}
	n, _ := numbers(t, "heat_lag", shut)
	check(t, "heat_lag", "pipe wall, Biot number", incropera+"5.4"+companion, n("biot"), .31, 0.02)
	check(t, "heat_lag", "pipe wall, Fourier number after 8 min", incropera+"5.4"+companion, 480/n("time"), 5.64, 2e-3)
}

func TestWirePublished(t *testing.T) {
	// Currents for a rise of temperature, SWG 12 to 38: in a room, so a few per
	// cent more than in still air.
	const table = "nickel-chromium wire, current for a rise of 500 and of 1000 K, engineeringtoolbox.com d 1890 (seen, two figures)"
	for _, w := range []struct{ d, low, high float64 }{
		{2.642, 38, 78}, {1.626, 19, 40}, {1.219, 13, 27}, {.914, 8.5, 18}, {.711, 6.3, 13}, {.559, 4.5, 9.5}, {.457, 3.5, 7}, {.376, 2.7, 5.5}, {.315, 2.2, 4.5}, {.193, 1.3, 2.3},
	} {
		for rise, amperes := range map[float64]float64{500: w.low, 1000: w.high} {
			wire := Wire{Diameter: w.d * mm, Resistivity: 1.08e-6, Slope: 1e-4, Emissivity: .85, Ambient: zeroCelsius + 20}
			conv, rad := wire.Loss(wire.Ambient + rise)
			check(t, "heated_wire", show(w.d, "mm")+", "+show(rise, "K"), table, math.Sqrt((conv+rad)/wire.PerLength(wire.Ambient+rise)), amperes, 0.15)
		}
	}
}

func TestElectricPublished(t *testing.T) {
	n, _ := numbers(t, "voltage_drop", given{"length": 150.0, "current": 100.0, "per_length": 0.671e-3, "reactance": 0.085e-3, "power_factor": 0.85, "system": "three-phase", "voltage": 400.0})
	const page = "page on voltage drop after IEC 60364, author not stated: 15.98 V, 4.0 % (seen)"
	check(t, "voltage_drop", "three-phase, 150 m", page, n("drop"), 15.98, 1e-3)
	check(t, "voltage_drop", "three-phase, 150 m, share", page, n("share"), 0.04, 5e-3)
}

func TestShieldPublished(t *testing.T) {
	n, _ := numbers(t, "plate_radiation", given{"hot": 750.0, "cold": 550.0, "hot_emissivity": .8, "cold_emissivity": .9, "shields": 1.0, "shield_emissivity": .12})
	check(t, "plate_radiation", "sheet between plates", "Cengel, problem 12-100, solution, coursehero.com 6729103 (seen; sigma 5.67e-8 there)", n("flux"), 748.9, 2e-4)
}

func TestPtClassesPublished(t *testing.T) {
	const table = "IEC 60751 classes, text that quotes them (seen)"
	for class, want := range map[string]float64{"AA": .27, "A": .35, "B": .8, "C": 1.6} {
		n, _ := numbers(t, "pt_error", given{"nominal": 100.0, "temperature": zeroCelsius + 100, "class": class, "element": "film", "leads": 0.0, "current": 0.0, "self_heating": 0.0})
		check(t, "pt_error", "class "+class+" at 100 °C", table, n("tolerance"), want, 1e-9)
	}
}

func TestBeamFormulas(t *testing.T) {
	// The lines that the methods page prints, and the one for a propped
	// cantilever, against the elastic line.
	for _, x := range []float64{0.05, 0.2, 0.31, 0.399} {
		const L, F, q, E, I = 0.4, 20.0, 3.0, 70e9, 2e-10
		for ends, want := range map[Ends]float64{
			PinnedPinned: F*x*x*(L-x)*(L-x)/(3*E*I*L) + q*x*(L*L*L-2*L*x*x+x*x*x)/(24*E*I),
			FixedPinned:  F*x*x*x*(L-x)*(L-x)*(4*L-x)/(12*E*I*L*L*L) + q*x*x*(L-x)*(3*L-2*x)/(48*E*I),
			FixedFixed:   F*math.Pow(x*(L-x), 3)/(3*E*I*L*L*L) + q*x*x*(L-x)*(L-x)/(24*E*I),
			FixedFree:    F*x*x*x/(3*E*I) + q*x*x*(6*L*L-4*L*x+x*x)/(24*E*I),
		} {
			n, _ := numbers(t, "beam_sag", given{"length": L, "modulus": E, "second_moment": I, "ends": string(ends), "load": F, "at": x, "own_weight": q})
			near(t, string(ends)+" at "+show(x, "m"), n("at_load"), want, 1e-9)
		}
	}
}
