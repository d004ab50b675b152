package model

// A Counterbalance is a spring that carries part of a vertical axis: a
// counterweight has no rate, but moves as much mass again.
type Counterbalance struct {
	Mass   float64 // of what is carried, > 0, kg
	Force  float64 // of the spring in the middle of the travel, upward, ≥ 0, N
	Rate   float64 // of the spring, ≥ 0, N/m
	Travel float64 // > 0, m
}

// Residual returns the load that is left for the screw, positive downward, at
// the bottom and at the top of the travel,
//
//	F_bottom = m g - (F₀ + c s/2),  F_top = m g - (F₀ - c s/2)
//
//	m     mass that is carried                      kg
//	F₀    force of the spring in the middle         N
//	c, s  rate of the spring, travel                N/m, m
//
// Errors: none.
// Source: statics; Hooke's law.
func (c Counterbalance) Residual() (bottom, top float64) {
	w, half := c.Mass*standardGravity, c.Rate*c.Travel/2
	return w - c.Force - half, w - c.Force + half
}

var balanceModels = []Spec{{
	Name: "counterbalance", Topic: "screw",
	Title: "load left on a vertical axis whose weight a spring or counterweight carries in part",
	Args: []Arg{
		{Name: "mass", Unit: "kg", Above: at(0), Doc: "of all that the axis lifts"},
		{Name: "force", Unit: "N", AtLeast: at(0), Doc: "upward force of the spring in the middle of the travel, or the weight of the counterweight"},
		{Name: "rate", Unit: "N/m", AtLeast: at(0), Doc: "rate of the spring; 0 for a counterweight or a spring of constant force"},
		{Name: "travel", Unit: "m", Above: at(0), Doc: "of the axis"},
		{Name: "counter_mass", Unit: "kg", AtLeast: at(0), Doc: "mass that moves along as much: the counterweight, 0 for a spring"},
		{Name: "friction", Unit: "N", AtLeast: at(0), Doc: "of guides, pulleys and seals, against the motion"},
		{Name: "acceleration", Unit: "m/s^2", AtLeast: at(0), Doc: "largest, up as down"},
	},
	Results: []Res{
		{Name: "bottom", Unit: "N", Doc: "load at rest at the bottom, positive downward; negative: the spring lifts it", Rises: "mass", Falls: "force rate travel", Only: true},
		{Name: "top", Unit: "N", Doc: "load at rest at the top", Rises: "mass rate travel", Falls: "force", Only: true},
		{Name: "carried", Unit: "1", Doc: "share of the weight that is carried in the middle", Rises: "force", Falls: "mass", Only: true},
		{Name: "largest", Unit: "N", Doc: "largest force of the drive, up or down, accelerating", Rises: "rate travel counter_mass friction acceleration"},
		{Name: "stays", Unit: "1", Doc: "1 if friction holds it everywhere without a brake, else 0", Rises: "friction counter_mass acceleration", Falls: "rate travel counter_mass acceleration"},
		{Name: "reverses", Unit: "1", Doc: "1 if the load changes its direction along the travel, so that the backlash of the screw shows, else 0", Rises: "rate travel counter_mass friction acceleration", Falls: "counter_mass friction acceleration"},
	},
	Formula: []string{
		"bottom = mass * g_n - force - rate * travel / 2 # g_n is the standard acceleration of free fall",
		"top = mass * g_n - force + rate * travel / 2 # g_n",
		"carried = force / (mass * g_n) # g_n",
		"largest = max(abs(bottom), abs(top)) + (mass + counter_mass) * acceleration + friction",
	},
	Source: "derived: statics, Hooke's law, Newton's second law",
	Range:  "a spring of one rate; friction that does not depend on the load; a broken spring or rope leaves the whole weight: the axis must hold that too (common practice)",
	Fn: func(in *In, out *Out) error {
		c := Counterbalance{in.Num("mass"), in.Num("force"), in.Num("rate"), in.Num("travel")}
		if c.Force < c.Rate*c.Travel/2 {
			return Bad("rate", "a spring of %s over %s goes slack at the top: its force in the middle must be at least %s", show(c.Rate, "N/m"), show(c.Travel, "m"), show(c.Rate*c.Travel/2, "N"))
		}
		bottom, top := c.Residual()
		worst := max(max(bottom, -bottom), max(top, -top))
		f := in.Num("friction")
		out.Num("bottom", bottom)
		out.Num("top", top)
		out.Num("carried", c.Force/(c.Mass*standardGravity))
		out.Num("largest", worst+(c.Mass+in.Num("counter_mass"))*in.Num("acceleration")+f)
		out.Num("stays", yes(worst <= f))
		out.Num("reverses", yes(bottom < 0 && top > 0))
		return nil
	},
}}
