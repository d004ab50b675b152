package build

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"maps"
	"slices"
	"strings"
)

// An orderCheck looks through a file for loops over maps whose order can reach
// a result. It refuses what it cannot tell.
type orderCheck struct {
	fset           *token.FileSet
	info           *types.Info
	found          []string
	loops, excused int
	notes          map[int]*orderNote // by the line that they speak of
	seen           map[string]bool
}

// An orderNote is a comment that says why a loop may run in any order.
type orderNote struct {
	pos  token.Pos
	used bool
}

func (c *orderCheck) run(f *ast.File) {
	c.notes, c.seen = map[int]*orderNote{}, map[string]bool{}
	var notes []*orderNote
	for _, g := range f.Comments {
		for _, l := range g.List {
			why, ok := strings.CutPrefix(l.Text, "// any order:")
			if !ok {
				continue
			}
			n := &orderNote{pos: l.Pos()}
			notes = append(notes, n)
			if len(strings.Fields(why)) < 3 {
				c.say(l.Pos(), "the comment does not say why the order does not matter")
			}
			line := c.fset.Position(l.Pos()).Line
			c.notes[line] = n
			if last := c.fset.Position(g.End()).Line; c.notes[last+1] == nil {
				c.notes[last+1] = n
			}
		}
	}
	ast.PreorderStack(f, nil, func(n ast.Node, stack []ast.Node) bool {
		switch n := n.(type) {
		case *ast.RangeStmt:
			if c.overMap(n.X) {
				c.loops++
				l := &mapLoop{c: c, loop: n, outside: stack, set: map[string]string{}, counted: map[string]string{}, grown: map[string]ast.Expr{}, wrote: map[string]ast.Expr{}, own: map[ast.Node]bool{}}
				c.judge(n.Pos(), l.check)
			}
		case *ast.CallExpr:
			c.judge(n.Pos(), func() { c.unordered(n, stack) })
		}
		return true
	})
	for _, n := range notes {
		if !n.used {
			c.say(n.pos, "no loop that this comment excuses needs it")
		}
	}
}

// judge keeps what f finds, unless a comment excuses it.
func (c *orderCheck) judge(at token.Pos, f func()) {
	before := len(c.found)
	f()
	if n := c.notes[c.fset.Position(at).Line]; n != nil && len(c.found) > before {
		n.used = true
		c.found = c.found[:before]
		c.excused++
	}
}

func (c *orderCheck) say(at token.Pos, format string, a ...any) {
	p := c.fset.Position(at)
	s := fmt.Sprintf("%s:%d: ", p.Filename, p.Line) + fmt.Sprintf(format, a...)
	if !c.seen[s] {
		c.seen[s] = true
		c.found = append(c.found, s)
	}
}

// overMap says whether a range over x goes over a map, or may.
func (c *orderCheck) overMap(x ast.Expr) bool {
	t := c.info.TypeOf(x)
	if t == nil || t == types.Typ[types.Invalid] {
		return true
	}
	if call, ok := ast.Unparen(x).(*ast.CallExpr); ok && c.isCall(call, "maps", "Keys", "Values", "All") {
		return true
	}
	if p, ok := types.Unalias(t).(*types.TypeParam); ok {
		for _, e := range typeSet(p) {
			if _, ok := e.Underlying().(*types.Map); ok {
				return true
			}
		}
		return false
	}
	_, ok := t.Underlying().(*types.Map)
	return ok
}

func typeSet(p *types.TypeParam) (all []types.Type) {
	in, _ := p.Constraint().Underlying().(*types.Interface)
	for i := 0; in != nil && i < in.NumEmbeddeds(); i++ {
		if u, ok := in.EmbeddedType(i).(*types.Union); ok {
			for j := range u.Len() {
				all = append(all, u.Term(j).Type())
			}
		} else {
			all = append(all, in.EmbeddedType(i))
		}
	}
	return all
}

// isCall says whether a call is of one of the functions of a package.
func (c *orderCheck) isCall(call *ast.CallExpr, pkg string, names ...string) bool {
	f := c.callee(call)
	return f != nil && f.Pkg() != nil && f.Pkg().Path() == pkg && f.Signature().Recv() == nil && (len(names) == 0 || slices.Contains(names, f.Name()))
}

