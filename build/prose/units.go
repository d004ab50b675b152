package prose

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"workings/calc/unit"
)

// words are units written out, in English and German, and what people type
// for a unit that the sheet language does not take.
var words = map[string]string{
	"Nm": "N*m", "Ncm": "N*cm", "kNm": "kN*m", "mNm": "mN*m", "Nmm": "N*mm", "kWh": "kW*h", "mAh": "mA*h", "VA": "V*A",
	"percent": "%", "Prozent": "%", "°": "deg", "º": "deg", "ºC": "°C", "″": "inch", "ohms": "ohm", "Ohm": "ohm",
	"sec": "s", "secs": "s", "mins": "min", "hr": "h", "hrs": "h", "Std": "h", "Sek": "s", "Min": "min",
	"second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hour": "h", "hours": "h", "day": "d", "days": "d",
	"Sekunde": "s", "Sekunden": "s", "Minuten": "min", "Stunde": "h", "Stunden": "h", "Tag": "d", "Tage": "d", "Tagen": "d",
	"degree": "deg", "degrees": "deg", "Grad": "deg", "inches": "inch", "Zoll": "inch", "foot": "ft", "feet": "ft",
	"micron": "um", "microns": "um", "kilo": "kg", "kilos": "kg", "lbs": "lb", "€": "EUR", "Euro": "EUR", "euros": "EUR", "£": "GBP", "$": "USD",
	"litre": "L", "litres": "L", "liter": "L", "liters": "L", "Liter": "L", "tonne": "t", "tonnes": "t",
	"volt": "V", "volts": "V", "Volt": "V", "amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "Ampere": "A",
	"watt": "W", "watts": "W", "Watt": "W", "newton": "N", "newtons": "N", "Newton": "N", "kelvin": "K", "Kelvin": "K",
	"gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "Gramm": "g", "pascal": "Pa", "pascals": "Pa", "Pascal": "Pa",
	"joule": "J", "joules": "J", "Joule": "J", "hertz": "Hz", "Hertz": "Hz", "metre": "m", "metres": "m", "meter": "m", "meters": "m", "Meter": "m",
}

// prefixes are written before a unit that is written out.
var prefixes = []struct{ word, sym string }{{"milli", "m"}, {"centi", "c"}, {"kilo", "k"}, {"micro", "u"}, {"mega", "M"}, {"giga", "G"}, {"nano", "n"},
	{"Milli", "m"}, {"Zenti", "c"}, {"Kilo", "k"}, {"Mikro", "u"}, {"Mega", "M"}, {"Giga", "G"}}

// notUnits are words and hours of the day that could be read as units.
var notUnits = map[string]bool{"pm": true, "ps": true, "pg": true, "pt": true}

// Of the units of one letter those that stand behind a bare number in prose; a
// B is no bel and a C no coulomb. Without a space only some are told from a
// name: 24V, but 3D and 90s.
const (
	spaced = "msghdAVWNKJLltΩ%€£$"
	joined = "mghAVWNΩ%l€£$"
)

var (
	symbol = `(?:[\p{L}°º%″€£$]+)`
	raise  = `(?:\^?[-−]?\d|[⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)?`
	atom   = symbol + raise
	// unit and the units it is multiplied with or divided by
	unitText = regexp.MustCompile(`^(?:1/)?` + atom + `(?:[/·⋅*×](?:` + atom + `|\(` + atom + `(?:[·⋅*×]` + atom + `)*\)))*`)
	perText  = regexp.MustCompile(`^(?:(?:[\p{L}%]+` + space + `)?(?:per|pro) ` + atom + `)`)
	degrees  = regexp.MustCompile(`^(?:degrees?|Grad)` + space + `(Celsius|Fahrenheit|C|F)\b`)
	oneTerm  = regexp.MustCompile(`^` + atom)
	operator = regexp.MustCompile(`[/·⋅*×]`)
	expand   = strings.NewReplacer("·", "*", "⋅", "*", "×", "*", "−", "-")
	termOf   = regexp.MustCompile(symbol)
	// An exponent without ^ is one of a length or time only: 16 h6 is a fit.
	bareExp = regexp.MustCompile(`^([munkcd]?m|s|in|ft|µm)(-?[1-3])$`)
	bare    = regexp.MustCompile(`\p{L}-?\d`)
	// The prefixes that people write, and what they write them before: 2RS is
	// the end of a bearing's name and not two ronnasiemens.
	usual = regexp.MustCompile(`^(?:[pnuµmkMGT]?(?:m|g|s|A|N|V|W|J|Pa|K|Hz|Ω|ohm|F|H|S|T|C|mol|cd|rad|sr|lm|lx|L|l|bar|eV|Wh|Ah|kat|Bq|Gy|Sv|Wb)` +
		`|c(?:m|L|l|N)|d(?:m|L|l|N)|hPa|ha|hL|hl|min|h|d|t|°|%|ppm|in|inch|mil|ft|yd|lb|oz|lbf|ozf|kgf|psi|atm|mmHg|rpm|turn|deg|°C|°F|degC|degF|℃|℉|EUR|USD|GBP|CHF|JPY|SEK|AUD|CAD)$`)
)

