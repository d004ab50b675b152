package model

import "math"

// The year of ISO 13849-1: 8760 hours.
const (
	hour = 3600.0
	year = 8760 * hour
)

// Operations returns how often a part works in a year, n_op = d h/t_cycle.
//
//	days   of use in a year, > 0
//	daily  time of use in a day, > 0     s
//	cycle  between two operations, > 0   s
//
// Errors: none. Source: ISO 13849-1:2015, annex C.4.2 (from memory).
func Operations(days, daily, cycle float64) float64 { return days * daily / cycle }

// WearLife returns the mean time to dangerous failure of a part that wears
// with use, and when a tenth of such parts has failed dangerously,
//
//	MTTF_D = B10D/(0.1 n_op), T10D = B10D/n_op
//
//	b10d  operations until a tenth has failed dangerously, > 0
//	nop   operations in a year, > 0
//	mttfd, t10d                                          s
//
// Errors: none. Source: ISO 13849-1:2015, annex C.4.2 (from memory).
func WearLife(b10d, nop float64) (mttfd, t10d float64) {
	return b10d / (0.1 * nop) * year, b10d / nop * year
}

// ChannelLife returns the mean time to dangerous failure of a channel of
// several parts, 1/MTTF_D = Σ 1/MTTF_Di, s.
// Errors: none. Source: ISO 13849-1:2015, annex D.1 (example seen).
func ChannelLife(mttfd []float64) float64 {
	rate := 0.0
	for _, m := range mttfd {
		rate += 1 / m
	}
	return 1 / rate
}

// TwoChannels returns the mean time to dangerous failure of two equal channels
// that stand for two unequal ones,
//
//	MTTF_D = 2/3 [M₁ + M₂ - 1/(1/M₁ + 1/M₂)]
//
// Errors: none. Source: ISO 13849-1:2015, annex D.2 (example seen).
func TwoChannels(m1, m2 float64) float64 {
	return 2. / 3 * (m1 + m2 - 1/(1/m1+1/m2))
}

// AverageCoverage returns the mean diagnostic coverage of parts,
// DC_avg = Σ(DC_i/M_i)/Σ(1/M_i).
// Errors: none. Source: ISO 13849-1:2015, annex E.2 (seen).
func AverageCoverage(dc, mttfd []float64) float64 {
	num, den := 0.0, 0.0
	for i, m := range mttfd {
		num += dc[i] / m
		den += 1 / m
	}
	return num / den
}

// bandSlack lets a life or coverage that is a bound itself count as reached:
// a mean of nines is a rounding below 0.9.
const bandSlack = 1 + 1e-9

// lifeBand returns 0 below 3 years, 1 low, 2 medium, 3 high.
func lifeBand(mttfd float64) int {
	switch a := mttfd / year * bandSlack; {
	case a < 3:
		return 0
	case a < 10:
		return 1
	case a < 30:
		return 2
	}
	return 3
}

// coverageBand returns 0 none, 1 low, 2 medium, 3 high.
func coverageBand(dc float64) int {
	switch dc *= bandSlack; {
	case dc < 0.6:
		return 0
	case dc < 0.9:
		return 1
	case dc < 0.99:
		return 2
	}
	return 3
}

// PerformanceLevel returns the performance level by the simplified procedure,
// 1 for a to 5 for e, 0 where the table gives none.
//
//	category  "B", "1", "2", "3" or "4"
//	mttfd     of a channel, already limited to 100 years (2500 for category 4)   s
//	dc        average diagnostic coverage, 0 to 1
//
// Errors: none. Source: ISO 13849-1:2015, table 6 (seen as table 7 of AS 4024.1503).
func PerformanceLevel(category string, mttfd, dc float64) int {
	life, cover := lifeBand(mttfd), coverageBand(dc)
	if life == 0 {
		return 0
	}
	row := [4]int{}
	switch {
	case category == "B": // no diagnostics counted; at most b
		row = [4]int{0, 1, 2, 2}
	case category == "1": // only well-tried parts of long life
		row = [4]int{0, 0, 0, 3}
	case category == "2" && cover == 1:
		row = [4]int{0, 1, 2, 3}
	case category == "2" && cover >= 2:
		row = [4]int{0, 2, 3, 4}
	case category == "3" && cover == 1:
		row = [4]int{0, 2, 3, 4}
	case category == "3" && cover >= 2:
		row = [4]int{0, 3, 4, 4}
	case category == "4" && cover == 3:
		row = [4]int{0, 0, 0, 5}
	}
	return row[life]
}

