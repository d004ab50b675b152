package mathml

// A node is a piece of a formula as it is set on paper. Both writers, MathML
// and plain text, work from it.
type node struct {
	kind  kind
	text  string // of a leaf; of a name, the plain text in place of its parts
	level level
	kids  []node
}

type kind int

const (
	kindRow    kind = iota // kids side by side
	kindLetter             // a symbol of one letter, sloping
	kindWord               // a name of several letters, or a constant: upright
	kindNumber
	kindText
	kindInfix  // an operator with room on both sides
	kindPrefix // a sign
	kindMark   // a bracket, comma or dot
	kindTimes  // a product without a sign
	kindApply  // between a function and its arguments
	kindFrac   // two kids
	kindSup    // base and exponent
	kindSub    // base and index
	kindSqrt   // one kid
	kindRoot   // radicand and order
	kindFence  // one kid in brackets; text is both brackets, "()"
	kindCases  // pairs of value and condition, each a row of two
	kindArgs   // pairs of argument name and value, each a row of two
	kindQuantity
)

// level is how tightly a piece holds together; a looser one within a tighter
// one needs brackets.
type level int

const (
	levelIf level = iota
	levelOr
	levelAnd
	levelNot
	levelCompare
	levelAdd
	levelMul
	levelSign
	levelFrac
	levelPow
	levelAtom
)

func leaf(k kind, s string) node { return node{kind: k, text: s, level: levelAtom} }

func row(l level, kids ...node) node { return node{kind: kindRow, level: l, kids: kids} }

func infix(s string) node { return leaf(kindInfix, s) }

func mark(s string) node { return leaf(kindMark, s) }

func fence(n node) node {
	return node{kind: kindFence, text: "()", level: levelAtom, kids: []node{n}}
}

// signed reports whether a piece begins with a sign, which must not stand
// behind an operator.
func signed(n node) bool {
	switch n.kind {
	case kindPrefix:
		return true
	case kindRow, kindQuantity:
		return len(n.kids) > 0 && signed(n.kids[0])
	}
	return false
}

// An edge is what a piece begins or ends with, which decides how a product is
// written.
type edge int

const (
	edgeOther edge = iota
	edgeNumber
	edgeQuantity
	edgeLetter
	edgeWord
	edgeFunction
	edgeFence
	edgeFrac
)

func edgeOf(n node, last bool) edge {
	switch n.kind {
	case kindNumber:
		return edgeNumber
	case kindQuantity:
		return edgeQuantity
	case kindLetter:
		return edgeLetter
	case kindWord, kindText, kindCases, kindArgs:
		return edgeWord
	case kindFence:
		if edgeOf(n.kids[0], false) == edgeQuantity {
			return edgeQuantity
		}
		return edgeFence
	case kindSqrt, kindRoot:
		return edgeFence
	case kindFrac:
		return edgeFrac
	case kindSub, kindSup:
		return edgeOf(n.kids[0], last)
	case kindRow:
		if len(n.kids) == 0 {
			return edgeOther
		}
		if !last {
			if len(n.kids) > 1 && n.kids[1].kind == kindApply {
				return edgeFunction
			}
			if len(n.kids) > 1 && n.kids[0].kind == kindPrefix {
				return edgeOf(n.kids[1], false)
			}
			return edgeOf(n.kids[0], false)
		}
		return edgeOf(n.kids[len(n.kids)-1], true)
	}
	return edgeOther
}

// product chooses the sign between two factors: × before and between numbers,
// a dot beside words, and none, but a little room, between symbols.
func product(a, b node) node {
	l, r := edgeOf(a, true), edgeOf(b, false)
	switch {
	case r == edgeNumber, r == edgeQuantity, l == edgeQuantity:
		return infix("×")
	case l == edgeWord, r == edgeWord, l == edgeFrac && r == edgeFrac, l == edgeOther, r == edgeOther:
		return infix("⋅")
	}
	return leaf(kindTimes, "")
}
