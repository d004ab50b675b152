package model

// bankArgs are the arguments that place the lamps.
var bankArgs = []Arg{
	{Name: "x", Unit: "m", Shape: List, Doc: "middle of each lamp along the bed's width, from the middle of the bed; a single quantity in any list of lamps stands for all of them"},
	{Name: "y", Unit: "m", Shape: List, Doc: "middle of each lamp along the bed's depth, from the middle of the bed"},
	{Name: "height", Unit: "m", Shape: List, Above: at(0), Doc: "height of the middle of each lamp above the powder"},
	{Name: "length", Unit: "m", Shape: List, Above: at(0), Doc: "heated length of each lamp"},
	{Name: "angle", Unit: "rad", Shape: List, Doc: "direction of each lamp in plan, 0 along x"},
	{Name: "tilt", Unit: "rad", Shape: List, Optional: true, AtLeast: at(-1.5707963267948966), AtMost: at(1.5707963267948966), Doc: "rise of each lamp above the horizontal; left out: all lie level"},
}

var mirrorArgs = []Arg{
	{Name: "reflector_height", Unit: "m", Optional: true, Above: at(0), Doc: "height of a large flat mirror above the powder; with reflectance, or both left out: no reflector"},
	{Name: "reflectance", Unit: "1", Optional: true, AtLeast: at(0), AtMost: at(1), Doc: "share of the radiant power that the mirror returns"},
}

var (
	powerArg      = Arg{Name: "power", Unit: "W", Shape: List, AtLeast: at(0), Doc: "electrical power of each lamp"}
	efficiencyArg = Arg{Name: "radiant_efficiency", Unit: "1", Above: at(0), AtMost: at(1), Low: at(0.4), High: at(0.95), RangeOf: "0.5 for long-wave ceramic to 0.85 for short-wave halogen lamps, common practice", Doc: "share of the electrical power that leaves the lamps as radiation"}
	lawArg        = Arg{Name: "law", Shape: Text, Choices: []string{"diffuse", "isotropic"}, Doc: "how a lamp radiates: diffuse cylinder (a hot tube or filament) or isotropic line"}
	diameterArg   = Arg{Name: "diameter", Unit: "m", Above: at(0), Optional: true, Doc: "outer diameter of the lamps; only checks that they are thin for their height"}
	bedArgs       = []Arg{
		{Name: "bed_x", Unit: "m", Above: at(0), Doc: "width of the bed"},
		{Name: "bed_y", Unit: "m", Above: at(0), Doc: "depth of the bed"},
	}
	nodesArg = Arg{Name: "nodes", Unit: "1", AtLeast: at(5), AtMost: at(401), Doc: "computed points along each side of the bed, an odd number"}
)

func args(parts ...any) (all []Arg) {
	for _, p := range parts {
		switch p := p.(type) {
		case Arg:
			all = append(all, p)
		case []Arg:
			all = append(all, p...)
		}
	}
	return all
}

const lampSource = "derived: intensity of a thin cylinder integrated along its length, horizon clipped; agrees under the lamp with the relation in Keitz, Light Calculations and Measurements, 1971 (relation seen in proceedings that quote it)"

var lampFormula = []string{
	"E = radiant_efficiency * power / (2 * pi^2 * length * d) * (n_e * ((phi_2 - phi_1) / 1 rad + (sin(2 * phi_2) - sin(2 * phi_1)) / 2) + n_u * (sin(phi_2)^2 - sin(phi_1)^2)) # diffuse law, each lamp; d is the distance of the point from the lamp's axis, phi_1 and phi_2 the angles at the point from the foot of d to the ends, n_e and n_u the cosines of the vertical with d and with the axis",
	"E = radiant_efficiency * power / (4 * pi * length * d) * (n_e * (sin(phi_2) - sin(phi_1)) - n_u * (cos(phi_2) - cos(phi_1))) # isotropic law instead; symbols as above: d, n_e, n_u, phi_1, phi_2",
	"E_image = reflectance * E_above # E_above is E of the lamp's image at the height 2 * reflector_height - height",
}

const lampRange = "thin lamps (diameter below a tenth of the height: within about 1 % under the lamp, 2 % to its side), uniform along their length; reflector flat, specular and large; no shadows, no reflections from the walls"

