package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	"workings/build"
	"workings/build/preview"
	"workings/calc/diag"
)

func runPreview(e env, flags *flag.FlagSet, args []string) int {
	port := flags.Int("port", 0, "listen on port `N` (default: "+fmt.Sprint(preview.FirstPort)+" or the next free one)")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	if *port < 0 || *port > 65535 {
		return wrong(e, "preview", fmt.Sprintf("%d is no port", *port))
	}
	dir := folder(pos, 0)
	_, closeDir, err := build.OpenDir(dir) // to say so now if there is none
	if err != nil {
		return failed(e, "preview", err)
	}
	closeDir()
	script, err := build.Script()
	if err != nil {
		return failed(e, "preview", err)
	}
	l, err := preview.Listen(*port)
	if err != nil {
		return failed(e, "preview", err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	first := true
	live := build.NewLive(func() (build.Source, func() error, error) { return build.OpenDir(dir) }, build.Options{Tool: tool})
	err = preview.Run(ctx, l, preview.Options{
		Dir:      dir,
		Script:   script,
		Build:    live.Build,
		Quick:    live.Quick,
		Findings: live.Findings,
		Built: func(took time.Duration, list diag.List) {
			report(e.err, list)
			if !first && !list.HasErrors() {
				fmt.Fprintf(e.err, "updated in %d ms\n", took.Milliseconds())
			}
			first = false
		},
		Ready: func(address string) { fmt.Fprintf(e.out, "preview: %s\n", address) },
	})
	if err != nil {
		return failed(e, "preview", err)
	}
	return exitOK
}
