// Package model is the engineering library: formulas from published sources as
// plain functions over SI values, and one table that describes each of them.
package model

import (
	"fmt"
	"slices"
	"strings"
)

// A Spec describes one model: what it takes, what it gives, where its formula
// comes from and where it holds. The table of all models is Library.
type Spec struct {
	Name    string   // as called from a sheet: "belt_drift"
	Topic   string   // "belt", "heat", "screw", …
	Title   string   // one line: what it computes
	Args    []Arg    // in the order in which they are documented
	Results []Res    // a model gives a record; a sheet writes drift.hot
	Formula []string // lines `symbol = expression` in the sheet language, names as in Args and Results, in order of use
	Source  string   // author, title, edition, section; "seen" or "from memory"; "derived", "common practice"
	Range   string   // where it holds, in words
	Fn      func(in *In, out *Out) error
}

// Shape is the form of an argument or result.
type Shape int

// The shapes.
const (
	Scalar Shape = iota
	List         // a column of numbers of one dimension
	Text         // one of Arg.Choices
	Grid         // a field over a rectangle
)

// An Arg is one named argument.
type Arg struct {
	Name     string
	Unit     string   // SI unit that fixes the dimension ("N", "W/m^2", "1"); "°C" for a point on the temperature scale (the model gets kelvins)
	Shape    Shape    // Scalar unless said otherwise
	Doc      string   // what it is, in a few words
	Choices  []string // for Text
	Optional bool     // may be left out; Doc says what that means. Never a default that hides a design decision
	Above    *float64 // value must be greater than this (SI), nil if unbounded: nonsense below, an error
	AtLeast  *float64 // value must be at least this (SI): an error below
	AtMost   *float64 // value must be at most this (SI): an error above
	Low      *float64 // below this (SI) the model is outside its range of validity: a finding
	High     *float64 // above this (SI): a finding
	RangeOf  string   // where Low and High come from; the model's Source if empty
}

// A Res is one named result.
type Res struct {
	Name  string
	Unit  string // fixes the dimension, and is the unit to show it in: "N", or "a" for a life in years; the value itself is SI
	Shape Shape
	Doc   string
	// The arguments with which it never falls, and never rises, wherever the
	// model gives a value, whatever the others are: the worst case between two
	// ends of such an argument lies at an end. Names apart by blanks; of a list
	// every element counts. An argument that is named in neither may do both;
	// one that is named in both does not matter.
	Rises, Falls string
	Only         bool // no other argument matters: Library names them in both
}

// RisesWith reports whether the result never falls with an argument.
func (r *Res) RisesWith(arg string) bool { return slices.Contains(strings.Fields(r.Rises), arg) }

// FallsWith reports whether the result never rises with an argument.
func (r *Res) FallsWith(arg string) bool { return slices.Contains(strings.Fields(r.Falls), arg) }

// A Map is a field over a rectangle: Z[j*len(X)+i] is the value at X[i], Y[j].
type Map struct {
	X, Y []float64 // m, rising
	Z    []float64 // SI
}

// In holds the arguments of one call, in SI (points on the temperature scale in kelvins).
type In struct {
	spec *Spec
	args map[string]any // float64, []float64, string or *Map
	out  []Outside
}

// An Outside is a finding: an argument lies outside a model's range of validity.
type Outside struct {
	Arg string
	Msg string
}

// NewIn returns the arguments of a call; values are float64, []float64, string
// or *Map; a float64 will do where a list is wanted.
func NewIn(spec *Spec, args map[string]any) *In { return &In{spec: spec, args: args} }

// Num returns a number, or 0 for an optional argument that was left out.
func (in *In) Num(name string) float64 { v, _ := in.args[name].(float64); return v }

// List returns a list, or nil for an optional argument that was left out. A
// single quantity given for a list is a list of one.
func (in *In) List(name string) []float64 {
	switch v := in.args[name].(type) {
	case []float64:
		return v
	case float64:
		return []float64{v}
	}
	return nil
}

// Text returns a choice, or "" for an optional argument that was left out.
func (in *In) Text(name string) string { v, _ := in.args[name].(string); return v }

// Map returns a field, or nil for an optional argument that was left out.
func (in *In) Map(name string) *Map { v, _ := in.args[name].(*Map); return v }

// Has reports whether an argument was given.
func (in *In) Has(name string) bool { _, ok := in.args[name]; return ok }

// Outside records a finding: the model still gives a number, and says why it
// may not hold. The message names the bound; where it does not say whose it is,
// it is that of the model's source.
func (in *In) Outside(arg, format string, args ...any) {
	msg := fmt.Sprintf(format, args...)
	if in.spec != nil && !sourced(msg) {
		msg += "; source: " + in.spec.Source
	}
	in.out = append(in.out, Outside{arg, msg})
}

// sourced reports whether a text says where it comes from, as Spec.Source does.
func sourced(text string) bool {
	for _, mark := range []string{"seen", "from memory", "derived", "common practice", "computed"} {
		if strings.Contains(text, mark) {
			return true
		}
	}
	return false
}

// Findings returns what was recorded with Outside.
func (in *In) Findings() []Outside { return in.out }

// Out receives the results of one call, in SI.
type Out struct {
	res map[string]any // float64, []float64 or *Map
}

// Num sets a number.
func (o *Out) Num(name string, v float64) { o.set(name, v) }

// List sets a list.
func (o *Out) List(name string, v []float64) { o.set(name, v) }

// Grid sets a field.
func (o *Out) Grid(name string, m *Map) { o.set(name, m) }

// Get returns a result: float64, []float64 or *Map, or nil if it was not set.
func (o *Out) Get(name string) any { return o.res[name] }

func (o *Out) set(name string, v any) {
	if o.res == nil {
		o.res = map[string]any{}
	}
	o.res[name] = v
}

// An ArgError says that an argument makes no sense (a negative length, a list
// of the wrong length): no result can be given.
type ArgError struct {
	Arg string
	Msg string
}

func (e *ArgError) Error() string { return e.Arg + ": " + e.Msg }

// Bad returns an *ArgError.
func Bad(arg, format string, args ...any) error {
	return &ArgError{arg, fmt.Sprintf(format, args...)}
}
