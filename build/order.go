package build

import (
	"slices"
	"strings"
)

// CompareReleases orders two release names: numbers in them count as numbers
// ("1.9" before "1.10"), and a pre-release comes before the release that it
// leads to ("2.0-rc1" before "2.0"). Names of equal rank are ordered by their
// bytes, so that the order never depends on the order in a file.
func CompareReleases(a, b string) int {
	am, ap := splitPre(a)
	bm, bp := splitPre(b)
	if c := slices.CompareFunc(tokens(am), tokens(bm), compareTokens); c != 0 {
		return c
	}
	switch {
	case ap == "" && bp != "":
		return 1
	case ap != "" && bp == "":
		return -1
	}
	if c := slices.CompareFunc(tokens(ap), tokens(bp), compareTokens); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

// IsPreRelease reports whether a name is that of a pre-release: a hyphen and a
// word that follows a number, as in "2.0-rc1". A date ("2027-03-01") is none.
func IsPreRelease(name string) bool {
	_, pre := splitPre(name)
	return pre != ""
}

// splitPre cuts a name at the first hyphen that has a digit before it and a
// letter after it.
func splitPre(name string) (main, pre string) {
	for i := 1; i+1 < len(name); i++ {
		if name[i] == '-' && digit(name[i-1]) && letter(name[i+1]) {
			return name[:i], name[i+1:]
		}
	}
	return name, ""
}

// tokens cuts a name into runs of digits and runs of letters; all else only
// separates. A leading v means nothing: "v1.0" ranks as "1.0".
func tokens(s string) []string {
	if len(s) > 1 && (s[0] == 'v' || s[0] == 'V') && digit(s[1]) {
		s = s[1:]
	}
	var out []string
	for i := 0; i < len(s); {
		j := i
		switch {
		case digit(s[i]):
			for j < len(s) && digit(s[j]) {
				j++
			}
		case word(s[i]):
			for j < len(s) && word(s[j]) {
				j++
			}
		default:
			i++
			continue
		}
		out = append(out, s[i:j])
		i = j
	}
	return out
}

func compareTokens(a, b string) int {
	an, bn := digit(a[0]), digit(b[0])
	switch {
	case an && bn:
		a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
		if len(a) != len(b) {
			return len(a) - len(b)
		}
	case an != bn: // a number comes after a word: "rc" before "rc.1" before "1"
		if an {
			return 1
		}
		return -1
	}
	return strings.Compare(a, b)
}

func digit(c byte) bool  { return '0' <= c && c <= '9' }
func letter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }
func word(c byte) bool   { return letter(c) || c >= 0x80 }
