package syntax

import (
	"strings"
	"testing"

	"workings/calc/diag"
)

// benchLines are lines as they stand in a sheet.
const benchLines = `bed_x     = 220 mm ± 0.2 mm                # bed width, inside the chamber
bulk      = 0.46 g/cm^3 uncertain 5 %  from "measured, three fills of a 1 L cylinder"
bay_hot   = 68 °C                          # air around the belt after two hours
area      = bed_x * bed_y - (4 - pi) * corner_r^2
fill      = area * depth in L              # powder in a full reservoir

drift     = belt_drift(length: 400 mm, cord_expansion: 23e-6 per K)
gap       = if bay_hot > 60 °C then 2 mm else 1.5 mm
limit load: mass <= 4.5 kg
  else caution "A full reservoir weighs {= mass}: lift it with both hands."
`

func benchSheet() *diag.File {
	return diag.NewFile("design.calc", []byte(strings.Repeat(benchLines, 1000)))
}

// BenchmarkParse parses 10,000 lines.
func BenchmarkParse(b *testing.B) {
	file := benchSheet()
	b.SetBytes(int64(len(file.Text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, list := Parse(file, nil); len(list) > 0 {
			b.Fatal(list.Error())
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/10_000, "ns/line")
}

// BenchmarkScan scans the same lines.
func BenchmarkScan(b *testing.B) {
	text := string(benchSheet().Text)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		scan(text, 0, len(text), `"`)
	}
}

// BenchmarkTidy lays out the same lines.
func BenchmarkTidy(b *testing.B) {
	file := benchSheet()
	b.ReportAllocs()
	for b.Loop() {
		if _, list := Tidy(file, nil); len(list) > 0 {
			b.Fatal(list.Error())
		}
	}
}
