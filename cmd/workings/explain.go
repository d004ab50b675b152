package main

import (
	"flag"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"workings/build"
	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme/mathml"
)

func runExplain(e env, flags *flag.FlagSet, args []string) int {
	set := settings{}
	flags.Var(set, "set", "compute with `NAME=VALUE` in place of a parameter; may be given more than once")
	pos, status, ok := parse(e, flags, args, 1, 2)
	if !ok {
		return status
	}
	src, closeDir, err := build.OpenDir(folder(pos, 1))
	if err != nil {
		return failed(e, "explain", err)
	}
	defer closeDir()
	r, list := build.LoadWorking(src, build.Options{Tool: tool, Set: set})
	f := r.Result.Figure(pos[0])
	if f == nil {
		report(e.err, list)
		return unknownFigure(e, r.Result, pos[0])
	}
	if list.HasErrors() {
		report(e.err, list)
	}
	explain(e.out, r, f)
	for _, name := range slices.Sorted(maps.Keys(set)) {
		fmt.Fprintf(e.out, "computed with %s = %s\n", name, set[name].Span().Text())
	}
	if f.Value == nil && f.Func == nil {
		return exitFound
	}
	return exitOK
}

func unknownFigure(e env, res *calc.Result, name string) int {
	var names []string
	for _, f := range res.Figures() {
		names = append(names, f.Name)
	}
	fmt.Fprintf(e.err, "workings explain: there is no figure %s\n", name)
	if near := diag.Nearest(name, names); near != "" {
		fmt.Fprintf(e.err, "  hint: did you mean %s?\n", near)
	}
	return exitFound
}

// settings are values put in place of parameters: a flag that may be repeated.
type settings map[string]syntax.Expr

func (s settings) String() string { return "" }

func (s settings) Set(arg string) error {
	name, value, ok := strings.Cut(arg, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !ok || name == "" || value == "" {
		return fmt.Errorf("write it as NAME=VALUE, such as bed_x=\"230 mm\"")
	}
	f := diag.NewFile("--set "+name, []byte(value))
	x, list := syntax.ParseExpr(f, []syntax.Seg{{Start: 0, End: len(f.Text)}})
	if err := list.Err(); err != nil {
		return err
	}
	s[name] = x
	return nil
}

// explain prints the derivation of a figure.
func explain(w io.Writer, r *build.Release, f *calc.Figure) {
	fmt.Fprintln(w, strings.TrimSpace(f.Name+" = "+figureText(f)+caption(f)))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name, text string) {
		if text != "" {
			fmt.Fprintf(t, "  %s\t%s\n", name, text)
		}
	}
	switch {
	case f.Func != nil:
		row("formula", oneLine(f.Func.X.Span().Text()))
	case f.Parent != nil:
		row("part of", f.Parent.Name)
	case f.Def != nil && f.Fixed:
		row("given as", given(f.Def))
	case f.Def != nil:
		row("formula", oneLine(f.Def.X.Span().Text()))
		row("values put in", putIn(r.Result, f.Def.X))
	}
	for _, s := range spreadRows(f) {
		row(s[0], s[1])
	}
	row("source", f.From)
	row("because", f.Because)
	row("written at", placeText(f.Pos))
	var pages []string
	for _, p := range r.Manual.Pages {
		if shows(r, p.Exprs, f) {
			pages = append(pages, p.ID)
		}
	}
	row("shown on", strings.Join(pages, ", "))
	t.Flush()
	figureRows(w, "from", inputsOf(f))
	figureRows(w, "used by", f.UsedBy)
	for _, m := range modelsOf(f) {
		explainModel(w, m)
	}
	for _, l := range r.Result.Limits() {
		for _, u := range l.Uses {
			if u == f {
				fmt.Fprintln(w, "limit "+l.Name+": "+limitState(l))
			}
		}
	}
	for _, c := range r.Result.CrossChecks() {
		if c.Figure == f && c.Known {
			fmt.Fprintf(w, "cross-check: %s, %.2g %% off, allowed are %.2g %%\n", c.Second, 100*c.Off, 100*c.Within)
		}
	}
}

// given is the literal of a parameter with its spread, as written.
func given(d *syntax.Def) string {
	s := d.X.Span()
	if d.Spread.Tol != nil {
		s = s.Join(d.Spread.Tol.Pos)
	}
	if d.Spread.Unc != nil {
		s = s.Join(d.Spread.Unc.Pos)
	}
	if d.Spread.Range != nil {
		s = s.Join(d.Spread.Range.Pos)
	}
	return oneLine(s.Text())
}

// inputsOf and modelsOf are those of the line that gives the figure: a field
// comes about on the line of its record.
func inputsOf(f *calc.Figure) []*calc.Figure {
	if f.Parent != nil && len(f.Uses) == 0 {
		return f.Parent.Uses
	}
	return f.Uses
}

func modelsOf(f *calc.Figure) []*calc.ModelCall {
	if f.Parent != nil && len(f.Models) == 0 {
		return f.Parent.Models
	}
	return f.Models
}

func figureRows(w io.Writer, title string, figures []*calc.Figure) {
	if len(figures) == 0 {
		return
	}
	fmt.Fprintln(w, title)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, f := range figures {
		line := "  " + f.Name + "\t" + figureText(f)
		if f.Caption != "" {
			line += "\t" + f.Caption
		}
		fmt.Fprintln(t, line)
	}
	t.Flush()
}

