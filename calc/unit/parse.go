package unit

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A ParseError says what is wrong with a unit, at bytes [Start, End) of its text.
type ParseError struct {
	Start, End int
	Msg        string
	Hint       string
}

func (e *ParseError) Error() string { return e.Msg }

const maxNesting = 20

// Parse reads a unit: atoms joined by * (or ·) and at most one / a level,
// brackets, powers `^2`, `^-1`, `^(1/2)` or raised digits; no spaces. "1"
// stands for the plain number, as in 1/K. The error is a *ParseError.
func Parse(s string) (Unit, error) {
	if s == "" {
		return Unit{Factor: 1}, nil
	}
	if a := atoms[s]; a != nil { // most units are a single atom
		return a.unit(), nil
	}
	p := &parser{s: s}
	v := p.product(0)
	if p.err == nil && p.i < len(s) {
		p.unexpected()
	}
	if p.err != nil {
		return Unit{}, p.err
	}
	u := Unit{Symbol: canonical(s), Dim: v.dim, Factor: v.float()}
	if v.point != nil {
		if !v.alone {
			return Unit{}, &ParseError{0, len(s), fmt.Sprintf("%s names points on a scale and cannot stand in %s", v.point.sym, s),
				"a difference is written in K, as in " + strings.NewReplacer("°C", "K", "degC", "K", "°F", "K", "degF", "K").Replace(s)}
		}
		u.Offset, u.Point = v.point.offset, true
	}
	if math.IsInf(u.Factor, 0) || u.Factor == 0 {
		return Unit{}, &ParseError{0, len(s), s + " is out of all proportion", ""}
	}
	if s == "1" {
		u.Symbol = ""
	}
	return u, nil
}

func (a *atom) unit() Unit {
	return Unit{Symbol: canonical(a.sym), Dim: a.row.dim, Factor: a.factor, Offset: a.offset, Point: a.row.offset != ""}
}

// factor is a product being read: exact apart from its power of pi and of
// roots.
type factor struct {
	dim   Dim
	exact *big.Rat
	pi    int
	loose float64 // what cannot be kept exactly, else 1
	point *atom
	alone bool // nothing but one atom
}

func (f factor) float() float64 {
	x, _ := f.exact.Float64()
	return x * math.Pow(math.Pi, float64(f.pi)) * f.loose
}

type parser struct {
	s   string
	i   int
	err *ParseError
}

func (p *parser) fail(start, end int, msg, hint string) {
	if p.err == nil {
		p.err = &ParseError{start, end, msg, hint}
	}
}

func (p *parser) unexpected() {
	r, n := utf8.DecodeRuneInString(p.s[p.i:])
	switch {
	case r == '/':
		p.fail(p.i, p.i+1, "two divisions in a row in "+p.s, "use brackets, as in J/(kg*K)")
	case unicode.IsSpace(r):
		p.fail(p.i, p.i+n, "a unit has no spaces inside", "")
	default:
		p.fail(p.i, p.i+n, fmt.Sprintf("unexpected %q in the unit %s", r, p.s), "join units with * or /, as in W/(m*K)")
	}
}

// product = power { "*" power } [ "/" power ]
func (p *parser) product(depth int) factor {
	if depth > maxNesting {
		p.fail(p.i, len(p.s), "too many brackets", "")
		return factor{}
	}
	v := p.power(depth)
	for p.err == nil && p.i < len(p.s) {
		switch {
		case p.take("*") || p.take("·"):
			v = p.join(v, p.power(depth), 1)
		case p.s[p.i] == '/':
			p.i++
			v = p.join(v, p.power(depth), -1)
			if p.err == nil && p.i < len(p.s) && p.s[p.i] != ')' {
				p.divided()
			}
			return v
		default:
			return v
		}
	}
	return v
}

// divided refuses what follows a division without brackets: in W/m*K a reader
// cannot tell which side K is on.
func (p *parser) divided() {
	if strings.HasPrefix(p.s[p.i:], "*") || strings.HasPrefix(p.s[p.i:], "·") || p.s[p.i] == '/' {
		p.fail(p.i, p.i+1, "it is not clear what "+p.s+" divides by", "use brackets, as in J/(kg*K)")
		return
	}
	p.unexpected()
}

func (p *parser) take(s string) bool {
	if strings.HasPrefix(p.s[p.i:], s) {
		p.i += len(s)
		return true
	}
	return false
}

func (p *parser) join(a, b factor, sign int) factor {
	if p.err != nil {
		return a
	}
	b = p.raise(b, sign, 1)
	if p.err != nil {
		return a
	}
	d, ok := a.dim.Mul(b.dim)
	if !ok {
		p.fail(0, len(p.s), p.s+" is out of all proportion", "")
		return a
	}
	pt := a.point
	if pt == nil {
		pt = b.point
	}
	return factor{dim: d, exact: new(big.Rat).Mul(a.exact, b.exact), pi: a.pi + b.pi, loose: a.loose * b.loose, point: pt}
}

