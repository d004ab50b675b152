package theme

import (
	"bytes"
	"flag"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"sort"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"workings/calc/diag"
	"workings/content"
)

var (
	write  = flag.String("write", "", "write the site made by hand to this folder, to look at it")
	update = flag.Bool("update", false, "rewrite the golden sheets")
)

// TestSheets looks at every sheet of the small manual as a browser reads it.
func TestSheets(t *testing.T) {
	files := sheets(t, handInput())
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	assets, err := th.Assets(content.Look{})
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range assets {
		files["assets/"+name] = b
	}
	if *write != "" {
		writeFiles(t, *write, files)
	}
	checkSite(t, files, map[string]bool{"1.1": true, "1.0": true, "current": true})
}

func writeFiles(t *testing.T, dir string, files map[string][]byte) {
	for name, b := range files {
		p := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// checkSite asks of every sheet that ids are unique, that every reference
// within and between sheets leads somewhere, and that nothing needs what the
// content policy forbids. Folders in elsewhere are other releases.
func checkSite(t *testing.T, files map[string][]byte, elsewhere map[string]bool) {
	t.Helper()
	ids := map[string]map[string]bool{}
	docs := map[string]*html.Node{}
	for name, b := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		doc, err := html.Parse(bytes.NewReader(b))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		docs[name] = doc
		ids[name] = map[string]bool{}
		walk(doc, func(n *html.Node) {
			if id, ok := attr(n, "id"); ok {
				if ids[name][id] {
					t.Errorf("%s: id %q twice", name, id)
				}
				if id == "" || strings.ContainsAny(id, " \t\n") {
					t.Errorf("%s: id %q", name, id)
				}
				ids[name][id] = true
			}
		})
	}
	for name, doc := range docs {
		has := map[string]int{}
		walk(doc, func(n *html.Node) {
			if n.Data != "title" || n.Parent.Data == "head" { // a plot has a title of its own
				has[n.Data]++
			}
			for _, a := range n.Attr {
				switch {
				case a.Key == "style" || strings.HasPrefix(a.Key, "on"):
					t.Errorf("%s: <%s %s>: the content policy forbids it", name, n.Data, a.Key)
				case a.Key == "for" || a.Key == "popovertarget" || a.Key == "aria-labelledby" || a.Key == "aria-describedby" || a.Key == "aria-controls":
					for _, id := range strings.Fields(a.Val) {
						if !ids[name][id] {
							t.Errorf("%s: <%s %s=%q> leads nowhere", name, n.Data, a.Key, id)
						}
					}
				case a.Key == "href" || a.Key == "src":
					checkRef(t, name, a.Val, files, ids, elsewhere)
				}
			}
			if n.Data == "style" || n.Data == "script" && n.FirstChild != nil {
				t.Errorf("%s: <%s> with text: the content policy forbids it", name, n.Data)
			}
			if n.Data == "img" {
				if _, ok := attr(n, "alt"); !ok {
					t.Errorf("%s: img without alt", name)
				}
			}
			if n.Data == "input" && !labelled(n) {
				t.Errorf("%s: input without a label", name)
			}
		})
		if has["h1"] != 1 || has["main"] != 1 || has["title"] != 1 {
			t.Errorf("%s: h1 %d, main %d, title %d; want one of each", name, has["h1"], has["main"], has["title"])
		}
	}
}

// ofBuild are the files of a release that package build writes beside the sheets;
// its audit of links finds them missing.
var ofBuild = map[string]bool{"figures.json": true, "figures.schema.json": true, "parts.csv": true, "okh.toml": true, "files.sha256": true}

func checkRef(t *testing.T, from, ref string, files map[string][]byte, ids map[string]map[string]bool, elsewhere map[string]bool) {
	t.Helper()
	if strings.Contains(ref, ":") {
		return // to the world outside
	}
	file, frag, _ := strings.Cut(ref, "#")
	target := from
	if file != "" {
		target = path.Join(path.Dir(from), file)
	}
	if dir, _, ok := strings.Cut(target, "/"); ok && elsewhere[dir] {
		return
	}
	if ofBuild[path.Base(target)] {
		return
	}
	if files[target] == nil {
		t.Errorf("%s: link to %s, which is no file", from, ref)
		return
	}
	if frag != "" && !ids[target][frag] {
		t.Errorf("%s: link to %s: no such place", from, ref)
	}
}

func labelled(n *html.Node) bool {
	if s, ok := attr(n, "aria-label"); ok && s != "" {
		return true
	}
	for p := n.Parent; p != nil; p = p.Parent {
		if p.Data == "label" {
			return true
		}
	}
	return false
}

func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

func walk(n *html.Node, f func(*html.Node)) {
	if n.Type == html.ElementNode {
		f(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		walk(c, f)
	}
}

// TestSame renders the manual twice, the second time from several goroutines,
// and asks for the same bytes.
func TestSame(t *testing.T) {
	first := sheets(t, handInput())
	in := handInput()
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for _, p := range in.Manual.Pages {
				b, err := th.Page(in, p)
				if err != nil {
					t.Error(err)
				} else if !bytes.Equal(b, first["2.0-rc1/"+p.ID+".html"]) {
					t.Errorf("%s differs when it is rendered beside others", p.ID)
				}
			}
			if b, err := th.Figures(in); err != nil || !bytes.Equal(b, first["2.0-rc1/figures.html"]) {
				t.Errorf("figures differ (%v)", err)
			}
		})
	}
	wg.Wait()
}

