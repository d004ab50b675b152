package content

import (
	"fmt"
	"math"
	"regexp"
	"strconv"

	"workings/calc/diag"
)

// A Look is what a manual may choose of how its site looks. The look of safety
// messages is none of it, and what prints or stands in a scheme of more
// contrast is left alone.
type Look struct {
	Accent     string // colour of marks on light paper, "#rrggbb"; "" for that of the theme
	AccentDark string // and on dark paper
	Text       string // letters of running text: "" or "serif"
}

type lookTOML struct {
	Accent     string `toml:"accent"`
	AccentDark string `toml:"accent_dark"`
	Text       string `toml:"text"`
}

// What an accent must be told from: the paper of both schemes, and what is
// shaded on it.
var (
	LightPaper = []string{"#fdfcf8", "#f4f1e7"}
	DarkPaper  = []string{"#10202b", "#172b38"}
)

// leastContrast is that of text (WCAG 2.2, success criterion 1.4.3, level AA):
// the accent colours words in code, and marks finer than letters.
const leastContrast = 4.5

var hexColour = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

func checkLook(l Look, t *tomlText, list *diag.List) {
	for _, c := range []struct {
		key, colour string
		paper       []string
		scheme      string
	}{
		{"accent", l.Accent, LightPaper, "light"},
		{"accent_dark", l.AccentDark, DarkPaper, "dark"},
	} {
		if c.colour == "" {
			continue
		}
		at := t.place("look." + c.key)
		if !hexColour.MatchString(c.colour) {
			list.Add(at, "look", "%q is no colour", c.colour).Hint = `write red, green and blue in hexadecimal digits, as in "#1d6b44"`
			continue
		}
		worst := math.Inf(1)
		for _, p := range c.paper {
			worst = math.Min(worst, Contrast(c.colour, p))
		}
		if worst < leastContrast {
			// Down to a tenth: what is too little must not read as enough.
			list.Add(at, "look", "%s has a contrast of %.1f : 1 with the paper of the %s scheme, less than 4.5 : 1", c.colour, math.Floor(worst*10)/10, c.scheme).
				Hint = map[string]string{"light": "take a darker colour", "dark": "take a lighter colour"}[c.scheme]
		}
	}
	for _, pair := range [][3]string{{"accent", l.Accent, l.AccentDark}, {"accent_dark", l.AccentDark, l.Accent}} {
		if pair[1] != "" && pair[2] == "" {
			other := map[string]string{"accent": "accent_dark, for dark paper", "accent_dark": "accent, for light paper"}[pair[0]]
			list.Add(t.place("look."+pair[0]), "look", "one scheme has a colour and the other has none").Hint = "write " + other + ", too"
		}
	}
	if l.Text != "" && l.Text != "serif" {
		list.Add(t.place("look.text"), "look", "%q is no kind of letters", l.Text).Hint = `write text = "serif", or take the line out`
	}
}

// Contrast is the contrast ratio of two colours "#rrggbb", from 1 to 21 (WCAG
// 2.2, "contrast ratio" and "relative luminance").
func Contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func luminance(colour string) float64 {
	c := rgb(colour)
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		x := float64(c[i]) / 255
		if x <= 0.04045 {
			x /= 12.92
		} else {
			x = math.Pow((x+0.055)/1.055, 2.4)
		}
		sum += weight * x
	}
	return sum
}

func rgb(colour string) [3]uint8 {
	n, _ := strconv.ParseUint(colour[1:], 16, 32) // checked before
	return [3]uint8{uint8(n >> 16), uint8(n >> 8), uint8(n)}
}

// Tint is a colour between two, "#rrggbb": part of the first, the rest of the second.
func Tint(a, b string, part float64) string {
	x, y := rgb(a), rgb(b)
	mix := func(i int) uint8 { return uint8(math.Round(part*float64(x[i]) + (1-part)*float64(y[i]))) }
	return fmt.Sprintf("#%02x%02x%02x", mix(0), mix(1), mix(2))
}
