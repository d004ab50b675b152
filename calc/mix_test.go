package calc

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// resultOf computes a sheet and its blocks; a line "[name]" opens a block.
func resultOf(t *testing.T, text string, tables map[string]string) *Result {
	t.Helper()
	var in Input
	name, from := "", 0
	file := diag.NewFile("design.calc", []byte(text))
	flush := func(end int) {
		sheet, list := syntax.Parse(file, []syntax.Seg{{Start: from, End: end}})
		if list.HasErrors() {
			t.Fatalf("%s\n%v", text, list)
		}
		in.Blocks = append(in.Blocks, Block{Name: name, Sheet: sheet})
	}
	for off, line := 0, ""; off < len(text); off += len(line) + 1 {
		line, _, _ = strings.Cut(text[off:], "\n")
		if strings.HasPrefix(line, "[") {
			flush(off)
			name, from = strings.Trim(line, "[]"), off+len(line)
		}
	}
	flush(len(text))
	in.Table = func(name string) (*diag.File, error) {
		if s, ok := tables[name]; ok {
			return diag.NewFile(name, []byte(s)), nil
		}
		return nil, fmt.Errorf("no such file")
	}
	p, list := Compile(in)
	if list.HasErrors() {
		t.Fatalf("%s\n%v", text, list)
	}
	r, list := p.Run()
	if list.HasErrors() {
		t.Fatalf("%s\n%v", text, list)
	}
	return r
}

func TestValues(t *testing.T) {
	r := resultOf(t, "a = 2 m ± 1 mm\nb = 3 m\nc = a * b\nfin = \"long\"\nf = if fin == \"long\" then c else 1 m^2\n[blk]\nd = f / 2 m\n", nil)
	for _, c := range []struct {
		set  map[string]Value
		want float64 // of blk.d, by hand
	}{
		{nil, 3},
		{map[string]Value{"a": 4.0}, 6},
		{map[string]Value{"c": 1.0, "b": 9.0}, 0.5},
		{map[string]Value{"fin": "short"}, 0.5},
	} {
		got, err := r.Values([]string{"blk.d"}, c.set)
		if err != nil || len(got) != 1 || got[0] != c.want {
			t.Errorf("with %v: %v, %v, want %v", c.set, got, err, c.want)
		}
	}
	for _, c := range []struct {
		names []string
		set   map[string]Value
	}{{[]string{"none"}, nil}, {nil, map[string]Value{"none": 1.0}}, {nil, map[string]Value{"a": "text"}}} {
		if got, err := r.Values(c.names, c.set); err == nil {
			t.Errorf("%v with %v gives %v", c.names, c.set, got)
		}
	}
	// What cannot be computed has no value, and is no error.
	if got, err := r.Values([]string{"blk.d"}, map[string]Value{"c": math.Inf(1)}); err != nil || got[0] != nil {
		t.Errorf("of an infinite area: %v, %v", got, err)
	}
}

// Values agrees with running the whole program again with the literals replaced.
func TestValuesAgreeWithRun(t *testing.T) {
	const sheet = "a = %v m\nb = %v m\nk = table \"k.csv\"\nf(x) = x ^ 2 + b * x\nc = max(f(a), 3 m^2)\nd = sqrt(c) * lookup(k.x, k.y, a / b)\n"
	tables := map[string]string{"k.csv": "x,y\n0,1\n1,2\n5,3\n"}
	rnd := rand.New(rand.NewSource(1))
	base := resultOf(t, fmt.Sprintf(sheet, 1, 1), tables)
	for range 50 {
		a, b := float64(1+rnd.Intn(400))/100, float64(100+rnd.Intn(300))/100
		want := resultOf(t, fmt.Sprintf(sheet, a, b), tables).Figure("d").Value
		got, err := base.Values([]string{"d"}, map[string]Value{"a": a, "b": b})
		if err != nil || got[0] != want {
			t.Fatalf("a = %v, b = %v: %v, %v, want %v", a, b, got, err, want)
		}
	}
}

