package calc

import (
	"fmt"
	"strings"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
)

// Values computes figures on their nominal values, without gradients and
// spreads, and only what they need: out[i] is the value of the figure
// names[i], fields of records included, nil where it is not available. set
// puts other values (SI) in the place of definitions, by full name; a value
// must be of the kind of the one it replaces. The program is not changed, so
// that many goroutines may ask at once.
func (p *Program) Values(names []string, set map[string]Value) (out []Value, err error) {
	m := nominal(p)
	for _, name := range sortedNames(set) {
		v := set[name]
		d := p.byName[name]
		if d == nil || d.fn != nil {
			return nil, fmt.Errorf("%s is no figure whose value can be set", name)
		}
		x, ok := private(v)
		if !ok || kindOf(x) != d.typ.Kind {
			return nil, fmt.Errorf("%s is %s, it cannot be set to %v", name, d.typ, v)
		}
		m.given[d.id] = overVal{v: x, ok: true}
	}
	for _, name := range names {
		d, fields := p.definition(name)
		if d == nil || d.fn != nil {
			return nil, fmt.Errorf("there is no figure %s", name)
		}
		v, ok := m.value(d)
		if v, ok = takeFields(v, ok, fields); ok {
			out = append(out, v.public())
		} else {
			out = append(out, nil)
		}
	}
	return out, nil
}

// Values does what Program.Values does for the program that gave the result.
func (r *Result) Values(names []string, set map[string]Value) ([]Value, error) {
	return r.prog.Values(names, set)
}

// nominal gives a machine that computes a program from its literals, carries
// no gradients, and takes from its map `given` whatever stands there.
func nominal(p *Program) *machine {
	all := make([]int32, len(p.defs))
	for i := range all {
		all[i] = int32(i + 1)
	}
	m := newOverlay(newMachine(p), marked{all, len(all)}, nil)
	m.given = map[int]overVal{}
	return m
}

// definition finds the definition behind the name of a figure, and the fields
// to take of it.
func (p *Program) definition(name string) (d *def, fields []string) {
	for head := name; ; {
		if d := p.byName[head]; d != nil {
			if rest := strings.TrimPrefix(name[len(head):], "."); rest != "" {
				fields = strings.Split(rest, ".")
			}
			return d, fields
		}
		i := strings.LastIndexByte(head, '.')
		if i < 0 {
			return nil, nil
		}
		head = head[:i]
	}
}

func takeFields(v val, ok bool, fields []string) (val, bool) {
	for _, f := range fields {
		if !ok {
			return val{}, false
		}
		switch o := v.o.(type) {
		case *record:
			v, ok = o.get(f)
		case *table:
			v, ok = o.get(f)
		default:
			return val{}, false
		}
	}
	return v, ok
}

// private is the inverse of val.public for the values that can be set.
func private(v Value) (val, bool) {
	switch v := v.(type) {
	case float64:
		return num(v), true
	case bool:
		return boolean(v), true
	case string, []string:
		return val{o: v}, true
	case []float64:
		return val{o: &vec{v: v}}, true
	case *model.Map:
		return val{o: &grid{v.X, v.Y, &vec{v: v.Z}}}, true
	}
	return val{}, false
}

func kindOf(v val) Kind {
	switch v.o.(type) {
	case nil:
		return Quantity
	case bool:
		return Bool
	case string:
		return Text
	case *vec, []string:
		return List
	case *grid:
		return Grid
	}
	return Invalid
}

// A Bound is one comparison of a limit's condition with the nominal values of
// its sides, SI.
type Bound struct {
	Op           syntax.Op // OpLT, OpLE, OpGT or OpGE
	LeftX        syntax.Expr
	RightX       syntax.Expr
	Left, Right  float64
	Type         Type // of both sides
	LeftFixed    bool // a literal, or the name of a figure set by one
	RightFixed   bool
	LeftUnknown  bool // it could not be computed
	RightUnknown bool
}

// Bounds takes the condition of limit i (as in Limits) apart where it is one
// comparison or several joined by `and`; nil if it is something else.
func (r *Result) Bounds(i int) []Bound {
	l := r.prog.limits[i]
	m := newOverlay(r.base, marked{}, nil)
	var out []Bound
	for _, c := range l.parts {
		b := Bound{Op: c.op, LeftX: c.left.src.X, RightX: c.right.src.X, Type: c.left.typ}
		side := func(e *expr) (x float64, fixed, unknown bool) {
			v, ok := e.node.eval(m)
			return v.n, r.fixed(e.src.X), !ok
		}
		b.Left, b.LeftFixed, b.LeftUnknown = side(c.left)
		b.Right, b.RightFixed, b.RightUnknown = side(c.right)
		out = append(out, b)
	}
	return out
}

func (r *Result) fixed(x syntax.Expr) bool {
	if c, ok := unparen(x).(*syntax.Convert); ok {
		return r.fixed(c.X)
	}
	if isLiteral(x) {
		return true
	}
	f := r.Ref(unparen(x))
	return f != nil && f.Fixed
}

// TableFile returns the text of a table that the program has read, by the
// name written in the sheet, or nil.
func (r *Result) TableFile(name string) *diag.File {
	if r.prog.tables[name] == nil || r.prog.in.Table == nil {
		return nil
	}
	f, err := r.prog.in.Table(name)
	if err != nil {
		return nil
	}
	return f
}

// Tables returns the names of the tables that the program has read, as they
// are written in the sheets, sorted.
func (r *Result) Tables() []string {
	return sortedNames(r.prog.tables)
}

// Behind returns the figure that a name or field in an expression takes its
// value from, or nil: as Ref, but for a column of a table it is the table.
func (r *Result) Behind(x syntax.Expr) *Figure {
	if f := r.Ref(x); f != nil {
		return f
	}
	if d := r.prog.refs[x].d; d != nil {
		return r.byName[d.name()]
	}
	return nil
}
