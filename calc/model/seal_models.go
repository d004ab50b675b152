package model

var sealModels = []Spec{
	{
		Name: "seal_friction", Topic: "seal",
		Title: "friction of a platform's seal on the walls of a rounded chamber",
		Args: []Arg{
			{Name: "width", Unit: "m", Doc: "inside width of the chamber", Above: at(0)},
			{Name: "depth", Unit: "m", Doc: "inside depth of the chamber", Above: at(0)},
			{Name: "corner_radius", Unit: "m", Doc: "inside radius of its corners", AtLeast: at(0)},
			{Name: "thickness", Unit: "m", Doc: "thickness of the strip, free", Above: at(0)},
			{Name: "gap", Unit: "m", Doc: "gap it is squeezed into, as seal_gap gives it", Above: at(0)},
			{Name: "contact", Unit: "m", Doc: "width of the contact along the motion", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "modulus of the strip in compression, measured near this compression", Above: at(0)},
			{Name: "friction", Unit: "1", Doc: "coefficient of friction on the wall, running", AtLeast: at(0)},
			{Name: "breakaway_ratio", Unit: "1", Doc: "friction at the start over running friction: 1.3 to 2 (common practice)", AtLeast: at(1), High: at(3), RangeOf: "common practice"},
		},
		Results: []Res{
			{Name: "perimeter", Unit: "m", Doc: "length of the line of contact", Rises: "width depth", Falls: "corner_radius", Only: true},
			{Name: "compression", Unit: "1", Doc: "compression of the strip: below 0.05 it leaks, above 0.3 it takes a set (common practice); negative: it does not touch", Rises: "thickness", Falls: "gap", Only: true},
			{Name: "line_force", Unit: "N/m", Doc: "force on the wall per length", Rises: "thickness contact modulus", Falls: "gap", Only: true},
			{Name: "running", Unit: "N", Doc: "friction in motion", Rises: "width depth thickness contact modulus friction", Falls: "corner_radius gap", Only: true},
			{Name: "breakaway", Unit: "N", Doc: "friction at the start", Rises: "width depth thickness contact modulus friction breakaway_ratio", Falls: "corner_radius gap"},
		},
		Formula: []string{
			"perimeter = 2 * (width + depth) - (8 - 2 * pi) * corner_radius",
			"compression = (thickness - gap) / thickness",
			"line_force = modulus * max(0, compression) * contact",
			"running = friction * line_force * perimeter",
			"breakaway = breakaway_ratio * running",
		},
		Source: "geometry, MathWorld, Rounded Rectangle (seen); friction derived, its coefficients to be measured",
		Range:  "compression up to 0.25, one strip, the same gap all around; powder and wear raise the friction",
		Fn: func(in *In, out *Out) error {
			_, P, err := RoundedRectangle(in.Num("width"), in.Num("depth"), in.Num("corner_radius"))
			if err != nil {
				return err
			}
			s := Seal{P, in.Num("thickness"), in.Num("gap"), in.Num("contact"), in.Num("modulus"), in.Num("friction")}
			c, q, F := s.Force()
			switch {
			case c < 0:
				in.Outside("gap", "%s is wider than the strip of %s: it does not touch", show(s.Gap, "m"), show(s.Thickness, "m"))
			case c > 0.25:
				in.Outside("gap", "the strip is compressed by %s: above 0.25 it stiffens and the friction is higher", show(c, "1"))
			}
			out.Num("perimeter", P)
			out.Num("compression", c)
			out.Num("line_force", q)
			out.Num("running", F)
			out.Num("breakaway", F*in.Num("breakaway_ratio"))
			return nil
		},
	},
	{
		Name: "corner_radius_min", Topic: "seal",
		Title: "smallest inside corner a seal strip bends around",
		Args: []Arg{
			{Name: "thickness", Unit: "m", Doc: "thickness of the strip", Above: at(0)},
			{Name: "strain", Unit: "1", Doc: "strain its face may take: 0.1 to 0.2 felt, 0.05 to 0.1 rubber (common practice)", Above: at(0), AtMost: at(0.5)},
		},
		Results: []Res{{Name: "radius", Unit: "m", Doc: "smallest inside radius of the bent strip", Rises: "thickness", Falls: "strain"}},
		Formula: []string{"radius = thickness * (1 - strain) / (2 * strain)"},
		Source:  "Gere, Mechanics of Materials, ch. 5, bending strain (sol. 5.4-4 seen)",
		Range:   "neutral axis in the middle of the strip",
		Fn: func(in *In, out *Out) error {
			out.Num("radius", CornerRadius(in.Num("thickness"), in.Num("strain")))
			return nil
		},
	},
	{
		Name: "seal_gap", Topic: "seal",
		Title: "gap and compression of a seal, cold and hot",
		Args: []Arg{
			{Name: "chamber", Unit: "m", Doc: "inside width of the chamber, cold", Above: at(0)},
			{Name: "platform", Unit: "m", Doc: "width of the platform, cold", Above: at(0)},
			{Name: "thickness", Unit: "m", Doc: "thickness of the strip, free", Above: at(0)},
			{Name: "chamber_expansion", Unit: "K^-1", Doc: "thermal expansion of the chamber"},
			{Name: "platform_expansion", Unit: "K^-1", Doc: "thermal expansion of the platform"},
			{Name: "chamber_rise", Unit: "K", Doc: "rise of the chamber's temperature"},
			{Name: "platform_rise", Unit: "K", Doc: "rise of the platform's temperature"},
		},
		Results: []Res{
			{Name: "cold", Unit: "m", Doc: "gap on each side, cold and centred", Rises: "chamber", Falls: "platform", Only: true},
			{Name: "hot", Unit: "m", Doc: "gap on each side, hot and centred; negative: they jam", Rises: "thickness", Falls: "thickness"},
			{Name: "cold_compression", Unit: "1", Doc: "compression of the strip, cold; negative: it does not touch", Rises: "platform thickness", Falls: "chamber", Only: true},
			{Name: "hot_compression", Unit: "1", Doc: "compression of the strip, hot"},
		},
		Formula: []string{
			"cold = (chamber - platform) / 2",
			"hot = (chamber * (1 + chamber_expansion * chamber_rise) - platform * (1 + platform_expansion * platform_rise)) / 2",
			"cold_compression = (thickness - cold) / thickness",
			"hot_compression = (thickness - hot) / thickness",
		},
		Source: "thermal expansion; derived",
		Range:  "each part at one temperature; the strip's own expansion is left out",
		Fn: func(in *In, out *Out) error {
			W, w, t := in.Num("chamber"), in.Num("platform"), in.Num("thickness")
			if w >= W {
				return Bad("platform", "%s does not fit into a chamber of %s", show(w, "m"), show(W, "m"))
			}
			ac, ap, dc, dp := in.Num("chamber_expansion"), in.Num("platform_expansion"), in.Num("chamber_rise"), in.Num("platform_rise")
			cold, hot := SealGap(W, w, ac, ap, 0, 0), SealGap(W, w, ac, ap, dc, dp)
			out.Num("cold", cold)
			out.Num("hot", hot)
			out.Num("cold_compression", (t-cold)/t)
			out.Num("hot_compression", (t-hot)/t)
			return nil
		},
	},
}
