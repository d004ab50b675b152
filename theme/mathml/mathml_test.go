package mathml

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
)

var update = flag.Bool("update", false, "rewrite testdata")

func parse(t *testing.T, s string) syntax.Expr {
	t.Helper()
	x, list := syntax.ParseExpr(diag.NewFile("test", []byte(s)), nil)
	if err := list.Err(); err != nil {
		t.Fatalf("%s: %v", s, err)
	}
	return x
}

// wellFormed checks MathML as XML with the elements and children that MathML
// Core wants.
func wellFormed(t *testing.T, s string) {
	t.Helper()
	want := map[string]int{"mfrac": 2, "msup": 2, "msub": 2, "mroot": 2}
	known := " math mrow mi mn mo mtext mfrac mstyle msup msub msqrt mroot mtable mtr mtd span "
	type level struct {
		name string
		kids int
	}
	var stack []level
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%v in %s", err, s)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			if !strings.Contains(known, " "+e.Name.Local+" ") {
				t.Errorf("element %s in %s", e.Name.Local, s)
			}
			if n := len(stack); n > 0 {
				stack[n-1].kids++
			}
			stack = append(stack, level{name: e.Name.Local})
		case xml.EndElement:
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if n := want[top.name]; n > 0 && top.kids != n {
				t.Errorf("%s has %d parts in %s", top.name, top.kids, s)
			}
		}
	}
}

var formulas = []string{
	"bed_x * bed_y - (4 - pi) * corner_r^2",
	"T_hot - T_cold",
	"alpha * L * (T_hot - T_cold)",
	"F_cold + (Delta_s - Delta_b) / (S / (E * A) + g^2 / k)",
	"1 / (2 * L) * sqrt(F / m)",
	"0.46 g/cm^3",
	"23e-6 K^-1 * 12345.6 mm",
	"-x^2",
	"(-x)^2",
	"2 * -x",
	"a - (b - c) - d",
	"a - (b + c) * d",
	"a / b / c",
	"a / (b / c)",
	"(a * b) / (c * d) * e",
	"(a / b)^n",
	"a^(1/2) + a^(1/3) + a^0.5 + a^(2/3) + a^-1",
	"(5 mm)^2 * x",
	"abs(d_2 - d1) / 2",
	"cos(phi)^2 + sin(2 * phi)",
	"min(margin_hot, margin_cold) >= 0 K and not (a < b or ok == true)",
	"if x > 2 mm then a else if x > 1 mm then b + 1 mm else 0 mm",
	"1 + (if a > b then a else b)",
	"belt.hot in N",
	"belt_drift(length: L, cord_expansion: 2 * alpha, set_at: 20 °C)",
	"belt_drift(length: L).hot",
	"sag(d / 2, 3)",
	"lookup(t.x, t.y, 3.5)",
	`pick(lamps, "a<b & c").power`,
	"sum([1 mm, 2 mm, x])",
	"1 + 2 * 3 / (4 + 5) * (6 + 7)",
	"centre_distance * frame_expansion * (frame_hot - set_at)",
	"mass_per_length * span^2",
	"mode != \"fast\"",
}

func TestGolden(t *testing.T) {
	var b strings.Builder
	for _, f := range formulas {
		x := parse(t, f)
		m := Formula(x, Options{})
		wellFormed(t, m)
		b.WriteString(f + "\n  " + FormulaText(x, Options{}) + "\n  " + m + "\n\n")
	}
	const path = "testdata/formulas.txt"
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Error(d)
	}
}

