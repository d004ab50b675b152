package model

import "strings"

// A Material is a named material with what is known of it at 20 °C.
type Material struct {
	Name  string // after its standard, with the temper where it matters: "EN AW-6082 T6"
	Props []Property
	Also  []string // other names for the same grade, as a workshop says them: "aluminium 6082"
}

// A Property is one value of a material.
type Property struct {
	Name   string  // "density", "modulus", "expansion", …
	Unit   string  // as Arg.Unit
	Value  float64 // SI; points on the temperature scale in kelvins
	Rel    float64 // expanded relative uncertainty, k = 2; 0 for a minimum that a standard promises
	Source string
}

// Materials returns the table, sorted by name without regard
// to case. Callers must not change it.
//
// Uncertainties are judged from how far the sources named lie apart, never
// less than 0.5 % for a density, 2 % for a modulus and 3 % for an expansion or
// conductivity (common practice): they cover lots and tempers, not defects.
// The modulus of fibres is that of the fibre: twisting takes a fifth to a half
// of it, so measure the stiffness of a belt.
func Materials() []Material { return materials }

// FindMaterial returns the material of that name, or nil if there is none. Of
// other names for it, those in Also will do, in letters of either case. A name
// of several grades, such as steel, is none of them.
func FindMaterial(name string) *Material {
	for i := range materials {
		if materials[i].Name == name {
			return &materials[i]
		}
	}
	for i := range materials {
		for _, also := range materials[i].Also {
			if strings.EqualFold(also, name) {
				return &materials[i]
			}
		}
	}
	return nil
}

// Prop returns a property of the material, or nil if none is known.
func (m *Material) Prop(name string) *Property {
	for i := range m.Props {
		if m.Props[i].Name == name {
			return &m.Props[i]
		}
	}
	return nil
}

// The constructors keep a row of the table on one line.
func density(v, rel float64, src string) Property {
	return Property{"density", "kg/m^3", v, rel, src}
}
func modulus(v, rel float64, src string) Property {
	return Property{"modulus", "Pa", v, rel, src}
}
func expansion(v, rel float64, src string) Property {
	return Property{"expansion", "K^-1", v, rel, src}
}
func conductivity(v, rel float64, src string) Property {
	return Property{"conductivity", "W/(m*K)", v, rel, src}
}
func specificHeat(v, rel float64, src string) Property {
	return Property{"specific_heat", "J/(kg*K)", v, rel, src}
}
func resistivity(v, rel float64, src string) Property {
	return Property{"resistivity", "ohm*m", v, rel, src}
}
func yieldStrength(v float64, src string) Property {
	return Property{"yield_strength", "Pa", v, 0, src}
}
func strength(v, rel float64, src string) Property {
	return Property{"strength", "Pa", v, rel, src}
}
func point(name string, celsius, rel float64, src string) Property {
	return Property{name, "°C", celsius + zeroCelsius, rel, src}
}

const (
	srcEN1999    = "EN 1999-1-1:2007, 3.2.5 (from memory)"
	srcEN1993    = "EN 1993-1-1:2005, 3.2.6 (seen in a reprint)"
	srcFireSteel = "EN 1993-1-2:2005, 3.4.1, at 20 °C (formulas seen in open programs)"
	srcEN10088   = "EN 10088-1, as tabulated at materials-welding.blogspot.com (seen)"
	srcMin755    = "EN 755-2, minimum of extruded profiles (seen in a reprint)"
	srcSheet6060 = "trade data sheets to EN 573-3 and EN 755-2, agreeing (seen)"
	src6061      = "substech.com, wrought Al-Mg-Si 6061, and trade data sheets (seen)"
	srcPETG      = "makeitfrom.com, glycol-modified PET (seen)"
	srcPOM       = "Engineering Plastics Handbook, Table 5.5 (seen)"
	srcPOMSheet  = "trade data sheet of rods (seen) and handbooks (from memory)"
	srcPA12      = "additive.tools, PA12 laser sintered as built (seen)"
	srcFibre     = "Callister, Materials Science and Engineering, App. B, and NAP 1824, Table 3-1 (seen)"
	srcCopper    = "copper.org, physical properties of copper (seen)"
	srcBrass     = "azom.com 6382 and makeitfrom.com, CuZn39Pb3 (seen)"
	srcBoro      = "data sheets of glass to ISO 3585, agreeing (seen)"
	srcQuartz    = "qsiquartz.com and makeitfrom.com, fused quartz (seen)"
	srcWire      = "handbooks of resistance heating alloys (from memory)"
	srcKiln      = "trade data sheets of refractories (from memory)"
	srcPractice  = "common practice"
)

