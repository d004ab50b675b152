package syntax

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"workings/calc/diag"
)

var update = flag.Bool("update", false, "write the reports in testdata/errors anew")

func parseText(s string) (*Sheet, diag.List) {
	return Parse(diag.NewFile("design.calc", []byte(s)), nil)
}

// exprs are expressions with their trees; they are seeds for the fuzz tests, too.
// The trees follow from the grammar, by hand.
var exprs = []struct{ in, want string }{
	{"12", "12"},
	{"0.46", "0.46"},
	{"23e-6", "23e-6"},
	{"23e−6", "23e-6"}, // minus sign
	{"2E+3", "2E+3"},
	{"5 mm", "5_mm"},
	{"5mm", "5_mm"},
	{"5\u00a0mm", "5_mm"}, // no-break space
	{"5 %", "5_%"},
	{"4.2 kJ/(kg*K)", "4.2_kJ/(kg*K)"},
	{"23e-6 K^-1", "23e-6_K^-1"},
	{"23e-6 per K", "23e-6_K^-1"},
	{"5 mm^2", "5_mm^2"},
	{"5 mm*2", "(* 5_mm 2)"},
	{"5 mm/2", "(/ 5_mm 2)"},
	{"5 mm*(2 + x)", "(* 5_mm <(+ 2 x)>)"},
	{"5 mm*(a+b)", "(* 5_mm <(+ a b)>)"},
	{"5 in", "5_in"},
	{"5 in in mm", "(in 5_in mm)"},
	{"5 in mm", "(in 5 mm)"},
	{"5 in * 2", "(* 5_in 2)"},
	{"5 in^2", "5_in^2"},
	{"(5) in in", "(in <5> in)"},
	{"x in in", "(in x in)"},
	{"if a < 5 in then 1 else 2", "(if (< a 5_in) 1 2)"},
	{"[1 in, 2 in]", "[1_in 2_in]"},
	{"3 N*m", "3_N*m"},
	{"3 N * m", "(* 3_N m)"},
	{"a·b × c", "(* (* a b) c)"},
	{"a − b", "(- a b)"},
	{"a + b * c", "(+ a (* b c))"},
	{"a - b - c", "(- (- a b) c)"},
	{"a / b / c", "(/ (/ a b) c)"},
	{"a / b * c", "(* (/ a b) c)"},
	{"-2^2", "(-u (^ 2 2))"},
	{"2^3^2", "(^ 2 (^ 3 2))"},
	{"x^-2", "(^ x (-u 2))"},
	{"x^-y^2", "(^ x (-u (^ y 2)))"},
	{"x^+2", "(^ x (+u 2))"},
	{"-x * y", "(* (-u x) y)"},
	{"--x", "(-u (-u x))"},
	{"a + -b", "(+ a (-u b))"},
	{"+ -x", "(+u (-u x))"},
	{"x²", "(^ x 2)"},
	{"(a + b)³", "(^ <(+ a b)> 3)"},
	{"-x²", "(-u (^ x 2))"},
	{"(5 mm)^2", "(^ <5_mm> 2)"},
	{"-5 °C", "-5_°C"},
	{"a - -5 °C", "(- a -5_°C)"},
	{"-5 mm", "(-u 5_mm)"},
	{"x*y*z in L", "(in (* (* x y) z) L)"},
	{"a + b in mm <= 3 mm", "(<= (in (+ a b) mm) 3_mm)"},
	{"a <= b in mm", "(<= a (in b mm))"},
	{"a ≤ b", "(<= a b)"},
	{"a ≥ b", "(>= a b)"},
	{"a ≠ b", "(!= a b)"},
	{"a == \"x\"", `(== a "x")`},
	{"a < b and b < c or not d", "(or (and (< a b) (< b c)) (notu d))"},
	{"not a == b", "(notu (== a b))"},
	{"not not a", "(notu (notu a))"},
	{"if a then b else if c then d else e", "(if a b (if c d e))"},
	{"if a then b else c + d in mm", "(if a b (in (+ c d) mm))"},
	{"1 + (if a then b else c)", "(+ 1 <(if a b c)>)"},
	{"belt.hot", "belt.hot"},
	{"a.b.c", "a.b.c"},
	{"f(x)", "(call f x)"},
	{"f()", "(call f)"},
	{"belt.sag(3 mm)", "(call belt.sag 3_mm)"},
	{"f(a, b: 2 mm, c: g(x).y)", "(call f a b:2_mm c:(call g x).y)"},
	{"f(a,\n  b,\n)", "(call f a b)"},
	{"[1 mm, 2 mm]", "[1_mm 2_mm]"},
	{"table \"tables/lamps.csv\"", `(table "tables/lamps.csv")`},
	{"table \"a.csv\".x", `(table "a.csv").x`},
	{`"a \"b\" \\ \n"`, `"a \"b\" \\ \n"`},
	{"true and false", "(and true false)"},
	{"µ_k * Ω", "(* μ_k Ω)"}, // micro sign and ohm sign become letters
	{"nominal + k + up + dof", "(+ (+ (+ nominal k) up) dof)"},
	{"1 / 2 mm", "(/ 1 2_mm)"},
	{"a/2 mm", "(/ a 2_mm)"},
	{"5 mm + 3 mm - 2 mm", "(- (+ 5_mm 3_mm) 2_mm)"},
}

