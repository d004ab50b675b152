package theme

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/content"
)

// Page renders one page of the manual.
func (t *Theme) Page(in *Input, p *content.Page) ([]byte, error) {
	v := t.view(in)
	r := newPageWriter(v, p, false)
	head, body, err := r.sheet()
	if err != nil {
		return nil, err
	}
	defer body.drop()
	v.open.Store(p, r.toOpen)
	return t.shell(v, shell{
		File: p.ID + ".html", Page: p, Sheet: strconv.Itoa(v.sheet[p.ID]),
		Title: v.title(p), Description: firstOf(p.Data.Summary, p.Summary, in.Site.Summary),
		Main: []string{head}, Body: body, Steps: v.stepRefs(p),
	})
}

// Whole renders all pages on one sheet, to print or to keep as one file.
func (t *Theme) Whole(in *Input) ([]byte, error) {
	v := t.view(in)
	var parts []string // joined at once: together they are large
	parts = append(parts, v.wholeCover())
	for _, p := range in.Manual.Pages {
		r := newPageWriter(v, p, true)
		head, body, err := r.sheet()
		if err != nil {
			return nil, err
		}
		id := esc(p.ID + "/")
		parts = append(parts, "<section class=\"page\" id=\""+id+"\" aria-labelledby=\""+id+"title\">\n")
		parts = append(parts, head, body.take(), "</section>\n")
	}
	return t.shell(v, shell{File: "whole.html", Sheet: "W", Title: v.w.WholeTitle, Description: v.w.WholeLead, Main: parts})
}

// wholeCover is the first sheet of the whole manual: what it is, and its
// contents. Browsers do not say on which sheet of paper a heading comes to
// stand, so the contents go by the numbers that the headings carry.
func (v *view) wholeCover() string {
	in, w := v.in, v.w
	b := newHTML()
	b.put(`<header class="head cover"><h1>`, esc(in.Site.Title), `</h1>
<p class="issue">`, esc(w.Release), ` <b>`, esc(in.Release.Name), `</b> <span class="state `, esc(in.Release.Status), `">`, esc(w.status(in.Release.Status)), `</span>`)
	if d := in.Release.Date; d != "" {
		b.put(` <time datetime="`, esc(d), `">`, esc(d), `</time>`)
	}
	b.put("</p>\n<p class=\"lead\">", esc(w.WholeLead), "</p>\n")
	if n := in.Site.Notice; n != "" {
		b.put(`<p class="invented">`, esc(n), "</p>\n")
	}
	b.put("</header>\n<h2>", esc(w.Sheets), "</h2>\n<ol class=\"contents\">")
	for _, p := range in.Manual.Pages {
		b.put(`<li><a href="#`, escHref(p.ID+"/"), `"><span class="no">`, strconv.Itoa(v.sheet[p.ID]), `</span> `, esc(v.title(p)), "</a></li>\n")
	}
	b.put("</ol>\n")
	return b.take()
}

// sheet is a page, the head with its title and facts apart. The derivations it
// leads to are gathered in r.toOpen.
func (r *pageWriter) sheet() (head string, body *htmlWriter, err error) {
	title, err := r.title()
	if err != nil {
		return "", nil, err
	}
	above := r.v.brokenAbove(r)
	body, err = r.render(r.page.Doc)
	return r.head(title) + above, body, err
}

// stepRef is a step in the index at the side of a page.
type stepRef struct {
	N     int
	ID    string
	Title string
}

func (v *view) stepRefs(p *content.Page) []stepRef {
	list := make([]stepRef, len(p.Steps))
	for i, s := range p.Steps {
		list[i] = stepRef{s.Number, s.ID, v.fill(s.Parts, s.Title)}
	}
	return list
}

// head is the heading, the summary and the facts of a page.
func (r *pageWriter) head(title string) string {
	v, p := r.v, r.page
	var b strings.Builder
	b.WriteString("<header class=\"head\">\n")
	if r.whole {
		id := esc(r.id("title"))
		b.WriteString("<h2 class=\"title\" id=\"" + id + "\"><span class=\"no\">" + strconv.Itoa(v.sheet[p.ID]) + "</span> " + title + "</h2>\n")
	} else {
		b.WriteString("<h1>" + title + "</h1>\n")
	}
	if s := firstOf(p.Data.Summary, p.Summary); s != "" {
		b.WriteString("<p class=\"lead\">" + esc(s) + "</p>\n")
	}
	var facts strings.Builder
	fact := func(name, value string) {
		if value != "" {
			facts.WriteString("<div><dt>" + esc(name) + "</dt><dd>" + value + "</dd></div>")
		}
	}
	fact(v.w.Time, esc(p.Data.Time))
	fact(v.w.People, esc(p.Data.People))
	fact(v.w.Skill, esc(p.Data.Skill))
	var needs []string
	for _, id := range p.Data.Needs {
		if q := v.page(id); q != nil {
			needs = append(needs, `<a href="`+esc(r.pageHref(q, ""))+`">`+strconv.Itoa(v.sheet[q.ID])+" "+esc(v.title(q))+"</a>")
		} else {
			needs = append(needs, esc(id))
		}
	}
	fact(v.w.Needs, strings.Join(needs, "<br>"))
	if facts.Len() > 0 {
		b.WriteString("<dl class=\"facts\">" + facts.String() + "</dl>\n")
	}
	b.WriteString("</header>\n")
	return b.String()
}

// brokenAbove shows at the head of a page the messages of design-sheet limits
// that are broken and bear on a figure the page shows. Limits of calc blocks
// show theirs where they stand.
func (v *view) brokenAbove(r *pageWriter) string {
	var b strings.Builder
	seen := map[*calc.Limit]bool{}
	for _, name := range v.figuresOn(r.page) {
		for _, l := range v.limits[name] {
			if !seen[l] && l.Verdict == calc.Broken {
				seen[l] = true
				b.WriteString(r.limitPanel(l, false))
			}
		}
	}
	return b.String()
}

// title renders the first heading of a page; its Title if it has none.
func (r *pageWriter) title() (string, error) {
	for n := r.page.Doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && h.Level == 1 {
			r.titleNode = h
			s, err := r.children(h)
			return s, err
		}
	}
	return esc(r.v.title(r.page)), nil
}

func firstOf(s ...string) string {
	for _, x := range s {
		if x != "" {
			return x
		}
	}
	return ""
}
