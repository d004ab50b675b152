package calc

import "workings/calc/model"

// A val is a value while it is computed. A quantity is n with its gradient g
// and o nil; everything else is in o: bool, string, *vec (a list of numbers),
// []string, *table, *record or *grid.
type val struct {
	n float64
	g []term
	o any
}

type table struct {
	cols []string
	vals []val // *vec or []string
	rows int
}

type record struct {
	names []string
	vals  []val
}

// grid is a field over a rectangle.
type grid struct {
	x, y []float64
	z    *vec
}

func num(n float64) val  { return val{n: n} }
func boolean(b bool) val { return val{o: b} }

func (v val) isNum() bool { return v.o == nil }

func (r *record) get(name string) (val, bool) {
	for i, n := range r.names {
		if n == name {
			return r.vals[i], true
		}
	}
	return val{}, false
}

func (t *table) get(name string) (val, bool) {
	for i, n := range t.cols {
		if n == name {
			return t.vals[i], true
		}
	}
	return val{}, false
}

// public gives the value as the package's users see it.
func (v val) public() Value {
	switch o := v.o.(type) {
	case nil:
		return v.n
	case *vec:
		return o.v
	case *grid:
		return &model.Map{X: o.x, Y: o.y, Z: o.z.v}
	case *table:
		t := &TableValue{Columns: o.cols, Rows: o.rows}
		for _, c := range o.vals {
			t.Values = append(t.Values, c.public())
		}
		return t
	case *record:
		r := &RecordValue{Names: o.names}
		for _, c := range o.vals {
			r.Values = append(r.Values, c.public())
		}
		return r
	default:
		return o // bool, string, []string
	}
}

// numbers gives the list of numbers in a list or field, or nil.
func (v val) numbers() *vec {
	switch o := v.o.(type) {
	case *vec:
		return o
	case *grid:
		return o.z
	}
	return nil
}

// withNumbers gives a value of the same form with other numbers.
func (v val) withNumbers(l *vec) val {
	if g, ok := v.o.(*grid); ok {
		return val{o: &grid{g.x, g.y, l}}
	}
	return val{o: l}
}
