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

// Bounds on what is read, so that no text takes long.
const (
	maxNesting = 20
	maxPower   = 127
	maxBits    = 4096 // of a factor's numerator and denominator
)

// Parse reads a unit, without spaces:
//
//	unit     = product | "1" | ""
//	product  = power { "*" power } [ "/" power ] | "1" "/" power
//	power    = ( symbol | "(" product ")" ) [ exponent ]
//	exponent = "^" [ "-" ] digits | "^(" [ "-" ] digits [ "/" digits ] ")" | raised digits
//
// · stands for *, and ² for ^2. After a division the product ends: of W/m*K a
// reader cannot tell what it divides by. "1" and "" are the plain number.
//
// The unit's Symbol is the text in the spelling that is kept (* for ·, ^2 for
// ², µ for u, Ω for ohm, °C for degC), which Parse reads back as the same unit.
// The error is a *ParseError.
func Parse(s string) (Unit, error) {
	if s == "" || s == "1" {
		return Unit{Factor: 1}, nil
	}
	if a := atoms[s]; a != nil { // most units are a single atom
		return a.unit, nil
	}
	u, _, err := parse(s)
	if err != nil {
		return Unit{}, err
	}
	return u, nil
}

func parse(s string) (Unit, []term, *ParseError) {
	p := &parser{s: s}
	v := p.product(0)
	if p.err == nil && p.i < len(s) {
		p.unexpected()
	}
	if p.err == nil && v.point != nil && !v.alone {
		p.fail(p.pointStart, p.pointEnd, v.point.unit.Symbol+" names points on a scale and cannot stand in "+s,
			"a difference is written in K, as in "+strings.NewReplacer("°C", "K", "°F", "K").Replace(p.out.String()))
	}
	if p.err != nil {
		return Unit{}, nil, p.err
	}
	u := Unit{Symbol: p.out.String(), Dim: v.dim, Factor: v.float()}
	if math.IsInf(u.Factor, 0) || !(u.Factor >= 1e-300) {
		return Unit{}, nil, &ParseError{0, len(s), s + " is out of all proportion", ""}
	}
	if v.point != nil {
		u.Offset, u.Point = v.point.unit.Offset, true
	}
	return u, v.terms, nil
}

// factor is a product being read. Its value is exact, apart from powers of pi
// and from roots.
type factor struct {
	dim   Dim
	exact *big.Rat
	pi    int
	loose float64 // what cannot be kept exactly, else 1
	point *atom   // a temperature scale in it
	alone bool    // nothing but one atom
	terms []term
}

func (f factor) float() float64 {
	x, _ := f.exact.Float64()
	return x * math.Pow(math.Pi, float64(f.pi)) * f.loose
}

type parser struct {
	s   string
	i   int
	out strings.Builder // the spelling that is kept
	err *ParseError

	pointStart, pointEnd int // where a temperature scale stands
}

func (p *parser) fail(start, end int, msg, hint string) {
	if p.err == nil {
		p.err = &ParseError{start, end, msg, hint}
	}
}

const (
	hintJoin     = "join units with * or /, as in W/(m*K)"
	hintBrackets = "use brackets, as in J/(kg*K)"
	hintPower    = "as in m^2, s^-1 or Pa*m^(1/2)"
	hintNumber   = "a number stands before the unit, as in 23e-6 K^-1"

	hintMetreKelvin = "metre by kelvin is m*K, as in W/(m*K); for the kelvin alone write K, or mK^-1"
)

// signHints are for signs that people write in units.
var signHints = map[rune]string{
	'.': "units are joined with *, as in N*m", '×': "units are joined with *, as in N*m",
	'€': "did you mean EUR?", '$': "a dollar is USD, AUD or CAD", '£': "did you mean GBP?", '¥': "did you mean JPY?",
	'˚': "the degree is °, or deg; °C is degC", '‰': "did you mean 0.1 %?",
	'√': "a root is a power, as in MPa*m^(1/2)", '"': "did you mean in?", '\'': "did you mean ft?",
}

