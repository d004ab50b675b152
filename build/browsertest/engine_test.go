package browsertest

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"
)

// An engine is a browser without a window, with one page open.
type engine interface {
	open(url string) error
	// eval gives the value of an expression, once it is settled, as JSON.
	eval(js string) (string, error)
	// keys presses keys; enter, escape, down, up and the chord of the search
	// are single characters.
	keys(text string) error
	// choose puts a file into the field with an id.
	choose(id, file string) error
	// pdf prints the page.
	pdf() ([]byte, error)
	// downloads is the folder that saved files come into.
	downloads() string
	// complaints are what the browser has said of pages so far.
	complaints() []string
}

const (
	enter  = "\r"
	escape = "\x1b"
	down   = "\u2193"
	up     = "\u2191"
	chord  = "\u2303" // control and stroke
)

// engines are the browsers that every test runs in.
var engines = []struct {
	name  string
	start func(*testing.T) engine
}{{"chromium", startChromium}, {"firefox", startFirefox}}

// inEach runs a test in each browser.
func inEach(t *testing.T, f func(*testing.T, *tab)) {
	for _, e := range engines {
		t.Run(e.name, func(t *testing.T) { f(t, &tab{t: t, engine: e.start(t)}) })
	}
}

// program finds the first of some programs. Where there is none the test is
// left out, except where it counts.
func program(t *testing.T, names ...string) string {
	t.Helper()
	for _, n := range names {
		if p, err := exec.LookPath(n); err == nil {
			return p
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("there is no %s, and pages must be tried here", names[0])
	}
	t.Skipf("there is no %s on this machine: pages are not tried with it", names[0])
	return ""
}

// A tab is what a test does with a browser.
type tab struct {
	t *testing.T
	engine
}

func (p *tab) goTo(url string) {
	p.t.Helper()
	if err := p.open(url); err != nil {
		p.t.Fatalf("%s: %v", url, err)
	}
}

// value evaluates an expression in the page.
func value[T any](p *tab, js string) (v T) {
	p.t.Helper()
	text, err := p.eval(js)
	if err == nil {
		err = json.Unmarshal([]byte(text), &v)
	}
	if err != nil {
		p.t.Fatalf("%s: %v", js, err)
	}
	return v
}

// until waits until an expression holds in the page.
func (p *tab) until(js string) {
	p.t.Helper()
	var err error
	var text string
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if text, err = p.eval("!!(" + js + ")"); err == nil && text == "true" {
			return
		}
	}
	body, _ := p.eval("document.body.innerText.slice(0, 3000)")
	p.t.Fatalf("it does not come to hold: %s (%v)\nthe page:\n%s", js, err, body)
}

func (p *tab) press(text string) {
	p.t.Helper()
	if err := p.keys(text); err != nil {
		p.t.Fatal(err)
	}
}

// run evaluates for its effect.
func (p *tab) run(js string) {
	p.t.Helper()
	if _, err := p.eval("(() => {" + js + "; return 1})()"); err != nil {
		p.t.Fatalf("%s: %v", js, err)
	}
}

func (p *tab) quiet() {
	p.t.Helper()
	for _, c := range p.complaints() {
		if strings.HasSuffix(c, "/favicon.ico") {
			continue // browsers ask for it by themselves
		}
		p.t.Errorf("the browser says: %s", c)
	}
}

// saved waits for a file to be downloaded and gives its text.
func (p *tab) saved(name string) string {
	p.t.Helper()
	path := p.downloads() + "/" + name
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		parts, _ := os.ReadDir(p.downloads())
		busy := false
		for _, f := range parts {
			busy = busy || strings.HasSuffix(f.Name(), ".part") || strings.HasSuffix(f.Name(), ".crdownload")
		}
		if data, err := os.ReadFile(path); err == nil && len(data) > 0 && !busy {
			return string(data)
		}
	}
	p.t.Fatalf("%s was not saved", name)
	return ""
}

func quote(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(fmt.Sprint("cannot happen: ", err))
	}
	return string(b)
}

// number writes a number as a builder would type it.
func number(x float64) string { return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64) }

// comma writes a number with a decimal comma.
func comma(s string) string {
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return strings.Replace(s, ".", ",", 1)
}

// semicolons rewrites a CSV file as a spreadsheet does where the comma is the
// decimal sign.
func semicolons(text string) string {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	rows, err := r.ReadAll()
	if err != nil {
		return err.Error()
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = ';'
	w.WriteAll(rows)
	return b.String()
}
