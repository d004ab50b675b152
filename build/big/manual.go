// Package big makes manuals of any size, for benchmarks.
package big

import (
	"fmt"
	"strings"
	"testing/fstest"
)

const words = "Set the carriage on the rail and push it gently to the end stop, where it must rest without play. Turn the screw by hand until the nut is free, then tighten the two clamping bolts crosswise in three passes. "

// Manual is a manual of n pages, each with ten figures, a calc block, a code
// block and a table, and about a thousand words. The parameter bay is shown on
// the first 200.
func Manual(n int) fstest.MapFS {
	m := fstest.MapFS{}
	put := func(name, text string) { m[name] = &fstest.MapFile{Data: []byte(text)} }
	put("manual.toml", "title = \"A large machine\"\nrelease = \"1.0\"\n\n[licence]\ntext = \"CC-BY-4.0\"\n")
	var sheet strings.Builder
	for i := range 100 {
		fmt.Fprintf(&sheet, "len%d = %d mm ± 0.1 mm  # length of frame %d\n", i, 100+i, i)
		fmt.Fprintf(&sheet, "mass%d = %d.5 kg uncertain 2 %%\n", i, 1+i%9)
	}
	sheet.WriteString("bay = 500 mm  # room for the frames\n")
	put("design.calc", sheet.String())
	for i := range n {
		put(Page(i), page(i))
	}
	return m
}

// Page is the file of a page, counted from 0; its id is p and the number.
func Page(i int) string { return fmt.Sprintf("pages/%05d-p%d.md", i, i) }

func page(i int) string {
	var b strings.Builder
	p := i % 100
	length := fmt.Sprintf("{= len%d }", p)
	if i < 200 {
		length = "{= bay }" // instead, so that each page shows as many figures
	}
	fmt.Fprintf(&b, "# Assembly %d\n\nThe frame is {= len%d } long and weighs {= mass%d }. %s\n\n", i, p, p, words)
	fmt.Fprintf(&b, "```calc b%d \"Frame %d\"\n", i, i)
	fmt.Fprintf(&b, "area   = len%d * %d mm in cm^2  # covered\nsag    = 5 * 0.9 N/m * len%d^4 / (384 * 205 GPa * pi * (12 mm)^4 / 64) in um\npull   = mass%d * g_n in N\nstress = pull / area in kPa\n", p, 50+i%7, p, p)
	fmt.Fprintf(&b, "limit slack: sag <= 1 mm\n  else caution \"It sags by {= sag to 2 sf up}.\"\n```\n\n")
	fmt.Fprintf(&b, "It covers {= b%d.area }, sags by {= b%d.sag to 2 sf }, pulls with {= b%d.pull } and stands {= b%d.stress }.\n\n", i, i, i, i)
	for range 12 {
		b.WriteString(words + "\n\n")
	}
	fmt.Fprintf(&b, "| what | value |\n|---|---|\n| area | {= b%d.area } |\n| sag | {= b%d.sag } |\n| pull | {= b%d.pull to 2 sf } |\n| length | %s |\n\n", i, i, i, length)
	fmt.Fprintf(&b, "```go\npackage main\n\nimport \"fmt\"\n\n// step moves the axis by n steps.\nfunc step(n int) error {\n\tfor i := 0; i < n; i++ {\n\t\tfmt.Println(\"step\", i, %d)\n\t}\n\treturn nil\n}\n```\n", i)
	return b.String()
}
