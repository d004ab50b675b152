package build

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange gives two folders of one disk each other's name, in one step. The
// error is errors.ErrUnsupported where the file system cannot do that.
func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return errors.ErrUnsupported
	}
	return err
}

// lock takes a file for this program alone, until it is closed or the program
// ends. It does not wait.
func lock(f *os.File) error {
	return unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
}
