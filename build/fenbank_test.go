package build

import (
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"workings/calc"
	"workings/calc/diag"
)

const fenbank = "../testdata/fenbank"

// fenbankFiles reads the demonstration manual into memory.
func fenbankFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	m := fstest.MapFS{}
	root := os.DirFS(fenbank)
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		m[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The demonstration is a manual to build from, in three releases: these are
// the least counts that make it one.
func TestFenbankWhole(t *testing.T) {
	releases, list := Load(openTestDir(t, fenbank), Options{})
	if list.HasErrors() {
		t.Fatal(list)
	}
	var names []string
	for _, r := range releases {
		names = append(names, r.Name)
	}
	if got := strings.Join(names, " "); got != "2.0-rc1 1.0 0.9" {
		t.Fatalf("the releases are %s", got)
	}
	now := releases[0]
	checks, plots, drawings := 0, 0, 0
	for _, p := range now.Manual.Pages {
		checks += len(p.Checks)
		plots += len(p.Plots)
		drawings += len(p.Drawings)
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"pages", len(now.Manual.Pages), 20},
		{"figures", len(now.Result.Figures()), 150},
		{"limits", len(now.Result.Limits()), 30},
		{"cross-checks", len(now.Result.CrossChecks()), 20},
		{"parts", len(now.Manual.Parts), 60},
		{"checks", checks, 40},
		{"plots", plots, 12},
		{"drawings", drawings, 6},
	} {
		t.Logf("%d %s", c.got, c.what)
		if c.got < c.want {
			t.Errorf("%d %s, fewer than %d", c.got, c.what, c.want)
		}
	}
}

