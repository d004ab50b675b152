package model

import (
	"errors"
	"math"
)

const (
	screwSource  = "Shigley, Mechanical Engineering Design, 9th ed., sec. 8-2, eq. 8-1 to 8-6 (derivation seen)"
	columnSource = "Euler and Johnson, Shigley, Mechanical Engineering Design, 9th ed., sec. 4-12, 4-13 (from memory); end conditions: Gere, Mechanics of Materials, ch. 11 (sol. 11.4-8 seen)"
	whirlSource  = "Blevins, Formulas for Natural Frequency and Mode Shape, Table 8-1 (from memory); eigenvalues: IIT Delhi virtual laboratory, free vibration of beams (seen)"
)

var screwModels = []Spec{
	{
		Name: "axis_load", Topic: "screw",
		Title: "force of a platform in its chamber on the screw that lifts and lowers it",
		Args: []Arg{
			{Name: "platform_mass", Unit: "kg", Doc: "mass of all that moves with an empty bed", Above: at(0)},
			{Name: "powder_mass", Unit: "kg", Doc: "mass of a full bed", AtLeast: at(0)},
			{Name: "seal_friction", Unit: "N", Doc: "friction of the seal on the chamber's walls, breakaway if the axis stops at each layer", AtLeast: at(0)},
			{Name: "guide_friction", Unit: "N", Doc: "friction of the guides", AtLeast: at(0)},
			{Name: "acceleration", Unit: "m/s^2", Doc: "largest acceleration, up as down", AtLeast: at(0)},
		},
		Results: []Res{
			{Name: "up", Unit: "N", Doc: "force on the screw going up with a full bed", Rises: "platform_mass powder_mass seal_friction guide_friction acceleration"},
			{Name: "up_empty", Unit: "N", Doc: "force on the screw going up with an empty bed", Rises: "platform_mass seal_friction guide_friction acceleration", Only: true},
			{Name: "hold", Unit: "N", Doc: "weight of the full bed and platform: force at rest if friction carries nothing", Rises: "platform_mass powder_mass", Only: true},
			{Name: "down", Unit: "N", Doc: "force on the screw going down with a full bed; negative: the screw pulls it down", Falls: "seal_friction guide_friction acceleration"},
			{Name: "down_empty", Unit: "N", Doc: "force on the screw going down with an empty bed; negative: the screw pulls it down", Rises: "powder_mass", Falls: "seal_friction guide_friction acceleration powder_mass"},
			{Name: "surplus", Unit: "N", Doc: "weight of the empty platform less all friction; negative: it does not go down by itself", Rises: "platform_mass", Falls: "seal_friction guide_friction", Only: true},
			{Name: "follows", Unit: "1", Doc: "1 if gravity overcomes seal and guides of the empty platform, else 0", Rises: "platform_mass", Falls: "seal_friction guide_friction", Only: true},
		},
		Formula: []string{
			"friction = seal_friction + guide_friction",
			"up = (platform_mass + powder_mass) * (g_n + acceleration) + friction # friction adds going up; g_n is the standard acceleration of free fall",
			"up_empty = platform_mass * (g_n + acceleration) + friction # g_n",
			"hold = (platform_mass + powder_mass) * g_n # g_n",
			"down = (platform_mass + powder_mass) * (g_n - acceleration) - friction # friction carries part of the weight going down; g_n",
			"down_empty = platform_mass * (g_n - acceleration) - friction # g_n",
			"surplus = platform_mass * g_n - friction # g_n",
		},
		Source: "Newton's second law; derived",
		Range:  "a vertical axis; friction that does not depend on the load",
		Fn: func(in *In, out *Out) error {
			f := AxisLoad{in.Num("platform_mass"), in.Num("powder_mass"), in.Num("seal_friction"), in.Num("guide_friction"), in.Num("acceleration")}.Forces()
			out.Num("up", f.Up)
			out.Num("up_empty", f.UpEmpty)
			out.Num("hold", f.Hold)
			out.Num("down", f.Down)
			out.Num("down_empty", f.DownEmpty)
			out.Num("surplus", f.Surplus)
			out.Num("follows", yes(f.Follows))
			return nil
		},
	},
	{
		Name: "screw_torque", Topic: "screw",
		Title: "torque of a sliding lead screw, and whether it holds its load by itself",
		Args: []Arg{
			{Name: "load", Unit: "N", Doc: "force along the axis", Above: at(0)},
			{Name: "pitch_diameter", Unit: "m", Doc: "mean diameter of the thread", Above: at(0)},
			{Name: "lead", Unit: "m", Doc: "travel per turn: starts times pitch", Above: at(0)},
			{Name: "friction", Unit: "1", Doc: "coefficient of friction in the thread", AtLeast: at(0), Low: at(0.03), High: at(0.3), RangeOf: "common practice"},
			{Name: "flank_angle", Unit: "rad", Doc: "half the angle of the thread: 0 square, 15° trapezoidal", AtLeast: at(0), AtMost: at(math.Pi / 4)},
			{Name: "collar_friction", Unit: "1", Doc: "coefficient of friction of a plain thrust collar; left out: a rolling bearing carries the load", AtLeast: at(0), Optional: true},
			{Name: "collar_diameter", Unit: "m", Doc: "mean diameter of that collar, with collar_friction", Above: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "raise", Unit: "N*m", Doc: "torque that moves the screw against the load", Rises: "load lead friction flank_angle collar_friction collar_diameter"},
			{Name: "lower", Unit: "N*m", Doc: "torque that moves it with the load; negative: the load drives the screw", Rises: "friction flank_angle collar_friction collar_diameter", Falls: "lead"},
			{Name: "holding", Unit: "N*m", Doc: "torque that keeps the load from driving the screw, 0 if friction does", Rises: "load lead", Falls: "friction flank_angle collar_friction collar_diameter"},
			{Name: "efficiency", Unit: "1", Doc: "work on the load per work put in, against the load", Rises: "load", Falls: "load friction flank_angle collar_friction collar_diameter"},
			{Name: "lead_angle", Unit: "rad", Doc: "lead angle of the thread", Rises: "lead", Falls: "pitch_diameter", Only: true},
			{Name: "locking", Unit: "1", Doc: "thread friction over what just holds: above 1 the thread holds by itself", Rises: "pitch_diameter friction flank_angle", Falls: "lead", Only: true},
			{Name: "self_locking", Unit: "1", Doc: "1 if thread and collar hold the load by themselves, else 0", Rises: "load friction flank_angle collar_friction collar_diameter", Falls: "load lead"},
		},
		Formula: []string{
			"s = 1 / cos(flank_angle)",
			"collar = load * collar_friction * collar_diameter / 2",
			"raise = load * pitch_diameter / 2 * (lead + pi * friction * pitch_diameter * s) / (pi * pitch_diameter - friction * lead * s) + collar",
			"lower = load * pitch_diameter / 2 * (pi * friction * pitch_diameter * s - lead) / (pi * pitch_diameter + friction * lead * s) + collar",
			"holding = max(0 N*m, -lower)",
			"efficiency = load * lead / (2 * pi * raise)",
			"lead_angle = atan(lead / (pi * pitch_diameter))",
			"locking = pi * friction * pitch_diameter * s / lead",
		},
		Source: screwSource,
		Range:  "thread friction counted too high by up to 1 %, which flanks of 15° reach at a lead angle of 35°, flanks of 30° at 17°: a finding beyond; static friction for holding, kinetic for driving; vibration can release a screw that locks at rest",
		Fn: func(in *In, out *Out) error {
			if _, err := in.together("collar_friction", "collar_diameter"); err != nil {
				return err
			}
			s := SlidingScrew{
				Load: in.Num("load"), PitchDiameter: in.Num("pitch_diameter"), Lead: in.Num("lead"), Friction: in.Num("friction"),
				FlankAngle: in.Num("flank_angle"), CollarFriction: in.Num("collar_friction"), CollarDiameter: in.Num("collar_diameter"),
			}
			t, err := s.Torque()
			if err != nil {
				return err
			}
			if more := s.FlankExcess(); more > 0.01 {
				in.Outside("flank_angle", "so steep a thread has %.1f %% less friction than is counted with its flank in the axial plane: it holds less than this says (derived)", 100*more/(1+more))
			}
			out.Num("raise", t.Raise)
			out.Num("lower", t.Lower)
			out.Num("holding", t.Holding)
			out.Num("efficiency", t.Efficiency)
			out.Num("lead_angle", t.LeadAngle)
			out.Num("locking", t.Locking)
			out.Num("self_locking", yes(t.SelfLocking))
			return nil
		},
	},
	{
		Name: "ball_screw_torque", Topic: "screw",
		Title: "torque of a ball screw, and the torque by which its load drives it",
		Args: []Arg{
			{Name: "load", Unit: "N", Doc: "force along the axis", AtLeast: at(0)},
			{Name: "lead", Unit: "m", Doc: "travel per turn", Above: at(0)},
			{Name: "efficiency", Unit: "1", Doc: "efficiency, driving the load", Above: at(0), AtMost: at(1), Low: at(0.7), High: at(0.98), RangeOf: "common practice"},
			{Name: "drag_torque", Unit: "N*m", Doc: "torque of preload and seals; left out: the nut has none", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "drive", Unit: "N*m", Doc: "torque that moves the screw against the load", Rises: "load lead drag_torque", Falls: "efficiency"},
			{Name: "back_drive", Unit: "N*m", Doc: "torque by which the load drives the screw", Rises: "load lead efficiency", Only: true},
			{Name: "holding", Unit: "N*m", Doc: "torque that keeps the load from driving the screw, 0 if drag does", Rises: "load lead efficiency", Falls: "drag_torque"},
			{Name: "back_efficiency", Unit: "1", Doc: "efficiency, driven by the load", Rises: "efficiency", Only: true},
		},
		Formula: []string{
			"drive = load * lead / (2 * pi * efficiency) + drag_torque",
			"back_efficiency = max(0, 2 - 1 / efficiency)",
			"back_drive = load * lead * back_efficiency / (2 * pi)",
			"holding = max(0 N*m, back_drive - drag_torque)",
		},
		Source: "energy balance; University of Utah, ME EN 7960, lecture 4, Ball Screw Calculations (seen); efficiency driven by the load: common practice",
		Range:  "steady motion, efficiency above 0.5 to be driven by the load",
		Fn: func(in *In, out *Out) error {
			drag := in.Num("drag_torque")
			drive, back, etaBack := BallScrewTorque(in.Num("load"), in.Num("lead"), in.Num("efficiency"), drag)
			out.Num("drive", drive)
			out.Num("back_drive", back)
			out.Num("holding", max(0, back-drag))
			out.Num("back_efficiency", etaBack)
			return nil
		},
	},
	{
		Name: "screw_backdrive", Topic: "screw",
		Title: "what holds a screw axis when the power goes",
		Args: []Arg{
			{Name: "load_torque", Unit: "N*m", Doc: "torque by which the load drives the screw: holding of screw_torque, back_drive of ball_screw_torque", AtLeast: at(0)},
			{Name: "drag_torque", Unit: "N*m", Doc: "drag of nut preload and bearings on the screw", AtLeast: at(0)},
			{Name: "detent_torque", Unit: "N*m", Doc: "torque with which the motor holds without current", AtLeast: at(0)},
			{Name: "gear_ratio", Unit: "1", Doc: "turns of the motor per turn of the screw; left out: the motor sits on the screw", Above: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "resisting", Unit: "N*m", Doc: "torque that resists, at the screw", Rises: "drag_torque detent_torque gear_ratio", Only: true},
			{Name: "surplus", Unit: "N*m", Doc: "resisting less load torque; negative: the bed drops", Rises: "drag_torque detent_torque gear_ratio", Falls: "load_torque"},
			{Name: "brake", Unit: "N*m", Doc: "torque at the screw that a brake must add at least, 0 if none", Rises: "load_torque", Falls: "drag_torque detent_torque gear_ratio"},
			{Name: "holds", Unit: "1", Doc: "1 if the axis stays, else 0", Rises: "drag_torque detent_torque gear_ratio", Falls: "load_torque"},
		},
		Formula: []string{
			"resisting = drag_torque + detent_torque * gear_ratio",
			"surplus = resisting - load_torque",
			"brake = max(0 N*m, -surplus)",
		},
		Source: "balance of torques; derived",
		Range:  "at rest and without vibration; friction and detent torque scatter by a factor of two: ask for a surplus as large as the load torque (common practice)",
		Fn: func(in *In, out *Out) error {
			ratio := 1.0
			if in.Has("gear_ratio") {
				ratio = in.Num("gear_ratio")
			}
			resisting := in.Num("drag_torque") + in.Num("detent_torque")*ratio
			surplus := resisting - in.Num("load_torque")
			out.Num("resisting", resisting)
			out.Num("surplus", surplus)
			out.Num("brake", max(0, -surplus))
			out.Num("holds", yes(surplus >= 0))
			return nil
		},
	},
	{
		Name: "screw_buckling", Topic: "screw",
		Title: "axial load at which a screw or round rod bows",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "free length under load", Above: at(0)},
			{Name: "root_diameter", Unit: "m", Doc: "diameter at the root of the thread, or of the rod", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "yield_strength", Unit: "Pa", Doc: "yield strength", Above: at(0)},
			endsArg("how screw ends are held", FixedFree, PinnedPinned, FixedGuided, FixedPinned, FixedFixed),
		},
		Results: bucklingResults("root_diameter", ""),
		Formula: append([]string{
			"area = pi * root_diameter^2 / 4",
			"second_moment = pi * root_diameter^4 / 64",
		}, bucklingFormula...),
		Source: columnSource,
		Range:  bucklingRange,
		Fn: func(in *In, out *Out) error {
			s := Round(in.Num("root_diameter"))
			buckling(out, Buckle(Ends(in.Text("ends")), in.Num("length"), s.Area, s.I, in.Num("modulus"), in.Num("yield_strength")))
			return nil
		},
	},
	{
		Name: "screw_whirl", Topic: "screw",
		Title: "critical speed of a screw or round shaft",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "free length between supports", Above: at(0)},
			{Name: "diameter", Unit: "m", Doc: "diameter, of a screw at the root of its thread", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "density", Unit: "kg/m^3", Doc: "density", Above: at(0)},
			endsArg("how its bearings hold it, the left end first", FixedFree, PinnedPinned, FixedPinned, FixedFixed),
			{Name: "mass", Unit: "kg", Doc: "mass of a body that turns with it; left out: there is none", Above: at(0), Optional: true},
			{Name: "mass_at", Unit: "m", Doc: "place of that body from the left end, with mass", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "critical", Unit: "rad/s", Doc: "critical speed", Rises: "diameter modulus", Falls: "length density mass"},
			{Name: "permissible", Unit: "rad/s", Doc: "eight tenths of it", Rises: "diameter modulus", Falls: "length density mass"},
			{Name: "frequency", Unit: "Hz", Doc: "first natural frequency, turns per second of the critical speed", Rises: "diameter modulus", Falls: "length density mass"},
		},
		Formula: []string{
			"shaft = lambda^2 / (2 * pi * length^2) * sqrt(modulus * (diameter / 4)^2 / density) # lambda is 1.87510 fixed-free, pi pinned-pinned, 3.92660 fixed-pinned, 4.73004 fixed-fixed",
			"body = 1 / (2 * pi * sqrt(mass * flexibility)) # flexibility is the deflection where the mass sits, per newton",
			"frequency = 1 / sqrt(1 / shaft^2 + 1 / body^2)",
			"critical = frequency * 1 turn",
			"permissible = 0.8 * critical # common practice",
		},
		Source: whirlSource + "; body on the shaft: Dunkerley, as in Khurmi, Theory of Machines (from memory)",
		Range:  "ideal bearings; length above 10 diameters; no load along the axis: one that presses lowers the speed to the root of 1 - load/buckling load; with a body Dunkerley's sum errs to the low side by a few per cent",
		Fn: func(in *In, out *Out) error {
			given, err := in.together("mass", "mass_at")
			if err != nil {
				return err
			}
			if given && in.Num("mass_at") > in.Num("length") {
				return Bad("mass_at", "%s lies beyond the end", show(in.Num("mass_at"), "m"))
			}
			if L, d := in.Num("length"), in.Num("diameter"); L < 10*d {
				in.Outside("length", "%s is less than ten diameters of %s: shear, left out, lowers the critical speed by more than 1 %% with free ends and 4 %% with fixed ones (Timoshenko's beam; computed)", show(L, "m"), show(d, "m"))
			}
			f := Whirl(Ends(in.Text("ends")), in.Num("length"), in.Num("diameter"), in.Num("modulus"), in.Num("density"), in.Num("mass"), in.Num("mass_at"))
			out.Num("frequency", f)
			out.Num("critical", 2*math.Pi*f)
			out.Num("permissible", 0.8*2*math.Pi*f)
			return nil
		},
	},
	{
		Name: "screw_life", Topic: "screw",
		Title: "rated life of a ball screw under changing load",
		Args: []Arg{
			{Name: "dynamic_rating", Unit: "N", Doc: "dynamic axial load rating", Above: at(0)},
			{Name: "loads", Unit: "N", Shape: List, Doc: "load of each part of the duty", AtLeast: at(0)},
			{Name: "speeds", Unit: "rad/s", Shape: List, Doc: "speed of each part", Above: at(0)},
			{Name: "shares", Unit: "1", Shape: List, Doc: "share of each part in the running time", Above: at(0)},
			{Name: "lead", Unit: "m", Doc: "travel per turn", Above: at(0)},
			{Name: "reliability_factor", Unit: "1", Doc: "life factor for a reliability above 90 %; left out: 1, 90 % of screws reach the life", Above: at(0), AtMost: at(1), Optional: true},
		},
		Results: append(lifeResults("lead"), Res{Name: "distance", Unit: "m", Doc: "life as distance travelled", Rises: "dynamic_rating reliability_factor lead", Falls: "loads"}),
		Formula: append(ballLife[:len(ballLife):len(ballLife)], "distance = revolutions * lead"),
		Source:  "ISO 3408-5:2006 (title seen, clause from memory)",
		Range:   "loads up to half the rating, hardened steel, lubricated, strokes longer than two nut lengths",
		Fn: func(in *In, out *Out) error {
			if err := rollingLife(in, out, 3); err != nil {
				return err
			}
			n, _ := out.Get("revolutions").(float64)
			out.Num("distance", n*in.Num("lead"))
			return nil
		},
	},
	{
		Name: "screw_stiffness", Topic: "screw",
		Title: "axial stiffness of a screw with its nut and bearings",
		Args: []Arg{
			{Name: "root_diameter", Unit: "m", Doc: "diameter at the root of the thread", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "length", Unit: "m", Doc: "distance of the bearings, or from the fixed bearing to the far end", Above: at(0)},
			{Name: "nut_at", Unit: "m", Doc: "distance of the nut from the fixed bearing", Above: at(0)},
			{Name: "axially_fixed", Shape: Text, Choices: []string{"one end", "both ends"}, Doc: "which bearings take axial load"},
			{Name: "nut_stiffness", Unit: "N/m", Doc: "axial stiffness of the nut; left out: rigid", Above: at(0), Optional: true},
			{Name: "bearing_stiffness", Unit: "N/m", Doc: "axial stiffness of the bearings; left out: rigid", Above: at(0), Optional: true},
			{Name: "mount_stiffness", Unit: "N/m", Doc: "axial stiffness of what holds nut and bearings; left out: rigid", Above: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "shaft", Unit: "N/m", Doc: "stiffness of the screw itself", Rises: "root_diameter modulus nut_stiffness bearing_stiffness mount_stiffness", Falls: "length nut_stiffness bearing_stiffness mount_stiffness"},
			{Name: "total", Unit: "N/m", Doc: "stiffness of all in series", Rises: "root_diameter modulus nut_stiffness bearing_stiffness mount_stiffness", Falls: "length"},
		},
		Formula: []string{
			"area = pi * root_diameter^2 / 4",
			"shaft = modulus * area / nut_at # one end",
			"shaft = modulus * area * length / (nut_at * (length - nut_at)) # both ends",
			"total = 1 / (1 / shaft + 1 / nut_stiffness + 1 / bearing_stiffness + 1 / mount_stiffness)",
		},
		Source: "University of Utah, ME EN 7960, lecture 4, Ball Screw Calculations (seen); ISO 3408-4 (from memory)",
		Range:  "root section over the whole length",
		Fn: func(in *In, out *Out) error {
			L, x := in.Num("length"), in.Num("nut_at")
			if x >= L {
				return Bad("nut_at", "%s is not on a screw of %s", show(x, "m"), show(L, "m"))
			}
			shaft := in.Num("modulus") * Round(in.Num("root_diameter")).Area / x
			if in.Text("axially_fixed") == "both ends" {
				shaft *= L / (L - x)
			}
			all := []float64{shaft}
			for _, name := range []string{"nut_stiffness", "bearing_stiffness", "mount_stiffness"} {
				if in.Has(name) {
					all = append(all, in.Num(name))
				}
			}
			out.Num("shaft", shaft)
			out.Num("total", Series(all...))
			return nil
		},
	},
	{
		Name: "layer_steps", Topic: "screw",
		Title: "how a layer divides into steps of the motor",
		Args: []Arg{
			{Name: "layer", Unit: "m", Doc: "layer thickness", Above: at(0)},
			{Name: "lead", Unit: "m", Doc: "travel per turn of the screw", Above: at(0)},
			{Name: "steps_per_turn", Unit: "1", Doc: "full steps per turn of the motor", AtLeast: at(1)},
			{Name: "microsteps", Unit: "1", Doc: "microsteps per full step", AtLeast: at(1), High: at(64), RangeOf: "common practice: finer microsteps carry no torque of their own"},
			{Name: "gear_ratio", Unit: "1", Doc: "turns of the motor per turn of the screw; left out: the motor sits on the screw", Above: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "full_step", Unit: "m", Doc: "travel of a full step", Rises: "lead", Falls: "steps_per_turn gear_ratio", Only: true},
			{Name: "full_steps", Unit: "1", Doc: "full steps per layer", Rises: "layer steps_per_turn gear_ratio", Falls: "lead", Only: true},
			{Name: "microsteps_per_layer", Unit: "1", Doc: "microsteps per layer", Rises: "layer steps_per_turn microsteps gear_ratio", Falls: "lead"},
			{Name: "nearest", Unit: "m", Doc: "nearest thickness of whole microsteps", Rises: "layer"},
			{Name: "rounding", Unit: "m", Doc: "nearest less layer: error of each layer if each is rounded by itself"},
			{Name: "whole", Unit: "1", Doc: "1 if a layer is a whole number of full steps, else 0", Rises: "microsteps", Falls: "microsteps"},
		},
		Formula: []string{
			"full_step = lead / (steps_per_turn * gear_ratio)",
			"full_steps = layer / full_step",
			"microsteps_per_layer = full_steps * microsteps",
			"nearest = round(microsteps_per_layer) * full_step / microsteps",
			"rounding = nearest - layer",
		},
		Source: "derived",
		Range:  "an axis without backlash",
		Fn: func(in *In, out *Out) error {
			if err := in.whole("steps_per_turn", "microsteps"); err != nil {
				return err
			}
			ratio := 1.0
			if in.Has("gear_ratio") {
				ratio = in.Num("gear_ratio")
			}
			s, err := Steps(in.Num("layer"), in.Num("lead"), in.Num("steps_per_turn"), in.Num("microsteps"), ratio)
			if err != nil {
				return err
			}
			out.Num("full_step", s.FullStep)
			out.Num("full_steps", s.Full)
			out.Num("microsteps_per_layer", s.Micro)
			out.Num("nearest", s.Nearest)
			out.Num("rounding", s.Rounding)
			out.Num("whole", yes(s.Whole))
			return nil
		},
	},
	{
		Name: "lead_error", Topic: "screw",
		Title: "by how much a screw's travel may be off, by its grade and by warming",
		Args: []Arg{
			{Name: "variation", Unit: "m", Doc: "permitted variation of travel over any 300 mm", AtLeast: at(0)},
			{Name: "travel", Unit: "m", Doc: "travel", Above: at(0)},
			{Name: "expansion", Unit: "K^-1", Doc: "thermal expansion of the screw"},
			{Name: "rise", Unit: "K", Doc: "rise of its temperature"},
			{Name: "multiple", Unit: "1", Doc: "of the variation that the screw may be off over 300 mm: 2 for transport screws (grades T of ISO 3408-3, most rolled ones); left out: 1, a positioning screw", AtLeast: at(1), AtMost: at(2), Optional: true},
		},
		Results: []Res{
			{Name: "accuracy", Unit: "m", Doc: "by grade, either way", Rises: "variation travel multiple", Only: true},
			{Name: "thermal", Unit: "m", Doc: "by warming, with its sign", Rises: "variation multiple", Falls: "variation multiple"},
			{Name: "largest", Unit: "m", Doc: "largest of both together, without sign", Rises: "variation travel multiple"},
		},
		Formula: []string{
			"accuracy = multiple * variation * max(1, travel / 300 mm) # over any shorter travel the whole variation is permitted",
			"thermal = expansion * travel * rise",
			"largest = accuracy + abs(thermal)",
		},
		Source: "variation over 300 mm as ISO 3408-3 grades screws (a maker's page on lead error and its twofold for transport screws seen); proportion to longer travels: common practice",
		Range:  "a bound, not a prediction; the screw at one temperature; for a positioning screw of known length the tables of ISO 3408-3 permit less",
		Fn: func(in *In, out *Out) error {
			k := 1.0
			if in.Has("multiple") {
				k = in.Num("multiple")
			}
			a, th := LeadError(in.Num("variation"), in.Num("travel"), in.Num("expansion"), in.Num("rise"), k)
			out.Num("accuracy", a)
			out.Num("thermal", th)
			out.Num("largest", a+math.Abs(th))
			return nil
		},
	},
	{
		Name: "screw_wobble", Topic: "screw",
		Title: "sideways movement of a bed by a screw that runs out, with a rigid or a floating nut",
		Args: []Arg{
			{Name: "eccentricity", Unit: "m", Doc: "eccentricity of the screw's axis at the nut: half the runout", AtLeast: at(0)},
			{Name: "screw_stiffness", Unit: "N/m", Doc: "sideways stiffness of the screw at the nut, as shaft_sag gives it", Above: at(0)},
			{Name: "guide_stiffness", Unit: "N/m", Doc: "sideways stiffness of the guides at the bed", Above: at(0)},
			{Name: "nut", Shape: Text, Choices: []string{"rigid", "flexure", "sliding"}, Doc: "bolted to the bed; held by springs both ways; free to slide both ways on a face"},
			{Name: "nut_stiffness", Unit: "N/m", Doc: "sideways stiffness of a flexure nut, required with it", Above: at(0), Optional: true},
			{Name: "friction", Unit: "1", Doc: "static friction on the face of a sliding nut, required with it", AtLeast: at(0), Optional: true},
			{Name: "axial_load", Unit: "N", Doc: "load on that face, required with a sliding nut", AtLeast: at(0), Optional: true},
		},
		Results: []Res{
			{Name: "amplitude", Unit: "m", Doc: "amplitude of the bed's movement, period one lead; for a sliding nut its bound", Rises: "eccentricity screw_stiffness nut_stiffness friction axial_load", Falls: "guide_stiffness"},
			{Name: "transfer", Unit: "1", Doc: "amplitude of the bed over that of a bed bolted to the screw's axis", Rises: "screw_stiffness nut_stiffness friction axial_load", Falls: "eccentricity guide_stiffness"},
			{Name: "side_force", Unit: "N", Doc: "amplitude of the force on the guides", Rises: "eccentricity screw_stiffness guide_stiffness nut_stiffness friction axial_load"},
		},
		Formula: []string{
			"k = screw_stiffness # rigid nut",
			"k = 1 / (1 / screw_stiffness + 1 / nut_stiffness) # flexure nut",
			"amplitude = eccentricity * k / (k + guide_stiffness)",
			"amplitude = min(amplitude, friction * axial_load / guide_stiffness) # sliding nut: it sticks until the side force overcomes friction",
			"side_force = amplitude * guide_stiffness",
		},
		Source: "springs in series; derived",
		Range:  "slow turning; movement along the axis passes through whatever the nut",
		Fn:     screwWobble,
	},
}

