package build

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"workings/content"
)

func openTestDir(t *testing.T, dir string) Source {
	t.Helper()
	src, closeDir, err := OpenDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeDir() })
	return src
}

func readText(t *testing.T, fsys fs.FS, name string) string {
	t.Helper()
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestOpenDirKeepsInside(t *testing.T) {
	outside, dir := t.TempDir(), t.TempDir()
	writeTree(t, outside, map[string]string{"secret.md": "# secret\n"})
	writeTree(t, dir, map[string]string{"manual.toml": "", "pages/1-a.md": "# A\n"})
	for link, to := range map[string]string{
		"pages/2-b.md": filepath.Join(outside, "secret.md"),
		"pages/3-c.md": "1-a.md",
		"tables":       outside,
	} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Fatal(err)
		}
	}
	src := openTestDir(t, dir)
	if got := readText(t, src.FS, "pages/3-c.md"); got != "# A\n" {
		t.Errorf("a link inside the manual reads %q", got)
	}
	for _, name := range []string{"pages/2-b.md", "tables/secret.md", "../x"} {
		if data, err := fs.ReadFile(src.FS, name); err == nil {
			t.Errorf("%s leaves the manual and reads %q", name, data)
		}
	}
	if _, _, err := src.release(content.ReleaseSource{Folder: "tables"}); err == nil {
		t.Error("a release was opened outside the manual")
	}
}

func TestOpenDirMissing(t *testing.T) {
	_, _, err := OpenDir(filepath.Join(t.TempDir(), "none"))
	if err == nil || !strings.Contains(err.Error(), "there is no folder") {
		t.Error(err)
	}
}

func TestReleaseFromZipAndFolder(t *testing.T) {
	dir := t.TempDir()
	data := makeZip(t, zipEntry{name: "manual.toml", text: "title = \"zip\"\n"})
	writeTree(t, dir, map[string]string{
		"releases/1.0.zip":         string(data),
		"releases/0.9/manual.toml": "title = \"folder\"\n",
	})
	src := openTestDir(t, dir)
	sum := sha256.Sum256(data)
	for want, r := range map[string]content.ReleaseSource{
		"title = \"zip\"\n":    {Zip: "releases/1.0.zip", SHA256: hex.EncodeToString(sum[:])},
		"title = \"folder\"\n": {Folder: "releases/0.9"},
	} {
		fsys, _, err := src.release(r)
		if err != nil {
			t.Fatal(err)
		}
		if got := readText(t, fsys, "manual.toml"); got != want {
			t.Errorf("read %q, want %q", got, want)
		}
	}
	for want, r := range map[string]content.ReleaseSource{
		"not the zip that was sealed":  {Zip: "releases/1.0.zip", SHA256: strings.Repeat("0", 64)},
		"no such file":                 {Zip: "releases/2.0.zip"},
		"is no file":                   {Zip: "releases/0.9"},
		"is no folder":                 {Folder: "releases/1.0.zip"},
		"cannot open the folder":       {Folder: "releases/3.0"},
		"cannot be the name of a tag":  {Tag: "1.0:releases"},
		"does not lie in a Git":        {Tag: "1.0"},
		"neither a folder nor a zip n": {},
	} {
		if _, _, err := src.release(r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: got %v, want an error with %q", r, err, want)
		}
	}
}

// A manual in a subfolder of a repository, changed after it was tagged.
func TestReleaseFromTag(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Fatal("git is needed to test releases from tags")
	}
	repo := t.TempDir()
	run := func(args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=t", "-c", "user.email=t@example.org", "-c", "init.defaultBranch=main"}, args...)...)
		cmd.Dir = repo
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, out)
		}
	}
	run("init", "-q")
	writeTree(t, repo, map[string]string{"README": "outside\n", "docs/m/manual.toml": "one\n", "docs/m/pages/1-a.md": "# A\n"})
	run("add", ".")
	run("commit", "-q", "-m", "one")
	run("tag", "-a", "1.0", "-m", "1.0")
	run("branch", "2.0")
	writeTree(t, repo, map[string]string{"docs/m/manual.toml": "two\n"})

	src := openTestDir(t, filepath.Join(repo, "docs", "m"))
	fsys, _, err := src.release(content.ReleaseSource{Tag: "1.0"})
	if err != nil {
		t.Fatal(err)
	}
	if got := readText(t, fsys, "manual.toml"); got != "one\n" {
		t.Errorf("the tag reads %q", got)
	}
	if got := readText(t, fsys, "pages/1-a.md"); got != "# A\n" {
		t.Errorf("the tag reads %q", got)
	}
	if _, err := fs.Stat(fsys, "README"); err == nil {
		t.Error("the tag holds what lies outside the manual")
	}
	// A branch of that name is no tag.
	if _, _, err := src.release(content.ReleaseSource{Tag: "2.0"}); err == nil || !strings.Contains(err.Error(), "has no tag 2.0") {
		t.Errorf("got %v", err)
	}
	// A folder that did not exist yet when the tag was made.
	writeTree(t, repo, map[string]string{"later/manual.toml": ""})
	later := openTestDir(t, filepath.Join(repo, "later"))
	if _, _, err := later.release(content.ReleaseSource{Tag: "1.0"}); err == nil || !strings.Contains(err.Error(), "does not exist at tag 1.0") {
		t.Errorf("got %v", err)
	}
}

// The files of a submodule are not read, and a link at a tag is refused.
func TestTagWithSubmoduleAndLink(t *testing.T) {
	base := t.TempDir()
	run := func(dir string, args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=t", "-c", "user.email=t@example.org", "-c", "init.defaultBranch=main", "-c", "protocol.file.allow=always"}, args...)...)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, out)
		}
	}
	inner, repo := filepath.Join(base, "inner"), filepath.Join(base, "repo")
	for _, dir := range []string{inner, repo} {
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		run(dir, "init", "-q")
	}
	writeTree(t, inner, map[string]string{"secret.md": "# Not of this manual\n"})
	run(inner, "add", ".")
	run(inner, "commit", "-q", "-m", "inner")
	writeTree(t, repo, map[string]string{"manual.toml": "one\n", "pages/1-a.md": "# A\n"})
	run(repo, "submodule", "--quiet", "add", inner, "pictures")
	run(repo, "add", ".")
	run(repo, "commit", "-q", "-m", "one")
	run(repo, "tag", "1.0")
	src := openTestDir(t, repo)
	fsys, _, err := src.release(content.ReleaseSource{Tag: "1.0"})
	if err != nil {
		t.Fatal(err)
	}
	if got := readText(t, fsys, "pages/1-a.md"); got != "# A\n" {
		t.Errorf("the tag reads %q", got)
	}
	if names, err := fs.ReadDir(fsys, "pictures"); err != nil || len(names) > 0 {
		t.Errorf("the folder of the submodule holds %v, %v", names, err)
	}
	if err := os.Symlink("/etc/passwd", filepath.Join(repo, "pages", "2-b.md")); err != nil {
		t.Fatal(err)
	}
	run(repo, "add", ".")
	run(repo, "commit", "-q", "-m", "two")
	run(repo, "tag", "2.0")
	if _, _, err := src.release(content.ReleaseSource{Tag: "2.0"}); err == nil || !strings.Contains(err.Error(), `tag 2.0: it holds "pages/2-b.md", which is neither a file nor a folder`) {
		t.Errorf("got %v", err)
	}
}
