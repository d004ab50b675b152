package main

import (
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// startTree is the manual that a new one begins as.
//
//go:embed start
var startTree embed.FS

func runStart(e env, flags *flag.FlagSet, args []string) int {
	parameters := flags.String("parameters", "", "make the design sheet from `FILE`, a table of parameters in CSV that a spreadsheet or CAD wrote: its columns are name, value, unit and, if you like, comment, tolerance and source")
	pos, status, ok := parse(e, flags, args, 1, 1)
	if !ok {
		return status
	}
	dir := pos[0]
	if err := vacant(dir); err != nil { // before anything is read, so that the nearest mistake is said first
		return failed(e, "start", err)
	}
	var files map[string][]byte
	if *parameters == "" {
		var err error
		if files, err = treeFiles(startTree, "start"); err != nil {
			return failed(e, "start", err)
		}
	} else {
		data, err := os.ReadFile(*parameters)
		if err != nil {
			return failed(e, "start", fmt.Errorf("cannot read %s: %w", *parameters, bare(err)))
		}
		s, list := readParameters(filepath.ToSlash(*parameters), data)
		if list.HasErrors() {
			report(e.err, list)
			fmt.Fprintln(e.err, "nothing was written")
			return exitFound
		}
		report(e.err, list)
		for _, c := range s.changed {
			fmt.Fprintln(e.out, c)
		}
		files = s.files(manualTitle(dir), path.Base(filepath.ToSlash(*parameters)))
	}
	if err := writeNew(dir, files); err != nil {
		return failed(e, "start", err)
	}
	sayNext(e.out, dir, *parameters != "")
	return exitOK
}

// sayNext says what there is now and what to do with it.
func sayNext(w io.Writer, dir string, table bool) {
	what := "a small manual, of an invented drying cabinet,"
	if table {
		what = "a manual of one page with your parameters on its design sheet"
	}
	d := shellWord(dir)
	fmt.Fprintf(w, `%s is in %s. What to do next:

  workings preview %[3]s     look at it in your browser, and change a value in %[4]s
  workings audit %[3]s       see what is wrong with it
  workings publish %[3]s     write it as a site

design.calc says in its first lines how to change it; "workings models" lists what can be computed.
"workings guide" opens the guide, which goes on from here.
`, what, dir, d, filepath.Join(dir, "design.calc"))
}

// shellWord is a path as it is typed at a shell.
func shellWord(s string) string {
	if strings.ContainsAny(s, " \t'\"$&();<>|*?[]#~`\\!{}") {
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	}
	return s
}

// manualTitle is the name of a folder as a title.
func manualTitle(dir string) string {
	abs, err := filepath.Abs(dir)
	if err != nil {
		abs = dir
	}
	name := strings.TrimSpace(strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || r < ' ' {
			return ' '
		}
		return r
	}, filepath.Base(abs)))
	if name == "" || name == "." || name == string(filepath.Separator) {
		return "A machine"
	}
	return strings.ToUpper(name[:1]) + name[1:]
}

// treeFiles are the files under a folder by their paths within it.
func treeFiles(fsys fs.FS, root string) (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(fsys, root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, name)
		files[strings.TrimPrefix(name, root+"/")] = data
		return err
	})
	return files, err
}

// vacant says why nothing can be begun in a folder: it must be empty, or not
// be there while the folder around it is.
func vacant(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case err == nil && len(entries) > 0:
		return fmt.Errorf("%s is not empty: it holds %s\n  hint: name a new folder", dir, entries[0].Name())
	case err == nil:
		return nil
	case !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s is no folder to write into: %w", dir, bare(err))
	}
	parent := filepath.Dir(filepath.Clean(dir))
	if st, err := os.Stat(parent); err != nil || !st.IsDir() {
		return fmt.Errorf("there is no folder %s to make %s in", parent, filepath.Base(dir))
	}
	return nil
}

// testOnlyWriteFile is replaced by a test that needs a write to fail.
var testOnlyWriteFile = os.WriteFile

// writeNew writes files into a folder that is empty or not there yet, all of
// them or none: into a temporary folder, and from there in one move, or in one
// move for each entry where the folder exists.
func writeNew(dir string, files map[string][]byte) (err error) {
	if err := vacant(dir); err != nil {
		return err
	}
	_, statErr := os.Stat(dir)
	exists := statErr == nil
	at := dir
	if !exists {
		at = filepath.Dir(filepath.Clean(dir))
	}
	tmp, err := os.MkdirTemp(at, ".start-")
	if err != nil {
		return fmt.Errorf("cannot write into %s: %w", at, bare(err))
	}
	defer os.RemoveAll(tmp)
	fresh := filepath.Join(tmp, "new") // a temporary folder itself is closed to others
	if err := os.Mkdir(fresh, 0o777); err != nil {
		return fmt.Errorf("cannot write into %s: %w", at, bare(err))
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		p := filepath.Join(fresh, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			return fmt.Errorf("cannot write %s: %w", name, bare(err))
		}
		if err := testOnlyWriteFile(p, files[name], 0o666); err != nil {
			return fmt.Errorf("cannot write %s: %w", name, bare(err))
		}
	}
	if !exists {
		if err := os.Rename(fresh, dir); err != nil {
			return fmt.Errorf("cannot put %s in place: %w", dir, bare(err))
		}
		return nil
	}
	entries, err := os.ReadDir(fresh)
	if err != nil {
		return fmt.Errorf("cannot put %s in place: %w", dir, bare(err))
	}
	for i, d := range entries {
		if err := os.Rename(filepath.Join(fresh, d.Name()), filepath.Join(dir, d.Name())); err != nil {
			for _, done := range entries[:i] {
				os.RemoveAll(filepath.Join(dir, done.Name()))
			}
			return fmt.Errorf("cannot put %s in place: %w", d.Name(), bare(err))
		}
	}
	return nil
}

// bare is what an error of the file system says without the path, which the
// message around it names.
func bare(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	}
	return err
}
