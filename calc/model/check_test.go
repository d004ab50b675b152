package model

import (
	"math"
	"strings"
	"testing"
)

// probe is a model that hands on what it is given.
var probe = &Spec{
	Name: "probe", Source: "a book",
	Args: []Arg{
		{Name: "length", Unit: "m", Doc: "a length", Above: at(0), Low: at(0.1), High: at(1)},
		{Name: "hot", Unit: "°C", Doc: "a point", AtLeast: at(0), AtMost: at(1000), Optional: true},
		{Name: "list", Unit: "1", Shape: List, Doc: "a list", AtLeast: at(0), High: at(5), RangeOf: "a paper", Optional: true},
		{Name: "kind", Shape: Text, Choices: []string{"x", "y"}, Doc: "a choice", Optional: true},
		{Name: "field", Unit: "1", Shape: Grid, Doc: "a field", Optional: true},
	},
	Results: []Res{{Name: "r", Unit: "1", Doc: "result"}},
	Fn: func(in *In, out *Out) error {
		if in.Text("kind") == "y" {
			return nil // forgets its result
		}
		out.Num("r", math.Log(in.Num("length")-0.05))
		return nil
	},
}

func TestCall(t *testing.T) {
	square := &Map{X: []float64{0, 1}, Y: []float64{0, 1}, Z: []float64{1, 2, 3, 4}}
	for _, c := range []struct {
		name string
		args map[string]any
		want string // in the error, or "" for none
		out  string // in the finding, or "" for none
	}{
		{"good", map[string]any{"length": 0.5}, "", ""},
		{"all", map[string]any{"length": 0.5, "hot": 300.0, "list": []float64{1, 2}, "kind": "x", "field": square}, "", ""},
		{"missing", map[string]any{}, "length: is missing: a length", ""},
		{"two errors", map[string]any{"hot": -1.0, "kind": "z"}, `kind: "z" is none of "x", "y"`, ""},
		{"unknown", map[string]any{"length": 0.5, "lenght": 1.0}, "lenght: probe takes no such argument", ""},
		{"scalar for list", map[string]any{"length": 0.5, "list": 1.0}, "", ""},
		{"bad scalar for list", map[string]any{"length": 0.5, "list": -1.0}, "list: -1: must be at least 0", ""},
		{"text for list", map[string]any{"length": 0.5, "list": "1"}, "list: must be a list", ""},
		{"list for scalar", map[string]any{"length": []float64{1}}, "length: must be a single quantity", ""},
		{"empty", map[string]any{"length": 0.5, "list": []float64{}}, "list: is an empty list", ""},
		{"item", map[string]any{"length": 0.5, "list": []float64{1, -2}}, "list: item 2, -2: must be at least 0", ""},
		{"nan", map[string]any{"length": math.NaN()}, "length: must be a finite number", ""},
		{"inf", map[string]any{"length": 0.5, "list": []float64{math.Inf(1)}}, "must be a finite number", ""},
		{"zero", map[string]any{"length": 0.0}, "length: 0 m: must be greater than 0 m", ""},
		{"celsius", map[string]any{"length": 0.5, "hot": 1273.15}, "hot: 1000 °C: must be at most 726.85 °C", ""},
		{"not rising", map[string]any{"length": 0.5, "field": &Map{X: []float64{0, 0}, Y: []float64{0, 1}, Z: make([]float64, 4)}}, "finite and rising", ""},
		{"count", map[string]any{"length": 0.5, "field": &Map{X: []float64{0, 1}, Y: []float64{0, 1}, Z: make([]float64, 3)}}, "holds 3 values", ""},
		{"hole", map[string]any{"length": 0.5, "field": &Map{X: []float64{0, 1}, Y: []float64{0, 1}, Z: []float64{0, 0, math.NaN(), 0}}}, "node 3, must be a finite", ""},
		{"nil field", map[string]any{"length": 0.5, "field": (*Map)(nil)}, "must be a field", ""},
		{"low", map[string]any{"length": 0.06}, "", "0.06 m lies outside the range of probe, 0.1 m to 1 m (a book)"},
		{"high item", map[string]any{"length": 0.5, "list": []float64{6, 8, 7}}, "", "item 2, 8 lies outside the range of probe, up to 5 (a paper)"},
		{"no result", map[string]any{"length": 0.5, "kind": "y"}, "probe gives no r", ""},
		{"result nan", map[string]any{"length": 0.04}, "probe gives no finite r", ""},
		{"result inf", map[string]any{"length": 0.05}, "probe gives no finite r", ""},
	} {
		out, findings, err := Call(probe, c.args)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: got error %v, want %q", c.name, err, c.want)
		case c.want != "" && out != nil:
			t.Errorf("%s: a result beside an error", c.name)
		}
		var msg string
		for _, f := range findings {
			msg += f.Msg
		}
		if c.out == "" && msg != "" || !strings.Contains(msg, c.out) {
			t.Errorf("%s: got finding %q, want %q", c.name, msg, c.out)
		}
	}
	_, _, err := Call(probe, map[string]any{"hot": -1.0, "zz": 1.0})
	if n := len(ArgErrors(err)); n != 3 {
		t.Errorf("%d argument errors, want 3: %v", n, err)
	}
}

