package calc

import (
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A Block is the design sheet (Name "") or a named calculation block. Blocks
// of the same name are one block, their lines taken together.
type Block struct {
	Name  string
	Sheet *syntax.Sheet
	Pos   diag.Span // where the block is opened
}

// An Expr is an expression that stands outside the sheets: an inline figure, a
// quantity of parts, an expected value, a line of a plot.
type Expr struct {
	Scope  string // block in which names are looked up before the design sheet; "" for the design sheet only
	X      syntax.Expr
	Round  syntax.Round  // how it is shown
	Spread bool          // `with spread`: its spread is shown too
	Own    syntax.Spread // a spread written at the place itself, as a check's tolerance
	Want   Want          // what it must be
	Sweep  string        // full name of a parameter: evaluated over it by Result.Sweep as well
}

// Want says what an expression must give.
type Want int

// What an expression may be asked to give.
const (
	WantShown   Want = iota // anything that can be set in a line of text: a number with its unit, a text, true or false
	WantNumber              // a single quantity
	WantCount               // a plain number
	WantSeries              // a quantity or a list of quantities (a line of a plot)
	WantGrid                // a field over a rectangle (a map)
	WantLength              // a single length
	WantLengths             // a length or a list of lengths (a place on a drawing)
	WantAngles              // a plane angle or a list of them
	WantTimes               // a plain number: how often something is repeated
)

// An Input is all that a release computes: its blocks, the expressions of its
// pages, and the tables they read.
type Input struct {
	Blocks []Block
	Exprs  []Expr
	// Table returns the text of a table by the name written in a sheet. The
	// error's text says why it could not be had ("no such file").
	Table func(name string) (*diag.File, error)
	// Set replaces the values of parameters, by full name: what-if.
	Set map[string]syntax.Expr
	// Memo is what models gave in an earlier run; nil: all of them are called.
	Memo *Memo
}

// Kind is the kind of a value.
type Kind int

// The kinds of values.
const (
	Invalid Kind = iota // what could not be checked or computed
	Quantity
	Bool
	Text
	List   // a list of quantities, or of texts (Elem)
	Table  // columns of the same length
	Record // named values
	Grid   // a field over a rectangle
	Func
)

// A Type is what is known of a value before anything is computed.
type Type struct {
	Kind   Kind
	Dim    unit.Dim    // Quantity, List, Grid
	Point  bool        // a point on the temperature scale, not a difference
	Texts  bool        // a List of texts
	Unit   unit.Unit   // the unit it is shown in; Chosen tells whether the author fixed it
	Chosen bool        // the unit was written by the author, so no other prefix is picked
	Fields []TypeField // Table (its columns) and Record
}

// A TypeField is a column of a table or a field of a record.
type TypeField struct {
	Name string
	Doc  string
	Type Type
}

// A Value is a computed value; SI throughout, points on the temperature scale
// in kelvins. It is one of float64 (Quantity), bool, string, []float64,
// []string, *TableValue, *RecordValue, *model.Map (Grid), or nil if it is not available.
type Value = any

// A TableValue is a table: one value a column.
type TableValue struct {
	Columns []string
	Values  []Value // []float64 or []string, in the order of Columns
	Rows    int
}

// A RecordValue is a set of named values.
type RecordValue struct {
	Names  []string
	Values []Value
}
