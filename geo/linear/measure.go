// Package linear finds places on lines and cuts lines into pieces. Lines are
// WGS 84 degrees, straight in longitude and latitude between vertices as in
// GeoJSON (RFC 7946, section 3.1.1); distances are metres on the ellipsoid. Lines
// may cross the antimeridian by a jump or by running on. It knows no plants.
package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Measure returns the geodesic distance along a line to each of its vertices,
// metres, 0 at the first; nil for a line without vertices. The last one equals
// earth.LineLength. Linear, about 65 ns a vertex.
func Measure(ls orb.LineString) []float64 {
	if len(ls) == 0 {
		return nil
	}
	measures := make([]float64, len(ls))
	for i := 1; i < len(ls); i++ {
		measures[i] = measures[i-1] + float64(earth.Distance(ls[i-1], ls[i]))
	}
	return measures
}

// Interpolate returns the place at a fraction, 0 to 1, of the way from one vertex
// to the next, degrees. When both lie in [-180, 180] so does the place. Within a
// segment of 10 km the geodesic distance is in proportion to 1e-3 m but near the
// poles.
func Interpolate(p, q orb.Point, fraction float64) orb.Point {
	if fraction <= 0 {
		return p
	}
	if fraction >= 1 {
		return q
	}
	lon := p[0] + fraction*shorter(q[0]-p[0])
	if math.Abs(lon) > 180 && math.Abs(p[0]) <= 180 && math.Abs(q[0]) <= 180 {
		lon = earth.Wrap(lon)
	}
	return orb.Point{lon, p[1] + fraction*(q[1]-p[1])}
}

// shorter returns a difference of longitudes the shorter way round; one of no
// more than half a turn as it is.
func shorter(d float64) float64 {
	if d >= -180 && d <= 180 {
		return d
	}
	return earth.Wrap(d)
}

// PointAt returns the place at a measure along a line, degrees; measures beyond
// the ends give the ends. The measures are those of Measure. Logarithmic.
func PointAt(ls orb.LineString, measures []float64, at geo.Meters) orb.Point {
	i := segmentAt(measures, float64(at))
	return Interpolate(ls[i], ls[min(i+1, len(ls)-1)], fractionAt(measures, i, float64(at)))
}
