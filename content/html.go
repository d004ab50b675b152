package content

import (
	"regexp"

	"github.com/microcosm-cc/bluemonday"
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
