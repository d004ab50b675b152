package build

import (
	"workings/calc/diag"
	"workings/content"
	"workings/theme"
)

// lossName is how a loss of safety is named where it is accepted.
func lossName(l SafetyLoss) string {
	name := "limit " + l.Name
	if l.Of == theme.PanelPlace {
		name = "message on page " + l.Page
		if l.Step != "" {
			name += ", step " + l.Step
		}
		if l.Name != "" {
			name += ", " + l.Name
		}
	}
	return name + ", " + l.Kind
}

// acceptLosses puts the reasons of a release beside its losses of safety
// against the one before.
func acceptLosses(losses []SafetyLoss, r *Release, before string) {
	for i := range losses {
		if a := acceptance(r, losses[i], before); a != nil {
			losses[i].Why = a.Why
		}
	}
}

// acceptance finds what a release says of a loss. It holds for the release
// that it names only: what goes slack again later is reported again.
func acceptance(r *Release, l SafetyLoss, before string) *content.Acceptance {
	for i, a := range r.Manual.Config.Accepted {
		if a.Loss == lossName(l) && a.Against == before {
			return &r.Manual.Config.Accepted[i]
		}
	}
	return nil
}

// auditLosses stops the working tree where it is less safe than the release
// before it, until that is accepted in writing.
func auditLosses(releases []*Release, list *diag.List) {
	now := releases[0]
	before := predecessors(releases)[0]
	used := map[*content.Acceptance]bool{}
	against := ""
	if before >= 0 {
		against = releases[before].Name
		for _, l := range SafetyLosses(releases[before], now) {
			if a := acceptance(now, l, against); a != nil {
				used[a] = true
				continue
			}
			d := list.Add(l.Pos, "safety-loss", "%s", lossText(l, against))
			d.Hint = `accept it in ` + configName + `: [[accepted]] loss = "` + lossName(l) + `", against = "` + against + `", why = "…"`
			if l.OldPos.File != nil {
				d.Also = []diag.Note{{Span: l.OldPos, Msg: "as it was"}}
			}
		}
	}
	for i := range now.Manual.Config.Accepted {
		a := &now.Manual.Config.Accepted[i]
		switch {
		case used[a] || a.Loss == "":
		case a.Against != against:
			list.Warn(a.Pos, "stale-acceptance", "this acceptance is against release %s, and the release before is %s", a.Against, orNone(against)).Hint = "take it away"
		default:
			list.Warn(a.Pos, "stale-acceptance", "nothing is lost any more by the name of %q", a.Loss).Hint = "take it away"
		}
	}
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// lossText says what is less safe than before.
func lossText(l SafetyLoss, before string) string {
	what := "the limit " + l.Name
	if l.Of == theme.PanelPlace {
		what = "the safety message of page " + l.Page
		if l.Step != "" {
			what += ", step " + l.Step
		}
	}
	what += " is less safe than in release " + before + ": "
	switch l.Kind {
	case theme.LossSignal:
		return what + "its signal word is " + orNone(l.New) + ", not " + l.Old
	case theme.LossDropped:
		return what + "it is gone (“" + l.Old + "”)"
	case theme.LossMessage:
		return what + "it no longer says “" + l.Old + "”"
	case theme.LossWider:
		return what + "it leaves more room with " + l.New + ", not " + l.Old
	}
	return what + "it asks " + l.New + ", not " + l.Old + ", and the two cannot be compared"
}
