package theme

import (
	"regexp"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// shownWatt is one side of a comparison in watts, made by hand.
func shownWatt(number string, si float64) *calc.Shown {
	return &calc.Shown{Value: si, Number: number, Unit: unit.Unit{Symbol: "W", Factor: 1}}
}

// verdicts is the small manual with a limit of each verdict. The broken one
// holds nominally and breaks at u = 26.4 V, r = 9 Ω, where u²/r is 77.44 W.
func verdicts(lang string) *Input {
	in := handInput()
	in.Manual.Config.Language = lang
	r := in.Result.(*fakeResults)
	volt, ohm := unit.Unit{Symbol: "V", Factor: 1}, unit.Unit{Symbol: "Ω", Factor: 1}
	at := []calc.Setting{{Name: "u", SI: 26.4, Unit: volt}, {Name: "r", SI: 9, Unit: ohm}}
	broken, proved := r.limits[0], r.limits[1]
	*broken = calc.Limit{
		Name: "load", Stmt: broken.Stmt, Signal: "danger", Verdict: calc.Broken, Nominal: true, Op: syntax.OpLT, At: at, Accepted: "nobody is near", Uses: broken.Uses,
		Left: shownWatt("57.6", 57.6), Right: shownWatt("77", 77), WorstLeft: shownWatt("77.4", 77.44), WorstRight: shownWatt("77", 77), Margin: -.44, Ratio: .994,
		Message: []calc.MessagePart{{Text: "The heater gives "}, {Shown: shownWatt("77.4", 77.44)}, {Text: "."}},
	}
	proved.Verdict, proved.At = calc.Proved, at[:1]
	proved.Left, proved.Right, proved.WorstLeft, proved.WorstRight = shownWatt("40", 40), shownWatt("77", 77), shownWatt("43.7", 43.68), shownWatt("77", 77)
	// The left side is the bound: what moves is on the right. Eight inputs matter.
	many := append([]calc.Setting(nil), at...)
	for _, n := range []string{"a", "b", "c", "d", "e", "f"} {
		many = append(many, calc.Setting{Name: n, SI: 0.0015, Unit: mm})
	}
	r.limits = append(r.limits, &calc.Limit{
		Name: "glow", Stmt: &syntax.Limit{Name: ident("glow"), Cond: ex("20 W <= power")}, Signal: "caution", Verdict: calc.Searched, Nominal: true, Op: syntax.OpLE, At: many,
		Left: shownWatt("20", 20), Right: shownWatt("40", 40), WorstLeft: shownWatt("20", 20), WorstRight: shownWatt("31", 31), Margin: 11, Ratio: 1.55,
		Message: []calc.MessagePart{{Text: "It stays dark."}},
	})
	return in
}

// plainWords is a page without its tags, with single spaces.
func plainWords(page []byte) string {
	s := regexp.MustCompile(`(?s)<[^>]*>`).ReplaceAllString(string(page), " ")
	s = strings.NewReplacer("&lt;", "<", "&#34;", `"`, nbsp, " ", "\u202f", " ").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// What stands on the pages of the verdict on a limit, of the worst values and
// of the place.
func TestVerdictsOnPages(t *testing.T) {
	for lang, want := range map[string]map[string][]string{
		"en": {
			"recoater.html": {
				"DANGER The heater gives 77.4 W . Limit load : broken at u = 26.4 V, r = 9 Ω: 77.4 W < 77 W is not true; holds on the nominal values, not in the worst case. Accepted: nobody is near",
				"43.7 W ≤ 77 W holds, proved · 1.76 × at worst 43.7 W",
			},
			"limits.html": {
				"1 broken 1 held where searched",
				"Proved: it holds at every value within the tolerances and ranges. Searched: it holds wherever we looked; that is not proved.",
				"77.4 W < 77 W at u = 26.4 V, r = 9 Ω broken by 0.44 W at worst 77.4 W holds on the nominal values, not in the worst case Accepted: nobody is near",
				"43.7 W ≤ 77 W at u = 26.4 V holds, proved · 1.76 × at worst 43.7 W",
				"20 W ≤ 31 W at u = 26.4 V, r = 9 Ω, a = 1.5 mm, b = 1.5 mm, c = 1.5 mm, d = 1.5 mm and 2 more holds where searched · 1.55 × at worst 31 W if broken: CAUTION It stays dark.",
			},
			"index.html": {
				"DANGER load The heater gives 77.4 W . (broken at u = 26.4 V, r = 9 Ω: 77.4 W < 77 W is not true)",
				"1 limit held, proved · 1 limit held where searched · 1 broken",
			},
			"reasons.html": {"Broken or not proved, and accepted", "broken by 0.44 W · at worst 77.4 W"},
		},
		"de": {
			"recoater.html": {
				"GEFAHR The heater gives 77,4 W . Grenzwert load : verletzt bei u = 26,4 V, r = 9 Ω: 77,4 W < 77 W trifft nicht zu; mit Nennwerten eingehalten, im ungünstigsten Fall nicht. Angenommen: nobody is near",
				"43,7 W ≤ 77 W eingehalten, bewiesen · 1,76 × im ungünstigsten Fall 43,7 W",
			},
			"limits.html": {
				"d = 1,5 mm und 2 weitere eingehalten, wo gesucht wurde · 1,55 × im ungünstigsten Fall 31 W",
				"77,4 W < 77 W bei u = 26,4 V, r = 9 Ω verletzt um 0,44 W im ungünstigsten Fall 77,4 W",
			},
			"index.html": {"1 Grenzwert eingehalten, bewiesen · 1 Grenzwert eingehalten, wo gesucht wurde · 1 verletzt"},
		},
	} {
		files := sheets(t, verdicts(lang))
		for file, lines := range want {
			got := plainWords(files["2.0-rc1/"+file])
			for _, line := range lines {
				if !strings.Contains(got, line) {
					t.Errorf("%s, %s lacks\n%s\nin\n%s", lang, file, line, got)
				}
			}
		}
	}
	files := sheets(t, verdicts("en"))
	register := string(files["2.0-rc1/limits.html"])
	rows := regexp.MustCompile(`<tr id="l/([^"]+)" class="(\w+)-row">`).FindAllStringSubmatch(register, -1)
	var order []string
	for _, r := range rows {
		order = append(order, r[1]+" "+r[2])
	}
	if got := strings.Join(order, ", "); got != "load broken, glow searched, belt.shaft held" {
		t.Errorf("the register has %s", got)
	}
	// A limit that is not proved may be accepted as well as one that is broken.
	in := verdicts("en")
	in.Result.(*fakeResults).limits[2].Accepted = "seen on the bench"
	if got := plainWords(sheets(t, in)["2.0-rc1/reasons.html"]); !strings.Contains(got, "holds where searched · 1.55 × · at worst 31 W design sheet seen on the bench") {
		t.Errorf("the reasons lack the limit that is accepted:\n%s", got)
	}
}

// A limit is shown by what is known of it: without the worst values, without a
// comparison, without a margin.
func TestVerdictText(t *testing.T) {
	v := &view{w: &english}
	for _, c := range []struct {
		l                           calc.Limit
		state, broken, sides, place string
	}{
		{calc.Limit{}, "not known", "broken", "", ""},
		{calc.Limit{Verdict: calc.Proved}, "holds, proved", "broken", "", ""},
		{calc.Limit{Verdict: calc.Broken}, "broken", "broken", "", ""},
		{calc.Limit{Verdict: calc.Broken, Nominal: true, At: []calc.Setting{{Name: "x", SI: 2, Unit: mm}}}, "broken", "broken at x = 2000 mm", "", "at x = 2000 mm"},
		{calc.Limit{Verdict: calc.Broken, Op: syntax.OpLE, Left: shownWatt("80", 80), Right: shownWatt("77", 77), Margin: -3},
			"broken by 3.0 W", "broken: 80 W ≤ 77 W is not true", "80 W ≤ 77 W", ""},
		{calc.Limit{Verdict: calc.Broken, Nominal: true, Op: syntax.OpLE, Left: shownWatt("70", 70), Right: shownWatt("77", 77), Margin: -3},
			"broken by 3.0 W", "broken", "", ""}, // 70 W ≤ 77 W is true, and says nothing
		{calc.Limit{Verdict: calc.Proved, Op: syntax.OpLE, Left: shownWatt("70", 70), Right: shownWatt("77", 77), Margin: 7.04},
			"holds, proved · 7.0 W", "broken: 70 W ≤ 77 W is not true", "70 W ≤ 77 W", ""},
	} {
		got := strings.NewReplacer(nbsp, " ", "\u202f", " ").Replace(strings.Join([]string{v.stateText(&c.l), v.brokenText(&c.l), v.sides(&c.l), v.worstPlace(&c.l)}, " | "))
		if want := strings.Join([]string{c.state, c.broken, c.sides, c.place}, " | "); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// Of a spread the page says what tolerances and ranges come to together, and
// whether that was searched only.
func TestSpreadAtWorst(t *testing.T) {
	v := &view{w: &english}
	row := func(sp *calc.Spread) string {
		rows, _ := v.spread(sp, mm)
		var s []string
		for _, r := range rows {
			s = append(s, r.Name+": "+r.Value+" ("+r.Note+")")
		}
		return strings.NewReplacer(nbsp, " ", "\u202f", " ").Replace(strings.Join(s, "; "))
	}
	for want, sp := range map[string]*calc.Spread{
		"tolerance: ± 2.0 mm (worst case of the tolerances)": {TolLo: .002, TolHi: .002, Least: .098, Greatest: .102},
		"tolerance: ± 2.0 mm (worst case of the tolerances); in use: 90 mm to 120 mm (); at worst: 88 mm to 122 mm (tolerances and ranges together)":                                                                                                                 {TolLo: .002, TolHi: .002, Ranged: true, Low: .09, High: .12, Least: .088, Greatest: .122},
		"tolerance: ± 2.0 mm (worst case of the tolerances; as far as a search found, not proved); in use: 90 mm to 120 mm (as far as a search found, not proved); at worst: 88 mm to 122 mm (tolerances and ranges together; as far as a search found, not proved)": {TolLo: .002, TolHi: .002, Ranged: true, Low: .09, High: .12, Least: .088, Greatest: .122, Searched: true},
		"tolerance: ± 2.0 mm (worst case of the tolerances); in use: 90 mm to 120 mm ()":                                                                                                                                                                             {TolLo: .002, TolHi: .002, Ranged: true, Low: .09, High: .12}, // not known together
	} {
		if got := row(sp); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}
