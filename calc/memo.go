package calc

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"sync"

	"workings/calc/model"
)

// A Memo keeps what the models gave in one run of a manual for the next, which
// then calls only those whose arguments are others: a preview of a change that
// no field of heat depends on need not solve it again. Models are plain
// functions of their arguments, so what a Memo gives is what they would give.
// Its zero value is ready, and may be used by many goroutines.
type Memo struct {
	mu         sync.Mutex
	last, this map[memoKey]memoized
	numbers    int // held by this
}

// A memoKey stands for a model and the values of its arguments.
type memoKey [sha256.Size]byte

type memoized struct {
	out     *model.Out
	outside []model.Outside
	err     error
	numbers int
}

// mostMemo is how many numbers a Memo keeps of a run: 32 MB.
const mostMemo = 4 << 20

// next begins a run: what was asked for in the one before the last is forgotten.
func (m *Memo) next() {
	if m == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.last, m.this, m.numbers = m.this, map[memoKey]memoized{}, 0
}

// call is model.Call.
func (m *Memo) call(s *model.Spec, args map[string]any) (*model.Out, []model.Outside, error) {
	if m == nil {
		return model.Call(s, args)
	}
	key := keyOf(s, args)
	m.mu.Lock()
	c, ok := m.this[key]
	if !ok {
		if c, ok = m.last[key]; ok {
			m.keep(key, c)
		}
	}
	m.mu.Unlock()
	if !ok {
		c.out, c.outside, c.err = model.Call(s, args)
		c.numbers = numbersIn(s, c.out)
		m.mu.Lock()
		m.keep(key, c)
		m.mu.Unlock()
	}
	return c.out, c.outside, c.err
}

func (m *Memo) keep(key memoKey, c memoized) {
	if m.this == nil || m.numbers+c.numbers > mostMemo {
		return
	}
	m.this[key] = c
	m.numbers += c.numbers
}

func keyOf(s *model.Spec, args map[string]any) memoKey {
	b := append([]byte(s.Name), 0)
	number := func(x float64) { b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x)) }
	list := func(v []float64) {
		b = binary.LittleEndian.AppendUint64(b, uint64(len(v)))
		for _, x := range v {
			number(x)
		}
	}
	for i := range s.Args {
		switch v := args[s.Args[i].Name].(type) {
		case nil:
			b = append(b, '-')
		case float64:
			b = append(b, 'n')
			number(v)
		case []float64:
			b = append(b, 'l')
			list(v)
		case *model.Map:
			b = append(b, 'm')
			list(v.X)
			list(v.Y)
			list(v.Z)
		case string:
			b = append(b, 't')
			b = binary.LittleEndian.AppendUint64(b, uint64(len(v)))
			b = append(b, v...)
		}
	}
	return sha256.Sum256(b)
}

// numbersIn is how many numbers there are in what a model gave.
func numbersIn(s *model.Spec, out *model.Out) int {
	n := len(s.Results) + 8 // and what holds them
	if out == nil {
		return n
	}
	for _, r := range s.Results {
		switch v := out.Get(r.Name).(type) {
		case []float64:
			n += len(v)
		case *model.Map:
			n += len(v.X) + len(v.Y) + len(v.Z)
		}
	}
	return n
}
