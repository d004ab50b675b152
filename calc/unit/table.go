package unit

// Which prefixes a unit takes.
type prefixes int

const (
	noPrefix  prefixes = iota
	anyPrefix          // all 24 of the SI
	bigPrefix          // kilo and above: the tonne is not made smaller
	fewPrefix          // micro, milli, centi and kilo: bar, poise, stokes
)

// A row is one unit of the table.
type row struct {
	sym    string
	name   string
	dim    Dim
	factor string   // SI value of one unit: a decimal or a fraction, exact
	pi     int      // times pi to this power
	offset string   // of a temperature scale, in kelvins
	prefix prefixes // which it takes
	source string   // of the factor
}

// Sources: the SI brochure is BIPM, The International System of Units, 9th ed.
// (2019); SP 811 is NIST Special Publication 811 (2008). All factors are exact.
// eV is exact since 2019 through the elementary charge.
const (
	srcBase    = "SI brochure 9th ed. 2.3.3, table 2"
	srcDerived = "SI brochure 9th ed. 2.3.4, table 4"
	srcAccept  = "SI brochure 9th ed. 4, table 8"
	srcSP811   = "NIST SP 811 (2008) appendix B.8"
	srcISO4217 = "ISO 4217, a dimension of its own: no exchange rate is assumed"
)

// dims writes a dimension by its exponents of m, kg, s, A, K.
func dims(l, m, t, i, k int) (d Dim) {
	d[Length], d[Mass], d[Time], d[Current], d[Temperature] = int8(l*Sixths), int8(m*Sixths), int8(t*Sixths), int8(i*Sixths), int8(k*Sixths)
	return d
}

var (
	dimForce    = dims(1, 1, -2, 0, 0)
	dimPressure = dims(-1, 1, -2, 0, 0)
	dimEnergy   = dims(2, 1, -2, 0, 0)
	dimPower    = dims(2, 1, -3, 0, 0)
	dimArea     = dims(2, 0, 0, 0, 0)
	dimVolume   = dims(3, 0, 0, 0, 0)
	dimSpeed    = dims(1, 0, -1, 0, 0)
	dimDensity  = dims(-3, 1, 0, 0, 0)
	dimRotation = Dim{Angle: Sixths, Time: -Sixths}
)

