package model

import "math"

// LaserMean returns the mean irradiance of a Gaussian beam over a circle in its
// middle,
//
//	E = 4 P/(π a²) (1 - exp(-2 a²/d²))
//
//	P  power                                     W
//	a  diameter of the circle, > 0               m
//	d  1/e² diameter of the beam, ≥ 0            m
//	E  irradiance                                W/m²
//
// A beam narrower than the circle goes through it whole, E = 4 P/(π a²); one
// much wider has its peak there, E = 8 P/(π d²), which is the power over the
// circle of the 1/e diameter d/√2. A beam of even irradiance within d has half
// of that.
// Errors: none. Source: derived (integral of a Gaussian over a circle).
func LaserMean(P, a, d float64) float64 {
	q := a / d
	return 4 * P / (math.Pi * a * a) * -math.Expm1(-2*q*q)
}

// LaserClearWidth returns the 1/e² diameter of a Gaussian beam that has become
// wide enough: its mean over the circle is the limit,
//
//	d = a √(-2/ln(1 - π a² E/(4 P)))
//
//	P      power, > 0                         W
//	a      diameter of the circle, > 0        m
//	limit  greatest irradiance, > 0           W/m²
//	d      1/e² diameter                      m
//
// 0 if the whole power through the circle keeps within the limit. For a small
// circle d = √(8 P/(π E)).
// Errors: none. Source: inverse of LaserMean.
func LaserClearWidth(P, a, limit float64) float64 {
	share := limit * math.Pi * a * a / (4 * P)
	if share >= 1 {
		return 0
	}
	return a * math.Sqrt(-2/math.Log1p(-share))
}

// LaserDiffuse returns the irradiance at a distance from a matt surface that a
// beam hits,
//
//	E = ρ P cos θ/(π r²)
//
//	ρ  share of the power that is sent back
//	P  power                                         W
//	θ  from the normal of the surface                rad
//	r  distance, > 0                                 m
//	E  irradiance                                    W/m²
//
// A perfectly diffuse (Lambertian) surface; the spot as a point, which is too
// high near it.
// Errors: none. Source: Lambert's law; ANSI Z136.1, appendix B (from memory).
func LaserDiffuse(share, P, theta, r float64) float64 {
	return share * P * math.Cos(theta) / (math.Pi * r * r)
}

// opticalDensity is the optical density that brings an irradiance to its limit.
func opticalDensity(E, limit float64) float64 { return max(0, math.Log10(E/limit)) }

var (
	laserPower   = Arg{Name: "power", Unit: "W", Above: at(0), Doc: "of the beam, at its greatest"}
	hazardLimit  = Arg{Name: "permitted", Unit: "W/m^2", Above: at(0), Doc: "greatest irradiance of the eye, from laser_exposure_limit"}
	hazardCircle = Arg{Name: "aperture", Unit: "m", Above: at(0), Doc: "diameter of the circle over which the beam is averaged, from laser_exposure_limit"}
)

// hazardWhole is the density where the beam is narrowest; falls names what it
// falls with.
func hazardWhole(falls string) Res {
	return Res{Name: "worst_density", Unit: "1", Doc: "optical density for the place where the beam is narrowest; round it up", Rises: "power", Falls: falls, Only: true}
}

