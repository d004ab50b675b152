package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"workings/calc/diag"
	"workings/calc/unit"
	"workings/content/spreadsheet"
)

// A table of parameters in CSV becomes a design sheet. What cannot be read
// without a guess is an error: a number that is off by a thousand is worse
// than none.

// paramHeads are the columns and the names under which programs write them;
// case and blanks do not count.
var paramHeads = map[string][]string{
	"name":      {"name", "parameter", "variable", "symbol"},
	"value":     {"value", "nominal", "amount"},
	"unit":      {"unit", "units"},
	"caption":   {"comment", "comments", "caption", "description", "note", "notes", "remark"},
	"tolerance": {"tolerance", "tol", "±", "+/-"},
	"source":    {"source", "from"},
}

// Bounds on what is read.
const (
	maxTable = 4 << 20 // bytes
	maxRows  = 10000
)

// A paramSheet is a design sheet being made from a table.
type paramSheet struct {
	params  []param
	changed []string // what was written otherwise than in the table
}

type param struct {
	name, value, unit, tolerance, caption, source string
}

// readParameters reads a table of parameters. The list holds every mistake
// with its line and column, and as findings the columns that are left out.
func readParameters(file string, data []byte) (*paramSheet, diag.List) {
	var list diag.List
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	f := diag.NewFile(file, data)
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		list.Add(diag.Span{File: diag.NewFile(file, nil)}, "not-utf8", "this table is in UTF-16").Hint = "export it as CSV in UTF-8"
		return nil, list
	case len(data) > maxTable:
		list.Add(diag.Span{File: diag.NewFile(file, nil)}, "too-large", "this table is larger than %d MiB", maxTable>>20)
		return nil, list
	case !utf8.Valid(data):
		at := 0
		for at < len(data) {
			r, n := utf8.DecodeRune(data[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		list.Add(diag.Span{File: f, Start: at, End: at + 1}, "not-utf8", "this is no UTF-8 text").Hint = "export the table as CSV in UTF-8"
		return nil, list
	}
	rows, sep := paramRows(f, &list)
	if len(rows) == 0 {
		if !list.HasErrors() {
			list.Add(diag.Span{File: f}, "no-heads", "the table is empty").Hint = "its first line names the columns: name, value, unit, comment"
		}
		return nil, list
	}
	columns, headUnit, ok := paramColumns(rows[0], &list)
	if !ok {
		return nil, list
	}
	if len(rows) > maxRows {
		list.Add(rows[maxRows][0].At, "too-large", "the table has more than %d rows", maxRows)
		return nil, list
	}
	if len(rows) == 1 {
		list.Add(diag.Span{File: f}, "no-parameters", "the table has heads and no parameters")
		return nil, list
	}
	oneDecimalSign(rows[1:], columns["value"], sep, &list)
	s := &paramSheet{}
	names := map[string]diag.Span{}
	for _, row := range rows[1:] {
		if len(row) > len(rows[0]) {
			d := list.Add(row[len(rows[0])].At, "fields", "this line has %d fields, the heads are %d", len(row), len(rows[0]))
			d.Hint = fmt.Sprintf("a field that holds %s needs quotes", separatorWord(sep))
			continue
		}
		s.read(row, columns, headUnit, sep, names, &list)
	}
	if list.HasErrors() {
		return nil, list
	}
	return s, list
}

// paramRows splits a table into cells at their places; blank lines are left out,
// and runs of spaces in a cell are one.
func paramRows(f *diag.File, list *diag.List) ([][]spreadsheet.Cell, rune) {
	rows, sep := spreadsheet.Read(f, "csv", list)
	for _, row := range rows {
		for i := range row {
			row[i].Text = strings.Join(strings.Fields(row[i].Text), " ")
		}
	}
	return rows, sep
}

func separatorWord(sep rune) string {
	switch sep {
	case ';':
		return "a semicolon"
	case '\t':
		return "a tab"
	}
	return "a comma"
}

var bracketed = regexp.MustCompile(`^(.*?)\s*[(\[]\s*([^()\[\]]*(?:\([^()]*\)[^()\[\]]*)?)\s*[)\]]$`)

// paramColumns finds the columns by their heads. A head may hold a unit, as in
// "value (mm)": it is that of all values without one.
func paramColumns(heads []spreadsheet.Cell, list *diag.List) (columns map[string]int, headUnit spreadsheet.Cell, ok bool) {
	columns = map[string]int{}
	var left []string
	for i, h := range heads {
		text := h.Text
		unitText := ""
		if m := bracketed.FindStringSubmatch(text); m != nil {
			text, unitText = m[1], m[2]
		}
		col := ""
		for _, c := range slices.Sorted(maps.Keys(paramHeads)) {
			for _, w := range paramHeads[c] {
				if foldHead(text) == foldHead(w) {
					col = c
				}
			}
		}
		if col == "" {
			if h.Text != "" {
				left = append(left, h.Text)
			}
			continue
		}
		if j, twice := columns[col]; twice {
			list.Add(h.At, "heads", "two columns hold the %s: %s and %s", col, heads[j].Text, h.Text).
				Also = []diag.Note{{Span: heads[j].At, Msg: "the first is here"}}
			continue
		}
		columns[col] = i
		if col == "value" && unitText != "" {
			headUnit = spreadsheet.Cell{Text: unitText, At: h.At}
		}
	}
	for _, need := range []string{"name", "value"} {
		if _, found := columns[need]; !found {
			d := list.Add(heads[0].At.Join(heads[len(heads)-1].At), "heads", "no column is headed %s", need)
			d.Hint = "the first line names the columns: name, value, unit, comment"
			if len(heads) == 1 {
				d.Hint += "; they are parted by commas, semicolons or tabs"
			}
		}
	}
	if list.HasErrors() {
		return nil, spreadsheet.Cell{}, false
	}
	for _, h := range left {
		for _, c := range heads {
			if c.Text == h {
				list.Warn(c.At, "heads", "the column %s is left out", h).Hint = "columns read are name, value, unit, comment, tolerance and source"
				break
			}
		}
	}
	return columns, headUnit, true
}

func foldHead(s string) string {
	return strings.NewReplacer(" ", "", "_", "", "-", "").Replace(strings.ToLower(s))
}

// oneDecimalSign refuses points in a table whose values have decimal commas:
// they may part thousands.
func oneDecimalSign(rows [][]spreadsheet.Cell, value int, sep rune, list *diag.List) {
	if sep != ';' {
		return
	}
	var comma *spreadsheet.Cell
	for i := range rows {
		if value < len(rows[i]) && strings.Contains(rows[i][value].Text, ",") {
			comma = &rows[i][value]
			break
		}
	}
	for _, row := range rows {
		if comma != nil && value < len(row) && strings.Contains(row[value].Text, ".") && !strings.Contains(row[value].Text, ",") {
			d := list.Add(row[value].At, "bad-value", "%s has a point where others have a decimal comma", row[value].Text)
			d.Hint = "write all values with the same decimal sign, and none of thousands"
			d.Also = []diag.Note{{Span: comma.At, Msg: "a decimal comma is here"}}
		}
	}
}

// read reads one row.
func (s *paramSheet) read(row []spreadsheet.Cell, columns map[string]int, headUnit spreadsheet.Cell, sep rune, names map[string]diag.Span, list *diag.List) {
	cell := func(col string) spreadsheet.Cell {
		if i, ok := columns[col]; ok && i < len(row) {
			return row[i]
		}
		end := row[len(row)-1].At
		return spreadsheet.Cell{At: diag.Span{File: end.File, Start: end.End, End: end.End}}
	}
	before := len(*list)
	var p param
	nameCell, unitCell := cell("name"), cell("unit")
	given := nameCell.Text
	if given == "" {
		list.Add(nameCell.At, "no-name", "this parameter has no name")
	} else {
		text := given
		if m := bracketed.FindStringSubmatch(text); m != nil && unitCell.Text == "" {
			if _, err := sheetUnit(m[2]); err == nil { // length (mm)
				text, unitCell = m[1], spreadsheet.Cell{Text: m[2], At: nameCell.At}
			}
		}
		p.name = sheetName(text)
		first, twice := names[p.name]
		switch {
		case p.name == "":
			list.Add(nameCell.At, "bad-name", "%q has no letter to make a name of", given)
		case twice:
			d := list.Add(nameCell.At, "same-name", "two parameters are called %s", p.name)
			if given != p.name {
				d.Hint = fmt.Sprintf("%q is written so on the sheet", given)
			}
			d.Also = []diag.Note{{Span: first, Msg: "the first is here"}}
		default:
			names[p.name] = nameCell.At
		}
	}
	valueCell := cell("value")
	number, inValue := splitNumber(valueCell.Text)
	if n, msg, hint := plainNumber(number, sep); msg != "" {
		d := list.Add(valueCell.At, "bad-value", "%s", strings.ReplaceAll(msg, "%", valueCell.Text))
		d.Hint = hint
	} else {
		p.value = n
	}
	switch {
	case inValue != "" && unitCell.Text != "" && inValue != unitCell.Text:
		list.Add(valueCell.At, "two-units", "the value is in %s, its unit is %s", inValue, unitCell.Text)
	case inValue != "":
		unitCell = spreadsheet.Cell{Text: inValue, At: valueCell.At}
	case unitCell.Text == "":
		unitCell = spreadsheet.Cell{Text: headUnit.Text, At: valueCell.At}
	}
	unitText, err := sheetUnit(unitCell.Text)
	if err != nil && p.value != "" {
		d := list.Add(unitCell.At, "bad-unit", "%s", err.Msg)
		d.Hint = err.Hint
	}
	p.unit = unitText
	tolCell := cell("tolerance")
	if tol, msg, hint := sheetTolerance(tolCell.Text, unitCell.Text, sep); msg != "" {
		list.Add(tolCell.At, "bad-tolerance", "%s", msg).Hint = hint
	} else {
		p.tolerance = tol
	}
	p.caption, p.source = cell("caption").Text, cell("source").Text
	if len(*list) > before {
		return
	}
	for _, wrong := range compiled(p.name + " = " + p.set()) {
		list.Add(valueCell.At, wrong.Code, "%s", wrong.Msg).Hint = wrong.Hint
		return
	}
	if given != p.name {
		s.changed = append(s.changed, fmt.Sprintf("%q is called %s", given, p.name))
	}
	if unitCell.Text != p.unit && unitCell.Text != "" {
		if p.unit == "" {
			s.changed = append(s.changed, fmt.Sprintf("%s: the unit %q is left out: it is a plain number", p.name, unitCell.Text))
		} else {
			s.changed = append(s.changed, fmt.Sprintf("%s: the unit %q is written %s", p.name, unitCell.Text, p.unit))
		}
	}
	s.params = append(s.params, p)
}

// sheetName makes a name of the sheet language: letters, digits and _. A name
// that is one already is kept as it is; others become words in small letters.
func sheetName(s string) string {
	var b strings.Builder
	clean := true
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' {
			b.WriteRune(r)
		} else {
			b.WriteByte('_')
			clean = false
		}
	}
	name := b.String()
	if !clean {
		for strings.Contains(name, "__") {
			name = strings.ReplaceAll(name, "__", "_")
		}
		name = strings.ToLower(strings.Trim(name, "_"))
	}
	if strings.Trim(name, "_0123456789") == "" && strings.Trim(name, "_") == "" {
		return ""
	}
	if r, _ := utf8.DecodeRuneInString(name); unicode.IsDigit(r) {
		name = "p_" + name
	}
	for !goodName(name) && len(name) < 100 {
		name += "_1"
	}
	return name
}

