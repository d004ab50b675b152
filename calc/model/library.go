package model

import (
	"slices"
	"strings"
	"sync"
)

var library = sync.OnceValue(func() []Spec {
	all := slices.Concat(mechanical, thermal)
	for i := range all {
		all[i].Results = all[i].spread()
	}
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

// spread returns the results with the arguments that do not matter to them
// named in Rises and Falls, where Only says that the others do not.
func (s *Spec) spread() []Res {
	all := slices.Clone(s.Results)
	for i := range all {
		r := &all[i]
		if !r.Only {
			continue
		}
		named := strings.Fields(r.Rises + " " + r.Falls)
		up, down := strings.Fields(r.Rises), strings.Fields(r.Falls)
		for _, a := range s.Args {
			if a.Shape != Text && !slices.Contains(named, a.Name) {
				up, down = append(up, a.Name), append(down, a.Name)
			}
		}
		r.Rises, r.Falls = strings.Join(up, " "), strings.Join(down, " ")
	}
	return all
}

// answering returns shared results with the Rises, Falls and Only that each has
// in one model; how names those that have any.
func answering(results []Res, how ...Res) []Res {
	all := slices.Clone(results)
	for _, h := range how {
		i := slices.IndexFunc(all, func(r Res) bool { return r.Name == h.Name })
		all[i].Rises, all[i].Falls, all[i].Only = h.Rises, h.Falls, h.Only
	}
	return all
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
