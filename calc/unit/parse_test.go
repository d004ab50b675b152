package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Factors by hand from the definitions in testdata/definitions.tsv.
func TestParse(t *testing.T) {
	for _, c := range []struct {
		s, sym, dim string
		factor      float64
	}{
		{"", "", "1", 1},
		{"1", "", "1", 1},
		{"mm", "mm", "m", 1e-3},
		{"g/cm^3", "g/cm^3", "kg*m^-3", 1000},
		{"kJ/(kg*K)", "kJ/(kg*K)", "m^2*s^-2*K^-1", 1000},
		{"kJ/(kg·K)", "kJ/(kg*K)", "m^2*s^-2*K^-1", 1000},
		{"W/m²", "W/m^2", "kg*s^-3", 1},
		{"s⁻¹", "s^-1", "s^-1", 1},
		{"m³", "m^3", "m^3", 1},
		{"K⁻¹", "K^-1", "K^-1", 1},
		{"um", "µm", "m", 1e-6},
		{"μm", "µm", "m", 1e-6}, // the Greek letter
		{"uOhm", "", "", 0},
		{"kohm", "kΩ", "kg*m^2*s^-3*A^-2", 1e3},
		{"kΩ", "kΩ", "kg*m^2*s^-3*A^-2", 1e3}, // the ohm sign
		{"uohm*cm", "µΩ*cm", "kg*m^3*s^-3*A^-2", 1e-8},
		{"rpm", "rpm", "s^-1*rad", math.Pi / 30},
		{"lbf*in", "lbf*in", "kg*m^2*s^-2", 4.4482216152605 * 0.0254},
		{"in*lbf", "in*lbf", "kg*m^2*s^-2", 4.4482216152605 * 0.0254},
		{"ohm/m", "Ω/m", "kg*m*s^-3*A^-2", 1},
		{"Pa*m^(1/2)", "Pa*m^(1/2)", "kg*m^(-1/2)*s^-2", 1},
		{"N/mm^(3/2)", "N/mm^(3/2)", "kg*m^(-1/2)*s^-2", 31622.776601683792}, // 10^4.5
		{"m^(2/4)", "m^(1/2)", "m^(1/2)", 1},
		{"m^(-1)", "m^-1", "m^-1", 1},
		{"m^+2", "m^2", "m^2", 1},
		{"m^1", "m", "m", 1},
		{"mm^2", "mm^2", "m^2", 1e-6},
		{"(mm^2)^2", "(mm^2)^2", "m^4", 1e-12},
		{"1/K", "1/K", "K^-1", 1},
		{"1/(m*K)", "1/(m*K)", "m^-1*K^-1", 1},
		{"N*(m/s)", "N*(m/s)", "kg*m^2*s^-3", 1},
		{"mm/m", "mm/m", "1", 1e-3},
		{"kWh", "kWh", "kg*m^2*s^-2", 3.6e6},
		{"mAh", "mAh", "s*A", 3.6},
		{"psi", "psi", "kg*m^-1*s^-2", 6894.757293168362},
		{"deg", "°", "rad", math.Pi / 180},
		{"°/s", "°/s", "s^-1*rad", math.Pi / 180},
		{"N*m/°", "N*m/°", "kg*m^2*s^-2*rad^-1", 180 / math.Pi},
		{"mm*rpm", "mm*rpm", "m*s^-1*rad", math.Pi / 30e3},
		{"turn^2", "turn^2", "rad^2", 4 * math.Pi * math.Pi},
		{"turn/°", "turn/°", "1", 360},
		{"lm/W", "lm/W", "kg^-1*m^-2*s^3*cd*rad^2", 1},
		{"EUR/kg", "EUR/kg", "kg^-1*EUR", 1},
		{"degC", "°C", "K", 1},
		{"\u2103", "°C", "K", 1},
	} {
		u, err := Parse(c.s)
		if c.factor == 0 {
			if err == nil {
				t.Errorf("Parse(%q) = %v, want an error", c.s, u)
			}
			continue
		}
		if err != nil {
			t.Errorf("Parse(%q): %v", c.s, err)
			continue
		}
		if u.Symbol != c.sym || u.Dim.String() != c.dim || math.Abs(u.Factor/c.factor-1) > 1e-15 {
			t.Errorf("Parse(%q) = %q %s %v, want %q %s %v", c.s, u.Symbol, u.Dim, u.Factor, c.sym, c.dim, c.factor)
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Errorf("Parse(%q) = %v, %v; want %v again", u.Symbol, v, err, u)
		}
	}
}

