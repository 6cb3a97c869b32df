// Package lineage follows stands from one batch to the next: it identifies known stands among the
// stands mapped this quarter, finds how much of each known stand was surveyed, carries what was not
// seen, and names the change of each stand.
//
// The rules do not depend on the order of stands or records. First, the identity of stands:
//
//   - A stand known from earlier batches and a stand mapped now are linked when their
//     infested footprints, or the general perimeters of these, share at least
//     OverlapShare of the smaller one. A stand without a link is then linked to the
//     nearest one within the uncertainty of both positions. Known and mapped stands
//     still without a link are linked when they are within the join distance of each
//     other, nearest pairs first, one to one.
//   - Identities follow the links. Claims are taken in this order: largest shared
//     area, shortest distance, smaller known id, mapped stand with the smaller record
//     id. Stands of the last batch come before stands not detected since. Each identity
//     goes to one stand and each stand takes one. A stand without one gets a new
//     identity of this quarter. The identity of a stand whose ground went to another
//     (merged) is never used again.
//
// Then, which ground was surveyed:
//
//   - Surveyed areas count as drawn. Surveyed lines reach as far as their method sees:
//     one distance for finding tall cane, a shorter one for finding nothing, since
//     regrowth is knee-high. A crew on foot does not see across water wider than
//     Barrier unless it walks in the channel; a crew that recorded one bank saw only
//     that bank. From a boat, the air or an image, a treated stand is never confirmed
//     gone.
//   - A record of "not detected" covers the patch it records, or else a circle with the
//     shorter distance of a survey on foot.
//   - Without surveyed ground, a find covers the ground of the stands it is linked to
//     within the join distance of its patch: the crew was there and mapped it. With
//     surveyed ground it covers its own patch. A find outside the surveyed ground then
//     counts as the one known record that it may be: nearest pairs first, and as many
//     pairs as possible. So a plant found again replaces the known one, and position
//     errors add no acreage.
//   - So each record of a known stand was seen or not. A small patch counts by its
//     middle; a large one is cut. If something of a stand was found, its tall cane is
//     seen as far as cane is found; otherwise only as far as finding nothing counts.
//
// Then, the change of each stand:
//
//   - Ground that was not seen keeps its records and acreage: it is carried, in the
//     stand that continues the known one. A known stand of which nothing was found stays
//     with its carried part until that is no more than UnseenShare of it. Then it is not
//     detected: it leaves the stands, and its place and identity are remembered.
//   - A mapped stand without a link is new, or first surveyed when most of its ground
//     had never been surveyed before in the chain. With two links or more it is merged;
//     when its known stand has further links it is split; with both it is merged and
//     split. With one link to a stand not detected before, it is found again. Otherwise
//     it is partly resurveyed when some of it is carried, and else kept, grown or shrunk
//     by its infested area.
//   - A known stand without a link is not resurveyed when all of it is carried, partly
//     not detected when part of it is.
//
// Corrections come before all of this. A stand removed by a correction is linked to nothing. Two
// stands declared different are never linked to the same mapped stand, which is divided between
// them by nearness. A stand declared the same as another takes over the other's ground, and all of
// it continues as one stand.
package lineage

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Known is a stand known from the last batch: one of its stands, or one not detected since.
type Known struct {
	// Stand is the stand as last mapped. Members are indices into the records of the last batch; an
	// absent stand has none.
	stand.Stand
	Quarter   survey.Quarter   // the quarter when it was last surveyed and found
	Absent    bool             // not detected since; not a stand of the last batch
	Since     survey.Quarter   // first quarter when it was looked for and not detected; zero for none
	Zone      geo.SquareMeters // its area within the aquatic zone
	StreamID  string           // nearest stream line at that time; blank for none
	WaterBody string           // its name
	RiverKm   geo.Kilometers   // NaN for none
	Memory    Memory

	Ruled
}

// Ruled is what corrections say about a known stand.
type Ruled struct {
	// Out says why a correction removed the stand: Misidentified, SameStand or NotSameStand. Such a
	// stand has no acres and no links.
	Out Change
	// Was is its footprint in the last batch if a correction changed its ground; nil otherwise.
	Was *stand.Outline
	// Same are other ids of the same stand. All finds on its ground continue as one stand.
	Same []string
	// Missed is the last day up to which not finding the stand does not count; zero for none.
	Missed time.Time
}

// Before is the content of the last batch.
type Before struct {
	Known   []Known         // sorted by id
	Records []survey.Record // the records of its stands
}

// Now is the stands mapped in a quarter from its own records.
type Now struct {
	Quarter survey.Quarter
	Stands  []stand.Stand // as returned by stand.Map
	Records []survey.Record

	Given  int    // number of identities of the quarter already used by known stands
	Same   []Pair // linked by corrections
	Barred []Pair // kept apart by corrections
}

// Pair is a known stand and a mapped stand.
type Pair struct{ Known, Stand int32 }

// Link joins a known stand to a stand mapped now.
type Link struct {
	Known  int32
	Stand  int32
	Shared geo.SquareMeters // ground common to both footprints; 0 where only Apart links them
	Apart  geo.Meters       // shortest distance between them; 0 where they share ground
	Heir   bool             // the stand continues under the known stand's id
}

// Look is the part of a known stand that was surveyed in a quarter.
type Look struct {
	Share float64 // of its footprint, 0 to 1
	Left  []Left  // the part not seen, by record; none for an absent stand
	Day   time.Time
}

// Left is a record of a known stand, or part of its patch, that nobody saw.
type Left struct {
	Record int32            // index in the last batch
	Patch  orb.MultiPolygon // the unseen part, degrees; nil for the whole patch
	At     orb.Point        // a place in that part; the record's position for the whole patch
}

// Lineage says what became of the known stands.
type Lineage struct {
	Links []Link // sorted by stand, then known id; Stand is an index into Groups
	Looks []Look // by known stand

	// Groups are the mapped stands, by index in Now, that continue as one stand because carried
	// ground of a known stand lies between them. Most groups have one stand.
	Groups  [][]int32
	Carried [][]int32 // by group: known stands whose unseen part it carries
	IDs     []string  // by group

	Fates []Change // by known stand: NotDetected, NotResurveyed, PartlyNotDetected, or why a correction removed it; blank for a stand with a link
}

// Change says, in a word or two, what became of a stand.
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

	// For stands of the last batch that a correction removed.
	Misidentified Change = "misidentified"      // it was a look-alike plant
	SameStand     Change = "same stand"         // it continues as part of another stand
	NotSameStand  Change = "not the same stand" // all of it continues under a new identity
)

// Stays says whether a known stand without a link continues as a stand, with its unseen part.
func (c Change) Stays() bool { return c == NotResurveyed || c == PartlyNotDetected }
