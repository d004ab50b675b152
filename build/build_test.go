package build

import (
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/tools/txtar"

	"workings/calc/diag"
)

// manual reads a small manual of testdata, with changes put on top: a file's
// new text, or "" to take it away.
func manual(t *testing.T, name string, changes map[string]string) fstest.MapFS {
	t.Helper()
	a, err := txtar.ParseFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	m := fstest.MapFS{}
	for _, f := range a.Files {
		m[f.Name] = &fstest.MapFile{Data: f.Data, Mode: 0o644}
	}
	for name, text := range changes {
		if text == "" {
			delete(m, name)
		} else {
			m[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
		}
	}
	return m
}

// edit gives a file of the manual with a text replaced.
func edit(t *testing.T, m fstest.MapFS, name, old, new string) map[string]string {
	t.Helper()
	text := string(m[name].Data)
	if !strings.Contains(text, old) {
		t.Fatalf("%s does not hold %q", name, old)
	}
	return map[string]string{name: strings.ReplaceAll(text, old, new)}
}

func mustBuild(t *testing.T, fsys fs.FS) *Site {
	t.Helper()
	site, list := Build(Source{FS: fsys}, Options{Tool: Tool{"workings", "test"}})
	if site == nil {
		t.Fatalf("no site:\n%v", list)
	}
	return site
}

// difference names the paths that differ between two sites.
func difference(a, b *Site) []string {
	paths := append(a.Paths(), b.Paths()...)
	slices.Sort(paths)
	var out []string
	for _, p := range slices.Compact(paths) {
		x, okx := a.File(p)
		y, oky := b.File(p)
		if okx != oky || string(x) != string(y) {
			out = append(out, p)
		}
	}
	return out
}

func TestBuildTiny(t *testing.T) {
	site := mustBuild(t, manual(t, "tiny.txtar", nil))
	for _, p := range []string{
		"index.html", "assets/style.css", "assets/script.js",
		"2.0/index.html", "2.0/frame.html", "2.0/powder.html", "2.0/care.html", "2.0/figures.json", "2.0/parts.csv", "2.0/files.sha256",
		"2.0/parts.html", "2.0/checks.html", "2.0/limits.html", "2.0/figures.html", "2.0/methods.html", "2.0/changes.html", "2.0/whole.html",
		"1.0/index.html", "1.0/frame.html", "1.0/gone.html", "1.0/figures.json", "1.0/files.sha256",
	} {
		if _, ok := site.File(p); !ok {
			t.Errorf("there is no %s", p)
		}
	}
	if _, ok := site.File("assets/" + PreviewScript); ok {
		t.Error("the preview's script is published")
	}
	for _, p := range site.Paths() {
		data, _ := site.File(p)
		if strings.HasSuffix(p, ".html") && strings.Contains(string(data), PreviewScript) {
			t.Errorf("%s names the preview's script", p)
		}
		if strings.Contains(string(data), "NaN") && !strings.HasPrefix(p, "assets/") && !strings.HasSuffix(p, ".zip") {
			t.Errorf("%s holds a NaN", p)
		}
	}
	// By hand: 240 mm · 160 mm · 70 mm · 0.46 g/cm³ = 1236.48 g; release 1.0 with 220 mm: 1133.44 g.
	for p, want := range map[string]string{"2.0/figures.json": `"name":"mass","value":1.23648,`, "1.0/figures.json": `"name":"mass","value":1.13344,`} {
		if data, _ := site.File(p); !strings.Contains(string(data), want) {
			t.Errorf("%s does not hold %s:\n%s", p, want, data)
		}
	}
	// The steps of release 2.0 take four screws, those of 1.0 two.
	for p, want := range map[string]string{"2.0/parts.csv": "standard,4,", "1.0/parts.csv": "standard,2,"} {
		if data, _ := site.File(p); !strings.Contains(string(data), want) {
			t.Errorf("%s does not hold %q:\n%s", p, want, data)
		}
	}
}

// The same sources give the same bytes, on one processor and on several, and
// whatever the folder.
func TestBuildSameBytes(t *testing.T) {
	first := mustBuild(t, manual(t, "tiny.txtar", nil))
	for _, cores := range []int{1, 2, 8} {
		old := runtime.GOMAXPROCS(cores)
		site := mustBuild(t, manual(t, "tiny.txtar", nil))
		runtime.GOMAXPROCS(old)
		if d := difference(first, site); len(d) > 0 {
			t.Errorf("on %d processors these differ: %q", cores, d)
		}
	}
	for range 2 {
		dir := t.TempDir()
		if err := os.CopyFS(dir, manual(t, "tiny.txtar", nil)); err != nil {
			t.Fatal(err)
		}
		site := mustBuild(t, openTestDir(t, dir).FS)
		if d := difference(first, site); len(d) > 0 {
			t.Errorf("in the folder %s these differ: %q", dir, d)
		}
	}
}

// A page that shows neither a parameter nor anything computed from it does
// not change with it, but for the checksum of the sources in its title block.
func TestBuildChangesDependentPages(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	before := mustBuild(t, m)
	after := mustBuild(t, manual(t, "tiny.txtar", edit(t, m, "design.calc", "depth = 70 mm ", "depth = 75 mm ")))
	sums := func(s *Site, p string) string {
		data, _ := s.File("2.0/" + p)
		return string(data)
	}
	old, now := checksumOf(t, m), checksumOf(t, manual(t, "tiny.txtar", edit(t, m, "design.calc", "depth = 70 mm ", "depth = 75 mm ")))
	for page, want := range map[string]bool{"frame.html": false, "care.html": false, "powder.html": true} {
		a, b := strings.ReplaceAll(sums(before, page), old, ""), strings.ReplaceAll(sums(after, page), now, "")
		if (a != b) != want {
			t.Errorf("%s changed: %v, want %v", page, a != b, want)
		}
	}
	for _, p := range difference(before, after) {
		if strings.HasPrefix(p, "1.0/") {
			t.Errorf("%s changed although release 1.0 did not", p)
		}
	}
}

func checksumOf(t *testing.T, fsys fs.FS) string {
	t.Helper()
	r, list := LoadWorking(Source{FS: fsys}, Options{})
	if list.HasErrors() {
		t.Fatal(list)
	}
	return r.Checksum[:shortSum]
}

func TestBuildReports(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	for _, c := range []struct {
		name    string
		changes map[string]string
		want    []string
	}{
		{"a page is wrong", edit(t, m, "pages/10-frame.md", "{= bed_x} wide", "{= bed_z} wide"), []string{"pages/10-frame.md:3:", "bed_z"}},
		{"a page of an earlier release is wrong", edit(t, m, "releases/1.0/pages/10-frame.md", "{= bed_x} wide", "{= bed_z} wide"),
			[]string{"releases/1.0/pages/10-frame.md:3:", "bed_z"}},
		{"an earlier release is missing", edit(t, m, "manual.toml", "releases/1.0", "releases/0.1"), []string{"manual.toml:", "release 1.0", "releases/0.1", "[release-source]"}},
		{"an earlier release has another name", edit(t, m, "releases/1.0/manual.toml", `"1.0"`, `"1.1"`), []string{"manual.toml:", `"1.1"`, "[release-name]"}},
		{"a page takes a register's place", map[string]string{"pages/90-parts.md": "# Parts\n"}, []string{"pages/90-parts.md:1:1", "[page-name]"}},
	} {
		site, list := Build(Source{FS: manual(t, "tiny.txtar", c.changes)}, Options{})
		if site != nil {
			t.Errorf("%s: a site was built", c.name)
		}
		for _, w := range c.want {
			if !strings.Contains(list.Error(), w) {
				t.Errorf("%s: the report lacks %q:\n%v", c.name, w, list)
			}
		}
	}
}

// All that is wrong is reported at once, in all releases.
func TestBuildReportsAll(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	changes := edit(t, m, "pages/10-frame.md", "{= bed_x} wide", "{= bed_z} wide")
	for k, v := range edit(t, m, "releases/1.0/pages/20-powder.md", "{= mass to 2 sf}", "{= weight}") {
		changes[k] = v
	}
	_, list := Build(Source{FS: manual(t, "tiny.txtar", changes)}, Options{})
	for _, w := range []string{"bed_z", "weight"} {
		if !strings.Contains(list.Error(), w) {
			t.Errorf("the report lacks %q:\n%v", w, list)
		}
	}
}

func TestBrokenLimits(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	limit := func(signal, tail string) map[string]string {
		c := edit(t, m, "design.calc", "mass <= 4.5 kg", "mass <= 1.1 kg")
		text := strings.ReplaceAll(c["design.calc"], "else caution", "else "+signal)
		return map[string]string{"design.calc": strings.TrimRight(text, "\n") + tail + "\n"}
	}
	for _, c := range []struct {
		name, signal, tail string
		errs, found        int
	}{
		{"danger", "danger", "", 1, 0},
		{"warning", "warning", "", 1, 0},
		{"caution", "caution", "", 0, 1},
		{"notice", "notice", "", 0, 1},
		{"accepted", "danger", ` accepted "lifted by two"`, 0, 0},
	} {
		site, list := Build(Source{FS: manual(t, "tiny.txtar", limit(c.signal, c.tail))}, Options{})
		errs, found := 0, 0
		var at *diag.Diag
		for _, d := range list {
			if d.Code != "limit-broken" {
				continue
			}
			at = d
			if d.Warn {
				found++
			} else {
				errs++
			}
		}
		if errs != c.errs || found != c.found || (site == nil) != list.HasErrors() {
			t.Errorf("%s: %d errors, %d findings, site built: %v\n%v", c.name, errs, found, site != nil, list)
		}
		if at != nil {
			for _, w := range []string{"load", "1.1 kg", "both hands"} {
				if !strings.Contains(at.Msg, w) {
					t.Errorf("%s: %q lacks %q", c.name, at.Msg, w)
				}
			}
			if at.Span.File == nil || at.Span.File.Name != "design.calc" {
				t.Errorf("%s: reported at %v", c.name, at.Error())
			}
		}
	}
}

// A build with what an earlier one left gives what a build from nothing does.
func TestBuildCache(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	cache := &Cache{}
	for _, changes := range []map[string]string{
		nil, nil,
		edit(t, m, "design.calc", "depth = 70 mm ", "depth = 75 mm "),
		edit(t, m, "manual.toml", "Fenbank test stand", "Another stand"),
		edit(t, m, "releases/1.0/design.calc", "depth = 70 mm ", "depth = 71 mm "),
		edit(t, m, "releases/1.0/pages/40-gone.md", "is gone", "is no more"),
		edit(t, m, "manual.toml", `release = "2.0"`, `release = "0.9"`),
		nil,
	} {
		m := manual(t, "tiny.txtar", changes)
		fresh := mustBuild(t, m)
		kept, list := Build(Source{FS: m}, Options{Tool: Tool{"workings", "test"}, Cache: cache})
		if kept == nil {
			t.Fatal(list)
		}
		if d := difference(fresh, kept); len(d) > 0 {
			t.Errorf("%v: these differ: %q", changes, d)
		}
	}
	if len(cache.loaded) != 1 || len(cache.rendered) != 2 {
		t.Errorf("kept %d releases and %d renderings", len(cache.loaded), len(cache.rendered))
	}
}
