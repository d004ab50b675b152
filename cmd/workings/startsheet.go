package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// compiled says what the language finds wrong with one line of a sheet.
func compiled(line string) diag.List {
	f := diag.NewFile("design.calc", []byte(line))
	sheet, list := syntax.Parse(f, []syntax.Seg{{Start: 0, End: len(f.Text)}})
	if list.HasErrors() {
		return list
	}
	_, list = calc.Compile(calc.Input{Blocks: []calc.Block{{Sheet: sheet}}})
	return list
}

// goodName says whether the language takes a name for a parameter.
func goodName(name string) bool { return !compiled(name + " = 1").HasErrors() }

// set is the parameter's value as the sheet has it: "30 mm ± 0.2".
func (p param) set() string {
	text := p.value
	if p.unit != "" {
		text += " " + p.unit
	}
	if p.tolerance == "" {
		return text
	}
	text += " " + p.tolerance
	if strings.HasPrefix(p.tolerance, "±") && !strings.HasSuffix(p.tolerance, "%") && p.unit != "" && !strings.HasPrefix(p.unit, "per ") {
		switch p.unit {
		case "°C", "°F": // a bare number is a difference
		default:
			text += " " + p.unit
		}
	}
	return text
}

// sheet is the design sheet that holds the parameters in their order.
func (s *paramSheet) sheet(from string) string {
	names, sets := 0, 0
	for _, p := range s.params {
		names = max(names, utf8.RuneCountInString(p.name))
		sets = max(sets, utf8.RuneCountInString(p.set()))
	}
	names, sets = min(names, 24), min(sets, 32)
	var b strings.Builder
	fmt.Fprintf(&b, "# The design sheet, made from %s. Every figure of the manual is computed from it.\n\n", from)
	for _, p := range s.params {
		line := fmt.Sprintf("%-*s = %s", names, p.name, p.set())
		if p.caption != "" {
			line = fmt.Sprintf("%-*s = %-*s  # %s", names, p.name, sets, p.set(), p.caption)
		}
		b.WriteString(line + "\n")
		if p.source != "" {
			fmt.Fprintf(&b, "  from %s\n", syntax.Quote(p.source))
		}
	}
	return b.String()
}

// files is a manual of one page around the design sheet.
func (s *paramSheet) files(title, from string) map[string][]byte {
	var page strings.Builder
	page.WriteString("# Parameters\n\nThe design sheet holds these values. Write about them in pages of your own, with figures such as\n")
	fmt.Fprintf(&page, "{= %s }, and compute others from them in `calc` blocks.\n\n| parameter | value |\n|---|---|\n", s.params[0].name)
	for _, p := range s.params {
		spread := ""
		if p.tolerance != "" {
			spread = " with spread"
		}
		fmt.Fprintf(&page, "| `%s` | {= %s%s } |\n", p.name, p.name, spread)
	}
	manual := fmt.Sprintf("# What the manual is called and how its release is named.\ntitle = %s\nrelease = \"0.1\"\n", tomlQuote(title))
	return map[string][]byte{
		"manual.toml":            []byte(manual),
		"design.calc":            []byte(s.sheet(from)),
		"pages/10-parameters.md": []byte(page.String()),
	}
}

// tomlQuote is a basic string of TOML 1.0.
func tomlQuote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
