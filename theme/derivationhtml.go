package theme

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"github.com/yuin/goldmark/util"
)

// A htmlWriter writes the HTML of what stands on every sheet, or several times
// for each figure of a release: too much for templates.
// It takes the place of the buffer that the renderer of Markdown would make.
type htmlWriter struct{ bytes.Buffer }

var _ util.BufWriter = (*htmlWriter)(nil)

// Buffered and Flush say that nothing waits to be written on.
func (b *htmlWriter) Buffered() int { return 0 }
func (b *htmlWriter) Flush() error  { return nil }

// newHTML gives a writer; it is done with once its text is taken.
func newHTML() *htmlWriter {
	b := htmlWriters.Get().(*htmlWriter)
	b.Reset()
	return b
}

// htmlWriters are kept: they have grown to the size of what is written.
var htmlWriters = sync.Pool{New: func() any { return new(htmlWriter) }}

// take gives what was written, and ends the writer.
func (b *htmlWriter) take() string {
	s := b.String()
	b.drop()
	return s
}

// drop ends the writer.
func (b *htmlWriter) drop() { htmlWriters.Put(b) }

func (b *htmlWriter) put(parts ...string) { put(b, parts...) }

// put writes parts of HTML.
func put(w util.BufWriter, parts ...string) {
	for _, s := range parts {
		w.WriteString(s)
	}
}

// link writes a link.
func (b *htmlWriter) link(href, html string) { b.put(`<a href="`, escHref(href), `">`, html, `</a>`) }

// escHref is esc for an address, with what no address holds in percent signs
// (RFC 3986, section 2).
func escHref(s string) string {
	const keep = "!#$&*+,-./:;=?@[]_~%"
	plain := func(c byte) bool {
		return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || strings.IndexByte(keep, c) >= 0
	}
	var b []byte
	for i := range len(s) {
		if plain(s[i]) {
			if b != nil {
				b = append(b, s[i])
			}
			continue
		}
		if b == nil {
			b = append(b, s[:i]...)
		}
		b = fmt.Appendf(b, "%%%02x", s[i])
	}
	if b != nil {
		s = string(b)
	}
	return esc(s)
}

// derivationBody writes a derivation without its head.
func (v *view) derivationBody(b *htmlWriter, d derivation) {
	w := v.w
	if d.Caption != "" {
		b.put(`<p class="cap">`, esc(d.Caption), "</p>\n")
	}
	if d.Given != "" {
		b.put(`<p class="given">`, esc(d.Given), "</p>\n")
	}
	if d.Formula != "" {
		b.put(`<div class="math" tabindex="0" role="group" aria-label="`, esc(w.Formula), `"><div class="line">`, string(d.Formula), `</div>`)
		if d.Values != "" {
			b.put(`<div class="line put">`, string(d.Values), `</div>`)
		}
		b.put("</div>\n")
	}
	if r := d.Record; r != nil {
		b.source(w.OneOf)
		b.link(r.Href, esc(r.Name))
		b.put("</p>\n")
	}
	for _, m := range d.Models {
		b.model(w, m)
	}
	b.rows(w.Inputs, d.Inputs)
	b.rows(w.Results, d.Results)
	if len(d.Spread) > 0 {
		b.put(`<table><caption>`, esc(w.SpreadTitle), `</caption><tbody>`)
		for _, s := range d.Spread {
			b.put(`<tr><th scope="row">`, esc(s.Name), `</th><td>`, esc(s.Value), `</td><td>`, esc(s.Note), `</td></tr>`)
		}
		b.put("</tbody></table>\n")
	}
	if len(d.Shares) > 0 {
		b.put(`<table class="shares"><caption>`, esc(w.VariesWith), `</caption><tbody>`)
		for _, s := range d.Shares {
			name, percent := esc(s.Name), strconv.Itoa(s.Percent)
			b.put(`<tr><th scope="row">`)
			if s.Href != "" {
				b.link(s.Href, string(breakable(s.Name)))
			} else {
				b.put(name)
			}
			b.put(`</th><td>`, percent, `&nbsp;%</td><td><svg viewBox="0 0 100 8" width="100" height="8" aria-hidden="true" focusable="false"><rect class="share" width="`,
				percent, `" height="8"/></svg></td></tr>`)
		}
		b.put("</tbody></table>\n")
	}
	for _, c := range d.Checks {
		class, word := "broken", w.Disagrees
		if c.Agrees {
			class, word = "held", w.Agrees
		}
		b.source(w.SecondWay)
		b.put(string(c.Formula), ` = `, esc(c.Second), `: <span class="`, class, `">`, esc(word), ` · `, esc(c.Off), `</span>`)
		if c.Source != "" {
			b.put(` (`, esc(c.Source), `)`)
		}
		b.put("</p>\n")
	}
	for _, l := range d.Limits {
		b.source(w.Limit)
		b.link(l.Href, esc(l.Name))
		b.put(`: <span class="`, esc(l.Class), `">`, esc(l.State), "</span></p>\n")
	}
	b.note(w.Source, d.Source)
	b.note(w.Reason, d.Because)
	if len(d.ShownOn) > 0 {
		b.source(w.ShownOn)
		for i, s := range d.ShownOn {
			b.comma(i)
			b.link(s.Href, esc(s.Mark)+" "+esc(s.Title))
		}
		b.more(len(d.ShownOn), d.shownOn)
	}
	if len(d.UsedBy) > 0 {
		b.source(w.UsedIn)
		for i, s := range d.UsedBy {
			b.comma(i)
			b.link(s.Href, esc(s.Name))
		}
		b.more(len(d.UsedBy), d.usedBy)
	}
	if d.Entry != "" {
		b.put(`<p class="src">`)
		b.link(d.Entry, esc(w.FullEntry))
		b.put("</p>\n")
	}
}

