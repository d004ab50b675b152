package num

import "gonum.org/v1/gonum/stat/distuv"

// StudentQuantile gives the value below which Student's t with dof degrees of
// freedom lies with probability p, 0 < p < 1, dof ≥ 1.
func StudentQuantile(p, dof float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Quantile(p)
}
