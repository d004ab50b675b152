package browsertest

import (
	"context"
	"log"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"workings/build"
)

// demonstration gives the folder of the published demonstration manual, which
// is made once and which no test may change.
func demonstration(t *testing.T) (dir string) {
	t.Helper()
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

var published = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(temp, "site")
	return dir, publish("../../testdata/fenbank", dir)
})

// ownCopy is a demonstration that a test may change.
func ownCopy(t *testing.T) (dir string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "site")
	if err := os.CopyFS(dir, os.DirFS(demonstration(t))); err != nil {
		t.Fatal(err)
	}
	return dir
}

// temp is a folder for all tests.
var temp string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "browsertest")
	if err != nil {
		log.Fatal(err)
	}
	temp = dir
	status := m.Run()
	os.RemoveAll(temp)
	os.Exit(status)
}

// publish publishes the manual in a folder.
func publish(from, to string) error {
	src, closeDir, err := build.OpenDir(from)
	if err != nil {
		return err
	}
	defer closeDir()
	_, list, err := build.Publish(context.Background(), src, to, build.Options{Tool: build.Tool{Name: "workings", Version: "test"}})
	if err == nil && list.HasErrors() {
		err = list
	}
	return err
}

const (
	rc  = "/2.0-rc1/"
	old = "/1.0/"
)

func serve(t *testing.T, dir string) string {
	t.Helper()
	web := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(func() {
		web.CloseClientConnections()
		web.Close()
	})
	return web.URL
}

// typeInto puts a text into a field by its keys, after emptying it.
func (p *tab) typeInto(field, text string) {
	p.t.Helper()
	p.run("const f = " + field + "; f.value = ''; f.dispatchEvent(new Event('input', {bubbles: true})); f.focus(); f.scrollIntoView()")
	p.press(text)
}