// callee is the function or method that is called by name; nil if that is a value.
func (c *orderCheck) callee(call *ast.CallExpr) *types.Func {
	fun := ast.Unparen(call.Fun)
	switch x := fun.(type) { // a function with its type arguments
	case *ast.IndexExpr:
		fun = x.X
	case *ast.IndexListExpr:
		fun = x.X
	}
	switch x := fun.(type) {
	case *ast.Ident:
		f, _ := c.info.Uses[x].(*types.Func)
		return f
	case *ast.SelectorExpr:
		f, _ := c.info.Uses[x.Sel].(*types.Func)
		return f
	}
	return nil
}

// unordered refuses calls that go over a map by other means than a loop.
func (c *orderCheck) unordered(call *ast.CallExpr, stack []ast.Node) {
	f := c.callee(call)
	switch {
	case f == nil || f.Pkg() == nil:
	case c.isCall(call, "maps", "Keys", "Values", "All"):
		switch p := stack[len(stack)-1].(type) {
		case *ast.RangeStmt:
			return // looked at as a loop
		case *ast.CallExpr:
			if c.isCall(p, "slices", "Sorted") || c.isCall(p, "maps", "Collect", "Insert") {
				return
			}
		}
		c.say(call.Pos(), "maps.%s gives them in any order; slices.Sorted puts them in one", f.Name())
	case c.isCall(call, "maps", "DeleteFunc", "EqualFunc"):
		if lit, ok := call.Args[len(call.Args)-1].(*ast.FuncLit); !ok || c.hasEffect(lit) {
			c.say(call.Pos(), "maps.%s calls the function in any order", f.Name())
		}
	case f.FullName() == "(*sync.Map).Range", f.FullName() == "(reflect.Value).MapRange", f.FullName() == "(reflect.Value).MapKeys":
		c.say(call.Pos(), "%s goes over a map in any order", f.Name())
	}
}

// hasEffect says whether a function does more than to give a value.
func (c *orderCheck) hasEffect(lit *ast.FuncLit) bool {
	effect := false
	ast.Inspect(lit.Body, func(n ast.Node) bool {
		switch n.(type) {
		case *ast.AssignStmt, *ast.IncDecStmt, *ast.ExprStmt, *ast.SendStmt, *ast.GoStmt, *ast.DeferStmt:
			effect = true
		}
		return !effect
	})
	return effect
}

// A mapLoop is a loop over a map with what its turns leave behind.
type mapLoop struct {
	c       *orderCheck
	loop    *ast.RangeStmt
	outside []ast.Node // around the loop, the file first

	set     map[string]string   // places that are set to a constant, with it
	setIn   []*ast.BlockStmt    // the blocks that do so
	counted map[string]string   // places that are counted up, with the kind of the operation
	grown   map[string]ast.Expr // slices that are appended to
	wrote   map[string]ast.Expr // all of these, and the maps that elements are written to
	partial bool                // something was written of which a part is done when the loop is left
	own     map[ast.Node]bool   // expressions that are part of such a write, or read what only this turn writes
	leaves  []leave
}

// A leave is a statement that ends the loop early.
type leave struct {
	stmt ast.Stmt
	in   ast.Node
}

func (l *mapLoop) say(at ast.Node, format string, a ...any) { l.c.say(at.Pos(), format, a...) }

