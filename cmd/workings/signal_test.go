//go:build unix

package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// writeManual writes a manual of so many pages.
func writeManual(t *testing.T, dir string, pages int, width string) {
	t.Helper()
	files := map[string]string{
		"manual.toml": "title = \"Fenbank stand\"\nrelease = \"1.0\"\n",
		"design.calc": "bed_x = " + width + "   # width\n",
	}
	for i := range pages {
		files[fmt.Sprintf("pages/%d-page-%d.md", i+10, i)] = fmt.Sprintf("# Page %d\n\nThe bed is {= bed_x} wide.\n\n%s", i, strings.Repeat("Half of it is {= bed_x / 2}.\n\n", 20))
	}
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// status is what a process ended with; -1 if a signal ended it.
func status(err error) int {
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return exit.ExitCode()
	}
	if err != nil {
		return -1
	}
	return 0
}

// A preview ends within a second of a signal, also while it still reads the
// manual for the first time.
func TestPreviewProcess(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		for _, wait := range []time.Duration{0, 300 * time.Millisecond, 600 * time.Millisecond, 1200 * time.Millisecond} {
			first := wait > 0
			dir := t.TempDir()
			pages := 1
			if first {
				pages = 1500
			}
			writeManual(t, dir, pages, "220 mm")
			cmd := exec.Command("workings", "preview", dir)
			out, err := cmd.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			if first {
				time.Sleep(wait) // it has begun and is not through
			} else if line, err := bufio.NewReader(out).ReadString('\n'); err != nil {
				t.Fatalf("%q, %v", line, err)
			}
			begun := time.Now()
			if err := cmd.Process.Signal(sig); err != nil {
				t.Fatal(err)
			}
			err = cmd.Wait()
			if took := time.Since(begun); took > time.Second {
				t.Errorf("%v: it takes %v to end", sig, took)
			}
			got := status(err)
			if got == -1 && first && wait < time.Second {
				continue // on a busy machine the signal came before the program's first line
			}
			if got != exitOK {
				t.Errorf("%v (first reading: %v): status %d, want %d", sig, first, got, exitOK)
			}
		}
	}
}

// An interrupted publish says so and leaves the site that was there, whole,
// and nothing beside it.
func TestPublishProcess(t *testing.T) {
	dir, parent := t.TempDir(), t.TempDir()
	site := filepath.Join(parent, "site")
	writeManual(t, dir, 150, "220 mm")
	begun := time.Now()
	if out, err := exec.Command("workings", "publish", "-o", site, dir).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	whole := time.Since(begun)
	sums, err := os.ReadFile(filepath.Join(site, "files.sha256"))
	if err != nil {
		t.Fatal(err)
	}
	writeManual(t, dir, 150, "246 mm")
	stopped := 0
	const tries = 12
	for i := range tries {
		cmd := exec.Command("workings", "publish", "-o", site, dir)
		var errs strings.Builder
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		sig := syscall.SIGINT
		if i%2 == 1 {
			sig = syscall.SIGTERM
		}
		time.Sleep(50*time.Millisecond + whole*time.Duration(i)/tries)
		_ = cmd.Process.Signal(sig) // it may be through
		err := cmd.Wait()
		now, rerr := os.ReadFile(filepath.Join(site, "files.sha256"))
		if rerr != nil {
			t.Fatalf("the site is gone: %v", rerr)
		}
		if out, err := sumCheck(site); err != nil {
			t.Fatalf("the site is not whole: %v\n%s", err, out)
		}
		switch got := status(err); {
		case got == -1 && string(now) == string(sums): // on a busy machine the signal came before the program's first line
		case got == exitInterrupted && string(now) == string(sums) && strings.Contains(errs.String(), site+" is as it was"):
			stopped++
		case got == exitOK && string(now) != string(sums):
			sums = now // it was through
			writeManual(t, dir, 150, fmt.Sprintf("%d mm", 247+i))
		default:
			t.Errorf("status %d, another site: %v, says %q", got, string(now) != string(sums), errs.String())
		}
		entries, err := os.ReadDir(parent)
		if err != nil || len(entries) != 1 {
			t.Errorf("beside the site there are %v, %v", entries, err)
		}
	}
	if stopped == 0 {
		t.Error("no publish was interrupted")
	}
	t.Logf("%d of %d were interrupted", stopped, tries)
}

// sumCheck checks the files of a site against its list.
func sumCheck(site string) ([]byte, error) {
	cmd := exec.Command("sha256sum", "-c", "--quiet", "files.sha256")
	cmd.Dir = site
	out, err := cmd.CombinedOutput()
	if errors.Is(err, exec.ErrNotFound) {
		return nil, nil
	}
	return out, err
}
