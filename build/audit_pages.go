package build

import (
	"bytes"
	"path"
	"regexp"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc/diag"
	"workings/content"
)

// More than this no page needs of one picture (common practice for pages that
// are read on a phone and printed on A4).
const (
	mostBytes  = 2 << 20
	mostPixels = 4000
)

// auditPictures reports pictures that make a page slow.
func auditPictures(r *Release, list *diag.List) {
	told := map[string]bool{}
	for _, p := range r.Manual.Pages {
		_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			img, ok := n.(*ast.Image)
			if !ok || !entering {
				return ast.WalkContinue, nil
			}
			name := path.Join("pages", string(img.Destination))
			pic := r.Manual.Pictures[name]
			if pic == nil || told[name] {
				return ast.WalkContinue, nil
			}
			at := behind(p.File, img.Pos(), img.Destination)
			if len(pic.Data) > mostBytes {
				told[name] = true
				list.Warn(at, "large-picture", "%s has %.1f MiB, more than the %d MiB that a page needs of a picture", name, float64(len(pic.Data))/(1<<20), mostBytes>>20).
					Hint = "save it smaller, or as a JPEG"
			}
			if pic.Type != "image/svg+xml" && max(pic.Width, pic.Height) > mostPixels {
				told[name] = true
				list.Warn(at, "large-picture", "%s has %d × %d pixels, more than the %d that a page needs", name, pic.Width, pic.Height, mostPixels).
					Hint = "2000 pixels are enough for any screen and for paper"
			}
			return ast.WalkContinue, nil
		})
	}
}

// behind is the place of a text that stands somewhere behind a place.
func behind(f *diag.File, from int, text []byte) diag.Span {
	from = min(max(from, 0), len(f.Text))
	if i := bytes.Index(f.Text[from:], text); i >= 0 && len(text) > 0 {
		return diag.Span{File: f, Start: from + i, End: from + i + len(text)}
	}
	return diag.Span{File: f, Start: from, End: min(from+1, len(f.Text))}
}

var pageNumber = regexp.MustCompile(`(?:^|/)([0-9]+)[-_][^/]*$`)

// auditOrder reports pages whose place is left to chance, and pages that come
// before one that has to be done first.
func auditOrder(r *Release, list *diag.List) {
	pages := r.Manual.Pages
	if len(r.Manual.Config.Pages) == 0 && len(pages) > 1 {
		first := map[int]*content.Page{}
		for _, p := range pages {
			n := p.Data.Order
			if n == 0 {
				m := pageNumber.FindStringSubmatch(p.File.Name)
				if m == nil {
					list.Warn(diag.Span{File: p.File}, "page-order", "the page %s has no place in the order", p.ID).
						Hint = "begin its file's name with a number, as in 20-" + p.ID + ".md, or list the pages in manual.toml"
					continue
				}
				n, _ = strconv.Atoi(m[1])
			}
			if twin := first[n]; twin != nil {
				d := list.Warn(diag.Span{File: p.File}, "page-order", "the pages %s and %s have the same place in the order, %d", twin.ID, p.ID, n)
				d.Also = []diag.Note{{Span: diag.Span{File: twin.File}, Msg: "the other page"}}
				d.Hint = "give each page a number of its own, or list the pages in manual.toml"
				continue
			}
			first[n] = p
		}
	}
	place := map[string]int{}
	for i, p := range pages {
		place[p.ID] = i
	}
	for i, p := range pages {
		for _, id := range p.Data.Needs {
			if k, ok := place[id]; ok && k > i {
				list.Warn(needPlace(p, id), "page-order", "the page %s comes before the page %s that it needs", p.ID, id).
					Hint = "change the order of the pages, or what this one needs"
			}
		}
	}
}

// needPlace is where a page says that it needs another.
func needPlace(p *content.Page, id string) diag.Span {
	at := bytes.Index(p.File.Text, []byte("needs"))
	return behind(p.File, at, []byte(`"`+id+`"`))
}