func TestExprs(t *testing.T) {
	for _, c := range exprs {
		x, list := ParseExpr(diag.NewFile("x", []byte(c.in)), nil)
		if len(list) > 0 {
			t.Errorf("%s:\n%s", c.in, list.Error())
			continue
		}
		if got := dump(x); got != c.want {
			t.Errorf("%s: got %s, want %s", c.in, got, c.want)
		}
		checkPrint(t, x)
	}
}

// checkPrint wants that an expression prints as text that gives it again.
func checkPrint(t *testing.T, x Expr) {
	t.Helper()
	text := Print(x)
	y, list := ParseExpr(diag.NewFile("x", []byte(text)), nil)
	if len(list) > 0 {
		t.Errorf("printed as %s:\n%s", text, list.Error())
	} else if dump(x) != dump(y) {
		t.Errorf("printed as %s, which is %s and not %s", text, dump(y), dump(x))
	} else if again := Print(y); again != text {
		t.Errorf("printed as %s, then as %s", text, again)
	}
}

// Trees that the parser does not make are printed with the brackets they need.
func TestPrintMade(t *testing.T) {
	n := func(s string) *Name { return &Name{Name: s} }
	num := func(text, sym string) *Number {
		u := (&unitCache{}).none()
		u.Symbol = sym
		return &Number{Text: text, Unit: u}
	}
	bin := func(op Op, x, y Expr) Expr { return &Binary{Op: op, X: x, Y: y} }
	for _, c := range []struct {
		x    Expr
		want string
	}{
		{bin(OpMul, bin(OpAdd, n("a"), n("b")), n("c")), "(a + b) * c"},
		{bin(OpSub, n("a"), bin(OpSub, n("b"), n("c"))), "a - (b - c)"},
		{bin(OpDiv, n("a"), bin(OpMul, n("b"), n("c"))), "a / (b * c)"},
		{bin(OpPow, num("5", "mm"), num("2", "")), "(5 mm)^2"},
		{bin(OpPow, bin(OpPow, n("a"), n("b")), n("c")), "(a^b)^c"},
		{bin(OpPow, &Unary{Op: OpNeg, X: n("a")}, num("2", "")), "(-a)^2"},
		{bin(OpLT, bin(OpLT, n("a"), n("b")), n("c")), "(a < b) < c"},
		{bin(OpAnd, bin(OpOr, n("a"), n("b")), n("c")), "(a or b) and c"},
		{bin(OpAdd, n("a"), &If{Cond: n("c"), Then: n("d"), Else: n("e")}), "a + (if c then d else e)"},
		{bin(OpAdd, &Convert{X: n("a"), Unit: num("", "mm").Unit}, n("b")), "(a in mm) + b"},
		{&Convert{X: num("5", ""), Unit: num("", "in").Unit}, "(5) in in"},
		{&Unary{Op: OpPos, X: &Unary{Op: OpNeg, X: n("a")}}, "+ -a"},
		{&Unary{Op: OpNot, X: bin(OpAnd, n("a"), n("b"))}, "not (a and b)"},
		{&Field{X: bin(OpAdd, n("a"), n("b")), Name: Ident{Name: "c"}}, "(a + b).c"},
		{&Number{V: 2.5}, "2.5"},
	} {
		if got := Print(c.x); got != c.want {
			t.Errorf("got %s, want %s", got, c.want)
		}
		if _, list := ParseExpr(diag.NewFile("x", []byte(c.want)), nil); len(list) > 0 {
			t.Errorf("%s", list.Error())
		}
	}
}

