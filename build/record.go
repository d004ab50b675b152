package build

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/unit"
)

// recordName is the file of a manual that holds the figures on record: what
// was last accepted, so that a review shows moved numbers as a plain diff.
const recordName = "record.csv"

// recordDigits is how many significant digits of a value are on record. An
// uncertainty has four.
const recordDigits = 10

var recordHead = []string{"figure", "value", "unit", "uncertainty"}

// A recordRow is a figure on record. Value and uncertainty are in Unit; an
// uncertainty of a temperature is a difference.
type recordRow struct{ Figure, Value, Unit, Uncertainty string }

// Record accepts the figures of the working tree into record.csv, and returns
// how many there are. It writes nothing if the list holds errors.
func Record(dir string, opt Options) (int, diag.List, error) {
	src, closeDir, err := OpenDir(dir)
	if err != nil {
		return 0, nil, err
	}
	defer closeDir()
	r, list := LoadWorking(src, opt)
	if list.HasErrors() {
		return 0, list, nil
	}
	list, _ = accept(r, list, false, false) // what is accepted in writing needs no reading again
	rows := recordRows(r.Result)
	data, err := recordCSV(rows)
	if err != nil {
		return 0, list, err
	}
	testOnlyStep("record")
	return len(rows), list, writeWhole(filepath.Join(dir, recordName), data)
}

// recordRows are the figures of a release as they go on record, by name.
// Tables, functions and fields have no single value and are left out.
func recordRows(res *calc.Result) []recordRow {
	var rows []recordRow
	for _, f := range res.Figures() {
		if row, ok := recordRowOf(f); ok {
			rows = append(rows, row)
		}
	}
	slices.SortFunc(rows, func(a, b recordRow) int { return strings.Compare(a.Figure, b.Figure) })
	return rows
}

func recordRowOf(f *calc.Figure) (recordRow, bool) {
	rec, ok := recordOf(f)
	if !ok {
		return recordRow{}, false
	}
	row := recordRow{Figure: rec.Name, Unit: rec.Unit}
	number := func(x float64) string { return plainNumber(toDigits(x, recordDigits)) }
	switch v := rec.Value.(type) {
	case float64:
		row.Value = number(v)
	case []float64:
		s := make([]string, len(v))
		for i, x := range v {
			s[i] = number(x)
		}
		row.Value = strings.Join(s, "; ")
	case string:
		row.Value = v
	case []string:
		row.Value = strings.Join(v, "; ")
	case bool:
		row.Value = strconv.FormatBool(v)
	}
	if rec.Uncertainty != nil {
		difference := unit.Unit{Symbol: f.Unit.Symbol, Dim: f.Unit.Dim, Factor: f.Unit.Factor}
		row.Uncertainty = plainNumber(toDigits(difference.FromSI(*rec.Uncertainty), 4))
	}
	return row, true
}

func recordCSV(rows []recordRow) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	err := w.Write(recordHead)
	for _, r := range rows {
		err = errors.Join(err, w.Write([]string{r.Figure, r.Value, r.Unit, r.Uncertainty}))
	}
	w.Flush()
	return b.Bytes(), errors.Join(err, w.Error())
}

// auditRecord reports every figure that is not as it is on record, and what
// moved it: those parameters among its inputs that left the record themselves.
// A manual without a record is not checked.
func auditRecord(fsys fs.FS, r *Release) diag.List {
	var list diag.List
	data, err := fs.ReadFile(fsys, recordName)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	file := diag.NewFile(recordName, data)
	if err != nil {
		list.Add(diag.Span{File: file}, "record", "cannot read %s: %s", recordName, cause(err))
		return list
	}
	old, places := readRecord(file, &list)
	if list.HasErrors() {
		return list
	}
	a := recordAudit{res: r.Result, moved: map[string]bool{}}
	now := recordRows(r.Result)
	for _, row := range now {
		was, ok := old[row.Figure]
		if !ok {
			f := r.Result.Figure(row.Figure)
			list.Warn(f.Pos, "record", "%s is not on record: it is %s", row.Figure, row.text()).Hint = recordHint
			continue
		}
		if !row.same(was) {
			a.moved[row.Figure] = true
		}
	}
	for _, row := range now {
		if a.moved[row.Figure] {
			was := old[row.Figure]
			list.Warn(places[row.Figure], "record", "%s is %s, not %s as on record%s", row.Figure, row.text(), was.text(), a.why(row.Figure)).Hint = recordHint
		}
		delete(old, row.Figure)
	}
	for _, name := range slices.Sorted(maps.Keys(old)) {
		list.Warn(places[name], "record", "%s is on record with %s, but there is no such figure", name, old[name].text()).Hint = recordHint
	}
	return list
}

