package content

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"workings/calc/diag"
)

// The largest files that are read.
const (
	maxTable   = 16 << 20
	maxPicture = 8 << 20
	maxText    = 4 << 20
)

var bom = []byte("\uFEFF")

// newText returns a text file without a byte order mark and with "\n" as the
// only line end, so that the same manual gives the same places and the same
// bytes whichever program wrote it.
func newText(name string, raw []byte) *diag.File {
	raw = bytes.TrimPrefix(raw, bom)
	if bytes.IndexByte(raw, '\r') >= 0 {
		raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	}
	// Without room behind it, nobody who appends to a piece of the text can
	// write into what others read.
	return diag.NewFile(name, slices.Clip(raw))
}

// readText reads a text file of the manual and enters it in Files. It returns
// a nil file and no error if there is none; what is wrong with the file's text
// as a whole is reported.
func (m *Manual) readText(name string, limit int64, list *diag.List) *diag.File {
	whole := diag.Span{File: diag.NewFile(m.prefix+name, nil)}
	info, err := fs.Stat(m.FS, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	var raw []byte
	switch {
	case err != nil:
	case info.IsDir():
		list.Add(whole, "unreadable", "%s is a folder, not a file", name)
		return nil
	case info.Size() > limit:
		e := list.Add(whole, "too-large", "the file has %d bytes, more than the %s that are read", info.Size(), kibi(limit))
		if path.Dir(name) == pagesDir {
			e.Hint = splitHint
		}
		return nil
	default:
		raw, err = fs.ReadFile(m.FS, name)
	}
	if err != nil {
		list.Add(whole, "unreadable", "cannot be read: %s", plainError(err))
		return nil
	}
	f := newText(m.prefix+name, raw)
	m.mu.Lock()
	m.Files[name] = f
	m.mu.Unlock()
	if at, why := badText(f.Text); at >= 0 {
		list.Add(diag.Span{File: f, Start: at, End: at + 1}, "not-text", "%s", why).
			Hint = "save the file as UTF-8 text"
		return nil
	}
	return f
}

// kibi says a number of bytes in the largest binary prefix that divides it.
func kibi(n int64) string {
	if n >= 1<<20 && n%(1<<20) == 0 {
		return fmt.Sprintf("%d MiB", n>>20)
	}
	return fmt.Sprintf("%d KiB", n>>10)
}

// badText finds the first byte that makes a text no UTF-8 text, or -1.
func badText(b []byte) (at int, why string) {
	if len(b) >= 2 && (b[0] == 0xff && b[1] == 0xfe || b[0] == 0xfe && b[1] == 0xff) {
		return 0, "the file is UTF-16, not UTF-8"
	}
	for i := 0; i < len(b); {
		if b[i] == 0 {
			return i, "the file holds a zero byte, so it is no text"
		}
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n == 1 {
			return i, "the file is not UTF-8 at this place"
		}
		i += n
	}
	return -1, ""
}

// plainError says what the system answered, without the path that fs puts before it.
func plainError(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return err.Error()
}

// siblings lists the files in the folder of name, sorted.
func (m *Manual) siblings(name string) []string {
	entries, err := fs.ReadDir(m.FS, path.Dir(name))
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			names = append(names, e.Name())
		}
	}
	sort.Strings(names)
	return names
}

// place returns where sub, a part of text, begins in it. Libraries hand back
// slices of the source without saying where they lie; the capacity of a slice
// counts the bytes to the end of its array, which tells the place. ok is false
// if sub was copied.
func place(text, sub []byte) (at int, ok bool) {
	at = cap(text) - cap(sub)
	if len(sub) == 0 || at < 0 || at+len(sub) > len(text) || &text[at] != &sub[0] {
		return 0, false
	}
	return at, true
}

// didYouMean gives the hint for a name that is like one of the others, or "".
func didYouMean(name string, others []string) string {
	if n := diag.Nearest(name, others); n != "" {
		return "did you mean " + n + "?"
	}
	return ""
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
