package main

import "testing"

func TestCount(t *testing.T) {
	for n, want := range []string{0: "0 errors", 1: "1 error", 2: "2 errors", 5: "5 errors", 11: "11 errors", 21: "21 errors"} {
		if got := count(n, "error"); want != "" && got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}
