package unit

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected unit has an Error; what was repaired,
// renamed or made up has a Warning or a Note.
var (
	ruleEmpty     = book.Error("unit-empty", "draw the unit as an area, or remove the row")
	misplaced     = book.Misplaced("unit", "--units-crs", check.RepairVertex, "enter the true corner")
	ruleNoArea    = book.Error("unit-without-area", "draw an outline that encloses ground")
	ruleDuplicate = book.Duplicate("unit")
	ruleRepaired  = book.Repaired("unit")
	ruleSameID    = book.Warning("unit-id-duplicate", "give each unit a unit_id of its own; parts of one unit need the same unit_name")
	ruleParts     = book.Note("unit-in-parts", "nothing to do where the features are parts of one unit")
	ruleOverlap   = book.Warning("unit-overlap", "draw the two along one line; till then the unit whose id comes first has the ground")
	ruleOverlaps  = book.Warning("unit-overlap-many", "look for a layer that was given twice, or for copies under other ids, and check again")
	ruleGap       = book.Warning("unit-gap", "draw the neighbours along one line, or add the unit that is missing; nothing to do where the ground belongs to no unit")
	ruleNoID      = book.Note("unit-id-missing", "fill in unit_id, so that a unit can be followed from quarter to quarter")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }
