package model

import "testing"

func TestCounterbalance(t *testing.T) {
	a := given{"mass": 4.0, "force": 35.0, "rate": 50.0, "travel": .3, "counter_mass": 0.0, "friction": 8.0, "acceleration": .5}
	n, _ := numbers(t, "counterbalance", a)
	const hand = "by hand: 4 kg, 35 N in the middle and 50 N/m over 0.3 m (derived)"
	check(t, "counterbalance", "bottom", hand, n("bottom"), -3.2734, 1e-9)
	check(t, "counterbalance", "top", hand, n("top"), 11.7266, 1e-9)
	check(t, "counterbalance", "largest", hand, n("largest"), 21.7266, 1e-9)
	if n("reverses") != 1 || n("stays") != 0 {
		t.Error("it reverses, and 8 N do not hold 11.7 N")
	}
	// work from bottom to top: weight less what the spring gives
	work := integrate(t, func(x float64) float64 {
		c := Counterbalance{4, 35 + 50*(.15-x), 0, .3}
		b, _ := c.Residual()
		return b
	}, 0, .3, 1e-12)
	check(t, "counterbalance", "work", "independent: work on the way is that of the mean of both ends", work, (n("bottom")+n("top"))/2*.3, 1e-9)
	check(t, "counterbalance", "energy", "independent: potential energy less that of the spring", work, 4*9.80665*.3-(35*.3), 1e-9)
	w, _ := numbers(t, "counterbalance", a.with("force", 4*standardGravity, "rate", 0.0, "counter_mass", 4.0))
	if w("bottom") != 0 || w("top") != 0 || w("stays") != 1 {
		t.Error("an equal counterweight balances")
	}
	near(t, "both masses move", w("largest"), 8*.5+8, 1e-12)
	refused(t, "counterbalance", "rate", a.with("rate", 500.0))
	refused(t, "counterbalance", "mass", a.with("mass", 0.0))
}