// Figures of the demonstration, worked by hand from the numbers on its sheet
// and from textbook formulas, not from those of the sheet or the models; in SI.
func TestFenbankByHand(t *testing.T) {
	releases, list := Load(openTestDir(t, fenbank), Options{})
	if len(releases) == 0 {
		t.Fatal(list)
	}
	got := map[string]float64{}
	for _, f := range releases[0].Result.Figures() {
		if x, ok := f.Value.(float64); ok {
			got[f.Name] = x
		}
	}
	const g, zero = 9.80665, 273.15
	sq := func(x float64) float64 { return x * x }

	// Chamber 220 by 160, corners 14, travel 130; felt 6, plate 209.8 (mm).
	area := 0.22*0.16 - (4-math.Pi)*sq(0.014)
	around := 2*(0.22+0.16) - (8-2*math.Pi)*0.014
	gapHot := (0.22*(1+16e-6*130) - 0.2098*(1+23e-6*152)) / 2
	felt := 45e3 * (6e-3 - gapHot) / 6e-3 * 0.010 * around * 0.25
	// Platform 1.6 kg, full bed of 0.54 kg/L; screw 2 mm, pitch diameter 9 mm.
	bed := area * 0.13 * 540
	up := (1.6+bed)*(g+0.2) + 1.6*felt + 2
	lead := math.Atan(2 / (math.Pi * 9))
	raise := up * 4.5e-3 * math.Tan(lead+math.Atan(0.14/math.Cos(math.Atan(math.Tan(15*math.Pi/180)*math.Cos(lead))))) // normal flank angle
	// Shaft 16 mm on 620 mm, carriage 1.2 kg on two.
	inertia := math.Pi / 64 * math.Pow(0.016, 4)
	line := 7850 * math.Pi / 4 * sq(0.016) * g
	sag := 0.6*g*math.Pow(0.62, 3)/(48*205e9*inertia) + 5*line*math.Pow(0.62, 4)/(384*205e9*inertia)
	// Screw as a shaft of 7.5 mm, 190 mm, fixed and supported: a load in the
	// middle deflects it by 7 F L^3 / 768 E I.
	root := math.Pi / 64 * math.Pow(7.5e-3, 4)
	side := 768 * 205e9 * root / (7 * math.Pow(0.19, 3))
	// Belt of 1260 mm loop, 600 mm centres, warmed by 42 K, 18 kN, 30 N.
	slack := 2 * (23.1e-6 + 2e-6*1260/1200) * 0.6 * 42
	fixed := 30 + slack/(1.26/18e3)
	// Powder: 1160 layers of 0.1 mm, 1.4 times.
	spill := area * 0.116 * 0.4
	// Loads of the circuit at their power factors: apparent powers added as
	// they are, which is the safe side.
	apparent := 1000 + 250 + 120/0.9 + 90/0.9 + 12/0.6 + 25/0.6
	// Wool 40 mm, 0.045 W/(m*K), chamber's wall at 150, room at 28.
	flux := (150.0 - 28) / (3e-3/15 + 0.040/0.045 + 1.5e-3/200 + 1.0/9)
	// Beam of 12 mm, M^2 1.3, 10.6 um, lens 250 mm, 3 mm off.
	focus := 4 * 1.3 * 10.6e-6 * 0.25 / (math.Pi * 0.012)
	deep := math.Pi * sq(focus) / (4 * 1.3 * 10.6e-6)
	// Platinum, IEC 60751, above zero.
	ohms := 1000 * (1 + 3.9083e-3*172 - 5.775e-7*172*172)

	for _, c := range []struct {
		name string
		want float64
	}{
		{"fill.space.area", area},
		{"fill.space.volume", area * 0.13},
		{"fill.space.perimeter", around},
		{"seal.gap.cold", (0.22 - 0.2098) / 2},
		{"seal.gap.hot", gapHot},
		{"seal.bend.radius", 0.012},
		{"seal.rub.running", felt},
		{"axis.powder", bed},
		{"axis.load.up", up},
		{"axis.load.hold", (1.6 + bed) * g},
		{"axis.load.surplus", 1.6*g - 1.6*felt - 2},
		{"axis.screw.raise", raise},
		{"leak.behind_old", (math.Sqrt2 - 1) * 0.006},
		{"guides.free.maximum", sag},
		{"guides.free.own", 5 * line * math.Pow(0.62, 4) / (384 * 205e9 * inertia)},
		{"guides.gain.stiffness", math.Pow(1.6, 4)},
		{"nut.side.stiffness", side},
		{"nut.rigid.amplitude", 30e-6 * side / (side + 60e3)},
		{"nut.whirl.critical", 15.418 * math.Sqrt(205e9*root/(7850*math.Pi/4*sq(7.5e-3))) / sq(0.19)},
		{"nut.wrong.accuracy", 50e-6}, // over less than 300 mm all of it is permitted
		{"pull.jam.binding", 2 * 0.005 * 0.025 / 0.08},
		{"belt.loop", 1.26},
		{"belt.fixed.hot", fixed},
		{"belt.tune.frequency", math.Sqrt(30/0.022) / 0.5},
		{"loop.pulls.tension", 4 * 0.022 * sq(0.25*74)},
		{"blade.own.first", 22.3733 / (2 * math.Pi * sq(0.186)) * 0.003 * math.Sqrt(205e9/(12*7850))},
		{"overflow.use.overflow", spill},
		{"overflow.use.fed_mass", area * 0.116 * 1.4 * 460},
		{"dust.cloud.concentration", 20e-6 * 460 / 2},
		{"supply.draw.current", apparent / 230},
		{"heaters.inrush.hot", 230 * 230 / 150.0},
		{"heat.pads_ohm", 230 * 230 / 250.0},
		{"balance.wall.flux", flux},
		{"balance.wall.outer_face", 28 + zero + flux/9},
		{"balance.up.time", -3100 / 0.95 * math.Log(1-0.95*130/250)},
		{"focus.beam.focus", focus},
		{"focus.beam.spot", focus * math.Sqrt(1+sq(3e-3/deep))},
		// All of 10 W within a circle of 3.5 mm, against 1000 W/m^2.
		{"focus.density", math.Log10(10 / (math.Pi / 4 * sq(3.5e-3)) / 1000)},
		// The beam starts 253 mm above the bed, 160 mm wide there; at a height
		// of 90 mm its half width, and half of its own 12 mm, narrowed over the
		// 250 mm to the focus and with half as much again for its skirt. The
		// lamps' tubes of 8 mm hang 62 mm from the middle.
		{"clear.inner", 0.062 - 0.004 - 0.08*(253-90)/253 - 1.5*0.012*87/250/2},
		{"proof.gap_then", 0.025 + 0.005},
		// Middle of a plate of 116 mm that was all at 172 and is kept at 20 on
		// its faces, when it comes down to 50.
		{"balance.tall", slab(0.058, 0.12/(540*1500), 30.0/152)},
		{"balance.lid.outer_face", 28 + zero + (165.0-28)/(0.8e-3/200+0.040/0.045+1.5e-3/50+1.0/9)/9},
		{"focus.time.scan", 20e-4/(0.2e-3*1.8) + 250*0.5e-3 + 0.3/0.8},
		{"beam.dose.areal", 0.95 * 10 / (1.8 * 0.2e-3)},
		{"cord.wire.per_length_cold", 13.3e-3}, // IEC 60228, class 5, from memory
		{"low.unit.heat", 112/0.88 - 112},
		{"doubt.reads.resistance", ohms},
		{"doubt.class.tolerance", 0.15 + 0.002*172},
		{"stock.mix.mean_age", 0.55 / 0.45},
		{"charge.spark", 150e-12 * 1e8 / 2},
		{"proof.pads_only", 250.0 / 230},
		{"first.cold", 0.05 * 0.97},
		{"first.powder", 280 * area * 1e-4 * 1.4 * 460},
		{"feet.tips_at", 65 * g * 0.45 / (2 * 0.57)}, // empty, as it tips soonest
		{"feet.full", 65 + 4.129 + bed},
		{"breath.steady", 40e-6 / 270}, // milligrams to kilograms, both by the hour
		{"wear.passes", 220 * 8 * 0.6 * 3600 / 45},
	} {
		x, ok := got[c.name]
		if !ok || math.Abs(x-c.want) > 1e-3*math.Abs(c.want) {
			t.Errorf("%s is %v, by hand %v", c.name, x, c.want)
		}
	}
}

