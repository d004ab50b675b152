package build

import (
	"strings"

	"workings/calc"
	"workings/calc/diag"
)

// auditLimits reports the limits of a release that do not hold. A broken
// DANGER or WARNING limit is an error, which stops publishing until the design
// changes or the sheet accepts it in writing.
func auditLimits(res *calc.Result) diag.List {
	var list diag.List
	for _, l := range res.Limits() {
		if !l.Known() || l.Holds() || l.Accepted != "" {
			continue
		}
		d := list.Add(l.Pos, "limit-broken", "%s", brokenText(l))
		switch l.Signal {
		case "danger", "warning":
			d.Hint = `change the design, or accept it in writing: accepted "why"`
		default:
			d.Warn = true
			if len(l.Message) > 0 {
				d.Hint = "its message is shown to the reader"
			} else {
				d.Hint = `nobody is told: write else caution "…", or change the design`
			}
		}
	}
	return list
}

// brokenText says which limit is broken, by what values, and what the reader
// is told.
func brokenText(l *calc.Limit) string {
	s := "the limit " + l.Name + " is broken"
	if l.Signal != "" {
		s = "the " + strings.ToUpper(l.Signal) + " limit " + l.Name + " is broken"
	}
	if l.Nominal {
		s += " in the worst case"
	}
	if l.Left != nil && l.Right != nil {
		s += ": " + l.Left.String() + " is not " + l.Op.String() + " " + l.Right.String()
	}
	if m := limitMessage(l); m != "" {
		s += ` ("` + m + `")`
	}
	return s
}

// limitMessage is the message of a limit as plain text.
func limitMessage(l *calc.Limit) string {
	var b strings.Builder
	for _, p := range l.Message {
		if p.Shown != nil {
			b.WriteString(p.Shown.String())
		} else {
			b.WriteString(p.Text)
		}
	}
	return b.String()
}
