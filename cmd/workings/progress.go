package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// patience is how long a command works before it shows how far it is.
const patience = time.Second

// A progress shows on a terminal how far a long piece of work is. Elsewhere it
// is silent, so that logs hold no control characters.
type progress struct {
	w     io.Writer // nil: silent
	start time.Time

	mu    sync.Mutex
	last  time.Time
	shown bool
}

func newProgress(w io.Writer) *progress {
	p := &progress{start: time.Now()}
	if f, ok := w.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			p.w = w
		}
	}
	return p
}

func (p *progress) step(done, all int, what string) {
	if p.w == nil || time.Since(p.start) < patience {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if time.Since(p.last) < 100*time.Millisecond {
		return
	}
	p.last, p.shown = time.Now(), true
	fmt.Fprintf(p.w, "\r\x1b[K%d of %d %s", done, all, what)
}

// end wipes the line.
func (p *progress) end() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
	p.w = nil
}
