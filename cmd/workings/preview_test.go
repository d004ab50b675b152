//go:build unix

package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The preview says where it is, serves the manual there, and ends cleanly when
// it is interrupted.
func TestPreviewCommand(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"manual.toml":       "title = \"Fenbank stand\"\nrelease = \"1.0\"\n",
			"design.calc":       "bed_x = 220 mm   # width\n",
			"pages/10-start.md": "# Start\n\nThe bed is {= bed_x} wide.\n",
		} {
			path := filepath.Join(dir, name)
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		out, in := io.Pipe()
		var errs strings.Builder
		status := make(chan int, 1)
		go func() {
			status <- run(env{in, &errs}, []string{"preview", dir})
			in.Close()
		}()
		line, err := bufio.NewReader(out).ReadString('\n')
		if err != nil {
			t.Fatalf("%v\n%s", err, errs.String())
		}
		address, ok := strings.CutPrefix(strings.TrimSpace(line), "preview: ")
		if !ok || !strings.HasPrefix(address, "http://127.0.0.1:") {
			t.Fatalf("it says %q", line)
		}
		resp, err := http.Get(address + "1.0/start.html")
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || resp.StatusCode != 200 || !strings.Contains(string(body), "220") {
			t.Errorf("%d %v: %s", resp.StatusCode, err, body)
		}
		// The command asked to be told of the signal, so it does not end the test.
		if err := syscall.Kill(os.Getpid(), sig); err != nil {
			t.Fatal(err)
		}
		select {
		case got := <-status:
			if got != exitOK || errs.Len() > 0 {
				t.Errorf("%v: status %d, says %q", sig, got, errs.String())
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("%v does not end it", sig)
		}
	}
}
