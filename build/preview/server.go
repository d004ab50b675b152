// Package preview serves a manual from memory to the author's own browser and
// updates the open page as the manual's files change.
package preview

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"html"
	"net"
	"net/http"
	"path"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"workings/build"
	"workings/theme"
)

// Addresses of the preview's own. They hold a character that no page, release
// or asset has in its path.
const (
	scriptPath = "/~preview.js"
	eventsPath = "/~events"
)

// A Server is an http.Handler that serves a site from memory. It answers only
// requests that were addressed to it by name, so that no other page open in
// the browser can read the manual through it.
type Server struct {
	script []byte

	mu      sync.Mutex
	site    *build.Site // the last one that could be built; nil before
	version string      // of site
	style   string      // names the style sheet of site
	inView  string      // the page that was asked for last: the one that its author looks at
	report  string      // why the present files cannot be published; "" if they can
	changed chan struct{}

	streams  atomic.Int64 // of events, open now
	sendTime time.Duration
}

// What one client may take. A page of a manual is sent within milliseconds on
// a machine's own loopback; whoever does not read it in this time never will.
const (
	sendTime   = 20 * time.Second
	maxStreams = 100 // one an open page
)

// NewServer returns a server without a site yet. The script is the one that
// updates open pages.
func NewServer(script []byte) *Server {
	return &Server{script: script, sendTime: sendTime, changed: make(chan struct{})}
}

// Show puts a new site in place and tells every open page. Where the manual
// has errors, site is nil and the report says why: the last good site stays.
func (s *Server) Show(site *build.Site, report string) {
	version, style := "", ""
	if site != nil {
		version = site.Version()
		sheet, _ := site.File(styleSheet)
		style = shortSum(sheet)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if site != nil {
		s.site, s.version, s.style = site, version, style
		// It is made while the browser hears of it and asks.
		if page := s.inView; page != "" {
			go site.Make(page)
		}
	}
	s.report = report
	close(s.changed)
	s.changed = make(chan struct{})
}

// state is what an open page has to know.
type state struct {
	Version string `json:"version"`
	Style   string `json:"style"`
	Report  string `json:"report"`
}

func (s *Server) state() (st state, site *build.Site, changed <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return state{s.version, s.style, s.report}, s.site, s.changed
}

// ServeHTTP serves a file of the site, the script, or the stream of events.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	secure(w.Header())
	// An answer that cannot have a deadline is not from a socket.
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(s.sendTime))
	if !addressed(r) {
		http.Error(w, "this preview answers only its own pages", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "a preview can only be read", http.StatusMethodNotAllowed)
		return
	}
	switch r.URL.Path {
	case scriptPath:
		send(w, r, http.StatusOK, "text/javascript; charset=utf-8", s.script)
	case eventsPath:
		if s.streams.Add(1) > maxStreams {
			s.streams.Add(-1)
			w.Header().Set("Retry-After", "60")
			http.Error(w, "too many pages of this preview are open", http.StatusServiceUnavailable)
			return
		}
		defer s.streams.Add(-1)
		s.events(w, r)
	case "/favicon.ico":
		// Browsers ask for it by themselves, and would complain of a page without.
		w.WriteHeader(http.StatusNoContent)
	default:
		s.page(w, r)
	}
}

func secure(h http.Header) {
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Cache-Control", "no-store")
}

