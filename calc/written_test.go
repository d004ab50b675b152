package calc_test

import (
	"fmt"
	"strings"
	"testing"
)

// A writer writes a sheet whose kinds agree, with each choice taken from a
// byte of data; where the data end, the first choice is taken. Mutations of
// text seldom come to sheets that compute much; mutations of choices do.
type writer struct {
	data  []byte
	names map[string][]string // by kind
	b     strings.Builder
	figs  strings.Builder
	count int
}

func (w *writer) choose(n int) int {
	if len(w.data) == 0 {
		return 0
	}
	c := int(w.data[0])
	w.data = w.data[1:]
	return c % n
}

func (w *writer) of(list ...string) string { return list[w.choose(len(list))] }

var writerUnits = map[string][]string{
	"plain":  {"", "%", ""},
	"length": {"mm", "m", "um", "km"},
	"force":  {"N", "kN", "mN"},
	"point":  {"°C", "°F"},
	"diff":   {"K", "mK"},
	"angle":  {"°", "rad", "turn"},
}

var writerKinds = []string{"plain", "length", "force", "point", "diff", "angle"}

// literal writes a number, often one that invites trouble.
func (w *writer) literal(kind string) string {
	n := w.of("2", "0", "1", "0.5", "3.7", "-1", "-0.25", "1e-300", "1e9", "1e-9", "1e16", "-1e12", "0.1", "7e-5", "100")
	if kind == "point" {
		n = w.of("20", "0", "-273.15", "-300", "1e-9", "1500", "1e9")
	}
	if u := w.of(writerUnits[kind]...); u != "" {
		return n + " " + u
	}
	return n
}

func (w *writer) name(kind string) string {
	if l := w.names[kind]; len(l) > 0 {
		return w.of(l...)
	}
	return "(" + w.literal(kind) + ")"
}

// expr writes an expression of a kind.
func (w *writer) expr(kind string, depth int) string {
	if depth <= 0 {
		if w.choose(3) == 0 {
			return "(" + w.literal(kind) + ")"
		}
		return w.name(kind)
	}
	x := func(kind string) string { return w.expr(kind, depth-1) }
	if w.choose(4) == 0 { // what all kinds know
		switch w.choose(4) {
		case 0:
			return fmt.Sprintf("(if %s then %s else %s)", w.cond(depth-1), x(kind), x(kind))
		case 1:
			return fmt.Sprintf("%s(%s, %s)", w.of("min", "max", "mean"), x(kind), x(kind))
		case 2:
			return fmt.Sprintf("lookup([%s, %s], [%s, %s], %s)", x("plain"), x("plain"), x(kind), x(kind), x("plain"))
		}
		return fmt.Sprintf("mean([%s, %s, %s])", x(kind), x(kind), x(kind))
	}
	switch kind {
	case "plain":
		switch w.choose(12) {
		case 0:
			return fmt.Sprintf("(%s %s %s)", x("plain"), w.of("+", "-", "*", "/"), x("plain"))
		case 1:
			other := w.of("length", "force", "diff", "angle")
			return fmt.Sprintf("(%s / %s)", x(other), x(other))
		case 2:
			return w.of("exp", "ln", "log10", "sin", "cos", "tan", "abs", "sqrt", "floor", "ceil", "round") + "(" + x("plain") + ")"
		case 3:
			return w.of("sin", "cos", "tan") + "(" + x("angle") + ")"
		case 4:
			return fmt.Sprintf("(%s)^%s", x("plain"), w.of("2", "-1", "0.5", "(1 / 3)", "0", "3"))
		case 5:
			return fmt.Sprintf("(%s)^(%s)", x("plain"), x("plain"))
		case 6:
			return fmt.Sprintf("hypot(%s, %s)", x("plain"), x("plain"))
		case 7:
			return fmt.Sprintf("sum(steps(%s, %s, 5) * %s)", x("plain"), x("plain"), x("plain"))
		case 8:
			return fmt.Sprintf("(kelvin(%s) / %s)", x("point"), x("diff"))
		case 9:
			return fmt.Sprintf("heat_lag(thickness: %s, conductivity: 0.1 W/(m*K), density: 1000 kg/m^3, specific_heat: 2 kJ/(kg*K), h: 9 W/(m^2*K)).biot", x("length"))
		case 10:
			return fmt.Sprintf("(powder_window(set_point: %s, melting_onset: %s, crystallisation_onset: %s, spread: %s, sensor_error: 1 K).margin_hot / 1 K)", x("point"), x("point"), x("point"), x("diff"))
		}
		return x("plain") + " * pi"
	case "point":
		if w.choose(3) == 0 {
			return fmt.Sprintf("point(%s)", x("diff"))
		}
		return fmt.Sprintf("(%s %s %s)", x("point"), w.of("+", "-"), x("diff"))
	case "diff":
		switch w.choose(3) {
		case 0:
			return fmt.Sprintf("(%s - %s)", x("point"), x("point"))
		case 1:
			return fmt.Sprintf("kelvin(%s)", x("point"))
		}
	case "angle":
		switch w.choose(3) {
		case 0:
			return w.of("asin", "acos", "atan") + "(" + x("plain") + ")"
		case 1:
			return fmt.Sprintf("atan2(%s, %s)", x("length"), x("length"))
		}
	case "length":
		switch w.choose(4) {
		case 0:
			return fmt.Sprintf("section_round(diameter: %s).gyration", x("length"))
		case 1:
			return fmt.Sprintf("sqrt(%s^2 %s %s^2)", x("length"), w.of("+", "-"), x("length"))
		case 2:
			return fmt.Sprintf("beam_sag(length: %s, modulus: 200 GPa, second_moment: 3000 mm^4, ends: \"fixed-free\", load: %s, at: %s).at_load", x("length"), x("force"), x("length"))
		}
	}
	switch w.choose(5) {
	case 0:
		return fmt.Sprintf("(%s %s %s)", x(kind), w.of("+", "-"), x(kind))
	case 1:
		return fmt.Sprintf("(%s %s %s)", x(kind), w.of("*", "/"), x("plain"))
	case 2:
		return fmt.Sprintf("%s(%s, %s)", w.of("floor", "ceil", "round"), x(kind), x(kind))
	case 3:
		return fmt.Sprintf("abs(%s)", x(kind))
	}
	return fmt.Sprintf("hypot(%s, %s)", x(kind), x(kind))
}

