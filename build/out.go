package build

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
)

// ListFile is the file at the root of a site that lists all others with their
// checksums, in the form that `sha256sum -c` reads. It marks a folder as one
// that may be replaced.
const ListFile = "files.sha256"

// Write puts the site into a folder, all of it or nothing: it is written
// beside the folder and then takes its place. A folder is replaced only if it
// is empty or holds a site written before and nothing else.
func (s *Site) Write(dir string) error { return s.WriteUntil(context.Background(), dir) }

// ErrInterrupted says that a site was not written because the context ended.
var ErrInterrupted = errors.New("interrupted")

// WriteUntil is Write, given up if the context ends before the new site is in
// place: then the folder is as it was.
func (s *Site) WriteUntil(ctx context.Context, dir string) (err error) {
	if a, b, found := s.clash(); found {
		return fmt.Errorf("%s and %s are one file to some computers: rename one of them", a, b)
	}
	dir, err = filepath.Abs(dir)
	if err != nil {
		return err
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	exists, err := replaceable(dir)
	for range 100 {
		if !errors.Is(err, fs.ErrNotExist) {
			break
		}
		exists, err = replaceable(dir) // another run has put its site there while this one looked
	}
	if err != nil {
		return err
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return fmt.Errorf("cannot make the folder %s: %s", parent, cause(err))
	}
	paths := append(s.Paths(), ListFile)
	if exists {
		old, err := listed(filepath.Join(dir, ListFile))
		if err != nil {
			return err
		}
		for p := range old {
			paths = append(paths, p)
		}
	}
	slices.Sort(paths)
	tmp, release, err := claim(parent, slices.Compact(paths))
	if err != nil {
		return err
	}
	keep := false
	defer func() {
		if !keep {
			release()
		}
	}()
	fresh, old := filepath.Join(tmp, "new"), filepath.Join(tmp, "old")
	if err := s.writeInto(ctx, fresh); err != nil {
		return fmt.Errorf("cannot write the site: %w", err)
	}
	testOnlyStep("site")
	if ctx.Err() != nil {
		return ErrInterrupted
	}
	if exists {
		err := testOnlyExchange(fresh, dir)
		if err == nil {
			sweepSites(parent)
			return nil
		}
		if !errors.Is(err, errors.ErrUnsupported) {
			return fmt.Errorf("cannot put the new site in place: %w", err)
		}
		if err := os.Rename(dir, old); err != nil {
			return fmt.Errorf("cannot move the old site out of the way: %w", err)
		}
	}
	if err := testOnlyRename(fresh, dir); err != nil {
		if exists {
			if back := os.Rename(old, dir); back != nil {
				keep = true
				return fmt.Errorf("cannot put the new site in place: %w; the old one is in %s", err, old)
			}
		}
		return fmt.Errorf("cannot put the new site in place: %w", err)
	}
	sweepSites(parent)
	return nil
}

// testOnlyRename is replaced by a test that needs the last move to fail.
var testOnlyRename = os.Rename

func (s *Site) writeInto(ctx context.Context, dir string) error {
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	paths := s.Paths()
	made := map[string]bool{".": true}
	for _, p := range paths {
		if folder := slashDir(p); !made[folder] {
			if err := root.MkdirAll(filepath.FromSlash(folder), 0o777); err != nil {
				return err
			}
			made[folder] = true
		}
	}
	errs := make([]error, len(paths))
	var failed atomic.Bool
	inParallel(len(paths), func(i int) {
		if failed.Load() {
			return
		}
		data, _, err := s.Make(paths[i])
		if ctx.Err() != nil {
			err = ErrInterrupted
		}
		if err == nil {
			err = root.WriteFile(filepath.FromSlash(paths[i]), data, 0o666)
		}
		if errs[i] = err; err != nil {
			failed.Store(true)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	list, err := s.checksums("")
	if err != nil {
		return err
	}
	return root.WriteFile(ListFile, list, 0o666)
}

func slashDir(p string) string {
	if i := strings.LastIndexByte(p, '/'); i >= 0 {
		return p[:i]
	}
	return "."
}

// replaceable reports whether a folder exists, and refuses one that holds
// anything but a site written before: nobody's own file is ever removed.
func replaceable(dir string) (exists bool, err error) {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, fmt.Errorf("cannot look at %s: %s", dir, cause(err))
	case !info.IsDir():
		return false, fmt.Errorf("%s is a file, not a folder", dir)
	}
	ours, err := listed(filepath.Join(dir, ListFile))
	if err != nil {
		return false, err
	}
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		if d.IsDir() || ours[filepath.ToSlash(rel)] {
			return nil
		}
		if ours == nil {
			return fmt.Errorf("%s is not a published site and not empty: choose another folder", dir)
		}
		return fmt.Errorf("%s holds %s, which was not published by this program: move it away or choose another folder", dir, filepath.ToSlash(rel))
	})
	return true, err
}

// listed returns the paths that a list of a published site names, and the list
// itself; nil if there is none.
func listed(name string) (map[string]bool, error) {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %s", name, cause(err))
	}
	return listedIn(data)
}

// listedIn is listed for the text of the list.
func listedIn(data []byte) (map[string]bool, error) {
	ours := map[string]bool{ListFile: true}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		sum, path, ok := strings.Cut(lines.Text(), "  ")
		if !ok || len(sum) != 64 {
			return nil, nil // a file of this name that is not ours
		}
		ours[path] = true
	}
	return ours, lines.Err()
}
