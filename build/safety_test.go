package build

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

func TestSafetyLosses(t *testing.T) {
	files := func(sheet, page string) *Release {
		r, list := LoadWorking(Source{FS: fstest.MapFS{
			"manual.toml":  {Data: []byte("title = \"x\"\nrelease = \"1\"\n")},
			"design.calc":  {Data: []byte(sheet)},
			"pages/1-a.md": {Data: []byte("# A\n\n## Step {#s}\n\n" + page)},
		}}, Options{})
		for _, d := range list {
			if !d.Warn && d.Code != "limit-broken" && d.Code != "limit-searched" {
				t.Fatalf("%s\n%v", sheet, list)
			}
		}
		return r
	}
	const sheet = "load = 3 N\narea = 2 m^2\nstress = load / area\nmost = 4 Pa\nstrength = 9 Pa\nfactor = 3\nallow = strength / factor\nheld = load * 1.2 / area\n"
	limit := func(cond, signal string) string {
		return "limit hot: " + cond + " else " + signal + " \"It breaks at {= stress}.\"\n"
	}
	for _, c := range []struct {
		name             string
		old, new         string // lines added to the sheet
		oldPage, newPage string
		want             string
	}{
		{"nothing", limit("stress <= most", "danger"), limit("stress <= most", "danger"), "", "", ""},
		{"a lower word", limit("stress <= most", "danger"), limit("stress <= most", "warning"), "", "", "limit hot signal DANGER→WARNING"},
		{"a higher word", limit("stress <= most", "caution"), limit("stress <= most", "warning"), "", "", ""},
		{"a limit that is gone", limit("stress <= most", "caution"), "", "", "", "limit hot dropped stress <= most→"},
		{"another name", limit("stress <= most", "danger"), strings.Replace(limit("stress <= most", "danger"), "hot", "cold", 1), "", "", ""},
		{"no message", limit("stress <= most", "warning"), "limit hot: stress <= most\n", "", "", "limit hot signal WARNING→"},
		{"a wider literal", limit("stress <= 4 Pa", "danger"), limit("stress <= 5 Pa", "danger"), "", "", "limit hot wider stress ≤ 4 Pa→stress ≤ 5 Pa"},
		{"a narrower literal", limit("stress <= 4 Pa", "danger"), limit("stress <= 3 Pa", "danger"), "", "", ""},
		{"in another unit", limit("stress <= 4 Pa", "danger"), limit("stress <= 0.004 kPa", "danger"), "", "", ""},
		{"a caution may be wider", limit("stress <= 4 Pa", "caution"), limit("stress <= 5 Pa", "caution"), "", "", ""},
		{"at least", limit("stress >= 1 Pa", "warning"), limit("stress >= 0.5 Pa", "warning"), "", "", "limit hot wider stress ≥ 1 Pa→stress ≥ 0.5 Pa"},
		{"the bound on the left", limit("4 Pa >= stress", "warning"), limit("5 Pa >= stress", "warning"), "", "", "limit hot wider stress ≤ 4 Pa→stress ≤ 5 Pa"},
		{"the end itself", limit("stress < 4 Pa", "warning"), limit("stress <= 4 Pa", "warning"), "", "", "limit hot wider stress < 4 Pa→stress ≤ 4 Pa"},
		{"one of two", limit("stress <= 4 Pa and load <= 3 N", "warning"), limit("stress <= 4 Pa and load <= 4 N", "warning"), "", "", "limit hot wider load ≤ 3 N→load ≤ 4 N"},
		{"one of two is gone", limit("stress <= 4 Pa and load <= 3 N", "warning"), limit("stress <= 4 Pa", "warning"), "", "", "limit hot condition stress <= 4 Pa and load <= 3 N→stress <= 4 Pa"},
		{"either", limit("stress <= 4 Pa", "warning"), limit("stress <= 4 Pa or load < 1 N", "warning"), "", "", "limit hot condition stress <= 4 Pa→stress <= 4 Pa or load < 1 N"},
		{"a parameter moves the bound", limit("stress <= most", "danger") + "x = 1\n", "most = 6 Pa\n" + limit("stress <= most", "danger"), "", "", "limit hot wider stress ≤ 4 Pa→stress ≤ 6 Pa"},
		{"a factor of safety", limit("stress <= allow", "danger"), "factor = 2\n" + limit("stress <= allow", "danger"), "", "", "limit hot wider stress ≤ 3 Pa→stress ≤ 4.5 Pa"},
		{"the design moves both sides", limit("stress <= held", "danger"), "load = 4 N\n" + limit("stress <= held", "danger"), "", "", ""},

		{"a message stays", "", "", "> **DANGER** Keep your hands out.\n", "> **DANGER** Keep your hands out.\n", ""},
		{"a message is gone", "", "", "> **DANGER** Keep your hands out.\n", "Go on.\n", "panel a/ dropped Keep your hands out.→"},
		{"a notice may go", "", "", "> **NOTICE** Oil leaves spots.\n", "Go on.\n", ""},
		{"a lower word of a message", "", "", "> **WARNING** Keep your hands out.\n", "> **CAUTION** Keep your hands out.\n", "panel a/ signal WARNING→CAUTION"},
		{"other words", "", "", "> **WARNING** Keep your hands out of the press.\n", "> **WARNING** Keep both hands out of the press.\n", ""},
		{"a lower word with other words", "", "", "> **WARNING** Keep your hands out of the press.\n", "> **NOTICE** Keep both hands out of the press.\n", "panel a/ signal WARNING→NOTICE"},
		{"one of two alike", "", "", "> **WARNING** Hot.\n\n> **WARNING** Hot.\n", "> **WARNING** Hot.\n", "panel a/ dropped Hot.→"},
		{"a figure in a message has moved", "", "load = 4 N\n", "> **WARNING** It pulls with {= load}.\n", "> **WARNING** It pulls with {= load}.\n", ""},
		{"another message in its place", "", "", "> **DANGER** The beam blinds you.\n", "> **DANGER** Keep your hands out.\n", "panel a/ dropped The beam blinds you.→"},
		{"a message before it", "", "", "> **DANGER** The beam blinds you.\n", "> **DANGER** Keep your hands out.\n\n> **DANGER** The beam blinds you.\n", ""},
		{"one of two gets a higher word", "", "", "> **WARNING** Hot plates burn.\n\n> **WARNING** Dust ignites.\n", "> **DANGER** Hot plates burn.\n\n> **WARNING** Dust ignites.\n", ""},
		{"the first is gone, the second reworded", "", "", "> **WARNING** Keep your hands out of the press.\n\n> **WARNING** Keep both hands out of the press.\n", "> **WARNING** Keep both hands out of the press.\n",
			"panel a/ dropped Keep your hands out of the press.→"},
		{"the same words under two signal words", "", "", "> **WARNING** Hot.\n\n> **CAUTION** Hot.\n", "> **CAUTION** Hot.\n\n> **WARNING** Hot.\n", ""},
		{"a figure has moved, and the message with it", "", "load = 4 N\n", "> **WARNING** It pulls with {= load}.\n\n## Two {#t}\n\nx\n", "x\n\n## Two {#t}\n\n> **WARNING** It pulls with {= load}.\n", ""},
		{"another step", "", "", "> **WARNING** Hot.\n\n## Two {#t}\n\nx\n", "## Two {#t}\n\n> **WARNING** Hot.\n", ""},
	} {
		// A line of the new sheet takes the place of that of the same name.
		put := func(lines string) string {
			out := sheet
			for _, l := range strings.SplitAfter(lines, "\n") {
				name, _, given := strings.Cut(l, " = ")
				if i := strings.Index("\n"+out, "\n"+name+" = "); given && i >= 0 {
					out = out[:i] + out[i+strings.IndexByte(out[i:], '\n')+1:]
				}
				out += l
			}
			return out
		}
		var got []string
		for _, l := range SafetyLosses(files(put(c.old), c.oldPage), files(put(c.new), c.newPage)) {
			where := l.Name
			if l.Page != "" {
				where = l.Page + "/" + l.Step
			}
			got = append(got, fmt.Sprintf("%s %s %s %s→%s", l.Of, where, l.Kind, l.Old, l.New))
			if l.Pos.File == nil || l.OldPos.File == nil {
				t.Errorf("%s: no place", c.name)
			}
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s: %q, want %q", c.name, s, c.want)
		}
	}
}
