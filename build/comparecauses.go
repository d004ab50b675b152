package build

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme"
)

// How a change is shared out among its causes. Taking the causes one after the
// other from the older release to the newer, each moves the figure by some
// amount, and the amounts sum to the whole change. They depend on the order,
// so they are averaged over orders: up to maxExact causes over every order
// (the Shapley value, L. S. Shapley, A Value for n-Person Games, 1953), beyond
// over rotations of one order and their reverses. In those each pair of causes
// stands as often one way round as the other, so they too give the average
// over every order where causes act together in pairs only. An order on whose
// way the figure has no value is left out.
const (
	maxExact = 8
	// maxPoints bounds the mixtures computed for a figure of many causes.
	maxPoints = 1024
)

// An attribution shares a change out among n causes.
type attribution struct {
	delta []float64 // by cause; nil if there is no way from the one release to the other
	acts  []bool    // whether a cause moves the figure anywhere on the ways
}

// attribute shares the change of a value from no cause taken to all taken.
func attribute(n int, value func(on []bool) (float64, bool)) attribution {
	a := attribution{acts: make([]bool, n)}
	none, ok1 := value(make([]bool, n))
	all := make([]bool, n)
	for i := range all {
		all[i] = true
	}
	whole, ok2 := value(all)
	if !ok1 || !ok2 {
		return a
	}
	scale := math.Max(math.Abs(none), math.Abs(whole))
	note := func(i int, move float64) {
		if math.Abs(move) > noise*scale {
			a.acts[i] = true
		}
	}
	if n <= maxExact {
		a.delta = overAllOrders(n, value, note)
	} else {
		a.delta = overSomeOrders(n, value, note)
	}
	if a.delta == nil {
		return a
	}
	// What rounding left over goes to the largest share, and what a cause that
	// does nothing got from rounding goes with it: the shares sum to the change.
	largest, sum := 0, 0.0
	for i := range a.delta {
		if !a.acts[i] {
			a.delta[i] = 0
		}
		if math.Abs(a.delta[i]) > math.Abs(a.delta[largest]) {
			largest = i
		}
	}
	for i, d := range a.delta {
		if i != largest {
			sum += d
		}
	}
	if n > 0 {
		a.delta[largest] = (whole - none) - sum
	}
	return a
}

func overAllOrders(n int, value func(on []bool) (float64, bool), note func(int, float64)) []float64 {
	full := 1<<n - 1
	v, ok := make([]float64, full+1), make([]bool, full+1)
	on := make([]bool, n)
	for s := range v {
		for i := range on {
			on[i] = s>>i&1 == 1
		}
		v[s], ok[s] = value(on)
	}
	// The ways to each mixture from the older release, and from it to the newer.
	up, down := make([]float64, full+1), make([]float64, full+1)
	up[0], down[full] = 1, 1
	for s := 0; s <= full; s++ {
		for i := range n {
			if s>>i&1 == 0 && ok[s] && ok[s|1<<i] {
				up[s|1<<i] += up[s]
			}
		}
	}
	for s := full; s >= 0; s-- {
		for i := range n {
			if s>>i&1 == 0 && ok[s] && ok[s|1<<i] {
				down[s] += down[s|1<<i]
			}
		}
	}
	if up[full] == 0 {
		return nil
	}
	delta := make([]float64, n)
	for s := range v {
		for i := range n {
			t := s | 1<<i
			if s == t || !ok[s] || !ok[t] || up[s] == 0 || down[t] == 0 {
				continue
			}
			note(i, v[t]-v[s])
			delta[i] += up[s] * down[t] / up[full] * (v[t] - v[s])
		}
	}
	return delta
}

func overSomeOrders(n int, value func(on []bool) (float64, bool), note func(int, float64)) []float64 {
	rotations := min(n, max(1, maxPoints/(2*n)))
	delta, ways := make([]float64, n), 0
	one := make([]float64, n)
	for k := range 2 * rotations {
		on := make([]bool, n)
		last, good := value(on)
		for j := 0; j < n && good; j++ {
			i := (k/2*n/rotations + j) % n
			if k%2 == 1 { // the same order backwards
				i = (k/2*n/rotations + n - 1 - j) % n
			}
			on[i] = true
			var v float64
			v, good = value(on)
			one[i], last = v-last, v
		}
		if !good {
			continue
		}
		ways++
		for i := range n {
			note(i, one[i])
			delta[i] += one[i]
		}
	}
	if ways == 0 {
		return nil
	}
	for i := range delta {
		delta[i] /= float64(ways)
	}
	return delta
}

