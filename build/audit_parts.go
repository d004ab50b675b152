package build

import (
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"workings/calc/diag"
	"workings/calc/unit"
	"workings/content"
)

// auditParts reconciles the parts list with what the steps take.
func auditParts(r *Release, list *diag.List) {
	taken := map[string]bool{}
	tools := map[string]*content.Part{}
	for _, p := range r.Manual.Parts {
		if p.Kind == "tool" {
			tools[p.ID] = p
		}
	}
	for _, page := range r.Manual.Pages {
		for _, u := range page.Uses {
			taken[u.ID] = true
		}
		for _, c := range page.Checks {
			if c.With == "" {
				continue
			}
			if id := instrument(c.With, tools); id != "" {
				taken[id] = true
				continue
			}
			d := list.Warn(withSpan(c), "unknown-instrument", "%s is not on the tools list, and the check %s needs it", c.With, c.ID)
			var names []string
			for _, id := range slices.Sorted(maps.Keys(tools)) {
				names = append(names, tools[id].Name)
			}
			if near := diag.Nearest(c.With, names); near != "" {
				d.Hint = "did you mean " + near + "?"
			} else {
				d.Hint = "add a line of the kind tool to parts.csv"
			}
		}
	}
	for _, t := range totals(r) {
		if !taken[t.ID] {
			what, write := "part", t.ID+": 1"
			if t.Kind == "tool" {
				what, write = "tool", "tool "+t.ID
			}
			list.Warn(t.Pos, "unused-part", "no step takes the %s %s", what, t.ID).
				Hint = "write " + write + " into the uses block of its step, or take out its line"
		}
		auditQuantity(t, list)
	}
}

// withSpan is the place of a check's instrument, or of the check.
func withSpan(c *content.Check) diag.Span {
	f := c.Pos.File
	line, _ := f.Position(c.Pos.Start)
	start := f.LineStart(line)
	if i := strings.LastIndex(f.Line(line), `"`+c.With+`"`); i >= 0 {
		return diag.Span{File: f, Start: start + i + 1, End: start + i + 1 + len(c.With)}
	}
	return c.Pos
}

// instrument finds the tool that a check is made with: by its id, or by words
// that all stand in its name, "dial indicator" for "Dial indicator with stand".
func instrument(with string, tools map[string]*content.Part) string {
	if tools[with] != nil {
		return with
	}
	words := toolWords(with)
	for _, id := range slices.Sorted(maps.Keys(tools)) {
		have := map[string]bool{}
		for _, w := range toolWords(tools[id].Name) {
			have[w] = true
		}
		all := len(words) > 0
		for _, w := range words {
			all = all && have[w]
		}
		if all {
			return id
		}
	}
	return ""
}

// toolWords are the words of a tool's name, in small letters and without the s
// of the plural.
func toolWords(s string) []string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" ,;()-/", r) })
	for i, w := range words {
		words[i] = strings.TrimSuffix(w, "s")
	}
	return words
}

var quantityHead = regexp.MustCompile(`^(?i:quantity|count|pieces|number|amount)(?:\s*\(\s*([^()]*?)\s*\))?$`)

// auditQuantity compares what a line of the parts list says of the quantity,
// if it does, with what the steps take.
func auditQuantity(t *partTotal, list *diag.List) {
	for _, head := range slices.Sorted(maps.Keys(t.Extra)) {
		m := quantityHead.FindStringSubmatch(head)
		if m == nil || !t.known {
			continue
		}
		text := t.Extra[head]
		digits, symbol, _ := strings.Cut(text, " ")
		if symbol == "" && t.Length {
			symbol = m[1] // a unit in the head is that of lengths; "(pieces)" is a remark
		}
		n, err := strconv.ParseFloat(digits, 64)
		u := unit.Unit{Factor: 1}
		if err == nil && symbol != "" {
			u, err = unit.Parse(strings.TrimSpace(symbol))
		}
		if err != nil {
			list.Warn(t.Pos, "part-quantity", "the quantity of %s cannot be read: %q", t.ID, text).
				Hint = "write a number, and behind a length its unit: 5.2 m"
			continue
		}
		stated, amount := u.ToSI(n), t.quantity
		if math.Abs(stated-amount) > 1e-6*math.Max(math.Abs(stated), math.Abs(amount)) {
			num, sym := t.amount()
			d := list.Warn(t.Pos, "part-quantity", "the list says %s of %s, the steps take %s", text, t.ID, strings.TrimSpace(num+" "+sym))
			d.Hint = "the sum of the steps is published: correct the step that is wrong, or leave the column out"
			if len(t.places) > 0 {
				d.Hint = "they are taken in " + strings.Join(t.places, ", ") + "; " + d.Hint
			}
		}
	}
}
