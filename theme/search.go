package theme

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"workings/content"
)

// A searchEntry is one thing that can be found: its kind, what it is called,
// its value or place, its address, and further words it is found by. It is
// written as a list, to keep the index small.
type searchEntry struct {
	kind                     int
	title, value, href, more string
}

func (e searchEntry) MarshalJSON() ([]byte, error) {
	list := []any{e.kind, e.title, e.value, e.href}
	if e.more != "" {
		list = append(list, e.more)
	}
	return json.Marshal(list)
}

// The kinds of what can be found, in the order in which equals are shown.
const (
	findPage = iota
	findStep
	findSection
	findCheck
	findFigure
	findPart
	findTool
	findLimit
)

// Search makes the index of a release: its sheets, steps and headings with the
// words under them, checks, figures with their values, parts and limits. It is
// a script, because a sheet that was opened from a disk can load nothing else.
func (t *Theme) Search(in *Input) ([]byte, error) {
	v := t.view(in)
	var list []searchEntry
	for _, p := range in.Manual.Pages {
		list = append(list, v.searchPage(p)...)
	}
	for _, p := range in.Manual.Pages {
		for _, c := range p.Checks {
			value := v.w.YesNo
			if c.Expr >= 0 {
				value = v.shownText(in.Result.Shown(c.Expr))
			}
			list = append(list, searchEntry{findCheck, c.Number + " " + c.What, value, "checks.html#" + checkID(c), wordsIn(c.With + " " + c.Note)})
		}
	}
	for _, f := range in.Result.Figures() {
		list = append(list, searchEntry{findFigure, strings.TrimSpace(f.Name + " " + f.Caption), v.figureText(f), "figures.html#" + figureID(f.Name), ""})
	}
	for _, p := range v.parts {
		e := searchEntry{findPart, p.ID, v.partQuantity(p), "parts.html#" + partID(p.ID), ""}
		if p.Part != nil {
			e.title = strings.TrimSpace(firstOf(p.Part.Name, p.ID) + " " + v.fill(p.Part.SpecificationParts, p.Part.Specification))
			e.more = wordsIn(p.ID + " " + p.Part.Material + " " + p.Part.Source)
		}
		if p.Tool {
			e.kind, e.value = findTool, ""
		}
		list = append(list, e)
	}
	for _, l := range in.Result.Limits() {
		e := searchEntry{findLimit, l.Name, v.stateText(l), "limits.html#" + limitID(l), ""}
		message := ""
		for _, m := range l.Message {
			message += m.Text
		}
		if l.Stmt != nil {
			e.title = strings.TrimSpace(e.title + " " + l.Stmt.Caption)
		}
		e.more = wordsIn(message)
		list = append(list, e)
	}
	slices.SortStableFunc(list, func(a, b searchEntry) int { return a.kind - b.kind })
	w := v.w
	kinds := []string{w.Sheet, w.Step, w.Sheet, w.Check, w.FigureOne, w.Part, w.ToolWord, w.Limit}
	for i, k := range kinds {
		kinds[i] = capital(k)
	}
	data, err := json.Marshal(struct {
		Kinds   []string      `json:"kinds"`
		Entries []searchEntry `json:"entries"`
	}{kinds, list})
	if err != nil {
		return nil, err
	}
	src, err := searcher()
	if err != nil {
		return nil, err
	}
	return bytes.Replace(src, []byte(`"{{index}}"`), data, 1), nil
}

// searchPage gives a page, its steps and its headings, each with the words
// that stand under it.
func (v *view) searchPage(p *content.Page) []searchEntry {
	r := newPageWriter(v, p, false)
	list := []searchEntry{{findPage, v.title(p), v.placeOf(p, nil).Text, p.ID + ".html", ""}}
	text := []*strings.Builder{{}}
	text[0].WriteString(firstOf(p.Data.Summary, p.Summary))
	for n := p.Doc.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok {
			last := text[len(text)-1]
			last.WriteByte(' ')
			r.plainTo(last, n)
			continue
		}
		at := r.headings[h]
		switch s := r.steps[h]; {
		case s != nil:
			place := v.placeOf(p, s)
			list = append(list, searchEntry{findStep, v.fill(s.Parts, s.Title), place.Text, place.Href, ""})
		case h.Level > 1 && at != nil && at.ID != "":
			list = append(list, searchEntry{findSection, v.fill(at.Parts, at.Text), v.placeOf(p, nil).Text, p.ID + ".html#" + at.ID, ""})
		default:
			continue
		}
		text = append(text, &strings.Builder{})
	}
	for i := range list {
		list[i].more = wordsIn(text[i].String())
	}
	return list
}

// wordsIn gives the different words of a text, sorted; short ones say nothing.
func wordsIn(text string) string {
	text = strings.ToLower(text)
	seen := map[string]bool{}
	start, runes := 0, 0
	word := func(end int) {
		if runes >= 3 {
			seen[text[start:end]] = true
		}
		runes = 0
	}
	for i, r := range text {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			word(i)
			continue
		case runes == 0:
			start = i
		}
		runes++
	}
	word(len(text))
	return strings.Join(slices.Sorted(maps.Keys(seen)), " ")
}
