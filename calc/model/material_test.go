package model

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestMaterials(t *testing.T) {
	all := Materials()
	units := map[string]string{
		"density": "kg/m^3", "modulus": "Pa", "expansion": "K^-1", "conductivity": "W/(m*K)", "specific_heat": "J/(kg*K)",
		"yield_strength": "Pa", "strength": "Pa", "compression_modulus": "Pa", "resistivity": "ohm*m",
		"glass_transition": "°C", "heat_deflection": "°C", "service_temperature": "°C", "strain_point": "°C",
	}
	// What solids can be, so that a slip of a power of ten shows.
	bounds := map[string][2]float64{
		"density": {100, 20e3}, "modulus": {1e8, 5e11}, "expansion": {-1e-5, 2e-4}, "conductivity": {0.02, 450}, "specific_heat": {300, 3000},
		"yield_strength": {1e7, 2e9}, "strength": {1e7, 2e9}, "compression_modulus": {1e4, 1e6}, "resistivity": {1e-8, 2e-6},
		"glass_transition": {250, 900}, "heat_deflection": {300, 500}, "service_temperature": {300, 1700}, "strain_point": {700, 1500},
	}
	if !slices.IsSortedFunc(all, func(a, b Material) int {
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	}) {
		t.Error("the table is not sorted by name")
	}
	names := map[string]bool{}
	for i := range all {
		m := &all[i]
		if names[strings.ToLower(m.Name)] || FindMaterial(m.Name) != m {
			t.Errorf("%s: twice or not found", m.Name)
		}
		names[strings.ToLower(m.Name)] = true
		seen := map[string]bool{}
		for _, p := range m.Props {
			where := m.Name + " " + p.Name
			if seen[p.Name] || !snake.MatchString(p.Name) {
				t.Errorf("%s: twice, or no snake_case name", where)
			}
			seen[p.Name] = true
			if units[p.Name] != p.Unit {
				t.Errorf("%s: unit %q, want %q", where, p.Unit, units[p.Name])
			}
			if b := bounds[p.Name]; p.Value < b[0] || p.Value > b[1] {
				t.Errorf("%s: %g is no value of a solid", where, p.Value)
			}
			minimum := strings.Contains(p.Source, "minimum")
			if minimum != (p.Rel == 0) || p.Rel < 0 || p.Rel >= 1 {
				t.Errorf("%s: uncertainty %g of %q", where, p.Rel, p.Source)
			}
			if !strings.Contains(p.Source, "seen") && !strings.Contains(p.Source, "from memory") && !strings.Contains(p.Source, "common practice") {
				t.Errorf("%s: source without its mark: %q", where, p.Source)
			}
		}
		if m.Prop("density") == nil {
			t.Errorf("%s has no density", m.Name)
		}
		if y, s := m.Prop("yield_strength"), m.Prop("strength"); y != nil && s != nil && y.Value >= s.Value {
			t.Errorf("%s yields above its strength", m.Name)
		}
		if m.Prop("no such property") != nil {
			t.Error("found a property that is not there")
		}
	}
	for i := range all {
		for _, also := range all[i].Also {
			if names[strings.ToLower(also)] || FindMaterial(also) != &all[i] || FindMaterial(strings.ToUpper(also)) != &all[i] {
				t.Errorf("%s: its other name %q is a name already, or not found", all[i].Name, also)
			}
			names[strings.ToLower(also)] = true
		}
	}
	for also, name := range map[string]string{"aluminium 6082": "EN AW-6082 T6", "stainless 304": "stainless steel 1.4301", "Stainless Steel 316": "stainless steel 1.4401"} {
		if m := FindMaterial(also); m == nil || m.Name != name {
			t.Errorf("%q is not found as %s", also, name)
		}
	}
	for _, several := range []string{"steel", "aluminium", "stainless", "brass"} {
		if FindMaterial(several) != nil {
			t.Errorf("%q is a family, not a material", several)
		}
	}
	if FindMaterial("EN AW-9999") != nil {
		t.Error("found a material that is not there")
	}
}

