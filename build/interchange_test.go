package build

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"math"
	"path"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/net/html"

	"workings/calc"
	"workings/theme"
)

// figures.json of every release of the demonstration is what its published
// schema says, and the schema refuses what it is not.
func TestFiguresSchema(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	schema := figuresSchema(t)
	n := 0
	for _, p := range site.Paths() {
		if path.Base(p) != "figures.json" {
			continue
		}
		n++
		data := fileOf(site, p)
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		for old, now := range map[string]string{`"unit":`: `"units":`, `"parameter": true`: `"parameter": 1`, `"parameter":true`: `"parameter":1`} {
			if !bytes.Contains(data, []byte(old)) {
				continue
			}
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(string(data), old, now, 1)))
			if err != nil {
				t.Fatal(err)
			}
			if schema.Validate(v) == nil {
				t.Errorf("%s: the schema takes %s for %s", p, now, old)
			}
		}
	}
	if n < 2 {
		t.Errorf("%d releases have figures.json", n)
	}
}

func figuresSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(FiguresSchema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(SchemaFile, doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(SchemaFile)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// A broken limit with its place and a figure with its ends are what the schema
// says, and it refuses what they are not.
func TestLimitsSchema(t *testing.T) {
	schema := figuresSchema(t)
	mm := mustUnit(t, "mm")
	data, err := figuresJSON(Tool{"workings", "1"}, "x", "1", []*calc.Figure{{Name: "a", Value: 0.22, Unit: mm,
		Spread: &calc.Spread{TolLo: 0.001, TolHi: 0.001, Least: 0.219, Greatest: 0.221, Searched: true}}}, []*calc.Limit{worstLimit(t), {Name: "b"}})
	if err != nil {
		t.Fatal(err)
	}
	valid := func(text string) error {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return schema.Validate(v)
	}
	if err := valid(string(data)); err != nil {
		t.Errorf("%v\n%s", err, data)
	}
	for old, now := range map[string]string{
		`"verdict":"broken"`: `"verdict":"kaputt"`, `"operator":"<",`: ``, `"signal":"danger"`: `"signal":"DANGER"`, `"searched":true`: `"searched":false`,
		`"least":0.219,`: ``, `{"name":"u","value":26.4,`: `{"name":"u",`, `,"limits": [`: `,"limit": [`, `"worst_left":`: `"left":`, `"margin":-0.44`: `"margin":"-0.44"`,
	} {
		changed := strings.Replace(strings.ReplaceAll(string(data), ",\n \"limits", ",\"limits"), old, now, 1)
		if !strings.Contains(changed, now) || valid(changed) == nil {
			t.Errorf("the schema takes %s for %s", now, old)
		}
	}
}

// fileOf is a file of the site, nil if there is none.
func fileOf(s *Site, path string) []byte {
	b, _ := s.File(path)
	return b
}

// The manifest is TOML with the keys that the specification requires (its
// JSON schema, src/schema/okh.schema.json of the Open Know-How repository,
// and its text for documentation-language).
func TestManifest(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	var m map[string]any
	if err := toml.Unmarshal(fileOf(site, "2.0-rc1/"+ManifestFile), &m); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{
		"okhv": "2.4", "name": "Fenbank bench sinterer", "repo": "https://code.example.org/fenbank/bench-sinterer", "version": "2.0-rc1",
		"license": "CERN-OHL-S-2.0", "licensor": "Fenbank Tool Library", "documentation-language": "en",
	} {
		if m[key] != want {
			t.Errorf("%s = %v, want %s", key, m[key], want)
		}
	}
	if s, _ := m["function"].(string); s == "" {
		t.Error("the manifest states no function")
	}
	parts, _ := m["part"].([]any)
	if len(parts) == 0 {
		t.Error("the manifest lists no parts")
	}
	for _, key := range []string{"bom", "manufacturing-instructions"} {
		if fileOf(site, "2.0-rc1/"+m[key].(string)) == nil {
			t.Errorf("%s = %v is no file", key, m[key])
		}
	}
	if s := tomlText("a \"b\" \\ \n\x01"); s != `"a \"b\" \\ \n\u0001"` {
		t.Errorf("a text of TOML: %s", s)
	}
}

// A page of steps holds its data as schema.org names it, in an element that
// the page's content policy does not touch.
func TestHowTo(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	doc, err := html.Parse(bytes.NewReader(fileOf(site, "2.0-rc1/frame.html")))
	if err != nil {
		t.Fatal(err)
	}
	var data string
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode && n.Data == "script" && n.FirstChild != nil {
			for _, a := range n.Attr {
				if a.Key == "type" && a.Val == "application/ld+json" {
					data = n.FirstChild.Data
				}
			}
		}
	}
	var h howTo
	if err := json.Unmarshal([]byte(data), &h); err != nil {
		t.Fatalf("%v: %q", err, data)
	}
	if h.Context != "https://schema.org" || h.Type != "HowTo" || h.Version != "2.0-rc1" || h.Time != "PT3H" {
		t.Errorf("%+v", h)
	}
	if len(h.Step) != 2 || h.Step[0].URL != "frame.html#join" || h.Step[1].Type != "HowToStep" {
		t.Errorf("steps %+v", h.Step)
	}
	want := howToItem{"HowToSupply", "Screw, M6 x 12", "40"} // two to each of 16 brackets in step 1, 8 in step 2
	found := false
	for _, s := range h.Supply {
		found = found || s == want
	}
	if !found {
		t.Errorf("supply %+v", h.Supply)
	}
	if strings.ContainsAny(data, "<>") {
		t.Error("the data could end its element")
	}
}

func TestSitemap(t *testing.T) {
	if b, err := sitemap("", []string{"index.html"}); b != nil || err != nil {
		t.Errorf("a site without an address has a sitemap: %s, %v", b, err)
	}
	m := fenbankFiles(t)
	file := m["manual.toml"]
	file.Data = []byte("address = \"https://fenbank.example.org/sinterer\"\n" + string(file.Data))
	site := mustBuild(t, m)
	var set struct {
		URL []struct {
			Loc string `xml:"loc"`
		} `xml:"url"`
	}
	if err := xml.Unmarshal(fileOf(site, SitemapFile), &set); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, u := range set.URL {
		rel, ok := strings.CutPrefix(u.Loc, "https://fenbank.example.org/sinterer/")
		if rel == "" || strings.HasSuffix(rel, "/") {
			rel += "index.html"
		}
		if !ok || fileOf(site, rel) == nil || seen[rel] {
			t.Errorf("the sitemap lists %s", u.Loc)
		}
		seen[rel] = true
	}
	for _, p := range site.Paths() {
		if strings.HasSuffix(p, ".html") && seen[p] == strings.HasSuffix(p, theme.WorkingsSuffix) {
			t.Errorf("the sitemap lists %s: %v", p, seen[p])
		}
	}
}

// Quantities of parts.csv are those of the steps, added up here from its
// column of cuts and from the pages by another way: the figures of the uses.
func TestPartsCSVTotals(t *testing.T) {
	site := mustBuild(t, fenbankFiles(t))
	rows, err := csv.NewReader(bytes.NewReader(fileOf(site, "2.0-rc1/parts.csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := map[string]int{}
	for i, h := range rows[0] {
		col[h] = i
	}
	number := func(row []string, head string) float64 {
		if row[col[head]] == "" {
			return math.NaN()
		}
		x, err := strconv.ParseFloat(row[col[head]], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	seen := 0
	for _, row := range rows[1:] {
		q, get, packs, price, total := number(row, "quantity"), number(row, "to get"), number(row, "packs"), number(row, "price"), number(row, "total price")
		switch row[col["id"]] {
		case "screw_m6x12": // of the steps in the order of the pages, twelve of them for straps; four spare; packs of 50
			seen++
			pack := number(row, "pack")
			if q != 32+8+16+8+4+4+2+4+4+40+4+12 || get != q+4 || packs != math.Ceil(get/pack) || math.Abs(total-packs*pack*price) > 0.005 {
				t.Errorf("%v", row)
			}
		case "profile_30": // 4 of 700 mm, of 420 mm and of 540 mm
			seen++
			if math.Abs(q-6.64) > 1e-9 || math.Abs(total-6.64*price) > 0.005 {
				t.Errorf("%v", row)
			}
		case "lamp_200": // two, and one spare, sold singly
			seen++
			if q != 2 || get != 3 || !math.IsNaN(packs) || math.Abs(total-3*price) > 0.005 {
				t.Errorf("%v", row)
			}
		}
	}
	if seen != 3 {
		t.Errorf("%d of the three parts are on the list", seen)
	}
}
