package build

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"workings/calc/diag"
	"workings/content"
	"workings/theme"
)

// assetsDir holds what all sheets of a site share.
const assetsDir = "assets/"

// shortSum is how much of a checksum a title block shows.
const shortSum = 12

// render makes the site of releases that have no errors; known says by their
// names what is wrong in them all the same. All its files are made, but in a
// preview.
func render(releases []*Release, known map[string][]theme.Erratum, opt Options) (*Site, diag.List) {
	site, results, err := plan(releases, known, opt)
	if err == nil && !opt.Preview {
		err = site.makeAll(nil, opt.Progress)
	}
	if err != nil {
		return nil, unmade(releases, err)
	}
	return site, found(results)
}

// unmade reports why a site could not be made.
func unmade(releases []*Release, err error) (list diag.List) {
	list.Add(diag.Span{File: releases[0].Manual.Config.File}, "render", "%v", err)
	return list
}

// found is what went wrong with the plots while a site was made.
func found(results []*recorder) (list diag.List) {
	for _, r := range results {
		list = append(list, r.list...)
	}
	return list
}

// plan says what the site of releases holds; nothing of it is made yet. The
// results collect what goes wrong with the plots while it is made.
func plan(releases []*Release, known map[string][]theme.Erratum, opt Options) (*Site, []*recorder, error) {
	t, err := opt.Cache.theme()
	if err != nil {
		return nil, nil, err
	}
	inputs := themeInputs(releases, known, opt)
	cfg := releases[0].Manual.Config
	feed := func() ([]byte, error) { return atomFeed(cfg, inputs, opt.Tool) }
	inputs[0].Site.Feed = hasFeed(inputs[0].Site)
	jobs := append(rootJobs(t, inputs[0].Site, opt.Tool), passages(t, releases, inputs)...)
	if inputs[0].Site.Feed {
		jobs = append(jobs, job{feedFile, feed})
	}
	assets, err := t.Assets(cfg.Look)
	if err != nil {
		return nil, nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(assets)) {
		if name != PreviewScript {
			jobs = append(jobs, job{assetsDir + name, func() ([]byte, error) { return assets[name], nil }})
		}
	}
	site := &Site{}
	for _, j := range jobs {
		f := &file{make: j.make}
		if strings.HasPrefix(j.path, assetsDir) {
			f.copy = everyCopy
		}
		if err := site.put(j.path, f); err != nil {
			return nil, nil, err
		}
	}
	quick := len(site.order)
	keys := renderKeys(releases, inputs)
	keep := map[renderKey]rendered{}
	results := make([]*recorder, len(inputs))
	for i, in := range inputs {
		r, ok := opt.Cache.files(keys[i])
		if !ok {
			r.result = in.Result.(*recorder)
			for _, j := range releaseJobs(t, site, in, releases[i], opt.Tool) {
				f := &file{make: j.make}
				if !isOffline(j.path) {
					f.copy = in.Release.Dir
				}
				r.paths, r.files = append(r.paths, j.path), append(r.files, f)
			}
		}
		for k, f := range r.files {
			if err := site.put(r.paths[k], f); err != nil {
				return nil, nil, err
			}
		}
		keep[keys[i]], results[i] = r, r.result
	}
	opt.Cache.swap(nil, keep)
	site.order = alternate(site.order[quick:], site.order[:quick])
	pages, err := sitemap(cfg.Address, site.Paths())
	if err != nil {
		return nil, nil, err
	}
	if pages != nil {
		if err := site.add(SitemapFile, pages); err != nil {
			return nil, nil, err
		}
	}
	if a, b, found := site.clash(); found {
		return nil, nil, fmt.Errorf("%s and %s are one file to some computers: rename one of them", a, b)
	}
	return site, results, nil
}

// SearchFile is the index of a release that its search reads.
const SearchFile = "search.js"

// PreviewScript is the asset that only a preview uses.
const PreviewScript = "preview.js"

// Script returns the script of the preview.
func Script() ([]byte, error) {
	t, err := theme.New(theme.Options{})
	if err != nil {
		return nil, err
	}
	assets, err := t.Assets(content.Look{})
	if err != nil {
		return nil, err
	}
	data, ok := assets[PreviewScript]
	if !ok {
		return nil, fmt.Errorf("the program was built without %s", PreviewScript)
	}
	return data, nil
}