// causes finds what moved a figure, the largest share first.
func (c *comparison) causes(ch *theme.FigureChange) []theme.Cause {
	if ch.Kind != theme.Changed {
		return nil
	}
	behind := c.mix.Behind(ch.Name)
	a, b := c.old.Result.Figure(ch.Name), c.new.Result.Figure(ch.Name)
	value := func(part []bool) calc.Value {
		on := make([]bool, len(c.mix.Causes()))
		for i, k := range behind {
			on[k] = part[i]
		}
		v, _ := c.mix.Value(ch.Name, on)
		return v
	}
	x, num := a.Value.(float64)
	y, num2 := b.Value.(float64)
	var list []theme.Cause
	if num && num2 && a.Unit.Dim == b.Unit.Dim && a.Unit.Point == b.Unit.Point {
		if same(x, y) {
			return nil // only its spread has changed
		}
		at := attribute(len(behind), func(part []bool) (float64, bool) {
			v, ok := value(part).(float64)
			return v, ok
		})
		if at.delta != nil {
			for i, k := range behind {
				if at.acts[i] {
					list = append(list, c.cause(k, ch.Name))
					list[len(list)-1].Measured, list[len(list)-1].Delta = true, at.delta[i]
				}
			}
			shares(list, ch, y-x, b.Unit)
			slices.SortStableFunc(list, func(p, q theme.Cause) int {
				switch d := math.Abs(q.Delta) - math.Abs(p.Delta); {
				case d > 0:
					return 1
				case d < 0:
					return -1
				}
				return strings.Compare(p.Key(), q.Key())
			})
			return list
		}
	}
	// No numbers to share, or no way on which each mixture has a value: the
	// causes that make a difference on their own, in either release; if none
	// does, all of them together.
	n := len(behind)
	first, last := make([]bool, n), make([]bool, n)
	for i := range last {
		last[i] = true
	}
	was, is := value(first), value(last)
	for i, k := range behind {
		first[i], last[i] = true, false
		if value(first) != was || value(last) != is {
			list = append(list, c.cause(k, ch.Name))
		}
		first[i], last[i] = false, true
	}
	if list == nil {
		for _, k := range behind {
			list = append(list, c.cause(k, ch.Name))
		}
	}
	return list
}

// cause describes cause k as one of a figure.
func (c *comparison) cause(k int, figure string) theme.Cause {
	mc := c.mix.Causes()[k]
	out := theme.Cause{Names: mc.Names, Tables: mc.Tables}
	switch {
	case len(mc.Names) == 0 && len(mc.Tables) == 1:
		out.Kind = theme.CauseTable
	case len(mc.Names)+len(mc.Tables) != 1:
		out.Kind = theme.CauseTogether
	default:
		a, b := c.old.Result.Figure(mc.Names[0]), c.new.Result.Figure(mc.Names[0])
		switch {
		case a.Func != nil || b.Func != nil:
			out.Kind = theme.CauseFunction
		case a.Fixed && b.Fixed:
			out.Kind = theme.CauseValue
		default:
			out.Kind = theme.CauseFormula
		}
	}
	out.Chain, out.Ways = c.chain(figure, mc)
	return out
}

// chain is the shortest way from a cause to a figure, both ends included, and
// the number of ways there are. A way may lead over lines of both releases: it
// is then one of a mixture.
func (c *comparison) chain(figure string, mc calc.MixCause) (chain []string, ways int) {
	isCause := func(name string) bool {
		for _, r := range []*Release{c.new, c.old} {
			f := r.Result.Figure(name)
			if f == nil {
				continue
			}
			if f.Parent != nil {
				f = f.Parent
			}
			if slices.Contains(mc.Names, f.Name) || readsAny(f, mc.Tables) {
				return true
			}
		}
		return false
	}
	next := map[string]string{figure: ""} // the one that led to it
	end := ""
	for queue := []string{figure}; len(queue) > 0; queue = queue[1:] {
		name := queue[0]
		if isCause(name) {
			end = name
			break
		}
		for _, u := range c.names(name) {
			if _, seen := next[u]; !seen {
				next[u] = name
				queue = append(queue, u)
			}
		}
	}
	for name := end; name != ""; name = next[name] {
		chain = append(chain, name)
	}
	const most = 1000
	known := map[string]int{}
	var count func(name string) int
	count = func(name string) int {
		if n, ok := known[name]; ok {
			return n
		}
		known[name] = 0 // what needs itself in a mixture of both is no further way
		n := 0
		if isCause(name) {
			n = 1
		}
		for _, u := range c.names(name) {
			n = min(n+count(u), most)
		}
		known[name] = n
		return n
	}
	return chain, count(figure)
}

