package preview

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"

	"workings/build"
)

// again is when a file or folder that went away while it was looked at is
// looked at again.
const again = 50 * time.Millisecond

// grain is by how much the time of a file may lie before that of its writing.
const grain = 20 * time.Millisecond

// A watcher tells which files of a folder have changed. Events only say that
// something may have happened; what counts is the content, so that a save
// without a change, a touched file or an editor's own files do nothing.
type watcher struct {
	root  string
	notes *fsnotify.Watcher
	known map[string]string // path below root → what lies there
	retry map[string]bool   // what is to be looked at again
	since time.Time         // when the watch began
}

// folder is what lies at the path of a folder, unread at that of a file that was
// not looked at yet.
const (
	folder = "folder"
	unread = ""
)

// newWatcher watches a folder. What changes from now on is seen once all has
// been looked at (begin).
func newWatcher(root string) (*watcher, error) {
	root, err := filepath.EvalSymlinks(root)
	if err != nil {
		return nil, err
	}
	notes, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, watchError(err)
	}
	w := &watcher{root: root, notes: notes, known: map[string]string{}, retry: map[string]bool{}}
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && path != root: // it went away
			return nil
		case err != nil || !d.IsDir():
			return err
		case path != root && (ignored(d.Name()) || isSite(path)):
			return fs.SkipDir
		}
		return notes.Add(path)
	})
	if err != nil {
		notes.Close()
		return nil, watchError(err)
	}
	w.since = time.Now().Add(-grain)
	return w, nil
}

// begin looks at all there is. What was written since newWatcher may have been
// read before or after by others: it counts as changed.
func (w *watcher) begin() error {
	if err := w.look(".", map[string]bool{}); err != nil {
		return watchError(err)
	}
	anew := map[string]bool{}
	for path, what := range w.known {
		if info, err := os.Lstat(w.full(path)); what != folder && (err != nil || !info.ModTime().Before(w.since)) {
			anew[path] = true
		}
	}
	// A file that was moved to its place may be old: the system tells of it.
	for more := true; more; {
		select {
		case ev := <-w.notes.Events:
			w.note(ev, anew)
		default:
			more = false
		}
	}
	for path := range anew {
		if what, ok := w.known[path]; ok && what != folder {
			w.known[path] = unread
		}
		w.retry[path] = true
	}
	return nil
}

// isSite reports whether a folder holds a published site.
func isSite(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, build.ListFile))
	return err == nil
}

// watchError says what to do where the system watches no more.
func watchError(err error) error {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("cannot watch more folders: the system's limit is reached; close programs that watch files, or raise it, as in sysctl fs.inotify.max_user_watches=524288: %w", err)
	case errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENFILE):
		return fmt.Errorf("cannot watch files: too many are open or watched; close programs that watch files, or raise the limit, as in sysctl fs.inotify.max_user_instances=1024 or ulimit -n 4096: %w", err)
	}
	return fmt.Errorf("cannot watch files: %w", err)
}

func (w *watcher) close() { w.notes.Close() }

// A change is what a save did.
type change struct {
	paths []string // of files that were changed, made or removed, slash-separated and sorted
	// partial is a change that is likely to be the first step of a save: a file
	// is gone or without content, which an editor leaves for a moment that moves
	// the old file away, or empties it and then writes it.
	partial bool
}

// wait returns once the content of the folder is not what it was when wait or
// newWatcher last returned, or with the context's error.
func (w *watcher) wait(ctx context.Context) (change, error) {
	var fire <-chan time.Time
	for {
		if len(w.retry) > 0 && fire == nil {
			fire = time.After(again)
		}
		look := map[string]bool{}
		select {
		case <-ctx.Done():
			return change{}, ctx.Err()
		case ev, ok := <-w.notes.Events:
			if !ok {
				return change{}, errEnded
			}
			w.note(ev, look)
		case _, ok := <-w.notes.Errors:
			// Events were lost: look at everything again.
			if !ok {
				return change{}, errEnded
			}
			look["."] = true
		case <-fire:
			fire = nil
			maps.Copy(look, w.retry)
			clear(w.retry)
		}
		// What has come meanwhile belongs to the same save.
		for more := true; more; {
			select {
			case ev := <-w.notes.Events:
				w.note(ev, look)
			default:
				more = false
			}
		}
		changed := map[string]bool{}
		for _, path := range slices.Sorted(maps.Keys(look)) {
			err := w.look(path, changed)
			switch {
			case err == nil:
			case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENFILE):
				return change{}, watchError(err)
			default:
				// It went away while it was looked at, which its own event may
				// have told before.
				w.retry[path] = true
			}
		}
		if len(changed) > 0 {
			c := change{paths: slices.Sorted(maps.Keys(changed))}
			for _, path := range c.paths {
				what, there := w.known[path]
				c.partial = c.partial || !there || what == "file "+noContent
			}
			return c, nil
		}
	}
}

