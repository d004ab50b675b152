package calc

import (
	"math"
	"sort"
	"strings"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
)

// materialNode gives the record of a material's properties. Each property with
// an uncertainty is an input of its own, one for all places that name it.
type materialNode struct {
	names []string
	defs  []*def
}

func (n *materialNode) eval(m *machine) (val, bool) {
	r := &record{names: n.names}
	for _, d := range n.defs {
		v, ok := m.input(d)
		if !ok {
			return val{}, false
		}
		r.vals = append(r.vals, v)
	}
	return val{o: r}, true
}

// checkMaterial checks material("name"): the name is written out, so that its
// properties are known before anything is computed.
func (c *checker) material(x *syntax.Call) (node, Type) {
	var names []string
	for _, m := range model.Materials() {
		names = append(names, m.Name)
	}
	if len(x.Args) != 1 || x.Args[0].Name != nil {
		return c.badHint(x.Pos, `such as material("`+names[0]+`").modulus`, "wrong-argument", "material wants one name in quotes")
	}
	lit, ok := unparen(x.Args[0].X).(*syntax.String)
	if !ok {
		return c.badHint(x.Args[0].X.Span(), `such as material("`+names[0]+`").modulus`, "wrong-argument", "material wants a name in quotes")
	}
	m := model.FindMaterial(lit.Value)
	if m == nil {
		hint := ""
		var near []string
		for _, m := range model.Materials() {
			names = append(names, m.Also...)
		}
		for _, n := range names {
			if strings.Contains(strings.ToLower(n), strings.ToLower(lit.Value)) {
				near = append(near, `"`+n+`"`)
			}
		}
		sort.Strings(near)
		if len(near) > 0 {
			hint = "did you mean " + strings.Join(near, " or ") + "?"
		} else if n := diag.Nearest(lit.Value, names); n != "" {
			hint = `did you mean "` + n + `"?`
		} else {
			hint = `give its values on the design sheet, with their source: modulus = 70 GPa from "…"`
		}
		return c.badHint(lit.Pos, hint, "unknown-material", "the materials table has no %q", lit.Value)
	}
	n := &materialNode{}
	t := Type{Kind: Record}
	for _, p := range m.Props {
		n.names = append(n.names, p.Name)
		n.defs = append(n.defs, c.p.materialInput(m.Name, p))
		t.Fields = append(t.Fields, TypeField{p.Name, p.Name + " of " + m.Name + "; " + p.Source, resType(model.Res{Unit: p.Unit})})
	}
	return n, t
}

// hideMaterial notes the inputs behind a call of material before anything is
// checked, so that what depends on them is known wherever the call stands.
func (p *Program) hideMaterial(x *syntax.Call) {
	if len(x.Args) != 1 {
		return
	}
	lit, ok := unparen(x.Args[0].X).(*syntax.String)
	if !ok {
		return
	}
	if m := model.FindMaterial(lit.Value); m != nil {
		for _, prop := range m.Props {
			if in := p.materialInput(m.Name, prop); in.input >= 0 {
				p.hide(x, in)
			}
		}
	}
}

// materialInput is the hidden input behind one property of a material.
func (p *Program) materialInput(name string, prop model.Property) *def {
	key := name + ", " + prop.Name
	if d := p.materials[key]; d != nil {
		return d
	}
	d := &def{fig: &Figure{Name: key, From: prop.Source}, id: -1, input: -1}
	d.spread = &spreadIn{nominal: prop.Value, dof: math.Inf(1), k: 2, std: math.Abs(prop.Value) * prop.Rel / 2, shape: "normal"}
	d.spread.step = 0.05 * d.spread.std
	if d.spread.std > 0 {
		d.input = int32(len(p.inputs))
		p.inputs = append(p.inputs, d)
	}
	if p.materials == nil {
		p.materials = map[string]*def{}
	}
	p.materials[key] = d
	return d
}

// hide notes an input that stands behind a call and has no line of its own.
func (p *Program) hide(x *syntax.Call, in *def) {
	if p.hidden == nil {
		p.hidden = map[*syntax.Call][]*def{}
	}
	for _, h := range p.hidden[x] {
		if h == in {
			return
		}
	}
	p.hidden[x] = append(p.hidden[x], in)
}
