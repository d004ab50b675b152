package build

import (
	"bytes"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// manual.toml belongs to the designer: sealing changes one value of it and
// adds lines at its end, and leaves every other byte as it is. Whether that
// gave what was meant is checked by reading it again.

// withRelease returns the text of a manual.toml with another name of the release.
func withRelease(text []byte, name string) ([]byte, error) {
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind == unstable.Table || e.Kind == unstable.ArrayTable {
			break // what follows belongs to a table
		}
		if e.Kind != unstable.KeyValue {
			continue
		}
		it := e.Key()
		if !it.Next() || string(it.Node().Data) != "release" || !it.IsLast() {
			continue
		}
		raw := e.Value().Raw
		start, end := int(raw.Offset), int(raw.Offset+raw.Length)
		if start <= 0 || end > len(text) || end <= start {
			break
		}
		out := append([]byte(nil), text[:start]...)
		out = append(out, strconv.Quote(name)...)
		out = append(out, text[end:]...)
		return out, confirm(text, out, func(m map[string]any) { m["release"] = name })
	}
	return nil, fmt.Errorf("the name of the release was not found")
}

// releaseEntry is the entry of a sealed release.
type releaseEntry struct{ name, zip, sha256 string }

func (r releaseEntry) lines() []string {
	return []string{"[[releases]]", "name = " + strconv.Quote(r.name), "zip = " + strconv.Quote(r.zip), "sha256 = " + strconv.Quote(r.sha256)}
}

// withEntry returns the text of a manual.toml with one more earlier release.
func withEntry(text []byte, r releaseEntry) ([]byte, error) {
	end := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		end = "\r\n"
	}
	out := append([]byte(nil), text...)
	if len(out) > 0 && out[len(out)-1] != '\n' {
		out = append(out, end...)
	}
	out = append(out, end+strings.Join(r.lines(), end)+end...)
	return out, confirm(text, out, func(m map[string]any) {
		list, _ := m["releases"].([]any)
		m["releases"] = append(list, map[string]any{"name": r.name, "zip": r.zip, "sha256": r.sha256})
	})
}

// confirm reports whether the new text says what the old one did, changed in
// the way given and in no other.
func confirm(old, new []byte, change func(map[string]any)) error {
	var want, got map[string]any
	if err := toml.Unmarshal(old, &want); err != nil {
		return err
	}
	if err := toml.Unmarshal(new, &got); err != nil {
		return err
	}
	change(want)
	if !reflect.DeepEqual(want, got) {
		return fmt.Errorf("the change would say something else")
	}
	return nil
}
