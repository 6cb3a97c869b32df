// Package drift follows floating fragments downstream from stands in the
// aquatic zone: what settles, what is held, what leaves, and how far the risk
// of rooting reaches.
package drift

import (
	"driftreach/geo"
	"github.com/paulmach/orb"
)

// Outcome is what becomes of one stand's fragments.
type Outcome struct {
	Reached    []int32        // the other stands that its fragments could come to, ascending
	Released   float64        // relative index: canopy acres x fragments per acre
	Held       float64        // of it, held at barriers
	Left       float64        // of it, afloat past the network's outlets
	Settled    float64        // of it, settled on the way
	Aged       float64        // of it, still afloat when too old to root
	ReachKm    geo.Kilometers // stream at risk: where at least the risk share of one source's release may be afloat, with the flow divided
	PossibleKm geo.Kilometers // stream that one fragment could come to along the best path, with the flow not divided; never less than ReachKm
	AloneKm    geo.Kilometers // of that, reached by no other stand: what treating it alone takes off the reach at risk
	Exposure   float64        // amount afloat summed over every kilometre of stream, released units times km
	RiverKm    geo.Kilometers // distance to the outlet along the main path from the stand's lowest source; NaN without one
}

// Class sorts exposure into three classes; Possible, below them, is stream that is not at
// risk.
type Class int8

// The classes.
const (
	Possible Class = iota - 1 // not at risk; one fragment could come there
	Low
	Moderate
	High
)

// AtRisk reports whether a class is of stream at risk.
func (c Class) AtRisk() bool { return c > Possible }

// Reach is a piece of one centerline at risk or possible, cut where the class changes.
type Reach struct {
	Line         int32          // index of the centerline
	FromKm, ToKm geo.Kilometers // river km at its upstream and downstream end
	LengthKm     geo.Kilometers
	Exposure     float64 // greatest amount afloat on the piece, in released units
	Class        Class
	Stands       int       // stands whose reach covers part of it
	NearestStand int32     // index of the stand whose fragments come first to its downstream end, of those whose reach covers it; -1 for none
	HoursFast    geo.Hours // from that stand to there: the first fragment,
	HoursMean    geo.Hours // and at the mean velocity; both NaN for none
	Velocity     Rung      // source of the velocity behind the hours
	Barrier      string    // the barrier at its downstream end, blank for none
	Path         orb.LineString
	Stage        uint8 // the batch's water stage it belongs to, counted from 0
}

// Balance is the mass balance of all stands together:
// Released = Settled + Held + Aged + Left.
type Balance struct {
	Released, Settled, Held, Aged, Left float64
}