var errEnded = errors.New("the watch on the files has ended")

// note enters what an event names among what is to be looked at.
func (w *watcher) note(ev fsnotify.Event, look map[string]bool) {
	if ev.Op == fsnotify.Chmod || ev.Name == "" {
		return
	}
	path, err := filepath.Rel(w.root, ev.Name)
	if err != nil {
		return
	}
	path = filepath.ToSlash(path)
	for _, name := range strings.Split(path, "/") {
		if name != "." && ignored(name) {
			return
		}
	}
	if dir := filepath.ToSlash(filepath.Dir(path)); path != "." && w.known[dir] != folder {
		// A folder that was moved with the one above it still speaks under its old name.
		look["."] = true
		return
	}
	look[path] = true
	if filepath.Base(path) == build.ListFile {
		look[filepath.ToSlash(filepath.Dir(path))] = true // its folder has become a site, or is none any more
	}
}

// look compares what lies at a path and below with what is known, and enters
// the paths of files that differ. A folder is put under watch before it is
// read: what is written later raises an event, what was written before is read
// now. Symbolic links are not followed.
func (w *watcher) look(path string, changed map[string]bool) error {
	info, err := os.Lstat(w.full(path))
	if err != nil {
		w.forget(path, changed)
		if path == "." {
			// Nothing tells that the manual's own folder is back, as nothing watches the one above.
			w.retry[path] = true
		}
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
			return nil
		}
		return err
	}
	if !info.IsDir() {
		what, err := w.read(path, info)
		if err != nil {
			return err
		}
		if w.known[path] != what {
			w.forget(path, changed) // if it was a folder
			w.known[path] = what
			changed[path] = true
		}
		return nil
	}
	if path != "." && isSite(w.full(path)) {
		w.forget(path, changed) // a published site inside the manual
		return nil
	}
	if w.known[path] != folder {
		w.forget(path, changed)
		w.known[path] = folder
		// Where it was moved here, the library ends its watch under the old name
		// a moment later, and with it the new one: it is looked at once more.
		w.retry[path] = true
	}
	// Added twice, a folder is watched once; a new one of the same name is another.
	if err := w.notes.Add(w.full(path)); err != nil {
		return err
	}
	entries, err := os.ReadDir(w.full(path))
	if err != nil {
		return err
	}
	there := map[string]bool{}
	var errs []error
	for _, e := range entries {
		if !ignored(e.Name()) {
			below := join(path, e.Name())
			there[below] = true
			errs = append(errs, w.look(below, changed))
		}
	}
	for old := range w.known { // any order: what is forgotten is taken out of one set and put into another
		if old != "." && filepath.ToSlash(filepath.Dir(old)) == path && !there[old] {
			w.forget(old, changed)
		}
	}
	return errors.Join(errs...)
}

func join(dir, name string) string {
	if dir == "." {
		return name
	}
	return dir + "/" + name
}

func (w *watcher) full(path string) string { return filepath.Join(w.root, filepath.FromSlash(path)) }

// forget takes out what is known of a path and of all below.
func (w *watcher) forget(path string, changed map[string]bool) {
	what, ok := w.known[path]
	if !ok {
		return
	}
	delete(w.known, path)
	if what != folder {
		changed[path] = true
		return
	}
	for below := range w.known {
		if path == "." || strings.HasPrefix(below, path+"/") {
			if w.known[below] != folder {
				changed[below] = true
			}
			delete(w.known, below)
		}
	}
}

// read says what lies at the path of a file.
func (w *watcher) read(path string, info fs.FileInfo) (string, error) {
	switch {
	case info.Mode()&fs.ModeSymlink != 0:
		to, err := os.Readlink(w.full(path))
		return "link " + to, err
	case !info.Mode().IsRegular():
		return info.Mode().Type().String(), nil
	}
	f, err := os.Open(w.full(path))
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return "file " + string(h.Sum(nil)), nil
}

// noContent is the checksum of a file without content.
var noContent = string(sha256.New().Sum(nil))

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
