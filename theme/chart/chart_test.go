package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite testdata")

// drawings are all samples in both widths.
func drawings() map[string]func(w io.Writer) error {
	all := map[string]func(w io.Writer) error{}
	for _, o := range []Options{{Width: Wide}, {Width: Narrow, Decimal: ','}} {
		suffix := map[Width]string{Wide: "", Narrow: "-narrow"}[o.Width]
		all["tension"+suffix] = func(w io.Writer) error { return Lines(w, tension(), o) }
		all["crowd"+suffix] = func(w io.Writer) error { return Lines(w, crowd(), o) }
		all["table"+suffix] = func(w io.Writer) error { return Lines(w, table(), o) }
		all["field"+suffix] = func(w io.Writer) error { return Map(w, irradiance(), o) }
	}
	return all
}

func drawn(t *testing.T, f func(w io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestGolden(t *testing.T) {
	all := drawings()
	for _, name := range []string{"tension", "crowd-narrow", "field"} {
		path := filepath.Join("testdata", name+".svg")
		got := strings.ReplaceAll(drawn(t, all[name]), "><", ">\n<") + "\n"
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s:\n%s", name, d)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for name, f := range drawings() {
		want := drawn(t, f)
		var wg sync.WaitGroup
		for range 8 {
			wg.Go(func() {
				for range 5 {
					var b bytes.Buffer
					if err := f(&b); err != nil || b.String() != want {
						t.Errorf("%s: not the same bytes (%v)", name, err)
						return
					}
				}
			})
		}
		wg.Wait()
	}
}

// nanText finds numbers that are none.
var nanText = regexp.MustCompile(`NaN|Inf\b|e[+-]\d|-0[ "]`)

func TestWellFormed(t *testing.T) {
	most := map[string]int{"tension": 12_000, "tension-narrow": 12_000, "field": 25_000, "field-narrow": 25_000}
	for name, f := range drawings() {
		s := drawn(t, f)
		if most[name] > 0 && len(s) > most[name] {
			t.Errorf("%s has %d bytes", name, len(s))
		}
		noPicture := regexp.MustCompile(`href="data:[^"]*"`).ReplaceAllString(s, "")
		if m := nanText.FindString(noPicture); m != "" {
			t.Errorf("%s holds %q", name, m)
		}
		ids := map[string]bool{}
		refs := ""
		d := xml.NewDecoder(strings.NewReader(s))
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			for _, a := range e.Attr {
				switch a.Name.Local {
				case "id":
					if ids[a.Value] {
						t.Errorf("%s: id %q twice", name, a.Value)
					}
					ids[a.Value] = true
				case "aria-labelledby":
					refs = a.Value
				case "class":
					if e.Name.Local != "svg" && a.Value != "cp" && !strings.Contains(CSS, "."+a.Value+"{") && !strings.Contains(CSS, "."+a.Value+",") {
						t.Errorf("%s: class %q has no style", name, a.Value)
					}
				case "width", "height":
					if e.Name.Local == "svg" {
						t.Errorf("%s: the svg has a fixed %s", name, a.Name.Local)
					}
				}
			}
		}
		for _, r := range strings.Fields(refs) {
			if !ids[r] {
				t.Errorf("%s: no element %q", name, r)
			}
		}
		if len(strings.Fields(refs)) != 2 {
			t.Errorf("%s: named by %q, want title and description", name, refs)
		}
	}
}

// TestNothingOverlaps measures every upright text and finds none on another
// or outside the drawing.
func TestNothingOverlaps(t *testing.T) {
	text := regexp.MustCompile(`<text( class="(\w+)")?( fill="[^"]*")? x="([-.\d]+)" y="([-.\d]+)"( text-anchor="(\w+)")?>([^<]*)<`)
	view := regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`)
	for name, f := range drawings() {
		s := drawn(t, f)
		v := view.FindStringSubmatch(s)
		w, _ := strconv.ParseFloat(v[1], 64)
		h, _ := strconv.ParseFloat(v[2], 64)
		var boxes []box
		var texts []string
		for _, m := range text.FindAllStringSubmatch(s, -1) {
			if m[2] == "tc" {
				continue
			}
			x, _ := strconv.ParseFloat(m[4], 64)
			y, _ := strconv.ParseFloat(m[5], 64)
			txt := strings.NewReplacer("&lt;", "<", "&amp;", "&").Replace(m[8])
			wide := 0.87 * width(txt) // the condensed letters of pages
			b := box{x, y - 9, x + wide, y + 2}
			switch m[7] {
			case middle:
				b.x0, b.x1 = x-wide/2, x+wide/2
			case end:
				b.x0, b.x1 = x-wide, x
			}
			if !b.within(box{0, 0, w, h}) {
				t.Errorf("%s: %q sticks out: %v", name, txt, b)
			}
			for i, o := range boxes {
				if b.meets(o) {
					t.Errorf("%s: %q lies on %q", name, txt, texts[i])
				}
			}
			boxes, texts = append(boxes, b), append(texts, txt)
		}
		if len(boxes) < 8 {
			t.Errorf("%s: only %d texts found", name, len(boxes))
		}
	}
}

func TestRefusals(t *testing.T) {
	nan := math.NaN()
	x := []float64{1, 2, 3}
	good := Line{"a", x, x}
	many := make([]Line, MaxLines+1)
	for i := range many {
		many[i] = good
	}
	for _, c := range []struct {
		want string
		c    Chart
	}{
		{"no lines", Chart{}},
		{"has no values", Chart{Lines: []Line{{"a", nil, nil}}}},
		{"has no values", Chart{Lines: []Line{good, {"a", x, []float64{nan, nan, math.Inf(1)}}}}},
		{"3 values across and 2 upright", Chart{Lines: []Line{{"a", x, x[:2]}}}},
		{"7 lines, at most 6", Chart{Lines: many}},
		{`mark "m" has no value`, Chart{Lines: []Line{good}, Marks: []Mark{{"m", nan}}}},
		{`band "b" has no values`, Chart{Lines: []Line{good}, Bands: []Band{{"b", 2, 1}}}},
		{`"v" has no value`, Chart{Lines: []Line{good}, Own: &VMark{"v", nan}}},
		{`axis of "q" has no range`, Chart{Lines: []Line{good}, X: Axis{Label: "q", Min: 2, Max: 1}}},
	} {
		err := Lines(io.Discard, &c.c, Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %q", err, c.want)
		}
	}
	for _, c := range []struct {
		want   string
		change func(*Field)
	}{
		{"two values each way", func(f *Field) { f.X = f.X[:1] }},
		{"has 1680 values", func(f *Field) { f.Z = f.Z[1:] }},
		{"not a number", func(f *Field) { f.Z[7] = nan }},
		{"do not rise", func(f *Field) { f.X[3] = f.X[2] }},
		{"has no size", func(f *Field) { f.Outline.X1 = f.Outline.X0 }},
		{"segment", func(f *Field) { f.Segments[0].X0 = nan }},
	} {
		f := irradiance()
		c.change(f)
		err := Map(io.Discard, f, Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %q", err, c.want)
		}
	}
}

// TestOddData draws what is unusual but right.
func TestOddData(t *testing.T) {
	nan := math.NaN()
	for i, c := range []*Chart{
		{Lines: []Line{{"flat", []float64{0, 1}, []float64{5, 5}}}},
		{Lines: []Line{{"zero", []float64{0, 1}, []float64{0, 0}}}},
		{Lines: []Line{{"one point", []float64{3}, []float64{4}}}},
		{Lines: []Line{{"alone between gaps", []float64{1, 2, 3, 4, 5}, []float64{1, nan, 2, nan, 3}}}},
		{Lines: []Line{{"backward", []float64{3, 2, 1}, []float64{1, 2, 3}}}},
		{Lines: []Line{{"upright", []float64{2, 2, 2}, []float64{1, 2, 3}}}},
		{Lines: []Line{{"huge", []float64{0, 1}, []float64{1e300, 1.5e300}}}},
		{Lines: []Line{{"tiny", []float64{0, 1}, []float64{1e-300, 2e-300}}}},
		{Lines: []Line{{"noise", []float64{0, 1, 2}, []float64{1, 1 + 2e-16, 1}}}},
		{Lines: []Line{{"clipped", []float64{0, 1, 2}, []float64{0, 50, 100}}}, Y: Axis{Min: 20, Max: 60}},
		{Lines: []Line{{strings.Repeat("a very long name ", 12), []float64{0, 1}, []float64{1, 2}}}},
		{Lines: []Line{{"open band", []float64{0, 1}, []float64{1, 2}}}, Bands: []Band{{"above", 1.5, math.Inf(1)}}},
	} {
		for _, w := range []Width{Wide, Narrow} {
			var b bytes.Buffer
			if err := Lines(&b, c, Options{Width: w}); err != nil {
				t.Errorf("%d: %v", i, err)
			} else if m := nanText.FindString(b.String()); m != "" {
				t.Errorf("%d (%s) holds %q", i, c.Lines[0].Label, m)
			}
		}
	}
	f := irradiance()
	for i := range f.Z {
		f.Z[i] = 4
	}
	if s := drawn(t, func(w io.Writer) error { return Map(w, f, Options{}) }); nanText.MatchString(regexp.MustCompile(`href="data:[^"]*"`).ReplaceAllString(s, "")) {
		t.Error("a map of one value holds what is not a number")
	}
}

func TestTable(t *testing.T) {
	c := tension()
	c.Lines[0].Y[5] = math.NaN()
	head, rows := Table(c, Options{Decimal: ','})
	want := []string{"bay temperature in\u00a0°C", "sprung idler in\u00a0N", "fixed centres in\u00a0N"}
	if d := cmp.Diff(want, head); d != "" {
		t.Error(d)
	}
	if len(rows) != 13 {
		t.Fatalf("%d rows", len(rows))
	}
	for i, want := range map[int]string{0: "20 28,00 28,00", 1: "24 – 30,14", 12: "68 31,00 61,00"} {
		if got := strings.Join(rows[i], " "); got != want {
			t.Errorf("row %d: %s, want %s", i, got, want)
		}
	}
	if _, rows := Table(table(), Options{}); fmt.Sprint(rows[0]) != "[1 512.0]" || len(rows) != 6 {
		t.Error(rows)
	}
}

func BenchmarkLines(b *testing.B) {
	for b.Loop() {
		if err := Lines(io.Discard, tension(), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMap(b *testing.B) {
	f := irradiance()
	for b.Loop() {
		if err := Map(io.Discard, f, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
