package content

import "strings"

// nearWord returns the word that is one slip away from w: a letter too many,
// too few or wrong, two neighbours swapped, or another case. It is stricter
// than diag.Nearest, for places where most words are meant as they stand.
func nearWord(w string, words []string) string {
	for _, x := range words {
		if w != x && oneSlip(strings.ToLower(w), strings.ToLower(x)) {
			return x
		}
	}
	return ""
}

func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case i == len(a):
		return true
	case len(a) < len(b):
		return a[i:] == b[i+1:]
	case a[i+1:] == b[i+1:]:
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}