// slab is the time after which the middle of a plate, warm all through at
// first, keeps a share of its warmth over faces that stay cold, by the whole
// series of Fourier (a plate of half thickness l, by bisection).
func slab(l, diffusivity, share float64) float64 {
	left := func(t float64) float64 {
		sum, sign := 0.0, 1.0
		for n := 1; n < 200; n += 2 {
			sum += sign * 4 / (math.Pi * float64(n)) * math.Exp(-math.Pow(float64(n)*math.Pi/(2*l), 2)*diffusivity*t)
			sign = -sign
		}
		return sum
	}
	lo, hi := 1.0, 1e6
	for range 100 {
		if mid := (lo + hi) / 2; left(mid) > share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// The demonstration gives the same bytes from disk and from memory, and can
// be built at all.
func TestFenbankSameBytes(t *testing.T) {
	src := openTestDir(t, fenbank)
	first, list := Build(src, Options{Tool: Tool{"workings", "test"}})
	if first == nil {
		t.Fatalf("%v", list)
	}
	if d := difference(first, mustBuild(t, fenbankFiles(t))); len(d) > 0 {
		t.Errorf("these differ: %q", d)
	}
}

// Each sheet of the demonstration depends on a parameter only as its figures
// do: with the parameter changed, no sheet without a figure that comes from
// it changes, but for the checksum in its title block; and some sheet does.
func TestFenbankDependentPages(t *testing.T) { dependentPages(t, fenbankFiles(t)) }

func TestTinyDependentPages(t *testing.T) { dependentPages(t, manual(t, "tiny.txtar", nil)) }

func dependentPages(t *testing.T, m fstest.MapFS) {
	opt := Options{Tool: Tool{"workings", "test"}, Cache: &Cache{}}
	// build gives the working tree and the site; nil if the list has errors.
	build := func(fsys fs.FS) (*Release, *Site, diag.List) {
		releases, list := Load(Source{FS: fsys}, opt)
		if list.HasErrors() {
			return nil, nil, list
		}
		site, errs := render(releases, nil, opt)
		return releases[0], site, append(list, errs...)
	}
	before, site, list := build(m)
	if site == nil {
		t.Fatal(list)
	}
	tried, moved := 0, 0
	for _, p := range before.Result.Figures() {
		if _, number := p.Value.(float64); !number || !p.Parameter || tried == 6 {
			continue
		}
		// A change so small that it breaks no limit.
		text := string(m["design.calc"].Data)
		lit := p.Def.X.Span()
		number := strings.Fields(lit.Text())[0]
		if !strings.Contains(number, ".") {
			number += ".01"
		} else {
			number += "1"
		}
		changed := text[:lit.Start] + number + strings.TrimPrefix(lit.Text(), strings.Fields(lit.Text())[0]) + text[lit.End:]
		n := fstest.MapFS{}
		for k, v := range m {
			n[k] = v
		}
		n["design.calc"] = &fstest.MapFile{Data: []byte(changed)}
		after, now, _ := build(n)
		if now == nil {
			continue // the change breaks a limit: another parameter will do
		}
		tried++
		depends := dependents(before.Result, p)
		some := false
		for _, page := range before.Manual.Pages {
			path := before.Name + "/" + page.ID + ".html"
			a, _ := site.File(path)
			b, _ := now.File(path)
			differs := strings.ReplaceAll(string(a), before.Checksum[:shortSum], "") != strings.ReplaceAll(string(b), after.Checksum[:shortSum], "")
			touched := touches(before, page.Exprs, page.Blocks, depends)
			some = some || differs
			if differs && !touched {
				t.Errorf("%s changed from %s to %s, and %s changes although nothing on it comes from %s", p.Name, lit.Text(), number, path, p.Name)
			}
		}
		if some {
			moved++
		}
		for _, path := range difference(site, now) {
			if path != "index.html" && path != "feed.xml" && !strings.HasPrefix(path, before.Name+"/") {
				t.Errorf("%s changed in the working tree, and %s changes", p.Name, path)
			}
		}
	}
	if tried == 0 || moved == 0 {
		t.Errorf("%d parameters could be tried, %d changed a page", tried, moved)
	}
}

// dependents gives a figure, all that comes from it, and what is checked by
// a second way that comes from it.
func dependents(r *calc.Result, f *calc.Figure) map[*calc.Figure]bool {
	all := map[*calc.Figure]bool{}
	var add func(f *calc.Figure)
	add = func(f *calc.Figure) {
		if all[f] {
			return
		}
		all[f] = true
		for _, u := range f.UsedBy {
			add(u)
		}
		for _, field := range r.Figures() {
			if field.Parent == f {
				add(field)
			}
		}
	}
	add(f)
	// A figure's derivation also says how the limits that name it stand.
	judged := map[*calc.Figure]bool{}
	for _, l := range r.Limits() {
		moved := false
		for _, u := range l.Uses {
			moved = moved || all[u]
		}
		for _, u := range l.Uses {
			judged[u] = judged[u] || moved
		}
	}
	for u, moved := range judged {
		if moved {
			all[u] = true
		}
	}
	for _, c := range r.CrossChecks() {
		if c.Second == nil {
			continue
		}
		for _, u := range c.Second.Uses {
			if all[u] {
				all[c.Figure] = true
			}
		}
	}
	return all
}

// touches reports whether a page shows a figure of the set, or one from whose
// line such a figure is an input.
func touches(r *Release, exprs []int, blocks []string, set map[*calc.Figure]bool) bool {
	for _, i := range exprs {
		s := r.Result.Shown(i)
		if s == nil {
			continue
		}
		if set[s.Figure] {
			return true
		}
		for _, u := range s.Uses {
			if set[u] {
				return true
			}
		}
	}
	for _, f := range r.Result.Figures() {
		if set[f] && f.Block != "" {
			for _, b := range blocks {
				if b == f.Block {
					return true
				}
			}
		}
	}
	return false
}
