package model

import (
	"errors"
	"math"

	"workings/calc/num"
)

// FieldStats says how even a field is.
type FieldStats struct {
	Centre        float64 // at the middle of the rectangle
	Mean          float64 // weighted by area
	Min, Max      float64 // over the nodes
	Corner        float64 // least of the four corners
	Uniformity    float64 // Min/Mean
	Nonuniformity float64 // (Max-Min)/(Max+Min)
	CV            float64 // area-weighted standard deviation / Mean
}

// Stats returns the evenness of a field that is positive somewhere and
// negative nowhere, on an odd number of evenly spaced nodes each way:
//
//	mean = Σ w E, cv = √(Σ w (E - mean)²)/mean, uniformity = min/mean,
//	nonuniformity = (max - min)/(max + min)
//
//	E  the field at a node          as the field
//	w  Simpson's weight of the node, Σ w = 1
//
// The mean is that of the field itself, not of its nodes: its error falls with
// the fourth power of the spacing. Minimum and maximum are those of the nodes.
// Errors: an even number of nodes or less than three; a field that is dark or
// holds a negative value.
// Source: non-uniformity as in IEC 60904-9 for solar simulators (from memory);
// uniformity as U₀ of EN 12464-1 (from memory).
func Stats(m *Map) (FieldStats, error) {
	w, err := simpson(m)
	if err != nil {
		return FieldStats{}, err
	}
	nx, ny := len(m.X), len(m.Y)
	s := FieldStats{Centre: m.Z[ny/2*nx+nx/2], Min: math.Inf(1), Max: math.Inf(-1)}
	for _, v := range m.Z {
		s.Min, s.Max = min(s.Min, v), max(s.Max, v)
	}
	s.Corner = min(m.Z[0], m.Z[nx-1], m.Z[(ny-1)*nx], m.Z[ny*nx-1])
	if !(s.Min >= 0 && s.Max > 0) {
		return FieldStats{}, errors.New("the field must be positive somewhere and negative nowhere")
	}
	if s.Mean, err = num.Mean(m.Z, w); err != nil {
		return FieldStats{}, err
	}
	std, err := num.Spread(m.Z, w)
	if err != nil {
		return FieldStats{}, err
	}
	s.Uniformity = s.Min / s.Mean
	s.Nonuniformity = (s.Max - s.Min) / (s.Max + s.Min)
	s.CV = std / s.Mean
	return s, nil
}

// simpson returns the weights of Simpson's rule over the rectangle, with sum 1.
func simpson(m *Map) ([]float64, error) {
	nx, ny := len(m.X), len(m.Y)
	if nx < 3 || ny < 3 || nx%2 == 0 || ny%2 == 0 {
		return nil, Bad("nodes", "%d by %d: must be odd numbers of at least 3, so that one node is the middle", nx, ny)
	}
	along := func(i, n int) float64 {
		switch {
		case i == 0 || i == n-1:
			return 1 / float64(3*(n-1))
		case i%2 == 1:
			return 4 / float64(3*(n-1))
		}
		return 2 / float64(3*(n-1))
	}
	w := make([]float64, nx*ny)
	for j := range ny {
		for i := range nx {
			w[j*nx+i] = along(i, nx) * along(j, ny)
		}
	}
	return w, nil
}
