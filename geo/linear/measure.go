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

// Interpolate returns the place at a fraction, 0 to 1, of the way from one vertex to the next, in
// degrees, proportional in longitude and latitude. When both vertices are in [-180, 180] so is the
// place. The fraction of the geodesic length can differ: by 0.02 m in 600 m at 70 N, 0.001 m in 60
// m (up to a quarter of half the change in the meridians' spacing along the segment).
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

// shorter returns a difference of longitudes the shorter way round; one of at most half a turn
// stays as it is.
func shorter(d float64) float64 {
	if d >= -180 && d <= 180 {
		return d
	}
	return earth.Wrap(d)
}

// PointAt returns the place at a measure along a line, in degrees; a measure beyond an end gives
// the end. The measures are those of Measure. Within 1e-4 m on segments up to 1 km. Logarithmic.
func PointAt(ls orb.LineString, measures []float64, at geo.Meters) orb.Point {
	i := segmentAt(measures, float64(at))
	if i+1 >= len(ls) {
		return ls[i]
	}
	p, q := ls[i], ls[i+1]
	target, fraction := float64(at)-measures[i], fractionAt(measures, i, float64(at))
	if fraction <= 0 || fraction >= 1 {
		return Interpolate(p, q, fraction)
	}
	// degrees are not exactly proportional to metres; each round reduces the error by the relative
	// difference along the segment
	for range 2 {
		if s := float64(earth.Distance(p, Interpolate(p, q, fraction))); s > 0 {
			fraction = min(1, fraction*target/s)
		}
	}
	return Interpolate(p, q, fraction)
}
