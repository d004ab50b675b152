package model

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
)

// The cases are the comparisons of this package with the outside world. Every
// test records them through check, checkAbs or independent; after a whole run
// they must agree with the table in testdata/cases.md, which
//
//	go test ./calc/model -update
//
// rewrites.

var update = flag.Bool("update", false, "rewrite testdata/cases.md")

// outside is one comparison of a model with a value from elsewhere.
type outside struct {
	model, name, source string
	got, want, tol      float64
	abs                 bool // tol is absolute, in the unit of the value
}

func (o outside) off() float64 {
	d := math.Abs(o.got - o.want)
	if o.abs || o.want == 0 {
		return d
	}
	return d / math.Abs(o.want)
}

var cases struct {
	sync.Mutex
	list map[string]outside
}

// check compares a result with a value from elsewhere within a relative
// tolerance (an absolute one if want is 0), which should be what the digits of
// the source allow. source says where want comes from: author, title, edition,
// place, and whether it was seen or comes from memory.
func check(t *testing.T, model, caseID, source string, got, want, relTol float64) {
	t.Helper()
	record(t, outside{model, caseID, source, got, want, relTol, false})
}

// checkAbs is check with an absolute tolerance, in the unit of the value.
func checkAbs(t *testing.T, model, caseID, source string, got, want, absTol float64) {
	t.Helper()
	record(t, outside{model, caseID, source, got, want, absTol, true})
}

func record(t *testing.T, o outside) {
	t.Helper()
	if o.model == "" || o.name == "" || o.source == "" {
		t.Errorf("case %q of model %q, source %q: all three are needed", o.name, o.model, o.source)
	}
	if !(o.off() <= o.tol) { // also catches NaN
		t.Errorf("%s %s: got %.9g, want %.9g, off by %.2g, allowed %.2g (%s)", o.model, o.name, o.got, o.want, o.off(), o.tol, o.source)
	}
	cases.Lock()
	defer cases.Unlock()
	if cases.list == nil {
		cases.list = map[string]outside{}
	}
	key := o.model + "\x00" + o.name
	if old, ok := cases.list[key]; ok && (old.source != o.source || old.want != o.want) {
		t.Errorf("%s: two different cases are called %q", o.model, o.name)
	}
	cases.list[key] = o
}

// near fails if got and want differ by more than relTol of the larger; for
// properties that are no comparison with the outside world.
func near(t *testing.T, what string, got, want, relTol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relTol*max(math.Abs(got), math.Abs(want))) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	whole := flag.Lookup("test.run").Value.String() == "" && flag.Lookup("test.skip").Value.String() == "" && flag.Lookup("test.list").Value.String() == "" && !testing.Short()
	if code == 0 && whole {
		if err := checkTable(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

const tableFile = "testdata/cases.md"

func checkTable() error {
	count := map[string]int{}
	for _, o := range cases.list {
		count[o.model]++
	}
	for _, s := range Library() {
		if count[s.Name] < 2 {
			return fmt.Errorf("%s has %d cases from elsewhere, want at least two", s.Name, count[s.Name])
		}
	}
	want := caseTable()
	if *update {
		if err := os.MkdirAll("testdata", 0o777); err != nil {
			return err
		}
		return os.WriteFile(tableFile, want, 0o666)
	}
	got, err := os.ReadFile(tableFile)
	if err != nil || !bytes.Equal(got, want) {
		return fmt.Errorf("%s does not show the cases as they are now: run `go test ./calc/model -update`", tableFile)
	}
	return nil
}

// caseTable writes a row for each model and source.
func caseTable() []byte {
	type row struct {
		model, source string
		n             int
		rel, abs      float64
		hasRel        bool
		hasAbs        bool
	}
	rows := map[string]*row{}
	total := 0
	for _, o := range cases.list {
		key := o.model + "\x00" + o.source
		r := rows[key]
		if r == nil {
			r = &row{model: o.model, source: o.source}
			rows[key] = r
		}
		r.n++
		total++
		if o.abs || o.want == 0 {
			r.abs, r.hasAbs = max(r.abs, o.off()), true
		} else {
			r.rel, r.hasRel = max(r.rel, o.off()), true
		}
	}
	keys := make([]string, 0, len(rows))
	models := map[string]bool{}
	for k, r := range rows {
		keys = append(keys, k)
		models[r.model] = true
	}
	slices.Sort(keys)
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Models against the outside world\n\n")
	fmt.Fprintf(&b, "Written by `go test ./calc/model -update`. %d cases, %d models.\n", total, len(models))
	fmt.Fprintf(&b, "The deviation is the largest of the row: relative, or absolute in the unit of the value (marked abs).\n")
	fmt.Fprintf(&b, "Printed values carry few digits; their deviation is mostly their rounding.\n\n")
	fmt.Fprintf(&b, "| model | source | cases | largest deviation |\n|---|---|---|---|\n")
	for _, k := range keys {
		r := rows[k]
		var dev []string
		if r.hasRel {
			dev = append(dev, deviation(r.rel))
		}
		if r.hasAbs {
			dev = append(dev, deviation(r.abs)+" abs")
		}
		fmt.Fprintf(&b, "| %s | %s | %d | %s |\n", r.model, strings.ReplaceAll(r.source, "|", "/"), r.n, strings.Join(dev, ", "))
	}
	return b.Bytes()
}

// deviation writes a deviation in two figures. What is only the rounding of
// the arithmetic differs from one processor to the next and is not told apart.
func deviation(d float64) string {
	if d < 1e-9 {
		return "< 1e-9"
	}
	return fmt.Sprintf("%.1e", d)
}
