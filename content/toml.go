package content

import (
	"bytes"
	"errors"
	"reflect"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"workings/calc/diag"
)

// A tomlText is TOML at its place in a file: line by line, since a block in a
// list or quote is indented.
type tomlText struct {
	file  *diag.File
	text  []byte
	lines []int // where each line of text begins in the file
	rows  []int // where it begins in text; made when it is first asked for
	keys  map[string]diag.Span
	over  diag.Span // the first line too many
}

// wholeTOML is a file that is TOML from top to bottom.
func wholeTOML(f *diag.File) *tomlText {
	t := &tomlText{file: f, text: f.Text}
	for n := 1; ; n++ {
		at := f.LineStart(n)
		if n > 1 && at >= len(f.Text) {
			break
		}
		t.lines = append(t.lines, at)
	}
	return t
}

// span gives the place in the file of a stretch of the text, at most to the
// end of its first line.
func (t *tomlText) span(off, n int) diag.Span {
	off = min(max(off, 0), len(t.text))
	row := t.row(off)
	if row >= len(t.lines) {
		end := 0
		if len(t.lines) > 0 {
			end = t.lines[len(t.lines)-1]
		}
		return diag.Span{File: t.file, Start: end, End: end}
	}
	start := t.rows[row]
	if i := bytes.IndexByte(t.text[off:], '\n'); i >= 0 {
		n = min(n, i)
	} else {
		n = min(n, len(t.text)-off)
	}
	at := t.lines[row] + off - start
	return diag.Span{File: t.file, Start: at, End: at + max(n, 0)}
}

// row is the number of the line that a byte of the text lies in, from 0.
func (t *tomlText) row(off int) int {
	if t.rows == nil {
		t.rows = []int{0}
		for i, c := range t.text {
			if c == '\n' {
				t.rows = append(t.rows, i+1)
			}
		}
	}
	return sort.SearchInts(t.rows, off+1) - 1
}

// decode reads the text into v, a pointer to a struct, and reports keys that
// the struct does not have (all of them), wrong types and wrong syntax.
func (t *tomlText) decode(v any, list *diag.List) (ok bool) {
	t.places()
	if t.over.File != nil {
		list.Add(t.over, "too-many", "there may be %d keys and tables here, and this is one more", maxKeys)
		return false
	}
	dec := toml.NewDecoder(bytes.NewReader(t.text))
	dec.DisallowUnknownFields()
	err := dec.Decode(v)
	if err == nil {
		return true
	}
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		for i := range strict.Errors {
			e := &strict.Errors[i]
			key := e.Key()
			if len(key) == 0 {
				continue
			}
			d := list.Add(t.at(e, key[len(key)-1]), "unknown-key", "there is no key %s here", strings.Join(key, "."))
			known := keysAt(reflect.TypeOf(v), key[:len(key)-1])
			if d.Hint = didYouMean(key[len(key)-1], known); d.Hint == "" && len(known) > 0 {
				d.Hint = "the keys are " + strings.Join(known, ", ")
			}
		}
		return true
	}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		word := ""
		if k := de.Key(); len(k) > 0 {
			word = k[len(k)-1]
		}
		d := list.Add(t.at(de, word), "toml", "%s", tomlMessage(de))
		if k := de.Key(); len(k) > 0 {
			d.Hint = "the key is " + strings.Join(k, ".")
		}
		return false
	}
	list.Add(t.span(0, 0), "toml", "%s", strings.TrimPrefix(err.Error(), "toml: "))
	return false
}

var tomlType = regexp.MustCompile(`^cannot decode TOML (.+) into .* of type (\S+)$`)

// tomlMessage says a wrong type in words of TOML, not of Go.
func tomlMessage(e *toml.DecodeError) string {
	msg := strings.TrimPrefix(e.Error(), "toml: ")
	m := tomlType.FindStringSubmatch(msg)
	if m == nil {
		return msg
	}
	want := map[string]string{"string": "a text in quotes", "int": "a whole number", "bool": "true or false",
		"toml.LocalDate": "a date such as 2026-11-25", "[]string": "a list of texts"}[m[2]]
	if want == "" {
		want = "a table"
	}
	got := m[1]
	if got == "string" {
		got = "text"
	}
	return "got a value of the kind " + got + ", want " + want
}

