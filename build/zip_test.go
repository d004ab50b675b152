package build

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"
)

type zipEntry struct {
	name, text string
	mode       fs.FileMode
}

func makeZip(t testing.TB, entries ...zipEntry) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		if e.mode == 0 {
			e.mode = 0o644
		}
		h.SetMode(e.mode)
		f, err := w.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(e.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestOpenZip(t *testing.T) {
	fsys, err := openZip(makeZip(t, zipEntry{name: "manual.toml", text: "title = \"x\"\n"}, zipEntry{name: "pages/1-a.md", text: "# A\n"}))
	if err != nil {
		t.Fatal(err)
	}
	got, err := fs.ReadFile(fsys, "pages/1-a.md")
	if err != nil || string(got) != "# A\n" {
		t.Errorf("read %q, %v", got, err)
	}
	names, err := fs.ReadDir(fsys, "pages")
	if err != nil || len(names) != 1 {
		t.Errorf("listed %v, %v", names, err)
	}
}

func TestOpenZipRefuses(t *testing.T) {
	for _, c := range []struct {
		name, want string
		entries    []zipEntry
	}{
		{"parent", "no path inside", []zipEntry{{name: "../evil.md"}}},
		{"inner parent", "no path inside", []zipEntry{{name: "pages/../../evil.md"}}},
		{"absolute", "no path inside", []zipEntry{{name: "/etc/evil.md"}}},
		{"backslash", "no path inside", []zipEntry{{name: `pages\evil.md`}}},
		{"drive", "no path inside", []zipEntry{{name: "c:evil.md"}}},
		{"twice", "twice", []zipEntry{{name: "a.md"}, {name: "a.md"}}},
		{"differs in case", `"a.md" and "A.md", which are one file`, []zipEntry{{name: "a.md"}, {name: "A.md"}}},
		{"a folder in case", `"Pages" and "pages", which are one file`, []zipEntry{{name: "Pages/", mode: fs.ModeDir | 0o755}, {name: "pages"}}},
		{"symlink", "neither a file nor a folder", []zipEntry{{name: "a.md", text: "/etc/passwd", mode: fs.ModeSymlink | 0o777}}},
		{"bomb", "times its size", []zipEntry{{name: "a.md", text: strings.Repeat("\x00", 4<<20)}}},
	} {
		_, err := openZip(makeZip(t, c.entries...))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", c.name, err, c.want)
		}
	}
	if _, err := openZip([]byte("no zip")); err == nil {
		t.Error("opened what is no zip")
	}
}

// A size that the directory of the zip understates must not unpack to more.
func TestOpenZipFalseSize(t *testing.T) {
	data := makeZip(t, zipEntry{name: "a.md", text: strings.Repeat("ab", 50_000)})
	// The uncompressed size stands 24 bytes into the entry of the central directory.
	dir := bytes.LastIndex(data, []byte("PK\x01\x02"))
	copy(data[dir+24:], []byte{10, 0, 0, 0})
	fsys, err := openZip(data)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := fs.ReadFile(fsys, "a.md"); err == nil {
		t.Errorf("read %d bytes of a file said to hold 10", len(got))
	}
}

func TestCheckSum(t *testing.T) {
	// FIPS 180-4 example, SHA-256 of "abc".
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if err := checkSum([]byte("abc"), strings.ToUpper(abc)); err != nil {
		t.Error(err)
	}
	if err := checkSum([]byte("abd"), abc); err == nil {
		t.Error("a wrong sum passes")
	}
}

func writeTree(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	for name, text := range files {
		if i := strings.LastIndexByte(name, '/'); i > 0 {
			if err := root.MkdirAll(name[:i], 0o755); err != nil {
				t.Fatal(err)
			}
		}
		if err := root.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
