package main

import (
	"flag"
	"fmt"

	"workings/build"
)

// runAudit prints what is wrong. Its exit status is 0 if nothing is open, 1 if
// anything is, be it an error or a finding, and 2 if it was called wrongly; what
// the manual accepts in writing is not open.
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
	var found audited
	src, closeDir, err := build.OpenDir(folder(pos, 0))
	if err != nil {
		return failed(e, "audit", err)
	}
	defer closeDir()
	p := newProgress(e.err)
	opt := p.options()
	opt.Accepted = func(a []build.Accepted) { found.accepted = a }
	_, list := build.Build(src, opt)
	p.end()
	found.open = list.Sorted()
	if err := write(e, found); err != nil {
		return failed(e, "audit", err)
	}
	if len(found.open) > 0 {
		return exitFound
	}
	return exitOK
}
