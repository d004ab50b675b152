package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"workings/build"
	"workings/calc/diag"
)

func runPublish(e env, flags *flag.FlagSet, args []string) int {
	out := flags.String("o", "site", "write the site into `FOLDER`")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	built := make(chan struct{})
	go func() {
		select {
		case <-built:
		case <-ctx.Done(): // nothing is written yet
			interrupted(e, *out)
			os.Exit(exitInterrupted)
		}
	}()
	debug.SetGCPercent(build.GCPercent)
	site, list, err := buildDir(e, folder(pos, 0), build.Options{})
	close(built)
	if err != nil {
		return failed(e, "publish", err)
	}
	report(e.err, list)
	if site == nil {
		fmt.Fprintln(e.err, "nothing was written")
		return exitFound
	}
	err = site.WriteUntil(ctx, *out)
	if errors.Is(err, build.ErrInterrupted) {
		interrupted(e, *out)
		return exitInterrupted
	}
	if err != nil {
		return failed(e, "publish", err)
	}
	fmt.Fprintf(e.out, "published %d files into %s\n", len(site.Paths()), *out)
	return exitOK
}

func interrupted(e env, out string) {
	fmt.Fprintf(e.err, "workings publish: interrupted: nothing was published, and %s is as it was\n", out)
}

// buildDir builds the manual in a folder. The error says that the folder could
// not be opened; what is wrong with the manual is in the list. The options need
// say no more than is asked for beside that.
func buildDir(e env, dir string, opt build.Options) (*build.Site, diag.List, error) {
	src, closeDir, err := build.OpenDir(dir)
	if err != nil {
		return nil, nil, err
	}
	defer closeDir()
	p := newProgress(e.err)
	defer p.end()
	opt.Tool, opt.Thorough = tool, true
	opt.Progress = func(done, all int) { p.step(done, all, "files") }
	site, list := build.Build(src, opt)
	return site, list, nil
}
