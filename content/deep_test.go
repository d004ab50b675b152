package content

import (
	"os"
	"strings"
	"testing"
	"time"
)

// A shape gives a page of n bytes, more or less.
type shape struct {
	name string
	text func(n int) string
}

func repeated(name, piece string) shape {
	return shape{name, func(n int) string { return strings.Repeat(piece, n/len(piece)) }}
}

// lined is repeated for pieces of short lines, of which there is a bound.
func lined(name, piece string) shape {
	return shape{name, func(n int) string {
		k := n * (maxLines - 10) / maxPage / strings.Count(piece, "\n")
		return strings.Repeat(piece, min(k, n/len(piece)))
	}}
}

// nested repeats lines that begin with as many marks as are admitted.
func nested(name, mark, rest string) shape {
	return repeated(name, strings.Repeat(mark, maxNesting)+rest)
}

// full repeats pieces up to the bound of marks, and again.
func full(name, piece string, each int) shape {
	return repeated(name, strings.Repeat(piece, maxMarks/each)+"\n\n")
}

// Pages that Markdown parsers have been slow on.
var shapes = []shape{
	// In one paragraph, beyond the bounds.
	{"backticks", func(n int) string {
		var b strings.Builder
		for i := 0; b.Len() < n; i++ {
			b.WriteString("e" + strings.Repeat("`", i))
		}
		return b.String()
	}},
	repeated("open brackets", "["),
	repeated("links", "[a]("),
	repeated("pictures", "![a]("),
	repeated("emphasis", "*a_ "),
	repeated("strong", "**a __b "),
	repeated("quotes", "> "),
	repeated("quotes tight", ">"),
	repeated("lists", "- "),
	repeated("html", "<!--"),
	repeated("tags", "<a "),
	repeated("declarations", "a <?"),
	repeated("figures", "{="),
	repeated("entities", "&#"),
	repeated("footnotes", "[^1]"),
	repeated("footnotes in footnotes", "[^1]: "),
	repeated("backslashes", "\\"),
	repeated("struck", "~~a~"),
	// As much as a paragraph may hold.
	full("all of emphasis", "*a_ ", 2),
	full("all of emphasis, long", "*"+strings.Repeat("a", 60)+" ", 1),
	full("all of closers", "a*b_", 2),
	full("all of brackets", "[", 1),
	full("all of link ends", "[a](", 2),
	full("all of pictures", "![", 1),
	full("all of links", "[a](b)", 2),
	full("all of pictures in pictures", "![a", 1),
	full("all of backticks", "`"+strings.Repeat("a", 62), 1),
	full("all of figures", "{=", 1),
	full("all of tags", "<a ", 1),
	full("all of comments", "a <!--", 1),
	{"all of code", func(n int) string {
		var b, p strings.Builder
		for i := 1; p.Len() < maxParagraph-400; i++ {
			p.WriteString("e" + strings.Repeat("`", i))
		}
		for b.Len() < n {
			b.WriteString(p.String() + "\n\n")
		}
		return b.String()
	}},
	// As deep as blocks may lie.
	nested("all of quotes", "> ", "a\n"),
	nested("all of quotes, apart", "> ", "a\n\n"),
	nested("all of lists", "- ", "a\n"),
	nested("all of numbers", "1. ", "a\n"),
	nested("all of fences", "> ", "```\n"),
	nested("all of footnotes", "[^a]: ", "a\n"),
	{"empty lines in lists", func(n int) string { return strings.Repeat("- ", maxNesting) + "a" + strings.Repeat("\n", n/32) + "a" }},
	{"lines in lists", func(n int) string {
		return strings.Repeat("- ", maxNesting) + "a\n" + strings.Repeat("\n"+strings.Repeat("  ", maxNesting)+"a\n", n/(2*maxNesting+3))
	}},
	{"lazy lines", func(n int) string { return strings.Repeat("> ", maxNesting) + strings.Repeat("a\n", n/32) }},
	// Many of one kind.
	lined("headings", "# a\n"),
	lined("headings by underline", "a\n=\n"),
	{"a heading of many lines", func(n int) string { return strings.Repeat("a\n", n/32) + "=" }},
	lined("headings with ids", "# a {#b}\n"),
	lined("list items", "- a\n"),
	lined("fences", "```\n```\n"),
	lined("filled", "~~~a filled\nb\n~~~\n"),
	{"a filled block", func(n int) string { return "```a filled\n" + strings.Repeat("b\n", n/32) + "```\n" }},
	lined("uses", "```uses\n```\n"),
	lined("panels", "> **Warning:** a\n\n"),
	lined("bad links", "[a](#b)\n\n"),
	lined("bad pictures", "![](b)\n\n"),
	lined("definitions", "[a]: b\n"),
	{"all of definitions", func(n int) string {
		return strings.Repeat(strings.Repeat("[a]: b\n", maxDefined)+"\n", n*maxLines/maxPage/maxDefined)
	}},
	lined("open definitions", "[a\n"),
	lined("footnote definitions", "[^1]: a\n\n[^1]\n\n"),
	{"headings and links", func(n int) string { return strings.Repeat("# a\n", n/64) + strings.Repeat("[a](#b)\n\n", n/128) }},
	{"long addresses", func(n int) string {
		return "[a]: " + strings.Repeat("b", n/2) + "\n\n" + strings.Repeat("[a]\n\n", n/64)
	}},
	{"many definitions", func(n int) string {
		return strings.Repeat("[a]: b\n", n/300) + "\n" + strings.Repeat("[a] ", 100) + strings.Repeat("[a]\n\n", n/64)
	}},
	// Tables.
	{"a table", func(n int) string {
		return "|" + strings.Repeat("a|", n/4) + "\n|" + strings.Repeat("-|", n/4) + "\n"
	}},
	{"a wide table", func(n int) string {
		return "|" + strings.Repeat("a|", n/8) + "\n|" + strings.Repeat("-|", n/8) + "\n" + strings.Repeat("a\n", n/32)
	}},
	{"a long table", func(n int) string { return "|a|b|\n|-|-|\n" + strings.Repeat("|a|*b*|\n", n/32) }},
	lined("tables", "|a|\n|-|\n|a|\n\n"),
	{"nearly a table", func(n int) string { return "a\n" + strings.Repeat("-|\n", n/32) }},
	lined("setext or table", "a|b\n-|-\n"),
}

