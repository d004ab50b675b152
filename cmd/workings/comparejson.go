package main

import (
	"workings/calc"
	"workings/theme"
)

// A comparisonJSON is what `workings compare --format json` prints. Fields are
// only ever added. Kinds of change are "added", "removed" and "changed";
// numbers are texts as they are shown, in the unit beside them, so that no
// digit is invented on the way; share and si are numbers.
//
//	format     1
//	machine    title of the manual
//	from, to   the two releases
//	safety     places that warn less: kind is "signal", "dropped", "message", "wider" or "condition";
//	           of is "limit" or "panel"; accepted is the reason written for it, if there is one
//	figures    change is the whole change of a number, in change_unit;
//	           causes: kind is "value", "formula", "function", "table" or "together";
//	           names are the lines and tables the tables that differ;
//	           share is the part of the change (1 is all of it) and si the same in SI units, both absent
//	           where the figure is no number; amount (in change_unit) and percent are those as shown, and
//	           sum to change and 100; chain leads from the cause to the figure, ways counts such chains
//	limits     what: any of "condition", "bound", "signal", "message", "state", "accepted"
//	redo       why: kind is "new page", "new step", "text", "figure", "part", "caution" or "check"
//	get, left  parts to get beside those of the earlier release, and those left over
//	repeat     checks to repeat; kind is "" where only the step is done again
type comparisonJSON struct {
	Format  int                `json:"format"`
	Machine string             `json:"machine"`
	From    string             `json:"from"`
	To      string             `json:"to"`
	Safety  []lossJSON         `json:"safety"`
	Figures []figureChangeJSON `json:"figures"`
	Limits  []limitChangeJSON  `json:"limits"`
	Tables  []tableChangeJSON  `json:"tables"`
	Parts   []partChangeJSON   `json:"parts"`
	Checks  []checkChangeJSON  `json:"checks"`
	Pages   []pageJSON         `json:"pages"`
	Redo    []redoJSON         `json:"redo"`
	Get     []amountJSON       `json:"get"`
	Left    []amountJSON       `json:"left"`
	Repeat  []repeatJSON       `json:"repeat"`
}

type lossJSON struct {
	Kind     string `json:"kind"`
	Of       string `json:"of"`
	Name     string `json:"name,omitempty"`
	Page     string `json:"page,omitempty"`
	Step     string `json:"step,omitempty"`
	Signal   string `json:"signal"`
	Old      string `json:"old"`
	New      string `json:"new,omitempty"`
	Accepted string `json:"accepted,omitempty"`
	*place
}

type figureChangeJSON struct {
	Name       string            `json:"name"`
	Caption    string            `json:"caption,omitempty"`
	Kind       string            `json:"kind"`
	Parameter  bool              `json:"parameter"`
	Old        string            `json:"old,omitempty"`
	New        string            `json:"new,omitempty"`
	Unit       string            `json:"unit,omitempty"`
	OldUnit    string            `json:"old_unit,omitempty"`
	Change     string            `json:"change,omitempty"`
	ChangeUnit string            `json:"change_unit,omitempty"`
	Because    string            `json:"because,omitempty"`
	Causes     []changeCauseJSON `json:"causes,omitempty"`
}

type changeCauseJSON struct {
	Kind    string   `json:"kind"`
	Names   []string `json:"names,omitempty"`
	Tables  []string `json:"tables,omitempty"`
	Share   *float64 `json:"share,omitempty"`
	SI      *float64 `json:"si,omitempty"`
	Amount  string   `json:"amount,omitempty"`
	Percent string   `json:"percent,omitempty"`
	Chain   []string `json:"chain,omitempty"`
	Ways    int      `json:"ways"`
}

type limitChangeJSON struct {
	Name     string         `json:"name"`
	Kind     string         `json:"kind"`
	What     []string       `json:"what,omitempty"`
	Old      *limitSideJSON `json:"old,omitempty"`
	New      *limitSideJSON `json:"new,omitempty"`
	Accepted string         `json:"accepted,omitempty"`
}

type limitSideJSON struct {
	Condition string `json:"condition"`
	Signal    string `json:"signal,omitempty"`
	Message   string `json:"message,omitempty"`
	State     string `json:"state"`
}

type tableChangeJSON struct {
	Name        string `json:"name"`
	Kind        string `json:"kind"`
	RowsAdded   int    `json:"rows_added"`
	RowsRemoved int    `json:"rows_removed"`
}

type partChangeJSON struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Kind string `json:"kind"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
}

type checkChangeJSON struct {
	ID   string `json:"id"`
	What string `json:"what"`
	Kind string `json:"kind"`
	Page string `json:"page"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
}

type pageJSON struct {
	ID    string     `json:"id"`
	Title string     `json:"title"`
	Kind  string     `json:"kind"`
	Steps []stepJSON `json:"steps,omitempty"`
}

type stepJSON struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Kind  string `json:"kind"`
}

