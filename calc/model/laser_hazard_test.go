package model

import (
	"math"
	"strings"
	"testing"
)

const nm = 1e-9

func exposed(t *testing.T, wavelength, time float64) *Out {
	t.Helper()
	return called(t, "laser_exposure_limit", given{"wavelength": wavelength, "time": time})
}

// What others print of the limits.
func TestLaserLimitPublished(t *testing.T) {
	const m = "laser_exposure_limit"
	at := func(wavelength, time float64, name string) float64 {
		t.Helper()
		return value(t, exposed(t, wavelength, time), name)
	}
	const faculty = "a faculty's sample calculations after AS/NZS IEC 60825, studylib.net 5882651 (seen)"
	check(t, m, "488 nm, 0.25 s", faculty, at(488*nm, .25, "irradiance"), 25.5, 3e-3)
	check(t, m, "488 nm, 0.25 s, energy", faculty, at(488*nm, .25, "exposure"), 6.4, 7e-3)
	const list = "a university's question to a list of health physicists, 651 nm after ANSI Z136.1, health.phys.iit.edu 0006/msg00577 (seen)"
	check(t, m, "651 nm, 0.25 s, energy", list, at(651*nm, .25, "exposure"), 6.36, 1e-3)
	const course = "a training text for users of medical lasers after BS EN 60825-1:2014, flipbuilder.com egvu p. 104 and 105 (seen)"
	check(t, m, "helium-neon, longer", course, at(633*nm, 1000, "irradiance"), 10, 1e-9)
	check(t, m, "blue, class 1", course, at(440*nm, 1000, "through"), 0.039e-3, 0.02)
	const sensor = "a manual of a laser sensor after IEC 60825-1: 25 W/m2 for 0.25 s, 1 mW through 7 mm (seen, two figures)"
	check(t, m, "visible, 0.25 s", sensor, at(660*nm, .25, "irradiance"), 25, 0.02)
	check(t, m, "class 2", sensor, at(660*nm, .25, "through"), 1e-3, 0.025)
	const bench = "a university laboratory's script for 785 nm and 852 nm, 10 s, in a public repository (seen)"
	check(t, m, "785 nm, nearly 10 s", bench, at(785*nm, 10-1e-9, "exposure"), 149.7166, 2e-5) // rounded on the way
	check(t, m, "852 nm, nearly 10 s", bench, at(852*nm, 10-1e-9, "exposure"), 203.8296, 2e-5)

	const note = "ICNIRP 2013 and IEC 60825-1:2014 in a design note that copies their tables, public repository (seen)"
	check(t, m, "1030 nm, C4", note, at(1030*nm, 100, "irradiance"), 45.7, 1e-3)
	check(t, m, "1064 nm, longer", note, at(1064*nm, 100, "irradiance"), 50, 1e-9)
	check(t, m, "1064 nm, class 1", note, at(1064*nm, 100, "through"), 1.9e-3, 0.02)
	check(t, m, "1450 nm, 1 s", note, at(1450*nm, 1, "exposure"), 5600, 1e-9)
	check(t, m, "1550 nm, 1 s", note, at(1550*nm, 1, "exposure"), 1e4, 1e-9)
	check(t, m, "2 um, 5 s", note, at(2000*nm, 5, "exposure"), 5600*math.Pow(5, .25), 1e-9)
	for _, wavelength := range []float64{1450 * nm, 1550 * nm, 2000 * nm, 10.6e-6} {
		check(t, m, show(wavelength, "m")+", longer", note, at(wavelength, 100, "irradiance"), 1000, 1e-9)
	}
	// Limits of class 1 are those of the eye times the circle: these hold the
	// circle, too.
	check(t, m, "1550 nm, class 1, longer", note, at(1550*nm, 100, "through"), 10e-3, 0.04)
	check(t, m, "1550 nm, class 1, 2 s", note, at(1550*nm, 2, "through")*2, 1.8e-2*math.Pow(2, .75), 0.02)
	check(t, m, "1550 nm, class 1, 0.3 s", note, at(1550*nm, .3, "through")*.3, 8e-3, 0.02)
	check(t, m, "2 um, class 1, 0.3 s", note, at(2000*nm, .3, "through")*.3, 4.4e-3*math.Pow(.3, .25), 2e-3)
	check(t, m, "2 um, class 1, 4 s", note, at(2000*nm, 4, "through")*4, 1e-2*4, 0.02)
	for _, c := range []struct{ wavelength, time, want float64 }{{1 * nm * 1e3, 1, 7e-3}, {10.6e-6, .3, 1e-3}, {10.6e-6, 100, 3.5e-3}, {.5e-3, 100, 11e-3}} {
		check(t, m, "circle at "+show(c.wavelength, "m")+", "+show(c.time, "s"), note, at(c.wavelength, c.time, "aperture"), c.want, 1e-9)
	}
	const code = "directive 2006/25/EC, annex II, table 2.2, and its factors in table 2.5, French labour code, book IV, title V, chapter II, annex II (seen)"
	check(t, m, "520 nm, 1 s", code, at(520*nm, 1, "exposure"), 18, 1e-9)
	check(t, m, "800 nm, 1 s", code, at(800*nm, 1, "exposure"), 18*math.Pow(10, .2), 1e-9)
	check(t, m, "1100 nm, 1 s", code, at(1100*nm, 1, "exposure"), 90, 1e-9)
	check(t, m, "1175 nm, 1 s", code, at(1175*nm, 1, "exposure"), 90*math.Pow(10, .45), 1e-9)
	check(t, m, "1300 nm, 1 s", code, at(1300*nm, 1, "exposure"), 90*8, 1e-9)
	check(t, m, "circle at 10.6 um, 4 s", code, at(10.6e-6, 4, "aperture"), 1.5e-3*math.Pow(4, .375), 1e-9)
	const raised = "Sliney, Proc. SPIE 2097 (1994), abstract: limits from 1200 nm to 1400 nm were raised by 8 (seen)"
	check(t, m, "1310 nm to 1064 nm", raised, at(1310*nm, 100, "irradiance")/at(1064*nm, 100, "irradiance"), 8, 1e-9)
}

