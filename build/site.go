package build

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
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
	data []byte // nil once it lies on a stage
	err  error

	path  string // in the site
	copy  string // the release in whose offline copy it stands, or everyCopy; "" for none
	stage *stage // where it is put once it is made; nil: it stays in memory

	// What is asked about a file that has been made, found at the latest when
	// it is asked for.
	sumOnce, readOnce, packOnce sync.Once
	sum                         [sha256.Size]byte
	page                        *sitePage
	packed                      packedFile
}

// everyCopy says of a file that it stands in the offline copies of all releases.
const everyCopy = "*"

// get gives the file.
func (f *file) get() ([]byte, error) {
	if err := f.done(); err != nil || f.stage == nil {
		return f.data, err
	}
	return f.stage.get(f.path)
}

// done makes the file, or waits for whoever makes it. A file that goes to a
// stage is not kept in memory, and what will be asked about it is found before.
func (f *file) done() error {
	f.once.Do(func() {
		f.data, f.err = f.make()
		f.make = nil // and all that it holds
		if f.stage == nil || f.err != nil {
			return
		}
		f.checksum()
		f.pack()
		f.read().keep()
		f.err = f.stage.put(f.path, f.data)
		f.data = nil
	})
	return f.err
}

// checksum is the SHA-256 of a file that has been made.
func (f *file) checksum() [sha256.Size]byte {
	f.sumOnce.Do(func() { f.sum = sha256.Sum256(f.data) })
	return f.sum
}

// read gives the places and links of a page that has been made; none of
// another file.
func (f *file) read() *sitePage {
	f.readOnce.Do(func() {
		f.page = &sitePage{}
		if strings.HasSuffix(f.path, ".html") {
			f.page = readPage(f.data)
		}
	})
	return f.page
}

// pack gives a file that has been made as it goes into an offline copy.
func (f *file) pack() packedFile {
	f.packOnce.Do(func() {
		switch {
		case f.copy == "":
		case !strings.HasSuffix(f.path, ".html"):
			f.packed = deflate(f.checksum(), f.data)
		default:
			page := f.data
			if f.path == f.copy+"/index.html" {
				page = withoutOffer(page)
			}
			if parts := unlink(page, f.copy); len(parts) > 1 || len(parts[0]) != len(f.data) {
				f.packed = deflate(sumOf(parts), parts...)
			} else {
				f.packed = deflate(f.checksum(), f.data)
			}
		}
	})
	return f.packed
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
		return nil, true, cannotMake(path, err)
	}
	return data, true, nil
}

func cannotMake(path string, err error) error {
	if notWritten(err) {
		return err
	}
	return fmt.Errorf("%s: %w", path, err)
}

// notWritten reports whether a file was made, but not written.
func notWritten(err error) bool {
	var w *cannotWrite
	return errors.Is(err, ErrInterrupted) || errors.As(err, &w)
}

// made gives a file of the site that has been made.
func (s *Site) made(path string) (*file, error) {
	f := s.files[path]
	if err := f.done(); err != nil {
		return nil, cannotMake(path, err)
	}
	return f, nil
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
	f.path = path
	s.files[path] = f
	s.order = append(s.order, path)
	return nil
}

// makeAll makes the files on all processors, in the order in which they were
// added, and puts them on a stage, or keeps them in memory if that is nil. The
// first error in that order counts, so that it does not depend on their speed.
func (s *Site) makeAll(st *stage, progress func(done, all int)) error {
	for _, f := range s.files {
		f.stage = st
	}
	var done atomic.Int64
	inParallel(len(s.order), func(i int) {
		if f := s.files[s.order[i]]; f.done() == nil {
			f.checksum()
		}
		if n := done.Add(1); progress != nil {
			progress(int(n), len(s.order))
		}
	})
	for _, p := range s.order {
		if _, err := s.made(p); err != nil {
			return err
		}
	}
	return nil
}

// alternate gives the elements of two lists, each in its order, one of each in
// turn as long as there are both. Files that take little to make but a place on
// the disk come between those that take a processor.
func alternate[T any](a, b []T) []T {
	out := make([]T, 0, len(a)+len(b))
	for n := min(len(a), len(b)); len(out) < 2*n; a, b = a[1:], b[1:] {
		out = append(out, a[0], b[0])
	}
	return append(append(out, a...), b...)
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
		f, err := s.made(p)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%x  %s\n", f.checksum(), rel)
	}
	return b.Bytes(), nil
}
