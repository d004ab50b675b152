package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"workings/build"
)

// patience is how long a command works before it shows how far it is.
const patience = time.Second

// Where there is no terminal, a line says every now and then how far it is.
const plainPatience = 10 * time.Second

// A progress shows how far a long piece of work is: on a terminal in one line
// that changes, elsewhere in a plain line now and then, as logs want it.
type progress struct {
	w        io.Writer // nil: it has ended
	terminal bool
	next     time.Time // when it shows something again

	mu    sync.Mutex
	shown bool
}

func newProgress(w io.Writer) *progress {
	p := &progress{w: w, next: time.Now().Add(plainPatience)}
	if f, ok := w.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			p.terminal, p.next = true, time.Now().Add(patience)
		}
	}
	return p
}

// options are those of a build that is followed, with the checks that take longer.
func (p *progress) options() build.Options {
	return build.Options{Tool: tool, Thorough: true, Progress: func(done, all int) { p.step(done, all, "files") }}
}

func (p *progress) step(done, all int, what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	if p.w == nil || now.Before(p.next) {
		return
	}
	if !p.terminal {
		p.next = now.Add(plainPatience)
		fmt.Fprintf(p.w, "%d of %d %s\n", done, all, what)
		return
	}
	p.next, p.shown = now.Add(100*time.Millisecond), true
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
