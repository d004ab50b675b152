package theme

// A Feature is something on the machine by which its release can be told.
type Feature struct {
	Look string            // what to look for
	Page string            // id of the page that shows it, or ""
	On   map[string]string // what each release has there, by name
}

// Which renders how to tell the releases apart on the machine, and the label
// that makes it unnecessary.
func (t *Theme) Which(in *Input) ([]byte, error) {
	v := t.view(in)
	w := v.w.releaseWords()
	type column struct {
		*Release
		Here bool
		Href string
	}
	type row struct {
		Look, Href string
		Cells      []string
		Here       []bool
	}
	cfg := in.Manual.Config
	d := struct {
		R       *releaseWords
		Columns []column
		Rows    []row
		Label   []string
	}{R: w}
	for _, r := range in.Site.Releases {
		href, _ := sameSheet(shell{File: "which.html"}, r)
		d.Columns = append(d.Columns, column{r, r == in.Release, href})
	}
	for _, f := range in.Site.Features {
		x := row{Look: f.Look}
		if v.page(f.Page) != nil {
			x.Href = f.Page + ".html"
		}
		for _, r := range in.Site.Releases {
			x.Cells = append(x.Cells, firstOf(f.On[r.Name], w.NotStated))
			x.Here = append(x.Here, r == in.Release)
		}
		d.Rows = append(d.Rows, x)
	}
	for _, line := range []string{
		in.Site.Title,
		v.w.Release + " " + in.Release.Name,
		in.Release.Date,
		named(v.w.Checksum, in.Checksum),
		joinNotes2(" · ", firstOf(cfg.Publisher, in.Site.Publisher), licenceText(cfg.Licence)),
		named(w.SourceAt, cfg.Repository),
		in.Site.Notice,
	} {
		if line != "" {
			d.Label = append(d.Label, line)
		}
	}
	return t.register(v, "which.html", "which.html", "?", w.WhichTitle, w.WhichLead, d)
}

func named(name, value string) string {
	if value == "" {
		return ""
	}
	return name + " " + value
}

// A Passage leads from the stable address of a sheet, under current/, to the
// sheet of the current release, or says where it went.
type Passage struct {
	Title   string   // of the sheet
	To      string   // address of the sheet of the current release; "" if it has none
	Moved   bool     // Near is where its content went, as the designer says
	Near    string   // address of the sheet to go on with
	NearTo  string   // its title; "" for the cover
	Last    *Release // the last release that has the sheet
	LastRef string   // address of the sheet there
}

// Passage renders the page at a stable address. There is one for every sheet,
// too many for a template.
func (t *Theme) Passage(site *Site, p Passage) ([]byte, error) {
	w := wordsFor(site.Language)
	r := w.releaseWords()
	current := ""
	if c := site.Current(); c != nil {
		current = c.Name
	}
	say := func(s string) string { return esc(fill(s, "release", current, "title", p.Title)) }
	title := esc(p.Title)
	if p.To == "" {
		title = say(r.GoneTitle)
	}
	b := newHTML()
	b.put(`<!doctype html>
<html lang="`, esc(w.Lang), `">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; img-src 'self' data:; font-src 'self'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
`)
	if p.To != "" {
		to := escHref(p.To)
		b.put(`<meta http-equiv="refresh" content="0; url=`, to, `">
<link rel="canonical" href="`, to, `">
<link rel="latest-version" href="`, to, "\">\n")
	}
	b.put("<title>", title, " · ", esc(site.Title), `</title>
<meta name="color-scheme" content="light dark">
<link rel="stylesheet" href="../assets/style.css">
<link rel="version-history" href="../index.html">
</head>
<body class="register root">
<div class="sheet"><div class="frame"><div class="cols"><main id="sheet/main">
<header class="head cover"><h1>`, title, "</h1></header>\n")
	line := func(lead, href, text string) {
		b.put("<p>", lead, " ")
		b.link(href, text)
		b.put("</p>\n")
	}
	if p.To != "" {
		line(say(r.MovedOn), p.To, title)
	} else {
		b.put("<p>", say(r.GoneText), "</p>\n")
		lead := r.GoneNearest
		if p.Moved {
			lead = r.GoneMoved
		}
		if p.NearTo != "" {
			line(esc(lead), p.Near, esc(p.NearTo))
		} else {
			b.put("<p>")
			b.link(p.Near, esc(r.GoneCover+" "+current))
			b.put("</p>\n")
		}
		if p.Last != nil {
			line(esc(r.GoneLast), p.LastRef, esc(p.Last.Name))
		}
	}
	b.put("</main></div></div></div>\n</body>\n</html>\n")
	return []byte(b.take()), nil
}

// FeedTexts are the words of the feed of a site.
type FeedTexts struct {
	w *releaseWords
}

// FeedWords returns the words of a language.
func FeedWords(lang string) FeedTexts { return FeedTexts{wordsFor(lang).releaseWords()} }

// Title is the title of the feed.
func (f FeedTexts) Title(machine string) string { return fill(f.w.FeedTitle, "machine", machine) }

// Release is the title of the entry of a release.
func (f FeedTexts) Release(name string) string { return fill(f.w.FeedRelease, "release", name) }

// Erratum is the title of the entry of an erratum.
func (f FeedTexts) Erratum(release string) string { return fill(f.w.FeedErratum, "release", release) }

// ErratumBody says what is wrong and what is right, as HTML.
func (f FeedTexts) ErratumBody(e Erratum) string {
	s := "<p>" + esc(e.Text) + "</p>"
	if e.Right != "" {
		s += "<p>" + esc(e.Right) + "</p>"
	}
	if e.Fixed != "" {
		s += "<p>" + esc(f.w.FixedIn+" "+e.Fixed) + "</p>"
	}
	return s
}

// ReleaseBody lists the figures that changed with a release, as HTML.
func (f FeedTexts) ReleaseBody(c *Changes) string {
	if c == nil || c.From == nil {
		return "<p>" + esc(f.w.FeedFirst) + "</p>"
	}
	if len(c.Figures) == 0 {
		return "<p>" + esc(fill(f.w.FeedSame, "release", c.From.Name)) + "</p>"
	}
	s := "<p>" + esc(fill(f.w.FeedChanged, "release", c.From.Name)) + "</p><ul>"
	for _, x := range c.Figures {
		text := f.w.FeedWas
		switch x.Kind {
		case Added:
			text = f.w.FeedNew
		case Removed:
			text = f.w.FeedGone
		}
		was, now := x.Old, x.New
		if u := firstOf(x.OldUnit, x.Unit); u != "" {
			was += " " + unitNamed(u).Display()
		}
		if x.Unit != "" {
			now += " " + unitNamed(x.Unit).Display()
		}
		s += "<li>" + esc(x.Name+": "+fill(text, "old", was, "new", now)) + "</li>"
	}
	return s + "</ul>"
}

// Sheets gives the titles of the sheets of a release by their files.
func (t *Theme) Sheets(in *Input) map[string]string {
	v := t.view(in)
	titles := map[string]string{"index.html": in.Site.Title}
	for _, s := range append(v.refsOf(in.Manual.Pages), v.registers()...) {
		titles[s.Href] = s.Title
	}
	return titles
}
