package build

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"workings/content"
)

// A Source is where a manual lies: its working tree, and the tags of the
// repository around it.
type Source struct {
	FS fs.FS
	// Tag opens a tag, and gives a key that changes with its content; nil if
	// there is no repository.
	Tag func(name string) (fsys fs.FS, key string, err error)
	// Commit opens a commit by its sum; nil if there is no repository.
	Commit func(sum string) (fsys fs.FS, key string, err error)
}

// OpenDir opens a manual in a folder. Nothing outside the folder can be read
// through it: a symbolic link that leads out is an error where it is met. The
// source is usable until close is called.
func OpenDir(dir string) (src Source, close func() error, err error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		var pe *fs.PathError
		switch {
		case errors.Is(err, fs.ErrNotExist):
			err = fmt.Errorf("there is no folder %s", dir)
		case errors.As(err, &pe):
			err = fmt.Errorf("cannot open the folder %s: %v", dir, pe.Err)
		}
		return Source{}, nil, err
	}
	src = Source{
		FS:     root.FS(),
		Tag:    func(name string) (fs.FS, string, error) { return openTag(dir, name) },
		Commit: func(sum string) (fs.FS, string, error) { return openSum(dir, sum) },
	}
	return src, root.Close, nil
}

// release opens the files of an earlier release. The key changes with their
// content.
func (s Source) release(r content.ReleaseSource) (fsys fs.FS, key string, err error) {
	switch {
	case r.Folder != "":
		return s.folder(r.Folder)
	case r.Zip != "":
		return s.zip(r.Zip, r.SHA256)
	case r.Tag != "":
		if s.Tag == nil {
			return nil, "", fmt.Errorf("tag %s: the manual does not lie in a Git repository", r.Tag)
		}
		return s.Tag(r.Tag)
	case r.Commit != "":
		if s.Commit == nil {
			return nil, "", fmt.Errorf("commit %s: the manual does not lie in a Git repository", r.Commit)
		}
		return s.Commit(r.Commit)
	}
	return nil, "", errors.New("the release names neither a folder nor a zip nor a tag nor a commit")
}

func (s Source) folder(name string) (fs.FS, string, error) {
	info, err := fs.Stat(s.FS, name)
	switch {
	case err != nil:
		return nil, "", fmt.Errorf("cannot open the folder %s: %s", name, cause(err))
	case !info.IsDir():
		return nil, "", fmt.Errorf("%s is no folder", name)
	}
	fsys, err := fs.Sub(s.FS, name)
	if err != nil {
		return nil, "", err
	}
	sum, err := treeSum(fsys)
	if err != nil {
		return nil, "", fmt.Errorf("cannot read the folder %s: %s", name, cause(err))
	}
	return fsys, "folder " + sum, nil
}

func (s Source) zip(name, sum string) (fs.FS, string, error) {
	info, err := fs.Stat(s.FS, name)
	switch {
	case err != nil:
		return nil, "", fmt.Errorf("cannot open %s: %s", name, cause(err))
	case !info.Mode().IsRegular():
		return nil, "", fmt.Errorf("%s is no file", name)
	case info.Size() > maxPackedBytes:
		return nil, "", fmt.Errorf("%s is too large: %s", name, packedLimitHint)
	}
	data, err := fs.ReadFile(s.FS, name)
	if err != nil {
		return nil, "", fmt.Errorf("cannot read %s: %s", name, cause(err))
	}
	if sum != "" {
		if err := checkSum(data, sum); err != nil {
			return nil, "", fmt.Errorf("%s is not the zip that was sealed: %v", name, err)
		}
	}
	fsys, err := openZip(data)
	if err != nil {
		return nil, "", fmt.Errorf("%s: %v", name, err)
	}
	return fsys, fmt.Sprintf("zip %x", sha256.Sum256(data)), nil
}

// cause says in a few words why a file could not be opened, without the path,
// which the message names already.
func cause(err error) string {
	if errors.Is(err, fs.ErrNotExist) {
		return "there is no such file or folder"
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
