package model

import (
	"math"
	"slices"
)

const beamSource = "Gere, Mechanics of Materials, ch. 9 (ex. 9.3 seen); same cases in Roark, Formulas for Stress and Strain, Table 8.1 (from memory)"

var beamEnds = []Ends{PinnedPinned, FixedPinned, FixedFixed, FixedFree}

// sagResults of a beam that stiff makes stiffer and weight heavier; free does
// not change its moments. Every load bends every place downward, the more the
// further the right end lies from it. The moment too rises with each load and
// with the length: where one load takes from the other at a place, an end or
// the place under the force has the larger moment, and both add there.
func sagResults(stiff, weight, free string) []Res {
	return []Res{
		{Name: "at_load", Unit: "m", Doc: "deflection where the load sits, own weight included", Rises: "load length " + weight, Falls: stiff},
		{Name: "maximum", Unit: "m", Doc: "largest deflection", Rises: "load length " + weight, Falls: stiff},
		{Name: "maximum_at", Unit: "m", Doc: "its place from the left end"},
		{Name: "own", Unit: "m", Doc: "largest deflection by the own weight alone, 0 without it", Rises: "length " + weight, Falls: stiff, Only: true},
		{Name: "stiffness", Unit: "N/m", Doc: "load per deflection where it sits", Rises: stiff + " load " + weight, Falls: "length load " + weight},
		{Name: "moment", Unit: "N*m", Doc: "largest bending moment, without sign", Rises: "load length " + weight + " " + stiff, Falls: free},
	}
}

var sagFormula = []string{
	"at_load = load * flexibility + own_weight * shape # flexibility and shape follow from the elastic line E I w'''' = q held at its ends",
	"at_load = load * at^2 * (length - at)^2 / (3 * stiff * length) + own_weight * at * (length^3 - 2 * length * at^2 + at^3) / (24 * stiff) # pinned-pinned; stiff is E I",
	"at_load = load * at^3 * (length - at)^3 / (3 * stiff * length^3) + own_weight * at^2 * (length - at)^2 / (24 * stiff) # fixed-fixed; stiff is E I",
	"at_load = load * at^3 / (3 * stiff) + own_weight * at^2 * (6 * length^2 - 4 * length * at + at^2) / (24 * stiff) # fixed-free; stiff is E I",
}

// lifeResults do not depend on free. The running time is (C/F)^p of each part
// over its speed, in the mean of the shares: it falls with each speed.
func lifeResults(free string) []Res {
	return []Res{
		{Name: "mean_load", Unit: "N", Doc: "constant load that wears alike", Rises: "loads dynamic_rating reliability_factor " + free, Falls: "dynamic_rating reliability_factor " + free},
		{Name: "mean_speed", Unit: "rad/s", Doc: "mean speed", Rises: "speeds loads dynamic_rating reliability_factor " + free, Falls: "loads dynamic_rating reliability_factor " + free},
		{Name: "revolutions", Unit: "1", Doc: "life in turns", Rises: "dynamic_rating reliability_factor " + free, Falls: "loads " + free},
		{Name: "life", Unit: "s", Doc: "life as running time", Rises: "dynamic_rating reliability_factor " + free, Falls: "loads speeds " + free},
	}
}

// ballLife is the formula of a life of balls, at the exponent 3.
var ballLife = []string{
	"mean_speed = sum(speeds * shares) / sum(shares)",
	"mean_load = (sum(loads^3 * speeds * shares) / sum(speeds * shares))^(1 / 3) # balls",
	"revolutions = reliability_factor * (dynamic_rating / mean_load)^3 * 1e6 # balls",
	"life = revolutions * 1 turn / mean_speed",
}

// rollingLife computes lifeResults.
func rollingLife(in *In, out *Out, p float64) error {
	_, c, err := in.columns("loads", "speeds", "shares")
	if err != nil {
		return err
	}
	Fm, nm := MeanLoad(c[0], c[1], c[2], p)
	C := in.Num("dynamic_rating")
	if Fm == 0 {
		return Bad("loads", "no part of the duty is loaded: the life has no end")
	}
	if top := slices.Max(c[0]); top > C/2 {
		in.Outside("loads", "a load of %s is more than half the rating of %s", show(top, "N"), show(C, "N"))
	}
	a := 1.0
	if in.Has("reliability_factor") {
		a = in.Num("reliability_factor")
	}
	n := a * BearingLife(C, Fm, p, 1e6)
	out.Num("mean_load", Fm)
	out.Num("mean_speed", nm)
	out.Num("revolutions", n)
	out.Num("life", n*2*math.Pi/nm)
	return nil
}

