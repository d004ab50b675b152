package syntax

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A scanner cuts a text into tokens. Tokens do not overlap, come in order, and
// leave out nothing but white space; the last one is tEOF.
type scanner struct {
	text  string
	i     int
	toks  []token
	marks []mark
	quote string // what encloses a text: `"`, or `\"` within a message
}

// A mark is something wrong inside a comment or text, which the parser never
// looks into.
type mark struct {
	start, end int
	code       string
}

// scan returns the tokens of text[from:to]; offsets count from the start of text.
func scan(text string, from, to int, quote string) ([]token, []mark) {
	s := &scanner{text: text[:to], i: from, quote: quote}
	s.toks = make([]token, 0, (to-from)/4+8)
	if from == 0 {
		s.i += len(text) - len(strings.TrimPrefix(text, "\ufeff")) // a byte order mark
	}
	for s.next() {
	}
	return s.toks, s.marks
}

func (s *scanner) emit(k kind, end int) {
	s.toks = append(s.toks, token{kind: k, start: int32(s.i), end: int32(end)})
	s.i = end
}

// at returns the byte at offset i, or 0 behind the end.
func (s *scanner) at(i int) byte {
	if i < len(s.text) {
		return s.text[i]
	}
	return 0
}

// next scans one token (a number with its unit being two) and reports whether
// there may be more.
func (s *scanner) next() bool {
	s.i = s.skipSpace(s.i)
	if s.i >= len(s.text) {
		s.emit(tEOF, len(s.text))
		return false
	}
	c := s.text[s.i]
	if strings.HasPrefix(s.text[s.i:], s.quote) {
		s.scanString()
		return true
	}
	switch {
	case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_':
		s.scanName()
	case c >= '0' && c <= '9':
		s.scanNumber()
	case c == '\n':
		s.emit(tNewline, s.i+1)
	case c == '#':
		s.scanComment()
	case c >= utf8.RuneSelf:
		s.scanRune()
	default:
		s.scanMark(c)
	}
	return true
}

// skipSpace returns the offset of the first character from i on that is no
// white space within a line. The spaces that word processors put between a
// number and its unit count as well.
func (s *scanner) skipSpace(i int) int {
	for i < len(s.text) {
		switch c := s.text[i]; {
		case c == ' ' || c == '\t':
			i++
		case c == '\r' && (i+1 == len(s.text) || s.text[i+1] == '\n'):
			i++
		case c == 0xc2 && s.at(i+1) == 0xa0: // U+00A0 no-break space
			i += 2
		case c == 0xe2 && s.at(i+1) == 0x80 && (s.at(i+2) == 0xaf || s.at(i+2) == 0x89): // U+202F, U+2009 narrow spaces
			i += 3
		default:
			return i
		}
	}
	return i
}

