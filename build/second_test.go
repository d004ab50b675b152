package build

import (
	"encoding/json"
	"math"
	"testing"
)

const aldmoor = "../testdata/aldmoor"

// The second manual, of a machine of another kind, is published whole, and its
// audit finds nothing.
func TestSecondManual(t *testing.T) {
	releases, list := Load(openTestDir(t, aldmoor), Options{})
	if len(list) > 0 {
		t.Fatalf("the audit finds %v", list)
	}
	if len(releases) != 2 || releases[0].Name != "1.1" || releases[1].Name != "1.0" {
		t.Fatalf("%d releases", len(releases))
	}
	now := releases[0]
	counts := map[string][2]int{ // what there is, and the least that makes a manual worth the name
		"figures":      {len(now.Result.Figures()), 120},
		"limits":       {len(now.Result.Limits()), 18},
		"cross-checks": {len(now.Result.CrossChecks()), 6},
		"pages":        {len(now.Manual.Pages), 8},
		"parts":        {len(now.Manual.Parts), 40},
	}
	for what, n := range counts {
		if n[0] < n[1] {
			t.Errorf("%d %s, fewer than %d", n[0], what, n[1])
		}
	}
	site, list := Build(openTestDir(t, aldmoor), Options{})
	if site == nil || len(list) > 0 {
		t.Fatalf("%v", list)
	}
	for _, path := range []string{"index.html", "1.1/start.html", "1.1/changes.html", "1.1/figures.json", "1.0/figures.json"} {
		if _, ok := site.File(path); !ok {
			t.Errorf("no %s", path)
		}
	}
}

// Figures of the second manual, worked by hand from the numbers on its sheet
// and not from its formulas: lengths in metres, the rest in SI.
func TestSecondManualByHand(t *testing.T) {
	site, list := Build(openTestDir(t, aldmoor), Options{})
	if site == nil {
		t.Fatal(list)
	}
	data, _ := site.File("1.1/figures.json")
	var doc struct {
		Figures []struct {
			Name string
			SI   json.RawMessage
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	got := map[string]float64{}
	for _, f := range doc.Figures {
		var x float64
		if json.Unmarshal(f.SI, &x) == nil {
			got[f.Name] = x
		}
	}
	// Inside 0.22 by 0.22 by 0.24, outside 0.522 by 0.522 by 0.542.
	inner := 4*0.22*0.24 + 2*0.22*0.22
	outer := 4*0.522*0.542 + 2*0.522*0.522
	mean := math.Sqrt(inner * outer)
	flow := 1040 / (0.076/0.20/mean + 0.075/0.10/mean + 1/(12*outer))
	brick := 550 * (0.372*0.372*0.392 - 0.22*0.22*0.24)
	fibre := 128 * (0.522*0.522*0.542 - 0.372*0.372*0.392)
	joint := 1060 - flow*0.38/mean
	stored := 1050*brick*(1040+joint-20)/2/1040 + 1050*fibre*(joint-20)/2/1040 + 6.4*1000
	loss := 1.15 * flow
	section := math.Pi / 4 * 1.6e-3 * 1.6e-3
	wire := 230.0 * 230 / 2200 / 1.04 * section / 1.45e-6
	for name, want := range map[string]float64{
		"walls.sides.flow":       flow,
		"walls.sides.outer_face": 293.15 + flow/(12*outer),
		"walls.joint":            273.15 + joint,
		"walls.brick_m":          brick,
		"walls.blanket_m":        fibre,
		"heat.stored":            stored,
		"heat.up.hold_power":     loss,
		"heat.up.time":           -stored / (loss / 1040) * math.Log(1-loss/2200),
		"coil.wire":              wire,
		"coil.load":              2200 / (math.Pi * 1.6e-3 * wire),
		"lid.mass":               0.522 * 0.522 * (0.076*550 + 0.075*128),
		"fumes.monoxide":         0.0028,              // 4 kg, 0.3 %, a tenth of it, 28/12
		"fumes.need":             40.58 / 3600,        // 2.8 g in 3 h, thinned to 23 mg/m^3
		"supply.draw.current":    2200.0 / 230,        //
		"sensor.volt.voltage":    0.043595 - 0.000798, // IEC 60584-1 at 1060 °C and 20 °C, from memory
	} {
		if x, ok := got[name]; !ok || math.Abs(x-want) > 2e-4*math.Abs(want) {
			t.Errorf("%s is %v, by hand %v", name, x, want)
		}
	}
}
