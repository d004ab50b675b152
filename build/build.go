package build

import (
	"slices"
	"sync"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/content"
	"workings/theme"
)

// Options say how a manual is built. The zero value builds it with no name of
// the program on it.
type Options struct {
	Tool  Tool
	Set   map[string]syntax.Expr // values put in place of parameters of the working tree: what-if
	Cache *Cache                 // what an earlier build gave; nil: nothing is kept
	// Thorough adds the checks that evaluate the working tree many times over:
	// whether slopes describe the uncertainties.
	Thorough bool
	// Preview leaves the files of the site to be made when they are asked for,
	// and looks for errors only: Findings looks for the rest.
	Preview bool
	// Accepted is told the findings that the manual accepts in writing; nil if
	// nobody asks.
	Accepted func([]Accepted)
	// Progress is told what has been done, from any goroutine; nil if nobody asks.
	Progress func(done, all int)
}

// Build reads and computes every release of a manual and makes the site. It
// reports everything that is wrong with any of them; the site is nil if the
// list holds an error.
func Build(src Source, opt Options) (*Site, diag.List) {
	r := read(src, opt)
	var site *Site
	if r.complete {
		var errs diag.List
		site, errs = render(r.releases, r.known, r.opt)
		r.list = append(r.list, errs...)
	}
	list := r.findings(site)
	if list.HasErrors() {
		return nil, list
	}
	return site, list
}

// A reading is a manual read and computed, with what was found in it.
type reading struct {
	opt      Options
	releases []*Release
	known    map[string][]theme.Erratum
	list     diag.List
	complete bool // nothing keeps a site from being made of it

	audited func() diag.List // what is found without the site, while that is made
}

// read reads and computes every release, and begins to look for what a site
// need not be made for.
func read(src Source, opt Options) *reading {
	if opt.Cache == nil {
		opt.Cache = &Cache{}
	}
	r := &reading{opt: opt}
	r.releases, r.known, r.list = load(src, opt)
	r.complete = !r.list.HasErrors()
	r.audited = sync.OnceValue(func() (list diag.List) {
		if opt.Set == nil {
			list = audit(r.releases[0], r.complete)
		}
		if r.complete && opt.Thorough {
			list = append(list, r.releases[0].Result.Curvature()...)
		}
		return list
	})
	go r.audited()
	return r
}

// findings is all that was found, that in the site made of it included (nil if
// there is none), but for what the manual accepts.
func (r *reading) findings(site *Site) diag.List {
	if site != nil {
		auditLinks(site, r.releases, &r.list)
	}
	list, accepted := accept(r.releases[0], append(r.list, r.audited()...), site != nil && r.opt.Set == nil, r.opt.Thorough)
	if r.opt.Accepted != nil {
		r.opt.Accepted(accepted)
	}
	return list
}

// load reads and computes every release, what is known to be wrong with them,
// and what follows from them together.
func load(src Source, opt Options) ([]*Release, map[string][]theme.Erratum, diag.List) {
	releases, list := Load(src, opt)
	known, errs := errata(src.FS, releases)
	list = append(list, errs...)
	if opt.Set == nil && !list.HasErrors() {
		list = append(list, auditRecord(src.FS, releases[0])...)
		list = append(list, auditReleases(releases)...)
	}
	return releases, known, list
}

