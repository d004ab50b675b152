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
	flags.Var(set, "set", "compute with `NAME=VALUE` in place of a parameter and say what changes; may be given more than once")
	over := flags.String("over", "", "compute the figure over `NAME=FROM to TO` of a parameter, as in --over 'bay=20 °C to 80 °C'")
	points := flags.Int("points", 9, "at `N` values of the parameter of --over")
	trials := flags.Int("trials", 0, "find the distribution of the figure in `N` trials with drawn inputs (JCGM 101)")
	seed := flags.Uint64("seed", 1, "begin the trials at `N`; the same number gives the same trials")
	format := flags.String("format", "text", "print as `text or json`")
	pos, status, ok := parse(e, flags, args, 1, 2)
	if !ok {
		return status
	}
	if *format != "text" && *format != "json" {
		return wrong(e, "explain", fmt.Sprintf("there is no format %q; it is text or json", *format))
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
	x := explanation{release: r, figure: f}
	if len(set) > 0 {
		before, _ := build.LoadWorking(src, build.Options{Tool: tool})
		x.before, x.set = before.Result.Figure(pos[0]), set
	}
	if *over != "" {
		if x.sweep, err = sweepOver(r.Result, f, *over, *points); err != nil {
			return failed(e, "explain", err)
		}
	}
	if *trials != 0 {
		p := newProgress(e.err)
		x.trials, err = r.Result.Trials(f.Name, calc.TrialOptions{N: *trials, Seed: *seed, Progress: func(done int) bool {
			p.step(done, *trials, "trials")
			return true
		}})
		p.end()
		if err != nil {
			return failed(e, "explain", err)
		}
	}
	if *format == "json" {
		if err := x.json(e.out); err != nil {
			return failed(e, "explain", err)
		}
	} else {
		x.text(e.out)
	}
	if f.Value == nil && f.Func == nil {
		return exitFound
	}
	return exitOK
}

// An explanation is what is to be said of a figure.
type explanation struct {
	release *build.Release
	figure  *calc.Figure
	before  *calc.Figure // without the settings; nil if there are none
	set     settings
	sweep   *sweep
	trials  *calc.Trials
}

func (x explanation) text(w io.Writer) {
	explain(w, x.release, x.figure)
	for _, name := range slices.Sorted(maps.Keys(x.set)) {
		fmt.Fprintf(w, "computed with %s = %s\n", name, x.set[name].Span().Text())
	}
	if x.before != nil {
		fmt.Fprintln(w, "without: "+figureText(x.before)+changed(x.before, x.figure))
	}
	if t := x.trials; t != nil {
		q := func(si float64) string { return quantityText(si, x.figure.Unit) }
		fmt.Fprintf(w, "%d trials (JCGM 101), inputs drawn: %d\n", t.N, t.Inputs)
		tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintf(tw, "  mean\t%s\n", q(t.Mean))
		fmt.Fprintf(tw, "  standard uncertainty\t%s%s\n", quantityText(t.Std, difference(x.figure.Unit)), bySlopes(x.figure))
		fmt.Fprintf(tw, "  %.4g %% lie from\t%s to %s\n", 100*t.Level, q(t.Low), q(t.High))
		fmt.Fprintf(tw, "  shortest such interval\t%s to %s\n", q(t.ShortLow), q(t.ShortHigh))
		tw.Flush()
	}
	if s := x.sweep; s != nil {
		fmt.Fprintf(w, "over %s\n", s.param.Name)
		tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for i, at := range s.at {
			value := "has no value"
			if !math.IsNaN(s.out[i]) {
				value = quantityText(s.out[i], x.figure.Unit)
			}
			fmt.Fprintf(tw, "  %s\t%s\n", quantityText(at, s.unit), value)
		}
		tw.Flush()
	}
}

func bySlopes(f *calc.Figure) string {
	if f.Spread == nil || f.Spread.Std == 0 {
		return ""
	}
	return ", by slopes " + quantityText(f.Spread.Std, difference(f.Unit))
}

// changed says by how much a figure differs from what it was before.
func changed(before, after *calc.Figure) string {
	a, okA := before.Value.(float64)
	b, okB := after.Value.(float64)
	if !okA || !okB {
		return ""
	}
	sign := "+"
	if b < a {
		sign = ""
	}
	text := "; the change is " + sign + quantityText(b-a, difference(after.Unit))
	if a != 0 && !after.Unit.Point {
		text += fmt.Sprintf(" (%+.3g %%)", 100*(b-a)/math.Abs(a))
	}
	return text
}

// A sweep is a figure over a parameter.
type sweep struct {
	param   *calc.Figure
	unit    unit.Unit // of the parameter
	at, out []float64 // SI
}

