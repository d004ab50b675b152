package content

import (
	"io/fs"
	"strings"
	"sync"
	"time"

	"github.com/yuin/goldmark/ast"

	"workings/calc"
	"workings/calc/diag"
)

// A Manual is the whole source of one release, read and parsed.
type Manual struct {
	FS       fs.FS
	Config   Config
	Sheet    *diag.File          // design.calc; an empty file if the manual has none
	Pages    []*Page             // in reading order
	Parts    []*Part             // parts.csv, in its order
	Pictures map[string]*Picture // by path in the manual, those that pages show

	Blocks []calc.Block // design sheet first, then the calc blocks in page order
	Exprs  []calc.Expr  // every expression of the pages; nodes refer to them by index

	Files map[string]*diag.File // every text file read, by path

	drafts []*draft   // what Pages were read from
	prefix string     // put before the names of files in reports
	mu     sync.Mutex // guards Files, to which Table adds
}

// Input is what calc.Compile needs of the manual.
func (m *Manual) Input() calc.Input {
	return calc.Input{Blocks: m.Blocks, Exprs: m.Exprs, Table: m.Table}
}

// PathOf is the path of a file in the manual, wherever the manual came from.
func (m *Manual) PathOf(f *diag.File) string { return strings.TrimPrefix(f.Name, m.prefix) }

// A Config is manual.toml.
type Config struct {
	Title      string
	Summary    string
	Notice     string    // shown on every page, such as that the data are invented
	Release    string    // name of this release
	Date       time.Time // date of issue; zero if not stated
	Current    string    // name of the release a builder should use; "" = the latest that is no pre-release
	Language   string    // BCP 47, "en" if not stated
	Publisher  string
	Authors    []string
	Licence    Licence
	Repository string            // address of the source
	Report     string            // address for problems; {release}, {page}, {step}, {title} and {body} are filled in
	Address    string            // where the site is published; "" if not stated
	Pages      []string          // ids of the pages in order; empty: by file name
	Look       Look              // of the site
	HTML       bool              // pages may hold HTML, of which SafeHTML is published
	Releases   []ReleaseSource   // earlier releases
	Features   []Feature         // how to tell this release on the machine
	Accepted   []Acceptance      // what is less safe than before, and why
	Moved      map[string]string // where the content of pages went, by their ids
	File       *diag.File
}

// A Licence names the licences of the design and of the text, as SPDX expressions.
type Licence struct {
	Design   string
	Text     string
	Software string
}

// A ReleaseSource says where an earlier release comes from: exactly one of
// Folder, Zip or Tag.
type ReleaseSource struct {
	Name   string
	Folder string // path in the manual
	Zip    string // path in the manual
	Tag    string // Git tag of the surrounding repository
	Commit string // Git commit of the surrounding repository, all digits of its sum
	SHA256 string // of the zip
	Pos    diag.Span
}

// A Feature is something on the machine by which its release can be told.
type Feature struct {
	Look string            // what to look for
	Here string            // what this release has there
	Page string            // id of the page that shows it, or ""
	On   map[string]string // what earlier releases have there, by their names
	Pos  diag.Span
}

// An Acceptance says why something may be less safe than in the release before.
type Acceptance struct {
	Loss    string // as the report of the loss names it
	Against string // the release before
	Why     string
	Pos     diag.Span
}

// A Page is one page of the manual.
type Page struct {
	ID         string // "frame" of pages/20-frame.md: file name without number, dash and extension
	File       *diag.File
	Title      string       // of the first level-1 heading; a figure in it as it is written
	TitleParts []FilledPart // the title with its figures
	Summary    string
	Data       PageData
	Scope      string   // the block that its unnamed calc blocks form; "" if it has none
	Doc        ast.Node // goldmark tree; our own nodes are in node.go. Render it with File.Text as the source
	Steps      []*Step
	Uses       []*Use   // parts and tools of its uses blocks in order, those outside steps too
	Checks     []*Check // of its measure blocks in order, those outside steps too
	Plots      []*Plot
	Drawings   []*Drawing
	Exprs      []int    // expressions of this page, in order
	Blocks     []string // names of the calc blocks on this page
	Panels     []*Panel
	Pictures   []string
	Links      []*Link
	Headings   []*Heading
	Captions   map[*ast.Image][]FilledPart // titles of pictures that hold figures
}

