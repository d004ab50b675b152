package main

import (
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"workings/calc/model"
)

// shells are those for which completion is written, each from the table of commands.
var shells = map[string]func(io.Writer, []completed){
	"bash": completeBash,
	"zsh":  completeZsh,
	"fish": completeFish,
}

const shellNames = "bash|zsh|fish"

func runCompletion(e env, flags *flag.FlagSet, args []string) int {
	pos, status, ok := parse(e, flags, args, 1, 1)
	if !ok {
		return status
	}
	write := shells[pos[0]]
	if write == nil {
		return wrong(e, "completion", fmt.Sprintf("there is no completion for %q: it is for bash, zsh and fish", pos[0]))
	}
	var list []completed
	for _, c := range commands() {
		list = append(list, complete(c))
	}
	write(e.out, list)
	return exitOK
}

// A completed command is one with what may follow it.
type completed struct {
	command
	takes   takes // its arguments
	options []completedOption
}

type completedOption struct {
	name, does string
	value      string // what its value is called; "" for a switch
	takes      takes
}

// takes is what an argument or value may be.
type takes struct {
	words       []string
	dirs, files bool
}

func complete(c command) completed {
	out := completed{command: c}
	for _, w := range strings.Fields(c.arguments()) {
		t := takesOf(strings.Trim(w, "[]"))
		out.takes = takes{append(out.takes.words, t.words...), out.takes.dirs || t.dirs, out.takes.files || t.files}
	}
	if c.name == "models" {
		for _, s := range model.Library() {
			out.takes.words = append(out.takes.words, s.Name)
		}
		slices.Sort(out.takes.words)
	}
	for _, f := range c.options() {
		value, does := flag.UnquoteUsage(f)
		o := completedOption{name: dashed(f), does: does, value: value, takes: takesOf(value)}
		// The usage line says more than the name of the value: --format text|json.
		for _, group := range optionGroup.FindAllString(c.args, -1) {
			if name, choice, ok := strings.Cut(strings.Trim(group, "[] "), " "); ok && name == o.name && len(o.takes.words) == 0 {
				o.takes.words = takesOf(choice).words
			}
		}
		out.options = append(out.options, o)
	}
	return out
}

// takesOf reads what an argument is called: DIR, FILE, or text|json.
func takesOf(s string) (t takes) {
	switch s {
	case "DIR", "FOLDER":
		t.dirs = true
	case "FILE":
		t.files = true
	default:
		if words := strings.Split(strings.ReplaceAll(s, " or ", "|"), "|"); len(words) > 1 {
			t.words = words
		}
	}
	return t
}

func completeBash(w io.Writer, list []completed) {
	reply := func(t takes) string {
		var kinds []string
		if len(t.words) > 0 {
			kinds = append(kinds, "-W $'"+strings.Join(t.words, `\n`)+"'")
		}
		if t.files {
			kinds = append(kinds, "-f")
		}
		if t.dirs {
			kinds = append(kinds, "-d")
		}
		if kinds == nil {
			return "return"
		}
		text := `COMPREPLY=($(compgen ` + strings.Join(kinds, " ") + ` -- "$cur"))`
		if t.files || t.dirs {
			text += "; compopt -o filenames 2>/dev/null"
		}
		return text + "; return"
	}
	var names []string
	for _, c := range list {
		names = append(names, c.name)
	}
	fmt.Fprintf(w, `# completion of workings for bash: put  source <(workings completion bash)  into ~/.bashrc
_workings() {
	local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} IFS=$'\n'
	COMPREPLY=()
	if ((COMP_CWORD == 1)); then
		COMPREPLY=($(compgen -W $'%s\nhelp\nversion' -- "$cur"))
		return
	fi
	case "${COMP_WORDS[1]} $prev" in
`, strings.Join(names, `\n`))
	for _, c := range list {
		for _, o := range c.options {
			if o.value != "" {
				fmt.Fprintf(w, "\t'%s %s') %s ;;\n", c.name, o.name, reply(o.takes))
			}
		}
	}
	fmt.Fprint(w, "\tesac\n\tif [[ $cur == -* ]]; then\n\t\tcase ${COMP_WORDS[1]} in\n")
	for _, c := range list {
		if len(c.options) > 0 {
			var opts []string
			for _, o := range c.options {
				opts = append(opts, o.name)
			}
			fmt.Fprintf(w, "\t\t%s) COMPREPLY=($(compgen -W $'%s' -- \"$cur\")) ;;\n", c.name, strings.Join(opts, `\n`))
		}
	}
	fmt.Fprint(w, "\t\tesac\n\t\treturn\n\tfi\n\tcase ${COMP_WORDS[1]} in\n")
	for _, c := range list {
		fmt.Fprintf(w, "\t%s) %s ;;\n", c.name, reply(c.takes))
	}
	fmt.Fprint(w, "\tesac\n}\ncomplete -F _workings workings\n")
}

