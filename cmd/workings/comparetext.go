package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"workings/calc"
	"workings/calc/unit"
	"workings/theme"
)

// The words of a comparison, shared by text and Markdown.

// withUnit is a number of the comparison with its unit; a text as it is.
func withUnit(number, symbol string) string {
	switch {
	case number == "":
		return "–"
	case symbol == "":
		return number
	}
	return number + " " + unit.Unit{Symbol: symbol}.Display()
}

func oldText(f theme.FigureChange) string {
	u := f.Unit
	if f.OldUnit != "" {
		u = f.OldUnit
	}
	return unlessText(f.Old, u)
}

func newText(f theme.FigureChange) string { return unlessText(f.New, f.Unit) }

// unlessText adds the unit to a number only: a parameter with its spread holds
// its unit already.
func unlessText(s, u string) string {
	if strings.ContainsAny(s, " ±") {
		return s
	}
	return withUnit(s, u)
}

func plus(number string) string {
	if number == "0" || number == "" || number[0] == '-' {
		return number
	}
	return "+" + number
}

// causeText is a cause in words: "formula of mass, +0.025 kg (19 %), through area".
func causeText(f theme.FigureChange, c theme.Cause) string {
	s := map[string]string{
		theme.CauseFormula: "formula of ", theme.CauseFunction: "function ", theme.CauseTable: "table ", theme.CauseTogether: "together ",
	}[c.Kind] + c.Key()
	if c.Measured {
		s += fmt.Sprintf(", %s (%s %%)", withUnit(plus(c.Amount), f.DeltaUnit), c.Percent)
	}
	if len(c.Chain) > 2 {
		s += ", through " + strings.Join(c.Chain[1:len(c.Chain)-1], " → ")
	}
	if c.Ways > 1 {
		s += fmt.Sprintf(", %d ways", c.Ways)
	}
	return s
}

func lossText(l theme.SafetyLoss) string {
	s := strings.ToUpper(l.Signal) + " "
	switch {
	case l.Of == theme.LimitPlace:
		s += "limit " + l.Name
	case l.Step != "":
		s += "message on page " + l.Page + ", step " + l.Step
	default:
		s += "message on page " + l.Page
	}
	s += map[string]string{
		theme.LossSignal: ": the signal word is lower", theme.LossDropped: ": gone", theme.LossMessage: ": says nothing any more",
		theme.LossWider: ": leaves more room", theme.LossCondition: ": asks something else",
	}[l.Kind]
	switch {
	case l.Kind == theme.LossSignal && l.New == "":
		s += ": " + l.Old + ", now none"
	case l.New == "":
		s += ": " + l.Old
	default:
		s += ": " + l.Old + ", now " + l.New
	}
	if l.Why != "" {
		s += "; accepted: " + l.Why
	}
	return s
}

func limitSide(l *theme.LimitText) string {
	if l == nil {
		return "–"
	}
	s := l.Condition + ": " + l.State
	if l.Signal != "" {
		s = strings.ToUpper(l.Signal) + " " + s
	}
	return s
}

func limitWhat(l theme.LimitChange) string {
	if l.Kind != theme.Changed {
		return kindWord(l.Kind)
	}
	return strings.Join(l.What, ", ")
}

func kindWord(kind string) string {
	switch kind {
	case theme.Added:
		return "new"
	case theme.Removed:
		return "gone"
	}
	return "changed"
}

func amountText(a theme.Amount) string {
	if a.Shown != nil {
		return a.Shown.String()
	}
	return withUnit(a.Text, a.Unit)
}

func whyText(w theme.Why) string {
	before, now := w.Old, w.New
	has := func(a theme.Amount) bool { return a.Shown != nil || a.Text != "" }
	switch w.Kind {
	case theme.WhyNewPage, theme.WhyNewStep:
		return "a " + w.Kind
	case theme.WhyText:
		return "reads differently"
	case theme.WhyCaution:
		if !has(now) {
			return strings.ToUpper(w.Name) + " is gone: " + before.Text
		}
		return strings.ToUpper(w.Name) + ": " + now.Text
	case theme.WhyCheck:
		if !has(before) || !has(now) {
			return "check \"" + w.Name + "\""
		}
		return fmt.Sprintf("check %q expects %s, was %s", w.Name, checkText(now.Shown), checkText(before.Shown))
	case theme.WhyPart:
		switch {
		case !has(before):
			return "takes " + w.Name + ", " + amountText(now)
		case !has(now):
			return "no longer takes " + w.Name + ", " + amountText(before)
		}
	}
	return fmt.Sprintf("%s %s, was %s", w.Name, amountText(now), amountText(before))
}

// checkText is what a check expects, with the tolerance it allows.
func checkText(s *calc.Shown) string {
	switch {
	case s == nil:
		return "yes or no"
	case s.Plus != "" && s.Plus == s.Minus:
		return s.Number + " ± " + withUnit(s.Plus, s.Unit.Symbol)
	case s.Plus != "":
		return s.Number + " +" + s.Plus + " -" + withUnit(s.Minus, s.Unit.Symbol)
	}
	return s.String()
}

func partAmount(a theme.PartAmount) string {
	s := a.Name + " (" + a.ID + ")"
	switch {
	case a.Number != "" && a.Unit != "":
		s = withUnit(a.Number, a.Unit) + " of " + s
	case a.Number != "":
		s = a.Number + " × " + s
	case !a.Tool:
		s += ", number not computed"
	}
	if a.Spec != "" {
		s += ", " + a.Spec
	}
	if a.Other {
		s += "; another part of the same name"
	}
	return s
}

