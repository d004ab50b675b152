package theme

import (
	"bytes"
	"errors"
	"math"

	"workings/calc/model"
	"workings/calc/unit"
	"workings/content"
	"workings/theme/chart"
)

var millimetre = unitNamed("mm")

// drawMap draws a field over the bed in both widths.
func (v *view) drawMap(p *content.Plot, id, title string) (svg, table string, err error) {
	s := v.in.Result.Shown(p.Map)
	if s == nil {
		return "", "", errors.New(v.w.Field)
	}
	m, ok := s.Value.(*model.Map)
	if !ok || len(m.X) == 0 || len(m.Y) == 0 || len(m.Z) != len(m.X)*len(m.Y) {
		return "", "", errors.New(v.w.Field)
	}
	f := &chart.Field{ID: id, Title: title, Label: p.MapLabel, Unit: s.Unit.Display(), Z: make([]float64, len(m.Z))}
	for _, x := range m.X {
		f.X = append(f.X, millimetre.FromSI(x))
	}
	for _, y := range m.Y {
		f.Y = append(f.Y, millimetre.FromSI(y))
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, z := range m.Z {
		f.Z[i] = s.Unit.FromSI(z)
		low, high = math.Min(low, z), math.Max(high, z)
	}
	f.Desc = fill(v.w.MapRuns, "low", v.si(low, s.Unit), "high", v.si(high, s.Unit),
		"x", v.si(m.X[len(m.X)-1]-m.X[0], millimetre), "y", v.si(m.Y[len(m.Y)-1]-m.Y[0], millimetre))
	if p.Outline {
		f.Outline = &chart.Outline{X0: f.X[0], Y0: f.Y[0], X1: f.X[len(f.X)-1], Y1: f.Y[len(f.Y)-1]}
	}
	var b bytes.Buffer
	for _, width := range []chart.Width{chart.Wide, chart.Narrow} {
		if err := chart.Map(&b, f, v.chartOptions(width)); err != nil {
			return "", "", err
		}
	}
	head, rows := v.mapTable(m, s.Unit)
	return b.String(), v.numbers(title, head, rows), nil
}

// mapTable gives the field at a few places each way, y upward as it is drawn.
func (v *view) mapTable(m *model.Map, u unit.Unit) (head []string, rows [][]string) {
	head = []string{"y \\ x"}
	cols, lines := few(len(m.X)), few(len(m.Y))
	for _, i := range cols {
		head = append(head, v.si(m.X[i], millimetre))
	}
	for k := len(lines) - 1; k >= 0; k-- {
		j := lines[k]
		row := []string{v.si(m.Y[j], millimetre)}
		for _, i := range cols {
			row = append(row, v.number(displayNumber(m.Z[j*len(m.X)+i], u)))
		}
		rows = append(rows, row)
	}
	return head, rows
}

// few spreads at most seven indices over n, both ends among them.
func few(n int) []int {
	k := min(n, 7)
	var at []int
	for i := range k {
		if k == 1 {
			at = append(at, 0)
			break
		}
		at = append(at, (i*(n-1)+(k-1)/2)/(k-1))
	}
	return at
}
