package content

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// The words that begin the info string of our fenced blocks.
var blockWords = []string{"calc", "plot", "drawing", "uses", "measure", "page"}

// An infoPart is a word or a quoted text of an info string.
type infoPart struct {
	text   string
	quoted bool
	at     diag.Span
}

// infoWord returns the first word of a fence's info string.
func (d *draft) infoWord(f *ast.FencedCodeBlock) (string, diag.Span) {
	if f.Info == nil {
		return "", diag.Span{}
	}
	s := f.Info.Segment
	raw := d.page.File.Text[s.Start:s.Stop]
	n := bytes.IndexAny(raw, " \t")
	if n < 0 {
		n = len(raw)
	}
	return string(raw[:n]), d.span(s.Start, s.Start+n)
}

// info cuts the info string into words and quoted texts.
func (d *draft) info(f *ast.FencedCodeBlock) []infoPart {
	if f.Info == nil {
		return nil
	}
	s := f.Info.Segment
	c := d.cursor(s.Start, s.Stop)
	var out []infoPart
	for c.space(); c.pos < c.end; c.space() {
		if c.peek() == '"' {
			q := c.quoted()
			if q == nil {
				break
			}
			out = append(out, infoPart{q.Value, true, q.Pos})
			continue
		}
		start := c.pos
		for c.pos < c.end && c.peek() != ' ' && c.peek() != '\t' && c.peek() != '"' {
			c.pos++
		}
		at := d.span(start, c.pos)
		out = append(out, infoPart{at.Text(), false, at})
	}
	return out
}

// fenceSpan is the place of a fenced block: its opening line from the fence on.
func (d *draft) fenceSpan(f *ast.FencedCodeBlock) diag.Span {
	src := d.page.File.Text
	start := max(f.Pos(), 0)
	if f.Pos() < 0 && f.Info != nil {
		start = f.Info.Segment.Start
	}
	end := start
	for end < len(src) && src[end] != '\n' {
		end++
	}
	at := d.span(start, end)
	at.Start += len(at.Text()) - len(strings.TrimLeft(at.Text(), " \t"))
	at.End = at.Start + len(strings.TrimRight(at.Text(), " \t"))
	return at
}

// checkClosed reports a block of ours whose closing fence is missing: it would
// swallow the rest of the page.
func (d *draft) checkClosed(f *ast.FencedCodeBlock) {
	at := d.fenceSpan(f)
	fence := at.Text()
	if fence == "" || fence[0] != '`' && fence[0] != '~' {
		return
	}
	sign := fence[:1]
	fence = fence[:len(fence)-len(strings.TrimLeft(fence, sign))]
	line, _ := d.page.File.Position(at.Start)
	if n := f.Lines().Len(); n > 0 {
		line, _ = d.page.File.Position(f.Lines().At(n - 1).Start)
	}
	closing := strings.TrimLeft(d.page.File.Line(line+1), "> \t")
	if strings.HasPrefix(closing, fence) && strings.Trim(closing, sign+" \t") == "" {
		return
	}
	d.list.Add(at, "open-block", "this block is not closed").Hint = "end it with a line " + fence
}

// readFence turns a fenced block that is ours into its node.
func (d *draft) readFence(f *ast.FencedCodeBlock) {
	word, at := d.infoWord(f)
	words := d.info(f)
	if word == "" {
		return
	}
	var n ast.Node
	switch word {
	case "calc":
		n = d.readCalc(f, words)
	case "plot":
		n = d.readPlot(f, words)
	case "drawing":
		n = d.readDrawing(f, words)
	case "uses":
		d.noMoreWords(words)
		n = d.readUses(f)
	case "measure":
		d.noMoreWords(words)
		n = d.readMeasure(f)
	default:
		if near := nearWord(word, blockWords); near != "" {
			d.list.Warn(at, "block-word", "%s is shown as code: it is no kind of block", word).
				Hint = "did you mean " + near + "?"
		}
		if len(words) < 2 || words[1].quoted {
			return
		}
		if words[1].text != "filled" {
			if nearWord(words[1].text, []string{"filled"}) != "" {
				d.list.Warn(words[1].at, "block-word", "figures in this block are not filled in").Hint = "did you mean filled?"
			}
			return
		}
		if len(words) > 2 {
			d.list.Add(words[2].at, "block-head", "a filled block takes no further words")
		}
		n = d.readFilled(f, word)
	}
	d.checkClosed(f)
	n.(interface{ SetPos(int) }).SetPos(f.Pos())
	if b, ok := n.(interface{ SetBlankPreviousLines(bool) }); ok {
		b.SetBlankPreviousLines(f.HasBlankPreviousLines())
	}
	f.Parent().ReplaceChild(f.Parent(), f, n)
}

