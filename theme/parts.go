package theme

import (
	"html/template"
	"strconv"
	"strings"

	"workings/content"
)

var gram, kilogram = unitNamed("g"), unitNamed("kg")

// A partTotal is a part or tool with all its uses taken together.
type partTotal = content.PartTotal

type partRow struct {
	*partTotal
	Name, Material, Kind, Source string
	Spec, Critical, Substitutes  template.HTML // with their figures
	Quantity                     string
	Get, Packs                   string // what a builder gets, where that differs
	Spare, Pack                  string
	Mass, Price                  string // each, or a metre
	AllMass, AllPrice            string
	Where                        []place
	Cuts                         []string
	Extra                        [][2]string
}

// A sheetParts is what one sheet takes, step by step.
type sheetParts struct {
	Ref   sheetRef
	Steps []stepParts
}

type stepParts struct {
	Where        place
	Title        string
	Parts, Tools []string
}

// A partsList is the data of the parts sheet.
type partsList struct {
	Groups   []partGroup
	Mass     string
	Massless int
	Prices   []string
	Unpriced int
	Sheets   []sheetParts
}

// A partGroup is parts of one kind: made, standard, bought, …
type partGroup struct {
	Title string
	Tools bool
	Rows  []partRow
}

// Parts renders the list of parts and tools with their quantities.
func (t *Theme) Parts(in *Input) ([]byte, error) {
	v := t.view(in)
	var d partsList
	mass, anyMass := 0.0, false
	prices := map[string]float64{}
	groups := map[string]*partGroup{}
	kinds := []string{"made", "bought", "standard", "consumable", "", "tool"}
	for _, k := range kinds {
		groups[k] = &partGroup{Title: v.w.kindTitle(k), Tools: k == "tool"}
	}
	for _, p := range v.parts {
		if kg, ok := p.Mass(); ok {
			anyMass = true
			mass += kg
		} else if p.Counted && !p.Tool && (p.Part == nil || p.Part.Kind != "consumable") {
			d.Massless++
		}
		if x, ok := p.Cost(); ok {
			prices[p.Part.Currency] += x
		} else if p.Counted && !p.Tool {
			d.Unpriced++
		}
		kind := ""
		if p.Part != nil {
			kind = p.Part.Kind
		}
		if p.Tool {
			kind = "tool"
		}
		groups[kind].Rows = append(groups[kind].Rows, v.partRow(p))
	}
	for _, k := range kinds {
		if len(groups[k].Rows) > 0 {
			d.Groups = append(d.Groups, *groups[k])
		}
	}
	if anyMass {
		d.Mass = v.quantity(displayPlain(mass), kilogram)
	}
	for _, c := range sortedKeys(prices) {
		d.Prices = append(d.Prices, v.money(prices[c])+nbsp+c)
	}
	for _, p := range in.Manual.Pages {
		if s := v.sheetParts(p); len(s.Steps) > 0 {
			d.Sheets = append(d.Sheets, s)
		}
	}
	return t.register(v, "parts.html", "parts.html", "P", v.w.PartsTitle, v.w.PartsLead, d)
}

// partRow is the line of a part.
func (v *view) partRow(p *partTotal) partRow {
	row := partRow{partTotal: p, Name: p.ID, Quantity: v.partQuantity(p)}
	if q := p.Part; q != nil {
		per := ""
		if q.Length {
			per = "/m"
		}
		row.Name, row.Material, row.Source = firstOf(q.Name, q.ID), q.Material, q.Source
		row.Spec = v.linked(q.SpecificationParts, q.Specification)
		row.Critical = v.linked(q.CriticalParts, q.Critical)
		row.Substitutes = v.linked(q.SubstituteParts, q.Substitutes)
		row.Kind = v.w.partKind(q.Kind)
		if q.Spare > 0 {
			row.Spare = itoa(q.Spare)
		}
		if q.Pack > 0 {
			row.Pack = itoa(q.Pack)
		}
		if p.Known && p.Counted && !p.Tool && p.Get() != p.Quantity {
			row.Get = v.number(strconv.FormatFloat(p.Get(), 'f', -1, 64))
		}
		if n := p.Packs(); n > 0 {
			row.Packs = v.w.Count(n, v.w.PackOne, v.w.PackMany)
		}
		if q.Mass != nil {
			row.Mass = v.quantity(displayPlain(*q.Mass*1000), gram) + per
		}
		if q.Price != nil {
			row.Price = v.money(*q.Price) + nbsp + q.Currency + per
		}
		if kg, ok := p.Mass(); ok && (p.Quantity != 1 || q.Length) {
			if kg < 1 {
				row.AllMass = v.quantity(displayPlain(kg*1000), gram)
			} else {
				row.AllMass = v.quantity(displayPlain(kg), kilogram)
			}
		}
		if x, ok := p.Cost(); ok && (p.Get() != 1 || p.Packs() > 0) {
			row.AllPrice = v.money(x) + nbsp + q.Currency
		}
		for _, k := range sortedKeys(q.Extra) {
			if q.Extra[k] != "" {
				row.Extra = append(row.Extra, [2]string{k, q.Extra[k]})
			}
		}
	}
	for _, u := range p.Uses {
		at := v.placeOf(u.Page, u.Step)
		if len(p.Uses) > 1 && u.Expr >= 0 {
			at.Text += ": " + v.useText(u)
		}
		row.Where = append(row.Where, at)
		if u.Cut != nil {
			row.Cuts = append(row.Cuts, v.cutText(u.Cut))
		}
	}
	return row
}

