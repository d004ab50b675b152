package main

import (
	"encoding/json"
	"fmt"
	"net/url"
	"unicode/utf8"

	"workings/calc/diag"
)

// reportFormats are the forms in which an audit is printed. Text goes to
// standard error as all reports do, data to standard output.
var reportFormats = map[string]func(env, diag.List) error{
	"text":  writeText,
	"json":  writeJSON,
	"sarif": writeSARIF,
}

func writeText(e env, list diag.List) error {
	report(e.err, list)
	if len(list) == 0 {
		_, err := fmt.Fprintln(e.out, "nothing found")
		return err
	}
	return nil
}

// place is where something is: lines and columns from 1, columns in characters.
type place struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"` // behind the last character
}

func placeOf(s diag.Span) *place {
	if s.File == nil {
		return nil
	}
	p := &place{File: s.File.Name}
	p.Line, p.Column = s.File.Position(s.Start)
	p.EndLine, p.EndColumn = s.File.Position(max(s.Start, s.End))
	return p
}

func writeJSON(e env, list diag.List) error {
	type note struct {
		Message string `json:"message"`
		*place
	}
	type finding struct {
		Level   string `json:"level"` // "error" or "finding"
		Code    string `json:"code"`
		Message string `json:"message"`
		Hint    string `json:"hint,omitempty"`
		*place
		Also []note `json:"also,omitempty"`
	}
	found := []finding{}
	for _, d := range list {
		f := finding{Level: "error", Code: d.Code, Message: d.Msg, Hint: d.Hint, place: placeOf(d.Span)}
		if d.Warn {
			f.Level = "finding"
		}
		for _, n := range d.Also {
			f.Also = append(f.Also, note{n.Msg, placeOf(n.Span)})
		}
		found = append(found, f)
	}
	return printJSON(e, map[string]any{"findings": found})
}

// writeSARIF writes the OASIS Static Analysis Results Interchange Format 2.1.0
// (property names from memory of the standard). Columns count characters.
func writeSARIF(e env, list diag.List) error {
	type obj = map[string]any
	location := func(s diag.Span, msg string) obj {
		p := placeOf(s)
		if p == nil {
			return obj{"message": obj{"text": msg}}
		}
		region := obj{"startLine": p.Line, "startColumn": p.Column, "endLine": p.EndLine, "endColumn": p.EndColumn}
		if s.Text() != "" && utf8.ValidString(s.Text()) {
			region["snippet"] = obj{"text": s.Text()}
		}
		l := obj{"physicalLocation": obj{
			"artifactLocation": obj{"uri": (&url.URL{Path: p.File}).EscapedPath(), "uriBaseId": "MANUAL"},
			"region":           region,
		}}
		if msg != "" {
			l["message"] = obj{"text": msg}
		}
		return l
	}
	results, rules, seen := []obj{}, []obj{}, map[string]bool{}
	for _, d := range list {
		level, text := "error", d.Msg
		if d.Warn {
			level = "warning"
		}
		if d.Hint != "" {
			text += "\nhint: " + d.Hint
		}
		r := obj{"ruleId": d.Code, "level": level, "message": obj{"text": text}}
		if d.Span.File != nil {
			r["locations"] = []obj{location(d.Span, "")}
		}
		var also []obj
		for i, n := range d.Also {
			l := location(n.Span, n.Msg)
			l["id"] = i + 1
			also = append(also, l)
		}
		if also != nil {
			r["relatedLocations"] = also
		}
		results = append(results, r)
		if !seen[d.Code] {
			seen[d.Code] = true
			rules = append(rules, obj{"id": d.Code})
		}
	}
	return printJSON(e, obj{
		"$schema": "https://json.schemastore.org/sarif-2.1.0.json",
		"version": "2.1.0",
		"runs": []obj{{
			"tool":       obj{"driver": obj{"name": tool.Name, "version": tool.Version, "rules": rules}},
			"columnKind": "unicodeCodePoints",
			"results":    results,
		}},
	})
}

func printJSON(e env, v any) error {
	enc := json.NewEncoder(e.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
