package drift

import (
	"math"

	"driftreach/geo/flow"
)

// books settles each stand's account: released = settled + held + left. What
// becomes of a unit let go anywhere is known from one pass against the flow, so
// that the books of every stand cost one pass together.
func books(net *flow.Network, t flow.Transport, stands int, sources []Source) []Outcome {
	out := make([]Outcome, stands)
	for i := range out {
		out[i].RiverKm = math.NaN()
	}
	fate := net.Fate(t)
	for _, s := range sources {
		unit := fate.From(s.Place)
		o := &out[s.Stand]
		o.Released += s.Amount
		o.Settled += s.Amount * unit.Settled
		o.Held += s.Amount * unit.Held
		o.Left += s.Amount * unit.Left
		if km := net.Edges[s.Place.Edge].RiverKm(s.Place.Offset); !(o.RiverKm <= km) {
			o.RiverKm = km
		}
	}
	return out
}
