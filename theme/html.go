package theme

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/content"
)

// htmlBlock and rawHTML write what of a page's own HTML may be published;
// nothing where the manual does not allow HTML.
func (r *pageWriter) htmlBlock(w util.BufWriter, src []byte, n ast.Node, entering bool) (status, error) {
	if entering && r.v.in.Manual.Config.HTML {
		block := n.(*ast.HTMLBlock)
		var b bytes.Buffer
		for i := range block.Lines().Len() {
			s := block.Lines().At(i)
			b.Write(s.Value(src))
		}
		if block.HasClosure() {
			b.Write(block.ClosureLine.Value(src))
		}
		w.Write(content.SafeHTML(b.Bytes()))
	}
	return ast.WalkSkipChildren, nil
}

func (r *pageWriter) rawHTML(w util.BufWriter, src []byte, n ast.Node, entering bool) (status, error) {
	if entering && r.v.in.Manual.Config.HTML {
		raw := n.(*ast.RawHTML)
		var b bytes.Buffer
		for i := range raw.Segments.Len() {
			s := raw.Segments.At(i)
			b.Write(s.Value(src))
		}
		w.Write(content.SafeHTML(b.Bytes()))
	}
	return ast.WalkSkipChildren, nil
}
