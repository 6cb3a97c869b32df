package drift

import (
	"slices"

	"driftreach/geo/flow"
)

// drawer computes one draw after another. It holds the working memory of one worker.
type drawer struct {
	*plan
	transport flow.Transport // of the draw; set where a walk needs it
	walker    *flow.Walker
	places    []flow.Place
	arrivals  []flow.Arrival

	at       []arrival // by node
	left     []float64 // by source: the share left there of the amount afloat at the previous place, the edge's upper end or a source
	tail     []float64 // by edge: the same for its lower end; the constant nothing where nothing is afloat
	exposure []float64 // by stand, for a release factor of 1
	cost     []float64 // by node, of the stand followed alone
	onLake   []bool    // by lake: reached

	kept   []Source // sources kept in a draw where fragments may outlive their viability
	levels []stretch
}

func newDrawer(p *plan) *drawer {
	return &drawer{
		plan: p, walker: p.net.NewWalker(),
		transport: flow.Transport{
			Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)), Enter: slices.Clone(p.base.Enter),
			Share: p.base.Share, Hours: p.base.Hours, Limit: p.base.Limit,
		},
		at: make([]arrival, len(p.net.Nodes)), left: make([]float64, len(p.sources)), tail: make([]float64, len(p.net.Edges)),
		exposure: make([]float64, p.u.Released.Stands), cost: slices.Repeat([]float64{never}, len(p.net.Nodes)), onLake: make([]bool, len(p.lakeMeters)),
	}
}

// draw computes one sample. The reach of stands that are followed once for all draws is left 0.
func (d *drawer) draw(s sample) row {
	out := row{reach: make([]float32, d.u.Released.Stands), exposure: make([]float32, d.u.Released.Stands)}
	young := d.young
	if !young || len(d.parting.edges) > 0 {
		d.setTransport(s)
		young = young || outlive(d.net, d.transport, d.mean, d.base.Limit) < min(negligible, d.floor)
	}
	exposure := d.exposure
	if young {
		out.atRisk = d.carry(s, d.parted(&d.parting, s)).Kilometers()
		d.expose(s)
	} else {
		out.atRisk, exposure = d.age(s)
	}
	for i := range exposure {
		out.exposure[i] = float32(exposure[i] * s.release)
	}
	for _, stand := range d.single {
		w := &d.ways[stand]
		if young {
			out.reach[stand] = float32(d.along(w, s).Kilometers())
		} else {
			out.reach[stand] = float32(length(d.reach(w.sources, s)))
		}
	}
	return out
}

// setTransport sets the transport of a sample.
func (d *drawer) setTransport(s sample) {
	for e := range d.base.Rate {
		d.transport.Rate[e] = d.base.Rate[e] / s.half
		d.transport.Pass[e] = s.passes(d.base.Pass[e])
		if d.base.Enter != nil {
			d.transport.Enter[e] = s.passes(d.base.Enter[e])
		}
	}
}

// passes returns the pass share in a sample, given the set one; a share of 1 stays 1.
func (s sample) passes(share float64) float64 {
	if share < 1 {
		return min(1, share*s.pass)
	}
	return share
}

// reach follows the sources that are in the zone in a sample.
func (d *drawer) reach(sources []Source, s sample) []flow.Piece {
	d.places = d.places[:0]
	for _, src := range sources {
		if d.counts(src, s) {
			d.places = append(d.places, src.Place)
		}
	}
	return d.lakes.reach(d.net, d.transport, d.places, flow.Bound{Floor: d.floor, Divided: true}, d.walker)
}
