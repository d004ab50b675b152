package browsertest

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/chromedp/cdproto/emulation"
)

// Opened from a disk, no page of the demonstration writes a line into the
// console: no error, no warning, no message. The passages to the current
// release are left out: they hold no script and go on at once.
func TestQuietFromDisk(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	loud := filepath.Join(t.TempDir(), "loud.html")
	text := `<!doctype html><title>a</title><script>console.log("said in passing"); throw new Error("thrown")</script>`
	if err := os.WriteFile(loud, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	inEach(t, func(t *testing.T, p *tab) {
		for _, file := range pages(t, dir, "0.9", "1.0", "2.0-rc1") {
			p.goTo("file://" + file)
			if n := len(p.complaints()); n > 0 {
				t.Fatalf("%s: %q", strings.TrimPrefix(file, dir), p.complaints())
			}
		}
		p.quiet()
		// What a page does say is heard.
		p.goTo("file://" + loud)
		p.until("document.readyState === 'complete'")
		heard := strings.Join(p.complaints(), "\n")
		for _, want := range []string{"said in passing", "thrown"} {
			if !strings.Contains(heard, want) {
				t.Errorf("%q is not heard: %q", want, heard)
			}
		}
	})
}

// Nothing runs out of its sheet sideways, on a phone, a tablet and a laptop.
func TestWithinTheSheet(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	c := startChromium(t).(*chromium)
	p := &tab{t: t, engine: c}
	light := []*emulation.MediaFeature{scheme("light")}
	for _, file := range pages(t, dir, "2.0-rc1") {
		p.goTo("file://" + file)
		for _, l := range []look{{width: 390, height: 844}, {width: 1024, height: 768}, {width: 1440, height: 900}} {
			l.features = light
			if err := c.take(l); err != nil {
				t.Fatal(err)
			}
			if over := value[int](p, "document.documentElement.scrollWidth - document.documentElement.clientWidth"); over > 0 {
				t.Errorf("%s is %d pixels wider than %d", strings.TrimPrefix(file, dir), over, l.width)
			}
		}
	}
}

// onPaper prints the page and gives the text of each sheet.
func onPaper(p *tab) []string {
	p.t.Helper()
	pdftotext := program(p.t, "pdftotext")
	data, err := p.pdf()
	if err != nil {
		p.t.Fatal(err)
	}
	file := filepath.Join(p.t.TempDir(), "a.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		p.t.Fatal(err)
	}
	text, err := exec.Command(pdftotext, "-layout", file, "-").Output()
	if err != nil {
		p.t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// letters leaves those of a text that every browser writes into a PDF so that
// they are found again: no digits of a column's width, no ligatures.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) || strings.ContainsRune("filt\ufb01\ufb02", r) {
			return -1
		}
		return r
	}, s)
}

func oneSpaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// What is folded on the screen stands open on paper, where nobody can open it;
// no heading, head of a table or signal word is the last line of a sheet, and a
// message stands on the sheet of the work it warns of.
func TestFoldedAndKeptOnPaper(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	foot := regexp.MustCompile(`^\d+ / \d+$|^Fenbank bench sinterer · Release `)
	inEach(t, func(t *testing.T, p *tab) {
		for _, name := range []string{"recoater", "heaters", "checks", "parts", "limits"} {
			p.goTo("file://" + dir + rc + name + ".html")
			folded := value[[]string](p, `Array.from(document.querySelectorAll("main details:not([open], .numbers)"), (d) => d.textContent.trim().slice(d.querySelector("summary").textContent.trim().length))`)
			heads := value[[]string](p, `Array.from(document.querySelectorAll("main :is(h1, h2, h3, caption, thead tr, .panel > .word, .bysheet > summary)"), (h) => Array.from(h.querySelectorAll("th").length ? h.querySelectorAll("th") : [h], (c) => c.textContent).join(" "))`)
			for i, h := range heads {
				heads[i] = oneSpaced(h)
			}
			sheets := onPaper(p)
			all := letters(strings.Join(sheets, ""))
			for _, f := range folded {
				if start := letters(f); !strings.Contains(all, start[:min(8, len(start))]) {
					t.Errorf("%s: %.40q is not on paper", name, f)
				}
			}
			if len(folded) < 5 && (name == "parts" || name == "limits") {
				t.Errorf("%s: only %d folded parts", name, len(folded))
			}
			// Firefox has no way to keep boxes together that follow one another.
			if strings.HasSuffix(t.Name(), "/chromium") {
				for _, w := range value[[][]string](p, `Array.from(document.querySelectorAll("main .step:has(> .panel):has(> ol)"), (s) => [s.querySelector(".panel > div").textContent, s.querySelector("ol > li").textContent])`) {
					message, work := letters(w[0]), letters(w[1])
					message, work = message[:min(20, len(message))], work[:min(20, len(work))]
					if !slices.ContainsFunc(sheets, func(s string) bool {
						s = letters(s)
						return strings.Contains(s, message) && strings.Contains(s, work)
					}) {
						t.Errorf("%s: %.40q is not on the sheet of its work, %.40q", name, oneSpaced(w[0]), w[1])
					}
				}
			}
			for i, s := range sheets {
				lines := slices.DeleteFunc(strings.Split(s, "\n"), func(l string) bool {
					l = oneSpaced(l)
					return l == "" || foot.MatchString(l)
				})
				if len(lines) == 0 {
					t.Errorf("%s: sheet %d of %d is empty", name, i+1, len(sheets))
					continue
				}
				if last := oneSpaced(lines[len(lines)-1]); slices.Contains(heads, last) {
					t.Errorf("%s: sheet %d of %d ends with %q", name, i+1, len(sheets), last)
				}
			}
		}
	})
}
