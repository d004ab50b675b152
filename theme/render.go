package theme

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"workings/calc"
	"workings/content"
)

// A pageWriter renders the tree of one page. It is made for one page and
// thrown away.
type pageWriter struct {
	v         *view
	page      *content.Page
	src       []byte
	titleNode *ast.Heading
	step      *content.Step // the step being written
	inSection bool
	steps     map[*ast.Heading]*content.Step
	headings  map[*ast.Heading]*content.Heading

	wanted map[string]bool // ids of derivations shown on this sheet
	toOpen []shownWorkings // the same, in the order of their first mention
	inText map[string]bool // figures that the page's text shows
	inStep []*calc.Figure  // figures that the step being written has shown so far
	whole  bool            // the page is part of the whole manual on one sheet
	plots  int
	inLink int
	tables int
}

func newPageWriter(v *view, p *content.Page, whole bool) *pageWriter {
	r := &pageWriter{whole: whole, v: v, page: p, src: p.File.Text, wanted: map[string]bool{}, inText: map[string]bool{},
		steps: map[*ast.Heading]*content.Step{}, headings: map[*ast.Heading]*content.Heading{}}
	for _, s := range p.Steps {
		r.steps[s.Heading] = s
	}
	for _, h := range p.Headings {
		r.headings[h.Node] = h
	}
	for _, i := range p.Exprs {
		if s := v.in.Result.Shown(i); s != nil && s.Figure != nil {
			r.inText[s.Figure.Name] = true
		}
	}
	return r
}

// A markdown renders the trees of pages, one after the other: the page that is
// being written is put in.
type markdown struct {
	page *pageWriter
	r    renderer.Renderer
}

// markdowns are kept from page to page.
var markdowns = sync.Pool{New: func() any {
	m := &markdown{}
	prefix := func(ast.Node) []byte { return []byte(m.page.id("")) }
	m.r = renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(m, 100),
		util.Prioritized(extension.NewStrikethroughHTMLRenderer(), 500),
		util.Prioritized(extension.NewFootnoteHTMLRenderer(extension.WithFootnoteIDPrefixFunction(prefix), extension.WithFootnoteBacklinkHTML("&#x21a9;&#xfe0e;")), 500),
		util.Prioritized(gmhtml.NewRenderer(), 1000),
	))
	return m
}}

// RegisterFuncs names the nodes that the theme renders itself.
func (m *markdown) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	// any order: each kind of node has its own place in the register
	for kind, write := range map[ast.NodeKind]func(*pageWriter, util.BufWriter, []byte, ast.Node, bool) (status, error){
		ast.KindDocument:        (*pageWriter).document,
		ast.KindHeading:         (*pageWriter).heading,
		ast.KindParagraph:       (*pageWriter).paragraph,
		ast.KindLink:            (*pageWriter).link,
		ast.KindImage:           (*pageWriter).image,
		ast.KindFencedCodeBlock: (*pageWriter).fenced,
		ast.KindCodeBlock:       (*pageWriter).codeBlock,
		ast.KindHTMLBlock:       (*pageWriter).htmlBlock,
		ast.KindRawHTML:         (*pageWriter).rawHTML,
		extast.KindTable:        (*pageWriter).table,
		extast.KindTableHeader:  (*pageWriter).tableHead,
		extast.KindTableRow:     (*pageWriter).tableRow,
		extast.KindTableCell:    (*pageWriter).tableCell,
		extast.KindTaskCheckBox: (*pageWriter).taskBox,
		content.KindFigure:      (*pageWriter).figureNode,
		content.KindCalc:        (*pageWriter).calcNode,
		content.KindPlot:        (*pageWriter).plotNode,
		content.KindDrawing:     (*pageWriter).drawingNode,
		content.KindUses:        (*pageWriter).usesNode,
		content.KindMeasure:     (*pageWriter).measureNode,
		content.KindPanel:       (*pageWriter).panelNode,
		content.KindFilled:      (*pageWriter).filledNode,
	} {
		reg.Register(kind, func(w util.BufWriter, src []byte, n ast.Node, entering bool) (status, error) {
			return write(m.page, w, src, n, entering)
		})
	}
}

