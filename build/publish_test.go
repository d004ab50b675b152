package build

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// What is published file by file is what a build makes as a whole, and finds
// the same in it.
func TestPublishIsBuild(t *testing.T) {
	for name, src := range map[string]Source{
		"tiny": {FS: manual(t, "tiny.txtar", nil)}, "second machine": openTestDir(t, aldmoor),
	} {
		t.Run(name, func(t *testing.T) {
			opt := Options{Tool: Tool{"workings", "test"}, Thorough: true}
			site, found := Build(src, opt)
			if site == nil {
				t.Fatal(found)
			}
			parent := t.TempDir()
			whole, each := filepath.Join(parent, "whole"), filepath.Join(parent, "each")
			if err := site.Write(whole); err != nil {
				t.Fatal(err)
			}
			n, list, err := Publish(context.Background(), src, each, opt)
			if err != nil || n != len(site.Paths()) {
				t.Fatalf("%d files of %d, %v", n, len(site.Paths()), err)
			}
			if list.Error() != found.Error() {
				t.Errorf("found\n%s\nwant\n%s", list.Error(), found.Error())
			}
			if d := equalTrees(tree(t, whole), tree(t, each)); d != "" {
				t.Error(d)
			}
			wantNoLeftovers(t, parent)
		})
	}
}

// Where nothing can be published, what was there stays, and nothing is left
// beside it.
func TestPublishNothing(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	good := Source{FS: manual(t, "tiny.txtar", nil)}
	still := func(what string) {
		t.Helper()
		if d := equalTrees(before, tree(t, dir)); d != "" {
			t.Errorf("%s: the site is no longer what it was: %s", what, d)
		}
		wantNoLeftovers(t, parent)
	}

	n, list, err := Publish(context.Background(), Source{FS: manual(t, "tiny.txtar", map[string]string{"design.calc": "bed_x = \n"})}, dir, Options{})
	if n != 0 || err != nil || !list.HasErrors() {
		t.Errorf("a broken manual: %d files, %v, %v", n, err, list)
	}
	still("a broken manual")

	ended, end := context.WithCancel(context.Background())
	end()
	if n, _, err := Publish(ended, good, dir, Options{}); n != 0 || !errors.Is(err, ErrInterrupted) {
		t.Errorf("interrupted before it began: %d files, %v", n, err)
	}
	still("interrupted before it began")

	// While it writes: the first file is made, and all others are to come.
	ctx, stop := context.WithCancel(context.Background())
	n, _, err = Publish(ctx, good, dir, Options{Progress: func(done, all int) { stop() }})
	if n != 0 || !errors.Is(err, ErrInterrupted) {
		t.Errorf("interrupted while it wrote: %d files, %v", n, err)
	}
	still("interrupted while it wrote")

	if err := os.WriteFile(filepath.Join(dir, "own.txt"), []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	before["own.txt"] = "mine"
	if n, _, err := Publish(context.Background(), good, dir, Options{}); n != 0 || err == nil {
		t.Errorf("over somebody's own file: %d files, %v", n, err)
	}
	still("over somebody's own file")
}
