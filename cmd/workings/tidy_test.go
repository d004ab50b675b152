package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

// Line ends, a byte order mark and what is no sheet stay, byte for byte; a
// second time nothing changes.
func TestTidyText(t *testing.T) {
	for _, c := range []struct {
		what     string
		page     bool
		in, want string
	}{
		{"empty sheet", false, "", ""},
		{"empty page", true, "", ""},
		{"blank sheet", false, "\n \n", ""},
		{"no line end at the end", false, "a=1", "a = 1\n"},
		{"mark", false, "\ufeffa=1\nb  = 2\n", "\ufeffa = 1\nb = 2\n"},
		{"mark only", false, "\ufeff", "\ufeff"},
		{"windows", false, "a=1\r\nb  = 2 # x\r\n", "a = 1\r\nb = 2  # x\r\n"},
		{"no-break spaces", false, "a\u00a0=\u00a05\u00a0mm\n", "a = 5 mm\n"},
		{"page of windows", true, "\ufeff# A\r\n\r\n```calc\r\na=1\r\n\r\n\r\nb=2\r\n```\r\ntext  \r\n", "\ufeff# A\r\n\r\n```calc\r\na = 1\r\n\r\nb = 2\r\n```\r\ntext  \r\n"},
		{"mixed line ends outside stay", true, "a\r\nb\r\r\nc\rd\n\n```calc\r\nx=1\n```\n", "a\r\nb\r\r\nc\rd\n\n```calc\r\nx = 1\n```\n"},
		{"block at the end of a page", true, "```calc\na=1\nb=2", "```calc\na = 1\nb = 2"},
		{"empty block", true, "```calc\n```\n", "```calc\n```\n"},
		{"blank block", true, "```calc\n\n\n```\n", "```calc\n```\n"},
		{"indented fence", true, "  ```calc\n  a=1+\n  2\n  ```\n", "  ```calc\n  a = 1 +\n    2\n  ```\n"},
		{"less indented than its fence", true, "  ```calc\n a=1\n b=1+\n   2\n  ```\n", "  ```calc\n a = 1\n b = 1 +\n   2\n  ```\n"},
		{"tabs", true, "-\tx\n\n\t```calc\n\ta=1\n\tb=1+\n\t\t2\n\t```\n", "-\tx\n\n\t```calc\n\ta = 1\n\tb = 1 +\n\t  2\n\t```\n"},
		{"tab over two spaces", true, "- x\n\n\t```calc\n\ta=1\n\tb  =2\n\t```\n", "- x\n\n\t```calc\n\ta = 1\n\tb = 2\n\t```\n"},
		{"quote without spaces", true, ">```calc\n>a=1\n>\n>\n>b=2\n>```\n", ">```calc\n>a = 1\n>\n>b = 2\n>```\n"},
		{"quote in a list in a quote", true, "> - x\n>   > ```calc q\n>   > a=1\n>   > ```\n", "> - x\n>   > ```calc q\n>   > a = 1\n>   > ```\n"},
		{"no block of ours", true, "```calculate\na=1\n```\n\n`calc a=1`\n", "```calculate\na=1\n```\n\n`calc a=1`\n"},
	} {
		got, first, list := tidyText("x", []byte(c.in), c.page)
		if len(list) > 0 {
			t.Errorf("%s: %s", c.what, list.Error())
			continue
		}
		if string(got) != c.want || (first > 0) != (c.in != c.want) {
			t.Errorf("%s: got %q, first %d, want %q", c.what, got, first, c.want)
		}
		if again, first, _ := tidyText("x", got, c.page); string(again) != string(got) || first != 0 {
			t.Errorf("%s: once more it is %q", c.what, again)
		}
	}
}

func TestTidyTextRefuses(t *testing.T) {
	for _, c := range []struct {
		what string
		page bool
		in   string
		code string
		line int
	}{
		{"mistake", false, "a=1\nb = \n", "unexpected", 2},
		{"mistake in a page", true, "x\n\n> ```calc\n> a=1\n> b=\n> ```\n", "unexpected", 5},
		{"Latin-1", false, "a=1 # gr\xf6\xdfe\n", "not-text", 1},
		{"zero byte", true, "a\x00\n", "not-text", 1},
	} {
		out, first, list := tidyText("x", []byte(c.in), c.page)
		if out != nil || first != 0 || len(list) != 1 || list[0].Span.Line() != c.line {
			t.Errorf("%s: %q, %d, %s", c.what, out, first, list.Error())
		} else if c.code != list[0].Code {
			t.Errorf("%s: code %s", c.what, list[0].Code)
		}
	}
}

// The demonstration, and manuals of the other tests, mean the same when tidy.
func TestTidyManuals(t *testing.T) {
	texts := tidySeeds(t)
	for _, text := range texts {
		for _, page := range []bool{false, true} {
			checkTidyText(t, text, page)
		}
	}
}

func tidySeeds(t testing.TB) []string {
	t.Helper()
	var texts []string
	for _, pattern := range []string{"../../testdata/fenbank/*.calc", "../../testdata/fenbank/pages/*.md"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatal("no files", err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, string(data))
		}
	}
	a, err := txtar.ParseFile("testdata/tidy.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Files {
		texts = append(texts, string(f.Data))
	}
	return texts
}

// checkTidyText lays a text out twice: it is refused for its mistakes alone,
// and the second time nothing changes.
func checkTidyText(t *testing.T, text string, page bool) {
	t.Helper()
	out, _, list := tidyText("x", []byte(text), page)
	for _, d := range list {
		if d.Code == "not-laid-out" {
			t.Fatalf("laid out, it would say something else (page: %v): %q", page, text)
		}
	}
	if list.HasErrors() {
		return
	}
	again, first, list := tidyText("x", out, page)
	if first != 0 || list.HasErrors() {
		t.Fatalf("not the same again (page: %v), line %d\n%q\n%q\n%s", page, first, out, again, list.Error())
	}
}

// Any text laid out is laid out for good, or refused for a mistake in it.
func FuzzTidyText(f *testing.F) {
	for _, text := range tidySeeds(f) {
		f.Add(text, true)
		f.Add(text, false)
		f.Add("> "+strings.ReplaceAll(text, "\n", "\r\n> "), true)
		f.Add("- "+strings.ReplaceAll(text, "\n", "\n\t"), true)
	}
	f.Fuzz(func(t *testing.T, text string, page bool) { checkTidyText(t, text, page) })
}

// Permissions stay, and a file that must not be written is not replaced.
func TestTidyPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no permissions of this kind")
	}
	dir := t.TempDir()
	write := func(name, text string, mode os.FileMode) {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(name, mode); err != nil {
			t.Fatal(err)
		}
	}
	tidy := func() (int, string) {
		var out, err strings.Builder
		return run(env{&out, &err}, []string{"tidy", dir}), out.String() + err.String()
	}
	write("manual.toml", "", 0o644)
	write("design.calc", "a=1\n", 0o640)
	write("more.calc", "a=1\n", 0o444)
	if status, said := tidy(); status != exitFound || !strings.Contains(said, "more.calc:1:1: error: the file is not tidy, and it is write-protected") {
		t.Errorf("status %d\n%s", status, said)
	}
	write("more.calc", "a = 1\n", 0o444)
	if status, said := tidy(); status != exitOK || said != "design.calc:1: tidied\n" {
		t.Errorf("status %d\n%s", status, said)
	}
	info, err := os.Stat(filepath.Join(dir, "design.calc"))
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	entries, _ := os.ReadDir(dir)
	if len(entries) != 3 {
		t.Errorf("files left behind: %v", entries)
	}
}