const recordHint = "if that is meant, accept it with `workings record` and let the diff be reviewed"

// readRecord reads record.csv: the rows by figure, and where each stands.
func readRecord(file *diag.File, list *diag.List) (map[string]recordRow, map[string]diag.Span) {
	rows, places := map[string]recordRow{}, map[string]diag.Span{}
	r := csv.NewReader(bytes.NewReader(file.Text))
	r.FieldsPerRecord = -1
	for first := true; ; first = false {
		row, err := r.Read()
		if err == io.EOF {
			return rows, places
		}
		if err != nil {
			at := diag.Span{File: file}
			var pe *csv.ParseError
			if errors.As(err, &pe) {
				at.Start = min(file.LineStart(pe.Line)+max(pe.Column-1, 0), len(file.Text))
				at.End, err = at.Start, pe.Err
			}
			list.Add(at, "record", "%v", err).Hint = "write it anew with `workings record`"
			return nil, nil
		}
		line, _ := r.FieldPos(0)
		start := file.LineStart(line)
		at := diag.Span{File: file, Start: start, End: min(start+len(row[0]), len(file.Text))}
		switch {
		case first && !slices.Equal(row, recordHead):
			list.Add(at, "record", "the head is not %s", strings.Join(recordHead, ",")).Hint = "write it anew with `workings record`"
			return nil, nil
		case first:
			continue
		case len(row) != len(recordHead):
			list.Add(at, "record", "this line has %d fields, want %d", len(row), len(recordHead)).Hint = "write it anew with `workings record`"
			continue
		}
		if _, twice := rows[row[0]]; twice {
			list.Add(at, "record", "%s is on record twice", row[0]).Hint = "write it anew with `workings record`"
		}
		rows[row[0]], places[row[0]] = recordRow{row[0], row[1], row[2], row[3]}, at
	}
}

func (r recordRow) text() string {
	s := r.Value
	if r.Uncertainty != "" {
		s += " uncertain " + r.Uncertainty
	}
	return withUnit(s, r.Unit)
}

// same reports whether two rows say the same, up to what another processor
// may leave in the last digit on record.
func (r recordRow) same(was recordRow) bool {
	if r == was {
		return true
	}
	return r.Unit == was.Unit && closeLists(r.Value, was.Value, 2e-9) && closeLists(r.Uncertainty, was.Uncertainty, 2e-3)
}

// closeLists compares texts, those of numbers by their values.
func closeLists(a, b string, most float64) bool {
	if a == b {
		return true
	}
	as, bs := strings.Split(a, "; "), strings.Split(b, "; ")
	if len(as) != len(bs) {
		return false
	}
	for i := range as {
		x, err := strconv.ParseFloat(as[i], 64)
		y, err2 := strconv.ParseFloat(bs[i], 64)
		if as[i] == bs[i] {
			continue
		}
		if err != nil || err2 != nil || !(abs(x-y) <= most*max(abs(x), abs(y))) {
			return false
		}
	}
	return true
}

func abs(x float64) float64 { return max(x, -x) }

type recordAudit struct {
	res   *calc.Result
	moved map[string]bool // figures that left their record
}

// why names what moved a figure, to be put behind the report.
func (a recordAudit) why(name string) string {
	f := a.res.Figure(name)
	if f.Parameter {
		return ": its line on the design sheet was changed"
	}
	var by []string
	seen := map[string]bool{}
	var visit func(f *calc.Figure)
	visit = func(f *calc.Figure) {
		if seen[f.Name] {
			return
		}
		seen[f.Name] = true
		if f.Name != name && a.moved[f.Name] && f.Fixed {
			by = append(by, f.Name)
		}
		if f.Parent != nil {
			visit(f.Parent)
		}
		for _, u := range f.Uses {
			visit(u)
		}
	}
	visit(f)
	slices.Sort(by)
	if len(by) > 0 {
		return ": moved by " + strings.Join(by, ", ")
	}
	var formulas []string
	for _, u := range f.Uses {
		if a.moved[u.Name] {
			formulas = append(formulas, u.Name)
		}
	}
	slices.Sort(formulas)
	if len(formulas) > 0 {
		return fmt.Sprintf(": moved by %s, while no parameter changed", strings.Join(slices.Compact(formulas), ", "))
	}
	return ": no parameter changed, so its formula, a table or a model is another"
}
