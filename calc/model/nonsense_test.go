package model

import (
	"math"
	"strings"
	"testing"
)

// Whatever comes in, no model panics, hangs or lets a number out that is not
// finite, and every refusal of an argument names one that exists.
func TestNonsense(t *testing.T) {
	d := draw(99)
	odd := []float64{0, 1, -1, 0.5, 3, 293.15, 1e-3, 1e3, 1e-9, 1e9, 1e-300, 1e300, -1e300, math.MaxFloat64, math.SmallestNonzeroFloat64, math.Inf(1), math.NaN()}
	number := func(a *Arg) float64 {
		if d.next() < 0.15 {
			return odd[int(d.next()*float64(len(odd)))]
		}
		lo, hi := 1e-3, 10.0
		for _, b := range []*float64{a.Above, a.AtLeast, a.Low} {
			if b != nil {
				lo = *b
			}
		}
		for _, b := range []*float64{a.AtMost, a.High} {
			if b != nil {
				hi = *b
			}
		}
		if a.Unit == "°C" && a.High == nil && a.AtMost == nil {
			lo, hi = max(lo, 250), 500
		}
		if lo >= hi {
			hi = 2*math.Abs(lo) + 1
		}
		if a.Name == "nodes" {
			return 5 + 2*math.Floor(4*d.next())
		}
		return d.between(lo, hi)
	}
	good := map[string]int{}
	for i := range Library() {
		s := &Library()[i]
		for range 300 {
			args := map[string]any{}
			items := 1 + int(3*d.next())
			for k := range s.Args {
				a := &s.Args[k]
				if a.Optional && d.next() < 0.6 || d.next() < 0.01 {
					continue
				}
				switch a.Shape {
				case Scalar:
					args[a.Name] = number(a)
				case List:
					list := make([]float64, items)
					for j := range list {
						list[j] = number(a)
					}
					args[a.Name] = list
				case Text:
					args[a.Name] = a.Choices[int(d.next()*float64(len(a.Choices)))]
				case Grid:
					m := &Map{X: nodes(d.between(.05, .5), 5), Y: nodes(d.between(.05, .5), 7)}
					for range 35 {
						m.Z = append(m.Z, number(a))
					}
					args[a.Name] = m
				}
			}
			out, outside, err := Call(s, args)
			for _, o := range outside { // names the argument, and whose bound it is
				if s.arg(o.Arg) == nil || !sourced(o.Msg) && !strings.Contains(o.Msg, "ISO") && !strings.Contains(o.Msg, "IEC") {
					t.Errorf("%s: a finding of %q without a source: %s", s.Name, o.Arg, o.Msg)
				}
			}
			if err == nil {
				good[s.Name]++
			}
			if (out == nil) == (err == nil) {
				t.Fatalf("%s: result %v beside error %v", s.Name, out, err)
			}
			for _, e := range ArgErrors(err) {
				if s.arg(e.Arg) == nil {
					t.Errorf("%s: an error names %q, which is no argument of it: %v", s.Name, e.Arg, err)
				}
			}
		}
	}
	for i := range thermal { // the draw must reach the formulas, not only the checks
		if name := thermal[i].Name; good[name] == 0 && name != "conductor" { // it knows eight sizes only
			t.Errorf("%s was never computed in this test", name)
		}
	}
}
