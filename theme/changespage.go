package theme

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"workings/content"
)

// A changesSheet is the page of changes, ready for its template.
type changesSheet struct {
	C          *changeWords
	From       *Release
	FromHref   string
	Any        bool
	Safety     []lossRow
	Redo       []fold[redoRow]
	Buy, Left  []amountRow
	Again      []fold[againRow]
	Parameters changeRows
	Figures    changeRows
	Shared     bool // a figure has causes with shares
	Limits     []fold[limitChangeRow]
	Tables     []tableRow
	Checks     []fold[checkChangeRow]
	Parts      []PartChange
	Pages      []PageChange
}

type lossRow struct {
	Signal, Word, What, Href, Where string
	Old, New, Why                   string
}

type redoRow struct {
	page             string // its id
	Href, Page, Step string
	Why              []whyRow
}

type whyRow struct {
	Signal, Word string // of a safety message
	Text         string
}

type amountRow struct{ Name, ID, Number, Spec, Note string }

type againRow struct{ page, Href, Number, What, Why string }

// changeRows are figures that differ: those that moved, with what moved them,
// and those that are new or gone, of which there is less to say.
type changeRows struct{ Moved, Fresh, Gone []fold[changeRow] }

// changeRows folds figures by their sheets.
func (v *view) changeRows(list []changeRow) (rows changeRows) {
	var moved, fresh, gone []changeRow
	for _, r := range list {
		switch {
		case r.Kind == Added && r.Because == "":
			fresh = append(fresh, r)
		case r.Kind == Removed && r.Because == "":
			gone = append(gone, r)
		default:
			moved = append(moved, r)
		}
	}
	sheet := func(r changeRow) string { return v.sheetOf(r.Name, r.Kind == Removed) }
	rows.Moved = folds(v, moved, sheet, v.w.FigureOne, v.w.FigureMany)
	rows.Fresh = folds(v, fresh, sheet, v.w.FigureOne, v.w.FigureMany)
	rows.Gone = folds(v, gone, sheet, v.w.FigureOne, v.w.FigureMany)
	return rows
}

// A fold is what a long list holds of one sheet, to be opened by the reader. A
// short list is one without a title, and open.
type fold[T any] struct {
	Title, Count string
	Signals      []whyRow // signal words of the safety messages in it, each once
	Rows         []T
}

// folds folds a list by the ids of the pages that its rows belong to, in the
// order of the manual: first what is the design sheet's, whose id is "", last
// what belongs to a page that is no longer there.
func folds[T any](v *view, list []T, page func(T) string, one, many string) (out []fold[T]) {
	const few = 12
	if len(list) <= few {
		if len(list) > 0 {
			out = append(out, fold[T]{Rows: list})
		}
		return out
	}
	by := map[string][]T{}
	for _, x := range list {
		id := page(x)
		if id != "" && v.page(id) == nil {
			id = goneSheet
		}
		by[id] = append(by[id], x)
	}
	add := func(id, title string) {
		if rows := by[id]; len(rows) > 0 {
			out = append(out, fold[T]{Title: title, Count: v.w.Count(len(rows), one, many), Rows: rows})
		}
	}
	add("", capital(v.w.DesignSheet))
	for _, p := range v.in.Manual.Pages {
		add(p.ID, strconv.Itoa(v.sheet[p.ID])+" "+v.title(p))
	}
	add(goneSheet, v.w.changeWords().GoneTitle)
	return out
}

// goneSheet is the id of no page.
const goneSheet = "/"

// sheetOf is the id of the page whose calc block gives a figure or a limit, ""
// for the design sheet.
func (v *view) sheetOf(name string, gone bool) string {
	if gone {
		return goneSheet
	}
	for i, c := range name {
		if c == '.' {
			if p := v.blockOn[name[:i]]; p != nil {
				return p.ID
			}
		}
	}
	return ""
}

