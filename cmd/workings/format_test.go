package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/tools/txtar"

	"workings/build"
	"workings/calc"
	"workings/calc/diag"
	"workings/calc/unit"
)

// sarifSchema is the schema that the standard publishes.
func sarifSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	f, err := os.Open("testdata/sarif-2.1.0.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("sarif.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, log []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(log))
	if err != nil {
		t.Fatalf("%v\n%s", err, log)
	}
	return s.Validate(doc)
}

// sample is an audit with one of everything: errors and findings, further
// places, hints, a report without a place, and what is accepted.
func sample() audited {
	f := diag.NewFile("pages/10 start.md", []byte("# Früh\n\nA “bed” is 5 mm wide.\n"))
	var list diag.List
	d := list.Add(diag.Span{File: f, Start: 2, End: 7}, "unit-mismatch", "cannot add mm to kg")
	d.Hint = "did you mean m?"
	d.Also = []diag.Note{{Span: diag.Span{File: f, Start: 9, End: 10}, Msg: "the first is here"}, {Msg: "nowhere"}}
	list.Warn(diag.Span{File: f, Start: len(f.Text), End: len(f.Text)}, "typed-number", "at the end")
	list.Add(diag.Span{}, "render", "without a place")
	list.Warn(diag.Span{File: f, Start: 0, End: 1}, "limit-broken", "the limit heat is broken: 77.4 W is not < 77 W at u = 26.4 V").
		Data = build.RecordOfLimit(&calc.Limit{Name: "heat", Verdict: calc.Broken, At: []calc.Setting{{Name: "u", SI: 26.4, Unit: unit.Unit{Symbol: "V", Factor: 1}}}})
	var more diag.List
	return audited{open: list, accepted: []build.Accepted{
		{Diag: more.Warn(diag.Span{File: f, Start: 9, End: 10}, "late-caution", "too late"), Why: "the figure stands above it"},
	}}
}

func TestSARIF(t *testing.T) {
	schema := sarifSchema(t)
	var out bytes.Buffer
	if err := writeSARIF(env{&out, &out}, sample()); err != nil {
		t.Fatal(err)
	}
	if err := validate(t, schema, out.Bytes()); err != nil {
		t.Errorf("%#v\n%s", err, out.String())
	}
	for _, want := range []string{`"justification": "the figure stands above it"`, `"kind": "inSource"`, `"uri": "pages/10%20start.md"`,
		"at u = 26.4 V\"", "\"properties\": {\n            \"limit\": {\n              \"name\": \"heat\",\n              \"verdict\": \"broken\",\n              \"at\": [\n" +
			"                {\n                  \"name\": \"u\",\n                  \"value\": 26.4,\n                  \"unit\": \"V\",\n                  \"si\": 26.4\n",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("there is no %s in\n%s", want, out.String())
		}
	}
	// The schema is one that refuses something.
	for _, change := range [][2]string{{`"startLine": 1`, `"startLine": 0`}, {`"level": "error"`, `"level": "bad"`}, {`"ruleId"`, `"rule"`}, {`"inSource"`, `"here"`}} {
		wrong := strings.Replace(out.String(), change[0], change[1], 1)
		if wrong == out.String() || validate(t, schema, []byte(wrong)) == nil {
			t.Errorf("%s in the place of %s is not refused", change[1], change[0])
		}
	}
}

// Every broken manual gives a SARIF log after the schema, and a JSON report
// whose places lie in their files.
func TestFormatsOfBrokenManuals(t *testing.T) {
	schema := sarifSchema(t)
	names, err := filepath.Glob("../../testdata/broken/*.txtar")
	if err != nil || len(names) < 20 {
		t.Fatalf("%d broken manuals (%v)", len(names), err)
	}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		for _, f := range a.Files {
			if f.Name == "want" {
				continue
			}
			file := filepath.Join(dir, f.Name)
			if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, f.Data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		var log, errs bytes.Buffer
		if status := run(env{&log, &errs}, []string{"audit", "--format", "sarif", dir}); status != exitFound {
			t.Errorf("%s: status %d: %s", name, status, errs.String())
			continue
		}
		if err := validate(t, schema, log.Bytes()); err != nil {
			t.Errorf("%s: %#v", name, err)
		}
		var data, errs2 bytes.Buffer
		run(env{&data, &errs2}, []string{"audit", "--format", "json", dir})
		var got struct {
			Findings, Accepted []struct {
				Level, Code, Message, File, Reason string
				Line, Column                       int
			}
		}
		dec := json.NewDecoder(&data)
		if err := dec.Decode(&got); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if len(got.Findings)+len(got.Accepted) == 0 {
			t.Errorf("%s: nothing found", name)
		}
		for _, f := range got.Findings {
			if f.Level != "error" && f.Level != "finding" || f.Code == "" || f.Message == "" || f.File != "" && (f.Line < 1 || f.Column < 1) {
				t.Errorf("%s: %+v", name, f)
			}
		}
		for _, f := range got.Accepted {
			if f.Reason == "" {
				t.Errorf("%s: accepted without a reason: %+v", name, f)
			}
		}
	}
}
