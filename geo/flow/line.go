// Package flow builds a directed stream network from centerlines and follows water down it: noding,
// direction, river order, path lengths, upstream totals that count every line once below a braid,
// and sweeps of anything the water carries. Positions are WGS 84 degrees, lengths metres. The
// package knows nothing about plants.
package flow

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Divergence of a line: its role where the water divides, numbered as in NHDPlus.
const (
	NoDivergence uint8 = iota
	MainPath
	MinorPath
)

// Line is one centerline as recorded. Names should be unique. They break every tie, so that the
// order of the records does not matter.
type Line struct {
	Name       string               // unique id
	Path       orb.LineString       // degrees, digitised downstream unless From and To or Sequence say otherwise; may cross the antimeridian either by a jump or by running on
	From, To   string               // names of the nodes it runs between; blank for unknown
	Sequence   float64              // decreases downstream (hydrosequence); NaN for unknown
	Share      float64              // of the water arriving at its upstream end; NaN for unknown
	Width      geo.Meters           // 0 for unknown
	Length     geo.Meters           // recorded length, used for river kilometres and upstream totals; 0: the geodesic length
	Area       geo.SquareKilometers // local catchment; NaN for unknown
	Along      *Along               // where it is split; nil for nowhere
	Order      int32                // recorded order; 0 for unknown
	Divergence uint8                // NoDivergence, MainPath, MinorPath
	Fall       int8                 // 1 when the recorded slope falls as digitised, -1 when it rises; 0 for unknown
	Barrier    bool                 // an obstacle is at its downstream end
	Shore      bool                 // a coast: not part of the network; water that reaches it has arrived
}

// Lines is many lines. Line returns one by its index, always the same; it is called some thirty times for
// each line, also from several goroutines.
type Lines interface {
	Len() int
	Line(i int32) Line
}

// listed is lines as they are.
type listed []Line

func (l listed) Len() int          { return len(l) }
func (l listed) Line(i int32) Line { return l[i] }

// Along is where a line is split into edges.
type Along struct {
	Splits []geo.Meters // measures at which it is split, such as where its water changes
	Stops  []Stop       // obstacles along it
}

// along returns where a line is split.
func (l Line) along() Along {
	if l.Along == nil {
		return Along{}
	}
	return *l.Along
}

// Stop is an obstacle on a line.
type Stop struct {
	At     geo.Meters // geodesic measure along the line as digitised; beyond an end counts as that end
	Number int32      // of the obstacle there, from 1
}

// Options say how lines become a network.
type Options struct {
	Snap     geo.Meters // ends at most this far apart are one place
	CloseGap geo.Meters // joins also loose ends that point at each other and are at most this far apart; up to 100 m
	Upstream bool       // lines without names or sequence were digitised against the flow
	Workers  int        // number of parallel workers; results do not depend on it
	Quiet    bool       // do not look for crossings without a node, which change nothing in the network
}

// DefaultOptions returns one worker and a snap distance of 1 m (our choice: larger than the
// rounding of 5-decimal degrees, smaller than the shortest real channel).
func DefaultOptions() Options { return Options{Snap: 1, Workers: 1} }

// maxSnap limits the snap distance, metres. Our choice: a larger one would join separate
// confluences.
const maxSnap = 1000

// Validate returns an error for a snap distance outside 0 to 1000 m, a gap
// to close outside 0 to 100 m or a negative number of workers.
func (o Options) Validate() error {
	if !(o.Snap >= 0 && o.Snap <= maxSnap) {
		return fmt.Errorf("snap distance %g m is not between 0 and %d m", float64(o.Snap), maxSnap)
	}
	if !(o.CloseGap >= 0 && o.CloseGap <= widestGap) {
		return fmt.Errorf("gap to close %g m is not between 0 and %d m", float64(o.CloseGap), widestGap)
	}
	if o.Workers < 0 {
		return fmt.Errorf("number of workers %d is negative", o.Workers)
	}
	return nil
}
