package treatable

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected row has an Error.
var (
	ruleNoSubject  = book.Error("treatable-without-subject", "enter the stand_id, or the parcel as it is written in the survey points")
	rulePermission = book.Warning("treatable-permission-unknown", "use given, asked or refused, or map the word under [values.permission]")
	ruleMonths     = book.Warning("treatable-months-unreadable", "write months as 9-11, or 9,10")
	ruleClosed     = book.Warning("treatable-season-unreadable", "enter closed_from and closed_to as in 03-01 and 08-15")
	ruleFactor     = book.Warning("treatable-factor-not-positive", "give cost_factor above 0, or leave it blank")
	ruleDuplicate  = book.Note("treatable-duplicate", "nothing to do; or remove the copy")
	ruleUnknown    = book.Note("treatable-not-found", "check the stand_id, or that the parcel is written as in the survey points; nothing to do if there is no stand now")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

// Unknown says that a row names no stand on the map.
func (r *Rule) Unknown() check.Finding {
	field, value := "stand_id", r.StandID
	if value == "" {
		field, value = "parcel", r.Parcel
	}
	return kind.Finding(r, ruleUnknown, field, value, "no stand of the map has this id or stands on this parcel; the row holds for none")
}
