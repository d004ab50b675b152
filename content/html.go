package content

import (
	"bytes"
	"regexp"
	"slices"

	"github.com/microcosm-cc/bluemonday"
	"github.com/yuin/goldmark/ast"
	"golang.org/x/net/html"

	"workings/calc/diag"
)

// htmlSanitised is the one value of html in manual.toml.
const htmlSanitised = "sanitised"

// htmlPolicy allows the elements of running text and tables, and nothing that
// runs, loads, asks for input, or puts something in the place of the page's
// own parts: no ids, classes or styles. Pictures are written in Markdown,
// which sees to it that they are there without a network.
var htmlPolicy = func() *bluemonday.Policy {
	p := bluemonday.NewPolicy()
	p.AllowElements("abbr", "b", "bdi", "bdo", "blockquote", "br", "caption", "cite", "code", "dd", "del", "details", "dfn",
		"div", "dl", "dt", "em", "figcaption", "figure", "hr", "i", "ins", "kbd", "li", "mark", "ol", "p", "pre", "q", "s",
		"samp", "small", "span", "strong", "sub", "summary", "sup", "table", "tbody", "td", "tfoot", "th", "thead", "tr",
		"u", "ul", "var", "wbr")
	p.AllowNoAttrs().OnElements("span", "div")
	p.AllowAttrs("title", "lang").Globally()
	p.AllowAttrs("dir").Matching(regexp.MustCompile(`^(?:ltr|rtl|auto)$`)).Globally()
	p.AllowAttrs("open").Matching(regexp.MustCompile(`^(?:|open)$`)).OnElements("details")
	p.AllowAttrs("colspan", "rowspan").Matching(regexp.MustCompile(`^[1-9][0-9]?$`)).OnElements("td", "th")
	p.AllowAttrs("scope").Matching(regexp.MustCompile(`^(?:row|col|rowgroup|colgroup)$`)).OnElements("th")
	p.AllowAttrs("start").Matching(regexp.MustCompile(`^[0-9]{1,4}$`)).OnElements("ol")
	p.AllowAttrs("href").OnElements("a")
	p.AllowURLSchemes("http", "https", "mailto")
	p.AllowRelativeURLs(false)
	p.RequireParseableURLs(true)
	p.RequireNoReferrerOnLinks(true)
	return p
}()

// SafeHTML is what of a piece of HTML may be published: its scripts, styles,
// event attributes, frames, forms and pictures are gone, and links lead to
// addresses of the web or of mail.
func SafeHTML(piece []byte) []byte { return htmlPolicy.SanitizeBytes(piece) }

// An openTag waits for the tag that closes it.
type openTag struct {
	name string
	at   diag.Span
}

// Elements that hold nothing (HTML, section 13.1.2, void elements), of those
// that are published.
var voidElements = []string{"br", "hr", "wbr"}

// checkHTML reports what is left out of a piece of HTML, and tags that do not
// belong together: the rest of the page would stand in what is not closed, and
// a tag too many would close a part of the page itself. Tags may open in one
// piece and close in another of the same block, with Markdown in between.
func (d *draft) checkHTML(parent ast.Node, segs [][2]int) {
	src := d.page.File.Text
	var piece []byte
	for _, s := range segs {
		piece = append(piece, src[s[0]:s[1]]...)
	}
	place := func(off, n int) diag.Span {
		for _, s := range segs {
			if size := s[1] - s[0]; off < size {
				at := d.span(s[0]+off, min(s[0]+off+n, s[1]))
				at.End -= len(at.Text()) - len(bytes.TrimRight([]byte(at.Text()), " \n"))
				return at
			} else {
				off -= size
			}
		}
		return d.span(segs[0][0], segs[0][1])
	}
	z := html.NewTokenizer(bytes.NewReader(piece))
	for off := 0; ; {
		kind := z.Next()
		if kind == html.ErrorToken {
			return
		}
		raw := slices.Clone(z.Raw())
		at := place(off, len(raw))
		off += len(raw)
		if kind == html.TextToken || kind == html.CommentToken {
			continue
		}
		if d.used.tags++; d.used.tags > maxTags {
			if d.used.tags == maxTags+1 {
				d.list.Add(at, "too-many", "the HTML of a page may have %d tags, and this is one more", maxTags).Hint = splitHint
			}
			return
		}
		tok := z.Token()
		safe := SafeHTML(raw)
		if len(safe) == 0 {
			switch {
			case tok.Data == "a" && kind != html.EndTagToken:
				d.list.Add(at, "html-tags", "this link leads to no address of the web or of mail").
					Hint = "write a link in Markdown, or an address with https: or mailto:"
				d.open(parent, openTag{"a", at})
			case kind != html.EndTagToken:
				d.leftOut(at, "<"+tok.Data+">")
			}
			continue
		}
		switch {
		case slices.Contains(voidElements, tok.Data):
		case kind == html.EndTagToken:
			open := d.tags[parent]
			n := len(open) - 1
			for n >= 0 && open[n].name != tok.Data {
				n--
			}
			if n >= 0 {
				d.tags[parent] = open[:n]
				if last := open[len(open)-1]; last.name != tok.Data {
					d.list.Add(at, "html-tags", "</%s> closes what another tag was opened in", tok.Data).
						Also = []diag.Note{{Span: last.at, Msg: "<" + last.name + "> has to be closed first"}}
				}
				continue
			}
			d.list.Add(at, "html-tags", "</%s> closes nothing here", tok.Data).
				Hint = "take it out, or write <" + tok.Data + "> before it, in the same list item, quote or paragraph"
		default:
			d.open(parent, openTag{tok.Data, at})
		}
		kept := html.NewTokenizer(bytes.NewReader(safe))
		kept.Next()
		stay := kept.Token().Attr
		for _, a := range tok.Attr {
			if !slices.ContainsFunc(stay, func(b html.Attribute) bool { return a.Key == b.Key }) {
				d.leftOut(at, "the attribute "+a.Key)
			}
		}
	}
}

func (d *draft) open(in ast.Node, t openTag) {
	if d.tags == nil {
		d.tags = map[ast.Node][]openTag{}
	}
	d.tags[in] = append(d.tags[in], t)
}

func (d *draft) leftOut(at diag.Span, what string) {
	d.list.Warn(at, "html-left-out", "%s is left out of the published page", what).
		Hint = "HTML of pages is running text and tables, without scripts, styles, frames, forms and pictures"
}

// finishHTML reports tags that nothing closes.
func (d *draft) finishHTML() {
	for _, open := range d.tags { // any order: the list is sorted below, and no two tags begin at one place
		for _, t := range open {
			d.list.Add(t.at, "html-tags", "<%s> is not closed in its list item, quote or paragraph", t.name).Hint = "write </" + t.name + ">"
		}
	}
	d.list = d.list.Sorted()
}
