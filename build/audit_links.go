package build

import (
	"bytes"
	"net/url"
	"path"
	"slices"
	"strings"
	"sync"

	"golang.org/x/net/html"

	"workings/calc/diag"
	"workings/content"
)

// A siteLink is a reference of a published page to something of the site.
type siteLink struct {
	attr   string // href, src …
	target string // as written
	path   string // the file it leads to
	anchor string
}

// A sitePage is what the audit needs of a published page.
type sitePage struct {
	ids    map[string]bool
	double []string
	links  []siteLink
}

// auditLinks follows every link of the site: between its pages, to their
// places, to its files, and from release to release. A fault is reported on
// the page of the manual that it comes from, where it has one.
func auditLinks(site *Site, releases []*Release, list *diag.List) {
	pages := readPages(site)
	// What a page says twice, as the whole manual on one page does, is told
	// once a release; the pages of the manual come first.
	paths := site.Paths()
	slices.SortStableFunc(paths, func(a, b string) int {
		return btoi(path.Base(a) == "whole.html") - btoi(path.Base(b) == "whole.html")
	})
	told := map[string]bool{}
	for _, p := range paths {
		page := pages[p]
		if page == nil {
			continue
		}
		once := func(what string) bool {
			key := path.Dir(p) + " " + what
			first := !told[key]
			told[key] = true
			return first
		}
		for _, id := range page.double {
			if !once("id " + id) {
				continue
			}
			list.Warn(sourcePlace(p, id, releases), "same-id", "%s has two places called %s", p, id).
				Hint = "give one of them another name: {#name}"
		}
		for _, l := range page.links {
			why := ""
			if _, ok := site.File(l.path); !ok {
				why = "there is no " + l.path
			} else if to := pages[l.path]; to != nil && l.anchor != "" && l.anchor != "top" && !to.ids[l.anchor] {
				why = "there is no place #" + l.anchor + " in " + l.path
			}
			if why == "" || !once(l.target) {
				continue
			}
			list.Warn(sourcePlace(p, l.target, releases), "broken-link", "on %s, %s=%q leads nowhere: %s", p, l.attr, l.target, why).
				Hint = "link to a page, a picture or a heading that is published"
		}
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// readPages reads the HTML files of a site, on all processors.
func readPages(site *Site) map[string]*sitePage {
	pages := map[string]*sitePage{}
	var mu sync.Mutex
	var wg sync.WaitGroup
	for _, p := range site.Paths() {
		if !strings.HasSuffix(p, ".html") {
			continue
		}
		wg.Go(func() {
			data, _ := site.File(p)
			page := readPage(p, data)
			mu.Lock()
			pages[p] = page
			mu.Unlock()
		})
	}
	wg.Wait()
	return pages
}

func readPage(name string, data []byte) *sitePage {
	page := &sitePage{ids: map[string]bool{}}
	z := html.NewTokenizer(bytes.NewReader(data))
	for {
		switch z.Next() {
		case html.ErrorToken:
			return page
		case html.StartTagToken, html.SelfClosingTagToken:
			_, more := z.TagName()
			for more {
				var key, val []byte
				key, val, more = z.TagAttr()
				switch k := string(key); k {
				case "id":
					id := string(val)
					if page.ids[id] {
						page.double = append(page.double, id)
					}
					page.ids[id] = true
				case "href", "src", "xlink:href", "poster", "data":
					if l, ok := localLink(name, k, string(val)); ok {
						page.links = append(page.links, l)
					}
				}
			}
		}
	}
}

// localLink resolves an address against the file it stands in (RFC 3986,
// section 5). Addresses elsewhere are none of the site.
func localLink(name, attr, target string) (siteLink, bool) {
	u, err := url.Parse(target)
	if err != nil {
		return siteLink{attr, target, target, ""}, true
	}
	if u.Scheme != "" || u.Host != "" {
		return siteLink{}, false
	}
	l := siteLink{attr: attr, target: target, path: name, anchor: u.Fragment}
	if u.Path != "" {
		l.path = path.Join(path.Dir(name), u.Path)
		if strings.HasSuffix(u.Path, "/") {
			l.path = path.Join(l.path, "index.html")
		}
	}
	return l, true
}

// sourcePlace is where the source of a published page names something: the
// link itself, else its first mention, else the page; for a sheet that has no
// page in the manual, manual.toml.
func sourcePlace(published, what string, releases []*Release) diag.Span {
	dir, file := path.Split(published)
	for _, r := range releases {
		if r.Name+"/" != dir {
			continue
		}
		for _, p := range r.Manual.Pages {
			if p.ID+".html" == file {
				return inSource(p, what)
			}
		}
		return diag.Span{File: r.Manual.Config.File}
	}
	return diag.Span{File: releases[0].Manual.Config.File}
}

func inSource(p *content.Page, what string) diag.Span {
	for _, l := range p.Links {
		if l.Pos.Text() == what {
			return l.Pos
		}
	}
	if i := bytes.Index(p.File.Text, []byte(what)); i >= 0 && what != "" {
		return diag.Span{File: p.File, Start: i, End: i + len(what)}
	}
	return diag.Span{File: p.File}
}
