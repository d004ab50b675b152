package calc_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// withTable runs a sheet that reads one table.
func withTable(t testing.TB, text, name, csv string) (*calc.Result, diag.List) {
	t.Helper()
	sh, list := syntax.Parse(diag.NewFile("design.calc", []byte(text)), nil)
	p, errs := calc.Compile(calc.Input{
		Blocks: []calc.Block{{Sheet: sh}},
		Table: func(n string) (*diag.File, error) {
			if n != name {
				return nil, errors.New("no such file")
			}
			return diag.NewFile(n, []byte(csv)), nil
		},
	})
	list = append(list, errs...)
	r, errs := p.Run()
	return r, append(list, errs...)
}

// JCGM 100:2008 H.2, simultaneous resistance and reactance measurement, from
// memory: the five sets of readings of table H.2, the means and correlations
// printed there, and table H.4 as it is obtained from the means (approach 1).
// The printed u(X) = 0.295 follows from rounded correlations; the readings
// themselves give 0.2956, so one unit of the last digit is allowed there.
func TestImpedance(t *testing.T) {
	r, list := withTable(t, strings.Join([]string{
		`obs = table "h2.csv"`,
		"V = readings(obs.voltage)",
		"I = readings(obs.current)",
		"phi = readings(obs.phase)",
		"R = V / I * cos(phi)",
		"X = V / I * sin(phi)",
		"Z = V / I",
		"",
	}, "\n"), "h2.csv", "voltage (V),current (mA),phase (rad)\n5.007,19.663,1.0456\n4.994,19.639,1.0438\n5.005,19.640,1.0468\n4.990,19.685,1.0428\n4.999,19.678,1.0433\n")
	if len(list) > 0 {
		t.Fatal(list)
	}
	value := func(name string) float64 { return r.Figure(name).Value.(float64) }
	for _, c := range []struct {
		what             string
		got, want, print float64 // print: half of the last digit printed
	}{
		{"mean V", value("V"), 4.9990, 0.00005},
		{"u(V)", r.Figure("V").Spread.Std, 0.0032, 0.00005},
		{"mean I", value("I") * 1e3, 19.6610, 0.00005},
		{"u(I)", r.Figure("I").Spread.Std * 1e3, 0.0095, 0.00005},
		{"mean phi", value("phi"), 1.04446, 0.000005},
		{"u(phi)", r.Figure("phi").Spread.Std, 0.00075, 0.000005},
		{"r(V, I)", r.Correlation("V", "I"), -0.36, 0.005},
		{"r(V, phi)", r.Correlation("V", "phi"), 0.86, 0.005},
		{"r(I, phi)", r.Correlation("I", "phi"), -0.65, 0.005},
		{"R", value("R"), 127.732, 0.0005},
		{"u(R)", r.Figure("R").Spread.Std, 0.071, 0.0005},
		{"X", value("X"), 219.847, 0.0005},
		{"u(X)", r.Figure("X").Spread.Std, 0.295, 0.001},
		{"Z", value("Z"), 254.260, 0.0005},
		{"u(Z)", r.Figure("Z").Spread.Std, 0.236, 0.0005},
		{"r(R, X)", r.Correlation("R", "X"), -0.588, 0.0005},
		{"r(R, Z)", r.Correlation("R", "Z"), -0.485, 0.0005},
		{"r(X, Z)", r.Correlation("X", "Z"), 0.993, 0.0005},
	} {
		if math.Abs(c.got-c.want) > c.print {
			t.Errorf("%s: %v, published %v", c.what, c.got, c.want)
		}
	}
	sp := r.Figure("R").Spread
	if sp.DOF < 3.999 || sp.DOF > 4.001 {
		t.Errorf("readings taken together have n-1 degrees of freedom, got %v", sp.DOF)
	}
	// Table G.2 of JCGM 100: 2.87 for 4 degrees of freedom at 95.45 %.
	if math.Abs(sp.K-2.87) > 0.005 {
		t.Errorf("coverage factor %v, published 2.87", sp.K)
	}
	if len(sp.Shares) != 1 || sp.Shares[0].Name != "readings of obs" || math.Abs(sp.Shares[0].Part-1) > 1e-12 {
		t.Errorf("shares %v", sp.Shares)
	}
}

// JCGM 100:2008 4.4.3, twenty readings of a temperature, from memory: mean
// 100.145 °C, standard uncertainty of the mean 0.333 °C (printed 0.33).
func TestReadingsOfTemperature(t *testing.T) {
	r, list := withTable(t, "obs = table \"t.csv\"\nT = readings(obs.t)\nrise = T - 20 °C\n", "t.csv",
		"t (°C)\n96.90\n98.18\n98.25\n98.61\n99.03\n99.49\n99.56\n99.74\n99.89\n100.07\n100.33\n100.42\n100.68\n100.95\n101.11\n101.20\n101.57\n101.84\n102.36\n102.72\n")
	if len(list) > 0 {
		t.Fatal(list)
	}
	f := r.Figure("T")
	if got := f.Value.(float64) - 273.15; math.Abs(got-100.145) > 0.0005 {
		t.Errorf("mean %v", got)
	}
	if math.Abs(f.Spread.Std-0.333) > 0.0005 || math.Abs(f.Spread.DOF-19) > 1e-9 {
		t.Errorf("u = %v, dof %v", f.Spread.Std, f.Spread.DOF)
	}
	if g := r.Figure("rise"); math.Abs(g.Value.(float64)-80.145) > 0.0005 || g.Spread.Std != f.Spread.Std {
		t.Errorf("rise %v, u %v", g.Value, g.Spread.Std)
	}
}

