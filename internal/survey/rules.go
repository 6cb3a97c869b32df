package survey

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected record has an Error; a blanked or assumed value has a Warning.
var (
	ruleOutOfRange   = book.Error("position-out-of-range", "give WGS 84 degrees: latitude -90 to 90, longitude -180 to 180")
	ruleSwapped      = book.Error("position-swapped", "swap longitude and latitude")
	ruleProjected    = book.Error("position-projected", "name the reference system with --points-crs, as in EPSG:26911, or convert the coordinates to WGS 84 degrees")
	ruleNullIsland   = book.Error("position-zero", "enter the measured position; 0, 0 is what a unit without a fix records")
	ruleNoPosition   = book.Error("position-missing", "enter longitude and latitude")
	ruleFuture       = book.Error("date-after-quarter", "correct the date, or run the record with its own quarter")
	ruleEarlier      = book.Warning("date-before-quarter", "nothing to do if the file also holds earlier quarters; to count these records, set survey.since to the first day that counts")
	ruleTurned       = book.Warning("date-day-month", "correct the dates if day and month were swapped, as a spreadsheet does with days that are written in the way of another country; nothing to do if the days are right")
	ruleDuplicate    = book.Duplicate("record")
	ruleSameID       = book.Warning("id-duplicate", "give each record its own occurrenceID")
	ruleSeenAgain    = book.Warning("record-seen-again", "nothing to do if it is one plant; give a different plant its own occurrenceID")
	ruleFindStays    = book.Warning("absence-overruled", "enter the control work done between the two records with --treatments; or remove the wrong record from the points file")
	ruleGoneAfter    = book.Warning("find-gone-after-work", "nothing to do; look again next season, since most treated plants come back")
	ruleNoID         = book.Note("id-missing", "fill in occurrenceID, so that a record can be followed from quarter to quarter")
	ruleCover        = book.Warning("cover-out-of-range", "give canopy cover in percent, 0 to 100")
	rulePatch        = book.Warning("patch-not-positive", "give the patch area in square metres, above 0")
	rulePatchSize    = book.Warning("patch-implausible", "check the unit: patch areas are read as square metres; if patches really are that large, raise survey.largest_patch_m2")
	ruleDrawn        = book.Warning("patch-differs-from-outline", "check the unit of the patch area, and the outline; nothing to do if the outline is the patch and the area something else")
	ruleBounds       = book.Warning("measure-implausible", "check the unit; check what the source writes for unknown, and leave such values blank")
	ruleUncertainty  = book.Warning("uncertainty-not-positive", "leave the uncertainty blank when it is unknown")
	ruleHeight       = book.Warning("height-not-positive", "give the stem height in metres, above 0")
	ruleSign         = book.Error("position-sign", "write west and south with a minus, east and north without")
	ruleFarOff       = book.Warning("position-far-off", "check the position, and that the streams cover the survey")
	ruleCoarse       = book.Warning("position-coarse", "give degrees with five decimals or more")
	ruleUncertain    = book.Warning("uncertainty-above-setback", "measure the position again before relying on the zone")
	ruleSameSighting = book.Warning("sighting-repeated", "remove one of them if they are the same find")
	ruleTwoCrews     = book.Warning("find-by-two-crews", "if both crews recorded the same plants, remove the records of one of them; nothing to do if the plants stand side by side")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }
