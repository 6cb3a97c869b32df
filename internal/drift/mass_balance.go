package drift

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// massBalance returns each stand's mass balance where nothing becomes too old: released = settled +
// held + left. One pass upstream finds what becomes of a unit released anywhere, for the balances
// of all stands.
func massBalance(net *flow.Network, t flow.Transport, stands int, sources []Source) []Outcome {
	out := make([]Outcome, stands)
	fate := net.Fate(t)
	for _, s := range sources {
		unit := fate.From(s.Place)
		o := &out[s.Stand]
		o.Released += s.Amount
		o.Settled += s.Amount.part(geo.Share(unit.Settled))
		o.Held += s.Amount.part(geo.Share(unit.Held))
		o.Left += s.Amount.part(geo.Share(unit.Left))
	}
	return out
}

// riverKm returns by stand the river km of its lowest source, NaN without one.
func riverKm(net *flow.Network, stands int, sources []Source) []geo.Kilometers {
	out := make([]geo.Kilometers, stands)
	for i := range out {
		out[i] = geo.Kilometers(math.NaN())
	}
	for _, s := range sources {
		if km := net.Edges[s.Place.Edge].RiverKm(s.Place.Offset); !(out[s.Stand] <= km) {
			out[s.Stand] = km
		}
	}
	return out
}