var materials = []Material{
	{"aluminium EN 1999", []Property{
		density(2700, 0.01, srcEN1999),
		modulus(70e9, 0.03, srcEN1999),
		expansion(23e-6, 0.04, srcEN1999),
		conductivity(191, 0.12, "EN 1999-1-2:2007, 3.3.3, alloys 6xxx at 20 °C (from memory)"),
	}, nil},
	{"aramid fibre high modulus", []Property{
		density(1450, 0.02, srcFibre),
		modulus(128e9, 0.04, srcFibre),
		expansion(-2.0e-6, 0.3, srcFibre+", along the fibre"),
		conductivity(0.04, 0.5, srcFibre),
	}, []string{"para-aramid high modulus"}},
	{"aramid fibre standard", []Property{
		density(1450, 0.02, srcFibre),
		modulus(72e9, 0.16, srcFibre),
		expansion(-2.0e-6, 0.3, srcFibre+", along the fibre"),
		conductivity(0.04, 0.5, srcFibre),
	}, []string{"para-aramid"}},
	{"borosilicate glass 3.3", []Property{
		density(2230, 0.005, srcBoro),
		modulus(63.5e9, 0.02, srcBoro),
		expansion(3.3e-6, 0.03, srcBoro+", 20 to 300 °C"),
		conductivity(1.2, 0.1, srcBoro+", at 90 °C"),
		specificHeat(830, 0.05, "makeitfrom.com, borosilicate glass (seen)"),
		point("service_temperature", 500, 0.02, srcBoro+", short times"),
	}, []string{"borosilicate glass", "borosilicate 3.3"}},
	{"brass CuZn39Pb3", []Property{
		density(8460, 0.01, "azom.com 6382 and diversifiedbronze.com, CuZn39Pb3 (seen)"),
		modulus(100e9, 0.1, srcBrass),
		expansion(20.9e-6, 0.03, srcBrass),
		conductivity(120, 0.06, srcBrass),
		specificHeat(380, 0.03, srcBrass),
	}, []string{"brass CW614N", "CW614N"}},
	{"carbon steel S235", []Property{
		density(7850, 0.01, "EN 1991-1-1, Table A.4 (seen in a reprint)"),
		modulus(210e9, 0.03, srcEN1993),
		expansion(12e-6, 0.05, srcEN1993),
		conductivity(53.3, 0.1, srcFireSteel),
		specificHeat(440, 0.05, srcFireSteel),
		yieldStrength(235e6, "EN 1993-1-1:2005, Table 3.1, up to 40 mm, minimum (seen in a reprint)"),
		strength(360e6, 0, "EN 1993-1-1:2005, Table 3.1, up to 40 mm, minimum (seen in a reprint)"),
	}, []string{"steel S235", "S235", "S235JR", "mild steel S235"}},
	{"copper Cu-ETP", []Property{
		density(8930, 0.005, srcCopper),
		modulus(115e9, 0.06, "trade data sheets of CW004A, 110 to 117 GPa (seen)"),
		expansion(16.8e-6, 0.03, srcCopper+", 25 to 100 °C"),
		conductivity(392, 0.03, srcCopper),
		specificHeat(386, 0.02, srcCopper),
	}, []string{"copper CW004A", "Cu-ETP", "CW004A", "copper C11000"}},
	{"E-glass fibre", []Property{
		density(2500, 0.03, srcFibre),
		modulus(72.4e9, 0.03, srcFibre),
		expansion(5.0e-6, 0.05, srcFibre),
		conductivity(1.15, 0.15, srcFibre),
	}, []string{"E-glass", "glass fibre E"}},
	{"EN AW-6060 T66", []Property{
		density(2700, 0.01, srcSheet6060),
		modulus(69.5e9, 0.03, srcSheet6060),
		expansion(23.4e-6, 0.03, srcSheet6060+", 20 to 100 °C"),
		conductivity(209, 0.06, srcSheet6060),
		specificHeat(895, 0.02, srcSheet6060),
		yieldStrength(150e6, srcMin755+", wall up to 25 mm"),
		strength(195e6, 0, srcMin755+", wall up to 25 mm"),
	}, []string{"aluminium 6060", "aluminum 6060", "aluminium 6060 T66", "6060 T66", "AlMgSi T66"}},
	{"EN AW-6061 T6", []Property{
		density(2700, 0.01, src6061),
		modulus(69e9, 0.03, src6061),
		expansion(23.4e-6, 0.04, src6061+", 23.6e-6 from 20 to 100 °C; NIST cryogenic fit, slope at 20 °C 22.6e-6 (seen)"),
		conductivity(161, 0.06, src6061+", 167; NIST cryogenic fit, 154 (seen)"),
		specificHeat(896, 0.02, src6061),
		yieldStrength(240e6, "EN 755-2, minimum (from memory)"),
		strength(260e6, 0, "EN 755-2, minimum (from memory)"),
	}, []string{"aluminium 6061", "aluminum 6061", "aluminium 6061 T6", "6061 T6", "AlMg1SiCu T6"}},
	{"EN AW-6082 T6", []Property{
		density(2700, 0.01, srcSheet6060),
		modulus(70e9, 0.03, srcSheet6060),
		expansion(23.4e-6, 0.03, srcSheet6060+", 20 to 100 °C"),
		conductivity(175, 0.1, srcSheet6060+", 170 to 180, up to 220 softer"),
		specificHeat(893, 0.02, srcSheet6060),
		yieldStrength(250e6, srcMin755+", wall up to 5 mm"),
		strength(290e6, 0, srcMin755+", wall up to 5 mm"),
	}, []string{"aluminium 6082", "aluminum 6082", "aluminium 6082 T6", "6082 T6", "AlSi1MgMn T6"}},
	{"fused quartz", []Property{
		density(2200, 0.005, srcQuartz),
		modulus(72.5e9, 0.02, srcQuartz),
		expansion(0.55e-6, 0.1, srcQuartz+", 20 to 320 °C"),
		conductivity(1.4, 0.05, srcQuartz),
		specificHeat(700, 0.05, srcQuartz),
		point("strain_point", 1120, 0.03, srcQuartz),
	}, []string{"quartz glass", "fused silica"}},
	{"insulating firebrick 1260", []Property{
		density(500, 0.1, srcKiln),
		conductivity(0.14, 0.2, srcKiln+", at 400 °C; 0.19 at 1000 °C"),
		specificHeat(1050, 0.05, srcKiln),
		point("service_temperature", 1260, 0.03, srcKiln+", by its class"),
	}, []string{"firebrick 23", "insulating brick 23"}},
	{"iron-chromium-aluminium 22/5", []Property{
		density(7150, 0.015, srcWire),
		modulus(220e9, 0.05, srcWire),
		expansion(11e-6, 0.1, srcWire+", 20 to 250 °C; 15e-6 to 1000 °C"),
		conductivity(11, 0.1, srcWire),
		specificHeat(460, 0.05, srcWire),
		resistivity(1.40e-6, 0.04, srcWire+", 1.35e-6 to 1.45e-6 by the grade, at 20 °C; 4 % more when it glows"),
		point("service_temperature", 1300, 0.04, srcWire+", 1250 to 1400 °C by the grade; brittle once it has glowed"),
	}, []string{"FeCrAl", "FeCrAl 22/5"}},
	{"nickel-chromium 80/20", []Property{
		density(8300, 0.015, srcWire),
		modulus(220e9, 0.05, srcWire),
		expansion(15e-6, 0.1, srcWire+", 20 to 250 °C; 18e-6 to 1000 °C"),
		conductivity(15, 0.1, srcWire),
		specificHeat(460, 0.05, srcWire),
		resistivity(1.09e-6, 0.03, srcWire+", at 20 °C; 4 to 7 % more when it glows"),
		point("service_temperature", 1150, 0.03, srcWire+", wire of 1 mm and more"),
	}, []string{"NiCr 80/20", "NiCr8020", "nichrome 80/20", "2.4869"}},
	{"PA12 laser sintered", []Property{
		density(930, 0.05, srcPA12),
		modulus(1.7e9, 0.12, "1.5 to 1.8 GPa (from memory), 1.7 to 1.9 GPa at renato.design (seen); dry, halves by 80 °C"),
		expansion(120e-6, 0.25, "100e-6 to 150e-6 (from memory)"),
		conductivity(0.22, 0.3, srcPA12+", to 0.3 (from memory)"),
		specificHeat(1700, 0.1, srcPA12),
		strength(48e6, 0.1, srcPA12),
		point("glass_transition", 50, 0.016, srcPA12),
	}, []string{"polyamide 12 laser sintered"}},
	{"PETG", []Property{
		density(1270, 0.02, "additive.tools, PETG (seen)"),
		modulus(2.1e9, 0.08, srcPETG),
		expansion(68e-6, 0.1, srcPETG),
		conductivity(0.25, 0.2, srcPETG+", 0.29; 0.2 to 0.24 elsewhere (seen)"),
		specificHeat(1200, 0.05, srcPETG),
		strength(50e6, 0.12, srcPETG+", 53 MPa; printed 44 to 56 MPa in the layer, additive.tools (seen); across layers little more than half"),
		point("glass_transition", 81, 0.015, srcPETG),
		point("heat_deflection", 69, 0.015, srcPETG+", at 1.82 MPa"),
	}, []string{"PET-G"}},
	{"POM-C", []Property{
		density(1410, 0.015, srcPOM),
		modulus(2.6e9, 0.1, srcPOM+", 2.5 GPa; "+srcPOMSheet+", 2.86 GPa"),
		expansion(110e-6, 0.1, srcPOMSheet),
		conductivity(0.31, 0.15, "handbooks (from memory)"),
		strength(65e6, 0.05, srcPOM),
		point("service_temperature", 100, 0.015, srcPOMSheet),
	}, []string{"POM copolymer", "acetal copolymer"}},
	{"stainless steel 1.4301", []Property{
		density(7900, 0.01, srcEN10088),
		modulus(200e9, 0.03, srcEN10088),
		expansion(16.0e-6, 0.04, srcEN10088+", 20 to 100 °C"),
		conductivity(15, 0.07, srcEN10088),
		specificHeat(500, 0.03, srcEN10088),
		yieldStrength(210e6, "EN 10088-2, hot rolled plate, minimum (from memory)"),
		strength(520e6, 0, "EN 10088-2, hot rolled plate, minimum (from memory)"),
	}, []string{"stainless 304", "stainless steel 304", "AISI 304", "1.4301", "X5CrNi18-10"}},
	{"stainless steel 1.4401", []Property{
		density(8000, 0.01, srcEN10088),
		modulus(200e9, 0.03, srcEN10088),
		expansion(16.0e-6, 0.04, srcEN10088+", 20 to 100 °C"),
		conductivity(15, 0.07, srcEN10088),
		specificHeat(500, 0.03, srcEN10088),
		yieldStrength(220e6, "EN 10088-2, hot rolled plate, minimum (from memory)"),
		strength(520e6, 0, "EN 10088-2, hot rolled plate, minimum (from memory)"),
	}, []string{"stainless 316", "stainless steel 316", "AISI 316", "1.4401", "X5CrNiMo17-12-2"}},
	{"steel cord", []Property{
		density(7850, 0.01, "as carbon steel, EN 1991-1-1, Table A.4 (seen in a reprint)"),
		modulus(170e9, 0.12, srcPractice+": steel less 10 to 20 % for the lay"),
		expansion(11.9e-6, 0.05, "as carbon steel, "+srcEN1993),
	}, nil},
	{"wool felt 26S1", []Property{
		density(256, 0.1, "ASTM D2475, 0.81 kg/m² at 3.17 mm (seen)"),
		{"compression_modulus", "Pa", 150e3, 0.7, srcPractice + ": 50 to 300 kPa, stiffens when squeezed: measure it"},
		conductivity(0.05, 0.25, srcPractice),
		point("service_temperature", 100, 0.02, srcPractice),
	}, []string{"felt 26S1"}},
}
