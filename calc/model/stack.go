package model

import (
	"math"

	"workings/calc/num"
)

// A Stack is a chain of lengths that ends in a gap.
type Stack struct {
	Lengths    []float64 // m
	Signs      []float64 // +1 where a length opens the gap, -1 where it closes it, or a sensitivity
	Tolerances []float64 // half the width of each tolerance, ≥ 0, m
	Expansions []float64 // 1/K; nil: none
	Rises      []float64 // K; nil: none
}

// A Gap is what a stack leaves.
type Gap struct {
	Nominal float64   // m
	Worst   float64   // half the range that all lengths at their limits can make, m
	RSS     float64   // half the range by the square root of the sum of squares, m
	Thermal float64   // growth of the gap by warming, with its sign, m
	Shares  []float64 // part of each length in the square of RSS; zeros if no length has a tolerance
}

// Gap returns the gap of a stack and its limits,
//
//	G = Σ aᵢ Lᵢ,  worst = Σ |aᵢ| Tᵢ,  rss = √(Σ (aᵢ Tᵢ)²),  ΔG = Σ aᵢ αᵢ Lᵢ ΔTᵢ
//
//	L, a   length and its sign                 m, 1
//	T      tolerance, either way               m
//	α, ΔT  expansion and rise                  1/K, K
//
// Warming moves the nominal and is added to it with its sign, never in
// quadrature. The root of squares supposes at least four independent lengths of
// like tolerance, centred, each within its tolerance by three standard
// deviations; state the worst case beside it.
// Errors: none; the lists are of one length.
// Source: Scholz, Tolerance Stack Analysis Methods, 1995 (seen); JCGM 100, 5.1.
func (s Stack) Gap() Gap {
	var nominal, worst, squares, thermal num.Sum
	g := Gap{Shares: make([]float64, len(s.Lengths))}
	for i, L := range s.Lengths {
		a, T := s.Signs[i], s.Tolerances[i]
		nominal.Add(a * L)
		worst.Add(math.Abs(a) * T)
		squares.Add(a * T * a * T)
		if s.Expansions != nil {
			thermal.Add(a * s.Expansions[i] * L * s.Rises[i])
		}
	}
	g.Nominal, g.Worst, g.Thermal = nominal.Value(), worst.Value(), thermal.Value()
	g.RSS = math.Sqrt(squares.Value())
	for i := range g.Shares {
		if g.RSS > 0 {
			g.Shares[i] = math.Pow(s.Signs[i]*s.Tolerances[i]/g.RSS, 2)
		}
	}
	return g
}

var stackModels = []Spec{{
	Name: "stack_up", Topic: "stack",
	Title: "gap at the end of a chain of lengths: nominal, worst case, statistical, and hot",
	Args: []Arg{
		{Name: "lengths", Unit: "m", Shape: List, Doc: "nominal lengths"},
		{Name: "signs", Unit: "1", Shape: List, Doc: "for each length +1 if it opens the gap, -1 if it closes it"},
		{Name: "tolerances", Unit: "m", Shape: List, Doc: "for each length what it may be off, either way", AtLeast: at(0)},
		{Name: "expansions", Unit: "K^-1", Shape: List, Doc: "for each length its thermal expansion; left out: the stack stays at one temperature", Optional: true},
		{Name: "rises", Unit: "K", Shape: List, Doc: "for each length the rise of its temperature, with expansions", Optional: true},
	},
	Results: []Res{
		{Name: "nominal", Unit: "m", Doc: "gap with every length at nominal", Rises: "tolerances expansions rises", Falls: "tolerances expansions rises"},
		{Name: "worst", Unit: "m", Doc: "worst case, either way", Rises: "tolerances lengths expansions rises", Falls: "lengths expansions rises"},
		{Name: "low", Unit: "m", Doc: "smallest gap in the worst case", Rises: "expansions rises", Falls: "tolerances expansions rises"},
		{Name: "high", Unit: "m", Doc: "largest gap in the worst case", Rises: "tolerances expansions rises", Falls: "expansions rises"},
		{Name: "rss", Unit: "m", Doc: "statistical limit, either way: root of the sum of squares", Rises: "tolerances lengths expansions rises", Falls: "lengths expansions rises"},
		{Name: "inflated", Unit: "m", Doc: "1.5 times that, for lengths that are not centred", Rises: "tolerances lengths expansions rises", Falls: "lengths expansions rises"},
		{Name: "thermal", Unit: "m", Doc: "growth of the gap by warming", Rises: "tolerances", Falls: "tolerances"},
		{Name: "hot", Unit: "m", Doc: "nominal gap after warming", Rises: "tolerances", Falls: "tolerances"},
		{Name: "hot_low", Unit: "m", Doc: "smallest gap after warming in the worst case", Falls: "tolerances"},
		{Name: "hot_high", Unit: "m", Doc: "largest gap after warming in the worst case", Rises: "tolerances"},
		{Name: "shares", Unit: "1", Shape: List, Doc: "part of each length in the square of rss", Rises: "lengths expansions rises", Falls: "lengths expansions rises"},
	},
	Formula: []string{
		"nominal = sum(signs * lengths)",
		"worst = sum(abs(signs) * tolerances)",
		"low = nominal - worst",
		"high = nominal + worst",
		"rss = sqrt(sum((signs * tolerances)^2))",
		"inflated = 1.5 * rss",
		"thermal = sum(signs * expansions * lengths * rises)",
		"hot = nominal + thermal",
		"hot_low = hot - worst",
		"hot_high = hot + worst",
		"shares = (signs * tolerances)^2 / rss^2",
	},
	Source: "Scholz, Tolerance Stack Analysis Methods, 1995 (seen); JCGM 100:2008, 5.1 (from memory)",
	Range:  "rss for four or more independent, centred lengths of like tolerance; lengths from one tool or print are not independent",
	Fn: func(in *In, out *Out) error {
		names := []string{"lengths", "signs", "tolerances"}
		warm, err := in.together("expansions", "rises")
		if err != nil {
			return err
		}
		if warm {
			names = append(names, "expansions", "rises")
		}
		_, c, err := in.columns(names...)
		if err != nil {
			return err
		}
		s := Stack{Lengths: c[0], Signs: c[1], Tolerances: c[2]}
		if warm {
			s.Expansions, s.Rises = c[3], c[4]
		}
		g := s.Gap()
		out.Num("nominal", g.Nominal)
		out.Num("worst", g.Worst)
		out.Num("low", g.Nominal-g.Worst)
		out.Num("high", g.Nominal+g.Worst)
		out.Num("rss", g.RSS)
		out.Num("inflated", 1.5*g.RSS)
		out.Num("thermal", g.Thermal)
		out.Num("hot", g.Nominal+g.Thermal)
		out.Num("hot_low", g.Nominal+g.Thermal-g.Worst)
		out.Num("hot_high", g.Nominal+g.Thermal+g.Worst)
		out.List("shares", g.Shares)
		return nil
	},
}}
