package model

import "math"

// RoundedArea returns the area of a rectangle with four equal round corners,
//
//	A = a b - (4 - π) r²
//
//	a, b  sides, > 0                        m
//	r     corner radius, 0 ≤ r ≤ min(a,b)/2 m
//	A     area                              m²
//
// Exact. Errors: a radius larger than half of a side.
// Source: plane geometry; Machinery's Handbook, areas of plane figures (from memory).
func RoundedArea(a, b, r float64) (float64, error) {
	if r > min(a, b)/2 {
		return 0, Bad("corner_radius", "%s: must be at most half of the shorter side, %s", show(r, "m"), show(min(a, b)/2, "m"))
	}
	return a*b - (4-math.Pi)*r*r, nil
}

// HausnerCarr returns the two measures of how a powder flows,
//
//	HR = ρ_tapped/ρ_bulk, CI = 1 - ρ_bulk/ρ_tapped
//
//	ρ_bulk    bulk density, > 0           kg/m³
//	ρ_tapped  tapped density, ≥ ρ_bulk    kg/m³
//	HR        Hausner ratio, ≥ 1
//	CI        Carr's index, 0 to 1
//
// An index of the powder as it was tested, not a law of its flow.
// Errors: a tapped density below the bulk density.
// Source: USP <1174>, Ph. Eur. 2.9.36 (seen in a reprint).
func HausnerCarr(bulk, tapped float64) (hr, ci float64, err error) {
	if tapped < bulk {
		return 0, 0, Bad("tapped", "%s: a powder cannot be lighter tapped than loose, %s", show(tapped, "kg/m^3"), show(bulk, "kg/m^3"))
	}
	return tapped / bulk, (tapped - bulk) / tapped, nil
}

// flowClass returns the class of a Hausner ratio on the USP scale, 1 excellent
// to 7 beyond very poor: the upper ends are 1.11, 1.18, 1.25, 1.34, 1.45, 1.59,
// taken as the Hausner ratio rounded to two places as the scale prints it.
func flowClass(hr float64) int {
	hr = math.Round(hr*100) / 100
	class := 1
	for _, top := range []float64{1.11, 1.18, 1.25, 1.34, 1.45, 1.59} {
		if hr > top {
			class++
		}
	}
	return class
}

// PowderUse describes what a build takes from a reservoir and gives to an
// overflow bin.
type PowderUse struct {
	Layer, Feed, Over, OverVolume, Moved, OverMass, Depth, Ratio float64
}

// Powder returns the powder that a build of n layers moves,
//
//	V_layer = A t,  V_feed = f A t n,  V_over = (f - 1) A t n + loose
//	depth   = (f n t A/A_res) (1 + reserve)
//
//	A       area of the build chamber, > 0      m²
//	A_res   area of the reservoir, > 0          m²
//	t       layer thickness, > 0                m
//	n       layers, ≥ 1
//	f       powder spread per powder needed (overdosing), ≥ 1
//	reserve share added to the reservoir, ≥ 0
//	ρ       bulk density, > 0                   kg/m³
//
// All volumes at the same, bulk density: powder that lies denser in the
// reservoir or after spreading is converted by its mass first.
// Errors: none. Source: derived (conservation of volume), overdosing common practice.
func Powder(A, Ares, t, n, f, reserve, density float64) PowderUse {
	layer := A * t
	u := PowderUse{Layer: layer, Feed: f * layer * n, Over: (f - 1) * layer}
	u.OverVolume = u.Over * n
	u.Moved = u.Feed * density
	u.OverMass = u.OverVolume * density
	u.Ratio = f * A / Ares
	u.Depth = u.Ratio * t * n * (1 + reserve)
	return u
}

// Refresh returns what a stock of powder becomes when a share v of it is
// replaced by virgin powder before each build,
//
//	age = (1 - v)/v,  never replaced after N builds = (1 - v)^N
//
//	v    share of virgin powder, 0 < v ≤ 1
//	N    builds, ≥ 0
//	age  mean number of builds that the powder has been through, in the long run
//
// Well mixed stock that stays the same in size.
// Errors: none. Source: derived (geometric distribution of ages).
func Refresh(v, n float64) (age, old float64) { return (1 - v) / v, math.Pow(1-v, n) }
