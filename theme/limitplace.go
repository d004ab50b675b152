package theme

import (
	"strconv"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/syntax"
	"workings/content"
)

// limitPlace is where a limit is written: the page that holds its block, or
// the design sheet (no address). A limit that holds, in a block that is not
// shown, has no place of its own on its page.
func (v *view) limitPlace(l *calc.Limit) place {
	p := v.blockOn[l.Block]
	if l.Block == "" || p == nil {
		return place{"", v.w.DesignSheet}
	}
	href := p.ID + ".html"
	if l.Verdict == calc.Broken || !hidden(p, l.Stmt) {
		href += "#" + limitID(l)
	}
	return place{href, v.w.Sheet + nbsp + strconv.Itoa(v.sheet[p.ID])}
}

// hidden reports whether a page's line stands in a block that is not shown.
func hidden(p *content.Page, line *syntax.Limit) bool {
	found := false
	if p.Doc == nil {
		return false
	}
	_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if c, ok := n.(*content.CalcNode); ok && entering && c.Mode == "hidden" && c.Sheet != nil {
			for _, s := range c.Sheet.Stmts {
				found = found || s == syntax.Stmt(line)
			}
		}
		return ast.WalkContinue, nil
	})
	return found
}
