package prose

import (
	"bytes"
	"cmp"
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"

	"workings/content"
)

// A Piece is a stretch of a page that is read in one go: a paragraph, a
// heading, a cell of a table, the alternative text of a picture or a caption.
type Piece struct {
	Kind string // "text", "heading", "cell", "alternative text" or "caption"
	Text string
	read []byte // what Text will be
	runs []run
}

// A run is a stretch of a text whose place in the file is known.
type run struct {
	start int // in the text
	at    int // in the file
	n     int // bytes of the file that all of it stands for; 0: it is the file's own, byte by byte
}

// Place gives the stretch of the file behind a stretch of the text.
func (p *Piece) Place(start, end int) (from, to int) {
	from, _ = p.byteAt(start)
	_, to = p.byteAt(end - 1)
	return from, to
}

// byteAt gives the bytes of the file that a byte of the text stands for.
func (p *Piece) byteAt(i int) (from, to int) {
	k, found := slices.BinarySearchFunc(p.runs, i, func(r run, i int) int { return cmp.Compare(r.start, i) })
	if !found {
		k--
	}
	r := p.runs[k]
	if r.n > 0 {
		return r.at, r.at + r.n
	}
	from = r.at + i - r.start
	return from, from + 1
}

// add appends text that lies at a place of the file, byte by byte.
func (p *Piece) add(text []byte, at int) { p.append(string(text), run{at: at}) }

// put appends text that stands for n bytes at a place of the file.
func (p *Piece) put(text string, at, n int) { p.append(text, run{at: at, n: n}) }

func (p *Piece) append(text string, r run) {
	if text == "" {
		return
	}
	r.start = len(p.read)
	p.read, p.runs = append(p.read, text...), append(p.runs, r)
}

func (p *Piece) mask(at int) { p.put(string(Masked), at, 1) }

// Pieces cuts a page into what is read as prose, in the order of their places.
func Pieces(page *content.Page) []*Piece {
	c := &cutter{src: page.File.Text}
	_ = ast.Walk(page.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		kind := ""
		switch n := n.(type) {
		case *ast.Paragraph, *ast.TextBlock:
			kind = "text"
		case *ast.Heading:
			kind = "heading"
		case *extast.TableCell:
			kind = "cell"
		case *content.PlotNode:
			c.captions(n.Plot.Pos.Start, n.Plot.Title, n.Plot.Caption)
			return ast.WalkSkipChildren, nil
		case *content.DrawingNode:
			c.captions(n.Drawing.Pos.Start, n.Drawing.Title, n.Drawing.Caption)
			for _, l := range n.Drawing.Lines {
				c.captions(l.Pos.Start, l.Label)
			}
			return ast.WalkSkipChildren, nil
		}
		if kind == "" {
			return ast.WalkContinue, nil
		}
		p := &Piece{Kind: kind}
		c.pieces = append(c.pieces, p)
		c.inline(p, n)
		return ast.WalkSkipChildren, nil
	})
	var out []*Piece
	for _, p := range c.pieces {
		p.Text, p.read = string(p.read), nil
		if strings.TrimSpace(p.Text) != "" {
			out = append(out, p)
		}
	}
	return out
}

type cutter struct {
	src    []byte
	pieces []*Piece
}

// inline reads the running text below a node.
func (c *cutter) inline(p *Piece, n ast.Node) {
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		at := max(k.Pos(), 0)
		switch k := k.(type) {
		case *ast.Text:
			c.text(p, k)
		case *content.FigureNode:
			p.mask(k.At.Start)
		case *ast.Image:
			p.mask(at)
			c.image(k)
		case *ast.CodeSpan, *ast.Link, *ast.AutoLink, *ast.RawHTML, *extast.FootnoteLink, *extast.TaskCheckBox:
			p.mask(at)
		default:
			c.inline(p, k)
		}
	}
}

func (c *cutter) text(p *Piece, t *ast.Text) {
	seg := t.Segment
	raw := c.src[seg.Start:seg.Stop]
	for i := 0; i < len(raw); {
		switch {
		case raw[i] == '\\' && !t.IsRaw() && i+1 < len(raw) && util.IsPunct(raw[i+1]):
			i++
			p.add(raw[i:i+1], seg.Start+i)
			i++
			continue
		case raw[i] == '&' && !t.IsRaw():
			if n := bytes.IndexByte(raw[i:], ';'); n > 0 && n < 12 {
				ref := raw[i : i+n+1]
				if sign := util.ResolveEntityNames(util.ResolveNumericReferences(ref)); !bytes.Equal(sign, ref) {
					p.put(string(sign), seg.Start+i, n+1)
					i += n + 1
					continue
				}
			}
		}
		n := bytes.IndexAny(raw[i+1:], `\&`) + 1
		if n == 0 {
			n = len(raw) - i
		}
		p.add(raw[i:i+n], seg.Start+i)
		i += n
	}
	if t.SoftLineBreak() || t.HardLineBreak() {
		p.put(" ", seg.Stop, 1)
	}
}

// image reads the alternative text and the caption of a picture.
func (c *cutter) image(n *ast.Image) {
	p := &Piece{Kind: "alternative text"}
	c.pieces = append(c.pieces, p)
	c.inline(p, n)
	if len(n.Title) > 0 {
		c.caption(string(n.Title), max(n.Pos(), 0))
	}
}

// captions reads the texts of a plot or drawing that stand behind a place.
func (c *cutter) captions(from int, texts ...string) {
	for _, s := range texts {
		if s != "" {
			c.caption(s, from)
		}
	}
}

var figure = regexp.MustCompile(`\{=[^}]*\}`)

// MaskFigures puts signs that nothing is read across in the place of inline
// figures. Places in the text stay.
func MaskFigures(text string) string {
	return figure.ReplaceAllStringFunc(text, func(s string) string { return strings.Repeat("_", len(s)) })
}

// caption reads a text that stands somewhere behind a place. One that is
// written with escapes is found by its beginning.
func (c *cutter) caption(text string, from int) {
	i := bytes.Index(c.src[from:], []byte(text))
	if i < 0 {
		return
	}
	p := &Piece{Kind: "caption"}
	p.add([]byte(MaskFigures(text)), from+i)
	c.pieces = append(c.pieces, p)
}
