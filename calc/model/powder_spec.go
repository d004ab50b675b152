package model

import "math"

var powderModels = []Spec{
	{
		Name: "rounded_chamber", Topic: "powder",
		Title: "Area, volume and wall of a chamber with rounded corners",
		Args: []Arg{
			{Name: "width", Unit: "m", Above: at(0), Doc: "inside, along x"},
			{Name: "depth", Unit: "m", Above: at(0), Doc: "inside, along y"},
			{Name: "corner_radius", Unit: "m", AtLeast: at(0), Doc: "inside radius of the four corners"},
			{Name: "height", Unit: "m", Above: at(0), Doc: "height of the powder"},
		},
		Results: []Res{
			{Name: "area", Unit: "m^2", Doc: "of the opening", Rises: "width depth", Falls: "corner_radius", Only: true},
			{Name: "volume", Unit: "m^3", Doc: "of the chamber", Rises: "width depth height", Falls: "corner_radius"},
			{Name: "perimeter", Unit: "m", Doc: "along the wall, the length of a piston's seal", Rises: "width depth", Falls: "corner_radius", Only: true},
			{Name: "wall", Unit: "m^2", Doc: "area of the wall", Rises: "width depth height", Falls: "corner_radius"},
		},
		Formula: []string{
			"area = width * depth - (4 - pi) * corner_radius^2",
			"volume = area * height",
			"perimeter = 2 * (width + depth) - (8 - 2 * pi) * corner_radius",
			"wall = perimeter * height",
		},
		Source: "plane geometry, derived; Machinery's Handbook, areas of plane figures (from memory)",
		Range:  "exact for upright walls",
		Fn: func(in *In, out *Out) error {
			a, b, r, h := in.Num("width"), in.Num("depth"), in.Num("corner_radius"), in.Num("height")
			A, err := RoundedArea(a, b, r)
			if err != nil {
				return err
			}
			p := 2*(a+b) - (8-2*math.Pi)*r
			out.Num("area", A)
			out.Num("volume", A*h)
			out.Num("perimeter", p)
			out.Num("wall", p*h)
			return nil
		},
	},
	{
		Name: "powder_fill", Topic: "powder",
		Title: "Mass of powder in a volume, loose and tapped, and its weight",
		Args: []Arg{
			{Name: "volume", Unit: "m^3", Above: at(0), Doc: "volume that is filled"},
			{Name: "bulk", Unit: "kg/m^3", Above: at(0), Low: at(100), High: at(2000), RangeOf: "polymer powders 430 to 480 kg/m^3, from memory", Doc: "bulk density, poured"},
			{Name: "tapped", Unit: "kg/m^3", Above: at(0), Doc: "tapped density"},
		},
		Results: []Res{
			{Name: "mass", Unit: "kg", Doc: "poured", Rises: "volume bulk", Only: true},
			{Name: "mass_tapped", Unit: "kg", Doc: "after tapping: the most that may lie in the volume", Rises: "volume tapped", Only: true},
			{Name: "weight", Unit: "N", Doc: "of the tapped powder, standard gravity", Rises: "volume tapped", Only: true},
			{Name: "settling", Unit: "1", Doc: "share of its height that poured powder loses when tapped", Rises: "tapped", Falls: "bulk", Only: true},
		},
		Formula: []string{
			"mass = bulk * volume",
			"mass_tapped = tapped * volume",
			"weight = mass_tapped * g # g is the standard acceleration of gravity",
			"settling = 1 - bulk / tapped",
		},
		Source: "derived from the definitions of bulk and tapped density, USP <616> (from memory); standard gravity, CGPM 1901 (from memory)",
		Range:  "powder of one density throughout",
		Fn: func(in *In, out *Out) error {
			v, bulk, tapped := in.Num("volume"), in.Num("bulk"), in.Num("tapped")
			_, ci, err := HausnerCarr(bulk, tapped)
			if err != nil {
				return err
			}
			out.Num("mass", bulk*v)
			out.Num("mass_tapped", tapped*v)
			out.Num("weight", tapped*v*standardGravity)
			out.Num("settling", ci)
			return nil
		},
	},
	{
		Name: "powder_layers", Topic: "powder",
		Title: "Layers of a build and the depth of chamber they take",
		Args: []Arg{
			{Name: "part_height", Unit: "m", Above: at(0), Doc: "height of the highest part"},
			{Name: "layer", Unit: "m", Above: at(0), Low: at(20e-6), High: at(0.5e-3), RangeOf: "common practice, 0.06 to 0.2 mm", Doc: "layer thickness"},
			{Name: "base", Unit: "m", AtLeast: at(0), Doc: "powder spread below the parts, while warming up"},
			{Name: "cover", Unit: "m", AtLeast: at(0), Doc: "powder spread above them, before cooling"},
		},
		Results: []Res{
			{Name: "part_layers", Unit: "1", Doc: "layers of the parts", Rises: "part_height", Falls: "layer", Only: true},
			{Name: "layers", Unit: "1", Doc: "all layers", Rises: "part_height base cover", Falls: "layer"},
			{Name: "build_depth", Unit: "m", Doc: "travel of the build piston", Rises: "part_height base cover"},
		},
		Formula: []string{
			"part_layers = ceil(part_height / layer)",
			"layers = part_layers + ceil(base / layer) + ceil(cover / layer)",
			"build_depth = layers * layer",
		},
		Source: "derived (counting); warm-up and cover layers are common practice",
		Range:  "layers of one thickness",
		Fn: func(in *In, out *Out) error {
			t := in.Num("layer")
			parts := wholeLayers(in.Num("part_height"), t)
			n := parts + wholeLayers(in.Num("base"), t) + wholeLayers(in.Num("cover"), t)
			out.Num("part_layers", parts)
			out.Num("layers", n)
			out.Num("build_depth", n*t)
			return nil
		},
	},
	{
		Name: "powder_use", Topic: "powder",
		Title: "Powder that a build takes from the reservoir and sends to the overflow",
		Args: []Arg{
			{Name: "build_area", Unit: "m^2", Above: at(0), Doc: "opening of the build chamber"},
			{Name: "reservoir_area", Unit: "m^2", Above: at(0), Doc: "opening of the reservoir"},
			{Name: "layer", Unit: "m", Above: at(0), Doc: "layer thickness"},
			{Name: "layers", Unit: "1", AtLeast: at(1), Doc: "all layers of the build"},
			{Name: "overdose", Unit: "1", AtLeast: at(1), High: at(3), RangeOf: "common practice, 1.2 to 2", Doc: "powder brought to powder needed"},
			{Name: "reserve", Unit: "1", AtLeast: at(0), Low: at(0.1), RangeOf: "common practice: a tenth", Doc: "share added to the reservoir"},
			{Name: "reservoir_depth", Unit: "m", Above: at(0), Doc: "depth of the reservoir"},
			{Name: "overflow_capacity", Unit: "m^3", Above: at(0), Doc: "what the overflow bins hold"},
			{Name: "bulk", Unit: "kg/m^3", Above: at(0), Doc: "bulk density of the powder"},
		},
		Results: []Res{
			{Name: "per_layer", Unit: "m^3", Doc: "powder of a finished layer", Rises: "build_area layer", Only: true},
			{Name: "fed", Unit: "m^3", Doc: "powder taken from the reservoir", Rises: "build_area layer layers overdose", Only: true},
			{Name: "fed_mass", Unit: "kg", Doc: "its mass", Rises: "build_area layer layers overdose bulk", Only: true},
			{Name: "overflow", Unit: "m^3", Doc: "powder pushed into the overflow", Rises: "build_area layer layers overdose", Only: true},
			{Name: "overflow_mass", Unit: "kg", Doc: "its mass", Rises: "build_area layer layers overdose bulk", Only: true},
			{Name: "overflow_spare", Unit: "m^3", Doc: "room left in the bins; negative: they spill", Rises: "overflow_capacity", Falls: "build_area layer layers overdose", Only: true},
			{Name: "feed_step", Unit: "m", Doc: "rise of the reservoir's piston for each layer", Rises: "build_area layer overdose", Falls: "reservoir_area", Only: true},
			{Name: "depth_needed", Unit: "m", Doc: "depth of reservoir with its reserve", Rises: "build_area layer layers overdose reserve", Falls: "reservoir_area", Only: true},
			{Name: "depth_spare", Unit: "m", Doc: "depth left; negative: it runs out", Rises: "reservoir_depth reservoir_area", Falls: "build_area layer layers overdose reserve", Only: true},
			{Name: "ratio", Unit: "1", Doc: "rise of the reservoir to drop of the build chamber", Rises: "build_area overdose", Falls: "reservoir_area", Only: true},
		},
		Formula: []string{
			"per_layer = build_area * layer",
			"fed = overdose * per_layer * layers",
			"fed_mass = fed * bulk",
			"overflow = (overdose - 1) * per_layer * layers",
			"overflow_mass = overflow * bulk",
			"overflow_spare = overflow_capacity - overflow",
			"ratio = overdose * build_area / reservoir_area",
			"feed_step = ratio * layer",
			"depth_needed = feed_step * layers * (1 + reserve)",
			"depth_spare = reservoir_depth - depth_needed",
		},
		Source: "derived (conservation of volume); overdosing and reserve are common practice",
		Range:  "all volumes at the same bulk density; nothing lost as dust, all that is not needed goes to the overflow",
		Fn: func(in *In, out *Out) error {
			u := Powder(in.Num("build_area"), in.Num("reservoir_area"), in.Num("layer"), in.Num("layers"), in.Num("overdose"), in.Num("reserve"), in.Num("bulk"))
			out.Num("per_layer", u.Layer)
			out.Num("fed", u.Feed)
			out.Num("fed_mass", u.Moved)
			out.Num("overflow", u.OverVolume)
			out.Num("overflow_mass", u.OverMass)
			out.Num("overflow_spare", in.Num("overflow_capacity")-u.OverVolume)
			out.Num("feed_step", u.Ratio*in.Num("layer"))
			out.Num("depth_needed", u.Depth)
			out.Num("depth_spare", in.Num("reservoir_depth")-u.Depth)
			out.Num("ratio", u.Ratio)
			return nil
		},
	},
	{
		Name: "powder_flow", Topic: "powder",
		Title: "Hausner ratio and Carr's index: will the powder spread?",
		Args: []Arg{
			{Name: "bulk", Unit: "kg/m^3", Above: at(0), Doc: "bulk density, poured"},
			{Name: "tapped", Unit: "kg/m^3", Above: at(0), Doc: "tapped density"},
		},
		Results: []Res{
			{Name: "hausner", Unit: "1", Doc: "Hausner ratio; above 1.25 spreading is doubtful", Rises: "tapped", Falls: "bulk"},
			{Name: "carr", Unit: "1", Doc: "Carr's index", Rises: "tapped", Falls: "bulk"},
			{Name: "class", Unit: "1", Doc: "flow: 1 excellent, 2 good, 3 fair, 4 passable, 5 poor, 6 very poor, 7 worse", Rises: "tapped", Falls: "bulk"},
		},
		Formula: []string{
			"hausner = tapped / bulk",
			"carr = 1 - bulk / tapped",
			"class = 1 + n # n is the number of the bounds 1.11, 1.18, 1.25, 1.34, 1.45, 1.59 that hausner, rounded to two places, exceeds",
		},
		Source: "USP <1174>, Ph. Eur. 2.9.36 (seen in a reprint)",
		Range:  "a comparison of powders tested alike, at room temperature; says nothing of a powder near melting",
		Fn: func(in *In, out *Out) error {
			hr, ci, err := HausnerCarr(in.Num("bulk"), in.Num("tapped"))
			if err != nil {
				return err
			}
			out.Num("hausner", hr)
			out.Num("carr", ci)
			out.Num("class", float64(flowClass(hr)))
			return nil
		},
	},
	{
		Name: "powder_refresh", Topic: "powder",
		Title: "Age of a stock of powder that is refreshed before each build",
		Args: []Arg{
			{Name: "virgin", Unit: "1", Above: at(0), AtMost: at(1), Low: at(0.2), High: at(0.7), RangeOf: "common practice 0.3 to 0.5 (0.3 seen: Polymers 17 (2025) 577)", Doc: "share of virgin powder in each mix"},
			{Name: "builds", Unit: "1", AtLeast: at(0), Doc: "number of builds"},
			{Name: "mix", Unit: "kg", Above: at(0), Doc: "mass of powder made up for each build"},
		},
		Results: []Res{
			{Name: "virgin_mass", Unit: "kg", Doc: "virgin powder for each mix", Rises: "virgin mix", Only: true},
			{Name: "used_mass", Unit: "kg", Doc: "used powder for each mix", Rises: "mix", Falls: "virgin", Only: true},
			{Name: "mean_age", Unit: "1", Doc: "builds that the powder has been through on average, in the long run", Falls: "virgin", Only: true},
			{Name: "never_replaced", Unit: "1", Doc: "share of the first stock left after those builds", Falls: "virgin builds", Only: true},
		},
		Formula: []string{
			"virgin_mass = virgin * mix",
			"used_mass = (1 - virgin) * mix",
			"mean_age = (1 - virgin) / virgin",
			"never_replaced = (1 - virgin)^builds",
		},
		Source: "derived: ages of a well mixed stock follow the geometric distribution",
		Range:  "well mixed stock of constant size; age by builds, not by hours at temperature",
		Fn: func(in *In, out *Out) error {
			v := in.Num("virgin")
			age, old := Refresh(v, in.Num("builds"))
			out.Num("virgin_mass", v*in.Num("mix"))
			out.Num("used_mass", (1-v)*in.Num("mix"))
			out.Num("mean_age", age)
			out.Num("never_replaced", old)
			return nil
		},
	},
	{
		Name: "powder_gap", Topic: "powder",
		Title: "Does powder run through a gap, cold and hot?",
		Args: []Arg{
			{Name: "gap", Unit: "m", AtLeast: at(0), Doc: "gap between piston or blade and wall, cold"},
			{Name: "d10", Unit: "m", Above: at(0), Doc: "particle size that 10 % of the powder lie below"},
			{Name: "d90", Unit: "m", Above: at(0), Doc: "particle size that 90 % lie below"},
			{Name: "outer_length", Unit: "m", Above: at(0), Doc: "inside width of the outer part, from the middle to the gap"},
			{Name: "outer_expansion", Unit: "K^-1", Doc: "its coefficient of expansion"},
			{Name: "inner_expansion", Unit: "K^-1", Doc: "coefficient of expansion of the inner part"},
			{Name: "outer_rise", Unit: "K", Doc: "how much hotter the outer part gets"},
			{Name: "inner_rise", Unit: "K", Doc: "how much hotter the inner part gets"},
		},
		Results: []Res{
			{Name: "hot_gap", Unit: "m", Doc: "gap when hot; negative: it jams", Rises: "d10 d90", Falls: "d10 d90"},
			{Name: "sieve_ratio", Unit: "1", Doc: "wider of cold and hot gap to d10; below 1 the powder holds itself back", Rises: "d90", Falls: "d10 d90"},
			{Name: "flow_ratio", Unit: "1", Doc: "wider of cold and hot gap to d90; above 3 it runs freely", Rises: "d10", Falls: "d90 d10"},
			{Name: "class", Unit: "1", Doc: "1 holds, 2 needs a felt or lip, 3 runs", Falls: "d10 d90"},
		},
		Formula: []string{
			"hot_gap = gap + outer_length * outer_expansion * outer_rise - (outer_length - gap) * inner_expansion * inner_rise",
			"s = max(gap, hot_gap)",
			"sieve_ratio = s / d10",
			"flow_ratio = s / d90",
			"class = if sieve_ratio < 1 then 1 else if flow_ratio <= 3 then 2 else 3",
		},
		Source: "common practice: no standard was found; the change of the gap is derived from linear expansion",
		Range:  "dry powder, gap long in the direction of flow; one side of the piston, centred: off centre one side is up to twice as wide",
		Fn: func(in *In, out *Out) error {
			g, d10, d90 := in.Num("gap"), in.Num("d10"), in.Num("d90")
			if d90 < d10 {
				return Bad("d90", "%s: must be at least d10, %s", show(d90, "m"), show(d10, "m"))
			}
			L := in.Num("outer_length")
			if g >= L {
				return Bad("gap", "%s: must be less than outer_length, %s", show(g, "m"), show(L, "m"))
			}
			hot := g + L*in.Num("outer_expansion")*in.Num("outer_rise") - (L-g)*in.Num("inner_expansion")*in.Num("inner_rise")
			s := max(g, hot)
			class := 3.0
			switch {
			case s < d10:
				class = 1
			case s <= 3*d90:
				class = 2
			}
			out.Num("hot_gap", hot)
			out.Num("sieve_ratio", s/d10)
			out.Num("flow_ratio", s/d90)
			out.Num("class", class)
			return nil
		},
	},
	{
		Name: "dust_concentration", Topic: "powder",
		Title: "Dust in the air if a layer of powder is raised: a caution, not a proof of safety",
		Args: []Arg{
			{Name: "layer", Unit: "m", AtLeast: at(0), Doc: "thickness of the settled powder"},
			{Name: "bulk", Unit: "kg/m^3", Above: at(0), Doc: "its bulk density"},
			{Name: "cloud_height", Unit: "m", Above: at(0), Doc: "height through which it is raised"},
			{Name: "explosive_from", Unit: "kg/m^3", Above: at(0), Doc: "least explosive concentration of this very powder, from its safety data sheet"},
		},
		Results: []Res{
			{Name: "concentration", Unit: "kg/m^3", Doc: "if all of it is raised and spread evenly", Rises: "layer bulk", Falls: "cloud_height", Only: true},
			{Name: "share", Unit: "1", Doc: "of the least explosive concentration; keep it below a quarter", Rises: "layer bulk", Falls: "cloud_height explosive_from"},
			{Name: "layer_allowed", Unit: "m", Doc: "thickness that gives a quarter of it", Rises: "explosive_from cloud_height", Falls: "bulk", Only: true},
		},
		Formula: []string{
			"concentration = bulk * layer / cloud_height",
			"share = concentration / explosive_from",
			"layer_allowed = explosive_from * cloud_height / (4 * bulk)",
		},
		Source: "Eckhoff, Dust Explosions in the Process Industries, ch. 1 (from memory; its example seen at iab-ingenieurs.nl); a quarter as NFPA 69 (from memory)",
		Range:  "even cloud; a real one is denser in places, so a share below a quarter does not prove that there is no danger; the least explosive concentration is stated for air at room temperature, hot air and vapours lower it",
		Fn: func(in *In, out *Out) error {
			c := in.Num("bulk") * in.Num("layer") / in.Num("cloud_height")
			out.Num("concentration", c)
			out.Num("share", c/in.Num("explosive_from"))
			out.Num("layer_allowed", in.Num("explosive_from")*in.Num("cloud_height")/(4*in.Num("bulk")))
			return nil
		},
	},
}

// wholeLayers rounds up, but does not make a layer of the rounding of the
// division: 12 mm are 120 layers of 0.1 mm, not 121.
func wholeLayers(height, layer float64) float64 {
	n := height / layer
	if r := math.Round(n); math.Abs(n-r) < 1e-9*max(r, 1) {
		return r
	}
	return math.Ceil(n)
}
