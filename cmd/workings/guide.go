package main

import (
	"context"
	"embed"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"syscall"

	"workings/build"
	"workings/build/preview"
	"workings/calc/diag"
)

// guideTree is the guide, a manual like any other. It is part of the program,
// so that the guide at hand is always that of the program at hand.
//
//go:embed all:guide
var guideTree embed.FS

// runGuide computes the guide and serves it on this machine, or writes it as a
// site.
func runGuide(e env, flags *flag.FlagSet, args []string) int {
	out := flags.String("o", "", "write the guide as a site into `FOLDER` instead of serving it")
	port := flags.Int("port", 0, "listen on port `N` (default: "+fmt.Sprint(preview.FirstPort)+" or the next free one)")
	_, status, ok := parse(e, flags, args, 0, 0)
	if !ok {
		return status
	}
	if *port < 0 || *port > 65535 {
		return wrong(e, "guide", fmt.Sprintf("%d is no port", *port))
	}
	site, list, err := buildGuide(e)
	if err != nil {
		return failed(e, "guide", err)
	}
	report(e.err, list)
	if site == nil {
		return exitFound
	}
	if *out != "" {
		if err := site.Write(*out); err != nil {
			return failed(e, "guide", err)
		}
		fmt.Fprintf(e.out, "published %d files into %s\n", len(site.Paths()), *out)
		return exitOK
	}
	script, err := build.Script()
	if err != nil {
		return failed(e, "guide", err)
	}
	l, err := preview.Listen(preview.Loopback, *port)
	if err != nil {
		return failed(e, "guide", err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	err = preview.Run(ctx, l, preview.Options{
		Script: script,
		Build:  func() (*build.Site, diag.List) { return site, nil },
		Ready:  func(address string) { fmt.Fprintf(e.out, "guide: %s\n", address) },
	})
	if err != nil {
		return failed(e, "guide", err)
	}
	return exitOK
}

// buildGuide computes the guide.
func buildGuide(e env) (*build.Site, diag.List, error) {
	fsys, err := fs.Sub(guideTree, "guide")
	if err != nil {
		return nil, nil, err
	}
	p := newProgress(e.err)
	defer p.end()
	site, list := build.Build(build.Source{FS: fsys}, build.Options{
		Tool:     tool,
		Progress: func(done, all int) { p.step(done, all, "files") },
	})
	return site, list, nil
}