// A builder ticks steps and fills in the check sheet, on a server: it stays,
// goes out as files, comes back in, and belongs to the release.
func TestBuilder(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	inEach(t, func(t *testing.T, p *tab) {
		base := serve(t, dir)
		p.goTo(base + rc + "frame.html")
		p.run("document.querySelectorAll('.done input')[1].click()")
		p.goTo(base + rc + "frame.html")
		if got := value[[]bool](p, "Array.from(document.querySelectorAll('.done input'), (b) => b.checked)"); len(got) < 2 || got[0] || !got[1] {
			t.Errorf("after coming back the ticks are %v", got)
		}
		if got := value[string](p, "document.querySelector('.progress span').textContent"); !strings.HasPrefix(got, "1 of ") {
			t.Errorf("the progress reads %q", got)
		}
		// Cleared by one press, back by the next.
		p.run("document.querySelector('.progress button').click()")
		p.until("document.querySelectorAll('.is-done').length === 0")
		p.run("document.querySelector('.progress button').click()")
		p.until("document.querySelectorAll('.is-done').length === 1")

		// The other release knows nothing of it.
		p.goTo(base + old + "frame.html")
		p.until("document.querySelector('.progress') && document.querySelectorAll('.is-done').length === 0")

		// The check sheet judges in words.
		p.goTo(base + rc + "checks.html")
		const field = "document.querySelector('input[data-low]')"
		low, high := value[float64](p, "parseFloat("+field+".dataset.low)"), value[float64](p, "parseFloat("+field+".dataset.high)")
		unit := value[string](p, field+".parentNode.querySelector('.unit').textContent")
		verdict := func(text string) string {
			p.typeInto(field, text)
			return value[string](p, field+".closest('td').querySelector('.verdict').textContent")
		}
		middle := number((low + high) / 2)
		for text, want := range map[string]string{
			number(low - 1):               "outside: too low",
			number(high + 1):              "outside: too high",
			middle + " parsec":            "not read: write a number in " + unit,
			"about right":                 "not read: write a number in " + unit,
			"":                            "",
			comma(middle):                 "within",
			middle + " " + unit:           "within",
			"\u2212" + number(high+low+1): "outside: too low",
		} {
			if got := verdict(text); got != want {
				t.Errorf("reading %q between %v and %v %s is called %q, want %q", text, low, high, unit, got, want)
			}
		}
		verdict(comma(middle))
		p.typeInto("document.querySelector('[data-keep=\"note|by\"]')", "A, \"B\"; C")
		name := value[string](p, field+".dataset.keep.split('|')[1]")

		// Out as JSON and CSV.
		p.run("document.getElementById('sheet/json').click()")
		asJSON := p.saved("fenbank-bench-sinterer-2.0-rc1-checks.json")
		p.run("document.getElementById('sheet/csv').click()")
		asCSV := p.saved("fenbank-bench-sinterer-2.0-rc1-checks.csv")
		for _, text := range []string{asJSON, asCSV} {
			if !strings.Contains(text, comma(middle)) || !strings.Contains(text, name) || !strings.Contains(text, "within") {
				t.Errorf("the file lacks the reading:\n%.600s", text)
			}
		}
		told := func(file, text string) string {
			path := filepath.Join(t.TempDir(), file)
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			p.run("document.getElementById('sheet/told').textContent = ''")
			if err := p.choose("sheet/read", path); err != nil {
				t.Fatal(err)
			}
			p.until("document.getElementById('sheet/told').textContent")
			return value[string](p, "document.getElementById('sheet/told').textContent")
		}
		// Back in, where nothing is kept: in every way that the file may be written.
		for file, text := range map[string]string{
			"a.json": asJSON, "a.csv": asCSV,
			"semicolons.csv": strings.ReplaceAll(semicolons(asCSV), "\r\n", "\n"),
		} {
			p.run("localStorage.clear()")
			p.goTo(base + rc + "checks.html")
			if got := told(file, text); !strings.HasPrefix(got, "Entries taken over: 3.") {
				t.Errorf("%s: %q", file, got)
			}
			if got := value[string](p, field+".value"); got != comma(middle) {
				t.Errorf("%s: the reading comes back as %q", file, got)
			}
			if got := value[string](p, "document.querySelector('[data-keep=\"note|by\"]').value"); got != "A, \"B\"; C" {
				t.Errorf("%s: the builder comes back as %q", file, got)
			}
		}
		// A reading that is here stays, and the file's is offered.
		verdict(number(low - 1))
		if got := told("b.json", asJSON); !strings.Contains(got, number(low-1)+" → "+comma(middle)) {
			t.Errorf("two readings that differ: %q", got)
		}
		if got := value[string](p, field+".value"); got != number(low-1) {
			t.Errorf("the reading that was here has become %q", got)
		}
		p.run("document.querySelector('#sheet\\\\/told button').click()")
		p.until(field + ".value === " + quote(comma(middle)))
		p.run("document.querySelector('#sheet\\\\/told button').click()")
		p.until(field + ".value === " + quote(number(low-1)))

		// Nothing is taken from what is no such file, or another release's.
		before := value[string](p, "JSON.stringify(localStorage)")
		for file, text := range map[string]string{
			"no.json": "{\"entries\": 1}", "cut.json": asJSON[:len(asJSON)/2], "no.csv": "a,b\n1,2\n", "empty.csv": " ",
			"cut.csv": asCSV[:strings.Index(asCSV, "\"\"B")],
		} {
			if got := told(file, text); !strings.Contains(got, "not a whole file") {
				t.Errorf("%s: %q", file, got)
			}
		}
		if after := value[string](p, "JSON.stringify(localStorage)"); after != before {
			t.Error("something was taken over all the same")
		}
		p.goTo(base + old + "checks.html")
		if got := told("c.json", asJSON); !strings.Contains(got, "belongs to Fenbank bench sinterer 2.0-rc1, this is Fenbank bench sinterer 1.0") {
			t.Errorf("another release's file: %q", got)
		}
		p.quiet()
	})
}

