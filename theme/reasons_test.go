package theme

import (
	"strings"
	"testing"
)

func TestReasons(t *testing.T) {
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	page := func(in *Input) string {
		b, err := th.Reasons(in)
		if err != nil {
			t.Fatal(err)
		}
		_, s, _ := strings.Cut(string(b), "<main")
		return strings.ReplaceAll(s, nbsp, " ")
	}
	in := handInput()
	in.Result.(*fakeResults).limits = nil
	for _, f := range in.Result.Figures() {
		f.Because = ""
	}
	if !strings.Contains(page(in), english.NoReasons) {
		t.Error("where there are no reasons, the sheet does not say so")
	}
	in = handInput()
	for name, why := range map[string]string{"bay_hot": "measured again with the lid closed", "mass": "as much as one person lifts"} {
		in.Result.(*fakeResults).Figure(name).Because = why
	}
	text := page(in)
	for _, want := range []string{
		`data-label="Release 1.1">64 °C</td><td class="right new" data-label="This release">68 °C</td><td data-label="Reason">measured again with the lid closed`,
		`data-label="Release 1.1">4.82 kg</td><td class="right new" data-label="This release">4.82 kg</td><td data-label="Reason">as much as one person lifts`,
		english.ReasonsAccepted, "lifted once a year, by two people", `href="start.workings.html#w/bay_hot"`, `href="limits.html#l/load"`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, "belt.shaft") {
		t.Error("a limit that holds needs no reason")
	}
}
