package model

import (
	"math"
	"testing"
)

func TestSealPublished(t *testing.T) {
	const had = "had2know.com, rounded rectangle (seen)"
	A, P, err := RoundedRectangle(12*inch, 12*inch, 2.5*inch)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "rounded_rectangle", "12 by 12, r 2.5 in, area", had, A/(inch*inch), 138.635, 4e-6)
	check(t, "rounded_rectangle", "12 by 12, r 2.5 in, perimeter", had, P/inch, 43.708, 1.2e-5)
	const stadium = "stadium, calculator.cpu.com.cn (seen)"
	A, P, err = RoundedRectangle(7, 4, 2)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "rounded_rectangle", "stadium, area", stadium+", π to six figures", A, 24.566372, 1e-7)
	check(t, "rounded_rectangle", "stadium, perimeter", stadium, P, 18.56637, 3e-7)
	// strain 0.001 at 75 mm: radius 75 m. A strip of 150 mm bends to an inside radius of 75 m less 75 mm.
	check(t, "corner_radius_min", "radius at a strain of 0.001", "Gere, Mechanics of Materials, sol. 5.4-4 (seen)", CornerRadius(0.150, 0.001)+0.075, 75, 1e-12)
}

func TestSeal(t *testing.T) {
	a := given{"width": 0.22, "depth": 0.16, "corner_radius": 0.014, "thickness": 0.005, "gap": 0.004, "contact": 0.008, "modulus": 150e3, "friction": 0.22, "breakaway_ratio": 1.5}
	n, out := numbers(t, "seal_friction", a)
	if len(out) > 0 {
		t.Errorf("findings: %v", out)
	}
	// perimeter by summing the outline
	sum := 4 * (math.Pi / 2 * 0.014)
	sum += 2*(0.22-0.028) + 2*(0.16-0.028)
	check(t, "seal_friction", "perimeter", "independent: four quarter circles and four straight sides", n("perimeter"), sum, 1e-12)
	near(t, "compression", n("compression"), 0.2, 1e-12)
	near(t, "line force", n("line_force"), 150e3*0.2*0.008, 1e-12)
	near(t, "friction", n("running"), 0.22*240*sum, 1e-12)
	near(t, "breakaway", n("breakaway"), 1.5*n("running"), 1e-12)
	loose, _ := numbers(t, "seal_friction", a.with("gap", 0.006))
	if loose("running") != 0 || loose("compression") >= 0 {
		t.Error("a strip that does not touch does not rub")
	}
	found(t, "seal_friction", "gap", a.with("gap", 0.006))
	found(t, "seal_friction", "gap", a.with("gap", 0.003))
	refused(t, "seal_friction", "corner_radius", a.with("corner_radius", 0.09))
	refused(t, "seal_friction", "gap", a.with("gap", 0.0))
	refused(t, "seal_friction", "breakaway_ratio", a.with("breakaway_ratio", 0.9))

	r, _ := numbers(t, "corner_radius_min", given{"thickness": 0.005, "strain": 0.15})
	near(t, "there and back", BendingStrain(0.005, r("radius")), 0.15, 1e-12)
	// arc lengths: the inside face is shorter than the middle by the strain
	R := r("radius")
	check(t, "corner_radius_min", "felt of 5 mm at 0.15", "independent: arc of the inside face against that of the middle", 1-R/(R+0.0025), 0.15, 1e-12)
	half, _ := numbers(t, "corner_radius_min", given{"thickness": 0.0025, "strain": 0.15})
	near(t, "scale", half("radius"), R/2, 1e-12)
	refused(t, "corner_radius_min", "strain", given{"thickness": 0.005, "strain": 0.0})

	g := given{"chamber": 0.22, "platform": 0.212, "thickness": 0.005, "chamber_expansion": 16e-6, "platform_expansion": 23e-6, "chamber_rise": 100.0, "platform_rise": 120.0}
	n, _ = numbers(t, "seal_gap", g)
	near(t, "cold", n("cold"), 0.004, 1e-12)
	near(t, "hot", n("hot"), (0.22*(1+16e-4)-0.212*(1+23e-6*120))/2, 1e-12)
	near(t, "compression", n("cold_compression"), 0.2, 1e-12)
	if n("hot_compression") <= n("cold_compression") {
		t.Error("a platform that grows more squeezes the seal")
	}
	same, _ := numbers(t, "seal_gap", g.with("platform_expansion", 16e-6, "platform_rise", 100.0))
	near(t, "one material, one temperature: the gap grows alike", same("hot"), 0.004*(1+16e-4), 1e-9)
	refused(t, "seal_gap", "platform", g.with("platform", 0.23))
}
