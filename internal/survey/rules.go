package survey

import "driftreach/internal/check"

// The rules of this package. A rejected record has an Error; whatever was
// blanked or assumed has a Warning.
var (
	ruleOutOfRange   = check.Rule{Code: "position-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees: latitude -90 to 90, longitude -180 to 180"}
	ruleSwapped      = check.Rule{Code: "position-swapped", Severity: check.Error, Remedy: "swap longitude and latitude"}
	ruleProjected    = check.Rule{Code: "position-projected", Severity: check.Error, Remedy: "name the reference system with --points-crs, as in EPSG:26911, or convert the coordinates to WGS 84 degrees"}
	ruleNullIsland   = check.Rule{Code: "position-zero", Severity: check.Error, Remedy: "enter the measured position; 0, 0 is what a unit without a fix records"}
	ruleNoPosition   = check.Rule{Code: "position-missing", Severity: check.Error, Remedy: "enter longitude and latitude"}
	ruleFuture       = check.Rule{Code: "date-after-quarter", Severity: check.Error, Remedy: "correct the date, or run the record with its own quarter"}
	ruleEarlier      = check.Rule{Code: "date-before-quarter", Severity: check.Warning, Remedy: "nothing to do where the file holds earlier quarters too; to count them all the same, set survey.since to the first day that counts"}
	ruleDuplicate    = check.Rule{Code: "record-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleSameID       = check.Rule{Code: "id-duplicate", Severity: check.Warning, Remedy: "give each record an occurrenceID of its own"}
	ruleSeenAgain    = check.Rule{Code: "record-seen-again", Severity: check.Warning, Remedy: "nothing to do where it is one plant; give another plant an occurrenceID of its own"}
	ruleFindStays    = check.Rule{Code: "absence-overruled", Severity: check.Warning, Remedy: "enter the control work between with --treatments; or take whichever of the two records was wrong out of the points file"}
	ruleGoneAfter    = check.Rule{Code: "find-gone-after-work", Severity: check.Warning, Remedy: "nothing to do; look again next season, since a treated plant comes back more often than not"}
	ruleNoID         = check.Rule{Code: "id-missing", Severity: check.Note, Remedy: "fill in occurrenceID, so that a record can be followed from quarter to quarter"}
	ruleCover        = check.Rule{Code: "cover-out-of-range", Severity: check.Warning, Remedy: "give canopy cover in percent, 0 to 100"}
	rulePatch        = check.Rule{Code: "patch-not-positive", Severity: check.Warning, Remedy: "give the patch area in square metres, above 0"}
	rulePatchSize    = check.Rule{Code: "patch-implausible", Severity: check.Warning, Remedy: "check the unit: patch areas are read as square metres; where patches are that large, raise survey.largest_patch_m2"}
	ruleBounds       = check.Rule{Code: "measure-implausible", Severity: check.Warning, Remedy: "check the unit, and what the source writes for unknown; leave the value blank when it is unknown"}
	ruleUncertainty  = check.Rule{Code: "uncertainty-not-positive", Severity: check.Warning, Remedy: "leave the uncertainty blank when it is unknown"}
	ruleHeight       = check.Rule{Code: "height-not-positive", Severity: check.Warning, Remedy: "give the stem height in metres, above 0"}
	ruleSign         = check.Rule{Code: "position-sign", Severity: check.Error, Remedy: "write west and south with a minus, east and north without"}
	ruleFarOff       = check.Rule{Code: "position-far-off", Severity: check.Warning, Remedy: "check the position, and that the streams cover the survey"}
	ruleCoarse       = check.Rule{Code: "position-coarse", Severity: check.Warning, Remedy: "give degrees with five decimals or more"}
	ruleUncertain    = check.Rule{Code: "uncertainty-above-setback", Severity: check.Warning, Remedy: "measure the position again before relying on the zone"}
	ruleSameSighting = check.Rule{Code: "sighting-repeated", Severity: check.Warning, Remedy: "remove one of them if they are the same sighting"}
)

// Rules returns every rule of this package, by code.
func Rules() []check.Rule {
	return []check.Rule{
		ruleCover, ruleFuture, ruleEarlier, ruleHeight, ruleSameID, ruleSeenAgain, ruleFindStays, ruleGoneAfter, ruleNoID,
		rulePatchSize, rulePatch, ruleBounds, ruleNoPosition, ruleOutOfRange, ruleProjected, ruleSwapped, ruleNullIsland,
		ruleDuplicate, ruleSameSighting, ruleUncertainty, ruleSign, ruleFarOff, ruleCoarse, ruleUncertain,
	}
}
