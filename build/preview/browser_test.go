package preview

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"workings/build"
)

// A browser is a real one, without a window, with everything that it
// complained of and asked for.
type browser struct {
	ctx context.Context

	mu       sync.Mutex
	wrong    []string // errors and warnings of the console, exceptions
	requests []string
}

// openBrowser starts Chromium. Where there is none the test is left out,
// except where it counts.
func openBrowser(t testing.TB) *browser {
	t.Helper()
	found := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			found = p
			break
		}
	}
	if found == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("there is no Chromium, and pages must be tried in one here")
		}
		t.Skip("there is no Chromium on this machine: pages are not tried in a browser")
	}
	b := &browser{}
	ctx, cancel := chromedp.NewContext(context.Background(),
		chromedp.WithAllocatorOptions(chromedp.ExecPath(found),
			chromedp.Flag("no-sandbox", true), chromedp.Flag("disable-gpu", true),
			chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
			chromedp.Flag("window-size", "1200,900")),
		chromedp.WithErrorf(func(string, ...any) {}), // the browser's own troubles, such as a missing message bus
		chromedp.WithListener(b.hear))
	t.Cleanup(func() {
		chromedp.Cancel(ctx)
		cancel()
	})
	b.ctx = ctx
	b.do(t, chromedp.Navigate("about:blank"))
	return b
}

func (b *browser) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *runtime.EventConsoleAPICalled:
		if kind := string(ev.Type); kind == "error" || kind == "warning" || kind == "assert" {
			text := kind
			for _, a := range ev.Args {
				text += " " + string(a.Value) + a.Description
			}
			b.wrong = append(b.wrong, text)
		}
	case *runtime.EventExceptionThrown:
		text := "exception: " + ev.ExceptionDetails.Text
		if x := ev.ExceptionDetails.Exception; x != nil {
			text += " " + x.Description
		}
		b.wrong = append(b.wrong, text)
	case *log.EventEntryAdded:
		if l := ev.Entry.Level; l == log.EntryLevelError || l == log.EntryLevelWarning {
			b.wrong = append(b.wrong, string(l)+": "+ev.Entry.Text+" "+ev.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, ev.Request.URL)
	}
}

// do runs actions, each within a time in which none needs longer.
func (b *browser) do(t testing.TB, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// open goes to a page.
func (b *browser) open(t testing.TB, address string) {
	t.Helper()
	b.do(t, chromedp.Navigate(address))
}

// value evaluates an expression in the page.
func value[T any](t testing.TB, b *browser, js string) T {
	t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%s: %v", js, err)
	}
	return v
}

// until waits until an expression holds in the page.
func (b *browser) until(t *testing.T, js string) {
	t.Helper()
	end := time.Now().Add(20 * time.Second)
	for {
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("!!("+js+")"))
		if err == nil && v {
			return
		}
		if time.Now().After(end) {
			body, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string]("document.body.innerText"))
			t.Fatalf("it does not come to hold: %s (%v)\nthe page:\n%s", js, err, body)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// quiet asserts that the browser complained of nothing and asked nobody but
// the addresses with these beginnings.
func (b *browser) quiet(t *testing.T, allowed ...string) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, w := range b.wrong {
		t.Errorf("the browser says: %s", w)
	}
	for _, r := range b.requests {
		ok := r == "about:blank" || strings.HasPrefix(r, "data:")
		for _, a := range allowed {
			ok = ok || strings.HasPrefix(r, a)
		}
		if !ok {
			t.Errorf("the page asks for %s", r)
		}
	}
	b.wrong, b.requests = nil, nil
}

// tabTo presses Tab until an element that fits the selector has the focus.
func (b *browser) tabTo(t *testing.T, selector string) {
	t.Helper()
	for range 200 {
		b.do(t, chromedp.KeyEvent(kb.Tab))
		if value[bool](t, b, fmt.Sprintf("document.activeElement.matches(%q)", selector)) {
			return
		}
	}
	t.Fatalf("Tab does not lead to %s", selector)
}

// opener is the first figure of a page; it opens a derivation.
const (
	opener  = "main a.fig"
	opened  = "[popover]:popover-open"
	isOpen  = "document.querySelector('" + opened + "')"
	noneOpn = "!document.querySelector('" + opened + "')"
)

// publish writes a site into a folder and opens every page of it from there,
// of which none may raise a complaint or ask for anything outside the folder.
func publish(t *testing.T, b *browser, src build.Source) (base string) {
	t.Helper()
	site, list := build.Build(src, build.Options{Tool: build.Tool{Name: "workings", Version: "test"}})
	if site == nil {
		t.Fatal(list)
	}
	out := filepath.Join(t.TempDir(), "a folder")
	if err := site.Write(out); err != nil {
		t.Fatal(err)
	}
	base = "file://" + strings.ReplaceAll(out, " ", "%20")
	for _, p := range site.Paths() {
		if !strings.HasSuffix(p, ".html") || strings.HasPrefix(p, "current/") { // those only lead on

			continue
		}
		b.do(t, chromedp.Navigate(base+"/"+p))
		if title := value[string](t, b, "document.title"); title == "" {
			t.Errorf("%s has no title", p)
		}
		if !value[bool](t, b, "document.fonts.ready.then(() => Array.from(document.styleSheets).some((s) => s.href))") {
			t.Errorf("%s has no style sheet", p)
		}
		if b.quiet(t, base); t.Failed() {
			t.Fatalf("that was %s", p)
		}
	}
	return base
}

// The demonstration, every page of it, from the disk.
func TestBrowserFenbank(t *testing.T) {
	b := openBrowser(t)
	src, closeDir, err := build.OpenDir("../../testdata/fenbank")
	if err != nil {
		t.Fatal(err)
	}
	defer closeDir()
	publish(t, b, src)
}

