package unit

import "strings"

// Thin is the narrow no-break space, U+202F: between a number and its unit and
// between groups of three digits (ISO 80000-1; SI brochure 5.4.3, 5.4.4).
const Thin = "\u202f"

// Display gives the unit as a page shows it: N·m, kJ/(kg·K), m², s⁻¹, m¹⁄². It
// has no spaces: a half-high dot joins units (SI brochure 5.4.1).
func (u Unit) Display() string {
	var b strings.Builder
	s := u.Symbol
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '*':
			b.WriteString("·")
		case '^':
			j := i + 1
			for j < len(s) && strings.IndexByte("-0123456789", s[j]) >= 0 {
				j++
			}
			if j == i+1 && j < len(s) && s[j] == '(' {
				if k := strings.IndexByte(s[j:], ')'); k >= 0 {
					b.WriteString(super(strings.ReplaceAll(s[j+1:j+k], "/", "⁄")))
					i = j + k
					continue
				}
			}
			b.WriteString(super(s[i+1 : j]))
			i = j - 1
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String()
}

var superscript = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "-", "⁻")

func super(s string) string { return superscript.Replace(s) }

// NeedsSpace reports whether a space stands between a number and the unit: not
// before the degree of plane angle, but before °C and % (SI brochure 5.4.3,
// 5.4.7), and not where there is no unit.
func NeedsSpace(u Unit) bool { return u.Symbol != "°" && u.Symbol != "" }

// Join sets a typeset number and its unit side by side.
func Join(number string, u Unit) string {
	if !NeedsSpace(u) {
		return number + u.Display()
	}
	return number + Thin + u.Display()
}
