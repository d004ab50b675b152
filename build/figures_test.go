package build

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"workings/calc"
	"workings/calc/unit"
)

func mustUnit(t *testing.T, s string) unit.Unit {
	t.Helper()
	u, err := unit.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func TestFiguresJSON(t *testing.T) {
	mm, celsius := mustUnit(t, "mm"), mustUnit(t, "°C")
	figures := []*calc.Figure{
		{Name: "bed_x", Value: mm.ToSI(220), Unit: mm, Caption: `width <"inside">`, Parameter: true,
			Spread: &calc.Spread{TolLo: 0.0002, TolHi: 0.0002, Least: 0.2198, Greatest: 0.2202, Searched: true}},
		{Name: "belt", Value: &calc.RecordValue{}},
		{Name: "belt.hot", Value: 61.800000000000004, Unit: mustUnit(t, "N"), Spread: &calc.Spread{U: 1.5, K: 2, Ranged: true, Low: 58, High: 62}},
		{Name: "broken", Value: nil},
		{Name: "infinite", Value: math.Inf(1), Unit: mm},
		{Name: "colour", Value: "black"},
		{Name: "lamps.x", Value: []float64{0.1, 0.2}, Unit: mm},
		{Name: "safe", Value: true},
		{Name: "t", Value: celsius.ToSI(68), Unit: celsius},
	}
	got, err := figuresJSON(Tool{"workings", "1"}, "Fenbank", "1.0", figures, []*calc.Limit{worstLimit(t), {Name: "fit", Verdict: calc.Proved}})
	if err != nil {
		t.Fatal(err)
	}
	want := `{
 "tool": {"name":"workings","version":"1"},
 "manual": "Fenbank",
 "release": "1.0",
 "figures": [
  {"name":"bed_x","value":220,"unit":"mm","si":0.22,"si_unit":"m","caption":"width <\"inside\">","parameter":true,"plus":0.0002,"minus":0.0002,"least":0.2198,"greatest":0.2202,"searched":true},
  {"name":"belt.hot","value":61.8,"unit":"N","si":61.800000000000004,"si_unit":"kg*m*s^-2","parameter":false,"uncertainty":1.5,"coverage":2,"low":58,"high":62},
  {"name":"colour","value":"black","unit":"","si_unit":"","parameter":false},
  {"name":"lamps.x","value":[100,200],"unit":"mm","si":[0.1,0.2],"si_unit":"m","parameter":false},
  {"name":"safe","value":true,"unit":"","si_unit":"","parameter":false},
  {"name":"t","value":68,"unit":"°C","si":341.15,"si_unit":"K","parameter":false}
 ],
 "limits": [
  {"name":"heat","verdict":"broken","signal":"danger","operator":"<","worst_left":{"value":77.44,"unit":"W","si":77.44},"worst_right":{"value":77,"unit":"W","si":77},"margin":-0.44,"at":[{"name":"u","value":26.4,"unit":"V","si":26.4},{"name":"r","value":9,"unit":"Ω","si":9}]},
  {"name":"fit","verdict":"proved"}
 ]
}
`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	var back struct {
		Figures []struct{ SI any }
	}
	if err := json.Unmarshal(got, &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Figures) != 6 || strings.Contains(string(got), "Inf") {
		t.Errorf("read back %d figures", len(back.Figures))
	}
}

// The number in a unit gives the SI value again to fifteen digits, and reads
// as it was written.
func TestInUnit(t *testing.T) {
	for _, s := range []string{"mm", "cm^2", "°C", "g/cm^3", "kJ/(kg*K)", "deg"} {
		u := mustUnit(t, s)
		for i := range 2000 {
			x := float64(i) / 8
			if got := inUnit(u.ToSI(x), u); math.Abs(got-x) > 1e-12 {
				t.Fatalf("%v %s reads %v", x, s, got)
			}
			y := float64(i) / 7
			si := u.ToSI(y)
			if got := u.ToSI(inUnit(si, u)); math.Abs(got-si) > 6e-15*math.Max(math.Abs(si), u.Offset) {
				t.Fatalf("%v %s: %v is not %v again", y, s, got, si)
			}
		}
	}
	mm, cm2 := mustUnit(t, "mm"), mustUnit(t, "cm^2")
	for _, x := range []float64{220, 0.2, 1384, 61.8, 0.07} {
		if got := inUnit(mm.ToSI(x), mm); got != x {
			t.Errorf("%v mm reads %v", x, got)
		}
	}
	if got := inUnit(0.24*0.16, cm2); got != 384 {
		t.Errorf("384 cm^2 reads %v", got)
	}
}
