package aquatic

import (
	"cmp"
	"slices"

	"driftreach/geo"
)

// bankOf describes the nearest bank on one run of a centerline, as seen from a shape.
type bankOf struct {
	edge, segment int32
	along         float64    // fraction of the segment where it is nearest to the shape's middle
	middle        geo.Meters // from the shape's middle to the centerline
	away          geo.Meters // from the shape to the bank, 0 where it reaches the water
	shore         int32      // the surface whose edge is the bank, counted from 1; 0 for none
}

// choose returns the run whose water a shape belongs to: that of the nearest bank. A tie goes to
// the larger water: the higher order, then the wider. Consecutive edges of one order are one water;
// there the centerline nearest to the middle decides. The result does not depend on the order of
// the runs.
func (w *Water) choose(banks []bankOf) (own bankOf, found bool) {
	if len(banks) == 0 {
		return own, false
	}
	least := slices.MinFunc(banks, func(a, b bankOf) int { return cmp.Compare(a.away, b.away) }).away
	nearest := func(a, b bankOf) int {
		return cmp.Or(cmp.Compare(a.middle, b.middle), cmp.Compare(a.edge, b.edge), cmp.Compare(a.segment, b.segment))
	}
	larger := func(a, b bankOf) int {
		return cmp.Or(w.net.Order[b.edge]-w.net.Order[a.edge], cmp.Compare(w.half[b.edge], w.half[a.edge]), nearest(a, b))
	}
	tied := slices.DeleteFunc(banks, func(b bankOf) bool { return b.away > least })
	own = slices.MinFunc(tied, larger)
	if len(tied) == 1 {
		return own, true
	}
	return slices.MinFunc(w.sameWater(own, tied), nearest), true
}

// sameWater returns the runs connected to the chosen one by edges of its order.
func (w *Water) sameWater(own bankOf, tied []bankOf) []bankOf {
	same := []bankOf{own}
	rest := slices.DeleteFunc(tied, func(b bankOf) bool { return w.net.Order[b.edge] != w.net.Order[own.edge] })
	for i := 0; i < len(same); i++ {
		from := &w.net.Net.Edges[same[i].edge]
		rest = slices.DeleteFunc(rest, func(b bankOf) bool {
			e := &w.net.Net.Edges[b.edge]
			meets := b.edge == same[i].edge || e.From == from.To || e.To == from.From
			if meets {
				same = append(same, b)
			}
			return meets
		})
	}
	return same
}
