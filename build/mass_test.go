package build

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"
	"testing"
)

// The mass of a machine, counted by hand: what is used up while it is built and
// what is only a tool is not part of it, whether or not it states a mass.
func TestMassLeavesOutConsumables(t *testing.T) {
	config := edit(t, manual(t, "tiny.txtar", nil), "manual.toml", "release =", "repository = \"https://code.example.org/fenbank/stand\"\nrelease =")["manual.toml"]
	const head = "id,name,material,kind,mass (g),by length\n"
	page := "# The frame\n\n## Lay the plate {#lay}\n\n```uses\nplate: 1\nm3x8: 4\nrod: 2 of 5 * bed_y - 50 mm\ngrease: 2\nhook: 3\n```\n\n" +
		"## Screw it down {#screw}\n\n```uses\nm3x8: 8\ngrease: 1\ntool hammer: 1\n```\n\nDone.\n"
	for _, c := range []struct {
		name, grease, hook string
		manifest, listed   string
		rows               map[string]string // total mass (g)
	}{
		// 520 g + 12 screws of 0.9 g + 1.5 m of 400 g/m + 3 hooks of 25 g; the list gives three figures.
		{"all state one", "300", "25", "mass = 1205.8", "1.21 kg", map[string]string{"plate": "520", "m3x8": "10.8", "rod": "600", "grease": "", "hook": "75", "hammer": ""}},
		{"a consumable states none", "", "25", "mass = 1205.8", "1.21 kg", map[string]string{"plate": "520", "m3x8": "10.8", "rod": "600", "grease": "", "hook": "75", "hammer": ""}},
		{"a part states none", "300", "", "", "1.13 kg 1 without a mass", map[string]string{"plate": "520", "m3x8": "10.8", "rod": "600", "grease": "", "hook": "", "hammer": ""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			site := mustBuild(t, manual(t, "tiny.txtar", map[string]string{
				"manual.toml":       config,
				"pages/10-frame.md": page,
				"parts.csv": head + "plate,Plate,steel,made,520,\nm3x8,Screw,steel,standard,0.9,\nrod,Rod,steel,bought,400,yes\ngrease,Grease,,consumable," + c.grease +
					",\nhook,Hook,steel,," + c.hook + ",\nhammer,Hammer,,tool,900,\n",
			}))
			manifest, _, ok := strings.Cut(string(fileOf(site, "2.0/"+ManifestFile)), "\n[[part]]")
			if !ok {
				t.Error("the manifest names no part")
			}
			if got := regexp.MustCompile(`(?m)^mass = .*$`).FindString(manifest); got != c.manifest {
				t.Errorf("the manifest says %q, want %q", got, c.manifest)
			}
			total := ""
			if m := regexp.MustCompile(`(?s)Mass of the parts that state one</dt><dd>(.*?)</dd>`).FindSubmatch(fileOf(site, "2.0/parts.html")); m != nil {
				total = string(regexp.MustCompile(`<[^>]*>`).ReplaceAll(m[1], nil))
			}
			if total = strings.Join(strings.Fields(total), " "); total != c.listed {
				t.Errorf("the list of parts says %q, want %q", total, c.listed)
			}
			rows, err := csv.NewReader(bytes.NewReader(fileOf(site, "2.0/parts.csv"))).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			column := 0
			for i, h := range rows[0] {
				if h == "total mass (g)" {
					column = i
				}
			}
			for _, row := range rows[1:] {
				if want, ok := c.rows[row[0]]; !ok || row[column] != want {
					t.Errorf("%s weighs %q in all, want %q", row[0], row[column], want)
				}
			}
			if len(rows) != len(c.rows)+1 {
				t.Errorf("%d parts", len(rows)-1)
			}
		})
	}
}
