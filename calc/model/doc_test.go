package model

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// Every exported function that computes with numbers says where its formula
// comes from (unless it is the inverse of one that does) and what it refuses.
func TestDocs(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, f := range files {
		name := f.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range tree.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !fn.Name.IsExported() || fn.Recv != nil || !computes(fn) {
				continue
			}
			count++
			doc := fn.Doc.Text()
			if !strings.HasPrefix(doc, fn.Name.Name+" ") {
				t.Errorf("%s: the comment of %s does not begin with its name", name, fn.Name.Name)
			}
			if !strings.Contains(doc, "Source:") && !strings.Contains(doc, "inverse of ") && !strings.Contains(doc, " the other way round") {
				t.Errorf("%s: the comment of %s has no Source:", name, fn.Name.Name)
			}
			if fails(fn) && !strings.Contains(doc, "Errors:") {
				t.Errorf("%s: the comment of %s has no Errors:", name, fn.Name.Name)
			}
		}
	}
	if count < 30 {
		t.Errorf("only %d functions found", count)
	}
}

// computes reports whether a function takes or gives a float64.
func computes(fn *ast.FuncDecl) bool {
	found := false
	for _, list := range []*ast.FieldList{fn.Type.Params, fn.Type.Results} {
		if list == nil {
			continue
		}
		for _, f := range list.List {
			ast.Inspect(f.Type, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok && id.Name == "float64" {
					found = true
				}
				return true
			})
		}
	}
	return found
}

// fails reports whether a function gives an error.
func fails(fn *ast.FuncDecl) bool {
	if fn.Type.Results == nil {
		return false
	}
	for _, f := range fn.Type.Results.List {
		if id, ok := f.Type.(*ast.Ident); ok && id.Name == "error" {
			return true
		}
	}
	return false
}
