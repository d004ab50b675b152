package browsertest

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/websocket"
)

// firefox drives Firefox over WebDriver BiDi (W3C working draft): commands
// and answers as JSON over a web socket that the browser itself opens.
type firefox struct {
	ws   *websocket.Conn
	tab  string
	into string

	mu      sync.Mutex
	last    int
	waiting map[int]chan answer
	wrong   []string
}

type answer struct {
	ID      int             `json:"id"`
	Type    string          `json:"type"`
	Method  string          `json:"method"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
	Result  json.RawMessage `json:"result"`
	Params  json.RawMessage `json:"params"`
}

func startFirefox(t *testing.T) engine {
	t.Helper()
	f := &firefox{into: t.TempDir(), waiting: map[int]chan answer{}}
	profile := t.TempDir()
	prefs := fmt.Sprintf(`user_pref("browser.download.folderList", 2);
user_pref("browser.download.dir", %q);
user_pref("browser.download.useDownloadDir", true);
user_pref("browser.download.alwaysOpenPanel", false);
user_pref("browser.helperApps.neverAsk.saveToDisk", "text/csv,application/json");
user_pref("app.update.enabled", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("services.settings.server", "data:,");
user_pref("browser.safebrowsing.update.enabled", false);
user_pref("extensions.update.enabled", false);
`, f.into)
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(prefs), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program(t, "firefox", "firefox-esr"), "--headless", "--no-remote", "--profile", profile,
		"--remote-debugging-port", "0", "--remote-allow-origins", "http://127.0.0.1", "about:blank")
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "MOZ_CRASHREPORTER_DISABLE=1")
	out, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
		// Its children may write into the profile for a moment longer.
		for range 50 {
			if os.RemoveAll(profile) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	address := make(chan string, 1)
	go func() {
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			if _, a, ok := strings.Cut(lines.Text(), "BiDi listening on "); ok {
				address <- a
			}
		}
	}()
	select {
	case a := <-address:
		f.ws, err = websocket.Dial(a+"/session", "", "http://127.0.0.1")
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(90 * time.Second):
		t.Fatal("Firefox does not say where it listens")
	}
	f.ws.MaxPayloadBytes = 256 << 20
	go f.listen()
	if _, err := f.call("session.new", map[string]any{"capabilities": map[string]any{}}); err != nil {
		t.Fatal(err)
	}
	res, err := f.call("browsingContext.getTree", map[string]any{})
	if err != nil {
		t.Fatal(err)
	}
	var tree struct {
		Contexts []struct{ Context string }
	}
	if err := json.Unmarshal(res, &tree); err != nil || len(tree.Contexts) == 0 {
		t.Fatalf("no tab: %s %v", res, err)
	}
	f.tab = tree.Contexts[0].Context
	for method, params := range map[string]any{
		"session.subscribe":           map[string]any{"events": []string{"log.entryAdded"}},
		"browsingContext.setViewport": map[string]any{"context": f.tab, "viewport": map[string]any{"width": 1280, "height": 900}},
	} {
		if _, err := f.call(method, params); err != nil {
			t.Fatal(err)
		}
	}
	return f
}

func (f *firefox) listen() {
	for {
		var a answer
		if err := websocket.JSON.Receive(f.ws, &a); err != nil {
			return
		}
		f.mu.Lock()
		switch {
		case a.Type == "event" && a.Method == "log.entryAdded":
			var e struct{ Level, Text, Type string }
			if json.Unmarshal(a.Params, &e) == nil && (e.Level == "error" || e.Level == "warn" || e.Type == "console") {
				f.wrong = append(f.wrong, e.Level+": "+e.Text)
			}
		case f.waiting[a.ID] != nil:
			f.waiting[a.ID] <- a
			delete(f.waiting, a.ID)
		}
		f.mu.Unlock()
	}
}

// call sends a command and waits for its result.
func (f *firefox) call(method string, params any) (json.RawMessage, error) {
	done := make(chan answer, 1)
	f.mu.Lock()
	f.last++
	id := f.last
	f.waiting[id] = done
	err := websocket.JSON.Send(f.ws, map[string]any{"id": id, "method": method, "params": params})
	f.mu.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case a := <-done:
		if a.Error != "" {
			return nil, fmt.Errorf("%s: %s: %s", method, a.Error, a.Message)
		}
		return a.Result, nil
	case <-time.After(90 * time.Second):
		return nil, errors.New(method + ": no answer")
	}
}

func (f *firefox) open(url string) error {
	_, err := f.call("browsingContext.navigate", map[string]any{"context": f.tab, "url": url, "wait": "complete"})
	return err
}

// remote is a value in the page.
type remote struct {
	Type     string
	Value    json.RawMessage
	SharedID string `json:"sharedId"`
}

func (f *firefox) evaluate(js string) (r remote, err error) {
	res, err := f.call("script.evaluate", map[string]any{
		"expression": js, "target": map[string]any{"context": f.tab}, "awaitPromise": true, "userActivation": true,
	})
	if err != nil {
		return r, err
	}
	var out struct {
		Result           remote
		ExceptionDetails struct{ Text string }
	}
	if err := json.Unmarshal(res, &out); err != nil {
		return r, err
	}
	if out.ExceptionDetails.Text != "" {
		return r, errors.New(out.ExceptionDetails.Text)
	}
	return out.Result, nil
}

func (f *firefox) eval(js string) (text string, err error) {
	r, err := f.evaluate("Promise.resolve(" + js + ").then((v) => JSON.stringify(v === undefined ? null : v))")
	if err == nil {
		err = json.Unmarshal(r.Value, &text)
	}
	return text, err
}

// keys presses keys as WebDriver names them (W3C WebDriver, section 17.4.2).
func (f *firefox) keys(text string) error {
	if text == "" {
		return nil
	}
	named := map[string]string{enter: "\ue007", escape: "\ue00c", down: "\ue015", up: "\ue013"}
	var actions []map[string]any
	press := func(k string) map[string]any { return map[string]any{"type": "keyDown", "value": k} }
	release := func(k string) map[string]any { return map[string]any{"type": "keyUp", "value": k} }
	for _, r := range text {
		k := string(r)
		if k == chord {
			actions = append(actions, press("\ue009"), press("/"), release("/"), release("\ue009"))
			continue
		}
		if n, ok := named[k]; ok {
			k = n
		}
		actions = append(actions, press(k), release(k))
	}
	_, err := f.call("input.performActions", map[string]any{"context": f.tab,
		"actions": []any{map[string]any{"type": "key", "id": "keyboard", "actions": actions}}})
	return err
}

func (f *firefox) choose(id, file string) error {
	r, err := f.evaluate("document.getElementById(" + quote(id) + ")")
	if err != nil {
		return err
	}
	_, err = f.call("input.setFiles", map[string]any{"context": f.tab, "element": map[string]any{"sharedId": r.SharedID}, "files": []string{file}})
	return err
}

func (f *firefox) pdf() ([]byte, error) {
	res, err := f.call("browsingContext.print", map[string]any{"context": f.tab, "background": false,
		"page": map[string]any{"width": 21.0, "height": 29.7}})
	if err != nil {
		return nil, err
	}
	var out struct{ Data string }
	if err := json.Unmarshal(res, &out); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(out.Data)
}

func (f *firefox) downloads() string { return f.into }

func (f *firefox) complaints() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.wrong
}

// numbers says that sheets of paper are numbered by the manual itself; boxes in
// the margins of a page are not drawn by Firefox, whose own foot has numbers.
func (f *firefox) numbers() bool { return false }
