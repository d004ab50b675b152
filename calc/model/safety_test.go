package model

import (
	"fmt"
	"testing"
)

var lid = map[string]any{"edition": "2015", "category": "3", "days": 220.0, "daily": 8 * hour, "cycle": 1800.0,
	"b10d": []float64{2e6, 1.3e6}, "coverage": .99, "b10d_2": []float64{2e6, 1.3e6}, "coverage_2": .99, "ccf_score": 70.0}

func TestInterlockPublished(t *testing.T) {
	valve := map[string]any{"edition": "2015", "category": "B", "days": 220.0, "daily": 16 * hour, "cycle": 5.0, "b10d": 60e6, "coverage": 0.0}
	o := called(t, "interlock", valve)
	const annexC = "ISO 13849-1:2015, annex C.4 example (60e6 operations seen in a thesis, the rest from memory)"
	check(t, "interlock", "RH1 n_op", annexC, value(t, o, "operations"), 2.53e6, 3e-3)
	m, t10 := WearLife(60e6, value(t, o, "operations"))
	check(t, "interlock", "RH1 MTTFD", annexC, m/year, 237, 3e-3)
	check(t, "interlock", "RH1 T10D", annexC, t10/year, 23.7, 3e-3)
	near(t, "capped at 100 years", value(t, o, "channel"), 100*year, 1e-12)
	near(t, "mission time", value(t, o, "replace_after"), 20*year, 1e-12)

	checkAbs(t, "interlock", "RH2", "ISO 13849-1, annex D.2: 3 and 100 years give 66, cut off (seen in a copied text of AS 4024.1503)", TwoChannels(3, 100), 66.5, .5)
	board := map[string]any{"edition": "2015", "category": "B", "days": 220.0, "daily": 8 * hour, "cycle": 10.0,
		"b10d": []float64{20e6, 20e6, 20e6, 20e6, 2e6}, "coverage": 0.0,
		"other": []float64{1142 * year, 1142 * year, 22831 * year, 22831 * year, 22831 * year, 22831 * year, 22831 * year, 11416 * year, 11416 * year, 11416 * year, 11416 * year}, "coverage_other": 0.0}
	parts := called(t, "interlock", board)
	const annexD = "ISO 13849-1, annex D.1, parts of a circuit board (seen in a copied text of AS 4024.1503)"
	check(t, "interlock", "board, operations", annexD, value(t, parts, "operations"), 633600, 1e-12)
	check(t, "interlock", "board, years", annexD, value(t, parts, "channel")/year, 21.43, 3e-4)
	relay, _ := WearLife(20e6, 633600)
	check(t, "interlock", "relay of the board, years", annexD, relay/year, 315.66, 3e-5)

	faq := called(t, "interlock", with(valve, "daily", 8*hour, "cycle", 60.0, "b10d", 1e5))
	const rh3 = "a manufacturer's list of questions (seen)"
	check(t, "interlock", "RH3 n_op", rh3, value(t, faq, "operations"), 105600, 1e-12)
	check(t, "interlock", "RH3 MTTFD", rh3, value(t, faq, "channel")/year, 9.47, 1e-3)
	near(t, "a tenth of the life", value(t, faq, "replace_after"), 1e5/105600.*year, 1e-12)
	for a, want := range map[float64]float64{3: 3.80e-5, 5.1: 2.24e-5, 10: 1.14e-5, 20: 5.71e-6, 30: 3.80e-6, 47: 2.43e-6, 75: 1.52e-6, 100: 1.14e-6} {
		// a part of b10d that gives just that life
		o := called(t, "interlock", with(valve, "b10d", a*.1*2534400*1.0000000001))
		check(t, "interlock", fmt.Sprintf("RH4 %g a", a), "ISO 13849-1, table K.1, category B (seen in a copied text of AS 4024.1503)", value(t, o, "failure_rate")*hour, want, 5e-3)
	}
}

