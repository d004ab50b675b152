package main

import (
	"fmt"
	"io"

	"workings/calc/diag"
)

// report prints every report and closes with their count; nothing if there are none.
func report(w io.Writer, list diag.List) {
	list = list.Sorted()
	if len(list) == 0 {
		return
	}
	for _, d := range list {
		fmt.Fprint(w, d.Report())
	}
	fmt.Fprintln(w, tally(list))
}

// tally counts: "2 errors, 1 finding".
func tally(list diag.List) string {
	errs, found := 0, 0
	for _, d := range list {
		if d.Warn {
			found++
		} else {
			errs++
		}
	}
	switch {
	case errs == 0:
		return count(found, "finding")
	case found == 0:
		return count(errs, "error")
	}
	return count(errs, "error") + ", " + count(found, "finding")
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
