package syntax

// joinLines decides which newlines end a statement, and turns the others into
// tSoft. A newline ends a statement unless
//
//   - it stands within brackets,
//   - the line before it cannot end there: its last token is an operator, `=`,
//     `:` or a word that wants something behind it,
//   - or the line after it cannot begin a statement: its first token is an
//     operator, a text, or a word such as `else` or `from`.
//
// A line that looks like a statement of its own always is one, so that a
// forgotten bracket costs one line and not the rest of the sheet.
func joinLines(toks []token, text string) {
	depth := 0
	last := token{kind: tNewline} // the last token that is neither newline nor comment
	for i := 0; i < len(toks); i++ {
		switch k := toks[i].kind; k {
		case tComment:
			continue
		case tLParen, tLBracket:
			depth++
		case tRParen, tRBracket:
			depth = max(depth-1, 0)
		case tNewline:
			j := i + 1
			for toks[j].kind == tNewline {
				j++
			}
			soft := last.kind != tNewline && (depth > 0 || wantsMore(last.kind) || continues(toks, j, text)) &&
				!startsStatement(toks, j, depth)
			if !soft {
				depth = 0
				last = toks[i]
				i = j - 1
				continue
			}
			for ; i < j; i++ {
				toks[i].kind = tSoft
			}
			i--
			continue
		}
		last = toks[i]
	}
}

// wantsMore reports whether no statement can end with a token.
func wantsMore(k kind) bool {
	switch k {
	case tAssign, tColon, tIf, tThen, tElse, tNot, tTo, tUncertain, tWithin, tFrom, tBecause, tAccepted:
		return true
	}
	return k.isBinary()
}

// continues reports whether the line that starts with token j belongs to the
// line before it.
func continues(toks []token, j int, text string) bool {
	switch t := toks[j]; t.kind {
	case tElse, tThen, tAccepted, tFrom, tBecause, tUncertain, tWithin, tTo, tString:
		return true
	case tName:
		return text[t.start:t.end] == "nominal"
	default:
		return t.kind.isBinary()
	}
}

// startsStatement reports whether the line that starts with token j looks like
// a statement: `name =`, `name(a, b) =`, `limit name`, `crosscheck name`.
func startsStatement(toks []token, j, depth int) bool {
	t := toks[j].kind
	switch {
	case t == tEOF:
		return depth == 0
	case (t == tLimit || t == tCrosscheck) && (toks[j+1].kind == tName || toks[j+1].kind.isWord()):
		return true
	case t != tName && !t.isWord():
		return false
	}
	k := j + 1
	if t.isWord() { // a word used as a name is a mistake in a statement
		return toks[k].kind == tAssign
	}
	// Names up to `=`; a name with spaces in it is a mistake in a statement.
	for toks[k].kind == tName {
		k++
	}
	if toks[k].kind == tLParen {
		for k++; toks[k].kind == tName || toks[k].kind == tComma; k++ {
		}
		if toks[k].kind != tRParen {
			return false
		}
		k++
	}
	if toks[k].kind != tAssign {
		return false
	}
	return depth == 0 || !insideArgs(toks, k)
}

// insideArgs reports whether the rest of a line from token k on ends as a line
// of arguments does: with a comma, or by closing a bracket that was opened
// before it. `length = 5 mm,` is then an argument with the wrong sign.
func insideArgs(toks []token, k int) bool {
	depth := 0
	last := kind(tAssign)
	for ; toks[k].kind != tNewline && toks[k].kind != tEOF; k++ {
		switch toks[k].kind {
		case tLParen, tLBracket:
			depth++
		case tRParen, tRBracket:
			depth--
		case tComment:
			continue
		}
		if depth < 0 {
			return true
		}
		last = toks[k].kind
	}
	return last == tComma
}

// softenAll joins all lines: an expression within running text ends where its
// text ends.
func softenAll(toks []token) {
	for i := range toks {
		if toks[i].kind == tNewline {
			toks[i].kind = tSoft
		}
	}
}
