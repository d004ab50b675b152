package build

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/content"
)

// Tool names the program that made a site.
type Tool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// String is the name with the version, as a title block shows it.
func (t Tool) String() string {
	if t.Version == "" {
		return t.Name
	}
	return t.Name + " " + t.Version
}

// A Release is one release, read and computed.
type Release struct {
	Name     string
	Manual   *content.Manual
	Result   *calc.Result
	Checksum string  // SHA-256 of its sources in hexadecimal digits
	Sealed   *Sealed // the figures it was sealed with; nil if it holds none

	typed func() []typedNumber // nil: they have not been looked for
}

// A computing says how a release is computed. The zero value is how it is
// published.
type computing struct {
	set    map[string]syntax.Expr // values put in place of parameters
	memo   *calc.Memo             // what models gave before; nil for nothing
	beside func(*content.Manual)  // begins what is done on another processor; nil for nothing
}

// compute reads and computes one release. It reports whatever is wrong with
// the source, with the numbers, and with the limits.
func compute(fsys fs.FS, prefix string, how computing) (*Release, diag.List) {
	m, list := content.Load(fsys, content.Options{Prefix: prefix})
	if how.beside != nil {
		how.beside(m)
	}
	in := m.Input()
	in.Set, in.Memo = how.set, how.memo
	prog, errs := calc.Compile(in)
	list = append(list, errs...)
	res, errs := prog.Run()
	list = append(list, errs...)
	list = append(list, auditLimits(res)...)
	list = append(list, auditDrawings(m, res)...)
	return &Release{Name: m.Config.Release, Manual: m, Result: res, Checksum: sourceSum(m)}, list.Sorted()
}

// sourceSum is the SHA-256 of everything that was read of a manual: names and
// contents in the order of the names. It does not depend on how the sources
// are packed.
func sourceSum(m *content.Manual) string {
	files := map[string][]byte{}
	for name, f := range m.Files {
		files[name] = f.Text
	}
	for name, p := range m.Pictures {
		files[name] = p.Data
	}
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(h, "%q %x\n", name, sha256.Sum256(files[name]))
	}
	return hex.EncodeToString(h.Sum(nil))
}
