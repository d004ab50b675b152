package theme

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"
)

//go:embed script/*.js
var scriptFiles embed.FS

// script is the one script of all sheets: the parts in the order of their
// names, in one function so that nothing of it is seen from outside.
func script() ([]byte, error) {
	names, err := fs.Glob(scriptFiles, "script/[0-9]*.js")
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("(function () {\n\"use strict\";\n")
	for _, name := range names {
		part, err := scriptFiles.ReadFile(name)
		if err != nil {
			return nil, err
		}
		b.Write(part)
	}
	b.WriteString("})();\n")
	return small("text/javascript", b.Bytes())
}

// Worker is the script that keeps a release for when there is no network: the
// edition by its name, and its files, relative to the release's folder, with
// the beginnings of their SHA-256 in hexadecimal digits.
func Worker(edition string, files map[string]string) ([]byte, error) {
	src, err := scriptFiles.ReadFile("script/worker.js")
	if err != nil {
		return nil, err
	}
	list, err := json.Marshal(files) // sorted by path
	if err != nil {
		return nil, err
	}
	name, err := json.Marshal(edition)
	if err != nil {
		return nil, err
	}
	text := strings.NewReplacer(`"{{edition}}"`, string(name), `"{{files}}"`, string(list)).Replace(string(src))
	return small("text/javascript", []byte(text))
}

// searcher is the script that searches, without its index.
var searcher = sync.OnceValues(func() ([]byte, error) {
	src, err := scriptFiles.ReadFile("script/search.js")
	if err != nil {
		return nil, err
	}
	return small("text/javascript", src)
})

// small takes out of a script or a style sheet what only its readers need.
func small(kind string, src []byte) ([]byte, error) {
	m := minify.New()
	m.AddFunc("text/javascript", js.Minify)
	m.AddFunc("text/css", css.Minify)
	out, err := m.Bytes(kind, src)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", kind, err)
	}
	return append(out, '\n'), nil
}
