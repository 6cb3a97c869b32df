package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// The reach of one source ends where the share afloat is the risk share. A draw measures this as a
// cost, -ln of the share: the cost grows downstream, and of all sources above a place only the one
// with the lowest cost matters. This holds down to the first place where the flow divides. Below
// it, shares that arrive along several paths add up, and the walker finds the reach.

// carry takes the sources that are in the zone down the network. It returns the length of stream at
// risk from single sources and from all of them together; the sample's release factor applies to
// the latter. pieces, sorted by edge, are the stream reached below places where the flow divides.
// It computes one exponential for each source and for each edge with something afloat.
func (d *drawer) carry(s sample, pieces []flow.Piece) geo.Meters {
	for _, e := range d.below {
		l := &d.legs[e]
		d.at[l.from], d.at[l.to] = arrival{cost: never}, arrival{cost: never}
	}
	bank, next := d.u.Setback+s.setback, 0
	r := run{limit: tollOf(d.floor), floor: d.moderate / Amount(s.release)}
	reached := geo.Meters(0)
	for _, e := range d.below {
		l := &d.legs[e]
		r.begin(l, &d.at[l.from], s)
		r.pieces = takeUpTo(&pieces, e)
		for ; next < len(d.sources) && d.sources[next].Place.Edge == e; next++ {
			if src := &d.sources[next]; src.Bank <= bank {
				d.left[next] = r.to(src.Place.Offset)
				r.amount, r.cost = r.amount+src.Amount, 0
			}
		}
		if r.amount == 0 {
			d.tail[e] = nothing
			continue
		}
		d.tail[e] = r.to(l.length)
		reached += d.reached(l, r.reached)
		end, pass := &d.at[l.to], s.passes(l.pass)
		end.amount += r.amount.part(pass)
		end.cost = min(end.cost, r.cost+tollOf(pass))
	}
	return reached + d.lakesReached(d.legsOnLakes)
}

// reached returns the length of an edge that counts as reached. For an edge on a lake it marks the
// lake.
func (d *drawer) reached(l *leg, length geo.Meters) geo.Meters {
	if l.lake < 0 {
		return length
	}
	if length > 0 {
		d.onLake[l.lake] = true
	}
	return 0
}

// lakesReached returns the total length of the marked lakes on which some of the edges
// lie, and clears the marks.
func (d *drawer) lakesReached(edges []int32) geo.Meters {
	length := geo.Meters(0)
	for _, e := range edges {
		if on := d.legs[e].lake; on >= 0 && d.onLake[on] {
			length += d.lakeMeters[on]
			d.onLake[on] = false
		}
	}
	return length
}

// run is the path down one edge.
type run struct {
	at      geo.Meters // position on the edge
	amount  Amount     // afloat there from all sources
	cost    toll       // the lowest of one source
	rate    PerMeter
	limit   toll       // the highest cost at which one source still counts
	floor   Amount     // above which all together put stream at risk
	reached geo.Meters // so far
	pieces  []flow.Piece
}

// begin starts an edge with the amounts that arrive at its upper node.
func (r *run) begin(l *leg, top *arrival, s sample) {
	enter := s.passes(l.enter)
	r.at, r.reached, r.rate = 0, 0, l.rate/PerMeter(s.half)
	r.amount, r.cost = top.amount.part(l.share).part(enter), never
	if l.share == 1 {
		r.cost = top.cost + tollOf(enter)
	}
}

// to moves to a place farther down. It returns the share left there of the amount afloat at the
// previous place.
func (r *run) to(place geo.Meters) geo.Share {
	way, left := place-r.at, geo.Share(1)
	if r.amount > 0 {
		left = r.rate.left(way)
	}
	after, reached := r.amount.part(left), geo.Meters(0)
	if r.cost < r.limit {
		reached = min(way, geo.Meters(float64(r.limit-r.cost)/float64(r.rate)))
	}
	switch {
	case r.amount <= r.floor:
	case after > r.floor:
		reached = way
	default:
		reached = max(reached, min(way, r.rate.settlesIn(r.amount, r.floor)))
	}
	r.reached += reached
	for _, p := range r.pieces {
		r.reached += max(0, min(p.To, place)-max(p.From, r.at+reached))
	}
	r.at, r.amount, r.cost = place, after, r.cost+r.rate.toll(way)
	return left
}

