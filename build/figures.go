package build

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"

	"workings/calc"
	"workings/calc/unit"
)

// A figureRecord is one figure of figures.json. Numbers are in full precision;
// what is not known is left out.
type figureRecord struct {
	Name        string   `json:"name"`
	Value       any      `json:"value"` // in Unit: a number, a list of numbers, a text or true or false
	Unit        string   `json:"unit"`
	SI          any      `json:"si,omitempty"` // the same in SI, points on the temperature scale in kelvins
	SIUnit      string   `json:"si_unit"`
	Caption     string   `json:"caption,omitempty"`
	Parameter   bool     `json:"parameter"`
	Source      string   `json:"source,omitempty"`
	Plus        *float64 `json:"plus,omitempty"`  // tolerance, in SI
	Minus       *float64 `json:"minus,omitempty"` // without sign
	Uncertainty *float64 `json:"uncertainty,omitempty"`
	Coverage    *float64 `json:"coverage,omitempty"` // factor of the uncertainty
	Low         *float64 `json:"low,omitempty"`      // over the operating ranges, in SI
	High        *float64 `json:"high,omitempty"`
	Least       *float64 `json:"least,omitempty"` // over tolerances and operating ranges together, in SI
	Greatest    *float64 `json:"greatest,omitempty"`
	Searched    bool     `json:"searched,omitempty"` // the ends are the worst that a search found, and not proved
}

// figuresJSON writes the figures and limits of a release, one a line, so that a
// change reads well in a comparison of files. Figures that are not available and
// those without a single value (tables, functions, fields) are left out.
func figuresJSON(tool Tool, manual, release string, figures []*calc.Figure, limits []*calc.Limit) ([]byte, error) {
	var b bytes.Buffer
	head := func(name string, v any) error {
		b.WriteString(` "` + name + `": `)
		if err := encode(&b, v); err != nil {
			return err
		}
		b.WriteString(",\n")
		return nil
	}
	b.WriteString("{\n")
	if err := head("tool", tool); err != nil {
		return nil, err
	}
	if err := head("manual", manual); err != nil {
		return nil, err
	}
	if err := head("release", release); err != nil {
		return nil, err
	}
	sep := ""
	list := func(name string) {
		b.WriteString(` "` + name + `": [`)
		sep = "\n  "
	}
	line := func(v any) error {
		b.WriteString(sep)
		sep = ",\n  "
		return encode(&b, v)
	}
	list("figures")
	for _, f := range figures {
		if rec, ok := recordOf(f); ok {
			if err := line(rec); err != nil {
				return nil, err
			}
		}
	}
	b.WriteString("\n ],\n")
	list("limits")
	for _, l := range limits {
		if err := line(RecordOfLimit(l)); err != nil {
			return nil, err
		}
	}
	b.WriteString("\n ]\n}\n")
	return b.Bytes(), nil
}

// encode writes a value on one line, leaving < and & as they are.
func encode(b *bytes.Buffer, v any) error {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the line end
	return nil
}

func recordOf(f *calc.Figure) (figureRecord, bool) {
	r := figureRecord{Name: f.Name, Caption: f.Caption, Parameter: f.Parameter, Source: f.From}
	switch v := f.Value.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return r, false
		}
		r.Value, r.SI = inUnit(v, f.Unit), v
		r.spread(f.Spread)
	case []float64:
		list := make([]float64, len(v))
		for i, x := range v {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return r, false
			}
			list[i] = inUnit(x, f.Unit)
		}
		r.Value, r.SI = list, v
	case string:
		r.Value = v
		return r, true
	case []string:
		r.Value = v
		return r, true
	case bool:
		r.Value = v
		return r, true
	default:
		return r, false
	}
	r.Unit = f.Unit.Symbol
	r.SIUnit = f.Unit.Dim.String()
	return r, true
}

func (r *figureRecord) spread(s *calc.Spread) {
	if s == nil {
		return
	}
	some := func(x float64) *float64 {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil
		}
		return &x
	}
	if s.TolLo > 0 || s.TolHi > 0 {
		r.Plus, r.Minus = some(s.TolHi), some(s.TolLo)
	}
	if s.U > 0 {
		r.Uncertainty, r.Coverage = some(s.U), some(s.K)
	}
	if s.Ranged {
		r.Low, r.High = some(s.Low), some(s.High)
	}
	if s.Moves() {
		r.Least, r.Greatest, r.Searched = some(s.Least), some(s.Greatest), s.Searched
	}
}

// inUnit converts an SI value to a unit, to the fifteen digits that a number
// keeps for certain, so that 220 mm does not read 220.00000000000003. The SI
// value beside it is exact.
func inUnit(si float64, u unit.Unit) float64 { return toDigits(u.FromSI(si), 15) }

// toDigits rounds to significant digits.
func toDigits(x float64, n int) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n-1, 64), 64)
	if err != nil {
		return x
	}
	return short
}
