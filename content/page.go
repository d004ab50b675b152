package content

import (
	"bytes"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// A draft is a page while it is read. Pages are read at the same time, so a
// draft numbers its expressions from 0; Manual.take moves them to their place.
type draft struct {
	m     *Manual
	page  *Page
	path  string
	order int // the number in the file name, -1 without one
	base  int // number of its first expression in the manual
	list  diag.List

	blocks  []calc.Block
	exprs   []calc.Expr
	data    *tomlText // the page block
	step    *Step     // the step being read
	steps   map[*ast.Heading]*Step
	anchors map[string]diag.Span
	next    map[string]int // the number that an anchor of that name would get

	figures  []*FigureNode
	filled   []*FilledNode
	images   []*ast.Image
	swept    []*Plot
	pictures []pictureUse
	broken   bool // the file could not be read
	used     counts
	tags     map[ast.Node][]openTag // of HTML, by the block that they are in
}

// An exprForm is how an expression is shown and what it must be.
type exprForm struct {
	round  syntax.Round
	spread bool
	own    syntax.Spread
	want   calc.Want
}

// expr enters an expression of the page and returns its number.
func (d *draft) expr(x syntax.Expr, f exprForm) int {
	d.exprs = append(d.exprs, calc.Expr{X: x, Round: f.round, Spread: f.spread, Own: f.own, Want: f.want})
	return len(d.exprs) - 1
}

// read reads the page as far as it can be read without the other pages.
func (d *draft) read() {
	p := d.page
	d.steps = map[*ast.Heading]*Step{}
	d.anchors = map[string]diag.Span{}
	d.next = map[string]int{}
	p.File = d.m.readText(d.path, maxPage, &d.list)
	if p.File == nil {
		d.broken = true
		if p.File = d.m.file(d.path); p.File == nil {
			p.File = diag.NewFile(d.m.prefix+d.path, nil)
		}
		p.Doc = ast.NewDocument()
		p.Title = p.ID
		return
	}
	if !d.fewLines() {
		d.broken = true
		p.Doc = ast.NewDocument()
		p.Title = p.ID
		return
	}
	p.Doc = d.parse()

	// The tree is changed only after it has been walked: replacing a node
	// under the walk loses its siblings.
	var nodes []ast.Node
	_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n.(type) {
			case *ast.Heading, *ast.FencedCodeBlock, *ast.Blockquote, *ast.Image, *ast.Link, *ast.AutoLink,
				*ast.HTMLBlock, *ast.RawHTML, *FigureNode:
				nodes = append(nodes, n)
			}
		}
		return ast.WalkContinue, nil
	})
	isSteps := false
	for i, n := range nodes {
		if f, ok := n.(*ast.FencedCodeBlock); ok {
			switch word, _ := d.infoWord(f); word {
			case "page":
				d.readData(f)
				nodes[i] = nil
			case "uses", "measure":
				isSteps = true
			}
		}
	}
	if p.Data.Steps != nil {
		isSteps = *p.Data.Steps
	}
	p.Summary = p.Data.Summary
	for _, n := range nodes {
		switch n := n.(type) {
		case *ast.Heading:
			d.enterHeading(n, isSteps)
		case *ast.FencedCodeBlock:
			d.readFence(n)
		case *ast.Blockquote:
			d.readQuote(n)
		case *ast.Image:
			d.readImage(n)
		case *ast.Link, *ast.AutoLink:
			d.readLink(n)
		case *ast.HTMLBlock, *ast.RawHTML:
			d.readHTML(n)
		case *FigureNode:
			n.Expr = d.figure(n.Inline)
			d.figures = append(d.figures, n)
		}
	}
	d.finishHeadings(nodes)
	d.finishPanels()
	d.finishPlots()
	d.finishDrawings()
	for i := range d.exprs {
		d.exprs[i].Scope = p.Scope
	}
	d.finishHTML()
	d.list = few(d.list)
}

