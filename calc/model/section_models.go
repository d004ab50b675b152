package model

const sectionSource = "Gere, Mechanics of Materials, App. D (from memory; values of a published tube and rod seen)"

var sectionResults = []Res{
	{Name: "area", Unit: "m^2", Doc: "area"},
	{Name: "second_moment", Unit: "m^4", Doc: "second moment of area, about the axis along the width"},
	{Name: "section_modulus", Unit: "m^3", Doc: "second moment over the distance of the outer fibre"},
	{Name: "torsion", Unit: "m^4", Doc: "torsion constant"},
	{Name: "gyration", Unit: "m", Doc: "radius of gyration"},
}

func sectionOut(out *Out, s Section) {
	out.Num("area", s.Area)
	out.Num("second_moment", s.I)
	out.Num("section_modulus", s.Modulus)
	out.Num("torsion", s.Torsion)
	out.Num("gyration", s.Gyration)
}

var sectionModels = []Spec{
	{
		Name: "section_rectangle", Topic: "section",
		Title: "properties of a rectangular section",
		Args: []Arg{
			{Name: "width", Unit: "m", Doc: "width, along the axis of bending", Above: at(0)},
			{Name: "height", Unit: "m", Doc: "height, in the direction of the load", Above: at(0)},
		},
		Results: answering(sectionResults,
			Res{Name: "area", Rises: "width height"}, Res{Name: "second_moment", Rises: "width height"}, Res{Name: "section_modulus", Rises: "width height"},
			Res{Name: "torsion", Rises: "width height"}, Res{Name: "gyration", Rises: "height", Only: true}),
		Formula: []string{
			"area = width * height",
			"second_moment = width * height^3 / 12",
			"section_modulus = width * height^2 / 6",
			"torsion = c * max(width, height) * min(width, height)^3 # c is 0.141 for a square, 1/3 for a thin strip, by Saint-Venant's series",
			"gyration = height / sqrt(12)",
		},
		Source: sectionSource,
		Range:  "solid, sharp corners",
		Fn: func(in *In, out *Out) error {
			sectionOut(out, Rectangle(in.Num("width"), in.Num("height")))
			return nil
		},
	},
	{
		Name: "section_rectangular_tube", Topic: "section",
		Title: "properties of a rectangular tube",
		Args: []Arg{
			{Name: "width", Unit: "m", Doc: "outer width, along the axis of bending", Above: at(0)},
			{Name: "height", Unit: "m", Doc: "outer height, in the direction of the load", Above: at(0)},
			{Name: "wall", Unit: "m", Doc: "thickness of the wall", Above: at(0)},
		},
		// The torsion constant has its peak at some wall.
		Results: answering(sectionResults,
			Res{Name: "area", Rises: "width height wall"}, Res{Name: "second_moment", Rises: "width height wall"}, Res{Name: "section_modulus", Rises: "width height wall"},
			Res{Name: "torsion", Rises: "width height"}, Res{Name: "gyration", Rises: "width height", Falls: "wall"}),
		Formula: []string{
			"b = width - 2 * wall",
			"h = height - 2 * wall",
			"area = width * height - b * h",
			"second_moment = (width * height^3 - b * h^3) / 12",
			"section_modulus = second_moment / (height / 2)",
			"torsion = 2 * wall * (width - wall)^2 * (height - wall)^2 / (width + height - 2 * wall) # thin walls",
			"gyration = sqrt(second_moment / area)",
		},
		Source: sectionSource,
		Range:  "sharp corners; torsion for walls below a tenth of the smaller side; for slotted profiles use the second moment stated for them",
		Fn: func(in *In, out *Out) error {
			wall, side := in.Num("wall"), min(in.Num("width"), in.Num("height"))
			if wall > side/10 {
				in.Outside("wall", "%s is more than a tenth of the smaller side, %s: the torsion holds for thin walls, the rest holds all the same", show(wall, "m"), show(side, "m"))
			}
			s, err := RectangularTube(in.Num("width"), in.Num("height"), wall)
			sectionOut(out, s)
			return err
		},
	},
	{
		Name: "section_round", Topic: "section",
		Title: "properties of a round bar",
		Args:  []Arg{{Name: "diameter", Unit: "m", Doc: "diameter", Above: at(0)}},
		Results: answering(sectionResults,
			Res{Name: "area", Rises: "diameter"}, Res{Name: "second_moment", Rises: "diameter"}, Res{Name: "section_modulus", Rises: "diameter"},
			Res{Name: "torsion", Rises: "diameter"}, Res{Name: "gyration", Rises: "diameter"}),
		Formula: []string{
			"area = pi * diameter^2 / 4",
			"second_moment = pi * diameter^4 / 64",
			"section_modulus = pi * diameter^3 / 32",
			"torsion = 2 * second_moment",
			"gyration = diameter / 4",
		},
		Source: sectionSource,
		Range:  "solid, round",
		Fn: func(in *In, out *Out) error {
			sectionOut(out, Round(in.Num("diameter")))
			return nil
		},
	},
	{
		Name: "section_round_tube", Topic: "section",
		Title: "properties of a round tube",
		Args: []Arg{
			{Name: "diameter", Unit: "m", Doc: "outer diameter", Above: at(0)},
			{Name: "wall", Unit: "m", Doc: "thickness of the wall", Above: at(0)},
		},
		Results: answering(sectionResults,
			Res{Name: "area", Rises: "diameter wall"}, Res{Name: "second_moment", Rises: "diameter wall"}, Res{Name: "section_modulus", Rises: "diameter wall"},
			Res{Name: "torsion", Rises: "diameter wall"}, Res{Name: "gyration", Rises: "diameter", Falls: "wall"}),
		Formula: []string{
			"d = diameter - 2 * wall",
			"area = pi * (diameter^2 - d^2) / 4",
			"second_moment = pi * (diameter^4 - d^4) / 64",
			"section_modulus = second_moment / (diameter / 2)",
			"torsion = 2 * second_moment",
			"gyration = sqrt(diameter^2 + d^2) / 4",
		},
		Source: sectionSource,
		Range:  "round, one wall thickness",
		Fn: func(in *In, out *Out) error {
			s, err := RoundTube(in.Num("diameter"), in.Num("wall"))
			sectionOut(out, s)
			return err
		},
	},
	{
		Name: "rounded_rectangle", Topic: "section",
		Title: "area and perimeter of a rectangle with round corners",
		Args: []Arg{
			{Name: "width", Unit: "m", Doc: "width", Above: at(0)},
			{Name: "depth", Unit: "m", Doc: "depth", Above: at(0)},
			{Name: "corner_radius", Unit: "m", Doc: "radius of the corners", AtLeast: at(0)},
		},
		Results: []Res{
			{Name: "area", Unit: "m^2", Doc: "area", Rises: "width depth", Falls: "corner_radius"},
			{Name: "perimeter", Unit: "m", Doc: "perimeter", Rises: "width depth", Falls: "corner_radius"},
		},
		Formula: []string{
			"area = width * depth - (4 - pi) * corner_radius^2",
			"perimeter = 2 * (width + depth) - (8 - 2 * pi) * corner_radius",
		},
		Source: "geometry; MathWorld, Rounded Rectangle (seen)",
		Range:  "corner radius up to half the smaller side",
		Fn: func(in *In, out *Out) error {
			a, p, err := RoundedRectangle(in.Num("width"), in.Num("depth"), in.Num("corner_radius"))
			out.Num("area", a)
			out.Num("perimeter", p)
			return err
		},
	},
	{
		Name: "column", Topic: "section",
		Title: "load at which a column bows",
		Args: []Arg{
			{Name: "length", Unit: "m", Doc: "length between its ends", Above: at(0)},
			{Name: "area", Unit: "m^2", Doc: "area of the section", Above: at(0)},
			{Name: "second_moment", Unit: "m^4", Doc: "smallest second moment of area", Above: at(0)},
			{Name: "modulus", Unit: "Pa", Doc: "Young's modulus", Above: at(0)},
			{Name: "yield_strength", Unit: "Pa", Doc: "yield strength", Above: at(0)},
			endsArg("how its ends are held", FixedFree, PinnedPinned, FixedGuided, FixedPinned, FixedFixed),
		},
		Results: bucklingResults("second_moment", "area"),
		Formula: bucklingFormula,
		Source:  columnSource,
		Range:   bucklingRange,
		Fn: func(in *In, out *Out) error {
			buckling(out, Buckle(Ends(in.Text("ends")), in.Num("length"), in.Num("area"), in.Num("second_moment"), in.Num("modulus"), in.Num("yield_strength")))
			return nil
		},
	},
}