// sweepOver computes a figure over "NAME=FROM to TO".
func sweepOver(res *calc.Result, f *calc.Figure, arg string, points int) (*sweep, error) {
	name, span, ok := strings.Cut(arg, "=")
	from, to, ok2 := strings.Cut(span, " to ")
	if !ok || !ok2 {
		return nil, fmt.Errorf("--over %s: write it as NAME=FROM to TO, such as 'bay=20 °C to 80 °C'", arg)
	}
	if points < 2 || points > calc.MaxSweep {
		return nil, fmt.Errorf("--points is from 2 to %d", calc.MaxSweep)
	}
	p := res.Figure(strings.TrimSpace(name))
	if p == nil || !p.Parameter || p.Type.Kind != calc.Quantity {
		return nil, fmt.Errorf("--over %s: %s is no parameter of the design sheet that is a number", arg, strings.TrimSpace(name))
	}
	var ends [2]float64
	s := &sweep{param: p}
	for i, text := range []string{from, to} {
		u, v, err := literal(strings.TrimSpace(text))
		if err != nil {
			return nil, err
		}
		if u.Dim != p.Type.Dim || u.Point != p.Type.Point {
			return nil, fmt.Errorf("--over %s: %s is in %s, %s does not fit it", arg, p.Name, unitName(p.Unit), strings.TrimSpace(text))
		}
		ends[i], s.unit = u.ToSI(v), u
	}
	for i := range points {
		f := float64(i) / float64(points-1)
		s.at = append(s.at, ends[0]*(1-f)+ends[1]*f)
	}
	var err error
	s.out, err = res.Vary(p.Name, s.at, f.Name)
	return s, err
}

func unitName(u unit.Unit) string {
	if u.Symbol == "" {
		return "no unit"
	}
	return u.Symbol
}

// literal reads a number with its unit.
func literal(text string) (unit.Unit, float64, error) {
	f := diag.NewFile("--over", []byte(text))
	x, list := syntax.ParseExpr(f, []syntax.Seg{{Start: 0, End: len(f.Text)}})
	if err := list.Err(); err != nil {
		return unit.Unit{}, 0, err
	}
	sign := 1.0
	if n, ok := x.(*syntax.Unary); ok && n.Op == syntax.OpNeg {
		sign, x = -1, n.X
	}
	n, ok := x.(*syntax.Number)
	if !ok {
		return unit.Unit{}, 0, fmt.Errorf("%s is no number with its unit", text)
	}
	return n.Unit, sign * n.V, nil
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
	switch l.Verdict {
	case calc.Proved:
		text += "holds, proved"
	case calc.Searched:
		text += "holds where searched"
	case calc.Broken:
		text += "broken"
	default:
		return text + "not computed"
	}
	if at := l.Place(); at != "" && l.Verdict == calc.Broken {
		text += " at " + at
	}
	if left, right := l.Sides(); left != nil {
		text += ", " + worstWord(l) + left.String() + " " + l.Op.String() + " " + right.String()
		if l.Verdict == calc.Broken {
			text += " is not true"
		}
	}
	if l.Accepted != "" && l.Verdict != calc.Proved {
		text += ", accepted: " + l.Accepted
	}
	return text
}

// worstWord says of the sides of a limit that they are those of the worst case.
func worstWord(l *calc.Limit) string {
	if l.WorstLeft == nil || l.WorstRight == nil {
		return ""
	}
	return "at worst "
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
	return unit.Short(u.FromSI(si), digits)
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

// difference is the unit of a difference of two values: no zero of a
// temperature scale in it.
func difference(u unit.Unit) unit.Unit {
	if !u.Point {
		return u
	}
	diff := u
	diff.Offset, diff.Point = 0, false
	diff.Symbol = "K"
	if u.Factor != 1 {
		diff.Symbol = "°F difference"
	}
	return diff
}

// spreadRows says what is known about a figure beside its nominal value.
func spreadRows(f *calc.Figure) [][2]string {
	s := f.Spread
	if s == nil {
		return nil
	}
	diff := difference(f.Unit)
	q := func(si float64) string { return quantityText(si, diff) }
	var rows [][2]string
	found := ""
	if s.Searched {
		found = ", searched and not proved"
	}
	if s.TolHi > 0 || s.TolLo > 0 {
		rows = append(rows, [2]string{"tolerance", "+" + q(s.TolHi) + " -" + q(s.TolLo) + " at worst" + found + ", ± " + q(s.TolRSS) + " as root sum of squares"})
	}
	if s.U > 0 {
		rows = append(rows, [2]string{"uncertainty", fmt.Sprintf("± %s (k = %.3g)", q(s.U), s.K)})
		if !math.IsInf(s.DOF, 0) && s.DOF > 0 {
			rows = append(rows, [2]string{"degrees of freedom", fmt.Sprintf("%.3g", s.DOF)})
		}
	}
	if s.Ranged && numberText(s.Low, f.Unit) != numberText(s.High, f.Unit) {
		rows = append(rows, [2]string{"in use", quantityText(s.Low, f.Unit) + " to " + quantityText(s.High, f.Unit) + found})
		if (s.TolHi > 0 || s.TolLo > 0) && s.Moves() {
			rows = append(rows, [2]string{"at worst", quantityText(s.Least, f.Unit) + " to " + quantityText(s.Greatest, f.Unit) + found})
		}
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
