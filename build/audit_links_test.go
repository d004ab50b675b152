package build

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// tokenized finds the places and links of a page with a tokenizer of the whole
// of HTML, to compare with. What stands there for readers without scripts is
// read as they read it.
func tokenized(data []byte) (ids, links []string) {
	data = bytes.ReplaceAll(data, []byte("noscript"), []byte("div"))
	z := html.NewTokenizer(bytes.NewReader(data))
	for {
		switch z.Next() {
		case html.ErrorToken:
			slices.Sort(ids)
			return ids, links
		case html.StartTagToken, html.SelfClosingTagToken:
			_, more := z.TagName()
			for more {
				var key, val []byte
				key, val, more = z.TagAttr()
				switch k := string(key); k {
				case "id":
					ids = append(ids, string(val))
				case "href", "src", "xlink:href", "poster", "data":
					links = append(links, k+"="+string(val))
				}
			}
		}
	}
}

// scanned is what readPage finds, in the form of tokenized.
func scanned(data []byte) (ids, links []string) {
	p := readPage(bytes.Clone(data))
	for _, list := range [][][]byte{p.ids, p.double} {
		for _, id := range list {
			ids = append(ids, unescape(id))
		}
	}
	slices.Sort(ids)
	for _, l := range p.links {
		links = append(links, l.attr+"="+unescape(l.target))
	}
	return ids, links
}

// firstDifference is what of a list comes where another list differs.
func firstDifference(list, other []string) string {
	for i, s := range list {
		if i >= len(other) || other[i] != s {
			return s
		}
	}
	return "nothing"
}

// Every page of the demonstration reads as a whole tokenizer of HTML reads it.
func TestReadPage(t *testing.T) {
	compare := func(name string, data []byte) (links int) {
		ids, refs := scanned(data)
		wantIDs, wantRefs := tokenized(data)
		if !slices.Equal(ids, wantIDs) || !slices.Equal(refs, wantRefs) {
			t.Errorf("%s: read as %s, not %s", name, firstDifference(ids, wantIDs)+", "+firstDifference(refs, wantRefs), firstDifference(wantIDs, ids)+", "+firstDifference(wantRefs, refs))
		}
		return len(refs)
	}
	src, closeDir, err := OpenDir("../testdata/aldmoor")
	if err != nil {
		t.Fatal(err)
	}
	defer closeDir()
	site, list := Build(src, Options{})
	if site == nil {
		t.Fatal(list)
	}
	links := 0
	for _, p := range site.Paths() {
		if data, _ := site.File(p); strings.HasSuffix(p, ".html") {
			links += compare(p, data)
		}
	}
	if links < 1000 {
		t.Errorf("there are %d links", links)
	}
	for _, s := range []string{
		`<a href=a.html>x</a>`, `<A HREF='b.html' ID="q">`, `<img src = "a&amp;b.png" alt>`, `<!-- <a href="no.html"> --><p id=x>`,
		`a < b <a href="../up.html">`, `<a =x href="y">`, "<a href=\"\xff\">", `<`, `<a`,
		`<br/><a href="d/#e">`, `<a href="#a/b.c">`, `<a href="x..html"><a href=".#x"><a href="%zz"><a href="">`, `<p data-id="1" id="1"><p id=1>`,
		`<p id="a&amp;b"><p id='a&b'><p id="&quot;">`,
	} {
		compare(s, []byte(s))
	}
}

// What is wrong with links is found on the page that it stands on.
func TestLinkFaults(t *testing.T) {
	page := func(s string) string { return "<!doctype html>" + s }
	site, err := NewSite(map[string]string{
		"r/a.html": page(`<p id="x&amp;y" id2="no"><p id="é"><a href="#x&amp;y"><a href="#x"><a href="b.html"><a href="b.html#z"><a href="c.html"><a href="../index.html#top">` +
			`<a href="%C3%A9.png"><a href="#%c3%a9"><a href="//else.example/x"><a href="d/"><img src="é.png"><a href="b.html?q#here">`),
		"r/b.html":       page(`<p id="here">`),
		"r/d/index.html": page(""), "r/é.png": "", "index.html": page(`<a href="r/">`),
	})
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]*sitePage{}
	for _, p := range site.Paths() {
		if data, _ := site.File(p); strings.HasSuffix(p, ".html") {
			pages[p] = readPage(data)
		}
	}
	var got []string
	for _, f := range faultsOf(site, "r/a.html", pages) {
		got = append(got, f.attr+" "+f.target+": "+f.why)
	}
	want := []string{
		"href #x: there is no place #x in r/a.html",
		"href b.html#z: there is no place #z in r/b.html",
		"href c.html: there is no r/c.html",
	}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
	if got := faultsOf(site, "index.html", pages); len(got) != 1 || got[0].why != "there is no r/index.html" {
		t.Errorf("found %v", got)
	}
}

// What a link leads to does not depend on the short way that plain ones take.
func FuzzPlainLink(f *testing.F) {
	for _, s := range []string{"a.html", "a.html#f/b.c", "#x", "..", "./a", "a..b", ".a", "#", "a#b#c", "//x", "a:b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, target string) {
		if !plainLink([]byte(target)) {
			return
		}
		file, anchor, _ := strings.Cut(target, "#")
		l, ok := localLink("r/p.html", "href", target)
		if file == "" {
			file = "p.html"
		}
		if want := (siteLink{"href", target, "r/" + file, anchor}); !ok || l != want {
			t.Errorf("%q leads to %v, not %v", target, l, want)
		}
	})
}
