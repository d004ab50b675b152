package main

import (
	"context"
	"flag"
	"fmt"
	"net/netip"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"workings/build"
	"workings/build/preview"
	"workings/calc/diag"
)

func runPreview(e env, flags *flag.FlagSet, args []string) int {
	port := flags.Int("port", 0, "listen on port `N` (default: "+fmt.Sprint(preview.FirstPort)+" or the next free one)")
	listen := flags.String("listen", preview.Loopback.String(), "listen on the `ADDRESS` of a network; needs --others-may-read")
	others := flags.Bool("others-may-read", false, "let whoever can reach the address read the manual")
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	if *port < 0 || *port > 65535 {
		return wrong(e, "preview", fmt.Sprintf("%d is no port", *port))
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	on, err := netip.ParseAddr(*listen)
	switch {
	case err != nil || on.IsUnspecified() || on.Zone() != "":
		return wrong(e, "preview", fmt.Sprintf("%q is no address of this computer: write one such as 192.0.2.7", *listen))
	case !on.IsLoopback() && !*others:
		return wrong(e, "preview", fmt.Sprintf("whoever can reach %s could read the manual: add --others-may-read if they may", on))
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
	l, err := preview.Listen(on, *port)
	if err != nil {
		return failed(e, "preview", err)
	}
	ended := make(chan struct{})
	defer close(ended)
	go func() {
		// A first build that takes long is not waited for: nothing is written.
		<-ctx.Done()
		select {
		case <-ended:
		case <-time.After(300 * time.Millisecond):
			os.Exit(exitOK)
		}
	}()
	debug.SetGCPercent(preview.GCPercent)
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
		Ready: func(address string) {
			fmt.Fprintf(e.out, "preview: %s\n", address)
			if !on.IsLoopback() {
				fmt.Fprintf(e.err, "warning: whoever can reach %s can read this manual, its reports and what is not published yet, without a password\n", on)
			}
		},
	})
	if err != nil {
		return failed(e, "preview", err)
	}
	return exitOK
}
