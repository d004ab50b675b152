package model

// GapLeak returns the flow of a fluid through a narrow flat gap under a
// difference of pressure,
//
//	Q = b s³ Δp/(12 μ L),  v = Q/(b s),  Re = 2 ρ v s/μ
//
//	b    length of the gap across the flow, > 0    m
//	s    its height, > 0                           m
//	L    its length along the flow, > 0            m
//	Δp   difference of pressure                    Pa
//	μ    dynamic viscosity, > 0                    Pa·s
//	ρ    density                                   kg/m³
//	Q    volume flow                               m³/s
//	v    mean speed                                m/s
//	Re   Reynolds number, of twice the height      1
//
// Laminar, Re below about 2300; fully developed, so L above some 0.05 Re s;
// a gas as if incompressible, Δp below a twentieth of its pressure.
// Errors: none.
// Source: plane Poiseuille flow, White, Fluid Mechanics, sec. 4.10 (from memory).
func GapLeak(b, s, L, dp, mu, rho float64) (Q, v, Re float64) {
	v = s * s * dp / (12 * mu * L)
	return b * s * v, v, 2 * rho * v * s / mu
}

var leakModels = []Spec{{
	Name: "gap_leak", Topic: "seal",
	Title: "Leak of gas or liquid through a narrow gap, as of a seal that does not touch",
	Args: []Arg{
		{Name: "perimeter", Unit: "m", Above: at(0), Doc: "length of the gap across the flow, as seal_friction gives it"},
		{Name: "gap", Unit: "m", Above: at(0), Doc: "height of the gap"},
		{Name: "depth", Unit: "m", Above: at(0), Doc: "length of the gap along the flow"},
		{Name: "pressure", Unit: "Pa", AtLeast: at(0), Doc: "difference of pressure between its ends"},
		{Name: "viscosity", Unit: "Pa*s", Above: at(0), Doc: "dynamic viscosity: 1.8e-5 Pa·s for air at 20 °C, 2.5e-5 at 200 °C"},
		{Name: "density", Unit: "kg/m^3", Above: at(0), Doc: "of the fluid: 1.2 kg/m³ for air at 20 °C"},
	},
	Results: []Res{
		{Name: "flow", Unit: "m^3/s", Doc: "volume that leaks", Rises: "perimeter gap pressure", Falls: "depth viscosity", Only: true},
		{Name: "speed", Unit: "m/s", Doc: "mean speed in the gap", Rises: "gap pressure", Falls: "depth viscosity", Only: true},
		{Name: "mass_flow", Unit: "kg/s", Doc: "mass that leaks", Rises: "perimeter gap pressure density", Falls: "depth viscosity"},
		{Name: "reynolds", Unit: "1", Doc: "Reynolds number of twice the gap: laminar below 2300", Rises: "gap pressure density", Falls: "depth viscosity", Only: true},
		{Name: "entrance", Unit: "m", Doc: "length that the flow needs to take its shape; should be well below the depth", Rises: "gap pressure density", Falls: "depth viscosity", Only: true},
		{Name: "per_gap", Unit: "m^2/s", Doc: "rise of the leak for a wider gap", Rises: "perimeter gap pressure", Falls: "depth viscosity", Only: true},
	},
	Formula: []string{
		"speed = gap^2 * pressure / (12 * viscosity * depth)",
		"flow = perimeter * gap * speed",
		"mass_flow = density * flow",
		"reynolds = 2 * density * speed * gap / viscosity",
		"entrance = 0.05 * reynolds * gap",
		"per_gap = 3 * flow / gap",
	},
	Source: "plane Poiseuille flow, White, Fluid Mechanics, sec. 4.10 (from memory)",
	Range:  "laminar, Reynolds number below 2300; depth above the entrance length; a gas under a difference of up to a twentieth of an atmosphere, in gaps above 10 um; an even gap: off centre it leaks more, up to 2.5 times around a shaft",
	Fn: func(in *In, out *Out) error {
		b, s, L, rho := in.Num("perimeter"), in.Num("gap"), in.Num("depth"), in.Num("density")
		if s > b {
			return Bad("gap", "%s is wider than it is long, %s", show(s, "m"), show(b, "m"))
		}
		Q, v, Re := GapLeak(b, s, L, in.Num("pressure"), in.Num("viscosity"), rho)
		if Re > 2300 {
			in.Outside("gap", "the flow is turbulent at a Reynolds number of %.0f, laminar below 2300: less leaks than this (White, Fluid Mechanics, sec. 6.6, from memory)", Re)
		} else if entrance := 0.05 * Re * s; entrance > L {
			in.Outside("depth", "%s is shorter than the entrance of %s: less leaks than this (White, Fluid Mechanics, sec. 6.6, from memory)", show(L, "m"), show(entrance, "m"))
		}
		if rho < 20 { // a gas
			if dp := in.Num("pressure"); dp > 101325/20.0 {
				in.Outside("pressure", "%s is more than a twentieth of an atmosphere: a gas expands on its way, and its volume behind the gap is larger than this (derived)", show(dp, "Pa"))
			}
			if s < 10e-6 {
				in.Outside("gap", "%s: in so narrow a gap a gas slips along the walls, and more leaks than this (free path of air 0.07 um; from memory)", show(s, "m"))
			}
		}
		out.Num("flow", Q)
		out.Num("speed", v)
		out.Num("mass_flow", rho*Q)
		out.Num("reynolds", Re)
		out.Num("entrance", 0.05*Re*s)
		out.Num("per_gap", 3*Q/s)
		return nil
	},
}}
