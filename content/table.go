package content

import "workings/calc/diag"

// Table returns the text of a table of the manual.
func (m *Manual) Table(name string) (*diag.File, error) { return nil, nil }