// expose sets, by stand, the exposure made by its own fragments, working upstream. A unit released
// at a place makes the exposure down to the next place, plus what its remaining share makes from
// there (see exposures). It needs the shares that carry left for each stretch.
func (d *drawer) expose(s sample) {
	clear(d.exposure)
	bank, next := d.u.Setback+s.setback, len(d.sources)-1
	for _, e := range slices.Backward(d.below) {
		l := &d.legs[e]
		tail, settled := d.tail[e], geo.Kilometers(float64(s.half)/float64(l.rate)/1000)
		unit := geo.Kilometers(tail*s.passes(l.pass))*d.at[l.to].onward + geo.Kilometers(1-tail)*settled
		for ; next >= 0 && d.sources[next].Place.Edge == e; next-- {
			if src := &d.sources[next]; src.Bank <= bank {
				d.exposure[src.Stand] += src.Amount.Over(unit)
				unit = geo.Kilometers(d.left[next])*unit + geo.Kilometers(1-d.left[next])*settled
			}
		}
		if tail != nothing {
			d.at[l.from].onward += geo.Kilometers(l.share*s.passes(l.enter)) * unit
		}
	}
}

// descend takes single sources down their way and returns the length they reach, including the
// pieces below places where the flow divides. Afterwards arrivals holds what arrives at those
// places.
func (d *drawer) descend(w *way, pieces []flow.Piece, s sample) geo.Meters {
	bank, edges, sources := d.u.Setback+s.setback, d.withPieces(w.edges, pieces), w.sources
	r := run{limit: tollOf(d.floor), floor: Amount(never)}
	reached := geo.Meters(0)
	for _, e := range edges {
		l := &d.legs[e]
		r.begin(l, &arrival{cost: d.cost[l.from]}, s)
		r.pieces = takeUpTo(&pieces, e)
		for ; len(sources) > 0 && d.sources[sources[0]].Place.Edge == e; sources = sources[1:] {
			if src := &d.sources[sources[0]]; src.Bank <= bank {
				r.to(src.Place.Offset)
				r.cost = 0
			}
		}
		r.to(l.length)
		reached += d.reached(l, r.reached)
		d.cost[l.to] = min(d.cost[l.to], r.cost+tollOf(s.passes(l.pass)))
	}
	reached += d.lakesReached(edges)
	d.arrivals = d.arrivals[:0]
	for _, e := range edges {
		from, to := d.legs[e].from, d.legs[e].to
		if d.forks != nil && d.forks[to] && d.cost[to] < r.limit {
			d.arrivals = append(d.arrivals, arrivalAt{to, d.cost[to].share()})
		}
		d.cost[from], d.cost[to] = never, never
	}
	return reached
}

// withPieces adds the edges of pieces, sorted by edge, to other edges, ascending. They are good until the
// next call.
func (d *drawer) withPieces(edges []int32, pieces []flow.Piece) []int32 {
	if len(pieces) == 0 {
		return edges
	}
	d.edges = d.edges[:0]
	for _, p := range pieces {
		for len(edges) > 0 && edges[0] < p.Edge {
			d.edges, edges = append(d.edges, edges[0]), edges[1:]
		}
		if len(edges) > 0 && edges[0] == p.Edge {
			edges = edges[1:]
		}
		if n := len(d.edges); n == 0 || d.edges[n-1] != p.Edge {
			d.edges = append(d.edges, p.Edge)
		}
	}
	d.edges = append(d.edges, edges...)
	return d.edges
}

// takeUpTo removes the pieces of one edge from the front of a list sorted by edge and returns them.
// It drops those of earlier edges.
func takeUpTo(pieces *[]flow.Piece, edge int32) []flow.Piece {
	for len(*pieces) > 0 && (*pieces)[0].Edge < edge {
		*pieces = (*pieces)[1:]
	}
	return takeEdge(pieces, edge, func(p *flow.Piece) int32 { return p.Edge })
}