// sheets are lines with their trees.
var sheets = []struct{ in, want string }{
	{"", ""},
	{"\ufeffa = 1", "def a 1"},
	{"a = 1\r\nb = 2\r\n", "def a 1\ndef b 2"},
	{"bed_x = 220 mm ± 0.2 mm  # bed width", "def bed_x 220_mm ±0.2_mm # bed width"},
	{"a = 220 mm ± 5 %", "def a 220_mm ±5_%"},
	{"a = 220 mm +/- 0.2", "def a 220_mm ±0.2_mm"},
	{"a = 8 mm +0.02 mm -0.00 mm", "def a 8_mm +0.02_mm -0.00_mm"},
	{"a = 8 mm +0.02 -0", "def a 8_mm +0.02_mm -0_mm"},
	{"a = 8 mm +0.02 -0 uncertain 1 %", "def a 8_mm +0.02_mm -0_mm uncertain 1_%"},
	{"a = 8 mm\n  +0.02 -0.01", "def a 8_mm +0.02_mm -0.01_mm"},
	{"a = 8 mm + 0.02 mm - 0.01 mm", "def a (- (+ 8_mm 0.02_mm) 0.01_mm)"},
	{"a = 8 mm +0.02 mm -0.01 mm * x", "def a (- (+ 8_mm 0.02_mm) (* 0.01_mm x))"},
	{"a = b + 2 mm - 1 mm", "def a (- (+ b 2_mm) 1_mm)"},
	{"a = b -2 mm -1 mm", "def a (- (- b 2_mm) 1_mm)"},
	{"a = b -2 mm", "def a (- b 2_mm)"},
	{"a = 0.46 g/cm^3 uncertain 5 %  from \"measured\" because \"it flows\"", `def a 0.46_g/cm^3 uncertain 5_% from "measured" because "it flows"`},
	{"a = 3 mm uncertain 0.2 k 3 dof 12 normal", "def a 3_mm uncertain 0.2_mm k 3 dof 12 normal"},
	{"a = 3 uncertain 0.2 k 3", "def a 3 uncertain 0.2 k 3"},
	{"a = 3 mm uncertain 0.2 mm rectangular", "def a 3_mm uncertain 0.2_mm rectangular"},
	{"t = 18 °C to 68 °C nominal 25 °C", "def t 18_°C to 68_°C nominal 25_°C"},
	{"t = -18 °C to -2", "def t -18_°C to -2_°C"},
	{"t = 20 °C ± 2", "def t 20_°C ±2_K"},
	{"t = 20 °C ± 0.5 K uncertain 1 K to 40 °C", "def t 20_°C ±0.5_K uncertain 1_K to 40_°C"},
	{"x = -2 mm to 3 mm", "def x (-u 2_mm) to 3_mm"},
	{"x = 1 to 5 nominal 2", "def x 1 to 5 nominal 2"},
	{"x = 2 in to 5 in nominal 3 in", "def x 2_in to 5_in nominal 3_in"},
	{"sag(d, e) = d^2 / e from \"book\"", `func sag(d e) (/ (^ d 2) e) from "book"`},
	{"limit load: mass <= 4.5 kg", "limit load (<= mass 4.5_kg)"},
	{"limit load: mass <= 4.5 kg\n  else caution \"Weighs {= mass to 2 sf}.\"  # lift",
		`limit load (<= mass 4.5_kg) else caution <"Weighs " {mass 2sf} "."> # lift`},
	{"limit a: x\naccepted \"why\"\nfrom \"there\"", `limit a x from "there" accepted "why"`},
	{"limit a: x < 1 # one\n\n  else notice \"b\" # two", `limit a (< x 1) else notice <"b"> # one two`},
	{`limit a: x else danger "{= pick(t, \"id\").x} and {= y with spread} \\ \"z\""`,
		`limit a x else danger <{(call pick t "id").x} " and " {y spread} " \\ \"z\"">`},
	{"crosscheck mass: 10 L * 0.4 kg/L within 20 %", "crosscheck mass (* 10_L 0.4_kg/L) within 20_%"},
	{"crosscheck belt.drift.hot: 3 mm within 1 mm from \"by hand\"", `crosscheck belt.drift.hot 3_mm within 1_mm from "by hand"`},
	{"# one\n#\n  # two ", "remark \"one\"\nremark \"\"\nremark \"two\""},
	{"a = b +\n  c", "def a (+ b c)"},
	{"a =\n  b", "def a b"},
	{"a = b\n  + c # sum", "def a (+ b c) # sum"},
	{"a = b\n\n  * c", "def a (* b c)"},
	{"a = if b\n  then c\n  else d", "def a (if b c d)"},
	{"a = 1 to 5\n  nominal 2\nnominal = 3", "def a 1 to 5 nominal 2\ndef nominal 3"},
	{"a = f(\n  x: 1, # first\n  # more\n  y: 2\n)", "def a (call f x:1 y:2) # first more"},
	{"lamps = table \"tables/lamps.csv\"", `def lamps (table "tables/lamps.csv")`},
	{"k = 5\ndof = 2\nwith = 3 # w", "def k 5\ndef dof 2\ndef with 3 # w"},
	{"a = 3 mm from\n  \"there\"", `def a 3_mm from "there"`},
}

