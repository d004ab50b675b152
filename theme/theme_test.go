package theme

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var write = flag.String("write", "", "write the hand-made site to this folder, to look at it")

func TestWriteSite(t *testing.T) {
	if *write == "" {
		t.Skip("only with -write")
	}
	files := sheets(t, handInput())
	th, _ := New(Options{})
	assets, err := th.Assets()
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range assets {
		files["assets/"+name] = b
	}
	for name, b := range files {
		path := filepath.Join(*write, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
