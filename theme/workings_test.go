package theme

import (
	"strings"
	"testing"
)

// TestRecordOnce: the formulas of a model stand once on a sheet for a call of
// it, in the workings of its record, where several of its results are shown;
// the one result that a sheet shows has them itself.
func TestRecordOnce(t *testing.T) {
	m, r := computed(t, map[string]string{
		"manual.toml":     "title = \"Trial oven\"\nrelease = \"1.0\"\n",
		"design.calc":     "wall = heat_lag(thickness: 30 mm, conductivity: 0.04 W/(m*K), density: 60 kg/m^3, specific_heat: 800 J/(kg*K), h: 8 W/(m^2*K))\n",
		"pages/10-one.md": "# One\n\nThe wall is through in {= wall.time in min }, which is {= wall.time in s }.\n",
		"pages/20-two.md": "# Two\n\nThe wall is through in {= wall.time in min }, its surface in {= wall.film_time in min }.\n" +
			strings.Repeat("\nAgain {= wall.time in min }.\n", volumeSize), // in a volume of its own
	})
	rel := &Release{Name: "1.0", Dir: "1.0", Status: Current, Pages: map[string]string{"one": "One", "two": "Two"}}
	files := sheets(t, &Input{Site: &Site{Title: "Trial oven", Releases: []*Release{rel}}, Release: rel, Manual: m, Result: r, Tool: "workings"})
	for file, want := range map[string]map[string]int{
		"1.0/one.workings.html": {`id="w/wall.time"`: 1, `id="w/wall"`: 0, `<td>30` + nbsp + `mm</td>`: 1, "Incropera": 1},
		"1.0/two.workings.html": {`id="w/wall.time"`: 1, `id="w/wall.film_time"`: 1, `id="w/wall"`: 1, `href="#w/wall"`: 2, `<td>30` + nbsp + `mm</td>`: 1, "Incropera": 1},
		// Figures that no page shows stand by themselves, with their record.
		"1.0/figures.workings.html": {`id="w/wall"`: 1, `id="w/wall.film_time"`: 0},
	} {
		for text, n := range want {
			if got := strings.Count(string(files[file]), text); got != n {
				t.Errorf("%s has %q %d times, want %d", file, text, got, n)
			}
		}
	}
}

// Workings that several pages share say what is known to be wrong with any of
// them, and with the figures they show.
func TestErrataOfSharedWorkings(t *testing.T) {
	m, r := computed(t, map[string]string{
		"manual.toml":     "title = \"Trial oven\"\nrelease = \"1.0\"\n",
		"design.calc":     "a = 1 mm\nb = 2 mm\nc = 3 mm\n",
		"pages/10-one.md": "# One\n\nIt is {= a }.\n",
		"pages/20-two.md": "# Two\n\nIt is {= b }.\n",
	})
	rel := &Release{Name: "1.0", Dir: "1.0", Status: Current, Pages: map[string]string{"one": "One", "two": "Two"}, Errata: []Erratum{
		{Page: "two", Text: "the page is wrong"}, {Figure: "b", Text: "the figure is wrong"}, {Figure: "c", Text: "another is wrong"},
	}}
	files := sheets(t, &Input{Site: &Site{Title: "Trial oven", Releases: []*Release{rel}}, Release: rel, Manual: m, Result: r, Tool: "workings"})
	for text, want := range map[string]int{"the page is wrong": 1, "the figure is wrong": 1, "another is wrong": 0} {
		if n := strings.Count(string(files["1.0/one.workings.html"]), text); n != want {
			t.Errorf("%q stands %d times, want %d", text, n, want)
		}
		if n := strings.Count(string(files["1.0/one.html"]), text); n != 0 {
			t.Errorf("%q stands on page one", text)
		}
	}
}

// A maximum is opened with what it comes from: the formula gives the nominal
// value, and the tolerance that the maximum takes in stands below it.
func TestMaximumOpens(t *testing.T) {
	m, r := computed(t, map[string]string{
		"manual.toml":     "title = \"Trial oven\"\nrelease = \"1.0\"\n",
		"design.calc":     "rod = 30.5 mm ± 2 mm\n",
		"pages/10-one.md": "# One\n\nIt needs {= rod + 1 mm to 2 sf up } of room, or {= rod + 2 mm to 2 sf up nominal }.\n",
	})
	rel := &Release{Name: "1.0", Dir: "1.0", Status: Current, Pages: map[string]string{"one": "One"}}
	files := sheets(t, &Input{Site: &Site{Title: "Trial oven", Releases: []*Release{rel}}, Release: rel, Manual: m, Result: r, Tool: "workings"})
	if got := plainWords(files["1.0/one.html"]); !strings.Contains(got, "It needs 34 mm of room, or 33 mm .") { // 32.5 + 1, 30.5 + 2
		t.Errorf("the page says\n%s", got)
	}
	got := plainWords(files["1.0/one.workings.html"])
	for _, want := range []string{"31.5 mm", "± 2.0 mm worst case of the tolerances", "33 mm"} {
		if !strings.Contains(got, want) {
			t.Errorf("the workings lack %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "34 mm") {
		t.Errorf("the workings give the maximum as the result of the formula:\n%s", got)
	}
}
