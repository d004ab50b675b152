package content

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"workings/calc/diag"
)

// Each bound of a page admits what lies on it and refuses one more, with the
// place of the first that is too many.
func TestPageBounds(t *testing.T) {
	row := func(n int) string { return strings.Repeat("a|", n) }
	rule := func(n int) string { return strings.Repeat("-|", n) }
	const head = "# T\n\n"
	for _, c := range []struct {
		name      string
		text      func(n int) string
		most      int
		code      string
		line, col int // of the report for one more
	}{
		{"bytes", func(n int) string {
			return strings.Repeat(strings.Repeat("a b c ", 10)+"\n", n/61) + strings.Repeat("a", n%61)
		}, maxPage - len(head) - 1, "too-large", 1, 1},
		{"lines", func(n int) string { return strings.Repeat("a\n", n-3) + "a" }, maxLines, "too-large", maxLines + 1, 1},
		{"quotes", func(n int) string { return strings.Repeat(">", n) + " a" }, maxNesting, "too-deep", 3, maxNesting + 1},
		{"lists", func(n int) string { return strings.Repeat("- ", n) + "a" }, maxNesting, "too-deep", 3, 2*maxNesting + 1},
		{"numbers", func(n int) string { return strings.Repeat("1. ", n) + "a" }, maxNesting, "too-deep", 3, 3*maxNesting + 1},
		{"footnotes in footnotes", func(n int) string { return strings.Repeat("> ", n-1) + "[^a]: a" }, maxNesting, "too-deep", 3, 2*maxNesting + 1},
		{"emphasis", func(n int) string { return strings.Repeat("*a ", n) }, maxMarks, "too-many", 3, 3*maxMarks + 1},
		{"brackets", func(n int) string { return strings.Repeat("[", n) }, maxMarks, "too-many", 3, maxMarks + 1},
		{"in a heading", func(n int) string { return "## " + strings.Repeat("_a ", n) }, maxMarks, "too-many", 3, 3*maxMarks + 4},
		{"in a cell", func(n int) string { return "|a|\n|-|\n|" + strings.Repeat("*a ", n) + "|" }, maxMarks, "too-many", 5, 3*maxMarks + 2},
		{"a paragraph", func(n int) string { return strings.Repeat("a", n-2) + "*b" }, maxParagraph, "too-large", 3, maxParagraph},
		{"definitions", func(n int) string { return strings.Repeat("[a]: http://b.example\n", n) }, maxDefined, "too-many", 3, 1},
		{"cells", func(n int) string { return row(100) + "\n" + rule(100) + "\n" + strings.Repeat("a\n", n-3) + "a" }, maxCells/101 + 1, "too-many", 4, 1},
		{"footnotes", func(n int) string {
			var b strings.Builder
			for i := range n {
				fmt.Fprintf(&b, "[^%d]: a\n", i)
			}
			return b.String() + "\n[^1]"
		}, maxFootnotes, "too-many", maxFootnotes + 3, 1},
		{"addresses", func(n int) string {
			return "[a]: http://" + strings.Repeat("b", n/8-7) + "\n\n" + strings.Repeat("[a]\n\n", 8)
		}, maxReferred, "too-many", 19, 1},
	} {
		load := func(n int) diag.List {
			_, list := testManual(t, map[string]string{configName: "title = \"T\"\nrelease = \"1\"\n", "pages/1-t.md": head + c.text(n) + "\n"})
			return list
		}
		if list := load(c.most); len(list) > 0 {
			t.Errorf("%s: %d are refused: %.500s", c.name, c.most, list.Error())
		}
		more := c.most + 1
		if c.name == "addresses" {
			more += 7 // one byte in each of eight
		}
		list := load(more)
		if len(list) != 1 || list[0].Code != c.code || list[0].Warn || list[0].Hint == "" {
			t.Errorf("%s: one more gives %d reports, want one, %s: %.500s", c.name, len(list), c.code, list.Error())
			continue
		}
		line, col := list[0].Span.File.Position(list[0].Span.Start)
		if line != c.line || col != c.col {
			t.Errorf("%s: reported at %d:%d, want %d:%d", c.name, line, col, c.line, c.col)
		}
	}
}

// A page that is wrong everywhere is reported as far as somebody reads.
func TestFewReports(t *testing.T) {
	_, list := testManual(t, map[string]string{configName: "title = \"T\"\nrelease = \"1\"\n",
		"pages/1-t.md": "# T\n\n" + strings.Repeat("{=\n\n", 500)})
	if len(list) != maxReports+1 || list[len(list)-1].Code != "reports" || !strings.Contains(list.Error(), "300 more") {
		t.Errorf("%d reports, at last %v", len(list), list[len(list)-1])
	}
}