// PageData is what a `page` block says, in TOML.
type PageData struct {
	Summary string
	Time    string
	People  string
	Skill   string
	Needs   []string // ids of pages to do first
	Order   int
	Steps   *bool
	Reasons map[string]string // design reasons by parameter, for the page of changes
}

// A Step is a numbered section of a page: a level-2 heading and what follows.
type Step struct {
	ID      string       // anchor, stable: from its heading, or written {#id}
	Number  int          // on its page, from 1
	Title   string       // plain text; a figure in it as it is written
	Parts   []FilledPart // the title with its figures
	Uses    []*Use
	Tools   []*Use
	Checks  []*Check
	Heading *ast.Heading
	Pos     diag.Span
}

// A Use is a part or tool that a step takes.
type Use struct {
	Part *Part // nil if parts.csv has no such id (reported)
	ID   string
	Tool bool
	Expr int // index in Manual.Exprs of the quantity; -1 for a tool without one
	Note string
	Page *Page
	Step *Step
	Pos  diag.Span
	Cut  *Cut // "4 of 760 mm"; nil for a use that does not say so
}

// A Cut is a number of pieces of one length: expressions of the manual. The
// quantity of its use is their product.
type Cut struct{ Pieces, Each int }

// A Check is a measurement with its expected value.
type Check struct {
	ID     string // unique in the manual: "recoater.tension"
	What   string
	Expr   int    // expected value, index in Manual.Exprs; -1: a yes-or-no check
	With   string // instrument
	Note   string
	Page   *Page
	Step   *Step  // nil outside steps
	Number string // "C 4.2": page and check number
	Pos    diag.Span
}

// A Part is one line of parts.csv: a part or a tool.
type Part struct {
	ID            string
	Name          string
	Specification string
	Material      string
	Kind          string   // "bought", "made", "standard", "tool", "consumable"
	Mass          *float64 // kg each
	Price         *float64 // each
	Currency      string
	Source        string
	Pack          int    // pieces a pack; 0 = sold singly
	Spare         int    // spare pieces to get
	Critical      string // what a substitute must hold
	Substitutes   string
	Length        bool              // used by length: quantities are lengths
	Extra         map[string]string // further columns
	Pos           diag.Span
	// Specification, Critical and Substitutes with their figures; nil if they
	// hold none.
	SpecificationParts, CriticalParts, SubstituteParts []FilledPart
}

// A Panel is a safety message on a page.
type Panel struct {
	Signal string // "danger", "warning", "caution", "notice"
	ID     string
	Page   *Page
	Step   *Step
	Text   string       // plain text; a figure in it as it is written
	Parts  []FilledPart // the text with its figures
	Node   ast.Node
	Pos    diag.Span
}

// A Link is a link of a page to something in the manual or elsewhere.
type Link struct {
	Node   ast.Node
	Target string
	Page   *Page // the page it leads to, or nil
	Anchor string
	Pos    diag.Span
}

// A Heading is a heading of a page.
type Heading struct {
	ID    string
	Level int
	Text  string       // plain text; a figure in it as it is written
	Parts []FilledPart // the text with its figures
	Node  *ast.Heading
}

// A Picture is a picture that pages show.
type Picture struct {
	Path          string
	Data          []byte
	Width, Height int    // pixels; 0 for SVG without a size
	Type          string // media type
}

// A Plot is a `plot` block.
type Plot struct {
	ID      string
	Title   string
	Caption string
	// Title and caption with their figures; nil if they hold none.
	TitleParts, CaptionParts []FilledPart
	// A chart: lines against a parameter or a list.
	Lines        []PlotLine
	Against      int        // expression on the horizontal axis; -1 for a map
	Param        string     // full name of the parameter it sweeps; "" if Against is a list
	AgainstLabel string     // of the horizontal axis
	From, To     int        // expressions; -1 if Against is a list
	Marks        []PlotLine // constant values: lines across
	Bands        []PlotBand
	// A map of a field.
	Map      int // expression; -1 for a chart
	MapLabel string
	Outline  bool
	Page     *Page
	Pos      diag.Span
}

// A PlotLine is one line of a chart.
type PlotLine struct {
	Expr  int
	Label string
	Pos   diag.Span
}

// A PlotBand is a shaded stretch of the vertical axis.
type PlotBand struct {
	Low, High int
	Label     string
	Pos       diag.Span
}

// PlotPoints is the number of points at which a swept line is computed.
const PlotPoints = 61
