package build

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"
)

// FuzzPublish: whatever a manual holds, it is published or refused, in short
// time, without a panic, twice the same; and what is written stays in its folder.
func FuzzPublish(f *testing.F) {
	const manual = "title = \"T\"\nrelease = \"2.0\"\nhtml = \"sanitised\"\n[[releases]]\nname = \"1.0\"\nzip = \"1.0.zip\"\n"
	const sheet = "bed_x = 220 mm ± 0.2 mm   # width\nlamps = table \"tables/lamps.csv\"\nlimit wide: bed_x <= 300 mm\n  else caution \"It is {= bed_x} wide.\"\n"
	const page = "# Start\n\nThe bed is {= bed_x} wide, <b>all</b> of it.\n\n![a](../pictures/a.svg)\n\n```calc\nhalf = bed_x / 2\n```\n\n## Measure\n\n```measure\nwidth \"width\": bed_x ± 1 mm\n```\n"
	const table = "id,power (W)\nL1,200\n"
	const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="3" height="2"/>`
	old := makeZip(f, zipEntry{name: "manual.toml", text: "title = \"T\"\nrelease = \"1.0\"\n"},
		zipEntry{name: "design.calc", text: "bed_x = 210 mm\n"}, zipEntry{name: "pages/1-start.md", text: "# Start\n\n{= bed_x}\n"})
	f.Add(manual, sheet, page, table, drawing, old)
	f.Add("title = \"T\"\nrelease = \"1\"\n", sheet, "# S\n\n"+string(bytes.Repeat([]byte("`a"), 200)), table, drawing, []byte("PK"))
	f.Add("title = \"T\"\nrelease = \"1\"\n", sheet, "# S\n\n"+string(bytes.Repeat([]byte("*a_ [b]("), 200)), table, drawing, old)
	f.Add("title = \"T\"\nrelease = \"../x\"\n", "x = 1 m\n", "# S\n\n[a](../../etc/passwd)\n", "\"", "<svg onload='x'/>", old[:len(old)/2])
	f.Fuzz(func(t *testing.T, manual, sheet, page, table, drawing string, old []byte) {
		if len(manual)+len(sheet)+len(page)+len(table)+len(drawing)+len(old) > 1<<16 {
			return
		}
		fsys := fstest.MapFS{"1.0.zip": {Data: old}}
		for name, text := range map[string]string{"manual.toml": manual, "design.calc": sheet, "pages/10-start.md": page,
			"tables/lamps.csv": table, "pictures/a.svg": drawing} {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
		// The best of three tries counts, so that a busy machine fails no test.
		var site *Site
		report := ""
		for try := 1; ; try++ {
			begun := time.Now()
			s, list := Build(Source{FS: fsys}, Options{})
			took := time.Since(begun)
			if try > 1 && list.Error() != report {
				t.Errorf("it reports\n%s\nand then\n%s", report, list.Error())
			}
			site, report = s, list.Error()
			if took <= 5*time.Second {
				break
			}
			if try == 3 {
				t.Fatalf("it took %v", took)
			}
		}
		parent := t.TempDir()
		if err := os.WriteFile(filepath.Join(parent, "mine"), nil, 0o600); err != nil {
			t.Fatal(err)
		}
		dir := filepath.Join(parent, "site")
		n, list, failed := Publish(t.Context(), Source{FS: fsys}, dir, Options{})
		entries, err := os.ReadDir(parent)
		if want := 1 + btoi(n > 0 && failed == nil); err != nil || len(entries) != want {
			t.Errorf("beside the site there are %v, %v", entries, err)
		}
		if failed != nil {
			return // the system refused a name
		}
		if list.Error() != report || (site == nil) != (n == 0) {
			t.Fatalf("it reports\n%s\nand then\n%s", report, list.Error())
		}
		if site == nil {
			return
		}
		want, err := site.checksums("")
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.Join(dir, ListFile)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("the same manual gives two sites: %v", err)
		}
	})
}
