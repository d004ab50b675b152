package content

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
)

// A Drawing is a `drawing` block: a scale drawing whose places and sizes are
// expressions of the sheet language, so that it changes with the design.
//
//	```drawing bed-plate
//	title "Base plate"
//	plate: rectangle from (0 mm, 0 mm) size (base_x, base_y) corner 5 mm
//	circle at (20 mm, 20 mm) diameter hole repeat 2 every (base_x - 40 mm, 0 mm) inside plate : hole "feet"
//	centre line from (base_x / 2, 0 mm) to (base_x / 2, base_y)
//	dimension from (0 mm, 0 mm) to (base_x, 0 mm) below : base_x
//	```
//
// x goes to the right and y upward. A line is a shape with its clauses, in any
// order, or title, caption or scale. The shapes:
//
//	rectangle from (x, y) size (w, h)   or at (x, y), its middle; corner r, angle a
//	circle    at (x, y) diameter d
//	line      from (x, y) to (x, y)
//	path      (x, y), (x, y), …         open
//	polygon   (x, y), (x, y), …         closed
//	arc       at (x, y) radius r from a to a, counter-clockwise from the right
//	slot      from (x, y) to (x, y) width w, round at both ends
//	belt      round (x, y, r), (x, y, r), …: pulleys of pitch radius r, all on its inside
//	dimension from (x, y) to (x, y) above, below, left, right or offset d: its figure
//	label     at (x, y) "text"
//	note      at (x, y) "text", with a leader
//
// A place or a size may be a list, such as a column of a table: then the shape
// is drawn once for each value. Clauses of every shape but the last three:
//
//	repeat n every (dx, dy)    n times, each moved by dx and dy; twice for a grid
//	repeat n around (x, y)     n times, evenly round a point
//	inside name                an error if it leaves the outline of that name
//	: figure                   the figure stands at the shape with a leader: the
//	                           diameter of a circle, the radius of an arc or of a
//	                           rectangle's corners, the width of a slot, the
//	                           length of a line or belt
//	"text"                     what it is
//
// Before the shape may stand a name with a colon, and a kind of line: hidden,
// centre, thin, phantom (another part, or another position), or cut, which
// hatches what the shape encloses. A dimension or figure that is not what is
// drawn is an error: no drawing shows a number that it does not have.
//
// A word of a clause is also a name of the sheet language: where an expression
// uses it behind another sign, it needs brackets: radius (2 * width).
type Drawing struct {
	ID, Title, Caption       string
	TitleParts, CaptionParts []FilledPart // nil if they hold no figure
	Lines                    []*DrawLine
	Page                     *Page
	Pos                      diag.Span
}

// A DrawLine is one shape of a drawing, or several of a kind.
type DrawLine struct {
	Word    string           // circle, dimension, …
	Kind    string           // "" = visible outline; hidden, centre, thin, phantom or cut
	Name    string           // of the outline, or ""
	Inside  string           // name of the outline that it must not leave, or ""
	Side    string           // of a dimension: above, below, left, right; "" = along the line
	Points  [][]int          // of path, polygon and belt: expressions of each point
	Clauses map[string][]int // expressions of the clauses by their words
	Repeats []DrawRepeat
	Value   int // expression of the figure shown; -1 without one
	Label   string
	Parts   []FilledPart // the label with its figures; nil if it holds none
	Pos     diag.Span
	inside  diag.Span
}

// A DrawRepeat says that a shape comes Count times.
type DrawRepeat struct {
	Count  int // expression
	Step   []int
	Around bool // Step is the point that the shapes stand round
}

// A DrawingNode is a drawing block.
type DrawingNode struct {
	ast.BaseBlock
	Drawing *Drawing
}

// KindDrawing is the kind of DrawingNode.
var KindDrawing = ast.NewNodeKind("Drawing")

func (n *DrawingNode) Kind() ast.NodeKind         { return KindDrawing }
func (n *DrawingNode) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }

// A clauseForm is what stands behind the word of a clause.
type clauseForm int

const (
	clausePair  clauseForm = iota // (x, y)
	clauseLen                     // a length
	clauseAngle                   // an angle
	clauseFlag                    // nothing
)

// A drawForm is a shape: its clauses, and of each group one that it needs.
type drawForm struct {
	word    string
	clauses map[string]clauseForm
	need    [][]string
	points  int    // numbers of each point that follows, 0 for none
	before  string // word before the points
	least   int    // points
	example string
}