// levelLimit is the highest probability of a dangerous failure per hour of a
// performance level. Source: ISO 13849-1, table 2 (seen in a manual that quotes it).
var levelLimit = [6]float64{math.NaN(), 1e-4, 1e-5, 3e-6, 1e-6, 1e-7}

// levelOfRate returns the performance level in whose band a rate of dangerous
// failures, 1/s, lies: 0 where it is above all of them.
func levelOfRate(rate float64) int {
	level := 0
	for l := 1; l < len(levelLimit) && rate*hour < levelLimit[l]; l++ {
		level = l
	}
	return level
}

// annexKLife gives the life of a channel, in years, from which table K.1 of the
// standard reaches the level that table 6 gives to the whole band: low, medium,
// high. Below it the rate of the band's beginning belongs to the level before.
// Source: rates of ISO 13849-1, table K.1, seen in a copied text of AS
// 4024.1503, the same text (its letters contradict its rates and are not used).
var annexKLife = map[string]map[int][4]float64{
	"2": {2: {0, 5.6, 16, 36}, 3: {0, 5.6, 16, 36}},
	"3": {1: {0, 3.9, 11, 30}, 2: {0, 5.6, 13, 30}, 3: {0, 5.6, 13, 30}},
}

// levelName is a to e, or none.
func levelName(level int) string { return [...]string{"none", "a", "b", "c", "d", "e"}[level] }

// RequiredLevel returns the performance level that a hazard asks for, 1 for a
// to 5 for e, by the risk graph.
//
//	serious   injury that does not heal, else slight
//	frequent  or long exposure, else seldom and short
//	hardly    avoidable, else avoidable under conditions
//
// Errors: none. Source: ISO 13849-1:2023, figure A.1 (seen in a list checked against it).
func RequiredLevel(serious, frequent, hardly bool) int {
	level := 1
	if serious {
		level += 2
	}
	if frequent {
		level++
	}
	if hardly {
		level++
	}
	return level
}

const safetySource = "ISO 13849-1:2015, simplified procedure (tables 2, 6 and K.1, annexes A, D and E and the bands of lives seen in texts that quote them, annex C.4 partly)"

const coverageRange = "ISO 13849-1, table E.1: no measure is credited with more (seen)"

const safetyRange = "an estimate that helps to choose parts; a competent person must assess the risk (ISO 12100) and validate the function (ISO 13849-2)"

