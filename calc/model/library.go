package model

import (
	"slices"
	"strings"
	"sync"
)

var library = sync.OnceValue(func() []Spec {
	all := slices.Concat(mechanical, thermal)
	slices.SortFunc(all, func(a, b Spec) int { return strings.Compare(a.Name, b.Name) })
	return all
})

// Library returns every model, sorted by name. Callers must not change it.
func Library() []Spec { return library() }

// Find returns the model of that name, or nil if there is none.
func Find(name string) *Spec {
	all := library()
	i, ok := slices.BinarySearchFunc(all, name, func(s Spec, name string) int { return strings.Compare(s.Name, name) })
	if !ok {
		return nil
	}
	return &all[i]
}

// at returns a pointer to a bound, for the rows of the tables.
func at(v float64) *float64 { return &v }

// arg returns the argument of that name, or nil.
func (s *Spec) arg(name string) *Arg {
	for i := range s.Args {
		if s.Args[i].Name == name {
			return &s.Args[i]
		}
	}
	return nil
}