// The limits have steps only where the tables have them, and where two of them
// meet the lower one counts.
func TestLaserLimitEdges(t *testing.T) {
	of := func(n, s float64) float64 { return value(t, exposed(t, n*nm, s), "irradiance") }
	for _, s := range []float64{.25, 1, 9.99, 10, 100, 3e4} {
		for _, edge := range []float64{450, 600, 700, 1050, 1150, 1200, 1400, 1500, 1800} {
			below, there, above := of(edge-1e-3, s), of(edge, s), of(edge+1e-3, s)
			// C₃ ends at 600 nm, where it no longer counts; C₄ and C₇ go over
			// into 5 and 8 with less than a hundredth.
			if there > below*1.01 || there > above*1.01 {
				t.Errorf("%g nm, %g s: %g between %g and %g", edge, s, there, below, above)
			}
			if edge < 1400 && math.Abs(above-below) > 0.011*below {
				t.Errorf("%g nm, %g s: from %g to %g", edge, s, below, above)
			}
		}
	}
	// A longer exposure is never allowed more power, but for half a hundredth
	// that the tables have at 10 s beyond 1400 nm, nor less energy, but for the
	// hundredth they have there below.
	for _, n := range []float64{405, 450, 470, 500, 532, 633, 808, 980, 1064, 1180, 1310, 1400, 1450, 1500, 1550, 1800, 2000, 10600, 1e5, 1e6} {
		lastE, lastH := math.Inf(1), 0.0
		for k := range 400 {
			s := math.Min(1e-3*math.Pow(10, float64(k)*7.5/399), 3e4)
			o := exposed(t, n*nm, s)
			E, H := value(t, o, "irradiance"), value(t, o, "exposure")
			if E > lastE*1.005 || H < lastH*0.988 {
				t.Errorf("%g nm, %g s: %g after %g W/m², %g after %g J/m²", n, s, E, lastE, H, lastH)
			}
			near(t, "H = E t", H, E*s, 1e-12)
			lastE, lastH = E, H
		}
	}
	if of(10600, 10) > of(10600, 10.001) {
		t.Error("at 10 s sharp the lower of two limits counts")
	}
	near(t, "blue from 10 s to 100 s", of(440, 50), 2, 1e-12)
	near(t, "blue, longer", of(440, 2e4), 1, 1e-12)
	near(t, "490 nm, longer", of(490, 2e4), math.Pow(10, .8), 1e-12)
	near(t, "520 nm, longer", of(520, 2e4), 10, 1e-12)
	for _, bad := range []float64{399 * nm, 1.001e-3, -1} {
		refused(t, "laser_exposure_limit", "wavelength", given{"wavelength": bad, "time": 10.0})
	}
	for _, bad := range []float64{0.9e-3, 30001} {
		refused(t, "laser_exposure_limit", "time", given{"wavelength": 1e-6, "time": bad})
	}
	for _, bad := range []float64{math.NaN(), 0, math.Inf(1)} { // the function by itself
		if _, _, _, err := LaserLimit(bad, 10); err == nil {
			t.Errorf("a wavelength of %g", bad)
		}
		if _, _, _, err := LaserLimit(1e-6, bad); err == nil {
			t.Errorf("a time of %g", bad)
		}
	}
	found(t, "laser_exposure_limit", "time", given{"wavelength": 10.6e-6, "time": 0.25})
	found(t, "laser_exposure_limit", "time", given{"wavelength": 532 * nm, "time": 0.1})
	if _, out := numbers(t, "laser_exposure_limit", given{"wavelength": 700 * nm, "time": 0.25}); len(out) > 0 {
		t.Errorf("a visible beam for 0.25 s: %v", out)
	}
}

