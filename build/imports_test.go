package build

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
)

// The layers of the program: each package may import what its row lists and
// nothing of the rest. Data flows one way, and only the ends touch the disk
// or the network.
var layers = []struct {
	dir    string   // the package, or with "/..." it and all below
	ours   []string // packages of this program that it may import, "/..." as above
	banned []string // packages of the standard library that it must not import
}{
	{"calc/diag", nil, pure},
	{"calc/unit", nil, pure},
	{"calc/num", nil, pure},
	{"calc/syntax", []string{"calc/diag", "calc/unit"}, pure},
	{"calc/model", []string{"calc/num"}, pureButEmbed},
	{"calc/interval", nil, pure},
	{"calc/worst", []string{"calc/interval"}, pure},
	{"calc", []string{"calc/..."}, pure},
	{"content/spreadsheet", []string{"calc/diag"}, pure},
	{"content", []string{"content/spreadsheet", "calc", "calc/..."}, []string{"os", "net"}},
	{"theme/...", []string{"theme/...", "content", "calc", "calc/..."}, []string{"os", "net", "time", "math/rand"}},
	{"build/prose", []string{"content", "calc/..."}, []string{"os", "net", "time", "math/rand"}},
	{"build", []string{"build/prose", "content", "theme", "theme/...", "calc", "calc/..."}, []string{"net", "math/rand"}},
	{"build/big", nil, []string{"os", "net", "time", "math/rand"}},
	{"build/browsertest", nil, nil},
	{"build/preview", []string{"build", "content", "theme", "calc/..."}, []string{"math/rand"}},
	{"cmd/workings", []string{"build", "build/...", "content", "content/...", "theme", "theme/...", "calc", "calc/..."}, nil},
	{"cmd/wasm", []string{"calc", "calc/..."}, []string{"os", "net"}},
}

var (
	pureButEmbed = []string{"os", "net", "time", "math/rand", "io/ioutil"}
	pure         = append([]string{"embed"}, pureButEmbed...)
)

// drawn are the files of calc that draw numbers, from sources whose seed is
// given, so that the same input gives the same output.
var drawn = map[string]bool{"calc/curvature.go": true, "calc/trials.go": true, "calc/worst/search.go": true}

// onDisk are the files of build that may import os; all others work on io/fs
// and on memory.
var onDisk = map[string]bool{"build/source.go": true, "build/tag.go": true, "build/out.go": true, "build/comparesource.go": true,
	"build/disk.go": true, "build/seal.go": true, "build/swap.go": true, "build/swap_linux.go": true, "build/swap_darwin.go": true, "build/swap_other.go": true}

func TestImports(t *testing.T) {
	root := os.DirFS("..")
	seen := 0
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); name != "." && (strings.HasPrefix(base, ".") || base == "testdata" || base == "node_modules") {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		src, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		seen++
		dir := path.Dir(name)
		at := -1
		for i, l := range layers {
			if within(dir, l.dir) {
				at = i
			}
		}
		if at < 0 {
			t.Errorf("%s: the package %s is in no layer", name, dir)
			return nil
		}
		for _, imp := range f.Imports {
			p := strings.Trim(imp.Path.Value, `"`)
			if own, ok := strings.CutPrefix(p, "workings/"); ok {
				if !withinAny(own, layers[at].ours) {
					t.Errorf("%s must not import %s", name, p)
				}
				continue
			}
			if drawn[name] && p == "math/rand/v2" {
				continue
			}
			for _, b := range layers[at].banned {
				if (p == b || strings.HasPrefix(p, b+"/")) && p != "net/url" { // which only reads addresses
					t.Errorf("%s must not import %s", name, p)
				}
			}
			if dir == "build" && (p == "os" || strings.HasPrefix(p, "os/")) && !onDisk[name] {
				t.Errorf("%s must not import %s", name, p)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 50 {
		t.Errorf("only %d files were looked at", seen)
	}
}

func within(dir, pattern string) bool {
	if base, ok := strings.CutSuffix(pattern, "/..."); ok {
		return dir == base || strings.HasPrefix(dir, base+"/")
	}
	return dir == pattern
}

func withinAny(dir string, patterns []string) bool {
	for _, p := range patterns {
		if within(dir, p) {
			return true
		}
	}
	return false
}
