// Package followup says when each stand is to be looked at next, from its
// history and the control work done: treated stands are looked at again,
// regrowth is treated again, and where nothing is found the place is looked at
// every year until it is released from follow-up. The rules:
//
//   - A day's work counts once, and only when it is later than the last work
//     counted, so that a file of all work ever done may be given every quarter.
//   - Treated, or standing dead: look again within the revisit months of the
//     treatment, or of the day it was last seen as treated where no day of work is
//     known. That look is one that finds it dead in a later quarter than the work's,
//     or any on the day it is due or after; the next is due the same time after it. Work on the day a stand was last seen,
//     or later, makes it treated, whatever the record said.
//   - Regrowth, and what is found live after it was treated or seen as treated:
//     growing again, treat again on a day after the quarter within the season. It
//     stays so, and due by that day, until it is treated, or found dead or gone; the
//     look again at what was treated stays beside it until somebody looks on its day
//     or after.
//   - Never treated: waits for treatment in its order; no visit is due. Where work
//     after its last look treated a part of the stand, it is two: the rest waits in
//     the order, and what was treated is looked at again. The part is the ground
//     inside the areas that were drawn; work without one treated as many acres as it
//     tells, and where in the stand is not known.
//   - Looked for and not found, after the last work: a clear look. It counts as
//     a year's when it comes four quarters or more after the last that counted:
//     the quarter is the step of a programme, and a look early in its quarter is
//     as good as one late in it. The next is due twelve months after the last
//     that counted. A year in which nobody looked does not count and does not
//     break the row; a find does, and so does work done after the last clear look.
//   - As many clear years in a row as are set: released from follow-up. That is
//     about the programme's visits, never about the plant.
//   - Where nobody looked, nothing changes but what work was done.
//
// Stands that grew into one take over the latest work, the most days of work and
// the earliest day by which regrowth is due; those that came of one all take
// over its history.
package followup

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Look is what a quarter's survey says of a stand.
type Look uint8

// The looks.
const (
	Found    Look = iota // a record of the quarter detects it
	NotFound             // somebody looked and found nothing
	Nobody               // nobody looked
)

// Subject is one stand known, on the map or not, at the end of a quarter.
type Subject struct {
	ID        string
	Earlier   []string // earlier stands it comes of, its own id among them when it has a history
	Present   bool     // it is a stand of the map, found or carried
	Look      Look
	Day       time.Time      // last day it was found, or looked for in vain; zero for not known: the quarter's end
	Status    survey.Status  // of its records, when found
	Footprint *stand.Outline // this quarter's, or the last known; nil for none
	Place     Place
	Order     int     // in the treatment order; 0 for none
	Acres     float64 // infested
}

// Place says where a stand is, for people.
type Place struct {
	Position  orb.Point // degrees
	StreamID  string    // of the nearest stream line
	WaterBody string
	RiverKm   geo.Kilometers // NaN for none
	Parcel    string         // as recorded
}

// Row is the follow-up of one stand at the end of a quarter, and all that the
// next quarter needs to know of it.
type Row struct {
	StandID  string
	Earlier  []string // other ids it had, of stands that grew into it, sorted
	Present  bool
	Look     Look
	State    State
	Due      time.Time     // day to look or treat by; zero for none
	Again    time.Time     // growing again, or treated in part: day to look again at what was treated; zero for none
	Done     Part          // what of it work since its last look treated
	Status   survey.Status // when last found
	Order    int           // in the treatment order; 0 for none
	LastSeen time.Time     // last day it was found; zero for never known
	LastLook time.Time     // last day somebody looked, found or not
	Work     Work
	Clear    Clear
	Lost     int // clear looks that a find broke off this quarter; 0 for none
	Place    Place
}

// Work is the control work that counts for a stand.
type Work struct {
	Days             int       // days of work
	Last             time.Time // zero for none
	Method           string    // of the last, as it was written
	FormulationClass string    // likewise
}

// Clear is a row of clear looks; the zero Clear is none.
type Clear struct {
	Since time.Time // first of them
	Last  time.Time // last that counted
	Years int       // looks that counted
}

// DaysOverdue returns by how many days a visit was due before a day, 0 for not
// at all.
func (r *Row) DaysOverdue(day time.Time) int {
	if r.Due.IsZero() || !r.Due.Before(day) {
		return 0
	}
	return int(day.Sub(r.Due) / (24 * time.Hour)) // both UTC midnights
}
