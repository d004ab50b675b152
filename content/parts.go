package content

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"workings/calc/diag"
)

// partColumns are the heads of parts.csv that have a meaning; others are kept
// in Part.Extra. A head may hold a unit in brackets. "must hold" is another
// word for critical. Mass and price are those of a piece, of a part that is
// used by length those of a metre. The cells of specification, critical and
// substitutes may hold figures, {= bed_x in mm }: they are looked up on the
// design sheet, or with the name of their block.
var partColumns = []string{"id", "name", "specification", "material", "kind", "mass", "price", "source",
	"pack", "spare", "critical", "substitutes", "by length"}

// partAliases are other words for some of them.
var partAliases = map[string]string{"must hold": "critical"}

// filledColumns are those whose cells may hold figures.
var filledColumns = []string{"specification", "critical", "substitutes"}

var partKinds = []string{"bought", "made", "standard", "tool", "consumable"}

// massUnits are the units in which a column of masses may be given, in kg
// (SI Brochure, 9th edition, 2.3.1 and table 8: the gram and the tonne).
var massUnits = map[string]float64{"mg": 1e-6, "g": 1e-3, "kg": 1, "t": 1e3}

var (
	partID   = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`)
	headUnit = regexp.MustCompile(`^(.*?)\s*[(\[]\s*([^()\[\]]*?)\s*[)\]]$`)
	currency = regexp.MustCompile(`^[A-Z]{3}$`) // form of an ISO 4217 code
	number   = regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$`)
)

// A partColumn is a column of parts.csv.
type partColumn struct {
	head string // as written
	name string // of partColumns, or "" for a further column
	unit string
	at   diag.Span
}

// A cell is a field of parts.csv at its place.
type cell struct {
	text string
	at   diag.Span
}

// loadParts reads parts.csv. A manual without one has no parts.
func (m *Manual) loadParts(list *diag.List) {
	f := m.readText(partsName, maxText, list)
	if f == nil {
		return
	}
	rows := readCSV(f, list)
	if len(rows) == 0 {
		list.Add(diag.Span{File: f}, "parts", "the parts list has no column heads").Hint = "its first line names the columns: id, name, …"
		return
	}
	columns, ok := partHeads(rows[0], list)
	if !ok {
		return
	}
	first := map[string]*Part{}
	// The cells with figures are read like a page that has nothing else.
	d := &draft{m: m, page: &Page{File: f}}
	defer func() {
		*list = append(*list, d.list...)
		m.Exprs = append(m.Exprs, d.exprs...)
	}()
	for _, row := range rows[1:] {
		if len(row) != len(columns) {
			d := list.Add(row[0].at, "parts", "this line has %d fields, the column heads are %d", len(row), len(columns))
			d.Hint = `a field that holds a comma needs quotes, as in "screw, M4"`
			continue
		}
		p := readPart(d, columns, row, list)
		if p == nil {
			continue
		}
		if twin := first[p.ID]; twin != nil {
			list.Add(p.Pos, "same-part", "two parts have the id %s", p.ID).
				Also = []diag.Note{{Span: twin.Pos, Msg: "the first is here"}}
			continue
		}
		first[p.ID] = p
		m.Parts = append(m.Parts, p)
	}
}

// readCSV reads all lines that hold anything. Fields are parted by the sign
// that the first line uses: comma, semicolon or tab.
func readCSV(f *diag.File, list *diag.List) [][]cell {
	r := csv.NewReader(bytes.NewReader(f.Text))
	r.FieldsPerRecord = -1
	r.Comma = separator(f.Line(1))
	var rows [][]cell
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		if err != nil {
			var pe *csv.ParseError
			if !errors.As(err, &pe) {
				list.Add(diag.Span{File: f}, "parts", "%s", err)
				return rows
			}
			at := min(f.LineStart(pe.Line)+max(pe.Column-1, 0), len(f.Text))
			d := list.Add(diag.Span{File: f, Start: at, End: min(at+1, len(f.Text))}, "parts", "%s", csvMessage(pe.Err))
			d.Hint = `a field with a quote in it is written "14"" board"`
			continue
		}
		row := make([]cell, len(fields))
		blank := true
		for i, s := range fields {
			line, col := r.FieldPos(i)
			at := min(f.LineStart(line)+col-1, len(f.Text))
			if at < len(f.Text) && f.Text[at] == '"' {
				at++
			}
			trimmed := strings.TrimSpace(s)
			if trimmed != "" {
				blank = false
				at += strings.Index(s, trimmed)
			}
			end := at + len(trimmed)
			if end > len(f.Text) || string(f.Text[at:end]) != trimmed { // doubled quotes or joined lines
				end = min(at+1, len(f.Text))
			}
			row[i] = cell{trimmed, diag.Span{File: f, Start: at, End: end}}
		}
		if !blank {
			rows = append(rows, row)
		}
	}
}

func csvMessage(err error) string {
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		return "a quote stands inside a field that does not begin with one"
	case errors.Is(err, csv.ErrQuote):
		return "a quoted field is not closed, or goes on after its closing quote"
	}
	return err.Error()
}

func separator(head string) rune {
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

// foldHead makes heads comparable: case, underscores and spaces do not count.
func foldHead(s string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(s, "_", " "))), " ")
}

