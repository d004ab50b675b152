// Package calc computes the figures of a release: it checks names and
// dimensions of the design sheet and the calculation blocks, puts their lines
// in order, and evaluates them with their spreads.
package calc

import (
	"workings/calc/diag"
	"workings/calc/syntax"
)

// A Program is a checked release, ready to run.
type Program struct {
}

// Compile checks names, dimensions and circles of everything in the input. It
// reports every mistake; the program can be run all the same, and what depends
// on a mistake is not available.
func Compile(in Input) (*Program, diag.List) {
	return &Program{}, nil
}

// Run computes everything. The list holds the errors that only the numbers
// show (division by zero, a root of a negative number) and the findings.
func (p *Program) Run() (*Result, diag.List) {
	return &Result{prog: p}, nil
}

// Sweep evaluates expressions of the input over values of a parameter:
// out[i][j] is the value of expression exprs[i] in SI with the parameter at
// at[j] (SI), NaN where it cannot be computed.
func (r *Result) Sweep(param string, at []float64, exprs []int) (out [][]float64, list diag.List) {
	return nil, nil
}

// Ref returns the figure that a name or field in an expression refers to, or nil.
func (r *Result) Ref(x syntax.Expr) *Figure { return nil }

// Calls returns the call of a library model that a call expression makes, or nil.
func (r *Result) Call(x *syntax.Call) *ModelCall { return nil }