func TestBrowserPublished(t *testing.T) {
	b := openBrowser(t)
	dir := t.TempDir()
	write(t, dir, "manual.toml", manualTOML)
	write(t, dir, "design.calc", "bed_x = 220 mm   # width of the bed\nhalf = bed_x / 2   # half of it\n")
	write(t, dir, "pages/10-start.md", "# Start\n\nHalf of it is {= half}.\n\n## Measure {#measure}\n\n```measure\nwidth \"width of the bed\": bed_x ± 1 mm with \"calliper\"\n```\n")
	src, closeDir, err := build.OpenDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer closeDir()
	base := publish(t, b, src)

	// A derivation opens by keyboard alone, and closes again.
	b.do(t, chromedp.Navigate(base+"/1.0/start.html"))
	b.tabTo(t, opener)
	b.do(t, chromedp.KeyEvent(kb.Enter))
	b.until(t, isOpen)
	if text := value[string](t, b, isOpen+".textContent"); !strings.Contains(text, "bed_x") || !strings.Contains(text, "110") {
		t.Errorf("the derivation reads %q", text)
	}
	b.do(t, chromedp.KeyEvent(kb.Escape))
	b.until(t, noneOpn)
	b.quiet(t, base)

	// A reading is judged against what is expected.
	b.do(t, chromedp.Navigate(base+"/1.0/start.html"))
	b.tabTo(t, "input[data-low]")
	b.do(t, chromedp.KeyEvent("219.5"), chromedp.KeyEvent(kb.Tab))
	b.until(t, "document.querySelector('.verdict').textContent.trim() !== ''")
	in := value[string](t, b, "document.querySelector('.verdict').textContent")
	value[bool](t, b, "document.querySelector('input[data-low]').value = '', document.querySelector('input[data-low]').focus(), true")
	b.do(t, chromedp.KeyEvent("218.5"), chromedp.KeyEvent(kb.Tab))
	b.until(t, fmt.Sprintf("document.querySelector('.verdict').textContent.trim() !== '' && document.querySelector('.verdict').textContent !== %q", in))
	b.quiet(t, base)
}

func TestBrowserPreview(t *testing.T) {
	b := openBrowser(t)
	r := start(t)
	long := "# Start\n\nThe bed is {= bed_x} wide, half of that is {= half}.\n\n" +
		strings.Repeat("A line of text to have something to scroll over.\n\n", 60) + "## The end {#end}\n\nHere it ends.\n"
	write(t, r.dir, "pages/10-start.md", long)
	b.do(t, chromedp.Navigate(r.address+"1.0/start.html"))
	b.until(t, "document.querySelector('#end')")

	// A derivation is open and the page scrolled; then the design changes.
	b.tabTo(t, opener)
	b.do(t, chromedp.KeyEvent(kb.Enter))
	b.until(t, isOpen)
	value[bool](t, b, "window.stays = true, window.scrollTo({top: 600, behavior: 'instant'}), true")
	write(t, r.dir, "design.calc.new", "bed_x = 246 mm   # width of the bed\nhalf = bed_x / 2   # half of it\n")
	rename(t, r.dir, "design.calc.new", "design.calc")
	b.until(t, "document.querySelector('main').textContent.includes('246')")
	b.until(t, "document.querySelector('main').textContent.includes('123')")
	if !value[bool](t, b, "window.stays === true") {
		t.Error("the page was loaded anew")
	}
	b.until(t, isOpen+" && "+isOpen+".textContent.includes('246')") // what was put in, now
	if y := value[float64](t, b, "window.scrollY"); y < 590 || y > 610 {
		t.Errorf("the page was scrolled to %v", y)
	}

	// An error shows over the page, which stays; mended, it goes.
	write(t, r.dir, "pages/10-start.md", strings.Replace(long, "{= bed_x}", "{= bed_z}", 1))
	b.until(t, "document.querySelector('#preview-report')")
	text := value[string](t, b, "document.querySelector('#preview-report').textContent")
	for _, w := range []string{"pages/10-start.md:3:", "bed_z", "^^^"} {
		if !strings.Contains(text, w) {
			t.Errorf("the report lacks %q: %q", w, text)
		}
	}
	if !value[bool](t, b, "document.querySelector('main').textContent.includes('246')") {
		t.Error("the page is gone behind the report")
	}
	write(t, r.dir, "pages/10-start.md", strings.Replace(long, "Here it ends", "Here it ends at last", 1))
	b.until(t, "!document.querySelector('#preview-report')")
	b.until(t, "document.querySelector('main').textContent.includes('at last')")
	if !value[bool](t, b, "window.stays === true") {
		t.Error("the page was loaded anew")
	}
	// A look of the manual's own is taken up without loading the page anew.
	toml, err := os.ReadFile(filepath.Join(r.dir, "manual.toml"))
	if err != nil {
		t.Fatal(err)
	}
	write(t, r.dir, "manual.toml", string(toml)+"\n[look]\naccent = \"#0b5d8a\"\naccent_dark = \"#8fd0ff\"\n")
	b.until(t, "['#0b5d8a', '#8fd0ff'].includes(getComputedStyle(document.documentElement).getPropertyValue('--accent'))")
	if !value[bool](t, b, "window.stays === true") {
		t.Error("the page was loaded anew")
	}
	b.quiet(t, r.address)

	// A page that goes away says so, and comes back.
	remove(t, r.dir, "pages/10-start.md")
	write(t, r.dir, "pages/20-other.md", "# Other\n")
	b.until(t, "document.querySelector('main[data-plain]')")
	write(t, r.dir, "pages/10-start.md", long)
	b.until(t, "document.querySelector('#end')")
}
