package build

import (
	"bytes"
	"errors"
	"io/fs"
	"regexp"

	"github.com/pelletier/go-toml/v2"

	"workings/calc/diag"
	"workings/content"
	"workings/theme"
)

// errataName is the file that says what is known to be wrong in releases that
// are out already. It lies in the working tree: the releases stay as they are.
//
//	[[errata]]
//	release = "1.0"
//	page = "frame"      # left out: the release as a whole
//	step = "lay"        # left out: the page as a whole
//	figure = "mass"     # in place of a page: wherever the figure is shown
//	text = "The screws are given as M3."
//	right = "They are M4."   # may be left out
//	since = 2026-12-01  # when it became known
//	fixed = "1.1"       # the release that mends it; left out: none yet
//	limit = "screw"     # a limit of the working tree that keeps it from coming back; may be left out
const errataName = "errata.toml"

type errataTOML struct {
	Errata []struct {
		Release string          `toml:"release"`
		Page    string          `toml:"page"`
		Step    string          `toml:"step"`
		Figure  string          `toml:"figure"`
		Text    string          `toml:"text"`
		Right   string          `toml:"right"`
		Since   *toml.LocalDate `toml:"since"`
		Fixed   string          `toml:"fixed"`
		Limit   string          `toml:"limit"`
	} `toml:"errata"`
}

// errata reads what is known to be wrong, by the name of the release.
func errata(fsys fs.FS, releases []*Release) (map[string][]theme.Erratum, diag.List) {
	var list diag.List
	data, err := fs.ReadFile(fsys, errataName)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	file := diag.NewFile(errataName, data)
	if err != nil {
		list.Add(diag.Span{File: file}, "errata", "cannot read %s: %s", errataName, cause(err))
		return nil, list
	}
	var raw errataTOML
	d := toml.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&raw); err != nil {
		tomlErrors(&list, file, err)
		return nil, list
	}
	byName := map[string]*Release{}
	for _, r := range releases {
		byName[r.Name] = r
	}
	out := map[string][]theme.Erratum{}
	heads := errataHead.FindAllIndex(data, -1)
	for i, e := range raw.Errata {
		at := diag.Span{File: file}
		if i < len(heads) {
			at.Start, at.End = heads[i][0], heads[i][1]
		}
		r := byName[e.Release]
		switch {
		case e.Text == "":
			list.Add(at, "errata", "this entry does not say what is wrong").Hint = `write text = "…"`
		case r == nil:
			list.Add(at, "errata", "there is no release %q", e.Release).Hint = "name the release that has the error"
		case e.Page == "" && e.Step != "":
			list.Add(at, "errata", "the step %s is of no page", e.Step).Hint = `write page = "…"`
		case e.Page != "" && !hasStep(r.Manual, e.Page, e.Step):
			list.Add(at, "errata", "release %s has no %s", r.Name, where(e.Page, e.Step))
		case e.Page != "" && e.Figure != "":
			list.Add(at, "errata", "this entry names a page and a figure").Hint = "name one of them: a figure is wrong wherever it is shown"
		case e.Figure != "" && r.Result.Figure(e.Figure) == nil:
			list.Add(at, "errata", "release %s has no figure %s", r.Name, e.Figure)
		case e.Fixed != "" && byName[e.Fixed] == nil:
			list.Add(at, "errata", "there is no release %q that could mend it", e.Fixed)
		case e.Fixed != "" && CompareReleases(e.Fixed, e.Release) <= 0:
			list.Add(at, "errata", "release %s cannot mend release %s, which is not before it", e.Fixed, e.Release)
		case e.Since == nil:
			list.Add(at, "errata", "this entry does not say since when the error is known").Hint = "write since = YYYY-MM-DD"
		case e.Limit != "" && !hasLimit(releases[0], e.Limit):
			list.Warn(at, "errata-limit", "the limit %s, which keeps this error of release %s from coming back, is gone", e.Limit, e.Release).
				Hint = "put it back into the sheet, or name the limit that has taken its place"
		}
		known := theme.Erratum{Page: e.Page, Step: e.Step, Figure: e.Figure, Text: e.Text, Right: e.Right, Fixed: e.Fixed, Limit: e.Limit}
		if e.Since != nil {
			known.Since = e.Since.String()
		}
		out[e.Release] = append(out[e.Release], known)
	}
	return out, list
}

var errataHead = regexp.MustCompile(`(?m)^[ \t]*\[\[[ \t]*errata[ \t]*\]\]`)

func hasLimit(r *Release, name string) bool {
	for _, l := range r.Result.Limits() {
		if l.Name == name {
			return true
		}
	}
	return false
}

func hasStep(m *content.Manual, page, step string) bool {
	for _, p := range m.Pages {
		if p.ID != page {
			continue
		}
		if step == "" {
			return true
		}
		for _, s := range p.Steps {
			if s.ID == step {
				return true
			}
		}
	}
	return false
}

func where(page, step string) string {
	if step == "" {
		return "page " + page
	}
	return "step " + step + " on a page " + page
}

// tomlErrors puts what the TOML reader found into the list, at its place.
func tomlErrors(list *diag.List, file *diag.File, err error) {
	add := func(e *toml.DecodeError, msg string) {
		row, col := e.Position()
		start := min(file.LineStart(row)+max(col-1, 0), len(file.Text))
		list.Add(diag.Span{File: file, Start: start, End: start}, "errata", "%s", msg)
	}
	var strict *toml.StrictMissingError
	var one *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		for i := range strict.Errors {
			e := &strict.Errors[i]
			key := ""
			if k := e.Key(); len(k) > 0 {
				key = k[len(k)-1]
			}
			add(e, "the entry "+key+" has no meaning here")
		}
	case errors.As(err, &one):
		add(one, one.Error())
	default:
		list.Add(diag.Span{File: file}, "errata", "%v", err)
	}
}
