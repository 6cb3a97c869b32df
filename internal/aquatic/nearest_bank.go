package aquatic

import (
	"cmp"
	"slices"

	"driftreach/geo"
)

// bankOf is how a shape lies to one run of a centerline.
type bankOf struct {
	edge, segment int32
	along         float64    // of the segment, where its middle is nearest
	middle        geo.Meters // from its middle to the centerline
	away          geo.Meters // from the shape to the bank, 0 where it reaches the water
	shore         int32      // the surface whose edge the bank is, counted from 1; 0 for none
}

// choose returns the run whose water a shape belongs to: that of the nearest bank,
// in a tie of the larger water, the higher order and then the wider. Edges of one
// order that follow each other are one water, on which the centerline nearest to
// the middle decides. It is the first of the same answer for any order of runs.
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

// sameWater returns the runs that hang together with one over edges of its order.
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
