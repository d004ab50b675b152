//go:build unix

package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The guide is served on loopback until the command is interrupted.
func TestGuideCommand(t *testing.T) {
	out, in := io.Pipe()
	var errs strings.Builder
	status := make(chan int, 1)
	go func() {
		status <- run(env{in, &errs}, []string{"guide"})
		in.Close()
	}()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	address, ok := strings.CutPrefix(strings.TrimSpace(line), "guide: ")
	if !ok || !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("it says %q", line)
	}
	resp, err := http.Get(address + "current/language.html")
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(resp.Body)
	resp.Body.Close()
	if err != nil || resp.StatusCode != http.StatusOK || !strings.Contains(string(body), "language") {
		t.Errorf("%d %v", resp.StatusCode, err)
	}
	// The command asked to be told of the signal, so it does not end the test.
	if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	select {
	case got := <-status:
		if got != exitOK || errs.Len() > 0 {
			t.Errorf("status %d, says %q", got, errs.String())
		}
	case <-time.After(10 * time.Second):
		t.Fatal("an interrupt does not end it")
	}
}
