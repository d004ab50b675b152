// Command workings publishes the build manual of a machine with its workings:
// every number on every page is computed from the design sheet, and can be
// opened to show how it came about.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"workings/build"
	"workings/calc/diag"
)

// The command's voice: it says what it did in one line on standard output, and
// what is wrong on standard error, all of it at once. It never asks.

const (
	usageHead = `workings publishes the build manual of a machine and shows its workings.

usage: workings COMMAND [OPTIONS] [ARGUMENTS]

`
	usageTail = `
DIR is the folder that holds manual.toml; without it, the present one.
"workings COMMAND -h" lists the options of a command.

example:
  workings start dryer && cd dryer   a small manual to begin from
  workings preview                   look at it while you write
  workings publish -o ../public      and when it is good
`
)

// version is part of what is published, so it is written here and not taken
// from the way in which the program happened to be built.
const version = "0.1.0"

var tool = build.Tool{Name: "workings", Version: version}

// Exit statuses.
const (
	exitOK    = 0
	exitFound = 1 // something is wrong with the manual or the machine
	exitUsage = 2 // the command was called wrongly

	exitInterrupted = 130 // stopped by a signal; the preview, which ends so, gives exitOK
)

// An env is where a command reads and writes.
type env struct {
	out, err io.Writer
}

// A command is one subcommand. Each has its own file, and its row in the table
// below, from which the usage text, the completion of shells and the manual
// page are made.
type command struct {
	name string
	args string // as in its usage line, options first
	does string // what it does, in a few words
	run  func(env, *flag.FlagSet, []string) int
}

func commands() []command {
	return []command{
		{"start", "[--parameters FILE] DIR", "write a small complete manual to begin from", runStart},
		{"preview", "[--port N] [--listen ADDRESS --others-may-read] [DIR]", "serve the manual to your browser, update it as files change", runPreview},
		{"audit", "[--format text|json|sarif] [DIR]", "compute and check everything, write nothing", runAudit},
		{"publish", "[-o FOLDER] [DIR]", "audit, then write the site, all of it or nothing", runPublish},
		{"record", "[DIR]", "accept the present figures into record.csv", runRecord},
		{"seal", "[--next NAME] NAME [DIR]", "pack the manual with its figures as a release that stays as it is", runSeal},
		{"compare", "[--format text|json|markdown] A B [DIR]", "say what differs between two releases, and what caused it", runCompare},
		{"explain", "[--set NAME=VALUE] [--over NAME=FROM to TO] [--trials N] FIGURE [DIR]", "print how a figure came about", runExplain},
		{"parts", "[DIR]", "print the parts list: what the steps take, added up, as CSV", runParts},
		{"models", "[NAME]", "list the engineering models and materials, or show one", runModels},
		{"guide", "[-o FOLDER] [--port N]", "serve the guide, which teaches all this in an hour", runGuide},
		{"tidy", "[--check] [DIR]", "lay out the design sheet and the calc blocks of pages", runTidy},
		{"completion", shellNames, "print the completion of commands and options for a shell", runCompletion},
		{"manpage", "", "print this program's manual page, for man", runManpage},
	}
}

var optionGroup = regexp.MustCompile(`\[-[^\]]*\] ?`)

// arguments are those of the usage line that are no options: "FIGURE [DIR]".
func (c command) arguments() string {
	return strings.TrimSpace(optionGroup.ReplaceAllString(c.args, ""))
}

// options are those that the command declares; it declares them and, asked for
// help, does nothing else.
func (c command) options() []*flag.Flag {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.Usage = func() {}
	c.run(env{io.Discard, io.Discard}, flags, []string{"-h"})
	return options(flags)
}

func options(flags *flag.FlagSet) (list []*flag.Flag) {
	flags.VisitAll(func(f *flag.Flag) { list = append(list, f) })
	return list
}

// dashed is an option as it is written in usage lines: -o, --format.
func dashed(f *flag.Flag) string {
	if len(f.Name) == 1 {
		return "-" + f.Name
	}
	return "--" + f.Name
}

// usage is the text that lists the commands.
func usage() string {
	var b strings.Builder
	b.WriteString(usageHead)
	width := 0
	for _, c := range commands() {
		width = max(width, len(c.name+" "+c.arguments()))
	}
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-*s  %s\n", width, strings.TrimSpace(c.name+" "+c.arguments()), c.does)
	}
	b.WriteString(usageTail)
	return b.String()
}

