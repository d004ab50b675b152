package calc

import "workings/calc/syntax"

// Rework computes an expression of a sheet or a page again with other numbers
// in the place of the figures it names (SI, by full name), as a reader does who
// follows a printed line. What is not given keeps its value. ok is false if the
// expression is not one of the program's or gives no number.
func (r *Result) Rework(x syntax.Expr, put map[string]float64) (si float64, ok bool) {
	p := r.prog
	p.indexNodes.Do(func() {
		p.nodes = make(map[syntax.Expr]node, len(p.defs)+len(p.exprs))
		for _, d := range p.defs {
			if d.stmt != nil {
				p.nodes[d.stmt.X] = d.node
			}
		}
		for _, e := range p.exprs {
			p.nodes[e.src.X] = e.node
		}
	})
	n := p.nodes[x]
	if n == nil {
		return 0, false
	}
	m := newOverlay(r.base, marked{}, nil)
	m.given = map[int]overVal{}
	for _, name := range sortedNames(put) {
		d, fields := p.definition(name)
		if d == nil {
			return 0, false
		}
		old, known := m.value(d)
		if !known {
			return 0, false
		}
		v, replaced := replace(old, fields, put[name])
		if !replaced {
			return 0, false
		}
		m.given[d.id] = overVal{v: v, ok: true}
	}
	v, ok := n.eval(m)
	return v.n, ok && v.isNum()
}

// replace gives a value with a number in the place of one of its fields.
func replace(v val, fields []string, si float64) (val, bool) {
	if len(fields) == 0 {
		return num(si), v.isNum()
	}
	old, ok := v.o.(*record)
	if !ok {
		return val{}, false
	}
	rec := &record{names: old.names, vals: append([]val(nil), old.vals...)}
	for i, n := range rec.names {
		if n == fields[0] {
			rec.vals[i], ok = replace(rec.vals[i], fields[1:], si)
			return val{o: rec}, ok
		}
	}
	return val{}, false
}
