package preview

import (
	"context"
	"testing"
	"testing/synctest"
	"time"

	"workings/build"
	"workings/calc/diag"
)

// A following is a follower whose files are a text: the page; "bad" is one
// with an error.
type following struct {
	t       *testing.T
	text    string
	quick   bool // Quick knows what to do
	server  *Server
	changes chan change
	builds  int
}

func follow(t *testing.T, do func(f *following)) {
	synctest.Test(t, func(t *testing.T) {
		f := &following{t: t, text: "first", quick: true, server: NewServer(nil), changes: make(chan change)}
		run := follower{server: f.server, opt: Options{
			Build: func() (*build.Site, diag.List) {
				f.builds++
				text := f.text
				time.Sleep(30 * time.Millisecond)
				if text == "bad" {
					var list diag.List
					list.Add(diag.Span{}, "x", "it is bad")
					return nil, list
				}
				return siteOf(map[string]string{"index.html": text}), nil
			},
			Quick: func([]string) (*build.Site, bool) {
				return siteOf(map[string]string{"index.html": "quick " + f.text}), f.quick && f.text != "bad"
			},
		}}
		run.first()
		ctx, stop := context.WithCancel(context.Background())
		done := make(chan bool)
		go func() {
			run.run(ctx, f.changes)
			close(done)
		}()
		do(f)
		close(f.changes)
		stop()
		<-done
	})
}

// save changes the text, in one step or in the first of several.
func (f *following) save(text string, partial bool) {
	f.text = text
	f.changes <- change{[]string{"pages/a.md"}, partial}
	synctest.Wait()
}

func (f *following) after(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

// shows says what an open page shows now.
func (f *following) shows(when, page string, report bool) {
	f.t.Helper()
	st, site, _ := f.server.state()
	data, _ := site.File("index.html")
	if string(data) != page || (st.Report != "") != report {
		f.t.Errorf("%s: the page reads %q, the report %q", when, data, st.Report)
	}
}

func TestFollowQuickThenWhole(t *testing.T) {
	follow(t, func(f *following) {
		f.shows("at the start", "first", false)
		f.save("second", false)
		f.shows("at once", "quick second", false)
		f.after(still + 31*time.Millisecond)
		f.shows("when the files are still", "second", false)
		if f.builds != 2 {
			t.Errorf("%d whole builds", f.builds)
		}
	})
}

func TestFollowWholeAtOnceWhereNothingIsQuick(t *testing.T) {
	follow(t, func(f *following) {
		f.quick = false
		f.save("second", false)
		f.after(31 * time.Millisecond)
		f.shows("once it is built", "second", false)
		f.save("third", false)
		f.after(10 * time.Millisecond)
		f.save("fourth", false) // while the third is built
		f.after(60 * time.Millisecond)
		f.shows("once both are built", "fourth", false)
	})
}

// An error is shown once the files are still; that of half a save never is.
func TestFollowHoldsErrors(t *testing.T) {
	follow(t, func(f *following) {
		f.save("bad", false)
		f.after(100 * time.Millisecond)
		f.shows("soon after a mistake", "first", false)
		f.save("good", false)
		f.shows("mended", "quick good", false)
		for range 30 {
			f.after(10 * time.Millisecond)
			if st, _, _ := f.server.state(); st.Report != "" {
				t.Fatal("the mistake of half a save is reported")
			}
		}
		f.shows("in the end", "good", false)

		f.save("bad", false)
		f.after(still + time.Millisecond)
		f.shows("when the files are still", "good", true)
		f.save("better", false)
		f.shows("mended at last", "quick better", false)
	})
}

// A file that is gone or empty for a moment is no page.
func TestFollowWaitsForTheRestOfASave(t *testing.T) {
	follow(t, func(f *following) {
		f.save("", true)
		f.after(20 * time.Millisecond)
		f.shows("between two steps", "first", false)
		f.save("second", false)
		f.shows("after the second", "quick second", false)
		f.after(200 * time.Millisecond)
		f.save("", true)
		f.after(still + 40*time.Millisecond)
		f.shows("emptied for good", "", false)
	})
}
