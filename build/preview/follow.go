package preview

import (
	"context"
	"maps"
	"slices"
	"time"

	"workings/build"
	"workings/calc/diag"
)

// still is how long the files must not have changed before an error is shown,
// and before what was made quickly is made as a whole: a save takes several
// steps within some milliseconds, and its first ones may be half a file.
const still = 150 * time.Millisecond

// A follower makes the site anew as the files change. The first event of a save
// is acted on at once, and corrected on the next.
type follower struct {
	opt    Options
	server *Server

	turn    int              // counts the changes
	dirty   map[string]int   // files that changed since the last whole build began, with the turn of it
	changed time.Time        // of the last change
	shown   time.Duration    // from the last change to its pages; 0 if they are not shown yet
	builds  chan whole       // whole builds that are done
	busy    bool             // one is being made
	due     bool             // one is wanted, as soon as the other is done
	held    *whole           // one with errors, which may be those of half a save
	told    chan findings    // findings that are found
	wait    <-chan time.Time // until the files are still
}

// A whole is a build of all files.
type whole struct {
	turn int // the last change that it knows of
	site *build.Site
	list diag.List
}

type findings struct {
	turn int
	list diag.List
}

// first makes the site for the first time.
func (f *follower) first() {
	f.dirty, f.builds, f.told = map[string]int{}, make(chan whole, 1), make(chan findings, 16)
	f.changed = time.Now()
	var w whole
	w.site, w.list = f.opt.Build()
	f.show(w)
}

// run follows the changes until there are no more.
func (f *follower) run(ctx context.Context, changes <-chan change) {
	for {
		select {
		case c, ok := <-changes:
			if !ok {
				f.settle()
				return
			}
			f.change(c)
		case <-f.wait:
			f.wait = nil
			switch {
			case f.held != nil:
				f.show(*f.held)
			case len(f.dirty) > 0:
				f.start()
			}
		case w := <-f.builds:
			f.busy = false
			f.done(w)
		case told := <-f.told:
			if told.turn == f.turn {
				f.opt.Built(f.shown, told.list)
			}
		}
	}
}

// settle waits for what is still being made.
func (f *follower) settle() {
	if f.busy {
		<-f.builds
	}
}

func (f *follower) change(c change) {
	f.turn++
	f.changed, f.shown, f.held = time.Now(), 0, nil
	for _, p := range c.paths {
		f.dirty[p] = f.turn
	}
	f.wait = time.After(still)
	if c.partial {
		return // until the files are still
	}
	if f.opt.Quick != nil {
		if site, ok := f.opt.Quick(slices.Sorted(maps.Keys(f.dirty))); ok {
			f.server.Show(site, "")
			f.shown = time.Since(f.changed)
			return
		}
	}
	f.start()
}

// start makes a whole build, after the one that is being made.
func (f *follower) start() {
	if f.busy {
		f.due = true
		return
	}
	f.busy, f.due = true, false
	turn := f.turn
	go func() {
		w := whole{turn: turn}
		w.site, w.list = f.opt.Build()
		f.builds <- w
	}()
}

// done takes up a whole build.
func (f *follower) done(w whole) {
	late := w.turn < f.turn // it may not know of the last change
	if !w.list.HasErrors() {
		for p, turn := range f.dirty {
			if turn <= w.turn {
				delete(f.dirty, p)
			}
		}
	}
	switch {
	case late && (f.due || f.wait == nil):
		f.start()
	case late: // the wait that goes on ends with one
	case w.list.HasErrors() && f.wait != nil:
		f.held = &w
	default:
		f.show(w)
	}
}

// show shows a build, or the errors that keep it from being shown.
func (f *follower) show(w whole) {
	f.held = nil
	if w.list.HasErrors() {
		f.server.Show(nil, w.list.Error())
	} else {
		f.server.Show(w.site, "")
	}
	if f.shown == 0 {
		f.shown = time.Since(f.changed)
	}
	switch {
	case f.opt.Built == nil:
	case f.opt.Findings == nil || w.list.HasErrors():
		f.opt.Built(f.shown, w.list)
	default:
		turn := f.turn
		go func() { f.told <- findings{turn, f.opt.Findings()} }()
	}
}
