package preview

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"syscall"
	"testing"
	"time"
)

// dial opens a connection to a preview and says something.
func dial(t *testing.T, r *running, say string) net.Conn {
	t.Helper()
	c, err := net.DialTimeout("tcp4", strings.Trim(strings.TrimPrefix(r.address, "http://"), "/"), 20*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if _, err := io.WriteString(c, say); err != nil {
		t.Fatal(err)
	}
	return c
}

// A thousand connections that say nothing, or only half of what they want, do
// not keep the author from the manual for longer than they may take.
func TestPreviewThousandConnections(t *testing.T) {
	var files syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &files); err == nil && files.Cur < 3000 {
		t.Skipf("this system lets a program open %d files, too few for a thousand connections at both ends", files.Cur)
	}
	r := start(t)
	for i := range 1000 {
		say := ""
		if i%2 == 1 {
			say = "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "
		}
		dial(t, r, say)
	}
	begun := time.Now()
	client := &http.Client{Timeout: 4 * headTime}
	resp, err := client.Get(r.address)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		t.Errorf("it answers %s", resp.Status)
	}
	t.Logf("answered after %v", time.Since(begun))
	begun = time.Now()
	r.stop()
	select {
	case err := <-r.ended:
		r.ended <- err
	case <-time.After(10 * time.Second):
		t.Fatal("it does not end")
	}
	if took := time.Since(begun); took > 2*time.Second {
		t.Errorf("it took %v to end", took)
	}
}

// A client that sends its request byte by byte is cut off.
func TestPreviewSlowRequest(t *testing.T) {
	r := start(t)
	c := dial(t, r, "GET / HTTP/1.1\r\n")
	begun := time.Now()
	for time.Since(begun) < 4*headTime {
		if _, err := io.WriteString(c, "X"); err != nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Errorf("a request is still awaited after %v", time.Since(begun))
}

// Pages that follow the preview are counted.
func TestPreviewStreams(t *testing.T) {
	r := start(t)
	host := strings.Trim(strings.TrimPrefix(r.address, "http://"), "/")
	ask := fmt.Sprintf("GET %s HTTP/1.1\r\nHost: %s\r\n\r\n", eventsPath, host)
	for i := range maxStreams + 1 {
		line, err := bufio.NewReader(dial(t, r, ask)).ReadString('\n')
		want := "200"
		if i == maxStreams {
			want = "503"
		}
		if err != nil || !strings.Contains(line, want) {
			t.Fatalf("stream %d: %q, %v", i+1, line, err)
		}
	}
}

// What a browser would tidy up is sent as it stands: no file of the system
// comes back, nor a list of a folder.
func TestPreviewEscapes(t *testing.T) {
	r := start(t)
	host := strings.Trim(strings.TrimPrefix(r.address, "http://"), "/")
	for _, path := range []string{"/../../../../etc/passwd", "/..%2f..%2fetc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/1.0/../../manual.toml",
		"/manual.toml", "/1.0/..\\..\\manual.toml", "//etc/passwd", "/assets/", "/1.0/pictures/", "/.git/config", "/%00"} {
		c := dial(t, r, fmt.Sprintf("GET %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", path, host))
		all, err := io.ReadAll(c)
		if err != nil && !errors.Is(err, syscall.ECONNRESET) {
			t.Fatal(err)
		}
		status, _, _ := strings.Cut(string(all), "\r\n")
		if !strings.Contains(status, " 404 ") && !strings.Contains(status, " 400 ") {
			t.Errorf("%s answers %q", path, status)
		}
		if strings.Contains(string(all), "root:") || strings.Contains(string(all), "release = ") {
			t.Errorf("%s gives a file away:\n%s", path, all)
		}
	}
	for _, head := range []string{"Host: manual.example", "Host: " + host + "\r\nOrigin: http://example.org", "Host: " + host + "\r\nOrigin: null"} {
		line, err := bufio.NewReader(dial(t, r, "GET / HTTP/1.1\r\n"+head+"\r\n\r\n")).ReadString('\n')
		if err != nil || !strings.Contains(line, "403") {
			t.Errorf("%q: %q, %v", head, line, err)
		}
	}
}

// A page that only listens is not taken for one that is slow to ask.
func TestPreviewStreamLasts(t *testing.T) {
	r := start(t)
	r.listen(t)
	first := r.next(t)
	time.Sleep(headTime + time.Second)
	write(t, r.dir, "pages/10-start.md", "# Start\n\nAnother text.\n")
	for st := r.next(t); st.Version == first.Version; st = r.next(t) {
	}
}

// A client that does not read what it asked for is let go.
func TestServerSlowReader(t *testing.T) {
	s, web := serve(t)
	s.sendTime = 300 * time.Millisecond
	const size = 64 << 20
	s.Show(siteOf(map[string]string{"big.csv": strings.Repeat("x", size)}), "")
	c, err := net.Dial("tcp4", strings.TrimPrefix(web.URL, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "GET /big.csv HTTP/1.1\r\nHost: %s\r\n\r\n", strings.TrimPrefix(web.URL, "http://"))
	time.Sleep(4 * s.sendTime)
	if n, _ := io.Copy(io.Discard, c); n >= size {
		t.Errorf("all %d bytes were kept for it", n)
	}
}
