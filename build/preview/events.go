package preview

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// beat is how often a silent stream shows that it is alive, so that both sides
// notice when the other is gone.
const beat = 20 * time.Second

// events streams the state as server-sent events: once at the start, so that
// a page that missed a change catches up, and at each change.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return
	}
	out := http.NewResponseController(w)
	_ = out.SetReadDeadline(time.Time{}) // nothing more is to come, and that for as long as the page is open
	alive := time.NewTicker(beat)
	defer alive.Stop()
	for {
		st, _, changed := s.state()
		data, err := json.Marshal(st)
		if err != nil {
			return
		}
		_ = out.SetWriteDeadline(time.Now().Add(s.sendTime))
		if _, err := fmt.Fprintf(w, "event: state\ndata: %s\n\n", data); err != nil || out.Flush() != nil {
			return
		}
		for waiting := true; waiting; {
			select {
			case <-r.Context().Done():
				return
			case <-changed:
				waiting = false
			case <-alive.C:
				_ = out.SetWriteDeadline(time.Now().Add(s.sendTime))
				if _, err := fmt.Fprint(w, ": alive\n\n"); err != nil || out.Flush() != nil {
					return
				}
			}
		}
	}
}
