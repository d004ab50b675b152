package mathml

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// greek holds the letters that names spell out. Capitals that look like Latin
// letters are not among them.
var greek = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
	"iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π", "rho": "ρ", "sigma": "σ",
	"tau": "τ", "upsilon": "υ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
	"Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Pi": "Π", "Sigma": "Σ", "Phi": "Φ",
	"Psi": "Ψ", "Omega": "Ω",
}

// states are the words that tell values of one quantity apart. Behind a name
// of several letters they are its index, and so are one or two letters or
// digits; other words go on with the name.
var states = map[string]bool{
	"hot": true, "cold": true, "warm": true, "max": true, "min": true, "mean": true, "low": true, "high": true,
	"total": true, "net": true, "in": true, "out": true, "start": true, "end": true, "top": true, "bottom": true,
	"left": true, "right": true, "front": true, "rear": true, "inner": true, "outer": true, "nominal": true,
	"limit": true, "allowed": true, "free": true, "set": true,
}

// particles are short words that are no index: take_up.
var particles = map[string]bool{"at": true, "by": true, "of": true, "on": true, "or": true, "to": true, "up": true}

// name sets a name. Behind a symbol of one letter, all that follows its first
// underscore, or its digits, is its index: T_hot, d1. Of a name that begins
// with a word only a last part that tells values of one quantity apart is:
// tension_cold has an index, spring_rate is two words.
func name(s string) node {
	base, index, has := strings.Cut(s, "_")
	if !has {
		if r, n := utf8.DecodeRuneInString(s); n > 0 && len(s) > n && unicode.IsLetter(r) && strings.Trim(s[n:], "0123456789") == "" {
			base, index = s[:n], s[n:]
		}
	}
	if base == "" || strings.Trim(index, "_") == "" {
		return symbol(s)
	}
	b := symbol(base)
	if b.kind == kindWord {
		cut := strings.LastIndexByte(s, '_')
		if last := s[cut+1:]; particles[last] || !states[last] && utf8.RuneCountInString(last) > 2 && symbol(last).kind == kindWord || last == "" {
			return node{kind: kindWord, text: words(s), level: levelAtom, kids: []node{leaf(kindText, s)}}
		}
		base, index = s[:cut], s[cut+1:]
		b = leaf(kindWord, words(base))
	}
	sub := symbol(index)
	if strings.Contains(index, "_") {
		sub = leaf(kindText, words(index))
	}
	plain := base
	if g, ok := greek[base]; ok {
		plain = g
	}
	if has {
		plain += "_"
	}
	switch sub.kind {
	case kindWord:
		sub.kind = kindText
		plain += index
	case kindText:
		plain += index
	default:
		plain += sub.text
	}
	return node{kind: kindSub, text: plain, level: levelAtom, kids: []node{b, sub}}
}

// words puts no-break spaces for underscores.
func words(s string) string { return strings.ReplaceAll(s, "_", "\u00a0") }

// symbol sets a name without an index. ISO 80000-2 sets π upright, as a
// constant, and quantities sloping; names of several letters are upright.
func symbol(s string) node {
	if strings.Trim(s, "0123456789") == "" {
		return leaf(kindNumber, s)
	}
	if g, ok := greek[s]; ok {
		if s == "pi" {
			return node{kind: kindLetter, text: g, level: levelAtom, kids: []node{{}}}
		}
		return leaf(kindLetter, g)
	}
	if utf8.RuneCountInString(s) == 1 {
		return leaf(kindLetter, s)
	}
	return leaf(kindWord, s)
}

// dotted sets a full name: "belt.hot".
func dotted(s string) node {
	parts := strings.Split(s, ".")
	n := name(parts[0])
	for _, p := range parts[1:] {
		n = row(levelAtom, n, mark("."), name(p))
	}
	return n
}
