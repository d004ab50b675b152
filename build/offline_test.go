package build

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"workings/theme"
)

func TestUnlink(t *testing.T) {
	for _, c := range []struct{ page, want string }{
		{`<a href="frame.html">a</a>`, `<a href="frame.html">a</a>`},
		{`<a class="x" href="../1.0/frame.html#s">in <b>1.0</b></a>, <a href="../index.html">all</a>`, `<span class="x">in <b>1.0</b></span>, <a href="../index.html">all</a>`},
		{`<link rel="stylesheet" href="../assets/style.css">` + "\n" + `<link rel="latest-version" href="../1.0/a.html">` + "\n<p>", `<link rel="stylesheet" href="../assets/style.css">` + "\n<p>"},
		{`<a href="../2.0/a.html" title="t">own</a><a href="../2.00/a.html" title="t">not</a>`, `<a href="../2.0/a.html" title="t">own</a><span title="t">not</span>`},
	} {
		if got := string(bytes.Join(unlink([]byte(c.page), "2.0"), nil)); got != c.want {
			t.Errorf("%s\ngives %s\nwant  %s", c.page, got, c.want)
		}
	}
}

func TestWithoutOffer(t *testing.T) {
	for page, want := range map[string]string{
		"a\n<p class=\"offline\"><a href=\"offline.zip\">x</a></p>\nb": "a\nb",
		"a\n<p>b</p>\n": "a\n<p>b</p>\n",
	} {
		if got := string(withoutOffer([]byte(page))); got != want {
			t.Errorf("%s\ngives %s\nwant  %s", page, got, want)
		}
	}
}

// The copy of each release holds all of it and nothing of the others, and
// every link in it leads to a file in it.
func TestOfflineCopy(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	for _, dir := range []string{"2.0-rc1", "1.0"} {
		data, ok := site.File(dir + "/" + CopyFile)
		if !ok {
			t.Fatalf("release %s has no copy", dir)
		}
		zipped, err := openZip(data)
		if err != nil {
			t.Fatal(err)
		}
		top := "fenbank-bench-sinterer-" + dir
		whole := map[string]bool{}
		err = fs.WalkDir(zipped, ".", func(p string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				rel, in := strings.CutPrefix(p, top+"/")
				if !in {
					t.Errorf("%s lies outside %s", p, top)
				}
				whole[rel] = true
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range site.Paths() {
			switch own := slices.Contains(site.ofRelease(dir), p) || p == dir+"/"+ListFile; {
			case own && !whole[p]:
				t.Errorf("the copy of %s lacks %s", dir, p)
			case !own && p != "index.html" && whole[p]:
				t.Errorf("the copy of %s holds %s", dir, p)
			}
		}
		links := 0
		for p := range whole {
			if !strings.HasSuffix(p, ".html") {
				continue
			}
			page, err := fs.ReadFile(zipped, top+"/"+p)
			if err != nil {
				t.Fatal(err)
			}
			doc, err := html.Parse(bytes.NewReader(page))
			if err != nil {
				t.Fatal(err)
			}
			for n := range doc.Descendants() {
				for _, a := range n.Attr {
					if a.Key != "href" && a.Key != "src" || strings.Contains(a.Val, ":") || strings.HasPrefix(a.Val, "#") {
						continue
					}
					file, _, _ := strings.Cut(a.Val, "#")
					links++
					if !whole[resolve(p, file)] {
						t.Errorf("%s in the copy of %s leads to %s, which is not in it", p, dir, a.Val)
					}
				}
			}
		}
		if links < 100 {
			t.Errorf("only %d links were looked at", links)
		}
	}
}

// resolve is a reference from a page as a path of the site.
func resolve(page, ref string) string {
	dir := slashDir(page)
	for strings.HasPrefix(ref, "../") {
		ref, dir = ref[3:], slashDir(dir)
	}
	if dir == "." {
		return ref
	}
	return dir + "/" + ref
}

// The worker's edition changes with any file that it keeps, and only then.
func TestWorkerEdition(t *testing.T) {
	make := func(files map[string]string) (edition, list string) {
		site, err := NewSite(files)
		if err != nil {
			t.Fatal(err)
		}
		sum, kept, err := editionOf(site, "1.0")
		if err != nil {
			t.Fatal(err)
		}
		js, err := theme.Worker("1.0 "+sum[:shortSum], kept)
		if err != nil {
			t.Fatal(err)
		}
		m := regexp.MustCompile(`"(1\.0 [0-9a-f]{12})"`).FindSubmatch(js)
		if m == nil || bytes.Contains(js, []byte("{{")) {
			t.Fatalf("the worker names no edition: %s", js)
		}
		return string(m[1]), string(js)
	}
	files := map[string]string{"index.html": "x", "1.0/index.html": "a", "assets/style.css": "b", "2.0/index.html": "c"}
	first, js := make(files)
	for _, want := range []string{"index.html", "../assets/style.css"} {
		quoted, _ := json.Marshal(want)
		if !strings.Contains(js, string(quoted)) && !strings.Contains(js, want) {
			t.Errorf("the worker does not keep %s: %s", want, js)
		}
	}
	for path, same := range map[string]bool{"index.html": true, "2.0/index.html": true, "1.0/index.html": false, "assets/style.css": false} {
		changed := map[string]string{}
		for k, v := range files {
			changed[k] = v
		}
		changed[path] += "!"
		if now, _ := make(changed); (now == first) != same {
			t.Errorf("with %s changed the edition is %s, was %s", path, now, first)
		}
	}
}