var drawForms = []drawForm{
	{word: "rectangle", clauses: map[string]clauseForm{"from": clausePair, "at": clausePair, "size": clausePair, "corner": clauseLen, "angle": clauseAngle},
		need: [][]string{{"from", "at"}, {"size"}}, example: "rectangle from (0 mm, 0 mm) size (80 mm, 50 mm)"},
	{word: "circle", clauses: map[string]clauseForm{"at": clausePair, "diameter": clauseLen},
		need: [][]string{{"at"}, {"diameter"}}, example: "circle at (20 mm, 30 mm) diameter 6 mm"},
	{word: "line", clauses: map[string]clauseForm{"from": clausePair, "to": clausePair},
		need: [][]string{{"from"}, {"to"}}, example: "line from (0 mm, 0 mm) to (80 mm, 0 mm)"},
	{word: "path", points: 2, least: 2, example: "path (0 mm, 0 mm), (80 mm, 0 mm), (80 mm, 50 mm)"},
	{word: "polygon", points: 2, least: 3, example: "polygon (0 mm, 0 mm), (80 mm, 0 mm), (80 mm, 50 mm)"},
	{word: "arc", clauses: map[string]clauseForm{"at": clausePair, "radius": clauseLen, "from": clauseAngle, "to": clauseAngle},
		need: [][]string{{"at"}, {"radius"}, {"from"}, {"to"}}, example: "arc at (0 mm, 0 mm) radius 20 mm from 0° to 90°"},
	{word: "slot", clauses: map[string]clauseForm{"from": clausePair, "to": clausePair, "width": clauseLen},
		need: [][]string{{"from"}, {"to"}, {"width"}}, example: "slot from (0 mm, 0 mm) to (20 mm, 0 mm) width 5 mm"},
	{word: "belt", points: 3, before: "round", least: 2, example: "belt round (0 mm, 0 mm, 9 mm), (300 mm, 0 mm, 9 mm)"},
	{word: "dimension", clauses: map[string]clauseForm{"from": clausePair, "to": clausePair, "offset": clauseLen,
		"above": clauseFlag, "below": clauseFlag, "left": clauseFlag, "right": clauseFlag},
		need: [][]string{{"from"}, {"to"}, {"above", "below", "left", "right", "offset"}}, example: "dimension from (0 mm, 0 mm) to (bed_x, 0 mm) below : bed_x"},
	{word: "label", clauses: map[string]clauseForm{"at": clausePair}, need: [][]string{{"at"}}, example: `label at (20 mm, 30 mm) "front"`},
	{word: "note", clauses: map[string]clauseForm{"at": clausePair}, need: [][]string{{"at"}}, example: `note at (20 mm, 30 mm) "ground edge"`},
}

var (
	drawKinds = []string{"hidden", "centre", "thin", "phantom", "cut"}
	drawSides = []string{"above", "below", "left", "right"}
)

func drawFormOf(word string) *drawForm {
	for i := range drawForms {
		if drawForms[i].word == word {
			return &drawForms[i]
		}
	}
	return nil
}

func drawWords() []string {
	words := []string{"title", "caption"}
	for _, f := range drawForms {
		words = append(words, f.word)
	}
	return append(words, drawKinds...)
}

// readDrawing reads a drawing block.
func (d *draft) readDrawing(f *ast.FencedCodeBlock, words []infoPart) ast.Node {
	p := &Drawing{Page: d.page, Pos: d.fenceSpan(f)}
	p.ID = d.blockID("drawing", words)
	first := map[string]diag.Span{}
	entries, whole := d.entries(f.Lines())
	for _, c := range entries {
		name, start := "", c.pos
		word, at := c.word()
		if c.space(); c.peek() == ':' && word != "" {
			name = word
			if old, ok := first[word+":"]; ok {
				d.list.Add(at, "drawing", "two outlines are named %s", word).Also = []diag.Note{{Span: old, Msg: "the first is here"}}
			}
			first[word+":"] = at
			c.pos++
			c.space()
			start = c.pos
			word, at = c.word()
		}
		switch word {
		case "title", "caption":
			if old, ok := first[word]; ok {
				d.list.Add(at, "drawing", "a drawing has one %s, this is a second", word).Also = []diag.Note{{Span: old, Msg: "the first is here"}}
				continue
			}
			first[word] = at
			if word == "title" {
				p.Title, p.TitleParts = c.filled(word)
			} else {
				p.Caption, p.CaptionParts = c.filled(word)
			}
			continue
		}
		c.pos = start
		if l := d.readDrawLine(c); l != nil {
			l.Name = name
			p.Lines = append(p.Lines, l)
		} else {
			whole = false
		}
	}
	for _, l := range p.Lines {
		if _, ok := first[l.Inside+":"]; l.Inside != "" && !ok && whole {
			var names []string
			for _, k := range sortedKeys(first) {
				if name, ok := strings.CutSuffix(k, ":"); ok {
					names = append(names, name)
				}
			}
			e := d.list.Add(l.inside, "drawing", "this drawing names no outline %s", l.Inside)
			if e.Hint = didYouMean(l.Inside, names); e.Hint == "" {
				e.Hint = "write " + l.Inside + ": before the shape that is the outline"
			}
		}
	}
	if len(p.Lines) == 0 && whole {
		d.list.Add(p.Pos, "drawing", "there is nothing to draw").Hint = "write " + drawForms[0].example
	}
	d.page.Drawings = append(d.page.Drawings, p)
	return &DrawingNode{Drawing: p}
}

