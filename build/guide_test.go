package build

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
)

const guideDir = "../cmd/workings/guide"

// The guide is a manual like any other: it publishes, and the audit finds nothing.
func TestGuide(t *testing.T) {
	src, closeDir, err := OpenDir(guideDir)
	if err != nil {
		t.Fatal(err)
	}
	defer closeDir()
	site, list := Build(src, Options{Tool: Tool{Name: "workings", Version: "test"}, Thorough: true})
	for _, d := range list {
		t.Error(d)
	}
	if site == nil {
		t.Fatal("no site")
	}
	// A figure in the specification of a part is filled in wherever the part is named.
	raw := regexp.MustCompile(`<span class="spec">[^<]*\{=`)
	named := 0
	for _, path := range site.Paths() {
		data, _ := site.File(path)
		named += strings.Count(string(data), `<span class="spec">`)
		if m := raw.Find(data); m != nil {
			t.Errorf("%s: %s", path, m)
		}
	}
	if named < 10 {
		t.Errorf("only %d specifications found", named)
	}
}

// What the guide shows as refused is refused, in the words it shows: a block
// `text refused` holds lines of a sheet, an empty line, and the report.
func TestGuideRefusals(t *testing.T) {
	fence := regexp.MustCompile("(?s)```text refused\n(.*?)\n```\n")
	pages, err := fs.Glob(os.DirFS(guideDir), "pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, page := range pages {
		data, err := os.ReadFile(guideDir + "/" + page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range fence.FindAllStringSubmatch(string(data), -1) {
			text, want, ok := strings.Cut(m[1], "\n\ndesign.calc:")
			if !ok {
				t.Errorf("%s: a refused block without a report:\n%s", page, m[1])
				continue
			}
			want = "design.calc:" + want
			sh, list := syntax.Parse(diag.NewFile("design.calc", []byte(text+"\n")), nil)
			p, errs := calc.Compile(calc.Input{
				Blocks: []calc.Block{{Sheet: sh}},
				Table:  func(string) (*diag.File, error) { return nil, errors.New("no such file") },
			})
			list = append(list, errs...)
			_, errs = p.Run()
			list = append(list, errs...)
			if got := strings.TrimSpace(list.Sorted().Error()); got != want {
				t.Errorf("%s shows\n%s\nthe program says\n%s", page, want, got)
			}
			tried++
		}
	}
	if tried < 7 {
		t.Errorf("only %d refused blocks found", tried)
	}
}

// The reference names every function of the language.
func TestGuideFunctions(t *testing.T) {
	data, err := os.ReadFile(guideDir + "/pages/90-language.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range calc.Functions() {
		if !strings.Contains(string(data), "`"+f.Name+"(") {
			t.Errorf("the language reference does not name %s", f.Name)
		}
	}
}

// What the guide shows as source stands on the same page as it is: a block
// `text source` holds Markdown that comes again outside of it.
func TestGuideSources(t *testing.T) {
	shown := regexp.MustCompile("(?ms)^(`{3,})text source\n(.*?\n)(`{3,})$")
	part := regexp.MustCompile("(?ms)^```[a-z].*?^```$")
	pages, err := fs.Glob(os.DirFS(guideDir), "pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, page := range pages {
		data, err := os.ReadFile(guideDir + "/" + page)
		if err != nil {
			t.Fatal(err)
		}
		rest := shown.ReplaceAllString(string(data), "")
		for _, m := range shown.FindAllStringSubmatch(string(data), -1) {
			found++
			parts := part.FindAllString(m[2], -1)
			if parts == nil { // lines of a block, or a paragraph
				parts = []string{strings.TrimRight(m[2], "\n")}
			}
			for _, p := range parts {
				if !strings.Contains(rest, p) {
					t.Errorf("%s shows as source what does not stand on it:\n%s", page, p)
				}
			}
		}
	}
	if found < 12 {
		t.Errorf("only %d sources found", found)
	}
}

// What is said of a file of the guide is in that file: blocks `text file
// tables/x.csv` hold it whole, `text sheet` and `text in parts.csv` some lines.
func TestGuideFiles(t *testing.T) {
	shown := regexp.MustCompile("(?s)```text (sheet|file|in)(?: (\\S+))?\n(.*?)\n```\n")
	pages, err := fs.Glob(os.DirFS(guideDir), "pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, page := range pages {
		data, err := os.ReadFile(guideDir + "/" + page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range shown.FindAllStringSubmatch(string(data), -1) {
			name := m[2]
			if m[1] == "sheet" {
				name = "design.calc"
			}
			file, err := os.ReadFile(guideDir + "/" + name)
			if err != nil {
				t.Errorf("%s: %v", page, err)
				continue
			}
			found++
			if m[1] == "file" && strings.TrimRight(string(file), "\n") != m[3] {
				t.Errorf("%s shows another %s:\n%s", page, name, m[3])
			}
			for _, line := range strings.Split(m[3], "\n") {
				if !strings.Contains("\n"+string(file), "\n"+line+"\n") {
					t.Errorf("%s has no line\n%s", name, line)
				}
			}
		}
	}
	if found < 4 {
		t.Errorf("only %d files found", found)
	}
}

// The guide names every material, and every code of a finding.
func TestGuideIsComplete(t *testing.T) {
	text := func(page string) string {
		data, err := os.ReadFile(guideDir + "/pages/" + page)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	formulas, audit := text("66-formulas.md"), text("50-audit.md")
	for _, m := range model.Materials() {
		if !strings.Contains(formulas, "`"+m.Name+"`") {
			t.Errorf("the page on formulas does not name the material %s", m.Name)
		}
	}
	for code := range AuditRules {
		if !strings.Contains(audit, "`"+code+"`") {
			t.Errorf("the page on the audit does not name %s", code)
		}
	}
}

// The guide names every key of manual.toml, of page blocks and of errata, every
// column of parts.csv, and every key of figures.json.
func TestGuideNamesKeys(t *testing.T) {
	pages, err := fs.Glob(os.DirFS(guideDir), "pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for _, page := range pages {
		data, err := os.ReadFile(guideDir + "/" + page)
		if err != nil {
			t.Fatal(err)
		}
		text.Write(data)
	}
	named := func(word string) bool {
		return regexp.MustCompile("`\\[*" + regexp.QuoteMeta(word) + "\\b[^`\n]*`|(?m)^" + regexp.QuoteMeta(word) + " = ").MatchString(text.String())
	}
	key := regexp.MustCompile("`toml:\"([a-z0-9_]+)\"`")
	keys := 0
	for _, source := range []string{"../content/config.go", "../content/pagedata.go", "errata.go"} {
		data, err := os.ReadFile(source)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(data), -1) {
			keys++
			if !named(m[1]) {
				t.Errorf("the guide does not name %s of %s", m[1], source)
			}
		}
	}
	if keys < 40 {
		t.Errorf("only %d keys found", keys)
	}
	var schema struct {
		Defs struct {
			Figure struct {
				Properties map[string]any `json:"properties"`
			} `json:"figure"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(FiguresSchema, &schema); err != nil {
		t.Fatal(err)
	}
	if len(schema.Defs.Figure.Properties) < 10 {
		t.Error("the schema of figures.json has no figure")
	}
	for k := range schema.Defs.Figure.Properties {
		if !named(k) {
			t.Errorf("the guide does not name %s of figures.json", k)
		}
	}
	data, err := os.ReadFile("../content/parts.go")
	if err != nil {
		t.Fatal(err)
	}
	list := regexp.MustCompile(`(?s)var partColumns = \[\]string\{(.*?)\}`).FindSubmatch(data)
	if list == nil {
		t.Fatal("the columns of parts.csv are not found")
	}
	for _, m := range regexp.MustCompile(`"([^"]+)"`).FindAllSubmatch(list[1], -1) {
		if !named(string(m[1])) {
			t.Errorf("the guide does not name the column %s of parts.csv", m[1])
		}
	}
}
