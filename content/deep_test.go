package content

import (
	"strings"
	"testing"
	"time"
)

// Pages that Markdown parsers have been slow on, of 20 to 100 kB. The best of
// three tries counts, so that a busy machine fails no test.
func TestHostileMarkdown(t *testing.T) {
	for name, text := range map[string]string{
		"backticks": func() string {
			var b strings.Builder
			for i := range 440 {
				b.WriteString("e" + strings.Repeat("`", i))
			}
			return b.String()
		}(),
		"open brackets": strings.Repeat("[", 100_000),
		"links":         strings.Repeat("[a](", 8_000),
		"pictures":      strings.Repeat("![a](", 8_000),
		"emphasis":      strings.Repeat("*a_ ", 8_000),
		"strong":        strings.Repeat("**a __b ", 12_500),
		"quotes":        strings.Repeat("> ", 10_000) + "a",
		"lists":         strings.Repeat("- ", 10_000) + "a",
		"html":          strings.Repeat("<!--", 25_000),
		"tags":          strings.Repeat("<a ", 33_000),
		"figures":       strings.Repeat("{=", 20_000),
		"entities":      strings.Repeat("&#", 50_000),
		"a table":       "|" + strings.Repeat("a|", 25_000) + "\n|" + strings.Repeat("-|", 25_000) + "\n",
		"footnotes":     strings.Repeat("[^1]", 12_000) + "\n\n[^1]: a\n",
	} {
		best := time.Hour
		for range 3 {
			begun := time.Now()
			testManual(t, map[string]string{configName: "title = \"T\"\nrelease = \"1\"\n", "pages/1-t.md": "# T\n\n" + text + "\n"})
			if best = min(best, time.Since(begun)); best < 2*time.Second {
				break
			}
		}
		t.Logf("%s: %v", name, best)
		if best > 5*time.Second {
			t.Errorf("%s take %v", name, best)
		}
	}
}
