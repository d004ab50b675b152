package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
)

func runManpage(e env, flags *flag.FlagSet, args []string) int {
	if _, status, ok := parse(e, flags, args, 0, 0); !ok {
		return status
	}
	writeManpage(e.out)
	return exitOK
}

// roff makes text that the man macros take as it stands.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	return s
}

// writeManpage writes the manual page of section 1 in the man macros, from the
// table of commands. It bears the version and no date.
func writeManpage(w io.Writer) {
	line := func(s string) { fmt.Fprintln(w, roff(s)) }
	fmt.Fprintf(w, ".TH WORKINGS 1 \"\" \"workings %s\"\n", roff(version))
	fmt.Fprintln(w, ".SH NAME")
	line("workings - publish the build manual of a machine and show its workings")
	fmt.Fprintln(w, ".SH SYNOPSIS")
	fmt.Fprintln(w, ".B workings\n.I COMMAND\n[options] [arguments]")
	fmt.Fprintln(w, ".SH DESCRIPTION")
	line("A manual is Markdown and one sheet of design parameters. Every number and every warning on every page is computed from that sheet, is checked for its units, and can be opened by the reader.")
	fmt.Fprintln(w, ".PP")
	line("DIR is the folder that holds manual.toml; without it, the present one.")
	fmt.Fprintln(w, ".SH COMMANDS")
	for _, c := range commands() {
		fmt.Fprintf(w, ".SS %s\n", roff(strings.TrimSpace(c.name+" "+c.args)))
		line(strings.ToUpper(c.does[:1]) + c.does[1:] + ".")
		for _, f := range c.options() {
			value, does := flag.UnquoteUsage(f)
			fmt.Fprintf(w, ".TP\n.B %s\n", roff(strings.TrimSpace(dashed(f)+" "+value)))
			if f.DefValue != "" && f.DefValue != "0" && f.DefValue != "false" {
				does += " (default " + f.DefValue + ")"
			}
			line(does)
		}
	}
	fmt.Fprintln(w, ".SH EXIT STATUS")
	for _, s := range []struct {
		n    int
		text string
	}{
		{exitOK, "all is well"},
		{exitFound, "something is wrong with the manual or the machine; it has been printed on standard error"},
		{exitUsage, "the command was called wrongly"},
		{exitInterrupted, "publish was interrupted; the site in its folder is as it was. A preview that is interrupted ends with 0"},
	} {
		fmt.Fprintf(w, ".TP\n.B %d\n%s\n", s.n, roff(s.text))
	}
	fmt.Fprintln(w, ".SH FILES")
	for _, f := range [][2]string{
		{"manual.toml", "title, release, licence, earlier releases, order of the pages"},
		{"design.calc", "the design sheet: the parameters"},
		{"parts.csv", "parts and tools"},
		{"pages/", "the pages, in Markdown"},
		{"pictures/, tables/", "what pages show and sheets read"},
	} {
		fmt.Fprintf(w, ".TP\n.I %s\n%s\n", roff(f[0]), roff(f[1]))
	}
	fmt.Fprintln(w, ".SH EXAMPLES\n.nf")
	for _, l := range []string{
		"workings start dryer",
		"workings preview dryer",
		"workings audit --format sarif dryer > audit.sarif",
		"workings publish dryer -o public",
	} {
		line(l)
	}
	fmt.Fprintln(w, ".fi")
}