var openBeam = given{"power": 1.0, "diameter": 1e-3, "divergence": 1e-3, "permitted": 25.4, "aperture": 7e-3, "distance": 0.0}

func TestLaserHazardPublished(t *testing.T) {
	const m, l = "laser_hazard_distance", "laser_hazard_lens"
	num := func(a given, name string) float64 {
		t.Helper()
		n, _ := numbers(t, m, a)
		return n(name)
	}
	// These texts mean the 1/e diameter, over which the mean is the peak.
	const e = math.Sqrt2
	check(t, m, "1 W, 1 mrad", "a training text for users of medical lasers, flipbuilder.com egvu p. 110 (seen)", num(openBeam.with("divergence", e*1e-3), "hazard_distance"), 225, 0.01)
	const faculty = "a faculty's sample calculations after AS/NZS IEC 60825, studylib.net 5882651 (seen)"
	check(t, m, "10 W over 1 cm", faculty, num(openBeam.with("power", 10.0, "diameter", e*.01, "aperture", 1e-5), "irradiance"), 12.7e4, 3e-3)
	checkAbs(t, m, "3.8 W/cm2 for 2.55 mW/cm2", faculty, num(openBeam.with("power", 38000*math.Pi/4*49e-6, "diameter", 1e-5, "permitted", 25.5), "optical_density"), 3.2, 0.05)
	check(t, m, "2 mW through 7 mm", "a university's question to a list of health physicists, health.phys.iit.edu 0006/msg00577 (seen)", num(openBeam.with("power", 2e-3), "irradiance"), 51.9, 2e-3)
	check(t, m, "1 W through 7 mm", "a risk assessment of a laboratory after IEC 60825, github.com/PablitoE/MyNotebooks (seen)", num(openBeam.with("diameter", 1e-4), "irradiance"), 25984.48, 1e-6)

	// The textbook form with the root of the squares, and the shorter one with
	// the sum, for a small circle.
	a := openBeam.with("diameter", .02, "permitted", 1000.0, "power", 10.0, "aperture", 1e-5)
	root := math.Sqrt(4*10/(math.Pi*1000)-.02*.02/2) / (1e-3 / e)
	check(t, m, "root of the squares", "public page on the nominal hazard distance with that form, calculator.academy (seen)", num(a, "hazard_distance"), root, 1e-6)
	if sum := (math.Sqrt(4*10/(math.Pi*1000)) - .02/e) / (1e-3 / e); root < sum {
		t.Errorf("%g is not the longer of the two, %g", root, sum)
	}
	// CO2, 500 W: hazard zones that are reprinted in many laser safety manuals.
	const manual = "OSHA technical manual III:6, table of hazard zones of lasers (from memory, two figures)"
	co2 := openBeam.with("power", 500.0, "diameter", e*.02, "divergence", e*2e-3, "permitted", 1000.0, "aperture", 3.5e-3)
	check(t, m, "CO2 500 W, direct", manual, num(co2, "hazard_distance"), 399, 2e-3)
	nd := openBeam.with("power", 100.0, "diameter", e*2e-3, "divergence", e*2e-3, "permitted", 51.0, "aperture", 7e-3)
	check(t, m, "Nd:YAG 100 W, 10 s, direct", manual, num(nd, "hazard_distance"), 790, 5e-3)

	lens := func(a given, name string) float64 {
		t.Helper()
		n, _ := numbers(t, l, a)
		return n(name)
	}
	focused := given{"power": 10.0, "beam_diameter": 8e-3, "focal_length": .1, "permitted": 995.85, "aperture": 3.5e-3, "distance": .3}
	const ansi = "ANSI Z136.1-2014, appendix B, lens on laser: 10 W of 10.6 um, 8 mm on a lens of 100 mm, 1.9956 m behind the focus, in a public test that quotes it (seen)"
	check(t, l, "10 W, 10.6 um", ansi, lens(focused, "hazard_distance")-.1, 1.9956, 3e-3)
	check(t, l, "CO2 500 W, lens", manual, lens(focused.with("power", 500.0, "beam_diameter", e*.03, "focal_length", .2, "permitted", 1000.0), "hazard_distance")-.2, 5.3, 0.01)
	check(t, l, "Nd:YAG 100 W, 10 s, lens", manual, lens(focused.with("power", 100.0, "beam_diameter", e*6.3e-3, "focal_length", .0254, "permitted", 51.0, "aperture", 7e-3), "hazard_distance")-.0254, 6.3, 0.015)

	const d = "laser_diffuse"
	matt := given{"power": 500.0, "reflectance": 1.0, "angle": 0.0, "distance": 1.0, "permitted": 1000.0}
	n, _ := numbers(t, d, matt)
	check(t, d, "CO2 500 W", manual, n("hazard_distance"), .4, 0.01)
	n, _ = numbers(t, d, matt.with("power", 100.0, "permitted", 51.0))
	check(t, d, "Nd:YAG 100 W, 10 s", manual, n("hazard_distance"), .8, 0.02)
	n, _ = numbers(t, d, matt.with("power", 11.0, "permitted", 21.0))
	check(t, d, "argon 11 W, a card", "a laboratory's training after ANSI Z136.1, blog.everydayscientist.com p 185 (seen)", n("hazard_distance"), .4, 0.03)
}

