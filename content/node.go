package content

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// The nodes that Workings adds to goldmark's tree.
var (
	KindFigure  = ast.NewNodeKind("Figure")
	KindCalc    = ast.NewNodeKind("Calc")
	KindPlot    = ast.NewNodeKind("Plot")
	KindUses    = ast.NewNodeKind("Uses")
	KindMeasure = ast.NewNodeKind("Measure")
	KindPanel   = ast.NewNodeKind("Panel")
	KindFilled  = ast.NewNodeKind("Filled")
)

// A FigureNode is an inline figure.
type FigureNode struct {
	ast.BaseInline
	Expr   int // index in Manual.Exprs
	Inline *syntax.Inline
	At     diag.Span
}

// A CalcNode is a calc block.
type CalcNode struct {
	ast.BaseBlock
	Name  string // name of the block
	Sheet *syntax.Sheet
	Mode  string // "", "hidden" or "results"
	Title string
	At    diag.Span
}

// A PlotNode is a plot block.
type PlotNode struct {
	ast.BaseBlock
	Plot *Plot
}

// A UsesNode is a uses block.
type UsesNode struct {
	ast.BaseBlock
	Uses []*Use
}

// A MeasureNode is a measure block.
type MeasureNode struct {
	ast.BaseBlock
	Checks []*Check
}

// A PanelNode is a safety panel; its children are the message.
type PanelNode struct {
	ast.BaseBlock
	Panel *Panel
}

// A FilledNode is a code block with figures in it.
type FilledNode struct {
	ast.BaseBlock
	Language string
	Parts    []FilledPart
	At       diag.Span
}

// A FilledPart is text as it is (Expr -1) or an inline figure, then Text is
// the figure as it is written, with its braces.
type FilledPart struct {
	Text string
	Expr int
}

// Fill puts the texts of figures between the texts of the parts. A nil
// function leaves the figures as they are written.
func Fill(parts []FilledPart, figure func(expr int) string) string {
	var b strings.Builder
	for _, p := range parts {
		if p.Expr >= 0 && figure != nil {
			b.WriteString(figure(p.Expr))
		} else {
			b.WriteString(p.Text)
		}
	}
	return b.String()
}

// Kind, Dump and IsRaw make the nodes goldmark nodes.

func (n *FigureNode) Kind() ast.NodeKind  { return KindFigure }
func (n *CalcNode) Kind() ast.NodeKind    { return KindCalc }
func (n *PlotNode) Kind() ast.NodeKind    { return KindPlot }
func (n *UsesNode) Kind() ast.NodeKind    { return KindUses }
func (n *MeasureNode) Kind() ast.NodeKind { return KindMeasure }
func (n *PanelNode) Kind() ast.NodeKind   { return KindPanel }
func (n *FilledNode) Kind() ast.NodeKind  { return KindFilled }

func (n *FigureNode) Dump(src []byte, level int)  { ast.DumpHelper(n, src, level, nil, nil) }
func (n *CalcNode) Dump(src []byte, level int)    { ast.DumpHelper(n, src, level, nil, nil) }
func (n *PlotNode) Dump(src []byte, level int)    { ast.DumpHelper(n, src, level, nil, nil) }
func (n *UsesNode) Dump(src []byte, level int)    { ast.DumpHelper(n, src, level, nil, nil) }
func (n *MeasureNode) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }
func (n *PanelNode) Dump(src []byte, level int)   { ast.DumpHelper(n, src, level, nil, nil) }
func (n *FilledNode) Dump(src []byte, level int)  { ast.DumpHelper(n, src, level, nil, nil) }