// From a disk, by double-click: what is kept stays on its sheet, search finds
// by keyboard, the chooser leads to the same sheet of another release.
func TestFromDisk(t *testing.T) {
	t.Parallel()
	base := "file://" + demonstration(t)
	inEach(t, func(t *testing.T, p *tab) {
		p.goTo(base + rc + "recoater.html")
		p.run("document.querySelector('.done input').click()")
		p.goTo(base + rc + "recoater.html")
		p.until("document.querySelectorAll('.is-done').length === 1")

		// A single key is none of the sheet's: speech input would set it off
		// (WCAG 2.2, 2.1.4).
		p.press("/")
		if value[bool](p, "document.activeElement.id === 'find/text'") {
			t.Error("a single key leads to the search")
		}
		p.press(chord)
		p.until("document.activeElement.id === 'find/text'")
		p.press("tension")
		p.until("document.querySelectorAll('#find\\\\/list a').length > 1")
		p.press(down + down + up)
		p.until("document.activeElement === document.querySelector('#find\\\\/list a')")
		p.press(escape)
		p.until("document.activeElement.id === 'find/text' && document.getElementById('find/list').hidden")
		p.typeInto("document.getElementById('find/text')", "bed_x")
		p.until("document.querySelector('#find\\\\/list a')")
		want := value[string](p, "document.querySelector('#find\\\\/list a').href")
		p.press(enter)
		p.until("location.href === " + quote(want) + " && document.readyState === 'complete'")
		if !strings.Contains(want, "bed_x") {
			t.Errorf("bed_x is first found at %s", want)
		}

		p.goTo(base + rc + "recoater.html#tension")
		p.run("document.querySelector('details.releases').open = true")
		p.until("Array.from(document.querySelectorAll('.releases .drop a.name')).some((a) => a.hash === location.hash)")
		p.run("document.querySelector('.releases .drop a.name').click()")
		p.until("location.pathname.includes('/1.0/recoater.html') && document.readyState === 'complete'")
		p.quiet()
	})
}

// The words of the search are found whatever their case and marks.
func TestSearchFolds(t *testing.T) {
	t.Parallel()
	dir := ownCopy(t)
	page, err := os.ReadFile(dir + rc + "frame.html")
	if err != nil {
		t.Fatal(err)
	}
	german := strings.Replace(string(page), `<html lang="en"`, `<html lang="de"`, 1)
	if err := os.WriteFile(dir+rc+"frame.html", []byte(german), 0o644); err != nil {
		t.Fatal(err)
	}
	search, err := os.ReadFile(dir + rc + "search.js")
	if err != nil {
		t.Fatal(err)
	}
	before, index, _ := strings.Cut(string(search), `{"kinds":`)
	_, after, ok := strings.Cut(index, `]]}`)
	if !ok {
		t.Fatal("search.js holds no index")
	}
	index = `{"kinds":["Blatt"],"entries":[[0,"Länge der Führung","1","a.html"],[0,"GRÖSSE","2","b.html"],[0,"café","3","c.html"]]}`
	if err := os.WriteFile(dir+rc+"search.js", []byte(before+index+after), 0o644); err != nil {
		t.Fatal(err)
	}
	inEach(t, func(t *testing.T, p *tab) {
		p.goTo("file://" + dir + rc + "frame.html")
		for query, want := range map[string]string{
			"länge": "a.html", "LAENGE": "a.html", "lange": "a.html", "fuehrung länge": "a.html",
			"größe": "b.html", "groesse": "b.html", "CAFE": "c.html", "café": "c.html",
		} {
			p.run("const f = document.getElementById('find/text'); f.focus(); f.value = " + quote(query) + "; f.dispatchEvent(new Event('input'))")
			p.until("document.getElementById('find/index') && !document.getElementById('find/list').hidden")
			if got := value[[]string](p, "Array.from(document.querySelectorAll('#find\\\\/list a'), (a) => a.getAttribute('href'))"); len(got) != 1 || got[0] != want {
				t.Errorf("%s finds %q, want %s", query, got, want)
			}
		}
	})
}

