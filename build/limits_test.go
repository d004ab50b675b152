package build

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"workings/calc"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme"
)

// side is one side of a comparison, made by hand.
func side(t *testing.T, number string, si float64, symbol string, chosen bool) *calc.Shown {
	t.Helper()
	u := mustUnit(t, symbol)
	return &calc.Shown{Value: si, Number: number, Unit: u, Type: calc.Type{Kind: calc.Quantity, Dim: u.Dim, Unit: u, Chosen: chosen}}
}

// worstLimit is a limit as it is judged: u = 24 V ± 10 %, r = 10 Ω ± 10 %,
// u^2/r below 77 W, which breaks at 26.4 V and 9 Ω: 77.44 W, by hand.
func worstLimit(t *testing.T) *calc.Limit {
	return &calc.Limit{
		Name: "heat", Signal: "danger", Verdict: calc.Broken, Nominal: true, Op: syntax.OpLT,
		Left: side(t, "57.6", 57.6, "W", false), Right: side(t, "77", 77, "W", true),
		WorstLeft: side(t, "77.4", 77.44, "W", false), WorstRight: side(t, "77", 77, "W", true),
		Margin: -0.44, Worst: 0.44, Ratio: 0.9943,
		At: []calc.Setting{
			{Name: "u", SI: 26.4, Unit: mustUnit(t, "V")},
			{Name: "r", SI: 9, Unit: mustUnit(t, "ohm")},
		},
	}
}

// What is found at a limit gives the values that broke it, and where.
func TestLimitFindings(t *testing.T) {
	change := func(f func(l *calc.Limit)) *calc.Limit {
		l := worstLimit(t)
		f(l)
		return l
	}
	mm := mustUnit(t, "mm")
	const accept = `narrower tolerances and ranges may let it be proved; else accept it in writing: accepted "why"`
	for _, c := range []struct {
		l               *calc.Limit
		code, msg, hint string
		warn            bool
	}{
		{worstLimit(t), "limit-broken", "the DANGER limit heat is broken in the worst case: 77.4 W is not < 77 W at u = 26.4 V, r = 9 Ω",
			`change the design, or accept it in writing: accepted "why"`, false},
		{change(func(l *calc.Limit) {
			l.Signal, l.Message = "notice", []calc.MessagePart{{Text: "It gives "}, {Shown: l.WorstLeft}, {Text: "."}}
		}),
			"limit-broken", `the NOTICE limit heat is broken in the worst case: 77.4 W is not < 77 W at u = 26.4 V, r = 9 Ω ("It gives 77.4 W.")`,
			"its message is shown to the reader", true},
		{change(func(l *calc.Limit) { l.WorstLeft, l.WorstRight, l.At, l.Nominal = nil, nil, nil, false }),
			"limit-broken", "the DANGER limit heat is broken: 57.6 W is not < 77 W", `change the design, or accept it in writing: accepted "why"`, false},
		{change(func(l *calc.Limit) { l.Verdict = calc.Searched }), "limit-searched",
			"the DANGER limit heat holds where it was searched and is not proved: 77.4 W is < 77 W at u = 26.4 V, r = 9 Ω", accept, false},
		{change(func(l *calc.Limit) { l.Verdict, l.Signal = calc.Searched, "warning" }), "limit-searched",
			"the WARNING limit heat holds where it was searched and is not proved: 77.4 W is < 77 W at u = 26.4 V, r = 9 Ω", accept, false},
		{change(func(l *calc.Limit) { l.Verdict, l.Signal = calc.Searched, "caution" }), "limit-searched",
			"the CAUTION limit heat holds where it was searched and is not proved: 77.4 W is < 77 W at u = 26.4 V, r = 9 Ω", accept, true},
		{change(func(l *calc.Limit) {
			l.Verdict, l.Signal = calc.Searched, ""
			l.Left, l.Right, l.WorstLeft, l.WorstRight = nil, nil, nil, nil
		}), "limit-searched", "the limit heat holds where it was searched and is not proved at u = 26.4 V, r = 9 Ω", accept, true},
		{change(func(l *calc.Limit) { l.Verdict = calc.Proved }), "", "", "", false},
		{change(func(l *calc.Limit) { l.Verdict = calc.Unknown }), "", "", "", false},
		{change(func(l *calc.Limit) {
			for i := range 7 {
				l.At = append(l.At, calc.Setting{Name: string(rune('a' + i)), SI: 0.001 * float64(i), Unit: mm})
			}
		}), "limit-broken", "the DANGER limit heat is broken in the worst case: 77.4 W is not < 77 W at u = 26.4 V, r = 9 Ω, a = 0 mm, b = 1 mm, c = 2 mm, d = 3 mm and 3 more",
			`change the design, or accept it in writing: accepted "why"`, false},
	} {
		d := limitFinding(c.l)
		if c.code == "" {
			if d != nil {
				t.Errorf("%v: found %s", c.l.Verdict, d.Msg)
			}
			continue
		}
		if d == nil || d.Code != c.code || d.Msg != c.msg || d.Hint != c.hint || d.Warn != c.warn {
			t.Errorf("got  %+v\nwant %s %s (%s), warn %v", d, c.code, c.msg, c.hint, c.warn)
		}
	}
}

