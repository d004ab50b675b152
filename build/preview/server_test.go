package preview

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"workings/build"
)

func siteOf(files map[string]string) *build.Site {
	s, err := build.NewSite(files)
	if err != nil {
		panic(err)
	}
	return s
}

func serve(t *testing.T) (*Server, *httptest.Server) {
	t.Helper()
	s := NewServer([]byte("// script\n"))
	web := httptest.NewServer(s)
	t.Cleanup(func() {
		web.CloseClientConnections()
		web.Close()
	})
	return s, web
}

type answer struct {
	status int
	body   string
	header http.Header
}

func ask(t *testing.T, web *httptest.Server, method, path string, change func(*http.Request)) answer {
	t.Helper()
	r, err := http.NewRequest(method, web.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(r)
	}
	c := web.Client()
	c.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	resp, err := c.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer{resp.StatusCode, string(body), resp.Header}
}

func TestServerPages(t *testing.T) {
	s, web := serve(t)
	if got := ask(t, web, "GET", "/", nil); got.status != 503 || !strings.Contains(got.body, scriptPath) {
		t.Errorf("before the first build: %d %q", got.status, got.body)
	}
	page := "<!doctype html><html><head><title>x</title></head><body><main>x</main></body></html>"
	s.Show(siteOf(map[string]string{"index.html": page, "1.0/index.html": page, "1.0/figures.json": "{}", "assets/a.css": "a{}"}), "")
	for path, want := range map[string]struct {
		status int
		kind   string
	}{
		"/":                  {200, "text/html; charset=utf-8"},
		"/index.html":        {200, "text/html; charset=utf-8"},
		"/1.0/":              {200, "text/html; charset=utf-8"},
		"/1.0":               {302, ""},
		"/1.0/figures.json":  {200, "application/json"},
		"/assets/a.css":      {200, "text/css; charset=utf-8"},
		"/assets/a.css?v=1":  {200, "text/css; charset=utf-8"},
		"/~preview.js":       {200, "text/javascript; charset=utf-8"},
		"/none.html":         {404, "text/html; charset=utf-8"},
		"/assets/":           {404, "text/html; charset=utf-8"},
		"/../../etc/passwd":  {404, "text/html; charset=utf-8"},
		"/%2e%2e/etc/passwd": {404, "text/html; charset=utf-8"},
		"//example.org":      {404, "text/html; charset=utf-8"},
	} {
		got := ask(t, web, "GET", path, nil)
		if got.status != want.status || want.kind != "" && got.header.Get("Content-Type") != want.kind {
			t.Errorf("%s: %d %s, want %d %s", path, got.status, got.header.Get("Content-Type"), want.status, want.kind)
		}
		if got.header.Get("X-Content-Type-Options") != "nosniff" || got.header.Get("Content-Security-Policy") == "" {
			t.Errorf("%s: security headers are missing: %v", path, got.header)
		}
	}
	if got := ask(t, web, "GET", "/1.0", nil); got.header.Get("Location") != "/1.0/" {
		t.Errorf("redirects to %q", got.header.Get("Location"))
	}
	if got := ask(t, web, "GET", "/", nil); strings.Count(got.body, scriptPath) != 1 || !strings.Contains(got.body, scriptPath+`" data-version="`) {
		t.Errorf("the script is not in the page: %q", got.body)
	}
	if got := ask(t, web, "HEAD", "/", nil); got.status != 200 || got.body != "" {
		t.Errorf("HEAD: %d %q", got.status, got.body)
	}
}

// An unknown address is written into the page that says so; it must stay text.
func TestServerEscapes(t *testing.T) {
	s, web := serve(t)
	s.Show(siteOf(map[string]string{"index.html": "x"}), "")
	if got := ask(t, web, "GET", "/%3Cscript%3Ealert(1)%3C/script%3E", nil); strings.Contains(got.body, "<script>alert") {
		t.Errorf("got %q", got.body)
	}
}

