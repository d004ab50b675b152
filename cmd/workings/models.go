package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/unit"
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
		if mat := model.FindMaterial(pos[0]); mat != nil {
			showMaterial(e.out, mat)
			return exitOK
		}
		var names []string
		for _, mat := range model.Materials() {
			names = append(names, mat.Name)
		}
		for _, s := range model.Library() {
			names = append(names, s.Name)
		}
		fmt.Fprintf(e.err, "workings models: there is no model or material %s\n", pos[0])
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
	fmt.Fprintln(t, "\nmaterials, by name in quotes: material(\"…\")")
	for _, m := range model.Materials() {
		var has []string
		for _, p := range m.Props {
			has = append(has, p.Name)
		}
		fmt.Fprintf(t, "  %s\t%s\n", m.Name, strings.Join(has, ", "))
	}
	t.Flush()
}

// showMaterial prints the properties of a material, each with its uncertainty
// and source.
func showMaterial(w io.Writer, m *model.Material) {
	fmt.Fprintln(w, m.Name)
	if len(m.Also) > 0 {
		fmt.Fprintln(w, "  also "+strings.Join(m.Also, ", "))
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, p := range m.Props {
		u, err := unit.Parse(p.Unit)
		if err != nil {
			u = unit.Unit{Factor: 1}
		}
		spread := "at least"
		if p.Rel > 0 {
			spread = fmt.Sprintf("± %.3g %%", 100*p.Rel)
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", p.Name, quantityText(p.Value, unit.Sensible(u, p.Value)), spread, p.Source)
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
func shapeText(u string, s model.Shape) string {
	switch u {
	case "", "1":
		u = "number"
	}
	switch s {
	case model.List:
		return "list of " + u
	case model.Grid:
		return "field of " + u
	case model.Text:
		return "text"
	}
	return u
}