// TestGolden compares one page with what a person has looked at.
func TestGolden(t *testing.T) {
	got := sheets(t, handInput())["2.0-rc1/recoater.html"]
	const file = "testdata/recoater.html"
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		g, w := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
		for i := range max(len(g), len(w)) {
			a, b := "", ""
			if i < len(g) {
				a = g[i]
			}
			if i < len(w) {
				b = w[i]
			}
			if a != b {
				t.Fatalf("%s line %d\n got  %s\n want %s\n(-update rewrites it)", file, i+1, a, b)
			}
		}
	}
}

// TestWords asks that every word exists in both languages, and that German is
// used where it is asked for.
func TestWords(t *testing.T) {
	for _, w := range []*words{&english, &german} {
		v := reflect.ValueOf(*w)
		for i := range v.NumField() {
			if v.Field(i).String() == "" {
				t.Errorf("%s: %s has no word", w.Lang, v.Type().Field(i).Name)
			}
		}
	}
	en, de := reflect.ValueOf(english), reflect.ValueOf(german)
	holes := regexp.MustCompile(`\{\w+\}`)
	for i := range en.NumField() {
		a, b := holes.FindAllString(en.Field(i).String(), -1), holes.FindAllString(de.Field(i).String(), -1)
		sort.Strings(a)
		sort.Strings(b)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s takes %v in English, %v in German", en.Type().Field(i).Name, a, b)
		}
	}
	for _, w := range []*words{&english, &german} {
		if n, m := strings.Count(w.Script(), "|"), strings.Count(w.SheetScript(), "|"); n != 14 || m != 5 {
			t.Errorf("%s: the script takes 15 words and 6, and gets %d and %d", w.Lang, n+1, m+1)
		}
	}
	in := handInput()
	in.Manual.Config.Language = "de-AT"
	page := string(sheets(t, in)["2.0-rc1/recoater.html"])
	for _, want := range []string{`<html lang="de"`, "Schritte auf diesem Blatt", "64,8\u00a0Hz", "WARNUNG"} {
		if !strings.Contains(page, want) {
			t.Errorf("the German page lacks %q", want)
		}
	}
}

// TestUsedWords asks that every word is used: a word nobody shows is one that
// nobody keeps right.
func TestUsedWords(t *testing.T) {
	var text bytes.Buffer
	for _, glob := range []string{"*.go", "templates/*.html"} {
		names, _ := filepath.Glob(glob)
		if len(names) == 0 {
			t.Fatalf("no files %s", glob)
		}
		for _, n := range names {
			if strings.HasSuffix(n, "_test.go") || strings.HasPrefix(n, "words_") {
				continue
			}
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			text.Write(b)
		}
	}
	typ := reflect.TypeOf(words{})
	for i := range typ.NumField() {
		name := typ.Field(i).Name
		if !regexp.MustCompile(`[wW]\.` + name + `\b`).Match(text.Bytes()) {
			t.Errorf("nothing shows %s", name)
		}
	}
}