var safetyModels = []Spec{
	{
		Name: "interlock", Topic: "safety",
		Title: "Performance level that an interlock reaches, by the simplified procedure of ISO 13849-1",
		Args: []Arg{
			{Name: "edition", Shape: Text, Choices: []string{"2015", "2023"}, Doc: "edition of ISO 13849-1 that you work to; the tables here are those of 2015"},
			{Name: "category", Shape: Text, Choices: []string{"B", "1", "2", "3", "4"}, Doc: "structure: B and 1 one channel, 2 one channel that is tested, 3 and 4 two channels"},
			{Name: "days", Unit: "1", Above: at(0), AtMost: at(366), Doc: "days of use in a year"},
			{Name: "daily", Unit: "s", Above: at(0), AtMost: at(24 * hour), Doc: "time of use in a day"},
			{Name: "cycle", Unit: "s", Above: at(0), Doc: "time between two operations of the interlock"},
			{Name: "b10d", Unit: "1", Shape: List, Above: at(0), Doc: "operations until a tenth has failed dangerously, of each part of the first channel that wears; twice B10 if only that is known"},
			{Name: "coverage", Unit: "1", Shape: List, AtLeast: at(0), AtMost: at(1), High: at(0.99), RangeOf: coverageRange, Doc: "diagnostic coverage of each of them; a single number stands for all; contacts of several guards in series mask each other's faults and have less (ISO/TR 24119)"},
			{Name: "b10d_2", Unit: "1", Shape: List, Optional: true, Above: at(0), Doc: "the same for the second channel; needed for categories 3 and 4"},
			{Name: "coverage_2", Unit: "1", Shape: List, Optional: true, AtLeast: at(0), AtMost: at(1), High: at(0.99), RangeOf: coverageRange, Doc: "diagnostic coverage of each of those"},
			{Name: "other", Unit: "s", Shape: List, Optional: true, Above: at(0), Doc: "mean times to dangerous failure of parts that do not wear (controllers, relays' electronics), in every channel"},
			{Name: "coverage_other", Unit: "1", Shape: List, Optional: true, AtLeast: at(0), AtMost: at(1), High: at(0.99), RangeOf: coverageRange, Doc: "diagnostic coverage of each of those"},
			{Name: "ccf_score", Unit: "1", Optional: true, AtLeast: at(0), AtMost: at(100), Doc: "points against failures of common cause (annex F); needed for categories 2 to 4"},
		},
		Results: []Res{
			{Name: "operations", Unit: "1", Doc: "operations in a year", Rises: "days daily", Falls: "cycle", Only: true},
			{Name: "channel", Unit: "a", Doc: "mean time to dangerous failure of a channel, limited as the standard says", Rises: "cycle b10d b10d_2 other", Falls: "days daily", Only: true},
			{Name: "coverage_mean", Unit: "1", Doc: "average diagnostic coverage", Rises: "coverage coverage_2 coverage_other ccf_score", Falls: "ccf_score"},
			{Name: "level", Unit: "1", Doc: "performance level: 1 is a, 2 b, 3 c, 4 d, 5 e; 0 none", Rises: "coverage coverage_2 coverage_other ccf_score"},
			{Name: "failure_rate", Unit: "h^-1", Doc: "dangerous failures: of the channel for categories B and 1, else the highest that the level allows"},
			{Name: "replace_after", Unit: "a", Doc: "replace the first part after this time, or after 20 years of 8760 hours", Rises: "cycle b10d b10d_2", Falls: "days daily", Only: true},
		},
		Formula: []string{
			"operations = days * daily / cycle",
			"M = b10d / (0.1 * operations) * 1 a # each part; 1 a is 8760 h",
			"C = 1 / sum(1 / M) # each channel, other parts included",
			"channel = 2 / 3 * (C_1 + C_2 - 1 / (1 / C_1 + 1 / C_2)) # two channels C_1 and C_2, each at most 100 a (2500 a for category 4); one channel: C itself",
			"coverage_mean = sum(coverage / M) / sum(1 / M) # over all parts",
			"level = tabulated # tabulated in table 6 of the standard, by category, channel and coverage_mean; no more than table K.1 gives that life, by its rate; 0 if ccf_score is below 65 where it counts",
			"failure_rate = 1 / channel # categories B and 1; else the upper end of the level's band",
			"replace_after = min(b10d / operations * 1 a) # of all parts, at most 20 a",
		},
		Source: safetySource,
		Range:  safetyRange + "; table 6 gives one level to a whole band of lives; where annex K gives the beginning of a band one less, that is taken, where it gives more, not; category 1 wants well-tried parts, which electronics are not; category 2 tests a hundred times as often as it is needed, with test equipment at least half as lasting as its channel",
		Fn:     interlock,
	},
	{
		Name: "risk_graph", Topic: "safety",
		Title: "Performance level that a hazard asks for",
		Args: []Arg{
			{Name: "severity", Shape: Text, Choices: []string{"S1", "S2"}, Doc: "S1 slight injury, S2 serious injury or death"},
			{Name: "exposure", Shape: Text, Choices: []string{"F1", "F2"}, Doc: "F1 seldom and short, F2 frequent or long"},
			{Name: "avoidance", Shape: Text, Choices: []string{"P1", "P2"}, Doc: "P1 avoidable under conditions, P2 hardly avoidable"},
		},
		Results: []Res{{Name: "required", Unit: "1", Doc: "performance level: 1 is a, 2 b, 3 c, 4 d, 5 e"}},
		Formula: []string{"required = 1 + 2 * S + F + P # S is 1 for S2, F is 1 for F2, P is 1 for P2, else 0"},
		Source:  "ISO 13849-1:2023, figure A.1 (seen in a list that was checked against it; the same in 2015)",
		Range:   safetyRange,
		Fn: func(in *In, out *Out) error {
			out.Num("required", float64(RequiredLevel(in.Text("severity") == "S2", in.Text("exposure") == "F2", in.Text("avoidance") == "P2")))
			return nil
		},
	},
}

