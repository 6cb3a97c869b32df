package drift

import (
	"cmp"
	"context"
	"slices"

	"driftreach/geo"
	"driftreach/geo/parallel"
)

// once follows stands only at the longest half-distance, which is enough for all draws. It holds
// the working memory of one worker.
type once struct {
	*ensemble
	longest Factor // of half-distance
	cost    []toll // by node; the value never between calls
	banks   []geo.Meters
	ramps   []ramp // of one stand for one number of sources
	sets    []set  // of one stand
}

// set is a draw with the number of a stand's sources that count in it: those nearest to a bank.
type set struct{ sources, draw int }

func newOnce(p *ensemble) *once {
	return &once{ensemble: p, longest: p.longest(), cost: slices.Repeat([]toll{never}, len(p.net.Nodes))}
}

// ramp is a piece of stream reached as a function of the cost limit: above its own cost, each unit
// of cost adds a length, until all of the piece is reached.
type ramp struct {
	cost        toll
	perCost, of geo.Meters
}

// stretch sets the reach of one stand in every draw. The stand is followed once for each set of
// sources that some draw's setback includes. A draw's cost limit is that of the risk share, times
// the draw's half-distance over the longest.
func (o *once) stretch(reach []drawnReach, stand int32) {
	clear(reach)
	w := &o.ways[stand]
	o.banks, o.sets = o.banks[:0], o.sets[:0]
	for _, i := range w.sources {
		o.banks = append(o.banks, o.ensemble.sources[i].Bank)
	}
	slices.Sort(o.banks)
	for i, s := range o.samples {
		n, _ := slices.BinarySearchFunc(o.banks, o.u.Setback+s.setback, func(bank, most geo.Meters) int {
			if bank <= most {
				return -1
			}
			return 1
		})
		if n > 0 {
			o.sets = append(o.sets, set{n, i})
		}
	}
	// one number of sources at a time: the ramps for all of them would take tens of megabytes for a
	// large stand
	slices.SortFunc(o.sets, func(a, b set) int { return cmp.Or(cmp.Compare(a.sources, b.sources), cmp.Compare(a.draw, b.draw)) })
	for k, one := range o.sets {
		if k == 0 || one.sources != o.sets[k-1].sources {
			o.ramps = o.ramps[:0]
			o.follow(w, o.banks[one.sources-1])
		}
		limit := tollOf(o.floor) * toll(o.samples[one.draw].half) / toll(o.longest)
		var reached geo.Meters
		for _, r := range o.ramps {
			reached += min(geo.Meters(max(limit-r.cost, 0))*r.perCost, r.of)
		}
		reach[one.draw] = drawnReach(reached.Kilometers())
	}
}

// follow adds the ramps of those sources of a stand that are no farther than bank from the bank.
// The flow must not divide below them, and no barrier may hold anything.
func (o *once) follow(w *way, bank geo.Meters) {
	limit, sources := tollOf(o.floor), w.sources
	for _, e := range w.edges {
		l, rate := &o.legs[e], PerMeter(o.base.Rate[e]/float64(o.longest))
		at, cost := geo.Meters(0), never
		if l.share == 1 && l.enter == 1 {
			cost = o.cost[l.from]
		}
		to := func(place geo.Meters) {
			if cost < limit && place > at {
				o.ramps = append(o.ramps, ramp{cost, geo.Meters(1 / rate), place - at})
			}
			at, cost = place, cost+rate.toll(place-at)
		}
		for ; len(sources) > 0 && o.ensemble.sources[sources[0]].Place.Edge == e; sources = sources[1:] {
			if src := &o.ensemble.sources[sources[0]]; src.Bank <= bank {
				to(src.Place.Offset)
				cost = 0
			}
		}
		to(l.length)
		o.cost[l.to] = min(o.cost[l.to], cost)
	}
	for _, e := range w.edges {
		o.cost[o.legs[e].from], o.cost[o.legs[e].to] = never, never
	}
}

// stretch calls do, from several goroutines, with the reach in every draw of each stand that is followed
// only once: at the longest half-distance, for each set of sources that some draw's setback includes. do
// must not keep the reaches.
func (p *ensemble) stretch(do func(stand int32, reach []drawnReach)) {
	if len(p.samples) == 0 {
		return
	}
	_ = parallel.EachWith(context.Background(), len(p.ways), p.u.Workers, standsPerTask, func() func(int) {
		once, reach := newOnce(p), make([]drawnReach, len(p.samples))
		return func(stand int) {
			if _, single := slices.BinarySearch(p.single, int32(stand)); !single {
				once.stretch(reach, int32(stand))
				do(int32(stand), reach)
			}
		}
	})
}
