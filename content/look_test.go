package content

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"
)

// The ends are in WCAG 2.2's definition of the ratio. The grey is the lightest
// that is enough on white, common practice among those who test pages.
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"#000000", "#ffffff", 21},
		{"#ffffff", "#ffffff", 1},
		{"#767676", "#ffffff", 4.54},
		{"#777777", "#ffffff", 4.48},
		{"#ff0000", "#ffffff", 4.00}, // by hand: 1.05 / (0.2126 + 0.05)
	} {
		if got := Contrast(c.a, c.b); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, want %.2f", c.a, c.b, got, c.want)
		}
		if Contrast(c.a, c.b) != Contrast(c.b, c.a) {
			t.Errorf("%s and %s: the ratio depends on their order", c.a, c.b)
		}
	}
}

func TestTint(t *testing.T) {
	if got := Tint("#000000", "#ffffff", 0.1); got != "#e6e6e6" {
		t.Errorf("got %s", got)
	}
}

func TestLook(t *testing.T) {
	for look, want := range map[string]string{
		`accent = "#0b5d8a"` + "\n" + `accent_dark = "#8fd0ff"` + "\n" + `text = "serif"`: "",
		`text = "serif"`:          "",
		`accent = "blue"`:         `"blue" is no colour`,
		`accent = "#0b5d8a"`:      "write accent_dark, for dark paper, too",
		`accent_dark = "#8fd0ff"`: "write accent, for light paper, too",
		`text = "gothic"`:         `"gothic" is no kind of letters`,
		`colour = "#000000"`:      "there is no key look.colour here",
		`accent = "#e0a000"` + "\n" + `accent_dark = "#8fd0ff"`: "#e0a000 has a contrast of 2.0 : 1 with the paper of the light scheme",
		`accent = "#0b5d8a"` + "\n" + `accent_dark = "#0b5d8a"`: "with the paper of the dark scheme",
	} {
		m, list := Load(fstest.MapFS{
			"manual.toml": {Data: []byte("title = \"T\"\nrelease = \"1.0\"\n[look]\n" + look + "\n")},
			"pages/a.md":  {Data: []byte("# A\n")},
		}, Options{})
		switch got := list.Error(); {
		case want == "" && len(list) > 0:
			t.Errorf("%s: %s", look, got)
		case want == "" && m.Config.Look == (Look{}):
			t.Errorf("%s: it is not read", look)
		case want != "" && !strings.Contains(got, want):
			t.Errorf("%s: reported %s, want %s", look, got, want)
		}
	}
}
