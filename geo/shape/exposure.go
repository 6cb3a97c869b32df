package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Exposure says how the area of a union depends on one of its parts, to first order: the change
// when only this part grows or moves. 0 for a part that is completely covered.
type Exposure struct {
	Swell geo.SquareMeters // per relative growth of the part's own area, which is the part's whole area where all of it is exposed
	Move  orb.Point        // per move of the part: square metres a metre, in x and in y
}

// flattest is the smallest sine of the angle between two circles at which their corner counts as
// moving with them. Our choice: where circles only graze each other, the corner moves at any speed,
// with no effect of first order.
const flattest = 1e-6

// exposures is Discs.Exposures of the discs whose circles g has enlarged by rho; indices gives the disc of
// each circle.
func (g *group) exposures(discs []Disc, indices []int32, rho float64) []Exposure {
	out := make([]Exposure, len(discs))
	all := make([]pull, len(g.circles))
	arcs := g.exposed()
	for _, a := range arcs {
		all[a.circle].addArc(g.circles[a.circle].r-rho, a.start, a.end)
	}
	if rho > 0 {
		if route, ok := follow(arcs, len(g.circles)); ok {
			g.addReentrant(all, arcs, route.next, rho)
		}
	}
	for k, i := range indices {
		out[i] = Exposure{geo.SquareMeters(all[k].radius * float64(discs[i].Radius) / 2), all[k].center}
	}
	return out
}

// pull is the change in area by a circle's radius and by its centre, square metres a metre.
type pull struct {
	radius float64
	center orb.Point
}

// addArc adds an exposed arc of radius r about the circle's centre.
func (p *pull) addArc(r, start, end float64) {
	s0, c0 := math.Sincos(start)
	s1, c1 := math.Sincos(end)
	p.radius += r * (end - start)
	p.center[0] += r * (s1 - s0)
	p.center[1] -= r * (c1 - c0)
}

// addCorner adds a corner in direction x, y from the centre; much is the change in area per change
// of the corner's distance.
func (p *pull) addCorner(much, x, y float64) {
	p.radius += much
	p.center[0] += much * x
	p.center[1] += much * y
}

// addReentrant adds the effect of a closing's reentrant arcs on the circles that form their
// corners. Such an arc, of radius rho about corner c, bounds the area from outside: moved by v it
// adds -rho v.n over its angles. The corner keeps its distance from both circles, so two equations
// give v from the circles' moves and growth. They are solved here in reverse, once for every
// corner.
func (g *group) addReentrant(all []pull, arcs []arc, next []int32, rho float64) {
	corners := reentrant(g, arcs, next)
	var cuts []cover
	for k, c := range corners {
		cuts = appendCuts(cuts[:0], corners, k, rho)
		wx, wy := 0.0, 0.0
		eachLeft(g, arcs, c, cuts, rho, func(lo, hi float64) {
			s0, c0 := math.Sincos(lo)
			s1, c1 := math.Sincos(hi)
			wx -= rho * (s1 - s0)
			wy += rho * (c1 - c0)
		})
		a, b := g.circles[c.arrives], g.circles[c.leaves]
		ax, ay := (c.at[0]-a.x)/a.r, (c.at[1]-a.y)/a.r
		bx, by := (c.at[0]-b.x)/b.r, (c.at[1]-b.y)/b.r
		sine := ax*by - ay*bx
		if math.Abs(sine) < flattest {
			continue
		}
		all[c.arrives].addCorner((wx*by-wy*bx)/sine, ax, ay)
		all[c.leaves].addCorner((wy*ax-wx*ay)/sine, bx, by)
	}
}

// indices returns, by circle of a group enlarged by grow, the index of its disc; of equal discs the
// first.
func (g *group) indices(discs []Disc, grow float64) []int32 {
	circleOf := func(i int32) circle {
		d := discs[i]
		return circle{d.Center[0] - g.origin[0], d.Center[1] - g.origin[1], float64(d.Radius) + grow}
	}
	order := make([]int32, 0, len(discs))
	for i, d := range discs {
		if !d.empty() {
			order = append(order, int32(i))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return compareCircles(circleOf(a), circleOf(b)) })
	out := make([]int32, 0, len(g.circles))
	for _, i := range order {
		if len(out) < len(g.circles) && circleOf(i) == g.circles[len(out)] {
			out = append(out, i)
		}
	}
	return out
}

// finest and most limit the pieces of a walked outline: half a metre, or some two hundred a ring.
// Our choice: a patch is surveyed no more exactly.
const (
	finest = 0.5
	most   = 192
)

// ExposuresOf is Discs.Exposures of the union of any valid areas, see MakeValid. It walks the outlines in
// pieces, each exposed or not: the result is exact to a hundredth of the part or better. An area
// grows about the middle of its box. n log n in pieces.
func ExposuresOf(areas []orb.MultiPolygon) []Exposure {
	out := make([]Exposure, len(areas))
	all := NewCoverage(areas)
	for i, mp := range areas {
		if len(mp) == 0 {
			continue
		}
		middle := mp.Bound().Center()
		for _, polygon := range mp {
			for k, ring := range polygon {
				eachShown(ring, k == 0, all, func(at, outward orb.Point) {
					out[i].Swell += geo.SquareMeters((at[0]-middle[0])*outward[0]+(at[1]-middle[1])*outward[1]) / 2
					out[i].Move[0] += outward[0]
					out[i].Move[1] += outward[1]
				})
			}
		}
	}
	return out
}

// eachShown calls do for every piece of a closed ring with no area on its outside: with the middle
// of the piece and its outward normal, of the piece's length.
func eachShown(ring orb.Ring, exterior bool, all *Coverage, do func(at, outward orb.Point)) {
	// distance outside a piece that is tested; our choice: below what any survey resolves
	const beside = 1e-3
	around := 0.0
	for k := 0; k+1 < len(ring); k++ {
		around += math.Hypot(ring[k+1][0]-ring[k][0], ring[k+1][1]-ring[k][1])
	}
	longest, side := max(finest, around/most), 1.0
	if (signedArea(ring) > 0) != exterior {
		side = -1
	}
	for k := 0; k+1 < len(ring); k++ {
		a, dx, dy := ring[k], ring[k+1][0]-ring[k][0], ring[k+1][1]-ring[k][1]
		length := math.Hypot(dx, dy)
		if length == 0 {
			continue
		}
		pieces := math.Ceil(length / longest)
		nx, ny := side*dy/length, -side*dx/length
		for n := 0.5; n < pieces; n++ {
			at := orb.Point{a[0] + dx*n/pieces, a[1] + dy*n/pieces}
			if all.First(orb.Point{at[0] + beside*nx, at[1] + beside*ny}) < 0 {
				do(at, orb.Point{nx * length / pieces, ny * length / pieces})
			}
		}
	}
}
