package model

import (
	"fmt"
	"math"
	"testing"

	"workings/calc/num"
)

// draw gives the same numbers between 0 and 1 in each run.
type draw uint64

func (d *draw) next() float64 {
	*d ^= *d << 13
	*d ^= *d >> 7
	*d ^= *d << 17
	return float64(uint64(*d)>>11) / (1 << 53)
}

func (d *draw) between(lo, hi float64) float64 { return lo + (hi-lo)*d.next() }

func integrate(t *testing.T, f func(float64) float64, a, b, tol float64) float64 {
	t.Helper()
	v, err := num.Integrate(t.Name(), f, a, b, tol)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// byQuadrature adds up the lamp piece by piece, from the intensity of each.
func byQuadrature(t *testing.T, l Lamp, law LampLaw, px, py, pz float64) float64 {
	ux, uy, uz := l.axis()
	lo, hi := -l.Length/2, l.Length/2
	if uz != 0 { // cut at the horizon so that the integrand has no kink
		cut := (pz - l.Z) / uz
		if uz > 0 {
			lo = min(max(lo, cut), hi)
		} else {
			hi = max(min(hi, cut), lo)
		}
	}
	return integrate(t, func(s float64) float64 {
		x, y, z := l.X+s*ux-px, l.Y+s*uy-py, l.Z+s*uz-pz
		rho := math.Sqrt(x*x + y*y + z*z)
		cosTheta := max(z/rho, 0)
		cx, cy, cz := y*uz-z*uy, z*ux-x*uz, x*uy-y*ux // rho sin psi
		intensity := l.Flux / (math.Pi * math.Pi * l.Length) * math.Sqrt(cx*cx+cy*cy+cz*cz) / rho
		if law == Isotropic {
			intensity = l.Flux / (4 * math.Pi * l.Length)
		}
		return intensity * cosTheta / (rho * rho)
	}, lo, hi, 1e-11)
}

func TestLampAgainstQuadrature(t *testing.T) {
	d := draw(7)
	for i := range 120 {
		l := Lamp{X: d.between(-.2, .2), Y: d.between(-.2, .2), Z: d.between(.05, .3), Length: d.between(.01, .6), Angle: d.between(-3, 3), Tilt: d.between(-1.5, 1.5), Flux: d.between(1, 500)}
		if i%3 == 0 {
			l.Tilt = 0
		}
		law := LampLaw(i % 2)
		px, py, pz := d.between(-.3, .3), d.between(-.3, .3), d.between(-.1, .2)
		want := byQuadrature(t, l, law, px, py, pz)
		check(t, "lamp_irradiance", fmt.Sprintf("random %d", i), "adaptive quadrature of the intensity along the lamp (independent recomputation)",
			LampIrradiance(l, law, px, py, pz), want, 1e-9)
	}
}

// The lamp as a surface: exitance M on a cylinder of radius r, all of which that
// the point sees is added up. Shows what the thin lamp neglects.
func TestLampAgainstSurface(t *testing.T) {
	const L, h = 0.3, 0.1
	const table = "error of a thin lamp against the integral over its surface (independent computation, reference table)"
	for _, c := range []struct {
		r, x, y, off float64 // error of the thin lamp, as tabulated
		source       string
	}{
		{.003, 0, 0, -.005, table}, {.003, .15, .1, -.002, table},
		{.005, 0, 0, -.008, table}, {.005, .15, .1, -.003, table},
		{.010, 0, 0, -.015, table}, {.010, .15, .1, -.005, table},
	} {
		exact := integrate(t, func(a float64) float64 {
			return integrate(t, func(s float64) float64 {
				ny, nz := math.Sin(a), math.Cos(a)
				x, y, z := s-c.x, c.r*ny-c.y, h+c.r*nz
				rho2 := x*x + y*y + z*z
				out := -(y*ny + z*nz) // towards the point
				if out <= 0 || z <= 0 {
					return 0
				}
				return z * out / (rho2 * rho2) / math.Pi * c.r
			}, -L/2, L/2, 1e-7)
		}, 0, 2*math.Pi, 1e-6)
		flux := 2 * math.Pi * c.r * L // M = 1
		thin := LampIrradiance(Lamp{Z: h, Length: L, Flux: flux}, Diffuse, c.x, c.y, 0)
		checkAbs(t, "lamp_irradiance", fmt.Sprintf("surface r %g mm at %g, %g mm", c.r*1e3, c.x*1e3, c.y*1e3), c.source, thin/exact-1, c.off, 6e-4)
	}
}

var oneLamp = map[string]any{
	"x": 0.0, "y": 0.0, "height": 0.1, "length": 0.3, "angle": 0.0, "power": 500.0,
	"radiant_efficiency": 1.0, "law": "diffuse", "at_x": 0.0, "at_y": 0.0,
}

func TestLampPublished(t *testing.T) {
	o := called(t, "lamp_irradiance", oneLamp)
	check(t, "lamp_irradiance", "RA1", "Keitz, Light Calculations and Measurements, 1971; relation seen in IOA World Congress 2007 proceedings p. 1396, number computed from it",
		value(t, o, "irradiance"), 2439.02, 1e-5)

	const r, h = 0.005, 0.1
	long := Lamp{Z: h, Length: 1e4, Flux: 2 * math.Pi * r * 1e4}
	check(t, "lamp_irradiance", "RA2", "Siegel & Howell, Thermal Radiation Heat Transfer: element facing an infinite cylinder, E/M = r/d (from memory)",
		LampIrradiance(long, Diffuse, 0, 0, 0), 0.05, 1e-6)

	// A very long lamp over a strip: the share of its power that falls on it.
	for _, w := range []float64{0.05, 0.2, 1} {
		got := integrate(t, func(y float64) float64 { return LampIrradiance(Lamp{Z: h, Length: 1e4, Flux: 1e4}, Diffuse, 0, y, 0) }, -w/2, w/2, 1e-10)
		check(t, "lamp_irradiance", fmt.Sprintf("strip %g m", w), "Howell, Catalog of Radiation Configuration Factors: infinite cylinder to parallel strip, atan(w/2h)/pi (from memory)",
			got, math.Atan(w/(2*h))/math.Pi, 1e-6)
	}
	// A very short isotropic lamp over a disk is a small sphere over a disk.
	got := integrate(t, func(q float64) float64 {
		return 2 * math.Pi * q * LampIrradiance(Lamp{Z: 0.5, Length: 1e-6, Flux: 1}, Isotropic, q, 0, 0)
	}, 0, 1, 1e-10)
	check(t, "lamp_irradiance", "RA13", "Rohsenow, Handbook of Heat Transfer, 3rd ed., 7.84: sphere to disk (value seen second-hand)", got, 0.2764, 2e-4)
}

// Both laws send half of the power of a level lamp down: all of it arrives.
func TestLampConservesPower(t *testing.T) {
	for _, law := range []LampLaw{Diffuse, Isotropic} {
		for _, tilt := range []float64{0, 0.4} {
			l := Lamp{X: 0.02, Y: -0.01, Z: 0.2, Length: 0.3, Angle: 0.5, Tilt: tilt, Flux: 100}
			b := LampBank{Lamps: []Lamp{l}, Law: law}
			tan := func(f func(float64) float64) float64 { // over the whole line
				return integrate(t, func(a float64) float64 {
					c := math.Cos(a)
					return f(0.2*math.Tan(a)) * 0.2 / (c * c)
				}, -math.Pi/2, math.Pi/2, 1e-6)
			}
			all := tan(func(x float64) float64 {
				return tan(func(y float64) float64 { return b.Irradiance(x, y, 0) })
			})
			check(t, "lamp_field", fmt.Sprintf("half power law %d tilt %g", law, tilt), "conservation of energy: half of the power of a line goes below the horizon (exact by symmetry)", all, 50, 1e-5)
			// a perfect mirror sends the other half down as well
			b.Mirror, b.MirrorZ, b.Reflectance = true, 0.3, 1
			all = tan(func(x float64) float64 {
				return tan(func(y float64) float64 { return b.Irradiance(x, y, 0) })
			})
			check(t, "lamp_field", fmt.Sprintf("mirror law %d tilt %g", law, tilt), "conservation of energy: a perfect mirror sends all power to the plane of the bed", all, 100, 1e-5)
		}
	}
}

// square is the bank of RA5.
func square(z float64) map[string]any {
	return map[string]any{
		"x": []float64{-.11, .11, 0, 0}, "y": []float64{0, 0, -.11, .11}, "height": z, "length": 0.24, "angle": []float64{math.Pi / 2, math.Pi / 2, 0, 0},
		"power": 200.0, "radiant_efficiency": 1.0, "law": "diffuse", "bed_x": 0.15, "bed_y": 0.15, "nodes": 21.0,
	}
}

func TestLampFieldRegression(t *testing.T) {
	const source = "independent script over 21 x 21 nodes (computed, reference table)"
	for _, c := range []struct{ z, centre, corner, u0, n, cv float64 }{
		{0.10, 1784.76, 2012.74, 0.93300, 0.060482, 0.033170},
		{0.12, 1701.96, 1711.35, 0.98130, 0.014469, 0.007164},
		{0.15, 1505.87, 1381.79, 0.93824, 0.042972, 0.018427},
	} {
		o := called(t, "lamp_field", square(c.z))
		id := fmt.Sprintf("RA5 z %g ", c.z)
		check(t, "lamp_field", id+"centre", source, value(t, o, "centre"), c.centre, 1e-5)
		check(t, "lamp_field", id+"corner", source, value(t, o, "corner"), c.corner, 1e-5)
		check(t, "lamp_field", id+"nonuniformity", source, value(t, o, "nonuniformity"), c.n, 5e-5)
		// the script weighs every node alike
		m := o.Get("field").(*Map)
		mean, _ := num.Mean(m.Z, nil)
		cv, _ := num.Spread(m.Z, nil)
		check(t, "lamp_field", id+"uniformity of nodes", source, value(t, o, "min")/mean, c.u0, 1e-5)
		check(t, "lamp_field", id+"cv of nodes", source, cv/mean, c.cv, 1e-4)
		if c.z == 0.12 {
			checkAbs(t, "lamp_field", id+"capture", source, value(t, o, "capture"), 0.049, 0.0006)
		}
	}
}

// Mean and spread of the field against quadrature over the bed.
func TestLampFieldMeans(t *testing.T) {
	o := called(t, "lamp_field", with(square(0.1), "nodes", 41.0))
	bank, err := bankOf(NewIn(Find("lamp_field"), square(0.1)), true)
	if err != nil {
		t.Fatal(err)
	}
	over := func(f func(e float64) float64) float64 {
		return integrate(t, func(x float64) float64 {
			return integrate(t, func(y float64) float64 { return f(bank.Irradiance(x, y, 0)) }, -.075, .075, 1e-10)
		}, -.075, .075, 1e-9) / (.15 * .15)
	}
	const source = "adaptive quadrature over the bed (independent recomputation)"
	mean := over(func(e float64) float64 { return e })
	check(t, "lamp_field", "mean", source, value(t, o, "mean"), mean, 1e-6)
	check(t, "lamp_field", "on_bed", source, value(t, o, "on_bed"), mean*.15*.15, 1e-6)
	check(t, "lamp_field", "cv", source, value(t, o, "cv"), math.Sqrt(over(func(e float64) float64 { return (e - mean) * (e - mean) }))/mean, 1e-5)
	for _, j := range []int{0, 7, 40} {
		for _, i := range []int{0, 3, 10} {
			m := o.Get("field").(*Map)
			want := 0.0
			for _, l := range bank.Lamps {
				want += byQuadrature(t, l, Diffuse, m.X[i], m.Y[j], 0)
			}
			check(t, "lamp_field", fmt.Sprintf("node %d %d", i, j), "adaptive quadrature along the lamps (independent recomputation)", m.Z[j*41+i], want, 1e-9)
		}
	}
}

func TestLampProperties(t *testing.T) {
	d := draw(11)
	for range 300 {
		l := Lamp{X: d.between(-.2, .2), Y: d.between(-.2, .2), Z: d.between(.05, .3), Length: d.between(.05, .5), Angle: d.between(-3, 3), Flux: 100}
		law := LampLaw(int(d.between(0, 2)))
		px, py := d.between(-.3, .3), d.between(-.3, .3)
		e := LampIrradiance(l, law, px, py, 0)
		if !(e > 0) {
			t.Fatalf("dark: %+v", l)
		}
		m := l
		m.X, m.Angle = -l.X, math.Pi-l.Angle
		near(t, "mirrored", LampIrradiance(m, law, -px, py, 0), e, 1e-12)
		m = l
		m.Angle += math.Pi
		near(t, "turned end for end", LampIrradiance(m, law, px, py, 0), e, 1e-12)
		m = l
		m.Flux = 250
		near(t, "power", LampIrradiance(m, law, px, py, 0), 2.5*e, 1e-14)
		m = Lamp{3 * l.X, 3 * l.Y, 3 * l.Z, 3 * l.Length, l.Angle, l.Tilt, l.Flux}
		near(t, "size", LampIrradiance(m, law, 3*px, 3*py, 0), e/9, 1e-12)
		m = l
		m.Length, m.Flux = 1.3*l.Length, 1.3*l.Flux
		if LampIrradiance(m, law, px, py, 0) < e {
			t.Errorf("longer at the same power per length, and darker: %+v at %g, %g", l, px, py)
		}
		// two halves make the whole
		h1, h2 := l, l
		ux, uy, _ := l.axis()
		h1.X, h1.Y, h1.Length, h1.Flux = l.X+ux*l.Length/4, l.Y+uy*l.Length/4, l.Length/2, 50
		h2.X, h2.Y, h2.Length, h2.Flux = l.X-ux*l.Length/4, l.Y-uy*l.Length/4, l.Length/2, 50
		near(t, "halves", LampIrradiance(h1, law, px, py, 0)+LampIrradiance(h2, law, px, py, 0), e, 1e-12)
	}
}

// Towards the extended axis of a tilted lamp nothing may blow up.
func TestLampEndOn(t *testing.T) {
	for _, law := range []LampLaw{Diffuse, Isotropic} {
		l := Lamp{X: 0, Y: 0, Z: 0.3, Length: 0.1, Tilt: math.Pi / 2, Flux: 100} // upright
		last := math.Inf(1)
		for _, x := range []float64{0.05, 0.03, 1e-2, 1e-3, 1e-5, 1e-8, 1e-12, 1e-200, 0} {
			e := LampIrradiance(l, law, x, 0, 0)
			switch {
			case math.IsNaN(e) || math.IsInf(e, 0) || e < 0:
				t.Errorf("law %d at %g: %g", law, x, e)
			case x >= 1e-5:
				near(t, fmt.Sprintf("law %d at %g", law, x), e, byQuadrature(t, l, law, x, 0, 0), 1e-8)
			}
			if law == Diffuse && e > last {
				t.Errorf("a diffuse tube must darken towards its end: %g at %g after %g", e, x, last)
			}
			last = e
		}
		if law == Diffuse && last > 1e-12 {
			t.Errorf("diffuse end on: %g", last)
		}
		if law == Isotropic { // I dω summed: Φ/(4 π L) (1/0.25 - 1/0.35)
			near(t, "isotropic end on", last, 100/(4*math.Pi*0.1)*(1/0.25-1/0.35), 1e-12)
		}
	}
	below := Lamp{Z: -0.1, Length: 1, Flux: 1}
	if e := LampIrradiance(below, Diffuse, 0, 0, 0); e != 0 {
		t.Errorf("a lamp below the bed lights it: %g", e)
	}
}

func TestLampMirror(t *testing.T) {
	args := square(0.1)
	plain := called(t, "lamp_field", args)
	dark := called(t, "lamp_field", with(args, "reflector_height", 0.15, "reflectance", 0.0))
	near(t, "a black mirror", value(t, dark, "mean"), value(t, plain, "mean"), 1e-15)
	// the image by hand: a second bank at 0.2 m with 0.8 of the power
	image := called(t, "lamp_field", with(args, "height", 0.2, "power", 160.0))
	both := called(t, "lamp_field", with(args, "reflector_height", 0.15, "reflectance", 0.8))
	near(t, "mirror", value(t, both, "centre"), value(t, plain, "centre")+value(t, image, "centre"), 1e-13)
	near(t, "mirror mean", value(t, both, "mean"), value(t, plain, "mean")+value(t, image, "mean"), 1e-13)
	if c := value(t, both, "capture"); !(c > value(t, plain, "capture") && c < 1) {
		t.Errorf("capture %g", c)
	}
}

func TestLampFieldRefuses(t *testing.T) {
	a := square(0.1)
	for arg, v := range map[string]any{
		"height": 0.0, "length": -1.0, "radiant_efficiency": 1.01, "power": []float64{0, 0, 0, 0}, "law": "lambert",
		"nodes": 20.0, "bed_x": 0.0, "tilt": 1.6, "reflectance": 0.5, "reflector_height": 0.15, "y": []float64{1, 2, 3}, "x": math.NaN(),
	} {
		want := arg
		switch arg {
		case "reflectance":
			want = "reflector_height"
		case "reflector_height":
			want = "reflectance"
		}
		refused(t, "lamp_field", want, with(a, arg, v))
	}
	refused(t, "lamp_field", "nodes", with(a, "nodes", 21.5))
	refused(t, "lamp_field", "power", with(a, "power", -1.0))
	refused(t, "lamp_field", "reflector_height", with(a, "reflector_height", 0.09, "reflectance", 0.5))
	refused(t, "lamp_field", "height", with(a, "height", nil))
	found(t, "lamp_field", "nodes", with(a, "nodes", 5.0))
	found(t, "lamp_field", "tilt", with(a, "tilt", 1.0))
	found(t, "lamp_field", "diameter", with(a, "diameter", 0.02))
	found(t, "lamp_field", "radiant_efficiency", with(a, "radiant_efficiency", 0.2))
}

func TestLampOverhang(t *testing.T) {
	o := called(t, "lamp_overhang", map[string]any{"x": []float64{-.05, .05}, "y": 0.01, "height": []float64{.1, .12}, "length": 0.2, "angle": math.Pi / 2, "bed_x": 0.15, "bed_y": 0.16})
	const by = "by hand: ends at x = ±0.05, y = -0.09 and 0.11 (derived)"
	for name, want := range map[string]float64{"left": -.025, "right": -.025, "front": .01, "back": .03, "least": -.025, "ratio": -.025 / .12} {
		check(t, "lamp_overhang", name, by, value(t, o, name), want, 1e-12)
	}
	// common practice, confirmed: the end of a long lamp gives half
	end := LampIrradiance(Lamp{X: 5, Z: .1, Length: 10, Flux: 1}, Diffuse, 0, 0, 0)
	mid := LampIrradiance(Lamp{Z: .1, Length: 10, Flux: 1}, Diffuse, 0, 0, 0)
	near(t, "half at the end", end, mid/2, 1e-5)
}

func TestLampPowers(t *testing.T) {
	a := with(square(0.1), "power", nil, "target", 1500.0)
	o := called(t, "lamp_powers", a)
	powers := o.Get("powers").([]float64)
	for _, p := range powers {
		near(t, "four alike by symmetry", p, powers[0], 1e-9)
	}
	near(t, "no gain by symmetry", value(t, o, "gain"), 1, 1e-9)
	near(t, "the mean square pulls the mean to the target", value(t, o, "mean"), 1500, 2e-3)

	// six lamps in a row: the outer ones must do more
	row := with(a, "angle", 0.0, "x", 0.0, "y", []float64{-.15, -.09, -.03, .03, .09, .15}, "bed_x", 0.2, "bed_y", 0.2, "length", 0.4)
	o = called(t, "lamp_powers", row)
	powers = o.Get("powers").([]float64)
	near(t, "symmetric", powers[0], powers[5], 1e-8)
	if !(powers[0] > powers[2]) || !(value(t, o, "gain") > 1) || !(value(t, o, "nonuniformity") < value(t, o, "nonuniformity_equal")) {
		t.Errorf("powers %v, gain %g", powers, value(t, o, "gain"))
	}
	// putting the powers back into the field gives what was promised
	f := called(t, "lamp_field", with(row, "target", nil, "power", powers))
	for _, name := range []string{"mean", "uniformity", "nonuniformity"} {
		near(t, name, value(t, f, name), value(t, o, name), 1e-12)
	}
	f = called(t, "lamp_field", with(row, "target", nil, "power", value(t, o, "total")/6))
	near(t, "equal", value(t, f, "uniformity"), value(t, o, "uniformity_equal"), 1e-12)

	// no other powers are better: conditions of the minimum by differences
	rms := func(p []float64) float64 {
		m := called(t, "lamp_field", with(row, "target", nil, "power", p)).Get("field").(*Map)
		w, err := simpson(m)
		if err != nil {
			t.Fatal(err)
		}
		s := 0.0
		for k, v := range m.Z {
			s += w[k] * (v/1500 - 1) * (v/1500 - 1)
		}
		return math.Sqrt(s)
	}
	near(t, "rms", value(t, o, "rms"), rms(powers), 1e-12)
	for j := range powers {
		for _, step := range []float64{-1, 1} {
			p := append([]float64(nil), powers...)
			if p[j] = p[j] + step; p[j] >= 0 && rms(p) < value(t, o, "rms") {
				t.Errorf("lamp %d by %g W: less than the least", j+1, step)
			}
		}
	}
	// the same powers by another road: one lamp after another to its own best, until all rest
	unit := make([][]float64, 6)
	for j := range unit {
		p := make([]float64, 6)
		p[j] = 1
		unit[j] = called(t, "lamp_field", with(row, "target", nil, "power", p)).Get("field").(*Map).Z
	}
	w, err := simpson(o.Get("field").(*Map))
	if err != nil {
		t.Fatal(err)
	}
	var q [6][6]float64
	var c, p [6]float64
	for i, mi := range unit {
		for k, v := range mi {
			c[i] += w[k] * v * 1500
			for j, mj := range unit {
				q[i][j] += w[k] * v * mj[k]
			}
		}
	}
	for range 1000000 {
		for i := range p {
			up := c[i]
			for j, v := range p {
				up -= q[i][j] * v
			}
			p[i] = max(p[i]+up/q[i][i], 0)
		}
	}
	for j := range p {
		check(t, "lamp_powers", fmt.Sprintf("lamp %d", j+1), "coordinate descent on the same sum of squares (independent recomputation)", powers[j], p[j], 1e-6)
	}
	// a lamp far outside the row is worth nothing once the others do the work; on one driver it must follow
	g := called(t, "lamp_powers", with(row, "driver", []float64{1, 2, 2, 2, 2, 1})).Get("powers").([]float64)
	if g[0] != g[5] || g[1] != g[2] || g[2] != g[3] || g[0] <= g[1] {
		t.Errorf("two drivers: %v", g)
	}
	// too many lamps over the middle: some must go dark, and the rest is still the best
	crowd := with(row, "y", []float64{-.05, -.02, 0, .02, .05}, "height", .05, "bed_y", .14)
	o = called(t, "lamp_powers", crowd)
	if value(t, o, "idle") < 1 {
		t.Errorf("no lamp goes dark: %v", o.Get("powers"))
	}
	refused(t, "lamp_powers", "x", with(row, "y", 0.0, "x", []float64{0, 0}))
	refused(t, "lamp_powers", "target", with(row, "target", 0.0))
	refused(t, "lamp_powers", "driver", with(a, "driver", []float64{1, 2, 3}))
}

func TestStats(t *testing.T) {
	flat := &Map{X: nodes(1, 5), Y: nodes(2, 7), Z: make([]float64, 35)}
	for i := range flat.Z {
		flat.Z[i] = 3
	}
	s, err := Stats(flat)
	if err != nil || s.Uniformity != 1 || s.Nonuniformity != 0 || s.CV > 1e-15 || math.Abs(s.Mean-3) > 1e-15 {
		t.Errorf("%+v, %v", s, err)
	}
	for j, y := range flat.Y { // Simpson is exact for cubics
		for i, x := range flat.X {
			flat.Z[j*5+i] = 4 + x*x*x + 2*x*x + y
		}
	}
	s, err = Stats(flat)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cubic mean", s.Mean, 4+2./12, 1e-14)
	for _, z := range []float64{0, -1} {
		bad := &Map{X: nodes(1, 3), Y: nodes(1, 3), Z: make([]float64, 9)}
		bad.Z[4] = z
		if _, err := Stats(bad); err == nil {
			t.Errorf("a field of %g", z)
		}
	}
}

func BenchmarkLampField(b *testing.B) {
	bank := LampBank{Mirror: true, MirrorZ: 0.15, Reflectance: 0.8}
	for i := range 12 {
		bank.Lamps = append(bank.Lamps, Lamp{X: 0, Y: float64(i)*0.03 - 0.165, Z: 0.12, Length: 0.3, Flux: 100})
	}
	for b.Loop() {
		bank.Field(0.2, 0.2, 101)
	}
}
