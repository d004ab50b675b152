package prose

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What stands before a number that is part of a name.
var (
	// M6 × , Tr10 x : a designation and the sign between its numbers
	designation = regexp.MustCompile(`(?:^|[^\p{L}\d])\p{Lu}\p{L}{0,3}` + space + `?\d+(?:[.,]\d+)?` + space + `?[x×]` + space + `?$`)
	// bodies that publish standards, and the words between theirs and the number
	standard = regexp.MustCompile(`(?:^|[^\p{L}])(?:ISO|IEC|EN|DIN|ANSI|ASTM|ASME|AISI|SAE|BS|JIS|GB|VDE|VDI|UL|NFPA|NEMA|JCGM|CSA|DVGW|IP|AWG)` +
		`(?:[/ -](?:ISO|IEC|EN|TS|TR|PAS|HD|Guide|AW|[A-Z]\d*))*[ \x{00A0}-]?$`)
	// the date in which a month or day is a number
	clock = regexp.MustCompile(`^(?:[01]?\d|2[0-4])[.:][0-5]\d$`)
)

// references are words whose number names one of many.
var references = map[string]bool{}

func init() {
	for _, w := range strings.Fields("step steps page pages figure fig. table section chapter release version part class category type level no. nr. item note " +
		"line row column pin channel grade picture sheet test tests edition annex clause article model schritt seite bild tabelle abschnitt teil klasse typ stufe version ausgabe kapitel") {
		references[w] = true
	}
}

// named reports whether a number is part of a name.
func named(text string, h *Hit) bool {
	before := text[:h.Start]
	if before != "" {
		switch r, _ := utf8.DecodeLastRuneInString(before); {
		case r == 'Ø' || r == 'ø':
		case unicode.IsLetter(r), unicode.IsDigit(r), strings.ContainsRune("_#/\\:@", r):
			return true
		case strings.ContainsRune(".,-–+", r): // 4.2 behind a letter, GT2-6
			if p, _ := utf8.DecodeLastRuneInString(strings.TrimRight(before, ".,-–+")); unicode.IsLetter(p) && r != ',' && r != '–' || unicode.IsDigit(p) {
				return true
			}
		case r == Masked:
			return true
		}
	}
	if near := tail(before); designation.MatchString(near) || standard.MatchString(near) || references[strings.ToLower(lastWord(before))] {
		return true
	}
	// The time of day: at 14.30 h.
	num := number.FindString(h.Text)
	if clock.MatchString(num) && strings.TrimSpace(h.Text[len(num):]) == "h" {
		switch strings.ToLower(lastWord(before)) {
		case "at", "by", "from", "until", "um", "ab", "bis", "von":
			return true
		}
	}
	return false
}

// tail is the end of a text, long enough for any name: what is looked for there
// would be looked for in all of it.
func tail(s string) string {
	const long = 120
	if len(s) <= long {
		return s
	}
	s = s[len(s)-long:]
	for len(s) > 0 && !utf8.RuneStart(s[0]) {
		s = s[1:]
	}
	return s
}

// pairs are quotation marks that open and close.
var pairs = map[rune]string{'“': "”", '„': "“”", '«': "»", '»': "«", '‚': "‘", '‘': "’"}

// quotes gives the stretches of a text that stand in quotation marks.
func quotes(text string) [][2]int {
	var out [][2]int
	alone := map[rune]bool{} // marks that nothing closes in the rest of the text
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf && c != '"' {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		end := -1
		if closing, ok := pairs[r]; ok && !alone[r] {
			end = strings.IndexAny(text[i+size:], closing)
			alone[r] = end < 0
		} else if r == '"' && opens(text, i) {
			end = strings.IndexByte(text[i+1:], '"')
		}
		if end < 0 {
			i += size
			continue
		}
		out = append(out, [2]int{i, i + size + end})
		i += size + end + 1
	}
	return out
}

// opens tells a straight quotation mark that opens from the sign for inches.
func opens(text string, i int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:i])
	after, _ := utf8.DecodeRuneInString(text[i+1:])
	return (i == 0 || unicode.IsSpace(before) || strings.ContainsRune("([{–—/", before)) && i+1 < len(text) && !unicode.IsSpace(after)
}

// maskNames puts a sign that is not read in the place of names where a text holds them, whatever
// their case, as whole words. Places in the text stay.
func maskNames(text string, names []string) string {
	low := strings.ToLower(text)
	if len(low) != len(text) { // letters whose small form has another length
		return text
	}
	b := []byte(text)
	for _, n := range names {
		n = strings.ToLower(n)
		if n == "" {
			continue
		}
		for from := 0; ; {
			i := strings.Index(low[from:], n)
			if i < 0 {
				break
			}
			i += from
			from = i + len(n)
			before, _ := utf8.DecodeLastRuneInString(low[:i])
			after, _ := utf8.DecodeRuneInString(low[from:])
			if i > 0 && (unicode.IsLetter(before) || unicode.IsDigit(before)) || from < len(low) && (unicode.IsLetter(after) || unicode.IsDigit(after)) && after != 's' {
				continue
			}
			for k := i; k < from; k++ {
				b[k] = '_'
			}
		}
	}
	return string(b)
}
