package model

import (
	"errors"
	"math"
)

const beltSource = "Shigley, Mechanical Engineering Design, 9th ed., sec. 17-2, eq. 17-1 and 17-2 (seen through published solutions)"

// Rises and Falls of the geometry: 2 cos² φ ds/dD = -(π/2 ± (φ + sin φ cos φ))
// for the span s of a given loop, D the larger pulley (+) or the smaller (-),
// so it falls with both. The load of a shaft sees the square of sin φ only.
var beltModels = []Spec{
	{
		Name: "belt_drift", Topic: "belt",
		Title: "tension of a synchronous belt after warming, on fixed centres or with a sprung idler",
		Args: []Arg{
			{Name: "loop_length", Unit: "m", Doc: "pitch length of the loop", Above: at(0)},
			{Name: "set_tension", Unit: "N", Doc: "tension of each strand as set", Above: at(0)},
			{Name: "stiffness", Unit: "N", Doc: "tensile stiffness EA of one strand: force per unit strain", Above: at(0)},
			{Name: "cord_expansion", Unit: "K^-1", Doc: "thermal expansion of the belt along its cords, negative for aramid"},
			{Name: "frame_expansion", Unit: "K^-1", Doc: "thermal expansion of the frame between the centres"},
			{Name: "centre_distance", Unit: "m", Doc: "length of frame between the pulley centres", Above: at(0)},
			{Name: "set_at", Unit: "°C", Doc: "temperature of belt and frame when the tension was set", Above: at(0)},
			{Name: "belt_hot", Unit: "°C", Doc: "temperature of the belt in use", Above: at(0), High: at(zeroCelsius + 85), RangeOf: "common practice: chloroprene up to about 85 °C, polyurethane less"},
			{Name: "frame_hot", Unit: "°C", Doc: "temperature of the frame in use", Above: at(0)},
			{Name: "pulley_expansion", Unit: "K^-1", Doc: "thermal expansion of the pulleys; left out: their growth is neglected", Optional: true},
			{Name: "pulley_hot", Unit: "°C", Doc: "temperature of the pulleys in use, with pulley_expansion", Above: at(0), Optional: true},
			{Name: "other_growth", Unit: "m", Doc: "growth of the centre distance by other pieces than the frame; left out: there are none", Optional: true},
			{Name: "spring_rate", Unit: "N/m", Doc: "spring rate of the idler; left out: the centres are fixed", Above: at(0), Optional: true},
			{Name: "idler_wrap", Unit: "rad", Doc: "wrap of the belt on the sprung idler, with spring_rate", Above: at(0), AtMost: at(2 * math.Pi), Optional: true},
			{Name: "extra_compliance", Unit: "m/N", Doc: "lengthening of the path per newton of tension by bent shafts and brackets; left out: they are rigid", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "hot", Unit: "N", Doc: "tension of each strand in use, 0 where the belt hangs slack", Rises: "set_tension other_growth"},
			{Name: "cold", Unit: "N", Doc: "tension of each strand as set", Rises: "set_tension", Only: true},
			{Name: "change", Unit: "N", Doc: "hot less cold", Rises: "other_growth", Falls: "set_tension"},
			{Name: "per_kelvin", Unit: "N/K", Doc: "change for each kelvin that all parts warm together", Rises: "frame_expansion pulley_expansion set_tension set_at belt_hot frame_hot pulley_hot other_growth", Falls: "cord_expansion set_tension set_at belt_hot frame_hot pulley_hot other_growth"},
			{Name: "path_growth", Unit: "m", Doc: "growth of the path around the pulleys", Rises: "other_growth set_tension stiffness cord_expansion belt_hot spring_rate idler_wrap extra_compliance", Falls: "set_tension stiffness cord_expansion belt_hot spring_rate idler_wrap extra_compliance"},
			{Name: "belt_growth", Unit: "m", Doc: "growth of the belt if it were free", Rises: "set_tension stiffness frame_expansion centre_distance frame_hot pulley_expansion pulley_hot other_growth spring_rate idler_wrap extra_compliance", Falls: "set_tension stiffness frame_expansion centre_distance frame_hot pulley_expansion pulley_hot other_growth spring_rate idler_wrap extra_compliance"},
			{Name: "compliance", Unit: "m/N", Doc: "lengthening of the path per newton of strand tension", Rises: "loop_length extra_compliance set_tension cord_expansion frame_expansion centre_distance set_at belt_hot frame_hot pulley_expansion pulley_hot other_growth", Falls: "stiffness spring_rate set_tension cord_expansion frame_expansion centre_distance set_at belt_hot frame_hot pulley_expansion pulley_hot other_growth"},
			{Name: "idler_travel", Unit: "m", Doc: "how far the sprung idler moves, 0 without one", Rises: "other_growth", Falls: "set_tension"},
			{Name: "sensitivity", Unit: "1", Doc: "change against that of rigid centres", Rises: "loop_length spring_rate set_tension cord_expansion frame_expansion centre_distance set_at belt_hot frame_hot pulley_expansion pulley_hot other_growth", Falls: "stiffness extra_compliance set_tension cord_expansion frame_expansion centre_distance set_at belt_hot frame_hot pulley_expansion pulley_hot other_growth"},
			{Name: "slack", Unit: "1", Doc: "1 if the belt hangs slack in use, else 0", Falls: "set_tension other_growth"},
		},
		Formula: []string{
			"path_growth = 2 * (centre_distance * frame_expansion * (frame_hot - set_at) + other_growth) + (loop_length - 2 * centre_distance) * pulley_expansion * (pulley_hot - set_at) # how much longer the way around becomes",
			"belt_growth = loop_length * cord_expansion * (belt_hot - set_at) # how much longer a free belt becomes",
			"take_up = 2 * sin(idler_wrap / 2) # path per travel of the idler",
			"compliance = loop_length / stiffness + take_up^2 / spring_rate + extra_compliance # belt, spring and the rest in series",
			"hot = max(0 N, set_tension + (path_growth - belt_growth) / compliance)",
			"change = hot - cold",
			"per_kelvin = (2 * centre_distance * frame_expansion + (loop_length - 2 * centre_distance) * pulley_expansion - loop_length * cord_expansion) / compliance",
			"idler_travel = take_up * change / spring_rate",
			"sensitivity = loop_length / stiffness / compliance",
		},
		Source: "compatibility of two bodies under heat, Singer and Pytel, Strength of Materials, ch. 2 (from memory); its use on a belt is derived",
		Range:  "near-equal pulleys, elastic cords, strain below 0.5 %, each part at one temperature, no tooth jumped, creep and run-in of the belt left out",
		Fn:     beltDrift,
	},
	{
		Name: "belt_frequency", Topic: "belt",
		Title: "frequency at which a belt span sounds when plucked, to set its tension by",
		Args: []Arg{
			{Name: "tension", Unit: "N", Doc: "tension of the strand", Above: at(0)},
			{Name: "mass_per_length", Unit: "kg/m", Doc: "mass per length of the belt, of its full width", Above: at(0)},
			{Name: "span", Unit: "m", Doc: "free span, tangent point to tangent point", Above: at(0)},
			{Name: "bending_stiffness", Unit: "N*m^2", Doc: "bending stiffness EI of the belt; left out: it bends freely", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "frequency", Unit: "Hz", Doc: "frequency of the span's first mode", Rises: "tension bending_stiffness", Falls: "mass_per_length span"},
			{Name: "string", Unit: "Hz", Doc: "the same without bending stiffness", Rises: "tension", Falls: "mass_per_length span", Only: true},
			{Name: "per_newton", Unit: "Hz/N", Doc: "change of frequency with tension", Falls: "tension mass_per_length span bending_stiffness"},
		},
		Formula: []string{
			"string = sqrt(tension / mass_per_length) / (2 * span)",
			"frequency = string * sqrt(1 + pi^2 * bending_stiffness / (tension * span^2))",
			"per_newton = string^2 / (2 * tension * frequency)",
		},
		Source: "law of the string, Young and Freedman, University Physics, ch. 15; tensioned beam, Rao, Mechanical Vibrations, ch. 8 (from memory)",
		Range:  "span above 20 belt thicknesses, small amplitude, ends free to turn",
		Fn: func(in *In, out *Out) error {
			T, m, L, B := in.Num("tension"), in.Num("mass_per_length"), in.Num("span"), in.Num("bending_stiffness")
			f, s := SpanFrequency(T, m, L, B), SpanFrequency(T, m, L, 0)
			out.Num("frequency", f)
			out.Num("string", s)
			out.Num("per_newton", s*s/(2*T*f))
			return nil
		},
	},
	{
		Name: "belt_tension", Topic: "belt",
		Title: "tension of a belt span from the frequency at which it sounds",
		Args: []Arg{
			{Name: "frequency", Unit: "Hz", Doc: "measured frequency of the span's first mode", Above: at(0)},
			{Name: "mass_per_length", Unit: "kg/m", Doc: "mass per length of the belt, of its full width", Above: at(0)},
			{Name: "span", Unit: "m", Doc: "free span, tangent point to tangent point", Above: at(0)},
			{Name: "bending_stiffness", Unit: "N*m^2", Doc: "bending stiffness EI of the belt; left out: it bends freely", AtLeast: at(0), Optional: true},
		},
		Results: []Res{{Name: "tension", Unit: "N", Doc: "tension of the strand", Rises: "frequency mass_per_length span", Falls: "bending_stiffness"}},
		Formula: []string{"tension = 4 * mass_per_length * span^2 * frequency^2 - pi^2 * bending_stiffness / span^2"},
		Source:  "as belt_frequency: Young and Freedman, University Physics, ch. 15 (from memory)",
		Range:   "span above 20 belt thicknesses, small amplitude, ends free to turn",
		Fn: func(in *In, out *Out) error {
			T, err := SpanTension(in.Num("frequency"), in.Num("mass_per_length"), in.Num("span"), in.Num("bending_stiffness"))
			out.Num("tension", T)
			return err
		},
	},
	{
		Name: "belt_length", Topic: "belt",
		Title: "length of a synchronous belt around two pulleys at a given centre distance",
		Args: []Arg{
			{Name: "pitch", Unit: "m", Doc: "pitch of the teeth", Above: at(0)},
			{Name: "teeth_1", Unit: "1", Doc: "teeth of one pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "teeth_2", Unit: "1", Doc: "teeth of the other pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "centre_distance", Unit: "m", Doc: "distance of the pulleys' centres", Above: at(0)},
		},
		Results: []Res{
			{Name: "length", Unit: "m", Doc: "pitch length of the loop", Rises: "pitch teeth_1 teeth_2 centre_distance"},
			{Name: "teeth", Unit: "1", Doc: "the same in teeth, seldom a whole number", Rises: "teeth_1 teeth_2 centre_distance", Falls: "pitch"},
			{Name: "whole_teeth", Unit: "1", Doc: "nearest whole number of teeth: belt_centres gives the centre distance it wants", Rises: "teeth_1 teeth_2 centre_distance", Falls: "pitch"},
			{Name: "span", Unit: "m", Doc: "free span, tangent point to tangent point", Rises: "centre_distance", Falls: "pitch"},
			{Name: "wrap", Unit: "rad", Doc: "wrap on the smaller pulley", Rises: "centre_distance", Falls: "pitch"},
		},
		Formula: []string{
			"d_1 = pitch * teeth_1 / pi # pitch diameters",
			"d_2 = pitch * teeth_2 / pi",
			"phi = asin(abs(d_2 - d_1) / (2 * centre_distance)) / 1 rad",
			"length = 2 * centre_distance * cos(phi) + pi * (d_1 + d_2) / 2 + phi * abs(d_2 - d_1)",
			"teeth = length / pitch",
			"span = centre_distance * cos(phi)",
			"wrap = (pi - 2 * phi) * 1 rad",
		},
		Source: beltSource,
		Range:  "exact for a thin belt on the pitch line",
		Fn: func(in *In, out *Out) error {
			if err := in.whole("teeth_1", "teeth_2"); err != nil {
				return err
			}
			p := in.Num("pitch")
			l, err := BeltLength(PitchDiameter(p, in.Num("teeth_1")), PitchDiameter(p, in.Num("teeth_2")), in.Num("centre_distance"))
			if err != nil {
				return err
			}
			out.Num("length", l.Length)
			out.Num("teeth", l.Length/p)
			out.Num("whole_teeth", math.RoundToEven(l.Length/p))
			out.Num("span", l.Span)
			out.Num("wrap", l.Small)
			return nil
		},
	},
	{
		Name: "belt_centres", Topic: "belt",
		Title: "centre distance at which a synchronous belt of given length is just stretched",
		Args: []Arg{
			{Name: "pitch", Unit: "m", Doc: "pitch of the teeth", Above: at(0)},
			{Name: "teeth_1", Unit: "1", Doc: "teeth of one pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "teeth_2", Unit: "1", Doc: "teeth of the other pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "belt_teeth", Unit: "1", Doc: "teeth of the belt", AtLeast: at(1)},
		},
		Results: []Res{
			{Name: "centre_distance", Unit: "m", Doc: "distance of the pulleys' centres", Rises: "pitch belt_teeth", Falls: "teeth_1 teeth_2"},
			{Name: "length", Unit: "m", Doc: "pitch length of the loop", Rises: "pitch belt_teeth", Only: true},
			{Name: "span", Unit: "m", Doc: "free span, tangent point to tangent point", Rises: "pitch belt_teeth", Falls: "teeth_1 teeth_2"},
			{Name: "wrap", Unit: "rad", Doc: "wrap on the smaller pulley", Rises: "belt_teeth pitch", Falls: "pitch"},
			{Name: "per_tooth", Unit: "m", Doc: "by how much one more tooth moves the centres apart", Rises: "pitch", Falls: "belt_teeth"},
		},
		Formula: []string{
			"d_1 = pitch * teeth_1 / pi # pitch diameters",
			"d_2 = pitch * teeth_2 / pi",
			"length = pitch * belt_teeth",
			"phi = asin(abs(d_2 - d_1) / (2 * centre_distance)) / 1 rad",
			"length = 2 * centre_distance * cos(phi) + pi * (d_1 + d_2) / 2 + phi * abs(d_2 - d_1) # solved for the centre distance",
			"span = centre_distance * cos(phi)",
			"wrap = (pi - 2 * phi) * 1 rad",
			"per_tooth = pitch / (2 * cos(phi))",
		},
		Source: beltSource,
		Range:  "exact for a thin belt on the pitch line, not yet tensioned",
		Fn: func(in *In, out *Out) error {
			if err := in.whole("teeth_1", "teeth_2", "belt_teeth"); err != nil {
				return err
			}
			p := in.Num("pitch")
			d1, d2, S := PitchDiameter(p, in.Num("teeth_1")), PitchDiameter(p, in.Num("teeth_2")), p*in.Num("belt_teeth")
			C, err := BeltCentres(d1, d2, S)
			if err != nil {
				return err
			}
			l, err := BeltLength(d1, d2, C)
			if err != nil {
				return err
			}
			out.Num("centre_distance", C)
			out.Num("length", S)
			out.Num("span", l.Span)
			out.Num("wrap", l.Small)
			out.Num("per_tooth", p/(2*l.Span/C))
			return nil
		},
	},
	{
		Name: "belt_drive", Topic: "belt",
		Title: "strand tensions, shaft load and use of a synchronous belt that drives, cold and hot",
		Args: []Arg{
			{Name: "drive_force", Unit: "N", Doc: "largest force that the belt transmits", AtLeast: at(0)},
			{Name: "set_tension", Unit: "N", Doc: "tension of each strand at rest, cold", Above: at(0)},
			{Name: "hot_tension", Unit: "N", Doc: "tension of each strand at rest in use, as belt_drift gives it", AtLeast: at(0)},
			{Name: "pitch", Unit: "m", Doc: "pitch of the teeth", Above: at(0)},
			{Name: "teeth_1", Unit: "1", Doc: "teeth of the driving pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "teeth_2", Unit: "1", Doc: "teeth of the other pulley", AtLeast: at(1), Low: at(10), RangeOf: "common practice: fewer teeth bend the cords too sharply"},
			{Name: "centre_distance", Unit: "m", Doc: "distance of the pulleys' centres", Above: at(0)},
			{Name: "allowable_tension", Unit: "N", Doc: "what the belt may carry, from its maker", Above: at(0)},
		},
		Results: []Res{
			{Name: "torque", Unit: "N*m", Doc: "torque of the drive force on the driving pulley", Rises: "drive_force pitch teeth_1", Only: true},
			{Name: "tight_cold", Unit: "N", Doc: "tension of the tight strand, cold", Rises: "drive_force set_tension", Only: true},
			{Name: "slack_cold", Unit: "N", Doc: "tension of the slack strand, cold; 0 where it hangs and a tooth may jump", Rises: "set_tension", Falls: "drive_force", Only: true},
			{Name: "tight_hot", Unit: "N", Doc: "tension of the tight strand in use", Rises: "drive_force hot_tension", Only: true},
			{Name: "slack_hot", Unit: "N", Doc: "tension of the slack strand in use; 0 where it hangs and a tooth may jump", Rises: "hot_tension", Falls: "drive_force", Only: true},
			{Name: "shaft_cold", Unit: "N", Doc: "force on the driving shaft, cold and driving", Rises: "drive_force set_tension hot_tension allowable_tension centre_distance", Falls: "hot_tension allowable_tension pitch"},
			{Name: "shaft_hot", Unit: "N", Doc: "force on the driving shaft, in use and driving", Rises: "drive_force hot_tension set_tension allowable_tension centre_distance", Falls: "set_tension allowable_tension pitch"},
			{Name: "utilisation", Unit: "1", Doc: "largest strand tension, cold or hot, over what the belt may carry", Rises: "drive_force set_tension hot_tension", Falls: "allowable_tension", Only: true},
			{Name: "wrap", Unit: "rad", Doc: "wrap on the driving pulley", Rises: "teeth_1 drive_force set_tension hot_tension allowable_tension", Falls: "teeth_2 drive_force set_tension hot_tension allowable_tension"},
			{Name: "teeth_in_mesh", Unit: "1", Doc: "teeth in mesh on the driving pulley", Rises: "teeth_1 drive_force set_tension hot_tension allowable_tension", Falls: "teeth_2 drive_force set_tension hot_tension allowable_tension"},
			{Name: "tooth_load", Unit: "N", Doc: "drive force for each tooth in mesh", Rises: "drive_force teeth_2 set_tension hot_tension allowable_tension", Falls: "teeth_1 set_tension hot_tension allowable_tension"},
		},
		Formula: []string{
			"torque = drive_force * pitch * teeth_1 / (2 * pi)",
			"tight_cold = set_tension + drive_force / 2 # the drive force alone once the slack strand hangs",
			"slack_cold = max(0 N, set_tension - drive_force / 2)",
			"tight_hot = hot_tension + drive_force / 2",
			"slack_hot = max(0 N, hot_tension - drive_force / 2)",
			"wrap = pi * 1 rad - 2 * asin(pitch * (teeth_2 - teeth_1) / pi / (2 * centre_distance))",
			"shaft_cold = sqrt(tight_cold^2 + slack_cold^2 - 2 * tight_cold * slack_cold * cos(wrap))",
			"shaft_hot = sqrt(tight_hot^2 + slack_hot^2 - 2 * tight_hot * slack_hot * cos(wrap))",
			"utilisation = max(tight_cold, tight_hot) / allowable_tension",
			"teeth_in_mesh = teeth_1 * wrap / 1 turn",
			"tooth_load = drive_force / teeth_in_mesh",
		},
		Source: beltSource,
		Range:  "fixed centres, strands of equal length; a finding where the slack strand hangs or fewer than six teeth mesh (common practice)",
		Fn:     beltDrive,
	},
}

func beltDrift(in *In, out *Out) error {
	pulleys, err1 := in.together("pulley_expansion", "pulley_hot")
	_, err2 := in.together("spring_rate", "idler_wrap")
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	set := in.Num("set_at")
	b := BeltDrift{
		LoopLength: in.Num("loop_length"), SetTension: in.Num("set_tension"), Stiffness: in.Num("stiffness"),
		CordExpansion: in.Num("cord_expansion"), FrameExpansion: in.Num("frame_expansion"), CentreDistance: in.Num("centre_distance"),
		BeltRise: in.Num("belt_hot") - set, FrameRise: in.Num("frame_hot") - set,
		OtherGrowth: in.Num("other_growth"), SpringRate: in.Num("spring_rate"), IdlerWrap: in.Num("idler_wrap"),
		ExtraCompliance: in.Num("extra_compliance"),
	}
	if pulleys {
		b.PulleyExpansion, b.PulleyRise = in.Num("pulley_expansion"), in.Num("pulley_hot")-set
	}
	s, err := b.State()
	if err != nil {
		return err
	}
	if s.Slack {
		in.Outside("set_tension", "the belt hangs slack in use: the linear law would need a tension of %s", show(s.Free, "N"))
	}
	if strain := max(s.Hot, b.SetTension) / b.Stiffness; strain > 0.005 {
		in.Outside("stiffness", "the belt is strained by %s, the model holds up to 0.005", show(strain, "1"))
	}
	out.Num("hot", s.Hot)
	out.Num("cold", b.SetTension)
	out.Num("change", s.Change)
	out.Num("per_kelvin", s.PerKelvin)
	out.Num("path_growth", s.PathGrowth)
	out.Num("belt_growth", s.BeltGrowth)
	out.Num("compliance", s.Compliance)
	out.Num("idler_travel", s.IdlerTravel)
	out.Num("sensitivity", s.Sensitivity)
	out.Num("slack", yes(s.Slack))
	return nil
}

func beltDrive(in *In, out *Out) error {
	if err := in.whole("teeth_1", "teeth_2"); err != nil {
		return err
	}
	p, z1, z2, C, F := in.Num("pitch"), in.Num("teeth_1"), in.Num("teeth_2"), in.Num("centre_distance"), in.Num("drive_force")
	d1 := PitchDiameter(p, z1)
	l, err := BeltLength(d1, PitchDiameter(p, z2), C)
	if err != nil {
		return err
	}
	wrap := l.Small
	if z1 > z2 {
		wrap = l.Large
	}
	largest := 0.0
	for _, state := range []struct{ name, tension string }{{"cold", "set_tension"}, {"hot", "hot_tension"}} {
		tight, slack, hangs := Strands(in.Num(state.tension), F)
		if hangs {
			in.Outside(state.tension, "the slack strand hangs: %s carries a drive force of up to %s", show(in.Num(state.tension), "N"), show(2*in.Num(state.tension), "N"))
		}
		out.Num("tight_"+state.name, tight)
		out.Num("slack_"+state.name, slack)
		out.Num("shaft_"+state.name, ShaftLoad(tight, slack, wrap))
		largest = max(largest, tight)
	}
	mesh := z1 * wrap / (2 * math.Pi)
	if mesh < 6 {
		in.Outside("teeth_1", "only %s teeth mesh: below 6 the load per tooth is no longer shared evenly", show(mesh, "1"))
	}
	out.Num("torque", F*d1/2)
	out.Num("utilisation", largest/in.Num("allowable_tension"))
	out.Num("wrap", wrap)
	out.Num("teeth_in_mesh", mesh)
	out.Num("tooth_load", F/mesh)
	return nil
}
