package main

import (
	"encoding/json"
	"io"
	"maps"
	"math"
	"slices"

	"workings/build"
	"workings/calc"
)

// A derivation is how a figure came about, as `workings explain --format json`
// prints it. Values are in the unit beside them; si values are in SI, points
// on the temperature scale in kelvins. What is not known is left out.
type derivation struct {
	derived
	Formula     string            `json:"formula,omitempty"` // in the sheet language
	PutIn       string            `json:"put_in,omitempty"`  // the formula with values
	Given       string            `json:"given,omitempty"`   // a parameter as it is written
	PartOf      string            `json:"part_of,omitempty"` // the record whose field it is
	Spread      *spreadJSON       `json:"spread,omitempty"`
	Source      string            `json:"source,omitempty"`
	Because     string            `json:"because,omitempty"`
	Place       *place            `json:"place,omitempty"`
	Pages       []string          `json:"pages,omitempty"`
	From        []derived         `json:"from,omitempty"`
	UsedBy      []string          `json:"used_by,omitempty"`
	Models      []modelJSON       `json:"models,omitempty"`
	Limits      []limitJSON       `json:"limits,omitempty"`
	CrossChecks []crossJSON       `json:"crosschecks,omitempty"`
	Set         map[string]string `json:"set,omitempty"`    // values put in place of parameters
	Before      *derived          `json:"before,omitempty"` // without them
	Sweep       *sweepJSON        `json:"sweep,omitempty"`
	Trials      *trialsJSON       `json:"trials,omitempty"`
}

// derived is a figure with its value.
type derived struct {
	Name    string   `json:"name"`
	Caption string   `json:"caption,omitempty"`
	Value   any      `json:"value"`
	Unit    string   `json:"unit"`
	SI      *float64 `json:"si,omitempty"`
	SIUnit  string   `json:"si_unit"`
}

// spreadJSON is in SI.
type spreadJSON struct {
	Std         float64     `json:"standard_uncertainty,omitempty"`
	DOF         *float64    `json:"degrees_of_freedom,omitempty"`
	Coverage    float64     `json:"coverage_factor,omitempty"`
	Uncertainty float64     `json:"expanded_uncertainty,omitempty"`
	TolLo       float64     `json:"tolerance_below,omitempty"`
	TolHi       float64     `json:"tolerance_above,omitempty"`
	TolRSS      float64     `json:"tolerance_root_sum_square,omitempty"`
	Low         *float64    `json:"low,omitempty"`
	High        *float64    `json:"high,omitempty"`
	Least       *float64    `json:"least,omitempty"` // over tolerances and ranges together
	Greatest    *float64    `json:"greatest,omitempty"`
	Searched    bool        `json:"searched,omitempty"` // the worst cases are those that a search found, not proved
	Shares      []shareJSON `json:"shares,omitempty"`
}

type shareJSON struct {
	Name  string  `json:"name"`
	Part  float64 `json:"part"`  // 0 to 1
	Slope float64 `json:"slope"` // derivative by the input, SI
}

type modelJSON struct {
	Name      string         `json:"name"`
	Title     string         `json:"title"`
	Arguments []argumentJSON `json:"arguments"`
	Formula   []string       `json:"formula,omitempty"`
	Source    string         `json:"source,omitempty"`
	Range     string         `json:"range,omitempty"`
	Outside   []string       `json:"outside,omitempty"` // arguments outside the range
}

type argumentJSON struct {
	Name string   `json:"name"`
	Text string   `json:"text"`
	SI   *float64 `json:"si,omitempty"`
}

type limitJSON struct {
	build.LimitRecord
	Known    bool `json:"known"`
	Holds    bool `json:"holds"`
	Doubtful bool `json:"doubtful,omitempty"`
}

type crossJSON struct {
	Estimate string  `json:"estimate"`
	Off      float64 `json:"off"`
	Within   float64 `json:"within"`
	Agrees   bool    `json:"agrees"`
}

// sweepJSON is in SI; a null has no value.
type sweepJSON struct {
	Parameter string     `json:"parameter"`
	At        []float64  `json:"at"`
	Value     []*float64 `json:"value"`
}

// trialsJSON is in SI.
type trialsJSON struct {
	N      int        `json:"trials"`
	Inputs int        `json:"inputs"`
	Mean   float64    `json:"mean"`
	Std    float64    `json:"standard_uncertainty"`
	Level  float64    `json:"coverage_probability"`
	Both   [2]float64 `json:"symmetric_interval"`
	Short  [2]float64 `json:"shortest_interval"`
}

