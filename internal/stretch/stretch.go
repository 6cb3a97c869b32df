// Package stretch divides streams into stretches that can be walked, and lists where to survey
// next. The rules:
//
//   - A stretch ends at every confluence, at every divergence, and where the name of the
//     water body changes. In between, a stream is divided into equal parts, none longer
//     than the set length. A stretch is surveyed in cells of about 50 m, each bank on its
//     own. A cell's bank was surveyed in a quarter if the place on the bank beside the
//     cell's middle is on ground surveyed then.
//   - The exposure since a bank was last looked at is the amount that floated past in the
//     quarters after that look, up to this one: the amount afloat in each of them, from
//     the stands known then. A quarter without a batch counts like this one. Exposure
//     before the first known quarter is not included. A bank never looked at in the chain
//     of batches counts from the first known quarter.
//   - Stretches are ranked by that exposure per kilometre to walk, both banks together. A
//     tie goes to the one never looked at, then to the one not looked at for longest, then
//     to the one with more exposure now.
//   - The drift model only points downstream. Other reasons put a stretch on the list
//     where it says nothing. The stretch is just above the highest stand of its tributary,
//     whose plants must have come from somewhere. Or a planned work below a live stand is
//     on it and will open ground. Or it is at the head of a stream, where plants may
//     arrive from outside. These stretches have a share of the list, those unseen for
//     longest first, and every second one is a head.
//   - Another share is a random sample of all stretches, each with the same chance,
//     whatever is known of it. So the finds there show what is missed elsewhere.
//   - The list is the first part, a set share of all kilometres. The other stretches follow
//     by rank.
package stretch

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/spill"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Stretch is a length of stream to walk.
type Stretch struct {
	ID     string     // the id of its first centerline, a slash, and its number on that line from the upper end
	Lines  []int32    // its centerlines, downstream
	*Drawn            // nil if line and cells are on a shelf: Line and AppendCells have them wherever they are
	kept   spill.Text // line and cells, if they are on a shelf

	Length     geo.Meters
	FromKm     geo.Kilometers // river km at its upper end
	ToKm       geo.Kilometers // river km at its lower end
	Exposure   drift.AmountKm // since it was last looked at
	Now        drift.AmountKm // the part of it from this quarter, looked at or not
	NeverShare geo.Share      // share of its banks never looked at in the chain, 0 to 1
	Chance     float64        // probability of being in the sample: the same for all
	Works      []int32        // planned works below a live stand, numbered as in Site.Work
	Access     []string       // how to get there, from the stands near it

	// small fields together: a country has millions of stretches
	Last         Look // median over its banks: half were looked at later, half not
	Counted      survey.Quarter
	StandsNear   int32 // number of live stands within the set distance
	NearestStand int32 // the nearest of them, a tie to the first; -1 for none
	Draw         int32 // its number in the random sample, counted from 1; 0 if not drawn
	Above        bool  // just above the highest stand of its tributary
	Head         bool  // at the head of a stream, and not above its highest stand
	Listed       bool  // on the list, not behind it
}

// Drawn is the line and the cells of a stretch in memory.
type Drawn struct {
	Path  orb.LineString // degrees, downstream
	Cells Cells          // equal parts, downstream
}

// PerKm returns the exposure per kilometre to walk.
func (s *Stretch) PerKm() drift.Amount { return s.Exposure.Per(s.Length.Kilometers()) }

// Ground is ground that was looked at.
type Ground interface {
	Holds(p orb.Point) bool   // whether it contains a place, in degrees
	Meets(box orb.Bound) bool // whether it may contain a place in a box of degrees
}

// Known is the information that a batch has about its streams.
type Known struct {
	Quarter survey.Quarter
	Net     *stream.Network
	Half    []geo.Meters // by edge: distance from the centerline to the bank; 0 on a water surface
	Drift   *drift.Drift // computed with Net
	Now     Ground       // surveyed this quarter
	Before  Ground       // surveyed earlier in the chain; nil for no earlier batch
	Memory  *Memory      // stored by the last batch; nil for nothing
	Stands  []Stand
	Sites   []Site
	Workers int          // goroutines; 0 means one
	Shelf   *spill.Shelf // where lines and cells are put; nil to have them in memory
}

// Stand is a stand as needed here.
type Stand struct {
	Live   bool
	At     orb.Point  // degrees
	On     flow.Place // its place on the water; edge -1 for none
	Access []string   // how to get there; nil if unknown
}

// Site is a place where a planned work below a live stand touches the water.
type Site struct {
	Work   int32
	Places []flow.Place
}

// Memory is the state of its stretches that a batch stores for the next.
type Memory struct {
	Quarter   survey.Quarter
	Stretches []Remembered
}

// Remembered is one stretch of the last batch.
type Remembered struct {
	Path  orb.LineString
	Cells Cells
}