// id is an id of the page's own, told apart from those of other pages where
// all stand on one sheet. A slash never comes from a heading.
func (r *pageWriter) id(id string) string {
	if r.whole {
		return r.page.ID + "/" + id
	}
	return id
}

// pageHref leads to a page, or to a place on it.
func (r *pageWriter) pageHref(p *content.Page, anchor string) string {
	switch {
	case r.whole && anchor == "":
		return "#" + p.ID + "/"
	case r.whole:
		return "#" + p.ID + "/" + anchor
	case anchor == "":
		return p.ID + ".html"
	}
	return p.ID + ".html#" + anchor
}

// children renders what a node holds, without the node.
func (r *pageWriter) children(n ast.Node) (string, error) {
	var list []ast.Node
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		list = append(list, c)
	}
	b, err := r.render(list...)
	if err != nil {
		return "", err
	}
	return b.take(), nil
}

// render renders nodes, one after the other.
func (r *pageWriter) render(nodes ...ast.Node) (*htmlWriter, error) {
	m := markdowns.Get().(*markdown)
	defer markdowns.Put(m)
	m.page = r
	b := newHTML()
	for _, n := range nodes {
		if err := m.r.Render(b, r.src, n); err != nil {
			b.drop()
			return nil, fmt.Errorf("page %s: %w", r.page.ID, err)
		}
	}
	return b, nil
}

type status = ast.WalkStatus

func (r *pageWriter) document(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (status, error) {
	if !entering {
		r.closeSection(w)
	}
	return ast.WalkContinue, nil
}

func (r *pageWriter) closeSection(w util.BufWriter) {
	if r.inSection {
		if report := r.v.reportHref(strconv.Itoa(r.v.sheet[r.page.ID])+" "+r.v.title(r.page), r.page, r.step, r.inStep); report != "" && r.step != nil {
			w.WriteString(`<p class="report"><a href="` + esc(report) + `">` + esc(r.v.w.ReportStep) + "</a></p>\n")
		}
		w.WriteString("</section>\n")
		r.inSection = false
	}
	r.step, r.inStep = nil, nil
}

// heading opens a section for each step: a balloon with its number, as parts
// are called out on a drawing.
func (r *pageWriter) heading(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	h := n.(*ast.Heading)
	if h == r.titleNode {
		return ast.WalkSkipChildren, nil
	}
	level := max(2, h.Level)
	if r.whole {
		level = min(6, level+1)
	}
	tag := "h" + strconv.Itoa(level)
	s := r.steps[h]
	if !entering {
		w.WriteString("</" + tag + ">\n")
		return ast.WalkContinue, nil
	}
	id := ""
	if k := r.headings[h]; k != nil {
		id = k.ID
	}
	if s != nil {
		r.closeSection(w)
		r.inSection, r.step = true, s
		n := strconv.Itoa(s.Number)
		fmt.Fprintf(w, "<section class=\"step\" id=\"%s\" aria-labelledby=\"%s/h\">\n<%s class=\"stephead\" id=\"%s/h\"><span class=\"balloon\"><span class=\"sr\">%s </span>%s</span> ",
			esc(r.id(s.ID)), esc(r.id(s.ID)), tag, esc(r.id(s.ID)), esc(r.v.w.Step), n)
		return ast.WalkContinue, nil
	}
	if h.Level <= 2 {
		r.closeSection(w)
	}
	w.WriteString("<" + tag)
	if id != "" {
		w.WriteString(` id="` + esc(r.id(id)) + `"`)
	}
	w.WriteString(">")
	return ast.WalkContinue, nil
}

// paragraph makes a picture that stands alone a figure element with its caption.
func (r *pageWriter) paragraph(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if img, ok := n.FirstChild().(*ast.Image); ok && img.NextSibling() == nil {
		if entering {
			w.WriteString("<figure class=\"picture\">")
			return ast.WalkContinue, nil
		}
		if c := r.caption(img); c != "" {
			w.WriteString("<figcaption>" + c + "</figcaption>")
		}
		w.WriteString("</figure>\n")
		return ast.WalkContinue, nil
	}
	if entering {
		w.WriteString("<p>")
	} else {
		w.WriteString("</p>\n")
	}
	return ast.WalkContinue, nil
}

// caption is the title of a picture, its figures open.
func (r *pageWriter) caption(img *ast.Image) string {
	return r.filled(r.page.Captions[img], string(img.Title))
}

// filled is a text whose figures open their derivations.
func (r *pageWriter) filled(parts []content.FilledPart, plain string) string {
	if len(parts) == 0 {
		return esc(plain)
	}
	var b strings.Builder
	for _, p := range parts {
		if p.Expr < 0 {
			b.WriteString(esc(p.Text))
		} else {
			b.WriteString(r.figure(p.Expr))
		}
	}
	return b.String()
}

func (r *pageWriter) link(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		r.inLink--
		w.WriteString("</a>")
		return ast.WalkContinue, nil
	}
	r.inLink++
	node := n.(*ast.Link)
	w.WriteString(`<a href="` + esc(r.href(node)) + `"`)
	if len(node.Title) > 0 {
		w.WriteString(` title="` + esc(string(node.Title)) + `"`)
	}
	w.WriteString(">")
	return ast.WalkContinue, nil
}