// readUnit reads the unit behind a number that ends at i. It returns how many
// bytes it takes with the space before it; 0 if there is none.
func readUnit(text string, i int, number string) (u unit.Unit, n int) {
	rest := text[i:]
	g := gap.FindString(rest)
	s := rest[len(g):]
	if m := degrees.FindStringSubmatch(s); m != nil {
		u, err := unit.Parse(map[string]string{"C": "°C", "F": "°F"}[m[1][:1]])
		return u, taken(err == nil && ends(s, len(m[0])), len(g)+len(m[0]))
	}
	if m := perText.FindString(s); m != "" {
		if u, ok := parse(m); ok && ends(s, len(m)) {
			return u, len(g) + len(m)
		}
	}
	m := unitText.FindString(s)
	for m != "" {
		if u, ok := parse(m); ok && ends(s, len(m)) && fits(m, s[len(m):], g, number) {
			return u, len(g) + len(m)
		}
		ops := operator.FindAllStringIndex(m, -1)
		if len(ops) == 0 {
			break
		}
		m = strings.TrimSuffix(m[:ops[len(ops)-1][0]], "(")
		if strings.Count(m, "(") != strings.Count(m, ")") {
			m = m[:strings.LastIndexByte(m, '(')]
			m = strings.TrimRight(m, "/·⋅*×")
		}
	}
	return unit.Unit{}, 0
}

func taken(ok bool, n int) int {
	if ok {
		return n
	}
	return 0
}

// ends reports whether a unit of n bytes ends at the end of a word.
func ends(s string, n int) bool {
	r, _ := utf8.DecodeRuneInString(s[n:])
	return n >= len(s) || !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_'
}

// parse reads a unit as people type it.
func parse(s string) (unit.Unit, bool) {
	s = strings.NewReplacer("per ", " per ", "pro ", " per ").Replace(spaces.Replace(s))
	a, b, isPer := strings.Cut(s, " per ")
	s = strings.TrimSpace(a)
	if isPer {
		if s == "" {
			s = "1"
		}
		s += "/" + strings.TrimSpace(b)
	}
	s = termOf.ReplaceAllStringFunc(expand.Replace(s), func(w string) string {
		if known, ok := words[w]; ok {
			return known
		}
		for _, p := range prefixes {
			if rest, ok := strings.CutPrefix(w, p.word); ok {
				if base, ok := words[strings.ToLower(rest)]; ok && len(rest) > 3 {
					return p.sym + base
				}
			}
		}
		return w
	})
	if bare.MatchString(s) {
		terms := operator.Split(strings.NewReplacer("(", "", ")", "").Replace(s), -1)
		for _, t := range terms {
			if bare.MatchString(t) {
				if !bareExp.MatchString(t) {
					return unit.Unit{}, false
				}
				s = strings.Replace(s, t, bareExp.ReplaceAllString(t, "$1^$2"), 1)
			}
		}
	}
	for _, t := range termOf.FindAllString(s, -1) {
		if notUnits[t] || !usual.MatchString(t) {
			return unit.Unit{}, false
		}
	}
	u, err := unit.Parse(s)
	return u, err == nil
}

// fits reports whether a word that is a unit is one here: m is it, after what
// stands behind it, g the space before it.
func fits(m, after, g, number string) bool {
	if m == "in" {
		return inch(after, number)
	}
	if utf8.RuneCountInString(m) == 1 && m != "°" && m != "″" {
		if g == "" {
			return strings.Contains(joined, m)
		}
		return strings.Contains(spaced, m)
	}
	return true
}

// inch tells the unit from the word: "5 in deep", "½ in of felt", but "put 5
// in a row".
func inch(after, number string) bool {
	w := strings.ToLower(firstWord(after))
	if w == "" { // the end, or a comma or full stop
		return true
	}
	if strings.ContainsAny(number, "/½¼¾⅓⅔⅛⅜⅝⅞") {
		return !determiners[w]
	}
	return measures[w]
}

var (
	determiners = map[string]bool{"the": true, "a": true, "an": true, "each": true, "all": true, "this": true, "that": true, "its": true, "one": true, "every": true, "total": true}
	measures    = map[string]bool{"deep": true, "long": true, "wide": true, "high": true, "tall": true, "thick": true, "of": true, "or": true, "and": true, "apart": true,
		"from": true, "to": true, "in": true, "bore": true, "diameter": true, "by": true, "more": true, "less": true, "below": true, "above": true, "pipe": true, "hose": true}
)

func firstWord(s string) string {
	s, ok := strings.CutPrefix(s, " ")
	if !ok {
		return ""
	}
	i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) })
	if i < 0 {
		i = len(s)
	}
	return s[:i]
}

func lastWord(s string) string {
	s = strings.TrimRightFunc(s, unicode.IsSpace)
	i := strings.LastIndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != '.' })
	if i < 0 {
		return s
	}
	_, size := utf8.DecodeRuneInString(s[i:])
	return s[i+size:]
}
