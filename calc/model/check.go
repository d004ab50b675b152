package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Call runs a model on arguments in SI (points on the temperature scale in
// kelvins); each is a float64, []float64, string or *Map, as its Arg.Shape
// says; a float64 given for a list is a list of one.
//
// It gives the results, and a finding for each argument outside the range in
// which the model is known to hold. The error is one or several *ArgError
// (joined, see ArgErrors) if arguments are missing, of the wrong shape, not
// finite or beyond their bounds, or whatever the model refused. A result that
// is missing or not finite is an error too: no such number leaves a model.
func Call(s *Spec, args map[string]any) (*Out, []Outside, error) {
	in := NewIn(s, args)
	if err := checkArgs(s, in); err != nil {
		return nil, nil, err
	}
	out := new(Out)
	if err := s.Fn(in, out); err != nil {
		return nil, nil, err
	}
	if err := checkResults(s, out); err != nil {
		return nil, nil, err
	}
	return out, in.Findings(), nil
}

// ArgErrors returns the argument errors within an error of Call, in order;
// nil if it is of another kind.
func ArgErrors(err error) []*ArgError {
	switch e := err.(type) {
	case *ArgError:
		return []*ArgError{e}
	case interface{ Unwrap() []error }:
		var all []*ArgError
		for _, err := range e.Unwrap() {
			all = append(all, ArgErrors(err)...)
		}
		return all
	}
	return nil
}

func checkArgs(s *Spec, in *In) error {
	var errs []error
	for i := range s.Args {
		a := &s.Args[i]
		v, ok := in.args[a.Name]
		if !ok {
			if !a.Optional {
				errs = append(errs, Bad(a.Name, "is missing: %s", a.Doc))
			}
			continue
		}
		if err := checkArg(s, a, v, in); err != nil {
			errs = append(errs, err)
		}
	}
	var unknown []string
	for name := range in.args {
		if s.arg(name) == nil {
			unknown = append(unknown, name)
		}
	}
	slices.Sort(unknown)
	for _, name := range unknown {
		errs = append(errs, Bad(name, "%s takes no such argument", s.Name))
	}
	return errors.Join(errs...)
}

func checkArg(s *Spec, a *Arg, v any, in *In) error {
	switch a.Shape {
	case Scalar:
		x, ok := v.(float64)
		if !ok {
			return Bad(a.Name, "must be a single quantity")
		}
		return checkNumbers(s, a, []float64{x}, func(int) string { return "" }, in)
	case List:
		if x, ok := v.(float64); ok { // a list of one
			return checkNumbers(s, a, []float64{x}, func(int) string { return "" }, in)
		}
		x, ok := v.([]float64)
		if !ok {
			return Bad(a.Name, "must be a list")
		}
		if len(x) == 0 {
			return Bad(a.Name, "is an empty list")
		}
		return checkNumbers(s, a, x, func(i int) string { return fmt.Sprintf("item %d, ", i+1) }, in)
	case Text:
		x, ok := v.(string)
		if !ok {
			return Bad(a.Name, "must be a text: %s", quoted(a.Choices))
		}
		if len(a.Choices) > 0 && !slices.Contains(a.Choices, x) {
			return Bad(a.Name, "%q is none of %s", x, quoted(a.Choices))
		}
		return nil
	case Grid:
		x, ok := v.(*Map)
		if !ok || x == nil {
			return Bad(a.Name, "must be a field over a rectangle, as another model gives it")
		}
		if err := checkMap(x); err != nil {
			return Bad(a.Name, "%v", err)
		}
		return checkNumbers(s, a, x.Z, func(i int) string { return fmt.Sprintf("node %d, ", i+1) }, in)
	}
	return fmt.Errorf("%s: argument %s has an unknown shape", s.Name, a.Name)
}

// checkNumbers checks the values of one argument against its bounds and
// records at most one finding, for the value furthest out.
func checkNumbers(s *Spec, a *Arg, x []float64, where func(int) string, in *In) error {
	worst, off := -1, 0.0
	for i, v := range x {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return Bad(a.Name, "%smust be a finite number", where(i))
		case a.Above != nil && v <= *a.Above:
			return Bad(a.Name, "%s%s: must be greater than %s", where(i), a.show(v), a.show(*a.Above))
		case a.AtLeast != nil && v < *a.AtLeast:
			return Bad(a.Name, "%s%s: must be at least %s", where(i), a.show(v), a.show(*a.AtLeast))
		case a.AtMost != nil && v > *a.AtMost:
			return Bad(a.Name, "%s%s: must be at most %s", where(i), a.show(v), a.show(*a.AtMost))
		}
		if a.Low != nil && *a.Low-v > off {
			worst, off = i, *a.Low-v
		}
		if a.High != nil && v-*a.High > off {
			worst, off = i, v-*a.High
		}
	}
	if worst >= 0 {
		from := a.RangeOf
		if from == "" {
			from = s.Source
		}
		in.Outside(a.Name, "%s%s lies outside the range of %s, %s (%s)", where(worst), a.show(x[worst]), s.Name, a.span(), from)
	}
	return nil
}

