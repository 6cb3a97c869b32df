package intake

import "driftreach/internal/check"

// The rules of this package.
var (
	ruleRagged        = check.Rule{Code: "row-ragged", Severity: check.Error, Remedy: "give the row as many cells as the header; put a cell with a separator into quotes"}
	ruleUnreadable    = check.Rule{Code: "feature-unreadable", Severity: check.Error, Remedy: "repair the feature, or write the file again"}
	ruleMalformed     = check.Rule{Code: "geometry-malformed", Severity: check.Error, Remedy: "repair the geometry, or write the file again"}
	ruleEmpty         = check.Rule{Code: "geometry-empty", Severity: check.Error, Remedy: "give the feature a geometry, or remove it"}
	rulePosition      = check.Rule{Code: "position-unreadable", Severity: check.Error, Remedy: "write longitude and latitude as decimal degrees"}
	ruleOtherZone     = check.Rule{Code: "position-other-zone", Severity: check.Error, Remedy: "convert the file to WGS 84 longitude and latitude, each UTM zone by itself: a file is read in one reference system"}
	ruleDegrees       = check.Rule{Code: "position-in-degrees", Severity: check.Error, Remedy: "write eastings and northings, as in the rest of the file; a file in degrees goes with others in degrees, or is converted first"}
	ruleOccurrence    = check.Rule{Code: "occurrence-unknown", Severity: check.Error, Remedy: "use detected or notDetected, or map the word under [values.occurrenceStatus]"}
	ruleStatus        = check.Rule{Code: "status-unknown", Severity: check.Warning, Remedy: "use untreated, treated, resprout or standing_dead, or map the word under [values.management_status]"}
	ruleCoverClass    = check.Rule{Code: "cover-class-unknown", Severity: check.Warning, Remedy: "use a class of the cover table, or name another table in the settings"}
	ruleNumber        = check.Rule{Code: "number-unreadable", Severity: check.Warning, Remedy: "write a plain number, such as 2723 or 0.5; a unit beside it must be one of the column's kind"}
	ruleApproximate   = check.Rule{Code: "number-approximate", Severity: check.Note, Remedy: "nothing to do; or write the number itself"}
	ruleNotFinite     = check.Rule{Code: "number-not-finite", Severity: check.Warning, Remedy: "leave the value blank when it is unknown"}
	rulePatchPart     = check.Rule{Code: "patch-incomplete", Severity: check.Warning, Remedy: "give patch_length_m and patch_width_m together"}
	ruleSerial        = check.Rule{Code: "date-serial", Severity: check.Note, Remedy: "check the first date; or format the column as dates before you export it"}
	ruleUTC           = check.Rule{Code: "date-utc", Severity: check.Warning, Remedy: "write the local time with its offset, as in 2026-09-30T21:30:00-07:00, or the local day alone"}
	ruleNoDate        = check.Rule{Code: "date-missing", Severity: check.Warning, Remedy: "enter eventDate as in 2026-07-15"}
	ruleDate          = check.Rule{Code: "date-unreadable", Severity: check.Warning, Remedy: `write the date as in 2026-07-15; or for dates such as 7/3/2026 say which is first, as in eventDate = "month first" under [units.points]`}
	ruleNoRecords     = check.Rule{Code: "file-without-records", Severity: check.Warning, Remedy: "check that the right file was named"}
	ruleWrongInteger  = check.Rule{Code: "number-not-whole", Severity: check.Warning, Remedy: "write a whole number"}
	rulePresence      = check.Rule{Code: "presence-by-name", Severity: check.Warning, Remedy: "check the counts, and map the column as occurrenceStatus in the settings; or write occurrenceStatus = \"\" if it says something else"}
	ruleOutlineRepair = check.Rule{Code: "outline-closed", Severity: check.Note, Remedy: "nothing to do"}
)

// ruleKind returns the rule for a geometry of a kind that the input does not accept.
func ruleKind(remedy string) check.Rule {
	return check.Rule{Code: "geometry-kind", Severity: check.Error, Remedy: remedy}
}
