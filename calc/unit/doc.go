// Package unit knows units of measurement: it reads them, checks their
// dimensions, converts, chooses the unit and the digits in which a number is
// shown, and sets both for a page.
//
// A quantity is kept as its SI value; a Unit says how an author wrote it and
// how it is shown. Factors are exact rational numbers (times a power of pi for
// plane angles) until one float64 is made of them, so that each is the float64
// nearest to its definition.
//
// # What was decided
//
// Angle is a base quantity of its own (rad), and the turn is 2π rad. So rpm is
// an angular speed, Hz is 1/s, and 60 rpm cannot be converted to Hz. The
// steradian is rad², the lumen cd·rad². See Dim.
//
// Torque and energy share a dimension, as in the SI. ProductHint shows a force
// times a length in N*m and a power times a time in J.
//
// °C and °F name points on a scale. They stand alone; in a compound unit and
// for a difference there is K only.
//
// A division by mK alone is refused: W/mK is printed for W/(m*K) too often to
// be taken as it stands.
//
// Every currency is a base quantity: no rate of exchange is assumed.
//
// Decibel, neper, minute and second of arc, dalton and astronomical unit are
// left out, and so are horsepower, gallon and calorie without a qualifier:
// there are several of each. ° and % stand where the SI has them.
package unit
