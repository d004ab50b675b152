package build

import (
	"math"
	"strings"

	"workings/calc"
	"workings/calc/diag"
)

// auditLimits reports the limits of a release that do not hold, and those of
// which it is not proved that they do. Of DANGER and WARNING either is an error,
// which stops publishing until the design changes or the sheet accepts it in
// writing.
func auditLimits(res *calc.Result) diag.List {
	var list diag.List
	for _, l := range res.Limits() {
		if d := limitFinding(l); d != nil && l.Accepted == "" {
			list = append(list, d)
		}
	}
	return list
}

// limitFinding is what is to be said of a limit that is not proved to hold, as
// long as the sheet does not accept it; nil for any other.
func limitFinding(l *calc.Limit) *diag.Diag {
	d := &diag.Diag{Span: l.Pos, Data: RecordOfLimit(l)}
	grave := l.Signal == "danger" || l.Signal == "warning"
	switch l.Verdict {
	case calc.Broken:
		d.Code, d.Msg = "limit-broken", brokenText(l)
		switch {
		case grave:
			d.Hint = `change the design, or accept it in writing: accepted "why"`
		case len(l.Message) > 0:
			d.Hint = "its message is shown to the reader"
		default:
			d.Hint = `nobody is told: write else caution "…", or change the design`
		}
	case calc.Searched:
		d.Code, d.Msg = "limit-searched", limitName(l)+" holds where it was searched and is not proved"+worstText(l, "")
		d.Hint = `narrower tolerances and ranges may let it be proved; else accept it in writing: accepted "why"`
	default:
		return nil
	}
	d.Warn = !grave
	return d
}

// brokenText says which limit is broken, where and by what values, and what the
// reader is told.
func brokenText(l *calc.Limit) string {
	s := limitName(l) + " is broken"
	if l.Nominal {
		s += " in the worst case"
	}
	s += worstText(l, "not ")
	if m := limitMessage(l); m != "" {
		s += ` ("` + m + `")`
	}
	return s
}

// limitName is "the DANGER limit load".
func limitName(l *calc.Limit) string {
	if l.Signal == "" {
		return "the limit " + l.Name
	}
	return "the " + strings.ToUpper(l.Signal) + " limit " + l.Name
}

// worstText is what a limit comes to in its worst case, and at which values of
// its inputs: ": 77.4 W is not < 77 W at u = 26.4 V, r = 9 Ω".
func worstText(l *calc.Limit, not string) string {
	s := ""
	if left, right := l.Sides(); left != nil {
		s = ": " + left.String() + " is " + not + l.Op.String() + " " + right.String()
	}
	if at := l.Place(); at != "" {
		s += " at " + at
	}
	return s
}

// A LimitRecord is a limit as programs read it: in figures.json, in what the
// audit reports, in the derivation of a figure. Numbers are in full precision.
type LimitRecord struct {
	Name       string          `json:"name"`
	Verdict    string          `json:"verdict"` // "proved", "searched", "broken" or "unknown"
	Signal     string          `json:"signal,omitempty"`
	Accepted   string          `json:"accepted,omitempty"`   // the reason
	Operator   string          `json:"operator,omitempty"`   // of a single comparison
	WorstLeft  *QuantityRecord `json:"worst_left,omitempty"` // its sides in the worst case
	WorstRight *QuantityRecord `json:"worst_right,omitempty"`
	Margin     *float64        `json:"margin,omitempty"` // in SI, negative where it is broken
	At         []SettingRecord `json:"at,omitempty"`     // the worst place; of a broken limit, where it breaks
}

// A QuantityRecord is a number in a unit and in SI.
type QuantityRecord struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	SI    float64 `json:"si"`
}

// A SettingRecord is the value of an input at a place.
type SettingRecord struct {
	Name string `json:"name"`
	QuantityRecord
}

// RecordOfLimit is the record of a limit.
func RecordOfLimit(l *calc.Limit) LimitRecord {
	r := LimitRecord{Name: l.Name, Verdict: l.Verdict.String(), Signal: l.Signal, Accepted: l.Accepted}
	if !l.Known() {
		return r
	}
	if left, right := l.Sides(); left != nil {
		if a, b := quantityOf(left), quantityOf(right); a != nil && b != nil {
			r.Operator, r.WorstLeft, r.WorstRight = l.Op.String(), a, b
			if !math.IsNaN(l.Margin) && !math.IsInf(l.Margin, 0) {
				r.Margin = &l.Margin
			}
		}
	}
	for _, s := range l.At {
		r.At = append(r.At, SettingRecord{s.Name, QuantityRecord{inUnit(s.SI, s.Unit), s.Unit.Symbol, s.SI}})
	}
	return r
}

// quantityOf is nil for what is no finite number.
func quantityOf(s *calc.Shown) *QuantityRecord {
	v, ok := s.Value.(float64)
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &QuantityRecord{inUnit(v, s.Unit), s.Unit.Symbol, v}
}

// limitMessage is the message of a limit as plain text.
func limitMessage(l *calc.Limit) string {
	var b strings.Builder
	for _, p := range l.Message {
		if p.Shown != nil {
			b.WriteString(p.Shown.String())
		} else {
			b.WriteString(p.Text)
		}
	}
	return b.String()
}
