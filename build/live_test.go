package build

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"
)

// What a preview shows at once after a change is what it shows in the end.
func TestLiveQuick(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	live := NewLive(func() (Source, func() error, error) {
		return Source{FS: m}, func() error { return nil }, nil
	}, Options{Tool: Tool{"workings", "test"}})
	if site, list := live.Build(); site == nil {
		t.Fatal(list)
	}
	frame := pageFile(t, m, "frame")
	for _, c := range []struct {
		name, file, old, new string
		quick                bool
		moves                string // a page that must change; "" for none
	}{
		{"a word", frame, "\n\n", "\n\nTake your time.\n\n", true, "2.0/frame.html"},
		{"a figure more", frame, "\n\n", "\n\nIts depth is {= depth}.\n\n", true, "2.0/frame.html"},
		{"a parameter", "design.calc", "depth = 70 mm ", "depth = 71 mm ", true, "2.0/powder.html"},
		{"a calculation more", frame, "\n\n", "\n\n```calc\nmore = depth * 2 # twice as deep\n```\n\nThat is {= more}.\n\n", true, "2.0/frame.html"},
		{"a mistake", frame, "\n\n", "\n\nThat is {= nothing}.\n\n", false, ""},
		{"a parameter that breaks a limit", "design.calc", "depth = 70 mm ", "depth = 700 mm ", true, "2.0/powder.html"},
		{"the title of the manual", "manual.toml", "Fenbank test stand", "Another stand", false, ""},
		{"nothing any more", frame, "\n\n", "\n\n", true, ""},
	} {
		before := m[c.file].Data
		text := strings.Replace(string(before), c.old, c.new, 1)
		if c.old != c.new && text == string(before) {
			t.Fatalf("%s holds no %q", c.file, c.old)
		}
		m[c.file] = &fstest.MapFile{Data: []byte(text)}
		was, _ := live.Build() // of the change; then back, so that Quick has it to find
		m[c.file] = &fstest.MapFile{Data: before}
		at, list := live.Build()
		if at == nil {
			t.Fatal(list)
		}
		m[c.file] = &fstest.MapFile{Data: []byte(text)}
		site, ok := live.Quick([]string{c.file})
		if ok != c.quick {
			t.Fatalf("%s: quick is %v", c.name, ok)
		}
		if ok {
			if d := difference(was, site); len(d) > 0 {
				t.Errorf("%s: these differ from what is shown in the end: %q", c.name, d)
			}
			if c.moves != "" {
				x, _ := at.File(c.moves)
				if y, _ := site.File(c.moves); string(x) == string(y) {
					t.Errorf("%s: %s stays as it was", c.name, c.moves)
				}
			}
			if (site.Version() == at.Version()) || site.Version() == was.Version() {
				t.Errorf("%s: the version is %s, of %s and %s", c.name, site.Version(), at.Version(), was.Version())
			}
		}
		m[c.file] = &fstest.MapFile{Data: before}
	}
}

// pageFile is the file of a page.
func pageFile(t *testing.T, m fstest.MapFS, id string) string {
	t.Helper()
	for name := range m {
		if strings.HasPrefix(name, "pages/") && strings.HasSuffix(name, id+".md") {
			return name
		}
	}
	t.Fatalf("there is no page %s", id)
	return ""
}

// A file of a preview is made when it is asked for, once, and not before.
func TestLiveMakesWhatIsAskedFor(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	live := NewLive(func() (Source, func() error, error) {
		return Source{FS: m}, func() error { return nil }, nil
	}, Options{})
	site, list := live.Build()
	if site == nil {
		t.Fatal(list)
	}
	if data, ok := site.File("2.0/frame.html"); !ok || len(data) == 0 {
		t.Fatal("the page is not made")
	}
	made := 0
	for _, f := range site.files {
		if f.make == nil {
			made++
		}
	}
	if made != 1 {
		t.Errorf("%d files are made for one that was asked for", made)
	}
}

// A preview has the models called for what has changed only: every value is
// what a run that calls all of them gives.
func TestLiveValues(t *testing.T) {
	m := fenbankFiles(t)
	src := Source{FS: m}
	live := NewLive(func() (Source, func() error, error) { return src, func() error { return nil }, nil }, Options{})
	if site, list := live.Build(); site == nil {
		t.Fatal(list)
	}
	sheet := m["design.calc"].Data
	for _, change := range [][2]string{
		{"belt_set     = 30 N", "belt_set     = 31 N"},     // of a model of the belt
		{"lamp_h        = 90 mm", "lamp_h        = 92 mm"}, // of the field of heat on the bed
		{"", ""}, // as it was
	} {
		text := strings.Replace(string(sheet), change[0], change[1], 1)
		if change[0] != change[1] && text == string(sheet) {
			t.Fatalf("the sheet holds no %q", change[0])
		}
		m["design.calc"] = &fstest.MapFile{Data: []byte(text)}
		if site, list := live.Build(); site == nil {
			t.Fatal(list)
		}
		now := live.last.releases[0].Result
		whole, list := LoadWorking(src, Options{})
		if list.HasErrors() {
			t.Fatal(list)
		}
		for _, f := range now.Figures() {
			g := whole.Result.Figure(f.Name)
			if g == nil || !reflect.DeepEqual(f.Value, g.Value) || !reflect.DeepEqual(f.Spread, g.Spread) {
				t.Errorf("%s: %s is %v %+v in the preview, and %v %+v", change[1], f.Name, f.Value, f.Spread, g.Value, g.Spread)
			}
		}
		if len(now.Figures()) != len(whole.Result.Figures()) || len(now.Figures()) < 500 {
			t.Errorf("%s: %d figures in the preview, %d in all", change[1], len(now.Figures()), len(whole.Result.Figures()))
		}
	}
}
