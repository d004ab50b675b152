package preview

import (
	"bufio"
	"context"
	"encoding/json"
	"html"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"testing"
	"time"

	"workings/build"
)

// A running is a preview of a real folder.
type running struct {
	dir, address string
	states       chan state
	stop         func()
	ended        chan error
}

const manualTOML = "title = \"Fenbank stand\"\nrelease = \"1.0\"\n"

// start previews a small manual until the test ends.
func start(t *testing.T) *running {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "manual.toml", manualTOML)
	write(t, dir, "design.calc", "bed_x = 220 mm   # width of the bed\nhalf = bed_x / 2   # half of it\n")
	write(t, dir, "pages/10-start.md", "# Start\n\nThe bed is {= bed_x} wide, half of that is {= half}.\n")
	return startIn(t, dir)
}

func startIn(t testing.TB, dir string) *running {
	t.Helper()
	script, err := build.Script()
	if err != nil {
		t.Fatal(err)
	}
	l, err := Listen(Loopback, 0)
	if err != nil {
		t.Fatal(err)
	}
	live := build.NewLive(func() (build.Source, func() error, error) { return build.OpenDir(dir) },
		build.Options{Tool: build.Tool{Name: "workings", Version: "test"}})
	ctx, stop := context.WithCancel(context.Background())
	r := &running{dir: dir, stop: stop, ended: make(chan error, 1), states: make(chan state, 100)}
	ready := make(chan string, 1)
	go func() {
		r.ended <- Run(ctx, l, Options{
			Dir: dir, Script: script,
			Build: live.Build, Quick: live.Quick,
			Ready: func(a string) { ready <- a },
		})
	}()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-r.ended:
			if err != nil {
				t.Errorf("the preview ended with %v", err)
			}
		case <-time.After(10 * time.Second):
			t.Error("the preview does not end")
		}
	})
	select {
	case r.address = <-ready:
	case err := <-r.ended:
		t.Fatal(err)
	case <-time.After(30 * time.Second):
		t.Fatal("the preview is not ready")
	}
	return r
}

// listen follows the stream of events as a page does.
func (r *running) listen(t *testing.T) {
	t.Helper()
	resp, err := http.Get(r.address + strings.TrimPrefix(eventsPath, "/"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { resp.Body.Close() })
	go func() {
		lines := bufio.NewScanner(resp.Body)
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				var st state
				if json.Unmarshal([]byte(data), &st) == nil {
					r.states <- st
				}
			}
		}
		close(r.states)
	}()
}

func (r *running) next(t *testing.T) state {
	t.Helper()
	select {
	case st, ok := <-r.states:
		if !ok {
			t.Fatal("the stream of events ended")
		}
		return st
	case <-time.After(30 * time.Second):
		t.Fatal("no event came")
	}
	panic("unreachable")
}

func (r *running) page(t *testing.T, path string) string {
	t.Helper()
	resp, err := http.Get(r.address + path)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	var b strings.Builder
	if _, err := bufio.NewReader(resp.Body).WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPreviewFollowsFiles(t *testing.T) {
	r := start(t)
	r.listen(t)
	first := r.next(t)
	if first.Report != "" || !strings.Contains(r.page(t, "1.0/start.html"), "220") {
		t.Fatalf("the first page: %+v", first)
	}

	// Saved as editors do: written beside, renamed over.
	write(t, r.dir, "design.calc.new", "bed_x = 246 mm   # width of the bed\nhalf = bed_x / 2   # half of it\n")
	rename(t, r.dir, "design.calc.new", "design.calc")
	st := r.next(t)
	for st.Version == first.Version { // the first step of the save may have been seen alone
		st = r.next(t)
	}
	if page := r.page(t, "1.0/start.html"); !strings.Contains(page, "246") || !strings.Contains(page, "123") {
		t.Errorf("the page does not show the new numbers:\n%s", page)
	}

	// Broken: the report names the place, the last good page stays.
	good := st
	write(t, r.dir, "pages/10-start.md", "# Start\n\nThe bed is {= bed_z} wide.\n")
	st = r.next(t)
	for _, w := range []string{"pages/10-start.md:3:", "bed_z", "^^^"} {
		if !strings.Contains(st.Report, w) {
			t.Errorf("the report lacks %q: %q", w, st.Report)
		}
	}
	if st.Version != good.Version || !strings.Contains(r.page(t, "1.0/start.html"), "246") {
		t.Error("the last good page is gone")
	}

	// Mended.
	write(t, r.dir, "pages/10-start.md", "# Start\n\nThe bed is {= bed_x} wide, at last.\n")
	if st = r.next(t); st.Report != "" || st.Version == good.Version {
		t.Errorf("after mending: %+v", st)
	}
	if !strings.Contains(r.page(t, "1.0/start.html"), "at last") {
		t.Error("the mended page is not shown")
	}
}

// A manual that is broken from the start is served as soon as it is mended.
func TestPreviewStartsBroken(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "pages/10-start.md", "# Start\n")
	r := startIn(t, dir)
	r.listen(t)
	if st := r.next(t); st.Version != "" || !strings.Contains(st.Report, "manual.toml") {
		t.Errorf("the first state: %+v", st)
	}
	if page := r.page(t, ""); !strings.Contains(page, "manual.toml") || !strings.Contains(page, scriptPath) {
		t.Errorf("the report is not shown: %s", page)
	}
	write(t, dir, "manual.toml", manualTOML)
	write(t, dir, "design.calc", "x = 1 mm\n")
	st := r.next(t)
	for st.Report != "" {
		st = r.next(t)
	}
	if page := r.page(t, "1.0/start.html"); !strings.Contains(page, "Start") {
		t.Error("the mended manual is not shown")
	}
}

