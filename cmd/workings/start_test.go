package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A write that fails leaves the folder as it was.
func TestStartWritesAllOrNothing(t *testing.T) {
	defer func() { testOnlyWriteFile = os.WriteFile }()
	files := map[string][]byte{"a": nil, "b/c": nil, "d": nil}
	for _, exists := range []bool{false, true} {
		parent := t.TempDir()
		dir := filepath.Join(parent, "m")
		if exists {
			if err := os.Mkdir(dir, 0o777); err != nil {
				t.Fatal(err)
			}
		}
		n := 0
		testOnlyWriteFile = func(name string, data []byte, mode os.FileMode) error {
			if n++; n == len(files) {
				return &os.PathError{Op: "write", Path: name, Err: errors.New("disk full")}
			}
			return os.WriteFile(name, data, mode)
		}
		err := writeNew(dir, files)
		if err == nil || !strings.Contains(err.Error(), "disk full") {
			t.Errorf("it says %v", err)
		}
		if list, _ := filepath.Glob(filepath.Join(parent, ".*")); len(list) > 0 {
			t.Errorf("left behind: %q", list)
		}
		entries, err := os.ReadDir(dir)
		if exists && (err != nil || len(entries) > 0) || !exists && !errors.Is(err, os.ErrNotExist) {
			t.Errorf("exists %v: the folder holds %v, %v", exists, entries, err)
		}
		testOnlyWriteFile = os.WriteFile
		if err := writeNew(dir, files); err != nil {
			t.Error(err)
		}
		for name := range files {
			if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name))); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestSheetUnits(t *testing.T) {
	for in, want := range map[string]string{
		"mm": "mm", "mm2": "mm^2", "mm²": "mm^2", "kg/m3": "kg/m^3", "N m": "N*m", "N·m": "N*m", "Nm": "N*m", "m/s2": "m/s^2",
		"W/(m2 K)": "W/(m^2*K)", "degC": "°C", "Celsius": "°C", "Degrees": "°", "deg": "°", "inches": "in", "Millimeters": "mm",
		"1/s": "per s", "1/K": "per K", "s-1": "s^-1", "percent": "%", "none": "", "-": "", "": "", "1": "", "ohm": "Ω",
	} {
		if got, err := sheetUnit(in); err != nil || got != want {
			t.Errorf("%q gives %q, %v, want %q", in, got, err, want)
		}
	}
	for _, in := range []string{"parsecs", "MM", "W/m2K", "furlong", "°C/m", "mm)"} {
		if got, err := sheetUnit(in); err == nil {
			t.Errorf("%q gives %q", in, got)
		}
	}
}

// Whatever the table, it gives mistakes with their places in it, or a sheet
// without any.
func FuzzParameters(f *testing.F) {
	for _, s := range []string{
		"name,value,unit,comment\na,1,mm,x\n", "Name;Value;Unit;Tol\nb c;1,5;N m;+0,1/-0\n", "sep=;\nname;value\nif;2\n",
		"name\tvalue (mm)\n3d\t5 kg\n", "name,value\n\"a\nb\",\"\"\"1\"\n", "\ufeffname,value,from\nπ,3,\"\\ \"\"\"\n", "name,value,note\na,1,\\\n", "value,name\n-5,T (°C)\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, list := readParameters("t.csv", data)
		for _, d := range list {
			if d.Span.File == nil || d.Span.Start < 0 || d.Span.End > len(d.Span.File.Text) || d.Span.Start > d.Span.End {
				t.Errorf("%v lies outside the table", d)
			}
			d.Report()
		}
		if list.HasErrors() {
			return
		}
		text := s.sheet("t.csv")
		if wrong := compiled(text); wrong.HasErrors() {
			t.Errorf("the sheet is wrong: %v\n%s", wrong, text)
		}
	})
}
