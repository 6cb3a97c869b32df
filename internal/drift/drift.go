package drift

import (
	"driftreach/geo"
)

// Drift is where the fragments of a batch go.
type Drift struct {
	Outcomes []Outcome // by stand
	Reaches  []Reach   // by edge in flow order, then downstream
	Balance  Balance
	AtRiskKm geo.Kilometers // stream at risk, each place counted once

	covers []cover  // every stand's reach at risk, by edge, then downstream
	risk   []riskOn // the union of the covers, sorted in the same way
	afloat afloat
}

// afloat holds the amounts afloat, the loss per metre by edge, the hours over each edge, and
// what enters at every source, sorted by place.
type afloat struct {
	load
	rate    losses
	times   times
	entered []drop
	lakes   *lakes
}

// cover is a stretch of an edge that one stand's fragments reach, and the share that is afloat at its
// upper end.
type cover struct {
	edge, stand int32
	from, to    geo.Meters
	share       geo.Share
}

// timedCover is a cover and the hours after which the first fragment comes to its upper end, and after
// which one does at the mean velocity.
type timedCover struct {
	cover
	fast, mean geo.Hours
}

// riskOn is a stretch of an edge at risk.
type riskOn struct {
	edge     int32
	from, to geo.Meters
}