// themeInputs says what each release is to the theme, in the order given,
// with its changes since the release before it.
func themeInputs(releases []*Release, known map[string][]theme.Erratum, opt Options) []*theme.Input {
	cfg := releases[0].Manual.Config
	site := &theme.Site{
		Title: cfg.Title, Summary: cfg.Summary, Notice: cfg.Notice,
		Language: cfg.Language, Publisher: cfg.Publisher, Features: features(releases),
	}
	current := Current(releases)
	models := library()
	inputs := make([]*theme.Input, len(releases))
	for i, r := range releases {
		rel := &theme.Release{
			Name: r.Name, Dir: r.Name, Status: status(r.Name, current),
			Pages: map[string]string{}, Errata: known[r.Name], Moved: movedFigures(r),
		}
		if d := r.Manual.Config.Date; !d.IsZero() {
			rel.Date = d.Format("2006-01-02")
		}
		for _, p := range r.Manual.Pages {
			rel.Pages[p.ID] = p.Title
		}
		site.Releases = append(site.Releases, rel)
		inputs[i] = &theme.Input{
			Site: site, Release: rel, Manual: r.Manual, Result: &recorder{Result: r.Result},
			Models: models, Checksum: r.Checksum[:shortSum], Tool: opt.Tool.String(), Manifest: manifest(r) != nil,
		}
		if i == 0 && opt.Preview {
			// It changes with every change, and would be on every sheet.
			inputs[i].Checksum = ""
		}
	}
	for i, before := range predecessors(releases) {
		if before >= 0 {
			inputs[i].Changes = sync.OnceValue(func() *theme.Changes {
				ch := Compare(releases[before], releases[i])
				ch.From = inputs[before].Release
				acceptLosses(ch.Safety, releases[i], releases[before].Name)
				return ch
			})
		}
	}
	slices.SortFunc(site.Releases, func(a, b *theme.Release) int { return CompareReleases(b.Name, a.Name) })
	return inputs
}

// predecessors gives for each release the index of the one before it in the
// order of their names, -1 for the first.
func predecessors(releases []*Release) []int {
	order := make([]int, len(releases))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return CompareReleases(releases[a].Name, releases[b].Name) })
	before := make([]int, len(releases))
	for k, i := range order {
		before[i] = -1
		if k > 0 {
			before[i] = order[k-1]
		}
	}
	return before
}

func renderKeys(releases []*Release, inputs []*theme.Input) []renderKey {
	site := siteText(inputs[0].Site)
	keys := make([]renderKey, len(releases))
	for i, before := range predecessors(releases) {
		keys[i] = renderKey{release: releases[i], site: site}
		if before >= 0 {
			keys[i].before = releases[before]
		}
	}
	return keys
}

// status says what a release is to a builder.
func status(name, current string) string {
	switch {
	case name == current:
		return theme.Current
	case CompareReleases(name, current) > 0:
		return theme.Candidate
	}
	return theme.Earlier
}

// A job makes one file of the site.
type job struct {
	path string
	make func() ([]byte, error)
}

func rootJobs(t *theme.Theme, site *theme.Site, tool Tool) []job {
	return []job{{"index.html", func() ([]byte, error) { return t.Cover(site, tool.String()) }}}
}

// releaseJobs makes the files of a release. What takes long comes behind the
// pages, whose formulas and code it needs again, and before what is many: at
// the end no processor waits for another.
func releaseJobs(t *theme.Theme, site *Site, in *theme.Input, r *Release, tool Tool) []job {
	dir := in.Release.Dir + "/"
	sheet := func(name string, f func(*theme.Input) ([]byte, error)) job {
		return job{dir + name, func() ([]byte, error) { return f(in) }}
	}
	var jobs []job
	for _, p := range r.Manual.Pages {
		jobs = append(jobs, job{dir + p.ID + ".html", func() ([]byte, error) {
			page, err := t.Page(in, p)
			if err != nil {
				return nil, err
			}
			return withHowTo(page, r, p)
		}})
	}
	jobs = append(jobs, sheet("whole.html", t.Whole), sheet(SearchFile, t.Search))
	for _, x := range t.Volumes(in) {
		jobs = append(jobs, job{dir + x.File, func() ([]byte, error) { return t.Workings(in, x) }})
	}
	jobs = append(jobs,
		sheet("figures.html", t.Figures),
		sheet("index.html", t.Index),
		sheet("parts.html", t.Parts),
		sheet("checks.html", t.Checks),
		sheet("limits.html", t.Limits),
		sheet("methods.html", t.Methods),
		sheet("reasons.html", t.Reasons),
		sheet("changes.html", t.Changes),
		sheet("errata.html", t.Errata),
		sheet("which.html", t.Which),
		job{dir + "figures.json", func() ([]byte, error) {
			return figuresJSON(tool, r.Manual.Config.Title, r.Name, r.Result.Figures(), r.Result.Limits())
		}},
		job{dir + "parts.csv", func() ([]byte, error) { return PartsCSV(r) }},
	)
	jobs = append(jobs, interchangeJobs(r, dir)...)
	for _, name := range slices.Sorted(maps.Keys(r.Manual.Pictures)) {
		data := r.Manual.Pictures[name].Data
		jobs = append(jobs, job{dir + name, func() ([]byte, error) { return data, nil }})
	}
	return append(jobs, offlineJobs(t, site, in, tool)...)
}
