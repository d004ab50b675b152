package syntax

import (
	"workings/calc/diag"
	"workings/calc/unit"
)

// A Seg is a stretch [Start, End) of a file that belongs to a source text. A
// calc block inside a list or a quote is many segments, one a line, without
// the indentation; every position that the parser reports is one in the file.
type Seg struct{ Start, End int }

// A Sheet is a parsed design sheet or calc block: its lines in order.
type Sheet struct {
	File  *diag.File
	Stmts []Stmt
	// Broken holds the names of the definitions, functions and limits that were
	// left out because of mistakes: what uses them need not be reported again.
	Broken []Ident
}

// A Stmt is one line (or continued line) of a sheet: *Def, *FuncDef, *Limit,
// *CrossCheck or *Remark.
type Stmt interface {
	Span() diag.Span
	stmt()
}

// An Ident is a name at its place.
type Ident struct {
	Name string
	Pos  diag.Span
}

// A Text is a quoted text at its place; Value is without quotes and escapes.
type Text struct {
	Value string
	Pos   diag.Span
}

// A Def is `name = expression [spread …] [from "…"] [because "…"] # caption`.
type Def struct {
	Name    Ident
	X       Expr
	Spread  Spread
	From    *Text // source of the value
	Because *Text // the designer's reason for the value
	Caption string
	Pos     diag.Span // the whole line, without the caption
}

// A Spread is what is said about a value beside its nominal. The three kinds
// may stand together, each once.
type Spread struct {
	Tol   *Tolerance   // what is acceptable, as on a drawing
	Unc   *Uncertainty // what is not known
	Range *Range       // what varies in use
}

// A Tolerance is `± x` (Plus == Minus) or `+x -y`. Plus and Minus are literals.
type Tolerance struct {
	Plus, Minus Expr // Minus is the number after the minus sign, without the sign
	Symmetric   bool
	Pos         diag.Span
}

// An Uncertainty is `uncertain x [k y] [dof n] [shape]`: the expanded
// uncertainty, with coverage factor 2 unless k says otherwise. X is a
// quantity, or a percentage of the nominal. Shape is "normal" (default),
// "rectangular", "triangular" or "arcsine"; for the last three X is the half width.
type Uncertainty struct {
	X     Expr
	K     Expr // nil: 2
	DOF   Expr // nil: not stated, taken as infinite
	Shape *Ident
	Pos   diag.Span
}

// A Range is `low to high`; the Def's X is the low end. An optional
// `nominal x` states the value at which single results are given; without it,
// that is the low end.
type Range struct {
	High    Expr
	Nominal Expr // nil: not stated
	Pos     diag.Span
}

// A FuncDef is `name(a, b) = expression # caption`.
type FuncDef struct {
	Name    Ident
	Params  []Ident
	X       Expr
	From    *Text
	Caption string
	Pos     diag.Span
}

// A Limit is `limit name: condition [else signal "message"] [from "…"] [accepted "why"]`.
type Limit struct {
	Name     Ident
	Cond     Expr
	Signal   *Ident   // "danger", "warning", "caution", "notice"; nil if there is no else
	Message  *Message // nil if there is no else
	From     *Text
	Accepted *Text
	Caption  string
	Pos      diag.Span
}

// A CrossCheck is `crosscheck name: expression within 20 % [from "…"]`: a
// second way to the figure called name.
type CrossCheck struct {
	Target  Expr // *Name or *Field
	X       Expr
	Within  Expr
	From    *Text
	Caption string
	Pos     diag.Span
}

// A Remark is a full-line comment, shown where the sheet is shown.
type Remark struct {
	Text string
	Pos  diag.Span
}

// A Message is a text with inline figures in it: "weighs {= mass}".
type Message struct {
	Parts []MessagePart
	Pos   diag.Span // with the quotes
}

// A MessagePart is either plain text (Inline nil) or an inline figure.
type MessagePart struct {
	Text   string
	Inline *Inline
}

// An Inline is what stands between `{=` and `}`: an expression and how it is shown.
type Inline struct {
	X      Expr
	Round  Round
	Spread bool // `with spread`: tolerance, uncertainty or range is shown too
	Pos    diag.Span
}

// A Round says how a figure is rounded for output.
type Round struct {
	Kind RoundKind
	N    int       // significant figures or decimal places
	Step Expr      // `up to 5 mm`, `down to 5 mm`: a literal
	Dir  Direction // safe side
	// Up and Down are of the greatest and the least that the figure can be; with
	// the word nominal, of its nominal value.
	Nominal bool
	Pos     diag.Span
}

// RoundKind is the way in which digits are chosen.
type RoundKind int

// The kinds of rounding.
const (
	RoundAuto   RoundKind = iota // from the uncertainty or tolerance, else three significant figures
	RoundSig                     // `to 2 sf`
	RoundPlaces                  // `to 1 dp` (decimal places)
	RoundStep                    // `up to 5 mm`, `down to 5 mm`
)

// Direction is the side to which a figure is rounded.
type Direction int

