package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"workings/calc/diag"
	"workings/calc/model"
)

func runModels(e env, flags *flag.FlagSet, args []string) int {
	pos, status, ok := parse(e, flags, args, 0, 1)
	if !ok {
		return status
	}
	if len(pos) == 0 {
		listModels(e.out)
		return exitOK
	}
	m := model.Find(pos[0])
	if m == nil {
		var names []string
		for _, s := range model.Library() {
			names = append(names, s.Name)
		}
		fmt.Fprintf(e.err, "workings models: there is no model %s\n", pos[0])
		if near := diag.Nearest(pos[0], names); near != "" {
			fmt.Fprintf(e.err, "  hint: did you mean %s?\n", near)
		} else {
			fmt.Fprintln(e.err, `  hint: "workings models" lists them`)
		}
		return exitFound
	}
	showModel(e.out, m)
	return exitOK
}

// listModels prints the library by topic, in its own order.
func listModels(w io.Writer) {
	var topics []string
	byTopic := map[string][]model.Spec{}
	for _, s := range model.Library() {
		if byTopic[s.Topic] == nil {
			topics = append(topics, s.Topic)
		}
		byTopic[s.Topic] = append(byTopic[s.Topic], s)
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for i, topic := range topics {
		if i > 0 {
			fmt.Fprintln(t)
		}
		fmt.Fprintln(t, topic)
		for _, s := range byTopic[topic] {
			fmt.Fprintf(t, "  %s\t%s\n", s.Name, s.Title)
		}
	}
	t.Flush()
}

// showModel prints one model: how it is called, what it gives, where it comes from.
func showModel(w io.Writer, s *model.Spec) {
	fmt.Fprintf(w, "%s: %s\n\n", s.Name, s.Title)
	var call []string
	for _, a := range s.Args {
		if !a.Optional {
			call = append(call, a.Name+": …")
		}
	}
	fmt.Fprintf(w, "  %s(%s)\n", s.Name, strings.Join(call, ", "))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\ntakes")
	for _, a := range s.Args {
		doc := a.Doc
		if a.Optional {
			doc += " (may be left out)"
		}
		if len(a.Choices) > 0 {
			doc += `: "` + strings.Join(a.Choices, `", "`) + `"`
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\n", a.Name, shapeText(a.Unit, a.Shape), doc)
	}
	fmt.Fprintln(t, "gives")
	for _, r := range s.Results {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", r.Name, shapeText(r.Unit, r.Shape), r.Doc)
	}
	t.Flush()
	if len(s.Formula) > 0 {
		fmt.Fprintln(w, "formula")
		for _, l := range s.Formula {
			fmt.Fprintln(w, "  "+l)
		}
	}
	if s.Source != "" {
		fmt.Fprintln(w, "source\n  "+s.Source)
	}
	if s.Range != "" {
		fmt.Fprintln(w, "range\n  "+s.Range)
	}
}

// shapeText is the unit of an argument or result, and its form if it is no
// single number.
func shapeText(unit string, s model.Shape) string {
	switch unit {
	case "", "1":
		unit = "number"
	}
	switch s {
	case model.List:
		return "list of " + unit
	case model.Grid:
		return "field of " + unit
	case model.Text:
		return "text"
	}
	return unit
}