// power = atom [ "^" exponent | raised digits ]
func (p *parser) power(depth int) factor {
	if p.err != nil {
		return factor{}
	}
	var v factor
	switch {
	case p.i >= len(p.s):
		p.fail(len(p.s), len(p.s), "the unit "+p.s+" ends too early", "")
		return v
	case p.take("("):
		v = p.product(depth + 1)
		if p.err == nil && !p.take(")") {
			if p.i < len(p.s) {
				p.unexpected()
			} else {
				p.fail(p.i, p.i, "a bracket is not closed in the unit "+p.s, "")
			}
		}
		v.alone = false
	case p.s[p.i] == '1' && (p.i+1 == len(p.s) || p.s[p.i+1] == '/'):
		p.i++
		v = factor{exact: big.NewRat(1, 1), loose: 1}
	default:
		v = p.atom()
	}
	if p.err != nil || p.i >= len(p.s) {
		return v
	}
	num, den, ok := p.exponent()
	if ok && p.err == nil {
		v = p.raise(v, num, den)
		v.alone = false
	}
	return v
}

func (p *parser) atom() factor {
	start := p.i
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		if !(unicode.IsLetter(r) || r == '°' || r == '%' || r == '_') {
			break
		}
		p.i += n
	}
	sym := p.s[start:p.i]
	if sym == "" {
		p.unexpected()
		return factor{}
	}
	a := atoms[sym]
	if a == nil {
		a = atoms[strings.ReplaceAll(sym, "μ", "µ")]
	}
	if a == nil {
		a = atoms[strings.ReplaceAll(sym, "Ω", "Ω")] // the ohm sign, U+2126
	}
	if a == nil {
		p.fail(start, p.i, "unknown unit "+sym, hintFor(sym))
		return factor{}
	}
	f := factor{dim: a.row.dim, exact: a.exact, pi: a.row.pi, loose: 1, alone: true}
	if a.row.offset != "" {
		f.point = a
	}
	return f
}

// exponent reads ^2, ^-1, ^(1/2) or raised digits.
func (p *parser) exponent() (num, den int, ok bool) {
	start := p.i
	if p.take("^") {
		if p.take("(") {
			end := strings.IndexByte(p.s[p.i:], ')')
			if end >= 0 {
				text := p.s[p.i : p.i+end]
				p.i += end + 1
				a, b, isFrac := strings.Cut(text, "/")
				n, err1 := strconv.Atoi(a)
				d, err2 := 1, error(nil)
				if isFrac {
					d, err2 = strconv.Atoi(b)
				}
				if err1 == nil && err2 == nil && d > 0 {
					return n, d, true
				}
			}
			p.fail(start, p.i, "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)")
			return 0, 0, false
		}
		j := p.i
		if p.i < len(p.s) && (p.s[p.i] == '-' || p.s[p.i] == '+') {
			p.i++
		}
		for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
			p.i++
		}
		n, err := strconv.Atoi(p.s[j:p.i])
		if err != nil {
			p.fail(start, max(p.i, start+1), "an exponent is a whole number or a fraction", "as in m^2, s^-1 or Pa*m^(1/2)")
			return 0, 0, false
		}
		return n, 1, true
	}
	const raised = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	text := ""
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		if r == '⁻' {
			text += "-"
		} else if k := strings.IndexRune(raised, r); k >= 0 {
			text += strconv.Itoa(utf8.RuneCountInString(raised[:k]))
		} else {
			break
		}
		p.i += n
	}
	if text == "" {
		return 0, 0, false
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		p.fail(start, p.i, "an exponent is a whole number", "as in m²")
		return 0, 0, false
	}
	return n, 1, true
}

func (p *parser) raise(v factor, num, den int) factor {
	if num == 1 && den == 1 {
		return v
	}
	d, ok := v.dim.Pow(num, den)
	if !ok || num > 30 || num < -30 {
		p.fail(0, len(p.s), "the exponents of "+p.s+" are out of all proportion", "")
		return v
	}
	if den != 1 {
		x := math.Pow(v.float(), float64(num)/float64(den))
		return factor{dim: d, exact: big.NewRat(1, 1), loose: x, point: v.point}
	}
	x := big.NewRat(1, 1)
	for range max(num, -num) {
		x.Mul(x, v.exact)
	}
	if num < 0 {
		x.Inv(x)
	}
	return factor{dim: d, exact: x, pi: v.pi * num, loose: math.Pow(v.loose, float64(num)), point: v.point}
}

// canonical writes a unit's text in the spelling that is kept: * for ·, ^2 for
// ², µ for the Greek letter and for u, Ω for ohm, °C for degC.
func canonical(s string) string {
	ascii := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			ascii = false
		}
	}
	if ascii && !strings.ContainsAny(s, "ude(o") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		if unicode.IsLetter(r) || r == '°' || r == '%' || r == '_' {
			j := i
			for j < len(s) {
				r, n := utf8.DecodeRuneInString(s[j:])
				if !(unicode.IsLetter(r) || r == '°' || r == '%' || r == '_') {
					break
				}
				j += n
			}
			b.WriteString(canonicalAtom(s[i:j]))
			i = j
			continue
		}
		const raised = "⁰¹²³⁴⁵⁶⁷⁸⁹"
		switch {
		case r == '·':
			b.WriteByte('*')
		case r == '⁻' || strings.ContainsRune(raised, r):
			b.WriteByte('^')
			for i < len(s) {
				r, m := utf8.DecodeRuneInString(s[i:])
				if r == '⁻' {
					b.WriteByte('-')
				} else if k := strings.IndexRune(raised, r); k >= 0 {
					b.WriteString(strconv.Itoa(utf8.RuneCountInString(raised[:k])))
				} else {
					break
				}
				i += m
			}
			continue
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return b.String()
}

