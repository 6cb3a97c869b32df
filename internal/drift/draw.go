package drift

import (
	"math"

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
	entry     []float64 // by edge: least -ln share at its upper end
}

func newDrawer(p *plan) *drawer {
	return &drawer{
		plan: p, walker: p.net.NewWalker(), entry: make([]float64, len(p.net.Edges)),
		transport: flow.Transport{
			Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)),
			Hours: p.base.Hours, Limit: p.base.Limit,
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
	}
	d.kept = d.kept[:0]
	for _, src := range d.sources {
		if d.counts(src, s) {
			d.kept = append(d.kept, src)
		}
	}
	out := row{
		reach:    make([]float32, d.u.Released.Stands),
		exposure: make([]float32, d.u.Released.Stands),
		atRisk:   d.atRisk(),
	}
	for i, exposure := range d.exposures() {
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
	return d.net.Reach(d.transport, d.places, d.floor, d.walker)
}

// exposures are those of the kept sources, age heeded where it matters.
func (d *drawer) exposures() []float64 {
	stands := d.u.Released.Stands
	if outlive(d.net, d.transport, d.mean, d.base.Limit) < negligible {
		return exposures(d.net, d.transport, stands, d.kept)
	}
	a := newAgeing(d.net, d.transport, d.mean, d.base.Limit)
	a.follow(stands, d.kept)
	out := make([]float64, stands)
	for i := range a.books {
		out[i] = a.books[i].Exposure
	}
	return out
}

// atRisk is the length of the union of all reaches in km. Without an age limit
// a place is reached when its least -ln share is below that of the risk share,
// which one pass in flow order tells.
func (d *drawer) atRisk() float64 {
	if d.aged {
		d.places = d.places[:0]
		for _, src := range d.kept {
			d.places = append(d.places, src.Place)
		}
		return length(d.net.Reach(d.transport, d.places, d.floor, d.walker))
	}
	for e := range d.entry {
		d.entry[e] = math.Inf(1)
	}
	limit := -math.Log(d.floor)
	var meters float64
	at := 0
	for e := range d.net.Edges {
		own := onEdge(d.kept[at:], int32(e))
		at += len(own)
		if len(own) == 0 && d.entry[e] >= limit {
			continue
		}
		reached, cost := alongEdge(d.entry[e], limit, d.transport.Rate[e], float64(d.net.Edges[e].Length), own)
		meters += reached
		if d.transport.Pass[e] < 1 {
			cost -= math.Log(d.transport.Pass[e])
		}
		if cost >= limit {
			continue
		}
		for _, below := range d.net.Downstream(int32(e)) {
			d.entry[below] = min(d.entry[below], cost)
		}
	}
	return meters / 1000
}

// alongEdge returns the metres of an edge reached below the limit and the cost
// at its lower end; each source begins anew at cost 0.
func alongEdge(cost, limit, rate, edge float64, sources []Source) (reached, end float64) {
	at := 0.0
	for _, s := range sources {
		offset := float64(s.Place.Offset)
		reached += min(max(limit-cost, 0)/rate, offset-at)
		at, cost = offset, 0
	}
	reached += min(max(limit-cost, 0)/rate, edge-at)
	return reached, cost + rate*(edge-at)
}
