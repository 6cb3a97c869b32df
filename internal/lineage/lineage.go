// Package lineage follows stands from one batch to the next: which stand of
// this quarter is which of those known, what of each known stand was looked at,
// what is carried because nobody saw it, and what that makes of the acreage.
//
// The rules, none of which depends on the order of stands or records. First, who
// is who:
//
//   - A stand known from earlier batches and a stand mapped now are linked when
//     their infested footprints, or the general perimeters about these, share at
//     least OverlapShare of the smaller one. A stand left without a link is linked
//     to the nearest one within the uncertainty of both their positions. A known
//     stand and a mapped one that are both still without are linked when they lie
//     within the join distance of each other, nearest pairs first, one to one.
//   - Identities go along the links, largest shared area first, then shortest
//     distance, then the smaller known id, then the mapped stand with the smaller
//     record id; those of stands mapped in the batch before go first, then those
//     of stands not detected since. Each identity goes to one stand and each stand
//     takes one. What is left without gets a new identity of this quarter. One
//     whose ground went to another (merged) is never given out again.
//
// Then, which ground was surveyed:
//
//   - Surveyed areas are as they were drawn; surveyed lines reach as far as their
//     method sees: one distance for tall cane that is found, a shorter one for
//     finding nothing, since regrowth is knee-high. Who goes on foot does not look
//     across water wider than Barrier unless they go in it, and who names a bank
//     looked at no other. From a boat, the air and images a stand that was treated
//     is never seen to be gone.
//   - A record that says not detected sees the patch it records, else a circle of
//     the foot's shorter distance.
//   - A find sees, where no surveyed ground is given, the ground of the stands it
//     is linked to within the join distance of its patch: the crew stood there and
//     mapped it. Where surveyed ground is given it sees its own patch, and a find
//     outside that ground stands for the one known record that it may be, nearest
//     pairs first, and as many of them as can be paired: what is found again
//     replaces what was known, and position error adds nothing.
//   - So each record of a known stand was seen or not: a small patch by its middle,
//     a large one is cut. Tall cane of a stand of which something was found is seen
//     as far as cane is found; any other only as far as finding nothing counts.
//
// Then, what that comes to:
//
//   - What was not seen keeps its records and acreage, carried, in the stand that
//     continues it. A known stand of which nothing was found stays with what is
//     carried, until no more than UnseenShare of it is: then it is not detected,
//     leaves the stands, and is remembered with its place and identity.
//   - A mapped stand with no link is new, or first looked at when most of its
//     ground was never looked at before in the chain; with two or more, merged; one
//     whose known stand has further links is split; both at once is merged and
//     split. With one link to a stand not detected before it is found again.
//     Otherwise it is partly resurveyed when some of it is carried, and else kept,
//     grown or shrunk by its infested area.
//   - A known stand without a link is not resurveyed when all of it is carried,
//     partly not detected when some is.
//
// Corrections go before all of this: a stand that one took out is linked to nothing,
// two that are not one are never linked to the same mapped stand, which is cut between
// them by what lies nearer to which, and one that is the same as another takes over
// its ground, all of which goes on as one stand.
package lineage

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Known is a stand known from the batch before: one of its stands, or one not
// detected since.
type Known struct {
	// Stand is as it was last mapped. Members
	// are indices into the records of the batch before; none of an absent one.
	stand.Stand
	Quarter   survey.Quarter   // it was last surveyed and found in
	Absent    bool             // not detected since; no stand of the batch before
	Since     survey.Quarter   // first quarter it was looked for and not detected in; zero for none
	Zone      geo.SquareMeters // its area in the aquatic zone
	StreamID  string           // nearest stream line then; blank for none
	WaterBody string           // its name
	RiverKm   geo.Kilometers   // NaN when there was none
	Memory    Memory

	Ruled
}

// Ruled is what corrections say of a known stand.
type Ruled struct {
	// Out says why a stand is no more: Misidentified, SameStand or NotSameStand. It
	// has no acres, is linked to nothing and found by nobody.
	Out Change
	// Was is its footprint in the batch before, where a correction changed its ground;
	// nil for none.
	Was *stand.Outline
	// Same are other ids of this same stand. All that is found on its ground goes on
	// as one.
	Same []string
	// Missed is the last day on which nobody finding it does not count; zero for none.
	Missed time.Time
}

// Before is what is known from the batch before.
type Before struct {
	Known   []Known         // by id
	Records []survey.Record // of its stands
}

// Now is what was mapped in a quarter from its own records.
type Now struct {
	Quarter survey.Quarter
	Stands  []stand.Stand // as stand.Map returns them
	Records []survey.Record

	Given  int    // identities of the quarter that known stands have already
	Same   []Pair // that are linked, by corrections
	Barred []Pair // that are not, by corrections
}

// Pair is a known stand and a mapped one.
type Pair struct{ Known, Stand int32 }

// Link joins a known stand to one mapped now.
type Link struct {
	Known  int32
	Stand  int32
	Shared geo.SquareMeters // ground both footprints cover; 0 where only Apart links them
	Apart  geo.Meters       // shortest distance between them; 0 where they share ground
	Heir   bool             // the stand goes on under the known one's id
}

// Look is what of a known stand was looked at in a quarter.
type Look struct {
	Share float64 // of its footprint that was seen, 0 to 1
	Left  []Left  // what was not, by record; none of a stand that was absent
	Day   time.Time
}

// Left is a record of a known stand that nobody saw, or what of its patch nobody
// saw.
type Left struct {
	Record int32            // of the batch before
	Patch  orb.MultiPolygon // what is left of it, degrees; nil for all
	At     orb.Point        // a place in that; of all, its position
}

// Lineage is what became of the known stands.
type Lineage struct {
	Links []Link // by stand, then known id; Stand is an index into Groups
	Looks []Look // by known stand

	// Groups are the mapped stands that go on as one, each by its index in Now:
	// what is carried of a known stand lies between them. Most hold one.
	Groups  [][]int32
	Carried [][]int32 // by group: known stands that leave something unseen to it
	IDs     []string  // by group

	Fates []Change // by known stand: NotDetected, NotResurveyed, PartlyNotDetected, why a correction took it out, or blank for one with a link
}

// Change says in a word or two what became of a stand.
type Change string

// The changes.
const (
	Kept              Change = "kept"
	Grown             Change = "grown"
	Shrunk            Change = "shrunk"
	New               Change = "new"
	FirstLookedAt     Change = "first looked at"
	Merged            Change = "merged"
	Split             Change = "split"
	MergedAndSplit    Change = "merged and split"
	FoundAgain        Change = "found again"
	PartlyResurveyed  Change = "partly resurveyed"
	NotDetected       Change = "not detected"
	PartlyNotDetected Change = "partly not detected"
	NotResurveyed     Change = "not resurveyed"

	// Of stands of the batch before that a correction took out.
	Misidentified Change = "misidentified"      // it was a look-alike
	SameStand     Change = "same stand"         // it goes on as another
	NotSameStand  Change = "not the same stand" // all of it goes on under a new identity
)

// Stays says whether a known stand without a link goes on as a stand, with what
// nobody saw of it.
func (c Change) Stays() bool { return c == NotResurveyed || c == PartlyNotDetected }
