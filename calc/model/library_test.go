package model

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var snake = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// topics of the library.
var topics = []string{"lamp", "heat", "powder", "laser", "sensor", "electric", "safety",
	"belt", "screw", "guide", "blade", "seal", "fastener", "stack", "section", "material", "motion"}

func TestLibrary(t *testing.T) {
	all := Library()
	for i, s := range all {
		if i > 0 && all[i-1].Name >= s.Name {
			t.Errorf("%s: two models of one name, or out of order", s.Name)
		}
		if Find(s.Name) != &all[i] {
			t.Errorf("%s is not found", s.Name)
		}
		if !snake.MatchString(s.Name) {
			t.Errorf("%q is no snake_case name", s.Name)
		}
		if s.Topic == "" || s.Title == "" || s.Source == "" || s.Range == "" || len(s.Formula) == 0 || s.Fn == nil || len(s.Args) == 0 || len(s.Results) == 0 {
			t.Errorf("%s: a field of the table row is empty", s.Name)
		}
		if !strings.Contains(s.Source, "seen") && !strings.Contains(s.Source, "memory") && !strings.Contains(s.Source, "derived") && !strings.Contains(s.Source, "common practice") {
			t.Errorf("%s: the source says neither seen, from memory, derived nor common practice", s.Name)
		}
		names := map[string]bool{}
		for _, a := range s.Args {
			if names[a.Name] || !snake.MatchString(a.Name) {
				t.Errorf("%s: argument %q: twice, or no snake_case name", s.Name, a.Name)
			}
			names[a.Name] = true
			if a.Doc == "" || (a.Shape == Text) != (len(a.Choices) > 0) || (a.Shape == Text) != (a.Unit == "") {
				t.Errorf("%s: argument %s lacks a doc, a unit or its choices", s.Name, a.Name)
			}
			if a.Low != nil && a.High != nil && *a.Low >= *a.High {
				t.Errorf("%s: argument %s: empty range", s.Name, a.Name)
			}
			if (a.Above != nil || a.AtLeast != nil || a.AtMost != nil) && a.Unit == "°C" && (a.Above != nil && *a.Above < 0) {
				t.Errorf("%s: argument %s: bounds are in kelvins", s.Name, a.Name)
			}
			if a.Low != nil && (a.AtLeast != nil && *a.Low < *a.AtLeast || a.Above != nil && *a.Low < *a.Above) {
				t.Errorf("%s: argument %s: a range that begins beyond its bound", s.Name, a.Name)
			}
		}
		for _, r := range s.Results {
			if names[r.Name] || !snake.MatchString(r.Name) {
				t.Errorf("%s: result %q: twice, named like an argument, or no snake_case name", s.Name, r.Name)
			}
			names[r.Name] = true
			if r.Doc == "" || r.Unit == "" || r.Shape == Text {
				t.Errorf("%s: result %s lacks a doc or a unit", s.Name, r.Name)
			}
		}
	}
	if Find("no_such_model") != nil {
		t.Error("found what is not there")
	}
}

var (
	word     = regexp.MustCompile(`[\pL_][\pL\pN_']*`)
	quantity = regexp.MustCompile(`\b[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?( (per )?[%°\pL][\pL0-9/*^()-]*)?`)
	builtin  = strings.Fields("abs acos asin atan atan2 ceil cos exp floor ln log10 max mean min pi round sin sqrt sum tan tanh if then else and or not in")
)

// undefined returns the names of the formula that are neither arguments,
// results, names of earlier lines, functions of the language nor explained in
// the caption of their line.
func undefined(s *Spec) (bad []string) {
	known := map[string]bool{}
	for _, a := range s.Args {
		known[a.Name] = true
	}
	for _, r := range s.Results {
		known[r.Name] = true
	}
	for _, b := range builtin {
		known[b] = true
	}
	for _, line := range s.Formula {
		body, caption, _ := strings.Cut(line, "#")
		left, right, ok := strings.Cut(body, " = ")
		if !ok || word.FindString(left) != strings.TrimSpace(left) {
			bad = append(bad, "no `symbol = expression`: "+line)
			continue
		}
		explained := word.FindAllString(caption, -1)
		for _, w := range word.FindAllString(quantity.ReplaceAllStringFunc(right, dropUnit), -1) {
			if !known[w] && !slices.Contains(explained, w) {
				bad = append(bad, w+" in: "+line)
			}
		}
		known[strings.TrimSpace(left)] = true
	}
	return bad
}

// dropUnit removes a number and its unit, but keeps a keyword that follows a number.
func dropUnit(q string) string {
	f := strings.Fields(q)
	if len(f) > 1 && slices.Contains(builtin, f[1]) {
		return f[1]
	}
	return " "
}

func TestFormulas(t *testing.T) {
	for i := range Library() {
		s := &Library()[i]
		for _, b := range undefined(s) {
			t.Errorf("%s: unknown name %s", s.Name, b)
		}
	}
	// the test itself must be able to fail
	bad := &Spec{Args: []Arg{{Name: "a"}}, Results: []Res{{Name: "r"}}, Formula: []string{"r = a * q", "q = 2 mm * a", "r = a # k is a constant", "s = k", "2 * r = a"}}
	if got := undefined(bad); len(got) != 3 {
		t.Errorf("faults found: %q, want three", got)
	}
}

func TestConstants(t *testing.T) {
	// From the defining constants of the SI (SI Brochure, 9th ed., 2019; from memory):
	const h, k, c = 6.62607015e-34, 1.380649e-23, 299792458.0
	check(t, "constants", "stefan-boltzmann", "2 pi^5 k^4/(15 h^3 c^2) from the defining constants, SI Brochure 9th ed. (from memory)",
		stefanBoltzmann, 2*math.Pow(math.Pi, 5)*math.Pow(k, 4)/(15*math.Pow(h, 3)*c*c), 1e-10)
	const codata = "CODATA 2018, as in scipy 1.10.1 (seen)"
	check(t, "constants", "stefan-boltzmann, CODATA", codata, stefanBoltzmann, 5.670374419e-08, 1e-10)
	check(t, "constants", "second radiation constant, CODATA", codata, secondRadiation, 0.01438776877, 1e-9)
	check(t, "constants", "second radiation constant", "h c/k from the defining constants, SI Brochure 9th ed. (from memory)",
		secondRadiation, h*c/k, 1e-9)
}
