package theme

import (
	"html/template"
	"math"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme/mathml"
)

// A derivation is what a figure opens: how it came about.
type derivation struct {
	Name    string
	Value   string
	Caption string
	Entry   string // where its users are all named, if not here
	Given   string // "given on the design sheet, design.calc line 31"
	Formula template.HTML
	Values  template.HTML // the formula with the values put in
	Record  *recordRef    // of a field: the record's workings
	Models  []modelView
	Results []inputRow // of a record
	Inputs  []inputRow
	Spread  []spreadRow
	Shares  []shareRow
	Source  string
	Because string
	ShownOn []sheetRef
	UsedBy  []nameRef
	shownOn int // how many there are; all are listed at the figure's home, elsewhere mostRefs
	usedBy  int
	Checks  []crossRow
	Limits  []limitRef
}

// A recordRef leads from one result of a model to the workings of all of them.
type recordRef struct{ Name, Href string }

// A limitRef is a limit that a figure bears on.
type limitRef struct{ Name, Href, State, Class string }

type modelView struct {
	Name, Title   string
	Lines         []template.HTML
	Args          []argRow
	Source, Range string
	Outside       []string
}

// An argRow is one argument: its name, its value, and what was given for it.
type argRow struct {
	Name, Value, Doc string
	Href, Figure     string        // where it is a figure
	Given            template.HTML // where it is computed in its place
}
type inputRow struct{ Name, Href, Value, Note string }
type spreadRow struct{ Name, Value, Note string }
type nameRef struct{ Name, Href string }

// A shareRow is one input's part in the uncertainty, drawn as a bar.
type shareRow struct {
	Name, Href string
	Percent    int
}

type crossRow struct {
	Formula template.HTML
	Second  string
	Off     string
	Agrees  bool
	Source  string
}

// mostRefs is how many sheets and figures a derivation that is not at home
// names as its users. A parameter of a large manual may have thousands, and
// stand with as many sheets.
const mostRefs = 24

func (v *view) cached(key string, make func() string) string {
	if s, ok := v.derivations.Load(key); ok {
		return s.(string)
	}
	s := make()
	v.derivations.Store(key, s)
	return s
}

// deriveShown is the derivation of an expression that stands on a page.
func (v *view) deriveShown(s *calc.Shown) derivation {
	if x, ok := s.Value.(float64); ok && s.Worst {
		// What is derived is the nominal value; the worst stands with its spread.
		nominal := *s
		nominal.Worst, nominal.Number = false, displayNumber(x, s.Unit)
		s = &nominal
	}
	d := derivation{Value: v.shownText(s)}
	if s.Expr == nil {
		return d
	}
	x := s.Expr.X
	d.Name = v.w.ValueHere
	if lit := literal(x); lit {
		d.Given = v.w.GivenHere
	} else {
		d.Formula = v.formula(nil, x)
		var result *mathml.Quantity
		if s.Number != "" && !v.asRange(s) {
			result = &mathml.Quantity{Number: s.Number, Unit: s.Unit}
		}
		d.Values = v.substituted(nil, x, mathml.Quantity{Number: s.Number, Unit: s.Unit}, result)
	}
	d.Inputs = v.inputs(s.Uses, nil)
	d.Models = v.models(s.Models)
	d.Spread, d.Shares = v.spread(s.Spread, s.Unit)
	return d
}

// deriveFigure is the derivation of a named figure.
func (v *view) deriveFigure(f *calc.Figure) derivation {
	d := v.about(f)
	def, of := f.Def, f
	if def == nil && f.Parent != nil {
		of = f.Parent
		def = of.Def
		if d.Source == "" {
			d.Source = of.From
		}
	}
	call := v.modelOnly(def)
	switch {
	case f.Func != nil:
		d.Formula = v.function(f.Func)
	case def == nil || call != nil:
	case literal(def.X):
		d.Given = v.givenAt(f)
	default:
		d.Formula = v.formula(&def.Name, def.X)
		d.Values = template.HTML(v.cached("v "+of.Name, func() string {
			return string(v.substituted(&def.Name, def.X, v.printed(of), v.result(of)))
		}))
	}
	d.Models = v.models(of.Models)
	d.Inputs = v.inputs(of.Uses, call)
	for _, g := range v.fields(f) {
		d.Results = append(d.Results, inputRow{Name: g.Local, Href: v.workingsHref(g), Value: v.figureText(g), Note: g.Caption})
	}
	return d
}