// What the models give against the beam put together piece by piece.
func TestLaserHazardPieces(t *testing.T) {
	const m, l, d = "laser_hazard_distance", "laser_hazard_lens", "laser_diffuse"
	const by = "Gaussian beam over a circle, by quadrature (independent recomputation)"
	for _, width := range []float64{.5e-3, 4e-3, 7e-3, 30e-3} {
		n, _ := numbers(t, m, openBeam.with("diameter", width))
		ring := func(r float64) float64 {
			return 8 * 1 / (math.Pi * width * width) * math.Exp(-8*r*r/(width*width)) * 2 * math.Pi * r
		}
		var through float64
		for k := range 8 { // the narrow beam fills the first pieces only
			through += integrate(t, ring, 3.5e-3*float64(k)/8, 3.5e-3*float64(k+1)/8, 1e-13)
		}
		check(t, m, "mean at "+show(width, "m"), by, n("irradiance"), through/(math.Pi/4*49e-6), 1e-8)
		if peak := 8 / (math.Pi * width * width); n("irradiance") > peak*(1+1e-12) {
			t.Errorf("%g: mean %g above the peak %g", width, n("irradiance"), peak)
		}
	}
	// At the hazard distance the limit is met, just before it it is not kept.
	for _, a := range []given{openBeam, openBeam.with("power", .01), openBeam.with("permitted", 1000.0, "aperture", 3.5e-3, "power", 10.0), openBeam.with("aperture", 11e-3, "divergence", .05)} {
		n, _ := numbers(t, m, a)
		far := n("hazard_distance")
		n, _ = numbers(t, m, a.with("distance", far))
		near(t, "irradiance at the hazard distance", n("irradiance"), a["permitted"].(float64), 1e-9)
		check(t, m, "limit met with "+show(a["power"].(float64), "W")+", "+show(a["aperture"].(float64), "m"), "definition of the hazard distance: the limit is met there (derived)", n("irradiance"), a["permitted"].(float64), 1e-9)
		n, _ = numbers(t, m, a.with("distance", far*.99))
		if n("irradiance") <= a["permitted"].(float64) || n("optical_density") <= 0 {
			t.Error("within the hazard distance the limit is kept")
		}
		if n("worst_density") < n("optical_density") {
			t.Error("the worst place is not the worst")
		}
	}
	n, _ := numbers(t, m, openBeam.with("power", .9e-3))
	if n("hazard_distance") != 0 || n("worst_density") != 0 {
		t.Errorf("less than the power through the circle is no hazard: %g m", n("hazard_distance"))
	}
	n, _ = numbers(t, m, openBeam.with("diameter", 1.0))
	if n("hazard_distance") != 0 {
		t.Error("a beam of a metre is no hazard anywhere")
	}

	// Behind a lens: the same beam, from its focus; the true beam is wider.
	focused := given{"power": 10.0, "beam_diameter": 12e-3, "focal_length": .25, "permitted": 1000.0, "aperture": 3.5e-3, "distance": .6}
	n, _ = numbers(t, l, focused)
	o, _ := numbers(t, m, openBeam.with("power", 10.0, "diameter", 1e-9, "divergence", n("divergence"), "permitted", 1000.0, "aperture", 3.5e-3, "distance", .35))
	for _, name := range []string{"width", "irradiance", "optical_density"} {
		near(t, name, n(name), o(name), 1e-9)
	}
	near(t, "hazard distance", n("hazard_distance"), .25+o("hazard_distance"), 1e-9)
	const identity = "identity: the open beam that starts in the focus (independent recomputation)"
	check(t, l, "10 W at 10.6 um, from the focus", identity, n("hazard_distance"), .25+o("hazard_distance"), 1e-9)
	for _, z := range []float64{0, .1, .25, .2501, .3, 1} {
		n, _ := numbers(t, l, focused.with("distance", z))
		if s := value(t, called(t, "laser_spot", given{"wavelength": 10.6e-6, "beam_quality": 1.3, "focal_length": .25, "beam_diameter": 12e-3, "off_focus": z - .25}), "spot"); s < n("width") {
			t.Errorf("at %g m the true beam, %g, is narrower than the cone, %g", z, s, n("width"))
		}
		if n("irradiance") > 4*10/(math.Pi*3.5e-3*3.5e-3)*(1+1e-12) {
			t.Error("more than the whole power")
		}
	}
	n, _ = numbers(t, l, focused.with("power", 9e-3))
	if n("hazard_distance") != 0 {
		t.Error("9 mW keep within 1000 W/m² over 3.5 mm")
	}

	// All that a matt surface sends off arrives on a hemisphere.
	matt := given{"power": 10.0, "reflectance": .7, "angle": 0.0, "distance": .5, "permitted": 1000.0}
	all := integrate(t, func(theta float64) float64 {
		n, _ := numbers(t, d, matt.with("angle", theta))
		return n("irradiance") * 2 * math.Pi * .25 * math.Sin(theta)
	}, 0, math.Pi/2, 1e-9)
	check(t, d, "hemisphere", "conservation of energy over a hemisphere (independent recomputation)", all, 7, 1e-6)
	n, _ = numbers(t, d, matt.with("angle", 1.0))
	o, _ = numbers(t, d, matt.with("angle", 1.0, "distance", n("hazard_distance")))
	near(t, "limit met", o("irradiance"), 1000, 1e-12)

	found(t, m, "divergence", openBeam.with("divergence", .5))
	for model, args := range map[string]given{m: openBeam, l: focused, d: matt} {
		for _, name := range []string{"power", "permitted"} {
			refused(t, model, name, args.with(name, 0.0))
		}
	}
	refused(t, d, "angle", matt.with("angle", 1.6))
	refused(t, d, "reflectance", matt.with("reflectance", 1.1))
	for _, model := range []string{m, l, d, "laser_exposure_limit"} {
		if !strings.HasSuffix(Find(model).Range, laserBeyond) {
			t.Errorf("%s does not say what it leaves to others", model)
		}
	}
}
