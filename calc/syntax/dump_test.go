package syntax

import (
	"fmt"
	"strings"
)

// dump writes a tree without its places, to compare and to read.
func dump(x any) string {
	switch x := x.(type) {
	case nil:
		return "nil"
	case *Sheet:
		var s []string
		for _, st := range x.Stmts {
			s = append(s, dump(st))
		}
		return strings.Join(s, "\n")
	case *Def:
		s := "def " + x.Name.Name + " " + dump(x.X) + dumpSpread(x.Spread) + dumpText("from", x.From) + dumpText("because", x.Because)
		return s + dumpCaption(x.Caption)
	case *FuncDef:
		var ps []string
		for _, p := range x.Params {
			ps = append(ps, p.Name)
		}
		return "func " + x.Name.Name + "(" + strings.Join(ps, " ") + ") " + dump(x.X) + dumpText("from", x.From) + dumpCaption(x.Caption)
	case *Limit:
		s := "limit " + x.Name.Name + " " + dump(x.Cond)
		if x.Signal != nil {
			s += " else " + x.Signal.Name + " " + dump(x.Message)
		}
		return s + dumpText("from", x.From) + dumpText("accepted", x.Accepted) + dumpCaption(x.Caption)
	case *CrossCheck:
		return "crosscheck " + dump(x.Target) + " " + dump(x.X) + " within " + dump(x.Within) + dumpText("from", x.From) + dumpCaption(x.Caption)
	case *Remark:
		return fmt.Sprintf("remark %q", x.Text)
	case *Message:
		var s []string
		for _, p := range x.Parts {
			if p.Inline != nil {
				s = append(s, dump(p.Inline))
			} else {
				s = append(s, fmt.Sprintf("%q", p.Text))
			}
		}
		return "<" + strings.Join(s, " ") + ">"
	case *Inline:
		s := "{" + dump(x.X) + dumpRound(x.Round)
		if x.Spread {
			s += " spread"
		}
		return s + "}"
	case *Quantity:
		return dump(x.X) + dumpSpread(x.Spread) + dumpRound(x.Round)
	case *Number:
		s := x.Text
		if x.Unit.Symbol != "" {
			s += "_" + x.Unit.Symbol
		}
		return s
	case *String:
		return fmt.Sprintf("%q", x.Value)
	case *Bool:
		return fmt.Sprint(x.Value)
	case *Name:
		return x.Name
	case *Field:
		return dump(x.X) + "." + x.Name.Name
	case *Unary:
		return "(" + strings.TrimSpace(x.Op.String()) + "u " + dump(x.X) + ")"
	case *Binary:
		return "(" + x.Op.String() + " " + dump(x.X) + " " + dump(x.Y) + ")"
	case *Convert:
		return "(in " + dump(x.X) + " " + x.Unit.Symbol + ")"
	case *If:
		return "(if " + dump(x.Cond) + " " + dump(x.Then) + " " + dump(x.Else) + ")"
	case *Call:
		s := "(call " + dump(x.Fun)
		for _, a := range x.Args {
			s += " "
			if a.Name != nil {
				s += a.Name.Name + ":"
			}
			s += dump(a.X)
		}
		return s + ")"
	case *Table:
		return fmt.Sprintf("(table %q)", x.Path.Value)
	case *ListExpr:
		var s []string
		for _, y := range x.Items {
			s = append(s, dump(y))
		}
		return "[" + strings.Join(s, " ") + "]"
	case *Paren:
		return "<" + dump(x.X) + ">"
	}
	panic(fmt.Sprintf("no dump of %T", x))
}

func dumpCaption(s string) string {
	if s == "" {
		return ""
	}
	return " # " + s
}

func dumpText(word string, t *Text) string {
	if t == nil {
		return ""
	}
	return fmt.Sprintf(" %s %q", word, t.Value)
}

func dumpSpread(s Spread) string {
	out := ""
	if t := s.Tol; t != nil {
		if t.Symmetric {
			out += " ±" + dump(t.Plus)
		} else {
			out += " +" + dump(t.Plus) + " -" + dump(t.Minus)
		}
	}
	if u := s.Unc; u != nil {
		out += " uncertain " + dump(u.X)
		if u.K != nil {
			out += " k " + dump(u.K)
		}
		if u.DOF != nil {
			out += " dof " + dump(u.DOF)
		}
		if u.Shape != nil {
			out += " " + u.Shape.Name
		}
	}
	if r := s.Range; r != nil {
		out += " to " + dump(r.High)
		if r.Nominal != nil {
			out += " nominal " + dump(r.Nominal)
		}
	}
	return out
}

func dumpRound(r Round) string {
	dir := [...]string{"", " up", " down"}[r.Dir]
	if r.Nominal {
		dir += " nominal"
	}
	switch r.Kind {
	case RoundSig:
		return fmt.Sprintf(" %dsf%s", r.N, dir)
	case RoundPlaces:
		return fmt.Sprintf(" %ddp%s", r.N, dir)
	case RoundStep:
		return " step " + dump(r.Step) + dir
	}
	return dir
}
