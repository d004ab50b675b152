package mathml

import "unicode/utf8"

// pieces cuts a line where it may be broken: before comparisons, signs of sums
// and, in long ones, of products and before the dots of names. Each piece but the first begins with its
// sign. Browsers do not break lines within one math element, so each piece
// becomes one.
func pieces(n node) []node {
	parts := cut(n)
	if len(parts) == 1 {
		return parts
	}
	var out []node
	last := 0 // how long the last one is
	for _, p := range parts {
		long := runes(p)
		if k := len(out) - 1; k >= 0 && last+long <= 18 {
			out[k] = row(levelAtom, out[k], p)
			last += long
			continue
		}
		out = append(out, p)
		last = long
	}
	return out
}

func cut(n node) []node {
	if n.kind != kindRow || len(n.kids) < 3 || len(n.kids)%2 == 0 {
		return []node{n}
	}
	switch n.level {
	case levelOr, levelAnd, levelCompare, levelAdd:
	case levelMul:
		if runes(n) <= 22 {
			return []node{n}
		}
	case levelAtom:
		// a name with dots, such as those of a model's results
		if runes(n) <= 18 || n.kids[1].kind != kindMark || n.kids[1].text != "." {
			return []node{n}
		}
	default:
		return []node{n}
	}
	for i := 1; i < len(n.kids); i += 2 {
		if k := n.kids[i].kind; k != kindInfix && k != kindText && (k != kindMark || n.level != levelAtom) {
			return []node{n}
		}
	}
	out := cut(n.kids[0])
	for i := 1; i < len(n.kids); i += 2 {
		next := cut(n.kids[i+1])
		next[0] = row(levelAtom, n.kids[i], next[0])
		out = append(out, next...)
	}
	return out
}

func runes(n node) int { return utf8.RuneCountInString(text(n)) }
