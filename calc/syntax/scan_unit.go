package syntax

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxUnit is the longest unit text, in bytes. It bounds the work and the
// nesting of brackets that the unit parser can meet.
const maxUnit = 200

// scanUnit scans the unit text that may follow a number, or must follow `in`
// and `per`. Spaces may stand before it but not inside it.
func (s *scanner) scanUnit(must bool) {
	i := s.skipSpace(s.i)
	if end := s.unitEnd(i, must); end > i {
		s.i = i
		s.emit(tUnit, end)
	}
}

// unitEnd returns the end of the unit text that starts at i, or i if none
// does. A unit text is made of symbols with exponents, joined by * or /
// without spaces, with brackets in balance. A * or / that nothing like a unit
// follows is not part of it: `5 mm*2` is a product.
//
// A symbol that is a word of the language is no unit. `in` is the inch unless
// a unit follows it: `5 in` and `5 in in mm`, but `5 in mm`.
func (s *scanner) unitEnd(i int, must bool) int {
	end := i
	depth := 0
	for at := i; ; {
		if depth > 0 || at > i {
			for s.at(at) == '(' {
				depth++
				at++
			}
		}
		sym := s.symbolEnd(at)
		if sym == at {
			return end
		}
		if at == i && !s.isUnitWord(s.text[i:sym], sym, must) {
			return i
		}
		at = s.exponentEnd(sym)
		for depth > 0 && s.at(at) == ')' {
			depth--
			at = s.exponentEnd(at + 1)
		}
		if depth == 0 {
			end = at
		}
		n := s.joiner(at)
		if n == 0 {
			return end
		}
		at += n
	}
}

// joiner returns the length of the sign at i that joins two symbols of a unit.
func (s *scanner) joiner(i int) int {
	switch c := s.at(i); {
	case c == '*' || c == '/':
		return 1
	case c < utf8.RuneSelf:
		return 0
	}
	for _, m := range []string{"·", "⋅", "×"} {
		if strings.HasPrefix(s.text[i:], m) {
			return len(m)
		}
	}
	return 0
}

// symbolEnd returns the end of the unit symbol that starts at i, or i.
func (s *scanner) symbolEnd(i int) int {
	first := true
	for i < len(s.text) {
		c := s.text[i]
		if c < utf8.RuneSelf {
			letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '%' || c == '$'
			if !letter && (first || !isDigit(c) && c != '_' && c != '\'') {
				return i
			}
			i++
		} else {
			r, n := utf8.DecodeRuneInString(s.text[i:])
			if !unicode.IsLetter(r) && !strings.ContainsRune("°‰℃℉", r) && !unicode.Is(unicode.Sc, r) {
				return i
			}
			i += n
		}
		first = false
	}
	return i
}

// exponentEnd returns the end of the exponent that starts at i, or i:
// `^2`, `^-1`, `^0.5`, `^(1/2)`, `²`, `⁻¹`.
func (s *scanner) exponentEnd(i int) int {
	if s.at(i) != '^' {
		for i < len(s.text) && s.text[i] >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(s.text[i:])
			if !strings.ContainsRune("⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹", r) {
				break
			}
			i += n
		}
		return i
	}
	j := s.sign(i + 1)
	if s.at(j) == '(' {
		j = s.sign(j + 1)
		k := j
		for isDigit(s.at(k)) || s.at(k) == '/' || s.at(k) == '.' {
			k++
		}
		if k == j || s.at(k) != ')' {
			return i
		}
		return k + 1
	}
	k := s.digits(j)
	if k == j {
		return i
	}
	if s.at(k) == '.' && isDigit(s.at(k+1)) {
		k = s.digits(k + 1)
	}
	return k
}

func (s *scanner) sign(i int) int {
	switch {
	case s.at(i) == '+' || s.at(i) == '-':
		return i + 1
	case i < len(s.text) && strings.HasPrefix(s.text[i:], "−"):
		return i + len("−")
	}
	return i
}

// isUnitWord reports whether the first symbol of a unit text, which ends at
// end, may be one.
func (s *scanner) isUnitWord(sym string, end int, must bool) bool {
	switch {
	case sym == "in":
		if must || s.joiner(end) > 0 || s.exponentEnd(end) > end {
			return true
		}
		next := s.skipSpace(end)
		after := s.text[next:s.symbolEnd(next)]
		return after == "" || word(after) != tName || clauseWord(after) || s.coverage(after, next+len(after))
	case s.coverage(sym, end):
		return must
	case word(sym) != tName:
		return false
	}
	return must || !clauseWord(sym)
}

// coverage reports whether a word is the k of `uncertain 0.2 k 2`.
func (s *scanner) coverage(sym string, end int) bool {
	next := s.skipSpace(end)
	return sym == "k" && next > end && isDigit(s.at(next))
}