func TestSheets(t *testing.T) {
	for _, c := range sheets {
		sheet, list := parseText(c.in)
		if len(list) > 0 {
			t.Errorf("%q:\n%s", c.in, list.Error())
			continue
		}
		if got := dump(sheet); got != c.want {
			t.Errorf("%q:\ngot  %s\nwant %s", c.in, got, c.want)
		}
	}
}

// A line with a mistake is left out, and its name is kept.
func TestBroken(t *testing.T) {
	for _, in := range []string{
		"a = (b\n  c = 3\n",
		"a = \"x\x00\"\nc = 3",
		"a = 5 mmm # x\nc = 3",
		"a(x) = x +\nc = 3",
		"limit a: x < \nc = 3",
		"a = 1 # \xff\nc = 3",
	} {
		sheet, list := parseText(in)
		if got := dump(sheet); got != "def c 3" || len(list) != 1 || len(sheet.Broken) != 1 || sheet.Broken[0].Name != "a" {
			t.Errorf("%q: got %s, broken %v\n%s", in, got, sheet.Broken, list.Error())
		}
	}
}

var inlines = []struct{ in, want string }{
	{"mass", "{mass}"},
	{" belt.hot in N to 2 sf ", "{(in belt.hot N) 2sf}"},
	{"t_max to 2 sf down", "{t_max 2sf down}"},
	{"x to 1 dp up", "{x 1dp up}"},
	{"x to 0 dp", "{x 0dp}"},
	{"cut up to 5 mm", "{cut step 5_mm up}"},
	{"cut in mm down to 5 mm", "{(in cut mm) step 5_mm down}"},
	{"cut to 5 mm", "{cut step 5_mm}"},
	{"x up", "{x up}"},
	{"x in mm down", "{(in x mm) down}"},
	{"x up nominal", "{x up nominal}"},
	{"x nominal up", "{x up nominal}"},
	{"x to 2 sf up nominal", "{x 2sf up nominal}"},
	{"x nominal to 2 sf up", "{x 2sf up nominal}"},
	{"x up to 5 mm nominal", "{x step 5_mm up nominal}"},
	{"x down with spread", "{x down spread}"},
	{"nominal up", "{nominal up}"}, // a name like any other
	{"nominal nominal up", "{nominal up nominal}"},
	{"x with spread", "{x spread}"},
	{"x to 2 sf with spread", "{x 2sf spread}"},
	{"x with spread to 2 sf", "{x 2sf spread}"},
	{"3 mm", "{3_mm}"},
	{"5 in to 2 sf", "{5_in 2sf}"},
	{"5 to 2 sf", "{5 2sf}"},
	{"a\n  + b", "{(+ a b)}"},
}

