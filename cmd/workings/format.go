package main

import (
	"encoding/json"
	"fmt"
	"net/url"
	"unicode/utf8"

	"workings/build"
	"workings/calc/diag"
)

// An audited is what an audit found: what is open, and what the manual accepts
// in writing.
type audited struct {
	open     diag.List
	accepted []build.Accepted
}

// reportFormats are the forms in which an audit is printed. Text goes to
// standard error as all reports do, data to standard output.
var reportFormats = map[string]func(env, audited) error{
	"text":  writeText,
	"json":  writeJSON,
	"sarif": writeSARIF,
}

// writeText prints every report with its line and a caret under it, and how
// many findings are accepted.
func writeText(e env, a audited) error {
	report(e.err, a.open)
	said := ""
	if n := len(a.accepted); n > 0 {
		said = count(n, "finding") + " accepted in writing"
	}
	switch {
	case len(a.open) > 0 && said != "":
		fmt.Fprintln(e.err, said)
	case len(a.open) == 0 && said != "":
		_, err := fmt.Fprintln(e.out, "nothing found, "+said)
		return err
	case len(a.open) == 0:
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

// writeJSON prints an object with two lists, each in the order of the places:
//
//	findings  what is open
//	accepted  what the manual accepts in writing, with its reason
//
// An entry has level ("error": nothing is published; "finding": it is), code,
// message, hint if there is one, the place (file relative to the manual, line
// and column from 1 in characters, end_line and end_column behind the last
// one; all left out where there is none), also with further messages and their
// places, in accepted the reason, and where it is found at a limit, limit with
// what is known of that, as figures.json has it.
func writeJSON(e env, a audited) error {
	type note struct {
		Message string `json:"message"`
		*place
	}
	type finding struct {
		Level   string `json:"level"`
		Code    string `json:"code"`
		Message string `json:"message"`
		Hint    string `json:"hint,omitempty"`
		*place
		Also   []note `json:"also,omitempty"`
		Reason string `json:"reason,omitempty"`
		Limit  any    `json:"limit,omitempty"`
	}
	entry := func(d *diag.Diag, why string) finding {
		f := finding{Level: "error", Code: d.Code, Message: d.Msg, Hint: d.Hint, place: placeOf(d.Span), Reason: why, Limit: d.Data}
		if d.Warn {
			f.Level = "finding"
		}
		for _, n := range d.Also {
			f.Also = append(f.Also, note{n.Msg, placeOf(n.Span)})
		}
		return f
	}
	found, accepted := []finding{}, []finding{}
	for _, d := range a.open {
		found = append(found, entry(d, ""))
	}
	for _, d := range a.accepted {
		accepted = append(accepted, entry(d.Diag, d.Why))
	}
	return printJSON(e, map[string]any{"findings": found, "accepted": accepted})
}

// writeSARIF writes the OASIS Static Analysis Results Interchange Format 2.1.0
// (a test holds it to the schema of the standard). Columns count characters;
// what is accepted is suppressed in the source, with its reason.
func writeSARIF(e env, a audited) error {
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
	add := func(d *diag.Diag, why string) {
		level, text := "error", d.Msg
		if d.Warn {
			level = "warning"
		}
		if d.Hint != "" {
			text += "\nhint: " + d.Hint
		}
		r := obj{"ruleId": d.Code, "level": level, "message": obj{"text": text}}
		if d.Data != nil { // a property bag, 3.8
			r["properties"] = obj{"limit": d.Data}
		}
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
		if why != "" {
			r["suppressions"] = []obj{{"kind": "inSource", "justification": why}}
		}
		results = append(results, r)
		if !seen[d.Code] {
			seen[d.Code] = true
			rule := obj{"id": d.Code}
			if says := firstText(build.AuditRules[d.Code], build.ReleaseRules[d.Code]); says != "" {
				rule["shortDescription"] = obj{"text": says}
			}
			rules = append(rules, rule)
		}
	}
	for _, d := range a.open {
		add(d, "")
	}
	for _, d := range a.accepted {
		add(d.Diag, d.Why)
	}
	return printJSON(e, obj{
		"$schema": "https://json.schemastore.org/sarif-2.1.0.json",
		"version": "2.1.0",
		"runs": []obj{{
			"tool":       obj{"driver": obj{"name": tool.Name, "version": tool.Version, "rules": rules}},
			"columnKind": "unicodeCodePoints",
			"originalUriBaseIds": obj{
				"MANUAL": obj{"description": obj{"text": "The folder that holds manual.toml"}},
			},
			"results": results,
		}},
	})
}

func printJSON(e env, v any) error {
	enc := json.NewEncoder(e.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// firstText is the first that says something.
func firstText(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}
