package content

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"workings/calc/diag"
	"workings/content/spreadsheet"
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

// loadParts reads parts.csv. A manual without one has no parts.
func (m *Manual) loadParts(list *diag.List) {
	f := m.readText(partsName, maxText, list)
	if f == nil {
		return
	}
	rows, _ := spreadsheet.Read(f, "parts", list)
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
			d := list.Add(row[0].At, "parts", "this line has %d fields, the column heads are %d", len(row), len(columns))
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

// foldHead makes heads comparable: case, underscores and spaces do not count.
func foldHead(s string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(s, "_", " "))), " ")
}

func partHeads(row []spreadsheet.Cell, list *diag.List) (columns []partColumn, ok bool) {
	if len(row) > maxColumns {
		list.Add(row[maxColumns].At, "parts", "the parts list has %d columns, more than the %d that are read", len(row), maxColumns)
		return nil, false
	}
	ok = true
	first := map[string]partColumn{}
	for _, c := range row {
		col := partColumn{head: c.Text, at: c.At}
		bare := foldHead(c.Text)
		if mm := headUnit.FindStringSubmatch(c.Text); mm != nil {
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
			key = "+" + foldHead(c.Text)
		}
		if twin, double := first[key]; double && c.Text != "" {
			list.Add(c.At, "parts", "two columns are headed %s", c.Text).
				Also = []diag.Note{{Span: twin.at, Msg: "the first is here"}}
			ok = false
		}
		first[key] = col
		switch {
		case col.name == "mass":
			if _, known := massUnits[col.unit]; !known {
				list.Add(c.At, "parts", "the masses need a unit of mass in their head").Hint = `write "mass (g)" or "mass (kg)"`
				col.name, ok = "", false
			}
		case col.name == "price":
			if !currency.MatchString(col.unit) {
				list.Add(c.At, "parts", "the prices need a currency in their head").Hint = `write three capital letters, as in "price (EUR)"`
				col.name, ok = "", false
			}
		case col.name != "" && col.unit != "":
			// "source (shop)" or "pack (pieces)": the remark in brackets does no harm.
		case col.name == "":
			if near := nearWord(bare, partColumns); near != "" {
				list.Warn(c.At, "parts", "the column %s is kept as it is: it has no meaning here", c.Text).Hint = "did you mean " + near + "?"
			}
		}
		columns = append(columns, col)
	}
	for _, need := range []string{"id", "name"} {
		if _, there := first[need]; !there {
			list.Add(row[0].At, "parts", "the parts list has no column %s", need)
			ok = false
		}
	}
	return columns, ok
}

func readPart(d *draft, columns []partColumn, row []spreadsheet.Cell, list *diag.List) *Part {
	p := &Part{Pos: row[0].At}
	for i, col := range columns {
		c := row[i]
		var parts []FilledPart
		if strings.Contains(c.Text, "{=") {
			parts = fillCell(d, col, c, list)
		}
		switch col.name {
		case "id":
			p.ID, p.Pos = c.Text, c.At
		case "name":
			p.Name = c.Text
			if c.Text == "" {
				list.Add(c.At, "parts", "this part has no name")
			}
		case "specification":
			p.Specification, p.SpecificationParts = c.Text, parts
		case "material":
			p.Material = c.Text
		case "kind":
			p.Kind = strings.ToLower(c.Text)
			if p.Kind != "" && !contains(partKinds, p.Kind) {
				d := list.Add(c.At, "parts", "there is no kind %s of part", c.Text)
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
			p.Source = c.Text
		case "pack":
			p.Pack = readCount(c, list)
		case "spare":
			p.Spare = readCount(c, list)
		case "critical":
			p.Critical, p.CriticalParts = c.Text, parts
		case "substitutes":
			p.Substitutes, p.SubstituteParts = c.Text, parts
		case "by length":
			switch strings.ToLower(c.Text) {
			case "yes":
				p.Length = true
			case "no", "":
			default:
				list.Add(c.At, "parts", "%q is neither yes nor no", c.Text)
			}
		default:
			if c.Text != "" && col.head != "" {
				if p.Extra == nil {
					p.Extra = map[string]string{}
				}
				p.Extra[col.head] = c.Text
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
func fillCell(d *draft, col partColumn, c spreadsheet.Cell, list *diag.List) []FilledPart {
	switch {
	case !contains(filledColumns, col.name):
		list.Add(c.At, "figure-place", "a figure cannot stand here").Hint = "this text is shown as it is written"
		return nil
	case c.At.Text() != c.Text:
		list.Add(c.At, "figure-place", "a figure cannot stand in a cell with doubled quotes or line ends")
		return nil
	}
	parts := d.fill(c.At.Start, c.At.End)
	if !hasFigure(parts) {
		return nil
	}
	return parts
}

// readNumber reads a number that is not negative; an empty field is no number.
func readNumber(c spreadsheet.Cell, what string, list *diag.List) *float64 {
	if c.Text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(c.Text, 64)
	if !number.MatchString(c.Text) || err != nil || math.IsInf(v, 0) {
		d := list.Add(c.At, "parts", "%q is no number for a %s", c.Text, what)
		if strings.Contains(c.Text, ",") {
			d.Hint = "write a decimal point and no thousands separator"
		}
		return nil
	}
	if v < 0 {
		list.Add(c.At, "parts", "a %s is not negative", what)
		return nil
	}
	return &v
}

func readCount(c spreadsheet.Cell, list *diag.List) int {
	if c.Text == "" {
		return 0
	}
	n, err := strconv.Atoi(c.Text)
	if err != nil || n < 0 || n > 1e9 {
		list.Add(c.At, "parts", "%q is no whole number of pieces", c.Text)
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
