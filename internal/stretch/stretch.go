// Package stretch cuts streams into stretches of a length to walk and says where to look
// next. The rules:
//
//   - A stretch ends at every confluence, where water parts, and where the water body's
//     name changes; what lies between is cut into equal parts no longer than the length
//     set. A stretch is looked at in cells of some 50 m, on each bank by itself: a cell's
//     bank was looked at in a quarter when the place on the bank beside its middle lies
//     on ground looked at then.
//   - The exposure since a bank was last looked at is what floated by in the quarters
//     after that one, up to this: the amount afloat in each of them, as the stands were
//     known then. A quarter without a batch counts as this one does. What floated before
//     the first quarter that is known is not in it. A bank never looked at in the chain
//     of batches counts from the first quarter that is known.
//   - Stretches are ranked by that exposure for each kilometre to walk, both banks taken
//     together. Of equals the one never looked at comes first, then the one not looked at
//     for longer, then the one by which more floats now.
//   - Drift points downstream alone, and where it says nothing other reasons put a
//     stretch on the list: it lies just above the highest stand of its tributary, whose
//     plants came from somewhere; or a planned work below a live stand lies on it, where
//     ground is opened; or it is the head of a stream, where plants from beyond come in.
//     They have a share of the list, the longest unseen first, every other one a head.
//   - Another share is a random sample of all stretches, whatever is known of them, each
//     with the same chance, so that what is found there tells what is missed elsewhere.
//   - The list is the first share of all kilometres. The rest follows by rank.
package stretch

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Stretch is a length of stream to walk.
type Stretch struct {
	ID     string         // its first stream's, a slash, its number there from the upper end
	Lines  []int32        // centerlines that it lies on, downstream
	Path   orb.LineString // degrees, downstream
	Length geo.Meters
	FromKm geo.Kilometers // river km at its upper end,
	ToKm   geo.Kilometers // and at its lower end
	Cells  []Cell         // equal parts of it, downstream

	Exposure   float64 // since it was last looked at, released units times km
	Now        float64 // of that what floats by this quarter, looked at or not
	Last       Look    // up to which half of its banks were looked at later, and half not
	NeverShare float64 // of its banks never looked at in the chain, 0 to 1
	Counted    survey.Quarter

	StandsNear   int      // live stands within the distance
	NearestStand int32    // of them the nearest, of equals the first; -1 for none
	Above        bool     // just above the highest stand of its tributary
	Head         bool     // at the head of a stream, and not above its highest stand
	Works        []int32  // planned ones below a live stand, as Site.Work numbers them
	Access       []string // words for how to come there, of the stands near by
	Draw         int      // in the random sample: when it was drawn, 1 first; 0 for not
	Chance       float64  // of being in the sample: the same for all
	Listed       bool     // on the list, and not only behind it
}

// PerKm returns the exposure for each kilometre to walk.
func (s *Stretch) PerKm() float64 { return s.Exposure / float64(s.Length.Kilometers()) }

// Cell is a short part of a stretch as it was looked at: its left bank and its right one,
// looking downstream.
type Cell struct{ Banks [2]Bank }

// Bank is one bank of a cell.
type Bank struct {
	Last     Look
	Exposure float64 // since then, for each kilometre: released units
}

// State says whether something was looked at.
type State uint8

// The states.
const (
	Never   State = iota // not in this chain of batches
	Unknown              // in the chain, in a quarter that was not written down
	Looked
)

// Look is when something was last looked at.
type Look struct {
	State   State
	Quarter survey.Quarter // of the look; of the other states the first quarter that exposure counts from
}

// Counted returns the first quarter that exposure since a look counts.
func (l Look) Counted() survey.Quarter {
	if l.State == Looked {
		return l.Quarter.Next()
	}
	return l.Quarter
}

// Quarters returns how many quarters lie between a look and now; ok is false where the
// look's is not known.
func (l Look) Quarters(now survey.Quarter) (n int, ok bool) {
	return between(l.Quarter, now), l.State == Looked
}

// between counts quarters.
func between(from, to survey.Quarter) int {
	return to.Ordinal() - from.Ordinal()
}

// Ground says of a place, in degrees, whether it was looked at.
type Ground interface{ Holds(p orb.Point) bool }

// Known is what a batch knows of its streams.
type Known struct {
	Quarter survey.Quarter
	Net     *stream.Network
	Half    []geo.Meters // by edge: from the centerline to the bank; 0 on a water surface
	Drift   *drift.Drift // made with Net
	Now     Ground       // looked at this quarter
	Before  Ground       // looked at in the chain before; nil for no batch before
	Memory  *Memory      // what the batch before kept; nil for nothing
	Stands  []Stand
	Sites   []Site
}

// Stand is a stand as it matters here.
type Stand struct {
	Live   bool
	At     orb.Point  // degrees
	On     flow.Place // its place on the water; edge -1 for none
	Access []string   // words for how to come there; none where that is not known
}

// Site is where a planned work below a live stand touches the water.
type Site struct {
	Work   int32
	Places []flow.Place
}

// Memory is what a batch keeps of its stretches for the next.
type Memory struct {
	Quarter   survey.Quarter
	Stretches []Remembered
}

// Remembered is one stretch of the batch before.
type Remembered struct {
	Path  orb.LineString
	Cells []Cell
}

// Find returns every stretch of the streams in the order in which to look: first the
// list, then the rest. It is the same whatever the order of records and works. Cost is
// linear in the network's length, with a search among the ground and the stretches before
// for each cell.
func Find(k Known, s Settings) []Stretch {
	cuts := cutAll(k.Net, s)
	k.expose(cuts)
	k.look(cuts)
	all := make([]Stretch, len(cuts))
	for i := range cuts {
		all[i] = cuts[i].Stretch
		all[i].settle()
	}
	k.nearStands(all, s)
	k.markPlaces(cuts, all, s)
	sample(all, s)
	return inOrder(all, s)
}
