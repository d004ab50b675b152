package unit

import (
	"math"
	"math/big"
	"strings"
)

// An atom is a unit of the table with its prefix.
type atom struct {
	row    *row
	prefix string
	exp    int      // of the prefix
	exact  *big.Rat // SI value of one, without pi
	unit   Unit     // its Symbol is the spelling that is kept
}

// atoms is every unit with every prefix that it takes, by each spelling. Where
// two readings meet, the unit without prefix wins: min is the minute and not a
// milli-inch, cd the candela, ft the foot, Pa the pascal.
var atoms = makeAtoms()

func makeAtoms() map[string]*atom {
	m := make(map[string]*atom, 2000)
	add := func(spelling string, a *atom) {
		if _, taken := m[spelling]; !taken {
			m[spelling] = a
			m[strings.ReplaceAll(spelling, "Ω", "\u2126")] = a // the ohm sign
		}
	}
	each := func(prefix string, exp int) {
		for i := range table {
			r := &table[i]
			if !r.takes(exp) {
				continue
			}
			a := newAtom(r, prefix, exp)
			names := []string{r.sym}
			for _, s := range spellings {
				if s.sym == r.sym {
					names = append(names, s.alias)
				}
			}
			for _, name := range names {
				add(prefix+name, a)
				if prefix == "µ" { // in ASCII, and with the Greek letter
					add("u"+name, a)
					add("\u03bc"+name, a)
				}
			}
		}
	}
	each("", 0)
	for _, p := range prefixTable {
		each(p.sym, p.exp)
	}
	return m
}

// takes reports whether the unit takes the prefix of 10^exp.
func (r *row) takes(exp int) bool {
	switch r.prefix {
	case anyPrefix:
		return true
	case bigPrefix:
		return exp == 0 || exp >= 3
	case fewPrefix:
		return exp == 0 || exp == -6 || exp == -3 || exp == -2 || exp == 3
	}
	return exp == 0
}

func newAtom(r *row, prefix string, exp int) *atom {
	a := &atom{row: r, prefix: prefix, exp: exp, exact: rat(r.factor)}
	a.exact.Mul(a.exact, pow10(exp))
	f, _ := a.exact.Float64()
	a.unit = Unit{Symbol: prefix + r.sym, Dim: r.dim, Factor: f * math.Pow(math.Pi, float64(r.pi))}
	if r.offset != "" {
		a.unit.Offset, _ = rat(r.offset).Float64()
		a.unit.Point = true
	}
	return a
}

// rat reads a decimal, or a fraction of two decimals.
func rat(s string) *big.Rat {
	num, den, isFrac := strings.Cut(s, "/")
	x, ok := new(big.Rat).SetString(num)
	if ok && isFrac {
		var y *big.Rat
		if y, ok = new(big.Rat).SetString(den); ok {
			x.Quo(x, y)
		}
	}
	if !ok {
		panic("unit: bad factor in the table: " + s)
	}
	return x
}

func pow10(n int) *big.Rat {
	x := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(n, -n))), nil)
	if n < 0 {
		return new(big.Rat).SetFrac(big.NewInt(1), x)
	}
	return new(big.Rat).SetInt(x)
}
