package theme

import (
	"html/template"

	"workings/calc/model"
	"workings/calc/syntax"
)

func (v *view) formula(name *syntax.Ident, x syntax.Expr) template.HTML {
	s := esc(x.Span().Text())
	if name != nil {
		s = esc(name.Name) + " = " + s
	}
	return template.HTML(`<code>` + s + `</code>`)
}

func (v *view) substituted(name *syntax.Ident, x syntax.Expr) template.HTML { return "" }

func (v *view) function(f *syntax.FuncDef) template.HTML {
	return template.HTML("<code>" + esc(f.Name.Name+"(…) = "+f.X.Span().Text()) + "</code>")
}

func (v *view) symbol(name string) template.HTML {
	return template.HTML("<code>" + esc(name) + "</code>")
}

func (v *view) modelLine(s *model.Spec, line string) template.HTML {
	return template.HTML("<code>" + esc(line) + "</code>")
}
