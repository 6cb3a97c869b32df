package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
	"driftreach/internal/stream"
)

// Source is where one record's fragments enter the water.
type Source struct {
	Stand  int32
	Place  flow.Place
	Amount Amount     // a source of 0 releases nothing
	Bank   geo.Meters // from the patch to the nearest bank; only Percentiles uses it
}

// Released is every source of a batch.
type Released struct {
	Stands  int // number of stands; Source.Stand is below it
	Sources []Source
}

// inFlowOrder returns the sources that release something, sorted by place.
func (r Released) inFlowOrder() []Source {
	sources := slices.DeleteFunc(slices.Clone(r.Sources), func(s Source) bool { return s.Amount <= 0 })
	slices.SortStableFunc(sources, byPlace)
	return sources
}

// Drift is where the fragments of a batch go.
type Drift struct {
	Outcomes []Outcome // by stand
	Reaches  []Reach   // by edge in flow order, then downstream
	Balance  Balance
	AtRiskKm geo.Kilometers // stream at risk, each place counted once

	covers []cover      // every stand's reach at risk, by edge, then downstream
	risk   []flow.Piece // the union of the covers, sorted in the same way
	afloat afloat
}

// Follow carries the fragments of every stand downstream by first-order retention: the share still
// afloat after a path is exp(-integral k dx) times the pass shares of its barriers, k = ln 2 /
// half-distance. The quantity divides at divergences and is conserved. One pass downstream gives
// exposure, one upstream gives every stand's mass balance. Each stand's reach is followed at the
// cost of its own edges.
//
// Stream is at risk where a share of at least the risk share of one source's release may still be
// afloat. The flow is divided at divergences and summed where branches meet again. Stream is also at
// risk where the amount afloat from all sources together is moderate. A stand's reach is the union
// over its sources. Stream beyond that is possible where one fragment could arrive along the best
// single path, with the flow not divided.
func Follow(net *stream.Network, released Released, s Settings, workers int) Drift {
	sources, stranded := onWater(released.inFlowOrder(), dry(net, s))
	transport, times := transport(net, s)
	d := Drift{}
	load := d.settle(net.Net, transport, times, Released{released.Stands, sources})
	d.strand(net.Net, stranded)
	lakes := newLakes(net)
	walks := walk(net.Net, transport, released.Stands, sources, walkOptions{floor: s.RiskShare, workers: workers, lakes: lakes})
	d.covers = covers(walks, func(w *walked) []flow.Piece { return w.risk })
	own := alone(d.covers, released.Stands)
	for i := range walks {
		o := &d.Outcomes[i]
		o.ReachKm, o.AloneKm, o.PossibleKm, o.Reached = length(walks[i].risk), own[i], walks[i].possibleKm, walks[i].reached
	}
	d.afloat = afloat{load: load, rate: losses(transport.Rate), sources: sources, times: lakes.landing(times), lakes: lakes}
	d.unite(net, s, d.afloat,
		covers(walks, func(w *walked) []flow.Piece { return w.beyond }))
	return d
}

// load is the amounts afloat: by edge at its upper end, and by place the amounts that become too
// old on the way.
type load struct {
	inflow []Amount
	drops  []drop
}

// settle computes the mass balance of each stand and of all together, and returns the amounts
// afloat. Fragments age at the mean velocity.
func (d *Drift) settle(net *flow.Network, t flow.Transport, times times, released Released) load {
	var out load
	if outlive(net, t, times.mean, t.Limit) < negligible {
		swept := net.Sweep(t, flowSources(released.Sources))
		for _, amount := range swept.Inflow {
			out.inflow = append(out.inflow, Amount(amount))
		}
		d.Outcomes = massBalance(net, t, released.Stands, released.Sources)
		for i, exposure := range exposures(net, t, released.Stands, released.Sources) {
			d.Outcomes[i].Exposure = exposure
		}
		d.Balance = Balance{Released: Amount(swept.Released), Settled: Amount(swept.Settled), Held: Amount(swept.Held), Left: Amount(swept.Left)}
	} else {
		a := newAgeing(net, t, times.mean, t.Limit)
		a.follow(released.Stands, released.Sources)
		out, d.Outcomes = a.load(), a.balance
		for i := range a.balance {
			d.Balance.add(a.balance[i])
		}
	}
	for i, km := range riverKm(net, released.Stands, released.Sources) {
		d.Outcomes[i].RiverKm = km
	}
	return out
}

func (b *Balance) add(o Outcome) {
	b.Released += o.Released
	b.Settled += o.Settled
	b.Held += o.Held
	b.Aged += o.Aged
	b.Left += o.Left
}

func byPlace(a, b Source) int {
	switch {
	case a.Place.Edge != b.Place.Edge:
		return int(a.Place.Edge) - int(b.Place.Edge)
	case a.Place.Offset < b.Place.Offset:
		return -1
	case a.Place.Offset > b.Place.Offset:
		return 1
	}
	return int(a.Stand) - int(b.Stand)
}

