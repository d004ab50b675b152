package calc

import (
	"fmt"
	"math"

	"workings/calc/syntax"
)

// readings are the rows of a table of repeated readings. A mean of a column
// has the rows as inputs, each with the standard uncertainty 1 and the slope
// (value - mean) / sqrt(n (n - 1)): the root of the sum of their squares is the
// standard uncertainty of the mean (JCGM 100, 4.2.3), and two columns of one
// table have the covariance of readings taken together (5.2.3).
type readings struct {
	name string // "readings of volts", for the share in an uncertainty
	dof  float64
	rows []*def
}

// maxReadings bounds the rows that can be readings, each an input of its own.
const maxReadings = 1000

// column finds the table that an argument is a column of; nil if it is none.
func (p *Program) column(sc scope, x *syntax.Call) (*syntax.Table, string) {
	if len(x.Args) != 1 || x.Args[0].Name != nil {
		return nil, ""
	}
	arg := unparen(x.Args[0].X)
	if d, rest, ok := p.target(sc, arg); ok {
		if len(rest) == 1 && d.stmt != nil {
			if t, isTable := unparen(d.stmt.X).(*syntax.Table); isTable {
				return t, d.name()
			}
		}
		return nil, ""
	}
	if f, ok := arg.(*syntax.Field); ok {
		if t, isTable := unparen(f.X).(*syntax.Table); isTable {
			return t, t.Path.Value
		}
	}
	return nil, ""
}

// hideReadings makes the inputs behind a call of readings before anything is
// checked, so that what depends on them is known wherever the call stands.
func (p *Program) hideReadings(sc scope, x *syntax.Call) {
	src, name := p.column(sc, x)
	if src == nil {
		return // reported when the call is checked
	}
	n, _ := p.table(src)
	if n == nil {
		return
	}
	t := n.(*constNode).v.o.(*table)
	if t.rows < 2 || t.rows > maxReadings {
		return
	}
	g := p.readings[t]
	if g == nil {
		g = &readings{name: "readings of " + name, dof: float64(t.rows - 1)}
		for i := range t.rows {
			d := &def{fig: &Figure{Name: fmt.Sprintf("%s, row %d", name, i+1)}, id: -1, input: int32(len(p.inputs))}
			d.spread = &spreadIn{std: 1, dof: g.dof, k: 2, shape: "normal", step: 0.05, readings: g}
			p.inputs = append(p.inputs, d)
			g.rows = append(g.rows, d)
		}
		if p.readings == nil {
			p.readings = map[*table]*readings{}
		}
		p.readings[t] = g
	}
	for _, d := range g.rows {
		p.hide(x, d)
	}
}

func checkReadings(c *checker, x *syntax.Call, t []Type) (Type, bool) {
	if t[0].Kind != List || t[0].Texts {
		c.badHint(x.Args[0].X.Span(), "such as readings(volts.voltage), volts being a table with one reading a row",
			"wrong-kind", "readings wants a column of numbers, got %s", operand(x.Args[0].X, t[0]))
		return invalid, false
	}
	if src, _ := c.p.column(c.sc, x); src == nil {
		c.badHint(x.Args[0].X.Span(), "name the column of a table itself; what is computed from readings is computed from their means",
			"wrong-kind", "readings wants a column of a table")
		return invalid, false
	}
	if len(c.p.hidden[x]) == 0 {
		c.bad(x.Args[0].X.Span(), "domain", "readings wants a table of 2 to %d rows", maxReadings)
		return invalid, false
	}
	return t[0].scalar(), true
}

func evalReadings(m *machine, x *syntax.Call, a []val) (val, bool) {
	rows := m.p.hidden[x]
	l := a[0].numbers()
	n := float64(len(l.v))
	v := total(spreadOut(a))
	v.n /= n
	mean := v.n
	for i, d := range rows {
		slope := (l.v[i] - mean) / math.Sqrt(n*(n-1))
		if m.grads && slope != 0 {
			v.g = append(v.g, term{d.input, slope})
		}
		v.n += slope * m.set[d]
	}
	return v, true
}
