package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// Around returns the regular polygon of so many sides, 3 or more, that the true
// circle lies in, nil for an empty disc. Its sides touch the circle.
func (d Disc) Around(sides int) orb.Polygon {
	if d.empty() {
		return nil
	}
	step := 2 * math.Pi / float64(sides)
	r := float64(d.Radius) / math.Cos(step/2)
	ring := make(orb.Ring, 0, sides+1)
	for i := range sides {
		s, c := math.Sincos(step * float64(i))
		ring = append(ring, orb.Point{d.Center[0] + r*c, d.Center[1] + r*s})
	}
	return orb.Polygon{append(ring, ring[0])}
}
