package theme

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"workings/calc"
)

// counted are the nouns that are counted, as one and as many, and counts the
// numbers they are tried with. English and German both say the singular of 1
// alone: 0, 11 and 21 are many (Unicode CLDR, plural rules of cardinals for en
// and de: one is i = 1 and v = 0; not checked against the text).
var counted = map[string]map[string][2]string{
	"en": {
		"Step": {"step", "steps"}, "Check": {"check", "checks"}, "Erratum": {"known error", "known errors"}, "Figure": {"figure", "figures"},
		"Limit": {"limit", "limits"}, "Pack": {"pack", "packs"}, "Value": {"value", "values"}, "Result": {"further result", "further results"}, "Row": {"row", "rows"},
	},
	"de": {
		"Step": {"Schritt", "Schritte"}, "Check": {"Prüfung", "Prüfungen"}, "Erratum": {"bekannter Fehler", "bekannte Fehler"}, "Figure": {"Größe", "Größen"},
		"Limit": {"Grenzwert", "Grenzwerte"}, "Pack": {"Packung", "Packungen"}, "Value": {"Wert", "Werte"}, "Result": {"weiteres Ergebnis", "weitere Ergebnisse"},
		"Row": {"Zeile", "Zeilen"},
	},
}

var counts = []int{0, 1, 2, 5, 11, 21}

func many(lang, noun string, n int) string {
	word := counted[lang][noun][1]
	if n == 1 {
		word = counted[lang][noun][0]
	}
	return strconv.Itoa(n) + nbsp + word
}

func TestCountedWords(t *testing.T) {
	for lang, nouns := range counted {
		w := wordsFor(lang)
		v := reflect.ValueOf(*w)
		seen := 0
		for i := range v.NumField() {
			noun, ok := strings.CutSuffix(v.Type().Field(i).Name, "One")
			if !ok || noun == "This" {
				continue
			}
			seen++
			for _, n := range counts {
				if got := w.Count(n, v.Field(i).String(), v.FieldByName(noun+"Many").String()); nouns[noun] == [2]string{} || got != many(lang, noun, n) {
					t.Errorf("%s, %s: %q", lang, noun, got)
				}
			}
		}
		if seen != len(nouns) {
			t.Errorf("%s: %d nouns are counted, not %d", lang, seen, len(nouns))
		}
		texts := &view{w: w}
		for _, n := range counts {
			for what, c := range map[string]struct {
				noun string
				of   calc.Value
			}{
				"numbers": {"Value", make([]float64, n)}, "texts": {"Value", make([]string, n)}, "table": {"Row", &calc.TableValue{Rows: n}},
				"record": {"Value", &calc.RecordValue{Names: make([]string, n)}},
			} {
				if got := texts.kindText(calc.Type{}, c.of); got != many(lang, c.noun, n) {
					t.Errorf("%s, %s: %q, want %q", lang, what, got, many(lang, c.noun, n))
				}
			}
		}
	}
}

// Wherever the theme counts, the singular comes first and the plural is that of
// the same noun.
func TestCountedInPairs(t *testing.T) {
	word := regexp.MustCompile(`\b[\w$.]*\.(\w+?)(One|Many)\b(?:,? +[\w$.]*\.(\w+)Many\b)?`)
	pairs := 0
	for _, glob := range []string{"*.go", "templates/*.html"} {
		names, _ := filepath.Glob(glob)
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range word.FindAllStringSubmatch(string(b), -1) {
				switch {
				case m[1] == "This", m[2] == "One" && m[3] == "" && name == "search.go": // the kind of one hit
				case m[2] == "One" && m[1] == m[3]:
					pairs++
				default:
					t.Errorf("%s: %s", name, m[0])
				}
			}
		}
	}
	if pairs < 15 {
		t.Errorf("only %d pairs were found", pairs)
	}
}

// The first sheet says how much there is.
func TestCountsOnSheets(t *testing.T) {
	hold := map[string]string{"en": "held, proved", "de": "eingehalten, bewiesen"}
	for lang := range counted {
		for _, n := range counts {
			var sheet, page strings.Builder
			page.WriteString("# Work\n\nAll of it.\n\n")
			for i := range n {
				fmt.Fprintf(&sheet, "x%d = %d mm\nlimit l%d: x%d < 100 mm\n  else caution \"It is long.\"\n", i, i+1, i, i)
				fmt.Fprintf(&page, "## Do %d {#s%d}\n\n```measure\nm%d \"what is read\": 3 mm with \"calliper\"\n```\n\nDo it.\n\n", i, i, i)
			}
			m, r := computed(t, map[string]string{
				"manual.toml": "title = \"Trial press\"\nrelease = \"1.0\"\nlanguage = \"" + lang + "\"\n",
				"design.calc": sheet.String(), "pages/10-work.md": page.String(),
			})
			rel := &Release{Name: "1.0", Dir: "1.0", Status: Current, Pages: map[string]string{"work": "Work"}}
			in := &Input{Site: &Site{Title: "Trial press", Releases: []*Release{rel}}, Release: rel, Manual: m, Result: r, Tool: "workings"}
			index := string(sheets(t, in)["1.0/index.html"])
			work := many(lang, "Step", n) + " · " + many(lang, "Check", n)
			if n == 0 {
				work = ""
			}
			limits := " · " + many(lang, "Limit", n) + " " + hold[lang]
			if n == 0 {
				limits = ""
			}
			for _, want := range []string{`<span class="n">` + work + `</span>`, `<p class="note">` + many(lang, "Figure", n) + limits + `</p>`} {
				if !strings.Contains(index, want) {
					t.Errorf("%s, %d: the sheet lacks %q", lang, n, want)
				}
			}
		}
	}
}