func (m *Manual) file(name string) *diag.File {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.Files[name]
}

// take enters the pages into the manual: their blocks, and their expressions
// with the numbers that they have in the manual.
func (m *Manual) take(drafts []*draft) {
	for _, d := range drafts {
		d.number(len(m.Exprs))
		m.Exprs = append(m.Exprs, d.exprs...)
		m.Blocks = append(m.Blocks, d.blocks...)
		m.Pages = append(m.Pages, d.page)
	}
	m.drafts = drafts
}

// number gives the expressions of a page the numbers that they have in the
// manual, from base on.
func (d *draft) number(base int) {
	p := d.page
	d.base = base
	for i := range d.exprs {
		p.Exprs = append(p.Exprs, base+i)
	}
	move := func(i *int) {
		if *i >= 0 {
			*i += base
		}
	}
	moveParts := func(parts []FilledPart) {
		for i := range parts {
			move(&parts[i].Expr)
		}
	}
	for _, n := range d.figures {
		move(&n.Expr)
	}
	for _, n := range d.filled {
		moveParts(n.Parts)
	}
	for _, img := range d.images {
		moveParts(p.Captions[img])
	}
	for _, u := range p.Uses {
		move(&u.Expr)
		if u.Cut != nil {
			move(&u.Cut.Pieces)
			move(&u.Cut.Each)
		}
	}
	for _, c := range p.Checks {
		move(&c.Expr)
	}
	for _, plot := range p.Plots {
		moveParts(plot.TitleParts)
		moveParts(plot.CaptionParts)
		for i := range plot.Lines {
			move(&plot.Lines[i].Expr)
		}
		for i := range plot.Marks {
			move(&plot.Marks[i].Expr)
		}
		for i := range plot.Bands {
			move(&plot.Bands[i].Low)
			move(&plot.Bands[i].High)
		}
		move(&plot.Against)
		move(&plot.From)
		move(&plot.To)
		move(&plot.Map)
	}
	for _, drawing := range p.Drawings {
		drawing.eachExpr(move)
	}
	// Titles of steps and of the page are those of their headings.
	for _, h := range p.Headings {
		moveParts(h.Parts)
	}
	for _, panel := range p.Panels {
		moveParts(panel.Parts)
	}
}

var htmlComment = regexp.MustCompile(`(?s)<!--.*?-->`)

// readHTML reports HTML, unless the manual allows it. A comment is no part of
// the page and is dropped.
func (d *draft) readHTML(n ast.Node) {
	src := d.page.File.Text
	var segs [][2]int
	switch n := n.(type) {
	case *ast.HTMLBlock:
		for i := range n.Lines().Len() {
			s := n.Lines().At(i)
			segs = append(segs, [2]int{s.Start, s.Stop})
		}
		if n.HasClosure() {
			segs = append(segs, [2]int{n.ClosureLine.Start, n.ClosureLine.Stop})
		}
	case *ast.RawHTML:
		for i := range n.Segments.Len() {
			s := n.Segments.At(i)
			segs = append(segs, [2]int{s.Start, s.Stop})
		}
	}
	if len(segs) == 0 {
		return
	}
	var text []byte
	for _, s := range segs {
		text = append(text, src[s[0]:s[1]]...)
	}
	text = bytes.TrimSpace(text)
	if len(bytes.TrimSpace(htmlComment.ReplaceAll(text, nil))) == 0 {
		n.Parent().RemoveChild(n.Parent(), n)
		return
	}
	if d.m.Config.HTML {
		d.checkHTML(n.Parent(), segs)
		return
	}
	if bytes.HasPrefix(text, []byte("</")) {
		return
	}
	at := d.span(segs[0][0], segs[0][1])
	trimmed := strings.TrimRight(at.Text(), " \n")
	at.End = at.Start + len(trimmed)
	d.list.Add(at, "html", "HTML is not allowed in pages").
		Hint = "say it in Markdown, or write &lt; for a < in the text"
}