// Load reads and computes every release: that of the working tree first, then
// the earlier ones, the latest first. A release that could not be opened is
// left out.
func Load(src Source, opt Options) ([]*Release, diag.List) {
	// Computing takes one processor. Another does what needs no result, where no
	// reader waits for a page: it looks for typed numbers, and where a site will
	// be made of it all it highlights code.
	var typed func() []typedNumber
	computed := make(chan struct{})
	now, list := compute(src.FS, "", computing{opt.Set, opt.Cache.memo(opt), func(m *content.Manual) {
		typed = sync.OnceValue(func() []typedNumber { return typedNumbers(m) })
		if opt.Preview {
			return
		}
		go func() {
			typed()
			if opt.Cache == nil {
				return
			}
			if t, err := opt.Cache.theme(); err == nil {
				t.Prepare(m, computed)
			}
		}()
	}})
	close(computed)
	now.typed = typed
	sources := now.Manual.Config.Releases
	earlier := make([]*Release, len(sources))
	lists := make([]diag.List, len(sources))
	keys := make([]string, len(sources))
	var wg sync.WaitGroup
	for i, r := range sources {
		wg.Go(func() { earlier[i], keys[i], lists[i] = loadEarlier(src, r, opt) })
	}
	wg.Wait()
	keep := map[string]loaded{}
	for i, l := range lists {
		list = append(list, l...)
		if keys[i] != "" {
			keep[keys[i]] = loaded{earlier[i], l}
		}
	}
	opt.Cache.swap(keep, nil)
	earlier = slices.DeleteFunc(earlier, func(r *Release) bool { return r == nil })
	slices.SortStableFunc(earlier, func(a, b *Release) int { return CompareReleases(b.Name, a.Name) })
	return append([]*Release{now}, earlier...), list.Sorted()
}

// LoadWorking reads and computes the working tree alone.
func LoadWorking(src Source, opt Options) (*Release, diag.List) {
	return compute(src.FS, "", computing{set: opt.Set})
}

// loadEarlier reads and computes an earlier release. The key stands for
// everything that the result depends on; "" if it must not be kept.
func loadEarlier(src Source, r content.ReleaseSource, opt Options) (rel *Release, key string, list diag.List) {
	fsys, key, err := src.release(r)
	if err != nil {
		list.Add(r.Pos, "release-source", "cannot open release %s: %v", r.Name, err)
		return nil, "", list
	}
	key += " " + prefixOf(r) + " " + r.Name
	if l, ok := opt.Cache.release(key); ok {
		return l.release, key, l.list
	}
	rel, errs := compute(fsys, prefixOf(r), computing{})
	// What an earlier release was published with is known; only what keeps it
	// from being published again is reported. That a limit of it is not proved
	// does not: nobody can write an acceptance into a release that stays as it is.
	for _, d := range errs {
		if !d.Warn && d.Code != "limit-searched" {
			list = append(list, d)
		}
	}
	if rel.Name != r.Name && !list.HasErrors() {
		list.Add(r.Pos, "release-name", "release %s says of itself that it is release %q", r.Name, rel.Name).
			Hint = "the name here and in the manual.toml of that release must be the same"
		key = "" // the place is one of this build
	}
	rel.Name = r.Name
	if !list.HasErrors() {
		list = append(list, auditSealed(rel, fsys, prefixOf(r), opt.Tool)...)
	}
	return rel, key, list
}

// Current names the release that a builder should use: the one that the
// manual names, else the latest that is no pre-release, else the latest.
func Current(releases []*Release) string {
	if len(releases) == 0 {
		return ""
	}
	if c := releases[0].Manual.Config.Current; c != "" {
		return c
	}
	best := ""
	for _, r := range releases {
		switch {
		case best == "",
			IsPreRelease(best) && !IsPreRelease(r.Name),
			IsPreRelease(best) == IsPreRelease(r.Name) && CompareReleases(r.Name, best) > 0:
			best = r.Name
		}
	}
	return best
}

// library is the model library as the theme wants it.
func library() []*model.Spec {
	specs := model.Library()
	out := make([]*model.Spec, len(specs))
	for i := range specs {
		out[i] = &specs[i]
	}
	return out
}

// recorder passes on what a release computed and collects what goes wrong in
// the sweeps that the plots ask for.
type recorder struct {
	*calc.Result
	mu   sync.Mutex
	list diag.List
}

func (r *recorder) Sweep(param string, at []float64, exprs []int) ([][]float64, diag.List) {
	out, list := r.Result.Sweep(param, at, exprs)
	r.mu.Lock()
	r.list = append(r.list, list...)
	r.mu.Unlock()
	return out, list
}

var _ theme.Results = (*recorder)(nil)