func TestPreviewEndsStreams(t *testing.T) {
	r := start(t)
	r.listen(t)
	r.next(t)
	begun := time.Now()
	r.stop()
	for range r.states {
	}
	if took := time.Since(begun); took > 5*time.Second {
		t.Errorf("it took %v to end", took)
	}
}

func TestListenTakesNextPort(t *testing.T) {
	first, err := Listen(Loopback, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	second, err := Listen(Loopback, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if first.Addr().String() == second.Addr().String() {
		t.Error("two previews listen on one port")
	}
	if !strings.HasPrefix(first.Addr().String(), "127.0.0.1:") {
		t.Errorf("listens on %v", first.Addr())
	}
	port := first.Addr().(*net.TCPAddr).Port
	if l, err := Listen(Loopback, port); err == nil {
		l.Close()
		t.Error("a port that is taken was taken again")
	} else if !strings.Contains(err.Error(), "taken by another program") {
		t.Error(err)
	}
}

// As a header, the policy of a page is the one that it has itself once it is
// published, and forbids frames, which a page cannot do by itself, but for the
// workings, which its own pages read in one.
func TestPreviewPolicy(t *testing.T) {
	r := start(t)
	get := func(path string) (policy, body string) {
		resp, err := http.Get(r.address + path)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		data, err := io.ReadAll(resp.Body)
		if err != nil {
			t.Fatal(err)
		}
		return resp.Header.Get("Content-Security-Policy"), string(data)
	}
	policy, page := get("1.0/start.html")
	_, meta, ok := strings.Cut(page, `<meta http-equiv="Content-Security-Policy" content="`)
	meta, _, closed := strings.Cut(meta, `"`)
	if !ok || !closed || policy != html.UnescapeString(meta)+"; frame-ancestors 'none'" {
		t.Errorf("the header says\n%s\nand the page\n%s", policy, meta)
	}
	if policy, _ := get("1.0/start.workings.html"); policy != html.UnescapeString(meta)+"; frame-ancestors 'self'" {
		t.Errorf("the workings have the policy %q", policy)
	}
	for _, path := range []string{"none.html", "1.0/figures.json", strings.TrimPrefix(scriptPath, "/")} {
		policy, _ := get(path)
		if !strings.HasPrefix(policy, "default-src 'none'; ") || !strings.Contains(policy, "frame-ancestors 'none'") {
			t.Errorf("%s has the policy %q", path, policy)
		}
	}
}

// On another address of this computer, that address is the only name.
func TestListenElsewhere(t *testing.T) {
	for _, ip := range []string{"127.0.0.2", "::1"} {
		l, err := Listen(netip.MustParseAddr(ip), 0)
		if err != nil {
			t.Skipf("this system has no %s: %v", ip, err)
		}
		s := NewServer(nil)
		s.Show(siteOf(map[string]string{"index.html": "x"}), "")
		web := &http.Server{Handler: s}
		go web.Serve(l)
		own := l.Addr().String()
		_, port, _ := net.SplitHostPort(own)
		for host, want := range map[string]int{own: 200, "127.0.0.1:" + port: 403, "manual.example:" + port: 403, "0.0.0.0:" + port: 403} {
			r, err := http.NewRequest("GET", "http://"+own+"/", nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Host = host
			resp, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			resp.Body.Close()
			if resp.StatusCode != want {
				t.Errorf("on %s, %s answers %d, want %d", own, host, resp.StatusCode, want)
			}
		}
		web.Close()
	}
	if _, err := Listen(netip.MustParseAddr("192.0.2.1"), 0); err == nil || !strings.Contains(err.Error(), "no address 192.0.2.1") {
		t.Errorf("an address of others (RFC 5737): %v", err)
	}
}
