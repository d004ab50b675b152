package theme

import (
	"reflect"
	"slices"
	"testing"

	"workings/content"
)

// Every language has every word of the page of changes.
func TestChangeWords(t *testing.T) {
	for _, w := range []*changeWords{&englishChanges, &germanChanges} {
		v := reflect.ValueOf(w).Elem()
		for i := range v.NumField() {
			if v.Field(i).String() == "" {
				t.Errorf("%s: no word for %s", w.NewPage, v.Type().Field(i).Name)
			}
		}
	}
}

// A short list is open; a long one is folded by the sheets of the manual, in
// their order.
func TestFolds(t *testing.T) {
	v := &view{w: wordsFor("en"), in: &Input{Manual: &content.Manual{Pages: []*content.Page{
		{ID: "frame", Title: "Frame"}, {ID: "belt", Title: "Belt"},
	}}}, sheet: map[string]int{"frame": 1, "belt": 2}}
	pages := []string{"gone", "belt", "", "frame"}
	var list []string
	for range 3 {
		list = append(list, pages...)
	}
	self := func(s string) string { return s }
	if got := folds(v, list, self, "step", "steps"); len(got) != 1 || got[0].Title != "" || len(got[0].Rows) != 12 {
		t.Errorf("a short list is folded: %v", got)
	}
	var got []string
	for _, f := range folds(v, append(list, "belt"), self, "step", "steps") {
		got = append(got, f.Title+", "+f.Count)
	}
	want := []string{"Design sheet, 3\u00a0steps", "1 Frame, 3\u00a0steps", "2 Belt, 4\u00a0steps", "No longer there, 3\u00a0steps"}
	if !slices.Equal(got, want) {
		t.Errorf("folds are %q, want %q", got, want)
	}
}
