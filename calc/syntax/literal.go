package syntax

import (
	"errors"
	"strconv"
	"strings"

	"workings/calc/unit"
)

// fold gives names that look the same one spelling: the micro sign, the ohm
// sign, the kelvin sign and the angstrom sign are also letters.
func fold(name string) string {
	for i := 0; i < len(name); i++ {
		if name[i] >= 0x80 {
			return foldSigns.Replace(name)
		}
	}
	return name
}

var foldSigns = strings.NewReplacer("\u00b5", "\u03bc", "\u2126", "\u03a9", "\u212a", "K", "\u212b", "\u00c5")

// digitsOf returns the digits of a number token, with an ASCII minus in the exponent.
func (p *parser) digitsOf(t token) string {
	s := p.text(t)
	if strings.Contains(s, "−") {
		s = strings.Replace(s, "−", "-", 1)
	}
	return s
}

// value returns the value of the digits of a number token.
func (p *parser) value(t token, digits string) float64 {
	v, err := strconv.ParseFloat(digits, 64)
	const smallest = 0x1p-1022 // below it digits are lost
	switch {
	case errors.Is(err, strconv.ErrRange):
		p.report(p.span(t), CodeNumberRange, "%s is too large", digits).
			Hint = "the largest number is about 1.8e308"
		return 1
	case err != nil:
		p.report(p.span(t), CodeBadNumber, "%s is no number", digits)
		return 1
	case v < smallest && strings.Trim(mantissa(digits), "0.") != "":
		p.report(p.span(t), CodeNumberRange, "%s is too close to zero", digits).
			Hint = "the smallest number kept in full is about 2.2e-308"
		return 1
	}
	return v
}

func mantissa(digits string) string {
	if i := strings.IndexAny(digits, "eE"); i >= 0 {
		return digits[:i]
	}
	return digits
}

// unquote returns the value of a text token. A wrong escape is reported.
func (p *parser) unquote(t token) string {
	from, to := int(t.start)+len(p.quote), int(t.end)-len(p.quote)
	s := p.src.text[from:to]
	if strings.IndexByte(s, '\\') < 0 {
		return strings.ToValidUTF8(s, "\ufffd")
	}
	return p.unescape(from, to)
}

// unescape returns text[from:to] with its escapes resolved.
func (p *parser) unescape(from, to int) string {
	var b strings.Builder
	for i := from; i < to; i++ {
		c := p.src.text[i]
		if c != '\\' {
			b.WriteByte(c)
			continue
		}
		i++
		switch {
		case i < to && (p.src.text[i] == '"' || p.src.text[i] == '\\'):
			b.WriteByte(p.src.text[i])
		case i < to && p.src.text[i] == 'n':
			b.WriteByte('\n')
		default:
			p.badEscape(i-1, to)
		}
	}
	return strings.ToValidUTF8(b.String(), "\ufffd")
}

// unitCache remembers the units of one parse by their text.
type unitCache struct{ known map[string]unit.Unit }

// none is the unit of a plain number.
func (c *unitCache) none() unit.Unit { return unit.Unit{Factor: 1} }

func (c *unitCache) parse(s string) (unit.Unit, error) {
	if u, ok := c.known[s]; ok {
		return u, nil
	}
	u, err := unit.Parse(s)
	if err != nil {
		return c.none(), err
	}
	if c.known == nil {
		c.known = map[string]unit.Unit{}
	}
	c.known[s] = u
	return u, nil
}

// takeUnit parses a unit token; prev is the number or word before it.
func (p *parser) takeUnit(prev token) (unit.Unit, bool) {
	t := p.tok
	s := p.text(t)
	if len(s) > maxUnit {
		p.report(p.span(t), CodeBadUnit, "the unit has %d bytes, at most %d are read", len(s), maxUnit).
			Hint = "for a product put spaces around *"
		p.next()
		return p.units.none(), false
	}
	u, err := p.units.parse(s)
	if err != nil {
		p.badUnit(prev, t, err)
		p.next()
		return u, false
	}
	p.next()
	return u, true
}

// isLiteral reports whether an expression is a number, with or without a sign.
func isLiteral(x Expr) bool {
	_, ok := literalNumber(x)
	return ok
}

func literalNumber(x Expr) (*Number, bool) {
	if u, ok := x.(*Unary); ok && (u.Op == OpNeg || u.Op == OpPos) {
		x = u.X
	}
	n, ok := x.(*Number)
	return n, ok
}