var leadingNumber = regexp.MustCompile(`^([+\-−]?[0-9][0-9.,]*(?:[eE][+-]?[0-9]+)?|[+\-−]?[.,][0-9]+(?:[eE][+-]?[0-9]+)?)\s*([^0-9\s.,+*/^-].*)?$`)

// splitNumber parts "30 mm" into number and unit.
func splitNumber(s string) (number, unitText string) {
	if m := leadingNumber.FindStringSubmatch(s); m != nil {
		return m[1], m[2]
	}
	return s, ""
}

var plainForm = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?$`)

// plainNumber is a number as the sheet writes it, its digits kept. msg says
// what is wrong, with % for the cell's text.
func plainNumber(s string, sep rune) (n, msg, hint string) {
	s = strings.ReplaceAll(s, "−", "-")
	commas, dots := strings.Count(s, ","), strings.Count(s, ".")
	switch {
	case s == "":
		return "", "this parameter has no value", ""
	case strings.HasPrefix(s, "#"):
		return "", "% is an error of the spreadsheet", "mend it there and export again"
	case strings.HasPrefix(s, "="):
		return "", "% is a formula", "export values; formulas go on the sheet by hand"
	case commas > 0 && dots > 0, commas > 1, dots > 1:
		return "", "% may be read in two ways", "write it without separators of thousands"
	case commas == 1 && sep != ';':
		return "", "% may be a decimal comma or a thousand", "write a point in place of a decimal comma; part a table with decimal commas by semicolons"
	case commas == 1:
		s = strings.Replace(s, ",", ".", 1)
	}
	if !plainForm.MatchString(s) {
		return "", "% is no number", "a parameter is a number; text and formulas go on the sheet by hand"
	}
	if x, err := strconv.ParseFloat(s, 64); err != nil || math.IsInf(x, 0) {
		return "", "% is out of all proportion", ""
	}
	s = strings.TrimPrefix(s, "+")
	mantissa, exp, _ := strings.Cut(strings.ToLower(s), "e")
	neg := strings.HasPrefix(mantissa, "-")
	mantissa = strings.TrimSuffix(strings.TrimPrefix(mantissa, "-"), ".")
	if strings.HasPrefix(mantissa, ".") {
		mantissa = "0" + mantissa
	}
	if exp != "" {
		mantissa += "e" + strings.TrimPrefix(exp, "+")
	}
	if neg {
		mantissa = "-" + mantissa
	}
	return mantissa, "", ""
}

// noUnit are the signs that programs write where there is no unit.
var noUnit = map[string]bool{"": true, "-": true, "–": true, "—": true, "1": true, "none": true, "unitless": true, "ul": true, "dimensionless": true, "n/a": true, "pcs": true}

// unitWords are units under names that mean one thing only; an s at the end is
// left out before they are looked up.
var unitWords = map[string]string{
	"millimeter": "mm", "millimetre": "mm", "centimeter": "cm", "centimetre": "cm", "meter": "m", "metre": "m",
	"inch": "in", "inche": "in", "feet": "ft", "foot": "ft", `"`: "in", "degree": "°", "percent": "%", "second": "s", "minute": "min", "hour": "h",
	"gram": "g", "kilogram": "kg", "newton": "N", "watt": "W", "volt": "V", "ampere": "A", "kelvin": "K", "celsius": "°C",
	"°c": "°C", "deg c": "°C", "liter": "L", "litre": "L", "rev/min": "rpm", "euro": "EUR", "€": "EUR",
}

