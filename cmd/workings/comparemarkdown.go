package main

import (
	"fmt"
	"io"
	"strings"

	"workings/theme"
)

// mostRows bounds the rows of each part of a comparison in Markdown, so that
// all of it fits a comment of a review, which holds some sixty thousand
// characters. What is left out is counted.
const mostRows = 40

var markdownSigns = strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "<", `\<`, "`", "\\`", "[", `\[`, "\n", " ")

func md(s string) string { return markdownSigns.Replace(s) }

func writeComparedMarkdown(e env, c *compared) error {
	w := e.out
	fmt.Fprintf(w, "## %s: %s compared with %s\n", md(c.machine), md(c.to), md(c.from))
	if c.Empty() {
		_, err := fmt.Fprintln(w, "\nNothing differs.")
		return err
	}
	if len(c.Safety) > 0 {
		fmt.Fprint(w, "\n### Warns less than before\n\n")
		for _, l := range c.Safety {
			fmt.Fprintln(w, "- **"+md(strings.ToUpper(l.Signal))+"**"+md(strings.TrimPrefix(lossText(l), strings.ToUpper(l.Signal))))
		}
	}
	var params, figures []theme.FigureChange
	shared := false
	for _, f := range c.Figures {
		if f.Parameter {
			params = append(params, f)
			continue
		}
		figures = append(figures, f)
		shared = shared || f.Delta != ""
	}
	rows(w, "Parameters", "| parameter | was | is | because |\n|---|---:|---:|---|", len(params), func(i int) string {
		f := params[i]
		return fmt.Sprintf("| %s | %s | %s | %s |", md(f.Name), side(f, oldText(f), theme.Added), side(f, newText(f), theme.Removed), md(f.Because))
	})
	rows(w, "Figures", "| figure | was | is | change | moved by |\n|---|---:|---:|---:|---|", len(figures), func(i int) string {
		f := figures[i]
		var causes []string
		for k, x := range f.Causes {
			if k == 3 && len(f.Causes) > 4 {
				causes = append(causes, fmt.Sprintf("%d more", len(f.Causes)-k))
				break
			}
			causes = append(causes, md(causeText(f, x)))
		}
		change := ""
		if f.Delta != "" {
			change = md(withUnit(plus(f.Delta), f.DeltaUnit))
		}
		return fmt.Sprintf("| %s | %s | %s | %s | %s |", md(f.Name), side(f, oldText(f), theme.Added), side(f, newText(f), theme.Removed), change, strings.Join(causes, "<br>"))
	})
	if shared {
		fmt.Fprintln(w, "\n"+howShared)
	}
	rows(w, "Limits", "| limit | what | was | is |\n|---|---|---|---|", len(c.Limits), func(i int) string {
		l := c.Limits[i]
		return fmt.Sprintf("| %s | %s | %s | %s |", md(l.Name), md(limitWhat(l)), md(limitSide(l.Old)), md(limitSide(l.New)))
	})
	for _, l := range c.lists() {
		rows(w, strings.ToUpper(l.title[:1])+l.title[1:], "", len(l.lines), func(i int) string { return "- " + md(l.lines[i]) })
	}
	return nil
}

// side is one side of a change, "new" or "gone" where the other has nothing.
func side(f theme.FigureChange, text, missing string) string {
	switch {
	case f.Kind != missing:
		return md(text)
	case missing == theme.Added:
		return "*new*"
	}
	return "*gone*"
}

// rows writes a part of the comparison, a table if it has a head, else a list.
func rows(w io.Writer, title, head string, n int, row func(i int) string) {
	if n == 0 {
		return
	}
	fmt.Fprintf(w, "\n### %s\n\n", title)
	if head != "" {
		fmt.Fprintln(w, head)
	}
	for i := range min(n, mostRows) {
		fmt.Fprintln(w, row(i))
	}
	if n > mostRows {
		fmt.Fprintf(w, "\nand %d more\n", n-mostRows)
	}
}