// What a page may load is what it says itself once it is published; as a
// header it also keeps others from showing it in a frame. Other files load
// nothing but the styles that drawings hold.
const (
	publishedPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'"
	pagePolicy      = publishedPolicy + "; frame-ancestors 'none'"
	workingsPolicy  = publishedPolicy + "; frame-ancestors 'self'" // a page reads its workings in a frame
	filePolicy      = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

// addressed reports whether a request names this server. A page elsewhere can
// make a browser send requests here under its own name (by pointing that name
// at the loopback address); their Host or Origin gives them away.
func addressed(r *http.Request) bool {
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	ip, port, err := net.SplitHostPort(local.String())
	if err != nil {
		return false
	}
	toSelf := net.ParseIP(ip).IsLoopback()
	own := func(host string) bool {
		if port == "80" && !strings.HasSuffix(host, ":80") {
			host += ":80" // a browser leaves out the usual port
		}
		return host == local.String() || toSelf && host == "localhost:"+port
	}
	if !own(r.Host) {
		return false
	}
	for _, o := range r.Header.Values("Origin") {
		host, ok := strings.CutPrefix(o, "http://")
		if !ok || !own(host) {
			return false
		}
	}
	return true
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	st, site, _ := s.state()
	if site == nil {
		send(w, r, http.StatusServiceUnavailable, htmlType, plainPage(st, "The manual cannot be shown yet", st.Report))
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	data, ok, err := site.Make(name)
	if err != nil {
		send(w, r, http.StatusInternalServerError, htmlType, plainPage(st, "This page cannot be made", err.Error()+"\n"))
		return
	}
	if !ok {
		if site.Has(name + "/index.html") {
			// The address is built from a path that the site holds, so it
			// cannot lead elsewhere.
			http.Redirect(w, r, "/"+name+"/", http.StatusFound)
			return
		}
		send(w, r, http.StatusNotFound, htmlType, plainPage(st, "There is no such page", "The manual has no page at "+r.URL.Path+"\n"))
		return
	}
	kind := typeOf(name)
	if kind == htmlType {
		if !isWorkings(name) { // which the page in view asks for
			s.mu.Lock()
			s.inView = name
			s.mu.Unlock()
		}
		// An open page asks whether it is still the same.
		tag := shortSum(data)
		w.Header().Set("ETag", `"`+tag+`"`)
		if r.Header.Get("If-None-Match") == `"`+tag+`"` {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		data = inject(data, st.Version, tag)
	}
	send(w, r, http.StatusOK, kind, data)
}

func send(w http.ResponseWriter, r *http.Request, status int, kind string, data []byte) {
	w.Header().Set("Content-Type", kind)
	if kind == htmlType {
		policy := pagePolicy
		if isWorkings(r.URL.Path) {
			policy = workingsPolicy
		}
		w.Header().Set("Content-Security-Policy", policy)
	}
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		w.Write(data)
	}
}

func isWorkings(path string) bool { return strings.HasSuffix(path, theme.WorkingsSuffix) }

// styleSheet is the one that all pages of a site share.
const styleSheet = "assets/style.css"

func shortSum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// inject puts the script into a page on its way out: what is published never
// holds it.
func inject(page []byte, version, sum string) []byte {
	tag := `<script src="` + scriptPath + `" data-version="` + html.EscapeString(version) + `" data-sum="` + html.EscapeString(sum) + `" defer></script>`
	i := bytes.Index(page, []byte("</head>"))
	if i < 0 {
		return append(bytes.Clone(page), tag...)
	}
	out := make([]byte, 0, len(page)+len(tag))
	out = append(out, page[:i]...)
	out = append(out, tag...)
	return append(out, page[i:]...)
}

// plainPage is what is shown where the site has nothing to show. It follows
// the manual as its other pages do.
func plainPage(st state, title, text string) []byte {
	return inject([]byte("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>"+title+"</title>"+
		"<meta name=\"viewport\" content=\"width=device-width\"></head>\n<body><main data-plain><h1>"+title+"</h1>\n<pre>"+
		html.EscapeString(text)+"</pre>\n<p><a href=\"/\">To the cover</a></p></main></body></html>\n"), st.Version, "")
}

const htmlType = "text/html; charset=utf-8"

// types is a table of our own: the system's would differ between machines.
var types = map[string]string{
	".html": htmlType, ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".csv": "text/csv; charset=utf-8", ".txt": "text/plain; charset=utf-8",
	".sha256": "text/plain; charset=utf-8", ".toml": "text/plain; charset=utf-8", ".xml": "application/xml",
	".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg",
	".gif": "image/gif", ".webp": "image/webp", ".avif": "image/avif", ".woff2": "font/woff2",
	".pdf": "application/pdf", ".zip": "application/zip", ".wasm": "application/wasm",
}

func typeOf(name string) string {
	if t, ok := types[strings.ToLower(path.Ext(name))]; ok {
		return t
	}
	return "application/octet-stream"
}