// TestMaterialsPublished compares values of the table with single sources,
// within the uncertainty that the table states.
func TestMaterialsPublished(t *testing.T) {
	prop := func(material, name string) *Property {
		m := FindMaterial(material)
		if m == nil || m.Prop(name) == nil {
			t.Fatalf("no %s of %s", name, material)
		}
		return m.Prop(name)
	}
	against := func(material, name, source string, want float64) {
		t.Helper()
		p := prop(material, name)
		check(t, "material", material+" "+name, source, p.Value, want, p.Rel)
	}
	// Fits of the cryogenic data of 6061-T6, evaluated at 293 K.
	const nist = "NIST, cryogenic material properties of 6061-T6, fits at 293 K (coefficients seen)"
	const T = 293.0
	slope := -0.30389 + 2*8.7696e-3*T - 3*9.9821e-6*T*T // of 1e5 ΔL/L
	against("EN AW-6061 T6", "expansion", nist, slope*1e-5)
	against("EN AW-6061 T6", "modulus", nist, 1e9*(77.71221+1.030646e-2*T-2.924100e-4*T*T+8.993600e-7*T*T*T-1.070900e-9*T*T*T*T))
	power := func(c ...float64) float64 {
		x, sum := math.Log10(T), 0.0
		for i := len(c) - 1; i >= 0; i-- {
			sum = sum*x + c[i]
		}
		return math.Pow(10, sum)
	}
	against("EN AW-6061 T6", "conductivity", nist, power(0.07918, 1.0957, -0.07277, 0.08084, 0.02803, -0.09464, 0.04179, -0.00571))
	check(t, "material", "EN AW-6061 T6 specific heat", nist+", fit good to 5 %", prop("EN AW-6061 T6", "specific_heat").Value,
		power(46.6467, -314.292, 866.662, -1298.3, 1162.27, -637.795, 210.351, -38.3094, 2.96344), 0.07)

	against("EN AW-6060 T66", "modulus", "makeitfrom.com, 6060-T66 (seen)", 68e9)
	against("EN AW-6060 T66", "conductivity", "makeitfrom.com, 6060-T66 (seen)", 210)
	against("EN AW-6082 T6", "modulus", "aerospace-aluminum.com, 6082-T6 (seen)", 69e9)
	against("copper Cu-ETP", "density", "trade data sheet of CW004A (seen)", 8940)
	against("copper Cu-ETP", "conductivity", "trade data sheet of CW004A (seen)", 390)
	against("borosilicate glass 3.3", "modulus", "pressed glass data sheet (seen)", 64e9)
	against("fused quartz", "density", "encyclopedia, quartz (seen)", 2200)
	against("PETG", "conductivity", "designerdata.nl, PET (seen)", 0.24)
	against("POM-C", "density", "trade data sheet of rods (seen)", 1390)
	against("stainless steel 1.4301", "expansion", "tubingchina.com, EN 10088-1, 20 to 100 °C (seen)", 16.0e-6)
	check(t, "material", "felt, 3.17 mm of 0.81 kg/m²", "ASTM D2475, class 26S1 (seen)", prop("wool felt 26S1", "density").Value, 0.81/3.17e-3, 0.003)

	// Sound runs along a thin bar at √(E/ρ): a check of modulus against density.
	for _, c := range []struct {
		material string
		want     float64
	}{{"EN AW-6061 T6", 5055}, {"carbon steel S235", 5170}, {"copper Cu-ETP", 3580}, {"brass CuZn39Pb3", 3440}, {"fused quartz", 5760}} {
		E, rho := prop(c.material, "modulus"), prop(c.material, "density")
		check(t, "material", c.material+", speed of sound in a bar", "speeds of sound in thin bars, physics handbooks (from memory)", math.Sqrt(E.Value/rho.Value), c.want, 0.03)
	}
}
