package build

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	chromahtml "github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/alecthomas/chroma/v2/styles"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"workings/build/big"
)

// floor does what no publisher of these pages can do without: Markdown with
// tables to HTML, code highlighted, written to disk; on all processors.
func floor(tb testing.TB, from, dir string) {
	lexer, style, format := lexers.Get("go"), styles.Get("github"), chromahtml.New(chromahtml.WithClasses(true))
	names, err := filepath.Glob(filepath.Join(from, "pages", "*.md"))
	if err != nil || len(names) == 0 {
		tb.Fatalf("no pages: %v", err)
	}
	inParallel(runtime.GOMAXPROCS(0), func(part int) {
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
		for i := part; i < len(names); i += runtime.GOMAXPROCS(0) {
			src, err := os.ReadFile(names[i])
			var out bytes.Buffer
			if err == nil {
				err = md.Convert(src, &out)
			}
			if err == nil {
				err = os.WriteFile(filepath.Join(dir, filepath.Base(names[i])+".html"), out.Bytes(), 0o666)
			}
			if err != nil {
				tb.Error(err)
			}
		}
	})
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

// TestBenchChild is what the benchmarks measure, in a process of its own: it
// publishes the manual in a folder, or does what no publisher can do without.
func TestBenchChild(t *testing.T) {
	from, out := os.Getenv("BENCH_MANUAL"), os.Getenv("BENCH_OUT")
	switch os.Getenv("BENCH_DO") {
	case "floor":
		if err := os.Mkdir(out, 0o777); err != nil {
			t.Fatal(err)
		}
		floor(t, from, out)
	case "publish":
		src, closeDir, err := OpenDir(from)
		if err != nil {
			t.Fatal(err)
		}
		defer closeDir()
		UseMemory(Memory)
		if n, list, err := Publish(context.Background(), src, out, Options{}); err != nil || n == 0 {
			t.Fatal(err, list)
		}
	default:
		t.Skip("it is started by a benchmark")
	}
}

// A cost is what a run took.
type cost struct {
	wall, cpu time.Duration
	peak      float64 // MB, of all its memory; 0 where the system does not tell
}

// measure runs TestBenchChild.
func measure(b *testing.B, what, from string) cost {
	b.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestBenchChild$", "-test.count=1")
	cmd.Env = append(os.Environ(), "BENCH_DO="+what, "BENCH_MANUAL="+from, "BENCH_OUT="+filepath.Join(b.TempDir(), "out"))
	start := time.Now()
	if said, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, said)
	}
	c := cost{wall: time.Since(start), cpu: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}
	c.peak = peakMemory(cmd.ProcessState)
	return c
}

// BenchmarkPublish publishes a manual of a thousand pages as the command does,
// and beside it does what no publisher of the same pages can do without. On a
// machine with other work, processor time says more than time.
func BenchmarkPublish(b *testing.B) { benchPublish(b, 1000) }

// BenchmarkPublishSmall and BenchmarkPublishLarge show how the cost grows.
func BenchmarkPublishSmall(b *testing.B) { benchPublish(b, 100) }

func BenchmarkPublishLarge(b *testing.B) { benchPublish(b, 10000) }

func benchPublish(b *testing.B, pages int) {
	from := b.TempDir()
	if err := os.CopyFS(from, big.Manual(pages)); err != nil {
		b.Fatal(err)
	}
	var least, all cost
	runs := 0
	for b.Loop() {
		f, p := measure(b, "floor", from), measure(b, "publish", from)
		least.wall, least.cpu = least.wall+f.wall, least.cpu+f.cpu
		all.wall, all.cpu, all.peak = all.wall+p.wall, all.cpu+p.cpu, max(all.peak, p.peak)
		runs++
	}
	per := func(d time.Duration) float64 { return d.Seconds() / float64(runs) }
	b.ReportMetric(0, "ns/op") // of both together
	b.ReportMetric(per(least.wall), "floor-s")
	b.ReportMetric(per(all.wall), "s")
	b.ReportMetric(all.wall.Seconds()/least.wall.Seconds(), "floors")
	b.ReportMetric(per(least.cpu), "floor-cpu-s")
	b.ReportMetric(per(all.cpu), "cpu-s")
	b.ReportMetric(all.cpu.Seconds()/least.cpu.Seconds(), "cpu-floors")
	b.ReportMetric(all.peak, "peak-MB")
}
