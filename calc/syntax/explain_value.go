package syntax

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"workings/calc/diag"
	"workings/calc/unit"
)

// badSigns explains signs of other languages and of word processors.
var badSigns = map[string]string{
	"**": "a power is written ^",
	"=<": "write <=",
	"=>": "write >=",
	"<>": "write !=",
	":=": "write =",
	"+=": "a name is defined once; use a new name for the sum",
	"-=": "a name is defined once; use a new name for the difference",
	"*=": "a name is defined once; use a new name for the product",
	"/=": "a name is defined once; use a new name for the quotient",
	"//": "a comment starts with #",
	"/*": "a comment starts with # and ends with its line",
	"&&": "write and",
	"||": "write or",
	"&":  "write and",
	"|":  "write or",
	"!":  "write not, or != for unequal",
	"+-": "a tolerance is written ± or +/-; a sum of a negative number a + -b, with a space",
	"->": "write if … then … else …",
	"..": "a range is written low to high",
	";":  "put each definition on a line of its own, and commas between arguments",
	"{":  "inline figures, {= … }, stand in pages and messages; here write the name alone",
	"}":  "inline figures, {= … }, stand in pages and messages; here write the name alone",
	"'":  `a text stands in double quotes: "…"`,
	"`":  `a text stands in double quotes: "…"`,
	"“":  `a text stands in straight quotes: "…"`,
	"”":  `a text stands in straight quotes: "…"`,
	"„":  `a text stands in straight quotes: "…"`,
	"‘":  `a text stands in straight quotes: "…"`,
	"’":  `a text stands in straight quotes: "…"`,
	"«":  `a text stands in straight quotes: "…"`,
	"»":  `a text stands in straight quotes: "…"`,
	"–":  "this is a dash; a minus is written -",
	"—":  "this is a dash; a minus is written -",
	"‐":  "this is a hyphen of print; a minus is written -",
	"‑":  "this is a hyphen of print; a minus is written -",
	"÷":  "write /",
	"∕":  "write /",
	"⁄":  "write /",
	"∗":  "write *",
	"•":  "write *",
	"∙":  "write *",
	"√":  "write sqrt(…)",
	"≈":  "a cross-check states that two figures are about equal: crosscheck name: … within 5 %",
	"%":  "percent stands behind a number: 5 %",
	"°":  "a unit stands behind its number: 30 °, 20 °C",
	"$":  "a currency is a unit by its three letters: 5 USD",
	"?":  "write if … then … else …",
	"@":  "",
	"\\": "a line goes on by itself where it ends with an operator or within brackets",
	"~":  "",
	"¹":  "a power is written ^1",
	"⁴":  "a power is written ^4",
	"⁻":  "a power is written ^-1",
	"½":  "write 0.5",
	"¼":  "write 0.25",
	"¾":  "write 0.75",
	"∞":  "there is no infinite number",
	"…":  "",
	"，":  "write a plain comma",
	"（":  "write plain brackets",
	"）":  "write plain brackets",
}

// explainBad reports a token that has no meaning.
func (p *parser) explainBad(t token) {
	if p.bad {
		return
	}
	s := p.text(t)
	span := p.span(t)
	if c := s[0]; isDigit(c) || c == '.' && len(s) > 1 && isDigit(s[1]) {
		p.badNumber(s, span)
		return
	}
	r, n := utf8.DecodeRuneInString(s)
	switch {
	case r == utf8.RuneError && n == 1:
		p.fail(span, CodeInvalidUTF8, "found the byte %02x, which is no UTF-8 text", s[0]).
			Hint = "save the file as UTF-8"
		return
	case hidden(r) || unicode.IsControl(r):
		p.fail(span, CodeHiddenCharacter, "found the hidden character U+%04X", r).
			Hint = "take it out: it cannot be seen"
		return
	}
	d := p.fail(span, CodeBadCharacter, "found %s, which has no meaning here", s)
	if hint, ok := badSigns[s]; ok {
		d.Hint = hint
	} else if unicode.IsMark(r) {
		d.Msg = fmt.Sprintf("found the combining accent U+%04X", r)
		d.Hint = "write the letter with its accent as one character, or without it"
	} else if unicode.IsSpace(r) {
		d.Msg = fmt.Sprintf("found the space U+%04X", r)
		d.Hint = "write a plain space"
	} else if unicode.IsDigit(r) || unicode.Is(unicode.No, r) {
		d.Hint = "write it with plain digits: x_1 for an index, x^4 for a power"
	}
}