var hazardModels = []Spec{
	{
		Name: "laser_hazard_distance", Topic: "laser",
		Title: "How far an open laser beam can blind (nominal ocular hazard distance), and how dense eyewear would have to be",
		Args: []Arg{
			laserPower,
			{Name: "diameter", Unit: "m", Above: at(0), Doc: "1/e^2 diameter where the beam leaves, its narrowest; a 1/e diameter times the root of two"},
			{Name: "divergence", Unit: "rad", Above: at(0), High: at(0.2), RangeOf: "small angles, common practice", Doc: "full angle of the 1/e^2 diameter; the least that the laser can have"},
			hazardLimit, hazardCircle,
			{Name: "distance", Unit: "m", AtLeast: at(0), Doc: "of the eye from where the beam leaves"},
		},
		Results: []Res{
			{Name: "hazard_distance", Unit: "m", Doc: "beyond it the beam keeps within the limit; 0 if it does so everywhere", Rises: "power", Falls: "permitted aperture diameter divergence", Only: true},
			{Name: "width", Unit: "m", Doc: "1/e^2 diameter at the distance", Rises: "diameter divergence distance", Only: true},
			{Name: "irradiance", Unit: "W/m^2", Doc: "mean over the circle at the distance", Rises: "power", Falls: "diameter divergence distance aperture", Only: true},
			{Name: "optical_density", Unit: "1", Doc: "that eyewear would need at the distance; round it up", Rises: "power", Falls: "diameter divergence distance aperture permitted"},
			hazardWhole("permitted aperture diameter"),
		},
		Formula: []string{
			"width = sqrt(diameter^2 + (divergence / 1 rad * distance)^2)",
			"irradiance = 4 * power / (pi * aperture^2) * (1 - exp(-2 * (aperture / width)^2))",
			"optical_density = max(0, log10(irradiance / permitted))",
			"worst_density = max(0, log10(4 * power / (pi * aperture^2) * (1 - exp(-2 * (aperture / diameter)^2)) / permitted))",
			"clear = aperture * sqrt(-2 / ln(1 - pi * aperture^2 * permitted / (4 * power)))",
			"hazard_distance = sqrt(clear^2 - diameter^2) * 1 rad / divergence # clear is the diameter at which the limit is kept; 0 where it always is",
		},
		Source: "ANSI Z136.1, appendix B (form seen on a public page: the root of the squares makes it the longer of the two in use); derived (Gaussian beam over a circle)",
		Range:  "one round Gaussian beam that is nowhere narrower than where it leaves: one that still runs together goes to laser_hazard_lens; clear air; several beams, and mirrors, count along their path; " + laserBeyond,
		Fn: func(in *In, out *Out) error {
			P, d0, phi := in.Num("power"), in.Num("diameter"), in.Num("divergence")
			limit, a := in.Num("permitted"), in.Num("aperture")
			width := math.Hypot(d0, phi*in.Num("distance"))
			E := LaserMean(P, a, width)
			far := 0.0
			if clear := LaserClearWidth(P, a, limit); clear > d0 {
				far = math.Sqrt((clear-d0)*(clear+d0)) / phi
			}
			out.Num("hazard_distance", far)
			out.Num("width", width)
			out.Num("irradiance", E)
			out.Num("optical_density", opticalDensity(E, limit))
			out.Num("worst_density", opticalDensity(LaserMean(P, a, d0), limit))
			return nil
		},
	},
	{
		Name: "laser_hazard_lens", Topic: "laser",
		Title: "How far a laser beam behind a lens can blind: through an open door, or off a bright surface",
		Args: []Arg{
			laserPower,
			{Name: "beam_diameter", Unit: "m", Above: at(0), Doc: "1/e^2 diameter at the lens, the least it can have"},
			{Name: "focal_length", Unit: "m", Above: at(0), Doc: "of the lens"},
			hazardLimit, hazardCircle,
			{Name: "distance", Unit: "m", AtLeast: at(0), Doc: "of the eye from the lens, along the path of the beam"},
		},
		Results: []Res{
			{Name: "hazard_distance", Unit: "m", Doc: "from the lens, along the path; beyond it the beam keeps within the limit; 0 if it does so everywhere", Rises: "power focal_length", Falls: "permitted aperture beam_diameter", Only: true},
			{Name: "divergence", Unit: "rad", Doc: "full angle of the beam behind the focus", Rises: "beam_diameter", Falls: "focal_length", Only: true},
			{Name: "width", Unit: "m", Doc: "1/e^2 diameter at the distance", Rises: "beam_diameter power permitted aperture", Falls: "power permitted aperture"},
			{Name: "irradiance", Unit: "W/m^2", Doc: "mean over the circle at the distance", Rises: "power permitted", Falls: "beam_diameter aperture permitted"},
			{Name: "optical_density", Unit: "1", Doc: "that eyewear would need at the distance; round it up", Rises: "power", Falls: "permitted beam_diameter aperture"},
			hazardWhole("permitted aperture"),
		},
		Formula: []string{
			"divergence = beam_diameter / focal_length * 1 rad",
			"width = beam_diameter * abs(distance - focal_length) / focal_length",
			"irradiance = 4 * power / (pi * aperture^2) * (1 - exp(-2 * (aperture / width)^2))",
			"optical_density = max(0, log10(irradiance / permitted))",
			"worst_density = max(0, log10(4 * power / (pi * aperture^2) / permitted))",
			"clear = aperture * sqrt(-2 / ln(1 - pi * aperture^2 * permitted / (4 * power)))",
			"hazard_distance = focal_length + focal_length * clear / beam_diameter # clear is the diameter at which the limit is kept; 0 where it always is",
		},
		Source: "ANSI Z136.1-2014, appendix B, lens on laser, f/b √(4 P/(π E)) behind the focus (seen in a public text that quotes it); derived (cone of the lens, Gaussian beam over a circle)",
		Range:  "one round Gaussian beam, parallel at the lens; the cone of the lens, which is narrower than the true beam near the focus, so that nothing is understated there; a mirror in the beam, or bright metal for it, sends the cone on: the distance counts along the path; " + laserBeyond,
		Fn: func(in *In, out *Out) error {
			P, D, f := in.Num("power"), in.Num("beam_diameter"), in.Num("focal_length")
			limit, a := in.Num("permitted"), in.Num("aperture")
			width := D * math.Abs(in.Num("distance")-f) / f
			E := LaserMean(P, a, width)
			far := 0.0
			if clear := LaserClearWidth(P, a, limit); clear > 0 {
				far = f + f*clear/D
			}
			out.Num("hazard_distance", far)
			out.Num("divergence", D/f)
			out.Num("width", width)
			out.Num("irradiance", E)
			out.Num("optical_density", opticalDensity(E, limit))
			out.Num("worst_density", opticalDensity(LaserMean(P, a, 0), limit))
			return nil
		},
	},
	{
		Name: "laser_diffuse", Topic: "laser",
		Title: "Irradiance of an eye by the matt spot that a laser beam hits, and how far it can blind",
		Args: []Arg{
			laserPower,
			{Name: "reflectance", Unit: "1", Above: at(0), AtMost: at(1), Doc: "share of the power that the surface sends back; 1 if it is not known"},
			{Name: "angle", Unit: "rad", AtLeast: at(0), AtMost: at(math.Pi / 2), Doc: "of the eye from the normal of the surface; 0 is the worst"},
			{Name: "distance", Unit: "m", Above: at(0), Doc: "of the eye from the spot"},
			hazardLimit,
		},
		Results: []Res{
			{Name: "irradiance", Unit: "W/m^2", Doc: "at the distance", Rises: "reflectance power", Falls: "angle distance", Only: true},
			{Name: "hazard_distance", Unit: "m", Doc: "from the spot, at that angle; beyond it the reflection keeps within the limit", Rises: "reflectance power", Falls: "angle permitted", Only: true},
			{Name: "optical_density", Unit: "1", Doc: "that eyewear would need at the distance; round it up", Rises: "reflectance power", Falls: "angle distance permitted"},
		},
		Formula: []string{
			"irradiance = reflectance * power * cos(angle) / (pi * distance^2)",
			"hazard_distance = sqrt(reflectance * power * cos(angle) / (pi * permitted))",
			"optical_density = max(0, log10(irradiance / permitted))",
		},
		Source: "Lambert's law; ANSI Z136.1, appendix B (from memory)",
		Range:  "a matt surface, which is rare at long waves: at 10.6 µm most metals and much that looks dull reflect as mirrors, for which laser_hazard_lens and laser_hazard_distance hold; the spot as a point, too high near it; the limit of a small source, below that of the spot an eye sees; " + laserBeyond,
		Fn: func(in *In, out *Out) error {
			share, P, theta, limit := in.Num("reflectance"), in.Num("power"), in.Num("angle"), in.Num("permitted")
			E := LaserDiffuse(share, P, theta, in.Num("distance"))
			out.Num("irradiance", E)
			out.Num("hazard_distance", math.Sqrt(LaserDiffuse(share, P, theta, 1)/limit))
			out.Num("optical_density", opticalDensity(E, limit))
			return nil
		},
	},
}
