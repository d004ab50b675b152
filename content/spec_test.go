package content

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/yuin/goldmark/renderer/html"
)

// TestCommonMark runs the examples of the CommonMark specification (0.31.2,
// as the Markdown parser's module carries them) through our parser: whatever
// is not ours must come out as the specification says.
func TestCommonMark(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/yuin/goldmark").Output()
	if err != nil {
		t.Skip("the go command does not say where the parser's module is")
	}
	raw, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "_test", "spec.json"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the parser's module has no examples")
	}
	if err != nil {
		t.Fatal(err)
	}
	var examples []struct {
		Markdown, HTML, Section string
		Example                 int
	}
	if err := json.Unmarshal(raw, &examples); err != nil {
		t.Fatal(err)
	}
	if len(examples) < 600 {
		t.Fatalf("only %d examples", len(examples))
	}
	md := newMarkdown()
	md.Renderer().AddOptions(html.WithXHTML(), html.WithUnsafe())
	for _, e := range examples {
		var b bytes.Buffer
		if err := md.Convert([]byte(e.Markdown), &b); err != nil {
			t.Fatal(err)
		}
		if got := b.String(); got != e.HTML {
			t.Errorf("example %d (%s)\n%q gives\n%q, want\n%q", e.Example, e.Section, e.Markdown, got, e.HTML)
		}
	}
}
