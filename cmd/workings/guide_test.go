package main

import (
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A guidePiece is something on a page of the guide that is tried: a session
// at the command line, or a change to a file that the text asks for.
//
//	```text session                   the lines behind $ are typed, the others printed;
//	```                               … stands for anything in its line, a line … for any number of lines
//	<!-- try: in FILE "a" becomes "b" -->
//	<!-- try: FILE begins as "a" -->  a new file
//
// In the texts a \n is a new line, \" a quote, and -\-> the end of a comment.
var guidePiece = regexp.MustCompile("(?s)```text session\n(.*?\n)```\n|<!-- try: in (\\S+) \"(.*?)\" becomes \"(.*?)\" -->|<!-- try: (\\S+) begins as \"(.*?)\" -->")

// Every session that the guide shows gives what it shows. Those of a page
// follow each other in a new folder, in which `workings start dryer` was run.
// UPDATE=1 rewrites them, but for those that leave lines out.
func TestGuideSessions(t *testing.T) {
	pages, err := fs.Glob(guideTree, "guide/pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, page := range pages {
		here, err := os.Getwd()
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(page), func(t *testing.T) {
			data, err := fs.ReadFile(guideTree, page)
			if err != nil {
				t.Fatal(err)
			}
			t.Chdir(t.TempDir())
			if !strings.Contains(string(data), "\n$ workings start dryer\n") {
				said(t, "workings start dryer")
			}
			out := guidePiece.ReplaceAllStringFunc(string(data), func(piece string) string {
				m := guidePiece.FindStringSubmatch(piece)
				switch {
				case m[2] != "":
					change(t, m[2], unquoted(m[3]), unquoted(m[4]))
				case m[5] != "":
					if err := os.MkdirAll(filepath.Dir(m[5]), 0o777); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(m[5], []byte(unquoted(m[6])), 0o666); err != nil {
						t.Fatal(err)
					}
				default:
					tried++
					return "```text session\n" + session(t, m[1]) + "```\n"
				}
				return piece
			})
			if os.Getenv("UPDATE") != "" && out != string(data) {
				if err := os.WriteFile(filepath.Join(here, page), []byte(out), 0o666); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
	if tried < 12 {
		t.Errorf("only %d sessions found", tried)
	}
}

func unquoted(s string) string {
	return strings.NewReplacer(`\n`, "\n", `\"`, `"`, `-\->`, "-->").Replace(s)
}

func change(t *testing.T, file, from, to string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Count(string(data), from) != 1 {
		t.Fatalf("%s has %q %d times", file, from, strings.Count(string(data), from))
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(data), from, to, 1)), 0o666); err != nil {
		t.Fatal(err)
	}
}

// session runs the commands of a session, compares, and gives the session as
// it went.
func session(t *testing.T, text string) string {
	var b strings.Builder
	for _, part := range strings.Split("\n"+text, "\n$ ")[1:] {
		line, want, _ := strings.Cut(part, "\n")
		if want != "" && !strings.HasSuffix(want, "\n") {
			want += "\n"
		}
		got := said(t, line)
		fmt.Fprintf(&b, "$ %s\n", line)
		whole := regexp.QuoteMeta(want)
		whole = strings.ReplaceAll("\n"+whole, "\n…\n", "\n(?s:.*\n)?")[1:]
		whole = strings.ReplaceAll(whole, "…", "[^\n]*")
		if !regexp.MustCompile("^" + whole + "$").MatchString(got) {
			if os.Getenv("UPDATE") == "" || strings.Contains("\n"+want, "\n…\n") {
				t.Errorf("$ %s\nthe guide shows\n%s\nthe program says\n%s", line, want, got)
			} else {
				want = got
			}
		}
		b.WriteString(want)
	}
	return b.String()
}

// said is what a command prints. A folder is entered with cd, a file shown with cat.
func said(t *testing.T, line string) string {
	t.Helper()
	words := shellWords(line)
	switch words[0] {
	case "cd":
		t.Chdir(words[1])
		return ""
	case "cat":
		data, err := os.ReadFile(words[1])
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	case "workings":
		var out strings.Builder
		run(env{&out, &out}, words[1:])
		return out.String()
	}
	t.Fatalf("the guide's sessions have no command %s", words[0])
	return ""
}

// shellWords parts a line at its spaces, but for those in single quotes.
func shellWords(line string) (words []string) {
	for i, s := range strings.Split(line, "'") {
		if i%2 == 1 {
			words[len(words)-1] += s
			continue
		}
		f := strings.Fields(s)
		if i > 0 && len(f) > 0 && s[0] != ' ' {
			words[len(words)-1] += f[0]
			f = f[1:]
		}
		words = append(words, f...)
		if strings.HasSuffix(s, " ") && i+1 < strings.Count(line, "'")+1 {
			words = append(words, "")
		}
	}
	if n := len(words); n > 0 && words[n-1] == "" {
		words = words[:n-1]
	}
	return words
}

// The guide is laid out as it teaches.
func TestGuideIsTidy(t *testing.T) {
	dir := t.TempDir()
	fsys, err := fs.Sub(guideTree, "guide")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(dir, fsys); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if status := run(env{&out, &out}, []string{"tidy", "--check", dir}); status != exitOK {
		t.Errorf("status %d: %s", status, out.String())
	}
}

// Every command that the guide names exists, with the options that it is
// given, and every command is named somewhere.
func TestGuideCommands(t *testing.T) {
	pages, err := fs.Glob(guideTree, "guide/pages/*.md")
	if err != nil {
		t.Fatal(err)
	}
	typed := regexp.MustCompile("(?m)(?:^\\$? ?|`)workings ([a-z]+)([^`\n]*)")
	option := regexp.MustCompile(`(?:^| )--?([a-z]+)`)
	options := map[string]*flag.FlagSet{}
	for _, c := range commands() {
		f := flag.NewFlagSet(c.name, flag.ContinueOnError)
		f.SetOutput(io.Discard)
		f.Usage = func() {}
		c.run(env{io.Discard, io.Discard}, f, []string{"-h"})
		options[c.name] = f
	}
	named := map[string]bool{}
	for _, page := range pages {
		data, err := fs.ReadFile(guideTree, page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range typed.FindAllStringSubmatch(string(data), -1) {
			f := options[m[1]]
			if f == nil {
				t.Errorf("%s: there is no command %s", page, m[1])
				continue
			}
			named[m[1]] = true
			for _, o := range option.FindAllStringSubmatch(m[2], -1) {
				if o[1] != "h" && f.Lookup(o[1]) == nil {
					t.Errorf("%s: %s has no option %s", page, m[1], o[1])
				}
			}
		}
	}
	for name := range options {
		if !named[name] {
			t.Errorf("the guide does not name the command %s", name)
		}
	}
}
