package calc_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"golang.org/x/tools/txtar"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
)

// longest is the processor time that any input of a few kilobytes may take; the
// bounds of the language keep the worst of them near half a second.
const longest = 2 * time.Second

// releaseOf reads a small release out of a text in the form of the wrong
// sheets; a text without file heads is a design sheet.
func releaseOf(text string) wrongCase {
	a := txtar.Parse([]byte(text))
	c := wrongCase{"fuzz", map[string]string{}}
	if len(a.Files) == 0 {
		c.files["design.calc"] = text
	}
	for _, f := range a.Files {
		c.files[f.Name] = string(f.Data)
	}
	return c
}

func releaseText(files map[string]string) string {
	var a txtar.Archive
	for _, name := range []string{"design.calc", "belt.calc", "frame.calc", "figures.txt", "checks.txt", "pieces.txt", "plot.txt", "map.txt", "set.txt"} {
		if s, ok := files[name]; ok {
			a.Files = append(a.Files, txtar.File{Name: name, Data: []byte(s)})
		}
	}
	for _, name := range []string{"tables/lamps.csv", "tables/t.csv", "tables/volts.csv", "tables/loads.csv"} {
		if s, ok := files[name]; ok {
			a.Files = append(a.Files, txtar.File{Name: name, Data: []byte(s)})
		}
	}
	return string(txtar.Format(&a))
}

var calcFence = regexp.MustCompile("(?ms)^```calc[^\n]*\n(.*?)^```")

// releaseSeeds are releases to begin from: the wrong sheets, the demonstration
// and its blocks one at a time, and the sheets of broken manuals.
func releaseSeeds(t testing.TB) []string {
	t.Helper()
	var seeds []string
	glob := func(pattern string) []string {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: no files (%v)", pattern, err)
		}
		return names
	}
	read := func(name string) string {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	for _, name := range glob("testdata/errors/*.txtar") {
		for _, c := range wrongCases(t, txtar.Parse([]byte(read(name)))) {
			seeds = append(seeds, releaseText(c.files))
		}
	}
	fenbank := map[string]string{"design.calc": read("../testdata/fenbank/design.calc")}
	for _, name := range glob("../testdata/fenbank/tables/*.csv") {
		fenbank["tables/"+filepath.Base(name)] = read(name)
	}
	seeds = append(seeds, releaseText(fenbank))
	for _, name := range glob("../testdata/fenbank/pages/*.md") {
		for _, block := range calcFence.FindAllStringSubmatch(read(name), -1) {
			fenbank["belt.calc"] = block[1]
			seeds = append(seeds, releaseText(fenbank))
		}
	}
	for _, name := range glob("../testdata/broken/*.txtar") {
		for _, f := range txtar.Parse([]byte(read(name))).Files {
			if f.Name == "design.calc" {
				seeds = append(seeds, string(f.Data))
			}
		}
	}
	return append(seeds,
		"a = 3 mm ± 0.1 mm\nb = 2 N uncertain 5 % k 3 dof 4 arcsine\nc = 18 °C to 68 °C nominal 20 °C\nd = a^2 * b / 1 s + (c - 0 °C) * 0 W/K\nf(x) = if x > a then x else -x\ne = f(a) + f(2 * a)\nlimit l: e < 5 mm and a > 1 mm else danger \"{= e with spread}\"\ncrosscheck e: 5 mm within 3 %\n",
		"a = 0 to 2\nb = 1 / a\nc = sqrt(a)\nd = asin(a)\nlimit l: b < 3 else notice \"x\"\n",
		"a = 1 ± 1\nb = ln(a)\nc = a^a\nd = 1 / a\ne = atan2(a, a - 1)\nf = hypot(a - 1, a - 1)\ng = lookup([0, 1, 2], [0 N, 5 N, 1 N], a)\n",
	)
}

// FuzzRelease: any text compiles and runs in short time, without a panic and
// without a fault of ours; nothing that it gives is no number; the places of
// all reports lie in their files; and once more it gives the same.
func FuzzRelease(f *testing.F) {
	fewSteps()
	for _, s := range releaseSeeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<15 {
			return
		}
		first := checkRelease(t, text)
		if again := checkRelease(t, text); again != first {
			t.Errorf("it gives\n%s\nand once more\n%s", first, again)
		}
	})
}

