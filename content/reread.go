package content

import (
	"io/fs"
	"maps"
	"path"
	"reflect"
	"slices"
	"strconv"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// Reread reads the pages and the design sheet that have changed again, and
// takes everything else from a manual that was read before, which stays as it
// is. It is for an author who waits to see one page: what the change does to
// other pages (a link to a heading that is gone) is not looked at. ok is false
// if the change is of another kind or brings a mistake: then Load has to read
// it all.
//
// sameCalc says that nothing which is computed has changed: the result of the
// manual before is that of this one too.
func (m *Manual) Reread(fsys fs.FS, changed []string) (now *Manual, sameCalc, ok bool) {
	now = &Manual{
		FS: fsys, Config: m.Config, Sheet: m.Sheet, Pages: slices.Clone(m.Pages), Parts: m.Parts,
		Pictures: maps.Clone(m.Pictures), Exprs: slices.Clone(m.Exprs), drafts: slices.Clone(m.drafts), prefix: m.prefix,
	}
	m.mu.Lock()
	now.Files = maps.Clone(m.Files)
	m.mu.Unlock()
	var list diag.List
	sameCalc = true
	blocks := []calc.Block{m.Blocks[0]}
	var fresh []*draft
	for _, name := range changed {
		if name == sheetName {
			if now.Sheet = now.readText(sheetName, maxText, &list); now.Sheet == nil {
				return nil, false, false
			}
			sheet, errs := syntax.Parse(now.Sheet, []syntax.Seg{{Start: 0, End: len(now.Sheet.Text)}})
			list = append(list, errs...)
			blocks[0] = calc.Block{Sheet: sheet, Pos: diag.Span{File: now.Sheet}}
			sameCalc = false
			continue
		}
		i := slices.IndexFunc(now.drafts, func(d *draft) bool { return d.path == name })
		if i < 0 {
			return nil, false, false
		}
		old := now.drafts[i]
		d := &draft{m: now, page: &Page{ID: old.page.ID}, path: name, order: old.order}
		d.read()
		if d.broken || d.page.Data.Order != old.page.Data.Order {
			return nil, false, false
		}
		list = append(list, d.list...)
		if d.takeCalc(old) {
			d.number(old.base)
		} else {
			sameCalc = false
			// Its expressions go behind all others, so that these keep their
			// numbers; those that it had are left empty.
			for k := range old.exprs {
				now.Exprs[old.base+k] = calc.Expr{}
			}
			d.number(len(now.Exprs))
			now.Exprs = append(now.Exprs, d.exprs...)
		}
		now.drafts[i], now.Pages[i] = d, d.page
		fresh = append(fresh, d)
	}
	for _, d := range now.drafts {
		blocks = append(blocks, d.blocks...)
	}
	now.Blocks = blocks
	now.checkFresh(fresh, &list)
	return now, sameCalc, !list.HasErrors()
}

// checkFresh is check for pages that were read again.
func (m *Manual) checkFresh(fresh []*draft, list *diag.List) {
	m.checkBlocks(m.drafts, list)
	m.checkNeeds(m.drafts, list)
	m.checkReasons(m.drafts, list)
	m.checkSweeps(m.drafts, list)
	byFile := m.byFile(m.drafts)
	checks := map[string]bool{}
	for _, p := range m.Pages {
		for _, c := range p.Checks {
			if checks[c.ID] {
				list.Add(c.Pos, "same-check", "two checks have the id %s", c.ID)
			}
			checks[c.ID] = true
		}
	}
	for _, d := range fresh {
		i := slices.Index(m.drafts, d)
		for n, c := range d.page.Checks {
			c.Number = checkNumber(i, n)
		}
		m.checkPage(d, byFile, list)
	}
}

// byFile gives the pages by their files, and by the names of files that say
// their ids alone.
func (m *Manual) byFile(drafts []*draft) map[string]*draft {
	byFile := map[string]*draft{}
	for _, d := range drafts {
		byFile[path.Join(pagesDir, d.page.ID+".md")] = d
	}
	for _, d := range drafts {
		byFile[d.path] = d
	}
	return byFile
}

// checkPage follows the links of a page and loads its pictures.
func (m *Manual) checkPage(d *draft, byFile map[string]*draft, list *diag.List) {
	for _, l := range d.page.Links {
		m.checkLink(d, l, byFile, list)
	}
	for _, u := range d.pictures {
		m.loadPicture(u, list)
		if !contains(d.page.Pictures, u.path) && m.Pictures[u.path] != nil {
			d.page.Pictures = append(d.page.Pictures, u.path)
		}
	}
}

// checkNumber is the number of a check on a page, both counted from 0.
func checkNumber(page, check int) string {
	return "C " + strconv.Itoa(page+1) + "." + strconv.Itoa(check+1)
}

// takeCalc takes the calculations of a page from what was read of it before,
// if they say the same, so that what was computed of those holds for these.
func (d *draft) takeCalc(old *draft) bool {
	if len(d.blocks) != len(old.blocks) || len(d.exprs) != len(old.exprs) {
		return false
	}
	for i, b := range d.blocks {
		if o := old.blocks[i]; b.Name != o.Name || !saysSame(reflect.ValueOf(b.Sheet), reflect.ValueOf(o.Sheet)) {
			return false
		}
	}
	for i := range d.exprs {
		if !saysSame(reflect.ValueOf(d.exprs[i]), reflect.ValueOf(old.exprs[i])) {
			return false
		}
	}
	before := map[*syntax.Sheet]*syntax.Sheet{}
	for i, b := range d.blocks {
		before[b.Sheet] = old.blocks[i].Sheet
	}
	_ = ast.Walk(d.page.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if c, ok := n.(*CalcNode); ok && entering && before[c.Sheet] != nil {
			c.Sheet = before[c.Sheet]
		}
		return ast.WalkContinue, nil
	})
	d.blocks, d.exprs = old.blocks, old.exprs
	return true
}

var spanType, fileType = reflect.TypeFor[diag.Span](), reflect.TypeFor[*diag.File]()

// saysSame compares two values of one type, but for the places in them.
func saysSame(a, b reflect.Value) bool {
	if !a.IsValid() || !b.IsValid() {
		return a.IsValid() == b.IsValid()
	}
	if a.Type() != b.Type() {
		return false
	}
	if a.Type() == spanType || a.Type() == fileType {
		return true
	}
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return saysSame(a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if !saysSame(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !saysSame(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Float64:
		return a.Float() == b.Float()
	case reflect.String:
		return a.String() == b.String()
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return a.Int() == b.Int()
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return a.Uint() == b.Uint()
	}
	return false // a kind that no syntax has: better computed anew
}
