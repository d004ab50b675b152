package theme

import (
	"reflect"
	"regexp"
	"sort"
	"testing"
)

func TestReleaseWords(t *testing.T) {
	en, de := reflect.ValueOf(englishReleases), reflect.ValueOf(germanReleases)
	holes := regexp.MustCompile(`\{\w+\}`)
	for i := range en.NumField() {
		name := en.Type().Field(i).Name
		if en.Field(i).String() == "" || de.Field(i).String() == "" {
			t.Errorf("%s has no word", name)
		}
		a, b := holes.FindAllString(en.Field(i).String(), -1), holes.FindAllString(de.Field(i).String(), -1)
		sort.Strings(a)
		sort.Strings(b)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s takes %v in English, %v in German", name, a, b)
		}
	}
}
