package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
)

// Step is the state after one more stand of a treatment order.
type Step struct {
	Stand    int32
	Treat    bool           // it needs treatment: it was not treated before
	Exposure AmountKm       // removed so far
	FreedKm  geo.Kilometers // length of reach at risk that no remaining stand reaches
}

// Curve returns the effect of treating the stands in an order, step by step. order lists stand
// indices, first treated first; share returns the share of each still to be treated. Stands already
// treated remove and free nothing. A place is free once the last stand that reaches it is treated.
func (d *Drift) Curve(order []int32, share func(stand int32) geo.Share) []Step {
	rank := make([]int32, len(order))
	for at, stand := range order {
		rank[stand] = int32(at)
	}
	freed := make([]geo.Kilometers, len(order))
	eachStretch(d.covers, func(s stretched) {
		last := slices.MaxFunc(s.stands, func(a, b int32) int { return cmp.Compare(rank[a], rank[b]) })
		if !slices.ContainsFunc(s.stands, func(stand int32) bool { return share(stand) == 0 }) {
			freed[rank[last]] += s.length.Kilometers()
		}
	})
	steps := make([]Step, len(order))
	var exposure AmountKm
	var km geo.Kilometers
	for at, stand := range order {
		exposure += AmountKm(share(stand)) * d.Outcomes[stand].Exposure
		km += freed[at]
		steps[at] = Step{Stand: stand, Treat: share(stand) > 0, Exposure: exposure, FreedKm: km}
	}
	return steps
}
