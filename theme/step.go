package theme

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/content"
)

// usesNode writes the parts and tools that a step takes, ruled at its side.
func (r *pageWriter) usesNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	v := r.v
	w.WriteString(`<ul class="uses" aria-label="` + esc(v.w.TakesParts) + "\">\n")
	for _, u := range n.(*content.UsesNode).Uses {
		class := ""
		if u.Tool {
			class = ` class="tool"`
		}
		w.WriteString("<li" + class + "><span class=\"qty\">" + r.useQuantity(u) + "</span><span class=\"what\">")
		name, spec := u.ID, template.HTML("")
		if u.Part != nil {
			name, spec = u.Part.Name, v.linked(u.Part.SpecificationParts, u.Part.Specification)
		}
		w.WriteString(`<a href="parts.html#` + esc(partID(u.ID)) + `">` + esc(name) + "</a>")
		if spec != "" {
			w.WriteString(` <span class="spec">` + string(spec) + "</span>")
		}
		if u.Note != "" {
			w.WriteString(` <span class="note">` + esc(u.Note) + "</span>")
		}
		w.WriteString("</span></li>\n")
	}
	w.WriteString("</ul>\n")
	return ast.WalkSkipChildren, nil
}

func partID(id string) string { return "part/" + id }

// useQuantity is "4 ×", a length, or the word for a tool. A quantity that is
// computed opens its derivation.
func (r *pageWriter) useQuantity(u *content.Use) string {
	v := r.v
	if u.Expr < 0 {
		return esc(v.w.ToolWord)
	}
	s := v.in.Result.Shown(u.Expr)
	if s == nil || s.Number == "" {
		return `<span class="missing">` + esc(v.w.NotAvailable) + "</span>"
	}
	text := v.shownText(s)
	if s.Expr != nil && !literal(s.Expr.X) {
		text = r.open(r.want(s, u.Expr), text)
	} else {
		text = setQuantity(text)
	}
	if s.Unit.IsNone() {
		text += nbsp + "×"
	}
	return text
}

// measureNode writes checks: what to measure, what it should read, with what,
// and room for the reading.
func (r *pageWriter) measureNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	w.WriteString(r.checkTable(n.(*content.MeasureNode).Checks))
	return ast.WalkSkipChildren, nil
}

func (r *pageWriter) checkTable(checks []*content.Check) string {
	if len(checks) == 0 {
		return ""
	}
	w := r.v.w
	var b strings.Builder
	b.WriteString("<table class=\"checks\">\n<thead><tr>")
	for _, h := range []string{w.Check, w.Expected, w.With, w.Reading} {
		b.WriteString(`<th scope="col">` + esc(h) + "</th>")
	}
	b.WriteString("</tr></thead>\n<tbody>\n")
	for _, c := range checks {
		r.checkRow(&b, c, false)
	}
	b.WriteString("</tbody></table>\n")
	return b.String()
}

// checkRow writes one check; on the check sheet with the place it is done at.
func (r *pageWriter) checkRow(b *strings.Builder, c *content.Check, sheet bool) {
	v := r.v
	id := checkID(c)
	fmt.Fprintf(b, `<tr id="%s"><td><b class="no">%s</b> <span id="%s-t">%s</span>`, esc(id), esc(c.Number), esc(id), esc(c.What))
	if c.Note != "" {
		b.WriteString(` <span class="note">` + esc(c.Note) + "</span>")
	}
	if sheet {
		p := v.placeOf(c.Page, c.Step)
		b.WriteString(` <a class="at" href="` + esc(p.Href) + `">` + esc(p.Text) + "</a>")
	}
	b.WriteString(`</td><td data-label="` + esc(v.w.Expected) + `">`)
	var s *calc.Shown
	if c.Expr >= 0 {
		s = v.in.Result.Shown(c.Expr)
		if sheet {
			b.WriteString(setQuantity(v.shownText(s)))
			if x := v.shownSpread(s); x != "" {
				b.WriteString(` <span class="spread">` + esc(x) + "</span>")
			}
		} else {
			b.WriteString(r.figure(c.Expr))
		}
	} else {
		b.WriteString(esc(v.w.YesNo))
	}
	b.WriteString(`</td><td data-label="` + esc(v.w.With) + `">` + esc(c.With) + `</td><td class="reading">`)
	b.WriteString(v.readingField(c, s))
	b.WriteString("</td></tr>\n")
}

// readingField is the place for a reading: a field on screen, a box on paper.
// Its limits are the printed ones, so that the judgement is the reader's own.
func (v *view) readingField(c *content.Check, s *calc.Shown) string {
	id := "r/" + c.ID
	if c.Expr < 0 {
		return fmt.Sprintf(`<label><input type="checkbox" class="tick" id="%s" data-keep="check|%s" aria-describedby="%s-t"> %s</label>`,
			esc(id), esc(c.ID), esc(checkID(c)), esc(v.w.Done))
	}
	if s == nil || s.Number == "" {
		return ""
	}
	unit := s.Unit.Display()
	low, high := checkLimits(s)
	limits := ""
	if low != "" {
		limits = fmt.Sprintf(` data-low="%s" data-high="%s"`, low, high)
	}
	label := fill(v.w.ReadingOf, "check", c.Number)
	if unit != "" {
		label += " " + v.w.In + " " + unit
	}
	return fmt.Sprintf(`<span class="entry"><input type="text" inputmode="decimal" autocomplete="off" id="%s" aria-label="%s" aria-describedby="%s-t" data-keep="check|%s"%s> <span class="unit" aria-hidden="true">%s</span></span> <span class="verdict" role="status"></span>`,
		esc(id), esc(label), esc(checkID(c)), esc(c.ID), limits, esc(unit))
}

// checkLimits gives the ends between which a reading is right, in the unit
// shown: the printed value with its printed tolerance, else the printed range.
func checkLimits(s *calc.Shown) (low, high string) {
	if s.Plus != "" || s.Minus != "" {
		n, err := strconv.ParseFloat(s.Number, 64)
		plus, err2 := parseOr0(s.Plus)
		minus, err3 := parseOr0(s.Minus)
		if err != nil || err2 != nil || err3 != nil {
			return "", ""
		}
		// Half a unit in the twelfth digit takes up the error of the sum, so
		// that a reading that equals the printed end is within.
		slack := 1e-12 * (math.Abs(n) + plus + minus)
		return plainFloat(n - minus - slack), plainFloat(n + plus + slack)
	}
	if s.Low != "" && s.High != "" {
		return s.Low, s.High
	}
	return "", ""
}

func parseOr0(s string) (float64, error) {
	if s == "" {
		return 0, nil
	}
	return strconv.ParseFloat(s, 64)
}

func plainFloat(x float64) string { return strconv.FormatFloat(x, 'g', 15, 64) }
