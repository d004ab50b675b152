package theme

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// words holds every word the theme itself writes, in one language. A new
// language is one more literal; a test asks that none of its fields is empty.
type words struct {
	Lang    string // BCP 47, for lang=
	Decimal string // decimal sign

	// The frame of a sheet
	SkipToSheet, Contents, Sheets, Sheet, Of, Registers, Release, Releases string
	AllReleases, Cover, Previous, Next, StepsHere, Step, StepOne, StepMany string
	CheckOne, CheckMany, Close, ShowWorkings, Report, ReportStep           string

	// The state of a release
	StatusCurrent, StatusCandidate, StatusEarlier, ThisIsRelease, NotReleased, CurrentIs, ThisSheetIn, NoLongerIn string
	NotInRelease, KnownErrors, FixedIn, TellRelease, ErratumOne, ErratumMany, BuildThis                           string

	// Title block
	Machine, SheetTitle, Date, PublishedBy, Licence, Checksum, MadeWith string

	// Facts of a page
	Time, People, Needs, Skill string

	// Workings
	Workings, WorkingsOf, WorkingsRest, Back, Formula, ModelFormula, GivenOnSheet, GivenInBlock, GivenHere, ValueHere, Arguments string
	Results, Inputs, Outside, Source, Range, Reason, SpreadTitle, Tolerance                                                      string
	WorstCase, Statistical, Together, BySearch, Uncertainty, Coverage, OperatingRange, LowAtHighAt, VariesWith, ShownOn          string
	UsedIn, FullEntry, OneOf, SecondWay, Agrees, Disagrees, Function, Uncertain, To                                              string
	InUse, In                                                                                                                    string

	// Calculation sheet and limits
	Reference, Calculation, Output, DesignSheet, Line, Limit, HoldsProved, HoldsSearched, HeldProved, HeldSearched, ProvedMeans, SearchedMeans    string
	Broken, BrokenBy, LimitBroken, IsNotTrue, AtWorst, AtPlace, AndMore, NoScriptFind, NoScriptChecks, NotKnown, HoldsNominal, Doubtful, Accepted string

	// Signal words
	Danger, Warning, Caution, NoticeWord string

	// Steps, parts, checks
	TakesParts, Part, Parts, ToolWord, Tools, Quantity, Material, Supply                     string
	Unrounded                                                                                string // a worked line whose printed values do not lead to the printed result
	UsedOn, Unused, Spare, Pack, Critical, Substitute, KindBought, KindMade                  string
	KindStandard, KindTool, KindConsumable, TotalMass, TotalPrice, Unpriced, Check, Expected string
	With, Reading, ReadingOf, Done, YesNo, CheckNote, NoChecks, BuiltBy                      string
	Serial                                                                                   string

	// Registers
	PartsTitle, PartsShort, PartsLead, ChecksTitle, ChecksShort, ChecksLead, LimitsTitle, LimitsShort                           string
	LimitsLead, FiguresTitle, FiguresShort, FiguresLead, MethodsTitle, MethodsShort, MethodsLead, ChangesTitle                  string
	ReasonsTitle, ReasonsLead, ReasonsAccepted, NoReasons, ReasonsNow                                                           string
	ChangesShort, ChangesLead, WholeTitle, WholeLead, HowRounded, Condition, State, MessageIf, IfBroken, WrittenOn, BrokenCount string
	BrokenTitle, NoLimits, Messages, MessagesLead, Message, Signal, Parameters, ComputedOnSheet                                 string
	Figures, Name, NoMethods, ChangedFrom, FirstRelease, NoChanges, Old, New                                                    string
	MovedBy, Added, Removed, ChangedWord, PagesChanged, LimitsChanged, PartsChanged, RedoTitle                                  string
	RedoLead, SafetyFirst, SafetyDirective, WhatIsNew, FigureOne, FigureMany, LimitOne, LimitMany                               string

	// Plots and tables
	Plot, ThisRelease, LineRuns, MapRuns, Numbers, TableWord string

	// The parts list and the files of a release
	PartsMade, PartsBought, PartsStandard, PartsConsumed, PartsNote, Massless, BySheet, CutLengths, InAll string
	ToGet, PackOne, PackMany, ReleaseFiles, FilesLead                                                     string

	// Drawings
	Drawing, DrawnSize, DrawnNumbers, DrawnAfter, Feature, Size, BeltLength                     string
	Rectangle, Circle, LineShape, Outline, Arc, Slot, Belt, DimensionWord, Place, LabelledPlace string

	// Reports of the preview
	ErrorTitle, ErrorLead, ErrorWord, FindingWord, Hint string

	// Words the script shows
	Within, TooHigh, TooLow, NotANumber, HideWorkings, StepDone, StepsDone, ClearAll, PutBack, NewerEdition, TakeNewer string

	// Search
	Find, FoundCount, NothingFound string

	// The check sheet as a file, and the copy for when there is no network
	SaveJSON, SaveCSV, ReadFile, Tally, TakenOver, UnknownChecks, Differing, OtherRelease, NoSheetFile, OfflineCopy, OfflineLead string

	// A report of a problem
	ReportTitle, ReportWrong, ReportFigures string

	// Values that are no numbers
	And, Or, Not, If, Otherwise, TableSmall, Yes, No, NotAvailable, Field, ValueOne, ValueMany, ResultOne, ResultMany, RowOne, RowMany string
}

