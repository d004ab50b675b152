package main

import (
	"flag"

	"workings/build"
)

// runParts prints the parts list of the working tree as parts.csv has it:
// quantities added up from the steps, packs, masses and prices.
func runParts(e env, flags *flag.FlagSet, args []string) int {
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	src, closeDir, err := build.OpenDir(folder(pos, 0))
	if err != nil {
		return failed(e, "parts", err)
	}
	defer closeDir()
	r, list := build.LoadWorking(src, build.Options{Tool: tool})
	if list.HasErrors() {
		report(e.err, list)
		return exitFound
	}
	data, err := build.PartsCSV(r)
	if err == nil {
		_, err = e.out.Write(data)
	}
	if err != nil {
		return failed(e, "parts", err)
	}
	return exitOK
}