func againText(a theme.CheckAgain) string {
	switch a.Kind {
	case theme.Added:
		return a.What + ": new"
	case theme.Changed:
		return a.What + ": expects something else"
	}
	return a.What + ": its step is done again"
}

func tableText(t theme.TableChange) string {
	s := t.Name + ": " + kindWord(t.Kind)
	if t.Kind == theme.Changed {
		s += fmt.Sprintf(", %d rows new, %d gone", t.RowsAdded, t.RowsRemoved)
	}
	return s
}

func checkChange(k theme.CheckChange) string {
	s := k.What + ": " + kindWord(k.Kind)
	if k.Kind == theme.Changed && !k.Note {
		s = k.What + ": expects " + checkText(k.New) + ", was " + checkText(k.Old)
	}
	return s
}

func stepList(p theme.PageChange) string {
	var out []string
	for _, s := range p.Steps {
		t := s.Title
		if s.Kind != theme.Changed {
			t += " (" + kindWord(s.Kind) + ")"
		}
		out = append(out, t)
	}
	return strings.Join(out, "; ")
}

// A part of the comparison that is a list of lines.
type listed struct {
	title string
	lines []string
}

// lists are the parts of a comparison behind figures and limits.
func (c *compared) lists() []listed {
	var tables, checks, pages, parts, redo, buy, left, again []string
	for _, t := range c.Tables {
		tables = append(tables, tableText(t))
	}
	for _, k := range c.Checks {
		checks = append(checks, checkChange(k))
	}
	for _, p := range c.Parts {
		line := p.Name + " (" + p.ID + "): "
		switch p.Kind {
		case theme.Added:
			line += "new, " + p.New
		case theme.Removed:
			line += "gone, was " + p.Old
		default:
			line += p.New + ", was " + p.Old
		}
		parts = append(parts, line)
	}
	for _, p := range c.Pages {
		line := p.Title + ": " + kindWord(p.Kind)
		if s := stepList(p); s != "" {
			line += ": " + s
		}
		pages = append(pages, line)
	}
	for _, r := range c.Redo {
		var why []string
		for _, w := range r.Why {
			why = append(why, whyText(w))
		}
		redo = append(redo, r.PageTitle+", "+r.StepTitle+": "+strings.Join(why, "; "))
	}
	for _, a := range c.Buy {
		buy = append(buy, partAmount(a))
	}
	for _, a := range c.Left {
		left = append(left, partAmount(a))
	}
	for _, a := range c.Again {
		again = append(again, againText(a))
	}
	return []listed{
		{"tables", tables}, {"parts", parts}, {"checks", checks}, {"pages", pages},
		{"steps to do again", redo}, {"parts to get", buy}, {"parts left over", left}, {"checks to repeat", again},
	}
}

const howShared = "The share of a cause is the mean of what it moves the figure by over the orders in which the causes can be taken; the shares sum to the change."

func writeCompared(e env, c *compared) error {
	w := e.out
	fmt.Fprintf(w, "%s: %s compared with %s\n", c.machine, c.to, c.from)
	if c.Empty() {
		_, err := fmt.Fprintln(w, "nothing differs")
		return err
	}
	if len(c.Safety) > 0 {
		fmt.Fprintln(w, "\nwarns less than before")
		for _, l := range c.Safety {
			fmt.Fprintln(w, "  "+lossText(l))
		}
	}
	textFigures(w, "parameters", c.Figures, true)
	textFigures(w, "figures", c.Figures, false)
	if len(c.Limits) > 0 {
		fmt.Fprintln(w, "\nlimits")
		for _, l := range c.Limits {
			fmt.Fprintf(w, "  %s: %s\n", l.Name, limitWhat(l))
			if l.Old != nil {
				fmt.Fprintln(w, "    was "+limitSide(l.Old))
			}
			if l.New != nil {
				fmt.Fprintln(w, "    is  "+limitSide(l.New))
			}
		}
	}
	for _, l := range c.lists() {
		if len(l.lines) == 0 {
			continue
		}
		fmt.Fprintln(w, "\n"+l.title)
		for _, line := range l.lines {
			fmt.Fprintln(w, "  "+line)
		}
	}
	for _, f := range c.Figures {
		if f.Delta != "" {
			_, err := fmt.Fprintln(w, "\n"+howShared)
			return err
		}
	}
	return nil
}

func textFigures(w io.Writer, title string, list []theme.FigureChange, params bool) {
	first := true
	for _, f := range list {
		if f.Parameter != params {
			continue
		}
		if first {
			fmt.Fprintln(w, "\n"+title)
			first = false
		}
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		line := "  " + f.Name + "\t"
		switch f.Kind {
		case theme.Added:
			line += newText(f) + ", new"
		case theme.Removed:
			line += "gone, was " + oldText(f)
		default:
			line += oldText(f) + " → " + newText(f)
		}
		if f.Delta != "" {
			line += "  (" + withUnit(plus(f.Delta), f.DeltaUnit) + ")"
		}
		if f.Because != "" {
			line += "  because " + f.Because
		}
		fmt.Fprintln(t, line)
		t.Flush()
		for _, c := range f.Causes {
			fmt.Fprintln(w, "    "+causeText(f, c))
		}
	}
}