func TestAssets(t *testing.T) {
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, err := th.Assets(content.Look{})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(a["script.js"]); n == 0 || n > 15000 {
		t.Errorf("script.js has %d bytes, want at most 15000", n)
	}
	for _, m := range regexp.MustCompile(`url\(([^)]*)\)`).FindAllStringSubmatch(string(a["style.css"]), -1) {
		if a[m[1]] == nil {
			t.Errorf("style.css asks for %s", m[1])
		}
	}
	if a["fonts/OFL.txt"] == nil {
		t.Error("the fonts come without their licence")
	}
}

func TestTypeset(t *testing.T) {
	for _, c := range []struct{ number, symbol, dec, want string }{
		{"13840", "mm", ".", "13\u202f840\u00a0mm"},
		{"30", "°", ".", "30°"},
		{"1384", "mm", ".", "1384\u00a0mm"},
		{"-2.50", "kN", ",", "\u22122,50\u00a0kN"},
		{"68", "°C", ".", "68\u00a0°C"},
		{"4", "", ".", "4"},
	} {
		w := words{Decimal: c.dec}
		if got := (&view{w: &w}).quantity(c.number, unitNamed(c.symbol)); got != c.want {
			t.Errorf("%s %s: got %q, want %q", c.number, c.symbol, got, c.want)
		}
	}
}

// A ratio that only just holds must not be printed as more than it is.
func TestRatio(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{{1.7698, "1.76"}, {1.0049, "1.00"}, {12.39, "12.3"}, {1, "1.00"}} {
		if got := displayRatio(c.x); got != c.want {
			t.Errorf("%v: got %s, want %s", c.x, got, c.want)
		}
	}
}

func TestErrors(t *testing.T) {
	f := diag.NewFile("pages/20-frame.md", []byte("one\nreach = arm + load_max\n"))
	var l diag.List
	l.Add(diag.Span{File: f, Start: 12, End: 26}, "unit-mismatch", "cannot add load_max <force>").Hint = "did you mean load_arm?"
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := th.Errors(l, "en")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"pages/20-frame.md:2:9", "^^^^^^^^^^^^^^", "&lt;force&gt;", "did you mean load_arm?", "unit-mismatch"} {
		if !strings.Contains(string(got), want) {
			t.Errorf("the report lacks %q:\n%s", want, got)
		}
	}
}

// TestHostile puts markup into every text a person writes, and looks for it in
// the pages.
func TestHostile(t *testing.T) {
	const bad = `"><script>x</script><b title='`
	in := handInput()
	m := in.Manual
	for _, p := range m.Pages {
		p.Title, p.Data.Summary, p.Data.Time, p.Data.Skill = bad, bad, bad, bad
	}
	for _, p := range m.Parts {
		p.Name, p.Specification, p.Source, p.Critical = bad, bad, bad, bad
	}
	for _, f := range in.Result.Figures() {
		f.Caption, f.From, f.Because = bad, bad, bad
		if f.Def != nil {
			f.Def.Caption = bad
		}
	}
	for _, l := range in.Result.Limits() {
		l.Accepted, l.Stmt.Caption = bad, bad
	}
	in.Site.Title, in.Site.Notice, in.Checksum, in.Tool = bad, bad, bad, bad
	for name, b := range sheets(t, in) {
		if bytes.Contains(b, []byte("<script>x")) {
			t.Errorf("%s lets markup through", name)
		}
	}
}

func BenchmarkPage(b *testing.B) {
	in := handInput()
	th, err := New(Options{})
	if err != nil {
		b.Fatal(err)
	}
	p := in.Manual.Pages[1]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := th.Page(in, p); err != nil {
			b.Fatal(err)
		}
	}
}
