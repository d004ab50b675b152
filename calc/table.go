package calc

import (
	"encoding/csv"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// Bounds of a table.
const (
	maxRows    = 20_000
	maxColumns = 200
)

// A tableFile is a table that has been read once for all who name it.
type tableFile struct {
	v   *table
	typ Type
	ok  bool
}

// table checks `table "path"`: the table is read and checked now, so that the
// units of its columns are known before anything is computed.
func (p *Program) table(x *syntax.Table) (node, Type) {
	t := p.tables[x.Path.Value]
	if t == nil {
		t = &tableFile{}
		p.tables[x.Path.Value] = t
		p.readTable(x, t)
	}
	if !t.ok {
		return nil, invalid
	}
	return &constNode{val{o: t.v}}, t.typ
}

func (p *Program) readTable(x *syntax.Table, t *tableFile) {
	if p.in.Table == nil {
		p.errs.Add(x.Path.Pos, "missing-table", "there are no tables here")
		return
	}
	file, err := p.in.Table(x.Path.Value)
	if err != nil {
		p.errs.Add(x.Path.Pos, "missing-table", "the table %q cannot be read: %v", x.Path.Value, err).
			Hint = "the path starts at the manual's folder, as in \"tables/lamps.csv\""
		return
	}
	before := len(p.errs)
	t.v, t.typ = parseTable(file, &p.errs)
	t.ok = !p.errs[before:].HasErrors()
}

// parseTable reads comma-separated values with a head line. Units stand in the
// head: "length (mm)". A column without a unit whose cells are all numbers is
// a column of plain numbers, else one of texts.
func parseTable(file *diag.File, errs *diag.List) (*table, Type) {
	text := file.Text
	base := 0
	if strings.HasPrefix(string(text), "\uFEFF") {
		base = 3
	}
	r := csv.NewReader(strings.NewReader(string(text[base:])))
	r.FieldsPerRecord = -1
	r.LazyQuotes = false
	typ := Type{Kind: Table}
	tab := &table{}
	at := func(i int, s string) diag.Span {
		line, col := r.FieldPos(i)
		start := file.LineStart(line) + col - 1
		if line == 1 {
			start += base
		}
		start = min(start, len(file.Text))
		return diag.Span{File: file, Start: start, End: min(start+len(s), len(file.Text))}
	}
	problem := func(err error) {
		var pe *csv.ParseError
		span := diag.Span{File: file}
		msg := err.Error()
		if errors.As(err, &pe) {
			start := file.LineStart(pe.Line) + max(pe.Column-1, 0)
			span = diag.Span{File: file, Start: min(start, len(file.Text)), End: min(start+1, len(file.Text))}
			msg = pe.Err.Error()
			if errors.Is(pe.Err, csv.ErrBareQuote) || errors.Is(pe.Err, csv.ErrQuote) {
				msg = "a quote in the middle of a cell"
			}
		}
		errs.Add(span, "malformed-table", "%s", msg).Hint = `a cell with commas or quotes stands in quotes, with inner quotes doubled: "3"" pipe"`
	}
	head, err := r.Read()
	if err == io.EOF {
		errs.Add(diag.Span{File: file}, "malformed-table", "the table is empty").Hint = "the first line holds the heads of its columns"
		return nil, invalid
	}
	if err != nil {
		problem(err)
		return nil, invalid
	}
	if len(head) > maxColumns {
		errs.Add(diag.Span{File: file}, "malformed-table", "the table has %d columns, at most %d are read", len(head), maxColumns)
		return nil, invalid
	}
	if i := strings.IndexAny(head[0], ";\t"); len(head) == 1 && i >= 0 {
		span := at(0, head[0])
		if j := strings.IndexAny(span.Text(), ";\t"); j >= 0 {
			span = diag.Span{File: file, Start: span.Start + j, End: span.Start + j + 1}
		}
		errs.Add(span, "malformed-table", "the cells of a table are separated by commas").
			Hint = "save it as comma-separated values, with a point as the decimal sign"
		return nil, invalid
	}
	units := make([]*unit.Unit, len(head))
	seen := map[string]bool{}
	for i, h := range head {
		name, u, bad := columnHead(h)
		pos := at(i, h)
		if bad != "" {
			errs.Add(pos, "malformed-table", "the unit of the column %q: %s", h, bad).Hint = `a unit stands in brackets behind the name: "length (mm)"`
		}
		if name == "" {
			errs.Add(pos, "malformed-table", "column %d has no name", i+1).Hint = "give it one, or take the column out"
			name = "column_" + strconv.Itoa(i+1)
		}
		if seen[name] {
			errs.Add(pos, "malformed-table", "two columns are called %s", name).Hint = "rename one of them; letters count as small, and the unit is no part of the name"
		}
		seen[name] = true
		tab.cols = append(tab.cols, name)
		units[i] = u
	}
	type cell struct {
		text string
		pos  diag.Span
	}
	cells := make([][]cell, len(head))
	for {
		rec, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			problem(err)
			return nil, invalid
		}
		if len(rec) != len(head) {
			errs.Add(at(0, rec[0]), "malformed-table", "this row has %d cells, the head has %d", len(rec), len(head)).
				Hint = "a decimal comma splits a cell in two: write 1.5"
			continue
		}
		if tab.rows++; tab.rows > maxRows {
			errs.Add(at(0, rec[0]), "malformed-table", "the table has more than %d rows", maxRows)
			return nil, invalid
		}
		for i, s := range rec {
			cells[i] = append(cells[i], cell{strings.TrimSpace(s), at(i, s)})
		}
	}
	for i, name := range tab.cols {
		numeric := len(cells[i]) > 0
		nums := make([]float64, len(cells[i]))
		firstBad := -1
		for k, c := range cells[i] {
			v, ok := cellNumber(c.text)
			nums[k] = v
			if !ok && firstBad < 0 {
				firstBad = k
				numeric = false
			}
		}
		if units[i] != nil && !numeric && firstBad >= 0 {
			c := cells[i][firstBad]
			hint := "the unit stands in the head, and a cell holds a number alone"
			if c.text == "" {
				hint = "nothing stands for a missing number: fill the cell, or leave the row out"
			} else if s := strings.Replace(c.text, ",", ".", 1); s != c.text {
				if _, ok := cellNumber(s); ok {
					hint = "the decimal sign is a point: " + s
				}
			}
			errs.Add(c.pos, "malformed-table", "column %s is in %s, and %q is no number", name, units[i].Symbol, c.text).Hint = hint
			continue
		}
		f := TypeField{Name: name, Doc: head[i]}
		if numeric {
			u := unit.Unit{Factor: 1}
			if units[i] != nil {
				u = *units[i]
			}
			for k := range nums {
				nums[k] = u.ToSI(nums[k])
			}
			f.Type = quantity(u)
			f.Type.Chosen = true
			f.Type.Kind = List
			tab.vals = append(tab.vals, val{o: &vec{v: nums}})
		} else {
			texts := make([]string, len(cells[i]))
			for k, c := range cells[i] {
				texts[k] = c.text
			}
			f.Type = Type{Kind: List, Texts: true}
			tab.vals = append(tab.vals, val{o: texts})
		}
		typ.Fields = append(typ.Fields, f)
	}
	return tab, typ
}

