// Package theme turns the pages of a manual and what a release computed into
// HTML: an engineering drawing sheet that opens its workings.
//
// It reads values and writes bytes. It touches neither disk nor network, and
// the same input gives the same bytes.
package theme

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"sort"
	"strings"
	"sync"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/content"
	"workings/theme/chart"
	"workings/theme/mathml"
)

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed static
var staticFiles embed.FS

// Options changes what a theme writes. The zero value is what publishing uses.
type Options struct {
	// Script is the address, from a page, of one more script of our own: the
	// preview's. "" for none.
	Script string
}

// A Theme renders pages. It may be used by many goroutines.
type Theme struct {
	opt   Options
	tmpl  *template.Template
	code  *highlighter
	lines sync.Map // formulas of models, parsed: line → *syntax.Def
}

// New returns a theme.
func New(opt Options) (*Theme, error) {
	t, err := template.New("theme").Funcs(template.FuncMap{
		"dict": dict, "name": breakable,
	}).ParseFS(templateFiles, "templates/*.html")
	if err != nil {
		return nil, fmt.Errorf("theme templates: %w", err)
	}
	return &Theme{opt: opt, tmpl: t, code: newHighlighter()}, nil
}

// Assets returns the files that all pages of a manual with a look share, by
// their paths under assets/. They must not be changed.
func (t *Theme) Assets(look content.Look) (map[string][]byte, error) {
	all, err := assets()
	own := lookCSS(look)
	if err != nil || own == "" {
		return all, err
	}
	all = maps.Clone(all)
	all[styleFile] = append(bytes.Clone(all[styleFile]), own...)
	return all, nil
}

const styleFile = "style.css"

// assets are part of the program: the same each time.
var assets = sync.OnceValues(func() (map[string][]byte, error) {
	out := map[string][]byte{}
	root, err := fs.Sub(staticFiles, "static")
	if err != nil {
		return nil, err
	}
	err = fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, path)
		if err != nil {
			return err
		}
		out[path] = data
		return nil
	})
	if err != nil {
		return nil, err
	}
	if out["script.js"], err = script(); err != nil {
		return nil, err
	}
	// One style sheet: the sheet's own rules, those of code and those of plots.
	var css bytes.Buffer
	css.Write(out[styleFile])
	css.WriteString(codeCSS)
	css.WriteString(mathml.CSS)
	css.WriteString(chart.CSS)
	css.WriteString(chart.DrawingCSS)
	out[styleFile], err = small("text/css", css.Bytes())
	return out, err
})

// A Site is all that is published of one machine.
type Site struct {
	Title     string // the machine
	Summary   string
	Notice    string // shown on every sheet, such as that the data are invented
	Language  string // BCP 47
	Publisher string
	Releases  []*Release // newest first
	Features  []Feature  // how to tell them on the machine
	Feed      bool       // there is a feed.xml at the root
}

// Current returns the release a builder should use, or nil.
func (s *Site) Current() *Release {
	for _, r := range s.Releases {
		if r.Status == Current {
			return r
		}
	}
	return nil
}

// The states of a release.
const (
	Current   = "current"
	Candidate = "candidate" // not yet released
	Earlier   = "earlier"
)

// A Release is one release as the other releases' pages need to know it.
type Release struct {
	Name    string
	Dir     string            // its folder under the site's root, without slashes: "2.0"
	Date    string            // ISO 8601, "" if not stated
	Status  string            // Current, Candidate or Earlier
	Summary string            // what is new, in a sentence or two
	Tell    string            // how to tell this release on the machine
	Pages   map[string]string // titles of its pages by id
	Errata  []Erratum
	Moved   []MovedFigure // that are computed otherwise than they were issued
}

// An Erratum is something known to be wrong in a release.
type Erratum struct {
	Page   string // id, "" for the release as a whole or a figure
	Step   string // id of the step, or ""
	Figure string // full name of a figure that is wrong, or ""
	Text   string // what is wrong
	Right  string // what is right, or ""
	Since  string // ISO 8601, "" if not stated
	Fixed  string // name of the release that mends it, or ""
	Limit  string // name of the limit that keeps it from coming back, or ""
}

// Results is what a release computed; *calc.Result is one.
type Results interface {
	Figures() []*calc.Figure
	Figure(name string) *calc.Figure
	Limits() []*calc.Limit
	CrossChecks() []*calc.CrossCheck
	Shown(i int) *calc.Shown
	Sweep(param string, at []float64, exprs []int) ([][]float64, diag.List)
	Ref(x syntax.Expr) *calc.Figure
	Call(x *syntax.Call) *calc.ModelCall
	Rework(x syntax.Expr, put map[string]float64) (si float64, ok bool)
}

// An Input is one release to render. It must not be copied or changed after
// its first use.
type Input struct {
	Site     *Site
	Release  *Release // one of Site.Releases
	Manual   *content.Manual
	Result   Results
	Changes  func() *Changes // since the release before; nil if there is none
	Models   []*model.Spec   // the library, for sources of models; those used are found through Result
	Checksum string          // of the source, short; "" if not known
	Tool     string          // name and version of the program
	Manifest bool            // the release has a manifest for indexers of open hardware

	once viewOnce
}

// changes are those since the release before, nil if there is none.
func (in *Input) changes() *Changes {
	if in.Changes == nil {
		return nil
	}
	return in.Changes()
}

// execute runs a template into a string of finished HTML.
func (t *Theme) execute(name string, data any) (template.HTML, error) {
	var b strings.Builder
	if err := t.tmpl.ExecuteTemplate(&b, name, data); err != nil {
		return "", fmt.Errorf("template %s: %w", name, err)
	}
	return template.HTML(b.String()), nil
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// dict gathers named values for a template within a template.
func dict(pairs ...any) (map[string]any, error) {
	if len(pairs)%2 != 0 {
		return nil, fmt.Errorf("dict: a name without a value")
	}
	m := make(map[string]any, len(pairs)/2)
	for i := 0; i < len(pairs); i += 2 {
		name, ok := pairs[i].(string)
		if !ok {
			return nil, fmt.Errorf("dict: %v is no name", pairs[i])
		}
		m[name] = pairs[i+1]
	}
	return m, nil
}

// breakable lets a long name end its line after a dot or an underscore.
func breakable(name string) template.HTML {
	return template.HTML(breaks.Replace(esc(name)))
}

var breaks = strings.NewReplacer(".", ".<wbr>", "_", "_<wbr>")
