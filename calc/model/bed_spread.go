package model

import (
	"math"

	"workings/calc/num"
)

// A sheet is a thin conducting layer over a rectangle of nodes, each with the
// part of the area that lies nearest to it (half of it along an edge).
type sheet struct {
	x, y   []float64 // nodes, rising, m
	wx, wy []float64 // widths of the nodes' areas, m
	k      float64   // conductivity times thickness, W/K
}

func newSheet(x, y []float64, k float64) *sheet {
	return &sheet{x, y, widths(x), widths(y), k}
}

func widths(x []float64) []float64 {
	w := make([]float64, len(x))
	for i := range x[1:] {
		h := (x[i+1] - x[i]) / 2
		w[i] += h
		w[i+1] += h
	}
	return w
}

// area returns the area of each node, m².
func (s *sheet) area() []float64 {
	a := make([]float64, 0, len(s.x)*len(s.y))
	for _, wy := range s.wy {
		for _, wx := range s.wx {
			a = append(a, wx*wy)
		}
	}
	return a
}

// flow puts into dst the heat, W, that leaves each node of temperatures T for
// its neighbours. The edges are insulated.
func (s *sheet) flow(dst, T []float64) {
	nx, ny := len(s.x), len(s.y)
	clear(dst)
	for j := range ny {
		for i := range nx {
			p := j*nx + i
			if i+1 < nx {
				q := s.k * s.wy[j] / (s.x[i+1] - s.x[i]) * (T[p] - T[p+1])
				dst[p] += q
				dst[p+1] -= q
			}
			if j+1 < ny {
				q := s.k * s.wx[i] / (s.y[j+1] - s.y[j]) * (T[p] - T[p+nx])
				dst[p] += q
				dst[p+nx] -= q
			}
		}
	}
}

// solve returns the T at which each node passes on to its neighbours and to
// its sink (W/K, to zero temperature) what its source (W) gives it, to tol. T
// holds a first guess and is overwritten.
func (s *sheet) solve(sink, source, T []float64, tol float64) error {
	nx, ny := len(s.x), len(s.y)
	// The conductances to the right and up are products of one factor of the
	// row and one of the column.
	right, up := make([]float64, nx), make([]float64, ny) // k/spacing, W/(m·K); 0 beyond the last node
	for i := range nx - 1 {
		right[i] = s.k / (s.x[i+1] - s.x[i])
	}
	for j := range ny - 1 {
		up[j] = s.k / (s.y[j+1] - s.y[j])
	}
	diag := make([]float64, len(T))
	copy(diag, sink)
	for j := range ny {
		for i := range nx {
			p := j*nx + i
			diag[p] += s.wy[j]*right[i] + s.wx[i]*up[j]
			if i > 0 {
				diag[p] += s.wy[j] * right[i-1]
			}
			if j > 0 {
				diag[p] += s.wx[i] * up[j-1]
			}
		}
	}
	product := func(dst, x []float64) {
		for j := range ny {
			p := j * nx
			row, out, d := x[p:p+nx], dst[p:p+nx], diag[p:p+nx]
			left, wy := 0.0, s.wy[j]
			for i := range nx - 1 { // what passes to the right node, counted once
				g := wy * right[i]
				out[i] = d[i]*row[i] - left - g*row[i+1]
				left = g * row[i]
			}
			out[nx-1] = d[nx-1]*row[nx-1] - left
			if j > 0 {
				below := x[p-nx : p]
				for i, w := range s.wx {
					out[i] -= w * up[j-1] * below[i]
				}
			}
			if j+1 < ny {
				above := x[p+nx : p+2*nx]
				for i, w := range s.wx {
					out[i] -= w * up[j] * above[i]
				}
			}
		}
	}
	return num.ConjugateGradient("lateral conduction", product, diag, source, T, tol)
}

// BedSpread returns the steady temperatures of a thin layer under a field of
// irradiance, with conduction along the layer,
//
//	k δ (∂²T/∂x² + ∂²T/∂y²) + α E = h (T - T_air) + ε σ (T⁴ - T_sur⁴) + U (T - T_base)
//
// with insulated edges.
//
//	E      irradiance at the nodes                  W/m²
//	α …    the Surface
//	kd     conductivity times thickness k δ, ≥ 0    W/K
//	T      temperatures at the nodes                K
//
// Finite volumes around the nodes, Newton's method for the radiation: heat is
// conserved exactly; the error falls with the square of the spacing and is
// small when that is below a third of the healing length √(k δ/H).
// Errors: as Temperature; no convergence.
// Source: derived from the balance of Surface.Temperature; Patankar, Numerical
// Heat Transfer and Fluid Flow, ch. 4 (from memory).
func BedSpread(E *Map, s Surface, kd float64) (*Map, error) {
	sh := newSheet(E.X, E.Y, kd)
	area := sh.area()
	n := len(area)
	T := make([]float64, n)
	// Each node by itself; but for the first it begins at the node before.
	for i, e := range E.Z {
		var err error
		if i == 0 || !s.near(e, T[i-1], &T[i]) {
			if T[i], _, err = s.Temperature(e); err != nil {
				return nil, err
			}
		}
	}
	if kd == 0 {
		return &Map{E.X, E.Y, T}, nil
	}
	sink, rest, step := make([]float64, n), make([]float64, n), make([]float64, n)
	const limit = 50 // four or five are enough
	last := math.Inf(1)
	for range limit {
		sh.flow(rest, T)
		for i, t := range T {
			q, slope := s.loss(t)
			sink[i] = area[i] * slope
			rest[i] = area[i]*(s.Absorptance*E.Z[i]-q) - rest[i]
			step[i] = 0
		}
		// The imbalance is taken anew in each turn, so a step need not be
		// exact: what it leaves, the next one finds.
		if err := sh.solve(sink, rest, step, 1e-4); err != nil {
			return nil, err
		}
		big := 0.0
		for i := range T {
			T[i] += step[i]
			big = max(big, math.Abs(step[i]))
		}
		if big < 1e-7 { // K; the next step would be a thousandth of it or less
			return &Map{E.X, E.Y, T}, nil
		}
		if math.IsNaN(big) {
			break
		}
		last = big
	}
	return nil, &num.NoConvergence{What: "temperature of the bed", Steps: limit, Last: last, Prev: last}
}
