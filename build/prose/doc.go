// Package prose finds numbers with units that were typed into running text by
// hand, where a figure of the design sheet should stand: "the shaft is 16 mm
// thick". Such a number stays behind when the sheet moves on.
//
// Left alone are names and addresses that hold numbers: designations of parts
// (M5x16, Tr10 × 2 mm), standards (ISO 4762), what stands in quotation marks,
// code, links, dates, times of day, and numbers that name a step, a page, a
// class or a type; and numbers without a unit.
package prose
