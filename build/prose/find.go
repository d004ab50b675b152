package prose

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"workings/calc/unit"
)

// Masked stands in a text where something was that is not read: a figure, code,
// a link. No number goes on across it.
const Masked = '\uFFFC'

// A Hit is a number with its unit, or a few that belong together: "16 mm",
// "5–10 mm", "480 × 760 mm", "220 mm ± 0.2 mm".
type Hit struct {
	Start, End int // bytes of the text
	Text       string
	Link       string // what joins the numbers: "" for one, "to" a range, "±" a tolerance, "×" a size, "and"
	Quantities []Quantity
}

// A Quantity is one number as it was typed.
type Quantity struct {
	Values []float64 // what the digits may mean: 1,000 is a thousand or one
	Places []int     // decimal places typed, for each value; Exact for a fraction
	Unit   unit.Unit
}

// Exact is the number of places of a number that stands for no rounded one.
const Exact = 99

const space = `[ \x{00A0}\x{2009}\x{202F}]`

// A number in any of its spellings, without sign.
const numeral = `(?:` +
	`\d+` + space + `\d+[/⁄]\d+` + // 1 1/2
	`|\d+[/⁄]\d+` + // 3/8
	`|\d*` + space + `?[½¼¾⅓⅔⅛⅜⅝⅞]` + // 2½
	`|\d{1,3}(?:` + space + `\d{3})+(?:[.,]\d+)?` + // 1 500
	`|\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:\.\d{3})+,\d+` + // 1,500.5 and 1.500,5
	`|\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?` +
	`)(?:` + space + `?[·×x*]` + space + `?10(?:\^[-−+]?\d+|[⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))?`

var (
	number = regexp.MustCompile(`^` + numeral)
	sign   = regexp.MustCompile(`^(?:\+/-|[±+\-−])` + space + `?`)
	gap    = regexp.MustCompile(`^(?:` + space + `|-)?`)
	// What may stand between two numbers of one hit.
	joint = regexp.MustCompile(`^(?:` + space + `?(–|—|-|…|\.\.\.?|±|\+/-|[×x])` + space + `?|` + space + `(to|bis|and|und)` + space + `)`)
)

// Find returns the hand-typed numbers with units in a text, from left to right.
// Where the text holds one of the names, whatever their case, it is not read.
func Find(text string, names []string) []Hit {
	first := strings.IndexFunc(text, beginsNumber)
	if first < 0 {
		return nil
	}
	typed := text
	text = maskNames(text, names)
	quoted := quotes(text) // from left to right, as the numbers are read
	var hits []Hit
	for i := first; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !beginsNumber(r) {
			i += size
			continue
		}
		h, end := read(text, i)
		for h != nil && len(quoted) > 0 && quoted[0][1] <= h.Start {
			quoted = quoted[1:]
		}
		if h != nil && (len(quoted) == 0 || h.Start < quoted[0][0]) && !named(text, h) {
			h.Text = typed[h.Start:h.End]
			hits = append(hits, *h)
		}
		i = max(end, i+size)
	}
	return hits
}

func beginsNumber(r rune) bool {
	if r < utf8.RuneSelf {
		return '0' <= r && r <= '9'
	}
	return unicode.IsDigit(r) || strings.ContainsRune("½¼¾⅓⅔⅛⅜⅝⅞", r)
}

// read reads what begins with a number at i. It returns a nil hit if there is
// no unit, and how far the text has been read.
func read(text string, i int) (*Hit, int) {
	start := i
	// The sign belongs to the number unless it joins it to something before.
	for _, s := range []string{"+/-", "±", "-", "−", "+"} {
		for _, sp := range []string{"", " ", "\u00a0", "\u202f", "\u2009"} {
			before, ok := strings.CutSuffix(text[:i], s+sp)
			if !ok || start != i {
				continue
			}
			last, _ := utf8.DecodeLastRuneInString(before)
			if before == "" || !unicode.IsLetter(last) && !unicode.IsDigit(last) && (sp == "" || s == "±" || s == "+/-") {
				start = len(before)
			}
		}
	}
	h := &Hit{Start: start}
	at := i
	type piece struct {
		number string
		unit   *unit.Unit
	}
	var pieces []piece
	end := -1 // behind the last unit
	for {
		m := number.FindString(text[at:])
		if m == "" {
			break
		}
		// Without a unit behind it, 1 500 may be two numbers that stand side by side.
		p := piece{number: m}
		stop := at + len(m)
		u, n := readUnit(text, stop, m)
		if n > 0 {
			p.unit = &u
			stop += n
			end = stop
		}
		pieces = append(pieces, p)
		at = stop
		j := joint.FindStringSubmatch(text[at:])
		if j == nil {
			break
		}
		next := at + len(j[0])
		if s := sign.FindString(text[next:]); s != "" {
			next += len(s)
		}
		if number.FindString(text[next:]) == "" {
			break
		}
		link := ""
		switch w := j[1] + j[2]; w {
		case "and", "und":
			if p.unit != nil || !between(text[:start]) {
				link = "-"
			} else {
				link = "to"
			}
		case "±", "+/-":
			link = "±"
		case "×", "x":
			link = "×"
		default:
			link = "to"
		}
		// What is joined is joined by one thing, but a tolerance may come last.
		if link == "-" || h.Link != "" && h.Link != link && link != "±" {
			break
		}
		if p.unit != nil && link == "×" && strings.HasPrefix(text[at:], "x") {
			break
		}
		h.Link = link
		at = next
	}
	if end < 0 {
		return nil, at
	}
	// A number without a unit has that of the next one that has one.
	var u *unit.Unit
	last := 0
	for k := len(pieces) - 1; k >= 0; k-- {
		if pieces[k].unit != nil {
			if u == nil {
				last = k
			}
			u = pieces[k].unit
		}
		if u != nil {
			v, places := values(pieces[k].number)
			if len(h.Quantities) == 0 && strings.HasPrefix(text[start:], "-") || strings.HasPrefix(text[start:], "−") {
				for n := range v {
					if k == 0 {
						v[n] = -v[n]
					}
				}
			}
			h.Quantities = append([]Quantity{{v, places, *u}}, h.Quantities...)
		}
	}
	if last == 0 {
		h.Link = ""
	}
	h.End = end
	h.Text = text[h.Start:h.End]
	return h, max(end, at)
}

// between reports whether the words before a number announce two of them.
func between(before string) bool {
	w := strings.ToLower(lastWord(before))
	return w == "between" || w == "zwischen"
}
