package theme

// releaseWords are the words about releases: their errors, how to tell them
// apart, where a sheet went, and the feed.
type releaseWords struct {
	ErrataTitle, ErrataLead, NoErrata, Wrong, Right, Since, FixedIn, Where, WholeRelease, Figure, GuardedBy, AllErrata string
	Recomputed                                                                                                         string
	WhichTitle, WhichLead, LookAt, NoFeatures, NotStated, ThisOne, LabelTitle, LabelLead, SourceAt                     string
	GoneTitle, GoneText, GoneMoved, GoneNearest, GoneLast, GoneCover, MovedOn                                          string
	FeedTitle, FeedRelease, FeedErratum, FeedChanged, FeedSame, FeedFirst, FeedWas, FeedNew, FeedGone                  string
}

func (w *words) releaseWords() *releaseWords {
	if w.Lang == "de" {
		return &germanReleases
	}
	return &englishReleases
}

var englishReleases = releaseWords{
	ErrataTitle: "Known errors", ErrataLead: "What is known to be wrong in this release. The release itself stays as it was issued.",
	NoErrata: "No error of this release is known.", Wrong: "What is wrong", Right: "What is right", Since: "Known since",
	FixedIn: "Put right in", Where: "Where", WholeRelease: "the release as a whole", Figure: "figure",
	GuardedBy: "Kept from coming back by the limit", AllErrata: "All known errors of this release",
	Recomputed: "This release was issued with {figure} = {sealed}, computed by {tool}. This site computes {now}.",
	WhichTitle: "Which release do I have?", WhichLead: "What to look for on the machine.",
	LookAt: "Look at", NoFeatures: "The designer names no feature by which the releases can be told apart: go by the label.",
	NotStated: "not stated", ThisOne: "this release", LabelTitle: "Label for the machine",
	LabelLead: "Print it, or write it by hand, and put it where it stays with the machine.", SourceAt: "Source:",
	GoneTitle:   "This sheet is not in release {release}",
	GoneText:    "The current release, {release}, has no sheet “{title}”.",
	GoneMoved:   "What it said is now on this sheet:",
	GoneNearest: "The nearest sheet of the current release:",
	GoneLast:    "It stands as it was in release",
	GoneCover:   "Cover sheet of release",
	MovedOn:     "The current release is {release}:",
	FeedTitle:   "{machine}: releases and errors", FeedRelease: "Release {release}", FeedErratum: "Error in release {release}",
	FeedChanged: "Figures that changed since release {release}:", FeedSame: "No figure changed since release {release}.",
	FeedFirst: "The first release.", FeedWas: "{new}, was {old}", FeedNew: "{new}, new", FeedGone: "gone, was {old}",
}

var germanReleases = releaseWords{
	ErrataTitle: "Bekannte Fehler", ErrataLead: "Was an dieser Ausgabe bekanntermaßen falsch ist. Die Ausgabe selbst bleibt, wie sie erschienen ist.",
	NoErrata: "Von dieser Ausgabe ist kein Fehler bekannt.", Wrong: "Was falsch ist", Right: "Was richtig ist", Since: "Bekannt seit",
	FixedIn: "Behoben in", Where: "Wo", WholeRelease: "die Ausgabe im Ganzen", Figure: "Wert",
	GuardedBy: "Vor der Wiederkehr bewahrt die Grenze", AllErrata: "Alle bekannten Fehler dieser Ausgabe",
	Recomputed: "Diese Ausgabe erschien mit {figure} = {sealed}, berechnet mit {tool}. Diese Fassung berechnet {now}.",
	WhichTitle: "Welche Ausgabe habe ich?", WhichLead: "Worauf an der Maschine zu achten ist.",
	LookAt: "Ansehen", NoFeatures: "Kein Merkmal ist genannt, an dem sich die Ausgaben unterscheiden lassen: Es gilt das Schild.",
	NotStated: "nicht angegeben", ThisOne: "diese Ausgabe", LabelTitle: "Schild für die Maschine",
	LabelLead: "Drucken oder von Hand schreiben und so anbringen, dass es bei der Maschine bleibt.", SourceAt: "Quelle:",
	GoneTitle:   "Dieses Blatt gibt es in Ausgabe {release} nicht",
	GoneText:    "Die aktuelle Ausgabe {release} hat kein Blatt „{title}“.",
	GoneMoved:   "Was darauf stand, steht jetzt auf diesem Blatt:",
	GoneNearest: "Das nächstliegende Blatt der aktuellen Ausgabe:",
	GoneLast:    "Es steht unverändert in Ausgabe",
	GoneCover:   "Deckblatt der Ausgabe",
	MovedOn:     "Die aktuelle Ausgabe ist {release}:",
	FeedTitle:   "{machine}: Ausgaben und Fehler", FeedRelease: "Ausgabe {release}", FeedErratum: "Fehler in Ausgabe {release}",
	FeedChanged: "Werte, die sich seit Ausgabe {release} geändert haben:", FeedSame: "Kein Wert hat sich seit Ausgabe {release} geändert.",
	FeedFirst: "Die erste Ausgabe.", FeedWas: "{new}, war {old}", FeedNew: "{new}, neu", FeedGone: "entfallen, war {old}",
}
