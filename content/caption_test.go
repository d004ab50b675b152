package content

import (
	"testing"
	"testing/fstest"
)

// The quotes of a text within a figure do not end the caption that it stands in.
func TestCaptionWithChoice(t *testing.T) {
	m, list := Load(fstest.MapFS{
		"manual.toml": {Data: []byte("title = \"T\"\nrelease = \"1.0\"\n")},
		"design.calc": {Data: []byte("gap = 3 mm\n")},
		"pages/a.md": {Data: []byte("# A\n\n```plot p\nline gap\nagainst gap from 1 mm to 5 mm\n" +
			"title \"The gap\"\ncaption \"It is {= if gap > 2 mm then \"wide\" else \"tight\"}, \\\"so\\\" to say.\"\n```\n")},
	}, Options{})
	for _, d := range list {
		if !d.Warn {
			t.Error(d)
		}
	}
	p := m.Pages[0].Plots[0]
	if len(p.CaptionParts) != 3 || p.CaptionParts[1].Text != `{= if gap > 2 mm then "wide" else "tight"}` || p.CaptionParts[2].Text != `, "so" to say.` {
		t.Errorf("the caption is read as %+v", p.CaptionParts)
	}
}
