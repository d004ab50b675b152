package theme

import (
	"slices"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	chtml "github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/alecthomas/chroma/v2/styles"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"workings/content"
)

// A highlighter remembers the lexer of each language, and which languages have
// none: asking again for an unknown name would search all file patterns.
type highlighter struct {
	mu     sync.Mutex
	lexers map[string]chroma.Lexer // nil: no such language
	format *chtml.Formatter
	done   map[string]string // language, line end and code → HTML: each stands on its page and on the whole manual
}

// maxDone is how many blocks of code are kept.
const maxDone = 20_000

// Code beyond these bounds stays plain: lexers look far ahead in what is never
// closed, from each place again, and can take minutes for a page of it.
const (
	maxCode     = 8 << 10 // bytes of a block
	maxCodeLine = 1000    // bytes of a line
)

func plainCode(code string) bool {
	if len(code) > maxCode {
		return true
	}
	for line := range strings.SplitSeq(code, "\n") {
		if len(line) > maxCodeLine {
			return true
		}
	}
	return false
}

func newHighlighter() *highlighter {
	return &highlighter{
		lexers: map[string]chroma.Lexer{"": nil, "text": nil, "txt": nil, "calc": nil, "plot": nil, "uses": nil, "measure": nil, "page": nil},
		format: chtml.New(chtml.WithClasses(true), chtml.ClassPrefix("k-"), chtml.PreventSurroundingPre(true)),
	}
}

func (h *highlighter) lexer(lang string) chroma.Lexer {
	lang = strings.ToLower(lang)
	h.mu.Lock()
	defer h.mu.Unlock()
	l, ok := h.lexers[lang]
	if !ok {
		if l = lexers.Get(lang); l != nil {
			l = chroma.Coalesce(l)
		}
		h.lexers[lang] = l
	}
	return l
}

// html returns the code with its words in classed spans.
func (h *highlighter) html(lang, code string) string {
	l := h.lexer(lang)
	if l == nil || plainCode(code) {
		return esc(code)
	}
	key := lang + "\n" + code
	h.mu.Lock()
	s, ok := h.done[key]
	h.mu.Unlock()
	if ok {
		return s
	}
	tokens, err := l.Tokenise(nil, code)
	if err != nil {
		return esc(code)
	}
	var b strings.Builder
	if err := h.format.Format(&b, styles.Fallback, tokens); err != nil {
		return esc(code)
	}
	h.mu.Lock()
	if h.done == nil || len(h.done) >= maxDone {
		h.done = map[string]string{}
	}
	h.done[key] = b.String()
	h.mu.Unlock()
	return b.String()
}

// codeCSS styles code by weight and slope first, colour second.
const codeCSS = `
.k-k,.k-kc,.k-kd,.k-kn,.k-kp,.k-kr,.k-kt,.k-nt,.k-gu,.k-gh{font-weight:600}
.k-c,.k-ch,.k-cm,.k-c1,.k-cs,.k-cp,.k-cpf{color:var(--soft);font-style:italic}
.k-s,.k-sa,.k-sb,.k-sc,.k-dl,.k-sd,.k-s2,.k-se,.k-sh,.k-si,.k-sx,.k-sr,.k-s1,.k-ss,.k-na{color:var(--accent)}
.k-gi{color:var(--ok)}.k-gd{color:var(--bad)}
`

// Prepare highlights code of the pages of a manual, which needs no result, until
// a channel is closed. It begins with the last page: the first ones will be
// rendered soon.
func (t *Theme) Prepare(m *content.Manual, until <-chan struct{}) {
	for _, p := range slices.Backward(m.Pages) {
		for n := p.Doc.FirstChild(); n != nil; n = n.NextSibling() {
			select {
			case <-until:
				return
			default:
			}
			if f, ok := n.(*ast.FencedCodeBlock); ok {
				t.code.html(fencedCode(f, p.File.Text))
			}
		}
	}
}

func fencedCode(f *ast.FencedCodeBlock, src []byte) (lang, code string) {
	if f.Info != nil { // f.Language keeps what it finds, and several may ask at once
		lang, _, _ = strings.Cut(string(f.Info.Segment.Value(src)), " ")
	}
	return lang, string(f.Lines().Value(src))
}

func (r *pageWriter) fenced(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		lang, code := fencedCode(n.(*ast.FencedCodeBlock), r.src)
		r.pre(w, lang, code)
	}
	return ast.WalkSkipChildren, nil
}

func (r *pageWriter) codeBlock(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if entering {
		r.pre(w, "", string(n.Lines().Value(r.src)))
	}
	return ast.WalkSkipChildren, nil
}

// pre writes a code block that can be scrolled by keyboard.
func (r *pageWriter) pre(w util.BufWriter, lang, code string) {
	w.WriteString(`<pre class="code" tabindex="0"`)
	if lang != "" {
		w.WriteString(` data-lang="` + esc(lang) + `"`)
	}
	w.WriteString("><code>" + r.v.t.code.html(lang, code) + "</code></pre>\n")
}

// filledNode writes code with figures in it. The numbers stay plain, so that
// the code can be copied and run; each opens its derivation. The code is
// highlighted piece by piece between them.
func (r *pageWriter) filledNode(w util.BufWriter, _ []byte, n ast.Node, entering bool) (status, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	f := n.(*content.FilledNode)
	w.WriteString(`<pre class="code filled" tabindex="0" data-lang="` + esc(f.Language) + `"><code>`)
	for _, p := range f.Parts {
		if p.Expr < 0 {
			w.WriteString(r.v.t.code.html(f.Language, p.Text))
			continue
		}
		s := r.v.in.Result.Shown(p.Expr)
		switch {
		case s == nil || s.Number == "" && s.Text == "":
			w.WriteString(`<span class="missing">` + esc(r.v.w.NotAvailable) + `</span>`)
		default:
			w.WriteString(r.open(r.want(s, p.Expr), s.String()))
		}
	}
	w.WriteString("</code></pre>\n")
	return ast.WalkSkipChildren, nil
}
