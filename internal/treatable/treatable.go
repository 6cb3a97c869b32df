// Package treatable defines and checks what may be treated and when, by stand or parcel: permission
// and its expiry, access, months by method, closed seasons.
package treatable

import "time"

// Permission is the answer of the owner or the authority.
type Permission string

// The words of the permission column.
const (
	Given   Permission = "given"
	Asked   Permission = "asked"   // not given yet
	Refused Permission = "refused" // or withdrawn
)

// Permissions returns the known words.
func Permissions() []Permission { return []Permission{Given, Asked, Refused} }

// Rule is one row: conditions for a stand, or for every stand on a parcel. A stand or parcel may
// have several rows: one for each method with its months, each closed season, each parcel.
type Rule struct {
	File       string // as the user named it
	Row        int    // its place in the file, counted from 1
	StandID    string // blank if not given
	Parcel     string // blank if not given
	Permission Permission
	Expires    time.Time // last day of the permission; zero for none
	Access     string    // how to get there, as recorded; blank if not given
	Owner      string    // owner of the ground, as recorded; blank if not given
	Gate       string    // how to get in, as recorded; blank if not given
	Method     string    // as recorded; blank if not given
	Months     string    // months in which the method may be used, such as 9-11 or 9,10; blank for all
	ClosedFrom string    // first day of a closed season, such as 03-01; blank for none
	ClosedTo   string    // its last day; before the first if the season extends over the turn of the year
	ClosedFor  string    // what it protects, such as nesting
	Factor     float64   // on the cost of an acre; NaN if not given

	unclear      string   // the field that cannot be read; blank for none
	months       [13]bool // by month, from 1; all false for every month
	closed       bool
	opens, shuts monthDay
}

// monthDay is a day of any year.
type monthDay struct{ month, day int }

func (a monthDay) before(b monthDay) bool {
	return a.month < b.month || a.month == b.month && a.day < b.day
}
