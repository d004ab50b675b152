package main

import (
	"flag"
	"fmt"

	"workings/build"
)

func runSeal(e env, flags *flag.FlagSet, args []string) int {
	next := flags.String("next", "", "call the working tree `NAME` from then on; without it, the name that follows")
	pos, status, ok := parse(e, flags, args, 1, 2)
	if !ok {
		return status
	}
	s, list, err := build.Seal(folder(pos, 1), pos[0], build.SealOptions{Tool: tool, Next: *next})
	report(e.err, list)
	if err != nil {
		return failed(e, "seal", err)
	}
	if s == nil {
		fmt.Fprintln(e.err, "nothing was sealed")
		return exitFound
	}
	fmt.Fprintf(e.out, "sealed release %s into %s, %s\n", pos[0], s.Zip, count(s.Files, "file"))
	if s.Lines != nil {
		fmt.Fprintln(e.err, "workings seal: manual.toml cannot be changed safely; write into it:")
		for _, l := range s.Lines {
			fmt.Fprintln(e.err, "    "+l)
		}
		return exitFound
	}
	fmt.Fprintf(e.out, "the working tree is now release %s\n", s.Next)
	if s.Current != "" {
		fmt.Fprintf(e.out, "builders are still sent to release %s: manual.toml names it as current\n", s.Current)
	}
	return exitOK
}