// Count writes a number with its noun.
func (w *words) Count(n int, one, many string) string {
	if n == 1 {
		return "1" + nbsp + one
	}
	return strconv.Itoa(n) + nbsp + many
}

// capital is a word as it begins a line.
func capital(word string) string {
	first, n := utf8.DecodeRuneInString(word)
	return string(unicode.ToUpper(first)) + word[n:]
}

// signal is the signal word as it is printed.
func (w *words) signal(s string) string {
	switch s {
	case "danger":
		return w.Danger
	case "warning":
		return w.Warning
	case "caution":
		return w.Caution
	case "notice":
		return w.NoticeWord
	}
	return ""
}

func (w *words) status(s string) string {
	switch s {
	case Current:
		return w.StatusCurrent
	case Candidate:
		return w.StatusCandidate
	}
	return w.StatusEarlier
}

func (w *words) change(kind string) string {
	switch kind {
	case Added:
		return w.Added
	case Removed:
		return w.Removed
	}
	return w.ChangedWord
}

func (w *words) partKind(kind string) string {
	switch kind {
	case "bought":
		return w.KindBought
	case "made":
		return w.KindMade
	case "standard":
		return w.KindStandard
	case "tool":
		return w.KindTool
	case "consumable":
		return w.KindConsumable
	}
	return kind
}

// shape is what a shape of a drawing is called.
func (w *words) shape(word string) string {
	switch word {
	case "rectangle":
		return w.Rectangle
	case "circle":
		return w.Circle
	case "line":
		return w.LineShape
	case "arc":
		return w.Arc
	case "slot":
		return w.Slot
	case "belt":
		return w.Belt
	case "dimension":
		return w.DimensionWord
	case "note":
		return w.Place
	case "label":
		return w.LabelledPlace
	}
	return w.Outline // path and polygon
}

// fill puts names into a sentence: {release}, {current}, …
func fill(s string, pairs ...string) string {
	for i := 0; i+1 < len(pairs); i += 2 {
		s = strings.ReplaceAll(s, "{"+pairs[i]+"}", pairs[i+1])
	}
	return s
}

// wordsFor returns the words of a language; English where we have none.
func wordsFor(lang string) *words {
	base, _, _ := strings.Cut(strings.ToLower(lang), "-")
	if base == "de" {
		return &german
	}
	return &english
}

// Script gives the words that script.js shows, in the order in which it takes them.
func (w *words) Script() string {
	return strings.Join([]string{
		w.Within, w.TooHigh, w.TooLow, w.NotANumber, w.StepDone, w.ShowWorkings, w.HideWorkings, w.StepsDone,
		w.ClearAll, w.PutBack, w.NewerEdition, w.TakeNewer, w.Close, w.Back, w.Workings,
	}, "|")
}

// SheetScript gives the words that the script shows on the check sheet, in the
// order in which it takes them.
func (w *words) SheetScript() string {
	return strings.Join([]string{w.Tally, w.TakenOver, w.UnknownChecks, w.Differing, w.OtherRelease, w.NoSheetFile}, "|")
}
