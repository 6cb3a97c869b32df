// Package lineage follows stands from one batch to the next: which stand of
// this quarter is which of those known, what changed, which stands nobody went
// to, and what that makes of the acreage.
//
// The rules, none of which depends on the order of stands or records:
//
//   - A stand known from earlier batches and a stand mapped now are linked when
//     their infested footprints share at least OverlapShare of the smaller one's
//     area. A known stand and a mapped one that are both left without a link are
//     linked when they lie within the join distance of each other, nearest pairs
//     first, one to one.
//   - Identities go along the links, largest shared area first, then shortest
//     distance, then the smaller known id, then the mapped stand with the smaller
//     record id; those of stands mapped in the batch before go first, then those
//     of stands not detected since. Each identity goes to one stand and each stand
//     takes one. What is left without gets a new identity of this quarter. One
//     whose ground went to another (merged) is never given out again.
//   - A mapped stand with no link is new; with two or more, merged; one whose
//     known stand has further links is split; both at once is merged and split,
//     with every parent and every child named by its link. With one link to a
//     stand not detected before it is found again; otherwise kept, grown or
//     shrunk by its infested area.
//   - A known stand without a link was looked for when somebody visited it, and
//     is then not detected: it leaves the stands and is remembered with its place
//     and identity. When nobody visited it, it is not resurveyed: it stays a stand
//     with the acreage it had, carried, and is no part of any change.
//   - A known stand was visited when, with surveyed ground given, at least
//     SurveyedShare of its footprint lies in the surveyed areas or within
//     SeenDistance of the surveyed lines; without, when a record of this quarter
//     lies within SeenDistance of it. A record that says not detected within the
//     join distance is always a visit.
package lineage

import (
	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Known is a stand known from the batch before: one of its stands, or one not
// detected since.
type Known struct {
	// Stand is as it was last mapped. Members
	// are indices into the carried records.
	stand.Stand
	Quarter   survey.Quarter   // it was last surveyed and found in
	Absent    bool             // not detected since; no stand of the batch before
	Since     survey.Quarter   // first quarter it was looked for and not detected in; zero for none
	Zone      geo.SquareMeters // its area in the aquatic zone
	StreamID  string           // nearest stream line then; blank for none
	WaterBody string           // its name
	RiverKm   float64          // NaN when there was none
}

// Link joins a known stand to one mapped now.
type Link struct {
	Known  int32
	Stand  int32
	Shared geo.SquareMeters // ground both footprints cover; 0 where only Apart links them
	Apart  geo.Meters       // shortest distance between them; 0 where they share ground
	Heir   bool             // the stand goes on under the known one's id
}

// Lineage is what became of the known stands.
type Lineage struct {
	Links   []Link   // by mapped stand, then known id
	IDs     []string // by mapped stand
	Changes []Change // by mapped stand
	Fates   []Change // by known stand: NotDetected, NotResurveyed, or blank for one with a link
}

// Change says in a word or two what became of a stand.
type Change string

// The changes.
const (
	Kept           Change = "kept"
	Grown          Change = "grown"
	Shrunk         Change = "shrunk"
	New            Change = "new"
	Merged         Change = "merged"
	Split          Change = "split"
	MergedAndSplit Change = "merged and split"
	FoundAgain     Change = "found again"
	NotDetected    Change = "not detected"
	NotResurveyed  Change = "not resurveyed"
)
