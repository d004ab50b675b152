package content

import (
	"io/fs"
	"path"
	"regexp"
	"runtime"
	"sort"
	"strconv"
	"strings"
	"sync"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// The places of a manual's files.
const (
	sheetName = "design.calc"
	partsName = "parts.csv"
	pagesDir  = "pages"
	// Where pictures and tables are looked for when a path is wrong.
	picturesDir = "pictures"
	tablesDir   = "tables"
)

// Options say how a manual is read. The zero value is what most need.
type Options struct {
	Prefix  string // put before the names of files in reports, such as "1.0:" for an earlier release
	Workers int    // pages read at a time; 0: as many as there are processors
}

// Load reads a whole manual. It reports everything that is wrong with the
// source and never stops at the first mistake; the manual it returns holds what
// could be read, and is fit to be computed if the list has no errors.
func Load(fsys fs.FS, opt Options) (*Manual, diag.List) {
	m := &Manual{
		FS:       fsys,
		Pictures: map[string]*Picture{},
		Files:    map[string]*diag.File{},
		Sheet:    diag.NewFile(opt.Prefix+sheetName, nil),
		prefix:   opt.Prefix,
	}
	var list diag.List
	config := m.loadConfig(&list)
	list = few(list)
	if f := m.readText(sheetName, maxText, &list); f != nil {
		m.Sheet = f
	}
	sheet, errs := syntax.Parse(m.Sheet, []syntax.Seg{{Start: 0, End: len(m.Sheet.Text)}})
	list = append(list, errs...)
	m.Blocks = []calc.Block{{Sheet: sheet, Pos: diag.Span{File: m.Sheet}}}
	var parts diag.List
	m.loadParts(&parts)
	list = append(list, few(parts)...)

	drafts := m.loadPages(opt.Workers, &list)
	drafts = m.order(drafts, config, &list)
	m.take(drafts)
	m.check(drafts, &list)
	return m, list.Sorted()
}

var (
	pageFile = regexp.MustCompile(`^(?:([0-9]+)[-_])?(.+)\.md$`)
	pageID   = regexp.MustCompile(`^[a-z][a-z0-9]*(?:[-_][a-z0-9]+)*$`)
)

// loadPages reads every page, several at a time, in order of file names.
func (m *Manual) loadPages(workers int, list *diag.List) []*draft {
	entries, err := fs.ReadDir(m.FS, pagesDir)
	if err != nil || len(entries) == 0 {
		list.Add(diag.Span{File: diag.NewFile(m.prefix+pagesDir, nil)}, "no-pages", "the manual has no pages").
			Hint = "write the first one as pages/10-start.md"
		return nil
	}
	var drafts []*draft
	first := map[string]*draft{}
	for _, e := range entries {
		name := path.Join(pagesDir, e.Name())
		at := diag.Span{File: diag.NewFile(m.prefix+name, nil)}
		match := pageFile.FindStringSubmatch(e.Name())
		switch {
		case strings.HasPrefix(e.Name(), "."):
			continue
		case e.IsDir():
			list.Warn(at, "page-folder", "pages in a folder of pages/ are not read").Hint = "move them to pages/"
			continue
		case match == nil:
			if !strings.HasSuffix(e.Name(), "~") {
				list.Warn(at, "not-a-page", "this is no page: its name does not end in .md").Hint = "pictures go to pictures/, tables to tables/"
			}
			continue
		case !pageID.MatchString(match[2]):
			list.Add(at, "page-name", "%q cannot be the id of a page", match[2]).
				Hint = "name the file like 20-frame.md: lower-case letters a to z and digits, words joined by -"
			continue
		}
		d := &draft{m: m, page: &Page{ID: match[2]}, path: name, order: -1}
		if n, err := strconv.Atoi(match[1]); err == nil {
			d.order = n
		}
		if twin := first[scopeOf(d.page.ID)]; twin != nil {
			list.Add(at, "same-page", "two pages have the id %s", d.page.ID).
				Also = []diag.Note{{Span: diag.Span{File: diag.NewFile(m.prefix+twin.path, nil)}, Msg: "the other page"}}
			continue
		}
		first[scopeOf(d.page.ID)] = d
		drafts = append(drafts, d)
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var wg sync.WaitGroup
	next := make(chan *draft)
	for range min(workers, len(drafts)) {
		wg.Go(func() {
			for d := range next {
				d.read()
			}
		})
	}
	for _, d := range drafts {
		next <- d
	}
	close(next)
	wg.Wait()
	for _, d := range drafts {
		*list = append(*list, d.list...)
	}
	return drafts
}

// scopeOf is the name of the block that a page's unnamed calc blocks form.
func scopeOf(id string) string { return strings.ReplaceAll(id, "-", "_") }

// order puts the pages in reading order: as manual.toml lists them, else by
// the order that a page states, else by the number in its file name.
func (m *Manual) order(drafts []*draft, config *tomlText, list *diag.List) []*draft {
	key := func(d *draft) int {
		switch {
		case d.page.Data.Order != 0:
			return d.page.Data.Order
		case d.order >= 0:
			return d.order
		}
		return int(^uint(0) >> 1)
	}
	sort.SliceStable(drafts, func(i, j int) bool { return key(drafts[i]) < key(drafts[j]) })
	if len(m.Config.Pages) == 0 {
		return drafts
	}
	var ids []string
	byID := map[string]*draft{}
	for _, d := range drafts {
		ids = append(ids, d.page.ID)
		byID[d.page.ID] = d
	}
	var out []*draft
	listed := map[string]bool{}
	for i, id := range m.Config.Pages {
		at := config.place("pages." + strconv.Itoa(i))
		switch {
		case listed[id]:
			list.Add(at, "same-page", "the page %s is listed twice", id)
		case byID[id] == nil:
			d := list.Add(at, "unknown-page", "there is no page %s", id)
			if d.Hint = didYouMean(id, ids); d.Hint == "" && len(ids) > 0 {
				d.Hint = "the pages are " + strings.Join(ids, ", ")
			}
		default:
			out = append(out, byID[id])
		}
		listed[id] = true
	}
	for _, d := range drafts {
		if !listed[d.page.ID] {
			list.Warn(diag.Span{File: d.page.File}, "unlisted-page", "the page %s is not listed in %s, so it comes last", d.page.ID, configName).
				Hint = "add it to pages"
			out = append(out, d)
		}
	}
	return out
}
