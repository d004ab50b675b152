package mathml

import (
	"strconv"
	"strings"

	"workings/calc/unit"
)

func (o Options) decimal() rune {
	if o.Decimal == 0 {
		return '.'
	}
	return o.Decimal
}

// plain writes a number that has no digits of its own.
func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// split takes a plain decimal number apart; ok is false if it is none.
func split(s string) (neg bool, mantissa, exponent string, ok bool) {
	mantissa = s
	for _, sign := range []string{"-", "−"} {
		if rest, found := strings.CutPrefix(mantissa, sign); found {
			neg, mantissa = true, rest
			break
		}
	}
	if i := strings.IndexAny(mantissa, "eE"); i >= 0 {
		n, err := strconv.Atoi(mantissa[i+1:])
		if err != nil {
			return false, "", "", false
		}
		mantissa, exponent = mantissa[:i], strconv.Itoa(n)
	}
	whole, frac, _ := strings.Cut(mantissa, ".")
	if whole+frac == "" || strings.Trim(whole+frac, "0123456789") != "" {
		return false, "", "", false
	}
	return neg, mantissa, exponent, true
}

// space is what parts a number from its unit.
func space(u unit.Unit) string {
	if unit.NeedsSpace(u) {
		return unit.Thin
	}
	return ""
}

var superscript = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "-", "⁻", "−", "⁻")
