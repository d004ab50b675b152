package calc

import (
	"strings"

	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
)

var (
	kelvin, _  = parsedUnit("K")
	celsius, _ = parsedUnit("°C")
)

func parsedUnit(s string) (unit.Unit, bool) {
	u, err := unit.Parse(s)
	return u, err == nil
}

var plainNumber = Type{Kind: Quantity, Chosen: true}

func quantity(u unit.Unit) Type {
	return Type{Kind: Quantity, Dim: u.Dim, Point: u.Point, Unit: u}
}

// isNumeric reports whether the type is a quantity or a list of quantities.
func (t Type) isNumeric() bool { return t.Kind == Quantity || t.Kind == List && !t.Texts }

// scalar gives the type of one element of a list.
func (t Type) scalar() Type {
	if t.Kind == List {
		if t.Texts {
			return Type{Kind: Text}
		}
		t.Kind = Quantity
	}
	return t
}

// plain reports whether the type is a plain number.
func (t Type) plain() bool { return t.Kind == Quantity && t.Dim == unit.None }

func (t Type) field(name string) *TypeField {
	for i := range t.Fields {
		if t.Fields[i].Name == name {
			return &t.Fields[i]
		}
	}
	return nil
}

func (t Type) fieldNames() []string {
	names := make([]string, len(t.Fields))
	for i, f := range t.Fields {
		names[i] = f.Name
	}
	return names
}

// String names the type as an error message does: "force, N", "a text".
func (t Type) String() string {
	switch t.Kind {
	case Quantity:
		return t.dimText()
	case Bool:
		return "true or false"
	case Text:
		return "a text"
	case List:
		if t.Texts {
			return "a list of texts"
		}
		return "a list of " + t.many()
	case Table:
		return "a table"
	case Record:
		return "a record"
	case Grid:
		return "a field of " + t.dimText()
	case Func:
		return "a function"
	}
	return "not available"
}

// many names several values of a dimension: "plain numbers", "lengths, mm".
func (t Type) many() string {
	name, rest, _ := strings.Cut(t.dimText(), ", ")
	switch {
	case strings.HasSuffix(name, "y"):
		name = strings.TrimSuffix(name, "y") + "ies"
	case strings.Contains(name, "/") || strings.Contains(name, "*") || name == t.Unit.Symbol:
		name = "values in " + name
	default:
		name += "s"
	}
	if rest != "" {
		name += ", " + rest
	}
	return name
}

// dimText names a dimension with the unit in use: "force, N".
func (t Type) dimText() string {
	if t.Dim == unit.None {
		if t.Unit.Symbol != "" {
			return "plain number, " + t.Unit.Symbol
		}
		return "plain number"
	}
	u := t.Unit
	if u.Dim != t.Dim {
		u = unit.Coherent(t.Dim)
	}
	if t.Point {
		return "temperature, " + u.Symbol
	}
	if name := t.Dim.Name(); name != "" {
		if t.Dim == unit.Base(unit.Temperature) {
			name = "temperature difference"
		}
		return name + ", " + u.Symbol
	}
	return u.Symbol
}

// same reports whether values of both types may stand for each other.
func (t Type) same(u Type) bool {
	if t.Kind != u.Kind || t.Texts != u.Texts {
		return false
	}
	switch t.Kind {
	case Quantity, List, Grid:
		return t.Dim == u.Dim && t.Point == u.Point
	case Table, Record:
		if len(t.Fields) != len(u.Fields) {
			return false
		}
		for i := range t.Fields {
			if t.Fields[i].Name != u.Fields[i].Name || !t.Fields[i].Type.same(u.Fields[i].Type) {
				return false
			}
		}
	}
	return true
}

// unitOf reads the unit of a model's argument or result. "°C" is a point; "1"
// a plain number.
func unitOf(s string) unit.Unit {
	if s == "" || s == "1" {
		return unit.Unit{Factor: 1}
	}
	u, err := unit.Parse(s)
	if err != nil {
		panic("calc: the library names an unknown unit: " + s)
	}
	return u
}

// resType gives the type of a model's result.
func resType(r model.Res) Type {
	u := unitOf(r.Unit)
	t := quantity(u)
	switch r.Shape {
	case model.List:
		t.Kind = List
	case model.Grid:
		t.Kind = Grid
	case model.Text:
		return Type{Kind: Text}
	}
	if u.Dim == unit.None || u.Point {
		t.Chosen = true
	}
	return t
}

// unparen strips parentheses.
func unparen(x syntax.Expr) syntax.Expr {
	for {
		p, ok := x.(*syntax.Paren)
		if !ok {
			return x
		}
		x = p.X
	}
}
