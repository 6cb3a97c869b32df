package drift

import (
	"driftreach/geo"
	"driftreach/geo/flow"
)

// Drift is where the fragments of a batch go.
type Drift struct {
	Outcomes []Outcome // by stand
	Reaches  []Reach   // by edge in flow order, then downstream
	Balance  Balance
	AtRiskKm geo.Kilometers // stream at risk, each place counted once

	covers []cover      // every stand's reach at risk, by edge, then downstream
	risk   []flow.Piece // the union of the covers, sorted in the same way
	afloat afloat
}

// afloat holds the amounts afloat, the loss per metre by edge, the hours over each edge, and
// every source, sorted by place.
type afloat struct {
	load
	rate    losses
	times   times
	sources []Source
	lakes   *lakes
}

// cover is a stretch of an edge that one stand's fragments reach.
type cover struct {
	piece flow.Piece
	stand int32
}
