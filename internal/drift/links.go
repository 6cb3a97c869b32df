package drift

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/knapsack"
	"driftreach/internal/stream"
)

// Link says that fragments of one stand could reach another.
type Link struct {
	From, To int32     // stands
	Share    geo.Share // the largest share of a source's release that may be afloat at a source of To, along the best path, with the flow not divided
	Fast     geo.Hours // the fewest hours after which the first of them arrives
}

// NearestLinks returns links from each stand to stands it could reach (reached): as few as lead,
// directly or in a chain, to all of them. Stands that reach each other keep only some of their
// links. Sorted by From, then To. It follows each stand that reaches any once.
func NearestLinks(net *stream.Network, released Released, s Settings, reached func(stand int32) []int32) []Link {
	sources, _ := onWater(released.inFlowOrder(), dry(net, s))
	transport, _ := transport(net, s)
	own := byStand(sources, released.Stands)
	walker, lakes := net.Net.NewWalker(), newLakes(net)
	var out []Link
	for stand, onward := range knapsack.Nearest(released.Stands, reached) {
		if len(onward) == 0 {
			continue
		}
		pieces := lakes.reach(net.Net, transport, placesOf(own[stand]), flow.Bound{Floor: float64(s.RiskShare)}, walker)
		for _, to := range onward {
			if link, there := nearestOf(pieces, own[to], transport); there {
				link.From, link.To = int32(stand), to
				out = append(out, link)
			}
		}
	}
	return out
}

// nearestOf returns the link made by what arrives over some pieces at some sources; false where
// nothing arrives.
func nearestOf(pieces []flow.Piece, sources []Source, t flow.Transport) (link Link, there bool) {
	link.Fast = geo.Hours(math.Inf(1))
	for _, src := range sources {
		for _, p := range piecesOf(pieces, src.Place.Edge, func(p flow.Piece) int32 { return p.Edge }) {
			if src.Place.Offset < p.From || src.Place.Offset > p.To {
				continue
			}
			down := src.Place.Offset - p.From
			hours := p.HoursFrom
			if p.To > p.From {
				hours += (p.HoursTo - p.HoursFrom) * geo.Hours(down/(p.To-p.From))
			}
			link.Share = max(link.Share, geo.Share(p.ShareFrom)*losses(t.Rate).on(p.Edge).left(down))
			link.Fast, there = min(link.Fast, hours), true
		}
	}
	return link, there
}

// MergeLinks combines the links of two water stages: for the same two stands it keeps the
// larger share and the fewer hours. Both are sorted by From, then To.
func MergeLinks(a, b []Link) []Link {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(x, y Link) int { return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To)) })
	out := all[:0]
	for _, l := range all {
		if n := len(out); n > 0 && out[n-1].From == l.From && out[n-1].To == l.To {
			out[n-1].Share, out[n-1].Fast = max(out[n-1].Share, l.Share), min(out[n-1].Fast, l.Fast)
			continue
		}
		out = append(out, l)
	}
	return out
}
