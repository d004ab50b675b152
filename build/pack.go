package build

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"workings/content"
)

// figuresName is the file in a sealed release that holds its figures.
const figuresName = "figures.json"

// pack writes files into a zip that depends on nothing but their names and
// contents: sorted, stored as they are (so that no version of a compressor
// shows), one time for all, nothing of the computer they lay on.
func pack(files map[string][]byte) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store, ModifiedDate: firstDay})
		if err == nil {
			_, err = f.Write(files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("cannot pack %s: %w", name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// firstDay is 1980-01-01, the first day that a zip can name: years since 1980,
// month and day in 7, 4 and 5 bits.
const firstDay = 1<<5 | 1

// sourceFiles reads everything that a manual is made of. It leaves out what is
// hidden, what an editor keeps as a backup, earlier releases, and sites that
// were published into the folder.
func sourceFiles(fsys fs.FS, releases []content.ReleaseSource) (map[string][]byte, error) {
	skip := map[string]bool{releasesDir: true}
	for _, r := range releases {
		skip[r.Folder], skip[r.Zip] = true, true
	}
	files := map[string][]byte{}
	total := 0
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return fmt.Errorf("cannot read %s: %s", name, cause(err))
		}
		base := path.Base(name)
		switch hidden := strings.HasPrefix(base, ".") || strings.HasSuffix(base, "~"); {
		case name == ".":
			return nil
		case d.IsDir() && (hidden || skip[name] || isSite(fsys, name)):
			return fs.SkipDir
		case d.IsDir() || hidden || skip[name]:
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			return fmt.Errorf("%s is a symbolic link: a sealed release holds files only, so put the file itself there", name)
		case !d.Type().IsRegular():
			return fmt.Errorf("%s is neither a file nor a folder, so it cannot be sealed", name)
		case name == figuresName:
			return fmt.Errorf("%s is in the way: a sealed release keeps its figures under that name, so move it away", name)
		case len(files) >= maxPackedFiles:
			return fmt.Errorf("there are too many files: %s", packedLimitHint)
		}
		info, err := d.Info()
		if err != nil {
			return fmt.Errorf("cannot read %s: %s", name, cause(err))
		}
		if info.Size() > int64(maxPackedBytes-total) {
			return fmt.Errorf("the manual is too large with %s: %s", name, packedLimitHint)
		}
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			return fmt.Errorf("cannot read %s: %s", name, cause(err))
		}
		total += len(data)
		files[name] = data
		return nil
	})
	return files, err
}

// isSite reports whether a folder holds a published site.
func isSite(fsys fs.FS, dir string) bool {
	data, err := fs.ReadFile(fsys, path.Join(dir, ListFile))
	if err != nil {
		return false
	}
	paths, err := listedIn(data)
	return err == nil && paths != nil
}

// ownZip reports whether a zip is one that this program packed for a release,
// and nothing was done to it since: packing its files again gives its bytes.
func ownZip(data []byte, name string) bool {
	fsys, err := openZip(data)
	if err != nil {
		return false
	}
	s, err := readSealed(fsys)
	if err != nil || s == nil || s.Release != name {
		return false
	}
	files := map[string][]byte{}
	err = fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f, err := fsys.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		files[name], err = io.ReadAll(f)
		return err
	})
	if err != nil {
		return false
	}
	again, err := pack(files)
	return err == nil && bytes.Equal(again, data)
}