// TestText holds the plain text against what one would write by hand.
func TestText(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"bed_x * bed_y - (4 - pi) * corner_r^2", "bed_x ⋅ bed_y − (4 − π) ⋅ corner_r²"},
		{"alpha * L * (T_hot - T_cold)", "α ⋅ L ⋅ (T_hot − T_cold)"},
		{"a / b / c", "a / (b ⋅ c)"},
		{"a / (b / c)", "a / (b / c)"},
		{"a / (b + c)", "a / (b + c)"},
		{"(a + b) / c", "(a + b) / c"},
		{"a * b / c", "a ⋅ b / c"},
		{"(a / b)^n", "(a / b)^n"},
		{"a^(b/c)", "a^(b / c)"},
		{"a - (b - c)", "a − (b − c)"},
		{"a + (b - c)", "a + b − c"},
		{"a - -b", "a − (−b)"},
		{"(-a)^2", "(−a)²"},
		{"-a^2", "−a²"},
		{"(5 mm)^2", "(5\u202fmm)²"},
		{"sqrt(F / m)", "√(F / m)"},
		{"x^(1/3)", "³√x"},
		{"abs(x - y)", "|x − y|"},
		{"if a > 1 then b else c", "b if\u00a0a > 1; c otherwise"},
		{"a and (b or c)", "a and (b or c)"},
		{"23e-6 K^-1", "23 × 10⁻⁶\u202fK⁻¹"},
		{"f(x)^2", "f(x)²"},
		{"cos(phi)^2 + cos(phi)^-1", "cos²(φ) + cos(φ)⁻¹"},
		{"spring_rate * mass_per_length", "spring_rate ⋅ mass_per_length"},
		{"m(a: 1, b: x, c: 3 mm)", "m(a: 1, b: x, c: 3\u202fmm)"},
		{"2 * 3", "2 × 3"},
		{"45 °", "45°"},
	} {
		if got := FormulaText(parse(t, c.in), Options{}); got != c.want {
			t.Errorf("%s: %q, want %q", c.in, got, c.want)
		}
	}
}

func TestSubstituted(t *testing.T) {
	mm := unit.Unit{Symbol: "mm", Factor: 1e-3}
	values := map[string]Quantity{
		"bed_x": {"220", mm}, "bed_y": {"1600", mm}, "corner_r": {"-14.5", mm}, "belt.hot": {"6.1e3", unit.Unit{Symbol: "N"}},
		"mode": {"fast & <hot>", unit.Unit{}}, "n": {"3", unit.Unit{}},
	}
	value := func(x syntax.Expr) (string, unit.Unit, bool) {
		q, ok := values[syntax.Print(x)]
		return q.Number, q.Unit, ok
	}
	for _, c := range []struct {
		in, want string
		o        Options
	}{
		{"bed_x * bed_y - (4 - pi) * corner_r^2", "220\u202fmm × 1600\u202fmm − (4 − π) × (−14.5\u202fmm)²", Options{}},
		{"bed_x + corner_r", "A_1 = 220\u202fmm + (−14,5\u202fmm) = 205,5\u202fmm", Options{Decimal: ',', Name: "A_1", Result: &Quantity{"205.5", mm}}},
		{"belt.hot / n", "6.1 × 10³\u202fN / 3", Options{}},
		{"unknown * n", "unknown × 3", Options{}},
		{"n(n)", "n(3)", Options{}},
		{"min(bed_x, n)", "min(220\u202fmm; 3)", Options{Decimal: ','}},
	} {
		x := parse(t, c.in)
		if got := SubstitutedText(x, value, c.o); got != c.want {
			t.Errorf("%s: %q, want %q", c.in, got, c.want)
		}
		wellFormed(t, Substituted(x, value, c.o))
	}
	if m := Substituted(parse(t, "mode"), value, Options{Alt: "unseen"}); !strings.Contains(m, "fast &amp; &lt;hot&gt;") || strings.Contains(m, "<hot>") ||
		!strings.Contains(m, `<math aria-hidden="true">`) || !strings.Contains(m, `<span class="unseen">fast &amp; &lt;hot&gt;</span>`) {
		t.Error(m)
	}
}