// Both sides stand in one unit: the one that was written, else that of the
// larger value, with digits that tell them apart. 1 rpm is 2π/60 rad/s, so that
// 1810 rad/s are 17284 rpm.
func TestSidesOfALimit(t *testing.T) {
	for _, c := range []struct {
		left, right *calc.Shown
		want        string
	}{
		{side(t, "1000", 104.71975511965977, "rpm", true), side(t, "1810", 1810, "rad/s", false), "1000 rpm <= 17300 rpm"},
		{side(t, "3110", 3110, "N", false), side(t, "8.34", 0.00834, "mN", false), "3110 N <= 0.00834 N"},
		{side(t, "8.34", 0.00834, "mN", false), side(t, "3110", 3110, "N", false), "0.00834 N <= 3110 N"},
		{side(t, "0.434", 0.434, "V", true), side(t, "500", 0.5, "mV", true), "434 mV <= 500 mV"},
		{side(t, "77", 77.04, "W", false), side(t, "77", 77, "W", true), "77.04 W <= 77 W"},
		{side(t, "30", 303.150001, "°C", false), side(t, "30", 303.15, "°C", true), "30.000001 °C <= 30 °C"},
		{side(t, "77", 77, "W", false), side(t, "77", 77, "W", true), "77 W <= 77 W"},
	} {
		l := &calc.Limit{Op: syntax.OpLE, WorstLeft: c.left, WorstRight: c.right}
		left, right := l.Sides()
		if got := left.String() + " " + l.Op.String() + " " + right.String(); got != c.want {
			t.Errorf("got %s, want %s", got, c.want)
		}
	}
	if left, right := (&calc.Limit{}).Sides(); left != nil || right != nil {
		t.Error("a limit without sides has some")
	}
}

// An acceptance covers a limit that is broken and one that is not proved; it is
// stale at one that is.
func TestAcceptedVerdicts(t *testing.T) {
	r, list := LoadWorking(Source{FS: fstest.MapFS{
		"manual.toml": {Data: []byte("title = \"x\"\nrelease = \"1\"\n")},
		"design.calc": {Data: []byte("m = 5 kg\n" +
			"limit open: m <= 6 kg else danger \"Heavy.\"\n" +
			"limit waived: m <= 6 kg else danger \"Heavy.\" accepted \"two lift it\"\n")},
		"pages/1-a.md": {Data: []byte("# A\n\nIt weighs {= m}.\n")},
	}}, Options{})
	if r == nil || len(r.Result.Limits()) != 2 {
		t.Fatal(list)
	}
	for _, c := range []struct {
		verdict        calc.Verdict
		open, accepted string
	}{
		{calc.Broken, "limit-broken", "limit-broken"},
		{calc.Searched, "limit-searched", "limit-searched"},
		{calc.Proved, "stale-acceptance", ""},
		{calc.Unknown, "", ""},
	} {
		for _, l := range r.Result.Limits() {
			l.Verdict = c.verdict
		}
		open, accepted := accept(r, auditLimits(r.Result), true, true)
		var a, b []string
		for _, d := range open {
			a = append(a, d.Code)
			if wantError := c.verdict == calc.Broken || c.verdict == calc.Searched; d.Warn == wantError {
				t.Errorf("%v: %v", c.verdict, d)
			}
		}
		for _, d := range accepted {
			b = append(b, d.Code)
			if d.Why != "two lift it" || !d.Warn {
				t.Errorf("%v: accepted %v", c.verdict, d)
			}
		}
		if strings.Join(a, " ") != c.open || strings.Join(b, " ") != c.accepted {
			t.Errorf("%v: open %v, accepted %v; want %s, %s", c.verdict, a, b, c.open, c.accepted)
		}
	}
}

func TestLimitRecord(t *testing.T) {
	got, err := json.Marshal(RecordOfLimit(worstLimit(t)))
	const want = `{"name":"heat","verdict":"broken","signal":"danger","operator":"\u003c","worst_left":{"value":77.44,"unit":"W","si":77.44},"worst_right":{"value":77,"unit":"W","si":77},` +
		`"margin":-0.44,"at":[{"name":"u","value":26.4,"unit":"V","si":26.4},{"name":"r","value":9,"unit":"Ω","si":9}]}`
	if err != nil || string(got) != want {
		t.Errorf("got  %s (%v)\nwant %s", got, err, want)
	}
	got, _ = json.Marshal(RecordOfLimit(&calc.Limit{Name: "x", Accepted: "why", Margin: 3, At: []calc.Setting{{Name: "u", Unit: unit.Unit{Factor: 1}}}}))
	if string(got) != `{"name":"x","verdict":"unknown","accepted":"why"}` {
		t.Errorf("of a limit that is not known: %s", got)
	}
}

// A limit that was proved and is now only searched is not what it was.
func TestVerdictChanges(t *testing.T) {
	of := func(v calc.Verdict, accepted string) *theme.LimitText {
		l := &calc.Limit{Name: "heat", Verdict: v, Accepted: accepted}
		return &theme.LimitText{Limit: l, State: limitState(l)}
	}
	for _, c := range []struct {
		v        calc.Verdict
		accepted string
		want     string
	}{
		{calc.Proved, "", "holds, proved"}, {calc.Proved, "why", "holds, proved"},
		{calc.Searched, "", "holds where searched"}, {calc.Searched, "why", "holds where searched, accepted"},
		{calc.Broken, "", "broken"}, {calc.Broken, "why", "broken, accepted"}, {calc.Unknown, "", "not computed"},
	} {
		if got := of(c.v, c.accepted).State; got != c.want {
			t.Errorf("%v, accepted %q: %s, want %s", c.v, c.accepted, got, c.want)
		}
	}
	if what := limitDiffers(of(calc.Proved, ""), of(calc.Searched, ""), false); !slices.Equal(what, []string{theme.LimitState}) {
		t.Errorf("from proved to searched: %v", what)
	}
	if what := limitDiffers(of(calc.Proved, ""), of(calc.Proved, ""), false); what != nil {
		t.Errorf("from proved to proved: %v", what)
	}
}
