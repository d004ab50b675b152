package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Every command and every option is in the completion of each shell, and in
// the manual page.
func TestCommandsAreCompletedAndDocumented(t *testing.T) {
	texts := map[string]string{}
	for shell := range shells {
		var out, errs strings.Builder
		if status := run(env{&out, &errs}, []string{"completion", shell}); status != exitOK || errs.Len() > 0 {
			t.Fatalf("%s: status %d, %s", shell, status, errs.String())
		}
		texts[shell] = out.String()
	}
	var page strings.Builder
	writeManpage(&page)
	texts["man"] = strings.ReplaceAll(page.String(), `\-`, "-")
	for name, text := range texts {
		for _, c := range commands() {
			if !strings.Contains(text, c.name) {
				t.Errorf("%s does not know the command %s", name, c.name)
			}
			if c.does == "" {
				t.Errorf("nothing says what %s does", c.name)
			}
			for _, f := range c.options() {
				want := dashed(f)
				if name == "fish" {
					want = strings.TrimLeft(want, "-")
				}
				if !strings.Contains(text, want) {
					t.Errorf("%s does not know %s %s", name, c.name, want)
				}
			}
		}
	}
}

// Each option of a usage line is one that the command has.
func TestUsageLinesNameOptions(t *testing.T) {
	for _, c := range commands() {
		have := map[string]bool{}
		for _, f := range c.options() {
			have[dashed(f)] = true
		}
		for _, group := range optionGroup.FindAllString(c.args, -1) {
			if name := strings.Fields(strings.Trim(group, "[] "))[0]; !have[name] {
				t.Errorf("%s has no option %s", c.name, name)
			}
		}
	}
}

// scriptOf writes the completion of a shell that is here into a file.
func scriptOf(t *testing.T, shell string) (program, script string) {
	t.Helper()
	program, err := exec.LookPath(shell)
	if err != nil {
		t.Skipf("there is no %s here", shell)
	}
	var out strings.Builder
	run(env{&out, os.Stderr}, []string{"completion", shell})
	script = filepath.Join(t.TempDir(), "workings."+shell)
	if err := os.WriteFile(script, []byte(out.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return program, script
}

func TestBashCompletion(t *testing.T) {
	bash, script := scriptOf(t, "bash")
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "my press"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ words, want string }{
		{"workings pub", "publish\n"},
		{"workings audit --f", "--format\n"},
		{"workings audit --format s", "sarif\n"},
		{"workings models belt_dri", "belt_drift\nbelt_drive\n"},
		{"workings preview m", "my press\n"},
		{"workings publish -o m", "my press\n"},
		{"workings completion f", "fish\n"},
	} {
		cmd := exec.Command(bash, "--norc", "-c", `. "$1"; read -ra COMP_WORDS <<<"$2"; COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _workings; printf '%s\n' "${COMPREPLY[@]}"`, "-", script, c.words)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil || string(out) != c.want {
			t.Errorf("%s gives %q, %v, want %q", c.words, out, err, c.want)
		}
	}
}

func TestZshCompletion(t *testing.T) {
	zsh, script := scriptOf(t, "zsh")
	cmd := exec.Command(zsh, "-f", "-c", `autoload -Uz compinit && compinit -u -D; source "$1"; print $_comps[workings]`, "-", script)
	if out, err := cmd.CombinedOutput(); err != nil || string(out) != "_workings\n" {
		t.Errorf("%v: %s", err, out)
	}
}

func TestFishCompletion(t *testing.T) {
	fish, script := scriptOf(t, "fish")
	for words, want := range map[string]string{
		"workings pub":             "publish",
		"workings audit --format ": "sarif",
		"workings audit --fo":      "--format",
		"workings models belt_dri": "belt_drive",
	} {
		cmd := exec.Command(fish, "--no-config", "-c", `source $argv[1]; complete -C $argv[2]`, script, words)
		cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
		if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), want) {
			t.Errorf("%q gives %q, %v, want %q", words, out, err, want)
		}
	}
}

// The manual page is set without a warning.
func TestManpage(t *testing.T) {
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("there is no groff here")
	}
	var page strings.Builder
	writeManpage(&page)
	cmd := exec.Command(groff, "-man", "-ww", "-K", "utf8", "-T", "utf8", "-z")
	cmd.Stdin = strings.NewReader(page.String())
	if out, err := cmd.CombinedOutput(); err != nil {
		if strings.Contains(string(out), "preconv") {
			t.Skip("this groff does not read UTF-8")
		}
		t.Errorf("%v: %s", err, out)
	} else if len(out) > 0 {
		t.Errorf("%s", out)
	}
}
