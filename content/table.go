package content

import (
	"errors"
	"fmt"
	"io/fs"

	"workings/calc/diag"
)

// Table returns the text of a table by the name written in a sheet. Only
// files inside the manual are read, up to 16 MiB; the error says why not, as
// part of a sentence ("no such file").
func (m *Manual) Table(name string) (*diag.File, error) {
	if !fs.ValidPath(name) || name == "." {
		return nil, errors.New("not a path inside the manual: write it from the manual's folder, with / and without ..")
	}
	m.mu.Lock()
	f := m.Files[name]
	m.mu.Unlock()
	if f == nil {
		info, err := fs.Stat(m.FS, name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			if hint := didYouMean(name, m.tables(name)); hint != "" {
				return nil, fmt.Errorf("no such file, %s", hint)
			}
			return nil, errors.New("no such file")
		case err != nil:
			return nil, errors.New(plainError(err))
		case info.IsDir():
			return nil, errors.New("it is a folder, not a file")
		case info.Size() > maxTable:
			return nil, fmt.Errorf("it has %d bytes, more than the %d MiB that are read", info.Size(), maxTable>>20)
		}
		raw, err := fs.ReadFile(m.FS, name)
		if err != nil {
			return nil, errors.New(plainError(err))
		}
		f = newText(m.prefix+name, raw)
		m.mu.Lock()
		// Whoever came first stays, so that a file has one identity.
		if first := m.Files[name]; first != nil {
			f = first
		} else {
			m.Files[name] = f
		}
		m.mu.Unlock()
	}
	if at, why := badText(f.Text); at >= 0 {
		line, col := f.Position(at)
		return nil, fmt.Errorf("%s (line %d, column %d)", why, line, col)
	}
	return f, nil
}

// tables lists the paths in the folder of name.
func (m *Manual) tables(name string) []string {
	var out []string
	for _, s := range m.siblings(name) {
		out = append(out, join(name, s))
	}
	return out
}