func TestLevelOfSingleChannel(t *testing.T) {
	const d, e = 4, 5
	// Table 6 gives whole bands one level, annex K each life its own.
	const annexK = "ISO 13849-1, table K.1, categories B and 1: level by the rate (rates seen in a copied text of AS 4024.1503)"
	for _, c := range []struct {
		category string
		years    float64
		want     float64
		found    bool
	}{{"B", 3, 1, false}, {"B", 11, 1, true}, {"B", 12, 2, false}, {"1", 30, 2, true}, {"1", 36, 2, true}, {"1", 39, 3, false}, {"1", 100, 3, false}} {
		args := with(lid, "category", c.category, "b10d", c.years*.1*220*16*1.0000000001, "b10d_2", nil, "coverage_2", nil)
		n, out := numbers(t, "interlock", args)
		check(t, "interlock", fmt.Sprintf("category %s, %g a", c.category, c.years), annexK, n("level"), c.want, 0)
		if (len(out) > 0) != c.found {
			t.Errorf("category %s, %g a: findings %v", c.category, c.years, out)
		}
		if l := int(n("level")); n("failure_rate")*hour >= levelLimit[l] {
			t.Errorf("category %s, %g a: level %d with %g failures an hour", c.category, c.years, l, n("failure_rate")*hour)
		}
	}
	// A bound that is met is met, however the means are rounded.
	for b10d := 1e5; b10d < 1e8; b10d *= 1.37 {
		for dc, want := range map[float64]int{0.6: d, 0.9: d, 0.99: e} {
			category := "3"
			if dc == 0.99 {
				category = "4"
			}
			o := called(t, "interlock", with(lid, "category", category, "b10d", []float64{b10d, b10d, 3 * b10d}, "coverage", dc, "b10d_2", b10d, "coverage_2", dc))
			if value(t, o, "channel") >= 30*year && int(value(t, o, "level")) != want {
				t.Errorf("B10D %g, coverage %g: level %g, want %d (mean coverage %.17g)", b10d, dc, value(t, o, "level"), want, value(t, o, "coverage_mean"))
			}
		}
	}
	// The bands themselves.
	const bands = "ISO 13849-1, table 2, in the manual of a temperature limiter, azmanual.top 563590 p. 59 (seen)"
	for rate, want := range map[float64]float64{9.9e-5: 1, 1e-5: 1, 9.9e-6: 2, 3e-6: 2, 2.9e-6: 3, 1e-6: 3, 9.9e-7: 4, 1e-7: 4, 9.9e-8: 5, 1e-4: 0} {
		check(t, "interlock", fmt.Sprintf("level of %g/h", rate), bands, float64(levelOfRate(rate/hour)), want, 0)
	}
	// The ways to level c that a catalogue lists after figure 5 of the standard.
	const ways = "ISO 13849-1, figure 5, ways to level c, fliphtml5.com coga/pnyp p. 426 (seen)"
	for _, w := range []struct {
		category  string
		years, dc float64
	}{{"3", 5, .9}, {"3", 20, .6}, {"2", 20, .9}, {"1", 50, 0}} {
		check(t, "interlock", fmt.Sprintf("category %s, %g a, coverage %g", w.category, w.years, w.dc), ways, float64(PerformanceLevel(w.category, w.years*year, w.dc)), 3, 0)
	}
	seldom := with(lid, "days", 2.0, "daily", hour, "cycle", 3*hour)
	found(t, "interlock", "cycle", seldom)
	found(t, "interlock", "coverage", with(lid, "coverage", 0.995))
}

