package build

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/content"
)

// auditSilent reports limits that tell nobody when they are broken.
func auditSilent(r *Release, list *diag.List) {
	for _, l := range r.Result.Limits() {
		if l.Stmt != nil && l.Stmt.Message == nil {
			list.Warn(l.Stmt.Name.Pos, "silent-limit", "the limit %s has no message: where it is broken, no reader is told", l.Name).
				Hint = `say what to do, and how grave it is: else caution "…"`
		}
	}
}

// auditUnused reports figures that nothing needs, and parameters that are
// named only by such.
func auditUnused(r *Release, list *diag.List) {
	used := usedFigures(r)
	for _, f := range r.Result.Figures() {
		if used[f] || f.Parent != nil || f.Pos.File == nil {
			continue
		}
		switch {
		case len(f.UsedBy) == 0 && !fieldsUsed(r.Result, f):
			list.Warn(f.Pos, "unused-figure", "%s is not used: no page shows it, and no limit, plot, part or check needs it", f.Name).
				Hint = "show it where a reader needs it, or take out its line"
		case f.Parameter:
			var by []string
			for _, u := range f.UsedBy {
				by = append(by, u.Name)
			}
			if len(by) > 3 {
				by = append(by[:3], "…")
			}
			list.Warn(f.Pos, "idle-parameter", "%s moves nothing: it is used by %s, which nothing needs", f.Name, strings.Join(by, ", ")).
				Hint = "show what comes of it, or take out its line"
		}
	}
}

// fieldsUsed reports whether other lines name a field of a record, needed or not.
func fieldsUsed(r *calc.Result, record *calc.Figure) bool {
	for _, f := range r.Figures() {
		if f.Parent == record && len(f.UsedBy) > 0 {
			return true
		}
	}
	return false
}

// usedFigures are those that a reader meets on a page, that limits, second
// ways, plots, parts and checks name, and all that these are computed from.
func usedFigures(r *Release) map[*calc.Figure]bool {
	used := map[*calc.Figure]bool{}
	var mark func(f *calc.Figure)
	var tables func(x syntax.Expr, block string)
	mark = func(f *calc.Figure) {
		if f == nil || used[f] {
			return
		}
		used[f] = true
		mark(f.Parent)
		for _, u := range f.Uses {
			mark(u)
		}
		if f.Def != nil {
			tables(f.Def.X, f.Block)
		}
		if f.Func != nil {
			tables(f.Func.X, f.Block)
		}
	}
	// A column, lamps.power, is no figure: what names it uses the table.
	tables = func(x syntax.Expr, block string) {
		if x == nil {
			return
		}
		syntax.Walk(x, func(e syntax.Expr) bool {
			if n, ok := e.(*syntax.Name); ok {
				f := r.Result.Figure(block + "." + n.Name)
				if f == nil {
					f = r.Result.Figure(n.Name)
				}
				if f != nil && f.Type.Kind == calc.Table {
					mark(f)
				}
			}
			return true
		})
	}
	shown := func(s *calc.Shown) {
		if s == nil {
			return
		}
		if s.Expr != nil {
			tables(s.Expr.X, s.Expr.Scope)
		}
		mark(s.Figure)
		for _, u := range s.Uses {
			mark(u)
		}
	}
	for _, f := range r.Result.Figures() {
		if len(f.Shown) > 0 {
			mark(f)
		}
	}
	for _, i := range r.Manual.Exprs {
		tables(i.X, i.Scope)
	}
	for _, l := range r.Result.Limits() {
		if l.Stmt != nil {
			tables(l.Stmt.Cond, l.Block)
		}
		for _, u := range l.Uses {
			mark(u)
		}
		for _, m := range l.Message {
			shown(m.Shown)
		}
	}
	for _, c := range r.Result.CrossChecks() {
		mark(c.Figure)
		shown(c.Second)
	}
	in := map[*diag.File][]*calc.Figure{}
	for _, f := range r.Result.Figures() {
		in[f.Pos.File] = append(in[f.Pos.File], f)
	}
	for _, p := range r.Manual.Pages {
		for _, plot := range p.Plots {
			mark(r.Result.Figure(plot.Param))
		}
		for _, at := range visibleLines(p) {
			for _, f := range in[at.File] {
				if at.Start <= f.Pos.Start && f.Pos.Start < at.End {
					mark(f)
				}
			}
		}
	}
	return used
}

// visibleLines are the lines of calc blocks that a page shows.
func visibleLines(p *content.Page) []diag.Span {
	var out []diag.Span
	_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if c, ok := n.(*content.CalcNode); ok && entering && c.Mode != "hidden" && c.Sheet != nil {
			for _, s := range c.Sheet.Stmts {
				out = append(out, s.Span())
			}
		}
		return ast.WalkContinue, nil
	})
	return out
}
