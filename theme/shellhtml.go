package theme

import (
	"strconv"
	"strings"
)

// policy is what a sheet may load (Content Security Policy, level 3): all of
// it comes from the site itself, nothing runs that stands in the sheet.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'"

// write writes a sheet: its frame around its content. The frame stands on every
// sheet, too many for a template.
func (v *view) write(d shellData, index, bar string) ([]byte, error) {
	banner := ""
	if len(d.Errata) > 0 {
		s, err := v.t.execute("errata-banner", d)
		if err != nil {
			return nil, err
		}
		banner = string(s)
	}
	head, foot := v.above(d, index, bar, banner), v.below(d)
	var body []byte
	if d.Body != nil {
		body = d.Body.Bytes()
	}
	size := len(head) + len(body) + len(foot)
	for _, s := range d.Main {
		size += len(s)
	}
	out := make([]byte, 0, size)
	out = append(out, head...)
	for _, s := range d.Main {
		out = append(out, s...)
	}
	return append(append(out, body...), foot...), nil
}

// above is the frame above the content of a sheet.
func (v *view) above(d shellData, index, bar, banner string) string {
	w, title, release := d.W, esc(d.Site.Title), esc(d.Release.Name)
	b := newHTML()
	b.put(`<!doctype html>
<html lang="`, esc(w.Lang), `" data-manual="`, title, `" data-release="`, esc(d.Release.Dir), `"`)
	if d.Page != nil {
		b.put(` data-page="`, esc(d.Page.ID), `"`)
	}
	b.put(`>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="`, policy, `">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>`, esc(d.Doc), "</title>\n")
	if d.Description != "" {
		b.put(`<meta name="description" content="`, esc(d.Description), "\">\n")
	}
	b.put(`<meta name="color-scheme" content="light dark">
<link rel="stylesheet" href="../assets/style.css">
<link rel="icon" href="data:,">
<link rel="version-history" href="../index.html">
`)
	if d.Site.Feed {
		b.put(`<link rel="alternate" type="application/atom+xml" href="../feed.xml">`, "\n")
	}
	if d.Current != nil {
		if !d.Current.Missing {
			b.put(`<link rel="latest-version" href="`, escHref(d.Current.Href), `">`)
		}
		b.put("\n")
	}
	rel := func(rel, href string) { b.put(`<link rel="`, rel, `" href="`, escHref(href), "\">\n") }
	if d.Pred != "" {
		rel("predecessor-version", d.Pred)
	}
	if d.Succ != "" {
		rel("successor-version", d.Succ)
	}
	if d.Previous != nil {
		rel("prev", d.Previous.Href)
	}
	// No rel="next": some browsers fetch it beforehand, which the policy forbids.
	b.put(`<script src="../assets/script.js" defer></script>`, "\n")
	if d.Script != "" {
		b.put(`<script src="`, escHref(d.Script), "\" defer></script>\n")
	}
	b.put("</head>\n<body")
	switch {
	case d.Bare:
		b.put(` class="volume"`)
	case d.Wide:
		b.put(` class="register"`)
	}
	b.put(` data-words="`, esc(w.Script()), `">
<a class="skip" href="#sheet/main">`, esc(w.SkipToSheet), `</a>
<div class="sheet">
`)
	if !d.Bare {
		b.put(zones)
	}
	b.put(`<div class="frame">
<header>
<div class="bar">
<a class="machine" href="index.html">`, title, `</a>
`)
	if d.Bare {
		b.put(`<span class="releases">`, esc(w.Release), ` <b>`, release, `</b> <span class="state `, esc(d.Release.Status), `">`, esc(d.Status), "</span></span>\n</div>\n")
	} else {
		v.leads(b, d, bar)
	}
	v.banner(b, d)
	b.put(banner, "</header>\n")
	if !d.Bare {
		// One list: beside a wide sheet, over a narrow one where it is asked for.
		b.put(`<button type="button" class="contents-key" popovertarget="sheet/index">`, esc(w.Contents), "</button>\n")
	}
	b.put("<div class=\"cols\">\n")
	if !d.Bare {
		b.put(`<nav class="index" id="sheet/index" popover aria-label="`, esc(w.Sheets), `"><button type="button" class="close" popovertarget="sheet/index" popovertargetaction="hide" aria-label="`, esc(w.Close), `">×</button>`, index, "</nav>\n")
	}
	b.put("<main id=\"sheet/main\" tabindex=\"-1\">\n")
	return b.take()
}

