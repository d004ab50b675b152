package build

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func testSite(text string) *Site {
	s := &Site{}
	s.add("index.html", []byte(text))
	s.add("1.0/pages/a.html", []byte("a "+text))
	return s
}

// tree returns the files of a folder with their text.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func wantNoLeftovers(t *testing.T, parent string) {
	t.Helper()
	entries, err := os.ReadDir(parent)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".site-") {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

func TestWrite(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "deep", "site")
	for _, text := range []string{"one", "two"} {
		if err := testSite(text).Write(dir); err != nil {
			t.Fatal(err)
		}
		got := tree(t, dir)
		if len(got) != 3 || got["index.html"] != text || got["1.0/pages/a.html"] != "a "+text {
			t.Errorf("wrote %q", got)
		}
		wantNoLeftovers(t, filepath.Dir(dir))
	}
	if _, err := exec.LookPath("sha256sum"); err == nil {
		cmd := exec.Command("sha256sum", "--strict", "-c", ListFile)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("sha256sum: %v\n%s", err, out)
		}
	}
	smaller := &Site{}
	smaller.add("index.html", nil)
	if err := smaller.Write(dir); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, dir); len(got) != 2 {
		t.Errorf("files of the old site are left: %q", got)
	}
}

// A file that has not changed keeps its place on the disk, and so its time.
func TestWriteKeepsWhatIsTheSame(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	site := func(page string) *Site {
		s, err := NewSite(map[string]string{"1.0/page.html": page, "1.0/other.html": "other", "assets/style.css": "p{}"})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	stat := func(name string) os.FileInfo {
		info, err := os.Lstat(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		return info
	}
	if err := site("long").Write(dir); err != nil {
		t.Fatal(err)
	}
	names := []string{"1.0/page.html", "1.0/other.html", "assets/style.css"}
	before := map[string]os.FileInfo{}
	for _, n := range names {
		before[n] = stat(n)
	}
	// Somebody made another file of one: what is there counts, not what the list says.
	if err := os.WriteFile(filepath.Join(dir, "assets", "style.css"), []byte("q{}"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := site("LONG").Write(dir); err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if same := os.SameFile(before[n], stat(n)); same != (n == "1.0/other.html") {
			t.Errorf("%s is the same file: %v", n, same)
		}
	}
	if got := tree(t, dir); got["1.0/page.html"] != "LONG" || got["assets/style.css"] != "p{}" {
		t.Errorf("wrote %q", got)
	}
	wantNoLeftovers(t, filepath.Dir(dir))
}

func TestWriteIntoEmptyFolder(t *testing.T) {
	dir := t.TempDir()
	if err := testSite("x").Write(dir); err != nil {
		t.Fatal(err)
	}
}

func TestWriteThroughLink(t *testing.T) {
	parent := t.TempDir()
	real, link := filepath.Join(parent, "real"), filepath.Join(parent, "site")
	if err := os.Mkdir(real, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := testSite("x").Write(link); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link was replaced by a folder")
	}
	if got := tree(t, real); got["index.html"] != "x" {
		t.Errorf("wrote %q", got)
	}
}

func TestWriteRefuses(t *testing.T) {
	for want, files := range map[string]map[string]string{
		"not a published site":         {"notes.txt": "mine"},
		"holds notes/own.txt":          {"notes/own.txt": "mine", ListFile: strings.Repeat("0", 64) + "  index.html\n", "index.html": ""},
		"not a published site and not": {ListFile: "somebody else's list\n"},
	} {
		dir := t.TempDir()
		writeTree(t, dir, files)
		before := tree(t, dir)
		err := testSite("x").Write(dir)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want an error with %q", err, want)
		}
		after := tree(t, dir)
		if len(after) != len(before) {
			t.Errorf("the folder was changed: %q", after)
		}
	}
	file := filepath.Join(t.TempDir(), "site")
	os.WriteFile(file, nil, 0o644)
	if err := testSite("x").Write(file); err == nil {
		t.Error("a file was replaced")
	}
	clash := &Site{}
	clash.add("a.html", nil)
	clash.add("A.html", nil)
	if err := clash.Write(filepath.Join(t.TempDir(), "site")); err == nil {
		t.Error("a site was written that some computers cannot hold")
	}
}

func TestWriteRestores(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	testOnlyRename = func(string, string) error { return errors.New("the disk is full") }
	testOnlyExchange = func(string, string) error { return errors.ErrUnsupported }
	defer func() { testOnlyRename, testOnlyExchange = os.Rename, exchange }()
	if err := testSite("new").Write(dir); err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Fatal(err)
	}
	after := tree(t, dir)
	for name, text := range before {
		if after[name] != text {
			t.Errorf("%s is now %q", name, after[name])
		}
	}
	wantNoLeftovers(t, parent)
}
