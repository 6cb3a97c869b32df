package drift

import (
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// drawer follows one draw after another; it holds the working memory of one
// worker.
type drawer struct {
	*plan
	transport flow.Transport
	walker    *flow.Walker
	kept      []Source
	places    []flow.Place
	inflow    []float64 // by edge: amount at its upper end
	arriving  []float64 // by node
	levels    []stretch
}

func newDrawer(p *plan) *drawer {
	return &drawer{
		plan: p, walker: p.net.NewWalker(), inflow: make([]float64, len(p.net.Edges)), arriving: make([]float64, len(p.net.Nodes)),
		transport: flow.Transport{
			Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)), Enter: slices.Clone(p.base.Enter),
			Share: p.base.Share, Hours: p.base.Hours, Limit: p.base.Limit,
		},
	}
}

// draw follows one sample. The reach of stands that are walked once for all
// draws is left 0.
func (d *drawer) draw(s sample) row {
	for e := range d.base.Rate {
		d.transport.Rate[e] = d.base.Rate[e] / s.half
		d.transport.Pass[e] = d.base.Pass[e]
		if d.base.Pass[e] < 1 {
			d.transport.Pass[e] = min(1, d.base.Pass[e]*s.pass)
		}
		if d.base.EnterOf(int32(e)) < 1 {
			d.transport.Enter[e] = min(1, d.base.Enter[e]*s.pass)
		}
	}
	d.kept = d.kept[:0]
	for _, src := range d.sources {
		if d.counts(src, s) {
			d.kept = append(d.kept, src)
		}
	}
	load, exposures := d.load()
	out := row{
		reach:    make([]float32, d.u.Released.Stands),
		exposure: make([]float32, d.u.Released.Stands),
		atRisk:   d.atRisk(load, s.release),
	}
	for i, exposure := range exposures {
		out.exposure[i] = float32(exposure * s.release)
	}
	for i, stand := range d.single {
		out.reach[stand] = float32(length(d.reach(d.inFlow[i], s)))
	}
	return out
}

// reach walks from the sources that count in a sample.
func (d *drawer) reach(sources []Source, s sample) []flow.Piece {
	d.places = d.places[:0]
	for _, src := range sources {
		if d.counts(src, s) {
			d.places = append(d.places, src.Place)
		}
	}
	return d.lakes.reach(d.net, d.transport, d.places, flow.Bound{Floor: d.floor, Divided: true}, d.walker)
}

// load returns what floats of the kept sources and the exposure of every stand,
// age heeded where it matters.
func (d *drawer) load() (load, []float64) {
	stands := d.u.Released.Stands
	if outlive(d.net, d.transport, d.mean, d.base.Limit) < negligible {
		d.sweep()
		return load{inflow: d.inflow}, exposures(d.net, d.transport, stands, d.kept)
	}
	a := newAgeing(d.net, d.transport, d.mean, d.base.Limit)
	a.follow(stands, d.kept)
	out := make([]float64, stands)
	for i := range a.balance {
		out[i] = a.balance[i].Exposure
	}
	return a.load(), out
}

// sweep sets inflow in one pass in flow order.
func (d *drawer) sweep() {
	clear(d.arriving)
	own := d.kept
	for e := range d.net.Edges {
		edge := &d.net.Edges[e]
		d.inflow[e] = d.arriving[edge.From] * d.transport.ShareOf(d.net, int32(e)) * d.transport.EnterOf(int32(e))
		at, amount := 0.0, d.inflow[e]
		for _, s := range takeEdge(&own, int32(e), func(s *Source) int32 { return s.Place.Edge }) {
			offset := float64(s.Place.Offset)
			amount = amount*math.Exp(-d.transport.Rate[e]*(offset-at)) + s.Amount
			at = offset
		}
		if amount == 0 {
			continue
		}
		d.arriving[edge.To] += amount * math.Exp(-d.transport.Rate[e]*(float64(edge.Length)-at)) * d.transport.Pass[e]
	}
}

// atRisk is the length of the stream at risk, of single sources and of all
// together, whose amounts a sample multiplies by its release.
func (d *drawer) atRisk(x load, release float64) geo.Kilometers {
	d.places = d.places[:0]
	for _, src := range d.kept {
		d.places = append(d.places, src.Place)
	}
	pieces := d.lakes.reach(d.net, d.transport, d.places, flow.Bound{Floor: d.floor, Divided: true}, d.walker)
	own, drops, floor := d.kept, x.drops, d.moderate/release
	crowded := d.lakes.crowded(d.net, d.transport.Rate, x, d.kept, floor)
	var meters geo.Meters
	for e := range d.net.Edges {
		here := takeEdge(&pieces, int32(e), func(p *flow.Piece) int32 { return p.Edge })
		sources := takeEdge(&own, int32(e), func(s *Source) int32 { return s.Place.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if d.lakes.among(crowded, int32(e)) {
			meters += d.net.Edges[e].Length
			continue
		}
		if x.inflow[e] <= floor && len(sources) == 0 {
			for _, p := range here {
				meters += p.To - p.From
			}
			continue
		}
		if len(here) == 1 && toEnd(here[0], d.net.Edges[e].Length, sources, x.inflow[e] > floor) {
			meters += here[0].To - here[0].From // all together add nothing
			continue
		}
		var reached []stretch
		for _, p := range here {
			reached = extend(reached, p.From, p.To)
		}
		d.levels = levels(d.levels[:0], &d.net.Edges[e], d.transport.Rate[e], x.inflow[e], sources, dropped)
		for _, r := range summed(reached, d.levels, d.transport.Rate[e], floor) {
			meters += r.to - r.from
		}
	}
	return meters.Kilometers()
}

// toEnd reports whether a piece that single sources reach holds every place of its
// edge, of a length, where anything may be above a floor: it goes on to the edge's
// end, nothing enters above it, and what flows in is below the floor, or it begins
// with the edge.
func toEnd(p flow.Piece, length geo.Meters, sources []Source, above bool) bool {
	return p.To == length && (p.From == 0 || !above && (len(sources) == 0 || sources[0].Place.Offset >= p.From))
}
