package build

import (
	"encoding/xml"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

func gitIn(t *testing.T, dir string) func(args ...string) {
	return func(args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=t", "-c", "user.email=t@example.org", "-c", "init.defaultBranch=main", "-c", "core.autocrlf=false"}, args...)...)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, out)
		}
	}
}

const thisTool = "test"

// replaceIn changes a text in a file on the disk.
func replaceIn(t *testing.T, name, old, new string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), old) {
		t.Fatalf("%s does not hold %q", name, old)
	}
	if err := os.WriteFile(name, []byte(strings.Replace(string(data), old, new, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A repository with three tags, and a zip of each: the same release from its
// tag, from the zip that was sealed, and from a folder gives the same pages.
func TestReleaseFromTagZipFolder(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Fatal("git is needed to test releases from tags")
	}
	repo := t.TempDir()
	dir := filepath.Join(repo, "docs", "m")
	tiny := manual(t, "tiny.txtar", nil)
	for name := range tiny {
		if strings.HasPrefix(name, "releases/") {
			delete(tiny, name)
		}
	}
	tiny["manual.toml"].Data = []byte("title = \"Fenbank test stand\"\nrelease = \"1.0\"\ndate = 2027-03-01\n")
	if err := os.CopyFS(dir, tiny); err != nil {
		t.Fatal(err)
	}
	run := gitIn(t, repo)
	run("init", "-q")
	sheet, config := filepath.Join(dir, "design.calc"), filepath.Join(dir, configName)
	for i, name := range []string{"1.0", "1.1", "2.0-rc1"} {
		if i > 0 {
			replaceIn(t, config, `release = "`, `release = "`+name+`"   # before: "`)
			replaceIn(t, sheet, "depth = 7", "depth = 7"+string(rune('0'+i)))
		}
		run("add", ".")
		run("commit", "-q", "-m", name)
		run("tag", name)
		before := readFile(t, config)
		if _, list, err := Seal(dir, name, SealOptions{Tool: Tool{"workings", thisTool}, Next: "9.9-draft"}); err != nil || list.HasErrors() {
			t.Fatalf("seal %s: %v\n%v", name, err, list)
		}
		// The entry is for this test's own manuals; the tags are made without it.
		if err := os.WriteFile(config, []byte(before), 0o644); err != nil {
			t.Fatal(err)
		}
		run("archive", "--format=zip", "-o", filepath.Join(repo, name+".zip"), name+":docs/m")
		packed, err := os.ReadFile(filepath.Join(repo, name+".zip"))
		if err != nil {
			t.Fatal(err)
		}
		unpacked, err := openZip(packed)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.CopyFS(filepath.Join(dir, "releases", "folder-"+name), without(t, unpacked, "releases")); err != nil {
			t.Fatal(err)
		}
	}
	build := func(source func(name string) string) *Site {
		t.Helper()
		text := "title = \"Fenbank test stand\"\nrelease = \"3.0-draft\"\ndate = 2027-03-01\n"
		for _, name := range []string{"1.0", "1.1", "2.0-rc1"} {
			text += "\n[[releases]]\nname = \"" + name + "\"\n" + source(name) + "\n"
		}
		if err := os.WriteFile(config, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		site, list := Build(openTestDir(t, dir), Options{Tool: Tool{"workings", thisTool}})
		if site == nil {
			t.Fatal(list)
		}
		return site
	}
	// The title block of the working tree names the checksum of its sources,
	// which differ here by what is compared.
	earlier := func(s *Site) *Site {
		out := &Site{}
		for _, p := range s.Paths() {
			if !strings.HasPrefix(p, "3.0-draft/") {
				out.put(p, s.files[p])
			}
		}
		return out
	}
	tag := earlier(build(func(n string) string { return `tag = "` + n + `"` }))
	folder := earlier(build(func(n string) string { return `folder = "releases/folder-` + n + `"` }))
	zip := earlier(build(func(n string) string { return `zip = "releases/` + n + `.zip"` }))
	commit := earlier(build(func(n string) string {
		sum, err := git(repo, "rev-parse", n+"^{commit}")
		if err != nil {
			t.Fatal(err)
		}
		return `commit = "` + strings.TrimSpace(string(sum)) + `"`
	}))
	if len(tag.Paths()) < 60 {
		t.Errorf("only %d files", len(tag.Paths()))
	}
	if d := difference(tag, folder); len(d) > 0 {
		t.Errorf("from tags and from folders these differ: %q", d)
	}
	if d := difference(tag, zip); len(d) > 0 {
		t.Errorf("from tags and from zips these differ: %q", d)
	}
	if d := difference(tag, commit); len(d) > 0 {
		t.Errorf("from tags and from commits these differ: %q", d)
	}
}

func readFile(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// without is a file system without one of its folders.
func without(t *testing.T, fsys fs.FS, folder string) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(name, folder+"/") {
			return err
		}
		data, err := fs.ReadFile(fsys, name)
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sealedTiny is the small manual with release 1.0 as a zip, its figures
// changed on the way.
func sealedTiny(t *testing.T, change func(figures string) string) fstest.MapFS {
	t.Helper()
	m := manual(t, "tiny.txtar", nil)
	files := map[string][]byte{}
	for name, f := range m {
		if rel, ok := strings.CutPrefix(name, "releases/1.0/"); ok {
			files[rel] = f.Data
			delete(m, name)
		}
	}
	data, list, err := seal(files, "1.0", Tool{"workings", "0.0.7"})
	if err != nil || list.HasErrors() {
		t.Fatal(err, list)
	}
	fsys, err := openZip(data)
	if err != nil {
		t.Fatal(err)
	}
	files[figuresName] = []byte(change(readText(t, fsys, figuresName)))
	if data, err = pack(files); err != nil {
		t.Fatal(err)
	}
	m["releases/1.0.zip"] = &fstest.MapFile{Data: data, Mode: 0o644}
	m["manual.toml"].Data = []byte(strings.Replace(string(m["manual.toml"].Data), `folder = "releases/1.0"`, `zip = "releases/1.0.zip"`, 1))
	return m
}

func TestSealedFiguresKeep(t *testing.T) {
	same := sealedTiny(t, func(s string) string { return s })
	if _, list := Build(Source{FS: same}, Options{Tool: Tool{"workings", "test"}}); strings.Contains(list.Error(), "sealed-figure") {
		t.Errorf("a release that computes as it was sealed is reported:\n%v", list)
	}
	for _, c := range []struct{ old, new, want string }{
		// By hand: 220 mm · 160 mm · 70 mm · 0.46 g/cm³ = 1.13344 kg.
		{`"si":1.13344`, `"si":1.2`, `release 1.0 was sealed with mass 1.13344 kg by workings 0.0.7; workings test computes`},
		{`"name":"mass"`, `"name":"weight"`, `release 1.0 was sealed with weight 1.13344 kg by workings 0.0.7; workings test computes no such figure`},
		{`"si_unit":"kg"`, `"si_unit":"m"`, `was sealed with mass 1.13344 kg`},
		{`"uncertainty":`, `"plus":1,"uncertainty":`, `upper tolerance 1 `},
	} {
		m := sealedTiny(t, func(s string) string {
			out := strings.Replace(s, c.old, c.new, 1)
			if out == s {
				t.Fatalf("the figures do not hold %s:\n%s", c.old, s)
			}
			return out
		})
		site, list := Build(Source{FS: m}, Options{Tool: Tool{"workings", "test"}})
		if site == nil {
			t.Fatal(list)
		}
		if !regexp.MustCompile(`releases/1\.0\.zip:figures\.json:\d+:\d+: warning: `).MatchString(list.Error()) || !strings.Contains(list.Error(), c.want) {
			t.Errorf("%s: the report lacks %q:\n%v", c.new, c.want, list)
		}
		page, _ := site.File("1.0/errata.html")
		if !strings.Contains(string(page), "This release was issued with") || !strings.Contains(string(page), "workings 0.0.7") {
			t.Errorf("%s: the reader is not told", c.new)
		}
	}
	// Up to what another processor leaves in the last digits, a number is the same.
	m := sealedTiny(t, func(s string) string { return strings.Replace(s, `"si":1.13344`, `"si":1.1334400001`, 1) })
	if _, list := Build(Source{FS: m}, Options{}); strings.Contains(list.Error(), "sealed-figure") {
		t.Errorf("a difference of 1e-10 is reported:\n%v", list)
	}
	for _, bad := range []string{"{", `{"release":"1.0"}`, `{"tool":{"name":"workings"},"release":"0.9"}`} {
		if site, list := Build(Source{FS: sealedTiny(t, func(string) string { return bad })}, Options{}); site != nil || !strings.Contains(list.Error(), "[sealed-figures]") {
			t.Errorf("%s: %v", bad, list)
		}
	}
}

// Sheets of earlier releases lead to the same sheet of the current one, and
// say what became of it where there is none.
func TestPassages(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	site := mustBuild(t, m)
	want := func(site *Site, p string, texts ...string) {
		t.Helper()
		data, ok := site.File(p)
		if !ok {
			t.Errorf("there is no %s", p)
		}
		for _, s := range texts {
			if !strings.Contains(string(data), s) {
				t.Errorf("%s lacks %q", p, s)
			}
		}
	}
	want(site, "current/frame.html", `url=../2.0/frame.html"`, `<link rel="latest-version" href="../2.0/frame.html">`)
	want(site, "current/index.html", `url=../2.0/index.html"`)
	want(site, "current/figures.html", `url=../2.0/figures.html"`)
	want(site, "current/gone.html", "The current release, 2.0, has no sheet “Gone”", `The nearest sheet of the current release: <a href="../2.0/powder.html">The powder</a>`, `<a href="../1.0/gone.html">1.0</a>`)
	want(site, "1.0/frame.html", `<link rel="latest-version" href="../2.0/frame.html">`, `<link rel="successor-version" href="../2.0/frame.html">`, `<link rel="version-history" href="../index.html">`, "this sheet in 2.0")
	want(site, "2.0/frame.html", `<link rel="predecessor-version" href="../1.0/frame.html">`)
	want(site, "1.0/gone.html", `href="../current/gone.html"`)
	for _, p := range []string{"1.0/gone.html", "2.0/care.html"} {
		data, _ := site.File(p)
		for _, rel := range []string{"latest-version", "successor-version", "predecessor-version"} {
			if strings.Contains(string(data), `rel="`+rel+`"`) {
				t.Errorf("%s names a %s, and has none", p, rel)
			}
		}
	}
	config := string(m["manual.toml"].Data)
	m["manual.toml"].Data = []byte("moved = { gone = \"care\" }\n" + config)
	want(mustBuild(t, m), "current/gone.html", `What it said is now on this sheet: <a href="../2.0/care.html">Care</a>`)
	m["manual.toml"].Data = []byte("moved = { gone = \"none\", never = \"care\" }\n" + config)
	_, list := Build(Source{FS: m}, Options{})
	for _, s := range []string{"and there is no such page", "no release has a page never"} {
		if !strings.Contains(list.Error(), s) {
			t.Errorf("the report lacks %q:\n%v", s, list)
		}
	}
}

// The feed has what RFC 4287 asks for (sections 4.1.1, 4.1.2, 4.2.6, 4.2.15,
// read from memory), and the same ids and dates whenever it is made.
func TestFeed(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	site := mustBuild(t, m)
	data, ok := site.File("feed.xml")
	if !ok {
		t.Fatal("there is no feed")
	}
	type link struct {
		Rel  string `xml:"rel,attr"`
		Href string `xml:"href,attr"`
	}
	var f struct {
		XMLName xml.Name `xml:"http://www.w3.org/2005/Atom feed"`
		ID      []string `xml:"id"`
		Title   []string `xml:"title"`
		Updated []string `xml:"updated"`
		Author  []string `xml:"author>name"`
		Links   []link   `xml:"link"`
		Entries []struct {
			ID      []string `xml:"id"`
			Title   []string `xml:"title"`
			Updated []string `xml:"updated"`
			Links   []link   `xml:"link"`
			Content struct {
				Type string `xml:"type,attr"`
				Text string `xml:",chardata"`
			} `xml:"content"`
		} `xml:"entry"`
	}
	if err := xml.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	uuid := regexp.MustCompile(`^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)
	one := func(what string, s []string) string {
		t.Helper()
		if len(s) != 1 || strings.TrimSpace(s[0]) == "" {
			t.Errorf("%s: %q, want exactly one", what, s)
			return ""
		}
		return s[0]
	}
	ids, newest := map[string]bool{}, ""
	check := func(id, title, updated []string) {
		if s := one("id", id); !uuid.MatchString(s) || ids[s] {
			t.Errorf("the id %s is none, or is there twice", s)
		} else {
			ids[s] = true
		}
		one("title", title)
		if s := one("updated", updated); s != "" {
			if _, err := time.Parse(time.RFC3339, s); err != nil {
				t.Error(err)
			}
		}
	}
	check(f.ID, f.Title, f.Updated)
	one("author", f.Author)
	if len(f.Entries) != 2 || len(f.Links) != 2 || f.Links[0] != (link{"self", "feed.xml"}) {
		t.Errorf("%d entries, links %v", len(f.Entries), f.Links)
	}
	for _, e := range f.Entries {
		check(e.ID, e.Title, e.Updated)
		newest = max(newest, e.Updated[0])
		if len(e.Links) != 1 || e.Links[0].Rel != "alternate" {
			t.Errorf("links %v", e.Links)
		} else if _, ok := site.File(e.Links[0].Href); !ok {
			t.Errorf("the link %s leads nowhere", e.Links[0].Href)
		}
		if e.Content.Type != "html" {
			t.Errorf("content of the type %q", e.Content.Type)
		}
	}
	if f.Updated[0] != newest {
		t.Errorf("updated %s, and an entry %s", f.Updated[0], newest)
	}
	if e := f.Entries[0]; e.Title[0] != "Release 2.0" || e.Updated[0] != "2027-03-01T00:00:00Z" ||
		!strings.Contains(e.Content.Text, "<li>bed_x: 240") || !strings.Contains(e.Content.Text, "was 220") {
		t.Errorf("the first entry is %+v", e)
	}
	// An address makes links whole; nothing without a date is announced.
	m = manual(t, "tiny.txtar", edit(t, m, "manual.toml", "language =", "address = \"https://fenbank.example.org/m/\"\nlanguage ="))
	data, _ = mustBuild(t, m).File("feed.xml")
	if !strings.Contains(string(data), `<link rel="self" href="https://fenbank.example.org/m/feed.xml">`) {
		t.Errorf("the address is not used:\n%s", data)
	}
	m = manual(t, "tiny.txtar", edit(t, m, "manual.toml", "date = 2027-03-01\n", ""))
	m["releases/1.0/manual.toml"].Data = []byte("title = \"Fenbank test stand\"\nrelease = \"1.0\"\n")
	bare := mustBuild(t, m)
	if _, ok := bare.File("feed.xml"); ok {
		t.Error("a feed without a date")
	}
	if page, _ := bare.File("2.0/index.html"); strings.Contains(string(page), "feed.xml") {
		t.Error("a page leads to a feed that is not there")
	}
}

func TestWhich(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	base := string(m["manual.toml"].Data)
	set := func(features string) (*Site, string) {
		m["manual.toml"].Data = []byte(base + features)
		site, list := Build(Source{FS: m}, Options{Tool: Tool{"workings", "test"}})
		return site, list.Error()
	}
	site, report := set("\n[[features]]\nlook = \"the bed plate\"\npage = \"frame\"\nhere = \"four screws\"\non = { \"1.0\" = \"two screws\" }\n")
	if site == nil || strings.Contains(report, "[feature]") {
		t.Fatal(report)
	}
	for _, rel := range []string{"1.0", "2.0"} {
		page, _ := site.File(rel + "/which.html")
		for _, want := range []string{`<a href="frame.html">the bed plate</a>`, "four screws", "two screws", "<b>Fenbank test stand</b>", "<b>Release " + rel + "</b>", "Checksum "} {
			if !strings.Contains(string(page), want) {
				t.Errorf("%s/which.html lacks %q", rel, want)
			}
		}
	}
	page, _ := site.File("2.0/which.html")
	if !strings.Contains(string(page), "CERN-OHL-S-2.0 · CC-BY-SA-4.0") {
		t.Error("the label does not name the licence")
	}
	for features, want := range map[string]string{
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\n":                                            "no feature tells release 2.0 from release 1.0",
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\non = { \"1.0\" = \"b\" }\n":                  "no feature tells release 2.0 from release 1.0",
		"\n[[features]]\nhere = \"b\"\n":                                                          "does not say what to look for",
		"\n[[features]]\nlook = \"a\"\n":                                                          "does not say what this release has there",
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\non = { \"0.9\" = \"c\" }\n":                  "there is no release 0.9",
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\non = { \"2.0\" = \"c\" }\n":                  "2.0 is this release itself",
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\n[[features]]\nlook = \"a\"\nhere = \"c\"\n":  `there are two features "a"`,
		"\n[[features]]\nlook = \"a\"\nhere = \"b\"\npage = \"none\"\non = { \"1.0\" = \"c\" }\n": "there is no page none to show this feature",
	} {
		if _, report := set(features); !strings.Contains(report, want) {
			t.Errorf("%q: the report lacks %q:\n%s", features, want, report)
		}
	}
}

// Where a release is less safe than the one before, the audit stops until
// that is accepted in writing, for these two releases only.
func TestLossesStop(t *testing.T) {
	m := manual(t, "tiny.txtar", nil)
	for _, name := range []string{"design.calc", "releases/1.0/design.calc"} {
		m[name].Data = []byte(strings.Replace(string(m[name].Data), "else caution", "else warning", 1))
	}
	m["design.calc"].Data = []byte(strings.Replace(string(m["design.calc"].Data), "4.5 kg", "5 kg", 1))
	base := string(m["manual.toml"].Data)
	for _, c := range []struct {
		accepted, want string
		built          bool
	}{
		{"", "design.calc:9:1: error: the limit load is less safe than in release 1.0: it leaves more room with mass ≤ 5 kg, not mass ≤ 4.5 kg [safety-loss]", false},
		{"loss = \"limit load, wider\"\nagainst = \"1.0\"\nwhy = \"emptied in halves\"\n", "", true},
		{"loss = \"limit load, wider\"\nagainst = \"0.9\"\nwhy = \"emptied in halves\"\n", "[safety-loss]", false},
		{"loss = \"limit load, wider\"\nagainst = \"0.9\"\nwhy = \"emptied in halves\"\n", "this acceptance is against release 0.9, and the release before is 1.0", false},
		{"loss = \"limit load\"\nagainst = \"1.0\"\nwhy = \"x\"\n", "nothing is lost any more", false},
		{"loss = \"limit load, wider\"\nagainst = \"1.0\"\n", "an acceptance names the loss, the release before, and the reason", false},
	} {
		text := base
		if c.accepted != "" {
			text += "\n[[accepted]]\n" + c.accepted
		}
		m["manual.toml"].Data = []byte(text)
		site, list := Build(Source{FS: m}, Options{Tool: Tool{"workings", "test"}})
		if (site != nil) != c.built || !strings.Contains(list.Error(), c.want) {
			t.Errorf("%q: built %v, the report lacks %q:\n%v", c.accepted, site != nil, c.want, list)
		}
		if c.built {
			page, _ := site.File("2.0/changes.html")
			if !strings.Contains(string(page), "emptied in halves") {
				t.Error("the reason is not published among the changes")
			}
		}
	}
}