type redoJSON struct {
	Page      string    `json:"page"`
	PageTitle string    `json:"page_title"`
	Step      string    `json:"step"`
	StepTitle string    `json:"step_title"`
	Why       []whyJSON `json:"why"`
}

type whyJSON struct {
	Kind string `json:"kind"`
	Name string `json:"name,omitempty"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
}

type amountJSON struct {
	ID            string `json:"id"`
	Name          string `json:"name"`
	Specification string `json:"specification,omitempty"`
	Tool          bool   `json:"tool"`
	Number        string `json:"number,omitempty"`
	Unit          string `json:"unit,omitempty"`
	OtherPart     bool   `json:"other_part"`
}

type repeatJSON struct {
	ID   string `json:"id"`
	What string `json:"what"`
	Page string `json:"page"`
	Step string `json:"step,omitempty"`
	Kind string `json:"kind"`
}

func writeComparedJSON(e env, c *compared) error {
	out := comparisonJSON{
		Format: 1, Machine: c.machine, From: c.from, To: c.to,
		Safety: []lossJSON{}, Figures: []figureChangeJSON{}, Limits: []limitChangeJSON{}, Tables: []tableChangeJSON{}, Parts: []partChangeJSON{}, Checks: []checkChangeJSON{},
		Pages: []pageJSON{}, Redo: []redoJSON{}, Get: amountsJSON(c.Buy), Left: amountsJSON(c.Left), Repeat: []repeatJSON{},
	}
	for _, l := range c.Safety {
		out.Safety = append(out.Safety, lossJSON{l.Kind, l.Of, l.Name, l.Page, l.Step, l.Signal, l.Old, l.New, l.Why, placeOf(l.Pos)})
	}
	for _, f := range c.Figures {
		j := figureChangeJSON{
			Name: f.Name, Caption: f.Caption, Kind: f.Kind, Parameter: f.Parameter, Old: f.Old, New: f.New,
			Unit: f.Unit, OldUnit: f.OldUnit, Change: f.Delta, Because: f.Because,
		}
		if f.Delta != "" {
			j.ChangeUnit = f.DeltaUnit
		}
		for _, k := range f.Causes {
			x := changeCauseJSON{Kind: k.Kind, Names: k.Names, Tables: k.Tables, Amount: k.Amount, Percent: k.Percent, Chain: k.Chain, Ways: k.Ways}
			if k.Measured {
				x.Share, x.SI = &k.Part, &k.Delta
			}
			j.Causes = append(j.Causes, x)
		}
		out.Figures = append(out.Figures, j)
	}
	for _, l := range c.Limits {
		out.Limits = append(out.Limits, limitChangeJSON{l.Name, l.Kind, l.What, limitSideOf(l.Old), limitSideOf(l.New), l.Why})
	}
	for _, t := range c.Tables {
		out.Tables = append(out.Tables, tableChangeJSON(t))
	}
	for _, p := range c.Parts {
		out.Parts = append(out.Parts, partChangeJSON(p))
	}
	for _, k := range c.Checks {
		j := checkChangeJSON{ID: k.ID, What: k.What, Kind: k.Kind, Page: k.Page}
		if k.Kind != theme.Added {
			j.Old = checkText(k.Old)
		}
		if k.Kind != theme.Removed {
			j.New = checkText(k.New)
		}
		out.Checks = append(out.Checks, j)
	}
	for _, p := range c.Pages {
		j := pageJSON{ID: p.ID, Title: p.Title, Kind: p.Kind}
		for _, s := range p.Steps {
			j.Steps = append(j.Steps, stepJSON(s))
		}
		out.Pages = append(out.Pages, j)
	}
	for _, r := range c.Redo {
		j := redoJSON{Page: r.Page, PageTitle: r.PageTitle, Step: r.Step, StepTitle: r.StepTitle}
		for _, y := range r.Why {
			j.Why = append(j.Why, whyJSON{y.Kind, y.Name, sideJSON(y.Old), sideJSON(y.New)})
		}
		out.Redo = append(out.Redo, j)
	}
	for _, a := range c.Again {
		out.Repeat = append(out.Repeat, repeatJSON{a.ID, a.What, a.Page, a.Step, a.Kind})
	}
	return printJSON(e, out)
}

func sideJSON(a theme.Amount) string {
	if a.Shown == (*calc.Shown)(nil) && a.Text == "" {
		return ""
	}
	return amountText(a)
}

func limitSideOf(l *theme.LimitText) *limitSideJSON {
	if l == nil {
		return nil
	}
	return &limitSideJSON{l.Condition, l.Signal, l.Message, l.State}
}

func amountsJSON(list []theme.PartAmount) []amountJSON {
	out := []amountJSON{}
	for _, a := range list {
		out = append(out, amountJSON{a.ID, a.Name, a.Spec, a.Tool, a.Number, a.Unit, a.Other})
	}
	return out
}
