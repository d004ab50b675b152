package build

import (
	"sort"
	"strings"

	"workings/calc/unit"
	"workings/content"
	"workings/theme"
)

// pages lists the pages that came, went or were rewritten, and collects the
// steps that a builder of the earlier release must do again.
func (c *comparison) pages() []theme.PageChange {
	old := map[string]*content.Page{}
	for _, p := range c.old.Manual.Pages {
		old[p.ID] = p
	}
	var out []theme.PageChange
	kept := map[string]bool{}
	for _, p := range c.new.Manual.Pages {
		kept[p.ID] = true
		before := old[p.ID]
		if before == nil {
			out = append(out, theme.PageChange{ID: p.ID, Title: p.Title, Kind: theme.Added})
			c.redoAdded(p)
			continue
		}
		steps := c.redoChanged(before, p)
		if words(string(before.File.Text)) != words(string(p.File.Text)) {
			out = append(out, theme.PageChange{ID: p.ID, Title: p.Title, Kind: theme.Changed, Steps: steps})
		}
	}
	for _, p := range c.old.Manual.Pages {
		if !kept[p.ID] {
			out = append(out, theme.PageChange{ID: p.ID, Title: p.Title, Kind: theme.Removed})
		}
	}
	return out
}

func (c *comparison) redoAdded(p *content.Page) {
	for _, s := range p.Steps {
		c.again(p, s, "a new page")
	}
}

func (c *comparison) again(p *content.Page, s *content.Step, why string) {
	c.redo = append(c.redo, theme.Redo{Page: p.ID, PageTitle: p.Title, Step: s.ID, StepTitle: s.Title, Why: why})
}

// redoChanged compares the steps of a page and returns the titles of those
// whose text differs. A step is done again where its text or one of the
// numbers that it gives is not what it was.
func (c *comparison) redoChanged(before, now *content.Page) (rewritten []string) {
	old := map[string]*content.Step{}
	for _, s := range before.Steps {
		old[s.ID] = s
	}
	for i, s := range now.Steps {
		was := old[s.ID]
		switch moved := c.movedIn(now, i); {
		case was == nil:
			rewritten = append(rewritten, s.Title)
			c.again(now, s, "a new step")
		case words(stepText(before, was)) != words(stepText(now, s)):
			rewritten = append(rewritten, s.Title)
			c.again(now, s, strings.Join(append([]string{"rewritten"}, moved...), "; "))
		case len(moved) > 0:
			c.again(now, s, strings.Join(moved, "; "))
		}
	}
	return rewritten
}

// stepText is the source of a step: from its heading to the next step's.
func stepText(p *content.Page, s *content.Step) string {
	for i, q := range p.Steps {
		if q == s {
			start, end := stepSpan(p, i)
			return string(p.File.Text[start:end])
		}
	}
	return ""
}

func stepSpan(p *content.Page, i int) (start, end int) {
	start, end = p.Steps[i].Pos.Start, len(p.File.Text)
	if i+1 < len(p.Steps) {
		end = p.Steps[i+1].Pos.Start
	}
	return min(start, end), end
}

// movedIn names the figures that a step gives and that are not what they
// were, with both values.
func (c *comparison) movedIn(p *content.Page, i int) []string {
	start, end := stepSpan(p, i)
	inside := func(off int) bool { return off >= start && off < end }
	names := map[string]bool{}
	for _, e := range p.Exprs {
		s := c.new.Result.Shown(e)
		if s == nil || !inside(c.new.Manual.Exprs[e].X.Span().Start) {
			continue
		}
		if s.Figure != nil {
			names[s.Figure.Name] = true
			continue
		}
		for _, f := range s.Uses {
			names[f.Name] = true
		}
	}
	for _, f := range c.new.Result.Figures() {
		if f.Block != "" && f.Pos.File == p.File && inside(f.Pos.Start) {
			names[f.Name] = true
		}
	}
	var out []string
	for n := range names {
		if ch := c.moved[n]; ch != nil {
			out = append(out, changeText(ch))
		}
	}
	sort.Strings(out)
	return out
}

// changeText is a change on one line: "area 384.0 cm², was 352.0 cm²".
func changeText(ch *theme.FigureChange) string {
	with := func(v, u string) string {
		if u == "" {
			return v
		}
		return v + " " + unit.Unit{Symbol: u}.Display()
	}
	oldUnit := ch.Unit
	if ch.OldUnit != "" {
		oldUnit = ch.OldUnit
	}
	switch ch.Kind {
	case theme.Added:
		return ch.Name + " " + with(ch.New, ch.Unit) + ", new"
	case theme.Removed:
		return ch.Name + " is gone, was " + with(ch.Old, oldUnit)
	}
	return ch.Name + " " + with(ch.New, ch.Unit) + ", was " + with(ch.Old, oldUnit)
}
