package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// together follows the stands below which the flow divides, in several draws at once. It holds the
// working memory of one worker.
type together struct {
	walker *flow.DeltaWalker
	most   []flow.Shares // by leg of the delta: the largest share of any source's release at its upper end
	reach  [flow.Lanes][]drawnReach
	lanes  [flow.Lanes]lane
	united []flow.Piece // of one draw
}

// lane is one of the draws, with the reach of one stand.
type lane struct {
	sample
	young  bool         // nothing becomes too old in it
	meters geo.Meters   // reached
	pieces []flow.Piece // reached below places where the flow divides, and perhaps reached otherwise too
}

func newTogether(p *ensemble) *together {
	t := &together{walker: p.delta.NewWalker(float64(p.floor)), most: make([]flow.Shares, len(p.delta.Legs()))}
	for i := range t.reach {
		t.reach[i] = make([]drawnReach, len(p.parted))
	}
	return t
}

// groups returns the draws that are computed together: one at a time, or several with about the same
// half-distances where the flow divides below any stand.
func (p *ensemble) groups() [][]int {
	draws := make([]int, len(p.samples))
	for i := range draws {
		draws[i] = i
	}
	if p.delta == nil {
		return slices.Collect(slices.Chunk(draws, 1))
	}
	slices.SortFunc(draws, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.samples[a].half, p.samples[b].half), cmp.Compare(a, b))
	})
	return slices.Collect(slices.Chunk(draws, flow.Lanes))
}

// draw computes a group of draws and calls put with each one's figures, without the reach of stands that
// are followed once for all draws.
func (d *drawer) draw(group []int, put func(draw int, of row)) {
	var young [flow.Lanes]bool
	for i, draw := range group {
		young[i] = d.young
		if !young[i] {
			d.setTransport(d.samples[draw])
			young[i] = outlive(d.net, d.transport, d.mean, d.base.Limit) < min(negligible, d.floor)
		}
	}
	if d.together != nil {
		var variants [flow.Lanes]flow.Variant
		for i := range d.together.lanes {
			l := &d.together.lanes[i]
			if l.young = i < len(group) && young[i]; l.young {
				l.sample = d.samples[group[i]]
				variants[i] = flow.Variant{Longer: float64(l.half), Passes: func(share float64) float64 { return float64(l.passes(geo.Share(share))) }}
			}
		}
		d.followTogether(variants[:])
	}
	for i, draw := range group {
		put(draw, d.drawOne(i, d.samples[draw], young[i]))
	}
}

// drawOne computes one of the draws that are computed together.
func (d *drawer) drawOne(lane int, s sample, young bool) row {
	out := row{reach: make([]drawnReach, len(d.single)), exposure: make([]DrawnExposure, d.u.Released.Stands)}
	exposure := d.exposure
	if young {
		out.atRisk = d.carry(s, d.unitedBelow(lane)).Kilometers()
		d.expose(s)
	} else {
		d.setTransport(s)
		out.atRisk, exposure = d.age(s)
	}
	for i := range exposure {
		out.exposure[i] = DrawnExposure(exposure[i] * AmountKm(s.release))
	}
	parted := 0
	for k, stand := range d.single {
		switch w := &d.ways[stand]; {
		case !young:
			out.reach[k] = drawnReach(length(d.reach(w, s)))
		case w.parts:
			out.reach[k] = d.together.reach[lane][parted]
			parted++
		default:
			out.reach[k] = drawnReach(d.descend(w, nil, s).Kilometers())
		}
	}
	return out
}

// followTogether sets the reach of each stand below which the flow divides, and what all of them reach
// there, in each of the draws in which nothing becomes too old.
func (d *drawer) followTogether(variants []flow.Variant) {
	t := d.together
	t.walker.Set(variants)
	clear(t.most)
	for k, stand := range d.parted {
		w := &d.ways[stand]
		for i := range t.lanes {
			l := &t.lanes[i]
			l.meters, l.pieces = 0, l.pieces[:0]
			if !l.young {
				continue
			}
			l.meters = d.descend(w, nil, l.sample)
			for _, a := range d.arrivals {
				t.walker.Start(i, a.node, float64(a.share))
			}
		}
		for _, r := range t.walker.Follow() {
			t.most[r.Leg].Raise(&r.Share)
			d.addBelow(w, &r)
		}
		for i := range t.lanes {
			l := &t.lanes[i]
			if len(l.pieces) > 0 {
				l.meters += d.again(w, l)
			}
			t.reach[i][k] = drawnReach(l.meters.Kilometers())
		}
	}
}

// addBelow adds what one stand reaches of a leg in each draw: to its length, or to its pieces if it may
// reach the same stream otherwise too.
func (d *drawer) addBelow(w *way, r *flow.Reached) {
	edge := d.delta.Edge(r.Leg)
	_, own := slices.BinarySearch(w.edges, edge)
	for i, share := range r.Share {
		end := d.together.walker.End(i, r.Leg, share)
		switch l := &d.together.lanes[i]; {
		case end <= 0:
		case own || d.legs[edge].lake >= 0:
			l.pieces = append(l.pieces, flow.Piece{Edge: edge, To: end})
		default:
			l.meters += end
		}
	}
}

// again takes a stand's sources down their way once more, now with the pieces. It returns by how much the
// pieces lengthen the reach.
func (d *drawer) again(w *way, l *lane) geo.Meters {
	slices.SortFunc(l.pieces, func(a, b flow.Piece) int { return cmp.Compare(a.Edge, b.Edge) })
	return d.descend(w, l.pieces, l.sample) - d.descend(w, nil, l.sample)
}

// unitedBelow returns the stream that any stand reaches below places where the flow divides, by edge.
func (d *drawer) unitedBelow(lane int) []flow.Piece {
	t := d.together
	if t == nil {
		return nil
	}
	t.united = t.united[:0]
	for _, leg := range d.delta.Legs() {
		if end := t.walker.End(lane, leg, t.most[leg][lane]); end > 0 {
			t.united = append(t.united, flow.Piece{Edge: d.delta.Edge(leg), To: end})
		}
	}
	return t.united
}