// changeRow is one figure that differs.
type changeRow struct {
	Name, Href, Caption, Kind, Word, Old, New, Because, Change string
	Causes                                                     []causeRow
	Rest                                                       []causeRow // causes that did little
	RestWord                                                   string
}

type causeRow struct {
	Text, Because   string
	Names           []nameRef
	Percent, Amount string
	Bar             template.HTML
	Chain           []nameRef
	More            string
}

type limitChangeRow struct {
	Name, Href, Word, What, Why string
	Old, New                    *limitSide
}

type limitSide struct {
	Signal, Word, State, Class, Message string
	Condition                           template.HTML
}

type tableRow struct{ Name, Word, Rows string }

type checkChangeRow struct{ page, Href, What, Word, Old, New, Note string }

// Changes renders what differs from the release before.
func (t *Theme) Changes(in *Input) ([]byte, error) {
	v := t.view(in)
	d := &changesSheet{C: v.w.changeWords()}
	if c := in.changes(); c != nil && c.From != nil {
		d.From, d.FromHref, d.Any = c.From, "../"+c.From.Dir+"/index.html", !c.Empty()
		v.fillChanges(d, c)
	}
	return t.register(v, "changes.html", "changes.html", "Δ", v.w.ChangesTitle, v.w.ChangesLead, d)
}

func (v *view) fillChanges(d *changesSheet, c *Changes) {
	for _, l := range c.Safety {
		d.Safety = append(d.Safety, v.lossRow(c, l))
	}
	var redo []redoRow
	for _, r := range c.Redo {
		row := redoRow{page: r.Page, Href: r.Page + ".html#" + r.Step, Page: r.PageTitle, Step: r.StepTitle}
		for _, y := range r.Why {
			row.Why = append(row.Why, v.whyRow(y))
		}
		redo = append(redo, row)
	}
	d.Redo = folds(v, redo, func(r redoRow) string { return r.page }, v.w.StepOne, v.w.StepMany)
	for i := range d.Redo {
		f := &d.Redo[i]
		for _, r := range f.Rows {
			for _, y := range r.Why {
				if s := (whyRow{Signal: y.Signal, Word: y.Word}); y.Word != "" && !slices.Contains(f.Signals, s) {
					f.Signals = append(f.Signals, s)
				}
			}
		}
	}
	d.Buy, d.Left = v.amountRows(c.Buy), v.amountRows(c.Left)
	checks := v.checksByID()
	var again []againRow
	for _, a := range c.Again {
		row := againRow{page: a.Page, What: a.What, Href: a.Page + ".html", Why: d.C.OneStep}
		if k := checks[a.ID]; k != nil {
			row.Href, row.Number = a.Page+".html#"+checkID(k), k.Number
		}
		switch a.Kind {
		case Added:
			row.Why = v.w.Added
		case Changed:
			row.Why = d.C.CheckOther
		}
		again = append(again, row)
	}
	d.Again = folds(v, again, func(r againRow) string { return r.page }, v.w.CheckOne, v.w.CheckMany)
	because := map[string]string{}
	for _, f := range c.Figures {
		because[f.Name] = f.Because
	}
	var parameters, figures []changeRow
	for i := range c.Figures {
		row := v.changeRow(&c.Figures[i], because)
		if c.Figures[i].Parameter {
			parameters = append(parameters, row)
			continue
		}
		figures = append(figures, row)
		for _, k := range c.Figures[i].Causes {
			d.Shared = d.Shared || k.Measured
		}
	}
	d.Parameters, d.Figures = v.changeRows(parameters), v.changeRows(figures)
	var limits []limitChangeRow
	for _, l := range c.Limits {
		row := limitChangeRow{Name: l.Name, Word: v.w.change(l.Kind), Why: l.Why, Old: v.limitSide(l.Old), New: v.limitSide(l.New)}
		if l.New != nil {
			row.Href = "limits.html#l/" + l.Name
		}
		if l.Kind == Changed {
			row.Word = v.limitWhat(l.What)
		}
		limits = append(limits, row)
	}
	d.Limits = folds(v, limits, func(r limitChangeRow) string { return v.sheetOf(r.Name, r.New == nil) }, v.w.LimitOne, v.w.LimitMany)
	for _, t := range c.Tables {
		row := tableRow{Name: t.Name, Word: v.w.change(t.Kind)}
		var rows []string
		if t.RowsAdded > 0 {
			rows = append(rows, fill(d.C.RowsAdded, "n", strconv.Itoa(t.RowsAdded)))
		}
		if t.RowsRemoved > 0 {
			rows = append(rows, fill(d.C.RowsRemoved, "n", strconv.Itoa(t.RowsRemoved)))
		}
		row.Rows = strings.Join(rows, ", ")
		d.Tables = append(d.Tables, row)
	}
	var expected []checkChangeRow
	for _, k := range c.Checks {
		row := checkChangeRow{page: k.Page, What: k.What, Word: v.w.change(k.Kind), Old: d.C.YesOrNo, New: d.C.YesOrNo}
		if k.Old != nil {
			row.Old = v.expectedText(Amount{Shown: k.Old})
		}
		if k.New != nil {
			row.New = v.expectedText(Amount{Shown: k.New})
		}
		switch {
		case k.Kind == Added:
			row.Old = ""
		case k.Kind == Removed:
			row.New = ""
		case k.Note:
			row.Note = d.C.Words
		}
		if n := checks[k.ID]; n != nil && k.Kind != Removed {
			row.Href = k.Page + ".html#" + checkID(n)
		}
		expected = append(expected, row)
	}
	d.Checks = folds(v, expected, func(r checkChangeRow) string { return r.page }, v.w.CheckOne, v.w.CheckMany)
	d.Parts, d.Pages = c.Parts, c.Pages
}

