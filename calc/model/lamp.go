package model

import (
	"fmt"
	"math"
)

// A LampLaw says how a tubular lamp sends its power to different directions.
type LampLaw int

// The laws. A diffuse cylinder looks equally bright from all sides; an
// isotropic line sends the same intensity everywhere.
const (
	Diffuse LampLaw = iota
	Isotropic
)

// A Lamp is a straight, thin, tubular lamp above a horizontal bed. The origin
// is the middle of the bed's surface, z points up.
type Lamp struct {
	X, Y, Z float64 // middle of the heated length, m
	Length  float64 // heated length, > 0, m
	Angle   float64 // of the axis in plan, 0 along x, rad
	Tilt    float64 // rise of the axis above the horizontal, rad
	Flux    float64 // radiant power, ≥ 0, W
}

// axis returns the unit vector along the lamp.
func (l Lamp) axis() (x, y, z float64) {
	c := math.Cos(l.Tilt)
	return c * math.Cos(l.Angle), c * math.Sin(l.Angle), math.Sin(l.Tilt)
}

// LampIrradiance returns the irradiance at the point (px, py, pz) of a
// surface that faces up, from one lamp:
//
//	E = Φ/(2 π² L d) { (n·e) [φ + ½ sin 2φ] + (n·u) [sin² φ] }   diffuse cylinder
//	E = Φ/(4 π L d)  { (n·e) [sin φ]        - (n·u) [cos φ]  }   isotropic line
//
//	Φ      radiant power of the lamp                                W
//	L      heated length                                            m
//	d      distance of the point from the lamp's axis               m
//	e, u   unit vectors from the point to the foot of d, along the axis
//	n      normal of the surface, straight up
//	φ      angle at the point between the foot and a place on the axis;
//	       brackets are taken from one end of the lamp to the other  rad
//	E      irradiance                                               W/m²
//
// Only the part of the lamp above the plane of the point counts. The formulas
// are exact for a line. Against the surface of a cylinder of radius r they are
// off by about -r/(6 d) under the lamp, and by several times that in the other
// direction beyond its ends, where little of the power goes.
// Errors: none; E is +Inf for a point on the lamp itself.
// Source: derived by integrating the intensity Φ/(π² L) sin ψ (diffuse) or
// Φ/(4 π L) (isotropic) of each unit of length; under the middle of the lamp
// the first is the relation of Keitz, Light Calculations and Measurements,
// 1971 (relation seen in proceedings that quote it).
func LampIrradiance(lamp Lamp, law LampLaw, px, py, pz float64) float64 {
	s := newLine(lamp, law)
	return s.irradiance(px, py, pz)
}

// A line is a lamp made ready for many points.
type line struct {
	ax, ay, az float64 // first end
	ux, uy, uz float64 // unit vector along
	length     float64
	k          float64 // intensity per length and solid angle, with the law's constant, W/m
	law        LampLaw
}

func newLine(l Lamp, law LampLaw) line {
	ux, uy, uz := l.axis()
	h := l.Length / 2
	s := line{l.X - h*ux, l.Y - h*uy, l.Z - h*uz, ux, uy, uz, l.Length, l.Flux / (2 * math.Pi * math.Pi * l.Length), law}
	if law == Isotropic {
		s.k = l.Flux / (4 * math.Pi * l.Length)
	}
	return s
}

func (l *line) irradiance(px, py, pz float64) float64 {
	dx, dy, dz := l.ax-px, l.ay-py, l.az-pz
	s1 := dx*l.ux + dy*l.uy + dz*l.uz               // along the axis from the foot to the first end
	fx, fy, a := dx-s1*l.ux, dy-s1*l.uy, dz-s1*l.uz // from the point to the foot; a = d (n·e)
	d2 := fx*fx + fy*fy + a*a
	s2 := s1 + l.length
	// Clip what lies below the plane of the point, where a + s uz < 0.
	switch {
	case l.uz > 0:
		s1 = max(s1, -a/l.uz)
	case l.uz < 0:
		s2 = min(s2, -a/l.uz)
	case a <= 0:
		return 0
	}
	if s1 >= s2 {
		return 0
	}
	r1, r2 := d2+s1*s1, d2+s2*s2 // squares of the distances to the ends
	long, mid := s2-s1, s1+s2
	same := s1*s2 > 0 // the foot lies beyond an end: d may go to zero
	if l.law == Isotropic {
		q1, q2 := math.Sqrt(r1), math.Sqrt(r2)
		along := l.uz * long * mid / (q1 * q2 * (q1 + q2))
		if same { // [sin φ]/d² without its cancellation
			return l.k * (a*long*mid/(q1*q2*(s2*q1+s1*q2)) + along)
		}
		return l.k * (a/d2*(s2/q2-s1/q1) + along)
	}
	d := math.Sqrt(d2)
	if same {
		s1, s2 := math.Abs(s1), math.Abs(s2)
		if near, far := min(s1, s2), max(s1, s2); d < 0.1*near {
			if d == 0 {
				return 0 // a diffuse cylinder is dark end on
			}
			return l.k * (a/d2*(endOn(d/near)-endOn(d/far)) + l.uz*d*long*mid/(r1*r2))
		}
	}
	// [φ + ½ sin 2φ] and [sin² φ] over one denominator: most of the time of a
	// field goes into this line.
	r := r1 * r2
	bracket := math.Atan2(d*long, d2+s1*s2)*r + d*long*(d2-s1*s2)
	return l.k * (a*bracket + l.uz*d2*d*long*mid) / (d2 * r)
}

