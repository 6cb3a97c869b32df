package intake

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// outlineOf returns the shape's polygons with closed rings, and whether any ring had to be closed.
// Rings of fewer than three vertices are dropped; if an exterior ring is dropped, so are its holes.
func outlineOf(s *format.Shape, memory *slab) (outline orb.MultiPolygon, closed bool) {
	part := 0
	for _, end := range s.Polygons {
		var polygon orb.Polygon
		for first := part; part < end; part++ {
			ring := s.Part(part)
			places := len(ring)
			if places > 0 && ring[0] == ring[places-1] {
				places--
			}
			if places < 3 {
				if part == first {
					part = end
					break
				}
				continue
			}
			points := memory.copy(ring)
			if places == len(ring) {
				points = append(points, ring[0])
				closed = true
			}
			polygon = append(polygon, orb.Ring(points))
		}
		part = end
		if len(polygon) > 0 {
			outline = append(outline, polygon)
		}
	}
	return outline, closed
}

// placeInside returns a longitude and latitude inside the outline's first polygon: the middle of the
// widest interval inside it, along a parallel near its middle. For a polygon without area it is a
// vertex. Cost is linear.
func placeInside(outline orb.MultiPolygon) orb.Point {
	polygon := outline[0]
	at := middleLatitude(polygon[0])
	var cuts []float64
	origin := polygon[0][0][0]
	for _, ring := range polygon {
		for i := range len(ring) - 1 {
			a, b := ring[i], ring[i+1]
			if (a[1] > at) == (b[1] > at) {
				continue
			}
			x, y := turned(a[0]-origin), turned(b[0]-origin)
			cuts = append(cuts, x+(y-x)*(at-a[1])/(b[1]-a[1]))
		}
	}
	slices.Sort(cuts)
	best, width := orb.Point(polygon[0][0]), 0.0
	for i := 0; i+1 < len(cuts); i += 2 {
		if w := cuts[i+1] - cuts[i]; w > width {
			best, width = orb.Point{turned(origin + (cuts[i]+cuts[i+1])/2), at}, w
		}
	}
	return best
}

// turned converts a longitude, or a difference of two, to -180..180.
func turned(lon float64) float64 {
	if math.Abs(lon) <= 180 {
		return lon
	}
	return lon - 360*math.Round(lon/360)
}

// middleLatitude returns a latitude near the middle of the ring that is not the latitude of any vertex.
func middleLatitude(ring orb.Ring) float64 {
	low, high := ring[0][1], ring[0][1]
	for _, p := range ring {
		low, high = min(low, p[1]), max(high, p[1])
	}
	middle := (low + high) / 2
	below, above := low, high
	for _, p := range ring {
		if p[1] <= middle {
			below = max(below, p[1])
		} else {
			above = min(above, p[1])
		}
	}
	return (below + above) / 2
}
