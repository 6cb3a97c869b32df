package treatable

import (
	"cmp"
	"strings"

	"driftreach/internal/check"
)

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

// kind says how rows are told apart and named in findings.
var kind = check.Kind[Rule]{
	Noun: "row", Duplicate: ruleDuplicate, Copied: "the row is there twice; the copy was left out",
	Origin: func(r *Rule) (string, int) { return r.File, r.Row },
	Compare: func(a, b *Rule) int {
		return cmp.Or(
			strings.Compare(a.StandID, b.StandID), strings.Compare(a.Parcel, b.Parcel), strings.Compare(string(a.Permission), string(b.Permission)), a.Expires.Compare(b.Expires),
			strings.Compare(a.Access, b.Access), strings.Compare(a.Owner, b.Owner), strings.Compare(a.Gate, b.Gate), strings.Compare(a.Method, b.Method), strings.Compare(a.Months, b.Months),
			strings.Compare(a.ClosedFrom, b.ClosedFrom), strings.Compare(a.ClosedTo, b.ClosedTo), strings.Compare(a.ClosedFor, b.ClosedFor), cmp.Compare(a.Factor, b.Factor),
		)
	},
}
