package unit

import (
	"math"
	"testing"
)

// Published factors of units and of compounds of units. Those given as exact
// agree as rational numbers, apart from pi; those that were rounded, to one unit
// of the last of sixteen digits.
func TestExactFactors(t *testing.T) {
	rows := readTSV(t, "exact.tsv", "unit in factor exact source")
	if len(rows) < 70 {
		t.Errorf("%d rows: some are lost", len(rows))
	}
	for _, r := range rows {
		u, err1 := Parse(r[0])
		si, err2 := Parse(r[1])
		if err1 != nil || err2 != nil {
			t.Errorf("%q: %v %v", r, err1, err2)
			continue
		}
		if u.Dim != si.Dim || si.Factor != 1 {
			t.Errorf("%s is not in %s", r[0], r[1])
			continue
		}
		want, _ := rat(r[2]).Float64()
		if r[3] == "times pi" {
			want *= math.Pi
		}
		if r[3] == "yes" {
			p := &parser{s: r[0]}
			if v := p.product(0); p.err != nil || v.pi != 0 || v.loose != 1 || v.exact.Cmp(rat(r[2])) != 0 {
				t.Errorf("%s = %s, want %s", r[0], v.exact.RatString(), r[2])
			}
			if u.Factor != want {
				t.Errorf("%s: factor %v is not the float64 nearest to %s", r[0], u.Factor, r[2])
			}
		}
		if math.Abs(u.Factor-want) > 1e-15*want {
			t.Errorf("%s: factor %.17g, want %s", r[0], u.Factor, r[2])
		}
	}
}
