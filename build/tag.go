package build

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"strings"
)

// openTag returns the folder dir as it was at a tag of the Git repository
// around it, and a key that names the commit. Git itself reads the repository, so whatever it can read (packed,
// shallow, linked work trees) can be published.
func openTag(dir, tag string) (fsys fs.FS, key string, err error) {
	// Beyond what Git refuses in a name, these would reach past the tag:
	// "1.0^" is its parent, "1.0:x" a folder, "1.0..2.0" a range.
	if tag == "" || strings.ContainsAny(tag, " ~^:?*[\\\x00\n") || strings.Contains(tag, "..") || strings.Contains(tag, "@{") {
		return nil, "", fmt.Errorf("%q cannot be the name of a tag", tag)
	}
	if _, err := exec.LookPath("git"); err != nil {
		return nil, "", fmt.Errorf("tag %s: the program git is not installed; releases from tags need it", tag)
	}
	if _, err := git(dir, "rev-parse", "--git-dir"); err != nil {
		return nil, "", fmt.Errorf("tag %s: the manual does not lie in a Git repository", tag)
	}
	ref := "refs/tags/" + tag
	commit, err := git(dir, "rev-parse", "--verify", "--quiet", ref+"^{commit}")
	if err != nil {
		return nil, "", fmt.Errorf("the Git repository has no tag %s; a copy made without tags needs `git fetch --tags`", tag)
	}
	fsys, err = archived(dir, "tag "+tag, ref)
	if err != nil {
		return nil, "", err
	}
	return fsys, "commit " + strings.TrimSpace(string(commit)), nil
}

// openSum returns the folder dir as it was at the commit of that sum.
func openSum(dir, sum string) (fsys fs.FS, key string, err error) {
	what := "commit " + sum
	if _, err := exec.LookPath("git"); err != nil {
		return nil, "", fmt.Errorf("%s: the program git is not installed; releases from commits need it", what)
	}
	if _, err := git(dir, "rev-parse", "--git-dir"); err != nil {
		return nil, "", fmt.Errorf("%s: the manual does not lie in a Git repository", what)
	}
	if _, err := git(dir, "rev-parse", "--verify", "--quiet", "--end-of-options", sum+"^{commit}"); err != nil {
		return nil, "", fmt.Errorf("the Git repository has no %s; a shallow copy needs `git fetch --unshallow`", what)
	}
	fsys, err = archived(dir, what, sum)
	return fsys, what, err
}

// archived returns the folder dir as it was at something that Git knows. Run
// in the folder, Git archives that folder alone, with paths from it; stored,
// not deflated, for it is unpacked again at once. The files of a submodule are
// in another repository and are not read: its folder is empty. A symbolic link
// could lead anywhere, so a folder that holds one is refused.
func archived(dir, what, ref string) (fs.FS, error) {
	data, err := git(dir, "archive", "--format=zip", "-0", ref)
	if err != nil && strings.Contains(err.Error(), "directory is untracked") {
		return nil, fmt.Errorf("the folder of the manual does not exist at %s", what)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %v", what, err)
	}
	fsys, err := openZip(data)
	if err != nil {
		// It is a zip for us alone.
		return nil, fmt.Errorf("%s: %s", what, strings.Replace(err.Error(), "the zip", "it", 1))
	}
	return fsys, nil
}

// git runs a git command in a folder and returns what it prints.
func git(dir string, args ...string) ([]byte, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(out, maxPackedBytes+1))
	if len(data) > maxPackedBytes {
		cmd.Process.Kill()
		cmd.Wait()
		return nil, errors.New("it is too large: " + packedLimitHint)
	}
	if werr := cmd.Wait(); werr != nil {
		if first, _, _ := strings.Cut(strings.TrimSpace(stderr.String()), "\n"); first != "" {
			return nil, errors.New(strings.TrimPrefix(first, "fatal: "))
		}
		return nil, werr
	}
	return data, err
}
