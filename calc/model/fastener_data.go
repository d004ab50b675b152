package model

import "math"

// A Thread is an ISO metric thread of the coarse series, with what is usual
// around a screw of that size.
type Thread struct {
	Size  string
	D     float64 // nominal diameter, m
	P     float64 // pitch, m
	Hole  float64 // clearance hole, medium series, m
	Hex   float64 // smallest outer diameter of the bearing face of a hexagon head, m
	Cap   float64 // the same of a socket head, m
	tolD  float64 // major diameter of the screw, 6g: smallest, m
	tolD2 float64 // pitch diameter of the screw, 6g: smallest, m
	nutD2 float64 // pitch diameter of the nut thread, 6H: largest, m
	nutD1 float64 // minor diameter of the nut thread, 6H: largest, m
}

const mm = 1e-3

// threads is the table of sizes.
// Sources: pitches ISO 261 and 262; holes ISO 273, medium series (seen in a
// reprint); bearing faces of socket heads ISO 4762 (seen in a reprint), of
// hexagon heads ISO 4014 and 4017, grade A (from memory); limits of threads ISO
// 965, 6g to M10 and pitch diameters 6H seen in reprints, the rest from memory.
// The shear areas that follow agree with a published table from M5 to M16.
var threads = []Thread{
	{"M3", 3 * mm, 0.5 * mm, 3.4 * mm, 4.57 * mm, 5.07 * mm, 2.874 * mm, 2.580 * mm, 2.775 * mm, 2.599 * mm},
	{"M4", 4 * mm, 0.7 * mm, 4.5 * mm, 5.88 * mm, 6.53 * mm, 3.838 * mm, 3.433 * mm, 3.663 * mm, 3.422 * mm},
	{"M5", 5 * mm, 0.8 * mm, 5.5 * mm, 6.88 * mm, 8.03 * mm, 4.826 * mm, 4.361 * mm, 4.605 * mm, 4.334 * mm},
	{"M6", 6 * mm, 1.0 * mm, 6.6 * mm, 8.88 * mm, 9.38 * mm, 5.794 * mm, 5.212 * mm, 5.500 * mm, 5.153 * mm},
	{"M8", 8 * mm, 1.25 * mm, 9.0 * mm, 11.63 * mm, 12.33 * mm, 7.760 * mm, 7.042 * mm, 7.348 * mm, 6.912 * mm},
	{"M10", 10 * mm, 1.5 * mm, 11.0 * mm, 14.63 * mm, 15.33 * mm, 9.732 * mm, 8.862 * mm, 9.206 * mm, 8.676 * mm},
	{"M12", 12 * mm, 1.75 * mm, 13.5 * mm, 16.63 * mm, 17.23 * mm, 11.701 * mm, 10.679 * mm, 11.063 * mm, 10.441 * mm},
	{"M14", 14 * mm, 2.0 * mm, 15.5 * mm, 19.64 * mm, 20.17 * mm, 13.682 * mm, 12.503 * mm, 12.913 * mm, 12.210 * mm},
	{"M16", 16 * mm, 2.0 * mm, 17.5 * mm, 22.49 * mm, 23.17 * mm, 15.682 * mm, 14.503 * mm, 14.913 * mm, 14.210 * mm},
}

// Heights of the ISO profile in pitches: ISO 68-1, H = √3/2 P.
const (
	threadHeight = 0.86602540378443864676  // H = √3/2
	pitchDepth   = 3. / 4 * threadHeight   // d - d2
	minorDepth   = 5. / 4 * threadHeight   // d - D1
	rootDepth    = 17. / 12 * threadHeight // d - d3
)

// FindThread returns the thread of that size, such as "M5", or nil.
func FindThread(size string) *Thread {
	for i := range threads {
		if threads[i].Size == size {
			return &threads[i]
		}
	}
	return nil
}

// PitchDiameter returns d2 = d - 0.6495 P, m. Source: ISO 68-1 (from memory).
func (t *Thread) PitchDiameter() float64 { return t.D - pitchDepth*t.P }

// StressDiameter returns (d2 + d3)/2, m, with the root diameter d3 = d - 1.2269 P.
func (t *Thread) StressDiameter() float64 { return t.D - (pitchDepth+rootDepth)/2*t.P }

// StressArea returns the area that carries the tension, m²:
//
//	A = π/4 ((d2 + d3)/2)²
//
// Source: ISO 898-1:2013, 9.1.6.1 (from memory; values seen).
func (t *Thread) StressArea() float64 { return math.Pi / 4 * math.Pow(t.StressDiameter(), 2) }

// ShearAreas returns the areas, m², that the thread of the nut and that of the
// screw offer to stripping along an engagement L,
//
//	nut    π L/P d (P/2 + (d - D2)/√3)
//	screw  π L/P D1 (P/2 + (d2 - D1)/√3)
//
//	d, d2   smallest major and pitch diameter of the screw, 6g    m
//	D2, D1  largest pitch and minor diameter of the nut, 6H       m
//	P       pitch                                                 m
//
// The worst pairing that the tolerances allow; nominal threads have a third
// more. Errors: none.
// Source: FED-STD-H28 (from memory; its values seen in a table after Bickford,
// Introduction to the Design and Behavior of Bolted Joints, 4th ed.).
func (t *Thread) ShearAreas(L float64) (nut, screw float64) {
	k := 1 / math.Sqrt(3)
	nut = math.Pi * L / t.P * t.tolD * (t.P/2 + k*(t.tolD-t.nutD2))
	screw = math.Pi * L / t.P * t.nutD1 * (t.P/2 + k*(t.tolD2-t.nutD1))
	return nut, screw
}

// A PropertyClass is the strength of a screw.
type PropertyClass struct {
	Name   string
	Proof  float64 // stress under proof load, Pa; for stainless classes, which have none, the 0.2 % limit
	Yield  float64 // yield strength or 0.2 % limit, Pa
	Strong float64 // tensile strength, Pa
}

// classes is the table of strengths for sizes up to M16.
// Sources: ISO 898-1 for carbon and alloy steel, minimum values (seen in a
// reprint; 8.8 up to M16 as in the proof loads of ISO 898-1, seen); ISO 3506-1
// for stainless steel (seen in a reprint).
var classes = []PropertyClass{
	{"4.6", 225e6, 240e6, 400e6},
	{"5.8", 380e6, 420e6, 520e6},
	{"8.8", 580e6, 640e6, 800e6},
	{"10.9", 830e6, 940e6, 1040e6},
	{"12.9", 970e6, 1100e6, 1220e6},
	{"A2-50", 210e6, 210e6, 500e6},
	{"A2-70", 450e6, 450e6, 700e6},
	{"A4-70", 450e6, 450e6, 700e6},
	{"A4-80", 600e6, 600e6, 800e6},
}

// FindClass returns the property class of that name, or nil.
func FindClass(name string) *PropertyClass {
	for i := range classes {
		if classes[i].Name == name {
			return &classes[i]
		}
	}
	return nil
}

// preferredLengths are the usual lengths of screws, mm.
// Source: ISO 888 (from memory; the same steps seen in a handbook's table).
var preferredLengths = []float64{
	3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160,
}
