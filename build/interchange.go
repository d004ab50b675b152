package build

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/unit"
	"workings/content"
	"workings/theme"
)

// Files of a release that other programs read, beside figures.json and parts.csv.
const (
	ManifestFile = "okh.toml"            // Open Know-How manifest
	SchemaFile   = "figures.schema.json" // JSON Schema of figures.json
	SitemapFile  = "sitemap.xml"         // at the root of the site
)

// FiguresSchema is the JSON Schema, draft 2020-12, of figures.json.
//
//go:embed figures.schema.json
var FiguresSchema []byte

// interchangeJobs makes the files of a release that other programs read.
func interchangeJobs(r *Release, dir string) []job {
	jobs := []job{{dir + SchemaFile, func() ([]byte, error) { return FiguresSchema, nil }}}
	if m := manifest(r); m != nil {
		jobs = append(jobs, job{dir + ManifestFile, func() ([]byte, error) { return m, nil }})
	}
	return jobs
}

// manifestVersion is the version of the Open Know-How specification (the text
// of its repository, src/spec/okh.md) that the manifest follows.
const manifestVersion = "2.4"

// manifest describes a release to indexers of open hardware. The keys okhv,
// name, repo, version, license, licensor, function and documentation-language
// are required: without one of them there is no manifest, and nothing is made
// up to fill it. The mass is the sum of the parts, in grams.
func manifest(r *Release) []byte {
	c := r.Manual.Config
	licensor := c.Authors
	if c.Publisher != "" {
		licensor = []string{c.Publisher}
	}
	if c.Title == "" || c.Repository == "" || r.Name == "" || c.Licence.Design == "" || len(licensor) == 0 || c.Summary == "" {
		return nil
	}
	var b bytes.Buffer
	put := func(key string, values ...string) {
		for i, v := range values {
			values[i] = tomlText(v)
		}
		text := strings.Join(values, ", ")
		if len(values) > 1 {
			text = "[" + text + "]"
		}
		b.WriteString(key + " = " + text + "\n")
	}
	put("okhv", manifestVersion)
	put("name", c.Title)
	put("repo", c.Repository)
	put("version", r.Name)
	put("license", c.Licence.Design)
	put("licensor", append([]string(nil), licensor...)...)
	put("function", c.Summary)
	put("documentation-language", c.Language)
	if c.Publisher != "" {
		put("organization", c.Publisher)
	}
	put("bom", "parts.csv")
	put("manufacturing-instructions", "index.html")
	if g, ok := machineMass(r); ok {
		b.WriteString("mass = " + plainNumber(toDigits(g, 6)) + "\n")
	}
	for _, t := range totals(r) {
		if t.Kind != "made" || !t.known || t.quantity == 0 {
			continue
		}
		b.WriteString("\n[[part]]\n")
		put("name", t.Name)
		put("source", "parts.html#part/"+t.ID)
		if t.Material != "" {
			put("material", t.Material)
		}
		if t.Mass != nil && !t.Length {
			b.WriteString("mass = " + plainNumber(toDigits(*t.Mass*1e3, 6)) + "\n")
		}
	}
	return b.Bytes()
}

// machineMass is the mass of the machine in grams; ok is false if a part of it
// states none, for then the sum is not its mass.
func machineMass(r *Release) (g float64, ok bool) {
	some := false
	for _, t := range totals(r) {
		if t.Kind == "tool" || t.Kind == "consumable" || t.known && t.quantity == 0 {
			continue
		}
		kg, ok := t.sum.Mass()
		if !ok {
			return 0, false
		}
		some = true
		g += kg * 1e3
	}
	return g, some && g > 0 && !math.IsInf(g, 0)
}

// tomlText writes a basic string of TOML 1.0.
func tomlText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// A howTo is a page of steps as schema.org describes instructions.
type howTo struct {
	Context     string       `json:"@context"`
	Type        string       `json:"@type"`
	Name        string       `json:"name"`
	Description string       `json:"description,omitempty"`
	Language    string       `json:"inLanguage,omitempty"`
	Version     string       `json:"version"`
	License     string       `json:"license,omitempty"`
	Time        string       `json:"totalTime,omitempty"` // ISO 8601
	Supply      []howToItem  `json:"supply,omitempty"`
	Tool        []howToItem  `json:"tool,omitempty"`
	Step        []howToThing `json:"step"`
}

type howToItem struct {
	Type     string `json:"@type"` // HowToSupply, what is used up, or HowToTool
	Name     string `json:"name"`
	Quantity string `json:"requiredQuantity,omitempty"`
}

type howToThing struct {
	Type     string `json:"@type"`
	Position int    `json:"position"`
	Name     string `json:"name"`
	URL      string `json:"url"`
}