// Where a symbol could be read with a prefix or without, it is read without;
// and no other reading is taken by surprise.
func TestAmbiguous(t *testing.T) {
	for _, c := range []struct{ s, name, prefix string }{
		{"min", "minute", ""},   // not milli-inch
		{"cd", "candela", ""},   // not centiday
		{"Pa", "pascal", ""},    // not petaampere-…
		{"PA", "ampere", "P"},   // which this is
		{"ft", "foot", ""},      // not femtotonne
		{"mT", "tesla", "m"},    // not megatonne
		{"Mt", "tonne", "M"},    // not megatesla
		{"T", "tesla", ""},      // not the prefix
		{"t", "tonne", ""},      // not tesla
		{"h", "hour", ""},       // not the prefix
		{"ha", "hectare", ""},   // not hectoampere
		{"yd", "yard", ""},      // not yoctoday
		{"kat", "katal", ""},    // not kilo-technical-atmosphere
		{"rad", "radian", ""},   //
		{"mrad", "radian", "m"}, //
		{"atm", "standard atmosphere", ""},
		{"mol", "mole", ""},
		{"mm", "metre", "m"},
		{"Mm", "metre", "M"},
		{"dam", "metre", "da"}, // not deci-attometre
		{"Gy", "gray", ""},
		{"mmol", "mole", "m"},
		{"nm", "metre", "n"},
		{"mN", "newton", "m"},
		{"MN", "newton", "M"},
		{"pH", "henry", "p"},
		{"ppm", "parts per million", ""},
		{"P", "poise", ""},
		{"cP", "poise", "c"},
		{"St", "stokes", ""},
		{"S", "siemens", ""},
		{"lm", "lumen", ""},
		{"lx", "lux", ""},
		{"d", "day", ""},
		{"in", "inch", ""},
		{"mil", "thousandth of an inch", ""},
		{"mL", "litre", "m"},
		{"ml", "litre", "m"},
		{"kg", "gram", "k"},
		{"Wb", "weber", ""},
		{"Wh", "watt hour", ""},
	} {
		a := atoms[c.s]
		if a == nil || a.row.name != c.name || a.prefix != c.prefix {
			t.Errorf("%s is read as %+v, want %s with prefix %q", c.s, a, c.name, c.prefix)
		}
	}
	// All collisions, so that a new unit that brings one is noticed.
	var clash []string
	for i := range table {
		for _, p := range prefixTable {
			if r := &table[i]; r.takes(p.exp) {
				if a := atoms[p.sym+r.sym]; a.row != r {
					clash = append(clash, p.sym+r.sym+"="+a.row.name)
				}
			}
		}
	}
	if len(clash) > 0 {
		t.Errorf("prefixed symbols that mean something else: %s", strings.Join(clash, " "))
	}
	for _, no := range []string{"mmin", "kh", "m°C", "kin", "mEUR", "k%", "mt", "kkg", "mkg", "dB", "B", "mrpm"} {
		if u, err := Parse(no); err == nil {
			t.Errorf("Parse(%q) = %v, want an error", no, u)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		s, at, msg, hint string
	}{
		{"W/m/K", "/", "it is not clear what W/m/K divides by", "use brackets, as in J/(kg*K)"},
		{"W/m*K", "*", "it is not clear what W/m*K divides by", "use brackets, as in J/(kg*K)"},
		{"W/m·K", "·", "it is not clear what W/m·K divides by", "use brackets, as in J/(kg*K)"},
		{"J/(kg*K", "", "a bracket is not closed in the unit J/(kg*K", ""},
		{"J/(kg/m/s)", "/", "it is not clear what J/(kg/m/s) divides by", "use brackets, as in J/(kg*K)"},
		{"J)", ")", "unexpected ')' in the unit J)", "join units with * or /, as in W/(m*K)"},
		{"W/", "", "the unit W/ ends too early", ""},
		{"W/(m*°C)", "°C", "°C names points on a scale and cannot stand in W/(m*°C)", "a difference is written in K, as in W/(m*K)"},
		{"W/(m*degC)", "degC", "°C names points on a scale and cannot stand in W/(m*degC)", "a difference is written in K, as in W/(m*K)"},
		{"°F^2", "°F", "°F names points on a scale and cannot stand in °F^2", "a difference is written in K, as in K^2"},
		{"1/°C", "°C", "°C names points on a scale and cannot stand in 1/°C", "a difference is written in K, as in 1/K"},
		{"m^x", "^", "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m^(1/0)", "^(1/0)", "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m^(1/-2)", "^(1/-2)", "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m^0", "^0", "an exponent is not zero", "as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m^99999999999999999999", "^99999999999999999999", "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m m", " ", "a unit has no spaces inside", "join units with * or /, as in W/(m*K)"},
		{"m2", "2", "unexpected '2' in the unit m2", "a power is written with ^, as in m^2, s^-1 or Pa*m^(1/2)"},
		{"s-1", "-", "unexpected '-' in the unit s-1", "a power is written with ^, as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m**2", "*", "unexpected '*' in the unit m**2", "a power is written with ^, as in m^2, s^-1 or Pa*m^(1/2)"},
		{"m^99", "m^99", "m^99 is out of all proportion", ""},
		{"m^(1/7)", "m^(1/7)", "m^(1/7) is out of all proportion", ""},
		{"2*m", "2", "unexpected '2' in the unit 2*m", "a number stands before the unit, as in 23e-6 K^-1"},
		{"m*1", "1", "unexpected '1' in the unit m*1", "a number stands before the unit, as in 23e-6 K^-1"},
		{"N*xyz", "xyz", "unknown unit xyz", ""},

		{"Nm", "Nm", "unknown unit Nm", "did you mean N*m?"},
		{"kNm", "kNm", "unknown unit kNm", "units are joined with *, as in kN*m"},
		{"Pas", "Pas", "unknown unit Pas", "units are joined with *, as in Pa*s"},
		{"Mpa", "Mpa", "unknown unit Mpa", "did you mean MPa or mPa? case counts in units"},
		{"Kg", "Kg", "unknown unit Kg", "did you mean kg? case counts in units; a product is written K*g"},
		{"PSI", "PSI", "unknown unit PSI", "did you mean psi? case counts in units"},
		{"hz", "hz", "unknown unit hz", "did you mean Hz? case counts in units"},
		{"kwh", "kwh", "unknown unit kwh", "did you mean kWh? case counts in units"},
		{"millimeters", "millimeters", "unknown unit millimeters", "did you mean mm?"},
		{"metre", "metre", "unknown unit metre", "did you mean m?"},
		{"kilograms", "kilograms", "unknown unit kilograms", "did you mean kg?"},
		{"litres", "litres", "unknown unit litres", "did you mean L?"},
		{"degrees", "degrees", "unknown unit degrees", "did you mean °?"},
		{"Celsius", "Celsius", "unknown unit Celsius", "did you mean °C?"},
		{"inches", "inches", "unknown unit inches", "did you mean inch?"},
		{"feet", "feet", "unknown unit feet", "did you mean ft?"},
		{"gal", "gal", "unknown unit gal", "there are several gallons: gal_US, or L"},
		{"hp", "hp", "unknown unit hp", "there are several horsepowers, of 745.7 W and of 735.5 W: write W or kW"},
		{"mbra", "mbra", "unknown unit mbra", "did you mean mbar?"},
		{"Btu_I", "Btu_I", "unknown unit Btu_I", "did you mean Btu_IT?"},
		{"mmm", "mmm", "unknown unit mmm", ""}, // as likely a name
		{"depth", "depth", "unknown unit depth", ""},
	} {
		u, err := Parse(c.s)
		var e *ParseError
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q) = %v, %v; want a ParseError", c.s, u, err)
			continue
		}
		if u != (Unit{}) || e.Msg != c.msg || e.Hint != c.hint || c.s[e.Start:e.End] != c.at {
			t.Errorf("Parse(%q): %q %q at %q, want %q %q at %q", c.s, e.Msg, e.Hint, c.s[e.Start:e.End], c.msg, c.hint, c.at)
		}
	}
	if _, err := Parse(strings.Repeat("(", 50) + "m" + strings.Repeat(")", 50)); err == nil {
		t.Error("fifty brackets are read")
	}
	// Powers of powers must not take long.
	if _, err := Parse(strings.Repeat("(", 15) + "ppm" + strings.Repeat("^30)", 15)); err == nil {
		t.Error("ppm^30^15 is read")
	}
}

