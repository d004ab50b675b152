package calc

import (
	"fmt"
	"strings"

	"workings/calc/diag"
)

// sortDefs puts the definitions in the order in which they can be computed and
// reports each circle once, edge by edge. The order depends only on the order
// of the lines, never on a map.
func (p *Program) sortDefs() {
	const (
		fresh = iota
		open
		done
	)
	var path []*def
	var visit func(d *def)
	visit = func(d *def) {
		switch d.state {
		case done:
			return
		case open:
			for i := len(path) - 1; i >= 0; i-- {
				if path[i] == d {
					p.circle(path[i:])
					return
				}
			}
			return
		}
		d.state = open
		path = append(path, d)
		for _, r := range d.refs {
			visit(r)
		}
		path = path[:len(path)-1]
		d.state = done
		p.order = append(p.order, d)
	}
	for _, d := range p.defs {
		visit(d)
	}
}

// circle reports definitions that need each other.
func (p *Program) circle(c []*def) {
	known := false
	for _, d := range c {
		known = known || d.inCycle
		d.inCycle, d.broken = true, true
	}
	if known {
		return
	}
	// Begin with the one that stands first, so that the report is the same
	// whichever line led here.
	first := 0
	for i, d := range c {
		if d.id < c[first].id {
			first = i
		}
	}
	c = append(append([]*def(nil), c[first:]...), c[:first]...)
	names := make([]string, 0, len(c)+1)
	for _, d := range c {
		names = append(names, d.name())
	}
	names = append(names, c[0].name())
	if len(c) == 1 && c[0].fn != nil {
		p.errs.Add(c[0].fig.Pos, "circle", "the function %s calls itself", names[0]).
			Hint = "a sheet has no recursion, so that it always ends: write the sum or product out, or use a list"
		return
	}
	if len(c) == 1 {
		p.errs.Add(c[0].fig.Pos, "circle", "%s is defined by itself", names[0]).
			Hint = "give it a value, or compute it from something else"
		return
	}
	e := p.errs.Add(c[0].fig.Pos, "circle", "a circle: %s", strings.Join(names, " needs "))
	for i, d := range c[1:] {
		next := c[(i+2)%len(c)]
		e.Also = append(e.Also, diag.Note{Span: d.fig.Pos, Msg: fmt.Sprintf("%s needs %s", d.name(), next.name())})
	}
	e.Hint = "one of them must be given a value or computed from something else"
}