// cutText is "4 × 760 mm".
func (v *view) cutText(c *content.Cut) string {
	res := v.in.Result
	return v.shownText(res.Shown(c.Pieces)) + nbsp + "×" + nbsp + v.shownText(res.Shown(c.Each))
}

// linked is a text whose figures lead to their derivations.
func (v *view) linked(parts []content.FilledPart, plain string) template.HTML {
	if len(parts) == 0 {
		return template.HTML(esc(plain))
	}
	var b strings.Builder
	for _, p := range parts {
		if p.Expr < 0 {
			b.WriteString(esc(p.Text))
			continue
		}
		s := v.in.Result.Shown(p.Expr)
		text := setQuantity(v.shownText(s))
		if s != nil && s.Figure != nil {
			text = `<a href="` + escHref(v.workingsHref(s.Figure)) + `">` + text + `</a>`
		}
		if s != nil && s.Expr != nil && s.Expr.Spread {
			if x := v.shownSpread(s); x != "" {
				text += " " + setQuantity(x)
			}
		}
		b.WriteString(text)
	}
	return template.HTML(b.String())
}

// sheetParts lists what the steps of a page take.
func (v *view) sheetParts(p *content.Page) sheetParts {
	out := sheetParts{Ref: v.pageRef(p)}
	name := func(u *content.Use) string {
		if u.Part == nil {
			return u.ID
		}
		return firstOf(u.Part.Name, u.ID)
	}
	for _, s := range p.Steps {
		at := stepParts{Where: v.placeOf(p, s), Title: v.fill(s.Parts, s.Title)}
		for _, u := range s.Uses {
			amount := v.useText(u)
			if u.Cut != nil {
				amount = v.cutText(u.Cut)
			}
			at.Parts = append(at.Parts, amount+" "+name(u))
		}
		for _, u := range s.Tools {
			at.Tools = append(at.Tools, name(u))
		}
		if len(at.Parts)+len(at.Tools) > 0 {
			out.Steps = append(out.Steps, at)
		}
	}
	return out
}

func (v *view) useText(u *content.Use) string {
	s := v.in.Result.Shown(u.Expr)
	if s == nil {
		return v.w.NotAvailable
	}
	text := v.shownText(s)
	if s.Number != "" && s.Unit.IsNone() {
		text += nbsp + "×"
	}
	return text
}

func (v *view) partQuantity(p *partTotal) string {
	switch {
	case len(p.Uses) == 0:
		return "0"
	case !p.Known:
		return v.w.NotAvailable
	case !p.Counted:
		return ""
	case !p.Unit.IsNone():
		return v.si(p.Quantity, p.Unit)
	}
	return v.number(strconv.FormatFloat(p.Quantity, 'f', -1, 64))
}

func (v *view) money(x float64) string { return v.number(strconv.FormatFloat(x, 'f', 2, 64)) }

// kindTitle heads the parts of a kind.
func (w *words) kindTitle(kind string) string {
	switch kind {
	case "made":
		return w.PartsMade
	case "bought":
		return w.PartsBought
	case "standard":
		return w.PartsStandard
	case "consumable":
		return w.PartsConsumed
	case "tool":
		return w.Tools
	}
	return w.Parts
}
