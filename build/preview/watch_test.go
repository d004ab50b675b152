package preview

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"workings/build"
)

func watched(t *testing.T) (string, *watcher) {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "manual.toml", "title = \"x\"\n")
	write(t, dir, "pages/1-a.md", "# A\n")
	time.Sleep(2 * grain)
	w, err := newWatcher(dir)
	if err == nil {
		err = w.begin()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(w.close)
	return dir, w
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func rename(t *testing.T, dir, from, to string) {
	t.Helper()
	if err := os.Rename(filepath.Join(dir, from), filepath.Join(dir, to)); err != nil {
		t.Fatal(err)
	}
}

func remove(t *testing.T, dir, name string) {
	t.Helper()
	if err := os.RemoveAll(filepath.Join(dir, name)); err != nil {
		t.Fatal(err)
	}
}

// within reports whether the watcher notices a change within a time.
func within(w *watcher, d time.Duration) bool {
	ctx, cancel := context.WithTimeout(context.Background(), d)
	defer cancel()
	_, err := w.wait(ctx)
	return err == nil
}

const (
	soon   = 5 * time.Second        // far beyond what a change takes, for a busy machine
	aWhile = 600 * time.Millisecond // beyond the cap, to see that nothing comes
)

// Each row is what a program does when it saves; each must be noticed, in turn.
func TestWatchNotices(t *testing.T) {
	dir, w := watched(t)
	for _, c := range []struct {
		name string
		do   func()
	}{
		{"a file is rewritten", func() { write(t, dir, "pages/1-a.md", "# A 2\n") }},
		{"a new file is renamed over it", func() {
			write(t, dir, "pages/.1-a.md.tmp", "# A 3\n")
			rename(t, dir, "pages/.1-a.md.tmp", "pages/1-a.md")
		}},
		{"the old file is renamed away first", func() {
			rename(t, dir, "pages/1-a.md", "pages/1-a.md~")
			write(t, dir, "pages/1-a.md", "# A 4\n")
			remove(t, dir, "pages/1-a.md~")
		}},
		{"and rewritten after that", func() { write(t, dir, "pages/1-a.md", "# A 5\n") }},
		{"folders are made with a file inside", func() { write(t, dir, "pictures/deep/er/a.svg", "<svg/>") }},
		{"that file is rewritten", func() { write(t, dir, "pictures/deep/er/a.svg", "<svg />") }},
		{"a folder is moved", func() { rename(t, dir, "pictures/deep", "pictures/moved") }},
		{"a file in the moved folder is rewritten", func() { write(t, dir, "pictures/moved/er/a.svg", "<svg  />") }},
		{"a file is removed", func() { remove(t, dir, "pictures/moved/er/a.svg") }},
		{"the folder of pages is replaced", func() {
			write(t, dir, "fresh/1-a.md", "# A 6\n")
			rename(t, dir, "pages", "stale")
			rename(t, dir, "fresh", "pages")
			remove(t, dir, "stale")
		}},
		{"and its page rewritten", func() { write(t, dir, "pages/1-a.md", "# A 7\n") }},
	} {
		c.do()
		if !within(w, soon) {
			t.Fatalf("not noticed: %s", c.name)
		}
		for within(w, aWhile) { // the rest of a change in several steps
		}
	}
}

// No event tells that the manual's own folder is back: those above it are not watched.
func TestWatchNoticesFolderBack(t *testing.T) {
	dir, w := watched(t)
	for _, c := range []struct {
		name string
		do   func()
	}{
		{"the manual's folder is moved away", func() { rename(t, "", dir, dir+"-away") }},
		{"and back", func() { rename(t, "", dir+"-away", dir) }},
		{"a file in it is rewritten", func() { write(t, dir, "manual.toml", "title = \"y\"\n") }},
		{"the folder is removed", func() { remove(t, "", dir) }},
		{"and made anew", func() { write(t, dir, "manual.toml", "title = \"z\"\n") }},
		{"and a file in it rewritten", func() { write(t, dir, "manual.toml", "title = \"zz\"\n") }},
	} {
		c.do()
		if !within(w, soon) {
			t.Fatalf("not noticed: %s", c.name)
		}
		for within(w, aWhile) { // the rest of a change in several steps
		}
	}
}

// What is written before all has been looked at counts as changed, though what
// was looked at is what was written.
func TestWatchNoticesMeanwhile(t *testing.T) {
	for name, do := range map[string]func(dir string){
		"a file is rewritten": func(dir string) { write(t, dir, "pages/1-a.md", "# A 2\n") },
		"a file is made":      func(dir string) { write(t, dir, "pages/3-c.md", "# C\n") },
		"an old file is moved": func(dir string) {
			old := filepath.Join(t.TempDir(), "old.md")
			write(t, filepath.Dir(old), "old.md", "# Old\n")
			day := time.Now().Add(-24 * time.Hour)
			if err := errors.Join(os.Chtimes(old, day, day), os.Rename(old, filepath.Join(dir, "pages/1-a.md"))); err != nil {
				t.Fatal(err)
			}
			time.Sleep(100 * time.Millisecond) // a build takes longer than the system to tell of it
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, "pages/1-a.md", "# A\n")
			time.Sleep(2 * grain)
			w, err := newWatcher(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer w.close()
			do(dir)
			if err := w.begin(); err != nil {
				t.Fatal(err)
			}
			if !within(w, soon) {
				t.Error("not noticed")
			}
		})
	}
}

func TestWatchIgnores(t *testing.T) {
	dir, w := watched(t)
	write(t, dir, "pages/1-a.md", "# A\n") // as it was
	if err := os.Chmod(filepath.Join(dir, "pages/1-a.md"), 0o600); err != nil {
		t.Fatal(err)
	}
	write(t, dir, "pages/.1-a.md.swp", "x")
	write(t, dir, "pages/1-a.md~", "x")
	write(t, dir, "pages/4913", "x")
	write(t, dir, "pages/sedAb12xY", "x")
	write(t, dir, ".git/index", "x")
	if within(w, aWhile) {
		t.Error("an editor's own files count as a change")
	}
	site, err := build.NewSite(map[string]string{"index.html": "x"})
	if err != nil {
		t.Fatal(err)
	}
	if err := site.Write(filepath.Join(dir, "site")); err != nil {
		t.Fatal(err)
	}
	if within(w, aWhile) {
		t.Error("publishing into the manual counts as a change")
	}
}

// Where the system watches no more, it is said what to do.
func TestWatchLimit(t *testing.T) {
	for err, want := range map[error]string{
		syscall.ENOSPC: "fs.inotify.max_user_watches",
		syscall.EMFILE: "fs.inotify.max_user_instances",
	} {
		if got := watchError(&os.PathError{Op: "watch", Path: "x", Err: err}); !strings.Contains(got.Error(), want) || !errors.Is(got, err) {
			t.Errorf("%v is told as %v", err, got)
		}
	}
}