// What the lamps send adds up, none of it negative, and goes with their power.
// The powers that suit a target best go with it, and against the efficiency.
var lampModels = []Spec{
	{
		Name: "lamp_field", Topic: "lamp",
		Title: "Irradiance of a level bed by tubular lamps, and how even it is",
		Args:  args(bankArgs, powerArg, efficiencyArg, lawArg, mirrorArgs, bedArgs, nodesArg, diameterArg),
		Results: []Res{
			{Name: "field", Unit: "W/m^2", Shape: Grid, Doc: "irradiance over the bed", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "centre", Unit: "W/m^2", Doc: "irradiance in the middle of the bed", Rises: "power radiant_efficiency reflectance diameter bed_x bed_y", Falls: "diameter bed_x bed_y"},
			{Name: "mean", Unit: "W/m^2", Doc: "area mean (Simpson's rule over the nodes)", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "min", Unit: "W/m^2", Doc: "least irradiance of a node", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "max", Unit: "W/m^2", Doc: "greatest irradiance of a node", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "corner", Unit: "W/m^2", Doc: "irradiance of the darkest corner", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "corner_ratio", Unit: "1", Doc: "darkest corner to centre", Rises: "radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "uniformity", Unit: "1", Doc: "least to mean", Rises: "radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "nonuniformity", Unit: "1", Doc: "(max - min)/(max + min)", Rises: "radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "cv", Unit: "1", Doc: "area-weighted standard deviation to mean", Rises: "radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "on_bed", Unit: "W", Doc: "radiant power that reaches the bed", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"},
			{Name: "capture", Unit: "1", Doc: "share of the lamps' radiant power that reaches the bed", Rises: "reflectance radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
		},
		Formula: append(lampFormula[:len(lampFormula):len(lampFormula)],
			"field = sum(E) + sum(E_image)",
			"mean = sum(w * field) # w are Simpson's weights of the nodes",
			"corner = min(corners) # corners are the values of field there",
			"corner_ratio = corner / centre",
			"uniformity = min / mean",
			"nonuniformity = (max - min) / (max + min)",
			"cv = sqrt(sum(w * (field - mean)^2)) / mean # w as above",
			"on_bed = mean * bed_x * bed_y",
			"capture = on_bed / (radiant_efficiency * sum(power))"),
		Source: lampSource + "; non-uniformity as IEC 60904-9 (from memory)",
		Range:  lampRange + "; nodes no further apart than a fifth of the lowest lamp's height",
		Fn: func(in *In, out *Out) error {
			bank, err := bankOf(in, true)
			if err != nil {
				return err
			}
			n, err := gridOf(in, bank)
			if err != nil {
				return err
			}
			bx, by := in.Num("bed_x"), in.Num("bed_y")
			m := bank.Field(bx, by, n)
			s, err := Stats(m)
			if err != nil {
				return err
			}
			out.Grid("field", m)
			out.Num("centre", s.Centre)
			out.Num("mean", s.Mean)
			out.Num("min", s.Min)
			out.Num("max", s.Max)
			out.Num("corner", s.Corner)
			out.Num("corner_ratio", s.Corner/s.Centre)
			out.Num("uniformity", s.Uniformity)
			out.Num("nonuniformity", s.Nonuniformity)
			out.Num("cv", s.CV)
			out.Num("on_bed", s.Mean*bx*by)
			out.Num("capture", s.Mean*bx*by/bank.Radiant())
			return nil
		},
	},
	{
		Name: "lamp_irradiance", Topic: "lamp",
		Title: "Irradiance of one point by tubular lamps",
		Args: args(bankArgs, powerArg, efficiencyArg, lawArg, mirrorArgs, diameterArg,
			Arg{Name: "at_x", Unit: "m", Doc: "the point, along the bed's width from its middle"},
			Arg{Name: "at_y", Unit: "m", Doc: "the point, along the bed's depth from its middle"},
			Arg{Name: "at_z", Unit: "m", Optional: true, Doc: "height of the point above the bed; left out: on the bed"}),
		Results: []Res{{Name: "irradiance", Unit: "W/m^2", Doc: "irradiance of a level surface at the point", Rises: "power radiant_efficiency reflectance diameter", Falls: "diameter"}},
		Formula: append(lampFormula[:len(lampFormula):len(lampFormula)], "irradiance = sum(E) + sum(E_image)"),
		Source:  lampSource,
		Range:   lampRange,
		Fn: func(in *In, out *Out) error {
			bank, err := bankOf(in, true)
			if err != nil {
				return err
			}
			out.Num("irradiance", bank.Irradiance(in.Num("at_x"), in.Num("at_y"), in.Num("at_z")))
			return nil
		},
	},
	{
		Name: "lamp_overhang", Topic: "lamp",
		Title: "How far the lamps reach beyond the edges of the bed",
		Args:  args(bankArgs, bedArgs),
		Results: []Res{
			{Name: "left", Unit: "m", Doc: "beyond the edge at -x; negative: short of it", Rises: "length y height bed_y", Falls: "x bed_x y height bed_y"},
			{Name: "right", Unit: "m", Doc: "beyond the edge at +x", Rises: "x length y height bed_y", Falls: "bed_x y height bed_y"},
			{Name: "front", Unit: "m", Doc: "beyond the edge at -y", Rises: "length x height bed_x", Falls: "y bed_y x height bed_x"},
			{Name: "back", Unit: "m", Doc: "beyond the edge at +y", Rises: "y length x height bed_x", Falls: "bed_y x height bed_x"},
			{Name: "least", Unit: "m", Doc: "the least of the four", Rises: "length height", Falls: "bed_x bed_y height"},
			{Name: "ratio", Unit: "1", Doc: "least overhang to the height of the highest lamp; below a half the edge darkens", Rises: "length", Falls: "bed_x bed_y"},
		},
		Formula: []string{
			"left = -bed_x / 2 - x_low # x_low is the least x of a lamp's end",
			"right = x_high - bed_x / 2 # x_high is the greatest x of a lamp's end",
			"front = -bed_y / 2 - y_low # y_low is the least y of a lamp's end",
			"back = y_high - bed_y / 2 # y_high is the greatest y of a lamp's end",
			"least = min(left, right, front, back)",
			"ratio = least / max(height)",
		},
		Source: "derived: plan geometry; the ratio of one half is common practice: below the end of a long lamp the irradiance is half that under its middle",
		Range:  "any straight lamps; says nothing of how even the field is between the lamps",
		Fn: func(in *In, out *Out) error {
			bank, err := bankOf(in, false)
			if err != nil {
				return err
			}
			l, r, f, b := LampOverhang(bank.Lamps, in.Num("bed_x"), in.Num("bed_y"))
			least, top := min(l, r, f, b), 0.0
			for _, lamp := range bank.Lamps {
				top = max(top, lamp.Z)
			}
			out.Num("left", l)
			out.Num("right", r)
			out.Num("front", f)
			out.Num("back", b)
			out.Num("least", least)
			out.Num("ratio", least/top)
			return nil
		},
	},
	{
		Name: "lamp_powers", Topic: "lamp",
		Title: "Powers of tubular lamps that make the irradiance of a bed most even",
		Args: args(bankArgs,
			Arg{Name: "driver", Unit: "1", Shape: List, Optional: true, Doc: "number of the driver of each lamp: lamps of one driver share one power; left out: a driver each"},
			efficiencyArg, lawArg, mirrorArgs, bedArgs, nodesArg, diameterArg,
			Arg{Name: "target", Unit: "W/m^2", Above: at(0), Doc: "wanted irradiance of the bed"}),
		Results: []Res{
			{Name: "powers", Unit: "W", Shape: List, Doc: "electrical power of each lamp", Rises: "target diameter", Falls: "radiant_efficiency diameter"},
			{Name: "total", Unit: "W", Doc: "their sum", Rises: "target diameter", Falls: "radiant_efficiency diameter"},
			{Name: "field", Unit: "W/m^2", Shape: Grid, Doc: "irradiance with these powers", Rises: "target radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "mean", Unit: "W/m^2", Doc: "its area mean", Rises: "target radiant_efficiency diameter", Falls: "radiant_efficiency diameter"},
			{Name: "uniformity", Unit: "1", Doc: "least to mean, with these powers", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "uniformity_equal", Unit: "1", Doc: "least to mean, with the same total shared equally", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "nonuniformity", Unit: "1", Doc: "(max - min)/(max + min), with these powers", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "nonuniformity_equal", Unit: "1", Doc: "(max - min)/(max + min), with equal powers", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "gain", Unit: "1", Doc: "uniformity to uniformity_equal", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "rms", Unit: "1", Doc: "root mean square of the deviation from the target, relative", Rises: "target radiant_efficiency diameter", Falls: "target radiant_efficiency diameter"},
			{Name: "idle", Unit: "1", Doc: "number of lamps driven to zero: not needed, or badly placed", Rises: "diameter", Falls: "diameter"},
			{Name: "ratio", Unit: "1", Doc: "largest power to the least of the lamps that burn; above 3 the bank is unbalanced", Rises: "diameter", Falls: "diameter"},
			{Name: "condition", Unit: "1", Doc: "how badly the powers are determined; above 1000 not at all", Rises: "diameter", Falls: "diameter"},
		},
		Formula: []string{
			"field = radiant_efficiency * sum(m * powers) # m is the irradiance of a node by a lamp of 1 W radiant power, see lamp_field; over the lamps",
			"rms = sqrt(sum(w * (field / target - 1)^2)) # w are Simpson's weights of the nodes; powers are those, none negative, that make rms least",
			"total = sum(powers)",
			"mean = sum(w * field) # w as above",
			"uniformity = E_min / mean # E_min is the least irradiance of a node",
			"nonuniformity = (E_max - E_min) / (E_max + E_min) # E_min and E_max are the least and greatest irradiance of a node",
			"gain = uniformity / uniformity_equal",
		},
		Source: "Lawson & Hanson, Solving Least Squares Problems, 1974, ch. 23 (from memory); irradiance: " + lampSource,
		Range:  lampRange + "; condition below 1000",
		Fn: func(in *In, out *Out) error {
			bank, err := bankOf(in, false)
			if err != nil {
				return err
			}
			n, err := gridOf(in, bank)
			if err != nil {
				return err
			}
			_, cols, err := in.columns("x", "y", "height", "length", "angle", "driver")
			if err != nil {
				return err
			}
			if len(cols[5]) > len(bank.Lamps) {
				return Bad("driver", "has %d items for %d lamps", len(cols[5]), len(bank.Lamps))
			}
			b, err := BalanceLamps(*bank, cols[5], in.Num("radiant_efficiency"), in.Num("target"), in.Num("bed_x"), in.Num("bed_y"), n)
			if err != nil {
				return err
			}
			if b.Condition > 1000 {
				in.Outside("x", "the powers are hardly determined by the field: condition %.3g, should be below 1000", b.Condition)
			}
			total := 0.0
			for _, p := range b.Powers {
				total += p
			}
			out.List("powers", b.Powers)
			out.Num("total", total)
			out.Grid("field", b.Field)
			out.Num("mean", b.After.Mean)
			out.Num("uniformity", b.After.Uniformity)
			out.Num("uniformity_equal", b.Equal.Uniformity)
			out.Num("nonuniformity", b.After.Nonuniformity)
			out.Num("nonuniformity_equal", b.Equal.Nonuniformity)
			out.Num("gain", b.After.Uniformity/b.Equal.Uniformity)
			out.Num("rms", b.RMS)
			out.Num("idle", float64(b.Idle))
			out.Num("ratio", b.Ratio)
			out.Num("condition", b.Condition)
			return nil
		},
	},
}

// bankOf reads the lamps of a call; without powers their flux is zero.
func bankOf(in *In, powers bool) (*LampBank, error) {
	names := []string{"x", "y", "height", "length", "angle", "tilt"}
	if powers {
		names = append(names, "power")
	}
	n, cols, err := in.columns(names...)
	if err != nil {
		return nil, err
	}
	bank := &LampBank{Lamps: make([]Lamp, n)}
	lit := false
	lowest := in.List("height")[0]
	for i := range bank.Lamps {
		l := Lamp{X: cols[0][i], Y: cols[1][i], Z: cols[2][i], Length: cols[3][i], Angle: cols[4][i]}
		if cols[5] != nil {
			l.Tilt = cols[5][i]
		}
		if powers {
			l.Flux = cols[6][i] * in.Num("radiant_efficiency")
			lit = lit || l.Flux > 0
		}
		bank.Lamps[i] = l
		lowest = min(lowest, l.Z)
	}
	if powers && !lit {
		return nil, Bad("power", "all lamps are off")
	}
	if in.Text("law") == "isotropic" {
		bank.Law = Isotropic
	}
	if in.Has("reflector_height") != in.Has("reflectance") {
		missing := "reflectance"
		if in.Has(missing) {
			missing = "reflector_height"
		}
		return nil, Bad(missing, "is missing: reflector_height and reflectance go together")
	}
	if in.Has("reflectance") {
		bank.Mirror, bank.MirrorZ, bank.Reflectance = true, in.Num("reflector_height"), in.Num("reflectance")
	}
	if err := bank.check(); err != nil {
		return nil, err
	}
	if msg := bank.low(); msg != "" {
		in.Outside("tilt", "%s", msg)
	}
	if d := in.Num("diameter"); d > lowest/10 {
		in.Outside("diameter", "%s is no thin lamp at a height of %s: above a tenth of the height the irradiance is off by more than about 1 %% (computed against the surface integral)", show(d, "m"), show(lowest, "m"))
	}
	return bank, nil
}

// gridOf reads the number of nodes and reports a grid too coarse for the lamps.
func gridOf(in *In, bank *LampBank) (int, error) {
	v := in.Num("nodes")
	n := int(v)
	if float64(n) != v || n%2 == 0 {
		return 0, Bad("nodes", "%s: must be an odd whole number, so that one node is the middle of the bed", show(v, "1"))
	}
	lowest := bank.Lamps[0].Z
	for _, l := range bank.Lamps {
		lowest = min(lowest, l.Z)
	}
	step := max(in.Num("bed_x"), in.Num("bed_y")) / float64(n-1)
	if step > lowest/5 {
		in.Outside("nodes", "nodes %s apart are too coarse for lamps at a height of %s: minimum, maximum and mean need at most a fifth of the height (computed)", show(step, "m"), show(lowest, "m"))
	}
	return n, nil
}
