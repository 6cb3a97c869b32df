package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// discSegments is the number of sides of a drawn circle: 32 a quarter. Our choice: chord and arc of
// a 12 m circle then differ by less than 4 mm.
const discSegments = 128

// Disc is a filled true circle. A disc whose radius is not positive, or with a number that is not
// finite, is empty.
type Disc struct {
	Center orb.Point
	Radius geo.Meters
}

// DiscOfArea returns the disc of area a centred on center.
func DiscOfArea(center orb.Point, a geo.SquareMeters) Disc {
	return Disc{center, geo.Meters(math.Sqrt(float64(a) / math.Pi))}
}

// Polygon returns the regular polygon of 128 sides that has the area of the
// true circle, nil for an empty disc. Its corners lie outside the circle by
// 2e-4 of the radius, the middles of its sides inside by 1e-4.
func (d Disc) Polygon() orb.Polygon {
	if d.empty() {
		return nil
	}
	const step = 2 * math.Pi / discSegments
	r := float64(d.Radius) * math.Sqrt(step/math.Sin(step))
	ring := make(orb.Ring, 0, discSegments+1)
	// Half a turn on is the smallest x, where the normal form starts.
	for i := range discSegments {
		s, c := math.Sincos(math.Pi + step*float64(i))
		ring = append(ring, orb.Point{d.Center[0] + r*c, d.Center[1] + r*s})
	}
	return orb.Polygon{append(ring, ring[0])}
}

func (d Disc) empty() bool {
	return !(d.Radius > 0) || math.IsInf(float64(d.Radius), 0) || !finite(d.Center)
}