func TestInlines(t *testing.T) {
	for _, c := range inlines {
		in, list := ParseInline(diag.NewFile("page.md", []byte(c.in)), nil)
		if len(list) > 0 {
			t.Errorf("%q:\n%s", c.in, list.Error())
		} else if got := dump(in); got != c.want {
			t.Errorf("%q: got %s, want %s", c.in, got, c.want)
		}
	}
}

var quantities = []struct{ in, want string }{
	{"61 N ± 5 N", "61_N ±5_N"},
	{"belt.hot ± 5 %", "belt.hot ±5_%"},
	{"belt.hot in N ± 5", "(in belt.hot N) ±5_N"},
	{"belt.hot ± 5 N to 2 sf", "belt.hot ±5_N 2sf"},
	{"belt.hot +2 N -1 N", "belt.hot +2_N -1_N"},
	{"bore +0.02 mm -0 mm to 2 dp", "bore +0.02_mm -0_mm 2dp"},
	{"8 mm +0.02 -0", "8_mm +0.02_mm -0_mm"},
	{"a + b +2 mm -1 mm", "(+ a b) +2_mm -1_mm"},
	{"a -1 mm", "(- a 1_mm)"},
	{"18 °C to 24 °C", "18_°C to 24_°C"},
	{"18 °C to 24 °C to 2 sf", "18_°C to 24_°C 2sf"},
	{"cut up to 5 mm", "cut step 5_mm up"},
	{"cut to 5 mm", "cut step 5_mm"},
	{"18 °C to 24 °C nominal 20 °C", "18_°C to 24_°C nominal 20_°C"},
	{"4", "4"},
}

func TestQuantities(t *testing.T) {
	for _, c := range quantities {
		q, list := ParseQuantity(diag.NewFile("page.md", []byte(c.in)), nil)
		if len(list) > 0 {
			t.Errorf("%q:\n%s", c.in, list.Error())
		} else if got := dump(q); got != c.want {
			t.Errorf("%q: got %s, want %s", c.in, got, c.want)
		}
	}
}

func TestParseMessage(t *testing.T) {
	m, list := ParseMessage(diag.NewFile("page.md", []byte(`C:\x {= pick(t, "id").x to 1 dp}, "so" {= y}`)), nil)
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	want := `<"C:\\x " {(call pick t "id").x 1dp} ", \"so\" " {y}>`
	if got := dump(m); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if m, list := ParseMessage(diag.NewFile("page.md", []byte("a {= b")), nil); m != nil || len(list) != 1 || list[0].Code != CodeOpenInline {
		t.Errorf("got %v, %v", m, list)
	}
}

