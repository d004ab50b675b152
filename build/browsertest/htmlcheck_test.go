package browsertest

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// checker is the path of a file of the checkers of .ci/package.json. Where
// they are not installed the test is left out, except where it counts.
func checker(t *testing.T, path string) string {
	t.Helper()
	path = filepath.Join("../../.ci/node_modules", path)
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%v: npm ci in .ci installs it", err)
		}
		t.Skipf("%s is not installed: npm ci --ignore-scripts in .ci installs it", path)
	}
	return path
}

// pages lists the HTML files of the folders of a site, with the one of its root.
func pages(t *testing.T, dir string, folders ...string) (list []string) {
	t.Helper()
	for _, f := range append(folders, ".") {
		found, err := filepath.Glob(filepath.Join(dir, f, "*.html"))
		if err != nil || len(found) == 0 {
			t.Fatalf("no pages in %s (%v)", f, err)
		}
		list = append(list, found...)
	}
	return list
}

// The Nu HTML checker, against the living standard of HTML with the
// drawings in it, finds nothing on any page: of the release that is
// coming, of one that is out, of the pages that lead to the current one.
func TestHTML(t *testing.T) {
	t.Parallel()
	jar := checker(t, "vnu-jar/build/dist/vnu.jar")
	java := program(t, "java")
	dir := demonstration(t)
	args := []string{"-Xss8m", "-jar", jar, "--also-check-svg", "--format", "json", "--exit-zero-always"}
	list := pages(t, dir, "2.0-rc1", "1.0", "current")
	drawings, err := filepath.Glob(filepath.Join(dir, "2.0-rc1/pictures/*.svg"))
	if err != nil || len(drawings) == 0 {
		t.Fatalf("no drawings: %v", err)
	}
	// A page with mistakes, to see that they are seen.
	wrong := filepath.Join(t.TempDir(), "wrong.html")
	if err := os.WriteFile(wrong, []byte("<!doctype html><html lang=en><title>a</title><p><div></p><svg><rect width=a /></svg>"), 0o644); err != nil {
		t.Fatal(err)
	}
	args = append(args, wrong)
	args = append(args, drawings...)
	args = append(args, list...)
	cmd := exec.Command(java, args...)
	var out strings.Builder
	cmd.Stderr = &out // where it reports
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v: %.2000s", err, out.String())
	}
	var report struct {
		Messages []struct {
			Type, SubType, URL, Message, Extract string
			LastLine                             int
		}
	}
	if err := json.Unmarshal([]byte(out.String()), &report); err != nil {
		t.Fatalf("%v: %.2000s", err, out.String())
	}
	seen := 0
	for _, m := range report.Messages {
		if strings.HasSuffix(m.URL, wrong) {
			seen++
			continue
		}
		// The checker takes 'self' of a file for no place at all; that the
		// policy lets a page have its own files is tried in browsers. And data
		// within a page is no script that a policy stops (HTML, 4.12.1.1).
		if m.SubType == "warning" && (strings.HasPrefix(m.Message, "Resource violates Content Security Policy") ||
			strings.HasPrefix(m.Message, "Inline script violates Content Security Policy") && strings.Contains(m.Extract, `<script type="application/ld+json">`)) {
			continue
		}
		t.Errorf("%s:%d: %s\n%s", strings.TrimPrefix(m.URL, "file:"+dir), m.LastLine, m.Message, m.Extract)
	}
	if seen < 2 {
		t.Errorf("of a page with mistakes the checker says only %d things", seen)
	}
}