// nameEnd returns the end of the letters, digits and underscores from i on.
func (s *scanner) nameEnd(i int) int {
	for i < len(s.text) {
		c := s.text[i]
		if c < utf8.RuneSelf {
			if !isNameByte(c) {
				return i
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s.text[i:])
		if !unicode.IsLetter(r) {
			return i
		}
		i += n
	}
	return i
}

func isNameByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func (s *scanner) scanName() {
	end := s.nameEnd(s.i)
	k := word(s.text[s.i:end])
	s.emit(k, end)
	if k == tIn || k == tPer {
		s.scanUnit(true)
	}
}

// scanNumber scans digits, and the unit behind them if there is one.
func (s *scanner) scanNumber() {
	i := s.digits(s.i)
	bad := false
	if s.at(i) == '.' {
		j := s.digits(i + 1)
		bad = j == i+1
		i = j
	}
	if c := s.at(i); c == 'e' || c == 'E' {
		j := i + 1
		switch {
		case s.at(j) == '+' || s.at(j) == '-':
			j++
		case strings.HasPrefix(s.text[j:], "−"):
			j += len("−")
		}
		if k := s.digits(j); k > j {
			i = k
		}
	}
	// What goes on like a number belongs to the same mistake: 1_000, 1.2.3.
	for s.at(i) == '_' || s.at(i) == '.' && isDigit(s.at(i+1)) {
		bad = true
		i = s.digits(i + 1)
	}
	if bad {
		s.emit(tBad, i)
		return
	}
	s.emit(tNumber, i)
	s.scanUnit(false)
}

func (s *scanner) digits(i int) int {
	for isDigit(s.at(i)) {
		i++
	}
	return i
}

// scanString scans a text; it ends on its line.
func (s *scanner) scanString() {
	i := s.i + len(s.quote)
	for i < len(s.text) && s.text[i] != '\n' {
		if strings.HasPrefix(s.text[i:], s.quote) {
			end := i + len(s.quote)
			s.inspect(s.i, end)
			s.emit(tString, end)
			return
		}
		if s.text[i] == '\\' && i+1 < len(s.text) && s.text[i+1] != '\n' {
			i++
		}
		i++
	}
	s.emit(tOpen, len(strings.TrimRight(s.text[:i], "\r")))
}

func (s *scanner) scanComment() {
	end := s.i + strings.IndexByte(s.text[s.i:], '\n')
	if end < s.i {
		end = len(s.text)
	}
	for end > s.i && s.text[end-1] == '\r' {
		end--
	}
	s.inspect(s.i, end)
	s.emit(tComment, end)
}

// inspect looks for what must not stand even in a comment or text, and marks
// the first of it.
func (s *scanner) inspect(from, to int) {
	if len(s.marks) > maxErrors {
		return // no more are shown
	}
	for i := from; i < to; {
		c := s.text[i]
		if c >= ' ' && c < 0x7f || c == '\t' {
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s.text[i:to])
		if r == utf8.RuneError && n == 1 {
			s.marks = append(s.marks, mark{i, i + n, CodeInvalidUTF8})
			return
		}
		if hidden(r) {
			s.marks = append(s.marks, mark{i, i + n, CodeHiddenCharacter})
			return
		}
		i += n
	}
}

// hidden reports whether a character is not seen although it may change what
// is seen: controls, marks of writing direction, spaces of no width.
func hidden(r rune) bool {
	switch {
	case r < ' ' && r != '\t' && r != '\n', r >= 0x7f && r < 0xa0:
		return true
	case r >= 0x200b && r <= 0x200f, r >= 0x202a && r <= 0x202e, r >= 0x2060 && r <= 0x206f:
		return r != 0x200c && r != 0x200d // the joiners are part of some scripts
	case r == 0x2028, r == 0x2029, r == 0xfeff, r == 0x061c, r == 0x00ad:
		return true
	}
	return false
}

// scanRune scans what starts with a character beyond ASCII.
func (s *scanner) scanRune() {
	r, n := utf8.DecodeRuneInString(s.text[s.i:])
	k := tBad
	switch r {
	case '·', '⋅', '×':
		k = tMul
	case '−':
		k = tMinus
	case '≤':
		k = tLE
	case '≥':
		k = tGE
	case '≠':
		k = tNE
	case '±':
		k = tPlusMinus
	case '²':
		k = tSquare
	case '³':
		k = tCube
	default:
		if unicode.IsLetter(r) {
			s.scanName()
			return
		}
	}
	s.emit(k, s.i+n)
}

// twoMarks are the pairs of ASCII marks that are one token. Those that are
// tBad have no meaning here but have one elsewhere, so their explanation does
// better than that of their first character.
var twoMarks = map[string]kind{
	"<=": tLE, ">=": tGE, "==": tEQ, "!=": tNE,
	"=<": tBad, "=>": tBad, "<>": tBad, ":=": tBad, "+=": tBad, "-=": tBad, "*=": tBad, "/=": tBad,
	"**": tBad, "//": tBad, "/*": tBad, "&&": tBad, "||": tBad, "+-": tBad, "->": tBad, "..": tBad,
}

// scanMark scans a token made of ASCII marks.
func (s *scanner) scanMark(c byte) {
	if strings.HasPrefix(s.text[s.i:], "+/-") {
		s.emit(tPlusMinus, s.i+3)
		return
	}
	switch s.at(s.i + 1) { // second characters of twoMarks
	case '=', '>', '<', '*', '/', '&', '|', '-', '.':
		if k, ok := twoMarks[s.text[s.i:s.i+2]]; ok {
			s.emit(k, s.i+2)
			return
		}
	}
	k := tBad
	n := 1
	switch c {
	case '+':
		k = tPlus
	case '-':
		k = tMinus
	case '*':
		k = tMul
	case '/':
		k = tDiv
	case '^':
		k = tPow
	case '<':
		k = tLT
	case '>':
		k = tGT
	case '=':
		k = tAssign
	case '(':
		k = tLParen
	case ')':
		k = tRParen
	case '[':
		k = tLBracket
	case ']':
		k = tRBracket
	case ',':
		k = tComma
	case ':':
		k = tColon
	case '.':
		k = tDot
		if isDigit(s.at(s.i + 1)) {
			var prev token
			if len(s.toks) > 0 {
				prev = s.toks[len(s.toks)-1]
			}
			if !prev.kind.endsValue() || int(prev.end) < s.i { // a number without its leading zero
				k, n = tBad, s.digits(s.i+1)-s.i
			}
		}
	}
	s.emit(k, s.i+n)
}
