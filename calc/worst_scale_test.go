package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"workings/calc"
)

// manyPlates is a stack of n plates of 1 mm ± 0.1 mm with a limit on its
// height: added up in one line, or plate by plate.
func manyPlates(n int, running bool, limits string) string {
	var b strings.Builder
	names := make([]string, n)
	for i := range names {
		names[i] = fmt.Sprintf("p%d", i+1)
		fmt.Fprintf(&b, "%s = 1 mm ± 0.1 mm\n", names[i])
	}
	switch {
	case running:
		b.WriteString("s1 = p1\n")
		for i := 2; i <= n; i++ {
			fmt.Fprintf(&b, "s%d = s%d + p%d\n", i, i-1, i)
		}
		fmt.Fprintf(&b, "s = s%d\n", n)
	default:
		b.WriteString("s = sum([" + strings.Join(names, ", ") + "])\n")
	}
	return b.String() + limits
}

// Very many inputs end: with the right verdict, or with a refusal that names
// the line. n plates reach n * 1.1 mm.
func TestWorstManyInputs(t *testing.T) {
	for _, c := range []struct {
		n       int
		running bool
	}{{200, false}, {200, true}, {8000, false}, {8000, true}} {
		name := fmt.Sprintf("%d at once", c.n)
		if c.running {
			name = fmt.Sprintf("%d line by line", c.n)
		}
		t.Run(name, func(t *testing.T) {
			limits := fmt.Sprintf("limit broken: s < %.6f mm\nlimit holds: s < %.6f mm\nlimit either: s < %.6f mm or s > %.6f mm\n",
				float64(c.n)*1.0999, float64(c.n)*1.1001, float64(c.n)*0.95, float64(c.n)*1.05)
			r, list := sheet(t, manyPlates(c.n, c.running, limits), nil)
			refused := false
			for _, e := range list {
				if e.Code == "too-much" {
					refused = true
					if e.Span.File == nil || e.Span.End <= e.Span.Start {
						t.Errorf("the refusal names no line: %s", e.Report())
					}
				} else if !e.Warn {
					t.Error(e.Report())
				}
			}
			for _, l := range r.Limits() {
				t.Logf("refused %v: limit %s is %s", refused, l.Name, l.Verdict)
				switch {
				case l.Verdict == calc.Unknown && refused && c.n > 1000: // and nothing is promised
				case l.Name == "holds" && !l.Holds(), l.Name != "holds" && l.Verdict != calc.Broken:
					t.Errorf("limit %s is %s", l.Name, l.Verdict)
				case l.Name == "holds" && l.Verdict != calc.Proved && c.n <= 1000:
					t.Errorf("limit %s is %s, want proved", l.Name, l.Verdict)
				}
			}
		})
	}
}

func BenchmarkWorst(b *testing.B) {
	run := func(name, text string) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sheet(b, text, nil)
			}
		})
	}
	for _, s := range worstSheets {
		run(s.name, worstText(s.text, s.limits))
	}
	limit := "limit high: s < 8.801 m\n"
	run("8000 in one line", manyPlates(8000, false, limit))
	run("8000 line by line", manyPlates(8000, true, limit))
}
