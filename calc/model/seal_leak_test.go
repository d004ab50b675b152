package model

import "testing"

func TestGapLeak(t *testing.T) {
	a := given{"perimeter": .7, "gap": .2e-3, "depth": .01, "pressure": 50.0, "viscosity": 1.8e-5, "density": 1.2}
	n, out := numbers(t, "gap_leak", a)
	if len(out) != 0 {
		t.Error(out)
	}
	// the profile of plane flow, u = Δp/(2 μ L) y (s - y), added up
	const s = .2e-3
	flow := .7 * integrate(t, func(y float64) float64 { return 50 / (2 * 1.8e-5 * .01) * y * (s - y) }, 0, s, 1e-12)
	check(t, "gap_leak", "profile", "independent: parabola of the speed added up by quadrature", n("flow"), flow, 1e-9)
	// μ u'' = -Δp/L by finite differences, walls at rest
	const N = 2000
	u, cp, dp := make([]float64, N+1), make([]float64, N+1), make([]float64, N+1)
	h, f := s/N, 50/(1.8e-5*.01)
	for i := 1; i < N; i++ {
		m := 2 - cp[i-1]
		cp[i], dp[i] = 1/m, (f*h*h+dp[i-1])/m
	}
	sum := 0.0
	for i := N - 1; i > 0; i-- {
		u[i] = dp[i] + cp[i]*u[i+1]
		sum += u[i] * h
	}
	check(t, "gap_leak", "differences", "independent: equation of motion by finite differences, 2000 layers", n("speed"), sum/s, 1e-6)
	check(t, "gap_leak", "by hand", "by hand: 0.04 mm2 of 50 Pa over 12 times 1.8e-5 Pa s and 10 mm (derived)", n("speed"), .925925926, 1e-8)
	// friction factor of laminar flow between plates, 96/Re on twice the height
	v, re := n("speed"), n("reynolds")
	check(t, "gap_leak", "friction factor", "White, Fluid Mechanics, table 6.4: f Re is 96 between plates (from memory)", 50/(.01/(2*s)*1.2*v*v/2)*re, 96, 1e-12)
	twice, _ := numbers(t, "gap_leak", a.with("gap", 2*s))
	near(t, "cube of the gap", twice("flow"), 8*n("flow"), 1e-12)
	for arg, change := range map[string]given{"gap": a.with("gap", 2e-3, "pressure", 5000.0), "depth": a.with("depth", 1e-4, "pressure", 10.0)} {
		if _, out := numbers(t, "gap_leak", change); len(out) != 1 || out[0].Arg != arg {
			t.Errorf("%s: %v", arg, out)
		}
	}
	refused(t, "gap_leak", "gap", a.with("gap", 1.0))
	refused(t, "gap_leak", "viscosity", a.with("viscosity", 0.0))
}
