package content

import (
	"math"

	"workings/calc"
	"workings/calc/unit"
)

// A PartTotal is a part or tool with all its uses taken together.
type PartTotal struct {
	ID       string
	Part     *Part // nil: parts.csv has no such id (reported)
	Tool     bool
	Uses     []*Use    // in the order of the pages
	Counted  bool      // a use states a quantity
	Known    bool      // every quantity could be computed
	Quantity float64   // pieces, or metres
	Unit     unit.Unit // in which the first use states it
}

var metre = unit.Unit{Symbol: "m", Dim: unit.Base(unit.Length), Factor: 1}

// Totals adds up what the steps take of each part and tool, in the order of
// parts.csv; what it does not list comes last. This is the only place where
// quantities are summed.
func (m *Manual) Totals(shown func(int) *calc.Shown) []*PartTotal {
	byID := map[string]*PartTotal{}
	var list []*PartTotal
	enter := func(t *PartTotal) *PartTotal {
		byID[t.ID] = t
		list = append(list, t)
		return t
	}
	for _, p := range m.Parts {
		enter(&PartTotal{ID: p.ID, Part: p, Tool: p.Kind == "tool", Known: true})
	}
	for _, page := range m.Pages {
		for _, u := range page.Uses {
			t := byID[u.ID]
			if t == nil {
				t = enter(&PartTotal{ID: u.ID, Known: true})
			}
			t.Uses = append(t.Uses, u)
			t.Tool = t.Tool || u.Tool
			if u.Expr < 0 {
				continue
			}
			s := shown(u.Expr)
			x, ok := 0.0, false
			if s != nil {
				x, ok = s.Value.(float64)
			}
			if !ok {
				t.Known = false
				continue
			}
			if !t.Counted {
				t.Unit = s.Unit
				if u.Cut != nil { // pieces are measured in mm, what is bought in m
					t.Unit = metre
				}
			}
			t.Counted = true
			t.Quantity += x
		}
	}
	return list
}

// Get is how much a builder gets: what the steps take, with the spares, in
// whole pieces. A part that is used by length has no spares of its own.
func (t *PartTotal) Get() float64 {
	if t.Part == nil || t.Part.Length {
		return t.Quantity
	}
	return math.Ceil(t.Quantity-1e-9) + float64(t.Part.Spare)
}

// Packs is how many packs hold what Get says; 0 for what is sold singly.
func (t *PartTotal) Packs() int {
	if t.Part == nil || t.Part.Pack == 0 || t.Part.Length || !t.Known {
		return 0
	}
	return int(math.Ceil(t.Get() / float64(t.Part.Pack)))
}

// Mass is what the machine holds of the part, in kg. The mass of a part that
// is used by length is that of a metre.
func (t *PartTotal) Mass() (kg float64, ok bool) {
	if t.Part == nil || t.Part.Mass == nil || !t.Known || !t.Counted || t.Tool || t.Part.Kind == "consumable" {
		return 0, false
	}
	return *t.Part.Mass * t.Quantity, true
}

// Cost is the price of all that a builder gets, whole packs where it is sold
// in packs. The price of a part that is used by length is that of a metre.
func (t *PartTotal) Cost() (price float64, ok bool) {
	if t.Part == nil || t.Part.Price == nil || !t.Known || !t.Counted || t.Tool {
		return 0, false
	}
	if n := t.Packs(); n > 0 {
		return *t.Part.Price * float64(n*t.Part.Pack), true
	}
	return *t.Part.Price * t.Get(), true
}
