package work

import "driftreach/internal/check"

// The rules of this package. A rejected work has an Error; what was left out or
// made up has a Warning or a Note.
var (
	ruleEmpty      = check.Rule{Code: "work-empty", Severity: check.Error, Remedy: "draw the work's place, or remove the row"}
	ruleNotFinite  = check.Rule{Code: "work-not-finite", Severity: check.Error, Remedy: "repair the vertex that is no number"}
	ruleOutOfRange = check.Rule{Code: "work-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --works-crs, as in EPSG:26911"}
	ruleNullIsland = check.Rule{Code: "work-null-island", Severity: check.Error, Remedy: "enter the true place"}
	ruleDuplicate  = check.Rule{Code: "work-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleSameID     = check.Rule{Code: "work-id-duplicate", Severity: check.Warning, Remedy: "give each work a work_id of its own"}
	ruleNoID       = check.Rule{Code: "work-id-missing", Severity: check.Note, Remedy: "fill in work_id, so that a notice can be followed up"}
	ruleKind       = check.Rule{Code: "work-kind-other", Severity: check.Note, Remedy: "use mowing, earthwork or channel work, map the word under [values.kind], or leave it: it is printed as it stands"}
	ruleNoKind     = check.Rule{Code: "work-kind-missing", Severity: check.Note, Remedy: "fill in kind: mowing, earthwork or channel work"}
	ruleBackwards  = check.Rule{Code: "work-dates-reversed", Severity: check.Warning, Remedy: "put the earlier day into start_date"}
	ruleNoEnd      = check.Rule{Code: "work-end-missing", Severity: check.Warning, Remedy: "enter end_date as in 2026-10-09"}
	ruleNoContact  = check.Rule{Code: "work-contact-missing", Severity: check.Warning, Remedy: "enter whom to tell under contact"}
	ruleOver       = check.Rule{Code: "work-over", Severity: check.Note, Remedy: "nothing to do; take works that are over out of the file"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleEmpty, ruleNotFinite, ruleOutOfRange, ruleNullIsland, ruleDuplicate, ruleSameID, ruleNoID,
		ruleKind, ruleNoKind, ruleBackwards, ruleNoEnd, ruleNoContact, ruleOver,
	}
}