func (p *parser) unexpected() {
	r, n := utf8.DecodeRuneInString(p.s[p.i:])
	msg, hint := fmt.Sprintf("unexpected %q in the unit %s", r, p.s), hintJoin
	switch {
	case unicode.IsSpace(r):
		msg, hint = "a unit has no spaces inside", hintJoin
	case unicode.IsDigit(r) && p.i > 1 && p.s[p.i-1] == '/' && unicode.IsDigit(rune(p.s[p.i-2])):
		hint = "a fraction in an exponent has brackets, as in m^(1/2)"
	case unicode.IsDigit(r) && (p.i == 0 || strings.IndexByte("*/(", p.s[p.i-1]) >= 0):
		hint = hintNumber
	case r == '-' && p.i+1 < len(p.s) && !unicode.IsDigit(rune(p.s[p.i+1])):
		// kJ/kg-K, ft-lbf: hintJoin
	case r == '*' && p.i > 0 && p.s[p.i-1] == '*', r == '-', unicode.IsDigit(r):
		hint = "a power is written with ^, " + hintPower
	case r == '/' && p.i == 0:
		hint = "write 1/ or ^-1, as in 1/K or K^-1"
	case signHints[r] != "":
		hint = signHints[r]
	}
	p.fail(p.i, p.i+n, msg, hint)
}

// disproportion refuses what leaves the range of numbers or of dimensions.
func (p *parser) disproportion() {
	p.fail(0, len(p.s), p.s+" is out of all proportion", "")
}

func (p *parser) product(depth int) factor {
	if depth > maxNesting {
		p.fail(p.i, len(p.s), "too many brackets", "")
		return factor{}
	}
	var v factor
	if strings.HasPrefix(p.s[p.i:], "1/") {
		p.i++
		p.out.WriteByte('1')
		v = factor{exact: big.NewRat(1, 1), loose: 1}
	} else {
		v = p.power(depth)
	}
	for p.err == nil && p.i < len(p.s) {
		switch {
		case p.take("*") || p.take("·") || p.take("⋅"):
			p.out.WriteByte('*')
			v = p.join(v, p.power(depth), 1)
		case p.take("/"):
			p.out.WriteByte('/')
			start := p.i
			by := p.power(depth)
			if p.err == nil && millikelvin(by) {
				p.fail(start, p.i, p.s+" divides by the millikelvin", hintMetreKelvin)
			}
			v = p.join(v, by, -1)
			if p.err != nil || p.i == len(p.s) || p.s[p.i] == ')' {
				return v
			}
			if strings.ContainsAny(p.s[p.i:p.i+1], "*/") || strings.HasPrefix(p.s[p.i:], "·") || strings.HasPrefix(p.s[p.i:], "⋅") {
				_, n := utf8.DecodeRuneInString(p.s[p.i:])
				p.fail(p.i, p.i+n, "it is not clear what "+p.s+" divides by", hintBrackets)
			} else {
				p.unexpected()
			}
			return v
		default:
			return v
		}
	}
	return v
}

// millikelvin reports whether a divisor is mK, plain or in brackets. W/mK is
// printed for W/(m*K) all too often; as it stands it is W/K a thousand times.
// It is refused rather than guessed at; mK^-1 and /mK^2 are not.
func millikelvin(f factor) bool {
	return len(f.terms) == 1 && f.terms[0].whole("K", 1) && f.terms[0].atom.prefix == "m"
}

func (p *parser) take(s string) bool {
	if strings.HasPrefix(p.s[p.i:], s) {
		p.i += len(s)
		return true
	}
	return false
}

func (p *parser) join(a, b factor, sign int) factor {
	b = p.raise(b, sign, 1)
	if p.err != nil {
		return a
	}
	d, ok := a.dim.Mul(b.dim)
	f := factor{dim: d, exact: ratMul(a.exact, b.exact), pi: a.pi + b.pi, loose: a.loose * b.loose, point: a.point, terms: append(a.terms, b.terms...)}
	if f.point == nil {
		f.point = b.point
	}
	if !ok || bits(f.exact) > maxBits {
		p.disproportion()
	}
	return f
}

func (p *parser) power(depth int) factor {
	var v factor
	switch {
	case p.err != nil:
		return v
	case p.i >= len(p.s):
		p.fail(len(p.s), len(p.s), "the unit "+p.s+" ends too early", "")
		return v
	case p.take("("):
		p.out.WriteByte('(')
		v = p.product(depth + 1)
		if p.err == nil && !p.take(")") {
			if p.i < len(p.s) {
				p.unexpected()
			} else {
				p.fail(p.i, p.i, "a bracket is not closed in the unit "+p.s, "")
			}
		}
		p.out.WriteByte(')')
		v.alone = false
	default:
		v = p.atom()
	}
	if num, den := p.exponent(); p.err == nil && (num != 1 || den != 1) {
		p.out.WriteString(power(num, den))
		v = p.raise(v, num, den)
		v.alone = false
	}
	return v
}

