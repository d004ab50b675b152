package content

import "testing"

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
