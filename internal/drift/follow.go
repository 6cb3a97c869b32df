package drift

import (
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

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
	load := d.settle(net.Net, transport, times, Released{Stands: released.Stands, Sources: sources})
	d.strand(net.Net, stranded)
	lakes := newLakes(net)
	walks := walk(net.Net, transport, released.Stands, sources, walkOptions{floor: s.RiskShare, workers: workers, lakes: lakes})
	for i := range walks {
		o := &d.Outcomes[i]
		o.ReachKm, o.PossibleKm, o.Reached = length(walks[i].risk), walks[i].possibleKm, walks[i].reached
	}
	risk := covers(walks, func(w *walked) *[]flow.Piece { return &w.risk })
	possible := covers(walks, func(w *walked) *[]flow.Piece { return &w.beyond })
	d.afloat = afloat{load: load, rate: losses(transport.Rate), entered: appendEntering(make([]drop, 0, len(sources)), sources), times: lakes.landing(times), lakes: lakes}
	d.unite(net, s, d.afloat, risk, possible)
	d.covers = make([]cover, len(risk))
	for i := range risk {
		d.covers[i] = risk[i].cover
	}
	for i, km := range alone(d.covers, released.Stands) {
		d.Outcomes[i].AloneKm = km
	}
	return d
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

// transport gives every edge its loss per metre and the share that passes its lower end, and
// returns the travel times. The time limit applies to the first fragment to arrive.
func transport(net *stream.Network, s Settings) (flow.Transport, times) {
	times := travel(net, s)
	t := flow.Transport{
		Share: wetShares(net.Net, dry(net, s)),
		Rate:  make([]float64, net.Paths.Len()), Pass: make([]float64, net.Paths.Len()),
		Hours: times.fast, Slow: times.mean, Limit: s.Viable.Hours(),
	}
	for e := range net.Paths.Len() {
		t.Rate[e], t.Pass[e] = float64(s.rate(net.Order[e])), 1
		if kind, pass := net.BarrierAt(int32(e)); kind != stream.NoBarrier {
			t.Pass[e] = float64(s.passAt(kind, pass))
		}
	}
	newLakes(net).hold(net, s, &t)
	return t, times
}

// strand accounts for what was released on a dry bed: all of it settles.
func (d *Drift) strand(net *flow.Network, stranded []Source) {
	for _, s := range stranded {
		o := &d.Outcomes[s.Stand]
		o.Released += s.Amount
		o.Settled += s.Amount
		d.Balance.Released += s.Amount
		d.Balance.Settled += s.Amount
		if km := net.Edges[s.Place.Edge].RiverKm(s.Place.Offset); !(o.RiverKm <= km) {
			o.RiverKm = km
		}
	}
}
