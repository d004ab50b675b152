package theme

import (
	"reflect"
	"testing"
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