// TestBreak puts the pieces of a line together again.
func TestBreak(t *testing.T) {
	x := parse(t, "first_term * second_term + third_term * fourth_term * fifth_term * sixth_term - 7 * (a + b)")
	parts := pieces(Options{Name: "result"}.line(x, nil))
	var got []string
	for _, p := range parts {
		got = append(got, strings.TrimSpace(text(p)))
	}
	want := []string{"result", "= first_term", "⋅ second_term", "+ third_term", "⋅ fourth_term", "⋅ fifth_term", "⋅ sixth_term", "− 7 ⋅ (a + b)"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	// Long names with dots are broken before a dot, short ones nowhere.
	got = nil
	for _, p := range pieces(Options{}.line(parse(t, "lamps_over.light.capture * bed.mean.x"), nil)) {
		got = append(got, strings.TrimSpace(text(p)))
	}
	if d := cmp.Diff([]string{"lamps_over.light", ".capture", "⋅ bed.mean.x"}, got); d != "" {
		t.Error(d)
	}
	m := Formula(x, Options{Name: "result", Break: true, Alt: "unseen"})
	wellFormed(t, "<mrow>"+m+"</mrow>")
	if n := strings.Count(m, "<math "); n != len(want) {
		t.Errorf("%d math elements, want %d", n, len(want))
	}
	if !strings.Contains(m, `<mo form="infix">−</mo>`) || strings.Count(m, "<span") != 1 {
		t.Error(m)
	}
	if m := Formula(parse(t, "a + b"), Options{Break: true}); strings.Count(m, "<math") != 1 {
		t.Error(m)
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct{ in, text, math string }{
		{"T_hot", "T_hot", "<msub><mi>T</mi><mtext>hot</mtext></msub>"},
		{"alpha", "α", "<mi>α</mi>"},
		{"pi", "π", `<mi mathvariant="normal">π</mi>`},
		{"Delta_s", "Δ_s", "<msub><mi>Δ</mi><mi>s</mi></msub>"},
		{"bed_x", "bed_x", "<msub><mi>bed</mi><mi>x</mi></msub>"},
		{"d1", "d1", "<msub><mi>d</mi><mn>1</mn></msub>"},
		{"d_1", "d_1", "<msub><mi>d</mi><mn>1</mn></msub>"},
		{"mass_per_length", "mass_per_length", "<mi>mass per length</mi>"},
		{"spring_rate", "spring_rate", "<mi>spring rate</mi>"},
		{"tension_cold", "tension_cold", "<msub><mi>tension</mi><mtext>cold</mtext></msub>"},
		{"bed_temperature_max", "bed_temperature_max", "<msub><mi>bed temperature</mi><mtext>max</mtext></msub>"},
		{"take_up", "take_up", "<mi>take up</mi>"},
		{"teeth_1", "teeth_1", "<msub><mi>teeth</mi><mn>1</mn></msub>"},
		{"eta_lamp_hot", "η_lamp_hot", "<msub><mi>η</mi><mtext>lamp hot</mtext></msub>"},
		{"g_n", "g_n", "<msub><mi>g</mi><mi>n</mi></msub>"},
		{"rail", "rail", "<mi>rail</mi>"},
		{"_x", "_x", "<mi>_x</mi>"},
		{"x_", "x_", "<mi>x_</mi>"},
		{"a__b", "a__b", "<msub><mi>a</mi><mtext> b</mtext></msub>"},
		{"belt.hot", "belt.hot", `<mrow><mi>belt</mi><mtext>.</mtext><mi>hot</mi></mrow>`},
		{"η", "η", "<mi>η</mi>"},
	} {
		if got := SymbolText(c.in); got != c.text {
			t.Errorf("%s: %q, want %q", c.in, got, c.text)
		}
		if got := strings.ReplaceAll(Symbol(c.in), "\u00a0", " "); got != "<math>"+c.math+"</math>" {
			t.Errorf("%s: %s, want %s", c.in, got, c.math)
		}
	}
}

func TestNumbers(t *testing.T) {
	s := setter{}
	for _, c := range []struct{ in, want string }{
		{"1384", "1384"}, {"13840", "13\u202f840"}, {"-2.50", "−2.50"}, {"1.2e-9", "1.2 × 10⁻⁹"}, {"1234567.125", "1\u202f234\u202f567.125"},
		{"0", "0"}, {"yes", "yes"}, {"1.2.3", "1.2.3"}, {"e5", "e5"}, {"1e+06", "1 × 10⁶"}, {"", ""}, {"-", "-"}, {"NaN", "NaN"},
	} {
		if got := text(s.quantity(c.in, unit.Unit{})); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
}

func TestFunctionHead(t *testing.T) {
	x := parse(t, "q * d^2")
	if got := FormulaText(x, Options{Name: "sag", Params: []string{"d", "q_0"}, Decimal: ','}); got != "sag(d; q_0) = q ⋅ d²" {
		t.Error(got)
	}
	// What is set the same in a line of text needs no word.
	for src, want := range map[string]string{"q * d^2": "<math><", "q / d": `<math displaystyle="true"><`, "sum([q, d])": `<math`} {
		if got := Formula(parse(t, src), Options{Display: true}); !strings.HasPrefix(got, want) {
			t.Error(got)
		}
	}
}

// TestModels writes every formula of the library.
func TestModels(t *testing.T) {
	n := 0
	for _, s := range model.Library() {
		for _, line := range s.Formula {
			m, caption, err := ModelLine(line, Options{Display: true})
			if err != nil {
				t.Errorf("%s: %v", s.Name, err)
				continue
			}
			wellFormed(t, m)
			_, want, _ := strings.Cut(line, "#")
			if caption != strings.TrimSpace(want) {
				t.Errorf("%s: caption %q of %q", s.Name, caption, line)
			}
			n++
		}
	}
	if n < 20 {
		t.Errorf("only %d lines", n)
	}
	for _, bad := range []string{"", "a + b", "a = ", "limit x: a < b", "a = 1\nb = 2"} {
		if _, _, err := ModelLine(bad, Options{}); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

// random makes a tree that need not be one the parser gives.
func random(r *rand.Rand, depth int) syntax.Expr {
	names := []string{"a", "T_hot", "pi", "bed_x", "x__", "", "_", "µ", "lamp 2 <&>"}
	id := func() string { return names[r.IntN(len(names))] }
	if depth <= 0 {
		switch r.IntN(6) {
		case 0:
			return nil
		case 1:
			return &syntax.Number{Text: []string{"", "1e5", "-3", "x"}[r.IntN(4)], V: r.NormFloat64(), Unit: unit.Unit{Symbol: []string{"", "mm^2", "°", "^(1/2)"}[r.IntN(4)]}}
		case 2:
			return &syntax.String{Value: "a<b"}
		case 3:
			return &syntax.Bool{Value: r.IntN(2) == 0}
		}
		return &syntax.Name{Name: id()}
	}
	sub := func() syntax.Expr { return random(r, depth-1-r.IntN(2)) }
	switch r.IntN(9) {
	case 0:
		return &syntax.Field{X: sub(), Name: syntax.Ident{Name: id()}}
	case 1:
		return &syntax.Unary{Op: []syntax.Op{syntax.OpNeg, syntax.OpPos, syntax.OpNot}[r.IntN(3)], X: sub()}
	case 2:
		return &syntax.Convert{X: sub()}
	case 3:
		return &syntax.If{Cond: sub(), Then: sub(), Else: sub()}
	case 4:
		c := &syntax.Call{Fun: sub()}
		for range r.IntN(4) {
			a := syntax.Arg{X: sub()}
			if r.IntN(2) == 0 {
				a.Name = &syntax.Ident{Name: id()}
			}
			c.Args = append(c.Args, a)
		}
		return c
	case 5:
		l := &syntax.ListExpr{}
		for range r.IntN(3) {
			l.Items = append(l.Items, sub())
		}
		return l
	case 6:
		return &syntax.Paren{X: sub()}
	}
	return &syntax.Binary{Op: syntax.Op(r.IntN(int(syntax.OpOr) + 1)), X: sub(), Y: sub()}
}

func TestAnyTree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		x := random(r, r.IntN(7))
		o := Options{Display: r.IntN(2) == 0, Break: r.IntN(2) == 0, Alt: "a"}
		wellFormed(t, "<mrow>"+Formula(x, o)+"</mrow>")
		value := func(syntax.Expr) (string, unit.Unit, bool) {
			return []string{"-5", "1e9", "a<b", ""}[r.IntN(4)], unit.Unit{Symbol: "m"}, r.IntN(3) > 0
		}
		wellFormed(t, "<mrow>"+Substituted(x, value, o)+"</mrow>")
		SubstitutedText(x, value, o)
	}
}
