// Package treatable says what may be treated and when, by stand or parcel, and checks it:
// permission and its expiry, access, months by method, closed seasons.
package treatable

import "time"

// Permission is what the owner or the office said.
type Permission string

// The words of the permission column.
const (
	Given   Permission = "given"
	Asked   Permission = "asked"   // and not given yet
	Refused Permission = "refused" // or withdrawn
)

// Permissions returns the words that are known.
func Permissions() []Permission { return []Permission{Given, Asked, Refused} }

// Rule is one row: what holds for a stand, or for every stand on a parcel. Several rows
// may be about one: each method with its months, each closed season, each parcel.
type Rule struct {
	File       string // as the user named it
	Row        int    // its place there, counted from 1
	StandID    string // blank for not given
	Parcel     string // likewise
	Permission Permission
	Expires    time.Time // last day of the permission; zero for none
	Access     string    // how one gets there, as it was written; blank for not given
	Owner      string    // whom the ground belongs to, likewise
	Gate       string    // how to get in, likewise
	Method     string    // as it was written; blank for not given
	Months     string    // in which the method may be used, as in 9-11 or 9,10; blank for all
	ClosedFrom string    // first day of a closed season, as in 03-01; blank for none
	ClosedTo   string    // its last day; it may be before the first, over the turn of the year
	ClosedFor  string    // what it protects, as in nesting
	Factor     float64   // on what an acre costs; NaN for not given

	unclear      string   // field that cannot be read; blank for none
	months       [13]bool // by month, from 1; all false for every month
	closed       bool
	opens, shuts monthDay
}

// monthDay is a day of any year.
type monthDay struct{ month, day int }

func (a monthDay) before(b monthDay) bool {
	return a.month < b.month || a.month == b.month && a.day < b.day
}
