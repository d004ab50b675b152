package calc

import (
	"maps"
	"reflect"
	"slices"
	"strings"

	"workings/calc/syntax"
)

// A Mix computes what a design would be halfway between two releases: some of
// what differs taken from the newer one, all else from the older. It is how a
// change is traced to its causes.
//
// Each definition keeps its checked form from its own release, so that a name
// means what it means there; only the values of the definitions it names come
// from the mixture. A Mix is not for use by several goroutines at once.
type Mix struct {
	sides  [2]mixSide // older, newer
	nodes  map[string]*mixNode
	causes []MixCause
}

// A MixCause is something that differs between two releases and can be taken
// from either: nearly always one definition. Several are one cause where no
// mixture of them has a meaning: a figure whose dimension changed with the
// lines that use it, a function with its callers, lines that need each other
// once one of them is old and the other new, a table with what reads it.
type MixCause struct {
	Names  []string // the definitions whose own line differs, sorted
	Tables []string // the tables whose content differs, sorted
}

type mixSide struct {
	p *Program
	m *machine
}

// A mixNode is one name in both releases.
type mixNode struct {
	name   string
	def    [2]*def // either may be nil
	cause  int     // the cause that decides which of the two counts; -1 if they are the same, or there is one
	refs   [2][]*mixNode
	behind []int // causes on which its value can depend, sorted
	memo   map[string]overVal
	busy   bool
	low    int // of the walk that finds circles
	index  int
}

const (
	older = iota
	newer
)

// NewMix compares the definitions of two releases.
func NewMix(old, new *Result) *Mix {
	x := &Mix{nodes: map[string]*mixNode{}}
	for i, r := range []*Result{old, new} {
		x.sides[i] = mixSide{r.prog, nominal(r.prog)}
		x.sides[i].m.quiet = true
		for _, d := range r.prog.defs {
			n := x.nodes[d.name()]
			if n == nil {
				n = &mixNode{name: d.name(), cause: -1, memo: map[string]overVal{}}
				x.nodes[d.name()] = n
			}
			n.def[i] = d
		}
	}
	for _, name := range sortedNames(x.nodes) {
		n := x.nodes[name]
		for i, d := range n.def {
			if d != nil {
				for _, r := range d.refs {
					n.refs[i] = append(n.refs[i], x.nodes[r.name()])
				}
			}
		}
	}
	x.findCauses()
	for _, name := range sortedNames(x.nodes) {
		x.findBehind(x.nodes[name])
	}
	return x
}

func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// Causes returns everything that differs, in the order of its names.
func (x *Mix) Causes() []MixCause { return x.causes }

// Behind gives the indices of the causes that a figure can depend on in either
// release, ascending.
func (x *Mix) Behind(figure string) []int {
	if n, _ := x.find(figure); n != nil {
		return n.behind
	}
	return nil
}

// Value computes a figure with the causes marked in `on` taken from the newer
// release. ok is false if there is no such figure, or it has no value in that
// mixture.
func (x *Mix) Value(figure string, on []bool) (v Value, ok bool) {
	n, fields := x.find(figure)
	if n == nil {
		return nil, false
	}
	o := x.value(n, on)
	w, ok := takeFields(o.v, o.ok, fields)
	if !ok {
		return nil, false
	}
	return w.public(), true
}

func (x *Mix) find(figure string) (*mixNode, []string) {
	for i := range x.sides {
		if d, fields := x.sides[i].p.definition(figure); d != nil && d.fn == nil {
			return x.nodes[d.name()], fields
		}
	}
	return nil, nil
}

// value computes a definition once for each state of the causes behind it.
func (x *Mix) value(n *mixNode, on []bool) overVal {
	key := make([]byte, len(n.behind))
	for i, c := range n.behind {
		if on[c] {
			key[i] = 1
		}
	}
	if o, ok := n.memo[string(key)]; ok {
		return o
	}
	if n.busy {
		return overVal{} // a circle; findCauses leaves none
	}
	n.busy = true
	defer func() { n.busy = false }()
	side := newer
	switch {
	case n.def[newer] == nil:
		side = older
	case n.def[older] != nil && n.cause >= 0 && !on[n.cause]:
		side = older
	}
	d := n.def[side]
	out := overVal{}
	if !d.broken && d.node != nil {
		over := map[int]overVal{}
		x.enter(side, n, on, over)
		out = x.sides[side].eval(d, over)
	}
	n.memo[string(key)] = out
	return out
}