func (v *view) checksByID() map[string]*content.Check {
	m := map[string]*content.Check{}
	for _, p := range v.in.Manual.Pages {
		for _, k := range p.Checks {
			m[k.ID] = k
		}
	}
	return m
}

func (v *view) lossRow(c *Changes, l SafetyLoss) lossRow {
	w := v.w.changeWords()
	row := lossRow{Signal: l.Signal, Word: v.w.signal(l.Signal), Old: l.Old, New: l.New, Why: l.Why}
	switch l.Kind {
	case LossSignal:
		row.What, row.Old = w.LossSignal, v.w.signal(strings.ToLower(l.Old))
		row.New = firstOf(v.w.signal(strings.ToLower(l.New)), "–")
	case LossDropped:
		row.What = w.LossDropped
	case LossMessage:
		row.What = w.LossMessage
	case LossWider:
		row.What = w.LossWider
	case LossCondition:
		row.What = w.LossCondition
	}
	if l.Of == LimitPlace {
		row.Where = fill(w.LimitNamed, "name", l.Name)
		for _, x := range v.in.Result.Limits() {
			if x.Name == l.Name {
				row.Href = "limits.html#" + limitID(x)
			}
		}
		return row
	}
	title := ""
	if p := v.page(l.Page); p != nil {
		title, row.Href = v.title(p), p.ID+".html"
		if l.Step != "" {
			for _, s := range p.Steps {
				if s.ID == l.Step {
					row.Href += "#" + s.ID
				}
			}
		}
	} else if c.From != nil {
		title = firstOf(c.From.Pages[l.Page], l.Page)
	}
	row.Where = fill(w.MessageOn, "page", title)
	if l.Name != "" {
		row.Where = fill(w.MessageNamed, "name", l.Name, "page", title)
	}
	return row
}