func explainModel(w io.Writer, m *calc.ModelCall) {
	fmt.Fprintf(w, "model %s: %s\n", m.Spec.Name, m.Spec.Title)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, a := range m.Args {
		fmt.Fprintf(t, "  %s\t%s\n", a.Name, valueText(a.Value, a.Unit))
	}
	t.Flush()
	for _, l := range m.Spec.Formula {
		fmt.Fprintln(w, "  "+l)
	}
	if m.Spec.Source != "" {
		fmt.Fprintln(w, "  source: "+m.Spec.Source)
	}
	if m.Spec.Range != "" {
		fmt.Fprintln(w, "  range: "+m.Spec.Range)
	}
	for _, o := range m.Out {
		fmt.Fprintln(w, "  outside the range: "+o.Msg)
	}
}

func limitState(l *calc.Limit) string {
	text := ""
	if l.Stmt != nil {
		text = oneLine(l.Stmt.Cond.Span().Text()) + ": "
	}
	switch {
	case !l.Known:
		return text + "not computed"
	case l.Holds:
		return text + "holds"
	case l.Accepted != "":
		return text + "broken, accepted: " + l.Accepted
	}
	return text + "broken"
}

// putIn is a formula with values in place of its names, as a page sets it; ""
// if it has no names.
func putIn(res *calc.Result, x syntax.Expr) string {
	put := false
	text := mathml.SubstitutedText(x, func(y syntax.Expr) (string, unit.Unit, bool) {
		f := res.Ref(y)
		if f == nil {
			return "", unit.Unit{}, false
		}
		v, ok := f.Value.(float64)
		if !ok {
			return "", unit.Unit{}, false
		}
		put = true
		return numberText(v, f.Unit), f.Unit, true
	}, mathml.Options{})
	if !put {
		return ""
	}
	return oneLine(text)
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func caption(f *calc.Figure) string {
	if f.Caption == "" {
		return ""
	}
	return "   # " + f.Caption
}

func placeText(s diag.Span) string {
	if s.File == nil {
		return ""
	}
	line, col := s.File.Position(s.Start)
	return fmt.Sprintf("%s:%d:%d", s.File.Name, line, col)
}

func shows(r *build.Release, exprs []int, f *calc.Figure) bool {
	for _, i := range exprs {
		s := r.Result.Shown(i)
		if s == nil {
			continue
		}
		if s.Figure == f {
			return true
		}
		for _, u := range s.Uses {
			if u == f {
				return true
			}
		}
	}
	return false
}

// figureText is a figure's value as a page would show it.
func figureText(f *calc.Figure) string {
	switch {
	case f.Func != nil:
		return "a function"
	case f.Value == nil:
		return "not available"
	}
	return valueText(f.Value, f.Unit)
}

// digits is how many significant figures are printed: more than a page shows,
// fewer than the errors of arithmetic reach.
const digits = 6

func valueText(v calc.Value, u unit.Unit) string {
	switch v := v.(type) {
	case float64:
		return quantityText(v, u)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case string:
		return `"` + v + `"`
	case []float64:
		return fmt.Sprintf("a list of %d", len(v))
	case []string:
		return fmt.Sprintf("a list of %d", len(v))
	case *calc.TableValue:
		return fmt.Sprintf("a table of %d rows", v.Rows)
	case *calc.RecordValue:
		return "a record of " + strings.Join(v.Names, ", ")
	}
	return "a field"
}

func numberText(si float64, u unit.Unit) string {
	n := unit.Round(u.FromSI(si), unit.Rounding{Mode: unit.Sig, N: digits})
	if strings.Contains(n, ".") && !strings.Contains(n, "e") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n
}

func quantityText(si float64, u unit.Unit) string {
	n := numberText(si, u)
	switch {
	case u.Symbol == "":
		return n
	case !unit.NeedsSpace(u):
		return n + u.Symbol
	}
	return n + " " + u.Symbol
}

// spreadRows says what is known about a figure beside its nominal value.
func spreadRows(f *calc.Figure) [][2]string {
	s := f.Spread
	if s == nil {
		return nil
	}
	// A deviation is a difference: no zero of a temperature scale in it.
	diff := f.Unit
	diff.Offset, diff.Point = 0, false
	if f.Unit.Point {
		diff.Symbol = "K"
		if f.Unit.Factor != 1 {
			diff.Symbol = "°F difference"
		}
	}
	q := func(si float64) string { return quantityText(si, diff) }
	var rows [][2]string
	if s.TolHi > 0 || s.TolLo > 0 {
		rows = append(rows, [2]string{"tolerance", "+" + q(s.TolHi) + " -" + q(s.TolLo) + " at worst, ± " + q(s.TolRSS) + " as root sum of squares"})
	}
	if s.U > 0 {
		rows = append(rows, [2]string{"uncertainty", fmt.Sprintf("± %s (k = %.3g)", q(s.U), s.K)})
		if !math.IsInf(s.DOF, 0) && s.DOF > 0 {
			rows = append(rows, [2]string{"degrees of freedom", fmt.Sprintf("%.3g", s.DOF)})
		}
	}
	if s.Ranged {
		rows = append(rows, [2]string{"in use", quantityText(s.Low, f.Unit) + " to " + quantityText(s.High, f.Unit)})
	}
	var shares []string
	for _, sh := range s.Shares {
		if sh.Part < 0.005 {
			continue // would read 0 %
		}
		shares = append(shares, fmt.Sprintf("%s %.0f %%", sh.Name, 100*sh.Part))
	}
	if len(shares) > 0 {
		rows = append(rows, [2]string{"varies with", strings.Join(shares, ", ")})
	}
	return rows
}
