package build

import (
	"fmt"
	"io/fs"
	"os/exec"
	"strings"

	"workings/calc/diag"
)

// Revision gives the release that a name stands for, computed: "." is the
// working tree, else it is the name of a release of the manual, else whatever
// Git takes for a commit in the repository around the folder dir. Limits that
// are broken or not proved do not keep a release from being compared; they are
// in its result.
// The list holds whatever else is wrong with it; the release is nil if nothing
// of it could be read.
func Revision(dir string, src Source, name string, opt Options) (*Release, diag.List, error) {
	now, list := compute(src.FS, "", computing{set: opt.Set})
	if name == "." || name == now.Name {
		return now, comparable(list), nil
	}
	for _, s := range now.Manual.Config.Releases {
		if s.Name == name {
			r, _, list := loadEarlier(src, s, opt)
			return r, comparable(list), nil
		}
	}
	fsys, err := openCommit(dir, name)
	if err != nil {
		var known []string
		for _, s := range now.Manual.Config.Releases {
			known = append(known, s.Name)
		}
		if near := diag.Nearest(name, append(known, now.Name)); near != "" {
			return nil, nil, fmt.Errorf("%w; did you mean %s?", err, near)
		}
		return nil, nil, err
	}
	r, list := compute(fsys, name+":", computing{})
	return r, comparable(list), nil
}

// comparable leaves out of a list what does not keep a release from being
// compared.
func comparable(list diag.List) (out diag.List) {
	for _, d := range list {
		if !d.Warn && d.Code != "limit-broken" && d.Code != "limit-searched" {
			out = append(out, d)
		}
	}
	return out
}

// openCommit opens the folder dir as it was at a commit, which may be named in
// any way that Git knows: a branch, a tag, HEAD~2, the digits of its sum.
func openCommit(dir, name string) (fs.FS, error) {
	what := fmt.Sprintf("%s is no release of this manual", name)
	if _, err := exec.LookPath("git"); err != nil {
		return nil, fmt.Errorf("%s, and the program git, which could know it as a commit, is not installed", what)
	}
	if _, err := git(dir, "rev-parse", "--git-dir"); err != nil {
		return nil, fmt.Errorf("%s, and the manual does not lie in a Git repository", what)
	}
	commit, err := git(dir, "rev-parse", "--verify", "--quiet", "--end-of-options", name+"^{commit}")
	if err != nil {
		return nil, fmt.Errorf("%s, and the Git repository has no commit of that name", what)
	}
	return archived(dir, "commit "+name, strings.TrimSpace(string(commit)))
}
