package unit

import "testing"

// Signs after SI brochure 5.4.1 to 5.4.3: a half-high dot, raised exponents, no
// space before the degree of plane angle only.
func TestDisplay(t *testing.T) {
	for _, c := range [][3]string{
		{"N*m", "N·m", "5\u202fN·m"},
		{"kJ/(kg*K)", "kJ/(kg·K)", "5\u202fkJ/(kg·K)"},
		{"m^2", "m²", "5\u202fm²"},
		{"s^-1", "s⁻¹", "5\u202fs⁻¹"},
		{"K^-1", "K⁻¹", "5\u202fK⁻¹"},
		{"m^-12", "m⁻¹²", "5\u202fm⁻¹²"},
		{"W/m^2", "W/m²", "5\u202fW/m²"},
		{"W/(m^2*K^4)", "W/(m²·K⁴)", "5\u202fW/(m²·K⁴)"},
		{"MPa*m^(1/2)", "MPa·m¹⁄²", "5\u202fMPa·m¹⁄²"},
		{"m^(-1/2)", "m⁻¹⁄²", "5\u202fm⁻¹⁄²"},
		{"degC", "°C", "5\u202f°C"},
		{"%", "%", "5\u202f%"},
		{"ohm", "Ω", "5\u202fΩ"},
		{"um", "µm", "5\u202fµm"},
		{"deg", "°", "5°"},
		{"°/s", "°/s", "5\u202f°/s"},
		{"EUR", "EUR", "5\u202fEUR"},
		{"", "", "5"},
	} {
		u, err := Parse(c[0])
		if err != nil {
			t.Error(err)
			continue
		}
		if got := u.Display(); got != c[1] {
			t.Errorf("%s is displayed as %q, want %q", c[0], got, c[1])
		}
		if got := Join("5", u); got != c[2] {
			t.Errorf("Join gives %q, want %q", got, c[2])
		}
		// What is displayed can be read again, but for the fraction slash.
		if v, err := Parse(u.Display()); c[1] != "MPa·m¹⁄²" && c[1] != "m⁻¹⁄²" && (err != nil || v != u) {
			t.Errorf("%q reads back as %v, %v", u.Display(), v, err)
		}
	}
	// A unit that Parse did not make does no harm.
	for _, s := range []string{"^", "m^", "m^(", "^(1/2", "*"} {
		_ = Unit{Symbol: s}.Display()
	}
}

func TestTypeset(t *testing.T) {
	for _, c := range []struct{ s, point, comma string }{
		{"0", "0", "0"},
		{"1384", "1384", "1384"},
		{"12345", "12\u202f345", "12\u202f345"},
		{"123456", "123\u202f456", "123\u202f456"},
		{"1234567", "1\u202f234\u202f567", "1\u202f234\u202f567"},
		{"12345.678", "12\u202f345.678", "12\u202f345,678"},
		{"-2.50", "−2.50", "−2,50"},
		{"0.1234", "0.1234", "0,1234"},
		{"0.12345", "0.123\u202f45", "0,123\u202f45"},
		{"-0.123456", "−0.123\u202f456", "−0,123\u202f456"},
		{"1.2e-9", "1.2\u202f×\u202f10⁻⁹", "1,2\u202f×\u202f10⁻⁹"},
		{"-1e15", "−1\u202f×\u202f10¹⁵", "−1\u202f×\u202f10¹⁵"},
	} {
		if got := Typeset(c.s, '.'); got != c.point {
			t.Errorf("Typeset(%q) = %q, want %q", c.s, got, c.point)
		}
		if got := Typeset(c.s, ','); got != c.comma {
			t.Errorf("Typeset(%q) = %q, want %q", c.s, got, c.comma)
		}
	}
}
