package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"workings/build"
)

func runPublish(e env, flags *flag.FlagSet, args []string) int {
	out := flags.String("o", "site", "write the site into `FOLDER`")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	build.UseMemory(build.Memory)
	src, closeDir, err := build.OpenDir(folder(pos, 0))
	if err != nil {
		return failed(e, "publish", err)
	}
	defer closeDir()
	p := newProgress(e.err)
	n, list, err := build.Publish(ctx, src, *out, p.options())
	p.end()
	if errors.Is(err, build.ErrInterrupted) {
		interrupted(e, *out)
		return exitInterrupted
	}
	report(e.err, list)
	switch {
	case err != nil:
		return failed(e, "publish", err)
	case list.HasErrors():
		fmt.Fprintln(e.err, "nothing was written")
		return exitFound
	}
	fmt.Fprintf(e.out, "published %d files into %s\n", n, *out)
	return exitOK
}

func interrupted(e env, out string) {
	fmt.Fprintf(e.err, "workings publish: interrupted: nothing was published, and %s is as it was\n", out)
}
