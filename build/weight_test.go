package build

import (
	"regexp"
	"strings"
	"testing"
)

// A sheet of the demonstration is read on a phone in a workshop: without its
// pictures, and the numbers that stand for them, it weighs less than 61 KB
// before compression.
func TestWeight(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	pictures := regexp.MustCompile(`(?s)<svg.*?</svg>|<details class="numbers.*?</details>`)
	sheets := 0
	for _, p := range site.Paths() {
		page := string(fileOf(site, p))
		if !strings.Contains(page, "data-page=") || strings.Contains(page, `class="volume"`) {
			continue
		}
		sheets++
		if n := len(pictures.ReplaceAllString(page, "")); n > 61<<10 {
			t.Errorf("%s weighs %d bytes without its pictures", p, n)
		}
	}
	if sheets < 28 {
		t.Errorf("only %d sheets", sheets)
	}
}
