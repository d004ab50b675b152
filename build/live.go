package build

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"sync"

	"workings/calc"
	"workings/calc/diag"
	"workings/content"
	"workings/theme"
)

// A Live builds a manual again and again while its files change, for a
// preview. Its sites make their files when they are asked for.
type Live struct {
	open func() (src Source, close func() error, err error)
	opt  Options

	mu   sync.Mutex
	last *liveState // the last build without errors; nil before
}

type liveState struct {
	releases []*Release
	known    map[string][]theme.Erratum
	list     diag.List // findings of reading and computing
}

// NewLive returns a Live of the manual that open opens.
func NewLive(open func() (Source, func() error, error), opt Options) *Live {
	opt.Preview = true
	if opt.Cache == nil {
		opt.Cache = &Cache{}
	}
	return &Live{open: open, opt: opt}
}

// Build makes a site of the present files. It reports errors, and those
// findings that come with reading and computing; with an error the site is nil.
func (l *Live) Build() (*Site, diag.List) {
	src, closeSrc, err := l.open()
	if err != nil { // the folder was moved away while it is watched
		var list diag.List
		list.Add(diag.Span{}, "no-manual", "%v", err)
		return nil, list
	}
	defer closeSrc()
	releases, known, list := load(src, l.opt)
	if list.HasErrors() {
		return nil, list
	}
	site, errs := render(releases, known, l.opt)
	list = append(list, errs...)
	if site == nil {
		return nil, list
	}
	site.version = versionOf(releases, known, l.opt.Tool)
	l.mu.Lock()
	l.last = &liveState{releases, known, list}
	l.mu.Unlock()
	return site, list
}

// Quick makes a site with only the files read again that have changed since
// the last Build, by their paths in the manual. It is right for the pages that
// changed and for every number; what Build alone finds, it leaves for it. ok is
// false if the change is none that can be made quickly, or brings a mistake.
func (l *Live) Quick(changed []string) (site *Site, ok bool) {
	l.mu.Lock()
	last := l.last
	l.mu.Unlock()
	if last == nil {
		return nil, false
	}
	src, closeSrc, err := l.open()
	if err != nil {
		return nil, false
	}
	defer closeSrc()
	old := last.releases[0]
	m, sameCalc, ok := old.Manual.Reread(src.FS, changed)
	if !ok {
		return nil, false
	}
	now := &Release{Name: old.Name, Manual: m, Result: old.Result, Checksum: changedSum(old.Checksum, m, changed), Sealed: old.Sealed}
	if !sameCalc {
		in := m.Input()
		in.Memo = l.opt.Cache.memo(l.opt)
		prog, errs := calc.Compile(in)
		if errs.HasErrors() {
			return nil, false
		}
		if now.Result, errs = prog.Run(); errs.HasErrors() || auditLimits(now.Result).HasErrors() {
			return nil, false
		}
	}
	if auditDrawings(m, now.Result).HasErrors() {
		return nil, false
	}
	releases := append([]*Release{now}, last.releases[1:]...)
	site, errs := render(releases, last.known, l.opt)
	if errs.HasErrors() {
		return nil, false
	}
	site.version = versionOf(releases, last.known, l.opt.Tool) + "+" // not the last word
	return site, true
}

// changedSum names what was read before with some files changed: quicker than
// the checksum of them all, and for the preview alone, which shows none.
func changedSum(before string, m *content.Manual, changed []string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n", before)
	for _, name := range slices.Sorted(slices.Values(changed)) {
		if f := m.Files[name]; f != nil {
			fmt.Fprintf(h, "%q %x\n", name, sha256.Sum256(f.Text))
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Findings looks at the last Build for what should be mended, as an audit does
// that makes no page.
func (l *Live) Findings() diag.List {
	l.mu.Lock()
	last := l.last
	l.mu.Unlock()
	if last == nil {
		return nil
	}
	list := append(diag.List(nil), last.list...)
	list = append(list, audit(last.releases[0], true)...)
	list, _ = accept(last.releases[0], list, false, false)
	return list
}

// versionOf names what releases are shown with, so that a page left open from
// an earlier run of a preview notices a difference too.
func versionOf(releases []*Release, known map[string][]theme.Erratum, tool Tool) string {
	h := sha256.New()
	fmt.Fprintf(h, "%q\n", tool)
	for _, r := range releases {
		fmt.Fprintf(h, "%q %s %+v\n", r.Name, r.Checksum, known[r.Name])
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}