func completeZsh(w io.Writer, list []completed) {
	quote := strings.NewReplacer("'", `'\''`, "[", `\[`, "]", `\]`, ":", `\:`)
	action := func(t takes) string {
		switch {
		case len(t.words) > 0:
			return "(" + strings.Join(t.words, " ") + ")"
		case t.files:
			return "_files"
		case t.dirs:
			return "_files -/"
		}
		return " "
	}
	fmt.Fprint(w, "#compdef workings\n# completion of workings for zsh: put  source <(workings completion zsh)  into ~/.zshrc, behind compinit\n_workings() {\n\tlocal -a commands\n\tcommands=(\n")
	for _, c := range list {
		fmt.Fprintf(w, "\t\t'%s:%s'\n", c.name, strings.ReplaceAll(c.does, "'", `'\''`))
	}
	fmt.Fprint(w, "\t)\n\tif ((CURRENT == 2)); then\n\t\t_describe command commands\n\t\treturn\n\tfi\n\tlocal command=$words[2]\n\tshift words\n\t((CURRENT--))\n\tcase $command in\n")
	for _, c := range list {
		fmt.Fprintf(w, "\t%s) _arguments", c.name)
		for _, o := range c.options {
			fmt.Fprintf(w, " \\\n\t\t'*%s[%s]", o.name, quote.Replace(o.does))
			if o.value != "" {
				fmt.Fprintf(w, ":%s:%s", quote.Replace(o.value), action(o.takes))
			}
			fmt.Fprint(w, "'")
		}
		if a := c.arguments(); a != "" {
			fmt.Fprintf(w, " \\\n\t\t'*:%s:%s'", quote.Replace(a), action(c.takes))
		}
		fmt.Fprint(w, " ;;\n")
	}
	fmt.Fprint(w, "\tesac\n}\nif [[ $funcstack[1] == _workings ]]; then\n\t_workings \"$@\"\nelse\n\tcompdef _workings workings\nfi\n")
}

func completeFish(w io.Writer, list []completed) {
	quote := func(s string) string {
		return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
	}
	more := func(t takes) string {
		switch {
		case len(t.words) > 0:
			return " -a " + quote(strings.Join(t.words, " "))
		case t.files:
			return " -F"
		case t.dirs:
			return " -a '(__fish_complete_directories)'"
		}
		return ""
	}
	fmt.Fprint(w, "# completion of workings for fish: workings completion fish > ~/.config/fish/completions/workings.fish\ncomplete -c workings -f\n")
	for _, c := range list {
		fmt.Fprintf(w, "complete -c workings -n __fish_use_subcommand -a %s -d %s\n", c.name, quote(c.does))
	}
	for _, c := range list {
		seen := "complete -c workings -n '__fish_seen_subcommand_from " + c.name + "'"
		if m := more(c.takes); m != "" {
			fmt.Fprintf(w, "%s%s\n", seen, m)
		}
		for _, o := range c.options {
			form := " -l " + strings.TrimLeft(o.name, "-")
			if len(o.name) == 2 {
				form = " -s " + o.name[1:]
			}
			if o.value != "" {
				form += " -r"
				if !o.takes.files {
					form += " -f"
				}
				form += more(o.takes)
			}
			fmt.Fprintf(w, "%s%s -d %s\n", seen, form, quote(o.does))
		}
	}
}
