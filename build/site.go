package build

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// A Site is everything that is published: files by their path, slash-separated
// and relative to the root of the site. Its files are made at the latest when
// they are asked for, each once.
type Site struct {
	files   map[string]*file
	order   []string // in which they were added
	version string   // that names its content; "" to have it computed
}

// A file is made by the first who asks for it.
type file struct {
	make func() ([]byte, error)
	once sync.Once
	data []byte
	err  error

	sumOnce sync.Once
	sum     [sha256.Size]byte
}

func (f *file) get() ([]byte, error) {
	f.once.Do(func() {
		f.data, f.err = f.make()
		f.make = nil // and all that it holds
	})
	return f.data, f.err
}

// checksum is the SHA-256 of a file that has been made.
func (f *file) checksum() [sha256.Size]byte {
	f.sumOnce.Do(func() { f.sum = sha256.Sum256(f.data) })
	return f.sum
}

func madeFile(data []byte) *file {
	return &file{make: func() ([]byte, error) { return data, nil }}
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

// Has reports whether a file belongs to the site, made or not.
func (s *Site) Has(path string) bool { return s.files[path] != nil }

// File returns a file of the site; none if it could not be made. The bytes
// must not be changed.
func (s *Site) File(path string) ([]byte, bool) {
	data, ok, err := s.Make(path)
	return data, ok && err == nil
}

// Make is File for a site that was not made as a whole, with the reason why a
// file that belongs to it could not be made.
func (s *Site) Make(path string) (data []byte, ok bool, err error) {
	f, ok := s.files[path]
	if !ok {
		return nil, false, nil
	}
	if data, err = f.get(); err != nil {
		return nil, true, fmt.Errorf("%s: %w", path, err)
	}
	return data, true, nil
}

// Version names the content of the site: another content has another name.
func (s *Site) Version() string {
	if s.version != "" {
		return s.version
	}
	list, _ := s.checksums("")
	sum := sha256.Sum256(list)
	return hex.EncodeToString(sum[:8])
}

// add puts a file into the site. It refuses a path that is none or is taken.
func (s *Site) add(path string, data []byte) error { return s.put(path, madeFile(data)) }

// put is add for a file that may still have to be made.
func (s *Site) put(path string, f *file) error {
	if !fs.ValidPath(path) || path == "." {
		return fmt.Errorf("%q cannot be a path of the site", path)
	}
	if s.files == nil {
		s.files = map[string]*file{}
	}
	if _, ok := s.files[path]; ok {
		return fmt.Errorf("two pages would be published as %s", path)
	}
	s.files[path] = f
	s.order = append(s.order, path)
	return nil
}

// makeAll makes the files on all processors, in the order in which they were
// added. The first error in that order counts, so that it does not depend on
// their speed.
func (s *Site) makeAll(progress func(done, all int)) error {
	var done atomic.Int64
	inParallel(len(s.order), func(i int) {
		f := s.files[s.order[i]]
		if _, err := f.get(); err == nil {
			f.checksum()
		}
		if n := done.Add(1); progress != nil {
			progress(int(n), len(s.order))
		}
	})
	for _, p := range s.order {
		if _, _, err := s.Make(p); err != nil {
			return err
		}
	}
	return nil
}

// inParallel calls f for 0 to n-1, in this order, on all processors.
func inParallel(n int, f func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wg.Wait()
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
// paths relative to it, in the form that `sha256sum -c` reads; but for a list
// of that folder itself.
func (s *Site) checksums(folder string) ([]byte, error) {
	var b bytes.Buffer
	if folder != "" {
		folder += "/"
	}
	for _, p := range s.Paths() {
		rel, ok := strings.CutPrefix(p, folder)
		if !ok || rel == ListFile {
			continue
		}
		if _, _, err := s.Make(p); err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%x  %s\n", s.files[p].checksum(), rel)
	}
	return b.Bytes(), nil
}
