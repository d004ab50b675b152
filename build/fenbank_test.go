package build

import (
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"workings/calc"
	"workings/calc/diag"
)

const fenbank = "../testdata/fenbank"

// fenbankFiles reads the demonstration manual into memory.
func fenbankFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	m := fstest.MapFS{}
	root := os.DirFS(fenbank)
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		m[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The demonstration gives the same bytes from disk and from memory, and can
// be built at all.
func TestFenbankSameBytes(t *testing.T) {
	src := openTestDir(t, fenbank)
	first, list := Build(src, Options{Tool: Tool{"workings", "test"}})
	if first == nil {
		t.Fatalf("%v", list)
	}
	if d := difference(first, mustBuild(t, fenbankFiles(t))); len(d) > 0 {
		t.Errorf("these differ: %q", d)
	}
}

// Each sheet of the demonstration depends on a parameter only as its figures
// do: with the parameter changed, no sheet without a figure that comes from
// it changes, but for the checksum in its title block; and some sheet does.
func TestFenbankDependentPages(t *testing.T) { dependentPages(t, fenbankFiles(t)) }

func TestTinyDependentPages(t *testing.T) { dependentPages(t, manual(t, "tiny.txtar", nil)) }

func dependentPages(t *testing.T, m fstest.MapFS) {
	opt := Options{Tool: Tool{"workings", "test"}, Cache: &Cache{}}
	// build gives the working tree and the site; nil if the list has errors.
	build := func(fsys fs.FS) (*Release, *Site, diag.List) {
		releases, list := Load(Source{FS: fsys}, opt)
		if list.HasErrors() {
			return nil, nil, list
		}
		site, errs := render(releases, nil, opt)
		return releases[0], site, append(list, errs...)
	}
	before, site, list := build(m)
	if site == nil {
		t.Fatal(list)
	}
	tried, moved := 0, 0
	for _, p := range before.Result.Figures() {
		if _, number := p.Value.(float64); !number || !p.Parameter || tried == 6 {
			continue
		}
		// A change so small that it breaks no limit.
		text := string(m["design.calc"].Data)
		lit := p.Def.X.Span()
		number := strings.Fields(lit.Text())[0]
		if !strings.Contains(number, ".") {
			number += ".01"
		} else {
			number += "1"
		}
		changed := text[:lit.Start] + number + strings.TrimPrefix(lit.Text(), strings.Fields(lit.Text())[0]) + text[lit.End:]
		n := fstest.MapFS{}
		for k, v := range m {
			n[k] = v
		}
		n["design.calc"] = &fstest.MapFile{Data: []byte(changed)}
		after, now, _ := build(n)
		if now == nil {
			continue // the change breaks a limit: another parameter will do
		}
		tried++
		depends := dependents(before.Result, p)
		some := false
		for _, page := range before.Manual.Pages {
			path := before.Name + "/" + page.ID + ".html"
			a, _ := site.File(path)
			b, _ := now.File(path)
			differs := strings.ReplaceAll(string(a), before.Checksum[:shortSum], "") != strings.ReplaceAll(string(b), after.Checksum[:shortSum], "")
			touched := touches(before, page.Exprs, page.Blocks, depends)
			some = some || differs
			if differs && !touched {
				t.Errorf("%s changed from %s to %s, and %s changes although nothing on it comes from %s", p.Name, lit.Text(), number, path, p.Name)
			}
		}
		if some {
			moved++
		}
		for _, path := range difference(site, now) {
			if path != "index.html" && !strings.HasPrefix(path, before.Name+"/") {
				t.Errorf("%s changed in the working tree, and %s changes", p.Name, path)
			}
		}
	}
	if tried == 0 || moved == 0 {
		t.Errorf("%d parameters could be tried, %d changed a page", tried, moved)
	}
}

// dependents gives a figure, all that comes from it, and what is checked by
// a second way that comes from it.
func dependents(r *calc.Result, f *calc.Figure) map[*calc.Figure]bool {
	all := map[*calc.Figure]bool{}
	var add func(f *calc.Figure)
	add = func(f *calc.Figure) {
		if all[f] {
			return
		}
		all[f] = true
		for _, u := range f.UsedBy {
			add(u)
		}
		for _, field := range r.Figures() {
			if field.Parent == f {
				add(field)
			}
		}
	}
	add(f)
	// A figure's derivation also says how the limits that name it stand.
	judged := map[*calc.Figure]bool{}
	for _, l := range r.Limits() {
		moved := false
		for _, u := range l.Uses {
			moved = moved || all[u]
		}
		for _, u := range l.Uses {
			judged[u] = judged[u] || moved
		}
	}
	for u, moved := range judged {
		if moved {
			all[u] = true
		}
	}
	for _, c := range r.CrossChecks() {
		if c.Second == nil {
			continue
		}
		for _, u := range c.Second.Uses {
			if all[u] {
				all[c.Figure] = true
			}
		}
	}
	return all
}

// touches reports whether a page shows a figure of the set, or one from whose
// line such a figure is an input.
func touches(r *Release, exprs []int, blocks []string, set map[*calc.Figure]bool) bool {
	for _, i := range exprs {
		s := r.Result.Shown(i)
		if s == nil {
			continue
		}
		if set[s.Figure] {
			return true
		}
		for _, u := range s.Uses {
			if set[u] {
				return true
			}
		}
	}
	for _, f := range r.Result.Figures() {
		if set[f] && f.Block != "" {
			for _, b := range blocks {
				if b == f.Block {
					return true
				}
			}
		}
	}
	return false
}