// whyRow puts a reason to do a step again into words.
func (v *view) whyRow(y Why) whyRow {
	w := v.w.changeWords()
	was, is := v.amountText(y.Old), v.amountText(y.New)
	both := func(s string) whyRow { return whyRow{Text: fill(s, "name", y.Name, "old", was, "new", is)} }
	switch y.Kind {
	case WhyNewPage:
		return whyRow{Text: w.NewPage}
	case WhyNewStep:
		return whyRow{Text: w.NewStep}
	case WhyCaution:
		if y.New.Text == "" {
			return whyRow{Signal: y.Name, Word: v.w.signal(y.Name), Text: v.w.Removed + ": " + y.Old.Text}
		}
		return whyRow{Signal: y.Name, Word: v.w.signal(y.Name), Text: y.New.Text}
	case WhyPart:
		switch {
		case was == "":
			return both(w.Takes)
		case is == "":
			return both(w.NoLongerTakes)
		}
		return both(w.Was)
	case WhyCheck:
		was, is = v.expectedText(y.Old), v.expectedText(y.New)
		if y.Old.Shown == nil || y.New.Shown == nil {
			return both(w.CheckNew)
		}
		return both(w.CheckNow)
	case WhyFigure:
		return both(w.Was)
	}
	return whyRow{Text: w.Reworded}
}

func (v *view) amountText(a Amount) string {
	if a.Shown != nil {
		s := v.shownText(a.Shown)
		if x := a.Shown.Expr; x != nil && x.Spread {
			s = spaced(s, v.shownSpread(a.Shown))
		}
		return s
	}
	return v.changeValue(a.Text, a.Unit)
}

// expectedText is what a check expects, with its tolerance.
func (v *view) expectedText(a Amount) string {
	if a.Shown == nil || v.asRange(a.Shown) {
		return v.amountText(a)
	}
	return spaced(v.shownText(a.Shown), v.shownSpread(a.Shown))
}

func spaced(value, spread string) string {
	if spread == "" {
		return value
	}
	return value + " " + strings.TrimSpace(spread)
}

func (v *view) amountRows(list []PartAmount) (rows []amountRow) {
	w := v.w.changeWords()
	for _, a := range list {
		row := amountRow{Name: a.Name, ID: a.ID, Spec: a.Spec}
		switch {
		case a.Number != "" && a.Unit != "":
			row.Number = v.quantity(a.Number, unitNamed(a.Unit))
		case a.Number != "":
			row.Number = v.number(a.Number) + nbsp + "×"
		case a.Tool:
			row.Number = v.w.ToolWord
		default:
			row.Number = w.NoNumber
		}
		if a.Other {
			row.Note = w.OtherPart
		}
		rows = append(rows, row)
	}
	return rows
}

func (v *view) changeRow(f *FigureChange, because map[string]string) changeRow {
	w := v.w.changeWords()
	row := changeRow{Name: f.Name, Caption: f.Caption, Kind: f.Kind, Word: v.w.change(f.Kind), Because: f.Because}
	row.Old = v.changeValue(f.Old, firstOf(f.OldUnit, f.Unit))
	row.New = v.changeValue(f.New, f.Unit)
	row.Href = v.entryHref(f.Name)
	if f.Delta != "" && len(f.Causes) > 0 {
		row.Change = fill(w.Change, "amount", signed(v.changeValue(f.Delta, f.DeltaUnit), f.Delta))
	}
	lo, hi := 0.0, 1.0
	for _, k := range f.Causes {
		lo, hi = min(lo, k.Part), max(hi, k.Part)
	}
	for i, k := range f.Causes {
		c := causeRow{}
		for _, n := range k.Names {
			c.Names = append(c.Names, nameRef{n, v.entryHref(n)})
		}
		switch k.Kind {
		case CauseFormula:
			c.Text = before(w.FormulaOf)
		case CauseFunction:
			c.Text = before(w.FunctionOf)
		case CauseTogether:
			c.Text = before(w.TogetherOf)
		case CauseTable:
			c.Text = fill(w.TableOf, "name", k.Key())
		default:
			if len(k.Names) == 1 {
				c.Because = because[k.Names[0]]
			}
		}
		if k.Kind == CauseTogether {
			for _, t := range k.Tables {
				c.Names = append(c.Names, nameRef{Name: t})
			}
		}
		if k.Measured {
			c.Percent = v.number(k.Percent) + nbsp + "%"
			c.Amount = signed(v.changeValue(k.Amount, f.DeltaUnit), k.Amount)
			c.Bar = bar(k.Part, lo, hi)
		} else {
			c.Percent = "–"
		}
		if len(k.Chain) > 2 { // between the two ends, which stand there already
			for _, n := range k.Chain[1 : len(k.Chain)-1] {
				c.Chain = append(c.Chain, nameRef{n, v.entryHref(n)})
			}
		}
		if k.Ways > 1 {
			c.More = fill(w.MoreWays, "n", strconv.Itoa(k.Ways-1))
		}
		if i >= 5 && len(f.Causes) > 6 {
			row.Rest = append(row.Rest, c)
		} else {
			row.Causes = append(row.Causes, c)
		}
	}
	if n := len(row.Rest); n > 0 {
		row.RestWord = fill(w.MoreCauses, "n", strconv.Itoa(n))
	}
	return row
}