// badNumber reports a number in a form that is not read.
func (p *parser) badNumber(s string, span diag.Span) {
	d := p.fail(span, CodeBadNumber, "%s is no number", s)
	plain := strings.ReplaceAll(s, "_", "")
	switch {
	case strings.HasPrefix(s, "."):
		d.Msg = "the number " + s + " has no digit before its point"
		d.Hint = "write 0" + s
	case strings.HasSuffix(s, ".") && strings.Count(s, ".") == 1:
		d.Msg = "the number " + s + " has no digit behind its point"
		d.Hint = "write " + strings.TrimSuffix(plain, ".") + " or " + plain + "0"
	case strings.Contains(s, "..") || strings.Count(s, ".") > 1:
		d.Msg = "the number " + s + " has more than one point"
		if a, b, ok := strings.Cut(s, ".."); ok && b != "" {
			d.Hint = "a range is written " + a + " to " + b
		} else {
			d.Hint = "digits are not grouped, and one point stands before the decimals"
		}
	default:
		d.Msg = "the number " + s + " has an underscore in it"
		d.Hint = "write " + plain + ": digits are not grouped"
	}
}

// explainMark reports what is wrong inside a comment or text.
func (p *parser) explainMark(m mark) {
	span := p.src.span(m.start, m.end)
	if m.code == CodeInvalidUTF8 {
		p.list.Add(span, m.code, "found the byte %02x, which is no UTF-8 text", p.src.text[m.start]).
			Hint = "save the file as UTF-8"
		return
	}
	r, _ := utf8.DecodeRuneInString(p.src.text[m.start:])
	p.list.Add(span, m.code, "found the hidden character U+%04X", r).
		Hint = "take it out: it cannot be seen"
}

// openText reports a text without its closing quote.
func (p *parser) openText(t token) {
	d := p.fail(p.src.span(int(t.start), int(t.start)+len(p.quote)), CodeOpenText, "the text is not closed on its line")
	d.Hint = `add " at its end; a line break within a text is written \n`
	if strings.HasSuffix(p.text(t), `\"`) && p.quote == `"` {
		d.Hint = `its last quote has a backslash before it, so it belongs to the text: add "`
	}
}

// badEscape reports a backslash at offset i that has no meaning.
func (p *parser) badEscape(i, to int) {
	end := min(i+2, to)
	for end < to && !utf8.RuneStart(p.src.text[end]) {
		end++
	}
	p.report(p.src.span(i, end), CodeBadEscape, "found %s in a text", strings.ToValidUTF8(p.src.text[i:end], "\ufffd")).
		Hint = `write \\ for a backslash, \" for a quote, \n for a line break`
}

// badUnit reports a unit text that is none; prev is the number or word before it.
func (p *parser) badUnit(prev, t token, err error) {
	s := p.text(t)
	span := p.span(t)
	msg, hint, at := err.Error(), "", 0
	var e *unit.ParseError
	if errors.As(err, &e) {
		msg, hint = e.Msg, e.Hint
		if from, to := max(e.Start, 0), min(e.End, len(s)); from < to {
			span = p.src.span(int(t.start)+from, int(t.start)+to)
			at = from
		}
	}
	// What looks like a unit may have been meant as a name.
	var product string
	n := p.toks[p.i+1]
	glued := (n.kind == tLParen || n.kind == tDot) && n.start == t.end
	more := ""
	if glued && n.kind == tLParen {
		more = "(…)"
	} else if glued {
		more = ".…"
	}
	name := prev.kind == tNumber && (s[at] == '_' || unicode.IsLetter(firstRune(s[at:])))
	switch {
	case !name:
	case at == 0:
		product = "for a product write " + p.text(prev) + " * " + s + more
	case strings.ContainsAny(s[at-1:at], "*/("):
		i := strings.LastIndexAny(s[:at], "*/")
		if i > 0 {
			product = fmt.Sprintf("a unit has no spaces inside; for a product write %s %s %c %s%s", p.text(prev), s[:i], s[i], s[i+1:], more)
		}
	}
	if hint == "" {
		if near := diag.Nearest(span.Text(), workshopUnits); near != "" {
			hint = "did you mean " + near + "?"
		}
	}
	d := p.report(span, CodeBadUnit, "%s", msg)
	switch {
	case hint == "":
		d.Hint = product
	case product == "":
		d.Hint = hint
	default:
		d.Hint = hint + "; " + product
	}
	// A bracket or point shows that it was a name; what follows would only be
	// reported a second time.
	if product != "" && glued {
		p.giveUp()
	}
}