func partHeads(row []cell, list *diag.List) (columns []partColumn, ok bool) {
	if len(row) > maxColumns {
		list.Add(row[maxColumns].at, "parts", "the parts list has %d columns, more than the %d that are read", len(row), maxColumns)
		return nil, false
	}
	ok = true
	first := map[string]partColumn{}
	for _, c := range row {
		col := partColumn{head: c.text, at: c.at}
		bare := foldHead(c.text)
		if mm := headUnit.FindStringSubmatch(c.text); mm != nil {
			bare, col.unit = foldHead(mm[1]), mm[2]
		}
		if known, ok := partAliases[bare]; ok {
			bare = known
		}
		for _, known := range partColumns {
			if bare == known {
				col.name = known
			}
		}
		key := col.name
		if key == "" {
			key = "+" + foldHead(c.text)
		}
		if twin, double := first[key]; double && c.text != "" {
			list.Add(c.at, "parts", "two columns are headed %s", c.text).
				Also = []diag.Note{{Span: twin.at, Msg: "the first is here"}}
			ok = false
		}
		first[key] = col
		switch {
		case col.name == "mass":
			if _, known := massUnits[col.unit]; !known {
				list.Add(c.at, "parts", "the masses need a unit of mass in their head").Hint = `write "mass (g)" or "mass (kg)"`
				col.name, ok = "", false
			}
		case col.name == "price":
			if !currency.MatchString(col.unit) {
				list.Add(c.at, "parts", "the prices need a currency in their head").Hint = `write three capital letters, as in "price (EUR)"`
				col.name, ok = "", false
			}
		case col.name != "" && col.unit != "":
			// "source (shop)" or "pack (pieces)": the remark in brackets does no harm.
		case col.name == "":
			if near := nearWord(bare, partColumns); near != "" {
				list.Warn(c.at, "parts", "the column %s is kept as it is: it has no meaning here", c.text).Hint = "did you mean " + near + "?"
			}
		}
		columns = append(columns, col)
	}
	for _, need := range []string{"id", "name"} {
		if _, there := first[need]; !there {
			list.Add(row[0].at, "parts", "the parts list has no column %s", need)
			ok = false
		}
	}
	return columns, ok
}

func readPart(d *draft, columns []partColumn, row []cell, list *diag.List) *Part {
	p := &Part{Pos: row[0].at}
	for i, col := range columns {
		c := row[i]
		var parts []FilledPart
		if strings.Contains(c.text, "{=") {
			parts = fillCell(d, col, c, list)
		}
		switch col.name {
		case "id":
			p.ID, p.Pos = c.text, c.at
		case "name":
			p.Name = c.text
			if c.text == "" {
				list.Add(c.at, "parts", "this part has no name")
			}
		case "specification":
			p.Specification, p.SpecificationParts = c.text, parts
		case "material":
			p.Material = c.text
		case "kind":
			p.Kind = strings.ToLower(c.text)
			if p.Kind != "" && !contains(partKinds, p.Kind) {
				d := list.Add(c.at, "parts", "there is no kind %s of part", c.text)
				if d.Hint = didYouMean(p.Kind, partKinds); d.Hint == "" {
					d.Hint = "the kinds are " + strings.Join(partKinds, ", ")
				}
			}
		case "mass":
			if v := readNumber(c, "mass", list); v != nil {
				kg := *v * massUnits[col.unit]
				p.Mass = &kg
			}
		case "price":
			p.Price, p.Currency = readNumber(c, "price", list), col.unit
		case "source":
			p.Source = c.text
		case "pack":
			p.Pack = readCount(c, list)
		case "spare":
			p.Spare = readCount(c, list)
		case "critical":
			p.Critical, p.CriticalParts = c.text, parts
		case "substitutes":
			p.Substitutes, p.SubstituteParts = c.text, parts
		case "by length":
			switch strings.ToLower(c.text) {
			case "yes":
				p.Length = true
			case "no", "":
			default:
				list.Add(c.at, "parts", "%q is neither yes nor no", c.text)
			}
		default:
			if c.text != "" && col.head != "" {
				if p.Extra == nil {
					p.Extra = map[string]string{}
				}
				p.Extra[col.head] = c.text
			}
		}
	}
	if p.Length && (p.Pack > 0 || p.Spare > 0) {
		list.Add(p.Pos, "parts", "a part that is used by length has no pack and no spare pieces").
			Hint = "say in its specification in which lengths it is sold, and add the waste in the steps"
	}
	switch {
	case p.ID == "":
		list.Add(p.Pos, "parts", "this part has no id")
		return nil
	case !partID.MatchString(p.ID):
		list.Add(p.Pos, "parts", "%q cannot be the id of a part", p.ID).
			Hint = "it begins with a letter and holds letters a to z, digits, _ and -"
		return nil
	}
	return p
}

// fillCell reads the figures of a cell.
func fillCell(d *draft, col partColumn, c cell, list *diag.List) []FilledPart {
	switch {
	case !contains(filledColumns, col.name):
		list.Add(c.at, "figure-place", "a figure cannot stand here").Hint = "this text is shown as it is written"
		return nil
	case c.at.Text() != c.text:
		list.Add(c.at, "figure-place", "a figure cannot stand in a cell with doubled quotes or line ends")
		return nil
	}
	parts := d.fill(c.at.Start, c.at.End)
	if !hasFigure(parts) {
		return nil
	}
	return parts
}

// readNumber reads a number that is not negative; an empty field is no number.
func readNumber(c cell, what string, list *diag.List) *float64 {
	if c.text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(c.text, 64)
	if !number.MatchString(c.text) || err != nil || math.IsInf(v, 0) {
		d := list.Add(c.at, "parts", "%q is no number for a %s", c.text, what)
		if strings.Contains(c.text, ",") {
			d.Hint = "write a decimal point and no thousands separator"
		}
		return nil
	}
	if v < 0 {
		list.Add(c.at, "parts", "a %s is not negative", what)
		return nil
	}
	return &v
}

func readCount(c cell, list *diag.List) int {
	if c.text == "" {
		return 0
	}
	n, err := strconv.Atoi(c.text)
	if err != nil || n < 0 || n > 1e9 {
		list.Add(c.at, "parts", "%q is no whole number of pieces", c.text)
		return 0
	}
	return n
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
