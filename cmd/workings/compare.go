package main

import (
	"flag"
	"fmt"

	"workings/build"
	"workings/calc/diag"
	"workings/theme"
)

// comparisonFormats are the forms in which a comparison is printed.
var comparisonFormats = map[string]func(env, *compared) error{
	"text":     writeCompared,
	"json":     writeComparedJSON,
	"markdown": writeComparedMarkdown,
}

// A compared is two releases and what differs.
type compared struct {
	machine  string
	from, to string // as they were named on the command line, the working tree by its release
	*theme.Changes
}

func runCompare(e env, flags *flag.FlagSet, args []string) int {
	format := flags.String("format", "text", "print the comparison as `FORMAT`: text, json or markdown")
	pos, status, ok := parse(e, flags, args, 2, 3)
	if !ok {
		return status
	}
	write, ok := comparisonFormats[*format]
	if !ok {
		return wrong(e, "compare", fmt.Sprintf("there is no format %q: it is text, json or markdown", *format))
	}
	dir := folder(pos, 2)
	src, closeDir, err := build.OpenDir(dir)
	if err != nil {
		return failed(e, "compare", err)
	}
	defer closeDir()
	var sides [2]*build.Release
	var list diag.List
	for i := range sides {
		r, found, err := build.Revision(dir, src, pos[i], build.Options{Tool: tool})
		if err != nil {
			return failed(e, "compare", err)
		}
		sides[i], list = r, append(list, found...)
	}
	if list.HasErrors() {
		report(e.err, list.Sorted())
		return failed(e, "compare", fmt.Errorf("a release with mistakes cannot be compared"))
	}
	c := &compared{machine: sides[1].Manual.Config.Title, from: pos[0], to: pos[1], Changes: build.Compare(sides[0], sides[1])}
	for i, s := range []*string{&c.from, &c.to} {
		if *s == "." {
			*s = sides[i].Name + " (working tree)"
		}
	}
	if err := write(e, c); err != nil {
		return failed(e, "compare", err)
	}
	return exitOK
}
