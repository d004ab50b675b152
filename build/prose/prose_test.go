package prose

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"workings/content"
)

// parts are on the list of the corpus' manual: their names are no numbers.
const parts = "id,name\nlamp,Quartz lamp 200 W\nkey,Hex key 5 mm\nbin,Overflow bin 2.6 L\n"

// A line of the corpus with the numbers it holds that should be figures.
type line struct {
	text string
	want [][2]int
}

// corpus reads a file of testdata: a line each, ⟦…⟧ around what should be found.
func corpus(t *testing.T, name string) []line {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var out []line
	for _, s := range strings.Split(string(data), "\n") {
		if s == "" || s[0] == '#' {
			continue
		}
		l := line{}
		for {
			before, rest, ok := strings.Cut(s, "⟦")
			l.text += before
			if !ok {
				break
			}
			inner, after, ok := strings.Cut(rest, "⟧")
			if !ok {
				t.Fatalf("%s: an open mark in %q", name, s)
			}
			l.want = append(l.want, [2]int{len(l.text), len(l.text) + len(inner)})
			l.text += inner
			s = after
		}
		out = append(out, l)
	}
	return out
}

// findIn finds the numbers in one line as a page of a manual: places in the line.
func findIn(t *testing.T, text string) [][2]int {
	t.Helper()
	const head = "# Page\n\n"
	before := head
	if strings.HasPrefix(text, "|") {
		before += strings.Repeat("| h ", strings.Count(text, "|")-1) + "|\n" + strings.Repeat("|---", strings.Count(text, "|")-1) + "|\n"
	}
	m, list := content.Load(fstest.MapFS{
		"manual.toml":   {Data: []byte("title = \"T\"\nrelease = \"1\"\n")},
		"design.calc":   {Data: []byte("bed_x = 220 mm\nlayer = 0.1 mm\n")},
		"parts.csv":     {Data: []byte(parts)},
		"pages/10-p.md": {Data: []byte(before + text + "\n")},
	}, content.Options{Workers: 1})
	if list.HasErrors() {
		t.Fatalf("%q: %v", text, list)
	}
	var names []string
	for _, p := range m.Parts {
		names = append(names, p.Name)
	}
	var found [][2]int
	for _, p := range Pieces(m.Pages[0]) {
		for _, h := range Find(p.Text, names) {
			a, b := p.Place(h.Start, h.End)
			if got := string(m.Pages[0].File.Text[a:b]); got != p.Text[h.Start:h.End] {
				t.Errorf("%q: %q is placed at %q", text, p.Text[h.Start:h.End], got)
			}
			found = append(found, [2]int{a - len(before), b - len(before)})
		}
	}
	return found
}

// score counts what is found, missed and found wrongly.
func score(t *testing.T, lines []line, say bool) (right, wrong, missed int) {
	t.Helper()
	for _, l := range lines {
		found := findIn(t, l.text)
		var report []string
		for _, w := range l.want {
			hit := false
			for _, f := range found {
				hit = hit || f == w
			}
			if hit {
				right++
			} else {
				missed++
				report = append(report, "missed "+l.text[w[0]:w[1]])
			}
		}
		for _, f := range found {
			known := false
			for _, w := range l.want {
				known = known || f == w
			}
			if !known {
				wrong++
				report = append(report, "wrongly "+l.text[f[0]:f[1]])
			}
		}
		if say && report != nil {
			t.Errorf("%s\n\t%s", l.text, strings.Join(report, "; "))
		}
	}
	return right, wrong, missed
}

// The lines that the finder was made with are read without a mistake.
func TestTuning(t *testing.T) {
	lines := corpus(t, "tuning.txt")
	right, wrong, missed := score(t, lines, true)
	t.Log(summary("lines used", lines, right, wrong, missed))
}

// Of the lines that were held out, more than 95 % of what is found should be
// (precision), and more than 95 % of what should be is found (recall). A place
// counts only if it begins and ends where it should. The failure does not say
// which lines, so that they stay held out.
func TestHeldOut(t *testing.T) {
	lines := corpus(t, "heldout.txt")
	if len(lines) < 40 {
		t.Fatalf("only %d lines", len(lines))
	}
	right, wrong, missed := score(t, lines, os.Getenv("SHOW_HELD_OUT") != "")
	t.Log(summary("lines held out", lines, right, wrong, missed))
	if p, r := ratio(right, wrong), ratio(right, missed); p <= 0.95 || r <= 0.95 {
		t.Errorf("precision %.3f and recall %.3f, want more than 0.95", p, r)
	}
}

func ratio(right, other int) float64 { return float64(right) / float64(max(right+other, 1)) }

func summary(what string, lines []line, right, wrong, missed int) string {
	return fmt.Sprintf("%s: %d, numbers to find: %d, precision %.3f, recall %.3f", what, len(lines), right+missed, ratio(right, wrong), ratio(right, missed))
}
