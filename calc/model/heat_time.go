package model

import "math"

// WarmUp returns how long a lumped body takes to warm from ambient to a rise,
//
//	C dT/dt = P - G (T - T_amb)  ⇒  t = -(C/G) ln(1 - G ΔT/P)
//
//	C   heat capacity, > 0                  J/K
//	G   loss per kelvin, ≥ 0                W/K
//	P   heating power, > G ΔT               W
//	dT  rise above ambient, > 0             K
//	t   time; C ΔT/P if nothing is lost     s
//
// One temperature throughout: a lower bound for anything that conducts badly.
// Errors: a power that never reaches the rise.
// Source: Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5 (from memory).
func WarmUp(C, G, P, dT float64) (float64, error) {
	if P <= G*dT {
		return 0, Bad("power", "%s: does not reach the set point, holding it alone takes %s", show(P, "W"), show(G*dT, "W"))
	}
	if G == 0 {
		return C * dT / P, nil
	}
	return -C / G * math.Log1p(-G*dT/P), nil
}

var timeModels = []Spec{
	{
		Name: "warm_up", Topic: "heat",
		Title: "Time to warm up, and power to hold the temperature",
		Args: []Arg{
			{Name: "heat_capacity", Unit: "J/K", Above: at(0), Doc: "of all that warms up: sum of mass times specific heat"},
			{Name: "loss", Unit: "W/K", Above: at(0), Doc: "heat lost per kelvin above ambient"},
			{Name: "power", Unit: "W", Above: at(0), Doc: "heat put in"},
			{Name: "set_point", Unit: "°C", Above: kelvin, Doc: "temperature to reach"},
			{Name: "ambient", Unit: "°C", Above: kelvin, Doc: "temperature at the start and around"},
		},
		Results: []Res{
			{Name: "time", Unit: "s", Doc: "to reach the set point", Rises: "heat_capacity loss set_point", Falls: "power ambient"},
			{Name: "time_lossless", Unit: "s", Doc: "if nothing were lost: no machine is faster", Rises: "heat_capacity set_point", Falls: "power ambient", Only: true},
			{Name: "hold_power", Unit: "W", Doc: "to hold the set point", Rises: "loss set_point", Falls: "ambient", Only: true},
			{Name: "ratio", Unit: "1", Doc: "power to hold_power; 1.3 to 2 is common", Rises: "power ambient", Falls: "loss set_point", Only: true},
		},
		Formula: []string{
			"hold_power = loss * (set_point - ambient)",
			"time = -heat_capacity / loss * ln(1 - hold_power / power)",
			"time_lossless = heat_capacity * (set_point - ambient) / power",
			"ratio = power / hold_power",
		},
		Source: "Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5 (from memory); ratio: common practice",
		Range:  "one temperature throughout (Biot number below 0.1, see heat_lag); powder never obeys that, so its time is a lower bound",
		Fn: func(in *In, out *Out) error {
			dT := in.Num("set_point") - in.Num("ambient")
			if dT <= 0 {
				return Bad("set_point", "%s: must lie above ambient, %s", show(in.Num("set_point"), "°C"), show(in.Num("ambient"), "°C"))
			}
			C, G, P := in.Num("heat_capacity"), in.Num("loss"), in.Num("power")
			t, err := WarmUp(C, G, P, dT)
			if err != nil {
				return err
			}
			out.Num("time", t)
			out.Num("time_lossless", C*dT/P)
			out.Num("hold_power", G*dT)
			out.Num("ratio", P/(G*dT))
			return nil
		},
	},
	{
		Name: "heat_lag", Topic: "heat",
		Title: "How long heat takes to reach through a layer, and whether the layer has one temperature",
		Args: []Arg{
			{Name: "thickness", Unit: "m", Above: at(0), Doc: "of the layer; of half of it if both sides are heated"},
			{Name: "conductivity", Unit: "W/(m*K)", Above: at(0), Doc: "of its material"},
			{Name: "density", Unit: "kg/m^3", Above: at(0), Doc: "of its material"},
			{Name: "specific_heat", Unit: "J/(kg*K)", Above: at(0), Doc: "of its material"},
			{Name: "h", Unit: "W/(m^2*K)", Above: at(0), Doc: "coefficient at its surface"},
		},
		Results: []Res{
			{Name: "diffusivity", Unit: "m^2/s", Doc: "of its material", Rises: "conductivity", Falls: "density specific_heat", Only: true},
			{Name: "time", Unit: "s", Doc: "scale of the time to warm through, once its surface is hot", Rises: "thickness density specific_heat", Falls: "conductivity", Only: true},
			{Name: "film_time", Unit: "s", Doc: "scale of the time that its surface takes to let the heat in; the longer of both rules", Rises: "density specific_heat thickness", Falls: "h", Only: true},
			{Name: "biot", Unit: "1", Doc: "Biot number: below 0.1 the layer has one temperature", Rises: "h thickness", Falls: "conductivity", Only: true},
		},
		Formula: []string{
			"diffusivity = conductivity / (density * specific_heat)",
			"time = thickness^2 / diffusivity",
			"film_time = density * specific_heat * thickness / h",
			"biot = h * thickness / conductivity",
		},
		Source: "Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5 (from memory)",
		Range:  "order of magnitude: after the sum of time and film_time the far side has taken more than half of the change, whatever the Biot number",
		Fn: func(in *In, out *Out) error {
			a := in.Num("conductivity") / (in.Num("density") * in.Num("specific_heat"))
			L := in.Num("thickness")
			out.Num("diffusivity", a)
			out.Num("time", L*L/a)
			out.Num("film_time", in.Num("density")*in.Num("specific_heat")*L/in.Num("h"))
			out.Num("biot", in.Num("h")*L/in.Num("conductivity"))
			return nil
		},
	},
	{
		Name: "heater_power", Topic: "heat",
		Title: "Electrical power of the heaters that hold a bed and warm each new layer",
		Args: []Arg{
			{Name: "bed_area", Unit: "m^2", Above: at(0), Doc: "of the bed"},
			{Name: "bed_loss", Unit: "W/m^2", AtLeast: at(0), Doc: "heat that the hot bed gives off, absorbed of bed_temperature"},
			{Name: "wall_loss", Unit: "W", AtLeast: at(0), Doc: "heat through the walls that these heaters make up for"},
			{Name: "powder_rate", Unit: "kg/s", AtLeast: at(0), Doc: "powder of a layer by the time of a layer"},
			{Name: "specific_heat", Unit: "J/(kg*K)", Above: at(0), Doc: "of the powder"},
			{Name: "powder_rise", Unit: "K", AtLeast: at(0), Doc: "bed above the powder as it is spread"},
			{Name: "absorptance", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the powder for the heaters' radiation"},
			{Name: "radiant_efficiency", Unit: "1", Above: at(0), AtMost: at(1), Doc: "of the heaters"},
			{Name: "capture", Unit: "1", Above: at(0), AtMost: at(1), Doc: "share of the radiation that reaches the bed, capture of lamp_field"},
			{Name: "installed", Unit: "W", Above: at(0), Doc: "electrical power of the heaters"},
		},
		Results: []Res{
			{Name: "bed", Unit: "W", Doc: "heat to hold the bed", Rises: "bed_area bed_loss", Only: true},
			{Name: "recoat", Unit: "W", Doc: "heat to warm fresh powder", Rises: "powder_rate specific_heat powder_rise", Only: true},
			{Name: "needed", Unit: "W", Doc: "electrical power while building", Rises: "bed_area bed_loss wall_loss powder_rate specific_heat powder_rise", Falls: "radiant_efficiency capture absorptance", Only: true},
			{Name: "ratio", Unit: "1", Doc: "installed to needed; 1.3 to 2 is common", Rises: "installed radiant_efficiency capture absorptance", Falls: "bed_area bed_loss wall_loss powder_rate specific_heat powder_rise"},
		},
		Formula: []string{
			"bed = bed_area * bed_loss",
			"recoat = powder_rate * specific_heat * powder_rise",
			"needed = (bed + wall_loss + recoat) / (radiant_efficiency * capture * absorptance)",
			"ratio = installed / needed",
		},
		Source: "derived (balance of heat); ratio: common practice",
		Range:  "steady building; losses of the walls made up by the bed's heaters; no melting (the laser brings that)",
		Fn: func(in *In, out *Out) error {
			bed := in.Num("bed_area") * in.Num("bed_loss")
			recoat := in.Num("powder_rate") * in.Num("specific_heat") * in.Num("powder_rise")
			sum := bed + in.Num("wall_loss") + recoat
			if sum == 0 {
				return Bad("bed_loss", "nothing needs heat: bed_loss, wall_loss and powder_rate are all 0")
			}
			needed := sum / (in.Num("radiant_efficiency") * in.Num("capture") * in.Num("absorptance"))
			out.Num("bed", bed)
			out.Num("recoat", recoat)
			out.Num("needed", needed)
			out.Num("ratio", in.Num("installed")/needed)
			return nil
		},
	},
}