// The directions. Nearest is half to even on the decimal value.
const (
	Nearest Direction = iota
	Up
	Down
)

func (*Def) stmt()        {}
func (*FuncDef) stmt()    {}
func (*Limit) stmt()      {}
func (*CrossCheck) stmt() {}
func (*Remark) stmt()     {}

// Span returns the place of the statement.
func (s *Def) Span() diag.Span        { return s.Pos }
func (s *FuncDef) Span() diag.Span    { return s.Pos }
func (s *Limit) Span() diag.Span      { return s.Pos }
func (s *CrossCheck) Span() diag.Span { return s.Pos }
func (s *Remark) Span() diag.Span     { return s.Pos }

// An Expr is an expression: *Number, *String, *Bool, *Name, *Field, *Unary,
// *Binary, *Convert, *If, *Call, *Table, *ListExpr or *Paren.
type Expr interface {
	Span() diag.Span
	expr()
}

// A Number is a numeric literal with the unit written behind it.
type Number struct {
	Text string    // the digits as written: "0.46", "23e-6"
	V    float64   // its value, in Unit
	Unit unit.Unit // the plain-number unit if none is written
	Pos  diag.Span // digits and unit
}

// A String is a quoted text used as a choice.
type String struct {
	Value string
	Pos   diag.Span
}

// A Bool is `true` or `false`.
type Bool struct {
	Value bool
	Pos   diag.Span
}

// A Name is a reference to a definition or parameter.
type Name struct {
	Name string
	Pos  diag.Span
}

// A Field is `x.name`: a figure of a block, a field of a record or a column of a table.
type Field struct {
	X    Expr
	Name Ident
	Pos  diag.Span
}

// A Unary is `-x`, `+x` or `not x`.
type Unary struct {
	Op  Op
	X   Expr
	Pos diag.Span
}

// A Binary is `x op y`.
type Binary struct {
	Op    Op
	X, Y  Expr
	OpPos diag.Span
	Pos   diag.Span
}

// A Convert is `x in unit`.
type Convert struct {
	X       Expr
	Unit    unit.Unit
	UnitPos diag.Span
	Pos     diag.Span
}

// An If is `if cond then x else y`.
type If struct {
	Cond, Then, Else Expr
	Pos              diag.Span
}

// A Call is `f(x, y)` or `model(name: x, other: y)`.
type Call struct {
	Fun  Expr // *Name, or *Field for a function of another block
	Args []Arg
	Pos  diag.Span
}

// An Arg is an argument of a call; Name is nil if it is given by position.
type Arg struct {
	Name *Ident
	X    Expr
}

// A Table is `table "path.csv"`.
type Table struct {
	Path Text
	Pos  diag.Span
}

// A ListExpr is `[x, y, z]`.
type ListExpr struct {
	Items []Expr
	Pos   diag.Span
}

// A Paren is `(x)`, kept so that a sheet prints as it was written.
type Paren struct {
	X   Expr
	Pos diag.Span
}

func (*Number) expr()   {}
func (*String) expr()   {}
func (*Bool) expr()     {}
func (*Name) expr()     {}
func (*Field) expr()    {}
func (*Unary) expr()    {}
func (*Binary) expr()   {}
func (*Convert) expr()  {}
func (*If) expr()       {}
func (*Call) expr()     {}
func (*Table) expr()    {}
func (*ListExpr) expr() {}
func (*Paren) expr()    {}

// Span returns the place of the expression.
func (x *Number) Span() diag.Span   { return x.Pos }
func (x *String) Span() diag.Span   { return x.Pos }
func (x *Bool) Span() diag.Span     { return x.Pos }
func (x *Name) Span() diag.Span     { return x.Pos }
func (x *Field) Span() diag.Span    { return x.Pos }
func (x *Unary) Span() diag.Span    { return x.Pos }
func (x *Binary) Span() diag.Span   { return x.Pos }
func (x *Convert) Span() diag.Span  { return x.Pos }
func (x *If) Span() diag.Span       { return x.Pos }
func (x *Call) Span() diag.Span     { return x.Pos }
func (x *Table) Span() diag.Span    { return x.Pos }
func (x *ListExpr) Span() diag.Span { return x.Pos }
func (x *Paren) Span() diag.Span    { return x.Pos }

// Op is an operator.
type Op int

// The operators.
const (
	OpAdd Op = iota
	OpSub
	OpMul
	OpDiv
	OpPow
	OpLT
	OpLE
	OpGT
	OpGE
	OpEQ
	OpNE
	OpAnd
	OpOr
	OpNot
	OpNeg
	OpPos
)

var opText = [...]string{
	OpAdd: "+", OpSub: "-", OpMul: "*", OpDiv: "/", OpPow: "^",
	OpLT: "<", OpLE: "<=", OpGT: ">", OpGE: ">=", OpEQ: "==", OpNE: "!=",
	OpAnd: "and", OpOr: "or", OpNot: "not", OpNeg: "-", OpPos: "+",
}

func (op Op) String() string { return opText[op] }
