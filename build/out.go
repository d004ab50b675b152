package build

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// ListFile is the file at the root of a site that lists all others with their
// checksums, in the form that `sha256sum -c` reads. It marks a folder as one
// that may be replaced.
const ListFile = "files.sha256"

// ErrInterrupted says that a site was not written because the context ended.
var ErrInterrupted = errors.New("interrupted")

// Write puts the site into a folder, all of it or nothing: it is written
// beside the folder and then takes its place. A folder is replaced only if it
// is empty or holds a site written before and nothing else.
func (s *Site) Write(dir string) error {
	st, err := newStage(context.Background(), dir, s)
	if err != nil {
		return err
	}
	defer st.release()
	paths := s.Paths()
	errs := make([]error, len(paths))
	inParallel(len(paths), func(i int) {
		data, _, err := s.Make(paths[i])
		if err == nil {
			err = st.put(paths[i], data)
		}
		errs[i] = err
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return st.publish(s)
}

// A stage is a hidden folder beside a target, in which the files of a site are
// put as they are made, to take the target's place together.
type stage struct {
	ctx    context.Context
	target string
	claim  *claim // nil once what it holds must stay
	root   *os.Root
	folder map[string]*os.Root // those with many files
	beside *os.Root            // the folder that holds the target and the stage
	before bool                // there is a site whose files may be taken over

	// Systems make files in one folder one after the other, and processors that
	// wait for that have better things to do.
	creating sync.Mutex
}

// newStage makes a stage for a site, or says why the target cannot be replaced
// by it.
func newStage(ctx context.Context, dir string, s *Site) (*stage, error) {
	if a, b, found := s.clash(); found {
		return nil, fmt.Errorf("%s and %s are one file to some computers: rename one of them", a, b)
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	before, err := mayReplace(dir)
	if err != nil {
		return nil, err
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return nil, fmt.Errorf("cannot make the folder %s: %s", parent, cause(err))
	}
	c, err := newClaim(parent)
	if err != nil {
		return nil, err
	}
	st := &stage{ctx: ctx, target: dir, claim: c, before: before, folder: map[string]*os.Root{}}
	if err := st.prepare(s); err != nil {
		st.release()
		return nil, err
	}
	return st, nil
}

// fresh is the folder of the new site.
func (st *stage) fresh() string { return filepath.Join(st.claim.dir, "new") }

// prepare makes the folders of a site.
func (st *stage) prepare(s *Site) error {
	paths := s.Paths()
	if err := st.claim.add(append(paths, ListFile)); err != nil {
		return err
	}
	if err := os.Mkdir(st.fresh(), 0o777); err != nil {
		return &cannotWrite{err}
	}
	root, err := os.OpenRoot(st.fresh())
	if err != nil {
		return &cannotWrite{err}
	}
	st.root = root
	if st.beside, err = os.OpenRoot(filepath.Dir(st.target)); err != nil {
		return &cannotWrite{err}
	}
	holds := map[string]int{}
	for _, p := range paths {
		holds[slashDir(p)]++
	}
	for _, folder := range slices.Sorted(maps.Keys(holds)) {
		name := filepath.FromSlash(folder)
		if err := root.MkdirAll(name, 0o777); err != nil {
			return &cannotWrite{err}
		}
		if holds[folder] < manyFiles {
			continue
		}
		if st.folder[folder], err = root.OpenRoot(name); err != nil {
			return &cannotWrite{err}
		}
	}
	return nil
}

// manyFiles is for how many files a folder is kept open, which saves looking
// for it with each of them.
const manyFiles = 32

// in gives the open folder in which a path is made, and its name there.
func (st *stage) in(path string) (*os.Root, string) {
	dir := slashDir(path)
	if root := st.folder[dir]; root != nil {
		return root, strings.TrimPrefix(path, dir+"/")
	}
	return st.root, filepath.FromSlash(path)
}

// put writes a file of the site, or takes that of the site before if it is the
// same: what has not changed keeps its time, by which mirrors and browsers know.
func (st *stage) put(path string, data []byte) error {
	if st.ctx.Err() != nil {
		return ErrInterrupted
	}
	if st.before && st.takeOver(path, data) {
		return nil
	}
	// A new file in any case: one that is there could be that of the target.
	root, name := st.in(path)
	st.creating.Lock()
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	st.creating.Unlock()
	if err == nil {
		_, err = f.Write(data)
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		return &cannotWrite{err}
	}
	return nil
}

// takeOver gives a file of the target a second name on the stage, if it holds
// what is wanted and the system has second names.
func (st *stage) takeOver(path string, data []byte) bool {
	path = filepath.FromSlash(path)
	was := filepath.Join(filepath.Base(st.target), path)
	if info, err := st.beside.Lstat(was); err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(data)) {
		return false
	}
	now := filepath.Join(filepath.Base(st.claim.dir), filepath.Base(st.fresh()), path)
	if st.beside.Link(was, now) != nil {
		return false
	}
	// What has the name now counts: another run may replace the target at any time.
	info, err := st.root.Lstat(path)
	if err == nil && info.Mode().IsRegular() {
		if text, err := st.root.ReadFile(path); err == nil && bytes.Equal(text, data) {
			return true
		}
	}
	st.root.Remove(path)
	return false
}

// A cannotWrite says that a file was made and could not be written.
type cannotWrite struct{ cause error }

func (e *cannotWrite) Error() string { return "cannot write the site: " + e.cause.Error() }
func (e *cannotWrite) Unwrap() error { return e.cause }

// get reads a file that was put.
func (st *stage) get(path string) ([]byte, error) { return st.root.ReadFile(filepath.FromSlash(path)) }

// release removes what was not published.
func (st *stage) release() {
	st.close()
	if st.claim != nil {
		st.claim.release()
	}
}

// close lets go of the folders: some systems do not move one that is open.
func (st *stage) close() {
	for _, root := range []*os.Root{st.root, st.beside} {
		if root != nil {
			root.Close()
		}
	}
	for _, root := range st.folder {
		if root != nil {
			root.Close()
		}
	}
}

// publish puts the site, all of whose files have been put, in place of the
// target.
func (st *stage) publish(s *Site) error {
	list, err := s.checksums("")
	if err == nil {
		err = st.put(ListFile, list)
	}
	if err != nil {
		return err
	}
	if st.ctx.Err() != nil {
		return ErrInterrupted
	}
	st.close()
	dir, fresh, old := st.target, st.fresh(), filepath.Join(st.claim.dir, "old")
	exists, err := mayReplace(dir)
	if err != nil {
		return err
	}
	if exists {
		ours, err := listed(filepath.Join(dir, ListFile))
		if err == nil {
			err = st.claim.add(slices.Sorted(maps.Keys(ours)))
		}
		if err != nil {
			return err
		}
	}
	testOnlyStep("site")
	if exists {
		err = testOnlyExchange(fresh, dir)
		if err == nil {
			sweepSites(filepath.Dir(dir))
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
				st.claim = nil
				return fmt.Errorf("cannot put the new site in place: %w; the old one is in %s", err, old)
			}
		}
		return fmt.Errorf("cannot put the new site in place: %w", err)
	}
	sweepSites(filepath.Dir(dir))
	return nil
}

// testOnlyRename is replaced by a test that needs the last move to fail.
var testOnlyRename = os.Rename

func slashDir(p string) string {
	if i := strings.LastIndexByte(p, '/'); i >= 0 {
		return p[:i]
	}
	return "."
}

// mayReplace is replaceable, asked again while another run puts its site there.
func mayReplace(dir string) (exists bool, err error) {
	for range 100 {
		if exists, err = replaceable(dir); !errors.Is(err, fs.ErrNotExist) {
			break
		}
	}
	return exists, err
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
