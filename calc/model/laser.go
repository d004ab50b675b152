package model

import (
	"math"
	"slices"
)

// ArealEnergy returns the laser energy per area of a hatched layer (Andrew
// number), A_N = P/(v h).
//
//	P  absorbed or incident power, > 0   W
//	v  scan speed, > 0                   m/s
//	h  distance of the hatch lines, > 0  m
//
// The mean over the layer, exact for any profile of the beam; turns and
// contours left out.
// Errors: none. Source: Nelson, 1993; Starr et al., Rapid Prototyping Journal
// 17 (2011) 418 (from memory).
func ArealEnergy(P, v, h float64) float64 { return P / (v * h) }

// LineFluence returns the energy per area that one pass of a Gaussian beam
// leaves at a distance y from its line,
//
//	H(y) = √(2/π) P/(w v) exp(-2 y²/w²)
//
//	P  power                              W
//	v  scan speed, > 0                    m/s
//	w  1/e² radius of the beam, > 0       m
//	y  distance from the line             m
//	H  fluence                            J/m²
//
// Errors: none. Source: derived (integral of a Gaussian along the line).
func LineFluence(P, v, w, y float64) float64 {
	return math.Sqrt(2/math.Pi) * P / (w * v) * math.Exp(-2*y*y/(w*w))
}

// Spot returns the diameter of a focused beam and how far it stays narrow,
//
//	d₀ = 4 M² λ f/(π D), z_R = π d₀²/(4 M² λ), d(z) = d₀ √(1 + (z/z_R)²)
//
//	λ   wavelength, > 0                     m
//	M2  beam quality, ≥ 1
//	f   focal length, > 0                   m
//	D   1/e² diameter at the lens, > 0      m
//	z   distance from the focus             m
//	d0, d  1/e² diameters in and off focus  m
//	zR  Rayleigh length                     m
//
// Paraxial; the lens adds no error of its own.
// Errors: none. Source: ISO 11146-1 (from memory).
func Spot(wavelength, M2, f, D, z float64) (d0, zR, d float64) {
	d0 = 4 * M2 * wavelength * f / (math.Pi * D)
	zR = math.Pi * d0 * d0 / (4 * M2 * wavelength)
	return d0, zR, d0 * math.Hypot(1, z/zR)
}

// laserModels is the table of the models of lasers.
var laserModels = slices.Concat(beamModels, limitModels, hazardModels)

