package build

import (
	"slices"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/content"
	"workings/theme"
)

// A SafetyLoss is a place where a release warns less than the one before.
type SafetyLoss = theme.SafetyLoss

// SafetyLosses finds where a release lowers a signal word, drops a safety
// message of a page or a limit, or gives a DANGER or WARNING limit more room
// than the one before it: limits first, by name, then messages in the order of
// the earlier release. Words of safety are danger, warning and caution;
// a notice is about property (as in ANSI Z535.6, from memory).
//
// A bound that is computed may move with the design itself: where all that
// moved it moved what it bounds as well, the limit asks what it did.
//
// A limit under another name is the same if its condition is written alike. A
// message is the same wherever its words stand, and is taken for a new wording
// of the old one where it stands at the same place and shares half its words.
func SafetyLosses(old, new *Release) []SafetyLoss {
	return append(limitLosses(old, new), panelLosses(old, new)...)
}

// rank is the weight of a signal word.
func rank(signal string) int {
	switch signal {
	case "danger":
		return 3
	case "warning":
		return 2
	case "caution":
		return 1
	}
	return 0
}

func limitLosses(old, new *Release) (out []SafetyLoss) {
	mix := calc.NewMix(old.Result, new.Result)
	before, now := limitsByName(old), limitsByName(new)
	var names []string
	for n := range before {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, name := range names {
		a := limitText(old, before[name])
		if rank(a.Signal) == 0 {
			continue
		}
		loss := SafetyLoss{Of: theme.LimitPlace, Name: name, Signal: a.Signal, OldPos: a.Limit.Pos}
		k, ok := now[name]
		if !ok {
			k, ok = renamed(a, before, now, new)
		}
		if !ok {
			loss.Kind, loss.Old = theme.LossDropped, a.Condition
			loss.Pos = diag.Span{File: new.Manual.Config.File}
			out = append(out, loss)
			continue
		}
		b := limitText(new, k)
		loss.Name, loss.Pos = b.Limit.Name, b.Limit.Pos
		if rank(b.Signal) < rank(a.Signal) {
			loss.Kind, loss.Old, loss.New = theme.LossSignal, signalUp(a.Signal), signalUp(b.Signal)
			out = append(out, loss)
		}
		if a.Message != "" && b.Message == "" && rank(b.Signal) > 0 {
			loss.Kind, loss.Old, loss.New = theme.LossMessage, a.Message, ""
			out = append(out, loss)
		}
		if rank(a.Signal) < rank("warning") {
			continue
		}
		if loss.Kind, loss.Old, loss.New = wider(a, old.Result.Bounds(before[name]), b, new.Result.Bounds(k), func(x bound) bool { return movedAlone(mix, new, x) }); loss.Kind != "" {
			out = append(out, loss)
		}
	}
	return out
}

// renamed finds a new limit that asks what a vanished one did.
func renamed(a *theme.LimitText, before, now map[string]int, new *Release) (int, bool) {
	for i, l := range new.Result.Limits() {
		if _, known := before[l.Name]; !known && now[l.Name] == i && words(condition(l.Stmt)) == a.Condition {
			return i, true
		}
	}
	return 0, false
}

// wider compares what two conditions leave room for. Comparisons belong
// together where they bound the same thing on the same side. alone tells
// whether a bound of the newer release moved without what it bounds.
func wider(a *theme.LimitText, old []calc.Bound, b *theme.LimitText, new []calc.Bound, alone func(bound) bool) (kind, was, is string) {
	if old == nil || new == nil {
		if a.Condition != b.Condition {
			return theme.LossCondition, a.Condition, b.Condition
		}
		return "", "", ""
	}
	for _, x := range old {
		bx, ok := boundOf(x)
		found := false
		for _, y := range new {
			by, ok2 := boundOf(y)
			if by.other != bx.other || by.most != bx.most {
				continue
			}
			if x.Type.Dim != y.Type.Dim || !ok || !ok2 {
				return theme.LossCondition, a.Condition, b.Condition
			}
			found = true
			more := by.value > bx.value
			if !bx.most {
				more = by.value < bx.value
			}
			if more && !same(bx.value, by.value) && (a.Condition != b.Condition || alone(by)) {
				return theme.LossWider, boundText(bx, x), boundText(by, y)
			}
			// The end itself may be allowed now: < became <=.
			if same(bx.value, by.value) && strict(x) && !strict(y) {
				return theme.LossWider, boundText(bx, x), boundText(by, y)
			}
		}
		if !found {
			return theme.LossCondition, a.Condition, b.Condition
		}
	}
	return "", "", ""
}

// movedAlone reports whether something that differs is behind a bound and not
// behind what it bounds.
func movedAlone(mix *calc.Mix, r *Release, b bound) bool {
	behind := func(x syntax.Expr) map[int]bool {
		m := map[int]bool{}
		syntax.Walk(x, func(x syntax.Expr) bool {
			if f := r.Result.Behind(x); f != nil {
				for _, k := range mix.Behind(f.Name) {
					m[k] = true
				}
				return false
			}
			return true
		})
		return m
	}
	other := behind(b.of)
	for k := range behind(b.x) {
		if !other[k] {
			return true
		}
	}
	return false
}

func strict(b calc.Bound) bool { return !strings.HasSuffix(b.Op.String(), "=") }

// boundText is a bound as a formula: "mass ≤ 4.5 kg".
func boundText(b bound, of calc.Bound) string {
	u := of.Type.Unit
	if !of.Type.Chosen {
		u = unit.Sensible(u, b.value)
	}
	sign := "≥"
	switch {
	case b.most && strict(of):
		sign = "<"
	case b.most:
		sign = "≤"
	case strict(of):
		sign = ">"
	}
	text := plainNumber(toDigits(u.FromSI(b.value), 6))
	if u.Symbol != "" {
		text += " " + u.Display()
	}
	return b.other + " " + sign + " " + text
}

func panelLosses(old, new *Release) (out []SafetyLoss) {
	type panel struct {
		*content.Panel
		text string
		used bool
	}
	var now []*panel
	for _, p := range new.Manual.Pages {
		for _, q := range p.Panels {
			now = append(now, &panel{q, fillText(new, q.Parts, q.Text), false})
		}
	}
	step := func(p *content.Panel) string {
		if p.Step == nil {
			return ""
		}
		return p.Step.ID
	}
	type was struct {
		*content.Panel
		text  string
		match *panel
	}
	var before []*was
	for _, p := range old.Manual.Pages {
		for _, q := range p.Panels {
			if rank(q.Signal) > 0 {
				before = append(before, &was{q, fillText(old, q.Parts, q.Text), nil})
			}
		}
	}
	// What a message says makes it the same one, not its number on the page. The
	// same place and the same words come first, for all of them, so that none
	// is taken from the one that it belongs to; and the same signal word before
	// another.
	for _, same := range []func(a *was, b *panel) bool{
		func(a *was, b *panel) bool {
			return b.text == a.text && a.Page.ID == b.Page.ID && step(a.Panel) == step(b.Panel)
		},
		func(a *was, b *panel) bool { return b.text == a.text && a.Page.ID == b.Page.ID },
		func(a *was, b *panel) bool { return b.text == a.text },
		func(a *was, b *panel) bool { return words(a.Text) == words(b.Text) && a.Page.ID == b.Page.ID },
		func(a *was, b *panel) bool { return words(a.Text) == words(b.Text) }, // its figures have moved, too
		func(a *was, b *panel) bool {
			return a.Page.ID == b.Page.ID && step(a.Panel) == step(b.Panel) && alike(a.text, b.text)
		},
		func(a *was, b *panel) bool { return a.Page.ID == b.Page.ID && alike(a.text, b.text) },
	} {
		for _, anySignal := range []bool{false, true} {
			for _, a := range before {
				for _, b := range now {
					if a.match == nil && !b.used && (anySignal || a.Signal == b.Signal) && same(a, b) {
						a.match, b.used = b, true
					}
				}
			}
		}
	}
	for _, a := range before {
		loss := SafetyLoss{Of: theme.PanelPlace, Name: a.ID, Page: a.Page.ID, Step: step(a.Panel), Signal: a.Signal, OldPos: a.Pos}
		b := a.match
		if b == nil {
			loss.Kind, loss.Old = theme.LossDropped, a.text
			loss.Pos = diag.Span{File: new.Manual.Config.File}
			for _, q := range new.Manual.Pages {
				if q.ID == a.Page.ID {
					loss.Pos = diag.Span{File: q.File}
				}
			}
			out = append(out, loss)
			continue
		}
		if rank(b.Signal) < rank(a.Signal) {
			loss.Kind, loss.Old, loss.New = theme.LossSignal, signalUp(a.Signal), signalUp(b.Signal)
			loss.Name, loss.Page, loss.Step, loss.Pos = b.ID, b.Page.ID, step(b.Panel), b.Pos
			out = append(out, loss)
		}
	}
	return out
}

// alike reports whether two texts share at least half of their words (the size
// of what is common over the size of both together, after Jaccard).
func alike(a, b string) bool {
	set := func(s string) map[string]bool {
		m := map[string]bool{}
		for _, w := range strings.Fields(strings.ToLower(s)) {
			m[strings.Trim(w, ".,;:!?()\"“”")] = true
		}
		return m
	}
	x, y := set(a), set(b)
	both := 0
	for w := range x {
		if y[w] {
			both++
		}
	}
	return 2*both >= len(x)+len(y)-both && both > 0
}
