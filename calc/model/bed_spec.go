package model

import "math"

// kelvin bounds a point on the temperature scale: above absolute zero.
var kelvin = at(0)

var surfaceArgs = []Arg{
	{Name: "absorptance", Unit: "1", Above: at(0), AtMost: at(1), Doc: "share of the heater's radiation that the surface takes up: measure it, it depends on the heater's spectrum"},
	{Name: "emissivity", Unit: "1", AtLeast: at(0), AtMost: at(1), Doc: "emissivity of the surface at its own temperature"},
	{Name: "h_air", Unit: "W/(m^2*K)", AtLeast: at(0), Doc: "coefficient of convection to the air"},
	{Name: "air", Unit: "°C", Above: kelvin, Doc: "temperature of the air above the bed"},
	{Name: "surroundings", Unit: "°C", Above: kelvin, Doc: "temperature of the walls that the surface faces"},
	{Name: "base_conductance", Unit: "W/(m^2*K)", Optional: true, AtLeast: at(0), Doc: "conduction down to the base; with base, or both left out: none"},
	{Name: "base", Unit: "°C", Optional: true, Above: kelvin, Doc: "temperature of the base"},
}

// surfaceOf reads the surface of a call.
func surfaceOf(in *In) (Surface, error) {
	if in.Has("base") != in.Has("base_conductance") {
		missing := "base"
		if in.Has(missing) {
			missing = "base_conductance"
		}
		return Surface{}, Bad(missing, "is missing: base and base_conductance go together")
	}
	return Surface{
		Absorptance: in.Num("absorptance"), Emissivity: in.Num("emissivity"), HAir: in.Num("h_air"),
		Air: in.Num("air"), Surroundings: in.Num("surroundings"),
		UBase: in.Num("base_conductance"), Base: in.Num("base"),
	}, nil
}

const (
	surfaceSource = "balance of a surface, as Incropera et al., Fundamentals of Heat and Mass Transfer, 6th ed., example 1.7 (seen in a recomputed companion); slope derived"
	surfaceRange  = "steady; opaque, grey surface that sees walls of one temperature; heat goes down by conduction through the base only"
)

