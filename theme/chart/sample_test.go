package chart

import "math"

// sweep gives n values from a to b.
func sweep(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n-1)
	}
	return out
}

func each(x []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		out[i] = f(x[i])
	}
	return out
}

// tension is a chart with two lines, a limit, a band and an own value.
func tension() *Chart {
	x := sweep(20, 68, 61)
	return &Chart{
		ID: "p-tension", Title: "Belt tension against bay temperature",
		Desc: "Fixed centres rise from 28 N to 61 N, the sprung idler from 28 N to 31 N; 55 N is allowable.",
		X:    Axis{Label: "bay temperature", Unit: "°C"},
		Y:    Axis{Label: "tension", Unit: "N"},
		Lines: []Line{
			{"sprung idler", x, each(x, func(t float64) float64 { return 28 + 3*(t-20)/48 })},
			{"fixed centres", x, each(x, func(t float64) float64 { return 28 + 33*math.Pow((t-20)/48, 1.1) })},
		},
		Marks: []Mark{{"allowable 55 N", 55}},
		Bands: []Band{{"quiet running", 20, 40}},
		Own:   &VMark{"this release, 61 °C", 61},
	}
}

// crowd is a chart with six lines, one of which is broken, that end close to
// each other.
func crowd() *Chart {
	x := sweep(0, 30, 61)
	c := &Chart{
		ID: "p-crowd", Title: "Cooling of the lamp tubes & clamps", Desc: "All fall below 45 °C after 24 min.",
		X: Axis{Label: "time since switching off", Unit: "min"}, Y: Axis{Label: "temperature", Unit: "°C"},
		Marks: []Mark{{"safe to touch below 45 °C", 45}},
	}
	for i, name := range []string{"tube", "tube clamp, front", "clamp, rear", "reflector with a long name on two lines", "wire", "frame < wall"} {
		tau := 4 + 1.5*float64(i)
		from := 420 - 55*float64(i)
		c.Lines = append(c.Lines, Line{name, x, each(x, func(t float64) float64 {
			if i == 2 && t > 10 && t < 14 {
				return math.NaN()
			}
			return 22 + (from-22)*math.Exp(-t/tau)
		})})
	}
	return c
}

// table is a chart of a few measured points.
func table() *Chart {
	return &Chart{
		ID: "p-lamps", Title: "Measured power", Desc: "Between 489 W and 516 W.", X: Axis{Label: "lamp"}, Y: Axis{Label: "power", Unit: "W"},
		Lines: []Line{{"", []float64{1, 2, 3, 4, 5, 6}, []float64{512, 498, 505, 501, 489, 516}}},
	}
}

// irradiance is a map of four lamps over a bed.
func irradiance() *Field {
	f := &Field{
		ID: "p-field", Title: "Irradiance of the bed", Desc: "Highest 11.1 kW/m² near the lamps.",
		Label: "irradiance", Unit: "kW/m²", X: sweep(-110, 110, 41), Y: sweep(-80, 80, 41),
		Outline: &Outline{-110, -80, 110, 80, 14},
		Segments: []Segment{
			{-85, -60, -85, 60, "lamp 1"}, {85, -60, 85, 60, "lamp 2"}, {-60, 95, 60, 95, "lamp 3"}, {-60, -95, 60, -95, "lamp 4"},
		},
	}
	for _, y := range f.Y {
		for _, x := range f.X {
			z := 0.0
			for i, s := range f.Segments {
				n := 20
				for k := range n {
					t := (float64(k) + 0.5) / float64(n)
					r2 := sq(x-s.X0-t*(s.X1-s.X0)) + sq(y-s.Y0-t*(s.Y1-s.Y0)) + 60*60
					z += (3.2 + 0.3*float64(i)) * 60 * 60 * 60 * 60 / r2 / r2 / float64(n) * 2.4
				}
			}
			f.Z = append(f.Z, z)
		}
	}
	return f
}

func sq(x float64) float64 { return x * x }