func (l *mapLoop) check() {
	if l.loop.Tok == token.ASSIGN {
		l.say(l.loop, "the loop sets variables of its surroundings; the last turn is any")
		return
	}
	if l.loop.Key == nil || isBlank(l.loop.Key) && (l.loop.Value == nil || isBlank(l.loop.Value)) {
		return // all turns are the same
	}
	ast.PreorderStack(l.loop.Body, nil, func(n ast.Node, stack []ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			l.assign(n, stack)
		case *ast.IncDecStmt:
			l.count(n, n.X, "+")
		case *ast.RangeStmt:
			if n.Tok == token.ASSIGN {
				l.write(n, n.Key, nil, stack)
				if n.Value != nil {
					l.write(n, n.Value, nil, stack)
				}
			}
		case *ast.ReturnStmt:
			if !l.inFunc(stack) {
				l.leaves = append(l.leaves, leave{n, stack[len(stack)-1]})
			}
		case *ast.BranchStmt:
			if l.leavesBy(n, stack) {
				l.leaves = append(l.leaves, leave{n, stack[len(stack)-1]})
			}
		case *ast.SendStmt:
			l.say(n, "sends in the order of a map")
		case *ast.GoStmt, *ast.DeferStmt:
			l.say(n, "starts or defers calls in the order of a map")
		case *ast.CallExpr:
			l.call(n, stack)
		}
		return true
	})
	l.left()
	l.read()
	for _, text := range slices.Sorted(maps.Keys(l.grown)) {
		l.sorted(text, l.grown[text])
	}
}

func isBlank(x ast.Expr) bool {
	id, ok := x.(*ast.Ident)
	return ok && id.Name == "_"
}

func (l *mapLoop) inFunc(stack []ast.Node) bool {
	return slices.ContainsFunc(stack, func(n ast.Node) bool { _, ok := n.(*ast.FuncLit); return ok })
}

// leavesBy says whether a break, continue or goto ends the loop.
func (l *mapLoop) leavesBy(n *ast.BranchStmt, stack []ast.Node) bool {
	if n.Label != nil {
		if n.Tok == token.CONTINUE && l.label() == n.Label.Name {
			return false
		}
		for _, s := range stack {
			if s, ok := s.(*ast.LabeledStmt); ok && s.Label.Name == n.Label.Name {
				return false
			}
		}
		return true
	}
	if n.Tok != token.BREAK {
		return n.Tok == token.GOTO
	}
	for _, s := range stack {
		switch s.(type) {
		case *ast.ForStmt, *ast.RangeStmt, *ast.SwitchStmt, *ast.TypeSwitchStmt, *ast.SelectStmt, *ast.FuncLit:
			return false
		}
	}
	return true
}

func (l *mapLoop) label() string {
	if s, ok := l.outside[len(l.outside)-1].(*ast.LabeledStmt); ok {
		return s.Label.Name
	}
	return ""
}

// left looks at the ways out of the loop: all of them must be the same, give
// nothing of the turn, and leave nothing half done.
func (l *mapLoop) left() {
	first := ""
	for i, e := range l.leaves {
		text := ""
		switch s := e.stmt.(type) {
		case *ast.BranchStmt:
			text = s.Tok.String()
		case *ast.ReturnStmt:
			text = "return"
			for _, x := range s.Results {
				v, ok := l.fixed(x)
				if !ok {
					l.say(s, "returns what one of the turns gives")
				}
				text += " " + v
			}
		default:
			text = "panic" // a fault of the program; which of several is told does not matter
		}
		if i == 0 {
			first = text
		} else if text != first {
			l.say(e.stmt, "leaves the loop in another way than an earlier statement; which comes first is open")
		}
		for _, b := range l.setIn {
			if ast.Node(b) != e.in {
				l.partial = true
			}
		}
	}
	if len(l.leaves) > 0 && l.partial {
		l.say(l.leaves[0].stmt, "leaves the loop with a part of its work done")
	}
}

// fixed gives the text of an expression that is the same in every turn.
func (l *mapLoop) fixed(x ast.Expr) (string, bool) {
	tv := l.c.info.Types[x]
	switch {
	case tv.Value != nil && tv.Value.Kind() != constant.Unknown:
		return tv.Value.ExactString(), true
	case tv.IsNil():
		return "nil", true
	}
	switch x := ast.Unparen(x).(type) {
	case *ast.CompositeLit:
		if len(x.Elts) == 0 {
			return types.ExprString(x), true
		}
	case *ast.Ident, *ast.SelectorExpr:
		if l.outer(x) {
			return types.ExprString(x), true
		}
	}
	return "", false
}

