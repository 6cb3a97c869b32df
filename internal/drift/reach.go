// Package drift follows floating fragments downstream from stands in the aquatic zone: how much
// settles, is held or leaves, and how far the risk of rooting extends.
package drift

import (
	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Outcome says what becomes of one stand's fragments.
type Outcome struct {
	Reached    []int32        // other stands that its fragments could reach, ascending
	Released   Amount         // relative index: canopy acres x fragments per acre
	Held       Amount         // share of it held at barriers, in the same unit
	Left       Amount         // of it, afloat past the network's outlets
	Settled    Amount         // of it, settled along the way
	Aged       Amount         // of it, still afloat when too old to root
	ReachKm    geo.Kilometers // stream at risk: where at least the risk share of one source's release may be afloat, with the flow divided
	PossibleKm geo.Kilometers // stream that one fragment could reach along the best path, with the flow not divided; never less than ReachKm
	AloneKm    geo.Kilometers // length of ReachKm that no other stand reaches: treating this stand alone frees it
	Exposure   AmountKm       // amount afloat summed over every kilometre of stream, released units times km
	RiverKm    geo.Kilometers // distance to the outlet along the main path from the stand's lowest source; NaN without one
}

// Class is a class of exposure; Possible, the lowest, is stream that is not at risk.
type Class int8

// The classes.
const (
	Possible Class = iota - 1 // not at risk; one fragment could arrive
	Low
	Moderate
	High
)

// AtRisk reports whether a class belongs to stream at risk.
func (c Class) AtRisk() bool { return c > Possible }

// Reach is a piece of one centerline at risk or possible, cut where the class changes.
type Reach struct {
	Line         int32          // index of the centerline
	FromKm, ToKm geo.Kilometers // river km at its upstream and downstream end
	LengthKm     geo.Kilometers
	Exposure     Amount // largest amount afloat on the piece, in released units
	Class        Class
	Stands       int       // stands whose reach covers part of it
	NearestStand int32     // index of the stand, of those whose reach covers its downstream end, whose fragments arrive there first; -1 for none
	HoursFast    geo.Hours // hours from that stand: the first fragment
	HoursMean    geo.Hours // the same at the mean velocity; both NaN for none
	Velocity     Rung      // source of the velocity used for the hours
	Barrier      string    // the barrier at its downstream end, blank for none
	Path         orb.LineString
	Stage        uint8 // index of the batch's water stage it belongs to
}

// Balance is the mass balance of all stands together:
// Released = Settled + Held + Aged + Left.
type Balance struct {
	Released, Settled, Held, Aged, Left Amount
}
