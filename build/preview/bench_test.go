package preview

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"workings/build"
	"workings/build/big"
)

// bigManual writes a manual of a thousand pages.
func bigManual(b *testing.B) string {
	debug.SetGCPercent(GCPercent)
	dir := b.TempDir()
	if err := os.CopyFS(dir, big.Manual(1000)); err != nil {
		b.Fatal(err)
	}
	return dir
}

// BenchmarkStart is the time from the start of a preview of a thousand pages to
// its first page, without that of starting a process.
func BenchmarkStart(b *testing.B) {
	dir := bigManual(b)
	for b.Loop() {
		live := build.NewLive(func() (build.Source, func() error, error) { return build.OpenDir(dir) }, build.Options{})
		l, err := Listen(Loopback, 0)
		if err != nil {
			b.Fatal(err)
		}
		ctx, stop := context.WithCancel(context.Background())
		ended, ready := make(chan error, 1), make(chan string, 1)
		go func() {
			ended <- Run(ctx, l, Options{Dir: dir, Build: live.Build, Quick: live.Quick, Ready: func(a string) { ready <- a }})
		}()
		resp, err := http.Get(<-ready + "1.0/p7.html")
		if err != nil || resp.StatusCode != http.StatusOK {
			b.Fatalf("%v %v", resp, err)
		}
		resp.Body.Close()
		b.StopTimer()
		stop()
		if err := <-ended; err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}

// BenchmarkSave is the time from the save of a page, one of a thousand, to the
// moment at which a browser shows it. It is right with -benchtime 20x or so.
func BenchmarkSave(b *testing.B) {
	dir := bigManual(b)
	name := filepath.Join(dir, filepath.FromSlash(big.Page(7)))
	page, err := os.ReadFile(name)
	if err != nil {
		b.Fatal(err)
	}
	saves(b, dir, func(i int) (string, string, string) {
		mark := fmt.Sprintf("This was save %d.", i)
		return name, string(page) + "\n" + mark + "\n", mark
	})
}

// BenchmarkParameter is the time from the save of a parameter that 200 of a
// thousand pages show, to the moment at which a browser shows one of them.
func BenchmarkParameter(b *testing.B) {
	dir := bigManual(b)
	name := filepath.Join(dir, "design.calc")
	sheet, err := os.ReadFile(name)
	if err != nil {
		b.Fatal(err)
	}
	saves(b, dir, func(i int) (string, string, string) {
		bay := fmt.Sprintf("%d mm", 1001+i)
		return name, strings.Replace(string(sheet), "bay = 500 mm", "bay = "+bay, 1), fmt.Sprintf("%d\u00a0mm", 1001+i)
	})
}

// saves saves files, one after the other, and measures when an open page shows
// what was saved: when it has been put into the page, and laid out.
func saves(b *testing.B, dir string, save func(i int) (name, text, mark string)) {
	br := openBrowser(b)
	r := startIn(b, dir)
	br.open(b, r.address+"1.0/p7.html")
	var took []float64
	i := 0
	for b.Loop() {
		i++
		b.StopTimer()
		name, text, mark := save(i)
		time.Sleep(1500 * time.Millisecond) // nobody saves faster, and what follows a save is done
		shown := make(chan float64, 1)
		go func() {
			shown <- value[float64](b, br, fmt.Sprintf(`new Promise((done) => {
				const look = () => {
					if (!document.querySelector("main").textContent.includes(%q)) return false;
					document.body.getBoundingClientRect();
					done(performance.timeOrigin + performance.now());
					return true;
				};
				const o = new MutationObserver(() => { if (look()) o.disconnect(); });
				o.observe(document.body, { childList: true, subtree: true, characterData: true });
			})`, mark))
		}()
		time.Sleep(100 * time.Millisecond) // until the browser looks
		b.StartTimer()
		begun := time.Now()
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
		took = append(took, <-shown-float64(begun.UnixMicro())/1000)
	}
	slices.Sort(took)
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(took[len(took)/2], "median-ms")
	b.ReportMetric(took[min(len(took)-1, len(took)*95/100)], "p95-ms")
}
