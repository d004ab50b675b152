package model

import "math"

// LampOverhang returns how far the outline of a bank of lamps, seen from above,
// reaches beyond each edge of a bed bx by by (m) whose middle is the origin:
//
//	left = -bx/2 - least x of an end, right = greatest x of an end - bx/2, …
//
// Negative: the edge lies outside the outline. Front is the edge at -by/2.
// Errors: none.
// Source: derived (plan geometry).
func LampOverhang(lamps []Lamp, bx, by float64) (left, right, front, back float64) {
	left, right, front, back = math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(-1)
	for _, l := range lamps {
		ux, uy, _ := l.axis()
		hx, hy := math.Abs(ux)*l.Length/2, math.Abs(uy)*l.Length/2
		left = max(left, -bx/2-(l.X-hx))
		right = max(right, l.X+hx-bx/2)
		front = max(front, -by/2-(l.Y-hy))
		back = max(back, l.Y+hy-by/2)
	}
	return left, right, front, back
}
