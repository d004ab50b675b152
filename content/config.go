package content

import (
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"workings/calc/diag"
)

// configName is the file that makes a folder a manual.
const configName = "manual.toml"

// configTOML is manual.toml as it is written.
type configTOML struct {
	Title      string          `toml:"title"`
	Summary    string          `toml:"summary"`
	Notice     string          `toml:"notice"`
	Release    string          `toml:"release"`
	Date       *toml.LocalDate `toml:"date"`
	Current    string          `toml:"current"`
	Language   string          `toml:"language"`
	Publisher  string          `toml:"publisher"`
	Authors    []string        `toml:"authors"`
	Licence    licenceTOML     `toml:"licence"`
	Repository string          `toml:"repository"`
	Report     string          `toml:"report"`
	Address    string          `toml:"address"`
	Pages      []string        `toml:"pages"`
	HTML       string          `toml:"html"`
	Releases   []releaseTOML   `toml:"releases"`
	Features   []featureTOML   `toml:"features"`
	Accepted   []acceptedTOML  `toml:"accepted"`
	Look       lookTOML        `toml:"look"`
	// Where the content of pages went that this manual no longer has: the id
	// of the old page, then that of a page it has.
	Moved map[string]string `toml:"moved"`
}

type licenceTOML struct {
	Design   string `toml:"design"`
	Text     string `toml:"text"`
	Software string `toml:"software"`
}

type releaseTOML struct {
	Name   string `toml:"name"`
	Folder string `toml:"folder"`
	Zip    string `toml:"zip"`
	Tag    string `toml:"tag"`
	Commit string `toml:"commit"`
	SHA256 string `toml:"sha256"`
}

// A feature tells the releases of a machine apart:
//
//	[[features]]
//	look = "the plate behind the drive motor"   # what to look for
//	here = "held by four screws"                # what this release has there
//	page = "frame"                              # the page that shows it; may be left out
//	on = { "1.0" = "held by two screws" }       # what earlier releases have that do not say it themselves
//
// A release that is sealed takes its features along, under whatever name.
type featureTOML struct {
	Look string            `toml:"look"`
	Here string            `toml:"here"`
	Page string            `toml:"page"`
	On   map[string]string `toml:"on"`
}

// A safety loss against the release before that the designer accepts in
// writing. What it names is as the report of the loss says.
//
//	[[accepted]]
//	loss = "limit load, wider"
//	against = "1.0"
//	why = "the reservoir is now emptied in halves"
type acceptedTOML struct {
	Loss    string `toml:"loss"`
	Against string `toml:"against"`
	Why     string `toml:"why"`
}

// A release's name becomes a folder of the site, so it is kept to what every
// file system and address can hold.
var (
	releaseName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._+-]*$`)
	commitSum   = regexp.MustCompile(`^(?:[0-9a-f]{40}|[0-9a-f]{64})$`)
	sha256Hex   = regexp.MustCompile(`^[0-9a-f]{64}$`)
	languageTag = regexp.MustCompile(`^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$`) // the common forms of BCP 47 (RFC 5646, section 2.1)
	webAddress  = regexp.MustCompile(`^https?://[^\s]+$`)
	placeholder = regexp.MustCompile(`\{[^{}]*\}`)
)

