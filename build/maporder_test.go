package build

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestMapOrder goes over every Go file of the program and refuses loops over
// maps whose order can reach a result: the same input gives the same bytes
// (Go specification, "For statements with range clause": the order over maps
// is not specified and not the same from one time to the next; checked against
// the text). What it cannot see is the inside of the functions that a loop
// calls for their value.
//
// A loop that is right all the same says why on its first line or on the line
// above, after the words "any order:".
func TestMapOrder(t *testing.T) {
	tree := readTree(t)
	loops, files, excused := 0, 0, 0
	for _, p := range tree.own {
		parsed := tree.parse(t, p.Dir, p.GoFiles)
		info, err := tree.check(p.ImportPath, parsed, nil)
		if err != nil {
			t.Fatal(err)
		}
		// Files for other systems are checked beside the rest, whose names they
		// declare a second time.
		other := tree.parse(t, p.Dir, slices.DeleteFunc(p.IgnoredGoFiles, func(s string) bool { return strings.HasSuffix(s, "_test.go") }))
		both, _ := tree.check(p.ImportPath, slices.Concat(parsed, other), func(error) {})
		for i, f := range slices.Concat(parsed, other) {
			c := &orderCheck{fset: tree.fset, info: info}
			if i >= len(parsed) {
				c.info = both
			}
			c.run(f)
			for _, s := range c.found {
				t.Error(s)
			}
			loops, files, excused = loops+c.loops, files+1, excused+c.excused
		}
	}
	t.Logf("%d loops over maps in %d files, %d of them excused", loops, files, excused)
	if files < 300 || loops < 20 {
		t.Errorf("only %d files with %d loops over maps were looked at", files, loops)
	}
}

// A sourceTree is the packages of the program and what they import.
type sourceTree struct {
	fset    *token.FileSet
	own     []goPackage
	imports types.Importer
}

type goPackage struct {
	ImportPath, Dir, Export string
	GoFiles, IgnoredGoFiles []string
}

// readTree asks the go command for the packages. They were compiled for this
// test or are now, so that the types of what they import can be read back.
func readTree(t *testing.T) *sourceTree {
	t.Helper()
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,IgnoredGoFiles", "./...")
	cmd.Dir = ".."
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("go list: %v\n%s", err, exit.Stderr)
		}
		t.Skip("there is no go command: ", err)
	}
	tree := &sourceTree{fset: token.NewFileSet()}
	export := map[string]string{}
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		export[p.ImportPath] = p.Export
		if strings.HasPrefix(p.ImportPath, "workings/") {
			tree.own = append(tree.own, p)
		}
	}
	tree.imports = importer.ForCompiler(tree.fset, "gc", func(path string) (io.ReadCloser, error) {
		if export[path] == "" {
			return nil, fmt.Errorf("%s was not compiled", path)
		}
		return os.Open(export[path])
	})
	return tree
}

func (s *sourceTree) parse(t *testing.T, dir string, names []string) (files []*ast.File) {
	t.Helper()
	for _, name := range names {
		f, err := parser.ParseFile(s.fset, filepath.Join(dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

func (s *sourceTree) check(path string, files []*ast.File, report func(error)) (*types.Info, error) {
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{},
		Selections: map[*ast.SelectorExpr]*types.Selection{}}
	conf := types.Config{Importer: s.imports, Error: report}
	_, err := conf.Check(path, s.fset, files, info)
	return info, err
}

// TestMapOrderSamples checks the check itself, on loops that depend on the
// order and on loops that do not.
func TestMapOrderSamples(t *testing.T) {
	tree := readTree(t)
	for _, c := range orderSamples {
		src := "package p\nimport (\"fmt\"; \"io\"; \"maps\"; \"slices\"; \"sort\"; \"strings\"; \"math\"; \"reflect\")\n" +
			"var _ = fmt.Sprint; var _ io.Writer; var _ = maps.Clone[map[int]int]; var _ = slices.Max[[]int]; var _ = sort.Ints; var _ strings.Builder; var _ = math.Max; var _ reflect.Value\n" +
			"type T struct { N int; F float64; S string; L []string; Next *T }\ntype list struct{}\nfunc (l *list) Add(string) *T { return nil }\n" +
			"func use(...any) bool { return true }\n" + c.src
		f, err := parser.ParseFile(tree.fset, c.name, src, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		info, err := tree.check("p", []*ast.File{f}, nil)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		o := &orderCheck{fset: tree.fset, info: info}
		o.run(f)
		switch {
		case c.want == "" && len(o.found) > 0:
			t.Errorf("%s was refused: %s", c.name, o.found)
		case c.want != "" && len(o.found) == 0:
			t.Errorf("%s was accepted", c.name)
		case c.want != "" && !strings.Contains(strings.Join(o.found, "\n"), c.want):
			t.Errorf("%s was refused for another reason: %s", c.name, o.found)
		}
	}
}
