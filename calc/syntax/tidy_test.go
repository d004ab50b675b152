package syntax

import (
	"testing"

	"workings/calc/diag"
)

func TestTidy(t *testing.T) {
	const in = `

bed_x=220mm±0.2mm# bed width
bore   =   8 mm +0.02 -0.00
#frame
sum = 8mm+3mm-1mm   # stays a sum
t = -5 °C +/- 2


area = bed_x·bed_y−(4-pi)*corner_r²     #area
y = if a ≥ b and not c then -x^-2^3 else + -5
limit load : mass<=4.5 kg # lim

      else caution "Weighs {= mass to 2 sf up}."
  accepted "fine"


a_name_that_is_longer_than_most = 1
drift = belt_drift (
length : 400 mm,
    #   why
  cord: [23e-6 per K,
    2
    ],
) . hot
`
	const want = `bed_x = 220 mm ± 0.2 mm     # bed width
bore  = 8 mm +0.02 -0.00
# frame
sum   = 8 mm + 3 mm - 1 mm  # stays a sum
t     = -5 °C ± 2

area = bed_x * bed_y - (4 - pi) * corner_r^2  # area
y    = if a >= b and not c then -x^-2^3 else + -5
limit load: mass <= 4.5 kg                    # lim
  else caution "Weighs {= mass to 2 sf up}."
  accepted "fine"

a_name_that_is_longer_than_most = 1
drift = belt_drift(
  length: 400 mm,
  #   why
  cord: [23e-6 per K,
    2
  ],
).hot
`
	got, list := Tidy(diag.NewFile("design.calc", []byte(in)), nil)
	if len(list) > 0 {
		t.Fatal(list.Error())
	}
	if got != want {
		t.Errorf("got\n%s\nwant\n%s\n%s", got, want, firstDiff(want, got))
	}
	checkTidy(t, in)
}

// Every sheet and expression of the tables means the same when it is tidy.
func TestTidyTables(t *testing.T) {
	for _, c := range sheets {
		checkTidy(t, c.in)
	}
	for _, c := range exprs {
		checkTidy(t, "a = "+c.in)
	}
}

func TestTidyRefuses(t *testing.T) {
	got, list := Tidy(diag.NewFile("design.calc", []byte("a = 1\nb = \n")), nil)
	if got != "" || !list.HasErrors() {
		t.Errorf("got %q, %v", got, list)
	}
}
