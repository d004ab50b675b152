package main

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/content"
)

// tidyMarkdown cuts pages into blocks as the manual's own reader does; what
// stands inside of lines makes no difference to where a block lies.
var tidyMarkdown = goldmark.New(goldmark.WithExtensions(content.Extensions()...))

const byteOrderMark = "\uFEFF"

// tidyText lays out the sheets of a file: the whole of it, or the calc blocks
// of a page. It gives the text that the file should have, and the first line
// (from 1) that is another, 0 if none is. Line ends, a byte order mark and all
// that is no sheet stay as they are. A file with mistakes is not laid out; the
// list then says why.
func tidyText(name string, raw []byte, page bool) (out []byte, first int, list diag.List) {
	body, marked := bytes.CutPrefix(raw, []byte(byteOrderMark))
	file := diag.NewFile(name, bytes.ReplaceAll(body, []byte("\r\n"), []byte("\n")))
	if !utf8.Valid(file.Text) || bytes.IndexByte(file.Text, 0) >= 0 {
		list.Add(diag.Span{File: diag.NewFile(name, nil)}, "not-text", "the file is no UTF-8 text").Hint = "save it as UTF-8 text"
		return nil, 0, list
	}
	parts := sheetsOf(file, page)
	ends := lineEnds(body)
	fresh := strings.Split(string(file.Text), "\n")[:len(ends)] // the lines of the file without their ends
	// From the last to the first, so that the lines before keep their numbers.
	for i := len(parts) - 1; i >= 0; i-- {
		p := parts[i]
		if p.count == 0 {
			continue
		}
		tidy, errs := syntax.Tidy(file, p.segs)
		if errs.HasErrors() {
			list = append(list, errs...)
			continue
		}
		lines := strings.Split(strings.TrimSuffix(tidy, "\n"), "\n")
		if tidy == "" {
			lines = nil
		}
		for k, l := range lines {
			lines[k] = strings.TrimRight(p.prefix+l, " \t")
		}
		lineEnd := "\n"
		if p.first < len(ends) && ends[p.first] != "" {
			lineEnd = ends[p.first]
		}
		newEnds := make([]string, len(lines))
		for k := range newEnds {
			newEnds[k] = lineEnd
		}
		if n := p.first + p.count; page && len(lines) > 0 && n == len(ends) {
			newEnds[len(lines)-1] = ends[n-1] // a block that ends with the page
		}
		fresh = splice(fresh, p.first, p.count, lines)
		ends = splice(ends, p.first, p.count, newEnds)
	}
	if list.HasErrors() {
		return nil, 0, list
	}
	if marked {
		out = append(out, byteOrderMark...)
	}
	for i, l := range fresh {
		out = append(append(out, l...), ends[i]...)
	}
	if bytes.Equal(out, raw) {
		return out, 0, nil
	}
	after := diag.NewFile(name, bytes.ReplaceAll(bytes.TrimPrefix(out, []byte(byteOrderMark)), []byte("\r\n"), []byte("\n")))
	if !sameText(file, after, page) {
		list.Add(diag.Span{File: file}, "not-laid-out", "the file is left as it is: laid out, it would say something else").
			Hint = "this is a fault of the program; report it with the file"
		return nil, 0, list
	}
	return out, firstChange(raw, out), nil
}

// A sheetPart is the sheet that some lines of a file form.
type sheetPart struct {
	segs   []syntax.Seg // nil: the whole file
	first  int          // its first line, from 0
	count  int          // of lines
	prefix string       // what stands before each line: the indentation and signs of lists and quotes
}

// sheetsOf finds the sheets of a file: all of it, or the calc blocks of a page.
func sheetsOf(file *diag.File, page bool) []sheetPart {
	if !page {
		return []sheetPart{{first: 0, count: lineCount(file.Text)}}
	}
	var parts []sheetPart
	_ = ast.Walk(parsePage(file), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		block, ok := n.(*ast.FencedCodeBlock)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		if words := bytes.FieldsFunc(infoOf(block, file), func(r rune) bool { return r == ' ' || r == '\t' }); len(words) == 0 || string(words[0]) != "calc" {
			return ast.WalkContinue, nil
		}
		p := sheetPart{count: block.Lines().Len(), segs: []syntax.Seg{}}
		prefixed := false
		for i := range p.count {
			s := block.Lines().At(i)
			line, _ := file.Position(s.Start)
			if i == 0 {
				p.first = line - 1
			}
			p.segs = append(p.segs, syntax.Seg{Start: s.Start, End: s.Stop})
			if !prefixed && len(bytes.TrimSpace(file.Text[s.Start:s.Stop])) > 0 {
				p.prefix, prefixed = string(file.Text[file.LineStart(line):s.Start]), true
			}
		}
		parts = append(parts, p)
		return ast.WalkContinue, nil
	})
	return parts
}

func parsePage(file *diag.File) ast.Node {
	return tidyMarkdown.Parser().Parse(text.NewReader(file.Text))
}

func infoOf(block *ast.FencedCodeBlock, file *diag.File) []byte {
	if block.Info == nil {
		return nil
	}
	return block.Info.Segment.Value(file.Text)
}

// sameText reports whether two texts hold the same sheets in the same order
// and, as pages, the same blocks.
func sameText(a, b *diag.File, page bool) bool {
	x, y := sheetsOf(a, page), sheetsOf(b, page)
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		s, errs := syntax.Parse(a, x[i].segs)
		t, errs2 := syntax.Parse(b, y[i].segs)
		if errs.HasErrors() || errs2.HasErrors() || !syntax.Same(s, t) {
			return false
		}
	}
	return !page || outline(parsePage(a)) == outline(parsePage(b))
}

// outline writes down the kinds of the nodes of a page, level by level.
func outline(n ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			b.WriteString("(" + n.Kind().String())
		} else {
			b.WriteByte(')')
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// lineCount is the number of lines, without an empty one behind the last line end.
func lineCount(b []byte) int {
	n := bytes.Count(b, []byte("\n"))
	if len(b) > 0 && b[len(b)-1] != '\n' {
		n++
	}
	return n
}

// lineEnds gives the end of each line: "\n", "\r\n", or "" for a last line without one.
func lineEnds(b []byte) []string {
	var ends []string
	for len(b) > 0 {
		i := bytes.IndexByte(b, '\n')
		switch {
		case i < 0:
			return append(ends, "")
		case i > 0 && b[i-1] == '\r':
			ends = append(ends, "\r\n")
		default:
			ends = append(ends, "\n")
		}
		b = b[i+1:]
	}
	return ends
}

func splice(lines []string, at, count int, fresh []string) []string {
	out := append([]string(nil), lines[:at]...)
	out = append(out, fresh...)
	return append(out, lines[at+count:]...)
}

// firstChange is the first line, from 1, in which two texts differ.
func firstChange(a, b []byte) int {
	line := 1
	for i := 0; i < len(a) && i < len(b) && a[i] == b[i]; i++ {
		if a[i] == '\n' {
			line++
		}
	}
	return line
}
