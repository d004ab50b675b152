package model

import (
	"errors"
	"math"
	"slices"
)

// mechanical is the table of the mechanical models, one part a topic.
var mechanical = slices.Concat(
	beltModels, screwModels, guideModels, bladeModels, sealModels, fastenerModels, stackModels, sectionModels, balanceModels, leakModels,
)

// yes writes an answer as a sheet can compare it: 1 or 0.
func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// whole refuses counts that are not whole numbers.
func (in *In) whole(names ...string) error {
	var errs []error
	for _, name := range names {
		if v := in.Num(name); v != math.Trunc(v) {
			errs = append(errs, Bad(name, "%s: must be a whole number", show(v, "1")))
		}
	}
	return errors.Join(errs...)
}

// together refuses optional arguments of which only some were given; it
// reports whether they were.
func (in *In) together(names ...string) (given bool, err error) {
	var has, lacks []string
	for _, name := range names {
		if in.Has(name) {
			has = append(has, name)
		} else {
			lacks = append(lacks, name)
		}
	}
	if len(has) > 0 && len(lacks) > 0 {
		return false, Bad(has[0], "needs %s too", lacks[0])
	}
	return len(has) > 0, nil
}

// endsArg is the argument that says how a beam is held.
func endsArg(doc string, known ...Ends) Arg {
	a := Arg{Name: "ends", Shape: Text, Doc: doc}
	for _, e := range known {
		a.Choices = append(a.Choices, string(e))
	}
	return a
}
