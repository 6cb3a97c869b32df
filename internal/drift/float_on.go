package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// Onward describes what would float downstream from some places if fragments were released there.
type Onward struct {
	ReachKm geo.Kilometers // stream it would put at risk
	CleanKm geo.Kilometers // length of that stream not at risk now
	Passing []int32        // stands whose fragments pass the places: the nearest for each place, ascending
}

// Onward follows, for each site, what would float downstream from its places, as for a stand's
// fragments. It compares the result with the reach at risk in d, which must be made with the same
// network and settings. A site costs the edges it reaches and, for each, a search in the stands'
// reach.
func (d *Drift) Onward(net *stream.Network, s Settings, sites [][]flow.Place) []Onward {
	out := make([]Onward, len(sites))
	transport, _ := transport(net, s)
	dry := dry(net, s)
	walker, lakes := net.Net.NewWalker(), newLakes(net)
	for i, places := range sites {
		if dry != nil {
			places = slices.DeleteFunc(slices.Clone(places), func(p flow.Place) bool { return dry[p.Edge] })
		}
		for _, p := range lakes.reach(net.Net, transport, places, flow.Bound{Floor: float64(s.RiskShare), Divided: true}, walker) {
			out[i].ReachKm += (p.To - p.From).Kilometers()
			out[i].CleanKm += d.clean(p).Kilometers()
		}
		for _, at := range places {
			if stand, ok := d.passing(at, losses(transport.Rate)); ok {
				out[i].Passing = append(out[i].Passing, stand)
			}
		}
		slices.Sort(out[i].Passing)
		out[i].Passing = slices.Compact(out[i].Passing)
	}
	return out
}

// piecesOf returns the part of a list, sorted by edge, that is on one edge.
func piecesOf[T any](list []T, edge int32, of func(T) int32) []T {
	by := func(x T, edge int32) int { return cmp.Compare(of(x), edge) }
	first, _ := slices.BinarySearchFunc(list, edge, by)
	last, _ := slices.BinarySearchFunc(list, edge+1, by)
	return list[first:last]
}

// clean returns the length of a piece that is not at risk.
func (d *Drift) clean(p flow.Piece) geo.Meters {
	free := p.To - p.From
	for _, r := range piecesOf(d.risk, p.Edge, func(r riskOn) int32 { return r.edge }) {
		free -= max(0, min(p.To, r.to)-max(p.From, r.from))
	}
	return max(0, free)
}

// KeepAfloat lets go of all but what is afloat: then only its exposures can be asked for.
func (d *Drift) KeepAfloat() { *d = Drift{afloat: d.afloat} }

// Passed reports whether a place is on the reach at risk of any stand for which wanted returns
// true.
func (d *Drift) Passed(at flow.Place, wanted func(stand int32) bool) bool {
	return slices.ContainsFunc(piecesOf(d.covers, at.Edge, func(c cover) int32 { return c.edge }), func(c cover) bool {
		return at.Offset >= c.from && at.Offset <= c.to && wanted(c.stand)
	})
}

// passing returns the stand with the largest share afloat at a place; ties go to the first.
func (d *Drift) passing(at flow.Place, rate losses) (stand int32, ok bool) {
	best := geo.Share(-1)
	for _, c := range piecesOf(d.covers, at.Edge, func(c cover) int32 { return c.edge }) {
		if at.Offset < c.from || at.Offset > c.to {
			continue
		}
		share := c.share * rate.on(at.Edge).left(at.Offset-c.from)
		if share > best || share == best && c.stand < stand {
			best, stand, ok = share, c.stand, true
		}
	}
	return stand, ok
}
