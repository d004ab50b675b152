package calc

import (
	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A Result is what a program computed. It does not change once it is made and
// may be read by many goroutines.
type Result struct {
	prog    *Program
	base    *machine
	figures []*Figure
	byName  map[string]*Figure
	byDef   []*Figure // by definition
	limits  []*Limit
	checks  []*CrossCheck
	exprs   []*Shown
}

// A Figure is one named value of a release: a parameter, a computed value, or
// a field of a record ("belt.drift.hot", its Parent being "belt.drift").
type Figure struct {
	Name    string // full: "belt.hot"; on the design sheet the bare name
	Block   string // "" on the design sheet
	Local   string // name within its block
	Caption string
	From    string // source written on its line
	Because string // the designer's reason written on its line
	Type    Type
	Value   Value     // nil: not available, its error has been reported
	Unit    unit.Unit // the unit to show it in, prefix chosen

	Parameter bool            // set by a literal on the design sheet
	Fixed     bool            // set by a literal, there or in a block
	Def       *syntax.Def     // nil for a field of a record
	Func      *syntax.FuncDef // for functions; Value is nil
	Parent    *Figure         // for a field of a record
	Spread    *Spread         // nil: none known
	Models    []*ModelCall    // library models called on its line
	Uses      []*Figure       // what its line names, in the order of first mention
	UsedBy    []*Figure       // sorted by name
	Shown     []int           // Exprs of the input that name it
	Pos       diag.Span       // its name on its line
}

// A ModelCall is one call of a library model.
type ModelCall struct {
	Spec *model.Spec
	Args []ModelArg
	Out  []model.Outside // arguments outside the range of validity
	Pos  diag.Span
}

// A ModelArg is one argument as it was given.
type ModelArg struct {
	Name  string
	X     syntax.Expr
	Value Value
	Unit  unit.Unit // as shown
}

// A Spread is what is known about a figure beside its nominal value, in SI.
type Spread struct {
	Std      float64 // standard uncertainty (JCGM 100, first order); 0: none stated
	DOF      float64 // effective degrees of freedom; +Inf: not limited
	K        float64 // coverage factor used for U
	U        float64 // expanded uncertainty K*Std
	TolLo    float64 // worst case of the tolerances below the nominal, ≥ 0
	TolHi    float64 // worst case above, ≥ 0
	TolRSS   float64 // root sum of squares of the tolerances
	Ranged   bool    // an operating range moves it
	Low      float64 // over the operating ranges
	High     float64
	LowAt    []Setting // the range inputs at which Low occurs
	HighAt   []Setting
	Least    float64 // over tolerances and operating ranges together
	Greatest float64
	Searched bool    // the worst cases are the worst that a search found, not proved: no bound is known
	Shares   []Share // of the uncertainty and tolerance, largest first
}

// A Share is one input's part in a spread.
type Share struct {
	Name  string  // the parameter
	Part  float64 // of Std², or of TolRSS² where there is no uncertainty; 0 to 1
	Slope float64 // derivative of the figure by the parameter, SI
}

// A Setting is a value given to an input.
type Setting struct {
	Name string
	SI   float64
	Unit unit.Unit // as its line writes it
}

// A Shown is one expression of the input, computed.
type Shown struct {
	Expr   *Expr
	Figure *Figure // the figure, where the expression is nothing but its name (and a unit); else nil
	Uses   []*Figure
	Models []*ModelCall
	Type   Type
	Value  Value // nil: not available
	Unit   unit.Unit
	Number string // the rounded number in Unit: plain ASCII decimal, "1384", "-2.50", "1.2e-9"; "" if the value is no number
	Text   string // a text as it is, "yes" or "no" for a bool; "" for a number
	Spread *Spread
	Worst  bool // Number is not of Value but of the greatest or least that it can be, which up and down round
	// What `with spread` or a written tolerance adds, rounded like Number, in Unit
	// (differences on the temperature scale in K):
	Plus, Minus string // tolerance, without signs; equal if symmetric
	Uncertain   string // expanded uncertainty
	Low, High   string // operating range

	rangeOnly bool // depends on a range that states no nominal value
}

// A Limit is a condition a figure must hold.
type Limit struct {
	Name     string // full
	Block    string
	Stmt     *syntax.Limit
	Signal   string // "danger", "warning", "caution", "notice" or ""
	Verdict  Verdict
	Nominal  bool   // holds on the nominal values
	Accepted string // reason written on the line, or ""
	Message  []MessagePart
	// The inputs with a tolerance or range that matter, where the condition is
	// least favourable; of a broken limit, where it is broken.
	At []Setting
	// For a single comparison: both sides as they are nominally and at the worst
	// place (both in one unit), the operator, and by how much it holds there.
	Left, Right           *Shown
	WorstLeft, WorstRight *Shown // nil where nothing moves either side
	Op                    syntax.Op
	Worst                 float64 // least favourable value of Left-Right, SI
	Margin                float64 // distance to the limit on the worst case, SI, negative if broken
	Ratio                 float64 // limit/value (for ≤) or value/limit (for ≥) at the worst place if both are positive, else 0
	Doubtful              bool    // the uncertainty is larger than the margin (JCGM 106)
	Uses                  []*Figure
	Pos                   diag.Span
}

// A Verdict says what is known of a limit over all tolerances and operating
// ranges of what it depends on.
type Verdict int

// The verdicts.
const (
	Unknown  Verdict = iota // could not be computed; its error has been reported
	Broken                  // at the place At
	Searched                // held wherever a search looked; no bound says that it must
	Proved                  // bounds say that it holds everywhere
)

// String names the verdict as figures.json and the register of limits do.
func (v Verdict) String() string {
	return [...]string{"unknown", "broken", "searched", "proved"}[v]
}

// Known reports whether the limit could be judged.
func (l *Limit) Known() bool { return l.Verdict != Unknown }

// Holds reports that no place is known that breaks the limit.
func (l *Limit) Holds() bool { return l.Verdict == Searched || l.Verdict == Proved }

// A MessagePart is a piece of a limit's message: text, or a figure in it.
type MessagePart struct {
	Text  string
	Shown *Shown
}

// A CrossCheck is a second way to a figure.
type CrossCheck struct {
	Stmt   *syntax.CrossCheck
	Figure *Figure
	First  *Shown  // the figure
	Second *Shown  // the estimate
	Off    float64 // |second-first| / |first|; 1 where the first is 0 and the second is not
	Within float64
	Agrees bool
	Known  bool
	Pos    diag.Span
}

// Figures returns every figure, sorted by name. Fields of records follow the record.
func (r *Result) Figures() []*Figure { return r.figures }

// Figure returns a figure by its full name, or nil.
func (r *Result) Figure(name string) *Figure { return r.byName[name] }

// Limits returns the limits, in the order of their places.
func (r *Result) Limits() []*Limit { return r.limits }

// CrossChecks returns the cross-checks, in the order of their places.
func (r *Result) CrossChecks() []*CrossCheck { return r.checks }

// Shown returns expression i of the input, computed.
func (r *Result) Shown(i int) *Shown { return r.exprs[i] }