// deriveField is the short derivation of one result of a model, which leads to
// that of all of them: the line of the model that gives it.
func (v *view) deriveField(f *calc.Figure, rec recordRef) derivation {
	d := v.about(f)
	d.Record = &rec
	for _, c := range f.Parent.Models {
		if c.Spec == nil {
			continue
		}
		m := modelView{Name: c.Spec.Name, Title: c.Spec.Title}
		for _, line := range c.Spec.Formula {
			if def := v.t.parsedLine(line); def != nil && def.Name.Name == f.Local {
				m.Lines = append(m.Lines, v.modelLine(line))
			}
		}
		for _, o := range c.Out {
			m.Outside = append(m.Outside, o.Msg)
		}
		d.Models = append(d.Models, m)
	}
	return d
}

// about is what a derivation says of a figure beside how it is computed.
func (v *view) about(f *calc.Figure) derivation {
	d := derivation{
		Name:    f.Name,
		Value:   v.figureText(f),
		Caption: f.Caption,
		Entry:   v.workingsHref(f),
		Source:  f.From,
		Because: f.Because,
		ShownOn: v.refsOf(v.shownOn[f.Name]),
		shownOn: len(v.shownOn[f.Name]), usedBy: len(f.UsedBy),
	}
	d.Spread, d.Shares = v.spread(f.Spread, f.Unit)
	for _, u := range f.UsedBy {
		d.UsedBy = append(d.UsedBy, nameRef{u.Name, v.workingsHref(u)})
	}
	for _, c := range v.in.Result.CrossChecks() {
		if c.Figure == f && c.Known {
			d.Checks = append(d.Checks, v.cross(c))
		}
	}
	for _, l := range v.judging[f.Name] {
		d.Limits = append(d.Limits, limitRef{l.Name, "limits.html#" + limitID(l), v.stateText(l), stateClass(l)})
	}
	return d
}

func (v *view) cross(c *calc.CrossCheck) crossRow {
	row := crossRow{Formula: v.formula(nil, c.Stmt.X), Second: v.shownText(c.Second), Agrees: c.Agrees, Off: v.percent(c.Off)}
	if c.Stmt.From != nil {
		row.Source = c.Stmt.From.Value
	}
	return row
}

func (v *view) percent(x float64) string {
	if x > 0 && x < 0.001 {
		return "< " + v.number("0.1") + nbsp + "%"
	}
	return v.number(displayPlain(100*x)) + nbsp + "%"
}

// givenAt says where a literal stands.
func (v *view) givenAt(f *calc.Figure) string {
	where := v.w.GivenInBlock
	if f.Block == "" {
		where = v.w.GivenOnSheet
	}
	if f.Pos.File == nil {
		return fill(where, "place", "")
	}
	return fill(where, "place", v.in.Manual.PathOf(f.Pos.File)+", "+v.w.Line+nbsp+strconv.Itoa(f.Pos.Line()))
}

// literal reports whether an expression is a number, a text or a truth value
// as written, perhaps with a sign.
func literal(x syntax.Expr) bool {
	switch x := x.(type) {
	case *syntax.Number, *syntax.String, *syntax.Bool, *syntax.Table:
		return true
	case *syntax.Unary:
		return literal(x.X)
	case *syntax.Paren:
		return literal(x.X)
	case *syntax.ListExpr:
		for _, i := range x.Items {
			if !literal(i) {
				return false
			}
		}
		return true
	}
	return false
}

// inputs lists the figures put in. Those that are arguments of the call are
// listed with it.
func (v *view) inputs(uses []*calc.Figure, call *calc.ModelCall) []inputRow {
	given := map[*calc.Figure]bool{}
	if call != nil {
		for _, a := range call.Args {
			if f := v.in.Result.Ref(a.X); f != nil {
				given[f] = true
			}
		}
	}
	var rows []inputRow
	for _, u := range uses {
		if given[u] {
			continue
		}
		rows = append(rows, inputRow{
			Name: u.Name, Href: v.workingsHref(u), Value: v.figureText(u),
			Note: joinNotes(u.Caption, u.From),
		})
	}
	return rows
}

func joinNotes(s ...string) string {
	var kept []string
	for _, x := range s {
		if x != "" {
			kept = append(kept, x)
		}
	}
	return strings.Join(kept, "; ")
}