var powerDigits = regexp.MustCompile(`(\p{L})([+-]?[0-9]+)`)

// sheetUnit is a unit in the spelling of the sheet, "" for a plain number.
func sheetUnit(s string) (string, *unit.ParseError) {
	s = strings.TrimSpace(s)
	if noUnit[strings.ToLower(s)] {
		return "", nil
	}
	word := strings.ToLower(s)
	if w := unitWords[word]; w != "" {
		return w, nil
	}
	if w := unitWords[strings.TrimSuffix(word, "s")]; w != "" {
		return w, nil
	}
	if s == "Nm" || s == "Ncm" || s == "Nmm" { // newton metres; nm in small letters is the nanometre
		s = "N*" + s[1:]
	}
	t := strings.NewReplacer(" * ", "*", " / ", "/", "·", "*", "×", "*", "⋅", "*").Replace(s)
	t = strings.ReplaceAll(t, " ", "*")
	t = powerDigits.ReplaceAllString(t, "$1^$2")
	u, err := unit.Parse(t)
	if err != nil {
		var pe *unit.ParseError
		if errors.As(err, &pe) {
			return "", pe
		}
		return "", &unit.ParseError{Msg: err.Error()}
	}
	if rest, ok := strings.CutPrefix(u.Symbol, "1/"); ok { // behind a number this would read as a division
		return "per " + rest, nil
	}
	return u.Symbol, nil
}

