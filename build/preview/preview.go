package preview

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"workings/build"
	"workings/calc/diag"
)

// Options say what is previewed and who is told.
type Options struct {
	Dir    string // the manual's folder, watched for changes; "" if it never changes
	Script []byte // the script that updates open pages
	// Build makes the site from the present files. The site is not shown if
	// the list holds errors.
	Build func() (*build.Site, diag.List)
	// Built is told of every build, the first included; nil if nobody asks.
	Built func(took time.Duration, list diag.List)
	// Ready is told the address once the first build is shown; nil if nobody asks.
	Ready func(address string)
}

// headTime is how long a client may take to say what it wants.
const headTime = 5 * time.Second

// Run serves the manual on the listener until the context ends, then closes
// every connection and returns nil.
func Run(ctx context.Context, l net.Listener, opt Options) error {
	// The watch begins before the first build, so that a change during it is seen.
	wait := func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() }
	if opt.Dir != "" {
		watch, err := newWatcher(opt.Dir)
		if err != nil {
			l.Close()
			return err
		}
		defer watch.close()
		wait = watch.wait
	}
	server := NewServer(opt.Script)
	update := func() {
		start := time.Now()
		site, list := opt.Build()
		report := ""
		if list.HasErrors() {
			site, report = nil, list.Error()
		}
		server.Show(site, report)
		if opt.Built != nil {
			opt.Built(time.Since(start), list)
		}
	}
	update()

	ctx, stop := context.WithCancel(ctx)
	defer stop()
	web := &http.Server{
		Handler:           server,
		ReadHeaderTimeout: headTime,
		ReadTimeout:       headTime, // requests have no body
		IdleTimeout:       30 * time.Second,
		MaxHeaderBytes:    64 << 10,
		// Streams of events end with the preview, so that Shutdown need not wait for them.
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	failed := make(chan error, 2)
	go func() {
		if err := web.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			failed <- fmt.Errorf("the preview's server stopped: %w", err)
		}
	}()
	watching := make(chan struct{})
	go func() {
		defer close(watching)
		for {
			if err := wait(ctx); err != nil {
				if ctx.Err() == nil {
					failed <- err
				}
				return
			}
			update()
		}
	}()
	if opt.Ready != nil {
		opt.Ready("http://" + l.Addr().String() + "/")
	}

	var err error
	select {
	case <-ctx.Done():
	case err = <-failed:
	}
	stop()
	<-watching
	end, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if web.Shutdown(end) != nil {
		web.Close()
	}
	return err
}