func (v *view) models(calls []*calc.ModelCall) []modelView {
	var list []modelView
	for _, c := range calls {
		if c.Spec == nil {
			continue
		}
		m := v.modelOf(c.Spec)
		for _, a := range c.Args {
			row := argRow{Name: strings.ReplaceAll(a.Name, "_", " "), Value: v.argText(a)}
			switch f := v.in.Result.Ref(a.X); {
			case f != nil:
				row.Figure, row.Href = f.Name, v.workingsHref(f)
				row.Doc = joinNotes(f.Caption, f.From)
			case a.X == nil || literal(a.X):
				row.Doc = argDoc(c.Spec, a.Name)
			default:
				row.Given = v.formula(nil, a.X)
			}
			m.Args = append(m.Args, row)
		}
		for _, o := range c.Out {
			m.Outside = append(m.Outside, o.Msg)
		}
		list = append(list, m)
	}
	return list
}

func (v *view) modelOf(s *model.Spec) modelView {
	m := modelView{Name: s.Name, Title: s.Title, Source: s.Source, Range: s.Range}
	for _, line := range s.Formula {
		m.Lines = append(m.Lines, v.modelLine(line))
	}
	return m
}

func argDoc(s *model.Spec, name string) string {
	for _, a := range s.Args {
		if a.Name == name {
			return a.Doc
		}
	}
	return ""
}

// figureText is the value of a figure as the registers and workings print it.
func (v *view) figureText(f *calc.Figure) string {
	switch {
	case f.Func != nil:
		return v.w.Function
	case v.rangeOnly(f):
		return v.rangeText(f.Spread.Low, f.Spread.High, f.Unit)
	}
	if n, u := v.figureNumber(f); n != "" {
		return v.quantity(n, u)
	}
	return v.valueText(f.Value, f.Unit)
}

// spread puts into rows what is known of a value beside its nominal.
func (v *view) spread(sp *calc.Spread, u unit.Unit) ([]spreadRow, []shareRow) {
	if sp == nil {
		return nil, nil
	}
	var rows []spreadRow
	found := "" // how the worst cases were
	if sp.Searched {
		found = v.w.BySearch
	}
	if sp.TolLo > 0 || sp.TolHi > 0 {
		d := differenceUnit(u)
		up := func(si float64) string {
			return unit.Round(d.FromSI(si), unit.Rounding{Mode: unit.Sig, N: 2, Dir: unit.Up})
		}
		worst := v.toleranceText(up(sp.TolHi), up(sp.TolLo), d)
		rows = append(rows, spreadRow{v.w.Tolerance, worst, joinNotes(v.w.WorstCase, found)})
		if sp.TolRSS > 0 && !nearly(sp.TolRSS, math.Max(sp.TolLo, sp.TolHi)) {
			rows = append(rows, spreadRow{v.w.Tolerance, "±" + nbsp + v.siDiff(sp.TolRSS, u), v.w.Statistical})
		}
	}
	if sp.U > 0 {
		rows = append(rows, spreadRow{v.w.Uncertainty, "±" + nbsp + v.siDiff(sp.U, u),
			fill(v.w.Coverage, "k", v.number(displayPlain(sp.K)))})
	}
	if sp.Ranged {
		rows = append(rows, spreadRow{v.w.OperatingRange, v.rangeText(sp.Low, sp.High, u), joinNotes(v.settings(sp), found)})
		if (sp.TolLo > 0 || sp.TolHi > 0) && sp.Moves() {
			rows = append(rows, spreadRow{v.w.AtWorst, v.rangeText(sp.Least, sp.Greatest, u), joinNotes(v.w.Together, found)})
		}
	}
	var shares []shareRow
	for _, sh := range sp.Shares {
		p := int(math.Round(100 * sh.Part))
		if p < 1 || len(shares) == 4 {
			break
		}
		row := shareRow{Name: sh.Name, Percent: p}
		if f := v.in.Result.Figure(sh.Name); f != nil { // not a material's property or a row of readings
			row.Href = v.workingsHref(f)
		}
		shares = append(shares, row)
	}
	return rows, shares
}

// rangeText is a range from low to high, its ends rounded outwards.
func (v *view) rangeText(low, high float64, u unit.Unit) string {
	end := func(si float64, dir unit.Direction) string {
		return v.quantity(unit.Round(u.FromSI(si), unit.Rounding{Mode: unit.Auto, Dir: dir}), u)
	}
	return end(low, unit.Down) + " " + v.w.To + " " + end(high, unit.Up)
}

