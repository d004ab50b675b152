package build

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"workings/calc/diag"
)

var update = flag.Bool("update", false, "rewrite the reports that tests expect")

// auditText audits a manual and gives the whole report, with what is accepted
// behind it.
func auditText(fsys fs.FS) (string, diag.List) {
	var accepted []Accepted
	_, list := Build(Source{FS: fsys}, Options{Tool: Tool{"workings", "test"}, Thorough: true, Accepted: func(a []Accepted) { accepted = a }})
	text := list.Error()
	for _, a := range accepted {
		text += fmt.Sprintf("accepted, %s: %s\n", a.Why, a.Diag.Error())
	}
	return text, list
}

// Each broken manual gives its report, byte for byte.
func TestAuditBroken(t *testing.T) {
	names, err := filepath.Glob("../testdata/broken/audit-*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no broken manuals found (%v)", err)
	}
	codes := map[string]bool{}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		want := -1
		source := &txtar.Archive{}
		for i, f := range a.Files {
			if f.Name == "want" {
				want = i
			} else {
				source.Files = append(source.Files, f)
			}
		}
		fsys, err := txtar.FS(source)
		if err != nil {
			t.Fatal(err)
		}
		got, list := auditText(fsys)
		for _, d := range list {
			codes[d.Code] = true
			if d.Span.File == nil || d.Span.Start < 0 || d.Span.End > len(d.Span.File.Text) || d.Hint == "" {
				t.Errorf("%s: without a place or a hint: %s", name, d.Error())
			}
		}
		if *update {
			if want < 0 {
				a.Files = append(a.Files, txtar.File{Name: "want"})
				want = len(a.Files) - 1
			}
			a.Files[want].Data = []byte(got)
			if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if want < 0 {
			t.Errorf("%s has no file want; run with -update and read what it says", name)
		} else if d := cmp.Diff(string(a.Files[want].Data), got); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	for code := range AuditRules {
		switch code {
		case "large-picture": // TestLargePicture
			continue
		case "limit-searched": // TestLimitFindings: what can be proved is no matter of this package
			continue
		case "broken-link", "same-id": // faults of the theme: sanitised HTML has no places and no links within the site
			continue
		}
		if !codes[code] {
			t.Errorf("no broken manual gives %s", code)
		}
	}
}

// A picture may be large in bytes, in pixels, or not at all.
func TestLargePicture(t *testing.T) {
	picture := func(w, h, pad int) []byte {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
			t.Fatal(err)
		}
		return append(b.Bytes(), make([]byte, pad)...)
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"small", picture(100, 100, 0), ""},
		{"just not too large", picture(mostPixels, 10, 0), ""},
		{"pixels", picture(10, mostPixels+1, 0), "10 × 4001 pixels"},
		{"bytes", picture(10, 10, mostBytes), "2.0 MiB"},
	} {
		got, _ := auditText(fstest.MapFS{
			"manual.toml":       {Data: []byte("title = \"T\"\nrelease = \"1\"\n")},
			"pictures/bed.png":  {Data: c.data},
			"pages/10-start.md": {Data: []byte("# Start\n\n![The bed](../pictures/bed.png)\n\n![The bed again](../pictures/bed.png)\n")},
		})
		if c.want == "" && got != "" || !strings.Contains(got, c.want) || c.want != "" && strings.Count(got, "[large-picture]") != 1 {
			t.Errorf("%s: %s", c.name, got)
		}
		if c.want != "" && !strings.HasPrefix(got, "pages/10-start.md:3:12: warning: ") {
			t.Errorf("%s: at another place: %s", c.name, got)
		}
	}
}

// The demonstration has no finding that is not accepted in writing.
func TestAuditFenbank(t *testing.T) {
	got, _ := auditText(os.DirFS(fenbank))
	for line := range strings.Lines(got) {
		if strings.Contains(line, ".md:") && !strings.HasPrefix(line, "accepted, ") {
			t.Errorf("a finding that is not accepted: %s", line)
		}
	}
	if !strings.Contains(got, "axis.follows") {
		t.Errorf("the limit axis.follows is accepted in writing; got\n%s", got)
	}
}

// Every rule of releases and numbers names a code that the program gives.
func TestReleaseRules(t *testing.T) {
	var all strings.Builder
	for _, pattern := range []string{"*.go", "../calc/*.go"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") || name == "audit.go" {
				continue
			}
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(data)
		}
	}
	for code := range ReleaseRules {
		if !strings.Contains(all.String(), `"`+code+`"`) {
			t.Errorf("nothing gives the code %s", code)
		}
	}
}
