package main

import (
	"flag"
	"fmt"

	"workings/build"
)

func runRecord(e env, flags *flag.FlagSet, args []string) int {
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	n, list, err := build.Record(folder(pos, 0), build.Options{Tool: tool})
	report(e.err, list)
	if err != nil {
		return failed(e, "record", err)
	}
	if list.HasErrors() {
		fmt.Fprintln(e.err, "nothing was recorded")
		return exitFound
	}
	fmt.Fprintf(e.out, "recorded %s in record.csv\n", count(n, "figure"))
	return exitOK
}
