package model

const (
	tighteningSource = "VDI 2230-1:2015 (from memory; its torques for class 8.8 seen in a table)"
	classSource      = "ISO 898-1:2013 and ISO 3506-1 (minimum values, seen in reprints)"
)

func sizeArg() Arg {
	a := Arg{Name: "size", Shape: Text, Doc: "size of the thread, ISO metric coarse"}
	for _, t := range threads {
		a.Choices = append(a.Choices, t.Size)
	}
	return a
}

func classArg() Arg {
	a := Arg{Name: "property_class", Shape: Text, Doc: "property class marked on the screw"}
	for _, c := range classes {
		a.Choices = append(a.Choices, c.Name)
	}
	return a
}

func headArg() Arg {
	return Arg{Name: "head", Shape: Text, Choices: []string{"hexagon", "socket"}, Doc: "head of the screw: hexagon (ISO 4017) or socket (ISO 4762), straight on the part"}
}

func frictionArgs() []Arg {
	return []Arg{
		{Name: "thread_friction", Unit: "1", Doc: "coefficient of friction in the thread", AtLeast: at(0), Low: at(0.08), High: at(0.3), RangeOf: "VDI 2230-1, friction classes B to D (from memory)"},
		{Name: "head_friction", Unit: "1", Doc: "coefficient of friction under the head", AtLeast: at(0), Low: at(0.08), High: at(0.3), RangeOf: "VDI 2230-1, friction classes B to D (from memory)"},
	}
}

// jointOf reads the arguments of sizeArg, classArg, headArg and frictionArgs.
func jointOf(in *In) Joint {
	j := Joint{Thread: FindThread(in.Text("size")), Class: FindClass(in.Text("property_class")), FricT: in.Num("thread_friction"), FricH: in.Num("head_friction")}
	j.Face = j.Thread.Hex
	if in.Text("head") == "socket" {
		j.Face = j.Thread.Cap
	}
	return j
}

var jointFormula = []string{
	"d_2 = d - 3 / 8 * sqrt(3) * pitch # d is the nominal diameter, pitch that of the coarse thread",
	"d_0 = d - 13 / 24 * sqrt(3) * pitch # diameter of the stress area; d and pitch as above",
	"stress_area = pi / 4 * d_0^2",
	"torque = preload * (0.16 * pitch + 0.58 * d_2 * thread_friction + head_friction * (d_w + d_h) / 4) # pitch; d_w is the bearing face, d_h the clearance hole",
	"twist = 1.5 * d_2 / d_0 * (pitch / (pi * d_2) + 1.155 * thread_friction) # pitch",
	"stress = preload / stress_area * sqrt(1 + 3 * twist^2)",
	"bearing_pressure = preload / (pi / 4 * (d_w^2 - d_h^2)) # d_w, d_h as above",
}

