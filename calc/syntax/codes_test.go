package syntax

import (
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"os"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// Every code has a comment with an example, every example gives its code, and
// every code that is used is listed.
func TestCodes(t *testing.T) {
	fset := gotoken.NewFileSet()
	file, err := goparser.ParseFile(fset, "codes.go", nil, goparser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, decl := range file.Decls {
		g, ok := decl.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range g.Specs {
			v := spec.(*ast.ValueSpec)
			n++
			code, _ := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			checkExample(t, v.Names[0].Name, code, v.Doc.Text())
		}
	}
	if n < 40 {
		t.Errorf("%d codes only", n)
	}
}

func checkExample(t *testing.T, name, code, doc string) {
	t.Helper()
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(code) {
		t.Errorf("%s: the code %q is not in small letters with dashes", name, code)
	}
	if !strings.HasPrefix(doc, name+" ") {
		t.Errorf("%s: the comment does not start with the name", name)
	}
	_, example, ok := strings.Cut(doc, "Example:\n")
	if !ok {
		if !strings.Contains(doc, "(No example:") {
			t.Errorf("%s: no example", name)
		}
		return
	}
	example = strings.NewReplacer(`\xff`, "\xff", `\u202e`, "\u202e").Replace(strings.TrimSpace(example))
	how := "sheet"
	if inner, ok := strings.CutPrefix(example, "{="); ok {
		how, example = "inline", strings.TrimSuffix(inner, "}")
	}
	list := parseAs(t, how, example)
	if len(list) != 1 || list[0].Code != code {
		t.Errorf("%s: the example %q gives\n%s", name, example, list.Error())
	}
	if len(list) == 1 && list[0].Hint == "" {
		t.Errorf("%s: the example has no hint", name)
	}
}

// The words of Reserved are those the scanner knows.
func TestReserved(t *testing.T) {
	words := Reserved()
	if !sort.StringsAreSorted(words) {
		t.Error("not sorted")
	}
	if len(words) != int(lastWord-firstWord)+1 {
		t.Errorf("%d words, the scanner knows %d", len(words), lastWord-firstWord+1)
	}
	for _, w := range words {
		if k := word(w); k == tName || kindText[k] != w {
			t.Errorf("the scanner does not know %s", w)
		}
	}
	grammar, err := os.ReadFile("grammar.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range words {
		if !strings.Contains(string(grammar), w) {
			t.Errorf("grammar.txt does not mention %s", w)
		}
	}
}
