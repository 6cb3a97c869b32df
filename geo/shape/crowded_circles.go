package shape

import (
	"math"

	"github.com/paulmach/orb"
)

const (
	// leastCrowd is the number of circles above which a group is asked whether it is crowded. Our choice: all
	// pairs of so few take some milliseconds.
	leastCrowd = 1024
	// hiddenInCrowd is how many circles of a crowded group there are for each that is exposed. Our choice.
	hiddenInCrowd = 8
)

// crowded returns by circle whether an arc of it is exposed, where few are: many circles lie about one
// place, and looking at all pairs would take the square of their number. Otherwise nil.
func (g *group) crowded() []bool {
	if len(g.circles) <= leastCrowd {
		return nil
	}
	arcs := g.exposed()
	shown, count := make([]bool, len(g.circles)), 0
	for _, a := range arcs {
		if !shown[a.circle] {
			shown[a.circle] = true
			count++
		}
	}
	if count*hiddenInCrowd > len(g.circles) {
		return nil
	}
	return shown
}

// relateCrowded is relate of a crowded group. Only circles that show have corners, so it looks for near
// touches of these alone; circles already known to be connected are not held against each other.
func (g *group) relateCrowded(shown []bool) {
	boxes := make([]orb.Bound, len(g.circles))
	for i, c := range g.circles {
		boxes[i] = orb.Bound{Min: orb.Point{c.x - c.r, c.y - c.r}, Max: orb.Point{c.x + c.r, c.y + c.r}}
	}
	g.component = linked(boxes, func(i, k int32) bool {
		a, b := g.circles[min(i, k)], g.circles[max(i, k)]
		return crosses(a.r+b.r, squareApart(a, b))
	}).parent
	for i, isShown := range shown {
		if isShown {
			g.touchesOf(i)
		}
	}
	g.relationsKnown()
}

// touchesOf adds the near touches of circle i.
func (g *group) touchesOf(i int) {
	c := g.circles[i]
	reach := (c.r+g.largest)*(1+nearTouch) + 3*g.sagitta
	first, last := g.rows.around(c.y, reach)
	for row := first; row <= last; row++ {
		for _, p := range g.rows.along(row, c.x, reach) {
			if int(p.at) == i {
				continue
			}
			a, b, turn := c, g.circles[p.at], 0.0
			if int(p.at) < i {
				a, b, turn = b, a, math.Pi
			}
			d2, beside := g.beside(a, b)
			if !beside || crosses(a.r+b.r, d2) {
				continue
			}
			if gap, near := g.gap(a, b, d2); near {
				g.touches = append(g.touches, touch{int32(i), math.Atan2(b.y-a.y, b.x-a.x) + turn, gap})
			}
		}
	}
}
