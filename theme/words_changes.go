package theme

// changeWords are the words of the page of changes.
type changeWords struct {
	// Heads and leads
	SafetyTitle, SafetyLead, BuyTitle, BuyLead, LeftTitle, AgainTitle, AgainLead, TablesTitle, ChecksTitle, FiguresLead, HowShared, FreshTitle, GoneTitle string

	// Causes
	Change, FormulaOf, FunctionOf, TableOf, TogetherOf, Through, MoreWays, MoreCauses string

	// Losses of safety
	LossSignal, LossDropped, LossMessage, LossWider, LossCondition, LimitNamed, MessageOn, MessageNamed string

	// Limits
	NewCondition, NewBound, NewSignal, NewMessage, NewState, NewAccepted, BrokenAccepted, SearchedAccepted string

	// Reasons to do a step again
	NewPage, NewStep, Reworded, Was, Takes, NoLongerTakes, CheckNow, CheckNew string

	// Parts, checks, tables
	OtherPart, NoNumber, CheckOther, OneStep, RowsAdded, RowsRemoved, YesOrNo, Words string
}

func (w *words) changeWords() *changeWords {
	if w.Lang == "de" {
		return &germanChanges
	}
	return &englishChanges
}

var englishChanges = changeWords{
	SafetyTitle: "Where this release warns less",
	SafetyLead:  "Signal words that are lower, safety messages that are gone, and limits that leave more room than before.",
	BuyTitle:    "To get",
	BuyLead:     "What the steps take, less what the steps of the earlier release took.",
	LeftTitle:   "Left over",
	AgainTitle:  "Checks to repeat",
	AgainLead:   "They are new, expect something else, or belong to a step that is done again.",
	TablesTitle: "Tables",
	ChecksTitle: "Checks",
	FiguresLead: "Each with what moved it, and by how much.",
	FreshTitle:  "New in this release",
	GoneTitle:   "No longer there",
	HowShared: "The share of a cause is what the figure moves by when this cause alone goes from its earlier to its present state, the others being as before or as now: " +
		"the mean over every order in which the causes can be taken one after the other (of more than eight causes, over a balanced choice of orders). " +
		"The shares of a figure sum to its change. All are computed on nominal values.",

	Change:     "change {amount}",
	FormulaOf:  "formula of {name}",
	FunctionOf: "function {name}",
	TableOf:    "table {name}",
	TogetherOf: "together: {name}",
	Through:    "through",
	MoreWays:   "further ways: {n}",
	MoreCauses: "{n} more causes",

	LossSignal:    "lower signal word",
	LossDropped:   "gone",
	LossMessage:   "says nothing any more",
	LossWider:     "leaves more room",
	LossCondition: "asks something else",
	LimitNamed:    "limit {name}",
	MessageOn:     "safety message on {page}",
	MessageNamed:  "safety message {name} on {page}",

	NewCondition:   "condition",
	NewBound:       "bound",
	NewSignal:      "signal word",
	NewMessage:     "message",
	NewState:       "state",
	NewAccepted:    "acceptance",
	BrokenAccepted: "broken, accepted", SearchedAccepted: "holds where searched, accepted",

	NewPage:       "new sheet",
	NewStep:       "new step",
	Reworded:      "reads differently",
	Was:           "{name} {new}, was {old}",
	Takes:         "takes {name}, {new}",
	NoLongerTakes: "no longer takes {name}, {old}",
	CheckNow:      "check “{name}” expects {new}, was {old}",
	CheckNew:      "new check “{name}”",

	OtherPart:   "in place of another of the same name",
	NoNumber:    "number not available",
	CheckOther:  "expects something else",
	OneStep:     "its step is done again",
	RowsAdded:   "rows new: {n}",
	RowsRemoved: "rows gone: {n}",
	YesOrNo:     "yes or no",
	Words:       "its words differ",
}

var germanChanges = changeWords{
	SafetyTitle: "Wo diese Ausgabe weniger warnt",
	SafetyLead:  "Schwächere Signalwörter, entfallene Sicherheitshinweise und Grenzen, die mehr zulassen als zuvor.",
	BuyTitle:    "Zu beschaffen",
	BuyLead:     "Was die Schritte brauchen, abzüglich dessen, was die Schritte der früheren Ausgabe brauchten.",
	LeftTitle:   "Bleibt übrig",
	AgainTitle:  "Zu wiederholende Prüfungen",
	AgainLead:   "Sie sind neu, erwarten etwas anderes oder gehören zu einem Schritt, der noch einmal getan wird.",
	TablesTitle: "Tabellen",
	ChecksTitle: "Prüfungen",
	FiguresLead: "Jede Größe mit dem, was sie verändert hat, und um wie viel.",
	FreshTitle:  "Neu in dieser Ausgabe",
	GoneTitle:   "Nicht mehr da",
	HowShared: "Der Anteil einer Ursache ist das, worum sich die Größe ändert, wenn allein diese Ursache vom früheren zum jetzigen Stand übergeht, während die anderen noch früher oder schon jetzig sind: " +
		"das Mittel über jede Reihenfolge, in der die Ursachen nacheinander genommen werden können (bei mehr als acht Ursachen über eine ausgewogene Auswahl von Reihenfolgen). " +
		"Die Anteile einer Größe ergeben zusammen ihre Änderung. Alles ist mit Nennwerten gerechnet.",

	Change:     "Änderung {amount}",
	FormulaOf:  "Formel von {name}",
	FunctionOf: "Funktion {name}",
	TableOf:    "Tabelle {name}",
	TogetherOf: "zusammen: {name}",
	Through:    "über",
	MoreWays:   "weitere Wege: {n}",
	MoreCauses: "{n} weitere Ursachen",

	LossSignal:    "schwächeres Signalwort",
	LossDropped:   "entfallen",
	LossMessage:   "sagt nichts mehr",
	LossWider:     "lässt mehr zu",
	LossCondition: "verlangt etwas anderes",
	LimitNamed:    "Grenze {name}",
	MessageOn:     "Sicherheitshinweis auf {page}",
	MessageNamed:  "Sicherheitshinweis {name} auf {page}",

	NewCondition:   "Bedingung",
	NewBound:       "Grenzwert",
	NewSignal:      "Signalwort",
	NewMessage:     "Meldung",
	NewState:       "Zustand",
	NewAccepted:    "Annahme",
	BrokenAccepted: "verletzt, angenommen", SearchedAccepted: "eingehalten, wo gesucht wurde, angenommen",

	NewPage:       "neues Blatt",
	NewStep:       "neuer Schritt",
	Reworded:      "lautet anders",
	Was:           "{name} {new}, bisher {old}",
	Takes:         "braucht {name}, {new}",
	NoLongerTakes: "braucht nicht mehr {name}, {old}",
	CheckNow:      "Prüfung „{name}“ erwartet {new}, bisher {old}",
	CheckNew:      "neue Prüfung „{name}“",

	OtherPart:   "anstelle eines anderen gleichen Namens",
	NoNumber:    "Anzahl nicht verfügbar",
	CheckOther:  "erwartet etwas anderes",
	OneStep:     "ihr Schritt wird noch einmal getan",
	RowsAdded:   "neue Zeilen: {n}",
	RowsRemoved: "entfallene Zeilen: {n}",
	YesOrNo:     "ja oder nein",
	Words:       "ihre Worte sind andere",
}