func (x explanation) json(w io.Writer) error {
	f, r := x.figure, x.release
	d := derivation{derived: derivedOf(f), Source: f.From, Because: f.Because, Place: placeOf(f.Pos), Spread: spreadOf(f.Spread)}
	switch {
	case f.Func != nil:
		d.Formula = oneLine(f.Func.X.Span().Text())
	case f.Parent != nil:
		d.PartOf = f.Parent.Name
	case f.Def != nil && f.Fixed:
		d.Given = given(f.Def)
	case f.Def != nil:
		d.Formula, d.PutIn = oneLine(f.Def.X.Span().Text()), putIn(r.Result, f.Def.X)
	}
	for _, p := range r.Manual.Pages {
		if shows(r, p.Exprs, f) {
			d.Pages = append(d.Pages, p.ID)
		}
	}
	for _, u := range inputsOf(f) {
		d.From = append(d.From, derivedOf(u))
	}
	for _, u := range f.UsedBy {
		d.UsedBy = append(d.UsedBy, u.Name)
	}
	for _, m := range modelsOf(f) {
		d.Models = append(d.Models, modelOf(m))
	}
	for _, l := range r.Result.Limits() {
		if slices.Contains(l.Uses, f) {
			d.Limits = append(d.Limits, limitJSON{build.RecordOfLimit(l), l.Known(), l.Holds(), l.Doubtful})
		}
	}
	for _, c := range r.Result.CrossChecks() {
		if c.Figure == f && c.Known {
			d.CrossChecks = append(d.CrossChecks, crossJSON{c.Second.String(), c.Off, c.Within, c.Agrees})
		}
	}
	if x.before != nil {
		b := derivedOf(x.before)
		d.Before, d.Set = &b, map[string]string{}
		for _, name := range slices.Sorted(maps.Keys(x.set)) {
			d.Set[name] = x.set[name].Span().Text()
		}
	}
	if s := x.sweep; s != nil {
		d.Sweep = &sweepJSON{Parameter: s.param.Name, At: s.at}
		for i := range s.out {
			d.Sweep.Value = append(d.Sweep.Value, finite(s.out[i]))
		}
	}
	if t := x.trials; t != nil {
		d.Trials = &trialsJSON{t.N, t.Inputs, t.Mean, t.Std, t.Level, [2]float64{t.Low, t.High}, [2]float64{t.ShortLow, t.ShortHigh}}
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(d)
}

func derivedOf(f *calc.Figure) derived {
	d := derived{Name: f.Name, Caption: f.Caption, Unit: f.Unit.Symbol, SIUnit: f.Unit.Dim.String()}
	switch v := f.Value.(type) {
	case float64:
		d.Value, d.SI = f.Unit.FromSI(v), &v
	case string, bool, []string:
		d.Value = v
	case []float64:
		list := make([]float64, len(v))
		for i := range v {
			list[i] = f.Unit.FromSI(v[i])
		}
		d.Value = list
	}
	return d
}

func spreadOf(s *calc.Spread) *spreadJSON {
	if s == nil {
		return nil
	}
	j := &spreadJSON{Std: s.Std, TolLo: s.TolLo, TolHi: s.TolHi, TolRSS: s.TolRSS}
	if s.Std > 0 {
		j.Coverage, j.Uncertainty, j.DOF = s.K, s.U, finite(s.DOF)
	}
	if s.Ranged {
		j.Low, j.High = &s.Low, &s.High
	}
	if s.Moves() {
		j.Least, j.Greatest, j.Searched = &s.Least, &s.Greatest, s.Searched
	}
	for _, sh := range s.Shares {
		j.Shares = append(j.Shares, shareJSON{sh.Name, sh.Part, sh.Slope})
	}
	return j
}

func modelOf(m *calc.ModelCall) modelJSON {
	j := modelJSON{Name: m.Spec.Name, Title: m.Spec.Title, Formula: m.Spec.Formula, Source: m.Spec.Source, Range: m.Spec.Range, Arguments: []argumentJSON{}}
	for _, a := range m.Args {
		arg := argumentJSON{Name: a.Name, Text: valueText(a.Value, a.Unit)}
		if v, ok := a.Value.(float64); ok {
			arg.SI = &v
		}
		j.Arguments = append(j.Arguments, arg)
	}
	for _, o := range m.Out {
		j.Outside = append(j.Outside, o.Msg)
	}
	return j
}

func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
