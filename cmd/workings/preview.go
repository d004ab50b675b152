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
	first, cache := true, &build.Cache{}
	err = preview.Run(ctx, l, preview.Options{
		Dir:    dir,
		Script: script,
		Build: func() (*build.Site, diag.List) {
			site, list, err := buildDir(e, dir, build.Options{Cache: cache})
			if err != nil { // the folder was moved away while it is watched
				list.Add(diag.Span{}, "no-manual", "%v", err)
			}
			return site, list
		},
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