// href is the address of a link from a sheet of the release.
func (r *pageWriter) href(n *ast.Link) string {
	dest := string(n.Destination)
	if l := r.v.links[n]; l != nil {
		switch {
		case l.Page != nil && l.Page == r.page && l.Anchor != "":
			return "#" + r.id(l.Anchor)
		case l.Page != nil:
			return r.pageHref(l.Page, l.Anchor)
		case l.Anchor != "" && strings.HasPrefix(dest, "#"):
			return "#" + r.id(l.Anchor)
		}
	}
	if _, p := r.v.picture(dest); p != dest {
		return p
	}
	if gmhtml.IsDangerousURL(n.Destination) {
		return ""
	}
	return string(util.URLEscape(n.Destination, true))
}

func (r *pageWriter) image(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	img := n.(*ast.Image)
	pic, src := r.v.picture(string(img.Destination))
	if gmhtml.IsDangerousURL(img.Destination) {
		src = ""
	}
	w.WriteString(`<img src="` + esc(src) + `" alt="` + esc(r.plain(n)) + `"`)
	if pic != nil && pic.Width > 0 && pic.Height > 0 {
		fmt.Fprintf(w, ` width="%d" height="%d"`, pic.Width, pic.Height)
	}
	w.WriteString(` loading="lazy">`)
	return ast.WalkSkipChildren, nil
}

// plain is the text of a node without marks, figures as their values.
func (r *pageWriter) plain(n ast.Node) string {
	var b strings.Builder
	r.plainTo(&b, n)
	return b.String()
}

func (r *pageWriter) plainTo(b *strings.Builder, n ast.Node) {
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch x := c.(type) {
		case *ast.Text:
			b.Write(x.Segment.Value(r.src))
			if x.SoftLineBreak() || x.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(x.Value)
		case *content.FigureNode:
			b.WriteString(r.v.shownText(r.v.in.Result.Shown(x.Expr)))
		}
		return ast.WalkContinue, nil
	})
}

// figureNode writes an inline figure.
func (r *pageWriter) figureNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		w.WriteString(r.figure(n.(*content.FigureNode).Expr))
	}
	return ast.WalkSkipChildren, nil
}

// figure writes the value of an expression as a link to its derivation. Within
// a link or a cell that is itself a target it is plain text.
func (r *pageWriter) figure(expr int) string {
	s := r.v.in.Result.Shown(expr)
	if s == nil || s.Number == "" && s.Text == "" && s.Value == nil {
		return `<span class="missing">` + esc(r.v.w.NotAvailable) + `</span>`
	}
	text := r.v.shownText(s)
	extra := ""
	if s.Expr != nil && s.Expr.Spread || s.Expr != nil && hasOwnSpread(s) {
		if x := r.v.shownSpread(s); x != "" {
			extra = ` <span class="spread">` + esc(x) + `</span>`
		}
	}
	if r.inLink > 0 {
		return setQuantity(text) + extra
	}
	return r.open(r.want(s, expr), text) + extra
}

