package drift

import (
	"cmp"
	"math"
	"slices"
	"sync/atomic"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
	"driftreach/internal/stream"
)

// plan is what all draws of a batch share.
type plan struct {
	net      *flow.Network
	base     flow.Transport // as set
	mean     []geo.Hours    // by edge
	floor    float64        // the risk share
	moderate float64        // the amount afloat from which exposure is moderate
	u        Uncertain
	samples  []sample
	sources  []Source   // by place
	byStand  [][]Source // by distance to the bank
	inFlow   [][]Source // the same of each of single, by place
	lakes    *lakes
	single   []int32 // stands that must be walked draw by draw
	aged     bool    // the age limit can end a reach
	widest   flow.Transport
}

func newPlan(net *stream.Network, s Settings, u Uncertain) *plan {
	base, times := transport(net, s)
	sources, _ := onWater(u.Released.inFlowOrder(), dry(net, s))
	p := &plan{
		net: net.Net, base: base, mean: times.mean, floor: float64(s.RiskShare), moderate: s.ExposureBreaks[0], u: u, samples: u.Spread.samples(),
		sources: sources, lakes: newLakes(net), byStand: make([][]Source, u.Released.Stands),
	}
	for _, src := range p.sources {
		p.byStand[src.Stand] = append(p.byStand[src.Stand], src)
	}
	for _, own := range p.byStand {
		slices.SortStableFunc(own, func(a, b Source) int { return cmp.Compare(a.Bank, b.Bank) })
	}
	p.widen()
	p.choose()
	return p
}

// counts says whether a source is in the zone in a sample.
func (p *plan) counts(src Source, s sample) bool {
	return src.Bank <= p.u.Setback+s.setback
}

// widen makes the transport of the farthest reach of any draw.
func (p *plan) widen() {
	half, most := p.longest(), 1+float64(p.u.Spread.PassSpread)
	p.widest = flow.Transport{Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)), Enter: slices.Clone(p.base.Enter), Share: p.base.Share}
	for e := range p.base.Rate {
		p.widest.Rate[e] = p.base.Rate[e] / half
		p.widest.Pass[e] = min(1, p.base.Pass[e]*most)
		if p.base.Enter != nil {
			p.widest.Enter[e] = min(1, p.base.Enter[e]*most)
		}
	}
	p.aged = outlive(p.net, p.widest, p.base.Hours, p.base.Limit) >= p.floor
}

// longest is the largest factor on half-distance.
func (p *plan) longest() float64 {
	half := 1.0
	for _, s := range p.samples {
		half = max(half, s.half)
	}
	return half
}

// choose lists the stands that must be walked draw by draw: those with a barrier,
// a lake or a parting of the water within the farthest reach, all when the age limit can
// end one.
func (p *plan) choose() {
	walker := p.net.NewWalker()
	for stand, own := range p.byStand {
		if len(own) == 0 {
			continue
		}
		pieces := p.net.Reach(p.widest, placesOf(own), flow.Bound{Floor: p.floor}, walker)
		barrier := slices.ContainsFunc(pieces, func(piece flow.Piece) bool {
			return p.heldAt(flow.Place{Edge: piece.Edge, Offset: piece.To})
		}) || slices.ContainsFunc(own, func(s Source) bool { return p.heldAt(s.Place) })
		if p.aged || barrier || p.lakes.meets(pieces) || parts(p.net, p.base, pieces) {
			p.single = append(p.single, int32(stand))
			sorted := slices.Clone(own)
			slices.SortStableFunc(sorted, byPlace)
			p.inFlow = append(p.inFlow, sorted)
		}
	}
}

// heldAt says whether a place is at a barrier.
func (p *plan) heldAt(at flow.Place) bool {
	return p.base.Pass[at.Edge] < 1 && at.Offset >= p.net.Edges[at.Edge].Length
}

func placesOf(sources []Source) []flow.Place {
	places := make([]flow.Place, len(sources))
	for i, s := range sources {
		places[i] = s.Place
	}
	return places
}

// stretch fills in the reach of the stands that are walked once: at the longest
// half-distance, for each set of sources that some draw's setback takes in.
func (p *plan) stretch(rows []row) {
	if len(rows) == 0 {
		return
	}
	var next atomic.Int64
	var tasks parallel.Group
	for range max(1, p.u.Workers) {
		tasks.Go(func() error {
			walker := p.net.NewWalker()
			for {
				first := int(next.Add(standsPerTask)) - standsPerTask
				if first >= len(p.byStand) {
					return nil
				}
				for stand := first; stand < min(first+standsPerTask, len(p.byStand)); stand++ {
					if _, single := slices.BinarySearch(p.single, int32(stand)); !single {
						p.stretchOne(rows, stand, walker)
					}
				}
			}
		})
	}
	_ = tasks.Wait() // no task fails
}

// stretchOne does so for one stand. Costs are -ln of the share afloat at the
// longest half-distance; a draw's limit is the risk share's, times how much
// shorter its own half-distance is.
func (p *plan) stretchOne(rows []row, stand int, walker *flow.Walker) {
	own, longest := p.byStand[stand], p.longest()
	walked := make(map[int][]ramp)
	for i, s := range p.samples {
		n, _ := slices.BinarySearchFunc(own, s, func(src Source, s sample) int {
			if p.counts(src, s) {
				return -1
			}
			return 1
		})
		if n == 0 {
			continue
		}
		ramps, done := walked[n]
		if !done {
			ramps = p.ramps(p.net.Reach(p.widest, placesOf(own[:n]), flow.Bound{Floor: p.floor}, walker))
			walked[n] = ramps
		}
		limit := -math.Log(p.floor) * s.half / longest
		var meters float64
		for _, r := range ramps {
			meters += min(max(limit-r.cost, 0)*r.metersPerCost, r.meters)
		}
		rows[i].reach[stand] = float32(meters / 1000)
	}
}

// ramp is a piece as a function of the limit: from its cost on it is reached
// by so many metres for each unit of cost, until all of it is.
type ramp struct{ cost, metersPerCost, meters float64 }

func (p *plan) ramps(pieces []flow.Piece) []ramp {
	out := make([]ramp, len(pieces))
	for i, piece := range pieces {
		out[i] = ramp{-math.Log(piece.ShareFrom), 1 / p.widest.Rate[piece.Edge], float64(piece.To - piece.From)}
	}
	return out
}
