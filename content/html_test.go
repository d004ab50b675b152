package content

import (
	"strings"
	"testing"
)

func TestSafeHTML(t *testing.T) {
	for in, want := range map[string]string{
		"<b>":                                           "<b>", // pieces of a line come one by one
		"</b>":                                          "</b>",
		"</main>":                                       "",
		"H<sub>2</sub>O":                                "H<sub>2</sub>O",
		"<script>x()</script>a":                         "a",
		"<b onclick=\"x()\">a</b>":                      "<b>a</b>",
		"<a href=\"javascript:x()\">a</a>":              "a",
		"<a href=\"java&#10;script:x()\">a</a>":         "a",
		"<a href=\"data:text/html,x\">a</a>":            "a",
		"<a href=\"https://example.org/\">a</a>":        "<a href=\"https://example.org/\" rel=\"noreferrer\">a</a>",
		"<img src=x onerror=x()>":                       "",
		"<iframe src=\"https://example.org\"></iframe>": "",
		"<svg><script>x()</script></svg>":               "",
		"<style>*{}</style>":                            "",
		"<form action=x><input name=y></form>":          "",
		"<p style=\"position:fixed\" id=\"top\" class=\"panel\">a</p>": "<p>a</p>",
		"<meta http-equiv=refresh content=0>":                          "",
		"<base href=\"https://example.org\">":                          "",
		"<td colspan=\"999999\">a</td>":                                "<td>a</td>",
	} {
		if got := string(SafeHTML([]byte(in))); got != want {
			t.Errorf("%s: got %q, want %q", in, got, want)
		}
	}
}

// HTML of a page that may go with it says so, and what may not is told.
func TestCheckHTML(t *testing.T) {
	for text, want := range map[string]string{
		"<details><summary>a</summary>\n\n- b <b>c</b>\n\n</details>": "",
		"H<sub>2</sub>O<br>\nand <b\ntitle=\"x\">more</b>":            "",
		"<!-- a remark --> a":                    "",
		"<table>\n<tr><td>a</td></tr>\n</table>": "",
		"<a href=\"https://example.org/\">a</a> <a href=\"mailto:a@b.example\">b</a>": "",
		"</main>":                           "", // is not published, so it closes nothing
		"</div>":                            "html-tags",
		"<div>":                             "html-tags",
		"> <div>\n\n</div>":                 "html-tags html-tags",
		"<b><i>a</b></i>":                   "html-tags html-tags",
		"<style>a{}</style>":                "html-left-out",
		"a <img src=x onerror=\"x\">":       "html-left-out",
		"<b style=\"x\">a</b>":              "html-left-out",
		"<a href=\"file:///x\">a</a>":       "html-tags",
		strings.Repeat("<br>\n", maxTags+1): "too-many",
	} {
		_, list := testManual(t, map[string]string{configName: "title = \"T\"\nrelease = \"1\"\nhtml = \"sanitised\"\n", "pages/1-t.md": "# T\n\n" + text + "\n"})
		var got []string
		for _, d := range list {
			got = append(got, d.Code)
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%.100q: got %s, want %s\n%.500s", text, s, want, list.Error())
		}
	}
}
