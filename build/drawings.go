package build

import (
	"workings/calc"
	"workings/calc/diag"
	"workings/content"
)

// auditDrawings reports what of the drawings cannot be drawn with the numbers
// of a release: sizes that are not above zero, shapes that leave their outline,
// figures that are not what is drawn.
func auditDrawings(m *content.Manual, res *calc.Result) diag.List {
	var list diag.List
	for _, p := range m.Pages {
		for _, d := range p.Drawings {
			_, errs := d.Scene(res.Shown)
			list = append(list, errs...)
		}
	}
	return list
}
