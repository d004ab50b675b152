package build

import (
	"strings"
	"testing"
)

func TestErrata(t *testing.T) {
	site := mustBuild(t, manual(t, "tiny.txtar", map[string]string{"errata.toml": `
[[errata]]
release = "1.0"
page = "frame"
step = "lay"
text = "Two screws do not hold the plate."
fixed = "2.0"
`}))
	for p, want := range map[string]bool{"1.0/frame.html": true, "1.0/powder.html": false, "2.0/frame.html": false} {
		data, _ := site.File(p)
		if got := strings.Contains(string(data), "Two screws do not hold the plate."); got != want {
			t.Errorf("%s shows it: %v, want %v", p, got, want)
		}
	}
}

func TestErrataReports(t *testing.T) {
	const good = "release = \"1.0\"\ntext = \"wrong\"\n"
	for text, want := range map[string]string{
		"[[errata]]\nrelease = \"1.0\"\n":                         "errata.toml:1:1: error: this entry does not say what is wrong",
		"[[errata]]\n" + good + "\n[[errata]]\ntext = \"x\"\n":    `errata.toml:5:1: error: there is no release ""`,
		"[[errata]]\n" + good + "step = \"lay\"\n":                "the step lay is of no page",
		"[[errata]]\n" + good + "page = \"care\"\n":               "release 1.0 has no page care",
		"[[errata]]\n" + good + "page=\"frame\"\nstep = \"no\"\n": "release 1.0 has no step no on a page frame",
		"[[errata]]\n" + good + "fixed = \"3.0\"\n":               `there is no release "3.0"`,
		"[[errata]]\n" + good + "pages = \"frame\"\n":             "errata.toml:4:1: error: the entry pages has no meaning here",
		"[[errata]\n": "errata.toml:1:",
	} {
		_, list := Build(Source{FS: manual(t, "tiny.txtar", map[string]string{"errata.toml": text})}, Options{})
		if !list.HasErrors() || !strings.Contains(list.Error(), want) {
			t.Errorf("%q: the report lacks %q:\n%v", text, want, list)
		}
	}
}
