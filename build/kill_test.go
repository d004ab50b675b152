package build

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A program that is killed while it seals, records or publishes leaves the old
// state or the new one. The test runs itself again as that program, and kills
// it: half of the times anywhere in its life, half of the times from the moment
// on at which it begins to write. WORKINGS_KILLS says how often in all, 60 if unset.

func kills(t *testing.T) int {
	s := os.Getenv("WORKINGS_KILLS")
	if s == "" {
		if testing.Short() {
			return 12
		}
		return 60
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatalf("WORKINGS_KILLS: %v", err)
	}
	return n
}

// TestKillChild is the program that is killed.
func TestKillChild(t *testing.T) {
	args := strings.Split(os.Getenv("WORKINGS_KILL_CHILD"), "|")
	if len(args) != 3 {
		t.Skip("run by TestKill only")
	}
	what, dir, out := args[0], args[1], args[2]
	testOnlyStep = func(string) { fmt.Fprintln(os.Stderr, "writing") }
	var err error
	switch what {
	case "seal":
		var list error
		_, l, e := Seal(dir, "2.0", SealOptions{Tool: Tool{"workings", "test"}})
		if l.HasErrors() {
			list = l
		}
		err = errors.Join(list, e)
	case "record":
		_, _, err = Record(dir, Options{})
	case "publish":
		src, closeDir, e := OpenDir(dir)
		if e != nil {
			t.Fatal(e)
		}
		defer closeDir()
		n, list, e := Publish(context.Background(), src, out, Options{Tool: Tool{"workings", "test"}})
		if n == 0 {
			t.Fatal(list)
		}
		err = e
	}
	if err != nil {
		t.Fatal(err)
	}
}

// runAndKill runs the program and kills it after a part of the time that it
// takes, counted from its start or from its first word.
func runAndKill(t *testing.T, what, dir, out string, after time.Duration, fromWriting bool) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestKillChild$", "-test.count=1")
	cmd.Env = append(os.Environ(), "WORKINGS_KILL_CHILD="+what+"|"+dir+"|"+out)
	pipe, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if fromWriting {
		io.ReadFull(pipe, make([]byte, 1))
	}
	timer := time.AfterFunc(after, func() { cmd.Process.Kill() })
	io.Copy(io.Discard, pipe)
	cmd.Wait()
	timer.Stop()
}

// finish runs the program to its end and returns how long it took in all and
// from its first word on.
func finish(t *testing.T, what, dir, out string) (all, writing time.Duration) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestKillChild$", "-test.count=1")
	cmd.Env = append(os.Environ(), "WORKINGS_KILL_CHILD="+what+"|"+dir+"|"+out)
	pipe, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	cmd.Stdout = &said
	start := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	io.ReadFull(pipe, make([]byte, 1))
	first := time.Now()
	io.Copy(io.Discard, pipe)
	if err := cmd.Wait(); err != nil {
		t.Fatalf("%s: %v\n%s", what, err, said.String())
	}
	return time.Since(start), time.Since(first)
}

// visible is all of a folder but hidden leftovers of a killed program.
func visible(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := tree(t, dir)
	for name := range all {
		for part := range strings.SplitSeq(name, "/") {
			if tempFile.MatchString(part) || strings.HasPrefix(part, siteTemp) {
				delete(all, name)
			}
		}
	}
	return all
}

func equalTrees(a, b map[string]string) string {
	for name, text := range a {
		if other, ok := b[name]; !ok {
			return name + " is missing"
		} else if other != text {
			return name + " is another"
		}
	}
	for name := range b {
		if _, ok := a[name]; !ok {
			return name + " is new"
		}
	}
	return ""
}

func TestKill(t *testing.T) {
	n := kills(t) / 3
	base := t.TempDir()
	m := manual(t, "tiny.txtar", map[string]string{"notes.txt": "the designer's own\n", "releases/own.txt": "kept by hand\n"})
	fresh := func(name string) string {
		dir := filepath.Join(base, name)
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		if err := os.CopyFS(filepath.Join(dir, "m"), m); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	for _, what := range []string{"seal", "record", "publish"} {
		t.Run(what, func(t *testing.T) {
			// The two states, made without a kill.
			prepare := func(name string) (dir, out string) {
				dir = fresh(name)
				out = filepath.Join(dir, "site")
				switch what {
				case "record":
					writeTree(t, filepath.Join(dir, "m"), map[string]string{recordName: "figure,value,unit,uncertainty\n"})
				case "publish":
					if err := testSite("old").Write(out); err != nil {
						t.Fatal(err)
					}
				}
				return dir, out
			}
			oldDir, _ := prepare("old")
			before := visible(t, oldDir)
			newDir, out := prepare("new")
			all, writing := finish(t, what, filepath.Join(newDir, "m"), out)
			after := visible(t, newDir)
			random := rand.New(rand.NewPCG(6, 7))
			olds, news, halves := 0, 0, 0
			for i := range n {
				dir, out := prepare("run")
				span, from := all, i%2 == 1
				if from {
					span = writing
				}
				runAndKill(t, what, filepath.Join(dir, "m"), out, time.Duration(random.Int64N(int64(span)+1)), from)
				got := visible(t, dir)
				// A sealed zip that no release names is the old state.
				if what == "seal" && got["m/manual.toml"] == before["m/manual.toml"] {
					if text, ok := got["m/releases/2.0.zip"]; ok {
						if text != after["m/releases/2.0.zip"] {
							t.Fatalf("kill %d: half a zip", i)
						}
						halves++
						delete(got, "m/releases/2.0.zip")
					}
				}
				switch {
				case equalTrees(before, got) == "":
					olds++
				case equalTrees(after, got) == "":
					news++
				default:
					t.Fatalf("kill %d: neither the old state (%s) nor the new one (%s)", i, equalTrees(before, got), equalTrees(after, got))
				}
				// Whatever was left behind is in nobody's way, and is tidied up.
				if i%10 == 1 && !(what == "seal" && equalTrees(after, got) == "") {
					finish(t, what, filepath.Join(dir, "m"), out)
					if d := equalTrees(after, tree(t, dir)); d != "" {
						t.Fatalf("kill %d, and then to the end: %s", i, d)
					}
					if left := emptyTemps(t, dir); left > 1 {
						t.Fatalf("kill %d: %d temporary folders are left", i, left)
					}
				}
			}
			t.Logf("%s: %d kills left the old state %d times (%d with a zip that no release names), the new one %d times", what, n, olds, halves, news)
		})
	}
}

// emptyTemps counts the temporary folders of killed programs.
func emptyTemps(t *testing.T, dir string) (n int) {
	err := filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && strings.HasPrefix(d.Name(), siteTemp) {
			n++
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// What a user put into a site that is being replaced stays on the disk.
func TestReplacedSiteKeepsOwnFile(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	testOnlyStep = func(string) { writeTree(t, dir, map[string]string{"own.txt": "mine"}) }
	defer func() { testOnlyStep = func(string) {} }()
	if err := testSite("new").Write(dir); err != nil {
		t.Fatal(err)
	}
	found := false
	for name, text := range tree(t, parent) {
		found = found || strings.HasSuffix(name, "own.txt") && text == "mine"
	}
	if !found {
		t.Error("a file that came in while the site was published is gone")
	}
}