func (m *Manual) loadConfig(list *diag.List) *tomlText {
	m.Config.Language = "en"
	f := m.readText(configName, maxConfig, list)
	if f == nil {
		if m.Files[configName] == nil && !list.HasErrors() {
			list.Add(diag.Span{File: diag.NewFile(m.prefix+configName, nil)}, "no-manual", "there is no %s here", configName).
				Hint = "a manual begins with it: a title and the name of the release"
		}
		return nil
	}
	t := wholeTOML(f)
	var raw configTOML
	decoded := t.decode(&raw, list)
	t.noFigures(list)
	m.Config = Config{
		Title: raw.Title, Summary: raw.Summary, Notice: raw.Notice, Release: raw.Release,
		Current: raw.Current, Language: raw.Language, Publisher: raw.Publisher, Authors: raw.Authors,
		Licence: Licence(raw.Licence), Look: Look(raw.Look),
		Repository: raw.Repository, Report: raw.Report, Address: raw.Address, Moved: raw.Moved, Pages: raw.Pages, HTML: raw.HTML == htmlSanitised, File: f,
	}
	c := &m.Config
	if raw.Date != nil {
		c.Date = time.Date(raw.Date.Year, time.Month(raw.Date.Month), raw.Date.Day, 0, 0, 0, 0, time.UTC)
	}
	if c.Language == "" {
		c.Language = "en"
	}
	for i, r := range raw.Releases {
		c.Releases = append(c.Releases, ReleaseSource{Name: r.Name, Folder: r.Folder, Zip: r.Zip, Tag: r.Tag, Commit: r.Commit,
			SHA256: r.SHA256, Pos: t.place("releases." + strconv.Itoa(i))})
	}
	for i, f := range raw.Features {
		c.Features = append(c.Features, Feature{Look: f.Look, Here: f.Here, Page: f.Page, On: f.On,
			Pos: t.place("features." + strconv.Itoa(i))})
	}
	for i, a := range raw.Accepted {
		c.Accepted = append(c.Accepted, Acceptance{Loss: a.Loss, Against: a.Against, Why: a.Why, Pos: t.place("accepted." + strconv.Itoa(i))})
	}
	if decoded {
		checkConfig(c, t, list)
		checkLicence(c.Licence, t, list)
		checkLook(c.Look, t, list)
		checkFeatures(c, t, list)
	}
	return t
}

func checkConfig(c *Config, t *tomlText, list *diag.List) {
	if strings.TrimSpace(c.Title) == "" {
		list.Add(t.place("title"), "no-title", "the manual has no title").Hint = `write title = "…"`
	}
	switch {
	case c.Release == "":
		list.Add(t.place("release"), "no-release", "the release has no name").Hint = `write release = "…", such as "1.0"`
	case !releaseName.MatchString(c.Release):
		list.Add(t.place("release"), "release-name", "%q cannot be the name of a release", c.Release).
			Hint = "use letters, digits and . _ + -"
	case reservedName(c.Release):
		list.Add(t.place("release"), "release-name", "%q cannot be the name of a release: the site has a folder of that name", c.Release)
	}
	if at, said := t.keys["html"]; said && !c.HTML {
		list.Add(at, "html", "HTML in pages is either left out of the manual or sanitised").Hint = `write html = "sanitised", or take the line out`
	}
	if !languageTag.MatchString(c.Language) {
		list.Add(t.place("language"), "language", "%q is no language tag", c.Language).Hint = `write it as in "en" or "de-AT"`
	}
	if c.Repository != "" && !webAddress.MatchString(c.Repository) {
		list.Add(t.place("repository"), "address", "%q is no address on the web", c.Repository).Hint = "it begins with https://"
	}
	if c.Address != "" && !webAddress.MatchString(c.Address) {
		list.Add(t.place("address"), "address", "%q is no address on the web", c.Address).Hint = "it begins with https://"
	}
	if c.Report != "" {
		if !webAddress.MatchString(c.Report) && !strings.HasPrefix(c.Report, "mailto:") {
			list.Add(t.place("report"), "address", "%q is no address", c.Report).Hint = "it begins with https:// or mailto:"
		}
		for _, p := range placeholder.FindAllString(c.Report, -1) {
			if !slices.Contains([]string{"{release}", "{page}", "{step}", "{title}", "{body}"}, p) {
				list.Add(t.place("report"), "placeholder", "%s is not filled in", p).Hint = "{release}, {page}, {step}, {title} and {body} are"
			}
		}
	}
	names := map[string]diag.Span{c.Release: t.place("release")}
	var all []string
	for i, r := range c.Releases {
		key := "releases." + strconv.Itoa(i)
		switch {
		case r.Name == "":
			list.Add(r.Pos, "release-name", "this earlier release has no name").Hint = `write name = "…"`
		case !releaseName.MatchString(r.Name):
			list.Add(t.place(key+".name"), "release-name", "%q cannot be the name of a release", r.Name).
				Hint = "use letters, digits and . _ + -"
		case reservedName(r.Name):
			list.Add(t.place(key+".name"), "release-name", "%q cannot be the name of a release: the site has a folder of that name", r.Name)
		default:
			if first, ok := names[r.Name]; ok {
				list.Add(t.place(key+".name"), "release-name", "there are two releases %s", r.Name).
					Also = []diag.Note{{Span: first, Msg: "the first is here"}}
			} else {
				names[r.Name] = t.place(key + ".name")
				all = append(all, r.Name)
			}
		}
		n := 0
		for _, s := range []string{r.Folder, r.Zip, r.Tag, r.Commit} {
			if s != "" {
				n++
			}
		}
		if n != 1 {
			list.Add(r.Pos, "release-source", "release %s names %d sources, want one", r.Name, n).
				Hint = "write exactly one of folder, zip, tag and commit"
		}
		if r.Commit != "" && !commitSum.MatchString(r.Commit) {
			list.Add(t.place(key+".commit"), "release-source", "%q is not the whole sum of a commit", r.Commit).
				Hint = "git rev-parse NAME prints it: 40 digits, or 64; a short one or a branch may mean another commit tomorrow"
		}
		for _, s := range []struct{ key, path string }{{"folder", r.Folder}, {"zip", r.Zip}} {
			if s.path != "" && (!fs.ValidPath(s.path) || s.path == ".") {
				list.Add(t.place(key+"."+s.key), "release-source", "%q is no path inside the manual", s.path).
					Hint = "write it from the manual's folder, with / and without .."
			}
		}
		if r.SHA256 != "" && !sha256Hex.MatchString(r.SHA256) {
			list.Add(t.place(key+".sha256"), "release-source", "a SHA-256 sum has 64 digits 0-9 a-f")
		}
		if r.SHA256 != "" && r.Zip == "" {
			list.Add(t.place(key+".sha256"), "release-source", "only a zip has a SHA-256 sum")
		}
	}
	if c.Current != "" && c.Current != c.Release {
		if _, ok := names[c.Current]; !ok {
			list.Add(t.place("current"), "release-name", "there is no release %s to be the current one", c.Current).
				Hint = didYouMean(c.Current, append(all, c.Release))
		}
	}
}

