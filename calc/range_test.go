package calc_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"workings/calc/model"
)

// TestRanges takes every argument of every model out of its range and out of
// its bounds. Outside the range there is a finding that names the argument, the
// range and its source; what makes no sense is an error that names the argument.
func TestRanges(t *testing.T) {
	d := draw(3)
	ranges, bounds := 0, 0
	for i := range model.Library() {
		s := &model.Library()[i]
		var set map[string]any
		for _, v := range variants {
			if v.model == s.Name {
				set = v.set
				break
			}
		}
		args := d.good(t, s, set)
		if args == nil {
			continue
		}
		with := func(name string, v any) map[string]any {
			w := map[string]any{}
			for k, x := range args {
				w[k] = x
			}
			if v == nil {
				delete(w, name)
			} else {
				w[name] = v
			}
			return w
		}
		refused := func(a *model.Arg, what string, v any) {
			bounds++
			out, _, err := model.Call(s, with(a.Name, v))
			if out != nil || err == nil || !slices.ContainsFunc(model.ArgErrors(err), func(e *model.ArgError) bool { return e.Arg == a.Name }) {
				t.Errorf("%s: %s %s: %v", s.Name, a.Name, what, err)
			}
		}
		for k := range s.Args {
			a := &s.Args[k]
			if !a.Optional {
				refused(a, "missing", nil)
			}
			switch a.Shape {
			case model.Text:
				refused(a, "of no choice", "no such choice")
				refused(a, "a number", 1.)
				continue
			case model.Grid:
				refused(a, "a number", 1.)
				refused(a, "empty", &model.Map{})
				continue
			case model.List:
				refused(a, "empty", []float64{})
				refused(a, "a text", "x")
				refused(a, "with a hole", []float64{1, math.NaN()})
			default:
				refused(a, "a list", []float64{1, 2})
			}
			refused(a, "no number", math.NaN())
			refused(a, "infinite", math.Inf(1))
			refused(a, "infinite below", math.Inf(-1))
			if a.Above != nil {
				refused(a, "at its lower bound", *a.Above)
				refused(a, "below its bound", *a.Above-1)
			}
			if a.AtLeast != nil {
				refused(a, "below its bound", *a.AtLeast-1e-6*(1+math.Abs(*a.AtLeast)))
			}
			if a.AtMost != nil {
				refused(a, "above its bound", *a.AtMost+1e-6*(1+math.Abs(*a.AtMost)))
			}
			// What can be no smaller than nothing says so.
			if a.Shape == model.Scalar && slices.Contains([]string{"length", "diameter", "thickness", "width", "density", "modulus", "area", "mass", "pitch", "speed", "power"}, a.Name) && a.Above == nil && a.AtLeast == nil {
				t.Errorf("%s: %s may be negative", s.Name, a.Name)
			}
			if a.Unit == "°C" && a.Above == nil && a.AtLeast == nil {
				t.Errorf("%s: %s may lie below absolute zero", s.Name, a.Name)
			}
			for _, end := range []struct {
				at   *float64
				sign float64
			}{{a.Low, -1}, {a.High, 1}} {
				if end.at == nil {
					continue
				}
				v := *end.at + end.sign*.02*(1e-9+math.Abs(*end.at))
				if a.Unit == "1" && *end.at == math.Trunc(*end.at) && counts[a.Name] {
					v = *end.at + end.sign
				}
				if end.sign < 0 && (a.Above != nil && v <= *a.Above || a.AtLeast != nil && v < *a.AtLeast) || end.sign > 0 && a.AtMost != nil && v > *a.AtMost {
					continue // the bound is the range
				}
				ranges++
				// From a sheet, so that the finding stands at the argument.
				var b strings.Builder
				call := callText(s, func(x *model.Arg) string {
					w, ok := args[x.Name]
					switch {
					case x == a:
						return written(v, a.Unit)
					case !ok:
						return ""
					case x.Shape == model.Grid:
						return "e.field"
					}
					return written(w, x.Unit)
				})
				fmt.Fprintf(&b, "e = %s\nm = %s\n", callText(model.Find("lamp_field"), func(x *model.Arg) string {
					if v, ok := fieldArgs[x.Name]; ok {
						return written(v, x.Unit)
					}
					return ""
				}), call)
				_, list := sheet(t, b.String(), nil)
				from := a.RangeOf
				if from == "" {
					from = s.Source
				}
				found := false
				for _, e := range list {
					if e.Code == "outside-range" && strings.Contains(e.Msg, from) && strings.Contains(e.Msg, "range of "+s.Name) && strings.HasSuffix(b.String()[:e.Span.Start], a.Name+": ") {
						found = true
					}
				}
				if !found {
					t.Errorf("%s: no finding for %s = %s, outside its range: %v", s.Name, a.Name, written(v, a.Unit), list)
				}
			}
		}
	}
	if ranges < 55 || bounds < 3500 {
		t.Errorf("only %d ends of ranges and %d refusals", ranges, bounds)
	}
	t.Logf("%d ends of ranges, %d refusals", ranges, bounds)
}

// TestWrongUnits gives every number of every model a unit of the wrong kind.
func TestWrongUnits(t *testing.T) {
	var b strings.Builder
	want := 0
	for i := range model.Library() {
		s := &model.Library()[i]
		for k := range s.Args {
			a := &s.Args[k]
			if a.Shape == model.Text || a.Shape == model.Grid {
				continue
			}
			want++
			fmt.Fprintf(&b, "m_%d = %s(%s: 3 cd)\n", want, s.Name, a.Name)
		}
	}
	_, list := sheet(t, b.String(), nil)
	got := 0
	for _, e := range list {
		if e.Code == "unit-mismatch" && strings.Contains(e.Msg, " of ") && strings.Contains(e.Msg, "cd") {
			got++
		}
	}
	if got != want || want < 400 {
		t.Errorf("%d of %d arguments refuse candelas", got, want)
	}
}