var signedPair = regexp.MustCompile(`^\+\s*([0-9.,eE]+)\s*/?\s*[-−]\s*([0-9.,eE]+)$`)

// sheetTolerance is a tolerance as the sheet writes it: 0.2, ±0.2, +0.1/-0 or
// 5 %, in the unit of its value.
func sheetTolerance(s, unitText string, sep rune) (tol, msg, hint string) {
	t := strings.TrimSpace(s)
	if t == "" || t == "-" || t == "–" {
		return "", "", ""
	}
	if unitText != "" {
		t = strings.TrimSpace(strings.TrimSuffix(t, unitText))
	}
	hint = "write 0.2, ±0.2, +0.1/-0 or 5 %, in the unit of the value"
	if m := signedPair.FindStringSubmatch(t); m != nil {
		hi, msg1, _ := plainNumber(m[1], sep)
		lo, msg2, _ := plainNumber(m[2], sep)
		if msg1 == "" && msg2 == "" {
			return "+" + hi + " -" + lo, "", ""
		}
		return "", fmt.Sprintf("%q is no tolerance", s), hint
	}
	for _, sign := range []string{"±", "+/-", "+-", "+/−"} {
		t = strings.TrimSpace(strings.TrimPrefix(t, sign))
	}
	percent := strings.HasSuffix(t, "%")
	n, bad, _ := plainNumber(strings.TrimSpace(strings.TrimSuffix(t, "%")), sep)
	if bad != "" || strings.HasPrefix(n, "-") {
		return "", fmt.Sprintf("%q is no tolerance", s), hint
	}
	if x, err := strconv.ParseFloat(n, 64); err == nil && x == 0 {
		return "", "", "" // no spread is not a spread of nothing
	}
	if percent {
		n += " %"
	}
	return "± " + n, "", ""
}