// open writes a figure that leads to a derivation with this page.
func (r *pageWriter) open(id, text string) string {
	return figLink(r.v.workingsFile(r.page)+"#"+id, text)
}

func hasOwnSpread(s *calc.Shown) bool {
	o := s.Expr.Own
	return o.Tol != nil || o.Unc != nil || o.Range != nil
}

// want notes that a derivation is shown on this page and returns its id.
func (r *pageWriter) want(s *calc.Shown, expr int) string {
	if s.Figure != nil {
		return r.wantFigure(s.Figure)
	}
	id := "w/" + strconv.Itoa(expr)
	if !r.wanted[id] {
		r.wanted[id] = true
		r.toOpen = append(r.toOpen, shownWorkings{id: id, value: s})
	}
	return id
}

// A shownWorkings is a derivation that a sheet shows: of a figure, or of an
// expression that stands on a page.
type shownWorkings struct {
	id     string
	value  *calc.Shown
	figure *calc.Figure
}

// record is the figure that a result of a model is one of, or nil.
func (s shownWorkings) record() *calc.Figure {
	if s.figure == nil || s.figure.Def != nil {
		return nil
	}
	return s.figure.Parent
}

// wantFigure notes the derivation of a figure, and with a result of a model
// that only stands in a calculation that of its record.
func (r *pageWriter) wantFigure(f *calc.Figure) string {
	if r.step != nil && !slices.Contains(r.inStep, f) {
		r.inStep = append(r.inStep, f)
	}
	id := workingsID(f)
	if r.wanted[id] {
		return id
	}
	r.wanted[id] = true
	s := shownWorkings{id: id, figure: f}
	r.toOpen = append(r.toOpen, s)
	if record := s.record(); record != nil && !r.inText[f.Name] {
		r.wantFigure(record)
	}
	return id
}

// Tables

func (r *pageWriter) table(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		r.tables++
		fmt.Fprintf(w, "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"%s\"><table class=\"plain\">\n", esc(r.v.w.TableWord+" "+strconv.Itoa(r.tables)))
		return ast.WalkContinue, nil
	}
	if n.ChildCount() > 1 {
		w.WriteString("</tbody>\n")
	}
	w.WriteString("</table></div>\n")
	return ast.WalkContinue, nil
}

func (r *pageWriter) tableHead(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		w.WriteString("<thead><tr>")
		return ast.WalkContinue, nil
	}
	w.WriteString("</tr></thead>\n")
	if n.NextSibling() != nil {
		w.WriteString("<tbody>\n")
	}
	return ast.WalkContinue, nil
}

func (r *pageWriter) tableRow(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (status, error) {
	if entering {
		w.WriteString("<tr>")
	} else {
		w.WriteString("</tr>\n")
	}
	return ast.WalkContinue, nil
}

func (r *pageWriter) tableCell(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	c := n.(*extast.TableCell)
	_, head := c.Parent().(*extast.TableHeader)
	tag := "td"
	if head && c.HasChildren() { // an empty corner heads nothing
		tag = "th"
	}
	if !entering {
		w.WriteString("</" + tag + ">")
		return ast.WalkContinue, nil
	}
	w.WriteString("<" + tag)
	if tag == "th" {
		w.WriteString(` scope="col"`)
	}
	switch c.Alignment {
	case extast.AlignRight:
		w.WriteString(` class="right"`)
	case extast.AlignCenter:
		w.WriteString(` class="centre"`)
	}
	w.WriteString(">")
	return ast.WalkContinue, nil
}

func (r *pageWriter) taskBox(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		label := "?"
		if p := n.Parent(); p != nil {
			label = strings.TrimSpace(r.plain(p))
		}
		w.WriteString(`<input type="checkbox" class="tick" aria-label="` + esc(label) + `"`)
		if n.(*extast.TaskCheckBox).IsChecked {
			w.WriteString(` checked`)
		}
		w.WriteString("> ")
	}
	return ast.WalkContinue, nil
}
