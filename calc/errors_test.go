package calc_test

import (
	"errors"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

var update = flag.Bool("update", false, "rewrite the reports that tests expect")

// A wrongCase is a small release with a mistake in it: design.calc, blocks
// (NAME.calc), tables by their path, and expressions of pages, one a line, in
// the files of wrongPlaces. Its report stands in the file want.
type wrongCase struct {
	name  string
	files map[string]string
}

// wrongPlaces says what the expressions of a file must give. Beside them,
// set.txt holds NAME = VALUE, parameters that are set to other values.
var wrongPlaces = []struct {
	file string
	want calc.Want
}{
	{"figures.txt", calc.WantShown},
	{"checks.txt", calc.WantNumber},
	{"pieces.txt", calc.WantCount},
	{"plot.txt", calc.WantSeries},
	{"map.txt", calc.WantGrid},
}

// report compiles and runs a release and gives everything that is said of it.
func (c wrongCase) report() (*calc.Result, diag.List) {
	in, list := c.input()
	p, errs := calc.Compile(in)
	list = append(list, errs...)
	r, errs := p.Run()
	return r, append(list, errs...).Sorted()
}

// input reads the files of the release.
func (c wrongCase) input() (in calc.Input, list diag.List) {
	parse := func(name, block string) {
		f := diag.NewFile(name, []byte(c.files[name]))
		s, errs := syntax.Parse(f, nil)
		list = append(list, errs...)
		in.Blocks = append(in.Blocks, calc.Block{Name: block, Sheet: s, Pos: diag.Span{File: f}})
	}
	parse("design.calc", "")
	for _, name := range slices.Sorted(maps.Keys(c.files)) {
		if block, ok := strings.CutSuffix(name, ".calc"); ok && block != "design" {
			parse(name, block)
		}
	}
	for _, p := range wrongPlaces {
		f := diag.NewFile(p.file, []byte(c.files[p.file]))
		at := 0
		for _, line := range strings.SplitAfter(c.files[p.file], "\n") {
			segs := []syntax.Seg{{Start: at, End: at + len(line)}}
			at += len(line)
			if strings.TrimSpace(line) == "" {
				continue
			}
			if p.want == calc.WantShown {
				x, errs := syntax.ParseInline(f, segs)
				if list = append(list, errs...); x != nil {
					in.Exprs = append(in.Exprs, calc.Expr{X: x.X, Round: x.Round, Spread: x.Spread, Want: p.want})
				}
				continue
			}
			q, errs := syntax.ParseQuantity(f, segs)
			if list = append(list, errs...); q != nil {
				in.Exprs = append(in.Exprs, calc.Expr{X: q.X, Round: q.Round, Own: q.Spread, Spread: true, Want: p.want})
			}
		}
	}
	in.Set = map[string]syntax.Expr{}
	f := diag.NewFile("set.txt", []byte(c.files["set.txt"]))
	at := 0
	for _, line := range strings.SplitAfter(c.files["set.txt"], "\n") {
		if name, value, ok := strings.Cut(line, "="); ok {
			x, errs := syntax.ParseExpr(f, []syntax.Seg{{Start: at + len(line) - len(value), End: at + len(line)}})
			if list = append(list, errs...); x != nil {
				in.Set[strings.TrimSpace(name)] = x
			}
		}
		at += len(line)
	}
	in.Table = func(path string) (*diag.File, error) {
		if s, ok := c.files[path]; ok {
			return diag.NewFile(path, []byte(s)), nil
		}
		return nil, errors.New("there is no such file")
	}
	return in, list
}

// wrongCases reads the cases of an archive, in their order: the files of a
// case are named CASE/FILE.
func wrongCases(t testing.TB, a *txtar.Archive) []wrongCase {
	t.Helper()
	var cases []wrongCase
	for _, f := range a.Files {
		name, file, ok := strings.Cut(f.Name, "/")
		if !ok {
			t.Fatalf("%s belongs to no case", f.Name)
		}
		if n := len(cases); n == 0 || cases[n-1].name != name {
			for _, c := range cases {
				if c.name == name {
					t.Fatalf("two cases are called %s", name)
				}
			}
			cases = append(cases, wrongCase{name, map[string]string{}})
		}
		cases[len(cases)-1].files[file] = string(f.Data)
	}
	return cases
}

// Every mistake is reported as its archive says, byte for byte: the place, the
// message, the line with its caret, and the hint.
func TestWrongSheets(t *testing.T) {
	names, err := filepath.Glob("testdata/errors/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no archives (%v)", err)
	}
	total := 0
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		fresh := &txtar.Archive{Comment: a.Comment}
		for _, c := range wrongCases(t, a) {
			total++
			_, list := c.report()
			got := list.Error()
			for _, f := range a.Files {
				if strings.HasPrefix(f.Name, c.name+"/") && !strings.HasSuffix(f.Name, "/want") {
					fresh.Files = append(fresh.Files, f)
				}
			}
			fresh.Files = append(fresh.Files, txtar.File{Name: c.name + "/want", Data: []byte(got)})
			if *update {
				continue
			}
			t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar")+"/"+c.name, func(t *testing.T) {
				if got == "" {
					t.Error("nothing is reported")
				}
				if d := cmp.Diff(c.files["want"], got); d != "" {
					t.Error(d)
				}
				for _, d := range list {
					// The voice of every report: lower case, no full stop, something to go by.
					if d.Code == "" || d.Span.File == nil || strings.HasSuffix(d.Msg, ".") || strings.HasSuffix(d.Hint, ".") {
						t.Errorf("%s: %q, hint %q", d.Code, d.Msg, d.Hint)
					}
				}
			})
		}
		if *update {
			if err := os.WriteFile(name, txtar.Format(fresh), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if total < 70 {
		t.Errorf("only %d cases", total)
	}
}

// At the ends of their domain asin and acos have a value; its spread has none.
func TestArcEnds(t *testing.T) {
	r, list := sheet(t, "a = asin(1)\nb = acos(-1)\nc = asin(-1)\nx = 1 ± 0.1\nd = asin(x)\n", nil)
	for name, want := range map[string]string{"a": "90 °", "b": "180 °", "c": "-90 °"} {
		if got := figureText(r.Figure(name)); got != want {
			t.Errorf("%s = %s, want %s", name, got, want)
		}
	}
	if r.Figure("d").Value != nil || len(list) != 1 || list[0].Code != "overflow" {
		t.Errorf("asin(1 ± 0.1) = %v, %v", r.Figure("d").Value, list)
	}
}
