package browsertest

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Without scripts every page can be read: all its text is in view or under a
// heading that opens by itself, figures open their derivations, and what needs
// a script says so.
func TestWithoutScripts(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	c := startChromium(t).(*chromium)
	p := &tab{t: t, engine: c}
	if err := chromedp.Do(c.ctx, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	})); err != nil {
		t.Fatal(err)
	}
	// The texts that nobody comes to: neither in view, nor in a part that a
	// summary opens, nor meant for listeners alone.
	const lost = `(() => {
		const out = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		for (let n; n = walk.nextNode();) {
			const e = n.parentElement;
			if (!n.data.trim() || e.closest("script, .sr, annotation, title, desc")) continue;
			if (e.closest("details:not([open])") && !e.closest("summary")) continue;
			if (e.closest(".index, .contents-key, .marks, .side, .everysheet, form.find, #show\\/workings, #sheet\\/tools")) continue;
			// A plot is drawn twice, for a wide and for a narrow sheet.
			const svg = e.closest("svg");
			if (svg && Array.from(svg.closest("figure").querySelectorAll("svg")).some((s) => s.getClientRects().length)) continue;
			if (!e.getClientRects().length && !e.closest("math, noscript")) out.push(n.data.trim().slice(0, 80) + " <" + e.tagName + " " + e.className + ">");
		}
		return out;
	})()`
	figures := 0
	for _, file := range pages(t, dir, "2.0-rc1") {
		name := strings.TrimPrefix(file, dir+"/")
		p.goTo("file://" + file)
		if value[bool](p, "document.documentElement.classList.contains('open-workings') || !!document.querySelector('.progress')") {
			t.Fatalf("%s: a script has run", name)
		}
		if list := value[[]string](p, lost); len(list) > 0 {
			t.Errorf("%s: %d texts cannot be reached, such as %q", name, len(list), list[0])
		}
		if !value[bool](p, `!document.querySelector("form.find") || getComputedStyle(document.querySelector("form.find")).display === "none" && document.querySelector(".noscript").getClientRects().length > 0`) {
			t.Errorf("%s: the search shows, or does not say that it needs scripts", name)
		}
		figures += value[int](p, `document.querySelectorAll("main a.fig").length`)
	}
	if figures < 100 {
		t.Errorf("only %d figures lead to their workings in the whole release", figures)
	}
	// A figure leads to its derivation.
	p.goTo("file://" + dir + rc + "recoater.html")
	if err := chromedp.Do(c.ctx, chromedp.Click(chromedp.CSS("main p .fig"))); err != nil {
		t.Fatal(err)
	}
	p.until(`location.pathname.endsWith("/recoater.workings.html") && document.querySelector(".workings:target h2")`)
	// On a phone the index of sheets opens over the sheet.
	if err := c.take(look{name: "phone", width: 390, height: 844}); err != nil {
		t.Fatal(err)
	}
	p.goTo("file://" + dir + rc + "recoater.html")
	if value[bool](p, "document.querySelector('.index').getClientRects().length > 0") {
		t.Error("the index of sheets is open unasked")
	}
	if err := chromedp.Do(c.ctx, chromedp.Click(chromedp.CSS(".contents-key"))); err != nil {
		t.Fatal(err)
	}
	p.until("document.querySelector('.index:popover-open a[href=\"heaters.html\"]')")
	// The check sheet says what is missing.
	p.goTo("file://" + dir + rc + "checks.html")
	if text := value[string](p, "document.querySelector('main').innerText"); !strings.Contains(text, "Without scripts readings are neither judged nor kept") {
		t.Errorf("the check sheet says nothing of scripts:\n%.500s", text)
	}
	if value[bool](p, "document.getElementById('sheet/tools').getClientRects().length > 0") {
		t.Error("the check sheet offers what it cannot do without scripts")
	}
	p.quiet()
}

// A script that got into the text of a page does not run, and the policy of
// the page stops it: neither within the page, nor as an address, nor from
// another host.
func TestForeignScript(t *testing.T) {
	t.Parallel()
	dir := ownCopy(t)
	file := filepath.Join(dir, rc, "frame.html")
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	into := strings.Replace(string(page), "<main ", `<script>window.ran = "within"</script>
<p id="bad" onclick="window.ran = 'by a click'">x</p><img src="none.png" alt="" onerror="window.ran = 'by an error'">
<a id="link" href="javascript:window.ran='by a link'">x</a><script src="data:text/javascript,window.ran='data'"></script>
<style>body{outline:7px solid}</style><main `, 1)
	if err := os.WriteFile(file, []byte(into), 0o644); err != nil {
		t.Fatal(err)
	}
	base := serve(t, dir)
	inEach(t, func(t *testing.T, p *tab) {
		for _, from := range []string{"file://" + dir, base} {
			p.goTo(from + rc + "frame.html")
			p.until("document.querySelectorAll('.done input').length > 0") // its own script runs
			p.run("document.getElementById('bad').click(); document.getElementById('link').click()")
			p.until("document.querySelector('img[src=\"none.png\"]').complete")
			if got := value[*string](p, "window.ran"); got != nil {
				t.Errorf("%s: a script ran %s", from, *got)
			}
			if got := value[string](p, "getComputedStyle(document.body).outlineWidth"); got == "7px" {
				t.Errorf("%s: a style within the page was taken", from)
			}
		}
		if !strings.Contains(strings.ToLower(strings.Join(p.complaints(), "\n")), "content security policy") &&
			!strings.Contains(strings.Join(p.complaints(), "\n"), "Content-Security-Policy") {
			t.Logf("the browser does not say why: %q", p.complaints())
		}
	})
}
