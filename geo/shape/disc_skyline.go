package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// ClosingSkyline returns the skyline of the area that CloseDiscs measures: the union of discs with
// gaps narrower than gap filled. Its arcs are those of Discs.Closing, drawn as finely as a disc and
// with their own area. The pieces need no order, since a skyline is a set of edges. Some thousand
// times as fast as the closing of the union's outline.
func ClosingSkyline(discs []Disc, gap geo.Meters) Skyline {
	g := newGroup(discs, float64(gap)/2, 0)
	arcs := g.exposed()
	route, ok := follow(arcs, len(g.circles))
	if !ok || !(gap > 0) {
		return SkylineOf(Closing(UnionDiscs(discs), gap))
	}
	chains := g.closedChains(arcs, route.next, float64(gap)/2)
	var reach orb.Bound
	for i, chain := range chains {
		if i == 0 {
			reach = chain.Bound()
		}
		reach = reach.Union(chain.Bound())
	}
	s := Skyline{reach: reach}
	for _, chain := range chains {
		for k := 0; k+1 < len(chain); k++ {
			s.tops = appendTop(s.tops, chain[k], chain[k+1], 1, reach)
		}
	}
	return s
}

// closedChains draws the outline of the closing, arc by arc, with the inside on the left.
func (g *group) closedChains(arcs []arc, next []int32, rho float64) []orb.Ring {
	var chains []orb.Ring
	draw := func(c circle, start, end float64, back bool) {
		from, to := stop{start, c.r}, stop{end, c.r}
		chain := append(appendBetween(orb.Ring{c.at(from)}, c, from, to, discSegments), c.at(to))
		if back {
			slices.Reverse(chain)
		}
		for i := range chain {
			chain[i] = orb.Point{chain[i][0] + g.origin[0], chain[i][1] + g.origin[1]}
		}
		chains = append(chains, chain)
	}
	for _, a := range arcs {
		c := g.circles[a.circle]
		if own := (circle{c.x, c.y, c.r - rho}); a.to == wholeCircle {
			draw(own, 0, math.Pi, false)
			draw(own, math.Pi, 2*math.Pi, false)
		} else {
			draw(own, a.start, a.end, false)
		}
	}
	corners := reentrant(g, arcs, next)
	var cuts []cover
	for k, c := range corners {
		cuts = appendCuts(cuts[:0], corners, k, rho)
		eachLeft(g, arcs, c, cuts, rho, func(lo, hi float64) { draw(circle{c.at[0], c.at[1], rho}, lo, hi, true) })
	}
	return chains
}
