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
	Amount float64    // relative index; a source of 0 releases and reaches nothing
	Bank   geo.Meters // from the patch to the nearest bank; only Percentiles asks
}

// Released is every source of a batch.
type Released struct {
	Stands  int // how many stands there are; Source.Stand counts below it
	Sources []Source
}

// inFlowOrder returns the sources that release anything, by place.
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
	AtRiskKm geo.Kilometers // stream at risk, nothing counted twice

	covers []cover      // every stand's reach at risk, by edge, then downstream
	risk   []flow.Piece // all of it together, likewise
	afloat afloat
}

// Follow carries the fragments of every stand downstream by first-order
// retention: the share still afloat after a path is exp(-integral k dx) times
// the pass shares of its barriers, k = ln 2 / half-distance. Quantity divides
// at divergences and is conserved. One sweep downstream gives exposure, one
// upstream gives every stand's mass balance, and each stand's reach is walked at the
// cost of its own edges.
//
// Stream is at risk where, of what one source released, at least the risk share
// may still be afloat, the flow divided where it parts and summed where branches
// meet again, and where what floats of all sources together is moderate. A
// stand's reach is the union over its sources. What one fragment could come to,
// along the best single path with nothing divided, is possible beyond that.
func Follow(net *stream.Network, released Released, s Settings, workers int) Drift {
	sources, stranded := onWater(released.inFlowOrder(), dry(net, s))
	transport, times := transport(net, s)
	d := Drift{}
	load := d.settle(net.Net, transport, times, Released{released.Stands, sources})
	d.strand(net.Net, stranded)
	lakes := newLakes(net)
	walks := walk(net.Net, transport, released.Stands, sources, walkOptions{floor: float64(s.RiskShare), workers: workers, lakes: lakes})
	d.covers = covers(walks, func(w *walked) []flow.Piece { return w.risk })
	own := alone(d.covers, released.Stands)
	for i := range walks {
		o := &d.Outcomes[i]
		o.ReachKm, o.AloneKm, o.PossibleKm, o.Reached = length(walks[i].risk), own[i], walks[i].possibleKm, walks[i].reached
	}
	d.afloat = afloat{load: load, rate: transport.Rate, sources: sources, times: lakes.landing(times), lakes: lakes}
	d.unite(net, s, d.afloat,
		covers(walks, func(w *walked) []flow.Piece { return w.beyond }))
	return d
}

// load is what floats: by edge the amount at its upper end, and where amounts on
// the way become too old, by place.
type load struct {
	inflow []float64
	drops  []drop
}

// settle makes the mass balance, each stand's and all together, and returns what floats
// where. Quantity ages at the mean velocity.
func (d *Drift) settle(net *flow.Network, t flow.Transport, times times, released Released) load {
	var out load
	if outlive(net, t, times.mean, t.Limit) < negligible {
		swept := net.Sweep(t, flowSources(released.Sources))
		out.inflow = swept.Inflow
		d.Outcomes = massBalance(net, t, released.Stands, released.Sources)
		for i, exposure := range exposures(net, t, released.Stands, released.Sources) {
			d.Outcomes[i].Exposure = exposure
		}
		d.Balance = Balance{Released: swept.Released, Settled: swept.Settled, Held: swept.Held, Left: swept.Left}
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
		out[i] = flow.Source{Place: s.Place, Amount: s.Amount}
	}
	return out
}

// transport gives every edge its loss per metre and the share that passes its
// lower end, and says how long what floats takes. The time limit is held
// against the first fragment to arrive.
func transport(net *stream.Network, s Settings) (flow.Transport, times) {
	times := travel(net, s)
	t := flow.Transport{
		Share: wetShares(net.Net, dry(net, s)),
		Rate:  make([]float64, len(net.Paths)), Pass: make([]float64, len(net.Paths)),
		Hours: times.fast, Slow: times.mean, Limit: s.Viable.Hours(),
	}
	for e := range net.Paths {
		t.Rate[e], t.Pass[e] = s.rate(net.Order[e]), 1
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

// walked is what one stand reaches.
type walked struct {
	risk       []flow.Piece // at risk
	beyond     []flow.Piece // possible, where that is more than what is at risk
	possibleKm geo.Kilometers
	reached    []int32 // stands on possible stream
}

type walkOptions struct {
	floor   float64
	workers int
	lakes   *lakes
}

// standsPerTask keeps a task worth handing out. Our choice.
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
	_ = tasks.Wait() // no task fails
	return out
}

// walkOne follows one stand, a second time where water parts on the way: without
// that, what is possible and what is at risk are the same.
func walkOne(net *flow.Network, t flow.Transport, places []flow.Place, o walkOptions, walker *flow.Walker) walked {
	w := walked{risk: slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: o.floor}, walker))}
	w.possibleKm = length(w.risk)
	if parts(net, t, w.risk) {
		w.beyond = w.risk
		w.risk = slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: o.floor, Divided: true}, walker))
	}
	return w
}

// possible returns what a stand's fragments could come to at all.
func (w *walked) possible() []flow.Piece {
	if w.beyond != nil {
		return w.beyond
	}
	return w.risk
}

// parts reports whether the way over some pieces may lead into a branch that takes
// only a part of the flow.
func parts(net *flow.Network, t flow.Transport, pieces []flow.Piece) bool {
	return slices.ContainsFunc(pieces, func(p flow.Piece) bool { return p.From == 0 && t.ShareOf(net, p.Edge) < 1 })
}

// length sums pieces.
func length(pieces []flow.Piece) geo.Kilometers {
	var m float64
	for _, p := range pieces {
		m += float64(p.To - p.From)
	}
	return geo.Kilometers(m / 1000)
}

// reached lists the stands with a source on the pieces, self left out.
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
