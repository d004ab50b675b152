package build

import (
	"workings/calc/diag"
)

// The audit reports what can be wrong with a manual that can be computed. A
// finding is fixed, or accepted in writing at its place, with its code and the
// reason:
//
//	<!-- accepted typed-number: the shop sells it so -->    in a page, before a block or inside it
//	# accepted unused-figure: the next release needs it     on a sheet, above a line
//	unused-part: kept for repairs                           in the column accepted of parts.csv
//	accepted "two people lift it"                           at the end of a limit
//
// An error cannot be accepted in this way, but for that of a limit: with one,
// nothing is published.

// AuditRules says what the audit of a computed release looks for, by the codes
// of its findings. What a page, a sheet or the parts list says wrongly has
// codes of its own, reported where it is read.
var AuditRules = map[string]string{
	"typed-number":       "A number with a unit stands in the text by hand, where a figure should be",
	"unused-figure":      "A figure is shown nowhere, and no limit, plot, part or check needs it",
	"idle-parameter":     "A parameter is used, but only by figures that are not",
	"silent-limit":       "A limit has no message: where it is broken, no reader is told",
	"limit-broken":       "A limit does not hold",
	"limit-searched":     "A limit holds where it was searched, and is not proved to hold everywhere",
	"unused-part":        "A part or tool is on the list, and no step takes it",
	"part-quantity":      "The steps take another quantity of a part than its line says",
	"unknown-instrument": "A check is made with what is not on the tools list",
	"large-picture":      "A picture has more bytes or pixels than a page needs",
	"page-order":         "The order of the pages is not stated, or goes against what they need",
	"late-caution":       "A safety message stands behind what it warns of",
	"broken-link":        "A link of the published site leads nowhere",
	"same-id":            "A published page has two places of the same name",
	"acceptance":         "An acceptance is not written as it must be",
	"stale-acceptance":   "An acceptance has nothing to accept any more",
}

// ReleaseRules says the same of what the releases of a manual tell together,
// and of what the numbers themselves show.
var ReleaseRules = map[string]string{
	"record":          "A figure is not what it was when the figures were last recorded",
	"sealed-figure":   "A sealed release is computed to another value than it was sealed with",
	"unsealed-zip":    "A release is a zip without a checksum",
	"errata-limit":    "The limit that keeps an error of an earlier release from coming back is gone",
	"feature":         "Nothing on the machine tells two releases apart",
	"safety-loss":     "A safety message or limit is weaker than in the release before",
	"moved-page":      "A page is said to have moved and has not",
	"uncertain-limit": "The uncertainty of a limit is larger than its margin",
	"curved":          "The slopes at the nominal values do not describe an uncertainty",
	"outside-range":   "An argument lies outside the range of validity of a model",
	"crosscheck":      "A second way to a figure comes to another value",
	"no-spread":       "A figure has no value within the stated ranges and tolerances",
	"limit-unknown":   "A limit cannot be judged on its worst case",
}

// audit reports what follows from a computed release. What is unused is told
// only of a complete release: in one with mistakes, the line that failed may
// be what uses it.
func audit(r *Release, complete bool) diag.List {
	var list diag.List
	auditProse(r, &list)
	auditPanels(r, &list)
	auditPictures(r, &list)
	auditOrder(r, &list)
	auditSilent(r, &list)
	if complete {
		auditUnused(r, &list)
		auditParts(r, &list)
	}
	return list
}