// A block in a quote is many segments; places are those of the file.
func TestSegments(t *testing.T) {
	text := "> ```calc\n> a = (1 +\n>   2)\n> b = a ++* 2\n> ```\n"
	file := diag.NewFile("page.md", []byte(text))
	var segs []Seg
	for n := 2; n <= 4; n++ {
		segs = append(segs, Seg{file.LineStart(n) + 2, file.LineStart(n + 1)})
	}
	sheet, list := Parse(file, segs)
	if len(sheet.Stmts) != 1 || len(list) != 1 {
		t.Fatalf("got %s\n%s", dump(sheet), list.Error())
	}
	if got := sheet.Stmts[0].Span().Text(); got != "a = (1 +\n>   2)" {
		t.Errorf("the statement is %q", got)
	}
	if line, col := file.Position(list[0].Span.Start); line != 4 || col != 11 {
		t.Errorf("the error is at %d:%d: %s", line, col, list.Error())
	}
	if len(sheet.Broken) != 1 || sheet.Broken[0].Name != "b" {
		t.Errorf("broken: %v", sheet.Broken)
	}
	for _, segs := range [][]Seg{{}, {{5, 2}}, {{-3, 4000}}, {{9, 12}, {0, 3}}} { // no panic on segments that make no sense
		Parse(file, segs)
		ParseInline(file, segs)
		Tidy(file, segs)
	}
}

func TestWalk(t *testing.T) {
	x, list := ParseExpr(diag.NewFile("x", []byte("if a then f(b, c: [d, -e]).g else (h + i in mm)")), nil)
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	var names []string
	Walk(x, func(x Expr) bool {
		if n, ok := x.(*Name); ok {
			names = append(names, n.Name)
		}
		return true
	})
	if got := strings.Join(names, " "); got != "a f b c d e h i" && got != "a f b d e h i" {
		t.Errorf("got %s", got)
	}
	n := 0
	Walk(x, func(Expr) bool { n++; return false })
	if n != 1 {
		t.Errorf("%d expressions visited", n)
	}
}

// Chunk files hold sheets between lines of ---. A comment that starts with ###
// is cut off before parsing and names the codes of the errors wanted on its line.
func TestChunks(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no chunk files", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		line := 1
		for _, chunk := range strings.Split(string(data), "---\n") {
			checkChunk(t, name, line, chunk)
			line += strings.Count(chunk, "\n") + 1
		}
	}
}

func checkChunk(t *testing.T, name string, first int, chunk string) {
	t.Helper()
	want := map[int][]string{}
	var text strings.Builder
	for i, l := range strings.SplitAfter(chunk, "\n") {
		code, codes, ok := strings.Cut(l, "###")
		text.WriteString(code)
		if ok {
			want[i+1] = strings.Fields(codes)
			text.WriteByte('\n')
		}
	}
	_, list := parseText(text.String())
	got := map[int][]string{}
	for _, d := range list {
		n := d.Span.Line()
		got[n] = append(got[n], d.Code)
	}
	for n := range strings.Count(chunk, "\n") + 2 {
		if g, w := strings.Join(got[n], " "), strings.Join(want[n], " "); g != w {
			t.Errorf("%s:%d: got errors [%s], want [%s]", name, first+n-1, g, w)
		}
	}
}

// The reports as a person reads them. A case is a line `== what it is` with
// sheet, inline, expr or quantity as its first word, the text, a line `--`, and
// the report.
func TestReports(t *testing.T) {
	files, err := filepath.Glob("testdata/errors/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no files of reports", err)
	}
	cases := 0
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var out strings.Builder
		for _, c := range strings.Split("\n"+string(data), "\n== ")[1:] {
			cases++
			title, rest, _ := strings.Cut(c, "\n")
			text, _, _ := strings.Cut(rest, "\n--")
			how, _, _ := strings.Cut(title, ":")
			list := parseAs(t, how, text)
			if !list.HasErrors() {
				t.Errorf("%s: %s: no error", name, title)
			}
			fmt.Fprintf(&out, "== %s\n%s\n--\n%s", title, text, list.Error())
		}
		if *update {
			if err := os.WriteFile(name, []byte(out.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		} else if out.String() != string(data) {
			t.Errorf("%s differs; with -update it is written anew\n%s", name, firstDiff(string(data), out.String()))
		}
	}
	if cases < 60 {
		t.Errorf("%d cases only", cases)
	}
}

