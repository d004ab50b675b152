package browsertest

import (
	"context"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

type chromium struct {
	ctx  context.Context
	into string

	mu    sync.Mutex
	wrong []string
}

func startChromium(t *testing.T) engine {
	t.Helper()
	c := &chromium{into: t.TempDir()}
	ctx, cancel := chromedp.NewContext(context.Background(),
		chromedp.WithAllocatorOptions(chromedp.ExecPath(program(t, "chromium", "chromium-browser", "google-chrome")),
			chromedp.Flag("no-sandbox", true), chromedp.Flag("disable-gpu", true),
			chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
			chromedp.Flag("window-size", "1280,900")),
		chromedp.WithErrorf(func(string, ...any) {}), // the browser's own troubles, such as a missing message bus
		chromedp.WithListener(c.hear))
	t.Cleanup(func() {
		chromedp.Cancel(ctx)
		cancel()
	})
	c.ctx = ctx
	err := chromedp.Do(ctx, chromedp.Navigate("about:blank"), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
			Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: c.into,
		})
		return err
	}))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func (c *chromium) hear(ev any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		text := ev.ExceptionDetails.Text
		if e := ev.ExceptionDetails.Exception; e != nil {
			text += " " + e.Description
		}
		c.wrong = append(c.wrong, "exception: "+text)
	case *runtime.EventConsoleAPICalled:
		said := "console: "
		for _, a := range ev.Args {
			said += string(a.Value) + " "
		}
		c.wrong = append(c.wrong, said)
	case *log.EventEntryAdded:
		if l := ev.Entry.Level; l == log.EntryLevelError || l == log.EntryLevelWarning {
			c.wrong = append(c.wrong, string(l)+": "+ev.Entry.Text+" "+ev.Entry.URL)
		}
	}
}

func (c *chromium) open(url string) error { return chromedp.Do(c.ctx, chromedp.Navigate(url)) }

func (c *chromium) eval(js string) (string, error) {
	return chromedp.Run(c.ctx, chromedp.Evaluate[string]("Promise.resolve("+js+").then((v) => JSON.stringify(v === undefined ? null : v))", chromedp.EvalAwaitPromise))
}

func (c *chromium) keys(text string) error {
	named := map[string]string{enter: kb.Enter, escape: kb.Escape, down: kb.ArrowDown, up: kb.ArrowUp}
	for _, r := range text {
		k := string(r)
		if k == chord {
			if err := chromedp.Do(c.ctx, chromedp.KeyEvent("/", chromedp.KeyModifiers(chromedp.ModifierCtrl))); err != nil {
				return err
			}
			continue
		}
		if n, ok := named[k]; ok {
			k = n
		}
		if err := chromedp.Do(c.ctx, chromedp.KeyEvent(k)); err != nil {
			return err
		}
	}
	return nil
}

func (c *chromium) choose(id, file string) error {
	return chromedp.Do(c.ctx, chromedp.SetUploadFiles(chromedp.CSS(`[id="`+id+`"]`), []string{file}))
}

func (c *chromium) pdf() ([]byte, error) {
	return chromedp.Run(c.ctx, chromedp.PrintToPDF(func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }))
}

func (c *chromium) downloads() string { return c.into }

func (c *chromium) complaints() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.wrong
}

func (c *chromium) numbers() bool { return true }
