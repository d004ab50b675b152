//go:build !linux && !darwin

package build

import (
	"errors"
	"os"
	"sync"
)

// exchange is not known here: two moves take its place.
func exchange(a, b string) error { return errors.ErrUnsupported }

var locked sync.Map

// lock knows the files of this program only: what another one left behind
// stays, since it may still be running.
func lock(f *os.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() > 0 {
		return errors.ErrUnsupported
	}
	if _, taken := locked.LoadOrStore(f.Name(), true); taken {
		return errors.ErrUnsupported
	}
	return nil
}