// checkRelease computes a release, checks what it gives, and writes it down.
func checkRelease(t *testing.T, text string) string {
	t.Helper()
	c := releaseOf(text)
	start := processorTime()
	r, list := c.report()
	if took := processorTime() - start; took > longest {
		t.Errorf("it took %v", took)
	}
	var b strings.Builder
	b.WriteString(list.Error())
	for _, d := range list {
		if d.Code == "internal-error" || strings.Contains(d.Msg, "internal error") {
			t.Errorf("a fault: %s", d.Report())
		}
		checkPlace(t, d.Span, d.Msg)
		for _, n := range d.Also {
			checkPlace(t, n.Span, n.Msg)
		}
	}
	for _, f := range r.Figures() {
		finite(t, f.Name, f.Value)
		finiteSpread(t, f.Name, f.Spread)
		fmt.Fprintln(&b, f.Name, valueText(f.Value), f.Unit.Symbol, spreadText(f.Spread))
	}
	shown := func(what string, s *calc.Shown) {
		if s == nil {
			return
		}
		finite(t, what, s.Value)
		finiteSpread(t, what, s.Spread)
		for _, n := range []string{s.Number, s.Plus, s.Minus, s.Uncertain, s.Low, s.High} {
			if n != "" && !decimalText.MatchString(n) {
				t.Errorf("%s is shown as %q", what, n)
			}
		}
		// What is just within the largest number in SI may be beyond it in millimetres.
		if v, ok := s.Value.(float64); ok && s.Number == "" && math.Abs(v) < 1e290 {
			t.Errorf("%s has a value and no number", what)
		}
		fmt.Fprintln(&b, what, s.String(), s.Plus, s.Minus, s.Uncertain, s.Low, s.High)
	}
	in, _ := c.input()
	for i := range in.Exprs {
		shown(fmt.Sprintf("expression %d", i), r.Shown(i))
	}
	for _, l := range r.Limits() {
		what := "limit " + l.Name
		shown(what+" left", l.Left)
		shown(what+" right", l.Right)
		for _, p := range l.Message {
			shown(what+" message", p.Shown)
		}
		finite(t, what, []float64{l.Worst, l.Margin, l.Ratio})
		if l.Holds() && !l.Known() {
			t.Errorf("%s holds and is not known", what)
		}
		fmt.Fprintln(&b, what, l.Known(), l.Holds(), l.Nominal, l.Doubtful, l.Worst, l.Margin, l.Ratio)
	}
	for _, k := range r.CrossChecks() {
		shown("cross-check", k.First)
		shown("cross-check", k.Second)
		if math.IsNaN(k.Off) {
			t.Errorf("a cross-check is off by no number")
		}
		fmt.Fprintln(&b, "cross-check", k.Known, k.Agrees, k.Off)
	}
	return b.String()
}

var decimalText = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)

func checkPlace(t *testing.T, s diag.Span, what string) {
	t.Helper()
	if s.File == nil || s.Start < 0 || s.End < s.Start || s.End > len(s.File.Text) {
		t.Errorf("%s: the place %d to %d is not in its file", what, s.Start, s.End)
	}
}

// finite fails if a value holds what is no number.
func finite(t *testing.T, what string, v calc.Value) {
	t.Helper()
	switch v := v.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s is %v", what, v)
		}
	case []float64:
		for _, x := range v {
			finite(t, what, x)
		}
	case *calc.RecordValue:
		for i, x := range v.Values {
			finite(t, what+"."+v.Names[i], x)
		}
	case *calc.TableValue:
		for i, x := range v.Values {
			finite(t, what+"."+v.Columns[i], x)
		}
	case *model.Map:
		finite(t, what, v.X)
		finite(t, what, v.Y)
		finite(t, what, v.Z)
	}
}

// finiteSpread fails if a spread holds what is no number, or runs backwards.
// Degrees of freedom alone may be without limit.
func finiteSpread(t *testing.T, what string, s *calc.Spread) {
	t.Helper()
	if s == nil {
		return
	}
	for _, x := range s.Shares {
		if math.Abs(x.Slope) > 1e60 {
			return // no such slope is any machine's; its square may be too large for a number
		}
	}
	finite(t, what+" spread", []float64{s.Std, s.K, s.U, s.TolLo, s.TolHi, s.TolRSS, s.Low, s.High})
	if math.IsNaN(s.DOF) || s.Std < 0 || s.U < 0 || s.TolLo < 0 || s.TolHi < 0 || s.Ranged && s.Low > s.High {
		t.Errorf("%s has the spread %+v", what, *s)
	}
	for _, x := range append(append([]calc.Setting(nil), s.LowAt...), s.HighAt...) {
		finite(t, what+" at "+x.Name, x.SI)
	}
	for _, x := range s.Shares {
		finite(t, what+" share of "+x.Name, []float64{x.Part, x.Slope})
	}
}

func valueText(v calc.Value) string {
	switch v := v.(type) {
	case *calc.RecordValue:
		return fmt.Sprint(v.Names) // its fields are figures of their own
	case *calc.TableValue:
		return fmt.Sprint(v.Columns, v.Values)
	case *model.Map:
		return fmt.Sprint(v.X, v.Y, v.Z)
	}
	return fmt.Sprintf("%v", v)
}

func spreadText(s *calc.Spread) string {
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%+v", *s)
}

// fewSteps keeps a fuzzer from spending its time on counting; the tests of the
// seeds count to the end.
func fewSteps() {
	if fuzz := flag.Lookup("test.fuzz"); fuzz != nil && fuzz.Value.String() != "" {
		calc.SetMaxSteps(200_000)
	}
}
