package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// bend is a corner of an outline where tangents to an arc meet, which is drawn for the
// arc: one corner for a bend of a line, where chords have three.
type bend struct {
	at      int       // its place in the ring
	center  orb.Point // of the arc
	surplus float64   // by how much the corner encloses more than the arc, square metres
}

// isBend reports whether a piece is the whole arc about a node from the side before it,
// on which it follows without a corner, to the side after it.
func (s *capsules) isBend(a arc, before, after int32) bool {
	node := a.circle - s.circle(0)
	if node < 0 || a.from != before || a.to != after || before >= s.circle(0) || after >= s.circle(0) {
		return false
	}
	q := s.joints[node]
	return a.from == q.from && a.to == q.to
}

// appendBends appends the corners of as many tangents to an arc as a sagitta asks for:
// corners lie no farther outside the arc than chords of as many would lie inside.
func (s *capsules) appendBends(ring orb.Ring, bends []bend, a arc, sagitta float64) (orb.Ring, []bend) {
	c := s.nodes[a.circle-s.circle(0)]
	turn := a.end - a.start
	n := max(1, math.Ceil(turn*sides(c.r, sagitta)/(2*math.Pi)))
	half := turn / n / 2
	surplus := c.r * c.r * (math.Tan(half) - half)
	for k := range int(n) {
		bends = append(bends, bend{len(ring) + k, orb.Point{c.x, c.y}, surplus})
	}
	return appendTurns(ring, c, c.r/math.Cos(half), a.start+half, 2*half, 0, int(n)), bends
}

// trimBends moves each bend of an open ring toward its arc's centre by what takes its
// surplus off the area: by two thirds of the sagitta at most, less where sides are long.
func trimBends(ring orb.Ring, bends []bend) {
	for _, b := range bends {
		n := len(ring)
		at, before, after := ring[b.at], ring[(b.at+n-1)%n], ring[(b.at+1)%n]
		x, y := b.center[0]-at[0], b.center[1]-at[1]
		length := math.Hypot(x, y)
		x, y = x/length, y/length
		// what the area loses by a metre
		if loss := (y*(after[0]-before[0]) - x*(after[1]-before[1])) / 2; loss > 0 {
			by := b.surplus / loss
			ring[b.at] = orb.Point{at[0] + by*x, at[1] + by*y}
		}
	}
}