// readsAny reports whether the line of a figure reads one of the tables.
func readsAny(f *calc.Figure, tables []string) (yes bool) {
	if x := lineOf(f); x != nil && len(tables) > 0 {
		syntax.Walk(x, func(x syntax.Expr) bool {
			t, ok := x.(*syntax.Table)
			yes = yes || ok && slices.Contains(tables, t.Path.Value)
			return true
		})
	}
	return yes
}

// lineOf is what the line of a figure computes; that of its record for a field.
func lineOf(f *calc.Figure) syntax.Expr {
	if f.Parent != nil {
		f = f.Parent
	}
	switch {
	case f.Def != nil:
		return f.Def.X
	case f.Func != nil:
		return f.Func.X
	}
	return nil
}

// names gives the figures that a line names in either release, those of the
// newer first, in the order of first mention.
func (c *comparison) names(figure string) []string {
	if list, ok := c.named[figure]; ok {
		return list
	}
	var out []string
	for _, r := range []*Release{c.new, c.old} {
		f := r.Result.Figure(figure)
		if f == nil {
			continue
		}
		x := lineOf(f)
		if x == nil {
			continue
		}
		syntax.Walk(x, func(x syntax.Expr) bool {
			switch x := x.(type) {
			case *syntax.Name, *syntax.Field:
				if g := r.Result.Behind(x); g != nil {
					if !slices.Contains(out, g.Name) {
						out = append(out, g.Name)
					}
					return false
				}
			case *syntax.Call:
				if g := r.Result.Ref(x.Fun); g != nil && !slices.Contains(out, g.Name) {
					out = append(out, g.Name)
				}
			}
			return true
		})
	}
	c.named[figure] = out
	return out
}

// shares writes the share of each cause as an amount in the figure's unit and
// as a percentage, both rounded so that what stands on the page sums up.
func shares(list []theme.Cause, ch *theme.FigureChange, change float64, u unit.Unit) {
	d := u
	if u.Point {
		d = unit.Unit{Symbol: "K", Dim: u.Dim, Factor: 1}
	}
	ch.DeltaUnit = d.Symbol
	if len(list) == 0 {
		return
	}
	amounts := make([]float64, len(list))
	parts := make([]float64, len(list))
	largest := math.Abs(change)
	for i, k := range list {
		amounts[i], parts[i] = k.Delta/d.Factor, 100*k.Delta/change
		list[i].Part = k.Delta / change
		largest = math.Max(largest, math.Abs(k.Delta))
	}
	// Three figures of the change itself, but no more than six of a share that
	// another takes back.
	place := 2 - int(math.Floor(math.Log10(math.Abs(change/d.Factor))))
	place = min(place, 5-int(math.Floor(math.Log10(largest/d.Factor))))
	var whole string
	var texts []string
	whole, texts = evenly(amounts, change/d.Factor, place)
	ch.Delta = whole
	_, percents := evenly(parts, 100, 0)
	for i := range list {
		list[i].Amount, list[i].Percent = texts[i], percents[i]
	}
}

// evenly rounds numbers to a decimal place (10^-place) so that what is written
// sums to their sum as written: the largest remainders are rounded up.
func evenly(x []float64, sum float64, place int) (whole string, texts []string) {
	step := math.Pow(10, float64(-place))
	total := math.RoundToEven(sum / step)
	n := make([]float64, len(x))
	order := make([]int, len(x))
	left := total
	for i, v := range x {
		n[i] = math.Floor(v / step)
		left -= n[i]
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		ra, rb := x[a]/step-n[a], x[b]/step-n[b]
		switch {
		case ra > rb:
			return -1
		case ra < rb:
			return 1
		}
		return 0
	})
	for k := 0; left > 0 && len(order) > 0; k++ {
		n[order[k%len(order)]]++
		left--
	}
	for k := len(order) - 1; left < 0 && k >= 0; k-- {
		n[order[k]]--
		left++
	}
	text := func(units float64) string {
		if units == 0 {
			return "0"
		}
		if place >= 0 {
			return strconv.FormatFloat(units*step, 'f', place, 64)
		}
		return fmt.Sprintf("%.0f", units*step)
	}
	for _, v := range n {
		texts = append(texts, text(v))
	}
	return text(total), texts
}
