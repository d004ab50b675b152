package unit_test

import (
	"slices"
	"testing"

	"workings/calc/model"
	"workings/calc/unit"
)

// Every unit that a model declares is read and is a coherent SI unit, or °C for
// a point on the scale. Results may be shown by the year and the hour, in which
// the standards of safety functions count; arguments may not, their bounds are
// written in SI.
func TestModelUnits(t *testing.T) {
	n := 0
	check := func(where, s string, shown ...string) {
		n++
		if slices.Contains(shown, s) {
			return
		}
		u, err := unit.Parse(s)
		switch {
		case err != nil:
			t.Errorf("%s: %v", where, err)
		case u.Point && s != "°C", !u.Point && u.Factor != 1:
			t.Errorf("%s: %q is no SI unit", where, s)
		}
	}
	for _, m := range model.Library() {
		for _, a := range m.Args {
			if a.Shape != model.Text {
				check(m.Name+"."+a.Name, a.Unit)
			}
		}
		for _, r := range m.Results {
			check(m.Name+": "+r.Name, r.Unit, "a", "h^-1")
		}
	}
	if n < 500 {
		t.Errorf("%d units: some are lost", n)
	}
}
