package theme

import (
	"strings"

	"workings/content"
)

// serif is the letters of running text in a manual that wants serifs: what the
// reader's system has.
const serif = `"Iowan Old Style","Palatino Linotype",Palatino,"Noto Serif","Liberation Serif",Georgia,serif`

// lookCSS is what a manual's own look adds to the style sheet. It counts on
// screens, but where a reader asks for more contrast or has colours of their own.
func lookCSS(l content.Look) string {
	if l == (content.Look{}) {
		return ""
	}
	var b strings.Builder
	root := func(l content.Look, accent string, paper []string) {
		b.WriteString(":root{")
		if accent != "" {
			b.WriteString("--accent:" + accent + ";--accent-wash:" + content.Tint(accent, paper[0], 0.1) + ";")
		}
		if l.Text == "serif" {
			b.WriteString("--prose:" + serif + ";")
		}
		b.WriteString("}")
	}
	const screen = "@media screen and (not (prefers-contrast:more)) and (not (forced-colors:active))"
	b.WriteString("\n" + screen + "{")
	root(l, l.Accent, content.LightPaper)
	b.WriteString("}\n")
	if l.AccentDark != "" {
		b.WriteString(screen + " and (prefers-color-scheme:dark){")
		root(content.Look{}, l.AccentDark, content.DarkPaper)
		b.WriteString("}\n")
	}
	return b.String()
}