// Why the results of a bed rise and fall as they say. With L = h + U, x = ε σ and
// the heat taken up q = α E, which is at most L T + x T⁴:
//
//	dT/dq = 1/H,  H = L + 4 x T³            so T rises with q and with each temperature
//	H² - 12 x T² q ≥ (L - 2 x T³)² ≥ 0      so q/H rises with q, although H does
//	T H - 3 x (T⁴ - T_sur⁴) > 0             so 4 x T³ rises with ε, although T may fall
//
// Over a bed T rises with each of its sources, as nodes that pass heat on to
// their neighbours do. If conduction grows from k to k/λ and u was the field,
// λ u + (1 - λ) max u loses no less heat than u at each node and passes on as
// much: the new field lies below it, and likewise above λ u + (1 - λ) min u.
var bedModels = []Spec{
	{
		Name: "bed_temperature", Topic: "heat",
		Title: "Steady temperature of a heated surface, and how it answers to the irradiance",
		Args:  args(Arg{Name: "irradiance", Unit: "W/m^2", AtLeast: at(0), Doc: "radiation of the heaters on the surface"}, surfaceArgs),
		Results: []Res{
			{Name: "temperature", Unit: "°C", Doc: "temperature of the surface", Rises: "irradiance absorptance air surroundings base"},
			{Name: "absorbed", Unit: "W/m^2", Doc: "heat taken up", Rises: "irradiance absorptance", Only: true},
			{Name: "loss_coefficient", Unit: "W/(m^2*K)", Doc: "slope of the heat loss at that temperature", Rises: "irradiance absorptance air surroundings base emissivity"},
			{Name: "radiative_slope", Unit: "W/(m^2*K)", Doc: "part of it that is radiation", Rises: "irradiance absorptance air surroundings base emissivity"},
			{Name: "radiative_mean", Unit: "W/(m^2*K)", Doc: "coefficient of radiation between surface and surroundings, for comparison", Rises: "irradiance absorptance air surroundings base emissivity"},
			{Name: "sensitivity", Unit: "K*m^2/W", Doc: "rise of the temperature per irradiance", Rises: "absorptance", Falls: "irradiance air surroundings base emissivity"},
			{Name: "per_percent", Unit: "K", Doc: "rise for one percent more irradiance", Rises: "irradiance absorptance", Falls: "air surroundings base emissivity"},
		},
		Formula: []string{
			"absorbed = absorptance * irradiance",
			"absorbed = h_air * (temperature - air) + emissivity * sigma * (temperature^4 - surroundings^4) + base_conductance * (temperature - base) # solved for temperature, in kelvins; sigma is the Stefan-Boltzmann constant",
			"radiative_slope = 4 * emissivity * sigma * temperature^3 # sigma as above",
			"radiative_mean = emissivity * sigma * (temperature + surroundings) * (temperature^2 + surroundings^2) # sigma as above",
			"loss_coefficient = h_air + base_conductance + radiative_slope",
			"sensitivity = absorptance / loss_coefficient",
			"per_percent = sensitivity * irradiance / 100",
		},
		Source: surfaceSource,
		Range:  surfaceRange,
		Fn: func(in *In, out *Out) error {
			s, err := surfaceOf(in)
			if err != nil {
				return err
			}
			E := in.Num("irradiance")
			T, H, err := s.Temperature(E)
			if err != nil {
				return err
			}
			ts := s.Surroundings
			out.Num("temperature", T)
			out.Num("absorbed", s.Absorptance*E)
			out.Num("loss_coefficient", H)
			out.Num("radiative_slope", 4*s.Emissivity*stefanBoltzmann*T*T*T)
			out.Num("radiative_mean", s.Emissivity*stefanBoltzmann*(T+ts)*(T*T+ts*ts))
			out.Num("sensitivity", s.Absorptance/H)
			out.Num("per_percent", s.Absorptance/H*E/100)
			return nil
		},
	},
	{
		Name: "bed_spread", Topic: "heat",
		Title: "Temperatures over a bed under an uneven irradiance, with conduction along the powder",
		Args: args(Arg{Name: "field", Unit: "W/m^2", Shape: Grid, AtLeast: at(0), Doc: "irradiance over the bed, as lamp_field gives it"}, surfaceArgs,
			Arg{Name: "layer", Unit: "m", AtLeast: at(0), Doc: "thickness of powder that carries heat sideways"},
			Arg{Name: "conductivity", Unit: "W/(m*K)", AtLeast: at(0), Doc: "of the powder, sideways"}),
		Results: []Res{
			{Name: "temperature", Unit: "°C", Shape: Grid, Doc: "temperature over the bed", Rises: "field absorptance air surroundings base"},
			{Name: "centre", Unit: "°C", Doc: "in the middle", Rises: "field absorptance air surroundings base"},
			{Name: "mean", Unit: "°C", Doc: "area mean", Rises: "field absorptance air surroundings base"},
			{Name: "min", Unit: "°C", Doc: "coldest node", Rises: "field absorptance air surroundings base layer conductivity"},
			{Name: "max", Unit: "°C", Doc: "hottest node", Rises: "field absorptance air surroundings base", Falls: "layer conductivity"},
			{Name: "corner", Unit: "°C", Doc: "coldest corner", Rises: "field absorptance air surroundings base"},
			{Name: "spread", Unit: "K", Doc: "hottest less coldest node", Falls: "layer conductivity"},
			{Name: "spread_local", Unit: "K", Doc: "the same without conduction along the powder", Rises: "absorptance layer conductivity", Falls: "air surroundings base layer conductivity emissivity"},
			{Name: "healing_length", Unit: "m", Doc: "distance over which conduction evens out the temperature", Falls: "field absorptance air surroundings base"},
		},
		Formula: []string{
			"H = h_air + base_conductance + 4 * emissivity * sigma * mean^3 # sigma is the Stefan-Boltzmann constant; mean in kelvins",
			"healing_length = sqrt(conductivity * layer / H)",
			"loss = h_air * (temperature - air) + emissivity * sigma * (temperature^4 - surroundings^4) + base_conductance * (temperature - base) # at each node, temperatures in kelvins, sigma as above",
			"loss = absorptance * field + conductivity * layer * curvature # both lines solved for temperature by finite volumes with insulated edges; curvature is the sum of the second derivatives of temperature along and across the bed",
			"spread = max - min",
		},
		Source: surfaceSource + "; finite volumes as in Patankar, Numerical Heat Transfer and Fluid Flow, ch. 4 (from memory)",
		Range:  surfaceRange + "; edges of the bed insulated; nodes no further apart than a third of the healing length",
		Fn: func(in *In, out *Out) error {
			s, err := surfaceOf(in)
			if err != nil {
				return err
			}
			E := in.Map("field")
			nx, ny := len(E.X), len(E.Y)
			if nx%2 == 0 || ny%2 == 0 {
				return Bad("field", "%d by %d nodes: must be odd numbers, so that one node is the middle", nx, ny)
			}
			kd := in.Num("conductivity") * in.Num("layer")
			T, err := BedSpread(E, s, kd)
			if err != nil {
				return err
			}
			lo, hi := extremes(T.Z)
			sum, whole := 0.0, 0.0
			for i, a := range newSheet(E.X, E.Y, kd).area() {
				sum += a * T.Z[i]
				whole += a
			}
			mean := sum / whole
			_, H := s.loss(mean)
			healing := math.Sqrt(kd / H)
			step := 0.0
			for _, axis := range [][]float64{E.X, E.Y} {
				for i := range axis[1:] {
					step = max(step, axis[i+1]-axis[i])
				}
			}
			if kd > 0 && step > healing/3 {
				in.Outside("field", "nodes %s apart are too coarse for a healing length of %s, of which they should be at most a third: conduction along the powder is understated", show(step, "m"), show(healing, "m"))
			}
			eLo, eHi := extremes(E.Z)
			coldest, _, err := s.Temperature(eLo)
			if err != nil {
				return err
			}
			hottest, _, err := s.Temperature(eHi)
			if err != nil {
				return err
			}
			out.Grid("temperature", T)
			out.Num("centre", T.Z[ny/2*nx+nx/2])
			out.Num("mean", mean)
			out.Num("min", lo)
			out.Num("max", hi)
			out.Num("corner", min(T.Z[0], T.Z[nx-1], T.Z[(ny-1)*nx], T.Z[ny*nx-1]))
			out.Num("spread", hi-lo)
			out.Num("spread_local", hottest-coldest)
			out.Num("healing_length", healing)
			return nil
		},
	},
	{
		Name: "powder_window", Topic: "heat",
		Title: "Margins of a bed's set point to melting and to crystallisation",
		Args: []Arg{
			{Name: "set_point", Unit: "°C", Above: kelvin, Doc: "temperature that the bed is held at"},
			{Name: "melting_onset", Unit: "°C", Above: kelvin, Doc: "onset of melting on heating, from your own powder's DSC"},
			{Name: "crystallisation_onset", Unit: "°C", Above: kelvin, Doc: "onset of crystallisation on cooling, from your own powder's DSC"},
			{Name: "spread", Unit: "K", AtLeast: at(0), Doc: "hottest less coldest place of the bed, as bed_spread gives it"},
			{Name: "sensor_error", Unit: "K", AtLeast: at(0), Doc: "expanded uncertainty of the bed's sensor"},
		},
		Results: []Res{
			{Name: "window", Unit: "K", Doc: "between the two onsets", Rises: "melting_onset", Falls: "crystallisation_onset", Only: true},
			{Name: "hottest", Unit: "°C", Doc: "hottest place of the bed, at worst", Rises: "set_point spread sensor_error", Only: true},
			{Name: "coldest", Unit: "°C", Doc: "coldest place of the bed, at worst", Rises: "set_point", Falls: "spread sensor_error", Only: true},
			{Name: "margin_hot", Unit: "K", Doc: "hottest place below melting; negative: it melts", Rises: "melting_onset", Falls: "set_point spread sensor_error", Only: true},
			{Name: "margin_cold", Unit: "K", Doc: "coldest place above crystallisation; negative: it warps", Rises: "set_point", Falls: "spread sensor_error crystallisation_onset", Only: true},
			{Name: "least", Unit: "K", Doc: "the smaller margin", Rises: "melting_onset", Falls: "spread sensor_error crystallisation_onset"},
			{Name: "spread_share", Unit: "1", Doc: "share of the window that the spread takes", Rises: "spread crystallisation_onset", Falls: "melting_onset", Only: true},
		},
		Formula: []string{
			"window = melting_onset - crystallisation_onset",
			"hottest = set_point + spread / 2 + sensor_error",
			"coldest = set_point - spread / 2 - sensor_error",
			"margin_hot = melting_onset - hottest",
			"margin_cold = coldest - crystallisation_onset",
			"least = min(margin_hot, margin_cold)",
			"spread_share = spread / window",
		},
		Source: "common practice in laser sintering, onsets as ISO 11357-3 defines them (from memory)",
		Range:  "the sensor sees the mean of the bed, half of the spread lies on either side; ageing of the powder moves both onsets",
		Fn: func(in *In, out *Out) error {
			set, melt, cryst := in.Num("set_point"), in.Num("melting_onset"), in.Num("crystallisation_onset")
			if melt <= cryst {
				return Bad("melting_onset", "%s: must lie above crystallisation_onset, %s", show(melt, "°C"), show(cryst, "°C"))
			}
			half := in.Num("spread")/2 + in.Num("sensor_error")
			hot, cold := melt-(set+half), set-half-cryst
			out.Num("window", melt-cryst)
			out.Num("hottest", set+half)
			out.Num("coldest", set-half)
			out.Num("margin_hot", hot)
			out.Num("margin_cold", cold)
			out.Num("least", min(hot, cold))
			out.Num("spread_share", in.Num("spread")/(melt-cryst))
			return nil
		},
	},
}

func extremes(x []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range x {
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}