// leads are the ways that lead from a sheet elsewhere: other releases, the
// registers, the search.
func (v *view) leads(b *htmlWriter, d shellData, bar string) {
	w := d.W
	b.put(`<details class="releases"><summary><span>`, esc(w.Release), ` <b>`, esc(d.Release.Name), `</b></span> <span class="state `, esc(d.Release.Status), `">`, esc(d.Status), `</span></summary>
<div class="drop"><ul>
`)
	for _, r := range d.Others {
		name := esc(r.Name)
		if r.Here {
			b.put(`<li aria-current="true"><span class="name">`, name, `</span>`)
		} else {
			b.put(`<li><a class="name" href="`, escHref(r.Href), `">`, name, `</a>`)
		}
		b.put(` <span class="state `, esc(r.Release.Status), `">`, esc(r.StatusWord), `</span>`)
		if r.Date != "" {
			b.put(` <time datetime="`, esc(r.Date), `">`, esc(r.Date), `</time>`)
		}
		if r.Missing {
			b.put(` <span class="note">`, esc(w.NotInRelease), `</span>`)
		}
		b.put("</li>\n")
	}
	b.put(`</ul><a class="all" href="../index.html">`, esc(w.AllReleases), `</a></div></details>
<nav class="marks" aria-label="`, esc(w.Registers), `">`, bar, `</nav>
<form class="find" role="search" hidden><input type="search" id="find/text" autocomplete="off" spellcheck="false" accesskey="s" aria-keyshortcuts="Control+/" title="Ctrl + /" aria-label="`, esc(w.Find),
		`" placeholder="`, esc(w.Find), `" data-count="`, esc(w.FoundCount), `" data-none="`, esc(w.NothingFound), `" aria-describedby="find/count"><span class="sr" id="find/count" role="status"></span><ul id="find/list" hidden></ul></form>
<noscript><p class="noscript">`, esc(w.NoScriptFind), ` <a href="figures.html">`, esc(w.Figures), `</a>.</p></noscript>
<button type="button" class="toggle" id="show/workings" hidden aria-pressed="false">`, esc(w.ShowWorkings), `</button>
</div>
`)
}

// banner says of a sheet that its release is not the one to build.
func (v *view) banner(b *htmlWriter, d shellData) {
	w, release := d.W, esc(d.Release.Name)
	switch d.Release.Status {
	case Candidate:
		b.put(`<p class="banner candidate"><b>`, esc(w.ThisIsRelease), ` `, release, `</b>, `, esc(w.NotReleased))
		if c := d.Current; c != nil {
			b.put(` `, esc(w.CurrentIs), ` <a href="`, escHref(c.Href), `">`, esc(c.Name), `</a>`)
			if c.Missing {
				b.put(` (`, esc(w.NotInRelease), `)`)
			}
			b.put(`.`)
		}
		b.put("</p>\n")
	case Earlier:
		b.put(`<p class="banner earlier"><b>`, esc(w.ThisIsRelease), ` `, release, `.</b>`)
		if c := d.Current; c != nil {
			words := w.ThisSheetIn
			if c.Missing {
				words = w.NoLongerIn
			}
			b.put(` `, esc(w.CurrentIs), ` `, esc(c.Name), `: <a href="`, escHref(c.Href), `">`, esc(words), ` `, esc(c.Name), `</a>.`)
		}
		b.put("</p>\n")
	}
}

// zones are the marks along the frame of a drawing sheet (ISO 5457).
var zones = func() string {
	var b strings.Builder
	line := func(side, marks string) {
		b.WriteString(`<div class="zones ` + side + `" aria-hidden="true">`)
		for _, m := range marks {
			b.WriteString("<span>" + string(m) + "</span>")
		}
		b.WriteString("</div>\n")
	}
	line("top", "12345678")
	line("left", "ABCDEF")
	line("right", "ABCDEF")
	line("bottom", "12345678")
	return b.String()
}()

