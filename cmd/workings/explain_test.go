package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The same input gives the same bytes (a property): a figure of many tables of
// readings, whose shares are sums over them. One process runs it often, for
// the order over a map is another each time.
func TestExplainSameBytes(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var sheet, sum strings.Builder
	for i := range 12 {
		var rows strings.Builder
		rows.WriteString("length (mm)\n")
		for j := range 3 + i%5 {
			fmt.Fprintf(&rows, "%d.%d\n", 20+i, (7*i+13*j*j)%97)
		}
		write(fmt.Sprintf("t%d.csv", i), rows.String())
		fmt.Fprintf(&sheet, "t%d = table \"t%d.csv\"\nx%d = readings(t%d.length)\n", i, i, i, i)
		fmt.Fprintf(&sum, " + x%d", i)
	}
	write("manual.toml", "title = \"Fenbank stand\"\nrelease = \"1.0\"\n")
	write("design.calc", sheet.String()+"x ="+strings.TrimPrefix(sum.String(), " +")+"\n")
	var first []byte
	for i := range 200 {
		var out, said bytes.Buffer
		if status := run(env{&out, &said}, []string{"explain", "--format", "json", "x", dir}); status != exitOK {
			t.Fatalf("status %d: %s", status, said.String())
		}
		if i == 0 {
			first = out.Bytes()
			if n := bytes.Count(first, []byte(`"readings of t`)); n != 12 || !bytes.Contains(first, []byte(`"degrees_of_freedom"`)) {
				t.Fatalf("%d tables in\n%s", n, first)
			}
		} else if !bytes.Equal(out.Bytes(), first) {
			t.Fatalf("run %d gives other bytes:\n%s\nthan the first:\n%s", i+1, out.Bytes(), first)
		}
	}
}