// object is what the first name of a place stands for; nil where it begins
// with a call.
func (l *mapLoop) object(x ast.Expr) types.Object {
	for {
		switch y := x.(type) {
		case *ast.ParenExpr:
			x = y.X
		case *ast.SelectorExpr:
			if o := l.c.info.Uses[y.Sel]; l.c.info.Selections[y] == nil && o != nil {
				return o // of a package
			}
			x = y.X
		case *ast.IndexExpr:
			x = y.X
		case *ast.StarExpr:
			x = y.X
		case *ast.SliceExpr:
			x = y.X
		case *ast.TypeAssertExpr:
			x = y.X
		case *ast.Ident:
			return l.c.info.ObjectOf(y)
		default:
			return nil
		}
	}
}

func (l *mapLoop) within(o types.Object) bool {
	return o.Pos() >= l.loop.Pos() && o.Pos() < l.loop.End()
}

// outer says whether a place is, or may be, outside of the turn.
func (l *mapLoop) outer(x ast.Expr) bool {
	o := l.object(x)
	if o == nil || !l.within(o) {
		return true
	}
	if _, ok := ast.Unparen(x).(*ast.Ident); ok {
		return false
	}
	return l.shared(o)
}

// shared says whether a variable of the turn may point to what other turns
// see. The value of the loop may: a map can hold one pointer under two keys.
func (l *mapLoop) shared(o types.Object) bool {
	if !isReference(o.Type()) {
		return false
	}
	shared := true
	ast.Inspect(l.loop.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			for i, x := range n.Lhs {
				if id, ok := x.(*ast.Ident); ok && l.c.info.Defs[id] == o && len(n.Lhs) == len(n.Rhs) {
					shared = l.sharedValue(n.Rhs[i])
				}
			}
		case *ast.ValueSpec:
			for i, id := range n.Names {
				if l.c.info.Defs[id] == o {
					shared = i < len(n.Values) && l.sharedValue(n.Values[i])
				}
			}
		case *ast.RangeStmt:
			if id, ok := n.Value.(*ast.Ident); ok && l.c.info.Defs[id] == o {
				shared = l.sharedValue(n.X)
			}
		}
		return true
	})
	return shared
}

func (l *mapLoop) sharedValue(x ast.Expr) bool {
	switch y := ast.Unparen(x).(type) {
	case *ast.CompositeLit:
		return false
	case *ast.UnaryExpr:
		if y.Op == token.AND {
			return l.sharedValue(y.X)
		}
	case *ast.CallExpr:
		switch fun := types.ExprString(y.Fun); {
		case fun == "make", fun == "new", strings.HasPrefix(fun, "[]"):
			return false
		case fun == "append":
			return l.sharedValue(y.Args[0])
		}
		return true
	case *ast.Ident:
		o := l.c.info.ObjectOf(y)
		return y.Name != "nil" && (o == nil || !l.within(o) || l.shared(o))
	}
	o := l.object(x)
	return o == nil || !l.within(o) || l.shared(o)
}

// ofKey says whether an expression is another for every turn: the key, a
// conversion of it, a text or a composite made with it.
func (l *mapLoop) ofKey(x ast.Expr) bool {
	id, ok := l.loop.Key.(*ast.Ident)
	key := l.c.info.Defs[id]
	if !ok || key == nil {
		return false
	}
	if call, ok := ast.Unparen(l.loop.X).(*ast.CallExpr); ok && l.c.isCall(call, "maps", "Values") {
		return false
	}
	switch x := ast.Unparen(x).(type) {
	case *ast.Ident:
		return l.c.info.Uses[x] == key
	case *ast.CallExpr:
		return len(x.Args) == 1 && l.c.info.Types[x.Fun].IsType() && l.ofKey(x.Args[0])
	case *ast.BinaryExpr:
		fixed := func(y ast.Expr) bool { return l.c.info.Types[y].Value != nil || l.object(y) != nil && l.outer(y) }
		return x.Op == token.ADD && (l.ofKey(x.X) && fixed(x.Y) || l.ofKey(x.Y) && fixed(x.X))
	case *ast.CompositeLit:
		for _, e := range x.Elts {
			if kv, ok := e.(*ast.KeyValueExpr); ok {
				e = kv.Value
			}
			if l.ofKey(e) {
				return true
			}
		}
	}
	return false
}

