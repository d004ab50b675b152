package main

import (
	"bytes"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// What is said of a limit, and of a spread: by hand, so that no engine has a
// part in it.
func TestExplainVerdicts(t *testing.T) {
	watt, volt := unit.Unit{Symbol: "W", Factor: 1}, unit.Unit{Symbol: "V", Factor: 1}
	f := diag.NewFile("design.calc", []byte("limit heat: u^2 / r < 77 W"))
	sheet, list := syntax.Parse(f, nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	side := func(number string, si float64) *calc.Shown { return &calc.Shown{Value: si, Number: number, Unit: watt} }
	for _, c := range []struct {
		v        calc.Verdict
		worst    bool
		accepted string
		want     string
	}{
		{calc.Proved, true, "", "u^2 / r < 77 W: holds, proved, at worst 76.9 W < 77 W"},
		{calc.Proved, false, "", "u^2 / r < 77 W: holds, proved, 57.6 W < 77 W"},
		{calc.Searched, true, "", "u^2 / r < 77 W: holds where searched, at worst 76.9 W < 77 W"},
		{calc.Searched, true, "seen", "u^2 / r < 77 W: holds where searched, at worst 76.9 W < 77 W, accepted: seen"},
		{calc.Broken, true, "seen", "u^2 / r < 77 W: broken at u = 26.4 V, at worst 76.9 W < 77 W is not true, accepted: seen"},
		{calc.Unknown, true, "", "u^2 / r < 77 W: not computed"},
	} {
		l := &calc.Limit{Stmt: sheet.Stmts[0].(*syntax.Limit), Verdict: c.v, Accepted: c.accepted, Op: syntax.OpLT, Left: side("57.6", 57.6), Right: side("77", 77),
			At: []calc.Setting{{Name: "u", SI: 26.4, Unit: volt}}}
		if c.worst {
			l.WorstLeft, l.WorstRight = side("76.9", 76.9), side("77", 77)
		}
		if got := limitState(l); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
	rows := func(s calc.Spread) string {
		var b []string
		for _, r := range spreadRows(&calc.Figure{Unit: volt, Spread: &s}) {
			b = append(b, r[0]+" "+r[1])
		}
		return strings.Join(b, "; ")
	}
	s := calc.Spread{TolLo: 1, TolHi: 2, TolRSS: 1.5, Least: 23, Greatest: 26}
	if got, want := rows(s), "tolerance +2 V -1 V at worst, ± 1.5 V as root sum of squares"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	s.Ranged, s.Low, s.High, s.Least, s.Greatest, s.Searched = true, 20, 30, 19, 32, true
	if got, want := rows(s), "tolerance +2 V -1 V at worst, searched and not proved, ± 1.5 V as root sum of squares; in use 20 V to 30 V, searched and not proved; "+
		"at worst 19 V to 32 V, searched and not proved"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	var b bytes.Buffer
	env := env{&b, &b}
	if err := printJSON(env, spreadOf(&s)); err != nil || !strings.Contains(b.String(), `"least": 19,
  "greatest": 32,
  "searched": true`) {
		t.Errorf("%v\n%s", err, b.String())
	}
}