// sag computes sagResults; depth is that of the beam in the plane of bending, 0
// if unknown.
func sag(in *In, out *Out, b Beam, depth float64) error {
	if b.At > b.Length {
		return Bad("at", "%s lies beyond the end of %s", show(b.At, "m"), show(b.Length, "m"))
	}
	soft := b.Flexibility()
	if !(soft > 0) {
		return Bad("at", "%s is a support: the load does not bend the beam", show(b.At, "m"))
	}
	if depth > 0 && b.Length < 10*depth {
		in.Outside("length", "%s is less than ten depths of %s: shear, left out, counts", show(b.Length, "m"), show(depth, "m"))
	}
	x, w := b.LargestDeflection()
	if math.Abs(w) > 0.03*b.Length {
		in.Outside("load", "a deflection of %s on %s: slopes are no longer small", show(w, "m"), show(b.Length, "m"))
	}
	own := b
	own.Load = 0
	_, q := own.LargestDeflection()
	out.Num("at_load", b.Deflection(b.At))
	out.Num("maximum", w)
	out.Num("maximum_at", x)
	out.Num("own", q)
	out.Num("stiffness", 1/soft)
	out.Num("moment", math.Abs(b.LargestMoment()))
	return nil
}

var guideModels = []Spec{
	{
		Name: "beam_sag", Topic: "guide",
		Title: "deflection of a straight beam under a load and its own weight",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "length between the supports", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "second_moment", Unit: "m^4", Doc: "second moment of area, about the axis of bending", Above: at(0)},
			endsArg("how its ends are held, the left one first; pinned-pinned is simply supported, fixed-free a cantilever", beamEnds...),
			{Name: "load", Unit: "N", Doc: "force across the beam", AtLeast: at(0)},
			{Name: "at", Unit: "m", Doc: "its place from the left end", Above: at(0)},
			{Name: "own_weight", Unit: "N/m", Doc: "weight per length; left out: it does not count", AtLeast: at(0), Optional: true},
		},
		Results: sagResults("modulus second_moment", "own_weight", "modulus second_moment"),
		Formula: append([]string{"stiff = modulus * second_moment"}, sagFormula...),
		Source:  beamSource,
		Range:   "small slopes, elastic, longer than ten depths; real clamps lie between pinned and fixed: compute both",
		Fn: func(in *In, out *Out) error {
			return sag(in, out, Beam{
				Length: in.Num("length"), Stiffness: in.Num("modulus") * in.Num("second_moment"), Ends: Ends(in.Text("ends")),
				Load: in.Num("load"), At: in.Num("at"), Uniform: in.Num("own_weight"),
			}, 0)
		},
	},
	{
		Name: "shaft_sag", Topic: "guide",
		Title: "deflection of a round guide shaft under a load and its own weight",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "length between the supports", Above: at(0)},
			{Name: "diameter", Unit: "m", Doc: "diameter of the shaft", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			endsArg("how its ends are held, the left one first; pinned-pinned is simply supported, fixed-free a cantilever", beamEnds...),
			{Name: "load", Unit: "N", Doc: "force across the shaft", AtLeast: at(0)},
			{Name: "at", Unit: "m", Doc: "its place from the left end", Above: at(0)},
			{Name: "density", Unit: "kg/m^3", Doc: "density, for the own weight of a level shaft; left out: it does not count", Above: at(0), Optional: true},
		},
		Results: append(sagResults("modulus diameter", "density", "modulus"), Res{Name: "stress", Unit: "Pa", Doc: "largest bending stress", Rises: "load length density modulus", Falls: "diameter modulus"}),
		Formula: append(append([]string{
			"stiff = modulus * pi * diameter^4 / 64",
			"own_weight = density * g_n * pi * diameter^2 / 4 # g_n is the standard acceleration of free fall",
		}, sagFormula...), "stress = moment * 32 / (pi * diameter^3)"),
		Source: beamSource,
		Range:  "small slopes, elastic, longer than ten diameters; real clamps lie between pinned and fixed: compute both",
		Fn: func(in *In, out *Out) error {
			d := in.Num("diameter")
			s := Round(d)
			b := Beam{
				Length: in.Num("length"), Stiffness: in.Num("modulus") * s.I, Ends: Ends(in.Text("ends")),
				Load: in.Num("load"), At: in.Num("at"), Uniform: in.Num("density") * standardGravity * s.Area,
			}
			if err := sag(in, out, b, d); err != nil {
				return err
			}
			m, _ := out.Get("moment").(float64)
			out.Num("stress", m/s.Modulus)
			return nil
		},
	},
	{
		Name: "stiffness_ratio", Topic: "guide",
		Title: "what a thicker round shaft of the same length and material gains",
		Args: []Arg{
			{Name: "diameter_1", Unit: "m", Doc: "diameter of the first shaft", Above: at(0)},
			{Name: "diameter_2", Unit: "m", Doc: "diameter of the second shaft", Above: at(0)},
		},
		Results: []Res{
			{Name: "stiffness", Unit: "1", Doc: "bending stiffness of the second over that of the first", Rises: "diameter_2", Falls: "diameter_1"},
			{Name: "mass", Unit: "1", Doc: "mass of the second over that of the first", Rises: "diameter_2", Falls: "diameter_1"},
			{Name: "frequency", Unit: "1", Doc: "natural frequency of the second over that of the first", Rises: "diameter_2", Falls: "diameter_1"},
		},
		Formula: []string{
			"stiffness = (diameter_2 / diameter_1)^4",
			"mass = (diameter_2 / diameter_1)^2",
			"frequency = diameter_2 / diameter_1",
		},
		Source: "second moment and area of a circle; derived",
		Range:  "solid round shafts, same length, material and supports",
		Fn: func(in *In, out *Out) error {
			r := in.Num("diameter_2") / in.Num("diameter_1")
			out.Num("stiffness", math.Pow(r, 4))
			out.Num("mass", r*r)
			out.Num("frequency", r)
			return nil
		},
	},
	{
		Name: "linear_bearing_life", Topic: "guide",
		Title: "rated life of a linear rolling bearing",
		Args: []Arg{
			{Name: "dynamic_rating", Unit: "N", Doc: "dynamic load rating", Above: at(0)},
			{Name: "rating_distance", Unit: "m", Doc: "distance for which the rating is stated: 100 km (ISO) or 50 km", Above: at(0), Low: at(50e3), High: at(100e3), RangeOf: "ISO 14728-1: ratings are stated for 100 km, by some for 50 km"},
			{Name: "load", Unit: "N", Doc: "load of the most loaded bearing", Above: at(0)},
			{Name: "elements", Shape: Text, Choices: []string{"balls", "rollers"}, Doc: "rolling elements"},
			{Name: "stroke", Unit: "m", Doc: "length of a stroke", Above: at(0)},
			{Name: "cycles", Unit: "Hz", Doc: "double strokes per time", Above: at(0)},
		},
		Results: []Res{
			{Name: "distance", Unit: "m", Doc: "life as distance travelled", Rises: "dynamic_rating rating_distance", Falls: "load", Only: true},
			{Name: "life", Unit: "s", Doc: "life as running time", Rises: "dynamic_rating rating_distance", Falls: "load stroke cycles"},
		},
		Formula: []string{
			"distance = (dynamic_rating / load)^p * rating_distance # p is 3 for balls, 10/3 for rollers",
			"life = distance / (2 * stroke * cycles)",
		},
		Source: "ISO 14728-1:2017 (scope seen, formula from memory)",
		Range:  "hardened steel shaft, lubricated, load up to half the rating",
		Fn: func(in *In, out *Out) error {
			C, P := in.Num("dynamic_rating"), in.Num("load")
			if P > C/2 {
				in.Outside("load", "%s is more than half the rating of %s", show(P, "N"), show(C, "N"))
			}
			d := BearingLife(C, P, lifeExponent[in.Text("elements")], in.Num("rating_distance"))
			out.Num("distance", d)
			out.Num("life", d/(2*in.Num("stroke")*in.Num("cycles")))
			return nil
		},
	},
	{
		Name: "rotary_bearing_life", Topic: "guide",
		Title: "rated life of a rotary rolling bearing under changing load",
		Args: []Arg{
			{Name: "dynamic_rating", Unit: "N", Doc: "dynamic load rating", Above: at(0)},
			{Name: "loads", Unit: "N", Shape: List, Doc: "equivalent load X Fr + Y Fa of each part of the duty", AtLeast: at(0)},
			{Name: "speeds", Unit: "rad/s", Shape: List, Doc: "speed of each part", Above: at(0)},
			{Name: "shares", Unit: "1", Shape: List, Doc: "share of each part in the running time", Above: at(0)},
			{Name: "elements", Shape: Text, Choices: []string{"balls", "rollers"}, Doc: "rolling elements"},
			{Name: "reliability_factor", Unit: "1", Doc: "life factor for a reliability above 90 %; left out: 1, 90 % of bearings reach the life", Above: at(0), AtMost: at(1), Optional: true},
		},
		Results: lifeResults(""),
		Formula: append(ballLife[:len(ballLife):len(ballLife)],
			"mean_load = (sum(loads^(10 / 3) * speeds * shares) / sum(speeds * shares))^(3 / 10) # rollers",
			"revolutions = reliability_factor * (dynamic_rating / mean_load)^(10 / 3) * 1e6 # rollers",
		),
		Source: "ISO 281:2007 (from memory)",
		Range:  "load up to half the rating, lubricated, mounted true",
		Fn: func(in *In, out *Out) error {
			return rollingLife(in, out, lifeExponent[in.Text("elements")])
		},
	},
	{
		Name: "bearing_moment", Topic: "guide",
		Title: "loads of two bearings on one guide under a force beside it",
		Args: []Arg{
			{Name: "force", Unit: "N", Doc: "force that turns the carriage"},
			{Name: "offset", Unit: "m", Doc: "its lever about the middle of the bearings"},
			{Name: "spacing", Unit: "m", Doc: "distance of the bearings", Above: at(0)},
			{Name: "direct", Unit: "N", Doc: "force across the guide that both bearings share; left out: there is none", Optional: true},
		},
		Results: []Res{
			{Name: "moment", Unit: "N*m", Doc: "moment on the carriage", Rises: "spacing direct", Falls: "spacing direct"},
			{Name: "couple", Unit: "N", Doc: "load of that moment on each bearing, opposite on the two", Rises: "direct", Falls: "direct"},
			{Name: "first", Unit: "N", Doc: "load of one bearing", Rises: "direct"},
			{Name: "second", Unit: "N", Doc: "load of the other bearing", Rises: "direct"},
			{Name: "largest", Unit: "N", Doc: "load of the most loaded, without sign: the load for its life", Falls: "spacing"},
		},
		Formula: []string{
			"moment = force * offset",
			"couple = moment / spacing",
			"first = direct / 2 + couple",
			"second = direct / 2 - couple",
			"largest = max(abs(first), abs(second))",
		},
		Source: "statics; derived",
		Range:  "rigid carriage and guide",
		Fn: func(in *In, out *Out) error {
			m := in.Num("force") * in.Num("offset")
			c, d := m/in.Num("spacing"), in.Num("direct")/2
			out.Num("moment", m)
			out.Num("couple", c)
			out.Num("first", d+c)
			out.Num("second", d-c)
			out.Num("largest", math.Abs(d)+math.Abs(c))
			return nil
		},
	},
	{
		Name: "racking", Topic: "guide",
		Title: "whether a carriage pulled beside its guide jams, and how far it tilts",
		Args: []Arg{
			{Name: "spacing", Unit: "m", Doc: "distance of the bearings along the guide", Above: at(0)},
			{Name: "friction", Unit: "1", Doc: "coefficient of friction of the bearings", Above: at(0)},
			{Name: "drive_offset", Unit: "m", Doc: "distance of the driving force from the guide"},
			{Name: "clearance", Unit: "m", Doc: "play of the bearings on the guide", AtLeast: at(0)},
			{Name: "arm", Unit: "m", Doc: "distance from the guide at which the error counts", AtLeast: at(0)},
		},
		Results: []Res{
			{Name: "binding", Unit: "1", Doc: "binding ratio: 1 jams whatever the force, above 0.5 it is uncertain", Rises: "friction clearance arm", Falls: "spacing clearance arm"},
			{Name: "jam_offset", Unit: "m", Doc: "offset at which it jams", Rises: "spacing", Falls: "friction", Only: true},
			{Name: "jams", Unit: "1", Doc: "1 if it jams, else 0", Rises: "friction clearance arm", Falls: "spacing clearance arm"},
			{Name: "tilt", Unit: "rad", Doc: "angle that the play allows, end to end", Rises: "clearance", Falls: "spacing", Only: true},
			{Name: "side_error", Unit: "m", Doc: "movement at the arm by that angle", Rises: "clearance arm", Falls: "spacing", Only: true},
		},
		Formula: []string{
			"binding = 2 * friction * abs(drive_offset) / spacing",
			"jam_offset = spacing / (2 * friction)",
			"tilt = clearance / spacing * 1 rad",
			"side_error = clearance / spacing * arm",
		},
		Source: "Beer and Johnston, Vector Mechanics for Engineers, sample problem 8.3 (seen)",
		Range:  "two bearings on one guide, rigid carriage; keep the binding ratio below 0.5 (common practice)",
		Fn: func(in *In, out *Out) error {
			B, jam := Racking{Spacing: in.Num("spacing"), Friction: in.Num("friction"), DriveOffset: in.Num("drive_offset")}.Binding()
			tilt := in.Num("clearance") / in.Num("spacing")
			out.Num("binding", B)
			out.Num("jam_offset", jam)
			out.Num("jams", yes(B >= 1))
			out.Num("tilt", tilt)
			out.Num("side_error", tilt*in.Num("arm"))
			return nil
		},
	},
	{
		Name: "racking_force", Topic: "guide",
		Title: "force that drives a carriage pulled beside its guide",
		Args: []Arg{
			{Name: "spacing", Unit: "m", Doc: "distance of the bearings along the guide", Above: at(0)},
			{Name: "friction", Unit: "1", Doc: "coefficient of friction of the bearings", AtLeast: at(0)},
			{Name: "drive_offset", Unit: "m", Doc: "distance of the driving force from the guide"},
			{Name: "resistance", Unit: "N", Doc: "force against the motion", AtLeast: at(0)},
			{Name: "resistance_offset", Unit: "m", Doc: "its distance from the guide, positive on the side of the drive"},
			{Name: "axis_friction", Unit: "N", Doc: "friction on the guide's axis, as of seals; left out: there is none", AtLeast: at(0), Optional: true},
		},
		// P = R + F₀ + k |n|/(1 - k h sign n) with k = 2 f/s and the moment n = (R + F₀) h
		// - R h_R, where it moves at all: the sign of n is that of N.
		Results: []Res{
			{Name: "force", Unit: "N", Doc: "driving force", Rises: "friction axis_friction", Falls: "spacing"},
			{Name: "bearing_load", Unit: "N", Doc: "load of each bearing by the turning moment, without sign", Falls: "spacing"},
		},
		Formula: []string{
			"bearing_load = abs(force * drive_offset - resistance * resistance_offset) / spacing",
			"force = resistance + axis_friction + 2 * friction * bearing_load # solved for the force",
		},
		Source: "statics with friction; derived, friction as in Beer and Johnston, Vector Mechanics for Engineers, sample problem 8.3 (seen)",
		Range:  "two bearings on one guide, rigid carriage, steady motion; refused where the carriage jams",
		Fn: func(in *In, out *Out) error {
			P, N, err := Racking{
				Spacing: in.Num("spacing"), Friction: in.Num("friction"), DriveOffset: in.Num("drive_offset"),
				Resistance: in.Num("resistance"), ResistanceOffset: in.Num("resistance_offset"), AxisFriction: in.Num("axis_friction"),
			}.Force()
			if B := 2 * in.Num("friction") * math.Abs(in.Num("drive_offset")) / in.Num("spacing"); err == nil && B >= 1 {
				in.Outside("drive_offset", "the drive alone would jam (binding ratio %s): it moves only because the resistance turns the carriage back, and jams where that is less (derived)", show(B, "1"))
			}
			out.Num("force", P)
			out.Num("bearing_load", math.Abs(N))
			return err
		},
	},
}
