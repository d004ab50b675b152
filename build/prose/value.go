package prose

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

var (
	vulgar = map[rune]float64{'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4, '⅓': 1. / 3, '⅔': 2. / 3, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8}

	power    = regexp.MustCompile(`[·×x*]10(?:\^([-−+]?\d+)|([⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))$`)
	fraction = regexp.MustCompile(`^(?:(\d+)[ ])?(\d+)[/⁄](\d+)$`)
	raised   = strings.NewReplacer("⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9",
		"⁻", "-", "⁺", "+", "−", "-")
	spaces = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ")
)

// values gives what a numeral may mean, with the decimal places it was typed
// to. A comma before three digits may part thousands or begin decimals.
func values(s string) (v []float64, places []int) {
	s = spaces.Replace(s)
	if m := fraction.FindStringSubmatch(s); m != nil {
		whole, _ := strconv.ParseFloat("0"+m[1], 64)
		a, _ := strconv.ParseFloat(m[2], 64)
		b, _ := strconv.ParseFloat(m[3], 64)
		if b == 0 {
			return nil, nil
		}
		return []float64{whole + a/b}, []int{Exact}
	}
	last, n := utf8.DecodeLastRuneInString(s)
	if x, ok := vulgar[last]; ok {
		whole, _ := strconv.ParseFloat("0"+strings.TrimSpace(s[:len(s)-n]), 64)
		return []float64{whole + x}, []int{Exact}
	}
	s = strings.ReplaceAll(s, " ", "")
	exp := 0
	if m := power.FindStringSubmatch(s); m != nil {
		exp, _ = strconv.Atoi(raised.Replace(m[1] + m[2]))
		s = strings.TrimSuffix(s, m[0])
	}
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		n, _ := strconv.Atoi(s[i+1:])
		exp += n
		s = s[:i]
	}
	var plain []string
	comma, dot := strings.LastIndexByte(s, ','), strings.LastIndexByte(s, '.')
	switch {
	case comma >= 0 && dot >= 0: // the last one begins the decimals
		if comma > dot {
			plain = []string{strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)}
		} else {
			plain = []string{strings.ReplaceAll(s, ",", "")}
		}
	case comma >= 0 || dot >= 0:
		at := max(comma, dot)
		plain = []string{strings.Replace(s, ",", ".", 1)}
		if len(s)-at-1 == 3 && at <= 3 && s[0] != '0' {
			plain = append(plain, s[:at]+s[at+1:])
		}
	default:
		plain = []string{s}
	}
	for _, p := range plain {
		x, err := strconv.ParseFloat(p, 64)
		if err != nil || math.IsInf(x, 0) {
			continue
		}
		n := 0
		if i := strings.IndexByte(p, '.'); i >= 0 {
			n = len(p) - i - 1
		}
		x *= math.Pow10(exp)
		if math.IsInf(x, 0) {
			continue
		}
		v = append(v, x)
		places = append(places, n-exp)
	}
	return v, places
}