func TestServerRefusesOthers(t *testing.T) {
	s, web := serve(t)
	s.Show(siteOf(map[string]string{"index.html": "x"}), "")
	port := web.URL[strings.LastIndexByte(web.URL, ':'):]
	for name, c := range map[string]struct {
		change func(*http.Request)
		want   int
	}{
		"by address":          {func(r *http.Request) { r.Host = "127.0.0.1" + port }, 200},
		"by name":             {func(r *http.Request) { r.Host = "localhost" + port }, 200},
		"another name":        {func(r *http.Request) { r.Host = "manual.example" + port }, 403},
		"no port":             {func(r *http.Request) { r.Host = "127.0.0.1" }, 403},
		"another port":        {func(r *http.Request) { r.Host = "127.0.0.1:1" }, 403},
		"own page":            {func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1"+port) }, 200},
		"another page":        {func(r *http.Request) { r.Header.Set("Origin", "http://example.org") }, 403},
		"page on disk":        {func(r *http.Request) { r.Header.Set("Origin", "null") }, 403},
		"another port's page": {func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") }, 403},
	} {
		for _, path := range []string{"/", eventsPath, scriptPath} {
			if path == eventsPath && c.want == 200 {
				continue // would stream
			}
			if got := ask(t, web, "GET", path, c.change); got.status != c.want {
				t.Errorf("%s: %s answers %d, want %d", name, path, got.status, c.want)
			}
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS"} {
		if got := ask(t, web, method, "/", nil); got.status != 405 {
			t.Errorf("%s answers %d", method, got.status)
		}
	}
}

// Browsers name no port where it is the usual one.
func TestServerUsualPort(t *testing.T) {
	for _, c := range []struct {
		at, host, origin string
		want             bool
	}{
		{"127.0.0.1:80", "127.0.0.1", "", true},
		{"127.0.0.1:80", "127.0.0.1:80", "http://127.0.0.1", true},
		{"127.0.0.1:80", "localhost", "http://localhost", true},
		{"[::1]:80", "[::1]", "http://[::1]", true},
		{"127.0.0.1:80", "manual.example", "", false},
		{"127.0.0.1:80", "127.0.0.1", "http://manual.example", false},
		{"127.0.0.1:80", "127.0.0.1:8017", "", false},
		{"127.0.0.1:8017", "127.0.0.1", "", false},
		{"127.0.0.1:8017", "127.0.0.1:80", "", false},
	} {
		at, err := net.ResolveTCPAddr("tcp", c.at)
		if err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequest("GET", "/", nil)
		r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, net.Addr(at)))
		r.Host = c.host
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		if got := addressed(r); got != c.want {
			t.Errorf("at %s, host %q, origin %q: %v", c.at, c.host, c.origin, got)
		}
	}
}

func TestServerEvents(t *testing.T) {
	s, web := serve(t)
	s.Show(siteOf(map[string]string{"index.html": "one"}), "")
	resp, err := http.Get(web.URL + eventsPath)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if kind := resp.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Errorf("the stream is %s", kind)
	}
	lines := bufio.NewScanner(resp.Body)
	next := func() (st state) {
		t.Helper()
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				if err := json.Unmarshal([]byte(data), &st); err != nil {
					t.Fatal(err)
				}
				return st
			}
		}
		t.Fatal("the stream ended")
		return st
	}
	first := next()
	if first.Version == "" || first.Report != "" {
		t.Errorf("first state: %+v", first)
	}
	s.Show(nil, "pages/1-a.md:1:1: error: broken\n")
	if st := next(); st.Version != first.Version || !strings.Contains(st.Report, "broken") {
		t.Errorf("with an error: %+v", st)
	}
	if got := ask(t, web, "GET", "/", nil); !strings.HasPrefix(got.body, "one") {
		t.Errorf("the last good site is gone: %q", got.body)
	}
	s.Show(siteOf(map[string]string{"index.html": "two"}), "")
	if st := next(); st.Version == first.Version || st.Report != "" {
		t.Errorf("after mending: %+v", st)
	}
}