func interlock(in *In, out *Out) error {
	category := in.Text("category")
	double := category == "3" || category == "4"
	counts := category != "B" && category != "1" // coverage and common cause
	if double && !in.Has("b10d_2") {
		return Bad("b10d_2", "is missing: category %s has two channels", category)
	}
	if !double && in.Has("b10d_2") {
		return Bad("b10d_2", "category %s has one channel", category)
	}
	if counts && !in.Has("ccf_score") {
		return Bad("ccf_score", "is missing: category %s counts failures of common cause", category)
	}
	nop := Operations(in.Num("days"), in.Num("daily"), in.Num("cycle"))
	limit := 100 * year
	if category == "4" {
		limit = 2500 * year
	}
	var allM, allDC []float64
	replace := 20 * year
	parts := func(life, coverage string, wear bool) ([]float64, error) {
		if !in.Has(life) {
			if in.Has(coverage) {
				return nil, Bad(life, "is missing: %s is given", coverage)
			}
			return nil, nil
		}
		if !in.Has(coverage) {
			return nil, Bad(coverage, "is missing: %s is given", life)
		}
		if len(in.List(coverage)) > len(in.List(life)) {
			return nil, Bad(coverage, "has %d items for %d parts", len(in.List(coverage)), len(in.List(life)))
		}
		n, cols, err := in.columns(life, coverage)
		if err != nil {
			return nil, err
		}
		m := make([]float64, n)
		for i, v := range cols[0] {
			m[i] = v
			if wear {
				var t10 float64
				m[i], t10 = WearLife(v, nop)
				replace = min(replace, t10)
			}
			allM, allDC = append(allM, m[i]), append(allDC, cols[1][i])
		}
		return m, nil
	}
	first, err := parts("b10d", "coverage", true)
	if err != nil {
		return err
	}
	second, err := parts("b10d_2", "coverage_2", true)
	if err != nil {
		return err
	}
	other, err := parts("other", "coverage_other", false)
	if err != nil {
		return err
	}
	if double { // the others are in both channels
		allM, allDC = append(allM, other...), append(allDC, allDC[len(allDC)-len(other):]...)
	}
	channel := min(ChannelLife(append(first, other...)), limit)
	if double {
		channel = TwoChannels(channel, min(ChannelLife(append(second, other...)), limit))
	}
	dc := AverageCoverage(allDC, allM)
	level := PerformanceLevel(category, channel, dc)
	if counts && in.Num("ccf_score") < 65 {
		in.Outside("ccf_score", "%g points: category %s needs 65, so no performance level is reached (ISO 13849-1, annex F, from memory)", in.Num("ccf_score"), category)
		level = 0
	}
	rate := 1 / channel
	if by := levelOfRate(rate); !counts && by < level {
		in.Outside("b10d", "a channel of %.3g years fails dangerously %.3g times an hour: that is level %s, although the table gives its band level %s (ISO 13849-1, table 2 and annex K)", channel/year, rate*hour, levelName(by), levelName(level))
		level = by
	}
	if from, ok := annexKLife[category][coverageBand(dc)]; ok && level > 0 && channel/year*bandSlack < from[lifeBand(channel)] {
		in.Outside("b10d", "a channel of %.3g years is at the beginning of its band: table K.1 gives category %s level %s there, and level %s only from %g years (ISO 13849-1, annex K, seen)", channel/year, category, levelName(level-1), levelName(level), from[lifeBand(channel)])
		level--
	}
	if level == 5 && nop < 12 || level == 4 && nop < 1 {
		in.Outside("cycle", "so seldom opened, %.2g times a year, two channels gather faults unseen: test it by hand every month for level e, every year for level d (ISO 14119, from memory)", nop)
	}
	if in.Text("edition") == "2023" {
		in.Outside("edition", "the tables are those of 2015: check the result against the edition of 2023, which rearranged its clauses and annexes")
	}
	if counts && level > 0 {
		rate = levelLimit[level] / hour
	}
	out.Num("operations", nop)
	out.Num("channel", channel)
	out.Num("coverage_mean", dc)
	out.Num("level", float64(level))
	out.Num("failure_rate", rate)
	out.Num("replace_after", replace)
	return nil
}
