package content

import (
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// Extensions returns what pages may use beyond CommonMark; whoever renders
// them needs the same.
func Extensions() []goldmark.Extender {
	return []goldmark.Extender{extension.Table, extension.Strikethrough, extension.TaskList, extension.Footnote}
}

// markdown parses every page. It keeps nothing of a page, so pages can be
// parsed at the same time; what belongs to a page travels in the context.
var markdown = newMarkdown()

func newMarkdown() goldmark.Markdown {
	return goldmark.New(
		goldmark.WithParser(parser.NewParser(
			parser.WithBlockParsers(blockParsers()...),
			parser.WithInlineParsers(parser.DefaultInlineParsers()...),
			parser.WithParagraphTransformers(parser.DefaultParagraphTransformers()...),
		)),
		goldmark.WithExtensions(extension.Table, extension.Strikethrough, extension.TaskList),
		goldmark.WithParserOptions(
			parser.WithAttribute(),
			parser.WithInlineParsers(
				util.Prioritized(marks{}, 0), // before all others
				util.Prioritized(extension.NewFootnoteParser(), 101),
				// Before links (200) and emphasis (500), after code spans (100).
				util.Prioritized(figureParser{}, 150),
			),
			// Before definitions of links (100) and tables (200).
			parser.WithParagraphTransformers(util.Prioritized(paragraphs{}, 50)),
			parser.WithASTTransformers(util.Prioritized(extension.NewFootnoteASTTransformer(), 999)),
		),
	)
}

var draftKey = parser.NewContextKey()

// parse gives the tree of a page.
func (d *draft) parse() ast.Node {
	pc := parser.NewContext()
	pc.Set(draftKey, d)
	return markdown.Parser().Parse(text.NewReader(d.page.File.Text), parser.WithContext(pc))
}

// figureParser parses inline figures, {= … }.
type figureParser struct{}

func (figureParser) Trigger() []byte { return []byte{'{'} }

func (figureParser) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, seg := block.PeekLine()
	if len(line) < 2 || line[1] != '=' || seg.Padding != 0 {
		return nil
	}
	d, _ := pc.Get(draftKey).(*draft)
	if d == nil {
		return nil
	}
	end := figureEnd(line)
	if end < 0 {
		d.list.Add(d.span(seg.Start, seg.Start+2), "open-figure", "this figure is not closed on its line").
			Hint = `close it with }, or write \{= for the signs themselves`
		return nil
	}
	at := d.span(seg.Start, seg.Start+end)
	_, table := parent.(*extast.TableCell)
	inline := d.inline(at.Start+2, at.End-1, table)
	if inline == nil {
		return nil
	}
	block.Advance(end)
	n := &FigureNode{Expr: -1, Inline: inline, At: at}
	n.SetPos(at.Start)
	return n
}

// figureEnd returns the length of the figure that begins b with "{=", or -1 if
// it does not end on the line. Braces and quotes inside are skipped.
func figureEnd(b []byte) int {
	depth := 0
	for i := 0; i < len(b); i++ {
		switch b[i] {
		case '\n':
			return -1
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return i + 1
			}
		case '"':
			for i++; i < len(b) && b[i] != '"'; i++ {
				if b[i] == '\n' {
					return -1
				}
				if b[i] == '\\' {
					i++
				}
			}
		}
	}
	return -1
}

// inline parses what stands between {= and }. In a table a | has to be written
// \|, since tables are cut into cells first; the backslash is not part of it.
func (d *draft) inline(start, end int, table bool) *syntax.Inline {
	src := d.page.File.Text
	var segs []syntax.Seg
	from := start
	if table {
		for i := start; i+1 < end; i++ {
			if src[i] == '\\' && src[i+1] == '|' {
				segs = append(segs, syntax.Seg{Start: from, End: i})
				from = i + 1
			}
		}
	}
	segs = append(segs, syntax.Seg{Start: from, End: end})
	in, errs := syntax.ParseInline(d.page.File, segs)
	d.list = append(d.list, errs...)
	if errs.HasErrors() || in == nil || in.X == nil {
		return nil
	}
	return in
}

// figure enters an inline figure among the page's expressions.
func (d *draft) figure(in *syntax.Inline) int {
	return d.expr(in.X, exprForm{round: in.Round, spread: in.Spread})
}

// fill cuts a stretch of the page into text and figures. A backslash before {=
// makes it plain text.
func (d *draft) fill(start, end int) []FilledPart {
	src := d.page.File.Text
	var parts []FilledPart
	var plain []byte
	flush := func() {
		if len(plain) > 0 {
			parts = append(parts, FilledPart{Text: string(plain), Expr: -1})
			plain = nil
		}
	}
	for i := start; i < end; {
		switch {
		case src[i] == '\\' && i+2 < end && src[i+1] == '{' && src[i+2] == '=':
			plain = append(plain, "{="...)
			i += 3
		case src[i] == '{' && i+1 < end && src[i+1] == '=':
			n := figureEnd(src[i:end])
			if n < 0 {
				d.list.Add(d.span(i, i+2), "open-figure", "this figure is not closed on its line").
					Hint = `close it with }, or write \{= for the signs themselves`
				plain = append(plain, "{="...)
				i += 2
				continue
			}
			if in := d.inline(i+2, i+n-1, false); in != nil {
				flush()
				parts = append(parts, FilledPart{Text: string(src[i : i+n]), Expr: d.figure(in)})
			} else {
				plain = append(plain, src[i:i+n]...)
			}
			i += n
		default:
			plain = append(plain, src[i])
			i++
		}
	}
	flush()
	return parts
}

// hasFigure reports whether any part is a figure.
func hasFigure(parts []FilledPart) bool {
	for _, p := range parts {
		if p.Expr >= 0 {
			return true
		}
	}
	return false
}

func (d *draft) span(start, end int) diag.Span {
	n := len(d.page.File.Text)
	start = min(max(start, 0), n)
	return diag.Span{File: d.page.File, Start: start, End: min(max(end, start), n)}
}
