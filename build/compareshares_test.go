package build

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"workings/theme"
)

// The shares of every figure of the demonstration sum to its change, in the
// numbers and as they are written.
func TestSharesOfFenbank(t *testing.T) {
	releases, list := Load(Source{FS: os.DirFS("../testdata/fenbank")}, Options{})
	if list.HasErrors() {
		t.Fatal(list)
	}
	ch := Compare(releases[1], releases[0])
	shared := 0
	for _, f := range ch.Figures {
		shared += sumsUp(t, releases[1], releases[0], &f)
	}
	if shared < 80 {
		t.Errorf("only %d figures have shares", shared)
	}
}

// sumsUp checks the shares of a figure; 1 if it has some.
func sumsUp(t *testing.T, old, new *Release, f *theme.FigureChange) int {
	t.Helper()
	if len(f.Causes) == 0 || !f.Causes[0].Measured {
		return 0
	}
	a, b := old.Result.Figure(f.Name).Value.(float64), new.Result.Figure(f.Name).Value.(float64)
	sum, part, written, percent := 0.0, 0.0, 0.0, 0.0
	for _, c := range f.Causes {
		var amount, pct float64
		fmt.Sscan(c.Amount, &amount)
		fmt.Sscan(c.Percent, &pct)
		sum, part, written, percent = sum+c.Delta, part+c.Part, written+amount, percent+pct
		if len(c.Chain) == 0 || c.Ways < 1 || c.Chain[len(c.Chain)-1] != f.Name {
			t.Errorf("%s: cause %s acts by way of %q", f.Name, c.Key(), c.Chain)
		}
	}
	var whole float64
	fmt.Sscan(f.Delta, &whole)
	scale := math.Max(math.Abs(a), math.Abs(b))
	if math.Abs(sum-(b-a)) > 1e-12*scale {
		t.Errorf("%s: the shares sum to %v, the change is %v", f.Name, sum, b-a)
	}
	if math.Abs(part-1) > 1e-9*scale/math.Abs(b-a) {
		t.Errorf("%s: the parts sum to %v", f.Name, part)
	}
	if math.Abs(written-whole) > 1e-9*math.Abs(whole) || percent != 100 {
		t.Errorf("%s: written are %v of %v and %v %%", f.Name, written, whole, percent)
	}
	return 1
}

// A sheet of some lines, each in two forms. The lines are whole definitions,
// so that any choice of them is a sheet.
type twoForms [][2]string