// auditPanels reports safety messages that a reader meets too late: in a step,
// behind its parts, its instructions or its checks; else at the end of a page.
// (ANSI Z535.6 and IEC/IEEE 82079-1 want them before what they are about;
// both from memory.)
func auditPanels(r *Release, list *diag.List) {
	for _, p := range r.Manual.Pages {
		steps := map[*ast.Heading]*content.Step{}
		for _, s := range p.Steps {
			steps[s.Heading] = s
		}
		var step *content.Step
		var begun *diag.Span // where the step's work begins
		report := func(panel *content.Panel, where diag.Span) {
			d := list.Warn(panel.Pos, "late-caution", "this %s comes after what it warns of", strings.ToUpper(panel.Signal))
			d.Hint = "put it above the parts and the first instruction of its step"
			d.Also = []diag.Note{{Span: where, Msg: "the work begins here"}}
		}
		for n := p.Doc.FirstChild(); n != nil; n = n.NextSibling() {
			switch n := n.(type) {
			case *ast.Heading:
				if n.Level <= 2 {
					step, begun = steps[n], nil
				}
			case *content.UsesNode:
				if begun == nil && len(n.Uses) > 0 {
					begun = &n.Uses[0].Pos
				}
			case *content.MeasureNode:
				if begun == nil && len(n.Checks) > 0 {
					begun = &n.Checks[0].Pos
				}
			case *ast.List:
				if step != nil {
					itemPanels(p, n, report)
				}
				if begun == nil && n.IsOrdered() {
					at := behind(p.File, blockStart(n), nil)
					begun = &at
				}
			case *content.PanelNode:
				switch {
				case step != nil && begun != nil:
					report(n.Panel, *begun)
				case step == nil && n.NextSibling() == nil && hasText(p.Doc, n):
					d := list.Warn(n.Panel.Pos, "late-caution", "this %s comes at the end of the page, when all has been read", strings.ToUpper(n.Panel.Signal))
					d.Hint = "put it before what it warns of"
				}
			}
		}
	}
}

// itemPanels reports panels of a numbered list that stand behind the words of
// their item.
func itemPanels(p *content.Page, l *ast.List, report func(*content.Panel, diag.Span)) {
	if !l.IsOrdered() {
		return
	}
	for item := l.FirstChild(); item != nil; item = item.NextSibling() {
		for n := item.FirstChild(); n != nil; n = n.NextSibling() {
			if panel, ok := n.(*content.PanelNode); ok && n.PreviousSibling() != nil {
				if _, another := n.PreviousSibling().(*content.PanelNode); !another {
					report(panel.Panel, behind(p.File, blockStart(item.FirstChild()), nil))
				}
			}
		}
	}
}

// hasText reports whether a page says anything but headings and panels before
// a node.
func hasText(doc, until ast.Node) bool {
	for n := doc.FirstChild(); n != nil && n != until; n = n.NextSibling() {
		switch n.(type) {
		case *ast.Heading, *content.PanelNode:
		default:
			return true
		}
	}
	return false
}

// blockStart is where a block begins in its file, or -1.
func blockStart(n ast.Node) int {
	switch n := n.(type) {
	case *content.CalcNode:
		return n.At.Start
	case *content.PlotNode:
		return n.Plot.Pos.Start
	case *content.FilledNode:
		return n.At.Start
	case *content.UsesNode:
		if len(n.Uses) > 0 {
			return n.Uses[0].Pos.Start
		}
		return -1
	case *content.MeasureNode:
		if len(n.Checks) > 0 {
			return n.Checks[0].Pos.Start
		}
		return -1
	}
	if n.Pos() >= 0 {
		return n.Pos()
	}
	if n.Type() == ast.TypeBlock && n.Lines().Len() > 0 {
		return n.Lines().At(0).Start
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if c.Type() == ast.TypeBlock {
			return blockStart(c)
		}
	}
	return -1
}
