package calc

import (
	"errors"
	"math"
	"testing"

	"workings/calc/model"
)

// A model is called once for the same arguments, in this run and the next, and
// again for any others.
func TestMemo(t *testing.T) {
	calls := 0
	refused := errors.New("refused")
	spec := &model.Spec{
		Name: "sum",
		Args: []model.Arg{
			{Name: "x", Unit: "1"},
			{Name: "more", Unit: "1", Shape: model.List, Optional: true},
			{Name: "how", Shape: model.Text, Optional: true},
		},
		Results: []model.Res{{Name: "y", Unit: "1"}},
		Fn: func(in *model.In, out *model.Out) error {
			calls++
			y := in.Num("x")
			for _, x := range in.List("more") {
				y += x
			}
			if y < 0 {
				return refused
			}
			out.Num("y", y)
			return nil
		},
	}
	var memo Memo
	ask := func(args map[string]any, want float64, called int) {
		t.Helper()
		before := calls
		out, _, err := memo.call(spec, args)
		switch {
		case want < 0 && !errors.Is(err, refused), want >= 0 && err != nil:
			t.Errorf("%v: error %v", args, err)
		case want >= 0 && out.Get("y") != want:
			t.Errorf("%v gives %v, want %v", args, out.Get("y"), want)
		case calls-before != called:
			t.Errorf("%v: called %d times, want %d", args, calls-before, called)
		}
	}
	first := []struct {
		args map[string]any
		want float64
	}{
		{map[string]any{"x": 1.0}, 1},
		{map[string]any{"x": math.Nextafter(1, 2)}, math.Nextafter(1, 2)},
		{map[string]any{"x": -1.0}, -1},
		{map[string]any{"x": 1.0, "more": 2.0}, 3},
		{map[string]any{"x": 1.0, "more": []float64{2}}, 3},
		{map[string]any{"x": 1.0, "more": []float64{2, 0}}, 3},
		{map[string]any{"x": 1.0, "how": "2"}, 1},
		{map[string]any{"x": 1.0, "how": "3"}, 1},
	}
	memo.next()
	for _, c := range first {
		ask(c.args, c.want, 1)
	}
	for range 2 {
		memo.next()
		for _, c := range first {
			ask(c.args, c.want, 0)
			ask(c.args, c.want, 0)
		}
	}
	memo.next()
	memo.next()
	ask(first[0].args, 1, 1) // nobody asked for it in the run before
	var none *Memo
	none.next()
	if out, _, err := none.call(spec, first[0].args); err != nil || out.Get("y") != 1.0 {
		t.Errorf("no memo gives %v, %v", out, err)
	}
}

// What is too much to be kept is computed again.
func TestMemoIsBounded(t *testing.T) {
	long := make([]float64, mostMemo/2)
	calls := 0
	spec := &model.Spec{
		Name: "long", Args: []model.Arg{{Name: "x", Unit: "1"}}, Results: []model.Res{{Name: "y", Unit: "1", Shape: model.List}},
		Fn: func(_ *model.In, out *model.Out) error {
			calls++
			out.List("y", long)
			return nil
		},
	}
	var memo Memo
	memo.next()
	for range 2 {
		for x := range 3 {
			if _, _, err := memo.call(spec, map[string]any{"x": float64(x)}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if calls != 5 || memo.numbers > mostMemo { // the first is kept; the other two each time
		t.Errorf("called %d times, %d numbers kept", calls, memo.numbers)
	}
}
