package unit

import (
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// readTSV reads a file of testdata: comment lines, a head line, rows.
func readTSV(t *testing.T, name, head string) [][]string {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(strings.TrimSuffix(string(b), "\n"), "\n") {
		if !strings.HasPrefix(line, "#") {
			rows = append(rows, strings.Split(line, "\t"))
		}
	}
	if got := strings.Join(rows[0], " "); got != head {
		t.Fatalf("%s: columns %q, want %q", name, got, head)
	}
	for i, r := range rows {
		if len(r) != len(rows[0]) || r[len(r)-1] == "" {
			t.Fatalf("%s: row %d has no source: %q", name, i, r)
		}
	}
	return rows[1:]
}

// Each unit has the exact value of its definition; no unit is without one.
func TestDefinitions(t *testing.T) {
	defined := map[*row]bool{}
	prefixes := map[string]bool{}
	for _, r := range readTSV(t, "definitions.tsv", "unit value base source") {
		sym, value, base := r[0], r[1], r[2]
		a := atoms[sym]
		if a == nil {
			t.Errorf("%s is no unit", sym)
			continue
		}
		if a.exp == 0 {
			defined[a.row] = true
		} else if a.row.sym == "m" {
			prefixes[a.prefix] = true
		}
		value, zero, isScale := strings.Cut(value, " + ")
		if isScale != a.unit.Point || isScale && rat(zero).Cmp(rat(a.row.offset)) != 0 {
			t.Errorf("%s: zero at %s K, want %s", sym, a.row.offset, zero)
		}
		value, isPi := strings.CutSuffix(value, " pi")
		if isPi != (a.row.pi == 1) {
			t.Errorf("%s: times pi^%d", sym, a.row.pi)
		}
		if want := rat(value); a.exact.Cmp(want) != 0 {
			t.Errorf("%s = %s, want %s", sym, a.exact.RatString(), want.RatString())
		}
		u, err := Parse(sym)
		if err != nil || u.Dim.String() != base {
			t.Errorf("%s: %v, in %s, want %s", sym, err, u.Dim, base)
		}
		// The float64 nearest to the exact value, with pi within an ulp of it.
		want, _ := rat(value).Float64()
		if isPi {
			pi, _ := new(big.Float).SetPrec(120).SetString("3.14159265358979323846264338327950288")
			x, _ := new(big.Float).SetPrec(120).SetRat(rat(value)), 0
			want, _ = x.Mul(x, pi).Float64()
		}
		if math.Abs(u.Factor-want) > math.Abs(math.Nextafter(want, 2*want)-want) || !isPi && u.Factor != want {
			t.Errorf("%s: factor %v, want %v", sym, u.Factor, want)
		}
	}
	for i := range table {
		if !defined[&table[i]] {
			t.Errorf("%s is not in definitions.tsv", table[i].sym)
		}
		if table[i].source == "" || table[i].name == "" {
			t.Errorf("%s has no name or source", table[i].sym)
		}
	}
	if len(prefixes) != 24 || len(prefixTable) != 24 {
		t.Errorf("%d prefixes are checked and %d are in the table; the SI has 24", len(prefixes), len(prefixTable))
	}
}

// An independent database of units agrees on every conversion, to the fifteen
// digits that it prints.
func TestConversions(t *testing.T) {
	rows := readTSV(t, "conversions.tsv", "number from to value source")
	if len(rows) < 900 {
		t.Errorf("%d rows: some are lost", len(rows))
	}
	for _, r := range rows {
		x, err1 := strconv.ParseFloat(r[0], 64)
		want, err2 := strconv.ParseFloat(r[3], 64)
		from, err3 := Parse(r[1])
		to, err4 := Parse(r[2])
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil {
			t.Errorf("%q: %v %v %v %v", r, err1, err2, err3, err4)
			continue
		}
		if from.Dim != to.Dim {
			t.Errorf("%s and %s: dimensions %s and %s", r[1], r[2], from.Dim, to.Dim)
			continue
		}
		// Half a unit of the fifteenth digit, and rounding; of temperatures, which
		// go through kelvins, of the kelvins.
		tol := func(v float64) float64 {
			if from.Point {
				return 5e-15 * 1500
			}
			return 1e-14 * math.Abs(v)
		}
		if got := to.FromSI(from.ToSI(x)); math.Abs(got-want) > tol(want) {
			t.Errorf("%s %s = %.17g %s, want %s", r[0], r[1], got, r[2], r[3])
		}
		if back := from.FromSI(to.ToSI(want)); math.Abs(back-x) > tol(x) {
			t.Errorf("%s %s = %.17g %s, want %s", r[3], r[2], back, r[1], r[0])
		}
	}
}

// Fixed points of the scales (SI brochure 2.3.4; NIST SP 811 B.9), exact in print.
func TestTemperatures(t *testing.T) {
	unit := func(s string) Unit {
		u, err := Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return u
	}
	c, f, k := unit("°C"), unit("°F"), unit("K")
	for _, p := range []struct{ c, f, k float64 }{
		{-273.15, -459.67, 0}, {-40, -40, 233.15}, {0, 32, 273.15}, {20, 68, 293.15}, {37, 98.6, 310.15}, {100, 212, 373.15}, {170, 338, 443.15}, {0.1, 32.18, 273.25},
	} {
		for _, x := range []struct {
			from Unit
			n    float64
		}{{c, p.c}, {f, p.f}, {k, p.k}} {
			si := x.from.ToSI(x.n)
			if math.Abs(si-p.k) > 1e-12*300 {
				t.Errorf("%v %s = %v K, want %v", x.n, x.from.Symbol, si, p.k)
			}
			if got := c.FromSI(si); got != p.c {
				t.Errorf("%v %s = %v °C, want %v", x.n, x.from.Symbol, got, p.c)
			}
			if got := f.FromSI(si); got != p.f {
				t.Errorf("%v %s = %v °F, want %v", x.n, x.from.Symbol, got, p.f)
			}
		}
	}
	// What is no round number is left as it is.
	si := 300.1234567890123
	if got := c.FromSI(si); got != si-c.Offset {
		t.Errorf("FromSI changed a number to %v", got)
	}
}

// Two angles that must not be mixed up: see the package comment.
func TestAngle(t *testing.T) {
	rpm, _ := Parse("rpm")
	hz, _ := Parse("Hz")
	rad, _ := Parse("rad/s")
	if rpm.Dim == hz.Dim {
		t.Error("rpm and Hz have one dimension")
	}
	if rpm.Dim != rad.Dim || math.Abs(rpm.ToSI(60)-2*math.Pi) > 1e-15 {
		t.Errorf("60 rpm = %v rad/s", rpm.ToSI(60))
	}
}
