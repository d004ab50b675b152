package build

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/unit"
)

// sealedNoise is the relative difference up to which a sealed number and one
// computed now are the same: what another processor or another order of a sum
// may leave.
const sealedNoise = 1e-9

// A Sealed is what a sealed release says of itself: the figures that it was
// published with, and by which program.
type Sealed struct {
	Tool    Tool           `json:"tool"`
	Manual  string         `json:"manual"`
	Release string         `json:"release"`
	Figures []figureRecord `json:"figures"`

	Moved []MovedFigure `json:"-"` // where this program computes something else
	text  []byte
}

// A MovedFigure is a figure of a sealed release that this program does not
// compute as it was sealed.
type MovedFigure struct {
	Name        string
	Sealed, Now string // with units
}

// readSealed reads the figures that lie in a sealed release; nil if there are none.
func readSealed(fsys fs.FS) (*Sealed, error) {
	data, err := fs.ReadFile(fsys, figuresName)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %s", figuresName, cause(err))
	}
	s := &Sealed{text: data}
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(s); err != nil {
		return nil, fmt.Errorf("%s is damaged: %v", figuresName, err)
	}
	if s.Tool.Name == "" || s.Release == "" {
		return nil, fmt.Errorf("%s does not name its release and the program that wrote it", figuresName)
	}
	return s, nil
}

// auditSealed compares the figures that lie in a release with what this
// program computes. Each that differs is a finding at its line.
func auditSealed(r *Release, fsys fs.FS, prefix string, tool Tool) diag.List {
	var list diag.List
	s, err := readSealed(fsys)
	if err != nil {
		list.Add(diag.Span{File: diag.NewFile(prefix+figuresName, nil)}, "sealed-figures", "%v", err)
		return list
	}
	if s == nil {
		return nil
	}
	r.Sealed = s
	file := diag.NewFile(prefix+figuresName, s.text)
	if s.Release != r.Name {
		list.Add(diag.Span{File: file}, "sealed-figures", "these are the figures of release %s, not of %s", s.Release, r.Name)
		return list
	}
	lines := figureLines(s.text)
	for _, old := range s.Figures {
		was, now, differ := movedSince(old, r.Result.Figure(old.Name))
		if !differ {
			continue
		}
		s.Moved = append(s.Moved, MovedFigure{old.Name, was, now})
		at := diag.Span{File: file}
		if l, ok := lines[old.Name]; ok {
			at.Start, at.End = l[0], l[1]
		}
		list.Warn(at, "sealed-figure", "release %s was sealed with %s %s by %s; %s computes %s", r.Name, old.Name, was, s.Tool, tool, now).
			Hint = "publish with the version that sealed it, or state what is right in " + errataName
	}
	return list
}

var figureLine = regexp.MustCompile(`(?m)^ *\{"name":"([^"\\]+)"`)

// figureLines finds the names of figures in the text of a figures.json.
func figureLines(text []byte) map[string][2]int {
	out := map[string][2]int{}
	for _, m := range figureLine.FindAllSubmatchIndex(text, -1) {
		name := string(text[m[2]:m[3]])
		if _, seen := out[name]; !seen { // a limit, further down, may have the name of a figure
			out[name] = [2]int{m[2], m[3]}
		}
	}
	return out
}

// movedSince compares a figure on record with one computed now, nil if there
// is none, and gives both as texts.
func movedSince(old figureRecord, f *calc.Figure) (was, now string, differ bool) {
	was = recordText(old)
	if f == nil {
		return was, "no such figure", true
	}
	rec, ok := recordOf(f)
	if !ok {
		return was, "nothing", true
	}
	now = recordText(rec)
	switch {
	case old.SIUnit != rec.SIUnit && old.SI != nil:
		return was, now, true
	case old.SI != nil:
		if !sameValue(old.SI, rec.SI) {
			return was, differentText(old, rec), true
		}
	case !sameValue(old.Value, rec.Value):
		return was, now, true
	}
	for _, x := range []struct {
		what      string
		old, now_ *float64
	}{
		{"upper tolerance", old.Plus, rec.Plus}, {"lower tolerance", old.Minus, rec.Minus},
		{"uncertainty", old.Uncertainty, rec.Uncertainty}, {"lowest value", old.Low, rec.Low}, {"highest value", old.High, rec.High},
	} {
		if (x.old == nil) != (x.now_ == nil) || x.old != nil && !sameNumber(*x.old, *x.now_) {
			return was + ", " + x.what + " " + siText(x.old, old.SIUnit), now + ", " + x.what + " " + siText(x.now_, rec.SIUnit), true
		}
	}
	return was, now, false
}

func siText(x *float64, u string) string {
	if x == nil {
		return "none"
	}
	return withUnit(strconv.FormatFloat(*x, 'g', 10, 64), u)
}

func withUnit(number, symbol string) string {
	if symbol == "" || symbol == "1" {
		return number
	}
	return number + " " + unit.Unit{Symbol: symbol}.Display()
}

// recordText is the value of a record with its unit.
func recordText(r figureRecord) string {
	if x, ok := r.Value.(float64); ok {
		return withUnit(strconv.FormatFloat(toDigits(x, 10), 'g', -1, 64), r.Unit)
	}
	if s, ok := r.Value.(string); ok {
		return strconv.Quote(s)
	}
	return strings.TrimSpace(fmt.Sprintf("%v %s", r.Value, r.Unit))
}

// differentText is the value of a record with all its digits where ten do not
// tell it from the other.
func differentText(old, now figureRecord) string {
	s := recordText(now)
	x, ok := now.Value.(float64)
	if ok && s == recordText(old) {
		s = withUnit(strconv.FormatFloat(x, 'g', -1, 64), now.Unit)
	}
	return s
}

// sameValue compares a value as JSON gives it with one computed.
func sameValue(old, now any) bool {
	switch a := old.(type) {
	case float64:
		b, ok := now.(float64)
		return ok && sameNumber(a, b)
	case []any:
		switch b := now.(type) {
		case []float64:
			if len(a) != len(b) {
				return false
			}
			for i := range a {
				if x, ok := a[i].(float64); !ok || !sameNumber(x, b[i]) {
					return false
				}
			}
			return true
		case []string:
			if len(a) != len(b) {
				return false
			}
			for i := range a {
				if x, ok := a[i].(string); !ok || x != b[i] {
					return false
				}
			}
			return true
		}
		return false
	}
	return old == now
}

func sameNumber(a, b float64) bool {
	return a == b || math.Abs(a-b) <= sealedNoise*math.Max(math.Abs(a), math.Abs(b))
}