// Student's t at 95.45 %, JCGM 100:2008 table G.2; checked against a secondary
// source: NIST Technical Note 1297 prints the same table as B.1.
var studentTable = map[int]float64{1: 13.97, 2: 4.53, 3: 3.31, 4: 2.87, 5: 2.65, 6: 2.52, 7: 2.43, 8: 2.37, 9: 2.32, 10: 2.28, 12: 2.23, 16: 2.17, 19: 2.14,
	20: 2.13, 50: 2.05, 100: 2.025}

func TestCoverage(t *testing.T) {
	for dof, want := range studentTable {
		r, list := sheet(t, fmt.Sprintf("x = 10 mm uncertain 1 mm k 1 dof %d\n", dof), nil)
		if len(list) > 0 {
			t.Fatal(list)
		}
		if k := r.Figure("x").Spread.K; math.Abs(k-want) > 0.005 {
			t.Errorf("dof %d: k = %v, published %v", dof, k, want)
		}
	}
}

// Effective degrees of freedom that are no whole number go down to the next
// one before the table is read (JCGM 100:2008, G.4.1, which allows to
// interpolate as well; not checked against the text). Of two inputs with the
// same uncertainty the formula of Welch and Satterthwaite gives 4ab/(a+b).
// Where that is a whole number the noise of arithmetic must not cost one.
func TestCoverageOfEffectiveDegreesOfFreedom(t *testing.T) {
	for _, c := range []struct{ a, b, row int }{
		{1, 2, 2},   // 2.67
		{2, 3, 4},   // 4.8
		{3, 4, 6},   // 6.86
		{4, 5, 8},   // 8.89
		{3, 8, 8},   // 8.73
		{4, 7, 10},  // 10.18
		{9, 11, 19}, // 19.8
		{1, 1, 2},   // whole from here on
		{1, 3, 3},
		{2, 6, 6},
		{3, 6, 8},
		{5, 5, 10},
		{6, 12, 16},
		{10, 10, 20},
		{25, 25, 50},
	} {
		if 4*c.a*c.b/(c.a+c.b) != c.row { // whole numbers, cut as the text says
			t.Fatalf("the row of %d and %d is written wrongly", c.a, c.b)
		}
		for _, u := range []string{"1", "0.7", "0.013", "3.3333"} {
			r, list := sheet(t, fmt.Sprintf("x = 10 mm uncertain %s mm k 1 dof %d\ny = 20 mm uncertain %s mm k 1 dof %d\nz = x + y\n", u, c.a, u, c.b), nil)
			if len(list) > 0 {
				t.Fatal(list)
			}
			if k, want := r.Figure("z").Spread.K, studentTable[c.row]; math.Abs(k-want) > 0.005 {
				t.Errorf("dof %d and %d of %s mm: k = %v, published %v for %d", c.a, c.b, u, k, want, c.row)
			}
		}
	}
}

// What a slope at the nominal value cannot see must not slip through a limit:
// each tolerance is put to its ends.
func TestToleranceAtItsEnds(t *testing.T) {
	r, list := sheet(t, strings.Join([]string{
		"a = 0 ° ± 30 °",
		"b = 5 mm ± 1 mm",
		"c = cos(a)",
		"off = abs(b - 5 mm)",
		"limit upright: cos(a) >= 0.9",
		"  else caution \"it leans\"",
		"limit straight: off <= 0.5 mm",
		"  else caution \"it is off\"",
		"limit either: b > 4.5 mm or a > 10 °",
		"  else caution \"neither\"",
		"limit ok: off <= 1 mm",
		"  else caution \"it is off\"",
		"",
	}, "\n"), nil)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if got, want := r.Figure("c").Spread.TolLo, 1-math.Cos(math.Pi/6); math.Abs(got-want) > 1e-12 {
		t.Errorf("cos(0 ± 30°) goes down by %v, want %v", got, want)
	}
	for _, l := range r.Limits() {
		if l.Holds() != (l.Name == "ok") {
			t.Errorf("limit %s holds: %v", l.Name, l.Holds())
		}
	}
}

// A range only a few units of the last digit wide ends the search as any other.
func TestNarrowRange(t *testing.T) {
	r, list := sheet(t, "t = 0 °F to 0.000000001 °F\nu = (t - 5 °C)^2\n", nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	if sp := r.Figure("u").Spread; !sp.Ranged || sp.Low > sp.High {
		t.Error(sp)
	}
}

// A limit that cannot be computed on its worst case does not hold, whatever it
// does on the nominal values.
func TestUnknownLimit(t *testing.T) {
	r, list := sheet(t, "bay = 18 °C to 68 °C\nk = lookup([10 °C, 60 °C], [1 N, 5 N], bay)\nlimit l: k < 6 N\n  else danger \"no\"\nlimit m: bay < 30 °C or k < 6 N\n  else danger \"no\"\n", nil)
	if !list.HasErrors() {
		t.Error("nothing is reported")
	}
	for _, l := range r.Limits() {
		if l.Known() || l.Holds() {
			t.Errorf("limit %s: known %v, holds %v", l.Name, l.Known(), l.Holds())
		}
	}
}

// A range that cancels out of a figure is not shown with it.
func TestRangeThatDoesNotReach(t *testing.T) {
	r, list := sheet(t, "room = 15 °C to 30 °C\nrise = room - room\nloss = 3 W/K * (rise + 2 K) / (rise + 2 K)\n", nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	if sp := r.Figure("loss").Spread; sp != nil && sp.Ranged {
		t.Errorf("%+v", sp)
	}
}
