package build

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"golang.org/x/net/html"
)

// tokenized finds the places and links of a page with a tokenizer of the whole
// of HTML, to compare with.
func tokenized(name string, data []byte) *sitePage {
	page := &sitePage{ids: map[string]bool{}}
	seen := map[string]bool{}
	z := html.NewTokenizer(bytes.NewReader(data))
	for {
		switch z.Next() {
		case html.ErrorToken:
			return page
		case html.StartTagToken, html.SelfClosingTagToken:
			_, more := z.TagName()
			for more {
				var key, val []byte
				key, val, more = z.TagAttr()
				switch k := string(key); k {
				case "id":
					if page.ids[string(val)] {
						page.double = append(page.double, string(val))
					}
					page.ids[string(val)] = true
				case "href", "src", "xlink:href", "poster", "data":
					if l, ok := localLink(name, k, string(val)); ok && !seen[string(val)] {
						page.links = append(page.links, l)
					}
					seen[string(val)] = true
				}
			}
		}
	}
}

func samePage(a, b *sitePage) bool {
	return fmt.Sprint(a.ids) == fmt.Sprint(b.ids) && slices.Equal(a.double, b.double) && slices.Equal(a.links, b.links)
}

// Every page of the demonstration reads as a whole tokenizer of HTML reads it.
func TestReadPage(t *testing.T) {
	for _, dir := range []string{"fenbank", "aldmoor"} {
		src, closeDir, err := OpenDir("../testdata/" + dir)
		if err != nil {
			t.Fatal(err)
		}
		site, list := Build(src, Options{})
		closeDir()
		if site == nil {
			t.Fatal(list)
		}
		links := 0
		for _, p := range site.Paths() {
			if data, _ := site.File(p); bytes.HasPrefix(data, []byte("<!doctype html>")) {
				got, want := readPage(p, data), tokenized(p, data)
				if !samePage(got, want) {
					t.Errorf("%s: read as\n%v, not\n%v", p, got, want)
				}
				links += len(got.links)
			}
		}
		if links < 1000 {
			t.Errorf("%s has %d links", dir, links)
		}
	}
	for _, s := range []string{
		`<a href=a.html>x</a>`, `<A HREF='b.html' ID="q">`, `<img src = "a&amp;b.png" alt>`, `<!-- <a href="no.html"> --><p id=x>`,
		`a < b <a href="../up.html">`, `<a =x href="y">`, `<a href="` + "\xff" + `">`, `<`, `<a`,
		`<br/><a href="d/#e">`, `<a href="#a/b.c">`, `<a href="x..html"><a href=".#x"><a href="%zz"><a href="">`, `<p data-id="1" id="1"><p id=1>`,
	} {
		if got, want := readPage("r/p.html", []byte(s)), tokenized("r/p.html", []byte(s)); !samePage(got, want) {
			t.Errorf("%s reads as %v, not %v", s, got, want)
		}
	}
}

// What a link leads to does not depend on the short way that plain ones take.
func FuzzLocalLink(f *testing.F) {
	for _, s := range []string{"a.html", "a.html#f/b.c", "#x", "..", "./a", "a..b", ".a", "#", "a#b#c", "//x", "a:b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, target string) {
		if !plainLink(target) {
			return
		}
		for _, name := range []string{"r/p.html", "index.html"} {
			got, _ := localLink(name, "href", target)
			want, ok := anyLink(name, "href", target)
			if !ok || got != want {
				t.Errorf("%q on %s leads to %v, not %v", target, name, got, want)
			}
		}
	})
}
