package syntax

import (
	"sort"

	"workings/calc/diag"
)

// maxText is the longest text that is parsed, in bytes.
const maxText = 4 << 20

// A source is the text of some segments of a file, taken together, and the
// way back from an offset in that text to its place in the file.
type source struct {
	file   *diag.File
	text   string
	segs   []Seg // none empty, all within the file
	starts []int // offset in text at which each segment starts
}

// newSource takes the segments together; nil is the whole file. Segments that
// do not lie in the file are cut to the part that does.
func newSource(file *diag.File, segs []Seg) *source {
	s := &source{file: file}
	if segs == nil {
		segs = []Seg{{0, len(file.Text)}}
	}
	size := 0
	for _, g := range segs {
		g.Start = max(g.Start, 0)
		g.End = min(g.End, len(file.Text))
		if g.Start >= g.End {
			continue
		}
		s.segs = append(s.segs, g)
		s.starts = append(s.starts, size)
		size += g.End - g.Start
	}
	if len(s.segs) == 1 {
		s.text = string(file.Text[s.segs[0].Start:s.segs[0].End])
		return s
	}
	buf := make([]byte, 0, size)
	for _, g := range s.segs {
		buf = append(buf, file.Text[g.Start:g.End]...)
	}
	s.text = string(buf)
	return s
}

// place returns the offset in the file of the byte at off in the text.
func (s *source) place(off int) int {
	switch len(s.segs) {
	case 0:
		return 0
	case 1:
		return s.segs[0].Start + off
	}
	i := sort.SearchInts(s.starts, off+1) - 1
	return s.segs[i].Start + off - s.starts[i]
}

// span returns the place in the file of text[from:to]. A span over several
// segments runs from its first byte to its last; an empty one stands behind
// the byte before it.
func (s *source) span(from, to int) diag.Span {
	if len(s.segs) == 0 {
		return diag.Span{File: s.file}
	}
	from = min(max(from, 0), len(s.text))
	to = min(max(to, from), len(s.text))
	if from == to {
		if from == 0 {
			p := s.segs[0].Start
			return diag.Span{File: s.file, Start: p, End: p}
		}
		p := s.place(from-1) + 1
		return diag.Span{File: s.file, Start: p, End: p}
	}
	a, b := s.place(from), s.place(to-1)+1
	return diag.Span{File: s.file, Start: min(a, b-1), End: max(a+1, b)}
}
