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
right = "It takes four."
since = 2027-02-01
fixed = "2.0"

[[errata]]
release = "1.0"
figure = "mass"
text = "The density was measured wet."
since = 2027-02-03
limit = "load"

[[errata]]
release = "1.0"
text = "No paper size is given."
since = 2027-02-02
`}))
	const screws, wet, paper = "Two screws do not hold the plate. It takes four.", "The density was measured wet.", "No paper size is given."
	for p, want := range map[string][3]bool{
		"1.0/frame.html":   {true, false, false},
		"1.0/powder.html":  {false, true, false},
		"1.0/figures.html": {false, true, false},
		"1.0/gone.html":    {},
		"1.0/index.html":   {false, false, true},
		"1.0/whole.html":   {true, true, true}, // what is printed
		"1.0/checks.html":  {},
		"2.0/frame.html":   {},
		"2.0/errata.html":  {},
	} {
		data, _ := site.File(p)
		for i, text := range []string{screws, wet, paper} {
			if got := strings.Contains(string(data), text); got != want[i] {
				t.Errorf("%s shows %q: %v, want %v", p, text, got, want[i])
			}
		}
	}
	page, _ := site.File("1.0/errata.html")
	for _, want := range []string{"Two screws do not hold", "It takes four.", wet, paper, `href="frame.html#lay"`, `href="figures.html#f/mass"`, `href="../2.0/errata.html"`, `datetime="2027-02-03"`, "Kept from coming back by the limit load"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page of errors lacks %q", want)
		}
	}
	whole, _ := site.File("1.0/whole.html")
	if !strings.Contains(string(whole), `href="#frame/lay"`) {
		t.Error("the whole manual does not lead to the step")
	}
	feed, _ := site.File("feed.xml")
	for _, want := range []string{"It takes four.", "<updated>2027-02-03T00:00:00Z</updated>"} {
		if !strings.Contains(string(feed), want) {
			t.Errorf("the feed lacks %q:\n%s", want, feed)
		}
	}
}

// An erratum may name the limit that keeps the error from coming back.
func TestErratumKeepsLimit(t *testing.T) {
	m := manual(t, "tiny.txtar", map[string]string{"errata.toml": "[[errata]]\nrelease = \"1.0\"\ntext = \"too heavy\"\nsince = 2027-02-01\nlimit = \"load\"\n"})
	_, list := Build(Source{FS: m}, Options{})
	if strings.Contains(list.Error(), "errata-limit") {
		t.Errorf("reported although the limit is there:\n%v", list)
	}
	text := string(m["design.calc"].Data)
	m["design.calc"].Data = []byte(text[:strings.Index(text, "limit load")])
	_, list = Build(Source{FS: m}, Options{})
	if !strings.Contains(list.Error(), "errata.toml:1:1: warning: the limit load, which keeps this error of release 1.0 from coming back, is gone [errata-limit]") {
		t.Errorf("the missing limit is not reported:\n%v", list)
	}
}

func TestErrataReports(t *testing.T) {
	const good = "release = \"1.0\"\ntext = \"wrong\"\nsince = 2027-02-01\n"
	for text, want := range map[string]string{
		"[[errata]]\nrelease = \"1.0\"\n":                             "errata.toml:1:1: error: this entry does not say what is wrong",
		"[[errata]]\n" + good + "\n[[errata]]\ntext = \"x\"\n":        `errata.toml:6:1: error: there is no release ""`,
		"[[errata]]\n" + good + "step = \"lay\"\n":                    "the step lay is of no page",
		"[[errata]]\n" + good + "page = \"care\"\n":                   "release 1.0 has no page care",
		"[[errata]]\n" + good + "page=\"frame\"\nstep = \"no\"\n":     "release 1.0 has no step no on a page frame",
		"[[errata]]\n" + good + "fixed = \"3.0\"\n":                   `there is no release "3.0"`,
		"[[errata]]\n" + good + "pages = \"frame\"\n":                 "errata.toml:5:1: error: the entry pages has no meaning here",
		"[[errata]]\nrelease = \"1.0\"\ntext = \"x\"\n":               "since when the error is known",
		"[[errata]]\n" + good + "figure = \"weight\"\n":               "release 1.0 has no figure weight",
		"[[errata]]\n" + good + "page = \"frame\"\nfigure = \"mass\"": "a page and a figure",
		"[[errata]]\n" + good + "fixed = \"1.0\"\n":                   "release 1.0 cannot mend release 1.0",
		"[[errata]\n": "errata.toml:1:",
	} {
		_, list := Build(Source{FS: manual(t, "tiny.txtar", map[string]string{"errata.toml": text})}, Options{})
		if !list.HasErrors() || !strings.Contains(list.Error(), want) {
			t.Errorf("%q: the report lacks %q:\n%v", text, want, list)
		}
	}
}