const bucklingRange = "straight, load through the centre; ends as ideal as named, which no real ones are: Shigley's table 4-2 (from memory) recommends k of 1.2 at most for fixed-pinned and fixed-fixed, which pinned-pinned comes nearest to; keep below by a factor of 2 to 4 (common practice)"

// bucklingResults of a section that stiff makes stiffer, and area no stiffer.
// Johnson's load rises with area A and yield strength S as long as it counts:
// it is A S (1 - x/2) with x = (s/s_c)² ≤ 1, and x goes with A S.
func bucklingResults(stiff, area string) []Res {
	return []Res{
		{Name: "critical", Unit: "N", Doc: "load at which it gives way", Rises: "modulus yield_strength " + stiff + " " + area, Falls: "length"},
		{Name: "euler", Unit: "N", Doc: "the same by Euler's formula, too high for stout columns", Rises: "modulus " + stiff, Falls: "length", Only: true},
		{Name: "slenderness", Unit: "1", Doc: "effective length over radius of gyration", Rises: "length " + area, Falls: stiff, Only: true},
		{Name: "limit_slenderness", Unit: "1", Doc: "slenderness above which Euler's formula holds", Rises: "modulus", Falls: "yield_strength", Only: true},
	}
}

var bucklingFormula = []string{
	"slenderness = length / sqrt(k * second_moment / area) # k is 0.25 fixed-free, 1 pinned-pinned and fixed-guided, 2.046 fixed-pinned, 4 fixed-fixed",
	"limit_slenderness = sqrt(2 * pi^2 * modulus / yield_strength)",
	"euler = k * pi^2 * modulus * second_moment / length^2 # k as above",
	"johnson = area * (yield_strength - (yield_strength * slenderness / (2 * pi))^2 / modulus)",
	"critical = if slenderness > limit_slenderness then euler else johnson",
}

