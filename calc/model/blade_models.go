package model

import "math"

var bladeModels = []Spec{
	{
		Name: "blade_frequency", Topic: "blade",
		Title: "natural frequencies of a recoater blade bending across its thickness",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "free length", Above: at(0)},
			{Name: "thickness", Unit: "m", Doc: "thickness, in the direction of travel", Above: at(0)},
			{Name: "width", Unit: "m", Doc: "width, from edge to edge", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "density", Unit: "kg/m^3", Doc: "density", Above: at(0)},
			endsArg("how its ends are held", PinnedPinned, FixedPinned, FixedFixed, FixedFree, FreeFree, PinnedFree),
			{Name: "strip_mass", Unit: "kg/m", Doc: "mass per length of a strip at its edge, which adds no stiffness; left out: there is none", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "first", Unit: "Hz", Doc: "first mode", Rises: "modulus thickness width", Falls: "length density strip_mass"},
			{Name: "second", Unit: "Hz", Doc: "second mode", Rises: "modulus thickness width", Falls: "length density strip_mass"},
			{Name: "third", Unit: "Hz", Doc: "third mode", Rises: "modulus thickness width", Falls: "length density strip_mass"},
		},
		Formula: []string{
			"stiff = modulus * width * thickness^3 / 12",
			"mass_per_length = density * width * thickness + strip_mass",
			"first = lambda^2 / (2 * pi * length^2) * sqrt(stiff / mass_per_length) # lambda is pi pinned-pinned, 4.73004 fixed-fixed and free-free, 1.87510 fixed-free, 3.92660 fixed-pinned and pinned-free",
			"second = lambda^2 / (2 * pi * length^2) * sqrt(stiff / mass_per_length) # lambda is 2 pi, 7.85320, 4.69409, 7.06858 for the same",
			"third = lambda^2 / (2 * pi * length^2) * sqrt(stiff / mass_per_length) # lambda is 3 pi, 10.99561, 7.85476, 10.21018 for the same",
		},
		Source: whirlSource,
		Range:  "length above 20 thicknesses and 3 widths, ideal ends: real clamps lower fixed-fixed by 5 to 20 % (common practice)",
		Fn: func(in *In, out *Out) error {
			L, t, b, E := in.Num("length"), in.Num("thickness"), in.Num("width"), in.Num("modulus")
			if L < 20*t || L < 3*b {
				in.Outside("length", "%s is no slender blade: 20 thicknesses are %s, 3 widths %s", show(L, "m"), show(20*t, "m"), show(3*b, "m"))
			}
			m := in.Num("density")*b*t + in.Num("strip_mass")
			for i, name := range []string{"first", "second", "third"} {
				out.Num(name, BeamFrequency(Ends(in.Text("ends")), i+1, E*b*t*t*t/12, m, L))
			}
			return nil
		},
	},
	{
		Name: "blade_deflection", Topic: "blade",
		Title: "deflection of a recoater blade under the drag of powder",
		Args: []Arg{
			{Name: "drag", Unit: "N/m", Doc: "drag per length of blade", AtLeast: at(0)},
			{Name: "length", Unit: "m", Doc: "free length", Above: at(0)},
			{Name: "thickness", Unit: "m", Doc: "thickness, in the direction of the drag", Above: at(0)},
			{Name: "width", Unit: "m", Doc: "width, across the drag", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			endsArg("how its ends are held, the left one first", beamEnds...),
		},
		Results: []Res{
			{Name: "deflection", Unit: "m", Doc: "largest deflection", Rises: "drag length", Falls: "thickness width modulus"},
			{Name: "stress", Unit: "Pa", Doc: "largest bending stress", Rises: "drag length", Falls: "thickness width", Only: true},
			{Name: "stiffness", Unit: "N/m^2", Doc: "drag per length for each metre of deflection", Rises: "thickness width modulus", Falls: "length", Only: true},
		},
		Formula: []string{
			"stiff = modulus * width * thickness^3 / 12",
			"deflection = k * drag * length^4 / stiff # k is 5/384 pinned-pinned, 1/384 fixed-fixed, 1/8 fixed-free, 1/184.6 fixed-pinned",
			"stress = c * drag * length^2 / (width * thickness^2 / 6) # c is 1/8, 1/12, 1/2, 1/8 for the same",
			"stiffness = stiff / (k * length^4) # k as above",
		},
		Source: beamSource,
		Range:  "small slopes, length above 20 thicknesses",
		Fn: func(in *In, out *Out) error {
			L, t := in.Num("length"), in.Num("thickness")
			if L < 20*t {
				in.Outside("length", "%s is no slender blade: 20 thicknesses are %s", show(L, "m"), show(20*t, "m"))
			}
			s := Rectangle(in.Num("width"), t)
			b := Beam{Length: L, Stiffness: in.Num("modulus") * s.I, Ends: Ends(in.Text("ends")), Uniform: 1}
			_, w := b.LargestDeflection()
			drag := in.Num("drag")
			out.Num("deflection", w*drag)
			out.Num("stress", math.Abs(b.LargestMoment())*drag/s.Modulus)
			out.Num("stiffness", 1/w)
			return nil
		},
	},
	{
		Name: "blade_separation", Topic: "blade",
		Title: "how far a traverse's own frequencies lie from that of its blade",
		Args: []Arg{
			{Name: "first", Unit: "Hz", Doc: "first frequency of the blade", Above: at(0)},
			{Name: "speed", Unit: "m/s", Doc: "speed of the traverse", Above: at(0)},
			{Name: "pitch", Unit: "m", Doc: "pitch of the belt", Above: at(0)},
			{Name: "pulley_teeth", Unit: "1", Doc: "teeth of the driving pulley", AtLeast: at(1)},
			{Name: "steps_per_turn", Unit: "1", Doc: "full steps per turn of the motor on that pulley", AtLeast: at(1)},
			{Name: "damping", Unit: "1", Doc: "damping ratio: 0.005 to 0.02 for a metal blade (common practice)", Above: at(0), High: at(0.2), RangeOf: "a lightly damped oscillator"},
		},
		Results: []Res{
			{Name: "tooth", Unit: "Hz", Doc: "belt teeth per second", Rises: "speed", Falls: "pitch", Only: true},
			{Name: "step", Unit: "Hz", Doc: "full steps per second", Rises: "speed steps_per_turn", Falls: "pitch pulley_teeth", Only: true},
			{Name: "turn", Unit: "Hz", Doc: "turns of the pulley per second", Rises: "speed", Falls: "pitch pulley_teeth", Only: true},
			{Name: "margin", Unit: "1", Doc: "smallest distance of these from the blade's frequency, as a part of it: below 0.2 change speed or thickness (common practice)", Rises: "damping", Falls: "damping"},
			{Name: "gain", Unit: "1", Doc: "largest amplitude over that of a slow push", Falls: "damping"},
		},
		Formula: []string{
			"tooth = speed / pitch",
			"turn = tooth / pulley_teeth",
			"step = turn * steps_per_turn",
			"margin = min(abs(1 - tooth / first), abs(1 - step / first), abs(1 - turn / first))",
			"r = tooth / first # likewise step and turn; the largest counts",
			"gain = 1 / sqrt((1 - r^2)^2 + (2 * damping * r)^2)",
		},
		Source: "oscillator of one degree of freedom, Rao, Mechanical Vibrations, ch. 3 (from memory)",
		Range:  "first mode, steady speed; harmonics of these lines are left out",
		Fn: func(in *In, out *Out) error {
			if err := in.whole("pulley_teeth", "steps_per_turn"); err != nil {
				return err
			}
			tooth := in.Num("speed") / in.Num("pitch")
			turn := tooth / in.Num("pulley_teeth")
			margin, gain := math.Inf(1), 0.0
			for _, l := range []struct {
				name string
				f    float64
			}{{"tooth", tooth}, {"turn", turn}, {"step", turn * in.Num("steps_per_turn")}} {
				s := Shaking(l.f, in.Num("first"), in.Num("damping"))
				out.Num(l.name, l.f)
				margin, gain = min(margin, s.Margin), max(gain, s.Gain)
			}
			out.Num("margin", margin)
			out.Num("gain", gain)
			return nil
		},
	},
	{
		Name: "blade_bow", Topic: "blade",
		Title: "bow of a blade that is hotter on one face",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "free length", Above: at(0)},
			{Name: "thickness", Unit: "m", Doc: "thickness between the faces", Above: at(0)},
			{Name: "expansion", Unit: "K^-1", Doc: "thermal expansion"},
			{Name: "across", Unit: "K", Doc: "difference of temperature between the faces"},
		},
		Results: []Res{{Name: "bow", Unit: "m", Doc: "bow in the middle, ends free to turn"}},
		Formula: []string{"bow = expansion * across * length^2 / (8 * thickness)"},
		Source:  "Gere, Mechanics of Materials, ch. 9, beams with temperature differences (from memory)",
		Range:   "straight fall of temperature through the thickness, the same along the length",
		Fn: func(in *In, out *Out) error {
			L := in.Num("length")
			out.Num("bow", in.Num("expansion")*in.Num("across")*L*L/(8*in.Num("thickness")))
			return nil
		},
	},
	{
		Name: "one_sided_pull", Topic: "blade",
		Title: "pull and skew of a traverse on two rails that is driven at one",
		Args: []Arg{
			{Name: "rails", Unit: "m", Doc: "distance of the rails", Above: at(0)},
			{Name: "spacing", Unit: "m", Doc: "distance of the two bearings on the driven rail", Above: at(0)},
			{Name: "friction", Unit: "1", Doc: "coefficient of friction of these bearings", AtLeast: at(0)},
			{Name: "mass", Unit: "kg", Doc: "mass of the traverse, its middle between the rails", Above: at(0)},
			{Name: "acceleration", Unit: "m/s^2", Doc: "largest acceleration", AtLeast: at(0)},
			{Name: "drag", Unit: "N", Doc: "drag on the blade, in the middle", AtLeast: at(0)},
			{Name: "far_friction", Unit: "N", Doc: "friction at the far rail", AtLeast: at(0)},
			{Name: "clearance", Unit: "m", Doc: "play of the bearings on the driven rail", AtLeast: at(0)},
		},
		Results: []Res{
			{Name: "pull", Unit: "N", Doc: "pull at the driven rail", Rises: "rails friction mass acceleration drag far_friction", Falls: "spacing", Only: true},
			{Name: "moment", Unit: "N*m", Doc: "moment that turns the traverse", Rises: "rails mass acceleration drag far_friction", Only: true},
			{Name: "bearing_load", Unit: "N", Doc: "load of each bearing by that moment", Rises: "rails mass acceleration drag far_friction", Falls: "spacing", Only: true},
			{Name: "friction_share", Unit: "1", Doc: "part of the pull that the friction of these loads takes", Rises: "rails friction far_friction", Falls: "spacing mass acceleration drag", Only: true},
			{Name: "lag", Unit: "m", Doc: "how far the play lets the far end lag", Rises: "clearance rails", Falls: "spacing", Only: true},
		},
		Formula: []string{
			"moment = (drag + mass * acceleration) * rails / 2 + far_friction * rails",
			"bearing_load = moment / spacing",
			"pull = drag + mass * acceleration + far_friction + 2 * friction * bearing_load",
			"friction_share = 2 * friction * bearing_load / pull",
			"lag = clearance * rails / spacing",
		},
		Source: "statics; derived",
		Range:  "rigid traverse, pulled in the axis of the driven rail; racking tells whether a pull beside it jams",
		Fn: func(in *In, out *Out) error {
			p := Traverse{in.Num("rails"), in.Num("spacing"), in.Num("friction"), in.Num("mass"), in.Num("acceleration"), in.Num("drag"), in.Num("far_friction"), in.Num("clearance")}.Pull()
			if p.Force == 0 {
				return Bad("drag", "nothing resists: there is no pull to speak of")
			}
			out.Num("pull", p.Force)
			out.Num("moment", p.Moment)
			out.Num("bearing_load", p.Bearing)
			out.Num("friction_share", p.Share)
			out.Num("lag", p.Lag)
			return nil
		},
	},
}