// before is the text in front of the name of a cause.
func before(s string) string { return strings.TrimSpace(strings.TrimSuffix(s, "{name}")) }

// signed puts a plus sign before a number that has no minus.
func signed(text, number string) string {
	if number == "" || number == "0" || strings.HasPrefix(number, "-") {
		return text
	}
	return "+" + text
}

// bar draws a share between the smallest and the greatest of its figure, from
// a line at nothing.
func bar(part, lo, hi float64) template.HTML {
	num := func(x float64) string { return strconv.FormatFloat(100*x/(hi-lo), 'f', 1, 64) }
	s := `<svg viewBox="0 0 100 8" width="100" height="8" preserveAspectRatio="none" aria-hidden="true" focusable="false"><rect class="share" x="` +
		num(min(0, part)-lo) + `" width="` + num(max(part, -part)) + `" height="8"/>`
	if lo < 0 {
		s += `<rect class="nought" x="` + num(-lo) + `" width="1" height="8"/>`
	}
	return template.HTML(s + `</svg>`)
}

func (v *view) entryHref(name string) string {
	f := v.in.Result.Figure(name)
	if f == nil {
		return ""
	}
	return v.workingsHref(f)
}

func (v *view) limitSide(l *LimitText) *limitSide {
	if l == nil {
		return nil
	}
	s := &limitSide{Signal: l.Signal, Word: v.w.signal(l.Signal), Message: l.Message, Condition: template.HTML(esc(l.Condition))}
	if l.Limit != nil && l.Limit.Stmt != nil {
		s.Condition = v.formula(nil, l.Limit.Stmt.Cond)
	}
	s.Class = "unknown"
	switch l.State {
	case Proved:
		s.State, s.Class = v.w.HoldsProved, "held"
	case Searched:
		s.State, s.Class = v.w.HoldsSearched, "searched"
	case SearchedAccepted:
		s.State, s.Class = v.w.changeWords().SearchedAccepted, "searched"
	case Broken:
		s.State, s.Class = v.w.Broken, "broken"
	case BrokenAccepted:
		s.State, s.Class = v.w.changeWords().BrokenAccepted, "broken"
	default:
		s.State = v.w.NotKnown
	}
	return s
}

func (v *view) limitWhat(what []string) string {
	w := v.w.changeWords()
	var list []string
	for _, x := range what {
		list = append(list, map[string]string{
			LimitCondition: w.NewCondition, LimitBound: w.NewBound, LimitSignal: w.NewSignal,
			LimitMessage: w.NewMessage, LimitState: w.NewState, LimitAccepted: w.NewAccepted,
		}[x])
	}
	return strings.Join(list, ", ")
}

// changeValue typesets a number with its unit; a text as it is.
func (v *view) changeValue(s, unit string) string {
	if s == "" {
		return ""
	}
	if _, err := strconv.ParseFloat(s, 64); err != nil {
		switch s {
		case "yes":
			return v.w.Yes
		case "no":
			return v.w.No
		}
		return s
	}
	return v.quantity(s, unitNamed(unit))
}
