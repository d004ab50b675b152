package build

import (
	"math/rand"
	"slices"
	"testing"
)

func TestReleaseOrder(t *testing.T) {
	// Each list is in rising order.
	for _, want := range [][]string{
		{"0.9", "1.0", "1.0.1", "1.9", "1.10", "2.0-alpha", "2.0-rc1", "2.0-rc2", "2.0-rc10", "2.0", "2.1"},
		{"2026-12-24", "2027-01-03", "2027-03-01"},
		{"A", "B", "C"},
		{"v1.0", "v1.1-beta", "v1.1"},
		{"1.0-rc", "1.0-rc.1", "1.0"},
	} {
		got := slices.Clone(want)
		rnd := rand.New(rand.NewSource(1))
		for range 20 {
			rnd.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
			slices.SortFunc(got, CompareReleases)
			if !slices.Equal(got, want) {
				t.Fatalf("sorted %q, want %q", got, want)
			}
		}
	}
	for a, b := range map[string]string{"1.0": "1.00", "v2": "2"} {
		if CompareReleases(a, b) == 0 || CompareReleases(a, b) != -CompareReleases(b, a) {
			t.Errorf("%q and %q have no firm order", a, b)
		}
	}
}

func TestPreRelease(t *testing.T) {
	for name, want := range map[string]bool{
		"2.0-rc1": true, "1.0-draft": true, "2.0": false, "2027-03-01": false, "rev-B": false, "": false, "1.0-": false,
	} {
		if IsPreRelease(name) != want {
			t.Errorf("IsPreRelease(%q) = %v", name, !want)
		}
	}
}
