package build

import (
	"workings/calc/diag"
	"workings/theme"
)

// features gathers how the releases can be told apart on the machine: what the
// working tree says of each, and what each says of itself. A release that is
// sealed under another name than it was written under keeps what it says.
func features(releases []*Release) []theme.Feature {
	var out []theme.Feature
	at := map[string]int{}
	take := func(look, page string) *theme.Feature {
		i, ok := at[look]
		if !ok {
			i = len(out)
			at[look] = i
			out = append(out, theme.Feature{Look: look, Page: page, On: map[string]string{}})
		}
		return &out[i]
	}
	for i, r := range releases {
		for _, f := range r.Manual.Config.Features {
			x := take(f.Look, f.Page)
			if x.On[r.Name] == "" {
				x.On[r.Name] = f.Here
			}
			if i > 0 {
				continue // what an old release says of others, the working tree knows better
			}
			for name, what := range f.On {
				x.On[name] = what
			}
		}
	}
	return out
}

// auditReleases reports what is amiss with the releases as a whole.
func auditReleases(releases []*Release) diag.List {
	var list diag.List
	auditFeatures(releases, &list)
	auditLosses(releases, &list)
	auditMoved(releases, &list)
	for _, s := range releases[0].Manual.Config.Releases {
		if s.Zip != "" && s.SHA256 == "" {
			list.Warn(s.Pos, "unsealed-zip", "release %s is a zip without a checksum: nobody would notice if it changed", s.Name).
				Hint = "write its SHA-256 sum as sha256"
		}
	}
	return list
}

// auditFeatures reports releases that the features do not tell apart.
func auditFeatures(releases []*Release, list *diag.List) {
	all := features(releases)
	if len(all) == 0 {
		return
	}
	now := releases[0]
	at := diag.Span{File: now.Manual.Config.File}
	if own := now.Manual.Config.Features; len(own) > 0 {
		at = own[0].Pos
	}
	for _, f := range now.Manual.Config.Features {
		if f.Page != "" && !hasStep(now.Manual, f.Page, "") {
			list.Add(f.Pos, "feature", "there is no page %s to show this feature", f.Page)
		}
	}
	for i, a := range releases {
		for _, b := range releases[i+1:] {
			told := false
			for _, f := range all {
				x, y := f.On[a.Name], f.On[b.Name]
				told = told || x != "" && y != "" && x != y
			}
			if !told {
				list.Warn(at, "feature", "no feature tells release %s from release %s on the machine", a.Name, b.Name).
					Hint = "state one that differs, or what the other release has there with on = { … }"
			}
		}
	}
}

// movedFigures are the figures of a sealed release that are computed
// otherwise than it was issued.
func movedFigures(r *Release) []theme.MovedFigure {
	if r.Sealed == nil {
		return nil
	}
	var out []theme.MovedFigure
	for _, m := range r.Sealed.Moved {
		out = append(out, theme.MovedFigure{Name: m.Name, Sealed: m.Sealed, Now: m.Now, Tool: r.Sealed.Tool.String()})
	}
	return out
}
