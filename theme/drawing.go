package theme

import (
	"math"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/content"
	"workings/theme/chart"
)

// drawingNode writes a drawing as a figure element: the drawing in two widths,
// of which the page shows the one that fits, its caption, and its places and
// sizes as a table to open, where each figure opens its derivation.
func (r *pageWriter) drawingNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	p := n.(*content.DrawingNode).Drawing
	v := r.v
	at := 1
	for i, d := range r.page.Drawings {
		if d == p {
			at = i + 1
		}
	}
	no := strconv.Itoa(v.sheet[r.page.ID]) + "." + strconv.Itoa(at)
	number, id := v.w.Drawing+nbsp+no, "drawing."+no // no heading makes a dot
	title := firstOf(v.fill(p.TitleParts, p.Title), number)
	w.WriteString(`<figure class="plotted drawn" id="` + esc(id) + `">`)
	scene, list := p.Scene(v.in.Result.Shown)
	if len(list) > 0 || len(scene.Shapes) == 0 {
		// What is wrong has been reported; the page says so too.
		w.WriteString(`<p class="missing">` + esc(v.w.NotAvailable) + "</p>")
	} else {
		desc := v.sceneText(scene)
		for _, width := range []chart.Width{chart.Wide, chart.Narrow} {
			w.WriteString(newDrafter(v, scene, width).svg(id, title, desc))
		}
	}
	w.WriteString("<figcaption><b>" + esc(number) + "</b> ")
	if p.Title != "" {
		w.WriteString(r.filled(p.TitleParts, p.Title))
		if p.Caption != "" {
			w.WriteString(". ")
		}
	}
	w.WriteString(r.filled(p.CaptionParts, p.Caption) + "</figcaption></figure>\n")
	if len(list) == 0 {
		w.WriteString(r.sceneTable(scene, title))
	}
	return ast.WalkSkipChildren, nil
}

// sceneText says in words how large the drawing is and what it states.
func (v *view) sceneText(s *content.Scene) string {
	parts := []string{fill(v.w.DrawnSize, "x", v.millimetres(s.Max.X-s.Min.X), "y", v.millimetres(s.Max.Y-s.Min.Y))}
	for _, x := range s.Shapes {
		if !x.First {
			continue
		}
		text := strings.TrimSpace(v.featureText(x) + " " + v.figureAt(x))
		if x.Line.Word != "label" && (x.Line.Value >= 0 || x.Line.Label != "") {
			parts = append(parts, text+".")
		}
	}
	return strings.Join(parts, " ")
}

// featureText names a shape: by its label, else by what it is.
func (v *view) featureText(x *content.Shape) string {
	return firstOf(v.fill(x.Line.Parts, x.Line.Label), v.w.shape(x.Line.Word))
}

// figureAt is the figure of a shape as it stands at its leader; "" if it has none.
func (v *view) figureAt(x *content.Shape) string {
	before, value := v.figureParts(x)
	return before + value
}

// figureParts gives the sign before a figure and the figure: "4 × Ø ", "6.6 mm".
func (v *view) figureParts(x *content.Shape) (before, value string) {
	if x.Line.Value < 0 {
		return "", ""
	}
	if x.Count > 1 {
		before = strconv.Itoa(x.Count) + nbsp + "×" + nbsp
	}
	switch x.Line.Word {
	case "circle":
		before += "Ø" + nbsp
	case "arc", "rectangle":
		before += "R" + nbsp
	case "belt":
		before += v.w.BeltLength + " "
	}
	return before, v.shownText(v.in.Result.Shown(x.Line.Value))
}

// millimetres writes a place or size of a drawing to a hundredth of a millimetre.
func (v *view) millimetres(si float64) string { return v.quantity(hundredths(si), millimetre) }

func hundredths(si float64) string {
	s := strconv.FormatFloat(millimetre.FromSI(si), 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// tableShapes is how many shapes of one line the table lists one by one.
const tableShapes = 60

// sceneTable lists the dimensions, then the shapes with their places.
func (r *pageWriter) sceneTable(s *content.Scene, title string) string {
	v := r.v
	var b strings.Builder
	name := v.w.DrawnNumbers
	b.WriteString("<details class=\"numbers\"><summary>" + esc(name) + "</summary><div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"" +
		esc(name+": "+title) + "\"><table class=\"plain\"><thead><tr><th scope=\"col\">" + esc(v.w.Feature) + "</th>")
	for _, h := range []string{"x" + nbsp + v.w.In + nbsp + "mm", "y" + nbsp + v.w.In + nbsp + "mm", v.w.Size} {
		b.WriteString(`<th scope="col" class="right">` + esc(h) + "</th>")
	}
	b.WriteString("</tr></thead><tbody>\n")
	row := func(what string, at *content.Vec, size string) {
		x, y := "–", "–"
		if at != nil {
			x, y = v.number(hundredths(at.X)), v.number(hundredths(at.Y))
		}
		b.WriteString("<tr><td>" + what + `</td><td class="right">` + x + `</td><td class="right">` + y + `</td><td class="right">` + size + "</td></tr>\n")
	}
	value := func(x *content.Shape) string {
		before, _ := v.figureParts(x)
		return esc(before) + r.figure(x.Line.Value)
	}
	what := func(x *content.Shape) string {
		if x.Line.Label == "" {
			return esc(v.w.shape(x.Line.Word))
		}
		return r.filled(x.Line.Parts, x.Line.Label)
	}
	for _, x := range s.Shapes {
		if x.Line.Word == "dimension" {
			row(what(x), nil, value(x))
		}
	}
	for _, x := range s.Shapes {
		if x.Line.Kind == "centre" || x.Line.Kind == "thin" || !x.First && x.Count > tableShapes {
			continue
		}
		size := ""
		switch x.Line.Word {
		case "circle":
			size = "Ø" + nbsp + esc(v.millimetres(x.W))
		case "rectangle", "slot", "polygon", "path":
			size = esc(v.number(hundredths(x.W)) + " × " + v.millimetres(x.H))
		case "arc":
			size = "R" + nbsp + esc(v.millimetres(x.Radius))
		case "line":
			size = esc(v.millimetres(x.W))
		case "belt":
			size = esc(v.number(hundredths(x.W)) + " × " + v.millimetres(x.H))
		case "note":
		default:
			continue
		}
		if x.First && x.Line.Value >= 0 {
			if x.Line.Word == "circle" || x.Line.Word == "arc" {
				size = value(x)
			} else {
				size += ", " + value(x)
			}
		}
		at := x.At
		row(what(x), &at, size)
	}
	b.WriteString("</tbody></table></div><p>" + esc(v.w.DrawnAfter) + "</p></details>\n")
	return b.String()
}

// niceLength is the longest of 1, 2 or 5 times a power of ten mm that is no
// longer than most, in m.
func niceLength(most float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(most*1e3)))
	for _, k := range []float64{5, 2, 1} {
		if k*p <= most*1e3 {
			return k * p * 1e-3
		}
	}
	return p * 1e-3
}
