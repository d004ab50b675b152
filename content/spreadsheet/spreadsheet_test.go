package spreadsheet

import (
	"strings"
	"testing"

	"workings/calc/diag"
)

func TestRead(t *testing.T) {
	for name, c := range map[string]struct {
		text      string
		separator rune
		want      string // rows by /, cells by |
	}{
		"commas":                   {"id,name\na,\"x, y\"\n", ',', "id|name/a|x, y"},
		"semicolons":               {"id;name\n\n ; \na; x \n", ';', "id|name/a|x"},
		"tabs":                     {"id\tname\r\na\tx\r\n", '\t', "id|name/a|x"},
		"a separator in quotes":    {"\"a;b;c\",d\n", ',', "a;b;c|d"},
		"the separator is named":   {"sep=;\nid;name, long\n", ';', "id|name, long"},
		"rows of different length": {"a,b\nc\n", ',', "a|b/c"},
		"nothing":                  {"", ',', ""},
	} {
		f := diag.NewFile("t.csv", []byte(c.text))
		var list diag.List
		rows, sep := Read(f, "table", &list)
		var lines []string
		for _, row := range rows {
			var cells []string
			for _, x := range row {
				cells = append(cells, x.Text)
				if x.Text != "" && x.At.Text() != x.Text {
					t.Errorf("%s: %q is said to be at %q", name, x.Text, x.At.Text())
				}
			}
			lines = append(lines, strings.Join(cells, "|"))
		}
		if got := strings.Join(lines, "/"); got != c.want || sep != c.separator || len(list) > 0 {
			t.Errorf("%s: got %q parted by %q, %v; want %q by %q", name, got, sep, list, c.want, c.separator)
		}
	}
}

// The quotes of RFC 4180, section 2, and what is wrong with others.
func TestReadQuotes(t *testing.T) {
	var list diag.List
	f := diag.NewFile("t.csv", []byte("a,\"14\"\" board\"\nb,14\" board\nc,\"open\n"))
	rows, _ := Read(f, "table", &list)
	if len(rows) != 1 || rows[0][1].Text != `14" board` {
		t.Errorf("got %v", rows)
	}
	if len(list) != 2 || !strings.Contains(list[0].Error(), "t.csv:2:5") || !strings.Contains(list[1].Error(), "is not closed") {
		t.Errorf("reported: %v", list)
	}
}
