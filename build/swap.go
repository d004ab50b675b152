package build

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A site is written into a hidden folder beside its target, the new one in
// "new" and, where the system cannot exchange two folders in one step, the old
// one in "old". The file "own" in it lists every path that this program may
// remove there again, and is locked as long as the program runs: what a
// stopped one left behind is known by that, and so is what is not its own.
const (
	siteTemp = ".site-"
	ownFile  = "own"
)

// testOnlyExchange is replaced by a test of systems that cannot exchange.
var testOnlyExchange = exchange

// A claim is a temporary folder beside a target.
type claim struct {
	dir   string
	own   *os.File // locked
	paths []string // what may be removed in it
}

// newClaim makes a temporary folder in a folder.
func newClaim(parent string) (c *claim, err error) {
	for range 100 {
		c, err = tryClaim(parent)
		if !errors.Is(err, errTaken) {
			break
		}
	}
	return c, err
}

// errTaken says that another run swept a folder away before it was locked.
var errTaken = errors.New("another program took it")

func tryClaim(parent string) (*claim, error) {
	dir, err := os.MkdirTemp(parent, siteTemp)
	if err != nil {
		return nil, fmt.Errorf("cannot write beside %s: %s", parent, cause(err))
	}
	name := filepath.Join(dir, ownFile)
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
	if err == nil && (lock(f) != nil || !stillAt(f, name)) {
		err = errTaken
	}
	if err != nil {
		if f != nil {
			f.Close()
		}
		if _, gone := os.Stat(dir); errors.Is(gone, fs.ErrNotExist) {
			err = errTaken
		}
		os.RemoveAll(dir) // it holds nothing but our own file
		return nil, fmt.Errorf("cannot write beside %s: %w", parent, err)
	}
	return &claim{dir: dir, own: f}, nil
}

// add notes paths of what is about to be put into the folder.
func (c *claim) add(paths []string) error {
	if _, err := c.own.WriteString(strings.Join(paths, "\n") + "\n"); err != nil {
		return fmt.Errorf("cannot write beside %s: %w", filepath.Dir(c.dir), err)
	}
	c.paths = append(c.paths, paths...)
	return nil
}

// release removes the folder.
func (c *claim) release() { clearOwn(c.dir, c.paths); c.own.Close() }

// stillAt reports whether an open file still has its name.
func stillAt(f *os.File, name string) bool {
	a, err := f.Stat()
	if err != nil {
		return false
	}
	b, err := os.Stat(name)
	return err == nil && os.SameFile(a, b)
}

// clearOwn removes a temporary folder with what this program put there, and
// leaves whatever else came into it.
func clearOwn(tmp string, paths []string) {
	for _, top := range []string{"new", "old"} {
		if _, err := os.Lstat(filepath.Join(tmp, top)); err != nil {
			continue // as a rule it has taken the target's place
		}
		folders := map[string]bool{}
		for _, p := range paths {
			if !fs.ValidPath(p) || p == "." {
				continue
			}
			os.Remove(filepath.Join(tmp, top, filepath.FromSlash(p)))
			for d := slashDir(p); d != "."; d = slashDir(d) {
				folders[d] = true
			}
		}
		list := make([]string, 0, len(folders))
		for d := range folders {
			list = append(list, d)
		}
		slices.Sort(list)
		slices.Reverse(list) // a folder after those in it
		for _, d := range append(list, ".") {
			os.Remove(filepath.Join(tmp, top, filepath.FromSlash(d)))
		}
	}
	if entries, err := os.ReadDir(tmp); err == nil && len(entries) == 1 && entries[0].Name() == ownFile {
		os.Remove(filepath.Join(tmp, ownFile))
		os.Remove(tmp)
	}
}

// sweepSites removes what stopped programs left beside a target.
func sweepSites(parent string) {
	entries, err := os.ReadDir(parent)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), siteTemp) {
			continue
		}
		tmp := filepath.Join(parent, e.Name())
		f, err := os.OpenFile(filepath.Join(tmp, ownFile), os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if lock(f) == nil {
			var paths []string
			if data, err := os.ReadFile(f.Name()); err == nil {
				for lines := bufio.NewScanner(bytes.NewReader(data)); lines.Scan(); {
					paths = append(paths, lines.Text())
				}
			}
			clearOwn(tmp, paths)
		}
		f.Close()
	}
}
