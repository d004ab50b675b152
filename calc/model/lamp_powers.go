package model

import (
	"errors"
	"math"

	"workings/calc/num"
)

// A LampBalance is the answer of BalanceLamps.
type LampBalance struct {
	Powers    []float64  // of each lamp, W
	Field     *Map       // W/m²
	After     FieldStats // with these powers
	Equal     FieldStats // with the same total shared equally
	RMS       float64    // root of the area mean of (E/target - 1)²
	Idle      int        // lamps at zero
	Ratio     float64    // largest power to the least of those that burn
	Condition float64    // lower estimate of the condition number of the problem
}

// BalanceLamps returns the electrical powers P ≥ 0 of the lamps of a bank that
// bring the bed closest to an even irradiance,
//
//	minimise Σ w (η Σ m P - target)²   over P ≥ 0
//
//	m       irradiance of a node by a lamp of 1 W radiant power  1/m²
//	η       radiant efficiency, 0 < η ≤ 1
//	w       Simpson's weight of the node, Σ w = 1
//	target  wanted irradiance, > 0                               W/m²
//
// Lamps of the same driver number share one power; driver nil means a driver
// each. The powers of the bank's lamps themselves are not used. It is the mean
// square that is least; the ratio of least to mean, which FieldStats also
// gives, usually gains with it but is not what is minimised.
// Errors: two drivers that act on the bed alike, a target that is not positive.
// Source: Lawson & Hanson, Solving Least Squares Problems, ch. 23 (1974; from
// memory), see num.NNLS.
func BalanceLamps(bank LampBank, driver []float64, efficiency, target, bx, by float64, n int) (*LampBalance, error) {
	if !(target > 0) || math.IsInf(target, 0) {
		return nil, Bad("target", "must be greater than 0")
	}
	count := len(bank.Lamps)
	group := make([]int, count) // index of the lamp's column
	var columns [][]float64     // field of one electrical watt a lamp
	var seen []float64
	single := make([][]float64, count)
	var grid *Map
	for i, l := range bank.Lamps {
		l.Flux = efficiency
		one := bank
		one.Lamps = []Lamp{l}
		grid = one.Field(bx, by, n)
		single[i] = grid.Z
		group[i] = len(columns)
		if driver != nil {
			for k, d := range seen {
				if d == driver[i] {
					group[i] = k
				}
			}
		}
		if group[i] == len(columns) {
			columns = append(columns, make([]float64, len(grid.Z)))
			if driver != nil {
				seen = append(seen, driver[i])
			}
		}
		for k, v := range grid.Z {
			columns[group[i]][k] += v
		}
	}
	w, err := simpson(grid)
	if err != nil {
		return nil, err
	}
	A := make(num.Matrix, len(columns))
	b := make([]float64, len(w))
	for k, v := range w {
		b[k] = math.Sqrt(v)
	}
	for j, col := range columns {
		A[j] = make([]float64, len(w))
		for k, v := range col {
			A[j][k] = v * b[k] / target
		}
	}
	_, cond, err := num.LeastSquares(A, b)
	if errors.Is(err, num.ErrDomain) {
		return nil, Bad("x", "the powers cannot be told apart: two drivers act on the bed alike, or a lamp does not reach it (%v)", err)
	} else if err != nil {
		return nil, err
	}
	p, _, err := num.NNLS(A, b)
	if err != nil {
		return nil, err
	}
	out := &LampBalance{Powers: make([]float64, count), Condition: cond}
	total, lo, hi := 0.0, math.Inf(1), 0.0
	for i := range out.Powers {
		v := p[group[i]]
		out.Powers[i] = v
		total += v
		if v == 0 {
			out.Idle++
		} else {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	out.Ratio = hi / lo // some lamp burns: the target is positive
	field := func(power func(i int) float64) *Map {
		m := &Map{X: grid.X, Y: grid.Y, Z: make([]float64, len(w))}
		for i, col := range single {
			for k, v := range col {
				m.Z[k] += power(i) * v
			}
		}
		return m
	}
	out.Field = field(func(i int) float64 { return out.Powers[i] })
	if out.After, err = Stats(out.Field); err != nil {
		return nil, err
	}
	if out.Equal, err = Stats(field(func(int) float64 { return total / float64(count) })); err != nil {
		return nil, err
	}
	var sq num.Sum
	for k, v := range out.Field.Z {
		sq.Add(w[k] * (v/target - 1) * (v/target - 1))
	}
	out.RMS = math.Sqrt(sq.Value())
	return out, nil
}
