// Package spreadsheet reads tables that a spreadsheet program saved as CSV
// (RFC 4180), every cell with its place in the file.
package spreadsheet

import (
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strings"

	"workings/calc/diag"
)

// A Cell is a field of a table, without the space around it, at its place.
type Cell struct {
	Text string
	At   diag.Span
}

// separatorLine names the separator on a line of its own, as some programs write.
var separatorLine = regexp.MustCompile(`^(?i)"?sep=([,;\t])"?\r?\n`)

// Read gives the rows of a table that hold anything, and the sign that parts
// its fields: comma, semicolon or tab, whichever the first line with text in it
// uses most. Rows may differ in length. Mistakes are reported under a code.
func Read(f *diag.File, code string, list *diag.List) (rows [][]Cell, separator rune) {
	text := string(f.Text)
	skip := 0
	if m := separatorLine.FindStringSubmatch(text); m != nil {
		separator, skip = rune(m[1][0]), len(m[0])
	} else {
		separator = likely(text)
	}
	r := csv.NewReader(strings.NewReader(text[skip:]))
	r.FieldsPerRecord, r.Comma = -1, separator
	start := func(line, col int) int {
		if skip > 0 {
			line++
		}
		return min(f.LineStart(line)+max(col-1, 0), len(f.Text))
	}
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, separator
		}
		if err != nil {
			var pe *csv.ParseError
			if !errors.As(err, &pe) {
				list.Add(diag.Span{File: f}, code, "%s", err)
				return rows, separator
			}
			at := start(pe.Line, pe.Column)
			list.Add(diag.Span{File: f, Start: at, End: min(at+1, len(f.Text))}, code, "%s", message(pe.Err)).
				Hint = `a field with a quote in it is written "14"" board"`
			continue
		}
		row, blank := make([]Cell, len(fields)), true
		for i, s := range fields {
			row[i] = cell(f, s, start(r.FieldPos(i)))
			blank = blank && row[i].Text == ""
		}
		if !blank {
			rows = append(rows, row)
		}
	}
}

// cell finds the text of a field that begins at a place.
func cell(f *diag.File, field string, at int) Cell {
	if at < len(f.Text) && f.Text[at] == '"' {
		at++
	}
	text := strings.TrimSpace(field)
	if text != "" {
		at += strings.Index(field, text)
	}
	end := at + len(text)
	if end > len(f.Text) || string(f.Text[at:end]) != text { // doubled quotes or joined lines
		end = min(at+1, len(f.Text))
	}
	return Cell{text, diag.Span{File: f, Start: at, End: end}}
}

func message(err error) string {
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		return "a quote stands inside a field that does not begin with one"
	case errors.Is(err, csv.ErrQuote):
		return "a quoted field is not closed, or goes on after its closing quote"
	}
	return err.Error()
}

func likely(text string) rune {
	head := ""
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) != "" {
			head = line
			break
		}
	}
	best, most := ',', 0
	for _, sep := range []rune{',', ';', '\t'} {
		n, quoted := 0, false
		for _, r := range head {
			switch {
			case r == '"':
				quoted = !quoted
			case r == sep && !quoted:
				n++
			}
		}
		if n > most {
			best, most = sep, n
		}
	}
	return best
}
