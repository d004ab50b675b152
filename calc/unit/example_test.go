package unit_test

import (
	"errors"
	"fmt"

	"workings/calc/unit"
)

func Example() {
	load, _ := unit.Parse("lbf")
	si := load.ToSI(220)
	shown := unit.Sensible(unit.Coherent(load.Dim), si)
	number := unit.Round(shown.FromSI(si), unit.Rounding{Mode: unit.Sig, N: 4})
	fmt.Println(number, shown.Display(), "is a", load.Dim.Name())
	// Output: 978.6 N is a force
}

func ExampleParse() {
	for _, s := range []string{"kJ/(kg·K)", "um", "m²", "s⁻¹", "degC"} {
		u, _ := unit.Parse(s)
		fmt.Println(u.Symbol, u.Dim, u.Factor)
	}
	_, err := unit.Parse("W/(m*°C)")
	var e *unit.ParseError
	if errors.As(err, &e) {
		fmt.Println(e.Msg)
		fmt.Println("hint:", e.Hint)
	}
	// Output:
	// kJ/(kg*K) m^2*s^-2*K^-1 1000
	// µm m 1e-06
	// m^2 m^2 1
	// s^-1 s^-1 1
	// °C K 1
	// °C names points on a scale and cannot stand in W/(m*°C)
	// hint: a difference is written in K, as in W/(m*K)
}

func ExampleRound() {
	fmt.Println(unit.Round(2.675, unit.Rounding{Mode: unit.Places, N: 2}))
	fmt.Println(unit.Round(2.5, unit.Rounding{Mode: unit.Sig, N: 3}))
	fmt.Println(unit.Round(61.21, unit.Rounding{Mode: unit.Sig, N: 2, Dir: unit.Up}))
	fmt.Println(unit.Round(1384, unit.Rounding{}))
	// Output:
	// 2.68
	// 2.50
	// 62
	// 1384
}

func ExampleRoundStep() {
	_, length := unit.RoundStep(1381.2, 5, unit.Up)
	fmt.Println(length)
	// Output: 1385
}

func ExampleCoherent() {
	u, _ := unit.Parse("lbf/in^2")
	v, _ := unit.Parse("g/(cm*min^2)")
	w, _ := unit.Parse("g*cm/min^5")
	fmt.Println(unit.Coherent(u.Dim).Symbol, unit.Coherent(v.Dim).Symbol, unit.Coherent(w.Dim).Symbol)
	// Output: Pa Pa kg*m/s^5
}

func ExampleProductHint() {
	newton, _ := unit.Parse("N")
	millimetre, _ := unit.Parse("mm")
	torque, _ := unit.ProductHint(newton, millimetre, false)
	fmt.Println(torque.Display())
	// Output: N·m
}

func ExampleSensible() {
	u, _ := unit.Parse("N/m")
	fmt.Println(unit.Sensible(u, 25000).Symbol)
	// Output: kN/m
}

func ExampleTypeset() {
	fmt.Printf("%+q\n", unit.Typeset("-12345.5", ','))
	// Output: "\u221212\u202f345,5"
}
