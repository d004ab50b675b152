package build

import (
	"bytes"
	"encoding/csv"
	"slices"
	"sort"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/unit"
	"workings/content"
	"workings/theme"
)

// A partTotal is a part of the list with all that the steps take of it.
type partTotal struct {
	*content.Part
	spec     string // its specification with the figures in it
	sum      *content.PartTotal
	quantity float64 // SI: pieces, or metres
	unit     unit.Unit
	known    bool     // every quantity could be computed
	places   []string // pages and steps that take it: "frame 2"
}

// totals gives the parts of the list with what the steps take of each.
func totals(r *Release) []*partTotal {
	var list []*partTotal
	for _, s := range r.Manual.Totals(r.Result.Shown) {
		if s.Part == nil {
			continue
		}
		t := &partTotal{Part: s.Part, spec: specification(r, s.Part), sum: s, quantity: s.Quantity, unit: s.Unit, known: s.Known}
		for _, u := range s.Uses {
			if u.Step != nil {
				if at := u.Page.ID + " " + strconv.Itoa(u.Step.Number); !slices.Contains(t.places, at) {
					t.places = append(t.places, at)
				}
			}
		}
		list = append(list, t)
	}
	return list
}

// filledCell is a cell of the parts list with its figures; plain is the cell
// where it has none.
func filledCell(r *Release, parts []content.FilledPart, plain string) string {
	if parts == nil {
		return plain
	}
	return content.Fill(parts, func(i int) string { return withTolerance(r.Result.Shown(i)) })
}

func specification(r *Release, p *content.Part) string {
	return filledCell(r, p.SpecificationParts, p.Specification)
}

// amount is the total in the unit in which it was first taken, "" if it could
// not be computed.
func (t *partTotal) amount() (number, symbol string) {
	if !t.known {
		return "", ""
	}
	if t.unit.Factor == 0 {
		return plainNumber(t.quantity), ""
	}
	return plainNumber(toDigits(t.unit.FromSI(t.quantity), 9)), t.unit.Symbol
}

// PartsCSV is the parts list of a release with the quantities that the steps
// take, one part a line.
func PartsCSV(r *Release) ([]byte, error) {
	parts := totals(r)
	var extra []string
	seen := map[string]bool{}
	for _, t := range parts {
		for k := range t.Extra {
			if !seen[k] {
				seen[k] = true
				extra = append(extra, k)
			}
		}
	}
	sort.Strings(extra)
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	head := []string{"id", "name", "specification", "material", "kind", "quantity", "unit", "spare", "pack",
		"mass (g)", "price", "currency", "source", "critical", "substitutes", "steps",
		"to get", "packs", "total mass (g)", "total price", "cut lengths"}
	if err := w.Write(append(head, extra...)); err != nil {
		return nil, err
	}
	for _, t := range parts {
		n, u := t.amount()
		mass, price := "", ""
		if t.Mass != nil {
			mass = plainNumber(inUnit(*t.Mass, gram))
		}
		if t.Price != nil {
			price = plainNumber(*t.Price)
		}
		get := ""
		if t.known && t.Kind != "tool" {
			get = n
			if !t.Length {
				get = plainNumber(t.sum.Get())
			}
		}
		totalMass, totalPrice := "", ""
		if kg, ok := t.sum.Mass(); ok {
			totalMass = plainNumber(toDigits(kg*1e3, 9))
		}
		if x, ok := t.sum.Cost(); ok {
			totalPrice = strconv.FormatFloat(x, 'f', 2, 64)
		}
		row := []string{t.ID, t.Name, t.spec, t.Material, t.Kind, n, u, count(t.Spare), count(t.Pack),
			mass, price, t.Currency, t.Source, filledCell(r, t.CriticalParts, t.Critical), filledCell(r, t.SubstituteParts, t.Substitutes), strings.Join(t.places, "; "),
			get, count(t.sum.Packs()), totalMass, totalPrice, cuts(r, t.sum)}
		for _, k := range extra {
			row = append(row, t.Extra[k])
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// withTolerance is a figure in plain text, with its tolerance if it is shown
// with its spread: "220 mm ± 0.2 mm".
func withTolerance(s *calc.Shown) string {
	text := s.String()
	if s.Expr == nil || !s.Expr.Spread || s.Plus == "" && s.Minus == "" {
		return text
	}
	u := s.Unit.Symbol
	if s.Plus == s.Minus {
		return strings.TrimSpace(text + " ± " + s.Plus + " " + u)
	}
	return strings.TrimSpace(text + " +" + s.Plus + " -" + s.Minus + " " + u)
}

// cuts lists the pieces that steps cut of a part: "4 of 760 mm; 4 of 480 mm".
func cuts(r *Release, t *content.PartTotal) string {
	var list []string
	for _, u := range t.Uses {
		if u.Cut != nil {
			list = append(list, r.Result.Shown(u.Cut.Pieces).String()+" of "+r.Result.Shown(u.Cut.Each).String())
		}
	}
	return strings.Join(list, "; ")
}

var gram = unit.Unit{Symbol: "g", Dim: unit.Base(unit.Mass), Factor: 1e-3}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// parts lists the parts whose line or quantity is not what it was.
func (c *comparison) parts() []theme.PartChange {
	index := func(r *Release) (map[string]*partTotal, []string) {
		m, ids := map[string]*partTotal{}, []string(nil)
		for _, t := range totals(r) {
			m[t.ID] = t
			ids = append(ids, t.ID)
		}
		return m, ids
	}
	old, oldIDs := index(c.old)
	now, ids := index(c.new)
	for _, id := range oldIDs {
		if now[id] == nil {
			ids = append(ids, id)
		}
	}
	var out []theme.PartChange
	for _, id := range ids {
		a, b := old[id], now[id]
		switch {
		case a == nil:
			out = append(out, theme.PartChange{ID: id, Name: b.Name, Kind: theme.Added, New: b.line()})
		case b == nil:
			out = append(out, theme.PartChange{ID: id, Name: a.Name, Kind: theme.Removed, Old: a.line()})
		case a.Name != b.Name:
			out = append(out, theme.PartChange{ID: id, Name: b.Name, Kind: theme.Changed, Old: a.Name + ", " + a.line(), New: b.Name + ", " + b.line()})
		case a.line() != b.line():
			out = append(out, theme.PartChange{ID: id, Name: b.Name, Kind: theme.Changed, Old: a.line(), New: b.line()})
		}
	}
	return out
}

// line is what a builder must get: quantity, specification and material.
func (t *partTotal) line() string {
	n, u := t.amount()
	switch {
	case n == "" || n == "0":
		n = ""
	case u != "":
		n += " " + u
	default:
		n += " ×"
	}
	return joined(n, t.specified())
}
