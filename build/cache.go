package build

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"sync"

	"workings/calc"
	"workings/calc/diag"
	"workings/theme"
)

// A Cache keeps what sealed releases gave from one build to the next, so that
// a preview computes only what has changed. Its zero value is ready; it holds
// what the last build used and nothing older.
type Cache struct {
	mu       sync.Mutex
	loaded   map[string]loaded
	rendered map[renderKey]rendered
	made     *theme.Theme
	models   calc.Memo // of the working tree
}

// memo is what the models of the working tree gave at the build before, in a
// preview, which builds again and again.
func (c *Cache) memo(opt Options) *calc.Memo {
	if c == nil || !opt.Preview {
		return nil
	}
	return &c.models
}

// theme returns a theme, the same at each build.
func (c *Cache) theme() (*theme.Theme, error) {
	if c == nil {
		return theme.New(theme.Options{})
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.made == nil {
		t, err := theme.New(theme.Options{})
		if err != nil {
			return nil, err
		}
		c.made = t
	}
	return c.made, nil
}

type loaded struct {
	release *Release
	list    diag.List
}

// A renderKey is all that the files of a release depend on: itself, the
// release that it is compared with, and what the site says of all releases.
type renderKey struct {
	release, before *Release
	site            string
}

type rendered struct {
	paths  []string
	files  []*file
	result *recorder // which they are made from
}

// swap puts the results of a build in place of those of the one before.
func (c *Cache) swap(l map[string]loaded, r map[renderKey]rendered) {
	if c == nil {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if l != nil {
		c.loaded = l
	}
	if r != nil {
		c.rendered = r
	}
}

func (c *Cache) release(key string) (loaded, bool) {
	if c == nil {
		return loaded{}, false
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	l, ok := c.loaded[key]
	return l, ok
}

func (c *Cache) files(key renderKey) (rendered, bool) {
	if c == nil {
		return rendered{}, false
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	r, ok := c.rendered[key]
	return r, ok
}

// siteText is what the site says of all releases, for comparison.
func siteText(s *theme.Site) string {
	data, err := json.Marshal(s)
	if err != nil {
		return "" // cannot happen: the type holds texts only; and then nothing is kept
	}
	return string(data)
}

// treeSum is the SHA-256 of all files below a folder, with their names.
func treeSum(fsys fs.FS) (string, error) {
	h := sha256.New()
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if !d.Type().IsRegular() {
			fmt.Fprintf(h, "%q %v\n", name, d.Type())
			return nil
		}
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		fmt.Fprintf(h, "%q %x\n", name, sha256.Sum256(data))
		return nil
	})
	return hex.EncodeToString(h.Sum(nil)), err
}
