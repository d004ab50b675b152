package build

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
)

// tempFile is the name of a file that is being written. One that a stopped
// program left behind is known by it.
var tempFile = regexp.MustCompile(`^\.workings-[0-9]+\.tmp$`)

// writeWhole puts a file in place, all of it or nothing, and sees to it that
// it stays there when the power fails. A file that is replaced keeps its
// permissions; anything but a file is refused.
func writeWhole(path string, data []byte) (err error) {
	mode := fs.FileMode(0o644)
	info, err := os.Lstat(path)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return fmt.Errorf("%s is no plain file, so it is not replaced", path)
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot look at %s: %s", path, cause(err))
	}
	dir := filepath.Dir(path)
	sweepTemps(dir)
	f, err := os.CreateTemp(dir, ".workings-*.tmp")
	if err != nil {
		return fmt.Errorf("cannot write beside %s: %s", path, cause(err))
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("cannot put %s in place: %w", path, err)
	}
	syncDir(dir)
	return nil
}

// sweepTemps removes what a stopped program left in a folder.
func sweepTemps(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // writing there will say why
	}
	for _, e := range entries {
		if e.Type().IsRegular() && tempFile.MatchString(e.Name()) {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// syncDir makes a rename last. Some systems cannot do that for a folder, and
// do not need it.
func syncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}