func buckling(out *Out, b Buckling) {
	out.Num("critical", b.Critical)
	out.Num("euler", b.Euler)
	out.Num("slenderness", b.Slenderness)
	out.Num("limit_slenderness", b.Limit)
}

func screwWobble(in *In, out *Out) error {
	nut := in.Text("nut")
	var errs []error
	for _, need := range []struct{ arg, nut string }{{"nut_stiffness", "flexure"}, {"friction", "sliding"}, {"axial_load", "sliding"}} {
		switch {
		case need.nut == nut && !in.Has(need.arg):
			errs = append(errs, Bad(need.arg, "is missing: a %s nut needs it", nut))
		case need.nut != nut && in.Has(need.arg):
			errs = append(errs, Bad(need.arg, "has no meaning for a %s nut", nut))
		}
	}
	if len(errs) > 0 {
		return errors.Join(errs...)
	}
	e, kg, k := in.Num("eccentricity"), in.Num("guide_stiffness"), in.Num("screw_stiffness")
	if nut == "flexure" {
		k = Series(k, in.Num("nut_stiffness"))
	}
	transfer := Wobble(k, kg)
	amplitude := e * transfer
	if nut == "sliding" {
		if bound := in.Num("friction") * in.Num("axial_load") / kg; bound < amplitude {
			amplitude, transfer = bound, bound/e
		}
	}
	out.Num("amplitude", amplitude)
	out.Num("transfer", transfer)
	out.Num("side_force", amplitude*kg)
	return nil
}
