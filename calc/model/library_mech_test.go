package model

import (
	"math"
	"testing"
)

// Units of the sources.
const (
	inch  = 0.0254
	lbf   = 4.4482216152605
	psi   = lbf / (inch * inch)
	perF  = 1.8 // °F to a kelvin
	hours = 3600.0
	rpm   = 2 * math.Pi / 60
	deg   = math.Pi / 180
	steel = 206e9 // Young's modulus, Pa
)

// given holds the arguments of a call.
type given map[string]any

// with returns a copy with some arguments changed; nil takes one away.
func (a given) with(change ...any) given { return with(a, change...) }

// numbers calls a model that must succeed; num looks up a result.
func numbers(t *testing.T, name string, a given) (num func(string) float64, out []Outside) {
	t.Helper()
	s := Find(name)
	if s == nil {
		t.Fatalf("no model %s", name)
	}
	o, out, err := Call(s, a)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return func(r string) float64 {
		t.Helper()
		return value(t, o, r)
	}, out
}

// must drops an error that the comparison of a NaN will show.
func must(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}
