package content

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"

	"workings/calc/diag"
)

// FuzzManual: any page, manual.toml and parts list load in short time and
// without a panic; the places of all that is read and reported lie in their
// files; and with several pages read at a time it is the same.
func FuzzManual(f *testing.F) {
	for _, files := range brokenSources(f) {
		for name, text := range files {
			if filepath.Dir(name) == pagesDir {
				f.Add(text, files[configName], files[partsName])
			}
		}
	}
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join("../testdata/fenbank", name))
		if err != nil {
			f.Fatal(err)
		}
		return string(data)
	}
	pages, err := filepath.Glob("../testdata/fenbank/pages/*.md")
	if err != nil || len(pages) == 0 {
		f.Fatalf("no pages (%v)", err)
	}
	for _, p := range pages {
		f.Add(read("pages/"+filepath.Base(p)), read(configName), read(partsName))
	}
	f.Fuzz(func(t *testing.T, page, config, parts string) {
		if len(page)+len(config)+len(parts) > 1<<16 {
			return
		}
		files := map[string]string{
			configName:           config,
			partsName:            parts,
			sheetName:            "bed_x = 220 mm\nlamps = table \"tables/lamps.csv\"\n",
			"tables/lamps.csv":   "id,power (W)\nL1,200\n",
			"pages/10-start.md":  page,
			"pages/20-frame.md":  "# Frame\n\n```calc\ngap = bed_x / 2\n```\n\n## Fit {#fit}\n\n" + page,
			"pictures/plate.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="3" height="2"/>`,
		}
		fsys := fstest.MapFS{}
		for name, text := range files {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
		// The best of three tries counts, so that a busy machine fails no test.
		var m *Manual
		var list diag.List
		for try := 1; ; try++ {
			start := time.Now()
			m, list = Load(fsys, Options{Workers: 1})
			took := time.Since(start)
			if took <= 5*time.Second {
				break
			}
			if try == 3 {
				t.Errorf("it took %v", took)
				break
			}
		}
		checkSpans(t, m, list)
		for _, d := range list {
			if d.Code == "" || d.Msg == "" {
				t.Errorf("a report without text: %+v", d)
			}
		}
		_, second := Load(fsys, Options{Workers: 2})
		if a, b := list.Error(), second.Error(); a != b {
			t.Errorf("one page at a time it says\n%s\nand two at a time\n%s", a, b)
		}
	})
}