// table holds every unit once. Second spellings are in spellings; only inch
// (whose in is also a word of the language) and litre have two of equal right.
var table = []row{
	// The plain number and its parts.
	{"%", "per cent", None, "1/100", 0, "", noPrefix, "SI brochure 9th ed. 5.4.7"},
	{"ppm", "parts per million", None, "1/1000000", 0, "", noPrefix, "SI brochure 9th ed. 5.4.7"},

	// Base units.
	{"m", "metre", Base(Length), "1", 0, "", anyPrefix, srcBase},
	{"g", "gram", Base(Mass), "1/1000", 0, "", anyPrefix, srcBase},
	{"s", "second", Base(Time), "1", 0, "", anyPrefix, srcBase},
	{"A", "ampere", Base(Current), "1", 0, "", anyPrefix, srcBase},
	{"K", "kelvin", Base(Temperature), "1", 0, "", anyPrefix, srcBase},
	{"mol", "mole", Base(Amount), "1", 0, "", anyPrefix, srcBase},
	{"cd", "candela", Base(Intensity), "1", 0, "", anyPrefix, srcBase},

	// Derived units with special names.
	{"rad", "radian", Base(Angle), "1", 0, "", anyPrefix, srcDerived},
	{"sr", "steradian", Dim{Angle: 2 * Sixths}, "1", 0, "", anyPrefix, srcDerived},
	{"Hz", "hertz", dims(0, 0, -1, 0, 0), "1", 0, "", anyPrefix, srcDerived},
	{"N", "newton", dimForce, "1", 0, "", anyPrefix, srcDerived},
	{"Pa", "pascal", dimPressure, "1", 0, "", anyPrefix, srcDerived},
	{"J", "joule", dimEnergy, "1", 0, "", anyPrefix, srcDerived},
	{"W", "watt", dimPower, "1", 0, "", anyPrefix, srcDerived},
	{"C", "coulomb", dims(0, 0, 1, 1, 0), "1", 0, "", anyPrefix, srcDerived},
	{"V", "volt", dims(2, 1, -3, -1, 0), "1", 0, "", anyPrefix, srcDerived},
	{"F", "farad", dims(-2, -1, 4, 2, 0), "1", 0, "", anyPrefix, srcDerived},
	{"Ω", "ohm", dims(2, 1, -3, -2, 0), "1", 0, "", anyPrefix, srcDerived},
	{"S", "siemens", dims(-2, -1, 3, 2, 0), "1", 0, "", anyPrefix, srcDerived},
	{"Wb", "weber", dims(2, 1, -2, -1, 0), "1", 0, "", anyPrefix, srcDerived},
	{"T", "tesla", dims(0, 1, -2, -1, 0), "1", 0, "", anyPrefix, srcDerived},
	{"H", "henry", dims(2, 1, -2, -2, 0), "1", 0, "", anyPrefix, srcDerived},
	{"lm", "lumen", Dim{Intensity: Sixths, Angle: 2 * Sixths}, "1", 0, "", anyPrefix, srcDerived},
	{"lx", "lux", Dim{Intensity: Sixths, Angle: 2 * Sixths, Length: -2 * Sixths}, "1", 0, "", anyPrefix, srcDerived},
	{"Bq", "becquerel", dims(0, 0, -1, 0, 0), "1", 0, "", anyPrefix, srcDerived},
	{"Gy", "gray", dims(2, 0, -2, 0, 0), "1", 0, "", anyPrefix, srcDerived},
	{"Sv", "sievert", dims(2, 0, -2, 0, 0), "1", 0, "", anyPrefix, srcDerived},
	{"kat", "katal", Dim{Amount: Sixths, Time: -Sixths}, "1", 0, "", anyPrefix, srcDerived},
	{"°C", "degree Celsius", Base(Temperature), "1", 0, "273.15", noPrefix, srcDerived},

	// Units accepted for use with the SI.
	{"min", "minute", Base(Time), "60", 0, "", noPrefix, srcAccept},
	{"h", "hour", Base(Time), "3600", 0, "", noPrefix, srcAccept},
	{"d", "day", Base(Time), "86400", 0, "", noPrefix, srcAccept},
	// Of the years of SP 811 the one by which lives and failure rates are
	// counted (ISO 13849-1: 8760 h). The tropical year is 0.07 % longer.
	{"a", "year of 365 days", Base(Time), "31536000", 0, "", noPrefix, srcSP811},
	{"°", "degree", Base(Angle), "1/180", 1, "", noPrefix, srcAccept},
	{"L", "litre", dimVolume, "1/1000", 0, "", anyPrefix, srcAccept},
	{"l", "litre", dimVolume, "1/1000", 0, "", anyPrefix, srcAccept},
	{"t", "tonne", Base(Mass), "1000", 0, "", bigPrefix, srcAccept},
	{"ha", "hectare", dims(2, 0, 0, 0, 0), "10000", 0, "", noPrefix, srcAccept},
	{"eV", "electronvolt", dimEnergy, "1.602176634e-19", 0, "", anyPrefix, srcAccept},
	{"bar", "bar", dimPressure, "100000", 0, "", fewPrefix, srcSP811},

	// What a workshop meets.
	{"inch", "inch", Base(Length), "0.0254", 0, "", noPrefix, srcSP811},
	{"in", "inch", Base(Length), "0.0254", 0, "", noPrefix, srcSP811},
	{"mil", "thousandth of an inch", Base(Length), "0.0000254", 0, "", noPrefix, srcSP811},
	{"ft", "foot", Base(Length), "0.3048", 0, "", noPrefix, srcSP811},
	{"yd", "yard", Base(Length), "0.9144", 0, "", noPrefix, srcSP811},
	{"lb", "pound, avoirdupois", Base(Mass), "0.45359237", 0, "", noPrefix, srcSP811},
	{"oz", "ounce, avoirdupois", Base(Mass), "0.028349523125", 0, "", noPrefix, srcSP811},
	{"lbf", "pound-force", dimForce, "4.4482216152605", 0, "", noPrefix, srcSP811},
	{"ozf", "ounce-force", dimForce, "0.27801385095378125", 0, "", noPrefix, srcSP811},
	{"kgf", "kilogram-force", dimForce, "9.80665", 0, "", noPrefix, srcSP811},
	{"psi", "pound-force per square inch", dimPressure, "4.4482216152605/0.00064516", 0, "", noPrefix, srcSP811},
	{"atm", "standard atmosphere", dimPressure, "101325", 0, "", noPrefix, srcSP811},
	{"mmHg", "millimetre of mercury, conventional", dimPressure, "133.322387415", 0, "", noPrefix, srcSP811},
	{"Wh", "watt hour", dimEnergy, "3600", 0, "", anyPrefix, srcSP811},
	{"Ah", "ampere hour", dims(0, 0, 1, 1, 0), "3600", 0, "", anyPrefix, srcSP811},
	{"cal_th", "calorie, thermochemical", dimEnergy, "4.184", 0, "", noPrefix, srcSP811},
	{"Btu_IT", "British thermal unit, International Table", dimEnergy, "1055.05585262", 0, "", noPrefix, srcSP811},
	{"turn", "turn", Base(Angle), "2", 1, "", noPrefix, "one revolution, 2 pi rad (ISO 80000-3)"},
	{"rpm", "turn per minute", dimRotation, "1/30", 1, "", noPrefix, srcSP811},
	{"°F", "degree Fahrenheit", Base(Temperature), "5/9", 0, "45967/180", noPrefix, srcSP811},
	{"gal_US", "gallon, US liquid, 231 cubic inches", dimVolume, "0.003785411784", 0, "", noPrefix, srcSP811},
	{"St", "stokes", dims(2, 0, -1, 0, 0), "1/10000", 0, "", fewPrefix, srcSP811},
	{"P", "poise", dims(-1, 1, -1, 0, 0), "1/10", 0, "", fewPrefix, srcSP811},

	// Currencies.
	{"EUR", "euro", Base(EUR), "1", 0, "", noPrefix, srcISO4217},
	{"USD", "US dollar", Base(USD), "1", 0, "", noPrefix, srcISO4217},
	{"GBP", "pound sterling", Base(GBP), "1", 0, "", noPrefix, srcISO4217},
	{"CHF", "Swiss franc", Base(CHF), "1", 0, "", noPrefix, srcISO4217},
	{"JPY", "yen", Base(JPY), "1", 0, "", noPrefix, srcISO4217},
	{"SEK", "Swedish krona", Base(SEK), "1", 0, "", noPrefix, srcISO4217},
	{"AUD", "Australian dollar", Base(AUD), "1", 0, "", noPrefix, srcISO4217},
	{"CAD", "Canadian dollar", Base(CAD), "1", 0, "", noPrefix, srcISO4217},
}

