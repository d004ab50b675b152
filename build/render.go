package build

import (
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"workings/calc/diag"
	"workings/theme"
)

// shortSum is how much of a checksum a title block shows.
const shortSum = 12

// render makes the site of releases that have no errors; known says by their
// names what is wrong in them all the same.
func render(releases []*Release, known map[string][]theme.Erratum, opt Options) (*Site, diag.List) {
	var list diag.List
	fail := func(err error) (*Site, diag.List) {
		list.Add(diag.Span{File: releases[0].Manual.Config.File}, "render", "%v", err)
		return nil, list
	}
	t, err := theme.New(theme.Options{})
	if err != nil {
		return fail(err)
	}
	inputs := themeInputs(releases, known, opt.Tool)
	feed, err := atomFeed(releases[0].Manual.Config, inputs, opt.Tool)
	if err != nil {
		return fail(err)
	}
	inputs[0].Site.Feed = feed != nil
	jobs := append(rootJobs(t, inputs[0].Site, opt.Tool), passages(t, releases, inputs)...)
	if feed != nil {
		jobs = append(jobs, job{feedFile, func() ([]byte, error) { return feed, nil }})
	}
	keys := renderKeys(releases, inputs)
	first := make([]int, len(inputs)) // where the jobs of a release begin
	for i, in := range inputs {
		first[i] = len(jobs)
		own := releaseJobs(t, in, releases[i], opt.Tool)
		if kept, ok := opt.Cache.files(keys[i]); ok {
			for k := range own {
				own[k].make = func() ([]byte, error) { return kept.files[k], nil }
			}
			in.Result.(*recorder).list = kept.list
		}
		jobs = append(jobs, own...)
	}
	files, err := runJobs(jobs, opt.Progress)
	if err != nil {
		return fail(err)
	}
	keep := map[renderKey]rendered{}
	for i, in := range inputs {
		end := len(jobs)
		if i+1 < len(inputs) {
			end = first[i+1]
		}
		keep[keys[i]] = rendered{files[first[i]:end], in.Result.(*recorder).list}
	}
	opt.Cache.swap(nil, keep)
	site := &Site{}
	for i, j := range jobs {
		if err := site.add(j.path, files[i]); err != nil {
			return fail(err)
		}
	}
	assets, err := t.Assets()
	if err != nil {
		return fail(err)
	}
	for _, name := range slices.Sorted(maps.Keys(assets)) {
		if name == PreviewScript {
			continue
		}
		if err := site.add("assets/"+name, assets[name]); err != nil {
			return fail(err)
		}
	}
	for _, in := range inputs {
		if err := addOffline(site, t, in, opt); err != nil {
			return fail(err)
		}
		// The list comes last: it names all other files of the release.
		if err := site.add(in.Release.Dir+"/"+ListFile, site.checksums(in.Release.Dir)); err != nil {
			return fail(err)
		}
		list = append(list, in.Result.(*recorder).list...)
	}
	opt.Cache.forgetCopies(len(inputs))
	pages, err := sitemap(releases[0].Manual.Config.Address, site.Paths())
	if err != nil {
		return fail(err)
	}
	if pages != nil {
		if err := site.add(SitemapFile, pages); err != nil {
			return fail(err)
		}
	}
	if a, b, found := site.clash(); found {
		return fail(fmt.Errorf("%s and %s are one file to some computers: rename one of them", a, b))
	}
	return site, list
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
	assets, err := t.Assets()
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
func themeInputs(releases []*Release, known map[string][]theme.Erratum, tool Tool) []*theme.Input {
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
			Models: models, Checksum: r.Checksum[:shortSum], Tool: tool.String(), Manifest: manifest(r) != nil,
		}
	}
	for i, before := range predecessors(releases) {
		if before >= 0 {
			inputs[i].Changes = Compare(releases[before], releases[i])
			inputs[i].Changes.From = inputs[before].Release
			acceptLosses(inputs[i].Changes.Safety, releases[i], releases[before].Name)
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

func releaseJobs(t *theme.Theme, in *theme.Input, r *Release, tool Tool) []job {
	dir := in.Release.Dir + "/"
	sheet := func(name string, f func(*theme.Input) ([]byte, error)) job {
		return job{dir + name, func() ([]byte, error) { return f(in) }}
	}
	jobs := []job{
		sheet("index.html", t.Index),
		sheet("parts.html", t.Parts),
		sheet("checks.html", t.Checks),
		sheet("limits.html", t.Limits),
		sheet("figures.html", t.Figures),
		sheet("methods.html", t.Methods),
		sheet("changes.html", t.Changes),
		sheet("errata.html", t.Errata),
		sheet("which.html", t.Which),
		sheet("whole.html", t.Whole),
		sheet(SearchFile, t.Search),
		{dir + "figures.json", func() ([]byte, error) {
			return figuresJSON(tool, r.Manual.Config.Title, r.Name, r.Result.Figures())
		}},
		{dir + "parts.csv", func() ([]byte, error) { return PartsCSV(r) }},
	}
	jobs = append(jobs, interchangeJobs(r, dir)...)
	for _, p := range r.Manual.Pages {
		jobs = append(jobs, job{dir + p.ID + ".html", func() ([]byte, error) {
			page, err := t.Page(in, p)
			if err != nil {
				return nil, err
			}
			return withHowTo(page, r, p)
		}})
	}
	for _, name := range slices.Sorted(maps.Keys(r.Manual.Pictures)) {
		data := r.Manual.Pictures[name].Data
		jobs = append(jobs, job{dir + name, func() ([]byte, error) { return data, nil }})
	}
	return jobs
}

// runJobs makes the files on all processors. The first error in the order of
// the jobs counts, so that it does not depend on their speed.
func runJobs(jobs []job, progress func(done, all int)) ([][]byte, error) {
	files := make([][]byte, len(jobs))
	errs := make([]error, len(jobs))
	var next, done atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(jobs); i = int(next.Add(1)) - 1 {
				files[i], errs[i] = jobs[i].make()
				if n := done.Add(1); progress != nil {
					progress(int(n), len(jobs))
				}
			}
		})
	}
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("%s: %w", jobs[i].path, err)
		}
	}
	return files, nil
}
