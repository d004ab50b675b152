package syntax

// Walk calls f for x and then, if f returned true, for each expression within
// it, in the order of the text. A nil expression is passed over.
func Walk(x Expr, f func(Expr) bool) {
	if x == nil || !f(x) {
		return
	}
	switch x := x.(type) {
	case *Field:
		Walk(x.X, f)
	case *Unary:
		Walk(x.X, f)
	case *Binary:
		Walk(x.X, f)
		Walk(x.Y, f)
	case *Convert:
		Walk(x.X, f)
	case *If:
		Walk(x.Cond, f)
		Walk(x.Then, f)
		Walk(x.Else, f)
	case *Call:
		Walk(x.Fun, f)
		for _, a := range x.Args {
			Walk(a.X, f)
		}
	case *ListExpr:
		for _, y := range x.Items {
			Walk(y, f)
		}
	case *Paren:
		Walk(x.X, f)
	}
}
