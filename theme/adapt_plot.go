package theme

import (
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/content"
)

func plotCSS() string { return "" }

func (r *pageWriter) plotNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		p := n.(*content.PlotNode).Plot
		w.WriteString("<p>plot " + esc(p.Title) + "</p>\n")
	}
	return ast.WalkSkipChildren, nil
}
