// Package followup says when each stand needs its next visit, from its history and the control work
// done on it. Treated stands are looked at again, and regrowth is treated again. Where nothing is
// found, the place is looked at every year until it is released from follow-up. The rules:
//
//   - A day's work counts once, and only if it is later than the last work counted. So
//     the same file of all work ever done may be given every quarter.
//   - Treated, or standing dead: look again within the revisit months of the treatment.
//     If no day of work is known, the months count from the day it was last seen as
//     treated. A look counts when it finds the stand dead in a later quarter than the
//     work, or comes on the due day or later; the next is due the same time after it.
//     Work on or after the day a stand was last seen makes it treated, whatever its
//     records say.
//   - Regrowth, or live plants found after the stand was treated or seen as treated:
//     growing again, to be treated again by a day after the quarter and within the
//     season. The stand stays so, with that due day, until it is treated or found dead
//     or gone. The look due at the treated ground also remains, until somebody looks on
//     its day or later.
//   - Never treated: waits for treatment in its order; no visit is due. If work after
//     its last look treated part of the stand, the rest waits in the order, and the
//     treated part is looked at again. The treated part is the ground inside the drawn
//     areas. Work without an area treated the acres it reports, at an unknown place in
//     the stand.
//   - Looked for and not found, after the last work: a clear look. It counts as a year's
//     look when it comes four quarters or more after the last one that counted. Whole
//     quarters are compared, since they are the steps of a programme: a look early in
//     its quarter is as good as a late one. The next is due twelve months after the last
//     that counted. A year in which nobody looked does not count, and does not break the
//     series. A find breaks it, and so does work after the last clear look.
//   - After the set number of clear years in a row: released from follow-up. This ends
//     the programme's visits; it does not say that the plant is gone.
//   - Where nobody looked, only new work changes anything.
//
// A stand that several stands grew into takes over the latest work, the most days of work and the
// earliest due day for regrowth. Stands that one stand split into each take over its whole history.
package followup

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Subject is one known stand, on the map or not, at the end of a quarter.
type Subject struct {
	ID        string
	Earlier   []string // earlier stands it comes from, including its own id if it has a history
	Present   bool     // a stand on the map, found or carried
	Look      Look
	Day       time.Time      // last day it was found, or surveyed and not found; zero for unknown: the quarter's end
	Status    survey.Status  // from its records, when found
	Footprint *stand.Outline // this quarter's, or the last known; nil for none
	Place     Place
	Order     int     // place in the treatment order; 0 for none
	Acres     float64 // infested
}

// Place gives the location of a stand for readers.
type Place struct {
	Position  orb.Point // degrees
	StreamID  string    // of the nearest stream line
	WaterBody string
	RiverKm   geo.Kilometers // NaN for none
	Parcel    string         // as recorded
}

// Row is the follow-up of one stand at the end of a quarter: everything the next quarter needs to
// know.
type Row struct {
	StandID  string
	Earlier  []string // its other ids, from stands that grew into it, sorted
	Present  bool
	Look     Look
	State    State
	Due      time.Time     // day by which to look or treat; zero for none
	Again    time.Time     // for a stand growing again or treated in part: day by which to look again at the treated ground; zero for none
	Done     Part          // the part treated since its last look
	Status   survey.Status // when last found
	Order    int           // place in the treatment order; 0 for none
	LastSeen time.Time     // last day it was found; zero for unknown
	LastLook time.Time     // last day somebody looked, with or without a find
	Work     Work
	Clear    Clear
	Lost     int // clear looks lost this quarter because of a find; 0 for none
	Place    Place
}

// Work sums up the control work that counts for a stand.
type Work struct {
	Days             int       // days of work
	Last             time.Time // zero for none
	Method           string    // of the last work, as recorded
	FormulationClass string    // of the last work
}

// Clear is a series of clear looks; the zero Clear has none.
type Clear struct {
	Since time.Time // first of them
	Last  time.Time // the last that counted
	Years int       // number of looks that counted
}

// Next returns the day of the next visit: the day due or the day to look again at treated ground,
// whichever is earlier; zero for none.
func (r *Row) Next() time.Time {
	if r.LookFirst() {
		return r.Again
	}
	return r.Due
}

// LookFirst reports whether the look at treated ground is the next visit: nothing else is due, or only
// later.
func (r *Row) LookFirst() bool {
	return !r.Again.IsZero() && (r.Due.IsZero() || r.Again.Before(r.Due))
}

// TwoDays reports whether treated ground is to be looked at on another day than the one due, or nothing
// else is due.
func (r *Row) TwoDays() bool { return !r.Again.IsZero() && !r.Again.Equal(r.Due) }

// DaysOverdue returns how many days the next visit is overdue on a day, 0 when it is not.
func (r *Row) DaysOverdue(day time.Time) int { return DaysLate(r.Next(), day) }

// DaysLate returns how many days before another day something was due, 0 when it was not. The zero day
// is never late. Both are at midnight UTC.
func DaysLate(due, day time.Time) int {
	if due.IsZero() || !due.Before(day) {
		return 0
	}
	return int(day.Sub(due) / (24 * time.Hour))
}

// Part is the part of a stand treated by control work since its last look. The rest waits for
// treatment; the treated part is looked at again.
type Part struct {
	Share   float64 // treated share of its infested ground, 0 to 1; 0 without such work
	ByAcres float64 // the part of Share known only by acres: its place in the stand is unknown
	Cut     *Cut    // nil where no area was drawn, and where Share is 1
}

// Cut is the ground of a stand divided by the areas drawn as treated.
type Cut struct {
	Ground orb.MultiPolygon // inside these areas, in degrees
	At     orb.Point        // place to go to in Ground, degrees
	Rest   orb.MultiPolygon // the untreated ground
	RestAt orb.Point        // place to go to in Rest
}

// Waits returns the share of Cut.Rest that waits for treatment, or of the whole stand where no ground
// is known.
func (p *Part) Waits() float64 {
	if p.Share >= 1 {
		return 0
	}
	return 1 - p.ByAcres/(1-(p.Share-p.ByAcres))
}
