package calc

import (
	"fmt"
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A modelNode is a call of a library model.
type modelNode struct {
	spec  *model.Spec
	src   *syntax.Call
	names []string // of the arguments given, in the order in which they stand
	exprs []syntax.Expr
	args  []node
	types []Type
}

// model checks a call of a library model against its table row.
func (c *checker) model(s *model.Spec, x *syntax.Call) (node, Type) {
	n := &modelNode{spec: s, src: x}
	ok := true
	given := map[string]bool{}
	misnamed := false
	var argNames []string
	for _, a := range s.Args {
		argNames = append(argNames, a.Name)
	}
	for _, a := range x.Args {
		node, t := c.expr(a.X)
		if a.Name == nil {
			c.p.errs.Add(a.X.Span(), "wrong-argument", "the model %s takes its arguments by name", s.Name).
				Hint = "write " + s.Name + "(" + s.Args[0].Name + ": …); it takes " + strings.Join(argNames, ", ")
			ok, misnamed = false, true
			continue
		}
		arg := argOf(s, a.Name.Name)
		if arg == nil {
			e := c.p.errs.Add(a.Name.Pos, "wrong-argument", "the model %s takes no %s", s.Name, a.Name.Name)
			if near := diag.Nearest(a.Name.Name, argNames); near != "" {
				e.Hint = "did you mean " + near + "?"
			} else {
				e.Hint = "it takes " + strings.Join(argNames, ", ")
			}
			ok, misnamed = false, true
			continue
		}
		if given[arg.Name] {
			c.p.errs.Add(a.Name.Pos, "wrong-argument", "%s is given twice", arg.Name)
			ok = false
			continue
		}
		given[arg.Name] = true
		if t.Kind == Invalid {
			ok = false
			continue
		}
		if !c.modelArg(s, arg, a.X, t) {
			ok = false
			continue
		}
		n.names = append(n.names, arg.Name)
		n.exprs = append(n.exprs, a.X)
		n.args = append(n.args, node)
		n.types = append(n.types, t)
	}
	var missing []string
	for _, a := range s.Args {
		if !a.Optional && !given[a.Name] {
			missing = append(missing, a.Name)
		}
	}
	if len(missing) > 0 && !misnamed { // a misspelt name is missing under its right one
		e := c.p.errs.Add(x.Pos, "wrong-argument", "the model %s also wants %s", s.Name, strings.Join(missing, ", "))
		a := argOf(s, missing[0])
		e.Hint = fmt.Sprintf("%s: %s", a.Name, a.Doc)
		if a.Shape != model.Text && a.Unit != "" && a.Unit != "1" {
			e.Hint += ", in " + a.Unit
		}
		ok = false
	}
	if !ok {
		return nil, invalid
	}
	t := Type{Kind: Record}
	for _, r := range s.Results {
		t.Fields = append(t.Fields, TypeField{r.Name, r.Doc, resType(r)})
	}
	return n, t
}

func argOf(s *model.Spec, name string) *model.Arg {
	for i := range s.Args {
		if s.Args[i].Name == name {
			return &s.Args[i]
		}
	}
	return nil
}

// modelArg checks the kind and dimension of one argument.
func (c *checker) modelArg(s *model.Spec, a *model.Arg, x syntax.Expr, t Type) bool {
	if a.Shape == model.Text {
		if t.Kind != Text {
			c.badHint(x.Span(), "one of \""+strings.Join(a.Choices, "\", \"")+"\"", "wrong-argument", "%s of %s is a text, got %s", a.Name, s.Name, operand(x, t))
			return false
		}
		if lit, ok := unparen(x).(*syntax.String); ok && len(a.Choices) > 0 && !contains(a.Choices, lit.Value) {
			hint := "one of \"" + strings.Join(a.Choices, "\", \"") + "\""
			if near := diag.Nearest(lit.Value, a.Choices); near != "" {
				hint = "did you mean \"" + near + "\"?"
			}
			c.badHint(x.Span(), hint, "wrong-argument", "%s of %s cannot be %q", a.Name, s.Name, lit.Value)
			return false
		}
		return true
	}
	u := unitOf(a.Unit)
	want := quantity(u)
	kindOK := t.Kind == Quantity
	switch a.Shape {
	case model.List:
		want.Kind = List
		kindOK = t.isNumeric()
	case model.Grid:
		want.Kind = Grid
		kindOK = t.Kind == Grid
	}
	if !kindOK {
		hint := ""
		if a.Shape == model.Scalar && t.Kind == List && !t.Texts {
			hint = "it takes one value, such as max(" + clip(x) + ")"
		}
		c.badHint(x.Span(), hint, "wrong-argument", "%s of %s is %s, got %s", a.Name, s.Name, want, operand(x, t))
		return false
	}
	if t.Dim != u.Dim {
		hint := a.Name + ": " + a.Doc
		if lit, isNum := unparen(x).(*syntax.Number); isNum && lit.Unit.Symbol == "" {
			like := u.Symbol
			if like == "m" {
				like = "mm" // as lengths of machines are written
			}
			hint = "does " + lit.Text + " lack its unit, as in " + lit.Text + " " + like + "?"
		}
		c.badHint(x.Span(), hint, "unit-mismatch", "%s of %s is %s, got %s", a.Name, s.Name, want, operand(x, t))
		return false
	}
	if t.Point != u.Point {
		hint := "a temperature on a scale is written in °C; point(x) makes one of kelvins"
		if t.Point {
			hint = "a difference is written in K; kelvin(T) is the thermodynamic temperature"
		}
		c.badHint(x.Span(), hint, "temperature-point", "%s of %s is %s, got %s", a.Name, s.Name, want, operand(x, t))
		return false
	}
	return true
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func nearest(s string, list []string) string {
	l := append([]string(nil), list...)
	sort.Strings(l)
	return diag.Nearest(s, l)
}

func (n *modelNode) eval(m *machine) (val, bool) {
	if !m.steps(100, n.src.Pos) {
		return val{}, false
	}
	args := make([]val, len(n.args))
	for i, a := range n.args {
		v, ok := a.eval(m)
		if !ok {
			return val{}, false
		}
		args[i] = v
	}
	memo := m.memo()
	out, outside, err := n.call(memo, args, 0, nil)
	if m.calls != nil {
		mc := &ModelCall{Spec: n.spec, Out: outside, Pos: n.src.Pos}
		for i, name := range n.names {
			u := n.types[i].Unit
			if n.types[i].Kind == Quantity && !n.types[i].Chosen {
				u = unit.Sensible(u, args[i].n)
			}
			mc.Args = append(mc.Args, ModelArg{Name: name, X: n.exprs[i], Value: args[i].public(), Unit: u})
		}
		m.calls[n.src] = mc
	}
	if err != nil {
		return n.refused(m, err)
	}
	r := &record{}
	inputs := n.inputs(m, args)
	// Derivatives by each input: the model is run on either side of the inputs'
	// values, moved along their gradients by a small part of their spread.
	type side struct{ lo, hi *model.Out }
	sides := make([]side, len(inputs))
	steps := make([]float64, len(inputs))
	if !m.steps(200*len(inputs), n.src.Pos) {
		return val{}, false
	}
	// Models are plain functions, so the sides can be computed side by side.
	var wait sync.WaitGroup
	for i, in := range inputs {
		h := m.p.inputs[in].spread.step
		steps[i] = h
		wait.Go(func() { sides[i].hi, _, _ = n.call(memo, args, h, &in) })
		wait.Go(func() { sides[i].lo, _, _ = n.call(memo, args, -h, &in) })
	}
	wait.Wait()
	for i, in := range inputs {
		if sides[i].hi == nil && sides[i].lo == nil {
			return m.fail(n.src.Pos, "domain", "the spread of %s cannot be carried through %s: it has no value on either side", m.p.inputs[in].name(), n.spec.Name)
		}
	}
	slope := func(i int, get func(o *model.Out) float64, here float64) float64 {
		s := sides[i]
		switch {
		case s.hi == nil:
			return (here - get(s.lo)) / steps[i]
		case s.lo == nil:
			return (get(s.hi) - here) / steps[i]
		}
		return (get(s.hi) - get(s.lo)) / (2 * steps[i])
	}
	vector := func(name string, v []float64, at func(o *model.Out) []float64) *vec {
		l := &vec{v: v}
		for i, in := range inputs {
			d := make([]float64, len(v))
			same := true
			for k := range v {
				d[k] = slope(i, func(o *model.Out) float64 {
					if w := at(o); k < len(w) {
						return w[k]
					}
					same = false
					return 0
				}, v[k])
			}
			if same {
				l.g = append(l.g, vterm{in, d})
			}
		}
		return l
	}
	for _, res := range n.spec.Results {
		r.names = append(r.names, res.Name)
		switch v := out.Get(res.Name).(type) {
		case float64:
			x := val{n: v}
			for i, in := range inputs {
				if d := slope(i, func(o *model.Out) float64 { f, _ := o.Get(res.Name).(float64); return f }, v); d != 0 {
					x.g = append(x.g, term{in, d})
				}
			}
			r.vals = append(r.vals, x)
		case []float64:
			r.vals = append(r.vals, val{o: vector(res.Name, v, func(o *model.Out) []float64 { w, _ := o.Get(res.Name).([]float64); return w })})
		case *model.Map:
			z := vector(res.Name, v.Z, func(o *model.Out) []float64 { w, _ := o.Get(res.Name).(*model.Map); return w.Z })
			r.vals = append(r.vals, val{o: &grid{v.X, v.Y, z}})
		case string:
			r.vals = append(r.vals, val{o: v})
		}
	}
	return val{o: r}, true
}

// inputs gives the inputs on which the arguments depend, sorted.
func (n *modelNode) inputs(m *machine, args []val) []int32 {
	if !m.grads {
		return nil
	}
	seen := map[int32]bool{}
	for _, a := range args {
		for _, t := range a.g {
			seen[t.in] = true
		}
		if l := a.numbers(); l != nil {
			for _, t := range l.g {
				seen[t.in] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// call runs the model with its arguments moved by h along the gradient of one input.
func (n *modelNode) call(memo *Memo, args []val, h float64, in *int32) (out *model.Out, outside []model.Outside, err error) {
	defer func() { // a fault of ours in a model must not end the program
		if r := recover(); r != nil {
			out, outside, err = nil, nil, fmt.Errorf("internal error: %v", r)
		}
	}()
	vals := make(map[string]any, len(args))
	for i, a := range args {
		arg := argOf(n.spec, n.names[i])
		switch o := a.o.(type) {
		case nil:
			x := a.n
			if in != nil {
				for _, t := range a.g {
					if t.in == *in {
						x += h * t.d
					}
				}
			}
			vals[arg.Name] = x // of a list: one value stands for each element
		case *vec:
			vals[arg.Name] = moved(o, h, in)
		case *grid:
			vals[arg.Name] = &model.Map{X: o.x, Y: o.y, Z: moved(o.z, h, in)}
		case string:
			vals[arg.Name] = o
		}
	}
	return memo.call(n.spec, vals)
}

func moved(l *vec, h float64, in *int32) []float64 {
	if in != nil {
		for _, t := range l.g {
			if t.in == *in {
				v := append([]float64(nil), l.v...)
				for k := range v {
					v[k] += h * t.d[k]
				}
				return v
			}
		}
	}
	return append([]float64(nil), l.v...)
}

// refused reports what a model said of its arguments, each at its place.
func (n *modelNode) refused(m *machine, err error) (val, bool) {
	list := model.ArgErrors(err)
	if len(list) == 0 {
		return m.fail(n.src.Pos, "model", "the model %s: %v", n.spec.Name, err)
	}
	for _, e := range list {
		pos := n.src.Pos
		for i, name := range n.names {
			if name == e.Arg {
				pos = n.exprs[i].Span()
			}
		}
		m.fail(pos, "model", "the model %s: %s %s", n.spec.Name, e.Arg, e.Msg)
	}
	return val{}, false
}

// outsideFindings makes a finding of every argument outside a model's range.
func outsideFindings(list *diag.List, mc *ModelCall) {
	for _, o := range mc.Out {
		pos := mc.Pos
		for _, a := range mc.Args {
			if a.Name == o.Arg {
				pos = a.X.Span()
			}
		}
		list.Warn(pos, "outside-range", "%s of %s: %s", o.Arg, mc.Spec.Name, o.Msg).Hint = "the result is published with this finding beside it"
	}
}