// columnHead splits "heated length (mm)" into the name heated_length and its unit.
func columnHead(h string) (name string, u *unit.Unit, bad string) {
	h = strings.TrimSpace(h)
	if i := strings.LastIndexByte(h, '('); i >= 0 && strings.HasSuffix(h, ")") {
		sym := strings.TrimSpace(h[i+1 : len(h)-1])
		h = strings.TrimSpace(h[:i])
		parsed, err := unit.Parse(sym)
		if err != nil {
			bad = err.Error()
			parsed = unit.Unit{Factor: 1}
		}
		u = &parsed
	}
	return identifier(h), u, bad
}

// identifier makes a name of a column's head: "Heated length" is heated_length.
func identifier(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' {
			if gap && b.Len() > 0 {
				b.WriteByte('_')
			}
			gap = false
			if b.Len() == 0 && unicode.IsDigit(r) {
				b.WriteByte('_')
			}
			b.WriteRune(unicode.ToLower(r))
		} else {
			gap = true
		}
	}
	return b.String()
}

// cellNumber reads a decimal number as a spreadsheet exports it: no groups, a
// point as the decimal sign; a real minus sign is understood.
func cellNumber(s string) (float64, bool) {
	s = strings.Replace(s, "−", "-", 1)
	for _, r := range s {
		if !(r >= '0' && r <= '9' || r == '.' || r == '-' || r == '+' || r == 'e' || r == 'E') {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}