// pageTime is the shortest of a few times that a page takes to be read.
func pageTime(t *testing.T, text string) time.Duration {
	t.Helper()
	best := time.Hour
	for range 3 {
		begun := time.Now()
		readPageText(t, text)
		if best = min(best, time.Since(begun)); best < 300*time.Millisecond {
			break
		}
	}
	return best
}

// The largest page of each shape is read in good time on any machine. With
// WORKINGS_TIMES set, on a quiet one, growth is looked at too: four times the
// page takes no more than about four times as long; what grows with the square
// of the size would take sixteen.
func TestHostileMarkdown(t *testing.T) {
	measure := os.Getenv("WORKINGS_TIMES") != ""
	for _, s := range shapes {
		t.Run(s.name, func(t *testing.T) {
			const size = maxPage - 8<<10
			if !measure {
				begun := time.Now()
				readPageText(t, s.text(size))
				if d := time.Since(begun); d > 30*time.Second { // a fraction of a second, where nothing else runs
					t.Errorf("%d kB take %v", size>>10, d)
				}
				return
			}
			small, large := pageTime(t, s.text(size/4)), pageTime(t, s.text(size))
			t.Logf("%v, %v", small, large)
			if large > 10*small+200*time.Millisecond {
				t.Errorf("%d kB take %v, but %d kB %v", size>>12, small, size>>10, large)
			}
		})
	}
}

func readPageText(t *testing.T, text string) {
	t.Helper()
	testManual(t, map[string]string{configName: "title = \"T\"\nrelease = \"1\"\n", "pages/1-t.md": "# T\n\n" + text + "\n"})
}