// assign looks at an assignment.
func (l *mapLoop) assign(n *ast.AssignStmt, stack []ast.Node) {
	switch n.Tok {
	case token.DEFINE:
		return
	case token.ASSIGN:
		for i, x := range n.Lhs {
			if len(n.Lhs) == len(n.Rhs) {
				l.write(n, x, n.Rhs[i], stack)
			} else {
				l.write(n, x, nil, stack)
			}
		}
	default:
		l.count(n, n.Lhs[0], strings.TrimSuffix(n.Tok.String(), "="))
	}
}

// elementOf is the expression that indexes by the key, if a place is inside of
// such an element and not behind a pointer in it: no other turn comes near it.
func (l *mapLoop) elementOf(x ast.Expr) *ast.IndexExpr {
	for {
		switch y := x.(type) {
		case *ast.ParenExpr:
			x = y.X
		case *ast.SelectorExpr:
			x = y.X
		case *ast.IndexExpr:
			if l.ofKey(y.Index) {
				return y
			}
			x = y.X
		default:
			return nil
		}
		if t := l.c.info.TypeOf(x); t == nil || isReference(t) {
			return nil
		}
	}
}

// isReference says whether copies of a value may show the same thing.
func isReference(t types.Type) bool {
	switch t.Underlying().(type) {
	case *types.Pointer, *types.Map, *types.Slice, *types.Interface, *types.Signature, *types.Chan:
		return true
	}
	return false
}

// wrotes notes that a place is written to.
func (l *mapLoop) wrotes(x ast.Expr) string {
	text := types.ExprString(x)
	l.wrote[text] = x
	l.own[x] = true
	return text
}

// write looks at x = rhs.
func (l *mapLoop) write(n ast.Node, x, rhs ast.Expr, stack []ast.Node) {
	if isBlank(x) || !l.outer(x) {
		return
	}
	if e := l.elementOf(x); e != nil {
		l.wrotes(e.X)
		l.partial = true
		return
	}
	if rhs == nil {
		l.say(n, "sets %s to what one of the turns gives", types.ExprString(x))
		return
	}
	text := types.ExprString(x)
	same := func(y ast.Expr) bool {
		if types.ExprString(y) != text {
			return false
		}
		l.own[y] = true
		return true
	}
	if call, ok := rhs.(*ast.CallExpr); ok {
		switch fun := types.ExprString(call.Fun); {
		case fun == "append" && same(call.Args[0]):
			if _, index := x.(*ast.IndexExpr); index {
				l.say(n, "appends to %s in the order of a map", text)
				return
			}
			l.grown[l.wrotes(x)] = x
			l.partial = true
			return
		case fun == "max" || fun == "min" || fun == "math.Max" || fun == "math.Min":
			if slices.ContainsFunc(call.Args, same) {
				l.tally(n, x, fun)
				return
			}
		}
	}
	if b, ok := rhs.(*ast.BinaryExpr); ok {
		switch {
		case (b.Op == token.LOR || b.Op == token.LAND) && (same(b.X) || same(b.Y)):
			l.tally(n, x, b.Op.String())
			return
		case (b.Op == token.ADD || b.Op == token.MUL) && (same(b.X) || same(b.Y)), b.Op == token.SUB && same(b.X):
			l.count(n, x, b.Op.String())
			return
		}
	}
	if v, ok := l.fixed(rhs); ok {
		if i, index := x.(*ast.IndexExpr); index { // a set: which of its elements it holds is the same in any order
			x = i.X
		}
		l.setTo(n, x, v)
		if b, ok := stack[len(stack)-1].(*ast.BlockStmt); ok {
			l.setIn = append(l.setIn, b)
		} else {
			l.partial = true
		}
		return
	}
	if l.guarded(x, rhs, stack, same) {
		l.tally(n, x, "max or min")
		return
	}
	l.say(n, "sets %s to what one of the turns gives", text)
}

// setTo notes that a place is set to a constant, or all elements that are
// written of a map.
func (l *mapLoop) setTo(n ast.Node, x ast.Expr, v string) {
	text := l.wrotes(x)
	if old := l.set[text]; old != "" && old != v {
		l.say(n, "sets %s to this or to that; which comes last is open", text)
	}
	l.set[text] = v
}

