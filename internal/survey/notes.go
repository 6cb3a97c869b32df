package survey

import (
	"cmp"
	"slices"
	"strings"
)

// Told returns the record's notes, or blank ones if it has none.
func (r *Record) Told() Notes {
	if r.Notes == nil {
		return Notes{}
	}
	return *r.Notes
}

func compareNotes(a, b Notes) int {
	return cmp.Or(
		strings.Compare(a.RecordedBy, b.RecordedBy),
		strings.Compare(a.Parcel, b.Parcel),
		strings.Compare(a.Remarks, b.Remarks),
		slices.Compare(a.Extra, b.Extra),
	)
}