// A hint is the same however often it is asked for.
func TestHintsAreStable(t *testing.T) {
	for _, s := range []string{"Mpa", "MM", "NM", "Btu_I", "mbra", "KHZ", "GPA", "Mw"} {
		first := hintFor(s)
		for range 20 {
			if h := hintFor(s); h != first {
				t.Fatalf("hintFor(%q) = %q, then %q", s, first, h)
			}
		}
	}
}

// Every symbol of the table reads back as itself.
func TestAtomsReadBack(t *testing.T) {
	for s := range atoms {
		u, err := Parse(s)
		if err != nil {
			t.Errorf("%s: %v", s, err)
			continue
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Errorf("%s: %v reads back as %v, %v", s, u, v, err)
		}
		// The same through the parser of compounds.
		if v, _, err := parse(s); err != nil || v != u {
			t.Errorf("%s: the parser gives %v, %v; the table %v", s, v, err, u)
		}
	}
}

func FuzzParse(f *testing.F) {
	for i := range table {
		f.Add(table[i].sym)
		f.Add("k" + table[i].sym + "/(" + table[i].sym + "^-2*m)")
	}
	for _, k := range knownUnits {
		f.Add(k.sym)
	}
	for _, s := range []string{"m²", "s⁻¹", "Pa*m^(1/2)", "W/(m*°C)", "((m))", "1/1", "µΩ·cm", "a/b/c", "(((ppm^30)^30)^30)", "\u2126", "m^-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		u, err := Parse(s)
		if err != nil {
			var e *ParseError
			if !errors.As(err, &e) || e.Start < 0 || e.End < e.Start || e.End > len(s) || e.Msg == "" {
				t.Fatalf("Parse(%q): %#v", s, err)
			}
			return
		}
		if !(u.Factor > 0) || math.IsInf(u.Factor, 0) {
			t.Fatalf("Parse(%q): factor %v", s, u.Factor)
		}
		if v, err := Parse(u.Symbol); err != nil || v != u {
			t.Fatalf("Parse(%q) = %v; its symbol gives %v, %v", s, u, v, err)
		}
		if strings.ContainsAny(u.Display(), "^*") {
			t.Fatalf("%q is displayed as %q", s, u.Display())
		}
		if u.Point {
			return
		}
		p, err := u.Per()
		if err != nil {
			return // exponents up to -30 turn to exponents that are out of range only where a sum does
		}
		if one, ok := p.Dim.Mul(u.Dim); !ok || one != None || math.Abs(p.Factor*u.Factor-1) > 1e-13 {
			t.Fatalf("%q: reciprocal %v of %v", s, p, u)
		}
		if v, err := Product(u, p); err == nil && (v.Dim != None || math.Abs(v.Factor-1) > 1e-13) {
			t.Fatalf("%q times its reciprocal is %v", s, v)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, s := range []string{"mm", "kJ/(kg*K)", "W/(m^2*K)"} {
		b.Run(s, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
