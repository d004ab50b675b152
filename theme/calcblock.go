package theme

import (
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/calc/syntax"
	"workings/content"
)

// calcNode writes a calc block as a calculation sheet, ruled as design offices
// rule it: reference, calculation, output. Broken limits follow with their
// messages.
func (r *pageWriter) calcNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	c := n.(*content.CalcNode)
	if c.Sheet != nil {
		r.calcBlock(w, c)
	}
	return ast.WalkSkipChildren, nil
}

func (r *pageWriter) calcBlock(out util.BufWriter, c *content.CalcNode) {
	rows := newHTML()
	defer rows.drop()
	var panels strings.Builder
	for i, s := range c.Sheet.Stmts {
		if c.Mode != "hidden" {
			r.calcRow(rows, c, i, s)
		}
		if l, ok := s.(*syntax.Limit); ok {
			if lim := r.v.limitOf(l); lim != nil && lim.Verdict == calc.Broken {
				panels.WriteString(r.limitPanel(lim, c.Mode == "hidden"))
			}
		}
	}
	if rows.Len() > 0 {
		w := r.v.w
		put(out, `<table class="calc`, modeClass(c.Mode), "\">\n<caption><b>", esc(firstOf(c.Title, c.Name)), "</b>")
		if c.Title != "" && c.Name != "" {
			put(out, ` <span class="block">`, esc(c.Name), "</span>")
		}
		put(out, "</caption>\n<thead><tr>")
		for _, h := range []string{w.Reference, w.Calculation, w.Output} {
			put(out, `<th scope="col">`, esc(h), "</th>")
		}
		put(out, "</tr></thead>\n<tbody>\n")
		out.Write(rows.Bytes())
		put(out, "</tbody></table>\n")
	}
	out.WriteString(panels.String())
}

func modeClass(mode string) string {
	if mode == "" {
		return ""
	}
	return " " + mode
}

// calcRow writes one line of a sheet.
func (r *pageWriter) calcRow(b *htmlWriter, c *content.CalcNode, i int, s syntax.Stmt) {
	v := r.v
	switch s := s.(type) {
	case *syntax.Remark:
		if c.Mode == "results" {
			return
		}
		if i > 0 {
			if _, ok := c.Sheet.Stmts[i-1].(*syntax.Remark); ok {
				return // taken into the row of the first
			}
		}
		var text []string
		for _, next := range c.Sheet.Stmts[i:] {
			rem, ok := next.(*syntax.Remark)
			if !ok {
				break
			}
			text = append(text, rem.Text)
		}
		b.put(`<tr class="remark"><th colspan="3" scope="rowgroup">`, esc(strings.Join(text, " ")), "</th></tr>\n")
	case *syntax.FuncDef:
		if c.Mode != "results" {
			row(b, "", reference(s.Caption, s.From), string(v.function(s)), "")
		}
	case *syntax.Def:
		f := v.figureOf(c.Name, s.Name.Name)
		if f == nil {
			row(b, "missing", reference(s.Caption, s.From), esc(s.Name.Name), esc(v.w.NotAvailable))
			return
		}
		if fields := v.fields(f); len(fields) > 0 {
			if c.Mode != "results" {
				row(b, "record", r.modelReference(s, f), r.recordLines(s, f), "")
			}
			used, rest := v.usedFields(fields)
			for _, fld := range used {
				row(b, "field", reference(fld.Caption, nil), string(v.symbol(fld.Local)), r.output(fld))
			}
			if len(rest) > 0 && c.Mode != "results" {
				b.put(`<tr class="rest"><td colspan="3"><a class="via" href="`, escHref(v.workingsFile(r.page)+"#"+r.wantFigure(f)), `">`,
					esc(v.w.Count(len(rest), v.w.ResultOne, v.w.ResultMany)), "</a></td></tr>\n")
			}
			return
		}
		middle := ""
		if c.Mode == "results" {
			middle = string(v.symbol(s.Name.Name))
		} else {
			middle = r.lines(s, f)
		}
		row(b, "", reference(s.Caption, s.From), middle, r.output(f))
	case *syntax.Limit:
		l := v.limitOf(s)
		if l == nil {
			return
		}
		b.put(`<tr class="limit" id="`, esc(limitID(l)), `"><td><span class="kind">`, esc(v.w.Limit), "</span> ",
			reference(firstOf(s.Caption, s.Name.Name), s.From), `</td><td><div class="line">`, string(v.formula(nil, s.Cond)), "</div>")
		if sides := v.sides(l); sides != "" && l.Known() {
			b.put(`<div class="line put">`, esc(sides), "</div>")
		}
		b.put(`</td><td>`, v.stateHTML(l), "</td></tr>\n")
	case *syntax.CrossCheck:
		for _, cc := range v.in.Result.CrossChecks() {
			if cc.Stmt != s || !cc.Known {
				continue
			}
			state, class := v.w.Agrees, "held"
			if !cc.Agrees {
				state, class = v.w.Disagrees, "broken"
			}
			name := ""
			if cc.Figure != nil {
				name = cc.Figure.Local
			}
			middle := `<div class="line">` + string(v.symbol(name)) + " ≈ " + string(v.formula(nil, s.X)) + "</div>" +
				`<div class="line put">` + esc(v.shownText(cc.Second)) + "</div>"
			ref := `<span class="kind">` + esc(v.w.SecondWay) + "</span> " + reference(s.Caption, s.From)
			row(b, "cross", ref, middle, `<span class="`+class+`">`+esc(state+" · "+v.percent(cc.Off))+"</span>")
		}
	}
}