// model writes a model with the arguments of a call of it.
func (b *htmlWriter) model(w *words, m modelView) {
	b.put(`<div class="model"><p class="title">`)
	b.link("methods.html#m/"+m.Name, esc(m.Title))
	b.put("</p>\n")
	if len(m.Lines) > 0 {
		b.put(`<div class="math" tabindex="0" role="group" aria-label="`, esc(w.ModelFormula), `">`)
		for _, l := range m.Lines {
			b.put(`<div class="line">`, string(l), `</div>`)
		}
		b.put("</div>\n")
	}
	for _, o := range m.Outside {
		b.put(`<p class="outside"><b>`, esc(w.Outside), `</b> `, esc(o), "</p>\n")
	}
	if len(m.Args) > 0 {
		b.put(`<table><caption>`, esc(w.Arguments), `</caption><tbody>`)
		for _, a := range m.Args {
			b.put(`<tr><th scope="row">`, esc(a.Name), `</th><td>`, esc(a.Value), `</td><td>`)
			if a.Figure != "" {
				b.link(a.Href, string(breakable(a.Figure)))
				b.put(` `)
			}
			b.put(string(a.Given), esc(a.Doc), `</td></tr>`)
		}
		b.put("</tbody></table>\n")
	}
	b.note(w.Source, m.Source)
	b.note(w.Range, m.Range)
	b.put("</div>\n")
}

// rows writes figures with their values, as a table.
func (b *htmlWriter) rows(caption string, rows []inputRow) {
	if len(rows) == 0 {
		return
	}
	b.put(`<table><caption>`, esc(caption), `</caption><tbody>`)
	for _, r := range rows {
		b.put(`<tr><th scope="row">`)
		b.link(r.Href, string(breakable(r.Name)))
		b.put(`</th><td>`, esc(r.Value), `</td><td>`, esc(r.Note), `</td></tr>`)
	}
	b.put("</tbody></table>\n")
}

func (b *htmlWriter) source(word string) { b.put(`<p class="src"><b>`, esc(word), `</b> `) }

func (b *htmlWriter) note(word, text string) {
	if text != "" {
		b.source(word)
		b.put(esc(text), "</p>\n")
	}
}

func (b *htmlWriter) comma(i int) {
	if i > 0 {
		b.put(", ")
	}
}

// more ends a list that may have been cut.
func (b *htmlWriter) more(written, all int) {
	if written < all {
		b.put(", …")
	}
	b.put("</p>\n")
}