func TestAnnexK(t *testing.T) {
	// Dangerous failures an hour by table K.1, to the row of 47 years (the
	// copied text loses a row after it): category 2 at low and medium
	// coverage, category 3 at low and medium.
	const annexK = "ISO 13849-1, table K.1, rates (seen in a copied text of AS 4024.1503), lower of their level and table 6"
	for _, row := range [][5]float64{
		{3, 2.58e-5, 1.99e-5, 1.26e-5, 6.09e-6}, {3.3, 2.33e-5, 1.79e-5, 1.13e-5, 5.41e-6}, {3.6, 2.13e-5, 1.62e-5, 1.03e-5, 4.86e-6}, {3.9, 1.95e-5, 1.48e-5, 9.37e-6, 4.40e-6},
		{4.3, 1.76e-5, 1.33e-5, 8.36e-6, 3.89e-6}, {4.7, 1.60e-5, 1.20e-5, 7.58e-6, 3.48e-6}, {5.1, 1.47e-5, 1.10e-5, 6.91e-6, 3.15e-6}, {5.6, 1.33e-5, 9.87e-6, 6.21e-6, 2.83e-6},
		{6.2, 1.19e-5, 8.80e-6, 5.53e-6, 2.47e-6}, {6.8, 1.08e-5, 7.93e-6, 4.98e-6, 2.20e-6}, {7.5, 9.75e-6, 7.10e-6, 4.45e-6, 1.95e-6}, {8.2, 8.87e-6, 6.43e-6, 4.02e-6, 1.74e-6},
		{9.1, 7.94e-6, 5.71e-6, 3.57e-6, 1.53e-6}, {10, 7.18e-6, 5.14e-6, 3.21e-6, 1.36e-6}, {11, 6.44e-6, 4.53e-6, 2.86e-6, 1.18e-6}, {12, 5.84e-6, 4.04e-6, 2.49e-6, 1.04e-6},
		{13, 5.33e-6, 3.64e-6, 2.23e-6, 9.21e-7}, {15, 4.53e-6, 3.01e-6, 1.82e-6, 7.44e-7}, {16, 4.21e-6, 2.77e-6, 1.67e-6, 6.76e-7}, {18, 3.68e-6, 2.37e-6, 1.41e-6, 5.67e-7},
		{20, 3.26e-6, 2.06e-6, 1.22e-6, 4.88e-7}, {22, 2.93e-6, 1.82e-6, 1.07e-6, 4.21e-7}, {24, 2.65e-6, 1.62e-6, 9.47e-7, 3.70e-7}, {27, 2.32e-6, 1.39e-6, 8.09e-7, 3.10e-7},
		{30, 2.06e-6, 1.21e-6, 6.94e-7, 2.65e-7}, {33, 1.85e-6, 1.06e-6, 5.94e-7, 2.30e-7}, {36, 1.67e-6, 9.39e-7, 5.17e-7, 2.01e-7}, {39, 1.53e-6, 8.40e-7, 4.53e-7, 1.78e-7},
		{43, 1.37e-6, 7.34e-7, 3.87e-7, 1.54e-7}, {47, 1.24e-6, 6.49e-7, 3.35e-7, 1.34e-7},
	} {
		for i, c := range []struct {
			category string
			dc       float64
		}{{"2", .6}, {"2", .9}, {"3", .6}, {"3", .9}} {
			life := row[0] * .1 * 220 * 16
			args := with(lid, "category", c.category, "b10d", life, "coverage", c.dc, "b10d_2", life, "coverage_2", c.dc)
			if c.category == "2" {
				args = with(args, "b10d_2", nil, "coverage_2", nil)
			}
			n, out := numbers(t, "interlock", args)
			tabled := PerformanceLevel(c.category, row[0]*year, c.dc)
			want := min(tabled, levelOfRate(row[i+1]/hour))
			check(t, "interlock", fmt.Sprintf("K.1 category %s, coverage %g, %g a", c.category, c.dc, row[0]), annexK, n("level"), float64(want), 0)
			if (want < tabled) != (len(out) > 0) {
				t.Errorf("category %s, coverage %g, %g a: level %d of table 6, %d taken, findings %v", c.category, c.dc, row[0], tabled, want, out)
			}
			if rate := n("failure_rate") * hour; rate < row[i+1] {
				t.Errorf("category %s, coverage %g, %g a: %g failures an hour, table K.1 has %g", c.category, c.dc, row[0], rate, row[i+1])
			}
		}
	}
}

func TestPerformanceLevel(t *testing.T) {
	const a, b, c, d, e = 1, 2, 3, 4, 5
	// table 6 of ISO 13849-1:2015: low, medium, high life
	for _, row := range []struct {
		category string
		dc       float64
		want     [3]int
	}{
		{"B", 0, [3]int{a, b, b}}, {"1", 0, [3]int{0, 0, c}},
		{"2", .5, [3]int{0, 0, 0}}, {"2", .6, [3]int{a, b, c}}, {"2", .9, [3]int{b, c, d}}, {"2", .99, [3]int{b, c, d}},
		{"3", .59, [3]int{0, 0, 0}}, {"3", .89, [3]int{b, c, d}}, {"3", .98, [3]int{c, d, d}}, {"3", .99, [3]int{c, d, d}},
		{"4", .98, [3]int{0, 0, 0}}, {"4", .99, [3]int{0, 0, e}},
	} {
		for i, years := range []float64{3, 10, 30} {
			const table6 = "ISO 13849-1, table 6, as table 7 of AS 4024.1503 (seen in a copied text); what it does not cover is none, category B at most b"
			check(t, "interlock", fmt.Sprintf("table 6 category %s, coverage %g, %g a", row.category, row.dc, years), table6, float64(PerformanceLevel(row.category, years*year, row.dc)), float64(row.want[i]), 0)
		}
		if got := PerformanceLevel(row.category, 2.99*year, row.dc); got != 0 {
			t.Errorf("category %s below 3 years: level %d", row.category, got)
		}
	}
}

