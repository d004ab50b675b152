package build

import (
	"slices"
	"strings"
	"sync"

	"workings/calc/diag"
	"workings/content"
	"workings/theme"
)

// currentDir holds a stable address for each sheet that any release has: it
// leads to the sheet of the current release, or says what became of it.
const currentDir = "current"

// passages makes the pages of the stable addresses.
func passages(t *theme.Theme, releases []*Release, inputs []*theme.Input) []job {
	site := inputs[0].Site
	current := site.Current()
	if current == nil {
		return nil
	}
	var now *Release
	var in *theme.Input
	for i, r := range releases {
		if r.Name == current.Name {
			now, in = r, inputs[i]
		}
	}
	var jobs []job
	add := func(file string, passage func() theme.Passage) {
		jobs = append(jobs, job{currentDir + "/" + file, func() ([]byte, error) { return t.Passage(site, passage()) }})
	}
	titles := sync.OnceValue(func() map[string]string { return t.Sheets(in) })
	ids := slices.Clone(content.Sheets)
	for _, p := range now.Manual.Pages {
		ids = append(ids, p.ID)
	}
	own := map[string]bool{}
	for _, id := range ids {
		file := id + ".html"
		own[file] = true
		add(file, func() theme.Passage {
			return theme.Passage{Title: titles()[file], To: "../" + current.Dir + "/" + file}
		})
	}
	moved := releases[0].Manual.Config.Moved
	seen := map[string]bool{}
	for _, rel := range site.Releases { // the newest first
		r := releases[slices.IndexFunc(releases, func(r *Release) bool { return r.Name == rel.Name })]
		for _, p := range r.Manual.Pages {
			if seen[p.ID] || own[p.ID+".html"] {
				continue
			}
			seen[p.ID] = true
			add(p.ID+".html", func() theme.Passage {
				x := theme.Passage{Title: rel.Pages[p.ID], Last: rel, LastRef: "../" + rel.Dir + "/" + p.ID + ".html", Near: "../" + current.Dir + "/index.html"}
				near := moved[p.ID]
				if x.Moved = near != "" && hasStep(now.Manual, near, ""); !x.Moved {
					near = nearest(r.Manual, p, now.Manual)
				}
				if near != "" {
					x.Near, x.NearTo = "../"+current.Dir+"/"+near+".html", current.Pages[near]
				}
				return x
			})
		}
	}
	return jobs
}

// nearest finds the page of a manual that comes closest to one which it does
// not have: the one that took over most of its steps, else the one whose title
// is alike, else the one that was before it and is still there; "" if none is.
func nearest(old *content.Manual, p *content.Page, now *content.Manual) string {
	steps := map[string]bool{}
	for _, s := range p.Steps {
		steps[s.ID] = true
	}
	best, most := "", 0
	for _, q := range now.Pages {
		n := 0
		for _, s := range q.Steps {
			if steps[s.ID] {
				n++
			}
		}
		if n > most {
			best, most = q.ID, n
		}
	}
	if best != "" {
		return best
	}
	for _, q := range now.Pages {
		if alike(p.Title, q.Title) {
			return q.ID
		}
	}
	for _, q := range old.Pages {
		if q == p {
			break
		}
		if hasStep(now, q.ID, "") {
			best = q.ID
		}
	}
	return best
}

// auditMoved reports pages that are said to have moved where none is.
func auditMoved(releases []*Release, list *diag.List) {
	now := releases[0].Manual
	var ids []string
	for id := range now.Config.Moved {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	at := diag.Span{File: now.Config.File}
	for _, id := range ids {
		was := slices.ContainsFunc(releases[1:], func(r *Release) bool { return hasStep(r.Manual, id, "") })
		switch to := now.Config.Moved[id]; {
		case hasStep(now, id, ""):
			list.Warn(at, "moved-page", "the page %s is said to have moved to %s, but it is there", id, to).Hint = "take it out of moved"
		case !was:
			list.Warn(at, "moved-page", "no release has a page %s that could have moved", id)
		case !hasStep(now, to, ""):
			list.Add(at, "moved-page", "the page %s is said to have moved to %s, and there is no such page", id, strings.TrimSpace(to))
		}
	}
}
