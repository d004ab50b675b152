package calc_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
)

// ceil, floor and round against exact decimals (math/big): the quotient of two
// decimals that is a whole number is that number, whatever binary makes of it,
// and one that is off by a millionth is not. What lies nearer to a whole number
// than that is left out: how near counts as noise is a choice of the program.
func TestStepsAgainstExactDecimals(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	near := big.NewRat(1, 1_000_000)
	type stepped struct {
		line string
		step *big.Rat // of the result
		want *big.Int // steps
	}
	var cases []stepped
	whole, off := 0, 0
	for len(cases) < 3000 {
		b := rat(fmt.Sprintf("%d.%0*d", r.IntN(3), 1+r.IntN(4), r.IntN(1000)))
		if b.Sign() == 0 {
			continue
		}
		var a *big.Rat
		n := new(big.Rat).SetInt64(int64(r.IntN(900) - 100))
		switch r.IntN(3) {
		case 0: // a whole number of steps
			a = new(big.Rat).Mul(n, b)
		case 1: // off by 1e-6 to 0.9 of a step
			d := rat(fmt.Sprintf("%de-%d", 1+r.IntN(9), 1+r.IntN(6)))
			if r.IntN(2) == 0 {
				d.Neg(d)
			}
			a = new(big.Rat).Mul(n.Add(n, d), b)
		default:
			a = rat(decimals(r, 3))
		}
		q := new(big.Rat).Quo(a, b)
		down := new(big.Int).Div(q.Num(), q.Denom())
		rest := new(big.Rat).Sub(q, new(big.Rat).SetInt(down))
		if up := new(big.Rat).Sub(big.NewRat(1, 1), rest); rest.Sign() != 0 && (rest.Cmp(near) < 0 || up.Cmp(near) < 0) || q.Cmp(big.NewRat(900, 1)) > 0 || q.Cmp(big.NewRat(-900, 1)) < 0 {
			continue
		}
		name, want := "floor", down
		switch half := rest.Cmp(big.NewRat(1, 2)); r.IntN(3) {
		case 0:
			name = "ceil"
			if rest.Sign() > 0 {
				want = down.Add(down, big.NewInt(1))
			}
		case 1:
			if half == 0 {
				continue // to the even one; binary may not see the tie
			}
			name = "round"
			if half > 0 {
				want = down.Add(down, big.NewInt(1))
			}
		}
		if rest.Sign() == 0 {
			whole++
		} else {
			off++
		}
		x, y := exactDecimal(a), exactDecimal(b)
		switch r.IntN(3) {
		case 0:
			cases = append(cases, stepped{fmt.Sprintf("%s(%s / %s)", name, x, y), big.NewRat(1, 1), want})
		case 1:
			cases = append(cases, stepped{fmt.Sprintf("%s(%s, %s)", name, x, y), b, want})
		default:
			unit := []string{"mm", "in", "K", "kg", "L"}[r.IntN(5)]
			cases = append(cases, stepped{fmt.Sprintf("%s(%s %s, %s %s)", name, x, unit, y, unit), b, want})
		}
	}
	if whole < 500 || off < 500 {
		t.Errorf("%d whole quotients and %d others", whole, off)
	}
	var text strings.Builder
	for i, c := range cases {
		fmt.Fprintf(&text, "x%d = %s\n", i, c.line)
	}
	res, list := sheet(t, text.String(), nil)
	if len(list) > 0 {
		t.Fatal(list[0])
	}
	for i, c := range cases {
		f := res.Figure(fmt.Sprintf("x%d", i))
		step, _ := c.step.Float64()
		want, _ := new(big.Float).SetInt(c.want).Float64()
		if got := f.Unit.FromSI(f.Value.(float64)) / step; math.Abs(got-want) > 1e-6 {
			t.Errorf("%s is %v steps, not %v", c.line, got, want)
		}
	}
}

// exactDecimal writes a fraction that is a decimal as one.
func exactDecimal(x *big.Rat) string {
	n, exact := x.FloatPrec()
	if !exact {
		panic("no decimal: " + x.String())
	}
	return x.FloatString(n)
}
