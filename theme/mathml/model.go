package mathml

import (
	"fmt"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// ModelLine writes a line of a model's formula, "symbol = expression # caption",
// as MathML, and gives its caption.
func ModelLine(line string, o Options) (math, caption string, err error) {
	name, x, caption, err := modelLine(line)
	if err != nil {
		return "", "", err
	}
	o.Name = name
	return Formula(x, o), caption, nil
}

func modelLine(line string) (name string, x syntax.Expr, caption string, err error) {
	sheet, list := syntax.Parse(diag.NewFile("formula", []byte(line)), nil)
	if err := list.Err(); err != nil {
		return "", nil, "", err
	}
	for _, s := range sheet.Stmts {
		if d, ok := s.(*syntax.Def); ok && len(sheet.Stmts) == 1 {
			return d.Name.Name, d.X, d.Caption, nil
		}
	}
	return "", nil, "", fmt.Errorf("not a line of the form symbol = expression: %q", line)
}
