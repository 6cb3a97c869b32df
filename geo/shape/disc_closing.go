package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// CloseDiscs returns the area of the closing of the union of discs: enlarged by half of gap and
// shrunk by as much, so that gaps narrower than gap are filled. Exact for the true circles
// (relative error about 1e-9) and never below UnionDiscsArea; gap must be at least 0.
func CloseDiscs(discs []Disc, gap geo.Meters) geo.SquareMeters {
	d := NewDiscs(discs)
	return d.Closing(gap, d.Area())
}

// closed is the area of the closing of circles that g has enlarged by rho; false when rounding keeps
// arcs from closing.
func (g *group) closed(rho float64) (area geo.SquareMeters, ok bool) {
	arcs := g.exposed()
	route, ok := follow(arcs, len(g.circles))
	if !ok {
		return 0, false
	}
	return geo.SquareMeters(g.closedArea(arcs, route.next, rho)), true
}

// closePolygons is the result of the polygon library, for arcs that rounding keeps from closing.
func closePolygons(discs []Disc, gap geo.Meters) geo.SquareMeters {
	grown := make([]Disc, len(discs))
	for i, d := range discs {
		if !d.empty() {
			grown[i] = Disc{d.Center, d.Radius + gap/2}
		}
	}
	return Area(BufferPolygon(UnionDiscs(grown), -gap/2, finestOf(len(discs))))
}

func (g *group) closedArea(arcs []arc, next []int32, rho float64) float64 {
	total := 0.0
	for _, a := range arcs {
		c := g.circles[a.circle]
		total += arcIntegral(circle{c.x, c.y, c.r - rho}, a.start, a.end)
	}
	return total - reentrantIntegral(g, arcs, next, rho)
}

// grown is the outline of something enlarged by rho, made of circles or of capsules.
type grown interface {
	// toward returns the direction from a place on an element of the outline to the original of the
	// element.
	toward(element int32, at orb.Point) float64
	// under reports whether p is less than rho away from an arc, on its inner side.
	under(arcs []arc, p orb.Point, rho float64) bool
}

// reentrantIntegral is arcIntegral of the reentrant arcs of a closing.
func reentrantIntegral(o grown, arcs []arc, next []int32, rho float64) float64 {
	corners := reentrant(o, arcs, next)
	total := 0.0
	var cuts []cover
	for k, c := range corners {
		cuts = appendCuts(cuts[:0], corners, k, rho)
		about := circle{c.at[0], c.at[1], rho}
		eachLeft(o, arcs, c, cuts, rho, func(lo, hi float64) { total += arcIntegral(about, lo, hi) })
	}
	return total
}

// corner is a place where two arcs of an enlarged union meet. Seen from it, the arcs' centres are
// in the directions start and start+turn, turn in [0, pi].
type corner struct {
	at          orb.Point
	start, turn float64
	arrives     int32 // the element whose arc ends here
	leaves      int32 // the element whose arc begins here
}

// reentrant returns the corners of the outline, by x, except those where it continues straight.
func reentrant(o grown, arcs []arc, next []int32) []corner {
	corners := make([]corner, 0, len(arcs))
	for k, a := range arcs {
		if a.to == wholeCircle || next[k] < 0 {
			continue
		}
		before, after := a.circle, arcs[next[k]].circle
		start := o.toward(after, a.last)
		turn := o.toward(before, a.last) - start
		if turn < 0 {
			turn += 2 * math.Pi
		}
		if turn > math.Pi {
			// Either a half turn or none, except for rounding.
			turn = math.Pi * math.Round(2-turn/math.Pi)
		}
		if turn > straight {
			corners = append(corners, corner{a.last, start, turn, before, after})
		}
	}
	slices.SortFunc(corners, func(a, b corner) int {
		if c := geo.ComparePoints(a.at, b.at); c != 0 {
			return c
		}
		return cmp.Compare(a.start, b.start)
	})
	return corners
}

// appendCuts appends the parts of the arc of corner k that the discs of radius rho about other
// corners cover, as angles from the arc's start.
func appendCuts(cuts []cover, corners []corner, k int, rho float64) []cover {
	c := corners[k]
	for _, way := range []int{-1, 1} {
		for m := k + way; m >= 0 && m < len(corners); m += way {
			dx, dy := corners[m].at[0]-c.at[0], corners[m].at[1]-c.at[1]
			if math.Abs(dx) >= 2*rho {
				break
			}
			d2 := dx*dx + dy*dy
			// Corners at the same place are parts of one corner.
			if d2 >= 4*rho*rho || d2 <= joinDistance*joinDistance {
				continue
			}
			half := math.Acos(math.Sqrt(d2) / (2 * rho))
			lo := math.Mod(math.Atan2(dy, dx)-half-c.start+4*math.Pi, 2*math.Pi)
			cuts = append(cuts, cover{lo: lo, hi: lo + 2*half}, cover{lo: lo - 2*math.Pi, hi: lo + 2*half - 2*math.Pi})
		}
	}
	sortCovers(cuts)
	return cuts
}

// eachLeft calls do with the angles that the sorted cuts leave of the arc of corner c. The ends of
// the arc lie on discs, where nothing covers them. A piece between two cuts may still be under a
// long arc of the outline; such a piece is left out.
func eachLeft(o grown, arcs []arc, c corner, cuts []cover, rho float64, do func(lo, hi float64)) {
	about := circle{c.at[0], c.at[1], rho}
	reach := 0.0
	add := func(lo, hi float64) {
		lo, hi = max(lo, 0), min(hi, c.turn)
		if lo >= hi {
			return
		}
		if lo > 0 && hi < c.turn && o.under(arcs, about.at(stop{c.start + (lo+hi)/2, rho}), rho) {
			return
		}
		do(c.start+lo, c.start+hi)
	}
	for _, cut := range cuts {
		add(reach, cut.lo)
		reach = max(reach, cut.hi)
	}
	add(reach, c.turn)
}

func (g *group) toward(i int32, at orb.Point) float64 {
	return math.Atan2(g.circles[i].y-at[1], g.circles[i].x-at[0])
}

func (g *group) under(arcs []arc, p orb.Point, rho float64) bool {
	for _, a := range arcs {
		c := g.circles[a.circle]
		dx, dy := p[0]-c.x, p[1]-c.y
		if math.Abs(dx) > c.r+rho || math.Abs(dy) > c.r+rho {
			continue
		}
		if a.underArc(c, dx, dy, rho) {
			return true
		}
	}
	return false
}

// underArc reports whether the place dx, dy from the centre of an arc's circle is less than rho
// away from the arc, on its inner side.
func (a arc) underArc(c circle, dx, dy, rho float64) bool {
	return math.Abs(math.Hypot(dx, dy)-c.r) < rho-touchTolerance &&
		math.Mod(math.Atan2(dy, dx)-a.start+8*math.Pi, 2*math.Pi) < a.end-a.start
}
