package build

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"golang.org/x/sys/unix"
)

// mount gives a file system of its own, of the size given; the test is left
// out where the system does not let it have one.
func mount(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("this test may not mount a file system here (%v): a full and a read-only one are not tried", err)
	}
	t.Cleanup(func() {
		if err := unix.Unmount(dir, unix.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// wholeAfter sees that a failed publish left the site as it was, said why, and
// left nothing beside it.
func wholeAfter(t *testing.T, dir, why string, err error, before map[string]string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), why) {
		t.Errorf("got %v, want an error with %q", err, why)
	}
	if d := equalTrees(before, tree(t, dir)); d != "" {
		t.Errorf("the old site is no longer whole: %s", d)
	}
	wantNoLeftovers(t, filepath.Dir(dir))
}

func TestWriteDiskFull(t *testing.T) {
	dir := filepath.Join(mount(t, "1m"), "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	wholeAfter(t, dir, "no space left", testSite(strings.Repeat("new ", 200_000)).Write(dir), before)
	if err := testSite("new").Write(dir); err != nil { // there is room for this one
		t.Error(err)
	}
}

func TestWriteReadOnly(t *testing.T) {
	disk := mount(t, "1m")
	dir := filepath.Join(disk, "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	if err := unix.Mount("", disk, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	wholeAfter(t, dir, "read-only file system", testSite("new").Write(dir), before)
}

// Files may not grow beyond a size: as a full disk, where none can be mounted.
func TestWriteFileLimit(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	var was unix.Rlimit
	if err := unix.Getrlimit(unix.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: 64 << 10, Max: was.Max}); err != nil {
		t.Fatal(err)
	}
	err := testSite(strings.Repeat("new ", 200_000)).Write(dir)
	if back := unix.Setrlimit(unix.RLIMIT_FSIZE, &was); back != nil {
		t.Fatal(back)
	}
	wholeAfter(t, dir, "file too large", err, before)
}

// Two that publish into one folder: it holds the site of one or of the other.
func TestWriteTwoAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	if err := testSite("old").Write(dir); err != nil {
		t.Fatal(err)
	}
	for range 50 {
		var wg sync.WaitGroup
		for _, text := range []string{"one", "two"} {
			wg.Go(func() {
				if err := testSite(text).Write(dir); err != nil {
					t.Error(err)
				}
			})
		}
		wg.Wait()
		got := tree(t, dir)
		text := got["index.html"]
		if len(got) != 3 || text != "one" && text != "two" || got["1.0/pages/a.html"] != "a "+text {
			t.Fatalf("the folder holds a mixture: %q", got)
		}
	}
	if _, err := os.Stat(dir); err != nil {
		t.Error(err)
	}
	wantNoLeftovers(t, filepath.Dir(dir))
}
