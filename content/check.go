package content

import (
	"path"
	"slices"
	"strconv"
	"strings"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// check looks at what only the whole manual can tell: names that pages share,
// links between them, pictures, and the parameters that plots vary.
func (m *Manual) check(drafts []*draft, list *diag.List) {
	m.checkNames(drafts, list)
	m.checkBlocks(drafts, list)
	m.checkChecks(list)
	m.checkNeeds(drafts, list)
	m.checkReasons(drafts, list)
	m.checkSweeps(drafts, list)

	byFile := m.byFile(drafts)
	for _, d := range drafts {
		m.checkPage(d, byFile, list)
	}
}

// Sheets are the pages that the program makes for every release. No page of a
// manual can have the name of one.
var Sheets = []string{"index", "parts", "checks", "limits", "figures", "methods", "reasons", "changes", "whole", "errata", "which"}

// checkNames sees that no page stands in the place of one that the program makes.
func (m *Manual) checkNames(drafts []*draft, list *diag.List) {
	for _, d := range drafts {
		if slices.Contains(Sheets, d.page.ID) {
			list.Add(diag.Span{File: d.page.File}, "page-name", "a page cannot be called %s: every release has a sheet of that name, made by the program", d.page.ID).
				Hint = "rename the file, as in " + strings.Replace(path.Base(d.page.File.Name), d.page.ID, "about-"+d.page.ID, 1)
		}
	}
}

// checkBlocks sees that a block belongs to one page.
func (m *Manual) checkBlocks(drafts []*draft, list *diag.List) {
	pages := map[string]*draft{}
	for _, d := range drafts {
		pages[scopeOf(d.page.ID)] = d
	}
	type owner struct {
		d  *draft
		at diag.Span
	}
	first := map[string]owner{}
	for _, d := range drafts {
		told := map[string]bool{}
		for _, b := range d.blocks {
			if told[b.Name] {
				continue
			}
			if p := pages[b.Name]; p != nil && p != d {
				told[b.Name] = true
				list.Add(b.Pos, "block-name", "the block %s has the name of another page", b.Name).Also =
					[]diag.Note{{Span: diag.Span{File: p.page.File}, Msg: "its unnamed calc blocks have this name"}}
				continue
			}
			if o, ok := first[b.Name]; ok && o.d != d {
				told[b.Name] = true
				e := list.Add(b.Pos, "block-name", "two pages have a block %s", b.Name)
				e.Also = []diag.Note{{Span: o.at, Msg: "the first is here"}}
				e.Hint = "give this one another name; a block can be continued on its own page only"
				continue
			}
			if _, ok := first[b.Name]; !ok {
				first[b.Name] = owner{d, b.Pos}
			}
		}
	}
}

// checkChecks numbers the checks and sees that their ids differ.
func (m *Manual) checkChecks(list *diag.List) {
	first := map[string]*Check{}
	for i, p := range m.Pages {
		for n, c := range p.Checks {
			c.Number = checkNumber(i, n)
			if twin := first[c.ID]; twin != nil {
				list.Add(c.Pos, "same-check", "two checks have the id %s", c.ID).
					Also = []diag.Note{{Span: twin.Pos, Msg: "the first is here"}}
				continue
			}
			first[c.ID] = c
		}
	}
}

// checkNeeds sees that the pages to do first exist and do not wait for each other.
func (m *Manual) checkNeeds(drafts []*draft, list *diag.List) {
	byID := map[string]*draft{}
	var ids []string
	for _, d := range drafts {
		byID[d.page.ID] = d
		ids = append(ids, d.page.ID)
	}
	at := func(d *draft, i int) diag.Span { return d.data.place("needs." + strconv.Itoa(i)) }
	for _, d := range drafts {
		for i, id := range d.page.Data.Needs {
			if byID[id] == nil {
				list.Add(at(d, i), "unknown-page", "there is no page %s to do first", id).Hint = didYouMean(id, ids)
			}
		}
	}
	// Walk each page's needs; a page met again while its own needs are being
	// walked closes a circle.
	const walking, done = 1, 2
	state := map[*draft]int{}
	var chain []diag.Note
	var walk func(d *draft)
	walk = func(d *draft) {
		state[d] = walking
		for i, id := range d.page.Data.Needs {
			to := byID[id]
			if to == nil {
				continue
			}
			chain = append(chain, diag.Note{Span: at(d, i), Msg: d.page.ID + " needs " + id})
			switch state[to] {
			case walking:
				from := 0
				for k, n := range chain {
					if n.Span.File == to.page.File {
						from = k
						break
					}
				}
				list.Add(at(d, i), "circle", "the pages wait for each other").Also = append([]diag.Note(nil), chain[from:]...)
			case 0:
				walk(to)
			}
			chain = chain[:len(chain)-1]
		}
		state[d] = done
	}
	for _, d := range drafts {
		if state[d] == 0 {
			walk(d)
		}
	}
}

// parameters gives the definitions of the design sheet by name, and the names
// in order. One whose line has a mistake, which is reported there, is nil.
func (m *Manual) parameters() (map[string]*syntax.Def, []string) {
	defs := map[string]*syntax.Def{}
	var names []string
	if len(m.Blocks) == 0 || m.Blocks[0].Sheet == nil {
		return defs, nil
	}
	for _, s := range m.Blocks[0].Sheet.Stmts {
		if def, ok := s.(*syntax.Def); ok && defs[def.Name.Name] == nil {
			defs[def.Name.Name] = def
			names = append(names, def.Name.Name)
		}
	}
	for _, b := range m.Blocks[0].Sheet.Broken {
		if _, ok := defs[b.Name]; !ok {
			defs[b.Name] = nil
			names = append(names, b.Name)
		}
	}
	return defs, names
}

// checkReasons sees that reasons are given for parameters that exist.
func (m *Manual) checkReasons(drafts []*draft, list *diag.List) {
	defs, names := m.parameters()
	for _, d := range drafts {
		for _, key := range sortedKeys(d.page.Data.Reasons) {
			if _, ok := defs[key]; !ok {
				list.Add(d.data.place("reasons."+key), "unknown-name", "there is no parameter %s on the design sheet", key).
					Hint = didYouMean(key, names)
			}
		}
	}
}

// checkSweeps sees that plots vary parameters of the design sheet.
func (m *Manual) checkSweeps(drafts []*draft, list *diag.List) {
	defs, names := m.parameters()
	for _, d := range drafts {
		for _, p := range d.swept {
			at := m.Exprs[p.Against].X.Span()
			def, known := defs[p.Param]
			switch {
			case d.defines(p.Param):
				list.Add(at, "plot", "%s is a figure of this page, only a parameter of the design sheet can be varied", p.Param)
			case !known:
				list.Add(at, "plot", "there is no parameter %s on the design sheet", p.Param).Hint = didYouMean(p.Param, names)
			case def != nil && !isLiteral(def.X):
				list.Add(at, "plot", "%s is computed, only a parameter can be varied", p.Param).Also =
					[]diag.Note{{Span: def.Pos, Msg: "it is computed here"}}
			}
		}
	}
}

// defines reports whether the page's own block defines a name, which then
// hides the design sheet's.
func (d *draft) defines(name string) bool {
	for _, b := range d.blocks {
		if b.Name != d.page.Scope || b.Sheet == nil {
			continue
		}
		for _, s := range b.Sheet.Stmts {
			if def, ok := s.(*syntax.Def); ok && def.Name.Name == name {
				return true
			}
		}
	}
	return false
}

// isLiteral reports whether an expression is a number with its unit and sign.
func isLiteral(x syntax.Expr) bool {
	switch x := unparen(x).(type) {
	case *syntax.Number:
		return true
	case *syntax.Unary:
		_, ok := unparen(x.X).(*syntax.Number)
		return ok && (x.Op == syntax.OpNeg || x.Op == syntax.OpPos)
	case *syntax.Convert:
		return isLiteral(x.X)
	}
	return false
}