// below is the frame below the content of a sheet, with its title block.
func (v *view) below(d shellData) string {
	w, machine, release, title := d.W, esc(d.Site.Title), esc(d.Release.Name), esc(d.Title)
	b := newHTML()
	if d.Previous != nil || d.Next != nil {
		b.put(`<nav class="turn" aria-label="`, esc(w.Previous), `, `, esc(w.Next), `">`)
		if p := d.Previous; p != nil {
			b.put(`<a class="prev" accesskey="p" rel="prev" href="`, escHref(p.Href), `"><span>`, esc(w.Previous), `</span> `, esc(p.Title), `</a>`)
		}
		if n := d.Next; n != nil {
			b.put(`<a class="next" accesskey="n" rel="next" href="`, escHref(n.Href), `"><span>`, esc(w.Next), `</span> `, esc(n.Title), `</a>`)
		}
		b.put("</nav>\n")
	}
	b.put("</main>\n")
	if !d.Wide && !d.Bare {
		b.put(`<aside class="side" aria-label="`, esc(w.StepsHere), `">`)
		if len(d.Steps) > 0 {
			b.put(`<h2>`, esc(w.StepsHere), "</h2>\n<ol>")
			for _, s := range d.Steps {
				b.put(`<li><a href="#`, escHref(s.ID), `"><span>`, strconv.Itoa(s.N), `</span> `, esc(s.Title), `</a></li>`)
			}
			b.put("</ol>")
		}
		b.put("</aside>\n")
	}
	block := func(class, word string, value ...string) {
		if class != "" {
			class = ` class="` + class + `"`
		}
		b.put(`<div`, class, `><dt>`, esc(word), `</dt><dd>`)
		b.put(value...)
		b.put("</dd></div>\n")
	}
	orDash := func(s, html string) string {
		if s == "" {
			return "–"
		}
		return html
	}
	state, states, of, notice, report := "", "", "", "", ""
	if d.Release.Status != Current {
		state, states = ` <span class="state `+esc(d.Release.Status)+`">`+esc(d.Status)+`</span>`, ` (`+esc(d.Status)+`)`
	}
	if d.Page != nil {
		of = ` ` + esc(w.Of) + ` ` + strconv.Itoa(d.Count)
	}
	if d.Site.Notice != "" {
		notice = `<br><span class="invented">` + esc(d.Site.Notice) + `</span>`
	}
	if d.Report != "" {
		report = `<br><a href="` + escHref(d.Report) + `">` + esc(w.Report) + `</a>`
	}
	date, sheet, sum := esc(d.Release.Date), esc(d.Sheet), esc(d.Checksum)
	b.put("</div>\n<footer><dl class=\"tb\">\n")
	block("w2", w.Machine, `<strong>`, machine, `</strong>`)
	block("w2", w.SheetTitle, `<strong>`, title, `</strong>`)
	block("", w.Release, `<strong>`, release, `</strong>`, state)
	block("", w.Date, orDash(date, `<time datetime="`+date+`">`+date+`</time>`))
	block("", w.Sheet, sheet, of)
	block("", w.Checksum, `<code>`, orDash(sum, sum), `</code>`)
	block("w3", w.PublishedBy, esc(d.Publisher), notice)
	block("w3", w.Licence, esc(d.Licence))
	block("w2", w.MadeWith, esc(d.Tool), report)
	b.put("</dl></footer>\n</div></div>\n<div class=\"everysheet\" aria-hidden=\"true\"><span>",
		machine, ` · `, esc(w.Release), ` `, release, states, ` · `, esc(w.Sheet), ` `, sheet, ` · `, title)
	for _, s := range []string{date, sum, esc(d.Licence)} {
		if s != "" {
			b.put(` · `, s)
		}
	}
	b.put("</span></div>\n</body>\n</html>\n")
	return b.take()
}