// reservedName reports whether the site itself needs a folder of that name.
func reservedName(name string) bool {
	return strings.EqualFold(name, "current") || strings.EqualFold(name, "assets")
}

func checkFeatures(c *Config, t *tomlText, list *diag.List) {
	known := []string{c.Release}
	for _, r := range c.Releases {
		known = append(known, r.Name)
	}
	first := map[string]diag.Span{}
	for i, f := range c.Features {
		key := "features." + strconv.Itoa(i)
		switch before, twice := first[f.Look]; {
		case f.Look == "":
			list.Add(f.Pos, "feature", "this feature does not say what to look for").Hint = `write look = "…"`
		case twice:
			list.Add(t.place(key+".look"), "feature", "there are two features %q", f.Look).
				Also = []diag.Note{{Span: before, Msg: "the first is here"}}
		case f.Here == "":
			list.Add(f.Pos, "feature", "this feature does not say what this release has there").Hint = `write here = "…"`
		}
		first[f.Look] = t.place(key + ".look")
		for _, name := range sortedKeys(f.On) {
			if name == c.Release {
				list.Add(t.place(key+".on."+name), "feature", "%s is this release itself", name).Hint = "write it as here"
			} else if !slices.Contains(known, name) {
				list.Add(t.place(key+".on."+name), "feature", "there is no release %s", name).Hint = didYouMean(name, known)
			}
		}
	}
	for _, a := range c.Accepted {
		if a.Loss == "" || a.Against == "" || strings.TrimSpace(a.Why) == "" {
			list.Add(a.Pos, "accepted", "an acceptance names the loss, the release before, and the reason").Hint = `write loss = "…", against = "…" and why = "…"`
		}
	}
}

// IsReleaseName reports whether a text can be the name of a release.
func IsReleaseName(s string) bool { return releaseName.MatchString(s) && !reservedName(s) }
