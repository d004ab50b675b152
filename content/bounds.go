package content

import (
	"bytes"
	"slices"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"workings/calc/diag"
)

// What a page may hold. Reading Markdown takes time that grows with the square
// of some counts: each mark of emphasis may belong to each before it in its
// paragraph, each line is held against each list around it. These bounds are
// far above what anyone reads, and keep each page to a fraction of a second.
const (
	maxPage      = 512 << 10
	maxLines     = 20_000
	maxNesting   = 30        // lists, quotes and footnotes in each other
	maxMarks     = 500       // of emphasis, links, code, HTML and figures, in a paragraph
	maxParagraph = 64 << 10  // bytes, of a paragraph that has marks
	maxFootnotes = 500       // each reference looks through all
	maxDefined   = 2000      // lines of a paragraph that begins with definitions of links
	maxCells     = 100_000   // of all tables of a page, each row counted at full width
	maxReferred  = 1 << 20   // bytes of addresses and titles that links take from elsewhere
	maxTags      = 10_000    // of HTML
	maxReports   = 200       // of one file
	maxConfig    = 256 << 10 // manual.toml
	maxKeys      = 5000      // lines of TOML that say something
	maxColumns   = 200       // of the parts list
)

// Counts are what a page has used up of its bounds.
type counts struct {
	marks     int  // in the present paragraph
	tooMany   bool // and that has been said
	deep      bool // nesting has been reported
	footnotes int
	cells     int
	referred  int
	tags      int
}

// blockParsers are those of CommonMark and the one of footnotes, where those
// that hold other blocks are bounded.
func blockParsers() []util.PrioritizedValue {
	all := parser.DefaultBlockParsers()
	for i, p := range all {
		if b, ok := p.Value.(parser.BlockParser); ok && (b == parser.NewListParser() || b == parser.NewBlockquoteParser()) {
			all[i].Value = nesting{b}
		}
	}
	return append(all, util.Prioritized(nesting{extension.NewFootnoteBlockParser()}, 999))
}

// nesting opens a block unless it lies too deep: then its mark is text.
type nesting struct{ parser.BlockParser }

func (b nesting) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	row, seg := reader.Position()
	n, state := b.BlockParser.Open(parent, reader, pc)
	d, _ := pc.Get(draftKey).(*draft)
	if n == nil || d == nil {
		return n, state
	}
	refuse := func(first bool, code, msg string, most int, hint string) (ast.Node, parser.State) {
		if first {
			start := seg.Start + max(pc.BlockOffset(), 0)
			d.list.Add(d.span(start, start+1), code, msg, most).Hint = hint
		}
		reader.SetPosition(row, seg)
		return nil, parser.NoChildren
	}
	depth := 0
	for p := parent; p != nil; p = p.Parent() {
		switch p.(type) {
		case *ast.Blockquote, *ast.ListItem, *extast.Footnote:
			depth++
		}
	}
	if depth >= maxNesting {
		first := !d.used.deep
		d.used.deep = true
		return refuse(first, "too-deep", "lists and quotes lie more than %d deep in each other here", maxNesting,
			"bring the text further out, or make it a page of its own")
	}
	if _, ok := n.(*extast.Footnote); ok {
		d.used.footnotes++
		if over := d.used.footnotes - maxFootnotes; over > 0 {
			return refuse(over == 1, "too-many", "a page may have %d footnotes, and this is one more", maxFootnotes, splitHint)
		}
	}
	return n, state
}

// paragraphs leaves out those that would become a table of too many cells (a
// row of one sign is filled up to the width of its table), and those with too
// many definitions of links.
type paragraphs struct{}

func (paragraphs) Transform(p *ast.Paragraph, reader text.Reader, pc parser.Context) {
	d, _ := pc.Get(draftKey).(*draft)
	lines := p.Lines()
	if d == nil || lines.Len() < 2 {
		return
	}
	if first := lines.At(0); lines.Len() > maxDefined && bytes.HasPrefix(bytes.TrimLeft(first.Value(reader.Source()), " "), []byte("[")) {
		d.list.Add(d.span(first.Start, first.Start+1), "too-many", "a paragraph that begins with [ may have %d lines", maxDefined).Hint = shortHint
		leaveOut(p)
		return
	}
	for i := 1; i < lines.Len(); i++ {
		at := lines.At(i)
		line := at.Value(reader.Source())
		if len(bytes.Trim(line, "-:| \t\n")) > 0 {
			continue
		}
		before := d.used.cells
		d.used.cells += (bytes.Count(line, []byte("|")) + 1) * (lines.Len() - i)
		if d.used.cells > maxCells {
			if before <= maxCells {
				at := d.span(at.Start, at.Stop-1)
				d.list.Add(at, "too-many", "the tables of a page may have %d cells, and this one goes beyond", maxCells).Hint = splitHint
			}
			leaveOut(p)
		}
		return
	}
}