func (d *draft) noMoreWords(words []infoPart) {
	if len(words) > 1 {
		d.list.Add(words[1].at.Join(words[len(words)-1].at), "block-head", "a %s block takes no further words", words[0].text)
	}
}

// readCalc reads a calc block: calc [name] [hidden|results] ["title"].
func (d *draft) readCalc(f *ast.FencedCodeBlock, words []infoPart) ast.Node {
	n := &CalcNode{At: d.fenceSpan(f)}
	nameAt, named := n.At, false
	modes := []string{"hidden", "results"}
	for _, w := range words[1:] {
		switch {
		case w.quoted && n.Title == "":
			n.Title = w.text
		case w.quoted:
			d.list.Add(w.at, "block-head", "this block has a title already")
		case contains(modes, w.text):
			if n.Mode != "" {
				d.list.Add(w.at, "block-head", "this block is %s already", n.Mode)
			}
			n.Mode = w.text
		case !named && n.Mode == "" && n.Title == "":
			named, nameAt = true, w.at
			n.Name = d.blockName(w.at)
			if near := nearWord(w.text, modes); near != "" {
				d.list.Warn(w.at, "block-word", "%s is taken as the name of the block", w.text).Hint = "did you mean " + near + "?"
			}
		default:
			d.list.Add(w.at, "block-head", "%q has no meaning here", w.text).
				Hint = `a calc block is opened by calc, then its name, hidden or results, and a "title"`
		}
	}
	if !named {
		n.Name = scopeOf(d.page.ID)
		if !isName(n.Name) {
			d.list.Add(n.At, "block-name", "this block has the page's id as its name, but %s is a word of the sheet language", n.Name).
				Hint = "give the block a name, or the page's file another one"
		}
	}
	if n.Name == scopeOf(d.page.ID) {
		d.page.Scope = n.Name
	}
	sheet, errs := syntax.Parse(d.page.File, segments(f.Lines()))
	d.list = append(d.list, errs...)
	n.Sheet = sheet
	if n.Name == "" {
		return n // reported; its lines have no name to stand under
	}
	d.blocks = append(d.blocks, calc.Block{Name: n.Name, Sheet: sheet, Pos: nameAt})
	if !contains(d.page.Blocks, n.Name) {
		d.page.Blocks = append(d.page.Blocks, n.Name)
	}
	return n
}

// segments gives the stretches of the file that a block's lines cover.
func segments(lines *text.Segments) []syntax.Seg {
	segs := make([]syntax.Seg, 0, lines.Len())
	for i := range lines.Len() {
		s := lines.At(i)
		segs = append(segs, syntax.Seg{Start: s.Start, End: s.Stop})
	}
	return segs
}

// blockName reads the name of a block, as the sheet language spells it; it
// reports what cannot be one.
func (d *draft) blockName(at diag.Span) string {
	x, errs := syntax.ParseExpr(at.File, []syntax.Seg{{Start: at.Start, End: at.End}})
	if name, ok := x.(*syntax.Name); ok && !errs.HasErrors() {
		return name.Name
	}
	d.list.Add(at, "block-name", "%q cannot be the name of a block", at.Text()).
		Hint = "it begins with a letter, holds letters, digits and _, and is no word of the sheet language"
	return ""
}

// isName reports whether the sheet language takes s as a name.
func isName(s string) bool {
	x, errs := syntax.ParseExpr(diag.NewFile("", []byte(s)), []syntax.Seg{{Start: 0, End: len(s)}})
	_, ok := x.(*syntax.Name)
	return ok && !errs.HasErrors()
}

// readFilled reads a code block whose figures are filled in.
func (d *draft) readFilled(f *ast.FencedCodeBlock, language string) ast.Node {
	n := &FilledNode{Language: language, At: d.fenceSpan(f)}
	var plain strings.Builder
	flush := func() {
		if plain.Len() > 0 {
			n.Parts = append(n.Parts, FilledPart{Text: plain.String(), Expr: -1})
			plain.Reset()
		}
	}
	for i := range f.Lines().Len() {
		s := f.Lines().At(i)
		if s.Padding > 0 {
			plain.WriteString(strings.Repeat(" ", s.Padding))
		}
		for _, p := range d.fill(s.Start, s.Stop) {
			if p.Expr < 0 {
				plain.WriteString(p.Text)
				continue
			}
			flush()
			n.Parts = append(n.Parts, p)
		}
	}
	flush()
	d.filled = append(d.filled, n)
	return n
}