func main() { os.Exit(run(env{os.Stdout, os.Stderr}, os.Args[1:])) }

func run(e env, args []string) int {
	if len(args) == 0 {
		fmt.Fprint(e.err, usage())
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		fmt.Fprint(e.out, usage())
		return exitOK
	case "version", "-version", "--version":
		fmt.Fprintln(e.out, tool)
		return exitOK
	}
	var names []string
	for _, c := range commands() {
		if c.name == args[0] {
			return c.call(e, args[1:])
		}
		names = append(names, c.name)
	}
	fmt.Fprintf(e.err, "workings: there is no command %s\n", args[0])
	if near := diag.Nearest(args[0], names); near != "" {
		fmt.Fprintf(e.err, "  hint: did you mean %s?\n", near)
	} else {
		fmt.Fprintf(e.err, "  hint: the commands are %s\n", strings.Join(names, ", "))
	}
	return exitUsage
}

// errUsage ends a command that was called wrongly; what was wrong has been said.
var errUsage = errors.New("usage")

func (c command) call(e env, args []string) int {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard) // parse says what is wrong in the command's own voice
	flags.Usage = func() {
		fmt.Fprintf(e.out, "usage: workings %s\n\n%s\n", strings.TrimSpace(c.name+" "+c.args), c.does)
		for _, f := range options(flags) {
			value, text := flag.UnquoteUsage(f)
			if f.DefValue != "" && f.DefValue != "0" && f.DefValue != "false" {
				text += " (default " + f.DefValue + ")"
			}
			fmt.Fprintf(e.out, "\n  %s\n      %s\n", strings.TrimSpace(dashed(f)+" "+value), text)
		}
	}
	return c.run(e, flags, args)
}

// parse reads options and arguments in any order, and returns the arguments,
// of which there must be from least to most. ok is false if the command is
// over, with the status to exit with.
func parse(e env, flags *flag.FlagSet, args []string, least, most int) (pos []string, status int, ok bool) {
	for len(args) > 0 {
		usage := flags.Usage
		flags.Usage = func() {}
		err := flags.Parse(args)
		flags.Usage = usage
		if errors.Is(err, flag.ErrHelp) {
			flags.Usage()
			return nil, exitOK, false
		}
		if err != nil {
			return nil, wrong(e, flags.Name(), flagError(flags, err)), false
		}
		rest := flags.Args()
		if n := len(args) - len(rest); n > 0 && args[n-1] == "--" {
			pos, args = append(pos, rest...), nil
			break
		}
		if len(rest) == 0 {
			break
		}
		pos, args = append(pos, rest[0]), rest[1:]
	}
	switch {
	case len(pos) < least:
		return nil, wrong(e, flags.Name(), "an argument is missing"+missing(flags.Name(), len(pos))), false
	case len(pos) > most:
		return nil, wrong(e, flags.Name(), fmt.Sprintf("%q is one argument too many", pos[most])), false
	}
	return pos, exitOK, true
}

// missing names the argument at i of a command, as ": DIR".
func missing(name string, i int) string {
	for _, c := range commands() {
		if words := strings.Fields(c.arguments()); c.name == name && i < len(words) {
			return ": " + words[i]
		}
	}
	return ""
}

// wrong says that a command was called wrongly.
func wrong(e env, name, what string) int {
	fmt.Fprintf(e.err, "workings %s: %s\n", name, what)
	for _, c := range commands() {
		if c.name == name {
			fmt.Fprintf(e.err, "usage: workings %s\n", strings.TrimSpace(c.name+" "+c.args))
		}
	}
	return exitUsage
}

func flagError(flags *flag.FlagSet, err error) string {
	text := err.Error()
	name, ok := strings.CutPrefix(text, "flag provided but not defined: ")
	if !ok {
		return text
	}
	var known []string
	flags.VisitAll(func(f *flag.Flag) { known = append(known, f.Name) })
	text = "there is no option " + dashed(&flag.Flag{Name: strings.TrimLeft(name, "-")})
	if near := diag.Nearest(strings.TrimLeft(name, "-"), known); near != "" {
		text += "; did you mean " + dashed(flags.Lookup(near)) + "?"
	}
	return text
}

// folder is the argument at i, or the present folder.
func folder(pos []string, i int) string {
	if i < len(pos) {
		return pos[i]
	}
	return "."
}

// failed reports something that is wrong outside the manual.
func failed(e env, name string, err error) int {
	fmt.Fprintf(e.err, "workings %s: %v\n", name, err)
	return exitFound
}
