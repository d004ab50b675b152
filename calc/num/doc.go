// Package num holds the small numerical methods that the engineering models
// use: each states its domain and its accuracy, and fails by name rather than
// give a number it cannot stand behind.
package num

import (
	"errors"
	"fmt"
)

// ErrDomain says that a method was asked for something outside its domain.
var ErrDomain = errors.New("outside the domain of the method")

// A NoConvergence error says that an iteration did not reach its accuracy.
type NoConvergence struct {
	What       string  // the method and what it was used for
	Steps      int     // iterations made
	Last, Prev float64 // the last two values of what should have settled
}

func (e *NoConvergence) Error() string {
	return fmt.Sprintf("%s did not converge in %d steps: %g, then %g", e.What, e.Steps, e.Prev, e.Last)
}

// A loop counts the steps of an iteration and ends it by name.
type loop struct {
	what       string
	limit      int
	steps      int
	last, prev float64
}

// next notes the value that should settle; it fails when the limit is passed.
func (l *loop) next(value float64) error {
	l.prev, l.last = l.last, value
	if l.steps++; l.steps > l.limit {
		return &NoConvergence{l.what, l.limit, l.last, l.prev}
	}
	return nil
}