// rangeOnly reports that a figure has no single value: it depends on an
// operating range that states no nominal one.
func (v *view) rangeOnly(f *calc.Figure) bool {
	if f.Spread == nil || !f.Spread.Ranged || f.Spread.Low == f.Spread.High {
		return false
	}
	open := func(g *calc.Figure) bool {
		return g != nil && g.Def != nil && g.Def.Spread.Range != nil && g.Def.Spread.Range.Nominal == nil
	}
	if open(f) {
		return true
	}
	for _, list := range [][]calc.Setting{f.Spread.LowAt, f.Spread.HighAt} {
		for _, s := range list {
			if open(v.in.Result.Figure(s.Name)) {
				return true
			}
		}
	}
	return false
}

// settings says where the ends of an operating range occur.
func (v *view) settings(sp *calc.Spread) string {
	text := func(list []calc.Setting) string {
		var parts []string
		for _, s := range list {
			if f := v.in.Result.Figure(s.Name); f != nil {
				parts = append(parts, s.Name+nbsp+"="+nbsp+v.si(s.SI, f.Unit))
			}
		}
		return strings.Join(parts, ", ")
	}
	low, high := text(sp.LowAt), text(sp.HighAt)
	if low == "" && high == "" {
		return ""
	}
	return fill(v.w.LowAtHighAt, "low", low, "high", high)
}

func nearly(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b)) }

// sides gives the sides of a limit in the worst case with the values put in:
// "4.82 kg ≤ 4.5 kg".
func (v *view) sides(l *calc.Limit) string {
	left, right := l.Sides()
	if left == nil {
		return ""
	}
	return v.shownText(left) + " " + opText(l.Op) + " " + v.shownText(right)
}

func opText(op syntax.Op) string {
	switch op {
	case syntax.OpLE:
		return "≤"
	case syntax.OpGE:
		return "≥"
	case syntax.OpNE:
		return "≠"
	case syntax.OpEQ:
		return "="
	case syntax.OpSub, syntax.OpNeg:
		return "\u2212"
	}
	return op.String()
}

// stateText says how a limit stands: "holds, proved · 1.76 × · at worst 43.7 W",
// "broken by 3 N · at worst 113 N".
func (v *view) stateText(l *calc.Limit) string {
	return joinNotes2(" · ", v.verdictText(l), v.worstText(l))
}

// verdictText is the verdict on a limit with its margin.
func (v *view) verdictText(l *calc.Limit) string {
	measurable := l.Left != nil && l.Right != nil && l.Left.Number != ""
	margin := ""
	switch {
	case !measurable:
	case l.Holds() && l.Ratio > 0:
		margin = v.number(displayRatio(l.Ratio)) + nbsp + "×"
	case l.Holds() || l.Margin != 0:
		u := l.Left.Unit
		if left, _ := l.Sides(); left != nil {
			u = left.Unit
		}
		dir := unit.Up
		if l.Holds() {
			dir = unit.Down // as a ratio is: never more than it is
		}
		d := differenceUnit(u)
		margin = v.quantity(unit.Round(d.FromSI(math.Abs(l.Margin)), unit.Rounding{Mode: unit.Sig, N: 2, Dir: dir}), d)
	}
	switch l.Verdict {
	case calc.Proved:
		return joinNotes2(" · ", v.w.HoldsProved, margin)
	case calc.Searched:
		return joinNotes2(" · ", v.w.HoldsSearched, margin)
	case calc.Broken:
		if margin != "" {
			return fill(v.w.BrokenBy, "by", margin)
		}
		return v.w.Broken
	}
	return v.w.NotKnown
}

// stateHTML is the state as cells show it: the verdict, and below it the worst
// value.
func (v *view) stateHTML(l *calc.Limit) string {
	s := `<span class="` + stateClass(l) + `">` + esc(v.verdictText(l)) + "</span>"
	if worst := v.worstText(l); worst != "" {
		s += ` <span class="note worst">` + esc(worst) + "</span>"
	}
	return s
}

// stateClass is what the look of a verdict goes by.
func stateClass(l *calc.Limit) string {
	switch l.Verdict {
	case calc.Proved:
		return "held"
	case calc.Searched:
		return "searched"
	case calc.Broken:
		return "broken"
	}
	return "unknown"
}
