package preview

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
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
	// Quick makes a site of what the last Build read and of the files that have
	// changed since, by their paths in the folder. It is shown at once, and what
	// Build makes of the same files follows. ok is false if only Build can tell.
	// It may run beside a Build; nil if there is none.
	Quick func(changed []string) (site *build.Site, ok bool)
	// Findings is asked after a Build without errors, once the files are still,
	// for all that should be mended; nil: what Build reports is all.
	Findings func() diag.List
	// Built is told of every state of the files that could be made up, the first
	// included: how long it took from the change to the new pages, and what is
	// wrong with them; nil if nobody asks.
	Built func(took time.Duration, list diag.List)
	// Ready is told the address once the first build is shown; nil if nobody asks.
	Ready func(address string)
}

// GCPercent is how much garbage (runtime/debug.SetGCPercent) a program should let
// lie that previews: it waits for its maker most of the time, and when it does
// not, its maker waits.
const GCPercent = 200

// headTime is how long a client may take to say what it wants.
const headTime = 5 * time.Second

// Run serves the manual on the listener until the context ends, then closes
// every connection and returns nil.
func Run(ctx context.Context, l net.Listener, opt Options) error {
	// The watch begins before the first build, so that a change during it is
	// seen; what there is to be watched is looked at meanwhile.
	var watch *watcher
	looked := make(chan error, 1)
	if opt.Dir != "" {
		var err error
		if watch, err = newWatcher(opt.Dir); err != nil {
			l.Close()
			return err
		}
		defer watch.close()
		go func() { looked <- watch.begin() }()
	} else {
		looked <- nil
	}
	server := NewServer(opt.Script)
	follow := follower{opt: opt, server: server}
	follow.first()
	if err := <-looked; err != nil {
		l.Close()
		return err
	}

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
	var watching sync.WaitGroup
	if watch != nil {
		changes := make(chan change)
		watching.Go(func() { follow.run(ctx, changes) })
		watching.Go(func() {
			defer close(changes)
			for {
				c, err := watch.wait(ctx)
				if err != nil {
					if ctx.Err() == nil {
						failed <- err
					}
					return
				}
				changes <- c
			}
		})
	}
	if opt.Ready != nil {
		opt.Ready("http://" + l.Addr().String() + "/")
	}

	var err error
	select {
	case <-ctx.Done():
	case err = <-failed:
	}
	stop()
	watching.Wait()
	end, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if web.Shutdown(end) != nil {
		web.Close()
	}
	return err
}
