// Package diag says where something is wrong in a source file and prints it
// as a person wants to read it: place, what was found, the line with a caret,
// and what to do.
package diag

import (
	"sort"
	"unicode/utf8"
)

// A File is one source file: its name as the user knows it (slash-separated,
// relative to the manual) and its whole text.
type File struct {
	Name string
	Text []byte

	lines []int // byte offset of the start of each line
}

// NewFile returns a file. The text is kept, not copied.
func NewFile(name string, text []byte) *File {
	f := &File{Name: name, Text: text, lines: []int{0}}
	for i, b := range text {
		if b == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// Position returns the line and column of a byte offset. Both count from 1;
// columns count characters (runes), a tab being one. Offsets outside the text
// are taken as its nearest end.
func (f *File) Position(off int) (line, col int) {
	off = min(max(off, 0), len(f.Text))
	i := sort.Search(len(f.lines), func(i int) bool { return f.lines[i] > off }) - 1
	return i + 1, utf8.RuneCount(f.Text[f.lines[i]:off]) + 1
}

// Line returns the text of line n (from 1) without its line end.
func (f *File) Line(n int) string {
	if n < 1 || n > len(f.lines) {
		return ""
	}
	start, end := f.lines[n-1], len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n] - 1
	}
	if end > start && f.Text[end-1] == '\r' {
		end--
	}
	return string(f.Text[start:end])
}

// LineStart returns the byte offset at which line n (from 1) starts, or the
// length of the text if there is no such line.
func (f *File) LineStart(n int) int {
	if n < 1 {
		return 0
	}
	if n > len(f.lines) {
		return len(f.Text)
	}
	return f.lines[n-1]
}

// A Span is a stretch of a file, in bytes from its start: [Start, End).
type Span struct {
	File       *File
	Start, End int
}

// Text returns the text the span covers.
func (s Span) Text() string {
	if s.File == nil || s.Start < 0 || s.End > len(s.File.Text) || s.Start > s.End {
		return ""
	}
	return string(s.File.Text[s.Start:s.End])
}

// Line returns the line (from 1) on which the span starts, or 0 without a file.
func (s Span) Line() int {
	if s.File == nil {
		return 0
	}
	l, _ := s.File.Position(s.Start)
	return l
}

// Join returns the span from the start of s to the end of t.
func (s Span) Join(t Span) Span {
	if s.File == nil {
		return t
	}
	if t.File == nil || t.File != s.File {
		return s
	}
	return Span{s.File, min(s.Start, t.Start), max(s.End, t.End)}
}
