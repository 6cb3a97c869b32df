package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// stretch is a piece of an edge on which exposure keeps one class.
type stretch struct {
	from, to geo.Meters
	amount   Amount // greatest on the piece
	class    Class
}

// extend adds a stretch that begins no earlier than the others.
func extend(out []stretch, from, to geo.Meters) []stretch {
	if n := len(out); n > 0 && from <= out[n-1].to {
		out[n-1].to = max(out[n-1].to, to)
		return out
	}
	return append(out, stretch{from: from, to: to})
}

// levels appends the places where the amount afloat is known: the edge's upper end, just below
// each source, and where some fragments become too old. Between levels it falls by exp(-k dx).
func levels(out []stretch, edge *flow.Edge, rate PerMeter, inflow Amount, entered, drops []drop) []stretch {
	out = append(out, stretch{from: 0, to: edge.Length, amount: inflow})
	change := func(at geo.Meters, by Amount) {
		last := &out[len(out)-1]
		if at > last.from {
			last.to = at
			out = append(out, stretch{from: at, to: edge.Length, amount: last.amount.part(rate.left(at - last.from))})
			last = &out[len(out)-1]
		}
		last.amount = max(0, last.amount+by)
	}
	for len(entered) > 0 || len(drops) > 0 {
		if len(drops) == 0 || len(entered) > 0 && entered[0].at.Offset <= drops[0].at.Offset {
			change(entered[0].at.Offset, entered[0].amount)
			entered = entered[1:]
		} else {
			change(drops[0].at.Offset, -drops[0].amount)
			drops = drops[1:]
		}
	}
	return out
}

// ends returns where the amount, which is above floor at the level's start, has fallen to floor: at
// most the level's own end.
func (l stretch) ends(rate PerMeter, floor Amount) geo.Meters {
	return min(l.to, l.from+rate.settlesIn(l.amount, floor))
}

// summed returns the union of the stretches reached by single sources and of those where the total
// amount afloat is above floor. Both lists must be sorted.
func summed(reached, levels []stretch, rate PerMeter, floor Amount) []stretch {
	var more []stretch
	for _, l := range levels {
		if l.amount > floor {
			more = append(more, stretch{from: l.from, to: l.ends(rate, floor)})
		}
	}
	if more == nil {
		return reached
	}
	out := make([]stretch, 0, len(reached)+len(more))
	for len(reached) > 0 || len(more) > 0 {
		from := &reached
		if len(reached) == 0 || len(more) > 0 && more[0].from < reached[0].from {
			from = &more
		}
		out = extend(out, (*from)[0].from, (*from)[0].to)
		*from = (*from)[1:]
	}
	return out
}

// shortest is the shortest possible stretch kept beyond the reach at risk: a shorter one is
// the rounding error of two sums. Our choice.
const shortest = 1e-3 // m

// beyond returns the parts of some stretches that others do not cover. Both are sorted.
func beyond(all, covered []stretch) []stretch {
	var out []stretch
	keep := func(from, to geo.Meters) {
		if to-from > shortest {
			out = append(out, stretch{from: from, to: to})
		}
	}
	for _, a := range all {
		at := a.from
		for _, c := range covered {
			if c.to <= at || c.from >= a.to {
				continue
			}
			keep(at, c.from)
			at = max(at, c.to)
		}
		keep(at, a.to)
	}
	return out
}

// stretches cuts the reached parts of an edge at exact class changes.
func (s Settings) stretches(levels []stretch, rate PerMeter, reached []stretch) []stretch {
	var out []stretch
	for _, r := range reached {
		start := len(out)
		for _, l := range levels {
			from, to := max(r.from, l.from), min(r.to, l.to)
			for from < to {
				piece := s.piece(l, rate, from, to)
				out = join(out, start, piece)
				from = piece.to
			}
		}
	}
	return out
}

// piece is the stretch from a place below a level to where its class ends, at most to the
// given end. A place where the amount equals a break belongs to the class below, so that each
// piece has a length.
func (s Settings) piece(level stretch, rate PerMeter, from, to geo.Meters) stretch {
	amount := level.amount.part(rate.left(from - level.from))
	p := stretch{from: from, to: to, amount: amount, class: s.class(amount)}
	for ; p.class > Low; p.class-- {
		if cut := level.ends(rate, s.ExposureBreaks[p.class-1]); cut > from {
			p.to = min(to, cut)
			break
		}
	}
	return p
}

// join appends a piece, or lengthens the last one of the same class.
func join(out []stretch, start int, piece stretch) []stretch {
	if n := len(out); n > start && out[n-1].class == piece.class {
		out[n-1].to = piece.to
		out[n-1].amount = max(out[n-1].amount, piece.amount)
		return out
	}
	return append(out, piece)
}

// sorted orders the stretches of an edge downstream.
func sorted(stretches []stretch) []stretch {
	slices.SortFunc(stretches, func(a, b stretch) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	return stretches
}