// workshopUnits are those that a misspelt unit is most likely meant to be.
var workshopUnits = []string{
	"mm", "cm", "um", "in", "mm^2", "mm^3", "mL", "kg", "kN", "N*m", "N/mm", "Pa", "kPa", "MPa", "GPa", "bar",
	"kW", "mW", "kJ", "kWh", "kV", "mV", "mA", "Hz", "kHz", "rpm", "turn", "deg", "rad", "min", "ms", "ohm", "EUR", "USD",
	"mm/s", "m/s", "m/s^2", "kg/m^3", "g/cm^3", "W/(m*K)", "J/(kg*K)", "kJ/(kg*K)",
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// noUnit reports what stands behind `in` or `per` where a unit is wanted.
func (p *parser) noUnit(t token) {
	if p.bad || p.tok.kind == tBad || p.tok.kind == tOpen {
		p.unexpected("a unit")
		return
	}
	w := p.text(t)
	hint := "write a unit such as mm, N*m or kJ/(kg*K)"
	if p.tok.kind == tNumber {
		hint = "write the unit alone: " + w + " mm"
		if s := p.toks[p.after(p.after(p.i))]; p.peek().kind == tDiv && s.kind == tName {
			hint = "write " + w + " " + p.text(s) + "^-1"
		}
	} else if p.toks[p.i-1].kind == tSoft {
		hint = "the unit stands on the same line as " + w
	}
	p.fail(p.place(), CodeNoUnit, "found %s behind %s, want a unit", p.describe(p.tok), w).Hint = hint
}

// chained reports `a < b < c`; x is its first comparison.
func (p *parser) chained(x *Binary) {
	second := p.tok
	p.next()
	from := p.tok.start
	p.parseConvert()
	if p.bad {
		return
	}
	z := p.since(from).Text()
	left, mid := x.X.Span().Text(), x.Y.Span().Text()
	d := p.fail(p.span(second), CodeChained, "found %s behind a comparison, want and, or, or the end", p.text(second))
	d.Hint = fmt.Sprintf("write %s %s %s and %s %s %s", left, x.OpPos.Text(), mid, mid, p.text(second), z)
	if len(d.Hint) > 120 || strings.Contains(d.Hint, "\n") {
		d.Hint = "write a < b and b < c"
	}
}

// afterConversion reports an operator behind `x in unit`.
func (p *parser) afterConversion(c *Convert) {
	if p.tok.kind == tIn {
		p.fail(p.span(p.tok), CodeConversion, "found a second in: the value is already converted").
			Hint = "keep the last one"
		return
	}
	hint := "(" + c.Pos.Text() + ") " + p.text(p.tok) + " …"
	if len(hint) > 80 || strings.Contains(hint, "\n") {
		hint = "(x in mm) " + p.text(p.tok) + " …"
	}
	p.fail(p.span(p.tok), CodeConversion, "found %s behind a conversion, which takes all that stands before it", p.text(p.tok)).
		Hint = "put the conversion at the end, or in brackets: " + hint
}

// powerOfUnit reports `5 mm ^ 2`.
func (p *parser) powerOfUnit(n *Number) {
	p.fail(p.span(p.tok), CodePowerOfUnit, "found ^ behind a number with a unit: it could raise the unit or the quantity").
		Hint = fmt.Sprintf("write %s %s^… for the unit, (%s %s)^… for the quantity", n.Text, n.Unit.Symbol, n.Text, n.Unit.Symbol)
}

// checkFraction reports `1/2 mm`, which people read as half a millimetre.
func (p *parser) checkFraction(x Expr) {
	n, ok := x.(*Number)
	t := p.tok
	if p.bad || !ok || p.prev.kind != tNumber || p.prev.end != t.start || p.i+2 >= len(p.toks) {
		return
	}
	d, u := p.toks[p.i+1], p.toks[p.i+2]
	if d.kind != tNumber || d.start != t.end || u.kind != tUnit || p.text(u) == "%" {
		return
	}
	down, sym := p.text(d), p.text(u)
	half := fmt.Sprintf("(%s/%s) * 1", n.Text, down)
	if v, err := strconv.ParseFloat(down, 64); err == nil && v != 0 {
		if s := strconv.FormatFloat(n.V/v, 'f', -1, 64); len(s) <= 6 {
			half = s
		}
	}
	p.fail(p.src.span(int(p.prev.start), int(u.end)), CodeFractionUnit, "in %s/%s %s the unit belongs to %s alone", n.Text, down, sym, down).
		Hint = fmt.Sprintf("write %s %s, or %s / (%s %s)", half, sym, n.Text, down, sym)
}

// spreadOfFormula reports a spread behind something else than a number.
func (p *parser) spreadOfFormula(t token) {
	what := map[kind]string{tUncertain: "an uncertainty", tTo: "a range"}[t.kind]
	if what == "" {
		what = "a tolerance"
	}
	hint := "define the number on a line of its own, with " + what + ", and use its name here"
	switch t.kind {
	case tPlus, tMinus:
		hint += "; for a sum put spaces behind the signs"
	case tTo:
		n := p.peek()
		s := p.toks[p.after(p.after(p.i))]
		if n.kind == tNumber && s.kind == tName && (p.text(s) == "sf" || p.text(s) == "dp") {
			p.fail(p.src.span(int(t.start), int(s.end)), CodeRounding, "found a rounding on a sheet").
				Hint = "nothing is rounded before it is shown: write it in the inline figure, {= … to " + p.text(n) + " " + p.text(s) + "}"
			return
		}
	}
	p.fail(p.span(t), CodeSpreadOfFormula, "found %s behind a formula, want it behind a number", what).Hint = hint
}

// wantLiteral reports what stands in the place of a number of a spread.
func (p *parser) wantLiteral(where string, sign bool) {
	t := p.tok
	if t.kind == tBad || t.kind == tOpen {
		p.unexpected("a number")
		return
	}
	hint := "a spread is stated with plain numbers"
	switch {
	case !sign && (t.kind == tMinus || t.kind == tPlus):
		hint = "write it without a sign"
	case t.kind == tAssign && p.prev.kind == tName:
		hint = "write " + p.text(p.prev) + " and the number, without ="
	}
	p.fail(p.place(), CodeSpreadValue, "found %s %s, want a number", p.describe(t), where).Hint = hint
}

// badDeviation reports signed numbers that are no tolerance. Reading them as
// a sum in silence would give a wrong size.
func (p *parser) badDeviation(start token, n int, slash bool) {
	if p.bad {
		return
	}
	second := p.tok
	for !p.bad && (p.tok.kind == tPlus || p.tok.kind == tMinus || p.tok.kind == tDiv) {
		p.next()
		if p.tok.kind == tNumber {
			p.parseNumber()
		}
	}
	span := p.src.span(int(start.start), int(p.prev.end))
	switch {
	case slash:
		p.fail(span, CodeDeviation, "found deviations with / between them, want a space").
			Hint = "write +… -…, the upper deviation first"
	case n == 1:
		sign := p.text(start)
		p.fail(span, CodeDeviation, "%s behind a value reads like one half of a tolerance", span.Text()).
			Hint = fmt.Sprintf("for a tolerance give both deviations, +… -…; for a sum put a space behind the sign: %s %s", sign, strings.TrimPrefix(span.Text(), sign))
	case n == 2 && start.kind == tMinus && second.kind == tPlus:
		p.fail(span, CodeDeviation, "the lower deviation stands before the upper one").
			Hint = "write the upper deviation first: +… -…"
	case n == 2:
		p.fail(span, CodeDeviation, "both deviations are on the same side of the value").
			Hint = "state the tolerance about a value within it: +… -…; for a sum put spaces behind the signs"
	default:
		p.fail(span, CodeDeviation, "found %d deviations, want two", n).
			Hint = "write +… -…; for a sum put spaces behind the signs"
	}
}

// badShape reports a word behind an uncertainty that is none of its own.
func (p *parser) badShape(t token) {
	w := p.text(t)
	words := []string{"k", "dof", "normal", "rectangular", "triangular", "arcsine"}
	d := p.fail(p.span(t), CodeBadShape, "found the name %s behind an uncertainty, want k, dof or a distribution", w)
	d.Hint = "the distributions are normal, rectangular, triangular and arcsine"
	if n := diag.Nearest(w, words); n != "" {
		d.Hint = "did you mean " + n + "?"
	}
}

// badRounding reports what is wrong with a rounding.
func (p *parser) badRounding(want string) {
	if p.bad || p.tok.kind == tBad || p.tok.kind == tOpen {
		p.unexpected("a rounding")
		return
	}
	p.fail(p.place(), CodeRounding, "found %s, %s", p.describe(p.tok), want).
		Hint = "write to 2 sf, to 1 dp, up to 5 mm or down to 5 mm"
}
