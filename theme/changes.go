package theme

import (
	"strings"

	"workings/calc"
	"workings/calc/diag"
)

// A Changes says what differs from an earlier release.
type Changes struct {
	From    *Release
	Safety  []SafetyLoss
	Figures []FigureChange // parameters first, then by name
	Limits  []LimitChange
	Tables  []TableChange
	Checks  []CheckChange
	Pages   []PageChange
	Parts   []PartChange
	Redo    []Redo
	Again   []CheckAgain // checks to repeat
	Buy     []PartAmount // parts to get beside those of the earlier release
	Left    []PartAmount // parts of the earlier release that are left over
}

// Empty reports that nothing differs.
func (c *Changes) Empty() bool {
	return len(c.Safety)+len(c.Figures)+len(c.Limits)+len(c.Tables)+len(c.Checks)+len(c.Pages)+len(c.Parts)+len(c.Redo) == 0
}

// Kinds of change.
const (
	Added   = "added"
	Removed = "removed"
	Changed = "changed"
)

// A FigureChange is a figure or parameter that is not what it was.
type FigureChange struct {
	Name      string
	Caption   string
	Kind      string // Added, Removed or Changed
	Parameter bool
	Old, New  string  // numbers as in calc.Shown.Number, or texts
	Unit      string  // symbol of the unit of both
	OldUnit   string  // where the unit itself has changed; else ""
	Delta     string  // the whole change of a number, in DeltaUnit, as long as its causes have shares
	DeltaUnit string  // symbol
	Causes    []Cause // what moved a computed figure, the largest share first
	Because   string  // the designer's reason
}

// Kinds of cause.
const (
	CauseValue    = "value"    // a parameter, or a value given in a calculation
	CauseFormula  = "formula"  // a line that computes something else than before
	CauseFunction = "function" // a function of the sheet
	CauseTable    = "table"    // the content of a table
	CauseTogether = "together" // several lines that can only change together
)

// A Cause is one thing that moved a figure.
type Cause struct {
	Kind     string
	Names    []string // full names of the figures and functions whose own line differs
	Tables   []string // the tables that differ
	Measured bool     // it has a share; the shares of a figure sum to its change
	Delta    float64  // its share, SI
	Part     float64  // its share of the whole change: 1 is all of it
	Amount   string   // Delta in FigureChange.DeltaUnit; what is written sums to FigureChange.Delta
	Percent  string   // Part in percent; what is written sums to 100
	Chain    []string // figures through which it acts, from the cause to the figure moved
	Ways     int      // number of such ways; Chain is the shortest
}

// Key is what a cause is called: its names, and its tables.
func (c Cause) Key() string {
	return strings.Join(append(append([]string(nil), c.Names...), c.Tables...), ", ")
}

// The ways in which a limit can change.
const (
	LimitCondition = "condition" // it asks something else
	LimitBound     = "bound"     // what it asks is written as before, but its value has moved
	LimitSignal    = "signal"
	LimitMessage   = "message"
	LimitState     = "state" // it holds where it did not, or is proved where it was not, or the reverse
	LimitAccepted  = "accepted"
)

// A LimitChange is a limit that came, went, or is not what it was.
type LimitChange struct {
	Name     string
	Kind     string // Added, Removed or Changed
	What     []string
	Old, New *LimitText // nil where there was none
	Why      string     // the reason for which it is accepted although it is broken
}

// A LimitText is a limit of one release.
type LimitText struct {
	Limit     *calc.Limit
	Condition string // as it is written
	Signal    string // "danger", "warning", "caution", "notice" or ""
	Message   string // with the values of the release
	State     string // Proved, Searched, SearchedAccepted, Broken, BrokenAccepted or Unknown
}

// The states of a limit.
const (
	Proved           = "holds, proved"
	Searched         = "holds where searched"
	SearchedAccepted = "holds where searched, accepted"
	Broken           = "broken"
	BrokenAccepted   = "broken, accepted"
	Unknown          = "not computed"
)

// Kinds of loss of safety.
const (
	LossSignal    = "signal"    // the signal word is lower than it was
	LossDropped   = "dropped"   // the limit or message is gone
	LossMessage   = "message"   // the limit no longer says anything
	LossWider     = "wider"     // the bound of a DANGER or WARNING limit leaves more room
	LossCondition = "condition" // a DANGER or WARNING limit asks something that cannot be compared
)

// What loses safety.
const (
	LimitPlace = "limit"
	PanelPlace = "panel"
)

// A SafetyLoss is a place where a release warns less than the one before.
type SafetyLoss struct {
	Kind     string
	Of       string // LimitPlace or PanelPlace
	Name     string // the limit, or the id of the panel if it has one
	Page     string // id of the page of a panel
	Step     string // id of its step, "" outside steps
	Signal   string // the signal word of the earlier release
	Old, New string // the signal word, the bound as a formula, the condition or the message; New is "" where it is gone
	Why      string // the reason for which it is accepted, or ""
	Pos      diag.Span
	OldPos   diag.Span // in the sources of the earlier release
}

// A TableChange is a table that lines of the sheets read.
type TableChange struct {
	Name string // as it is written in the sheet
	Kind string
	// Rows that came and went, the line of the head not counted; a row that
	// differs in a cell is one that went and one that came.
	RowsAdded, RowsRemoved int
}

// A CheckChange is a check that came, went, or expects something else.
type CheckChange struct {
	ID, What string
	Kind     string
	Page     string
	Old, New *calc.Shown // what it expects; nil for a check of yes or no
	Note     bool        // its words, its instrument or its note differ
}

// A PageChange is a page that came, went or was rewritten.
type PageChange struct {
	ID, Title string
	Kind      string
	Steps     []StepChange
}

// A StepChange is a step that came, went or was rewritten.
type StepChange struct {
	ID, Title string
	Kind      string
}

// A PartChange is a part whose line or quantity differs.
type PartChange struct {
	ID, Name string
	Kind     string
	Old, New string
}

// A PartAmount is a number of pieces, or a length, of a part.
type PartAmount struct {
	ID, Name, Spec string
	Tool           bool
	Number, Unit   string // "" if it could not be computed
	Other          bool   // the part has the same name in both releases and is another
}

// Reasons to do a step again.
const (
	WhyNewPage = "new page"
	WhyNewStep = "new step"
	WhyText    = "text"    // it reads differently
	WhyFigure  = "figure"  // a number in it has moved
	WhyPart    = "part"    // it takes other parts or tools, or another number of them
	WhyCaution = "caution" // its safety messages differ
	WhyCheck   = "check"   // what is measured in it differs
)

// A Redo is a step that a builder of the earlier release must do again.
type Redo struct {
	Page, PageTitle string
	Step, StepTitle string
	Why             []Why
}

// A Why is one reason to do a step again.
type Why struct {
	Kind     string
	Name     string // the figure, the part, the signal word, the check
	Old, New Amount
}

// An Amount is one side of a change: an expression as computed, else a text
// with the symbol of its unit.
type Amount struct {
	Shown *calc.Shown
	Text  string
	Unit  string
}

// A CheckAgain is a check to repeat.
type CheckAgain struct {
	ID, What, Page, Step string
	Kind                 string // Added or Changed; "" where only its step is done again
}
