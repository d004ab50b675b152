package build

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	chromahtml "github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/alecthomas/chroma/v2/styles"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// bigManual is a manual of n pages, each with ten figures, a calc block, a code
// block and a table, and about a thousand words.
func bigManual(n int) fstest.MapFS {
	m := fstest.MapFS{}
	put := func(name, text string) { m[name] = &fstest.MapFile{Data: []byte(text)} }
	put("manual.toml", "title = \"A large machine\"\nrelease = \"1.0\"\n\n[licence]\ntext = \"CC-BY-4.0\"\n")
	var sheet strings.Builder
	for i := range 100 {
		fmt.Fprintf(&sheet, "len%d = %d mm ± 0.1 mm  # length of frame %d\n", i, 100+i, i)
		fmt.Fprintf(&sheet, "mass%d = %d.5 kg uncertain 2 %%\n", i, 1+i%9)
	}
	put("design.calc", sheet.String())
	const words = "Set the carriage on the rail and push it gently to the end stop, where it must rest without play. Turn the screw by hand until the nut is free, then tighten the two clamping bolts crosswise in three passes. "
	for i := range n {
		var b strings.Builder
		p := i % 100
		fmt.Fprintf(&b, "# Assembly %d\n\nThe frame is {= len%d } long and weighs {= mass%d }. %s\n\n", i, p, p, words)
		fmt.Fprintf(&b, "```calc b%d \"Frame %d\"\n", i, i)
		fmt.Fprintf(&b, "area   = len%d * %d mm in cm^2  # covered\nsag    = 5 * 0.9 N/m * len%d^4 / (384 * 205 GPa * pi * (12 mm)^4 / 64) in um\npull   = mass%d * g_n in N\nstress = pull / area in kPa\n", p, 50+i%7, p, p)
		fmt.Fprintf(&b, "limit slack: sag <= 1 mm\n  else caution \"It sags by {= sag to 2 sf up}.\"\n```\n\n")
		fmt.Fprintf(&b, "It covers {= b%d.area }, sags by {= b%d.sag to 2 sf }, pulls with {= b%d.pull } and stands {= b%d.stress }.\n\n", i, i, i, i)
		for range 12 {
			b.WriteString(words + "\n\n")
		}
		fmt.Fprintf(&b, "| what | value |\n|---|---|\n| area | {= b%d.area } |\n| sag | {= b%d.sag } |\n| pull | {= b%d.pull to 2 sf } |\n| length | {= len%d } |\n\n", i, i, i, p)
		fmt.Fprintf(&b, "```go\npackage main\n\nimport \"fmt\"\n\n// step moves the axis by n steps.\nfunc step(n int) error {\n\tfor i := 0; i < n; i++ {\n\t\tfmt.Println(\"step\", i, %d)\n\t}\n\treturn nil\n}\n```\n", i)
		put(fmt.Sprintf("pages/%05d-p%d.md", i, i), b.String())
	}
	return m
}

// floor does what no publisher of these pages can do without: Markdown with
// tables to HTML, code highlighted, written to disk; on all processors.
func floor(tb testing.TB, m fstest.MapFS, dir string) {
	lexer, style, format := lexers.Get("go"), styles.Get("github"), chromahtml.New(chromahtml.WithClasses(true))
	var names []string
	for name := range m {
		if strings.HasSuffix(name, ".md") {
			names = append(names, name)
		}
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(
				renderer.WithNodeRenderers(util.Prioritized(highlighter{func(w util.BufWriter, code string) {
					it, err := lexer.Tokenise(nil, code)
					if err == nil {
						err = format.Format(w, style, it)
					}
					if err != nil {
						tb.Error(err)
					}
				}}, 100))))
			for i := int(next.Add(1)) - 1; i < len(names); i = int(next.Add(1)) - 1 {
				var out bytes.Buffer
				if err := md.Convert(m[names[i]].Data, &out); err != nil {
					tb.Error(err)
				}
				if err := os.WriteFile(filepath.Join(dir, filepath.Base(names[i])+".html"), out.Bytes(), 0o666); err != nil {
					tb.Error(err)
				}
			}
		})
	}
	wg.Wait()
}

type highlighter struct {
	code func(w util.BufWriter, code string)
}

func (h highlighter) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindFencedCodeBlock, func(w util.BufWriter, src []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			var b strings.Builder
			for i := range n.Lines().Len() {
				line := n.Lines().At(i)
				b.Write(line.Value(src))
			}
			h.code(w, b.String())
		}
		return ast.WalkSkipChildren, nil
	})
}

// BenchmarkFloor and BenchmarkPublish are to be compared: a thousand pages, and
// ten thousand for the growth of the cost.
func BenchmarkFloor(b *testing.B) {
	m := bigManual(1000)
	for b.Loop() {
		floor(b, m, b.TempDir())
	}
}

func BenchmarkPublish(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			m := bigManual(n)
			b.ReportAllocs()
			for b.Loop() {
				site, list := Build(Source{FS: m}, Options{})
				if list.HasErrors() {
					b.Fatal(list)
				}
				if err := site.Write(filepath.Join(b.TempDir(), "site")); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