func leaveOut(p *ast.Paragraph) {
	p.SetLines(text.NewSegments())
	p.Parent().RemoveChild(p.Parent(), p)
}

const (
	splitHint = "divide the page into several"
	shortHint = "begin new paragraphs with empty lines"
)

// fewLines reports a page of too many lines.
func (d *draft) fewLines() bool {
	f := d.page.File
	if bytes.Count(f.Text, []byte("\n")) <= maxLines {
		return true
	}
	at := f.LineStart(maxLines + 1)
	d.list.Add(d.span(at, at+1), "too-large", "a page may have %d lines, and this one begins the next", maxLines).Hint = splitHint
	return false
}

// marks counts what begins something within a paragraph, before the parsers
// of these see it. A paragraph that has too much of it is read as plain text
// from there on.
type marks struct{}

func (marks) Trigger() []byte { return []byte("*_~[]!<`{") }

func (marks) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	d, _ := pc.Get(draftKey).(*draft)
	if d == nil {
		return nil
	}
	line, seg := block.PeekLine()
	if len(line) == 0 || (line[0] == '!' || line[0] == '{') && (len(line) < 2 || line[1] != '[' && line[1] != '=') {
		return nil
	}
	u := &d.used
	u.marks++
	long := false
	if u.marks == 1 {
		if lines := parent.Lines(); lines != nil && lines.Len() > 0 {
			long = lines.At(lines.Len()-1).Stop-lines.At(0).Start > maxParagraph
		}
	}
	if long || u.marks > maxMarks {
		at := d.span(seg.Start, seg.Start+1)
		if long {
			d.list.Add(at, "too-large", "a paragraph with marks in it may have %d kB", maxParagraph>>10).Hint = shortHint
		} else if !u.tooMany {
			d.list.Add(at, "too-many", "a paragraph may have %d marks such as *, _, [ and `, and this is one more", maxMarks).
				Hint = shortHint + ", or show the text as code, between lines of ```"
		}
		u.marks, u.tooMany = maxMarks+1, true
		block.Advance(len(bytes.TrimSuffix(line, []byte("\n"))))
		return ast.NewTextSegment(text.NewSegment(seg.Start, seg.Start+len(line)))
	}
	return nil
}

// CloseBlock ends a paragraph, a heading or a cell.
func (marks) CloseBlock(parent ast.Node, block text.Reader, pc parser.Context) {
	if d, ok := pc.Get(draftKey).(*draft); ok {
		d.used.marks, d.used.tooMany = 0, false
	}
}

// refer counts what a link takes from a definition elsewhere on the page, for
// a long address can be referred to many times.
func (d *draft) refer(at diag.Span, ref *ast.ReferenceLink, address, title []byte) (ok bool) {
	if ref == nil {
		return true
	}
	before := d.used.referred
	d.used.referred += len(address) + len(title)
	if d.used.referred > maxReferred && before <= maxReferred {
		d.list.Add(at, "too-many", "the links of a page may take %d kB of addresses and titles from elsewhere on it", maxReferred>>10).Hint = splitHint
	}
	return d.used.referred <= maxReferred
}

// few keeps the reports of a file to what somebody can read: the first of
// them, and errors rather than findings.
func few(list diag.List) diag.List {
	if len(list) <= maxReports {
		return list
	}
	sorted := list.Sorted()
	if len(sorted) <= maxReports {
		return sorted
	}
	errors := slices.DeleteFunc(slices.Clone(sorted), func(r *diag.Diag) bool { return r.Warn })
	first := errors
	if len(first) == 0 {
		first = sorted
	}
	first = slices.Clip(first[:min(len(first), maxReports)])
	rest := len(sorted) - len(first)
	more := first.Add(first[len(first)-1].Span, "reports", "there are %d more reports in this file", rest)
	more.Warn = len(errors) == 0
	more.Hint = "mend those before first"
	return first
}
