package theme

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"workings/content"
)

// What the contrast of an accent is measured against is what the style sheet
// has, and a look changes nothing for those who asked for more contrast.
func TestLook(t *testing.T) {
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := th.Assets(content.Look{})
	if err != nil {
		t.Fatal(err)
	}
	// The first two blocks are those of light and of dark paper.
	blocks := regexp.MustCompile(`--paper:(#[0-9a-f]{6});[^}]*--wash:(#[0-9a-f]{6})`).FindAllSubmatch(plain["style.css"], 2)
	if len(blocks) != 2 {
		t.Fatal("the style sheet does not say what its paper is")
	}
	for i, want := range [][]string{content.LightPaper, content.DarkPaper} {
		if got := []string{string(blocks[i][1]), string(blocks[i][2])}; strings.Join(got, " ") != strings.Join(want, " ") {
			t.Errorf("paper and wash are %v, contrast is measured against %v", got, want)
		}
	}
	own, err := th.Assets(content.Look{Accent: "#0b5d8a", AccentDark: "#8fd0ff", Text: "serif"})
	if err != nil {
		t.Fatal(err)
	}
	added, ok := bytes.CutPrefix(own["style.css"], plain["style.css"])
	if !ok {
		t.Fatal("a look changes the rules of the theme")
	}
	for line := range strings.Lines(strings.TrimSpace(string(added))) {
		if !strings.HasPrefix(line, "@media screen and (not (prefers-contrast:more)) and (not (forced-colors:active))") {
			t.Errorf("it counts where it must not: %s", line)
		}
	}
	for _, want := range []string{"--accent:#0b5d8a", "--accent:#8fd0ff", "Palatino"} {
		if !strings.Contains(string(added), want) {
			t.Errorf("%s is missing in %s", want, added)
		}
	}
}
