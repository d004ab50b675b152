package unit

import (
	"maps"
	"slices"
	"strings"
)

// words are what people write for units, other than their names.
var words = map[string]string{
	"sec": "s", "secs": "s", "hr": "h", "hrs": "h", "mins": "min", "day": "d", "days": "d", "kilo": "kg", "kilos": "kg",
	"feet": "ft", "ins": "in", "lbs": "lb", "Nm": "N*m", "percent": "%", "eur": "EUR",
	"micron": "µm", "microns": "µm", "kph": "km/h", "kmh": "km/h", "cc": "cm^3", "ccm": "cm^3", "qm": "m^2",
	"rev": "turn", "revs": "turn", "cycles": "turn", "r": "turn", "thou": "mil", "degrees": "°", "deg_C": "°C", "deg_F": "°F",
	"amp": "A", "amps": "A", "lpm": "L/min", "ltr": "L", "gramme": "g", "sqm": "m^2", "sqft": "ft^2", "pct": "%",
	"oC": "°C", "ºC": "°C", "C°": "°C", "º": "°", "°K": "K", "degK": "K",
}

// qualified are units that there are several of.
var qualified = map[string]string{
	"gal":    "there are several gallons: gal_US, or L",
	"cal":    "there are several calories: cal_th, or J",
	"kcal":   "there are several calories: 1000 cal_th, or kJ",
	"Btu":    "there are several: Btu_IT, or kJ",
	"BTU":    "there are several: Btu_IT, or kJ",
	"hp":     hintHorsepower,
	"HP":     hintHorsepower,
	"ton":    "there are several tons: the tonne of 1000 kg is t",
	"tons":   "there are several tons: the tonne of 1000 kg is t",
	"Torr":   "write mmHg, or Pa",
	"torr":   "write mmHg, or Pa",
	"mph":    "write km/h or ft/s",
	"RH":     "relative humidity is a plain number or in %",
	"%RH":    "relative humidity is a plain number or in %",
	"ppb":    "write ppm or a plain number: 1 ppb is 0.001 ppm",
	"week":   "write d: 7 d",
	"year":   hintYear,
	"years":  hintYear,
	"yr":     hintYear,
	"yrs":    hintYear,
	"dB":     "a level in decibels is a ratio: write it as a plain number or in %",
	"Kelvin": "did you mean K? a difference of temperatures is written in K",
}

const hintYear = "a year of 365 days is written a"

const hintHorsepower = "there are several horsepowers, of 745.7 W and of 735.5 W: write W or kW"

// hintFor suggests what an unknown symbol may have meant: a word for a unit, a
// symbol in other letters, two units run together, or a slip of the keyboard.
// It is "" where nothing comes near.
func hintFor(sym string) string {
	if h := qualified[sym]; h != "" {
		return h
	}
	for _, scale := range []string{"°C", "°F", "degC", "degF"} {
		if a := atoms[strings.TrimSuffix(sym, scale)]; a != nil && strings.HasSuffix(sym, scale) { // m°C
			return "a difference is written in K, as in " + a.unit.Symbol + "*K"
		}
	}
	w := words[sym]
	if w == "" {
		w = words[strings.ToLower(sym)]
	}
	if w == "" {
		w = byName(sym)
	}
	if w != "" {
		return didYouMean([]string{w})
	}
	name := strings.ToLower(sym) == sym // words in small letters are more often a name than a product
	joined := ""
	if !name {
		joined = runTogether(sym)
	} else if one := strings.TrimSuffix(sym, "s"); one != sym && len(one) > 1 && atoms[one] != nil && usual(atoms[one].exp) {
		return didYouMean([]string{atoms[one].unit.Symbol}) // kgs, mils
	}
	if near := otherCase(sym); len(near) > 0 {
		h := didYouMean(near) + " case counts in units"
		if joined != "" {
			h += "; a product is written " + joined
		}
		return h
	}
	if joined != "" {
		return "units are joined with *, as in " + joined
	}
	return didYouMean(slips(sym, name))
}

func didYouMean(symbols []string) string {
	switch n := len(symbols); n {
	case 0:
		return ""
	case 1:
		return "did you mean " + symbols[0] + "?"
	default:
		return "did you mean " + strings.Join(symbols[:n-1], ", ") + " or " + symbols[n-1] + "?"
	}
}

// byName finds a unit by its English name, with a prefix, singular or plural,
// in British or American spelling.
func byName(word string) string {
	w := strings.ToLower(word)
	if strings.HasSuffix(w, "meter") || strings.HasSuffix(w, "meters") {
		w = strings.Replace(w, "meter", "metre", 1)
	}
	w = strings.Replace(w, "liter", "litre", 1)
	for _, w := range []string{w, strings.TrimSuffix(w, "s"), strings.TrimSuffix(w, "es")} {
		for i := range table {
			r := &table[i]
			name := strings.ToLower(r.name)
			name, _, _ = strings.Cut(name, ",")
			if w == name || w == strings.TrimPrefix(name, "degree ") {
				return r.sym
			}
			if p, ok := strings.CutSuffix(w, name); ok {
				for _, q := range prefixTable {
					if q.name == p && r.takes(q.exp) {
						return q.sym + r.sym
					}
				}
			}
		}
	}
	return ""
}

// otherCase finds the symbols that differ only in the case of letters.
func otherCase(sym string) []string {
	return best(func(s string) bool { return strings.EqualFold(s, sym) })
}

// runTogether finds two units written without a sign between: Nm, mWs. Of two
// ways to part them the one with fewer prefixes is taken; prefixes that people
// do not use, and the temperature scales, which join nothing, are left out.
func runTogether(sym string) string {
	prefixed := func(a *atom) int {
		if a.exp == 0 {
			return 0
		}
		return 1
	}
	found, least := "", 0
	for i := range sym {
		a, b := atoms[sym[:i]], atoms[sym[i:]]
		if a == nil || b == nil || !usual(a.exp) || !usual(b.exp) || a.unit.Point || b.unit.Point {
			continue
		}
		if n := prefixed(a) + prefixed(b); found == "" || n < least {
			found, least = a.unit.Symbol+"*"+b.unit.Symbol, n
		}
	}
	return found
}

// slips finds symbols of three and more letters that one slip turns into sym:
// two letters swapped, or, unless sym looks like a name, one letter too many,
// missing or wrong.
func slips(sym string, name bool) []string {
	w := []rune(sym)
	if len(w) < 3 {
		return nil
	}
	return best(func(s string) bool {
		v := []rune(s)
		if len(v) < 3 {
			return false
		}
		return swapped(v, w) || !name && oneEdit(v, w)
	})
}

func swapped(a, b []rune) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && slices.Equal(a[i+2:], b[i+2:])
		}
	}
	return false
}

func oneEdit(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return i < len(a) && slices.Equal(a[i+1:], b[i+1:])
	}
	return slices.Equal(a[i:], b[i+1:])
}

// best gives up to three symbols that match: those without a prefix first, then
// those with a usual one; of rare prefixes none.
func best(match func(string) bool) []string {
	symbols := map[string]bool{}
	for s, a := range atoms {
		if usual(a.exp) && match(s) {
			symbols[a.unit.Symbol] = true
		}
	}
	found := slices.Sorted(maps.Keys(symbols))
	prefixed := func(s string) int { return min(1, max(atoms[s].exp, -atoms[s].exp)) }
	slices.SortStableFunc(found, func(s, t string) int { return prefixed(s) - prefixed(t) })
	return found[:min(len(found), 3)]
}

func usual(exp int) bool { return exp%3 == 0 && exp >= -9 && exp <= 9 || exp == -2 }