var beamModels = []Spec{
	{
		Name: "laser_energy", Topic: "laser",
		Title: "Energy that a laser leaves in a layer of powder",
		Args: []Arg{
			{Name: "power", Unit: "W", Above: at(0), Doc: "at the powder"},
			{Name: "absorptance", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the powder at the laser's wavelength; 1 for incident energy"},
			{Name: "speed", Unit: "m/s", Above: at(0), Doc: "scan speed"},
			{Name: "hatch", Unit: "m", Above: at(0), Doc: "distance of the lines"},
			{Name: "layer", Unit: "m", Above: at(0), Doc: "layer thickness"},
			{Name: "spot", Unit: "m", Above: at(0), Doc: "1/e^2 diameter of the beam"},
			{Name: "bulk", Unit: "kg/m^3", Above: at(0), Doc: "bulk density of the powder"},
			{Name: "specific_heat", Unit: "J/(kg*K)", Above: at(0), Doc: "of the powder"},
			{Name: "rise", Unit: "K", AtLeast: at(0), Doc: "melting above the bed's temperature"},
			{Name: "melting_enthalpy", Unit: "J/kg", AtLeast: at(0), Doc: "of the powder, from its DSC"},
		},
		Results: []Res{
			{Name: "areal", Unit: "J/m^2", Doc: "energy per area that the powder takes up; the literature on polyamide sends 1e4 to 6e4 J/m^2 to it (Andrew number, absorptance left out)", Rises: "absorptance power", Falls: "speed hatch", Only: true},
			{Name: "volumetric", Unit: "J/m^3", Doc: "energy per volume of layer", Rises: "absorptance power", Falls: "speed hatch layer", Only: true},
			{Name: "demand", Unit: "J/m^3", Doc: "heat to melt that volume", Rises: "bulk specific_heat rise melting_enthalpy", Only: true},
			{Name: "ratio", Unit: "1", Doc: "volumetric to demand; below 1 the layer cannot melt", Rises: "absorptance power", Falls: "speed hatch layer bulk specific_heat rise melting_enthalpy", Only: true},
			{Name: "overlap", Unit: "1", Doc: "spot to hatch; below 1 stripes stay unmelted", Rises: "spot", Falls: "hatch", Only: true},
			{Name: "peak", Unit: "J/m^2", Doc: "energy per area on a line, of its own pass", Rises: "absorptance power", Falls: "spot speed", Only: true},
		},
		Formula: []string{
			"areal = absorptance * power / (speed * hatch)",
			"volumetric = areal / layer",
			"demand = bulk * (specific_heat * rise + melting_enthalpy)",
			"ratio = volumetric / demand",
			"overlap = spot / hatch",
			"peak = sqrt(2 / pi) * absorptance * power / (spot / 2 * speed)",
		},
		Source: "Nelson 1993; Starr et al., Rapid Prototyping Journal 17 (2011) 418 (both from memory); \"of the order of 0.2 J per mm3\" for polyamide: Franco, Lanzetta & Romoli 2010 (seen)",
		Range:  "mean over a hatched layer; no turns, contours or losses into the bed; Gaussian beam for the peak; says nothing of the safety of eyes and skin: laser_exposure_limit and laser_hazard_lens say how far the beam reaches, the laser's class and IEC 60825-1 count",
		Fn: func(in *In, out *Out) error {
			P := in.Num("absorptance") * in.Num("power")
			v, h, spot := in.Num("speed"), in.Num("hatch"), in.Num("spot")
			a := ArealEnergy(P, v, h)
			vol := a / in.Num("layer")
			demand := in.Num("bulk") * (in.Num("specific_heat")*in.Num("rise") + in.Num("melting_enthalpy"))
			if demand == 0 {
				return Bad("melting_enthalpy", "rise and melting_enthalpy are both 0: nothing needs to melt")
			}
			if sent := ArealEnergy(in.Num("power"), v, h); sent < 1e4 || sent > 6e4 {
				in.Outside("power", "%.3g J/m^2 sent to the powder lie outside what the literature reports for polyamide, 1e4 to 6e4 J/m^2 (Starr et al. 2011 and others, from memory)", sent)
			}
			out.Num("areal", a)
			out.Num("volumetric", vol)
			out.Num("demand", demand)
			out.Num("ratio", vol/demand)
			out.Num("overlap", spot/h)
			out.Num("peak", LineFluence(P, v, spot/2, 0))
			return nil
		},
	},
	{
		Name: "laser_spot", Topic: "laser",
		Title: "Diameter of a focused laser beam, in the focus and off it",
		Args: []Arg{
			{Name: "wavelength", Unit: "m", Above: at(0), Low: at(200e-9), High: at(20e-6), RangeOf: "optical lasers, common practice", Doc: "of the laser"},
			{Name: "beam_quality", Unit: "1", AtLeast: at(1), Doc: "M^2, 1 for a perfect beam"},
			{Name: "focal_length", Unit: "m", Above: at(0), Doc: "of the lens"},
			{Name: "beam_diameter", Unit: "m", Above: at(0), Doc: "1/e^2 diameter at the lens"},
			{Name: "off_focus", Unit: "m", Doc: "distance of the powder from the focus"},
		},
		Results: []Res{
			{Name: "focus", Unit: "m", Doc: "1/e^2 diameter in the focus", Rises: "beam_quality wavelength focal_length", Falls: "beam_diameter", Only: true},
			{Name: "rayleigh_length", Unit: "m", Doc: "distance at which it has grown by the root of two", Rises: "beam_quality wavelength focal_length", Falls: "beam_diameter", Only: true},
			{Name: "spot", Unit: "m", Doc: "1/e^2 diameter on the powder", Rises: "beam_quality wavelength"},
		},
		Formula: []string{
			"focus = 4 * beam_quality * wavelength * focal_length / (pi * beam_diameter)",
			"rayleigh_length = pi * focus^2 / (4 * beam_quality * wavelength)",
			"spot = focus * sqrt(1 + (off_focus / rayleigh_length)^2)",
		},
		Source: "ISO 11146-1 (from memory)",
		Range:  "focal length well above the beam's diameter (f/D > 5: paraxial); perfect lens; parallel beam; a diode's two axes each by itself, with its own beam quality",
		Fn: func(in *In, out *Out) error {
			f, D := in.Num("focal_length"), in.Num("beam_diameter")
			if f < 5*D {
				in.Outside("focal_length", "less than five beam diameters: the beam is no longer paraxial (common practice)")
			}
			d0, zR, d := Spot(in.Num("wavelength"), in.Num("beam_quality"), f, D, in.Num("off_focus"))
			out.Num("focus", d0)
			out.Num("rayleigh_length", zR)
			out.Num("spot", d)
			return nil
		},
	},
	{
		Name: "scan_time", Topic: "laser",
		Title: "Time to scan a layer, and to build all layers",
		Args: []Arg{
			{Name: "area", Unit: "m^2", AtLeast: at(0), Doc: "area hatched in a mean layer"},
			{Name: "width", Unit: "m", AtLeast: at(0), Doc: "its width across the hatch lines"},
			{Name: "hatch", Unit: "m", Above: at(0), Doc: "distance of the lines"},
			{Name: "speed", Unit: "m/s", Above: at(0), Doc: "scan speed"},
			{Name: "turn_time", Unit: "s", AtLeast: at(0), Doc: "from the end of one line to the start of the next"},
			{Name: "contour", Unit: "m", AtLeast: at(0), Doc: "length of the contours in a mean layer"},
			{Name: "contour_speed", Unit: "m/s", Above: at(0), Doc: "speed along them"},
			{Name: "recoat", Unit: "s", AtLeast: at(0), Doc: "to spread a layer and warm it"},
			{Name: "layers", Unit: "1", AtLeast: at(1), Doc: "layers of the build"},
		},
		Results: []Res{
			{Name: "lines", Unit: "1", Doc: "hatch lines in a layer", Rises: "width", Falls: "hatch", Only: true},
			{Name: "scan", Unit: "s", Doc: "laser on or turning, a layer", Rises: "area width turn_time contour", Falls: "hatch speed contour_speed", Only: true},
			{Name: "per_layer", Unit: "s", Doc: "with recoating", Rises: "area width turn_time contour recoat", Falls: "hatch speed contour_speed", Only: true},
			{Name: "build", Unit: "s", Doc: "all layers, without warming up and cooling", Rises: "area width turn_time contour recoat layers", Falls: "hatch speed contour_speed"},
			{Name: "share", Unit: "1", Doc: "share of the time that hatches: the rest is turns, contours and recoating", Rises: "area contour_speed layers", Falls: "width speed turn_time contour recoat layers"},
		},
		Formula: []string{
			"lines = ceil(width / hatch)",
			"scan = area / (hatch * speed) + lines * turn_time + contour / contour_speed",
			"per_layer = scan + recoat",
			"build = layers * per_layer",
			"share = area / (hatch * speed) / per_layer",
		},
		Source: "derived (counting); common practice",
		Range:  "one block of parallel lines; speed constant along a line",
		Fn: func(in *In, out *Out) error {
			h := in.Num("hatch")
			if (in.Num("area") == 0) != (in.Num("width") == 0) {
				return Bad("width", "%s with an area of %s: both are 0 or none", show(in.Num("width"), "m"), show(in.Num("area"), "m^2"))
			}
			hatching := in.Num("area") / (h * in.Num("speed"))
			lines := wholeLayers(in.Num("width"), h)
			scan := hatching + lines*in.Num("turn_time") + in.Num("contour")/in.Num("contour_speed")
			per := scan + in.Num("recoat")
			if per == 0 {
				return Bad("area", "nothing takes any time: area, contour and recoat are all 0")
			}
			out.Num("lines", lines)
			out.Num("scan", scan)
			out.Num("per_layer", per)
			out.Num("build", in.Num("layers")*per)
			out.Num("share", hatching/per)
			return nil
		},
	},
}
