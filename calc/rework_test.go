package calc_test

import (
	"math"
	"testing"
)

// A line computed again with the printed values, as a reader does.
func TestRework(t *testing.T) {
	r, list := sheet(t, "a = 2.345 mm\nb = a * 3\ns = section_rectangle(width: a, height: b)\nc = s.area * b + 1 mm^3\n", nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	x := r.Figure("c").Def.X
	if got, ok := r.Rework(x, nil); !ok || got != r.Figure("c").Value.(float64) {
		t.Error(got, ok)
	}
	got, ok := r.Rework(x, map[string]float64{"s.area": 10e-6, "b": 2e-3})
	if !ok || math.Abs(got-21e-9) > 1e-20 {
		t.Error(got, ok)
	}
	for _, put := range []map[string]float64{{"none": 1}, {"s.none": 1}, {"a.x": 1}} {
		if _, ok := r.Rework(x, put); ok {
			t.Errorf("%v was put in", put)
		}
	}
}