// span writes the range of validity of an argument.
func (a *Arg) span() string {
	switch {
	case a.Low == nil:
		return "up to " + a.show(*a.High)
	case a.High == nil:
		return "from " + a.show(*a.Low)
	}
	return a.show(*a.Low) + " to " + a.show(*a.High)
}

// show writes an SI value of the argument with its unit, six figures.
func (a *Arg) show(v float64) string { return show(v, a.Unit) }

func show(v float64, unit string) string {
	if unit == "°C" {
		v -= zeroCelsius
	}
	n := strconv.FormatFloat(v, 'g', 6, 64)
	if unit == "1" || unit == "" {
		return n
	}
	return n + " " + unit
}

func quoted(list []string) string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return strings.Join(q, ", ")
}

// checkMap checks the form of a field: at least two rising nodes each way and
// a value for each of them.
func checkMap(m *Map) error {
	if len(m.X) < 2 || len(m.Y) < 2 {
		return errors.New("a field needs at least two nodes each way")
	}
	for _, axis := range [][]float64{m.X, m.Y} {
		for i, v := range axis {
			if math.IsNaN(v) || math.IsInf(v, 0) || i > 0 && v <= axis[i-1] {
				return errors.New("the nodes of a field must be finite and rising")
			}
		}
	}
	if len(m.Z) != len(m.X)*len(m.Y) {
		return fmt.Errorf("a field of %d by %d nodes holds %d values", len(m.X), len(m.Y), len(m.Z))
	}
	return nil
}

func checkResults(s *Spec, out *Out) error {
	for _, r := range s.Results {
		var x []float64
		ok := false
		switch v := out.Get(r.Name).(type) {
		case nil:
			return fmt.Errorf("%s gives no %s", s.Name, r.Name)
		case float64:
			x, ok = []float64{v}, r.Shape == Scalar
		case []float64:
			x, ok = v, r.Shape == List && len(v) > 0
		case *Map:
			if v != nil && r.Shape == Grid {
				x, ok = v.Z, checkMap(v) == nil
			}
		}
		if !ok {
			return fmt.Errorf("%s gives %s in the wrong form", s.Name, r.Name)
		}
		for _, v := range x {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%s gives no finite %s for these arguments", s.Name, r.Name)
			}
		}
	}
	return nil
}

// columns returns lists as columns of one length; a list of one item stands
// for as many as the longest has. A list that was left out is nil.
func (in *In) columns(names ...string) (n int, cols [][]float64, err error) {
	longest := names[0]
	cols = make([][]float64, len(names))
	for i, name := range names {
		cols[i] = in.List(name)
		if len(cols[i]) > n {
			n, longest = len(cols[i]), name
		}
	}
	for i, name := range names {
		switch len(cols[i]) {
		case 0, n:
		case 1:
			one := cols[i][0]
			cols[i] = make([]float64, n)
			for k := range n {
				cols[i][k] = one
			}
		default:
			return 0, nil, Bad(name, "has %d items, but %s has %d", len(cols[i]), longest, n)
		}
	}
	return n, cols, nil
}