// guarded recognizes if v > x { x = v }.
func (l *mapLoop) guarded(x, v ast.Expr, stack []ast.Node, same func(ast.Expr) bool) bool {
	if len(stack) < 2 {
		return false
	}
	s, ok := stack[len(stack)-2].(*ast.IfStmt)
	if !ok || s.Else != nil || len(s.Body.List) != 1 {
		return false
	}
	if a, ok := s.Body.List[0].(*ast.AssignStmt); !ok || len(a.Lhs) != 1 {
		return false
	}
	b, ok := s.Cond.(*ast.BinaryExpr)
	if !ok || b.Op != token.LSS && b.Op != token.GTR && b.Op != token.LEQ && b.Op != token.GEQ {
		return false
	}
	text := types.ExprString(v)
	return types.ExprString(b.X) == text && same(b.Y) || types.ExprString(b.Y) == text && same(b.X)
}

// tally notes an operation that gives the same in any order.
func (l *mapLoop) tally(n ast.Node, x ast.Expr, op string) {
	text := l.wrotes(x)
	if op == "-" {
		op = "+"
	}
	if old := l.counted[text]; old != "" && old != op {
		l.say(n, "%s is changed in two ways, which do not commute", text)
	}
	l.counted[text] = op
	l.partial = true
}

// count looks at x op= …: whole numbers give the same sum in any order.
func (l *mapLoop) count(n ast.Node, x ast.Expr, op string) {
	if !l.outer(x) {
		return
	}
	if e := l.elementOf(x); e != nil {
		l.wrotes(e.X)
		l.partial = true
		return
	}
	t, ok := l.c.info.TypeOf(x).Underlying().(*types.Basic)
	if !ok || t.Info()&types.IsInteger == 0 {
		l.say(n, "adds to %s (%s) in the order of a map", types.ExprString(x), l.c.info.TypeOf(x))
		return
	}
	if !slices.Contains([]string{"+", "-", "*", "|", "&", "^"}, op) {
		l.say(n, "%s= does not commute", op)
		return
	}
	if i, index := x.(*ast.IndexExpr); index {
		l.own[x] = true
		x = i.X
	}
	l.tally(n, x, op)
}

// call looks at a call: those made for their effect have it in the order of
// the map.
func (l *mapLoop) call(n *ast.CallExpr, stack []ast.Node) {
	if l.c.info.Types[n.Fun].IsType() {
		return
	}
	name, fun := "", ast.Unparen(n.Fun)
	var recv ast.Expr
	switch x := fun.(type) {
	case *ast.Ident:
		name = x.Name
	case *ast.SelectorExpr:
		name = x.Sel.Name
		if s := l.c.info.Selections[x]; s != nil && s.Kind() == types.MethodVal {
			recv = x.X
		}
	}
	_, alone := stack[len(stack)-1].(*ast.ExprStmt)
	if _, ok := fun.(*ast.Ident); ok && l.c.info.Types[fun].IsBuiltin() {
		switch {
		case name == "delete" && l.outer(n.Args[0]):
			if !l.ofKey(n.Args[1]) {
				l.setTo(n, n.Args[0], "nothing")
			}
			l.partial = true
		case name == "panic":
			l.leaves = append(l.leaves, leave{stack[len(stack)-1].(ast.Stmt), stack[len(stack)-2]})
		case (name == "copy" || name == "clear") && l.outer(n.Args[0]):
			l.say(n, "%s writes in the order of a map", name)
		case strings.HasPrefix(name, "print"):
			l.say(n, "%s writes in the order of a map", name)
		}
		return
	}
	target := recv
	writes := strings.HasPrefix(name, "Write")
	if recv != nil {
		writes = writes || name == "Add" || name == "Warn" || strings.HasPrefix(name, "Print")
		if t := l.c.info.TypeOf(recv); writes && !types.IsInterface(t) {
			f := l.c.callee(n)
			_, pointer := f.Signature().Recv().Type().(*types.Pointer)
			writes = pointer
		}
	} else {
		writes = writes || strings.HasPrefix(name, "Fprint") || strings.HasPrefix(name, "Print") || name == "yield"
		if len(n.Args) > 0 && (strings.HasPrefix(name, "Fprint") || strings.HasPrefix(name, "Write")) {
			target = n.Args[0]
			if u, ok := target.(*ast.UnaryExpr); ok && u.Op == token.AND {
				target = u.X
			}
		}
	}
	switch {
	case writes && (target == nil || l.outer(target)):
		l.say(n, "%s writes in the order of a map", name)
	case alone && !writes && (target == nil || l.outer(target)) && !l.sorts(n):
		l.say(n, "%s is called for its effect, in the order of a map", types.ExprString(n.Fun))
	}
}

