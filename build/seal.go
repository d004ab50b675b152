package build

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"workings/calc/diag"
	"workings/content"
)

// releasesDir is the folder of a manual that holds its sealed releases.
const releasesDir = "releases"

// configName is the file that makes a folder a manual.
const configName = "manual.toml"

// SealOptions say how a release is sealed.
type SealOptions struct {
	Tool Tool
	Next string // name of the working tree from then on; "": the one that follows
}

// A Sealing says what was sealed.
type Sealing struct {
	Zip     string // path in the manual
	SHA256  string
	Files   int
	Next    string   // what the working tree is called now
	Current string   // what the manual still names as current, if that is another release
	Lines   []string // what is to be added to manual.toml by hand; nil if it was done
}

// Seal packs the working tree of a manual as a release: its source and its
// figures, in one zip. It writes nothing if anything is wrong; what is wrong
// with the manual is in the list, all else in the error.
//
// The zip is put in place first and then manual.toml, each whole or not at
// all. A program that is stopped in between leaves a zip that no release
// names, which is as good as none: sealing again replaces it.
func Seal(dir, name string, opt SealOptions) (*Sealing, diag.List, error) {
	fail := func(format string, args ...any) (*Sealing, diag.List, error) {
		return nil, nil, fmt.Errorf(format, args...)
	}
	if !content.IsReleaseName(name) {
		return fail("%q cannot be the name of a release: use letters, digits and . _ + -", name)
	}
	src, closeDir, err := OpenDir(dir)
	if err != nil {
		return nil, nil, err
	}
	defer closeDir()
	site, list := Build(src, Options{Tool: opt.Tool})
	if site == nil {
		return nil, list, nil
	}
	m, errs := content.Load(src.FS, content.Options{})
	if errs.HasErrors() {
		return nil, errs, nil
	}
	cfg := m.Config
	next, err := sealNames(cfg, name, opt.Next)
	if err != nil {
		return nil, list, err
	}
	files, err := sourceFiles(src.FS, cfg.Releases)
	if err != nil {
		return nil, list, err
	}
	text := files[configName]
	if files[configName], err = withRelease(text, name); err != nil {
		return nil, list, fmt.Errorf("%s cannot be changed safely (%v): write release = %q into it first", configName, err, name)
	}
	data, errs, err := seal(files, name, opt.Tool)
	if err != nil || errs.HasErrors() {
		return nil, errs, err
	}
	entry := releaseEntry{name: name, zip: releasesDir + "/" + name + ".zip", sha256: fmt.Sprintf("%x", sha256.Sum256(data))}
	s := &Sealing{Zip: entry.zip, SHA256: entry.sha256, Files: len(files) + 1, Next: next}
	if cfg.Current != "" && cfg.Current != name {
		s.Current = cfg.Current
	}
	after, err := withRelease(text, next)
	if err == nil {
		after, err = withEntry(after, entry)
	}
	if err != nil {
		s.Lines = append([]string{fmt.Sprintf("release = %q", next)}, entry.lines()...)
	}
	if err := putZip(filepath.Join(dir, filepath.FromSlash(entry.zip)), name, data); err != nil {
		return nil, list, err
	}
	if s.Lines != nil {
		return s, list, nil
	}
	path := filepath.Join(dir, configName)
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, text) {
		return nil, list, fmt.Errorf("%s was changed meanwhile: nothing was sealed, try again", configName)
	}
	testOnlyStep("manual")
	if err := writeWhole(path, after); err != nil {
		return nil, list, err
	}
	return s, list, nil
}

// testOnlyStep is told before each file that is put in place.
var testOnlyStep = func(what string) {}