// spellings are second ways to write a unit, with any prefix that it takes: in
// plain ASCII where keyboards lack a sign, and single characters for °C and °F.
var spellings = []struct{ alias, sym string }{
	{"ohm", "Ω"}, {"degC", "°C"}, {"degF", "°F"}, {"deg", "°"}, {"\u2103", "°C"}, {"\u2109", "°F"},
}

// The prefixes of the SI (SI brochure 9th ed. 3, table 7).
var prefixTable = []struct {
	sym, name string
	exp       int
}{
	{"q", "quecto", -30}, {"r", "ronto", -27}, {"y", "yocto", -24}, {"z", "zepto", -21}, {"a", "atto", -18}, {"f", "femto", -15},
	{"p", "pico", -12}, {"n", "nano", -9}, {"µ", "micro", -6}, {"m", "milli", -3}, {"c", "centi", -2}, {"d", "deci", -1},
	{"da", "deca", 1}, {"h", "hecto", 2}, {"k", "kilo", 3}, {"M", "mega", 6}, {"G", "giga", 9}, {"T", "tera", 12},
	{"P", "peta", 15}, {"E", "exa", 18}, {"Z", "zetta", 21}, {"Y", "yotta", 24}, {"R", "ronna", 27}, {"Q", "quetta", 30},
}
