package survey

import (
	"cmp"
	"slices"
	"strings"
)

// Notes are what records tell in words, which no figure comes from. Records that
// tell the same may share them, so that they are not written to.
type Notes struct {
	RecordedBy string
	Parcel     string
	Remarks    string
	Extra      []string // values of the carried columns, in the order of their names
}

// Told returns the record's notes, blank when it has none.
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
