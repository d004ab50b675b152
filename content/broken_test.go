package content

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"workings/calc/diag"
)

var update = flag.Bool("update", false, "rewrite the reports that tests expect")

// TestBroken reads manuals with mistakes and compares the whole report, byte
// for byte, with the file want of the archive.
func TestBroken(t *testing.T) {
	names, err := filepath.Glob("../testdata/broken/content-*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no broken manuals found (%v)", err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			want := -1
			source := &txtar.Archive{}
			for i, f := range a.Files {
				if f.Name == "want" {
					want = i
				} else {
					source.Files = append(source.Files, f)
				}
			}
			fsys, err := txtar.FS(source)
			if err != nil {
				t.Fatal(err)
			}
			m, list := Load(fsys, Options{Workers: 1})
			checkSpans(t, m, list)
			got := list.Error()
			if got == "" {
				t.Fatal("nothing is reported")
			}
			if again, second := Load(fsys, Options{Workers: 4}); again == nil || second.Error() != got {
				t.Error("four workers report something else than one")
			}
			if *update {
				if want < 0 {
					a.Files = append(a.Files, txtar.File{Name: "want"})
					want = len(a.Files) - 1
				}
				a.Files[want].Data = []byte(got)
				if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want < 0 {
				t.Fatal("the archive has no file want; run with -update and read what it says")
			}
			if d := cmp.Diff(string(a.Files[want].Data), got); d != "" {
				t.Error(d)
			}
		})
	}
}

// checkSpans fails if a place lies outside its file.
func checkSpans(t *testing.T, m *Manual, list diag.List) {
	t.Helper()
	in := func(what string, s diag.Span) {
		if s.File == nil || s.Start < 0 || s.End < s.Start || s.End > len(s.File.Text) {
			t.Errorf("%s: place %d-%d is not in its file", what, s.Start, s.End)
		}
	}
	for _, d := range list {
		in(d.Error(), d.Span)
		for _, n := range d.Also {
			in(n.Msg, n.Span)
		}
	}
	for _, e := range m.Exprs {
		in("expression", e.X.Span())
	}
	for _, b := range m.Blocks {
		in("block", b.Pos)
	}
	for _, p := range m.Parts {
		in("part", p.Pos)
	}
	for _, p := range m.Pages {
		for _, u := range p.Uses {
			in("use", u.Pos)
		}
		for _, c := range p.Checks {
			in("check", c.Pos)
		}
		for _, l := range p.Links {
			in("link", l.Pos)
		}
		for _, pl := range p.Plots {
			in("plot", pl.Pos)
		}
		for _, s := range p.Steps {
			in("step", s.Pos)
		}
		for _, pa := range p.Panels {
			in("panel", pa.Pos)
		}
	}
}

// testManual loads a manual of the given files, with a configuration if they hold none.
func testManual(t testing.TB, files map[string]string) (*Manual, diag.List) {
	t.Helper()
	a := &txtar.Archive{}
	all := map[string]string{configName: "title = \"Bench\"\nrelease = \"1.0\"\n"}
	for k, v := range files {
		all[k] = v
	}
	for _, k := range sortedKeys(all) {
		a.Files = append(a.Files, txtar.File{Name: k, Data: []byte(all[k])})
	}
	fsys, err := txtar.FS(a)
	if err != nil {
		t.Fatal(err)
	}
	return Load(fsys, Options{})
}

// brokenSources gives the files of each broken manual.
func brokenSources(t testing.TB) []map[string]string {
	t.Helper()
	names, err := filepath.Glob("../testdata/broken/content-*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no broken manuals found (%v)", err)
	}
	var all []map[string]string
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files := map[string]string{}
		for _, f := range a.Files {
			files[f.Name] = string(f.Data)
		}
		all = append(all, files)
	}
	return all
}