// usedFields parts the results of a model into those that something names and
// the others. Where nothing is named, all count as used.
func (v *view) usedFields(fields []*calc.Figure) (used, rest []*calc.Figure) {
	for _, f := range fields {
		if len(f.UsedBy) > 0 || len(f.Shown) > 0 || v.judged[f.Name] {
			used = append(used, f)
		} else {
			rest = append(rest, f)
		}
	}
	if len(used) == 0 {
		return rest, nil
	}
	return used, rest
}

// modelOnly gives the call of a model that is the whole of a line, or nil.
func (v *view) modelOnly(s *syntax.Def) *calc.ModelCall {
	if s == nil {
		return nil
	}
	if call, ok := s.X.(*syntax.Call); ok {
		return v.in.Result.Call(call)
	}
	return nil
}

// modelReference is the left column of a line that calls a model.
func (r *pageWriter) modelReference(s *syntax.Def, f *calc.Figure) string {
	mc := r.v.modelOnly(s)
	if mc == nil {
		return reference(s.Caption, s.From)
	}
	ref := reference(s.Caption, s.From)
	if ref != "" {
		ref += "<br>"
	}
	return ref + `<a class="via" href="methods.html#m/` + esc(mc.Spec.Name) + `">` + esc(mc.Spec.Title) + "</a>"
}

// recordLines is the middle column of a line that gives a record: for a model,
// its arguments, each with what was given and its value.
func (r *pageWriter) recordLines(s *syntax.Def, f *calc.Figure) string {
	v := r.v
	mc := v.modelOnly(s)
	if mc == nil {
		return r.lines(s, f)
	}
	var b strings.Builder
	b.WriteString(`<div class="line call">` + string(v.symbol(s.Name.Name)) + ` = <span class="name">` + esc(mc.Spec.Name) + `</span></div><ul class="args">`)
	for _, a := range mc.Args {
		b.WriteString("<li><b>" + esc(strings.ReplaceAll(a.Name, "_", " ")) + "</b> <span>")
		b.WriteString(string(v.formula(nil, a.X)))
		if !literal(a.X) {
			b.WriteString(" <i>= " + esc(v.argText(a)) + "</i>")
		}
		b.WriteString("</span></li>")
	}
	b.WriteString("</ul>")
	return b.String()
}

// argText is the value of an argument: as its figure is printed, where it is one.
func (v *view) argText(a calc.ModelArg) string {
	if a.X != nil {
		if f := v.in.Result.Ref(a.X); f != nil {
			return v.figureText(f)
		}
	}
	return v.valueText(a.Value, a.Unit)
}

func row(b *htmlWriter, class, ref, middle, out string) {
	if class != "" {
		class = ` class="` + class + `"`
	}
	b.put("<tr", class, "><td>", ref, "</td><td>", middle, "</td><td>", out, "</td></tr>\n")
}

// reference is the left column: what it is, and where it comes from.
func reference(caption string, from *syntax.Text) string {
	s := esc(caption)
	if from != nil && from.Value != "" {
		if s != "" {
			s += "<br>"
		}
		s += `<span class="from">` + esc(from.Value) + "</span>"
	}
	return s
}

// lines is the middle column: the formula, and under it the values put in.
func (r *pageWriter) lines(s *syntax.Def, f *calc.Figure) string {
	v := r.v
	return v.cached("l "+f.Name, func() string {
		out := `<div class="line">` + string(v.formula(&s.Name, s.X)) + "</div>"
		if !literal(s.X) && f.Value != nil {
			if put := v.substituted(&s.Name, s.X, v.printed(f), nil); put != "" {
				out += `<div class="line put">` + string(put) + "</div>"
			}
		}
		return out
	})
}

// output is the right column: the value, which opens its derivation.
func (r *pageWriter) output(f *calc.Figure) string {
	if f.Func != nil {
		return ""
	}
	if f.Value == nil {
		return `<span class="missing">` + esc(r.v.w.NotAvailable) + "</span>"
	}
	text := r.v.figureText(f)
	out := r.open(r.wantFigure(f), text)
	if utf8.RuneCountInString(text) > 18 {
		return `<span class="long">` + out + "</span>" // may be broken, that the formula keeps its place
	}
	return out
}

func (v *view) figureOf(block, local string) *calc.Figure {
	if block != "" {
		local = block + "." + local
	}
	return v.in.Result.Figure(local)
}

// fields gives the fields of a record, which follow it among the figures.
func (v *view) fields(f *calc.Figure) []*calc.Figure {
	return v.children[f.Name]
}

func (v *view) limitOf(s *syntax.Limit) *calc.Limit {
	return v.byStmt[s]
}
