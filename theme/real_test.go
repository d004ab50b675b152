package theme

import (
	"strings"
	"testing"
	"testing/fstest"

	"workings/calc"
	"workings/content"
)

// A manual with one of everything a page can hold, read and computed by the
// packages that publishing uses. Invented data.
var everything = map[string]string{
	"manual.toml": `title = "Trial press"
release = "1.0"
date = 2026-05-01
report = "mailto:press@example.org?subject={release} {page} {step}"
[licence]
design = "CERN-OHL-S-2.0"
`,
	"design.calc": `bed_x  = 220 mm ± 0.2 mm     # bed width
bed_y  = 160 mm              # bed depth
depth  = 0.3 m
bulk   = 0.46 g/cm^3 uncertain 5 %  from "measured" because "the powder of the trial"
bay    = 18 °C to 68 °C      # air in the bay
lamps  = table "tables/lamps.csv"
power  = sum(lamps.power)    # of all lamps
mass   = bed_x * bed_y * depth * bulk in kg   # of a full bin

limit load: mass <= 4.5 kg
  else caution "A full bin weighs {= mass}: <b>lift</b> it with both hands."
`,
	"tables/lamps.csv": "name,power (W)\nA,120\nB,150\n",
	"parts.csv":        "id,name,specification,kind,mass (g),price (EUR)\nscrew,Screw M4,ISO 4762,standard,3,0.10\nrail,Rail,20 mm,bought,900,12\nkey,Hex key,3 mm,tool,,\n",
	"pages/10-start.md": `# Start

> **WARNING** **Hot tubes.** They burn the skin. Wait until they read {= bay with spread }.

Read [the frame](20-frame.md#fit) first.
`,
	"pages/20-frame.md": "# Frame of {= bed_x }\n\n" + `The bin holds {= mass to 2 sf }, known as {= bulk with spread }, over {= bed_x with spread }.

## Fit the rail {#fit}

` + "```uses\nscrew: 4\nrail: 2\ntool key\n```" + `

Fit it.[^1] The lamps take {= power }.

` + "```calc sag \"Sag of the rail\"\n" + `# Under its own weight
E     = 70 GPa
I     = 1.2e4 mm^4
w     = mass * 9.81 m/s^2          # weight
sag   = w * bed_x^3 / (48 * E * I) in um
twice(x) = 2 * x
limit stiff: sag <= 0.5 mm
  else warning "It sags by {= sag}."
crosscheck sag: w * bed_x^3 / (48 * 70 GPa * 12000 mm^4) within 1 %
` + "```\n\n```plot\n" + `title "Mass against depth"
line mass "full"
against depth from 0.1 m to 0.5 m "depth"
mark 4.5 kg "two hands"
` + "```\n\n```measure\n" + `gap "gap at the rail": 0.3 mm ± 0.1 mm with "feeler gauge"
` + "```\n\n```gcode filled\nG1 X{= bed_x in mm } ; across\n```" + `

[^1]: Twice.
`,
}

// computed reads and computes a manual, given as text by path.
func computed(t testing.TB, files map[string]string) (*content.Manual, *calc.Result) {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	m, list := content.Load(fsys, content.Options{})
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	p, list := calc.Compile(m.Input())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	r, list := p.Run()
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return m, r
}

func realInput(t testing.TB) *Input {
	t.Helper()
	m, r := computed(t, everything)
	rel := &Release{Name: "1.0", Dir: "1.0", Date: "2026-05-01", Status: Current, Pages: map[string]string{"start": "Start", "frame": "Frame"}}
	return &Input{Site: &Site{Title: "Trial press", Releases: []*Release{rel}}, Release: rel, Manual: m, Result: r, Checksum: "0123456789ab", Tool: "workings"}
}

// TestReal renders what a person writes, from the text to the sheets.
func TestReal(t *testing.T) {
	in := realInput(t)
	files := sheets(t, in)
	th, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	assets, err := th.Assets(content.Look{})
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range assets {
		files["assets/"+name] = b
	}
	if *write != "" {
		writeFiles(t, *write+"-real", files)
	}
	checkSite(t, files, nil)

	frame := string(files["1.0/frame.html"])
	for _, want := range []string{
		"<h1>Frame of <a class=\"fig\"",     // a figure in a title opens too
		"<title>Frame of 220" + nbsp + "mm", // and is a value where nothing can open
		`href="start.workings.html#w/mass"`, // a derivation, reached without a script
		">CAUTION</p>",                      // a broken limit of the design sheet, on the page that shows its figure
		"&lt;b&gt;lift&lt;/b&gt;",           // its text is text
		"±" + nbsp + "0.2",                  // a tolerance
		"uncertain by",                      // an uncertainty
		`data-low="0.1`, `data-high="0.4`,   // a check judged by its printed limits
		"<svg", "two hands", "The numbers of this plot", // a plot
		`class="held">holds`, // a held limit with its margin
		"agrees",             // a cross-check
		`id="fn:1"`,          // a footnote
		"mailto:press@example.org?subject=1.0%20frame%20fit", // a link for problems with the step
	} {
		if !strings.Contains(frame, want) {
			t.Errorf("frame.html lacks %q", want)
		}
	}
	if start := string(files["1.0/start.html"]); !strings.Contains(start, `href="frame.html#fit"`) || !strings.Contains(start, "18"+nbsp+"°C to 68"+nbsp+"°C") {
		t.Error("start.html lacks its link or its range")
	}
	if limits := string(files["1.0/limits.html"]); strings.Index(limits, ">load<") > strings.Index(limits, ">sag.<wbr>stiff<") {
		t.Error("the broken limit does not come first in the register")
	}
	if parts := string(files["1.0/parts.html"]); !strings.Contains(parts, "1.81"+nbsp+"kg") {
		t.Error("the parts do not weigh 4 × 3 g + 2 × 900 g = 1.812 kg")
	}
}