// sorts says whether a call sorts something of this turn.
func (l *mapLoop) sorts(n *ast.CallExpr) bool {
	return l.sortOf(n) != nil && !l.outer(l.sortOf(n))
}

// sortOf is what a call sorts; nil if it does not.
func (l *mapLoop) sortOf(n *ast.CallExpr) ast.Expr {
	if !l.c.isCall(n, "sort", "Strings", "Ints", "Float64s", "Slice", "SliceStable", "Sort", "Stable") &&
		!l.c.isCall(n, "slices", "Sort", "SortFunc", "SortStableFunc") {
		return nil
	}
	x := n.Args[0]
	if conv, ok := x.(*ast.CallExpr); ok && len(conv.Args) == 1 && l.c.info.Types[conv.Fun].IsType() {
		x = conv.Args[0]
	}
	return x
}

// read refuses to look at what other turns write.
func (l *mapLoop) read() {
	ast.PreorderStack(l.loop.Body, nil, func(n ast.Node, stack []ast.Node) bool {
		if l.own[n] {
			return false
		}
		x, ok := n.(ast.Expr)
		if !ok {
			return true
		}
		if i, ok := x.(*ast.IndexExpr); ok && l.ofKey(i.Index) {
			l.own[i.X] = l.counted[types.ExprString(i.X)] == "" && l.set[types.ExprString(i.X)] == ""
			return true
		}
		if w := l.wrote[types.ExprString(x)]; w != nil && l.object(w) == l.object(x) {
			l.say(n, "looks at %s, which other turns write", types.ExprString(x))
			return false
		}
		return true
	})
}

// sorted looks whether a slice that the loop grows is put in order before it
// is used.
func (l *mapLoop) sorted(text string, x ast.Expr) {
	o := l.object(x)
	var fn ast.Node // the innermost function in which the slice is known
	for _, n := range l.outside {
		switch n.(type) {
		case *ast.FuncDecl, *ast.FuncLit:
			if fn == nil || o != nil && !(o.Pos() >= fn.Pos() && o.Pos() < n.Pos()) {
				fn = n
			}
		}
	}
	done, good := false, false
	ast.PreorderStack(fn, nil, func(n ast.Node, stack []ast.Node) bool {
		y, ok := n.(ast.Expr)
		if done || !ok || n.Pos() < l.loop.End() || types.ExprString(y) != text || l.object(y) != o {
			return !done
		}
		for _, p := range stack {
			call, ok := p.(*ast.CallExpr)
			if !ok {
				continue
			}
			if types.ExprString(call.Fun) == "len" {
				return true
			}
			if s := l.sortOf(call); s != nil && types.ExprString(s) == text {
				done, good = true, l.total(call)
				if !good {
					l.say(l.loop, "appends to %s in the order of a map, and the sort at line %d may leave ties in it", text, l.c.fset.Position(call.Pos()).Line)
					good = true
				}
				return false
			}
		}
		done = true
		return false
	})
	if !good {
		l.say(l.loop, "appends to %s in the order of a map, and it is not sorted before it is used", text)
	}
}

// total says whether a sort leaves no ties but of the same values.
func (l *mapLoop) total(call *ast.CallExpr) bool {
	return l.c.isCall(call, "sort", "Strings", "Ints", "Float64s") || l.c.isCall(call, "slices", "Sort")
}
