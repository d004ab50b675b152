package build

import (
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/content"
)

// An Accepted is a finding that the manual accepts in writing, with the reason.
type Accepted struct {
	*diag.Diag
	Why string
}

// A waiver accepts the findings of one code within a stretch of a file:
//
//	<!-- accepted typed-number: the shop sells it by this name -->   before a block of a page, or inside it
//	# accepted unused-figure: release 3 needs it                     before a line of a sheet
//	… ,accepted … ,unused-part: kept for repairs                     the column accepted of parts.csv
//	limit … accepted "why"                                           for what is found at a limit
type waiver struct {
	code string // "": any
	why  string
	at   diag.Span // where it is written
	over diag.Span
	used bool
}

func (w *waiver) covers(d *diag.Diag) bool {
	return d.Warn && (w.code == "" || w.code == d.Code) && d.Span.File == w.over.File &&
		w.over.Start <= d.Span.Start && d.Span.Start < w.over.End
}

// accept parts the findings that a release accepts in writing from those that
// stay, and reports acceptances that accept nothing. That is known only of a
// complete list, and of some codes only when the audit was thorough.
func accept(r *Release, list diag.List, complete, thorough bool) (open diag.List, accepted []Accepted) {
	var bad diag.List
	waivers := waiversOf(r, &bad)
	for _, l := range r.Result.Limits() {
		if l.Accepted == "" || l.Stmt == nil {
			continue
		}
		w := &waiver{why: l.Accepted, at: l.Stmt.Accepted.Pos, over: l.Pos}
		if d := limitFinding(l); d != nil {
			w.used, d.Warn, d.Hint = true, true, ""
			accepted = append(accepted, Accepted{d, l.Accepted})
		} else if !l.Known() {
			w.used = true // what keeps it from being computed has been reported
		}
		waivers = append(waivers, w)
	}
	for _, d := range list.Sorted() {
		why, ok := "", false
		for _, w := range waivers {
			if w.covers(d) {
				w.used, why, ok = true, w.why, true
				break
			}
		}
		if ok {
			accepted = append(accepted, Accepted{d, why})
		} else {
			open = append(open, d)
		}
	}
	if complete {
		for _, w := range waivers {
			if w.used || w.code == "curved" && !thorough {
				continue
			}
			msg := "there is no finding " + w.code + " here to accept"
			if w.code == "" {
				msg = "there is nothing to accept at this limit, which is proved to hold"
			}
			bad.Warn(w.at, "stale-acceptance", "%s", msg).Hint = "take the acceptance out"
		}
	}
	return append(open, bad...).Sorted(), accepted
}

var (
	pageWaiver  = regexp.MustCompile(`<!--\s*(accepted\b[^>]*?)\s*-->`)
	sheetWaiver = regexp.MustCompile(`^[\s>]*#\s*(accepted\b.*?)\s*$`)
	waiverForm  = regexp.MustCompile(`^accepted\s+([a-z][a-z0-9-]*)\s*:\s*(\S.*)$`)
)

// waiversOf reads what pages, sheets and the parts list accept.
func waiversOf(r *Release, bad *diag.List) []*waiver {
	var out []*waiver
	add := func(text string, at, over diag.Span, form string) {
		m := waiverForm.FindStringSubmatch(strings.Join(strings.Fields(text), " "))
		if m == nil {
			bad.Warn(at, "acceptance", "this acceptance does not say what it accepts and why").
				Hint = "write " + form
			return
		}
		out = append(out, &waiver{code: m[1], why: m[2], at: at, over: over})
	}
	for _, p := range r.Manual.Pages {
		blocks := blocksOf(p)
		for _, m := range pageWaiver.FindAllSubmatchIndex(p.File.Text, -1) {
			at := diag.Span{File: p.File, Start: m[0], End: m[1]}
			if over, ok := blocks.covered(at); ok {
				add(string(p.File.Text[m[2]:m[3]]), at, over, "<!-- accepted code-of-the-finding: why -->")
			}
		}
	}
	for _, b := range r.Manual.Blocks {
		for _, at := range remarks(b) {
			m := sheetWaiver.FindStringSubmatch(at.Text())
			if m == nil {
				continue
			}
			add(m[1], at, statementBehind(b, at), "# accepted code-of-the-finding: why")
		}
	}
	for _, p := range r.Manual.Parts {
		for _, head := range []string{"accepted", "Accepted"} {
			if text := p.Extra[head]; text != "" {
				line, _ := p.Pos.File.Position(p.Pos.Start)
				start := p.Pos.File.LineStart(line)
				over := diag.Span{File: p.Pos.File, Start: start, End: start + len(p.Pos.File.Line(line))}
				at := over
				if i := strings.LastIndex(over.Text(), text); i >= 0 {
					at.Start = start + i
					at.End = at.Start + len(text)
				}
				add("accepted "+text, at, over, "code-of-the-finding: why")
			}
		}
	}
	return out
}