// at is the place of an error, over the word if it stands there.
func (t *tomlText) at(e *toml.DecodeError, word string) diag.Span {
	row, col := e.Position()
	t.row(0)
	off := t.rows[min(max(row, 1), len(t.rows))-1] + col - 1
	n := 1
	if off >= 0 && off < len(t.text) && word != "" && bytes.HasPrefix(t.text[off:], []byte(word)) {
		n = len(word)
	}
	return t.span(off, n)
}

// keysAt lists the keys of the struct that lies under a path of keys.
func keysAt(typ reflect.Type, under []string) []string {
	deref := func(t reflect.Type) reflect.Type {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		return t
	}
	typ = deref(typ)
	for _, k := range under {
		if typ.Kind() != reflect.Struct {
			return nil
		}
		found := false
		for i := 0; i < typ.NumField(); i++ {
			if typ.Field(i).Tag.Get("toml") == k {
				typ, found = deref(typ.Field(i).Type), true
				break
			}
		}
		if !found {
			return nil
		}
	}
	if typ.Kind() != reflect.Struct {
		return nil
	}
	var keys []string
	for i := 0; i < typ.NumField(); i++ {
		if k := typ.Field(i).Tag.Get("toml"); k != "" {
			keys = append(keys, k)
		}
	}
	return keys
}

// places notes where each value stands: "pages.2" is the third entry of the
// list pages, "releases.0.zip" the key zip of the first [[releases]].
func (t *tomlText) places() {
	t.keys = map[string]diag.Span{}
	var p unstable.Parser
	p.Reset(t.text)
	table := ""
	count := map[string]int{}
	for n := 1; p.NextExpression(); n++ {
		e := p.Expression()
		var path []string
		var first, last diag.Span
		it := e.Key()
		for it.Next() {
			n := it.Node()
			path = append(path, string(n.Data))
			s := t.span(int(n.Raw.Offset), int(n.Raw.Length))
			if first.File == nil {
				first = s
			}
			last = s
		}
		if n > maxKeys {
			t.over = first
			return
		}
		name := strings.Join(path, ".")
		switch e.Kind {
		case unstable.Table:
			table = name
			t.keys[name] = first.Join(last)
		case unstable.ArrayTable:
			table = name + "." + strconv.Itoa(count[name])
			count[name]++
			t.keys[table] = first.Join(last)
		case unstable.KeyValue:
			if table != "" {
				name = table + "." + name
			}
			t.value(&p, name, first.Join(last), e.Value())
		}
	}
}

func (t *tomlText) value(p *unstable.Parser, name string, key diag.Span, v *unstable.Node) {
	at := key
	if v.Raw.Length > 0 {
		at = t.span(int(v.Raw.Offset), int(v.Raw.Length))
	}
	t.keys[name] = at
	switch v.Kind {
	case unstable.Array:
		it := v.Children()
		for i := 0; it.Next(); i++ {
			t.value(p, name+"."+strconv.Itoa(i), key, it.Node())
		}
	case unstable.InlineTable:
		it := v.Children()
		for it.Next() {
			kv := it.Node()
			var path []string
			var sub diag.Span
			k := kv.Key()
			for k.Next() {
				path = append(path, string(k.Node().Data))
				sub = t.span(int(k.Node().Raw.Offset), int(k.Node().Raw.Length))
			}
			t.value(p, name+"."+strings.Join(path, "."), sub, kv.Value())
		}
	}
}

// noFigures reports figures, which TOML has no place for: they would be shown
// as they are written.
func (t *tomlText) noFigures(list *diag.List) {
	for _, k := range sortedKeys(t.keys) {
		s := t.keys[k]
		if i := strings.Index(s.Text(), "{="); i >= 0 {
			at := diag.Span{File: s.File, Start: s.Start + i, End: s.Start + i + 2}
			list.Add(at, "figure-place", "a figure cannot stand here").Hint = "this text is shown as it is written"
		}
	}
}

// place gives the place of a key, or the start of the text if it is not there.
func (t *tomlText) place(key string) diag.Span {
	if s, ok := t.keys[key]; ok {
		return s
	}
	return t.span(0, 0)
}
