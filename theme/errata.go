package theme

import (
	"slices"

	"workings/content"
)

// A MovedFigure is a figure of a sealed release that this program computes
// otherwise than it was issued.
type MovedFigure struct {
	Name        string
	Sealed, Now string // with units
	Tool        string // that sealed it
}

// erratumRow is an erratum as a sheet shows it.
type erratumRow struct {
	Text, Right, Since string
	Where, Href        string // the page and step, or the figure
	Fixed, FixedHref   string
	Limit              string
}

// Errata renders the known errors of a release.
func (t *Theme) Errata(in *Input) ([]byte, error) {
	v := t.view(in)
	w := v.w.releaseWords()
	here := shell{File: "errata.html"}
	return t.register(v, "errata.html", here.File, "E", w.ErrataTitle, w.ErrataLead, struct {
		R    *releaseWords
		Rows []erratumRow
	}{w, v.errata(here, func(Erratum) bool { return true })})
}

// errataHere are the known errors that a sheet shows at its head: its own,
// those of figures that it shows, on the cover those of the release, and on
// the whole manual all.
func (v *view) errataHere(s shell) []erratumRow {
	here := func(p *content.Page) bool { return p == s.Page || slices.Contains(s.With, p) }
	return v.errata(s, func(e Erratum) bool {
		switch {
		case s.File == "whole.html":
			return true
		case s.Page != nil && e.Page != "":
			return here(v.page(e.Page))
		case s.Page != nil && e.Figure != "":
			return slices.ContainsFunc(v.shownOn[e.Figure], here)
		case s.Page != nil:
			return false
		case s.File == "figures.html":
			return e.Figure != ""
		}
		return s.File == "index.html" && e.Page == "" && e.Figure == ""
	})
}

func (v *view) errata(s shell, shows func(Erratum) bool) (rows []erratumRow) {
	w := v.w.releaseWords()
	for _, e := range v.in.Release.Errata {
		if !shows(e) {
			continue
		}
		row := erratumRow{Text: e.Text, Right: e.Right, Since: e.Since, Limit: e.Limit, Fixed: e.Fixed}
		row.Where, row.Href = v.erratumPlace(e, s)
		for _, r := range v.in.Site.Releases {
			if r.Name == e.Fixed {
				row.FixedHref, _ = sameSheet(s, r)
			}
		}
		rows = append(rows, row)
	}
	for _, m := range v.in.Release.Moved {
		e := Erratum{Figure: m.Name, Text: fill(w.Recomputed, "figure", m.Name, "sealed", m.Sealed, "tool", m.Tool, "now", m.Now)}
		if shows(e) {
			row := erratumRow{Text: e.Text}
			row.Where, row.Href = v.erratumPlace(e, s)
			rows = append(rows, row)
		}
	}
	return rows
}

// erratumPlace says what an erratum is about, with its address from a sheet.
func (v *view) erratumPlace(e Erratum, s shell) (where, href string) {
	w := v.w.releaseWords()
	p := v.page(e.Page)
	switch {
	case p != nil:
		where, href = v.title(p), p.ID+".html"
		if s.File == "whole.html" {
			href = "#" + p.ID + "/"
		}
		for _, st := range p.Steps {
			if st.ID != e.Step {
				continue
			}
			where += ", " + v.fill(st.Parts, st.Title)
			if s.File == "whole.html" {
				href += st.ID
			} else {
				href += "#" + st.ID
			}
		}
		if s.Page == p && e.Step == "" {
			href = "" // the reader is there
		}
	case e.Figure != "" && v.in.Result.Figure(e.Figure) != nil:
		where, href = w.Figure+" "+e.Figure, "figures.html#"+figureID(e.Figure)
	case e.Figure != "":
		where = w.Figure + " " + e.Figure
	default:
		where = w.WholeRelease
	}
	return where, href
}
