package build

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

// A Site is everything that is published, in memory: files by their path,
// slash-separated and relative to the root of the site.
type Site struct {
	files map[string][]byte
}

// NewSite returns a site of the files given, text by path.
func NewSite(files map[string]string) (*Site, error) {
	s := &Site{}
	for _, p := range slices.Sorted(maps.Keys(files)) {
		if err := s.add(p, []byte(files[p])); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Paths returns the paths of all files, in the order of their bytes.
func (s *Site) Paths() []string { return slices.Sorted(maps.Keys(s.files)) }

// File returns a file of the site. The bytes must not be changed.
func (s *Site) File(path string) ([]byte, bool) {
	data, ok := s.files[path]
	return data, ok
}

// add puts a file into the site. It refuses a path that is none or is taken.
func (s *Site) add(path string, data []byte) error {
	if !fs.ValidPath(path) || path == "." {
		return fmt.Errorf("%q cannot be a path of the site", path)
	}
	if s.files == nil {
		s.files = map[string][]byte{}
	}
	if _, ok := s.files[path]; ok {
		return fmt.Errorf("two pages would be published as %s", path)
	}
	s.files[path] = data
	return nil
}

// clash returns two paths that a file system which ignores case, or which
// cannot hold a file and a folder of one name, would take for one another.
func (s *Site) clash() (a, b string, found bool) {
	fold := map[string]string{}
	paths := s.Paths()
	for _, p := range paths {
		f := strings.ToLower(p)
		if other, ok := fold[f]; ok {
			return other, p, true
		}
		fold[f] = p
	}
	for _, p := range paths {
		f := strings.ToLower(p)
		for i := strings.IndexByte(f, '/'); i >= 0; {
			if other, ok := fold[f[:i]]; ok {
				return other, p, true
			}
			next := strings.IndexByte(f[i+1:], '/')
			if next < 0 {
				break
			}
			i += 1 + next
		}
	}
	return "", "", false
}

// checksums lists the SHA-256 of every file below a folder ("" is the root),
// paths relative to it, in the form that `sha256sum -c` reads.
func (s *Site) checksums(folder string) []byte {
	var b bytes.Buffer
	for _, p := range s.Paths() {
		rel := p
		if folder != "" {
			var ok bool
			if rel, ok = strings.CutPrefix(p, folder+"/"); !ok {
				continue
			}
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(s.files[p]), rel)
	}
	return b.Bytes()
}
