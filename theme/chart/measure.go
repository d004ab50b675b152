package chart

// TextWidth measures a line of the lettering of plots and drawings, in px of
// the view box. It errs on the wide side.
func TextWidth(s string) float64 { return width(s) }

// Wrap breaks a text into lines no wider than max px, as far as its spaces allow.
func Wrap(s string, max float64) []string { return wrap(s, max) }
