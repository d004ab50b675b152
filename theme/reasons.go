package theme

import "workings/calc"

// A reasonRow is one decision of the designer, with its reason.
type reasonRow struct {
	Name, Caption, Href string
	Value, Old          string // Old is that of the release before, "–" where it had none
	Because             string
	Pages               []sheetRef
}

// An acceptedRow is a limit that is broken or not proved, and accepted.
type acceptedRow struct {
	Name, Href, Word, Signal, State, Why string
	Where                                place
}

// Reasons renders the register of design reasons: why values are what they are,
// and why limits are accepted although they are broken or not proved.
func (t *Theme) Reasons(in *Input) ([]byte, error) {
	v := t.view(in)
	var d struct {
		Parameters, Computed []reasonRow
		Accepted             []acceptedRow
		Before               string // the release before, if there is one
	}
	was := map[string]string{}
	if c := in.changes(); c != nil && c.From != nil {
		d.Before = c.From.Name
		for _, f := range c.Figures {
			was[f.Name] = "–"
			if f.Kind == Changed {
				was[f.Name] = v.changeValue(f.Old, firstOf(f.OldUnit, f.Unit))
			}
		}
	}
	for _, f := range in.Result.Figures() {
		if f.Because == "" {
			continue
		}
		row := reasonRow{
			Name: f.Name, Caption: f.Caption, Href: v.workingsHref(f),
			Value: v.figureText(f), Old: was[f.Name], Because: f.Because, Pages: v.refsOf(v.shownOn[f.Name]),
		}
		if row.Old == "" { // what has not changed is not among the changes
			row.Old = row.Value
		}
		if f.Parameter {
			d.Parameters = append(d.Parameters, row)
		} else {
			d.Computed = append(d.Computed, row)
		}
	}
	for _, l := range in.Result.Limits() {
		if l.Accepted != "" && l.Verdict != calc.Proved {
			d.Accepted = append(d.Accepted, v.acceptedRow(l))
		}
	}
	return t.register(v, "reasons.html", "reasons.html", "R", v.w.ReasonsTitle, v.w.ReasonsLead, d)
}

func (v *view) acceptedRow(l *calc.Limit) acceptedRow {
	return acceptedRow{
		Name: l.Name, Href: "limits.html#" + limitID(l), Word: v.w.signal(l.Signal), Signal: l.Signal,
		State: v.stateText(l), Why: l.Accepted, Where: v.limitPlace(l),
	}
}