// called runs a model of the library and fails on any error or finding that
// is not expected.
func called(t *testing.T, model string, args map[string]any) *Out {
	t.Helper()
	s := Find(model)
	if s == nil {
		t.Fatalf("no model %s", model)
	}
	out, _, err := Call(s, args)
	if err != nil {
		t.Fatalf("%s: %v", model, err)
	}
	return out
}

// value returns a scalar result.
func value(t *testing.T, o *Out, name string) float64 {
	t.Helper()
	v, ok := o.Get(name).(float64)
	if !ok {
		t.Fatalf("no number %s", name)
	}
	return v
}

// refused calls a model and wants an error about the named argument.
func refused(t *testing.T, model, arg string, args map[string]any) {
	t.Helper()
	_, _, err := Call(Find(model), args)
	for _, e := range ArgErrors(err) {
		if e.Arg == arg {
			return
		}
	}
	t.Errorf("%s: want an error about %s, got %v", model, arg, err)
}

// found calls a model and wants a finding about the named argument.
func found(t *testing.T, model, arg string, args map[string]any) {
	t.Helper()
	_, findings, err := Call(Find(model), args)
	if err != nil {
		t.Errorf("%s: %v", model, err)
	}
	for _, f := range findings {
		if f.Arg == arg {
			return
		}
	}
	t.Errorf("%s: want a finding about %s, got %v", model, arg, findings)
}

// with returns a copy of the arguments with some replaced: name, value, name, value; nil removes one.
func with(args map[string]any, change ...any) map[string]any {
	m := map[string]any{}
	for k, v := range args {
		m[k] = v
	}
	for i := 0; i < len(change); i += 2 {
		if name := change[i].(string); change[i+1] == nil {
			delete(m, name)
		} else {
			m[name] = change[i+1]
		}
	}
	return m
}

func TestColumns(t *testing.T) {
	s := &Spec{Args: []Arg{{Name: "a", Shape: List}, {Name: "b", Shape: List}, {Name: "c", Shape: List}}}
	n, cols, err := NewIn(s, map[string]any{"a": []float64{1, 2}, "b": 3.0}).columns("a", "b", "c")
	if err != nil || n != 2 || cols[1][0] != 3 || cols[1][1] != 3 || cols[2] != nil {
		t.Errorf("got %d, %v, %v", n, cols, err)
	}
	_, _, err = NewIn(s, map[string]any{"a": []float64{1, 2}, "b": []float64{1, 2, 3}}).columns("a", "b")
	if err == nil || err.Error() != "a: has 2 items, but b has 3" {
		t.Errorf("got %v", err)
	}
}
