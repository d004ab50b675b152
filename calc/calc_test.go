package calc_test

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// sheet compiles one design sheet and blocks written as "== name" sections.
func sheet(t testing.TB, text string, tables map[string]string) (*calc.Result, diag.List) {
	t.Helper()
	var in calc.Input
	var list diag.List
	name := ""
	add := func(name, body string) {
		f := diag.NewFile(map[bool]string{true: "design.calc", false: name}[name == ""], []byte(body))
		s, l := syntax.Parse(f, nil)
		list = append(list, l...)
		in.Blocks = append(in.Blocks, calc.Block{Name: name, Sheet: s, Pos: diag.Span{File: f}})
	}
	var body strings.Builder
	for _, line := range strings.SplitAfter(text, "\n") {
		if n, ok := strings.CutPrefix(line, "== "); ok {
			add(name, body.String())
			body.Reset()
			name = strings.TrimSpace(n)
			continue
		}
		body.WriteString(line)
	}
	add(name, body.String())
	in.Table = func(path string) (*diag.File, error) {
		if s, ok := tables[path]; ok {
			return diag.NewFile(path, []byte(s)), nil
		}
		return nil, errors.New("no such file")
	}
	p, l := calc.Compile(in)
	list = append(list, l...)
	r, l := p.Run()
	return r, append(list, l...)
}