// On paper every sheet names the release and its checksum; the workings come
// only where they are shown.
func TestPaper(t *testing.T) {
	t.Parallel()
	pdftotext := program(t, "pdftotext")
	base := serve(t, demonstration(t))
	inEach(t, func(t *testing.T, p *tab) {
		sheets := func() []string {
			data, err := p.pdf()
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "a.pdf")
			if err := os.WriteFile(file, data, 0o644); err != nil {
				t.Fatal(err)
			}
			text, err := exec.Command(pdftotext, "-layout", file, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
		}
		p.goTo(base + rc + "recoater.html")
		sum := value[string](p, "document.querySelector('.tb code').textContent")
		plain := sheets()
		p.run("document.getElementById('show/workings').click()")
		p.until("document.querySelectorAll('.workings.placed').length > 3")
		full := sheets()
		if len(plain)*2 > len(full) {
			t.Errorf("without workings %d sheets, with them %d", len(plain), len(full))
		}
		for _, list := range [][]string{plain, full} {
			for i, s := range list {
				if !strings.Contains(s, "Release 2.0-rc1") || !strings.Contains(s, sum) {
					t.Errorf("sheet %d of %d does not name release and checksum:\n%.400s", i+1, len(list), s)
				}
			}
		}
		if !strings.Contains(strings.Join(full, ""), "Values given to the model") {
			t.Error("what was put into a model is not printed with its results")
		}
		if strings.Contains(strings.Join(plain, ""), "Beside the nominal value") || !strings.Contains(strings.Join(full, ""), "Beside the nominal value") {
			t.Error("the workings are printed where they are hidden, or not where they are shown")
		}
		if p.engine.(interface{ numbers() bool }).numbers() {
			for i, s := range plain {
				if !regexp.MustCompile(`\b` + number(float64(i+1)) + ` ?/ ?` + number(float64(len(plain))) + `\b`).MatchString(s) {
					t.Errorf("sheet %d of %d has no number:\n%s", i+1, len(plain), s[max(0, len(s)-200):])
				}
			}
		}
		// Afterwards the screen shows them beside the text again.
		p.until("document.querySelectorAll('.workings.placed').length > 3")
		p.goTo(base + rc + "frame.html")
		p.until("document.documentElement.classList.contains('open-workings')")
		p.run("document.getElementById('show/workings').click()")
		p.goTo(base + rc + "checks.html")
		if form := strings.Join(sheets(), ""); !strings.Contains(form, "Machine number") || strings.Contains(form, "Save as JSON") {
			t.Error("the check sheet does not print as a form")
		}
	})
}

// A release that is kept is not swapped for a new one until that is taken.
func TestKept(t *testing.T) {
	t.Parallel()
	first := demonstration(t)
	other := anotherEdition(t, "A frame of another make")
	inEach(t, func(t *testing.T, p *tab) {
		var now atomic.Value // the folder that is served
		now.Store(first)
		web := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			http.FileServer(http.Dir(now.Load().(string))).ServeHTTP(w, r)
		}))
		closeWeb := func() {
			web.CloseClientConnections()
			web.Close()
		}
		t.Cleanup(closeWeb)
		p.goTo(web.URL + rc + "frame.html")
		p.until("navigator.serviceWorker.controller && caches.keys().then((k) => k.length > 1)")
		// The site changes: the page stays, and the new one is offered.
		now.Store(other)
		p.goTo(web.URL + rc + "frame.html")
		if value[bool](p, "document.body.textContent.includes('another make')") {
			t.Error("the page was swapped without a word")
		}
		p.until("document.querySelector('#edition button')")
		p.goTo(web.URL + rc + "frame.html")
		p.until("document.querySelector('#edition button')")
		if value[bool](p, "document.body.textContent.includes('another make')") {
			t.Error("the page was swapped at the second visit")
		}
		p.run("document.querySelector('#edition button').click()")
		p.until("document.body.textContent.includes('another make')")
		p.until("!document.querySelector('#edition')")
		// Without a network every sheet is there.
		closeWeb()
		for _, file := range []string{"bed.html", "checks.html", ""} {
			p.goTo(web.URL + rc + file)
			p.until("document.querySelector('.tb') && Array.from(document.styleSheets).some((s) => s.cssRules.length > 50)")
		}
	})
}

// anotherEdition publishes the demonstration with a line more on one page.
func anotherEdition(t *testing.T, line string) (dir string) {
	t.Helper()
	src := t.TempDir()
	if err := os.CopyFS(src, os.DirFS("../../testdata/fenbank")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(src, "pages", "20-frame.md")
	text, err := os.ReadFile(file)
	if err == nil {
		err = os.WriteFile(file, append(text, []byte("\n"+line+".\n")...), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	dir = filepath.Join(t.TempDir(), "site")
	if err := publish(src, dir); err != nil {
		t.Fatal(err)
	}
	return dir
}
