package theme

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/calc/unit"
	"workings/content"
	"workings/theme/chart"
)

// plotNode writes a plot as a figure element: the drawing in two widths, of which
// the page shows the one that fits, its caption with a number, and its numbers
// as a table to open.
func (r *pageWriter) plotNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	p := n.(*content.PlotNode).Plot
	r.plots++
	v := r.v
	number := v.w.Plot + nbsp + strconv.Itoa(v.sheet[r.page.ID]) + "." + strconv.Itoa(r.plots)
	// The ids in a drawing are XML names: no slash. No heading makes a dot.
	id := "plot." + strconv.Itoa(v.sheet[r.page.ID]) + "." + strconv.Itoa(r.plots)
	w.WriteString(`<figure class="plotted" id="` + esc(id) + `">`)
	title := firstOf(v.fill(p.TitleParts, p.Title), number)
	svg, table, err := v.plot(p, id, title)
	if err != nil {
		// What cannot be drawn has been reported as a finding; the page says so too.
		w.WriteString(`<p class="missing">` + esc(v.w.NotAvailable) + ": " + esc(err.Error()) + "</p>")
	}
	w.WriteString(svg)
	w.WriteString("<figcaption><b>" + esc(number) + "</b> ")
	if p.Title != "" {
		w.WriteString(r.filled(p.TitleParts, p.Title))
		if p.Caption != "" {
			w.WriteString(". ")
		}
	}
	w.WriteString(r.filled(p.CaptionParts, p.Caption) + "</figcaption></figure>\n")
	w.WriteString(table)
	return ast.WalkSkipChildren, nil
}

// plot draws a plot in both widths and gives its numbers as a table. It stands
// on its page and in the whole manual, and is computed once.
func (v *view) plot(p *content.Plot, id, title string) (svg, table string, err error) {
	type drawn struct {
		svg, table string
		err        error
	}
	draw, _ := v.plots.LoadOrStore(p, sync.OnceValue(func() (d drawn) {
		d.svg, d.table, d.err = v.draw(p, id, title)
		return d
	}))
	d := draw.(func() drawn)()
	return d.svg, d.table, d.err
}

func (v *view) draw(p *content.Plot, id, title string) (svg, table string, err error) {
	if p.Map >= 0 {
		return v.drawMap(p, id, title)
	}
	c, err := v.chart(p, id, title)
	if err != nil {
		return "", "", err
	}
	var b bytes.Buffer
	for _, width := range []chart.Width{chart.Wide, chart.Narrow} {
		if err := chart.Lines(&b, c, v.chartOptions(width)); err != nil {
			return "", "", err
		}
	}
	head, rows := chart.Table(c, v.chartOptions(chart.Wide))
	return b.String(), v.numbers(title, head, rows), nil
}

func (v *view) chartOptions(w chart.Width) chart.Options {
	return chart.Options{Decimal: v.sign(), Width: w}
}

