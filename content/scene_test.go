package content

import (
	"math"
	"os"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"workings/calc"
	"workings/calc/diag"
)

// scenes computes the only page's drawings.
func scenes(t *testing.T, m *Manual) (out []*Scene, list diag.List) {
	t.Helper()
	prog, errs := calc.Compile(m.Input())
	list = append(list, errs...)
	res, errs := prog.Run()
	list = append(list, errs...)
	for _, p := range m.Pages {
		for _, d := range p.Drawings {
			s, errs := d.Scene(res.Shown)
			list = append(list, errs...)
			out = append(out, s)
		}
	}
	return out, list
}

// TestBrokenScenes compares the report on drawings whose numbers are nonsense.
func TestBrokenScenes(t *testing.T) {
	const name = "../testdata/broken/scene.txtar"
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	last := &a.Files[len(a.Files)-1]
	want := ""
	source := &txtar.Archive{Files: a.Files}
	if last.Name == "want" {
		want = string(last.Data)
		source.Files = a.Files[:len(a.Files)-1]
	}
	fsys, err := txtar.FS(source)
	if err != nil {
		t.Fatal(err)
	}
	m, list := Load(fsys, Options{})
	if list.HasErrors() {
		t.Fatal(list.Error())
	}
	_, list = scenes(t, m)
	got := list.Sorted().Error()
	if *update {
		source.Files = append(source.Files, txtar.File{Name: "want", Data: []byte(got)})
		if err := os.WriteFile(name, txtar.Format(source), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func drawn(t *testing.T, sheet, lines string) []*Shape {
	t.Helper()
	fsys := fstest.MapFS{
		"manual.toml":       {Data: []byte("title = \"Bench\"\nrelease = \"1.0\"\n")},
		"design.calc":       {Data: []byte(sheet)},
		"pages/10-start.md": {Data: []byte("# Start\n\n```drawing\n" + lines + "\n```\n")},
	}
	m, list := Load(fsys, Options{})
	if list.HasErrors() {
		t.Fatal(list.Error())
	}
	s, list := scenes(t, m)
	if list.HasErrors() {
		t.Fatal(list.Error())
	}
	return s[0].Shapes
}

// Open belt over two pulleys, exact: L = 2C·cos φ + π(D+d)/2 + φ(D−d) with
// sin φ = (D−d)/2C (machine elements, any handbook; from memory). With equal
// pulleys of z teeth of pitch p it is 2C + z·p.
func TestBeltLength(t *testing.T) {
	s := drawn(t, "", "belt round (0 mm, 0 mm, 30 mm), (200 mm, 150 mm, 10 mm)")[0]
	c, big, small := 0.25, 0.06, 0.02
	phi := math.Asin((big - small) / (2 * c))
	if want := 2*c*math.Cos(phi) + math.Pi*(big+small)/2 + phi*(big-small); math.Abs(s.Length-want) > 1e-12 {
		t.Errorf("belt of %g m, want %g m", s.Length, want)
	}
	for _, order := range []string{"(0 mm, 0 mm, r), (300 mm, 0 mm, r), (300 mm, 400 mm, r)", "(0 mm, 0 mm, r), (300 mm, 400 mm, r), (300 mm, 0 mm, r)"} {
		// Equal pulleys: the triangle of the centres (3-4-5) and one turn.
		s := drawn(t, "r = 20 mm", "belt round "+order)[0]
		if want := 1.2 + 2*math.Pi*0.02; math.Abs(s.Length-want) > 1e-12 {
			t.Errorf("belt round three pulleys of %g m, want %g m", s.Length, want)
		}
	}
	drawn(t, "z = 20\np = 3 mm\nr = z * p / (2 * pi)\nc = 600 mm", "belt round (0 mm, 0 mm, r), (c, 0 mm, r) : 2 * c + z * p")
}

func TestRepeats(t *testing.T) {
	grid := drawn(t, "d = 6 mm", "circle at (1 mm, 2 mm) diameter d repeat 3 every (10 mm, 0 mm) repeat 2 every (0 mm, 20 mm) : d")
	if len(grid) != 6 || grid[0].Count != 6 || !grid[0].First || grid[1].First {
		t.Fatalf("a grid of %d shapes, want 6", len(grid))
	}
	if at := grid[5].At; math.Abs(at.X-0.021) > 1e-12 || math.Abs(at.Y-0.022) > 1e-12 {
		t.Errorf("the last hole is at %v", at)
	}
	// Six holes on a circle lie on the corners of a hexagon: neighbours are as
	// far apart as each from the middle (Euclid, Elements IV.15).
	round := drawn(t, "", "circle at (50 mm, 10 mm) diameter 5 mm repeat 6 around (10 mm, 10 mm)")
	for i, s := range round {
		if d := s.At.Sub(round[(i+1)%6].At).Len(); math.Abs(d-0.04) > 1e-12 {
			t.Errorf("hole %d is %g m from the next, want 0.04 m", i, d)
		}
	}
	list := drawn(t, "x = [1 mm, 2 mm, 3 mm]\na = [0°, 90°, 45°]", "rectangle at (x, 5 mm) size (4 mm, 1 mm) angle a")
	if len(list) != 3 || list[2].At.X != 0.003 {
		t.Errorf("a list draws %d shapes", len(list))
	}
	if p := list[1].Start; math.Abs(p.X-0.0025) > 1e-12 || math.Abs(p.Y-0.003) > 1e-12 { // lower left corner, turned by 90°
		t.Errorf("the turned rectangle begins at %v", p)
	}
}

// The outline of a rounded rectangle encloses w·h − (4−π)·r² and is
// 2(w+h) − (8−2π)·r long.
func TestRoundedRectangle(t *testing.T) {
	s := drawn(t, "", "rectangle at (5 mm, 7 mm) size (80 mm, 50 mm) corner 10 mm")[0]
	pts := s.Points()
	area, long := 0.0, 0.0
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		area += (a.X*b.Y - b.X*a.Y) / 2
		long += b.Sub(a).Len()
	}
	// The arcs are rows of chords, 72 in a turn, which enclose 36·sin 5°/π of a
	// circle; they are 72·sin 2.5°/π of its length.
	if want := 0.08*0.05 - (4-36*math.Sin(math.Pi/36))*1e-4; math.Abs(area-want) > 1e-15 {
		t.Errorf("it encloses %g m², want %g m²", area, want)
	}
	if want := 2*0.13 - (8-144*math.Sin(math.Pi/72))*0.01; math.Abs(long-want) > 1e-15 {
		t.Errorf("it is %g m long, want %g m", long, want)
	}
}