// eval computes a line with the values of what it names given. A fault of ours
// in a mixture that nobody wrote down leaves it without a value.
func (s mixSide) eval(d *def, over map[int]overVal) (out overVal) {
	defer func() {
		if recover() != nil {
			out = overVal{}
		}
	}()
	clear(s.m.over)
	s.m.given, s.m.left, s.m.spent, s.m.frame = over, maxSteps, false, nil
	out.v, out.ok = d.node.eval(s.m)
	return out
}

// enter computes what a definition names, and what the functions it calls name.
func (x *Mix) enter(side int, n *mixNode, on []bool, over map[int]overVal) {
	for i, r := range n.refs[side] {
		d := n.def[side].refs[i]
		if _, done := over[d.id]; done {
			continue
		}
		if d.fn != nil {
			over[d.id] = overVal{}
			x.enter(side, r, on, over)
			continue
		}
		over[d.id] = x.value(r, on)
	}
}

// findCauses finds what differs and what of it can only change together.
func (x *Mix) findCauses() {
	names := sortedNames(x.nodes)
	parent := map[string]string{}
	var root func(s string) string
	root = func(s string) string {
		if p, ok := parent[s]; ok && p != s {
			r := root(p)
			parent[s] = r
			return r
		}
		return s
	}
	unite := func(a, b string) {
		if a, b = root(a), root(b); a != b {
			parent[max(a, b)] = min(a, b)
		}
	}

	tables := x.changedTables()
	const tableKey = "\x00table " // no name begins so
	changed := map[string]bool{}
	read := map[string]bool{}  // changed tables that a line reads in both releases
	rigid := map[string]bool{} // whoever uses it must be of the same release
	for _, name := range names {
		n := x.nodes[name]
		reads := false
		for side, d := range n.def {
			if d == nil {
				continue
			}
			for _, t := range tablesOf(d) {
				if tables[t] {
					reads = true
					// A line that reads a table in one release only is changed itself.
					if o := n.def[1-side]; o != nil && slices.Contains(tablesOf(o), t) {
						unite(name, tableKey+t)
						read[t] = true
					}
				}
			}
		}
		a, b := n.def[older], n.def[newer]
		if a == nil || b == nil {
			continue
		}
		if differ(a, b) {
			changed[name] = true
		}
		isFn := a.fn != nil || b.fn != nil
		if isFn && (changed[name] || reads) || !isFn && !a.typ.same(b.typ) {
			rigid[name] = true
		}
	}
	// A mean of readings knows the rows of the table of its own release.
	for _, name := range names {
		n := x.nodes[name]
		for side, d := range n.def {
			if d == nil || !callsReadings(d) {
				continue
			}
			for _, r := range n.refs[side] {
				for _, t := range tablesOf(d.refs[slices.Index(n.refs[side], r)]) {
					if tables[t] {
						unite(name, r.name)
					}
				}
			}
		}
	}
	for again := true; again; {
		again = false
		for _, name := range names {
			n := x.nodes[name]
			for side := range n.refs {
				for _, r := range n.refs[side] {
					if !rigid[r.name] {
						continue
					}
					unite(name, r.name)
					oneSided := n.def[older] == nil || n.def[newer] == nil
					if !rigid[name] && (oneSided || n.def[side].fn != nil) {
						rigid[name], again = true, true
					}
				}
			}
		}
	}
	for _, circle := range x.circles(names) {
		for _, n := range circle[1:] {
			unite(circle[0].name, n.name)
		}
	}

	index := map[string]int{}
	cause := func(key string) *MixCause {
		r := root(key)
		if _, ok := index[r]; !ok {
			index[r] = len(x.causes)
			x.causes = append(x.causes, MixCause{})
		}
		return &x.causes[index[r]]
	}
	for _, name := range names {
		if changed[name] {
			c := cause(name)
			c.Names = append(c.Names, name)
		}
	}
	for _, t := range sortedNames(read) {
		c := cause(tableKey + t)
		c.Tables = append(c.Tables, t)
	}
	for _, name := range names {
		if i, ok := index[root(name)]; ok {
			x.nodes[name].cause = i
		}
	}
}

