package syntax

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"workings/calc/diag"
)

// seed adds the texts of all tables and files.
func seed(f *testing.F) {
	for _, c := range exprs {
		f.Add(c.in)
		f.Add("a = " + c.in)
	}
	for _, c := range sheets {
		f.Add(c.in)
	}
	for _, c := range inlines {
		f.Add(c.in)
	}
	for _, c := range quantities {
		f.Add(c.in)
	}
	files, err := filepath.Glob("testdata/*/*.txt")
	if err != nil || len(files) == 0 {
		f.Fatal("no files", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, c := range strings.Split(string(data), "\n== ") {
			_, rest, _ := strings.Cut(c, "\n")
			text, _, _ := strings.Cut(rest, "\n--")
			f.Add(text)
		}
	}
}

// Tokens come in order, do not overlap, and leave out nothing but white space.
func FuzzScan(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		toks, _ := scan(text, 0, len(text), `"`)
		at := 0
		for i, tok := range toks {
			gap := strings.Trim(strings.TrimPrefix(text[at:tok.start], "\ufeff"), " \t\r\u00a0\u2009\u202f")
			if gap != "" {
				t.Fatalf("%q is left out", gap)
			}
			if tok.end < tok.start || tok.end == tok.start && tok.kind != tEOF {
				t.Fatalf("token %d of kind %d from %d to %d", i, tok.kind, tok.start, tok.end)
			}
			at = int(tok.end)
		}
		if last := toks[len(toks)-1]; last.kind != tEOF || at != len(text) {
			t.Fatalf("ends at %d of %d with kind %d", at, len(text), last.kind)
		}
	})
}

// Nothing panics; every place lies in the file; expressions print as text that
// gives them again; a statement is there or its mistake is reported.
func FuzzParse(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		// The text twice: as a file, and as segments of one with two characters
		// before each line.
		plain := diag.NewFile("a", []byte(text))
		sheet, list := Parse(plain, nil)
		checkList(t, plain, list)
		checkSheet(t, sheet)
		if len(sheet.Stmts) == 0 && len(list) == 0 && strings.Trim(text, " \t\r\n\ufeff\u00a0\u2009\u202f") != "" {
			t.Errorf("nothing read and nothing reported")
		}
		quoted := diag.NewFile("b", []byte("> "+strings.ReplaceAll(text, "\n", "\n> ")))
		var segs []Seg
		for at := 0; ; {
			end := len(quoted.Text)
			if i := strings.IndexByte(string(quoted.Text[at:]), '\n'); i >= 0 {
				end = at + i + 1
			}
			segs = append(segs, Seg{at + 2, end})
			if at = end; at == len(quoted.Text) {
				break
			}
		}
		sheet2, list2 := Parse(quoted, segs)
		checkList(t, quoted, list2)
		if a, b := dump(sheet), dump(sheet2); a != b || len(list) != len(list2) {
			t.Errorf("in segments it is\n%s\n%s\nand not\n%s\n%s", b, list2.Error(), a, list.Error())
		}
		for _, parse := range []func(*diag.File, []Seg) diag.List{
			func(f *diag.File, s []Seg) diag.List {
				x, l := ParseExpr(f, s)
				if (x == nil) != l.HasErrors() {
					t.Errorf("expression %v with errors %v", x, l)
				}
				if x != nil {
					checkPrint(t, x)
				}
				return l
			},
			func(f *diag.File, s []Seg) diag.List {
				x, l := ParseInline(f, s)
				if (x == nil) != l.HasErrors() {
					t.Errorf("inline figure %v with errors %v", x, l)
				}
				return l
			},
			func(f *diag.File, s []Seg) diag.List {
				x, l := ParseQuantity(f, s)
				if (x == nil) != l.HasErrors() {
					t.Errorf("quantity %v with errors %v", x, l)
				}
				return l
			},
			func(f *diag.File, s []Seg) diag.List {
				_, l := ParseMessage(f, s)
				return l
			},
		} {
			checkList(t, plain, parse(plain, nil))
			checkList(t, quoted, parse(quoted, segs))
		}
	})
}

func checkList(t *testing.T, file *diag.File, list diag.List) {
	t.Helper()
	for _, d := range list {
		checkSpan(t, file, d.Span, d.Msg)
		if d.Msg == "" || d.Code == "" {
			t.Errorf("an error without text: %v", d)
		}
	}
	_ = list.Error() // the pictures are drawn without a panic
}

func checkSpan(t *testing.T, file *diag.File, s diag.Span, what string) {
	t.Helper()
	if s.File != file || s.Start < 0 || s.End < s.Start || s.End > len(file.Text) {
		t.Errorf("%s: the place %d to %d is not in the file", what, s.Start, s.End)
	}
}

func checkSheet(t *testing.T, sheet *Sheet) {
	t.Helper()
	for _, st := range sheet.Stmts {
		checkSpan(t, sheet.File, st.Span(), "statement")
		for _, x := range exprsOf(st) {
			Walk(x, func(x Expr) bool {
				checkSpan(t, sheet.File, x.Span(), "expression")
				if s, o := st.Span(), x.Span(); o.Start < s.Start || o.End > s.End {
					t.Errorf("%s lies outside its statement", Print(x))
				}
				return true
			})
			checkPrint(t, x)
		}
	}
}

func exprsOf(st Stmt) []Expr {
	switch st := st.(type) {
	case *Def:
		return []Expr{st.X}
	case *FuncDef:
		return []Expr{st.X}
	case *Limit:
		return []Expr{st.Cond}
	case *CrossCheck:
		return []Expr{st.Target, st.X, st.Within}
	}
	return nil
}

// A tidy sheet means the same, stays as it is, and keeps its comments.
func FuzzTidy(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		checkTidy(t, text)
	})
}

func checkTidy(t *testing.T, text string) {
	t.Helper()
	before, list := Parse(diag.NewFile("a", []byte(text)), nil)
	tidy, list2 := Tidy(diag.NewFile("a", []byte(text)), nil)
	if list.HasErrors() {
		if tidy != "" || !list2.HasErrors() {
			t.Errorf("text with errors was laid out")
		}
		return
	}
	after, list := Parse(diag.NewFile("tidy", []byte(tidy)), nil)
	if len(list) > 0 {
		t.Fatalf("from %q:\n%s\n%s", text, tidy, list.Error())
	}
	if a, b := dump(before), dump(after); a != b || !Same(before, after) {
		t.Errorf("from %q:\n%s\nmeans\n%s\nand not\n%s", text, tidy, b, a)
	}
	again, _ := Tidy(diag.NewFile("tidy", []byte(tidy)), nil)
	if again != tidy {
		t.Errorf("not the same again:\n%s\n%s", tidy, again)
	}
}
