package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// bend is a corner of an outline where two tangents to an arc meet. It is drawn in place of the
// arc: one corner for a bend of a line, where chords would need three.
type bend struct {
	at      int       // its place in the ring
	center  orb.Point // of the arc
	surplus float64   // area between the corner and the arc, square metres
}

// isBend reports whether a piece is the whole arc about a node, continuing the side before it and
// continued by the side after it, both without a corner.
func (s *capsules) isBend(a arc, before, after int32) bool {
	node := a.circle - s.circle(0)
	if node < 0 || a.from != before || a.to != after || before >= s.circle(0) || after >= s.circle(0) {
		return false
	}
	q := s.joints[node]
	return a.from == q.from && a.to == q.to
}

// appendBends appends the corners of the tangents to an arc, as many as the sagitta asks for:
// corners are no farther outside the arc than the same number of chords would be inside.
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

// trimBends moves each bend of an open ring towards its arc's centre until the ring has lost the
// bend's surplus: by at most two thirds of the sagitta, less where sides are long.
func trimBends(ring orb.Ring, bends []bend) {
	for _, b := range bends {
		n := len(ring)
		at, before, after := ring[b.at], ring[(b.at+n-1)%n], ring[(b.at+1)%n]
		x, y := b.center[0]-at[0], b.center[1]-at[1]
		length := math.Hypot(x, y)
		x, y = x/length, y/length
		// the area lost per metre moved
		if loss := (y*(after[0]-before[0]) - x*(after[1]-before[1])) / 2; loss > 0 {
			by := b.surplus / loss
			ring[b.at] = orb.Point{at[0] + by*x, at[1] + by*y}
		}
	}
}
