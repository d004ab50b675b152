package build

import (
	"bytes"
	"crypto/sha1"
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"workings/content"
	"workings/theme"
)

// feedFile is the feed at the root of a site, after RFC 4287: an entry for
// each release and each erratum. Its dates are those that the manual states,
// its ids follow from names, so that neither changes when it is published again.
const feedFile = "feed.xml"

type atomDoc struct {
	XMLName   xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Lang      string      `xml:"xml:lang,attr"`
	ID        string      `xml:"id"`
	Title     string      `xml:"title"`
	Updated   string      `xml:"updated"`
	Author    atomName    `xml:"author"`
	Links     []atomLink  `xml:"link"`
	Generator string      `xml:"generator,omitempty"`
	Rights    string      `xml:"rights,omitempty"`
	Entries   []atomEntry `xml:"entry"`
}

type atomName struct {
	Name string `xml:"name"`
}

type atomLink struct {
	Rel  string `xml:"rel,attr"`
	Href string `xml:"href,attr"`
}

type atomEntry struct {
	ID      string     `xml:"id"`
	Title   string     `xml:"title"`
	Updated string     `xml:"updated"`
	Links   []atomLink `xml:"link"`
	Content atomText   `xml:"content"`
}

type atomText struct {
	Type string `xml:"type,attr"`
	Text string `xml:",chardata"`
}

// hasFeed reports whether something of a site has a date, without which a feed
// cannot be. A candidate is not announced.
func hasFeed(site *theme.Site) bool {
	for _, r := range site.Releases {
		if announced(r) || len(r.Errata) > 0 {
			return true
		}
	}
	return false
}

func announced(r *theme.Release) bool { return r.Status != theme.Candidate && r.Date != "" }

// atomFeed makes the feed of a site that has one.
func atomFeed(cfg content.Config, inputs []*theme.Input, tool Tool) ([]byte, error) {
	site := inputs[0].Site
	base := strings.TrimSuffix(cfg.Address, "/")
	address := func(path string) string {
		if base != "" {
			return base + "/" + path
		}
		return path // from where the feed lies (RFC 3986, section 5)
	}
	// What the ids are made of: the address of the source or of the site,
	// which no other manual has, else the title.
	seed := cfg.Repository
	for _, s := range []string{cfg.Address, cfg.Title} {
		if seed == "" {
			seed = s
		}
	}
	say := theme.FeedWords(site.Language)
	changes := map[*theme.Release]*theme.Changes{}
	for _, in := range inputs {
		if in.Changes != nil && announced(in.Release) {
			changes[in.Release] = in.Changes()
		}
	}
	f := atomDoc{
		Lang: site.Language, ID: nameID(seed), Title: say.Title(site.Title),
		Author: atomName{cfg.Publisher}, Generator: tool.String(), Rights: cfg.Licence.Text,
		Links: []atomLink{{"self", address(feedFile)}, {"alternate", address("index.html")}},
	}
	if f.Author.Name == "" {
		f.Author.Name = strings.Join(cfg.Authors, ", ")
	}
	if f.Author.Name == "" {
		f.Author.Name = cfg.Title
	}
	for _, r := range site.Releases {
		if announced(r) {
			f.Entries = append(f.Entries, atomEntry{
				ID: nameID(seed, r.Name), Title: say.Release(r.Name), Updated: midnight(r.Date),
				Links:   []atomLink{{"alternate", address(r.Dir + "/changes.html")}},
				Content: atomText{"html", say.ReleaseBody(changes[r])},
			})
		}
		twin := map[string]int{}
		for _, e := range r.Errata {
			// Not of its words, which may be put better later.
			key := strings.Join([]string{r.Name, e.Page, e.Step, e.Figure, e.Since}, "\x00")
			twin[key]++
			f.Entries = append(f.Entries, atomEntry{
				ID: nameID(seed, key, fmt.Sprint(twin[key])), Title: say.Erratum(r.Name), Updated: midnight(e.Since),
				Links:   []atomLink{{"alternate", address(r.Dir + "/errata.html")}},
				Content: atomText{"html", say.ErratumBody(e)},
			})
		}
	}
	slices.SortStableFunc(f.Entries, func(a, b atomEntry) int { return strings.Compare(b.Updated, a.Updated) })
	f.Updated = f.Entries[0].Updated
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	e.Indent("", " ")
	if err := e.Encode(f); err != nil {
		return nil, fmt.Errorf("%s: %w", feedFile, err)
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// midnight is a date as RFC 3339 writes the moment at which it begins.
func midnight(date string) string { return date + "T00:00:00Z" }

// nameID makes an id of names: a UUID of version 5 (RFC 9562, section 5.5) in
// the name space for addresses (there, section 6.6).
func nameID(names ...string) string {
	space := []byte{0x6b, 0xa7, 0xb8, 0x11, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8}
	sum := sha1.Sum(append(space, strings.Join(names, "\x00")...))
	u := sum[:16]
	u[6] = u[6]&0x0f | 0x50
	u[8] = u[8]&0x3f | 0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", u[:4], u[4:6], u[6:8], u[8:10], u[10:])
}