func flowSources(sources []Source) []flow.Source {
	out := make([]flow.Source, len(sources))
	for i, s := range sources {
		out[i] = flow.Source{Place: s.Place, Amount: float64(s.Amount)}
	}
	return out
}

// transport gives every edge its loss per metre and the share that passes its lower end, and
// returns the travel times. The time limit applies to the first fragment to arrive.
func transport(net *stream.Network, s Settings) (flow.Transport, times) {
	times := travel(net, s)
	t := flow.Transport{
		Share: wetShares(net.Net, dry(net, s)),
		Rate:  make([]float64, len(net.Paths)), Pass: make([]float64, len(net.Paths)),
		Hours: times.fast, Slow: times.mean, Limit: s.Viable.Hours(),
	}
	for e := range net.Paths {
		t.Rate[e], t.Pass[e] = float64(s.rate(net.Order[e])), 1
		if kind, pass := net.BarrierAt(int32(e)); kind != stream.NoBarrier {
			t.Pass[e] = float64(s.passAt(kind, Share(pass)))
		}
	}
	newLakes(net).hold(net, s, &t)
	return t, times
}

// cover is a stretch of an edge that one stand's fragments reach.
type cover struct {
	piece flow.Piece
	stand int32
}

// walked is the stream that one stand reaches.
type walked struct {
	risk       []flow.Piece // at risk
	beyond     []flow.Piece // possible stream, where it is more than the stream at risk
	possibleKm geo.Kilometers
	reached    []int32 // stands on possible stream
}

type walkOptions struct {
	floor   Share
	workers int
	lakes   *lakes
}

// standsPerTask makes a task large enough to hand out. Our choice.
const standsPerTask = 64

// walk follows each stand downstream on its own. Sources are sorted by place.
func walk(net *flow.Network, t flow.Transport, stands int, sources []Source, o walkOptions) []walked {
	places := make([][]flow.Place, stands)
	for _, s := range sources {
		places[s.Stand] = append(places[s.Stand], s.Place)
	}
	out := make([]walked, stands)
	var tasks parallel.Group
	tasks.SetLimit(max(1, o.workers))
	free := make(chan *flow.Walker, max(1, o.workers))
	for range max(1, o.workers) {
		free <- net.NewWalker()
	}
	for first := 0; first < stands; first += standsPerTask {
		tasks.Go(func() error {
			walker := <-free
			defer func() { free <- walker }()
			for i := first; i < min(first+standsPerTask, stands); i++ {
				if len(places[i]) > 0 {
					out[i] = walkOne(net, t, places[i], o, walker)
					out[i].reached = reached(out[i].possible(), sources, int32(i))
				}
			}
			return nil
		})
	}
	_ = tasks.Wait() // no task returns an error
	return out
}

// walkOne follows one stand. Where the flow divides on the way it does so a second time; elsewhere
// possible stream and stream at risk are the same.
func walkOne(net *flow.Network, t flow.Transport, places []flow.Place, o walkOptions, walker *flow.Walker) walked {
	w := walked{risk: slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: float64(o.floor)}, walker))}
	w.possibleKm = length(w.risk)
	if parts(net, t, w.risk) {
		w.beyond = w.risk
		w.risk = slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: float64(o.floor), Divided: true}, walker))
	}
	return w
}

// possible returns all pieces that a stand's fragments could reach.
func (w *walked) possible() []flow.Piece {
	if w.beyond != nil {
		return w.beyond
	}
	return w.risk
}

// parts reports whether the pieces may lead into a branch that takes only part of the flow.
func parts(net *flow.Network, t flow.Transport, pieces []flow.Piece) bool {
	return slices.ContainsFunc(pieces, func(p flow.Piece) bool { return p.From == 0 && t.ShareOf(net, p.Edge) < 1 })
}

// length sums pieces.
func length(pieces []flow.Piece) geo.Kilometers {
	var m geo.Meters
	for _, p := range pieces {
		m += p.To - p.From
	}
	return m.Kilometers()
}

// reached lists the stands, except self, with a source on the pieces.
func reached(pieces []flow.Piece, sources []Source, self int32) []int32 {
	var out []int32
	for _, p := range pieces {
		start, _ := slices.BinarySearchFunc(sources, p, func(s Source, p flow.Piece) int {
			if s.Place.Edge != p.Edge {
				return int(s.Place.Edge) - int(p.Edge)
			}
			if s.Place.Offset < p.From {
				return -1
			}
			return 1
		})
		for _, s := range sources[start:] {
			if s.Place.Edge != p.Edge || s.Place.Offset > p.To {
				break
			}
			if s.Stand != self {
				out = append(out, s.Stand)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
