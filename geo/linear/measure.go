// Package linear finds places on lines and cuts lines into pieces. Lines are
// WGS 84 degrees, straight in longitude and latitude between vertices as in
// GeoJSON (RFC 7946, section 3.1.1); distances are metres on the ellipsoid. Lines
// may cross the antimeridian by a jump or by running on. It knows no plants.
package linear

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

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

// segmentAt returns the last segment that begins at or before a measure, or the first or last
// segment for a measure beyond the ends.
func segmentAt(measures []geo.Meters, at geo.Meters) int {
	i := sort.Search(len(measures), func(i int) bool { return measures[i] > at }) - 1
	return max(0, min(i, len(measures)-2))
}

// fractionAt returns how far along segment i a measure lies, 0 to 1.
func fractionAt(measures []geo.Meters, i int, at geo.Meters) float64 {
	if i+1 >= len(measures) {
		return 0
	}
	length := measures[i+1] - measures[i]
	if length <= 0 || at <= measures[i] {
		return 0
	}
	return min(1, float64((at-measures[i])/length))
}
