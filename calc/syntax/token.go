package syntax

// kind is the kind of a token.
type kind uint8

// The kinds of tokens. White space is no token; a newline is one.
const (
	tEOF     kind = iota
	tNewline      // ends a statement
	tSoft         // a newline that does not
	tComment      // from # to the end of the line
	tBad          // what has no meaning; explained where the parser meets it
	tOpen         // a text without its closing quote
	tNumber       // digits, without the unit
	tUnit         // a unit text, after a number, `in` or `per`
	tString
	tName
	tSquare // ² behind a name or bracket
	tCube   // ³

	tPlus
	tMinus
	tMul
	tDiv
	tPow
	tLT
	tLE
	tGT
	tGE
	tEQ
	tNE
	tPlusMinus

	tAssign
	tLParen
	tRParen
	tLBracket
	tRBracket
	tComma
	tColon
	tDot

	// The reserved words; firstWord and lastWord enclose them.
	tIf
	tThen
	tElse
	tAnd
	tOr
	tNot
	tIn
	tTo
	tPer
	tUncertain
	tWithin
	tFrom
	tBecause
	tAccepted
	tTable
	tTrue
	tFalse
	tLimit
	tCrosscheck
)

const firstWord, lastWord = tIf, tCrosscheck

// kindText is what a person calls a kind of token.
var kindText = [...]string{
	tEOF:       "the end",
	tNewline:   "the end of the line",
	tSoft:      "a new line",
	tComment:   "a comment",
	tBad:       "a character without meaning",
	tOpen:      "a text without its closing quote",
	tNumber:    "a number",
	tUnit:      "a unit",
	tString:    "a text",
	tName:      "a name",
	tSquare:    "²",
	tCube:      "³",
	tPlus:      "+",
	tMinus:     "-",
	tMul:       "*",
	tDiv:       "/",
	tPow:       "^",
	tLT:        "<",
	tLE:        "<=",
	tGT:        ">",
	tGE:        ">=",
	tEQ:        "==",
	tNE:        "!=",
	tPlusMinus: "±",
	tAssign:    "=",
	tLParen:    "(",
	tRParen:    ")",
	tLBracket:  "[",
	tRBracket:  "]",
	tComma:     ",",
	tColon:     ":",
	tDot:       ".",

	tIf: "if", tThen: "then", tElse: "else", tAnd: "and", tOr: "or", tNot: "not",
	tIn: "in", tTo: "to", tPer: "per", tUncertain: "uncertain", tWithin: "within",
	tFrom: "from", tBecause: "because", tAccepted: "accepted", tTable: "table",
	tTrue: "true", tFalse: "false", tLimit: "limit", tCrosscheck: "crosscheck",
}

// word returns the kind of a reserved word, or tName.
func word(s string) kind {
	if len(s) < 2 || len(s) > len("crosscheck") {
		return tName
	}
	switch s { // compiled to a search over length and text
	case "if":
		return tIf
	case "then":
		return tThen
	case "else":
		return tElse
	case "and":
		return tAnd
	case "or":
		return tOr
	case "not":
		return tNot
	case "in":
		return tIn
	case "to":
		return tTo
	case "per":
		return tPer
	case "uncertain":
		return tUncertain
	case "within":
		return tWithin
	case "from":
		return tFrom
	case "because":
		return tBecause
	case "accepted":
		return tAccepted
	case "table":
		return tTable
	case "true":
		return tTrue
	case "false":
		return tFalse
	case "limit":
		return tLimit
	case "crosscheck":
		return tCrosscheck
	}
	return tName
}

// Reserved returns the words that cannot be names, sorted.
func Reserved() []string {
	return []string{"accepted", "and", "because", "crosscheck", "else", "false", "from", "if", "in",
		"limit", "not", "or", "per", "table", "then", "to", "true", "uncertain", "within"}
}

// clauseWord reports whether a word has a meaning behind a value although it
// may be a name elsewhere. None of them is a unit, so a number before one of
// them has no unit.
func clauseWord(s string) bool {
	switch s {
	case "nominal", "dof", "with", "up", "down", "sf", "dp", "rectangular", "triangular", "arcsine", "normal":
		return true
	}
	return false
}

// isBinary reports whether a token can only continue the line it stands on or
// the line before it.
func (k kind) isBinary() bool { return k >= tPlus && k <= tPlusMinus || k == tAnd || k == tOr }

func (k kind) isWord() bool { return k >= firstWord && k <= lastWord }

// endsValue reports whether a value can end with a token of this kind.
func (k kind) endsValue() bool {
	switch k {
	case tNumber, tUnit, tString, tName, tSquare, tCube, tRParen, tRBracket, tTrue, tFalse:
		return true
	}
	return false
}

// startsValue reports whether a value can start with a token of this kind,
// signs apart.
func (k kind) startsValue() bool {
	switch k {
	case tNumber, tString, tName, tLParen, tLBracket, tTrue, tFalse, tTable:
		return true
	}
	return false
}

// A token is a stretch [start, end) of the source text.
type token struct {
	kind       kind
	deviation  bool // set by the parser: the sign of a tolerance, not of a sum
	start, end int32
}
