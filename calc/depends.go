package calc

import (
	"sort"

	"workings/calc/syntax"
)

// inputsOf gives the inputs with a spread that an expression depends on,
// whether or not a small change of them moves it: what its names depend on,
// and the inputs behind the materials and readings it calls.
func (p *Program) inputsOf(refs []*def, x syntax.Expr) []int32 {
	var from []int32
	for _, r := range refs {
		from = union(from, r.from)
	}
	return union(from, p.hiddenOf(x))
}

// hiddenOf gives the inputs behind the materials and readings that an
// expression calls itself, sorted.
func (p *Program) hiddenOf(x syntax.Expr) (from []int32) {
	if len(p.hidden) == 0 {
		return nil
	}
	syntax.Walk(x, func(e syntax.Expr) bool {
		if call, ok := e.(*syntax.Call); ok {
			for _, h := range p.hidden[call] {
				from = union(from, []int32{h.input})
			}
		}
		return true
	})
	return from
}

// union joins two sorted lists. Where one holds all of the other it is given
// back as it is, so that a chain of lines shares one list.
func union(a, b []int32) []int32 {
	if len(b) == 0 || subset(b, a) {
		return a
	}
	if len(a) == 0 || subset(a, b) {
		return b
	}
	out := make([]int32, 0, len(a)+len(b))
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case j == len(b) || i < len(a) && a[i] < b[j]:
			out = append(out, a[i])
			i++
		case i == len(a) || b[j] < a[i]:
			out = append(out, b[j])
			j++
		default:
			out = append(out, a[i])
			i, j = i+1, j+1
		}
	}
	return out
}

func subset(a, b []int32) bool {
	if len(a) > len(b) {
		return false
	}
	if len(a) > 0 && &a[0] == &b[0] {
		return true // the same list or its beginning
	}
	i := 0
	for _, x := range a {
		for i < len(b) && b[i] < x {
			i++
		}
		if i == len(b) || b[i] != x {
			return false
		}
	}
	return true
}

// ranged gives the inputs with an operating range among some, in the order of their lines.
func (p *Program) ranged(from []int32) []*def {
	return p.some(from, func(s *spreadIn) bool { return s.ranged })
}

// toleranced gives the inputs with a tolerance among some, in the order of their lines.
func (p *Program) toleranced(from []int32) []*def {
	return p.some(from, func(s *spreadIn) bool { return s.hasTol })
}

func (p *Program) some(from []int32, want func(*spreadIn) bool) []*def {
	var out []*def
	for _, in := range from {
		if d := p.inputs[in]; want(d.spread) {
			out = append(out, d)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].id < out[j].id })
	return out
}

// at finds the inputs of settings again.
func (p *Program) at(settings []Setting, from []int32) map[*def]float64 {
	set := make(map[*def]float64, len(settings))
	for _, s := range settings {
		for _, in := range from {
			if d := p.inputs[in]; d.name() == s.Name {
				set[d] = s.SI
			}
		}
	}
	return set
}

// marked are some definitions of a program.
type marked struct {
	place []int32 // by definition: which of the marked it is, from 1; 0: it is not; nil: none is
	n     int
}

// dependents marks the definitions that depend on any of some inputs, or
// parameters without a spread. It costs what it marks.
func (p *Program) dependents(inputs []*def) marked {
	p.indexUsers.Do(func() {
		p.users = make([][]*def, len(p.defs))
		p.direct = make([][]*def, len(p.inputs))
		for _, d := range p.defs {
			for _, ref := range d.refs {
				p.users[ref.id] = append(p.users[ref.id], d)
			}
			for _, in := range p.hiddenOf(d.expr()) {
				p.direct[in] = append(p.direct[in], d)
			}
		}
	})
	dirty := marked{place: make([]int32, len(p.defs))}
	var open []*def
	mark := func(d *def) {
		if dirty.place[d.id] == 0 {
			dirty.n++
			dirty.place[d.id] = int32(dirty.n)
			open = append(open, d)
		}
	}
	for _, in := range inputs {
		if in.id >= 0 {
			mark(in)
			continue
		}
		for _, d := range p.direct[in.input] {
			mark(d)
		}
	}
	for len(open) > 0 {
		d := open[len(open)-1]
		open = open[:len(open)-1]
		for _, u := range p.users[d.id] {
			mark(u)
		}
	}
	return dirty
}