func canonicalAtom(sym string) string {
	sym = strings.ReplaceAll(strings.ReplaceAll(sym, "μ", "µ"), "Ω", "Ω")
	switch sym {
	case "degC":
		return "°C"
	case "degF":
		return "°F"
	case "deg":
		return "°"
	}
	a := atoms[sym]
	if a == nil {
		return sym
	}
	if a.row.sym == "ohm" {
		sym = strings.TrimSuffix(sym, "ohm") + "Ω"
	}
	if a.exp == -6 && strings.HasPrefix(sym, "u") {
		return "µ" + sym[1:]
	}
	return sym
}

// hintFor suggests what an unknown symbol may have meant.
func hintFor(sym string) string {
	words := map[string]string{
		"sec": "s", "secs": "s", "seconds": "s", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "mins": "min", "minutes": "min",
		"degrees": "°", "Kelvin": "K", "celsius": "°C", "Celsius": "°C", "kelvin": "K", "liter": "L", "litre": "L", "liters": "L", "litres": "L",
		"meter": "m", "metre": "m", "meters": "m", "metres": "m", "grams": "g", "gram": "g", "kilo": "kg", "newton": "N", "watt": "W", "watts": "W",
		"feet": "ft", "inches": "in", "lbs": "lb", "Nm": "N*m", "kWh": "kWh", "percent": "%", "euro": "EUR", "eur": "EUR", "€": "EUR", "$": "USD",
		"KG": "kg", "Kg": "kg", "MM": "mm", "hz": "Hz", "pa": "Pa", "w": "W", "n": "N", "k": "K", "micron": "µm", "microns": "µm", "kph": "km/h",
		"cc": "cm^3", "ml": "mL", "gal": "gal_US", "cal": "cal_th", "kcal": "cal_th", "Btu": "Btu_IT", "BTU": "Btu_IT", "rev": "turn", "revs": "turn", "RPM": "rpm",
	}
	if w := words[sym]; w != "" {
		return "did you mean " + w + "?"
	}
	for s := range atoms {
		if strings.EqualFold(s, sym) {
			best := s
			for t := range atoms {
				if strings.EqualFold(t, sym) && (atoms[t].exp == 0 && atoms[best].exp != 0 || (atoms[t].exp == 0) == (atoms[best].exp == 0) && t < best) {
					best = t
				}
			}
			return "did you mean " + canonical(best) + "? case counts in units"
		}
	}
	// Two units run together: Nm, mWs. Words in small letters are names.
	if strings.ToLower(sym) == sym {
		return ""
	}
	for i := 1; i < len(sym); i++ {
		if !utf8.RuneStart(sym[i]) {
			continue
		}
		a, b := atoms[sym[:i]], atoms[sym[i:]]
		if a != nil && b != nil {
			return "units are joined with *, as in " + sym[:i] + "*" + sym[i:]
		}
	}
	return ""
}

// Per gives the reciprocal unit. °C and °F have none.
func (u Unit) Per() (Unit, error) {
	if u.Point {
		return Unit{}, &ParseError{0, len(u.Symbol), u.Symbol + " names points on a scale and cannot be divided by", "a difference is written in K"}
	}
	switch {
	case u.Symbol == "":
		return u, nil
	case isAtom(u.Symbol):
		return Parse(u.Symbol + "^-1")
	}
	return Parse("1/(" + u.Symbol + ")")
}

func isAtom(s string) bool { return atoms[s] != nil }

// Mul gives the product of two units, with a spelling that Parse reads back.
func Mul(u, v Unit) Unit {
	switch {
	case u.Symbol == "":
		return v
	case v.Symbol == "":
		return u
	}
	wrap := func(s string) string {
		if strings.ContainsAny(s, "/") {
			return "(" + s + ")"
		}
		return s
	}
	if rest, ok := strings.CutPrefix(v.Symbol, "1/"); ok && !strings.Contains(u.Symbol, "/") {
		if w, err := Parse(u.Symbol + "/" + rest); err == nil {
			return w
		}
	}
	if rest, ok := strings.CutSuffix(v.Symbol, "^-1"); ok && isAtom(rest) && !strings.Contains(u.Symbol, "/") {
		if w, err := Parse(u.Symbol + "/" + rest); err == nil {
			return w
		}
	}
	if w, err := Parse(wrap(u.Symbol) + "*" + wrap(v.Symbol)); err == nil {
		return w
	}
	d, _ := u.Dim.Mul(v.Dim)
	return Unit{Symbol: u.Symbol + "*" + v.Symbol, Dim: d, Factor: u.Factor * v.Factor}
}