func TestInterlockProperties(t *testing.T) {
	o := called(t, "interlock", lid)
	if value(t, o, "level") != 4 {
		t.Errorf("level %g, want 4 (d)", value(t, o, "level"))
	}
	near(t, "band of d", value(t, o, "failure_rate"), 1e-6/hour, 1e-12)
	near(t, "equal channels", value(t, o, "channel"), 100*year, 1e-12) // each above 100 years
	near(t, "coverage", value(t, o, "coverage_mean"), .99, 1e-12)
	// equal channels below the limit stand for themselves
	near(t, "symmetry", TwoChannels(40, 40), 40, 1e-12)
	hard := with(lid, "cycle", 2.0)
	h := called(t, "interlock", hard)
	m1, _ := WearLife(2e6, value(t, h, "operations"))
	m2, _ := WearLife(1.3e6, value(t, h, "operations"))
	near(t, "channel", value(t, h, "channel"), 1/(1/m1+1/m2), 1e-12)
	// other parts count in both channels and in the mean coverage
	x := called(t, "interlock", with(hard, "other", []float64{50 * year}, "coverage_other", .6))
	near(t, "with others", value(t, x, "channel"), 1/(1/m1+1/m2+1/(50*year)), 1e-12)
	near(t, "mean coverage", value(t, x, "coverage_mean"), (.99*(1/m1+1/m2)+.6/(50*year))/(1/m1+1/m2+1/(50*year)), 1e-12)
	if value(t, called(t, "interlock", with(lid, "ccf_score", 60.0)), "level") != 0 {
		t.Error("too few points against common causes, but a level")
	}
	found(t, "interlock", "ccf_score", with(lid, "ccf_score", 60.0))
	found(t, "interlock", "edition", with(lid, "edition", "2023"))
	refused(t, "interlock", "b10d_2", with(lid, "b10d_2", nil, "coverage_2", nil))
	refused(t, "interlock", "b10d_2", with(lid, "category", "2"))
	refused(t, "interlock", "ccf_score", with(lid, "ccf_score", nil))
	refused(t, "interlock", "coverage_2", with(lid, "coverage_2", nil))
	refused(t, "interlock", "other", with(lid, "coverage_other", .9))
	refused(t, "interlock", "coverage", with(lid, "coverage", []float64{.9, .9, .9}))
	refused(t, "interlock", "edition", with(lid, "edition", "2006"))
	refused(t, "interlock", "coverage", with(lid, "coverage", 1.1))
	refused(t, "interlock", "daily", with(lid, "daily", 25*hour))
}

func TestRiskGraph(t *testing.T) {
	for graph, want := range map[[3]string]float64{
		{"S1", "F1", "P1"}: 1, {"S1", "F1", "P2"}: 2, {"S1", "F2", "P1"}: 2, {"S1", "F2", "P2"}: 3,
		{"S2", "F1", "P1"}: 3, {"S2", "F1", "P2"}: 4, {"S2", "F2", "P1"}: 4, {"S2", "F2", "P2"}: 5,
	} {
		o := called(t, "risk_graph", map[string]any{"severity": graph[0], "exposure": graph[1], "avoidance": graph[2]})
		check(t, "risk_graph", fmt.Sprint(graph), "ISO 13849-1:2023, figure A.1, as a project lists it after checking each branch (seen)", value(t, o, "required"), want, 0)
	}
	refused(t, "risk_graph", "severity", map[string]any{"severity": "S3", "exposure": "F1", "avoidance": "P1"})
}
