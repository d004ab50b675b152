package main

import (
	"flag"
	"fmt"
)

func runAudit(e env, flags *flag.FlagSet, args []string) int {
	format := flags.String("format", "text", "print the report as `FORMAT`: text, json or sarif")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	write, ok := reportFormats[*format]
	if !ok {
		return wrong(e, "audit", fmt.Sprintf("there is no format %q: it is text, json or sarif", *format))
	}
	_, list, err := buildDir(e, folder(pos, 0), nil)
	if err != nil {
		return failed(e, "audit", err)
	}
	if err := write(e, list.Sorted()); err != nil {
		return failed(e, "audit", err)
	}
	if len(list) > 0 {
		return exitFound
	}
	return exitOK
}
