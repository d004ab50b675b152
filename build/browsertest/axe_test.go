package browsertest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// A look is how a reader has a page before him.
type look struct {
	name          string
	width, height int64
	features      []*emulation.MediaFeature
	workings      bool // all of them opened beside the text
}

func scheme(name string) *emulation.MediaFeature {
	return &emulation.MediaFeature{Name: "prefers-color-scheme", Value: name}
}

var contrastMore = &emulation.MediaFeature{Name: "prefers-contrast", Value: "more"}

// take sets the browser to a look.
func (c *chromium) take(l look) error {
	return chromedp.Do(c.ctx, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: l.features}); err != nil {
			return err
		}
		_, err := chromedp.Call(ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
			Width: l.width, Height: l.height, DeviceScaleFactor: 1, Mobile: l.width < 600,
		})
		return err
	}))
}

// axe-core finds nothing on any page of a release, in all its rules of WCAG
// 2.2 at levels A and AA and of good practice, contrast included: light, dark
// and with more contrast, on a phone and a laptop, workings closed and opened.
func TestAccessible(t *testing.T) {
	t.Parallel()
	script, err := os.ReadFile(checker(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	dir := demonstration(t)
	files := pages(t, dir, "2.0-rc1")
	// It takes longer than all else: two browsers share it.
	for part := range 2 {
		var own []string
		for i := part; i < len(files); i += 2 {
			own = append(own, files[i])
		}
		t.Run(strconv.Itoa(part+1), func(t *testing.T) {
			t.Parallel()
			accessible(t, string(script), dir, own)
		})
	}
}

func accessible(t *testing.T, script, dir string, files []string) {
	c := startChromium(t).(*chromium)
	p := &tab{t: t, engine: c}
	laptop := look{name: "laptop, light", width: 1280, height: 900, features: []*emulation.MediaFeature{scheme("light")}}
	phone := look{name: "phone, light", width: 390, height: 844, features: []*emulation.MediaFeature{scheme("light")}}
	dark := func(l look) look {
		l.name, l.features = strings.Replace(l.name, "light", "dark", 1), []*emulation.MediaFeature{scheme("dark")}
		return l
	}
	more := func(l look) look {
		l.name, l.features = l.name+", more contrast", append([]*emulation.MediaFeature{contrastMore}, l.features...)
		return l
	}
	opened := func(l look) look {
		l.name, l.workings = l.name+", workings opened", true
		return l
	}
	// A scheme changes colours and a width the layout. Each pair of them is
	// asked on one page of each kind, on the others one after the other.
	const (
		every   = `{preload: false, resultTypes: ["violations"]}`
		colours = `{preload: false, resultTypes: ["violations"], runOnly: ["color-contrast", "link-in-text-block"]}`
		layout  = `{preload: false, resultTypes: ["violations"], rules: {"color-contrast": {enabled: false}}}`
	)
	run := func(name string, l look, rules string) {
		t.Helper()
		if err := c.take(l); err != nil {
			t.Fatal(err)
		}
		type node struct {
			HTML           string
			Target         []any
			FailureSummary string
		}
		type violation struct {
			ID, Help string
			Nodes    []node
		}
		for _, v := range value[[]violation](p, "axe.run(document, "+rules+").then((r) => r.violations)") {
			for i, n := range v.Nodes {
				if i == 3 {
					t.Errorf("%s, %s: %s: and %d more", name, l.name, v.ID, len(v.Nodes)-i)
					break
				}
				t.Errorf("%s, %s: %s (%s)\n%v\n%.300s\n%s", name, l.name, v.ID, v.Help, n.Target, n.HTML, n.FailureSummary)
			}
		}
	}
	for _, file := range files {
		name := strings.TrimPrefix(file, dir+"/")
		if err := c.take(laptop); err != nil {
			t.Fatal(err)
		}
		p.goTo("file://" + file)
		// What scrolls is known once the lettering is there.
		value[bool](p, "document.fonts.ready.then(() => true)")
		p.run(script)
		run(name, laptop, every)
		switch filepath.Base(file) {
		default:
			run(name, phone, layout)
			run(name, dark(laptop), colours)
		case "whole.html": // the same pages again, on one
		case "index.html", "start.html", "recoater.html", "parts.html", "checks.html", "limits.html", "errata.html", "which.html":
			run(name, phone, every)
			run(name, dark(phone), colours)
			run(name, dark(laptop), colours)
			run(name, more(laptop), colours)
			run(name, more(dark(laptop)), colours)
		}
		if filepath.Base(file) != "recoater.html" {
			continue
		}
		for _, l := range []look{laptop, phone} {
			if err := c.take(l); err != nil {
				t.Fatal(err)
			}
			p.run("document.getElementById('show/workings').click()")
			p.until("document.querySelectorAll('.workings.placed').length > 3")
			run(name, opened(l), every)
			run(name, opened(dark(l)), colours)
			p.run("document.getElementById('show/workings').click()")
		}
	}
	// A page with mistakes, to see that they are seen.
	wrong := filepath.Join(t.TempDir(), "wrong.html")
	if err := os.WriteFile(wrong, []byte(`<!doctype html><title>a</title><img src="a.png"><p style="color:#aaa;background:#fff">pale`), 0o644); err != nil {
		t.Fatal(err)
	}
	p.goTo("file://" + wrong)
	p.run(script)
	found := fmt.Sprint(value[[]string](p, "axe.run(document, "+every+").then((r) => r.violations.map((v) => v.id))"))
	for _, id := range []string{"image-alt", "html-has-lang", "color-contrast"} {
		if !strings.Contains(found, id) {
			t.Errorf("on a page with mistakes axe finds %s, and not %s", found, id)
		}
	}
}