func parseAs(t *testing.T, how, text string) (list diag.List) {
	t.Helper()
	file := diag.NewFile("design.calc", []byte(text))
	switch how {
	case "sheet":
		_, list = Parse(file, nil)
	case "inline":
		_, list = ParseInline(file, nil)
	case "expr":
		_, list = ParseExpr(file, nil)
	case "quantity":
		_, list = ParseQuantity(file, nil)
	default:
		t.Fatalf("unknown kind %q", how)
	}
	return list
}

func firstDiff(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range w {
		if i >= len(g) || w[i] != g[i] {
			return fmt.Sprintf("line %d:\nwant %s\ngot  %s", i+1, w[i], strings.Join(g[i:min(i+5, len(g))], "\n     "))
		}
	}
	return "it is longer"
}

func TestBounds(t *testing.T) {
	for _, c := range []struct{ name, in, code string }{
		{"brackets", "a = " + strings.Repeat("(", 100_000), CodeTooDeep},
		{"square brackets", "a = " + strings.Repeat("[", 100_000), CodeTooDeep},
		{"calls", "a = " + strings.Repeat("f(", 100_000), CodeTooDeep},
		{"signs", "a = " + strings.Repeat("- ", 100_000) + "1", CodeTooDeep},
		{"not", "a = " + strings.Repeat("not ", 100_000) + "b", CodeTooDeep},
		{"powers", "a = " + strings.Repeat("2^", 100_000) + "2", CodeTooDeep},
		{"powers of signs", "a = 2^" + strings.Repeat("-", 100_000) + "2", CodeTooDeep},
		{"if", "a = " + strings.Repeat("if ", 100_000), CodeTooDeep},
		{"else if", "a = " + strings.Repeat("if b then c else ", 100_000) + "d", CodeTooDeep},
		{"sum", "a = " + strings.Repeat("1+", 100_000) + "1", CodeTooLong},
		{"fields", "a = b" + strings.Repeat(".b", 100_000), CodeTooLong},
		{"unit", "a = 1 m" + strings.Repeat("*m", 100_000), CodeBadUnit},
		{"brackets in a unit", "a = 1 m*" + strings.Repeat("(", 100_000) + "m" + strings.Repeat(")", 100_000), CodeBadUnit},
		{"text", strings.Repeat("# 345678\n", maxText/9+1), CodeTooLarge},
		{"errors", strings.Repeat("a = 1 +\n", 1000), CodeTooMany},
	} {
		start := time.Now()
		_, list := parseText(c.in)
		if d := time.Since(start); d > time.Minute {
			t.Errorf("%s: took %v", c.name, d)
		}
		if n := len(list); n == 0 || n > maxErrors+1 || list[n-1].Code != c.code {
			t.Errorf("%s: got %d errors, the last %v; want %s", c.name, n, list[max(n-1, 0):], c.code)
		}
	}
	// What lies just within the bounds is read.
	for _, in := range []string{
		"a = " + strings.Repeat("(", 199) + "1" + strings.Repeat(")", 199),
		"a = " + strings.Repeat("1+", 4_900) + "1",
	} {
		if _, list := parseText(in); len(list) > 0 {
			t.Error(list[0].Error())
		}
	}
	// Texts of the greatest length, made to be slow.
	for _, unit := range []string{"(", "\"{=", "1 m*(", "in ", "a b", "1 in ", "a = (\n", "a = f(\nb = 1,\n", "\xff", "#\xff\n", "5 k 1", "x(a,", "1 per ", "a.b ", "{= ", "\\\"", "+1 "} {
		start := time.Now()
		parseText(strings.Repeat(unit, maxText/len(unit)))
		parseText("a = " + strings.Repeat(unit, maxText/len(unit)-4))
		if d := time.Since(start); d > time.Minute { // against work that grows with the square, not a measurement
			t.Errorf("%q again and again: took %v", unit, d)
		}
	}
}