var fastenerModels = []Spec{
	{
		Name: "screw_strength", Topic: "fastener",
		Title: "stress area and loads of a metric screw",
		Args:  []Arg{sizeArg(), classArg()},
		Results: []Res{
			{Name: "stress_area", Unit: "m^2", Doc: "area that carries the tension"},
			{Name: "proof_load", Unit: "N", Doc: "load that leaves no set; of stainless classes, which have none, the load at the 0.2 % limit"},
			{Name: "yield_load", Unit: "N", Doc: "least load at yield"},
			{Name: "tensile_load", Unit: "N", Doc: "least load at which it breaks"},
			{Name: "clearance_hole", Unit: "m", Doc: "clearance hole, medium series"},
		},
		Formula: []string{
			"d_0 = d - 13 / 24 * sqrt(3) * pitch # d is the nominal diameter, pitch that of the coarse thread",
			"stress_area = pi / 4 * d_0^2",
			"proof_load = proof_stress * stress_area # proof_stress is that of the class",
			"yield_load = yield_stress * stress_area # yield_stress is that of the class",
			"tensile_load = tensile_strength * stress_area # tensile_strength is that of the class",
		},
		Source: classSource,
		Range:  "M3 to M16 coarse, room temperature",
		Fn: func(in *In, out *Out) error {
			t, c := FindThread(in.Text("size")), FindClass(in.Text("property_class"))
			A := t.StressArea()
			out.Num("stress_area", A)
			out.Num("proof_load", c.Proof*A)
			out.Num("yield_load", c.Yield*A)
			out.Num("tensile_load", c.Strong*A)
			out.Num("clearance_hole", t.Hole)
			return nil
		},
	},
	{
		Name: "screw_tightening", Topic: "fastener",
		Title: "torque and preload of a screw tightened to a part of its yield strength",
		Args: append([]Arg{sizeArg(), classArg(), headArg()}, append(frictionArgs(),
			Arg{Name: "use", Unit: "1", Doc: "part of the yield strength that tightening uses, 0.9 by the torque tables", Above: at(0), AtMost: at(1)})...),
		Results: []Res{
			{Name: "preload", Unit: "N", Doc: "preload", Rises: "use", Falls: "thread_friction", Only: true},
			{Name: "torque", Unit: "N*m", Doc: "torque that gives it", Rises: "use head_friction"},
			{Name: "proof_share", Unit: "1", Doc: "preload over proof load: 0.75 for joints that are opened again, 0.9 for lasting ones", Rises: "use", Falls: "thread_friction", Only: true},
			{Name: "bearing_pressure", Unit: "Pa", Doc: "pressure under the head", Rises: "use", Falls: "thread_friction", Only: true},
			{Name: "stress_area", Unit: "m^2", Doc: "area that carries the tension", Only: true},
		},
		Formula: append([]string{"stress = use * yield_stress # yield_stress is that of the class"}, jointFormula...),
		Source:  tighteningSource,
		Range:   "steel threads or full engagement: never for threads in plastic, inserts, or short threads in aluminium; friction moves the preload by a factor of two, a torque wrench scatters it by 1.4 to 1.6",
		Fn: func(in *In, out *Out) error {
			j := jointOf(in)
			F := in.Num("use") * j.Class.Yield / j.Stress(1)
			out.Num("preload", F)
			out.Num("torque", j.Torque(F))
			out.Num("proof_share", F/(j.Class.Proof*j.Thread.StressArea()))
			out.Num("bearing_pressure", j.FacePressure(F))
			out.Num("stress_area", j.Thread.StressArea())
			return nil
		},
	},
	{
		Name: "screw_preload", Topic: "fastener",
		Title: "preload of a screw tightened with a given torque",
		Args: append([]Arg{sizeArg(), classArg(), headArg()}, append(frictionArgs(),
			Arg{Name: "torque", Unit: "N*m", Doc: "torque", Above: at(0)})...),
		Results: []Res{
			{Name: "preload", Unit: "N", Doc: "preload", Rises: "torque", Falls: "thread_friction head_friction"},
			{Name: "stress", Unit: "Pa", Doc: "equivalent stress in the screw while it is tightened", Rises: "torque", Falls: "head_friction"},
			{Name: "use", Unit: "1", Doc: "that stress over the yield strength", Rises: "torque", Falls: "head_friction"},
			{Name: "proof_share", Unit: "1", Doc: "preload over proof load", Rises: "torque", Falls: "thread_friction head_friction"},
			{Name: "bearing_pressure", Unit: "Pa", Doc: "pressure under the head", Rises: "torque", Falls: "thread_friction head_friction"},
			{Name: "nut_factor", Unit: "1", Doc: "K of the short form torque = K preload d", Rises: "thread_friction head_friction", Only: true},
		},
		Formula: append(jointFormula[:len(jointFormula):len(jointFormula)], "nut_factor = torque / (preload * d) # d"),
		Source:  tighteningSource,
		Range:   "as screw_tightening; above a use of 1 the screw yields while it is tightened",
		Fn: func(in *In, out *Out) error {
			j := jointOf(in)
			M := in.Num("torque")
			F := j.Preload(M)
			if F == 0 || j.arm() == 0 {
				return Bad("torque", "gives no preload")
			}
			use := j.Stress(F) / j.Class.Yield
			if use > 1 {
				in.Outside("torque", "the screw yields: its stress would be %s of a yield strength of %s", show(j.Stress(F), "Pa"), show(j.Class.Yield, "Pa"))
			}
			out.Num("preload", F)
			out.Num("stress", j.Stress(F))
			out.Num("use", use)
			out.Num("proof_share", F/(j.Class.Proof*j.Thread.StressArea()))
			out.Num("bearing_pressure", j.FacePressure(F))
			out.Num("nut_factor", M/(F*j.Thread.D))
			return nil
		},
	},
	{
		Name: "thread_engagement", Topic: "fastener",
		Title: "whether a tapped thread holds, and how long it must be",
		Args: []Arg{sizeArg(), classArg(),
			{Name: "engagement", Unit: "m", Doc: "length of thread engaged, chamfers left out", Above: at(0)},
			{Name: "shear_strength", Unit: "Pa", Doc: "shear strength of the tapped part, about 0.6 of its tensile strength for metals", Above: at(0)},
			{Name: "tapped", Shape: Text, Choices: []string{"steel", "cast iron", "aluminium", "plastic"}, Doc: "material of the tapped part, for the rule of thumb"},
		},
		Results: []Res{
			{Name: "nut_strip", Unit: "N", Doc: "load that strips the tapped thread", Rises: "engagement shear_strength"},
			{Name: "screw_strip", Unit: "N", Doc: "load that strips the thread of the screw", Rises: "engagement", Only: true},
			{Name: "tensile_load", Unit: "N", Doc: "least load at which the screw breaks", Only: true},
			{Name: "ratio", Unit: "1", Doc: "lower of the strip loads over the tensile load: above 1 the screw breaks first", Rises: "engagement shear_strength"},
			{Name: "needed", Unit: "m", Doc: "engagement at which the ratio is 1", Falls: "shear_strength", Only: true},
			{Name: "rule", Unit: "m", Doc: "engagement by rule of thumb: 1 d in steel, 1.5 d in cast iron, 2 d in aluminium, 2.5 d in plastic", Only: true},
		},
		Formula: []string{
			"nut_area = pi * engagement / pitch * d_s * (pitch / 2 + (d_s - D_2) / sqrt(3)) # per tolerances 6H and 6g: d_s is the smallest screw, D_2 the largest pitch diameter of the nut, pitch that of the thread",
			"nut_strip = nut_area * shear_strength",
			"screw_area = pi * engagement / pitch * D_1 * (pitch / 2 + (d_2 - D_1) / sqrt(3)) # D_1 is the largest bore of the nut, d_2 the smallest pitch diameter of the screw, pitch that of the thread",
			"screw_strip = screw_area * 0.6 * tensile_strength # tensile_strength is that of the class",
			"tensile_load = tensile_strength * stress_area # tensile_strength and stress_area are those of screw_strength",
			"ratio = min(nut_strip, screw_strip) / tensile_load",
			"needed = engagement / ratio",
		},
		Source: "FED-STD-H28 (from memory; its values seen in a table after Bickford); rule of thumb: designnews.com thread 239122 (seen), plastic: common practice",
		Range:  "the turns share the load: engagement of three turns to 1.5 d, or to the rule where that is longer; the spreading of a thin nut's walls is left out",
		Fn: func(in *In, out *Out) error {
			t, c := FindThread(in.Text("size")), FindClass(in.Text("property_class"))
			L := in.Num("engagement")
			if L < 3*t.P {
				in.Outside("engagement", "%s is less than three turns of %s", show(L, "m"), show(t.P, "m"))
			}
			rule := engagementRule[in.Text("tapped")] * t.D
			if longest := max(1.5*t.D, rule); L > longest*(1+1e-9) {
				in.Outside("engagement", "%s is more than %s: the last turns carry hardly anything, and the strip loads count them in full (common practice)", show(L, "m"), show(longest, "m"))
			}
			nut, screw := t.ShearAreas(L)
			nut *= in.Num("shear_strength")
			screw *= 0.6 * c.Strong
			tensile := c.Strong * t.StressArea()
			ratio := min(nut, screw) / tensile
			out.Num("nut_strip", nut)
			out.Num("screw_strip", screw)
			out.Num("tensile_load", tensile)
			out.Num("ratio", ratio)
			out.Num("needed", L/ratio)
			out.Num("rule", rule)
			return nil
		},
	},
	{
		Name: "screw_length", Topic: "fastener",
		Title: "length of a screw from its grip and the thread it must engage",
		Args: []Arg{
			{Name: "grip", Unit: "m", Doc: "thickness that is clamped, with washers", Above: at(0)},
			{Name: "engagement", Unit: "m", Doc: "least length of thread engaged", Above: at(0)},
			{Name: "depth", Unit: "m", Doc: "greatest length that may stand below the grip: depth of thread, or nut and what may stand out", Above: at(0)},
		},
		Results: []Res{
			{Name: "length", Unit: "m", Doc: "shortest preferred length that engages enough", Rises: "grip engagement", Only: true},
			{Name: "engaged", Unit: "m", Doc: "what of it stands below the grip", Rises: "engagement depth", Falls: "depth"},
			{Name: "spare", Unit: "m", Doc: "depth left below the screw; negative: it bottoms before it clamps", Rises: "depth", Falls: "engagement"},
			{Name: "bottoms", Unit: "1", Doc: "1 if it bottoms, else 0", Rises: "engagement", Falls: "depth"},
			{Name: "longest", Unit: "m", Doc: "longest preferred length that does not bottom, for those who have no shorter one; 0 if there is none", Rises: "grip depth", Only: true},
		},
		Formula: []string{
			"length = next(grip + engagement) # next is the next preferred length of ISO 888",
			"engaged = length - grip",
			"spare = depth - engaged",
			"longest = last(grip + depth) # last is the last preferred length that is not longer",
		},
		Source: "lengths of ISO 888 (from memory; the same steps seen in a handbook's table)",
		Range:  "grips that leave a length up to 160 mm, not all of which are sold in every size; screws under the head as ISO 4017 and ISO 4762 measure them",
		Fn: func(in *In, out *Out) error {
			grip := in.Num("grip")
			if in.Num("depth") < in.Num("engagement") {
				return Bad("depth", "%s is less than the engagement of %s", show(in.Num("depth"), "m"), show(in.Num("engagement"), "m"))
			}
			l, err := ScrewLength(grip, in.Num("engagement"))
			if err != nil {
				return err
			}
			spare := in.Num("depth") - (l - grip)
			if spare > -1e-9*l && spare < 1e-9*l {
				spare = 0
			}
			out.Num("length", l)
			out.Num("engaged", l-grip)
			out.Num("spare", spare)
			out.Num("bottoms", yes(spare < 0))
			longest := 0.0
			for _, l := range preferredLengths {
				if l*mm <= (grip+in.Num("depth"))*(1+1e-9) {
					longest = l * mm
				}
			}
			out.Num("longest", longest)
			return nil
		},
	},
	{
		Name: "joint_drift", Topic: "fastener",
		Title: "preload of a screwed joint after warming",
		Args: []Arg{
			{Name: "preload", Unit: "N", Doc: "preload as tightened", Above: at(0)},
			{Name: "grip", Unit: "m", Doc: "thickness that is clamped", Above: at(0)},
			{Name: "screw_expansion", Unit: "K^-1", Doc: "thermal expansion of the screw"},
			{Name: "part_expansion", Unit: "K^-1", Doc: "thermal expansion of the parts"},
			{Name: "screw_stiffness", Unit: "N/m", Doc: "stiffness of the screw over the grip", Above: at(0)},
			{Name: "part_stiffness", Unit: "N/m", Doc: "stiffness of the parts", Above: at(0)},
			{Name: "rise", Unit: "K", Doc: "rise of temperature since tightening"},
		},
		Results: []Res{
			{Name: "hot", Unit: "N", Doc: "preload after warming, 0 where the joint opens", Rises: "preload"},
			{Name: "change", Unit: "N", Doc: "hot less preload", Falls: "preload"},
			{Name: "opens", Unit: "1", Doc: "1 if the joint opens, else 0", Falls: "preload"},
		},
		Formula: []string{
			"hot = max(0 N, preload + (part_expansion - screw_expansion) * grip * rise / (1 / screw_stiffness + 1 / part_stiffness))",
			"change = hot - preload",
		},
		Source: "compatibility of two bodies under heat, Gere, Mechanics of Materials, sec. 2.5 (solution 2.5-7 seen)",
		Range:  "elastic; plastics creep and keep no preload",
		Fn: func(in *In, out *Out) error {
			F := in.Num("preload")
			hot := F + JointDrift(in.Num("grip"), in.Num("screw_expansion"), in.Num("part_expansion"), in.Num("screw_stiffness"), in.Num("part_stiffness"), in.Num("rise"))
			out.Num("opens", yes(hot <= 0))
			hot = max(0, hot)
			out.Num("hot", hot)
			out.Num("change", hot-F)
			return nil
		},
	},
}

// engagementRule gives the usual engagement in diameters.
var engagementRule = map[string]float64{"steel": 1, "cast iron": 1.5, "aluminium": 2, "plastic": 2.5}
