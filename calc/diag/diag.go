package diag

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"
)

// A Diag is one thing that is wrong, at one place.
type Diag struct {
	Span Span
	Code string // short and stable, for machines: "unit-mismatch"
	Msg  string // what is wrong, with the names and units involved; lower case, no full stop
	Hint string // what to try; "" if nothing useful can be said
	Warn bool   // a finding: the result is still usable
	Also []Note // other places: each edge of a circle, the first declaration
	Data any    // what else is known of it, for reports that machines read; nil: nothing
}

// A Note is a further place that belongs to a Diag.
type Note struct {
	Span Span
	Msg  string
}

// Error gives the first line of the report: file:line:column: error: message [code].
func (d *Diag) Error() string {
	kind := "error"
	if d.Warn {
		kind = "warning"
	}
	s := fmt.Sprintf("%s: %s", kind, d.Msg)
	if d.Code != "" {
		s += " [" + d.Code + "]"
	}
	if p := place(d.Span); p != "" {
		s = p + ": " + s
	}
	return s
}

// Report gives the whole report: the first line, the source line with a caret
// under the span, the further places and the hint. It ends with a newline.
func (d *Diag) Report() string {
	var b strings.Builder
	b.WriteString(d.Error())
	b.WriteByte('\n')
	picture(&b, d.Span)
	for _, n := range d.Also {
		b.WriteString("  ")
		if p := place(n.Span); p != "" {
			b.WriteString(p + ": ")
		}
		b.WriteString(n.Msg + "\n")
		picture(&b, n.Span)
	}
	if d.Hint != "" {
		b.WriteString("  hint: " + d.Hint + "\n")
	}
	return b.String()
}

func place(s Span) string {
	if s.File == nil {
		return ""
	}
	line, col := s.File.Position(s.Start)
	return fmt.Sprintf("%s:%d:%d", s.File.Name, line, col)
}

// picture prints the line and the carets under it. The caret line copies the
// tabs of the source line so that both line up at any tab width.
func picture(b *strings.Builder, s Span) {
	if s.File == nil {
		return
	}
	line, col := s.File.Position(s.Start)
	text := s.File.Line(line)
	if text == "" && s.Start >= len(s.File.Text) {
		return
	}
	// A very long line is cut around the place, so that the caret stays on screen.
	runes := []rune(text)
	from := 0
	const most = 160
	if len(runes) > most {
		from = max(0, min(col-1-most/2, len(runes)-most))
		runes = runes[from:min(from+most, len(runes))]
	}
	b.WriteString("    ")
	if from > 0 {
		b.WriteString("…")
	}
	for _, r := range runes {
		if r != '\t' && (r < ' ' || r == 0x7f) {
			r = '·' // a control character must not reach a terminal
		}
		b.WriteRune(r)
	}
	b.WriteString("\n    ")
	if from > 0 {
		b.WriteByte(' ')
	}
	for i, r := range runes {
		if i >= col-1-from {
			break
		}
		if r == '\t' {
			b.WriteByte('\t')
		} else {
			b.WriteByte(' ')
		}
	}
	n := 1
	if s.End > s.Start {
		end := min(s.End, len(s.File.Text))
		seg := string(s.File.Text[s.Start:end])
		if i := strings.IndexByte(seg, '\n'); i >= 0 {
			seg = seg[:i]
		}
		n = max(1, utf8.RuneCountInString(seg))
	}
	n = max(1, min(n, len(runes)-(col-1-from)))
	b.WriteString(strings.Repeat("^", n) + "\n")
}

// A List is a collection of reports. Its zero value is ready to use.
type List []*Diag

// Add appends an error and returns it, so that the caller can add a hint.
func (l *List) Add(span Span, code, format string, args ...any) *Diag {
	d := &Diag{Span: span, Code: code, Msg: short(fmt.Sprintf(format, args...))}
	*l = append(*l, d)
	return d
}

// short leaves out the middle of a message that names something endless.
func short(msg string) string {
	const head, foot = 600, 300
	if len(msg) <= head+foot {
		return msg
	}
	return strings.ToValidUTF8(msg[:head], "") + " … " + strings.ToValidUTF8(msg[len(msg)-foot:], "")
}

// Warn appends a finding and returns it.
func (l *List) Warn(span Span, code, format string, args ...any) *Diag {
	d := l.Add(span, code, format, args...)
	d.Warn = true
	return d
}

// HasErrors reports whether anything in the list is an error rather than a finding.
func (l List) HasErrors() bool {
	for _, d := range l {
		if !d.Warn {
			return true
		}
	}
	return false
}

// Sorted returns a copy in reading order (file, place, errors first, code,
// message) without doubles.
func (l List) Sorted() List {
	s := append(List(nil), l...)
	sort.SliceStable(s, func(i, j int) bool { return less(s[i], s[j]) })
	out := s[:0]
	for i, d := range s {
		if i > 0 && !less(s[i-1], d) && !less(d, s[i-1]) {
			continue
		}
		out = append(out, d)
	}
	return out
}

func less(a, b *Diag) bool {
	an, bn := "", ""
	if a.Span.File != nil {
		an = a.Span.File.Name
	}
	if b.Span.File != nil {
		bn = b.Span.File.Name
	}
	switch {
	case an != bn:
		return an < bn
	case a.Span.Start != b.Span.Start:
		return a.Span.Start < b.Span.Start
	case a.Warn != b.Warn:
		return b.Warn
	case a.Code != b.Code:
		return a.Code < b.Code
	}
	return a.Msg < b.Msg
}

// Err returns the sorted list as an error, or nil if it holds no errors
// (findings alone are not an error).
func (l List) Err() error {
	if !l.HasErrors() {
		return nil
	}
	return l.Sorted()
}

// Error gives every report in full.
func (l List) Error() string {
	var b strings.Builder
	for _, d := range l.Sorted() {
		b.WriteString(d.Report())
	}
	return b.String()
}