// inSymbol reports whether a character can stand in a unit's symbol.
func inSymbol(r rune) bool {
	return unicode.IsLetter(r) || r == '°' || r == '%' || r == '_' || r == '\u2103' || r == '\u2109'
}

func (p *parser) atom() factor {
	start := p.i
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		if !inSymbol(r) {
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
		p.fail(start, p.i, "unknown unit "+sym, hintFor(sym))
		return factor{}
	}
	p.out.WriteString(a.unit.Symbol)
	f := factor{dim: a.row.dim, exact: a.exact, pi: a.row.pi, loose: 1, alone: true, terms: []term{{a, 1, 1}}}
	if a.unit.Point {
		f.point, p.pointStart, p.pointEnd = a, start, p.i
	}
	return f
}

// exponent reads ^2, ^-1, ^(1/2) or raised digits; 1 if there is none.
func (p *parser) exponent() (num, den int) {
	start := p.i
	num, den = 1, 1
	ok := true
	if p.take("^") {
		switch {
		case p.take("("):
			num, ok = p.integer()
			if ok && p.take("/") {
				den, ok = p.integer()
				ok = ok && den > 0
			}
			ok = p.take(")") && ok
		default:
			num, ok = p.integer()
		}
	} else if text := p.raised(); text != "" {
		var err error
		num, err = strconv.Atoi(text)
		ok = err == nil
	}
	if !ok {
		p.fail(start, p.i, "an exponent is a whole number or a fraction", hintPower)
		return 1, 1
	}
	if num == 0 {
		p.fail(start, p.i, "an exponent is not zero", hintPower)
		return 1, 1
	}
	g := gcd(num, den)
	return num / g, den / g
}

func (p *parser) integer() (int, bool) {
	start := p.i
	if !p.take("-") {
		p.take("+")
	}
	for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
		p.i++
	}
	n, err := strconv.Atoi(p.s[start:p.i])
	if p.take(".") { // m^0.5 is no m^0
		for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
			p.i++
		}
		return 0, false
	}
	return n, err == nil
}

var raisedDigits = map[rune]byte{'⁻': '-', '⁰': '0', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9'}

func (p *parser) raised() string {
	var b []byte
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		c := raisedDigits[r]
		if c == 0 {
			break
		}
		b = append(b, c)
		p.i += n
	}
	return string(b)
}

func (p *parser) raise(v factor, num, den int) factor {
	if p.err != nil || num == 1 && den == 1 {
		return v
	}
	d, ok := v.dim.Pow(num, den)
	n := max(num, -num)
	if !ok || n > maxPower || den > maxPower || bits(v.exact)*n > maxBits {
		p.disproportion()
		return v
	}
	f := factor{dim: d, point: v.point, loose: 1}
	if den == 1 {
		f.exact, f.pi = ratPow(v.exact, num), v.pi*num
		f.loose = math.Pow(v.loose, float64(num))
	} else {
		f.exact = big.NewRat(1, 1)
		f.loose = math.Pow(v.float(), float64(num)/float64(den))
	}
	for _, t := range v.terms {
		f.terms = append(f.terms, t.pow(num, den))
	}
	return f
}

func bits(x *big.Rat) int { return max(x.Num().BitLen(), x.Denom().BitLen()) }

// isOne is asked because most factors are 1, and exact arithmetic is slow.
func isOne(x *big.Rat) bool { return x.IsInt() && x.Num().IsInt64() && x.Num().Int64() == 1 }

func ratMul(x, y *big.Rat) *big.Rat {
	switch {
	case isOne(y):
		return x
	case isOne(x):
		return y
	}
	return new(big.Rat).Mul(x, y)
}

func ratPow(x *big.Rat, n int) *big.Rat {
	if isOne(x) {
		return x
	}
	e := big.NewInt(int64(max(n, -n)))
	num, den := new(big.Int).Exp(x.Num(), e, nil), new(big.Int).Exp(x.Denom(), e, nil)
	if n < 0 {
		num, den = den, num
	}
	return new(big.Rat).SetFrac(num, den)
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}