// withHowTo puts the data of a page of steps into its head, as a data block:
// a script element of a type that is no script is not run, so that the page's
// content policy has nothing to forbid (HTML standard, "data block").
func withHowTo(page []byte, r *Release, p *content.Page) ([]byte, error) {
	if len(p.Steps) == 0 {
		return page, nil
	}
	shown := func(i int) string { return r.Result.Shown(i).String() }
	c := r.Manual.Config
	h := howTo{Context: "https://schema.org", Type: "HowTo", Name: titleText(p.TitleParts, p.Title, shown), Description: p.Summary,
		Language: c.Language, Version: r.Name, License: c.Licence.Text, Time: isoTime(p.Data.Time)}
	parts, tools := map[string]bool{}, map[string]bool{}
	var supply []string // the ids of h.Supply
	amount := map[string]float64{}
	units := map[string]unit.Unit{}
	for _, s := range p.Steps {
		h.Step = append(h.Step, howToThing{"HowToStep", s.Number, titleText(s.Parts, s.Title, shown), p.ID + ".html#" + s.ID})
		for _, u := range s.Uses {
			if u.Part != nil && !parts[u.ID] {
				parts[u.ID] = true
				supply = append(supply, u.ID)
				h.Supply = append(h.Supply, howToItem{Type: "HowToSupply", Name: u.Part.Name})
			}
			if s := shownNumber(r.Result, u.Expr); s != nil {
				if _, ok := units[u.ID]; !ok {
					units[u.ID] = s.Unit
				}
				amount[u.ID] += s.Value.(float64)
			}
		}
		for _, u := range s.Tools {
			if u.Part != nil && !tools[u.ID] {
				tools[u.ID] = true
				h.Tool = append(h.Tool, howToItem{Type: "HowToTool", Name: u.Part.Name})
			}
		}
	}
	for i, id := range supply {
		if u, ok := units[id]; ok {
			h.Supply[i].Quantity = strings.TrimSpace(plainNumber(toDigits(u.FromSI(amount[id]), 6)) + " " + u.Symbol)
		}
	}
	data, err := json.Marshal(h) // escapes < > &, so that nothing ends the element
	if err != nil {
		return nil, err
	}
	end := []byte("</head>")
	i := bytes.Index(page, end)
	if i < 0 {
		return nil, fmt.Errorf("page %s has no head", p.ID)
	}
	out := make([]byte, 0, len(page)+len(data)+64)
	out = append(out, page[:i]...)
	out = append(out, `<script type="application/ld+json">`...)
	out = append(out, data...)
	out = append(out, "</script>\n"...)
	return append(out, page[i:]...), nil
}

func titleText(parts []content.FilledPart, plain string, shown func(int) string) string {
	if len(parts) == 0 {
		return plain
	}
	return content.Fill(parts, shown)
}

// shownNumber is an expression with a number as its value, or nil.
func shownNumber(res *calc.Result, i int) *calc.Shown {
	if i < 0 {
		return nil
	}
	s := res.Shown(i)
	if s == nil {
		return nil
	}
	if _, ok := s.Value.(float64); !ok {
		return nil
	}
	return s
}

var plainTime = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?) (h|min|d)$`)

// isoTime writes a time such as "3 h" as ISO 8601 does; "" for one that says
// more than that.
func isoTime(s string) string {
	m := plainTime.FindStringSubmatch(s)
	if m == nil {
		return ""
	}
	switch m[2] {
	case "h":
		return "PT" + m[1] + "H"
	case "min":
		return "PT" + m[1] + "M"
	}
	return "P" + m[1] + "D"
}

// sitemap lists the pages of a site by their addresses (sitemaps.org protocol
// 0.9); nil if the manual does not state where the site is. Releases that are
// not current are on it too: they stay where they are.
func sitemap(address string, paths []string) ([]byte, error) {
	if address == "" {
		return nil, nil
	}
	type entry struct {
		Loc string `xml:"loc"`
	}
	set := struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		URL     []entry  `xml:"url"`
	}{}
	base := strings.TrimSuffix(address, "/") + "/"
	for _, p := range paths {
		if strings.HasSuffix(p, ".html") && !strings.HasSuffix(p, theme.WorkingsSuffix) {
			set.URL = append(set.URL, entry{base + strings.TrimSuffix(p, "index.html")})
		}
	}
	if len(set.URL) > maxSitemap {
		return nil, fmt.Errorf("%s: %s pages are more than a sitemap may list", SitemapFile, strconv.Itoa(len(set.URL)))
	}
	data, err := xml.MarshalIndent(set, "", " ")
	if err != nil {
		return nil, err
	}
	return append(append([]byte(xml.Header), data...), '\n'), nil
}

const maxSitemap = 50000 // by the protocol