// remarks are the lines of comment of a block.
func remarks(b calc.Block) []diag.Span {
	if b.Sheet == nil {
		return nil
	}
	f := b.Sheet.File
	first, last := 1, 0
	if b.Name == "" {
		last, _ = f.Position(len(f.Text))
	} else if n := len(b.Sheet.Stmts); n > 0 {
		first, _ = f.Position(b.Pos.Start)
		last, _ = f.Position(b.Sheet.Stmts[n-1].Span().Start)
	}
	var out []diag.Span
	for n := first; n <= last; n++ {
		if s := f.Line(n); strings.Contains(s, "#") {
			out = append(out, diag.Span{File: f, Start: f.LineStart(n), End: f.LineStart(n) + len(s)})
		}
	}
	return out
}

// statementBehind is the first line of a sheet behind a remark, with what
// belongs to it.
func statementBehind(b calc.Block, at diag.Span) diag.Span {
	over := diag.Span{File: at.File, Start: at.Start, End: at.End}
	for _, s := range b.Sheet.Stmts {
		if _, remark := s.(*syntax.Remark); !remark && s.Span().Start >= at.End {
			over.End = s.Span().End
			return over
		}
	}
	return over
}

// pageBlocks are the blocks of a page in the order of their places.
type pageBlocks struct {
	page   *content.Page
	starts []int
	deep   []int    // how deep each is nested
	code   [][2]int // stretches of code, in which nothing is accepted
	leaves [][2]int // where each block with text of its own begins and ends
}

func blocksOf(p *content.Page) *pageBlocks {
	b := &pageBlocks{page: p}
	depth := 0
	_ = ast.Walk(p.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if n.Type() == ast.TypeBlock {
			if !entering {
				depth--
				return ast.WalkContinue, nil
			}
			depth++
			if at := blockStart(n); at >= 0 && n.Kind() != ast.KindDocument {
				b.starts, b.deep = append(b.starts, at), append(b.deep, depth)
			}
			if l := n.Lines(); l != nil && l.Len() > 0 {
				from, to := l.At(0).Start, l.At(l.Len()-1).Stop
				switch n.Kind() {
				case ast.KindFencedCodeBlock, ast.KindCodeBlock:
					b.code = append(b.code, [2]int{from, to})
				default:
					b.leaves = append(b.leaves, [2]int{from, to})
				}
			}
			if c, ok := n.(*content.FilledNode); ok {
				b.code = append(b.code, [2]int{c.At.Start, c.At.End + len(content.Fill(c.Parts, nil))})
			}
			return ast.WalkContinue, nil
		}
		if entering && n.Kind() == ast.KindCodeSpan {
			for t := n.FirstChild(); t != nil; t = t.NextSibling() {
				if t, ok := t.(*ast.Text); ok {
					b.code = append(b.code, [2]int{t.Segment.Start, t.Segment.Stop})
				}
			}
		}
		return ast.WalkContinue, nil
	})
	return b
}

// covered is the stretch of a page that a comment stands for: the block that
// it is written in, else the next block. ok is false for one in code.
func (b *pageBlocks) covered(at diag.Span) (over diag.Span, ok bool) {
	for _, c := range b.code {
		if c[0] <= at.Start && at.Start < c[1] {
			return over, false
		}
	}
	for _, l := range slices.Backward(b.leaves) { // the inner before the outer
		if l[0] <= at.Start && at.Start < l[1] {
			return diag.Span{File: at.File, Start: l[0], End: l[1]}, true
		}
	}
	over = diag.Span{File: at.File, Start: at.Start, End: len(at.File.Text)}
	next := slices.IndexFunc(b.starts, func(s int) bool { return s >= at.End })
	if next < 0 {
		return over, true
	}
	for i := next + 1; i < len(b.starts); i++ {
		if b.deep[i] <= b.deep[next] && b.starts[i] > b.starts[next] {
			over.End = b.starts[i]
			break
		}
	}
	// A list or quote goes by the place of what is in it: take its line whole.
	line, _ := at.File.Position(over.End)
	if start := at.File.LineStart(line); over.End < len(at.File.Text) && start > b.starts[next] {
		over.End = start
	}
	return over, true
}
