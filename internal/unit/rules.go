package unit

import (
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

var book check.Book

// The rules of this package. A rejected unit has an Error; a repaired, renamed or newly named one
// has a Warning or a Note.
var (
	ruleEmpty     = book.Error("unit-empty", "draw the unit as an area, or remove the row")
	misplaced     = book.Misplaced("unit", "--units-crs", check.RepairVertex, "enter the true corner")
	ruleNoArea    = book.Error("unit-without-area", "draw an outline that encloses ground")
	ruleDuplicate = book.Duplicate("unit")
	ruleRepaired  = book.Repaired("unit")
	ruleSameID    = book.Warning("unit-id-duplicate", "give each unit its own unit_id; parts of one unit need the same unit_name")
	ruleParts     = book.Note("unit-in-parts", "nothing to do if the features are parts of one unit")
	ruleOverlap   = book.Warning("unit-overlap", "draw the two units along one common line; until then the unit whose id comes first gets the ground")
	ruleOverlaps  = book.Warning("unit-overlap-many", "look for a layer that was given twice, or for copies with other ids, and run check again")
	ruleGap       = book.Warning("unit-gap", "draw the neighbouring units along one common line, or add the missing unit; nothing to do if the ground belongs to no unit")
	ruleNoID      = book.Note("unit-id-missing", "fill in unit_id, so that a unit can be followed from quarter to quarter")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

// kind says how units are told apart and named in findings.
var kind = check.Kind[Unit]{
	Noun: "unit", Corner: "corner", Misplaced: misplaced, Duplicate: ruleDuplicate,
	Origin: func(u *Unit) (string, int) { return u.File, u.Row },
	At: func(u *Unit) *orb.Point {
		if len(u.Areas) == 0 {
			return nil
		}
		return check.ShownFirst(u.Areas[0])
	},
	Compare: compareContent,
	Names: &check.Names[Unit]{
		Field: "unit_id", ID: func(u *Unit) *string { return &u.ID }, Compare: check.CompareNatural,
		NoID: ruleNoID, SameID: ruleSameID, Other: "a unit of another name has the same id",
	},
}