// blockID reads the id behind the word that opens a block.
func (d *draft) blockID(what string, words []infoPart) string {
	if len(words) < 2 {
		return ""
	}
	if len(words) > 2 {
		d.list.Add(words[2].at, "block-head", "a %s block takes an id and no further words", what)
	}
	id := words[1].text
	if words[1].quoted {
		d.list.Add(words[1].at, "block-head", "the id of a %s has no quotes", what).Hint = `a title is written in the block: title "…"`
		return ""
	}
	if w, _ := d.cursor(words[1].at.Start, words[1].at.End).word(); w != id {
		d.list.Add(words[1].at, "block-head", "%q cannot be the id of a %s", id, what).
			Hint = "it begins with a letter and holds letters, digits, _ and -"
	}
	return id
}

// readDrawLine reads a shape with its clauses; nil if it cannot be understood.
func (d *draft) readDrawLine(c *cursor) *DrawLine {
	l := &DrawLine{Clauses: map[string][]int{}, Value: -1, Pos: c.rest()}
	word, at := c.word()
	if contains(drawKinds, word) {
		l.Kind = word
		word, at = c.word()
	}
	form := drawFormOf(word)
	if form == nil {
		if word == "" {
			at = c.here()
		}
		e := d.list.Add(at, "drawing", "got %s, want a shape such as rectangle or circle", firstWord(c.d.span(at.Start, c.end).Text()))
		if e.Hint = didYouMean(word, drawWords()); e.Hint == "" {
			e.Hint = "the shapes are rectangle, circle, line, path, polygon, arc, slot, belt, dimension, label, note"
		}
		return nil
	}
	l.Word = word
	if l.Kind == "cut" && !contains([]string{"rectangle", "circle", "polygon", "slot"}, word) {
		d.list.Add(l.Pos, "drawing", "a %s encloses nothing that could be hatched", word)
	}
	wrong := len(d.list)
	l.Label, l.Parts = c.filledLabel()
	if (word == "label" || word == "note") && l.Label == "" {
		d.list.Add(l.Pos, "drawing", "the text of the %s is missing", word).Hint = "write " + form.example
		return nil
	}
	c.drawValue(l)
	if form.points > 0 {
		c.drawPoints(l, form)
	}
	if len(d.list) > wrong && form.points > 0 {
		return nil
	}
	c.drawClauses(l, form)
	if len(d.list) > wrong {
		return nil
	}
	for _, group := range form.need {
		n := 0
		for _, w := range group {
			if _, ok := l.Clauses[w]; ok {
				n++
			}
		}
		switch {
		case n == 0:
			d.list.Add(l.Pos, "drawing", "this %s lacks %s", word, strings.Join(group, " or ")).Hint = "write " + form.example
		case n > 1:
			d.list.Add(l.Pos, "drawing", "this %s has more than one of %s", word, strings.Join(group, ", "))
		}
	}
	if word == "dimension" && l.Value < 0 {
		d.list.Add(l.Pos, "drawing", "the figure of this dimension is missing").Hint = "write " + form.example
	}
	if l.Value >= 0 && word == "rectangle" && l.Clauses["corner"] == nil {
		d.list.Add(l.Pos, "drawing", "the figure of a rectangle is the radius of its corners, and it has none").
			Hint = "its sides are shown by dimensions"
	}
	if len(d.list) > wrong {
		return nil
	}
	return l
}

// filledLabel takes a quoted text with its figures off the end of the line.
func (c *cursor) filledLabel() (string, []FilledPart) {
	src := c.src()
	if c.done() || src[c.end-1] != '"' {
		return "", nil
	}
	last := -1
	c.scan(func(at int, r rune) bool {
		if r == '"' {
			last = at
		}
		return true
	}, false)
	if last <= c.pos {
		return "", nil
	}
	q := c.d.cursor(last, c.end).quoted()
	c.end = last
	c.trim()
	if q == nil {
		return "", nil
	}
	parts := c.d.fill(q.Pos.Start+1, q.Pos.End-1)
	if !hasFigure(parts) {
		return q.Value, nil
	}
	return q.Value, parts
}

func (c *cursor) trim() {
	for c.end > c.pos && (c.src()[c.end-1] == ' ' || c.src()[c.end-1] == '\t') {
		c.end--
	}
}

// drawValue takes the figure behind a colon off the end of the line.
func (c *cursor) drawValue(l *DrawLine) {
	colon := -1
	c.scan(func(at int, r rune) bool {
		if r == ':' {
			colon = at
			return false
		}
		return true
	}, false)
	if colon < 0 {
		return
	}
	at := c.d.span(colon+1, c.end)
	if strings.TrimSpace(at.Text()) == "" {
		c.d.list.Add(c.d.span(colon, colon+1), "missing-expression", "the figure behind the colon is missing")
	} else if contains([]string{"path", "polygon", "label", "note"}, l.Word) {
		c.d.list.Add(at, "drawing", "a %s has no figure of its own", l.Word).Hint = `write it into its text: "{= figure}"`
	} else if in := c.d.inline(at.Start, at.End, false); in != nil {
		l.Value = c.d.expr(in.X, exprForm{round: in.Round, spread: in.Spread, want: calc.WantLength})
	}
	c.end = colon
	c.trim()
}

// drawPoints reads the points of a path, polygon or belt.
func (c *cursor) drawPoints(l *DrawLine, form *drawForm) {
	if form.before != "" {
		if w, at := c.word(); w != form.before {
			if w == "" {
				at = c.here()
			}
			c.d.list.Add(at, "drawing", "got %s, want %s and the pulleys", firstWord(at.Text()), form.before).Hint = "write " + form.example
			return
		}
	}
	for {
		c.space()
		if c.peek() != '(' {
			break
		}
		p := c.tuple(form.points)
		if p == nil {
			return
		}
		l.Points = append(l.Points, p)
		if c.space(); c.peek() != ',' {
			break
		}
		c.pos++
	}
	if len(l.Points) < form.least {
		c.d.list.Add(l.Pos, "drawing", "a %s has %d points or more, here are %d", l.Word, form.least, len(l.Points)).Hint = "write " + form.example
	}
}

// tuple reads n lengths in brackets, parted by commas; nil if they cannot be read.
func (c *cursor) tuple(n int) []int {
	c.space()
	form := "(x, y)"
	if n == 3 {
		form = "(x, y, radius)"
	}
	if c.peek() != '(' {
		c.d.list.Add(c.here(), "drawing", "got %s, want %s", firstWord(c.rest().Text()), form)
		return nil
	}
	open := c.pos
	end, depth := -1, 0
	var commas []int
	c.scan(func(at int, r rune) bool {
		switch r {
		case '(', '[', '{':
			depth++
		case ')', ']', '}':
			if depth--; depth == 0 {
				end = at
				return false
			}
		case ',':
			if depth == 1 {
				commas = append(commas, at)
			}
		}
		return true
	}, true)
	if end < 0 {
		c.d.list.Add(c.d.span(open, open+1), "drawing", "this bracket is not closed").Hint = "want " + form
		return nil
	}
	if len(commas) != n-1 {
		c.d.list.Add(c.d.span(open, end+1), "drawing", "want %s here, got %s", form, values(len(commas)+1))
		return nil
	}
	var out []int
	c.pos = open + 1
	for _, stop := range append(commas, end) {
		x, _ := c.expr(stop, calc.WantLengths, "a length")
		if x < 0 {
			return nil
		}
		out = append(out, x)
		c.pos = stop + 1
	}
	return out
}

func values(n int) string {
	if n == 1 {
		return "1 value"
	}
	return strconv.Itoa(n) + " values"
}