func (s twoForms) text(on func(i int) bool) string {
	var b strings.Builder
	for i, l := range s {
		if on(i) {
			b.WriteString(l[1])
		} else {
			b.WriteString(l[0])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// randomSheet makes parameters, some of which change, and figures of them:
// sums, products, quotients, powers, the greater of two, choices, a function
// of the sheet and a model of the library, some of which are computed another
// way in the newer form.
func randomSheet(r *rand.Rand) (s twoForms) {
	var names []string
	params := 3 + r.Intn(3)
	for i := range params {
		n := fmt.Sprintf("p%d", i)
		x := float64(100+r.Intn(900)) / 100
		y := x
		if r.Intn(4) > 0 {
			y = float64(100+r.Intn(900)) / 100
		}
		s = append(s, [2]string{fmt.Sprintf("%s = %.2f", n, x), fmt.Sprintf("%s = %.2f", n, y)})
		names = append(names, n)
	}
	fun := [2]string{"fun(x, y) = sqrt(x * y) + x", "fun(x, y) = sqrt(x * y) + x"}
	if r.Intn(4) == 0 {
		fun[1] = "fun(x, y) = sqrt(x * y) + 2 * y"
	}
	s = append(s, fun)
	pick := func() string { return names[r.Intn(len(names))] }
	line := func() string {
		switch r.Intn(9) {
		case 0:
			return fmt.Sprintf("%s * %s", pick(), pick())
		case 1:
			return fmt.Sprintf("%s / (%s + 1)", pick(), pick())
		case 2:
			return fmt.Sprintf("max(%s, 2 * %s)", pick(), pick())
		case 3:
			return fmt.Sprintf("if %s > %s then %s else %s / 2", pick(), pick(), pick(), pick())
		case 4:
			return fmt.Sprintf("fun(%s, %s)", pick(), pick())
		case 5:
			return fmt.Sprintf("sqrt(%s) + %s - 0.5", pick(), pick())
		case 6:
			return fmt.Sprintf("%s + 3 * %s", pick(), pick())
		case 7:
			return fmt.Sprintf("section_rectangle(width: %s * 1 m, height: %s * 1 m).second_moment / 1 m^4", pick(), pick())
		}
		return fmt.Sprintf("%s ^ 2 / (%s + %s)", pick(), pick(), pick())
	}
	changedLines := 0
	for i := range 5 {
		l := line()
		m := l
		if changedLines < 2 && r.Intn(3) == 0 {
			m = line()
			changedLines++
		}
		n := fmt.Sprintf("f%d", i)
		s = append(s, [2]string{n + " = " + l, n + " = " + m})
		names = append(names, n)
	}
	return s
}

func release(t *testing.T, sheet string) *Release {
	t.Helper()
	r, list := LoadWorking(Source{FS: fstest.MapFS{
		"manual.toml":  {Data: []byte("title = \"x\"\nrelease = \"1\"\n")},
		"design.calc":  {Data: []byte(sheet)},
		"pages/1-a.md": {Data: []byte("# A\n")},
	}}, Options{})
	if list.HasErrors() {
		t.Fatalf("%s\n%v", sheet, list)
	}
	return r
}

// On random sheets, the shares of every figure are those that come out when
// the sheet is written with every choice of its changed lines, computed as a
// release of its own, and its causes are taken in every order.
func TestSharesByBruteForce(t *testing.T) {
	seeds, shared, several := 40, 0, 0
	if testing.Short() {
		seeds = 10
	}
	for seed := range seeds {
		s := randomSheet(rand.New(rand.NewSource(int64(seed))))
		old := release(t, s.text(func(int) bool { return false }))
		new := release(t, s.text(func(int) bool { return true }))
		ch := Compare(old, new)
		known := map[string]*Release{}
		for _, f := range ch.Figures {
			shared += sumsUp(t, old, new, &f)
			if len(f.Causes) == 0 || strings.HasPrefix(f.Name, "p") {
				continue
			}
			n := len(f.Causes)
			if n > 1 {
				several++
			}
			value := func(on int) float64 {
				text := s.text(func(i int) bool {
					name := strings.FieldsFunc(s[i][0], func(r rune) bool { return r == ' ' || r == '(' })[0]
					for k, c := range f.Causes {
						for _, m := range c.Names {
							if m == name {
								return on>>k&1 == 1
							}
						}
					}
					return false
				})
				if known[text] == nil {
					known[text] = release(t, text)
				}
				return known[text].Result.Figure(f.Name).Value.(float64)
			}
			want := make([]float64, n)
			orders := 0
			var walk func(on int, moves []float64)
			walk = func(on int, moves []float64) {
				if on == 1<<n-1 {
					orders++
					for k, m := range moves {
						want[k] += m
					}
					return
				}
				for k := range n {
					if on>>k&1 == 0 {
						next := append([]float64(nil), moves...)
						next[k] = value(on|1<<k) - value(on)
						walk(on|1<<k, next)
					}
				}
			}
			walk(0, make([]float64, n))
			scale := math.Max(math.Abs(value(0)), math.Abs(value(1<<n-1)))
			for k, c := range f.Causes {
				if w := want[k] / float64(orders); math.Abs(c.Delta-w) > 1e-9*scale {
					t.Errorf("seed %d: %s of %s is %v, by brute force %v\n%s", seed, c.Key(), f.Name, c.Delta, w, s.text(func(int) bool { return true }))
				}
			}
		}
	}
	if shared < 2*seeds || several < seeds/2 {
		t.Errorf("%d figures of %d sheets have shares, %d of several causes", shared, seeds, several)
	}
}

// Beyond maxExact causes the orders are a choice: exact for causes that act
// alone or in pairs, and summing to the change whatever they do.
func TestAttributeMany(t *testing.T) {
	const n = 14
	r := rand.New(rand.NewSource(3))
	var one [n]float64
	var two [n][n]float64
	for i := range n {
		one[i] = r.NormFloat64()
		for k := range i {
			two[i][k] = r.NormFloat64()
		}
	}
	pairs := func(on []bool) (float64, bool) {
		v := 5.0
		for i := range n {
			if on[i] {
				v += one[i]
				for k := range i {
					if on[k] {
						v += two[i][k]
					}
				}
			}
		}
		return v, true
	}
	a := attribute(n, pairs)
	for i := range n {
		want := one[i] // each pair is shared half and half
		for k := range n {
			want += (two[i][k] + two[k][i]) / 2
		}
		if math.Abs(a.delta[i]-want) > 1e-9 {
			t.Errorf("cause %d: %v, want %v", i, a.delta[i], want)
		}
	}
	product := func(on []bool) (float64, bool) {
		v := 1.0
		for i := range n {
			if on[i] {
				v *= 1 + math.Abs(one[i])
			}
		}
		return v, true
	}
	a = attribute(n, product)
	sum := 0.0
	for _, d := range a.delta {
		sum += d
	}
	all := make([]bool, n)
	for i := range all {
		all[i] = true
	}
	if whole, _ := product(all); math.Abs(sum-(whole-1)) > 1e-9*whole {
		t.Errorf("the shares sum to %v, the change is %v", sum, whole-1)
	}
}

// Where a mixture has no value, only the orders around it count; where every
// way is blocked there are no shares.
func TestAttributeGaps(t *testing.T) {
	at := func(blocked ...int) attribution {
		return attribute(2, func(on []bool) (float64, bool) {
			s := 0
			for i, o := range on {
				if o {
					s |= 1 << i
				}
			}
			for _, b := range blocked {
				if s == b {
					return 0, false
				}
			}
			return []float64{1, 3, 4, 10}[s], true
		})
	}
	for _, c := range []struct {
		blocked []int
		want    []float64
	}{
		{nil, []float64{4, 5}},      // (2 + 6)/2 and (7 + 3)/2
		{[]int{1}, []float64{6, 3}}, // only the second cause first
		{[]int{2}, []float64{2, 7}},
		{[]int{1, 2}, nil},
		{[]int{3}, nil},
	} {
		got := at(c.blocked...).delta
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("without %v: %v, want %v", c.blocked, got, c.want)
		}
	}
}

func TestEvenly(t *testing.T) {
	for _, c := range []struct {
		x     []float64
		sum   float64
		place int
		whole string
		want  string
	}{
		{[]float64{33.4, 33.3, 33.3}, 100, 0, "100", "34 33 33"},
		{[]float64{158.4, 68.3, -66.4, -60.3}, 100, 0, "100", "158 68 -66 -60"},
		{[]float64{0.10304, 0.02472}, 0.12776, 3, "0.128", "0.103 0.025"},
		{[]float64{1234, 5678}, 6912, -2, "6900", "1200 5700"},
	} {
		whole, got := evenly(c.x, c.sum, c.place)
		if whole != c.whole || strings.Join(got, " ") != c.want {
			t.Errorf("%v: %s of %s, want %s of %s", c.x, got, whole, c.want, c.whole)
		}
	}
}