// The causes between two sheets, and a value in a mixture of both, by hand.
func TestMix(t *testing.T) {
	tables := func(v string) map[string]string { return map[string]string{"k.csv": "x,y\n0,0\n1," + v + "\n"} }
	for _, c := range []struct {
		name     string
		old, new string
		oldTab   string
		causes   string             // names and tables, causes separated by |
		figure   string             // its values by the causes taken from the newer, as bits, the first cause first
		want     map[string]float64 // SI
	}{
		{
			name: "parameters and a formula",
			old:  "a = 2 m\nb = 3 m\nc = a * b\n", new: "a = 4 m\nb = 3 m\nc = a * b * 2\n",
			causes: "a | c", figure: "c",
			want: map[string]float64{"00": 6, "10": 12, "01": 12, "11": 24},
		},
		{
			name: "how a line is written and what is said beside its value do not matter",
			old:  "a = 2 m\nc = a*2\n", new: "a = 200 cm ± 1 mm  because \"rounder\"\nc  =  a * 2 # area\n",
			causes: "", figure: "c", want: map[string]float64{"": 4},
		},
		{
			name: "a new parameter comes in by the formula that uses it",
			old:  "a = 2 m\nc = a * 3\n", new: "a = 2 m\nk = 5\nc = a * k\n",
			causes: "c", figure: "c", want: map[string]float64{"0": 6, "1": 10},
		},
		{
			name: "a given value is computed now",
			old:  "a = 2 m\nb = 6 m\nc = b + 1 m\n", new: "a = 3 m\nb = 3 * a\nc = b + 1 m\n",
			causes: "a | b", figure: "c", want: map[string]float64{"00": 7, "10": 7, "01": 7, "11": 10},
		},
		{
			name: "a dimension goes with the lines that use it",
			old:  "a = 2 m\nb = a * 2\nc = b / 1 m\nk = 1\nd = c * k\n", new: "a = 3 s\nb = a * 2\nc = b / 1 s\nk = 2\nd = c * k\n",
			causes: "a c | k", figure: "d", want: map[string]float64{"00": 4, "10": 6, "01": 8, "11": 12},
		},
		{
			name: "a function goes with its callers",
			old:  "f(x) = x * 2\ng(x) = f(x) + 1\na = 1\nb = g(a)\n", new: "f(x) = x * 3\ng(x) = f(x) + 1\na = 2\nb = g(a)\n",
			causes: "a | f", figure: "b", want: map[string]float64{"00": 3, "10": 5, "01": 4, "11": 7},
		},
		{
			name: "lines turned round go together",
			old:  "a = 2 m\nb = a * 2\n", new: "b = 6 m\na = b / 2\n",
			causes: "a b", figure: "a", want: map[string]float64{"0": 2, "1": 3},
		},
		{
			name: "the same words mean another figure",
			old:  "x = 1\n[blk]\ny = x * 2\n", new: "x = 1\n[blk]\nx = 7\ny = x * 2\n",
			causes: "blk.y", figure: "blk.y", want: map[string]float64{"0": 2, "1": 14},
		},
		{
			name: "a table",
			old:  "k = table \"k.csv\"\na = 0.5\nb = lookup(k.x, k.y, a)\n", new: "k = table \"k.csv\"\na = 1\nb = lookup(k.x, k.y, a)\n",
			oldTab: "10", causes: "a | k.csv", figure: "b", want: map[string]float64{"00": 5, "10": 10, "01": 10, "11": 20},
		},
		{
			name: "a text",
			old:  "m = \"steel\"\na = if m == \"steel\" then 1 else 2\n", new: "m = \"brass\"\na = if m == \"steel\" then 1 else 2\n",
			causes: "m", figure: "a", want: map[string]float64{"0": 1, "1": 2},
		},
	} {
		if c.oldTab == "" {
			c.oldTab = "20"
		}
		x := NewMix(resultOf(t, c.old, tables(c.oldTab)), resultOf(t, c.new, tables("20")))
		var causes []string
		for _, k := range x.Causes() {
			causes = append(causes, strings.Join(append(k.Names, k.Tables...), " "))
		}
		if got := strings.Join(causes, " | "); got != c.causes {
			t.Errorf("%s: the causes are %q, want %q", c.name, got, c.causes)
			continue
		}
		for bits, want := range c.want {
			on := make([]bool, len(bits))
			for i := range bits {
				on[i] = bits[i] == '1'
			}
			got, ok := x.Value(c.figure, on)
			if f, _ := got.(float64); !ok || math.Abs(f-want) > 1e-12*math.Abs(want) {
				t.Errorf("%s: %s with %s taken from the newer is %v, want %v", c.name, c.figure, bits, got, want)
			}
		}
	}
}

// A mixture of everything old or everything new is the release itself.
func TestMixEnds(t *testing.T) {
	old := resultOf(t, "a = 2 m ± 1 mm\nb = a ^ 2\nr = material(\"carbon steel S235\").modulus\nc = b * r\n", nil)
	new := resultOf(t, "a = 3 m ± 1 mm\nb = a ^ 2 + 1 m^2\nr = material(\"carbon steel S235\").modulus\nc = b * r\nd = c * 2\n", nil)
	x := NewMix(old, new)
	all := make([]bool, len(x.Causes()))
	for i := range all {
		all[i] = true
	}
	for _, name := range []string{"a", "b", "r", "c", "d"} {
		if v, ok := x.Value(name, all); !ok || !reflect.DeepEqual(v, new.Figure(name).Value) {
			t.Errorf("%s all new: %v, want %v", name, v, new.Figure(name).Value)
		}
		if f := old.Figure(name); f != nil {
			if v, ok := x.Value(name, make([]bool, len(all))); !ok || !reflect.DeepEqual(v, f.Value) {
				t.Errorf("%s all old: %v, want %v", name, v, f.Value)
			}
		}
	}
}
