package unit

import (
	"errors"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite testdata/slips.tsv from what Parse says")

// The slips that people make most, and what they are told. Each is refused, at
// the part that is wrong, with a hint; testdata/slips.tsv is read by people
// before it is kept.
func TestSlips(t *testing.T) {
	const name, head = "testdata/slips.tsv", "written\tat\tmessage\thint"
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(b), "\n"), "\n")
	if lines[0] != head {
		t.Fatalf("columns %q, want %q", lines[0], head)
	}
	if len(lines) < 100 {
		t.Errorf("%d slips: some are lost", len(lines)-1)
	}
	out := []string{head}
	for _, want := range lines[1:] {
		s, _, _ := strings.Cut(want, "\t")
		u, err := Parse(s)
		var e *ParseError
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q) = %v, %v; want a ParseError", s, u, err)
			continue
		}
		got := strings.Join([]string{s, s[e.Start:e.End], e.Msg, e.Hint}, "\t")
		out = append(out, got)
		if got != want && !*update {
			t.Errorf("%q\n got %q\nwant %q", s, got, want)
		}
		plain := strings.Contains(e.Msg, "not closed") || strings.Contains(e.Msg, "too early") // say all
		if e.Hint == "" && !plain || e.Msg != strings.TrimSuffix(e.Msg, ".") {
			t.Errorf("%q: no hint, or a full stop", s)
		}
		// What a hint offers can be written.
		if w, ok := strings.CutPrefix(e.Hint, "did you mean "); ok {
			w, _, _ = strings.Cut(w, "?")
			for _, w := range strings.Split(strings.ReplaceAll(w, " or ", ", "), ", ") {
				w = strings.TrimPrefix(w, "0.1 ")
				if _, err := Parse(w); err != nil {
					t.Errorf("%q: the hint %q is no unit: %v", s, w, err)
				}
			}
		}
	}
	if *update && !t.Failed() {
		if err := os.WriteFile(name, []byte(strings.Join(out, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