// Files other than pages that are made to be slow to read: each is refused or
// read in short time.
func TestHostileFiles(t *testing.T) {
	const config = "title = \"T\"\nrelease = \"1\"\n"
	n, k := maxText-1000, maxConfig-1000
	for name, c := range map[string]struct {
		files map[string]string
		want  string // in what is reported; "": nothing need be
	}{
		"nested TOML":         {map[string]string{configName: config + "pages = " + strings.Repeat("[", k)}, "toml"},
		"nested TOML, closed": {map[string]string{configName: config + "pages = " + strings.Repeat("[", 5000) + strings.Repeat("]", 5000)}, "toml"},
		"nested TOML tables":  {map[string]string{configName: config + "a = " + strings.Repeat("{a=", k/3)}, "toml"},
		"dotted TOML":         {map[string]string{configName: config + strings.Repeat("a.", 100_000) + "a = 1\n"}, ""},
		"TOML tables":         {map[string]string{configName: config + strings.Repeat("[[releases]]\n", 20_000)}, "release"},
		"TOML keys":           {map[string]string{configName: config + many("a%d = 1\n", maxKeys-2)}, "unknown-key"},
		"too many TOML keys":  {map[string]string{configName: config + many("a%d = 1\n", 20_000)}, "manual.toml:5001:1"},
		"a TOML line":         {map[string]string{configName: config + "summary = \"" + strings.Repeat("a", k) + "\"\n"}, ""},
		"a page block":        {map[string]string{configName: config, "pages/1-t.md": "# T\n\n```page\nsummary = " + strings.Repeat("[", 400_000) + "\n```\n"}, "toml"},
		"a sheet line":        {map[string]string{configName: config, sheetName: "a = " + strings.Repeat("1+", n/2) + "1\n"}, sheetName},
		"a sheet bracket":     {map[string]string{configName: config, sheetName: "a = " + strings.Repeat("(", n) + "\n"}, sheetName},
		"a sheet name":        {map[string]string{configName: config, sheetName: strings.Repeat("a", n) + " = 1\n"}, ""},
		"a sheet comment":     {map[string]string{configName: config, sheetName: "a = 1 # " + strings.Repeat("a", n) + "\n"}, ""},
		"a sheet text":        {map[string]string{configName: config, sheetName: "a = \"" + strings.Repeat("a", n) + "\"\n"}, ""},
		"sheet errors":        {map[string]string{configName: config, sheetName: strings.Repeat("=\n", n/2)}, sheetName},
		"a parts line":        {map[string]string{configName: config, partsName: "id,name\n" + strings.Repeat("a,", n/2) + "\n"}, partsName},
		"a parts quote":       {map[string]string{configName: config, partsName: "id,name\na,\"" + strings.Repeat("a\n", n/2)}, partsName},
		"parts columns":       {map[string]string{configName: config, partsName: strings.Repeat("a,", n/2) + "\n"}, partsName},
	} {
		t.Run(name, func(t *testing.T) {
			if _, ok := c.files["pages/1-t.md"]; !ok {
				c.files["pages/1-t.md"] = "# T\n"
			}
			best := time.Hour
			var list diag.List
			for range 3 {
				begun := time.Now()
				_, list = testManual(t, c.files)
				if best = min(best, time.Since(begun)); best < time.Second {
					break
				}
			}
			begun := time.Now()
			report := list.Error()
			for _, d := range list {
				report += d.Report()
			}
			t.Logf("%v, and %v for %d reports", best, time.Since(begun), len(list))
			if best > 3*time.Second {
				t.Errorf("it takes %v", best)
			}
			if !strings.Contains(report, c.want) {
				t.Errorf("the report lacks %q: %.300s", c.want, report)
			}
			if len(report) > 10<<20 {
				t.Errorf("the report has %d bytes", len(report))
			}
		})
	}
}

func many(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// Files of the largest size are read, one byte more is not.
func TestFileBounds(t *testing.T) {
	const config, page = "title = \"T\"\nrelease = \"1\"\n", "# T\n"
	pad := func(start string, n int) string { return start + strings.Repeat("#", n-len(start)) }
	for name, most := range map[string]int{configName: maxConfig, sheetName: maxText, "tables/a.csv": maxTable} {
		for _, n := range []int{most, most + 1} {
			files := map[string]string{configName: config, sheetName: "", "pages/1-t.md": page}
			text := pad(config, n)
			switch name {
			case sheetName:
				text = pad("a = 1\n", n)
			case "tables/a.csv":
				text = pad("id,size (mm)\na,1\n", n)
			}
			files[name] = text
			m, list := testManual(t, files)
			var got string
			if name == "tables/a.csv" {
				if _, err := m.Table(name); err != nil {
					got = err.Error()
				}
			} else if len(list) > 0 {
				got = list.Error()
			}
			if (got != "") != (n > most) || got != "" && !strings.Contains(got, "more than the") {
				t.Errorf("%s of %d bytes: %.200q", name, n, got)
			}
		}
	}
}
