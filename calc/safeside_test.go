package calc_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Where a text states a maximum or a minimum, up and down are of the greatest
// and the least value. The expectations are sums and products by hand.
func TestUpAndDownAreOfTheWorst(t *testing.T) {
	w := wrongCase{"safe side", map[string]string{"design.calc": `
force  = 30 N ± 2 N
uneven = 30 N +1 N -4 N
bay    = 20 °C to 68 °C nominal 62 °C
open   = 10 mm to 16 mm
known  = 5.04 kg uncertain 0.1 kg
exact  = 5.04 kg
pull   = 2 * force + uneven
both   = force + 0.1 N/K * (bay - 20 °C)
less   = 100 N - force
`}}
	cases := []struct {
		shown, want string
		worst       bool
	}{
		{"force to 2 sf up", "32", true},
		{"force to 2 sf down", "28", true},
		{"force to 2 sf", "30", false},
		{"force up", "32", true},
		{"force up nominal", "30", false},
		{"force nominal to 2 sf down", "30", false},
		{"force to 2 sf up with spread", "30", false}, // the tolerance stands beside it
		{"force up to 5 N", "35", true},
		{"force up to 5 N nominal", "30", false},
		{"uneven up", "31", true},
		{"uneven down", "26", true},
		{"pull up", "95", true}, // 2*32 + 31
		{"pull down", "82", true},
		{"less up", "72", true},
		{"bay up", "68", true},
		{"bay down", "20", true},
		{"bay up nominal", "62", false},
		{"open in mm up", "16", true}, // states no nominal value, and needs none
		{"both to 3 sf up", "36.8", true},
		{"both to 3 sf down", "28.0", true},
		{"both to 3 sf up nominal", "34.2", false},
		{"known to 2 sf up", "5.1", false}, // an uncertainty has no end
		{"exact to 2 sf up", "5.1", false},
	}
	for _, c := range cases {
		w.files["figures.txt"] += c.shown + "\n"
	}
	res, list := w.report()
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	for i, c := range cases {
		if s := res.Shown(i); s.Number != c.want || s.Worst != c.worst || s.String() != c.want+" "+s.Unit.Symbol {
			t.Errorf("%s: %s (%s), worst %v; want %s, %v", c.shown, s.Number, s, s.Worst, c.want, c.worst)
		}
	}
}

// No value within the tolerance exceeds what stands there rounded up, or
// undercuts what stands there rounded down, and no closer number of the same
// digits would do. The ends are exact fractions.
func TestUpAndDownContainTheTolerance(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	type safeCase struct {
		lines string
		end   *big.Rat
		want  *big.Rat
	}
	var cases []safeCase
	w := wrongCase{"contained", map[string]string{}}
	for i := range 1000 {
		x, dev, gain := decimals(r, 4), decimals(r, 2), decimals(r, 3)
		n, dir := 1+r.IntN(4), []string{"up", "down"}[i%2]
		end := new(big.Rat).Add(rat(x), rat(dev))
		if dir == "down" {
			end.Sub(rat(x), rat(dev))
		}
		end.Mul(end, rat(gain))
		if end.Sign() == 0 {
			continue
		}
		lines := fmt.Sprintf("x%d = %s mm ± %s mm\ny%d = x%d * %s in mm\n", i, x, dev, i, i, gain)
		cases = append(cases, safeCase{lines + dir, end, multiple(end, lastPlace(end, n), dir)})
		w.files["design.calc"] += lines
		w.files["figures.txt"] += fmt.Sprintf("y%d to %d sf %s\n", i, n, dir)
	}
	res, list := w.report()
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	for i, c := range cases {
		if got := rat(res.Shown(i).Number); got.Cmp(c.want) != 0 {
			t.Errorf("%s of %s: shown as %s, want %s", c.lines, c.end.FloatString(9), got.FloatString(9), c.want.FloatString(9))
		}
	}
}