func (w *writer) cond(depth int) string {
	kind := w.of(writerKinds...)
	c := fmt.Sprintf("%s %s %s", w.expr(kind, depth-1), w.of("<", "<=", ">", ">="), w.expr(kind, depth-1))
	switch w.choose(4) {
	case 1:
		return "not (" + c + ")"
	case 2:
		if depth > 0 {
			return c + " and " + w.cond(depth-1)
		}
	}
	return c
}

// spread writes what may stand behind a literal.
func (w *writer) spread(kind string) string {
	dev := func() string {
		n := w.of("0.1", "0", "3", "1e-12", "1e9")
		if kind == "point" {
			return n + " K"
		}
		return n + " " + writerUnits[kind][0]
	}
	switch w.choose(7) {
	case 0:
		return " ± " + dev()
	case 1:
		d, e := dev(), dev()
		return " +" + d + " -" + e
	case 2:
		return " uncertain " + dev() + w.of("", " k 3", " dof 4", " rectangular", " arcsine")
	case 3:
		return " to " + w.literal(kind)
	case 4:
		return " to " + w.literal(kind) + " nominal " + w.literal(kind)
	case 5:
		return " ± " + dev() + " uncertain " + dev()
	}
	return ""
}

// sheet writes a release: parameters, figures, limits and a cross-check.
func (w *writer) sheet() string {
	w.names = map[string][]string{}
	add := func(kind, right string) {
		w.count++
		name := fmt.Sprintf("x%d", w.count)
		fmt.Fprintf(&w.b, "%s = %s\n", name, right)
		fmt.Fprintf(&w.figs, "%s%s\n", name, w.of("", " with spread", " to 2 sf up", " to 3 dp down with spread", " to 6 sf"))
		w.names[kind] = append(w.names[kind], name)
	}
	for range 2 + w.choose(5) {
		kind := w.of(writerKinds...)
		add(kind, strings.TrimRight(w.literal(kind)+w.spread(kind), " "))
	}
	for range 1 + w.choose(6) {
		kind := w.of(writerKinds...)
		add(kind, w.expr(kind, 1+w.choose(3)))
	}
	for i := range w.choose(3) {
		fmt.Fprintf(&w.b, "limit l%d: %s\n  else notice \"It is {= x1 with spread}.\"\n", i, w.cond(2))
	}
	if kind := w.of(writerKinds...); len(w.names[kind]) > 0 {
		fmt.Fprintf(&w.b, "crosscheck %s: %s within 5 %%\n", w.name(kind), w.expr(kind, 1))
	}
	return "-- design.calc --\n" + w.b.String() + "-- figures.txt --\n" + w.figs.String()
}

// FuzzWritten: a sheet whose kinds agree compiles, runs in short time without
// a fault, and gives numbers or says why not.
func FuzzWritten(f *testing.F) {
	fewSteps()
	f.Add([]byte{})
	for i := range 200 {
		seed := make([]byte, 120)
		x := uint32(i)*2654435761 + 1
		for k := range seed {
			x ^= x << 13
			x ^= x >> 17
			x ^= x << 5
			seed[k] = byte(x >> 8)
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 2000 {
			return
		}
		w := &writer{data: data}
		text := w.sheet()
		first := checkRelease(t, text)
		if again := checkRelease(t, text); again != first {
			t.Errorf("it gives\n%s\nand once more\n%s", first, again)
		}
		if strings.Contains(first, "[unit-mismatch]") || strings.Contains(first, "[unexpected]") {
			t.Errorf("the writer wrote what does not agree:\n%s", first)
		}
		if t.Failed() {
			t.Log(text)
		}
	})
}