// drawClauses reads what stands behind the shape.
func (c *cursor) drawClauses(l *DrawLine, form *drawForm) {
	words := sortedKeys(form.clauses)
	many := !contains([]string{"dimension", "label", "note"}, l.Word)
	if many {
		words = append(words, "repeat", "every", "around", "inside")
	}
	for {
		c.space()
		if c.done() {
			return
		}
		w, at := c.word()
		if w == "" {
			at = c.here()
		}
		_, double := l.Clauses[w]
		double = double || contains(drawSides, w) && l.Side == w || w == "inside" && l.Inside != ""
		switch {
		case !contains(words, w):
			e := c.d.list.Add(at, "drawing", "got %s, want one of %s", firstWord(c.d.span(at.Start, c.end).Text()), strings.Join(words, ", "))
			if e.Hint = didYouMean(w, words); e.Hint == "" {
				e.Hint = "write " + form.example
			}
			return
		case double:
			c.d.list.Add(at, "drawing", "%s is said twice", w)
			return
		}
		end := c.clauseEnd(words)
		switch w {
		case "repeat":
			n, _ := c.expr(end, calc.WantTimes, "how often it is repeated")
			l.Repeats = append(l.Repeats, DrawRepeat{Count: n})
			c.space()
			if next := c.d.cursor(c.pos, c.end); n >= 0 {
				if w, _ := next.word(); w != "every" && w != "around" {
					c.d.list.Add(c.here(), "drawing", "it is not said how it is repeated").Hint = "write repeat 4 every (40 mm, 0 mm), or repeat 6 around (0 mm, 0 mm)"
					return
				}
			}
		case "every", "around":
			if n := len(l.Repeats); n == 0 || l.Repeats[n-1].Step != nil {
				c.d.list.Add(at, "drawing", "%s stands behind repeat and a number", w).Hint = "write repeat 4 every (40 mm, 0 mm)"
				return
			}
			r := &l.Repeats[len(l.Repeats)-1]
			if r.Step = c.tuple(2); r.Step == nil {
				return
			}
			r.Around = w == "around"
		case "inside":
			l.Inside, l.inside = c.word()
			if l.Inside == "" {
				c.d.list.Add(c.here(), "drawing", "the name of the outline is missing")
				return
			}
		default:
			switch form.clauses[w] {
			case clauseFlag:
				l.Side = w
				l.Clauses[w] = []int{}
			case clausePair:
				p := c.tuple(2)
				if p == nil {
					return
				}
				l.Clauses[w] = p
			case clauseLen, clauseAngle:
				want := calc.WantLengths
				if form.clauses[w] == clauseAngle {
					want = calc.WantAngles
				}
				x, _ := c.expr(end, want, "the "+w)
				if x < 0 {
					return
				}
				l.Clauses[w] = []int{x}
			}
		}
	}
}

// clauseEnd finds where the expression at the cursor ends: at the next word of
// a clause, or at the end of the line. The first word is the expression's own.
func (c *cursor) clauseEnd(words []string) int {
	from := *c
	from.word()
	if from.pos == c.pos {
		from.space()
	}
	end := c.end
	for _, w := range words {
		if at := from.find(w, false); at >= 0 && at < end {
			end = at
		}
	}
	return end
}

// eachExpr calls f with every expression of the drawing.
func (p *Drawing) eachExpr(f func(*int)) {
	parts := func(list []FilledPart) {
		for i := range list {
			f(&list[i].Expr)
		}
	}
	parts(p.TitleParts)
	parts(p.CaptionParts)
	for _, l := range p.Lines {
		for _, pt := range l.Points {
			for i := range pt {
				f(&pt[i])
			}
		}
		for _, k := range sortedKeys(l.Clauses) {
			for i := range l.Clauses[k] {
				f(&l.Clauses[k][i])
			}
		}
		for i := range l.Repeats {
			f(&l.Repeats[i].Count)
			for k := range l.Repeats[i].Step {
				f(&l.Repeats[i].Step[k])
			}
		}
		f(&l.Value)
		parts(l.Parts)
	}
}

// finishDrawings gives ids to the drawings that have none and reports doubles.
func (d *draft) finishDrawings() {
	for _, p := range d.page.Drawings {
		if p.ID != "" {
			d.anchor(p.ID, p.Pos, "drawing")
		}
	}
	for i, p := range d.page.Drawings {
		if p.ID == "" {
			p.ID = d.freeAnchor("drawing-"+strconv.Itoa(i+1), p.Pos)
		}
	}
}
