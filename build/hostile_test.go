package build

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// Text made to keep a publisher busy for minutes: what is looked for ahead of
// each place in vain, sums of more uncertain inputs than any machine has, and
// thousands of mistakes.
func TestHostileManuals(t *testing.T) {
	times := strings.Repeat
	var inputs, sums, wrong strings.Builder
	for i := range 15_000 {
		fmt.Fprintf(&wrong, "x%d = nothing%d\n", i, i)
	}
	for i := range 3000 {
		name := fmt.Sprintf("p%d", i)
		inputs.WriteString(name + " = 1 mm ± 0.1 mm\n")
		if i > 0 {
			sums.WriteString(" + ")
		}
		sums.WriteString(name)
	}
	for name, c := range map[string]struct {
		page, sheet string
		errors      bool
	}{
		"numbers":           {page: times("1 ", 200_000) + "mm"},
		"grouped numbers":   {page: times("1,000", 90_000) + " mm"},
		"numbers and units": {page: times("16 mm and ", 45_000)},
		"open quotes":       {page: times(`"`, 100_000) + times(" „", 40_000) + " 5 mm"},
		"code on one line":  {page: "```yaml\n" + times(`a: "b: `, 50_000) + "\n```"},
		"code never closed": {page: times("```protobuf\n"+times("/*\n", 2700)+"```\n\n", 3) + "```perl\n" + times("m{\n", 10_000) + "```"},
		"a long sum":        {sheet: inputs.String() + "s = " + sums.String() + "\n"},
		"wrong names":       {sheet: wrong.String(), errors: true},
		"a long number":     {sheet: "a = 1" + times("0", 200_000) + " mm\n", errors: true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			begun := time.Now()
			site, list := Build(Source{FS: fstest.MapFS{
				"manual.toml":   {Data: []byte("title = \"T\"\nrelease = \"1.0\"\n\n[licence]\ntext = \"CC-BY-4.0\"\n")},
				"design.calc":   {Data: []byte(c.sheet)},
				"pages/01-p.md": {Data: []byte("# P\n\n" + c.page + "\n")},
			}}, Options{})
			if list.HasErrors() != c.errors || (site == nil) != c.errors {
				t.Errorf("errors: %v, want %v", list.HasErrors(), c.errors)
			}
			for _, d := range list {
				if len(d.Msg) > 1000 {
					t.Fatalf("a message has %d bytes", len(d.Msg))
				}
			}
			if d := time.Since(begun); d > time.Minute { // a second or three, where nothing else runs
				t.Errorf("it takes %v", d)
			}
		})
	}
}