// figureText is a value in the unit it is shown in, to six figures.
func figureText(f *calc.Figure) string {
	switch v := f.Value.(type) {
	case float64:
		s := fmt.Sprintf("%.6g", f.Unit.FromSI(v))
		if f.Unit.Symbol != "" {
			s += " " + f.Unit.Symbol
		}
		return s
	case nil:
		return "not available"
	default:
		return fmt.Sprint(v)
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct{ sheet, name, want string }{
		{"a = 5 mm\nb = a + 1 in\n", "b", "30.4 mm"},
		{"a = b * 2\nb = 3 N\n", "a", "6 N"}, // any order of lines
		{"d = 68 °C - 20 °C\n", "d", "48 K"},
		{"d = 68 °C + 5 K\n", "d", "73 °C"},
		{"d = mean(20 °C, 60 °C)\n", "d", "40 °C"},
		{"d = kelvin(20 °C)\n", "d", "293.15 K"},
		{"d = point(300 K)\n", "d", "26.85 °C"},
		{"d = -40 °C in °F\n", "d", "-40 °F"},
		{"x = 3 N * 20 mm\n", "x", "60 mN*m"},
		{"x = 3 N*m\ny = 2 * x\n", "y", "6 N*m"},
		{"w = 220 mm\nh = 160 mm\nr = 14 mm\nA = w*h - (4 - pi)*r^2 in cm^2\n", "A", "350.318 cm^2"},
		{"x = sqrt(9 m^2)\n", "x", "3 m"},
		{"x = (8 m^3)^(1/3)\n", "x", "2 m"},
		{"x = 60 rpm / (1 turn)\ny = x in Hz\n", "y", "1 Hz"},
		{"x = sin(30 °)\n", "x", "0.5"},
		{"x = atan2(1 m, 1 m)\n", "x", "45 °"},
		{"x = ceil(1384 mm, 5 mm)\n", "x", "1385 mm"},
		{"x = floor(0.3 m, 0.1 m)\n", "x", "0.3 m"},
		{"x = if 3 mm > 2 mm then 1 N else 2 N\n", "x", "1 N"},
		{"sag(d) = 5 mm * (10 mm / d)^4\nx = sag(20 mm)\n", "x", "0.3125 mm"},
		{"x = max(1 mm, 2 cm, 3 um) in mm\n", "x", "20 mm"},
		{"x = sum([1 mm, 2 mm] * 2)\n", "x", "6 mm"},
		{"x = lookup([0 s, 10 s], [20 °C, 40 °C], 5 s)\n", "x", "30 °C"},
		{"x = 5 %\ny = 200 N * x\n", "y", "10 N"},
		{"x = 1 kWh in MJ\n", "x", "3.6 MJ"},
		{"x = 5 kg * g_n in N\n", "x", "49.0332 N"},
		{"x = 23e-6 per K * 642 mm * 48 K\n", "x", "0.708768 mm"},
		{"x = \"a\"\ny = x == \"a\"\n", "y", "true"},
		{"x = 10 mm\n== belt\nx = 5 mm\ny = x + 1 mm\n", "belt.y", "6 mm"}, // own block first
		{"x = 10 mm\n== belt\ny = x + 1 mm\n== bed\nz = belt.y * 2\n", "bed.z", "22 mm"},
		{"x = -2^2\n", "x", "-4"},
		{"x = 2^3^2\n", "x", "512"},
		{"x = 1 EUR * 3\n", "x", "3 EUR"},
		{"x = material(\"EN AW-6082 T6\").modulus\n", "x", "70 GPa"},
	} {
		r, list := sheet(t, c.sheet, nil)
		if list.HasErrors() {
			t.Errorf("%q:\n%v", c.sheet, list)
			continue
		}
		f := r.Figure(c.name)
		if f == nil {
			t.Errorf("%q: no figure %s", c.sheet, c.name)
			continue
		}
		if got := figureText(f); got != c.want {
			t.Errorf("%q: %s = %s, want %s", c.sheet, c.name, got, c.want)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, c := range []struct{ sheet, code, has string }{
		{"a = 5 mm + 3 kg\n", "unit-mismatch", "mass, kg"},
		{"a = 68 °C + 20 °C\n", "temperature-point", "K"},
		{"a = 2 * 68 °C\n", "temperature-point", "kelvin"},
		{"a = b\nb = c + a\nc = 1\n", "circle", "a needs b needs a"},
		{"a = a + 1\n", "circle", "by itself"},
		{"alpha = 1\nx = alpah\n", "unknown-name", "alpha"},
		{"x = sqr(2)\n", "unknown-function", "sqrt"},
		{"x = 60 rpm in Hz\n", "unit-mismatch", "turn"},
		{"x = 1 N*m in mm\n", "unit-mismatch", "factor in N"},
		{"x = table \"tables/none.csv\"\n", "missing-table", "no such file"},
		{"x = 1 / 0\n", "division-by-zero", ""},
		{"x = sqrt(1 mm - 2 mm)\n", "domain", ""},
		{"x = 1e300 * 1e300\n", "overflow", ""},
		{"a = 1\na = 2\n", "duplicate-name", "twice"},
		{"x = [1 mm, 2 kg]\n", "unit-mismatch", ""},
		{"x = if 1 > 2 then 1 mm else 2 s\n", "unit-mismatch", ""},
		{"x = ln(3 mm)\n", "unit-mismatch", "plain number"},
		{"x = belt_drift(loop: 1 m)\n", "wrong-argument", ""},
		{"a = 1 EUR + 1 USD\n", "unit-mismatch", ""},
		{"x = lookup([0 s, 10 s], [1, 2], 11 s)\n", "out-of-table", ""},
		{"x = material(\"EN AW-6082\").modulus\n", "unknown-material", "EN AW-6082 T6"},
		{"x = material(\"EN AW-6082 T6\").cte\n", "unknown-name", "expansion"},
		{"f(x) = x + 1 mm\ny = f(2 kg)\n", "unit-mismatch", "in this call"},
		{"x = 5 mm uncertain 2 kg\n", "unit-mismatch", ""},
		{"a = 2 mm\nx = a * 3 ± 1 mm\n", "spread-of-formula", "line of its own"},
	} {
		_, list := sheet(t, c.sheet, nil)
		list = list.Sorted()
		if len(list) != 1 {
			t.Errorf("%q: %d reports, want 1:\n%v", c.sheet, len(list), list)
			continue
		}
		if c.code != "" && list[0].Code != c.code || !strings.Contains(list[0].Report(), c.has) {
			t.Errorf("%q: want %s with %q, got:\n%s", c.sheet, c.code, c.has, list[0].Report())
		}
	}
}

// One mistake gives one message: what depends on it is silent.
func TestNoEchoes(t *testing.T) {
	r, list := sheet(t, "a = 1 mm + 1 kg\nb = a * 2\nc = b + 1 s\nlimit l: c < 3 s\n  else danger \"{= c}\"\n", nil)
	if len(list.Sorted()) != 1 {
		t.Errorf("want one report, got:\n%v", list)
	}
	if f := r.Figure("c"); f.Value != nil {
		t.Errorf("c = %v, want not available", f.Value)
	}
	if r.Limits()[0].Known() {
		t.Error("the limit is known")
	}
}

func TestTable(t *testing.T) {
	tables := map[string]string{"tables/lamps.csv": "id,heated length (mm),power (W)\nleft,240,200\nright,300,250\n"}
	r, list := sheet(t, "lamps = table \"tables/lamps.csv\"\ntotal = sum(lamps.power)\none = pick(lamps, \"right\").heated_length\nn = count(lamps)\n", tables)
	if list.HasErrors() {
		t.Fatal(list)
	}
	for name, want := range map[string]string{"total": "450 W", "one": "300 mm", "n": "2"} {
		if got := figureText(r.Figure(name)); got != want {
			t.Errorf("%s = %s, want %s", name, got, want)
		}
	}
	for text, code := range map[string]string{
		"a (mm),b\n1,2\n3\n": "malformed-table",
		"a (xx)\n1\n":        "malformed-table",
		"a (mm)\nsix\n":      "malformed-table",
		"a,a\n1,2\n":         "malformed-table",
		"a\n\"x\n":           "malformed-table",
		"":                   "malformed-table",
		"a (mm)\n1\n2,5\n":   "malformed-table",
	} {
		_, list := sheet(t, "x = table \"t.csv\"\n", map[string]string{"t.csv": text})
		if len(list) == 0 || list[0].Code != code {
			t.Errorf("table %q: want %s, got %v", text, code, list)
		}
	}
}

func TestSpread(t *testing.T) {
	r, list := sheet(t, strings.Join([]string{
		"a = 10 mm ± 0.2 mm",
		"b = 20 mm +0.3 mm -0.1 mm",
		"c = a + b",
		"z = a - a",
		"m = 2 kg uncertain 5 %",
		"n = 3 kg uncertain 0.3 kg",
		"s = m + n",
		"q = m * m",
		"t = 18 °C to 68 °C nominal 20 °C",
		"k = 2 N/K * (t - 20 °C)",
		"p = (t - 40 °C) * (t - 40 °C) / (1 K)",
		"",
	}, "\n"), nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s = %v, want %v", what, got, want)
		}
	}
	c := r.Figure("c").Spread
	near("c worst above", c.TolHi, 0.5e-3)
	near("c worst below", c.TolLo, 0.3e-3)
	if z := r.Figure("z").Spread; z != nil {
		near("z worst", z.TolHi, 0)
	}
	s := r.Figure("s").Spread
	near("U(s)", s.U, math.Hypot(0.1, 0.3)) // 5 % of 2 kg and 0.3 kg, both expanded, by hand
	near("U(q)", r.Figure("q").Spread.U, 2*2*0.1)
	k := r.Figure("k").Spread
	near("k low", k.Low, -4)
	near("k high", k.High, 96)
	p := r.Figure("p").Spread
	near("p low", p.Low, 0) // inside the range, not at its ends
	near("p high", p.High, 28*28)
}

// JCGM 100:2008 H.1, end-gauge calibration, without its second-order term:
// u_c = 31.66 nm (printed 32), nu_eff = 16.75 (printed 16), from the components
// of table H.1 (25; 5.8, 3.9, 6.7; 2.9; 16.6 nm). The model of H.1.
func TestEndGauge(t *testing.T) {
	r, list := sheet(t, strings.Join([]string{
		"l_S = 50.000623 mm uncertain 25 nm k 1 dof 18",
		"d_0 = 215 nm",
		"d_1 = 0 nm uncertain 5.8 nm k 1 dof 24",
		"d_2 = 0 nm uncertain 3.9 nm k 1 dof 5",
		"d_3 = 0 nm uncertain 6.7 nm k 1 dof 8",
		"alpha_S = 11.5e-6 per K",
		"dalpha = 0 per K uncertain 1e-6 per K dof 50 rectangular",
		"theta = -0.1 K",
		"dtheta = 0 K uncertain 0.05 K dof 2 rectangular",
		"l = l_S + d_0 + d_1 + d_2 + d_3 - l_S*(dalpha*theta + alpha_S*dtheta)",
		"",
	}, "\n"), nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	s := r.Figure("l").Spread
	if v := r.Figure("l").Value.(float64); math.Abs(v-50.000838e-3) > 0.5e-9 {
		t.Errorf("l = %v", v)
	}
	if u := s.Std * 1e9; math.Abs(u-31.664) > 0.01 {
		t.Errorf("u_c = %.3f nm, want 31.66", u)
	}
	if math.Floor(s.DOF) != 16 {
		t.Errorf("effective degrees of freedom %.2f, want 16 (truncated)", s.DOF)
	}
}

func TestLimits(t *testing.T) {
	r, list := sheet(t, strings.Join([]string{
		"load = 4 kg uncertain 10 %",
		"width = 10 mm ± 0.5 mm",
		"limit heavy: load <= 4.5 kg",
		"  else caution \"A full reservoir weighs {= load}.\"",
		"limit narrow: width <= 10.4 mm",
		"  else danger \"Too wide: {= width with spread}.\"",
		"limit range: 9 mm <= width and width <= 12 mm",
		"  else notice \"no\"",
		"limit choice: load > 5 kg else warning \"light\" accepted \"test weight\"",
		"",
	}, "\n"), nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	l := r.Limits()
	if !l[0].Holds() || l[0].Doubtful || math.Abs(l[0].Margin-0.5) > 1e-9 {
		t.Errorf("heavy: %+v", l[0])
	}
	if l[1].Holds() || !l[1].Nominal {
		t.Errorf("narrow holds on the worst case: %+v", l[1])
	}
	if !l[2].Holds() || math.Abs(l[2].Margin-0.5e-3) > 1e-9 {
		t.Errorf("range: %+v", l[2])
	}
	if l[3].Holds() || l[3].Accepted == "" {
		t.Errorf("choice: %+v", l[3])
	}
	var msg strings.Builder
	for _, p := range l[0].Message {
		if p.Shown != nil {
			msg.WriteString(p.Shown.String())
		} else {
			msg.WriteString(p.Text)
		}
	}
	if msg.String() != "A full reservoir weighs 4 kg." {
		t.Errorf("message %q", msg.String())
	}
}

// What depends on nothing else does not depend on the order of the lines.
func TestOrderOfLines(t *testing.T) {
	lines := []string{"a = 2 mm ± 0.1 mm", "b = a * 3", "c = b + a", "f(x) = x^2", "d = f(c)", "limit l: d < 100 mm^2 else notice \"x\""}
	var want string
	for shift := range lines {
		text := strings.Join(append(append([]string(nil), lines[shift:]...), lines[:shift]...), "\n") + "\n"
		r, list := sheet(t, text, nil)
		if list.HasErrors() {
			t.Fatal(list)
		}
		var out []string
		for _, f := range r.Figures() {
			out = append(out, f.Name+"="+figureText(f))
		}
		sort.Strings(out)
		got := strings.Join(out, ";")
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("order %d: %s, want %s", shift, got, want)
		}
	}
}

func TestModelCarriesSpread(t *testing.T) {
	// The same figure by the model and by its formula must have the same spread.
	r, list := sheet(t, strings.Join([]string{
		"d = 16 mm ± 0.1 mm",
		"E = 205 GPa uncertain 2 %",
		"s = section_round(diameter: d)",
		"i = pi * d^4 / 64",
		"",
	}, "\n"), nil)
	if list.HasErrors() {
		t.Fatal(list)
	}
	i := r.Figure("i")
	found := false
	for _, f := range r.Figures() {
		if f.Parent != nil && f.Parent.Name == "s" {
			if v, ok := f.Value.(float64); ok && math.Abs(v/i.Value.(float64)-1) < 1e-12 {
				found = true
				if math.Abs(f.Spread.TolHi/i.Spread.TolHi-1) > 1e-5 {
					t.Errorf("%s: worst case %v by the model, %v by the formula", f.Name, f.Spread.TolHi, i.Spread.TolHi)
				}
			}
		}
	}
	if !found {
		t.Error("the model gives no second moment equal to the formula's")
	}
}

func BenchmarkChain(b *testing.B) {
	var s strings.Builder
	s.WriteString("x0 = 1 mm ± 0.01 mm\n")
	for i := 1; i <= 10000; i++ {
		fmt.Fprintf(&s, "x%d = x%d * 0.9999 + 0.001 mm\n", i, i-1)
	}
	b.ReportAllocs()
	for b.Loop() {
		_, list := sheet(b, s.String(), nil)
		if list.HasErrors() {
			b.Fatal(list)
		}
	}
}

// A tolerance written at a check is checked with the program, also where the
// value cannot be computed, and is shown as it was written.
func TestOwnSpread(t *testing.T) {
	check := func(text string) (*calc.Shown, diag.List) {
		f := diag.NewFile("page.md", []byte(text))
		q, list := syntax.ParseQuantity(f, nil)
		if list.HasErrors() {
			t.Fatal(list)
		}
		sheetFile := diag.NewFile("design.calc", []byte("len = 5 mm\nzero = 0 mm\nbad = len / zero * 1 mm\n"))
		sh, l := syntax.Parse(sheetFile, nil)
		if l.HasErrors() {
			t.Fatal(l)
		}
		p, list := calc.Compile(calc.Input{
			Blocks: []calc.Block{{Sheet: sh}},
			Exprs:  []calc.Expr{{X: q.X, Round: q.Round, Own: q.Spread, Spread: true}},
		})
		r, _ := p.Run()
		return r.Shown(0), list
	}
	s, list := check("len ± 0.20 mm")
	if list.HasErrors() || s.Plus != "0.20" || s.Minus != "0.20" || math.Abs(s.Spread.TolHi-0.2e-3) > 1e-15 {
		t.Errorf("len ± 0.20 mm: %+v, %v", s, list)
	}
	for _, text := range []string{"len ± 2 kg", "bad ± 2 kg"} {
		if _, list := check(text); len(list) != 1 || list[0].Code != "unit-mismatch" {
			t.Errorf("%s: want one unit-mismatch, got %v", text, list)
		}
	}
}

// The two sides of a limit are read in one unit, that of the number written in it.
func TestSidesInOneUnit(t *testing.T) {
	r, list := sheet(t, "drop = 0.434 V\nsupply = 10 V\nshare = drop / supply\n"+
		"limit a: share <= 3 %\nlimit b: 3 % >= share\nlimit c: share <= 0.03\nlimit d: drop <= 500 mV\n", nil)
	if list.HasErrors() {
		t.Fatal(list.Err())
	}
	want := []string{"4.34 % 3 %", "3 % 4.34 %", "0.0434 0.03", "434 mV 500 mV"}
	for i, l := range r.Limits() {
		got := unit.Join(l.Left.Number, l.Left.Unit) + " " + unit.Join(l.Right.Number, l.Right.Unit)
		if got = strings.ReplaceAll(strings.ReplaceAll(got, "\u202f", " "), "\u00a0", " "); got != want[i] {
			t.Errorf("%s: %s, want %s", l.Name, got, want[i])
		}
	}
}
