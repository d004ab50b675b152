package build

import (
	"errors"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/diag"
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
	data, err := os.ReadFile(guideDir + "/pages/20-language.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range calc.Functions() {
		if !strings.Contains(string(data), "`"+f.Name+"(") {
			t.Errorf("the language reference does not name %s", f.Name)
		}
	}
}