// changedTables gives the tables that both releases read and that are not alike.
func (x *Mix) changedTables() map[string]bool {
	out := map[string]bool{}
	for name, a := range x.sides[older].p.tables {
		b := x.sides[newer].p.tables[name]
		if b != nil && !(a.typ.same(b.typ) && reflect.DeepEqual(a.v, b.v)) {
			out[name] = true
		}
	}
	return out
}

func tablesOf(d *def) (names []string) {
	syntax.Walk(rightSide(d), func(e syntax.Expr) bool {
		if t, ok := e.(*syntax.Table); ok {
			names = append(names, t.Path.Value)
		}
		return true
	})
	return names
}

func callsReadings(d *def) (yes bool) {
	syntax.Walk(rightSide(d), func(e syntax.Expr) bool {
		if c, ok := e.(*syntax.Call); ok {
			if f, ok := c.Fun.(*syntax.Name); ok && f.Name == "readings" {
				yes = true
			}
		}
		return true
	})
	return yes
}

// rightSide is what stands to the right of the name.
func rightSide(d *def) syntax.Expr {
	if d.fn != nil {
		return d.fn.X
	}
	return d.stmt.X
}

// differ reports whether the lines of a definition say different things of
// its nominal value.
func differ(a, b *def) bool {
	if (a.fn == nil) != (b.fn == nil) {
		return true
	}
	if a.fn != nil {
		same := slices.EqualFunc(a.fn.Params, b.fn.Params, func(x, y syntax.Ident) bool { return x.Name == y.Name })
		if !same {
			return true
		}
	} else if a.fig.Fixed && b.fig.Fixed && len(tablesOf(a))+len(tablesOf(b)) == 0 && a.node != nil && b.node != nil {
		// The digits of a literal and its unit may be other ones for the same value.
		v, ok := a.node.eval(&machine{quiet: true, left: maxSteps})
		w, ok2 := b.node.eval(&machine{quiet: true, left: maxSteps})
		if ok && ok2 {
			return !reflect.DeepEqual(v, w) || !a.typ.same(b.typ)
		}
	}
	if syntax.Print(rightSide(a)) != syntax.Print(rightSide(b)) {
		return true
	}
	// The same words may mean other figures: a block may have got a name of its own.
	return !slices.EqualFunc(a.refs, b.refs, func(x, y *def) bool { return x.name() == y.name() })
}

// circles gives the definitions that would need each other if the lines of
// both releases stood side by side (Tarjan's strongly connected components of
// more than one definition).
func (x *Mix) circles(names []string) (out [][]*mixNode) {
	var stack []*mixNode
	on := map[*mixNode]bool{}
	count := 0
	var visit func(n *mixNode)
	visit = func(n *mixNode) {
		count++
		n.index, n.low = count, count
		stack = append(stack, n)
		on[n] = true
		for side := range n.refs {
			for _, r := range n.refs[side] {
				if r.index == 0 {
					visit(r)
					n.low = min(n.low, r.low)
				} else if on[r] {
					n.low = min(n.low, r.index)
				}
			}
		}
		if n.low != n.index {
			return
		}
		var c []*mixNode
		for {
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			on[top] = false
			c = append(c, top)
			if top == n {
				break
			}
		}
		if len(c) > 1 {
			slices.SortFunc(c, func(a, b *mixNode) int { return strings.Compare(a.name, b.name) })
			out = append(out, c)
		}
	}
	for _, name := range names {
		if x.nodes[name].index == 0 {
			visit(x.nodes[name])
		}
	}
	return out
}

// findBehind walks from every definition to the causes behind it.
func (x *Mix) findBehind(n *mixNode) {
	seen := map[*mixNode]bool{}
	causes := map[int]bool{}
	var walk func(n *mixNode)
	walk = func(n *mixNode) {
		if seen[n] {
			return
		}
		seen[n] = true
		if n.cause >= 0 {
			causes[n.cause] = true
		}
		for side := range n.refs {
			for _, r := range n.refs[side] {
				walk(r)
			}
		}
	}
	walk(n)
	n.behind = slices.Sorted(maps.Keys(causes))
}