// endOn is atan q - q/(1+q²) for 0 ≤ q ≤ 0.1, by its series.
func endOn(q float64) float64 {
	q2 := q * q
	s := 0.0
	for k := 8; k >= 1; k-- {
		s = float64(2*k)/float64(2*k+1) - q2*s
	}
	return q * q2 * s
}

// A LampBank is a set of lamps, with or without a mirror above them.
type LampBank struct {
	Lamps       []Lamp
	Law         LampLaw
	Mirror      bool    // a large flat specular reflector lies above the lamps
	MirrorZ     float64 // its height above the bed, m
	Reflectance float64 // 0 to 1
}

// lines returns the lamps and their images in the mirror: an image lies as far
// above the mirror as its lamp lies below, and sends Reflectance of the power.
func (b *LampBank) lines() []line {
	var all []line
	for _, l := range b.Lamps {
		all = append(all, newLine(l, b.Law))
		if b.Mirror {
			l.Z = 2*b.MirrorZ - l.Z
			l.Tilt = -l.Tilt
			l.Flux *= b.Reflectance
			all = append(all, newLine(l, b.Law))
		}
	}
	return all
}

// Irradiance returns the irradiance of a surface facing up at a point, W/m².
// It is the sum of LampIrradiance over the lamps and their images.
func (b *LampBank) Irradiance(px, py, pz float64) float64 {
	sum := 0.0
	for _, l := range b.lines() {
		sum += l.irradiance(px, py, pz)
	}
	return sum
}

// Field returns the irradiance, W/m², of a horizontal bed bx by by (m) at z = 0
// on n by n evenly spaced nodes that include its edges; n is odd, so that one
// node is the middle.
func (b *LampBank) Field(bx, by float64, n int) *Map {
	m := &Map{X: nodes(bx, n), Y: nodes(by, n), Z: make([]float64, n*n)}
	for _, l := range b.lines() {
		for j, y := range m.Y {
			row := m.Z[j*n : (j+1)*n]
			for i, x := range m.X {
				row[i] += l.irradiance(x, y, 0)
			}
		}
	}
	return m
}

// nodes returns n positions from -length/2 to length/2, symmetric to the bit.
func nodes(length float64, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = length / 2 * (float64(2*i-n+1) / float64(n-1))
	}
	return x
}

// Radiant returns the radiant power of all lamps, W.
func (b *LampBank) Radiant() float64 {
	sum := 0.0
	for _, l := range b.Lamps {
		sum += l.Flux
	}
	return sum
}

// check refuses a bank that cannot be.
func (b *LampBank) check() error {
	for i, l := range b.Lamps {
		_, _, uz := l.axis()
		top := l.Z + math.Abs(uz)*l.Length/2
		if b.Mirror && top > b.MirrorZ {
			return Bad("reflector_height", "lamp %d reaches above the reflector: %s, but the reflector lies at %s", i+1, show(top, "m"), show(b.MirrorZ, "m"))
		}
	}
	return nil
}

// low returns the lamps that reach below the bed, as text, or "".
func (b *LampBank) low() string {
	for i, l := range b.Lamps {
		_, _, uz := l.axis()
		if bottom := l.Z - math.Abs(uz)*l.Length/2; bottom < 0 {
			return fmt.Sprintf("lamp %d reaches below the bed; only the part above it counts", i+1)
		}
	}
	return ""
}