// seal packs the files of a release with the figures that they give.
func seal(files map[string][]byte, name string, tool Tool) ([]byte, diag.List, error) {
	plain, err := pack(files)
	if err != nil {
		return nil, nil, err
	}
	// Read back as it will be read: what a zip cannot hold is found here.
	fsys, err := openZip(plain)
	if err != nil {
		return nil, nil, fmt.Errorf("the manual cannot be sealed: %w", err)
	}
	r, list := compute(fsys, "", computing{})
	if list.HasErrors() {
		return nil, list, nil
	}
	with := map[string][]byte{}
	for n, data := range files {
		with[n] = data
	}
	if with[figuresName], err = figuresJSON(tool, r.Manual.Config.Title, name, r.Result.Figures(), r.Result.Limits()); err != nil {
		return nil, nil, err
	}
	data, err := pack(with)
	if err == nil && len(data) > maxPackedBytes {
		err = fmt.Errorf("the release is too large: %s", packedLimitHint)
	}
	return data, nil, err
}

// sealNames checks the name of a release against the manual, and gives the
// name of the working tree from then on.
func sealNames(cfg content.Config, name, next string) (string, error) {
	taken := map[string]bool{name: true}
	for _, r := range cfg.Releases {
		taken[r.Name] = true
		if r.Name == name {
			return "", fmt.Errorf("there is a release %s already: a sealed release is not changed, so choose another name", name)
		}
		if strings.EqualFold(r.Name, name) {
			return "", fmt.Errorf("%s and release %s are one name to some computers: choose another name", name, r.Name)
		}
	}
	main, pre := splitPre(cfg.Release)
	if want, _ := splitPre(name); cfg.Release != name && (pre == "" || main != want) {
		return "", fmt.Errorf("the working tree is release %s, not %s: change release in %s first", cfg.Release, name, configName)
	}
	if cfg.Date.IsZero() {
		return "", fmt.Errorf("release %s has no date of issue: write date = YYYY-MM-DD into %s", name, configName)
	}
	if next == "" {
		next = nextRelease(name)
		if next == "" || taken[next] {
			return "", errors.New("what follows " + name + " is not clear: name it with --next")
		}
		return next, nil
	}
	switch {
	case !content.IsReleaseName(next):
		return "", fmt.Errorf("%q cannot be the name of a release: use letters, digits and . _ + -", next)
	case taken[next]:
		return "", fmt.Errorf("the working tree cannot be called %s: there is a release of that name", next)
	}
	return next, nil
}

// nextRelease names what follows a release: the next number of a pre-release
// ("2.0-rc2" after "2.0-rc1"), else a draft of the next release ("2.1-draft"
// after "2.0"). It is "" for a name without a number.
func nextRelease(name string) string {
	up := func(s string) (string, bool) {
		end := strings.LastIndexFunc(s, func(r rune) bool { return '0' <= r && r <= '9' }) + 1
		start := end
		for start > 0 && digit(s[start-1]) {
			start--
		}
		if start == end {
			return s, false
		}
		// Counted in digits, so that no number is too long.
		n := []byte("0" + s[start:end])
		i := len(n) - 1
		for ; n[i] == '9'; i-- {
			n[i] = '0'
		}
		n[i]++
		if n[0] == '0' {
			n = n[1:]
		}
		return s[:start] + string(n) + s[end:], true
	}
	main, pre := splitPre(name)
	if pre != "" {
		after, ok := up(pre)
		if !ok {
			after += "2"
		}
		return main + "-" + after
	}
	if after, ok := up(name); ok && !IsPreRelease(after) {
		return after + "-draft"
	}
	return ""
}

// putZip puts a sealed release in place. A file that is there already is one
// that no release names: it is replaced only if this program wrote it.
func putZip(path, name string, data []byte) error {
	old, err := os.ReadFile(path)
	switch {
	case err == nil && bytes.Equal(old, data):
		return nil
	case err == nil && !ownZip(old, name):
		return fmt.Errorf("%s is there already and was not sealed by this program: move it away", path)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot read %s: %s", path, cause(err))
	}
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("cannot make the folder %s: %s", dir, cause(err))
	}
	testOnlyStep("zip")
	return writeWhole(path, data)
}
