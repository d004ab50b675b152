package build

import (
	"strings"
	"testing"
)

// A part whose specification holds a figure is another part where that figure
// moved, though its line in parts.csv reads the same.
func TestCompareFilledSpecification(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	changes := map[string]string{}
	for _, name := range []string{"parts.csv", "releases/1.0/parts.csv"} {
		for file, text := range edit(t, m, name, "5 mm plate", `{= bed_x in mm } wide`) {
			changes[file] = text
		}
	}
	ch := changesOf(t, manual(t, "tiny.txtar", changes))
	var line string
	for _, p := range ch.Parts {
		if p.ID == "plate" {
			line = p.Old + " / " + p.New
		}
	}
	if want := "1 ×, 220 mm wide, EN AW-5083 / 1 ×, 240 mm wide, EN AW-5083"; line != want {
		t.Errorf("the plate changed %q, want %q", line, want)
	}
	var spec string
	for _, a := range ch.Buy {
		if a.ID == "plate" && a.Other {
			spec = a.Spec
		}
	}
	if !strings.HasPrefix(spec, "240 mm wide") {
		t.Errorf("to get is a plate of %q", spec)
	}
}
