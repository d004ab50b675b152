package syntax

// The codes of the errors that this package reports. They are stable: scripts
// and reports for machines may rely on them. Each is described with a text that
// gives it; texts that start with {= are inline figures, the others lines of a sheet.
const (
	// CodeTooLarge is given for a text of more than 4 MiB. Nothing of it is parsed.
	// (No example: it would be too large.)
	CodeTooLarge = "too-large"

	// CodeTooDeep is given where brackets, signs or conditionals are nested more
	// than 200 deep.
	// (No example: it would not be readable.)
	CodeTooDeep = "too-deep"

	// CodeTooLong is given for a line with more than 10,000 values and operators.
	// (No example: it would not be readable.)
	CodeTooLong = "too-long"

	// CodeTooMany stands in the place of all further errors when a text has more
	// than 100.
	// (No example: it would not be readable.)
	CodeTooMany = "too-many-errors"

	// CodeInvalidUTF8 is given for bytes that are no UTF-8 text.
	//
	// Example:
	//	depth = 5 mm # \xff
	CodeInvalidUTF8 = "invalid-utf8"

	// CodeHiddenCharacter is given for a character that cannot be seen: a control
	// character, a space of no width, a mark that turns the direction of writing.
	//
	// Example:
	//	depth = 5 mm # \u202e
	CodeHiddenCharacter = "hidden-character"

	// CodeBadCharacter is given for a character or sign that has no meaning in the
	// language.
	//
	// Example:
	//	area = width ** 2
	CodeBadCharacter = "bad-character"

	// CodeBadNumber is given for a number that is written in another way than
	// `1234.5` or `1.2e-3`.
	//
	// Example:
	//	density = 0,46 g/cm^3
	CodeBadNumber = "bad-number"

	// CodeNumberRange is given for a number that is too large or too small to be
	// kept in full precision.
	//
	// Example:
	//	huge = 1e999
	CodeNumberRange = "number-range"

	// CodeOpenText is given for a text without its closing quote.
	//
	// Example:
	//	bulk = 0.46 g/cm^3 from "measured
	CodeOpenText = "open-text"

	// CodeEmptyText is given for an empty source, reason or message.
	//
	// Example:
	//	bulk = 0.46 g/cm^3 from ""
	CodeEmptyText = "empty-text"

	// CodeBadEscape is given for a backslash in a text before anything but a quote,
	// a backslash or n.
	//
	// Example:
	//	bulk = 0.46 g/cm^3 from "C:\fills"
	CodeBadEscape = "bad-escape"

	// CodeBadUnit is given for a unit text that is no unit.
	//
	// Example:
	//	depth = 5 mmm
	CodeBadUnit = "bad-unit"

	// CodeNoUnit is given where `in` or `per` is not followed by a unit.
	//
	// Example:
	//	depth = bed_x in 3
	CodeNoUnit = "no-unit"

	// CodeUnexpected is given for something that is understood but cannot stand
	// where it stands.
	//
	// Example:
	//	depth = 5 mm * )
	CodeUnexpected = "unexpected"

	// CodeNoOperator is given for two values without an operator between them.
	//
	// Example:
	//	area = 2 (width + depth)
	CodeNoOperator = "no-operator"

	// CodeNotALine is given for a line that is no statement.
	//
	// Example:
	//	width + depth
	CodeNotALine = "not-a-line"

	// CodeBadName is given for a name that cannot be one.
	//
	// Example:
	//	bed width = 220 mm
	CodeBadName = "bad-name"

	// CodeReserved is given for a reserved word in the place of a name.
	//
	// Example:
	//	limit = 4 kg
	CodeReserved = "reserved-word"

	// CodeUnclosed is given for a bracket that is not closed.
	//
	// Example:
	//	area = 2 * (width + depth
	CodeUnclosed = "unclosed-bracket"

	// CodeUnopened is given for a closing bracket that nothing opened.
	//
	// Example:
	//	area = 2 * width + depth)
	CodeUnopened = "unopened-bracket"

	// CodeChained is given for comparisons in a row.
	//
	// Example:
	//	limit fit: 1 mm < gap < 2 mm
	CodeChained = "chained-comparison"

	// CodeSingleEquals is given for `=` where values are compared or an argument
	// is named.
	//
	// Example:
	//	limit fit: gap = 2 mm
	CodeSingleEquals = "single-equals"

	// CodeConversion is given where a conversion stands as part of a sum or
	// product, or is converted again.
	//
	// Example:
	//	mass = volume in L * bulk
	CodeConversion = "conversion"

	// CodePowerOfUnit is given for a power of a number with a unit, which could
	// be read as a power of the unit alone.
	//
	// Example:
	//	area = 5 mm ^ 2
	CodePowerOfUnit = "power-of-unit"

	// CodeFractionUnit is given for a unit behind a fraction, which would belong
	// to the lower number alone.
	//
	// Example:
	//	gap = 1/2 mm
	CodeFractionUnit = "fraction-unit"

	// CodeNoElse is given for a conditional without `then` or `else`.
	//
	// Example:
	//	gap = if wide then 2 mm
	CodeNoElse = "no-else"

	// CodeBareIf is given for a conditional without brackets inside a larger
	// expression.
	//
	// Example:
	//	gap = 1 mm + if wide then 2 mm else 1 mm
	CodeBareIf = "bare-if"

	// CodeEmptyList is given for a list without items, which would have no unit.
	//
	// Example:
	//	gaps = []
	CodeEmptyList = "empty-list"

	// CodeBadCall is given for a call of what has no name, and for arguments in a
	// form that cannot be told apart.
	//
	// Example:
	//	drift = belt_drift(length: 400 mm, 23e-6 per K)
	CodeBadCall = "bad-call"

	// CodeBadParameter is given for a function whose parameters are not plain
	// names, each once.
	//
	// Example:
	//	sag(d, d) = d / 2
	CodeBadParameter = "bad-parameter"

	// CodeSpreadOfFormula is given for a tolerance, uncertainty or range behind
	// anything but a number.
	//
	// Example:
	//	width = bed_x + 5 mm ± 1 mm
	CodeSpreadOfFormula = "spread-of-formula"

	// CodeSpreadValue is given for a tolerance, uncertainty or range that is no
	// number, or has a sign it cannot have.
	//
	// Example:
	//	width = 220 mm ± play
	CodeSpreadValue = "spread-value"

	// CodeTwice is given for a clause that stands twice on a line.
	//
	// Example:
	//	width = 220 mm ± 1 mm ± 2 mm
	CodeTwice = "clause-twice"

	// CodeDeviation is given for signed numbers behind a value that read like a
	// tolerance and like a sum.
	//
	// Example:
	//	width = 220 mm -0.1 mm -0.2 mm
	CodeDeviation = "deviation"

	// CodeBareValue is given where a spread has a unit but its value has none.
	//
	// Example:
	//	room = 18 to 30 °C
	CodeBareValue = "bare-value"

	// CodePercentOfPercent is given for a tolerance or uncertainty in percent of a
	// value that is itself in percent: 60 % ± 5 % has two readings.
	//
	// Example:
	//	humidity = 60 % ± 5 %
	CodePercentOfPercent = "percent-of-percent"

	// CodeBadShape is given for an uncertainty whose distribution is not known, or
	// does not go with a coverage factor.
	//
	// Example:
	//	bulk = 0.46 g/cm^3 uncertain 5 % gaussian
	CodeBadShape = "bad-shape"

	// CodeMisplaced is given for a clause that does not belong to the kind of line
	// it stands on.
	//
	// Example:
	//	width = 220 mm accepted "as it is"
	CodeMisplaced = "misplaced-clause"

	// CodeSignal is given where a signal word is wanted and none of the four
	// stands.
	//
	// Example:
	//	limit load: mass <= 4.5 kg else WARNING "Too heavy."
	CodeSignal = "signal-word"

	// CodeNoWithin is given for a cross-check that does not say how far off the
	// estimate may be.
	//
	// Example:
	//	crosscheck mass: 10 L * 0.4 kg/L
	CodeNoWithin = "no-within"

	// CodeOpenInline is given for an inline figure in a message that has no
	// closing brace.
	//
	// Example:
	//	limit load: mass <= 4.5 kg else caution "Weighs {= mass."
	CodeOpenInline = "open-inline"

	// CodeRounding is given for a rounding that is none of the known ones.
	//
	// Example:
	//	{= mass to 3 digits}
	CodeRounding = "rounding"
)
