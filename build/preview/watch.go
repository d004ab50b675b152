package preview

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"workings/build"
)

// An editor saves in several steps within a few milliseconds. The watcher acts
// once it has been quiet this long, but does not wait longer than the cap.
const (
	quiet = 50 * time.Millisecond
	delay = 300 * time.Millisecond
)

// A watcher tells when the files of a folder have changed. Events only say
// that something may have happened; what counts is the content, so that a
// save without a change, a touched file or an editor's own files do nothing.
type watcher struct {
	root  string
	notes *fsnotify.Watcher
	last  [sha256.Size]byte
}

func newWatcher(root string) (*watcher, error) {
	root, err := filepath.EvalSymlinks(root)
	if err != nil {
		return nil, err
	}
	notes, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("cannot watch files: %w", err)
	}
	w := &watcher{root: root, notes: notes}
	if w.last, err = w.scan(); err != nil {
		notes.Close()
		return nil, err
	}
	return w, nil
}

func (w *watcher) close() { w.notes.Close() }

// wait returns once the content of the folder is not what it was when wait or
// newWatcher last returned, or with the context's error.
func (w *watcher) wait(ctx context.Context) error {
	var fire <-chan time.Time
	var first time.Time
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case ev, ok := <-w.notes.Events:
			if !ok {
				return errors.New("the watch on the files has ended")
			}
			if ev.Op == fsnotify.Chmod || ignored(filepath.Base(ev.Name)) {
				continue
			}
		case _, ok := <-w.notes.Errors:
			// Events were lost: look at everything again.
			if !ok {
				return errors.New("the watch on the files has ended")
			}
		case <-fire:
			now, err := w.scan()
			if err == nil && now != w.last {
				w.last = now
				return nil
			}
			fire = nil
			if err != nil {
				// A file or folder went away while it was looked at, which
				// its own event may have told before: look again.
				fire, first = time.After(delay), time.Now()
			}
			continue
		}
		if fire == nil {
			first = time.Now()
		}
		fire = time.After(max(0, min(quiet, delay-time.Since(first))))
	}
}

// scan puts a watch on every folder, then reads it: what is written later
// raises an event, what was written before is read now. It never follows
// symbolic links.
func (w *watcher) scan() (sum [sha256.Size]byte, err error) {
	all := sha256.New()
	err = filepath.WalkDir(w.root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if path != w.root && ignored(d.Name()) {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		rel, err := filepath.Rel(w.root, path)
		if err != nil {
			return err
		}
		switch {
		case d.IsDir():
			if _, err := os.Lstat(filepath.Join(path, build.ListFile)); err == nil {
				return fs.SkipDir // a published site inside the manual
			}
			fmt.Fprintf(all, "folder %q\n", rel)
			// Added twice, a folder is watched once.
			return w.notes.Add(path)
		case d.Type()&fs.ModeSymlink != 0:
			to, err := os.Readlink(path)
			if err != nil {
				return err
			}
			fmt.Fprintf(all, "link %q %q\n", rel, to)
		case d.Type().IsRegular():
			one, err := hashFile(path)
			if err != nil {
				return err
			}
			fmt.Fprintf(all, "file %q %x\n", rel, one)
		}
		return nil
	})
	return [sha256.Size]byte(all.Sum(nil)), err
}

func hashFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return nil, err
	}
	return h.Sum(nil), nil
}

// ignored reports whether a name is none that a manual has: hidden files and
// what editors leave for a moment while they save.
func ignored(name string) bool {
	switch {
	case strings.HasPrefix(name, "."), strings.HasPrefix(name, "#"), strings.HasSuffix(name, "~"),
		strings.HasSuffix(name, ".swp"), strings.HasSuffix(name, ".swx"), strings.HasSuffix(name, ".tmp"),
		strings.HasSuffix(name, ".part"), name == "4913", name == "node_modules":
		return true
	}
	// sed -i writes sedXXXXXX and renames it.
	return len(name) == 9 && strings.HasPrefix(name, "sed") && !strings.Contains(name, ".")
}