// numbers is the table behind a plot.
func (v *view) numbers(title string, head []string, rows [][]string) string {
	if len(rows) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("<details class=\"numbers\"><summary>" + esc(v.w.Numbers) + "</summary><div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"" +
		esc(v.w.Numbers+": "+title) + "\"><table class=\"plain\"><thead><tr>")
	for _, h := range head {
		b.WriteString(`<th scope="col" class="right">` + esc(h) + "</th>")
	}
	b.WriteString("</tr></thead><tbody>\n")
	for _, row := range rows {
		b.WriteString("<tr>")
		for _, c := range row {
			b.WriteString(`<td class="right">` + esc(c) + "</td>")
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody></table></div></details>\n")
	return b.String()
}

// chart gathers the lines of a plot: swept over a parameter, or over a list.
func (v *view) chart(p *content.Plot, id, title string) (*chart.Chart, error) {
	res := v.in.Result
	c := &chart.Chart{ID: id, Title: title}
	against := res.Shown(p.Against)
	if against == nil {
		return nil, fmt.Errorf("the quantity it is drawn against")
	}
	xu := against.Unit
	c.X = chart.Axis{Label: p.AgainstLabel, Unit: xu.Display()}
	var at []float64 // SI
	var swept [][]float64
	exprs := make([]int, len(p.Lines))
	for i, l := range p.Lines {
		exprs[i] = l.Expr
	}
	if p.Param != "" {
		from, to := number(res.Shown(p.From)), number(res.Shown(p.To))
		if math.IsNaN(from) || math.IsNaN(to) {
			return nil, fmt.Errorf("its range")
		}
		at = make([]float64, content.PlotPoints)
		for i := range at {
			at[i] = from + (to-from)*float64(i)/float64(len(at)-1)
		}
		swept, _ = res.Sweep(p.Param, at, exprs)
		c.X.Min, c.X.Max = xu.FromSI(from), xu.FromSI(to)
		if f := res.Figure(p.Param); f != nil {
			if own, ok := f.Value.(float64); ok && own >= math.Min(from, to) && own <= math.Max(from, to) {
				c.Own = &chart.VMark{Label: v.w.ThisRelease, X: xu.FromSI(own)}
			}
		}
	} else {
		at, _ = against.Value.([]float64)
		for _, i := range exprs {
			var y []float64
			if s := res.Shown(i); s != nil {
				y, _ = s.Value.([]float64)
			}
			swept = append(swept, y)
		}
	}
	if len(at) == 0 || len(swept) != len(p.Lines) {
		return nil, fmt.Errorf("its values")
	}
	var yu unit.Unit
	for i, l := range p.Lines {
		s := res.Shown(l.Expr)
		if s == nil {
			continue
		}
		if i == 0 {
			yu = s.Unit
		}
		line := chart.Line{Label: l.Label}
		for j := range min(len(at), len(swept[i])) {
			line.X = append(line.X, xu.FromSI(at[j]))
			line.Y = append(line.Y, yu.FromSI(swept[i][j]))
		}
		c.Lines = append(c.Lines, line)
	}
	c.Y = chart.Axis{Unit: yu.Display()}
	if len(p.Lines) == 1 {
		c.Y.Label = p.Lines[0].Label
	}
	for _, m := range p.Marks {
		if y := number(res.Shown(m.Expr)); !math.IsNaN(y) {
			c.Marks = append(c.Marks, chart.Mark{Label: m.Label, Y: yu.FromSI(y)})
		}
	}
	for _, b := range p.Bands {
		low, high := number(res.Shown(b.Low)), number(res.Shown(b.High))
		if !math.IsNaN(low) && !math.IsNaN(high) {
			c.Bands = append(c.Bands, chart.Band{Label: b.Label, Low: yu.FromSI(low), High: yu.FromSI(high)})
		}
	}
	c.Desc = v.describe(c, yu, xu)
	return c, nil
}

// describe says in words where each line begins and ends, and what is marked.
func (v *view) describe(c *chart.Chart, yu, xu unit.Unit) string {
	at := func(x float64, u unit.Unit) string { return v.quantity(displayNumber(u.ToSI(x), u), u) }
	var parts []string
	for _, l := range c.Lines {
		first, last := -1, -1
		for i := range l.X {
			if math.IsNaN(l.Y[i]) || math.IsInf(l.Y[i], 0) {
				continue
			}
			if first < 0 {
				first = i
			}
			last = i
		}
		if first < 0 {
			continue
		}
		parts = append(parts, fill(v.w.LineRuns, "line", firstOf(l.Label, c.Title), "y0", at(l.Y[first], yu), "x0", at(l.X[first], xu),
			"y1", at(l.Y[last], yu), "x1", at(l.X[last], xu)))
	}
	for _, m := range c.Marks {
		parts = append(parts, firstOf(m.Label, v.w.Limit)+": "+at(m.Y, yu)+".")
	}
	return strings.Join(parts, " ")
}

// number is the value of an expression in SI, NaN if it has none.
func number(s *calc.Shown) float64 {
	if s == nil {
		return math.NaN()
	}
	if x, ok := s.Value.(float64); ok {
		return x
	}
	return math.NaN()
}
