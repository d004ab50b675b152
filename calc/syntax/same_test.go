package syntax

import (
	"testing"

	"workings/calc/diag"
)

// Same is false for every difference that a reader could tell, and true for
// places and spaces alone. It agrees with the trees as they are dumped.
func TestSame(t *testing.T) {
	read := func(text string) *Sheet {
		s, list := Parse(diag.NewFile(text, []byte(text)), nil)
		if list.HasErrors() {
			t.Fatalf("%s\n%s", text, list.Error())
		}
		return s
	}
	if !Same(read("a=1 mm±0.1 mm#c\nb = -a^2"), read("\n\na  =  1 mm +/- 0.1 mm   # c\nb=−a²\n")) {
		t.Error("spaces and spellings make a difference")
	}
	differ := []string{
		"a = 1 mm", "a = 1.0 mm", "a = 1 cm", "b = 1 mm", "a = 1 mm # c", "a = -1 mm", "a = (1 mm)",
		"a = 1 mm ± 0.1 mm", "a = 1 mm +0.1 mm -0.1 mm", "a = 1 mm uncertain 1 %", "a = 1 mm to 2 mm",
		"a = 1 mm to 2 mm nominal 1 mm", "a = 1 mm from \"x\"", "a = 1 mm because \"x\"", "a = 1 mm\nb = 1 mm",
		"# a = 1 mm", "f(a) = 1 mm", "f(b) = 1 mm", "limit a: b < 1 mm", "limit a: b <= 1 mm",
		"limit a: b < 1 mm else notice \"x\"", "limit a: b < 1 mm else danger \"x\"", "limit a: b < 1 mm else notice \"{= x}\"",
		"limit a: b < 1 mm else notice \"{= x to 2 sf}\"", "limit a: b < 1 mm else notice \"{= x to 2 sf up}\"",
		"limit a: b < 1 mm accepted \"x\"", "crosscheck a: 1 mm within 2 %", "crosscheck a.b: 1 mm within 2 %",
		"a = b", "a = b.c", "a = b + c", "a = c + b", "a = b - c", "a = b in mm", "a = f(b)", "a = f(x: b)", "a = [b]", "a = [b, c]",
		"a = true", "a = false", "a = \"x\"", "a = table \"x\"", "a = if b then c else d", "a = if b then d else c", "a = not b",
		"a = 1 mm uncertain 1 % k 3", "a = 1 mm uncertain 1 % dof 3", "a = 1 mm uncertain 1 % rectangular",
	}
	for i, x := range differ {
		for j, y := range differ {
			a, b := read(x), read(y)
			if got := Same(a, b); got != (i == j) || got != (dump(a) == dump(b)) {
				t.Errorf("%q and %q: same is %v", x, y, got)
			}
		}
	}
}
