package main

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"workings/build"
	"workings/calc/diag"
)

func runTidy(e env, flags *flag.FlagSet, args []string) int {
	check := flags.Bool("check", false, "write nothing; name the files that are not tidy, with exit status 1 if there are any")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	dir := folder(pos, 0)
	root, err := os.OpenRoot(dir)
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("there is no folder %s", dir)
	}
	if err != nil {
		return failed(e, "tidy", err)
	}
	defer root.Close()
	if _, err := root.Lstat("manual.toml"); err != nil {
		return failed(e, "tidy", fmt.Errorf("there is no manual.toml in %s", dir))
	}
	files, links, err := tidyFiles(root)
	if err != nil {
		return failed(e, "tidy", err)
	}
	var list diag.List
	var changed []tidyFile
	for _, f := range files {
		list = append(list, f.read(root)...)
		if f.first > 0 {
			changed = append(changed, *f)
		}
	}
	for _, l := range links {
		fmt.Fprintf(e.err, "%s is a link and is left alone\n", l)
	}
	if len(list) > 0 {
		report(e.err, list)
		fmt.Fprintln(e.err, "nothing was written")
		return exitFound
	}
	switch {
	case len(changed) == 0:
		fmt.Fprintln(e.out, "everything is tidy")
		return exitOK
	case *check:
		for _, f := range changed {
			fmt.Fprintf(e.out, "%s:%d: not tidy\n", f.name, f.first)
		}
		return exitFound
	}
	if err := writeTidy(e, root, changed); err != nil {
		return failed(e, "tidy", err)
	}
	return exitOK
}

// A tidyFile is a file that holds sheets.
type tidyFile struct {
	name  string // in the manual, with slashes
	page  bool
	mode  fs.FileMode
	text  []byte // as it should be
	first int    // first line that is to change; 0 if none
}

// read reads the file and lays it out; the list says what is wrong with it.
func (f *tidyFile) read(root *os.Root) (list diag.List) {
	whole := diag.Span{File: diag.NewFile(f.name, nil)}
	info, err := root.Lstat(filepath.FromSlash(f.name))
	var raw []byte
	if err == nil {
		raw, err = root.ReadFile(filepath.FromSlash(f.name))
	}
	if err != nil {
		list.Add(whole, "unreadable", "cannot be read: %v", err)
		return list
	}
	f.mode = info.Mode()
	f.text, f.first, list = tidyText(f.name, raw, f.page)
	if f.first > 0 && f.mode.Perm()&0o200 == 0 {
		list.Add(whole, "write-protected", "the file is not tidy, and it is write-protected").Hint = "allow writing, or leave it out of the manual"
	}
	return list
}

// tidyFiles lists the files of a manual that hold sheets, and the links that
// might be such files. Folders that are no source of this release are passed
// over: hidden ones, published sites, and other manuals, as earlier releases are.
func tidyFiles(root *os.Root) (files []*tidyFile, links []string, err error) {
	fsys := root.FS()
	has := func(dir, name string) bool {
		_, err := root.Lstat(filepath.FromSlash(path.Join(dir, name)))
		return err == nil
	}
	err = fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name != "." && (strings.HasPrefix(d.Name(), ".") || has(name, "manual.toml") || has(name, build.ListFile)) {
				return fs.SkipDir
			}
			return nil
		}
		page := path.Dir(name) == "pages" && path.Ext(name) == ".md"
		if strings.HasPrefix(d.Name(), ".") || !page && path.Ext(name) != ".calc" && !(d.Type()&fs.ModeSymlink != 0 && name == "pages") {
			return nil
		}
		switch {
		case d.Type()&fs.ModeSymlink != 0:
			links = append(links, name)
		case d.Type().IsRegular():
			files = append(files, &tidyFile{name: name, page: page})
		}
		return nil
	})
	return files, links, err
}

// writeTidy writes every file beside its old one before the first takes its
// place, so that a full disk changes nothing.
func writeTidy(e env, root *os.Root, files []tidyFile) (err error) {
	beside := make([]string, len(files))
	defer func() {
		for _, tmp := range beside {
			if tmp != "" {
				_ = root.Remove(tmp)
			}
		}
	}()
	for i, f := range files {
		if beside[i], err = writeBeside(root, f); err != nil {
			return fmt.Errorf("nothing was written: %w", err)
		}
	}
	for i, f := range files {
		if err := root.Rename(beside[i], filepath.FromSlash(f.name)); err != nil {
			return err
		}
		beside[i] = ""
		fmt.Fprintf(e.out, "%s:%d: tidied\n", f.name, f.first)
	}
	return nil
}

// writeBeside writes the new text into a file of its own in the same folder,
// with the permissions of the old one, and gives its name.
func writeBeside(root *os.Root, f tidyFile) (name string, err error) {
	dir, base := path.Split(f.name)
	var w *os.File
	for n := 1; ; n++ {
		name = filepath.FromSlash(fmt.Sprintf("%s.%s.tidy-%d", dir, base, n))
		w, err = root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) || n == 100 {
			return "", err
		}
	}
	_, err = w.Write(f.text)
	err = errors.Join(err, w.Chmod(f.mode.Perm()), w.Sync(), w.Close())
	if err != nil {
		_ = root.Remove(name)
		return "", err
	}
	return name, nil
}
