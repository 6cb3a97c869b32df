package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// drawer computes one draw after another. It holds the working memory of one worker.
type drawer struct {
	*ensemble
	transport flow.Transport // of the draw; set where a walk needs it
	walker    *flow.Walker
	places    []flow.Place
	arrivals  []arrivalAt
	together  *together // nil where the flow divides nowhere

	at       []arrival   // by node
	left     []geo.Share // by source: the share left there of the amount afloat at the previous place, the edge's upper end or a source
	tail     []geo.Share // by edge: the same for its lower end; the constant nothing where nothing is afloat
	exposure []AmountKm  // by stand, for a release factor of 1
	cost     []toll      // by node, of the stand followed alone
	onLake   []bool      // by lake: reached
	edges    []int32     // of one way, with those of the pieces below it

	kept    []Source // sources kept in a draw where fragments may outlive their viability
	entered []drop   // what enters there
	levels  []stretch
}

func newDrawer(p *ensemble) *drawer {
	d := &drawer{
		ensemble: p, walker: p.net.NewWalker(),
		transport: flow.Transport{
			Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)), Enter: slices.Clone(p.base.Enter),
			Share: p.base.Share, Hours: p.base.Hours, Limit: p.base.Limit,
		},
		at: make([]arrival, len(p.net.Nodes)), left: make([]geo.Share, len(p.sources)), tail: make([]geo.Share, len(p.net.Edges)),
		exposure: make([]AmountKm, p.u.Released.Stands), cost: slices.Repeat([]toll{never}, len(p.net.Nodes)), onLake: make([]bool, len(p.lakeMeters)),
	}
	if p.delta != nil {
		d.together = newTogether(p)
	}
	return d
}

// setTransport sets the transport of a sample.
func (d *drawer) setTransport(s sample) {
	for e := range d.base.Rate {
		d.transport.Rate[e] = d.base.Rate[e] / float64(s.half)
		d.transport.Pass[e] = float64(s.passes(geo.Share(d.base.Pass[e])))
		if d.base.Enter != nil {
			d.transport.Enter[e] = float64(s.passes(geo.Share(d.base.Enter[e])))
		}
	}
}

// reach follows the sources of a way that are in the zone in a sample.
func (d *drawer) reach(w *way, s sample) []flow.Piece {
	d.places = d.places[:0]
	for _, i := range w.sources {
		if src := &d.sources[i]; d.counts(src, s) {
			d.places = append(d.places, src.Place)
		}
	}
	return d.reachOfPlaces()
}

// reachOfPlaces follows the places.
func (d *drawer) reachOfPlaces() []flow.Piece {
	return d.lakes.reach(d.net, d.transport, d.places, flow.Bound{Floor: float64(d.floor), Divided: true}, d.walker)
}

// arrivalAt is the share of one source's release that arrives at a node.
type arrivalAt struct {
	node  int32
	share geo.Share
}

// arrival is the state of a node in a draw.
type arrival struct {
	amount Amount         // what arrives from above, from all sources
	cost   toll           // the lowest cost at which one source's release arrives
	onward geo.Kilometers // the exposure of a unit from here downstream
}
